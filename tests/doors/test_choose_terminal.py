"""Choosing springs from the terminal: answers, refusals, the file written back, the list that comes along.

Exact constructed cases. What the answers are worth is tested elsewhere; here they must arrive whole.
"""

from __future__ import annotations

import json
import re
import signal
from pathlib import Path
from typing import Any

import pytest

from loftwright.answers import choose as choosing
from loftwright.answers.choose_search import QUICK
from loftwright.cli.main import STOPPED, run
from loftwright.project.demos import demo_text
from loftwright.project.file import read
from loftwright.project.spring_list import own_list, read_springs

Capture = pytest.CaptureFixture[str]


@pytest.fixture(autouse=True)
def _quick(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setattr(choosing, "MIDDLE", QUICK)
    monkeypatch.setattr(choosing, "FINALISTS", 2)


@pytest.fixture
def roof(tmp_path: Path) -> Path:
    path = tmp_path / "roof.toml"
    path.write_text(demo_text("fennimoor"), encoding="utf-8")
    return path


@pytest.fixture
def few(tmp_path: Path) -> Path:
    """Return a list of a few springs, as a supplier might send it."""
    path = tmp_path / "few.csv"
    lines = own_list().splitlines()
    path.write_text("\n".join([lines[0], *(line for line in lines if line.startswith("12/26-240-"))]) + "\n")
    return path


def keys_of(value: Any, path: str = "") -> set[str]:
    """Return every key of an answer, with the keys above it."""
    if isinstance(value, dict):
        return {f"{path}{key}" for key in value} | {
            k for key, part in value.items() for k in keys_of(part, f"{path}{key}.")
        }
    if isinstance(value, list):
        return {key for part in value for key in keys_of(part, path)}
    return set()


def test_springs_are_chosen_explained_and_written_into_the_file(
    roof: Path, few: Path, capsys: Capture, root: Path
) -> None:
    assert run(["choose", str(roof), "--springs", str(few), "--draws", "100", "--write", "--json"]) == 0
    out, err = capsys.readouterr()
    told: dict[str, Any] = json.loads(out)
    assert 0 < told["best"]["odds"] <= 1
    assert f"Written: {roof}" in err
    spring = read(roof).spring[0]
    assert spring.name == told["holes"]["spring"]
    assert len(spring.feet) == len(told["holes"]["feet"])
    assert [point.x.nominal for point in spring.heads] == pytest.approx([h["x_m"] for h in told["holes"]["heads"]])
    assert "ferry hand" in roof.read_text(encoding="utf-8")
    assert roof.with_name("roof.toml.previous").is_file()
    # Every key of the answer is explained.
    told = {key: part for key, part in told.items() if key not in ("format", "made_with", "project", "others")}
    page = (root / "docs" / "reference" / "json-choice.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| (`.*?) \|", page, re.MULTILINE)
    named = {key for row in rows for key in re.findall(r"`([\w.]+)`", row)}
    found = {key for key in keys_of(told) if not key.startswith(("best.fails.", "best.head.", "searched"))}
    assert found - named == set()
    assert told["holes"]["places"]


def test_it_starts_with_what_to_measure_and_ends_with_what_was_tried(roof: Path, few: Path, capsys: Capture) -> None:
    assert run(["choose", str(roof), "--springs", str(few), "--draws", "100"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert said.startswith("Fennimoor Measure first ")
    assert "of 100 roofs like yours" in said[:400]
    for part in ("Springs:", "Take care", "Assumed", "prop it", "Tried: "):
        assert part in said


def test_the_first_stroke_on_the_keyboard_shows_the_best_so_far(
    roof: Path, few: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    searched = choosing.searched

    def struck(*given: Any, **named: Any) -> Any:
        signal.raise_signal(signal.SIGINT)
        return searched(*given, **named)

    monkeypatch.setattr(choosing, "searched", struck)
    before = signal.getsignal(signal.SIGINT)
    assert run(["choose", str(roof), "--springs", str(few), "--draws", "100", "--brief"]) == STOPPED
    assert "Stopped before the end: this is the best so far." in " ".join(capsys.readouterr().out.split())
    assert signal.getsignal(signal.SIGINT) is before


@pytest.mark.parametrize(
    ("more", "word"),
    [
        (["--demo", "fennimoor", "--write"], "--write"),
        (["--demo", "fennimoor", "--at-hand", "--springs", "x.csv"], "--springs"),
        (["--demo", "quellmere", "--at-hand"], "at_hand"),
        (["--demo", "fennimoor", "--springs", "not-there.csv"], "not-there.csv"),
        ([], "missing"),
    ],
)
def test_what_cannot_be_answered_is_refused(more: list[str], word: str, capsys: Capture) -> None:
    assert run(["choose", *more]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert word in err


def test_the_list_that_comes_along_is_printed_or_written(tmp_path: Path, capsys: Capture) -> None:
    assert run(["springs"]) == 0
    assert capsys.readouterr().out == own_list()
    path = tmp_path / "springs.csv"
    assert run(["springs", "--write", str(path)]) == 0
    assert read_springs(path).entries.names == read_springs().entries.names
    assert run(["springs", "--write", str(path)]) == 2
