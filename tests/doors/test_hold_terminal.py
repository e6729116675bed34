"""The command `hold` as a person meets it: answers, one question, sheets, JSON, refusals."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from loftwright.cli.main import run

Capture = pytest.CaptureFixture[str]


def test_it_says_what_gives_first_and_what_nobody_may_take_it_for(capsys: Capture) -> None:
    assert run(["hold", "--demo", "fennimoor"]) == 0
    out, err = capsys.readouterr()
    said = " ".join(out.split())
    for words in (
        "Lower the roof above a gust of ",
        "In the wind, raised: ",
        "Before the cut",
        "crash or roll-over assessment",
        "Isolate the battery",
        "Stock sections as this ring",
        "Every hole",
    ):
        assert words in said
    assert err == ""


def test_one_question_alone_and_brief(capsys: Capture) -> None:
    assert run(["hold", "--demo", "fennimoor", "--part", "road"]) == 0
    whole = capsys.readouterr().out
    assert "On the road, closed" in whole
    assert "How it sits" not in whole
    assert run(["hold", "--demo", "fennimoor", "--part", "road", "--brief"]) == 0
    assert len(capsys.readouterr().out) < len(whole)


def test_strict_counts_what_is_asked(capsys: Capture) -> None:
    for part in ("fit", "wind", "road", "opening", "joints", "van"):
        assert run(["hold", "--demo", "fennimoor", "--part", part, "--json"]) == 0
        fails = json.loads(capsys.readouterr().out)["tally"]["fails"]
        assert run(["hold", "--demo", "fennimoor", "--part", part, "--strict", "--brief"]) == (1 if fails else 0)
        capsys.readouterr()


def test_a_sheet_is_written(tmp_path: Path, capsys: Capture) -> None:
    paper = tmp_path / "card.pdf"
    assert run(["hold", "--demo", "fennimoor", "--brief", "--sheet", "wind-card", "--pdf", str(paper)]) == 0
    assert paper.read_bytes().startswith(b"%PDF")
    assert f"Written: {paper}" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (["--part", "roof"], "one of fit, wind, road, opening, joints, van"),
        (["--sheet", "poster", "--pdf", "x.pdf"], "wind-card"),
        (["--sheet", "corners"], "without --pdf"),
    ],
)
def test_refusals_are_sentences(more: list[str], words: str, capsys: Capture) -> None:
    assert run(["hold", "--demo", "fennimoor", *more]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert words in err


def test_the_check_of_movement_loads_no_solver() -> None:
    code = (
        "import sys\n"
        "from loftwright.cli.main import run\n"
        "run(['hold', '--help'])\n"
        "assert 'numpy' not in sys.modules\n"
        "run(['check', '--demo', 'fennimoor', '--brief'])\n"
        "print([name for name in ('scipy', 'skfem') if name in sys.modules], file=sys.stderr)\n"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert ran.returncode == 0, ran.stderr
    assert ran.stderr.strip() == "[]"
