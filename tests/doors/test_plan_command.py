"""The commands `plan` and `handover` as a person meets them: answers, ticking off, JSON, cards, refusals."""

from __future__ import annotations

import json
import re
from datetime import date
from pathlib import Path

import pytest

from loftwright.cli.main import run
from loftwright.project.demos import demo_text

Capture = pytest.CaptureFixture[str]


@pytest.fixture
def roof(tmp_path: Path) -> Path:
    """Return a file with a roof of which little has to be drawn."""
    path = tmp_path / "roof.toml"
    path.write_text(re.sub(r"(?m)^draws = .*$", "draws = 20", demo_text("quellmere")), encoding="utf-8")
    return path


def test_it_answers_and_is_brief(roof: Path, capsys: Capture) -> None:
    assert run(["plan", str(roof)]) == 0
    whole, err = capsys.readouterr()
    said = " ".join(whole.split())
    for words in (
        "It will likely be done by ",
        "Can be begun now",
        "Timber frame",
        "What holds the roof open",
        "The day of the cut",
        "Rain cover",
        "No go: ",
        "The way back",
        "Help: ",
        "[cut]",
    ):
        assert words in said
    assert err == ""
    assert run(["plan", str(roof), "--brief", "--strict"]) == 1
    brief = capsys.readouterr().out
    assert len(brief.splitlines()) < len(whole.splitlines()) / 3
    assert "more without --brief" in brief
    assert run(["plan", str(roof), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["before_the_cut"]["go"] is False
    assert [one["task"] for one in told["tasks"] if one["done"]] == []


def test_ticking_off_writes_the_file_and_keeps_its_comments(roof: Path, capsys: Capture) -> None:
    comments = [line for line in roof.read_text(encoding="utf-8").splitlines() if line.startswith("#")]
    assert run(["plan", str(roof), "--tick", "weigh shell", "--on", "2027-05-02", "--took", "2 h"]) == 0
    out, err = capsys.readouterr()
    assert "Can be begun now" in out
    assert "Written: " in err
    after = roof.read_text(encoding="utf-8")
    assert 'task = "weigh-shell"' in after
    assert 'done = "2027-05-02"' in after
    assert 'took = "2 h"' in after
    assert [line for line in after.splitlines() if line.startswith("#")] == comments
    # The same task again changes its entry and adds none.
    assert run(["plan", str(roof), "--tick", "weigh-shell"]) == 0
    again = roof.read_text(encoding="utf-8")
    assert again.count("[[todo]]") == 1
    assert f'done = "{date.today().isoformat()}"' in again
    capsys.readouterr()


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--tick", "wiegh-shell"], 'there is no such task; write "weigh-shell" if that is meant'),
        (["--tick", "cut", "--on", "yesterday"], "no day of any calendar"),
        (["--tick", "cut", "--took", "much"], "took"),
        (["--on", "2027-05-02"], "add --tick"),
    ],
)
def test_what_cannot_be_ticked_is_refused(roof: Path, capsys: Capture, arguments: list[str], said: str) -> None:
    before = roof.read_bytes()
    assert run(["plan", str(roof), *arguments]) == 2
    assert said in " ".join(capsys.readouterr().err.split())
    assert roof.read_bytes() == before


def test_a_demo_is_not_ticked(capsys: Capture) -> None:
    assert run(["plan", "--demo", "quellmere", "--tick", "cut"]) == 2
    assert "a demo is not changed" in capsys.readouterr().err


def test_cards(roof: Path, capsys: Capture) -> None:
    assert run(["handover", str(roof), "--card", "driver"]) == 0
    driver = capsys.readouterr().out
    assert "Height closed: " in driver
    assert run(["handover", str(roof)]) == 0
    whole = capsys.readouterr().out
    assert len(whole) > 5 * len(driver)
    assert run(["handover", str(roof), "--card", "faults", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert len(told["faults"]) >= 20
    assert "service" not in told
    assert run(["handover", str(roof), "--card", "lights"]) == 2
    assert "one of commissioning" in capsys.readouterr().err
