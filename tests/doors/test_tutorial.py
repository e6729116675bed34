"""The commands of the tutorial work in the order in which they stand there.

That it shows what they print now, house/test_docs.py asks of every generated page.
"""

from __future__ import annotations

import re
import shlex
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from loftwright.answers.judged_roof import judged_roof
from loftwright.cli.main import run
from loftwright.mechanics.weigh import Weighed
from loftwright.project.demos import demo_text
from loftwright.project.file import loads

STOPPED = 130
BLOCK = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def stopped_at_once(app: Any, entry: object, sockets: object, *, ready: Callable[[], None]) -> None:
    """Stand in for a board that is ended from the keyboard as soon as it listens."""
    ready()
    app.state.desk.close()
    raise KeyboardInterrupt


def test_every_command_of_the_tutorial_works(
    root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("loftwright.board.secret.state_folder", lambda: tmp_path / "state")
    monkeypatch.setattr("loftwright.board.serve.serve", stopped_at_once)
    blocks = BLOCK.findall((root / "docs" / "tutorial.md").read_text(encoding="utf-8"))
    done = 0
    for (kind, text), (_, after) in zip(blocks, [*blocks[1:], ("", "")], strict=True):
        for line in text.splitlines() if kind == "" else []:
            if not line.startswith("loftwright "):
                continue
            code = run(shlex.split(line)[1:])
            said = "".join(capsys.readouterr())
            refused = "cannot be made" in after
            stays = line.startswith("loftwright board")
            assert code == (2 if refused else STOPPED if stays else 0), f"{line}\n{said}"
            if stays:
                assert re.search(r"^http://127\.0\.0\.1:\d+/\?token=\w{32}$", said, re.MULTILINE)
            done += 1
    assert done > 10
    assert (tmp_path / "my-roof.toml").exists()


def test_every_example_of_a_file_is_readable(texts: dict[str, str]) -> None:
    found = 0
    for name, text in texts.items():
        if name.startswith("docs/how-to/") and name.endswith(".md"):
            for kind, block in BLOCK.findall(text):
                if kind == "toml":
                    assert tomllib.loads(block), name
                    found += 1
    assert found >= 4


def test_the_weighings_shown_settle_mass_and_centre(root: Path) -> None:
    text = (root / "docs" / "how-to" / "measure-the-shell.md").read_text(encoding="utf-8")
    shown = [block for kind, block in BLOCK.findall(text) if kind == "toml" and "[weighing]" in block]
    assert len(shown) == 2
    bare = re.sub(r'^(mass = "62 |centre = ).*\n', "", demo_text("fennimoor"), flags=re.MULTILINE)
    for block in shown:
        weighed = judged_roof(loads(f"{bare}\n{block}")).numbers.weighed
        assert isinstance(weighed, Weighed)
        assert 60.0 < weighed.mass < 64.0
        assert 0.9 < weighed.centre < 1.1
