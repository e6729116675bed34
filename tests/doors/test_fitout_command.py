"""The command `fitout` as a person meets it: answers, one question, JSON, strictness, refusals."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from loftwright.cli.main import run
from tests.unit.answers.fitted_cases import text

Capture = pytest.CaptureFixture[str]


@pytest.fixture
def roof(tmp_path: Path) -> Path:
    path = tmp_path / "roof.toml"
    path.write_text(text(), encoding="utf-8")
    return path


def test_it_answers_every_question(capsys: Capture) -> None:
    assert run(["fitout", "--demo", "quellmere"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    for words in (
        "Seal: ",
        "Room to stand: ",
        "Panel and wire: No panel",
        "Powered lift: No powered lift",
        "Take care",
    ):
        assert words in said


def test_one_question_and_strict(roof: Path, capsys: Capture) -> None:
    assert run(["fitout", str(roof), "--part", "lift", "--brief"]) == 0
    said = capsys.readouterr().out
    assert "Powered lift" in said
    assert "Room to stand" not in said
    assert run(["fitout", str(roof), "--part", "lift", "--strict"]) == 1
    assert run(["fitout", str(roof), "--part", "seal", "--strict"]) == 0


def test_json(roof: Path, capsys: Capture) -> None:
    assert run(["fitout", str(roof), "--part", "panel", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert len(told["panel"]["months"]) == 12
    assert "seal" not in told


def test_a_part_that_is_none(roof: Path, capsys: Capture) -> None:
    assert run(["fitout", str(roof), "--part", "roof"]) == 2
    assert "seal" in capsys.readouterr().err
