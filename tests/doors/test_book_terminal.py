"""The command `book` as a person meets it: the whole, sheets alone, JSON, refusals."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pypdf
import pytest

from loftwright.cli import booking
from loftwright.cli.main import run
from loftwright.project.demos import demo_text


def pages(path: Path) -> int:
    return len(pypdf.PdfReader(io.BytesIO(path.read_bytes())).pages)


def test_the_whole_book_as_planned(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = tmp_path / "book.pdf"
    assert run(["book", "--demo", "fennimoor", "--as-planned", "--pdf", str(target), "--json"]) == 0
    out, err = capsys.readouterr()
    said = json.loads(out)
    assert said["pages"] == pages(target)
    assert said["written"] == [str(target)]
    titles = [chapter["title"] for chapter in said["chapters"]]
    assert titles[:2] == ["Contents", "What to measure next"]
    assert "Drilling sheets, full size" in titles
    assert all(1 <= chapter["page"] <= said["pages"] for chapter in said["chapters"])
    assert f"{said['pages']} pages in " in err


def test_one_sheet_goes_beside_the_project_with_its_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    roof = tmp_path / "roof.toml"
    roof.write_text(demo_text("ottergate"), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    assert run(["book", "roof.toml", "--only", "steps"]) == 0
    out, err = capsys.readouterr()
    assert out == "Written: roof-steps.pdf\n"
    assert "1 page in " in err
    assert pages(tmp_path / "roof-steps.pdf") == 1
    assert run(["book", "roof.toml", "--as-planned", "--only", "frame", "--paper", "a4", "--frame-height", "true"]) == 0
    sheet = pypdf.PdfReader(io.BytesIO((tmp_path / "roof-frame.pdf").read_bytes())).pages[0]
    assert float(sheet.mediabox.height) == pytest.approx(297 / 25.4 * 72, abs=0.01)


def test_json_without_a_place_writes_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(["book", "--demo", "quellmere", "--only", "home-test", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["written"] == []
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--only", "poster"], "one of card, drilling, request, steps, frame, home-test"),
        (["--paper", "a5"], "one of a4, letter"),
        (["--frame-height", "high"], "one of low, true"),
        (["--as-planned", "--only", "card"], "The choice of springs was not asked for"),
    ],
)
def test_refusals(tmp_path: Path, capsys: pytest.CaptureFixture[str], words: list[str], said: str) -> None:
    target = tmp_path / "x.pdf"
    assert run(["book", "--demo", "fennimoor", "--pdf", str(target), *words]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert said in err
    assert not target.exists()


def test_the_project_file_is_never_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    roof = tmp_path / "roof.toml"
    roof.write_text(demo_text("fennimoor"), encoding="utf-8")
    assert run(["book", str(roof), "--pdf", str(roof)]) == 2
    assert "must not be written over" in capsys.readouterr().err
    assert roof.read_text(encoding="utf-8") == demo_text("fennimoor")


def test_where_nothing_can_be_chosen_the_card_says_why(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from loftwright.answers import choose
    from loftwright.core.errors import ProjectFault

    def refuse(*_: object, **__: object) -> None:
        raise ProjectFault([choose.NO_ZONE])

    monkeypatch.setattr(choose, "choose", refuse)
    target = tmp_path / "card.pdf"
    assert run(["book", "--demo", "fennimoor", "--only", "card", "--pdf", str(target)]) == 2
    assert "it is not said where brackets of springs may sit" in capsys.readouterr().err
    assert run(["book", "--demo", "fennimoor", "--only", "request", "--pdf", str(target)]) == 0
    assert pages(target) == 1


def test_the_examples_run_over_what_there_is() -> None:
    """Every option that the examples name exists."""
    import re

    from typer.main import get_command

    from loftwright.cli.main import app

    command = get_command(app).commands["book"]  # type: ignore[attr-defined]
    known = {option for parameter in command.params for option in parameter.opts}
    named = set(re.findall(r"--[a-z-]+", booking.BOOK_EXAMPLES))
    assert named <= known | {"--only"}


def test_a_card_for_the_dash_alone(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = tmp_path / "dash.pdf"
    words = ["--as-planned", "--only", "dash", "--paper", "letter", "--pdf", str(target)]
    assert run(["book", "--demo", "fennimoor", *words]) == 0
    assert "1 page in " in capsys.readouterr().err
    (sheet,) = pypdf.PdfReader(io.BytesIO(target.read_bytes())).pages
    assert "Before you drive" in sheet.extract_text()
