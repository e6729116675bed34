"""From Python: the worked example of the documentation runs as it stands, and says what it should.

Exact constructed case: the page's own code, run in order in an empty folder.
"""

from __future__ import annotations

import contextlib
import io
import json
import re
from pathlib import Path
from typing import Any

import pytest

import loftwright


@pytest.fixture
def example(root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[str, dict[str, Any]]:
    """Return what the example prints, and the names that it leaves."""
    text = (root / "docs" / "how-to" / "from-python.md").read_text(encoding="utf-8")
    blocks = re.findall(r"^```python\n(.*?)^```", text, re.MULTILINE | re.DOTALL)
    assert len(blocks) >= 5
    monkeypatch.chdir(tmp_path)
    names: dict[str, Any] = {}
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        for block in blocks:
            exec(compile(block, "from-python.md", "exec"), names)
    return said.getvalue(), names


def test_the_worked_example(example: tuple[str, dict[str, Any]]) -> None:
    said, names = example
    lines = said.splitlines()
    assert lines[0] == f"Fennimoor: {len(names['outcome'].checks)} judgements"
    planned, stronger = (float(re.findall(r": (-?\d+) N", line)[0]) for line in lines if line.endswith("N to start"))
    assert stronger < planned
    assert re.search(r"cold and aged, the most push is \d+ N, \d+ % open", said)
    assert re.search(r"^(yes|probably|no) \[", said, re.MULTILINE)
    assert lines[-1].startswith('[opening] length is "2000": it has no unit')


def test_the_example_leaves_its_papers(example: tuple[str, dict[str, Any]]) -> None:
    assert Path("roof.pdf").read_bytes().startswith(b"%PDF-")
    assert "<html" in Path("roof.html").read_text(encoding="utf-8")


def test_results_are_ready_for_json() -> None:
    found = loftwright.results(loftwright.judged_roof(loftwright.demo("ottergate")))
    assert json.loads(json.dumps(found, allow_nan=False)) == found


def test_a_name_that_is_not_offered() -> None:
    with pytest.raises(AttributeError, match="has no attribute 'nonsense'"):
        _ = loftwright.nonsense  # type: ignore[attr-defined]


def test_names_show_in_dir() -> None:
    assert set(loftwright.__all__) <= set(dir(loftwright))


def test_a_number_that_is_none_is_refused() -> None:
    from loftwright.answers.numbers import as_json
    from loftwright.core.errors import Bug

    with pytest.raises(Bug, match=r"forces\.0\.push: nan is no result"):
        as_json({"forces": [{"push": float("nan")}]})
