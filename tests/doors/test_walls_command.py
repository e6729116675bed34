"""The command `walls` as a person meets it: answers, one question, JSON, what is kept, taking over, refusals.

How the cloth folds is stood in for: every strip falls inward at once. One slow test works it out.
"""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from loftwright.answers import fold_job, kept_reading
from loftwright.cli.main import run
from loftwright.cloth.chain import Drive, Folded, Room, Start, Strand
from loftwright.core.wall_views import WALL_PARTS
from loftwright.project.demos import demo_text

Capture = pytest.CaptureFixture[str]


@pytest.fixture
def roof(tmp_path: Path) -> Path:
    """Return a file with a roof of which little has to be drawn."""
    path = tmp_path / "roof.toml"
    path.write_text(re.sub(r"(?m)^draws = .*$", "draws = 20", demo_text("quellmere")), encoding="utf-8")
    return path


def inward(strand: Strand, drive: Drive, room: Room, start: Start) -> Folded:
    """Stand in for the chain: a strip that lies 150 mm inward."""
    line = np.linspace(0.0, 1.0, 20)
    points = np.stack([0.15 * np.sin(np.pi * line), drive.z[-1] * line], axis=-1)
    last = np.array([len(drive.u) - 1.0])
    return Folded(points, 0.15, 0.0, 0.03, 2.0, 1e-9, 0.0, 10, 1e-4, points[None], last, np.ones(1))


@pytest.fixture
def at_once(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Let the fold be there at once; return how many places were tried each time."""
    asked: list[int] = []

    def work(job: fold_job.FoldJob, tell: Any = None, stopped: Any = None) -> dict[str, Any]:
        asked.append(len(job.places))
        return fold_job.work_fold(job, tell, stopped, run=inward)

    monkeypatch.setattr(kept_reading, "work_fold", work)
    return asked


def test_it_answers_every_question(capsys: Capture) -> None:
    assert run(["walls", "--demo", "fennimoor"]) == 0
    out, err = capsys.readouterr()
    said = " ".join(out.split())
    for words in (
        "Lines and panels: ",
        "Rain at the lower edge: ",
        "Metres of cloth: ",
        "Where the cloth goes: ",
        "These are quick estimates",
        "Order of sewing",
        "First in paper",
        "Tucking it in",
        " inward of the lower line; bundle ",
        "push on the closed shell",
    ):
        assert words in said
    assert "Rear wall: Rear wall" not in said
    assert err == ""
    assert run(["walls", "--demo", "fennimoor", "--brief"]) == 0
    brief = capsys.readouterr().out
    assert len(brief.splitlines()) < len(out.splitlines()) / 4
    assert "more without --brief" in brief


def test_one_question_alone(capsys: Capture) -> None:
    assert run(["walls", "--demo", "fennimoor", "--part", "water"]) == 0
    whole = capsys.readouterr().out
    assert "Rain at the lower edge" in whole
    assert "Metres of cloth" not in whole
    assert run(["walls", "--demo", "fennimoor", "--part", "water", "--brief"]) == 0
    assert len(capsys.readouterr().out) < len(whole)


def test_json_and_strict(capsys: Capture) -> None:
    assert run(["walls", "--demo", "quellmere", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert set(WALL_PARTS) <= set(told)
    for part in WALL_PARTS:
        assert run(["walls", "--demo", "quellmere", "--part", part, "--json"]) == 0
        alone = json.loads(capsys.readouterr().out)
        assert alone[part] == told[part]
        assert run(["walls", "--demo", "quellmere", "--part", part, "--brief", "--strict"]) == (
            1 if alone["tally"]["fails"] else 0
        )
        capsys.readouterr()


def test_a_fold_is_kept_beside_the_file_until_the_roof_changes(roof: Path, at_once: list[int], capsys: Capture) -> None:
    before = roof.read_bytes()
    asked = ["walls", str(roof), "--part", "fold", "--json"]

    def fold(*more: str) -> dict[str, Any]:
        assert run([*asked, *more]) == 0
        found: dict[str, Any] = json.loads(capsys.readouterr().out)["fold"]
        return found

    assert fold()["kept"] == "none"
    assert not (roof.parent / "roof.kept.json").exists()
    now = fold("--fold")
    assert now["kept"] == "fresh"
    assert now["places"]
    assert all(place["slow"]["counts"] and place["slow"]["in"] == place["slow"]["starts"] for place in now["places"])
    assert (roof.parent / "roof.kept.json").exists()
    assert roof.read_bytes() == before
    assert fold() == now
    assert len(at_once) == 1
    # What the fold does not read leaves it fresh.
    assert run(["set", str(roof), "sewing.spare=0.6 m"]) == 0
    capsys.readouterr()
    assert fold()["kept"] == "fresh"
    assert run(["set", str(roof), "walls.ease=14 mm"]) == 0
    capsys.readouterr()
    stale = fold()
    assert stale["kept"] == "stale"
    assert all(place["slow"] is not None and not place["slow"]["counts"] for place in stale["places"])
    assert fold("--fold")["kept"] == "fresh"
    assert len(at_once) == 2


def test_a_demo_keeps_nothing(at_once: list[int], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(["walls", "--demo", "quellmere", "--part", "fold", "--fold"]) == 0
    assert len(at_once) == 1
    assert list(tmp_path.iterdir()) == []


def test_a_file_beside_it_that_cannot_be_read_counts_as_not_there(roof: Path, capsys: Capture) -> None:
    (roof.parent / "roof.kept.json").write_text("{ broken", encoding="utf-8")
    assert run(["walls", str(roof), "--part", "fold", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["fold"]["kept"] == "none"


def test_taking_over_writes_what_is_assumed_and_no_comment_is_lost(roof: Path, capsys: Capture) -> None:
    assert run(["set", str(roof), "forces.cloth_mass=1 .. 9 kg, assumed"]) == 0
    capsys.readouterr()
    before = roof.read_text(encoding="utf-8")
    assert run(["walls", str(roof), "--part", "metres", "--take-over", "--json"]) == 0
    out, err = capsys.readouterr()
    taken = {one["key"]: one["value"] for one in json.loads(out)["taken_over"]}
    after = roof.read_text(encoding="utf-8")
    assert f"Written: {roof}" in err
    assert "forces.cloth_mass" in taken
    for key, value in taken.items():
        assert f'{key.partition(".")[2]} = "{value}"' in after
    changed = set(after.splitlines()) - set(before.splitlines())
    assert 0 < len(changed) <= len(taken)
    assert re.findall(r"#.*$", before, re.MULTILINE) == re.findall(r"#.*$", after, re.MULTILINE)


def test_a_measured_weight_is_not_taken_over(roof: Path) -> None:
    said = 'cloth_mass = "3.8 kg, measured"'
    assert said in roof.read_text(encoding="utf-8")
    assert run(["walls", str(roof), "--brief", "--take-over"]) == 0
    assert said in roof.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (["--demo", "quellmere", "--part", "roof"], "one of shape, water, sewing"),
        (["--demo", "quellmere", "--sheet", "poster", "--pdf", "x.pdf"], "tucking"),
        (["--demo", "quellmere", "--sheet", "panels"], "without --pdf"),
        (["--demo", "quellmere", "--paper", "a5"], "a4"),
        (["--demo", "quellmere", "--take-over"], "a demo is not changed"),
        (["--demo", "quellmere", "--svg", "nowhere/pieces"], "nowhere is not there"),
        (["--demo", "quellmere", "--svg", "file"], "file is a file"),
        (["--demo", "quellmere", "--dxf", "nowhere/walls.dxf"], "nowhere"),
        (["missing.toml"], "missing.toml"),
    ],
)
def test_refusals_are_sentences(
    more: list[str], words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "file").write_text("", encoding="utf-8")
    assert run(["walls", *more]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert words in err
    assert "Traceback" not in err
    assert [path.name for path in tmp_path.iterdir()] == ["file"]


@pytest.mark.slow
def test_the_real_chain_folds_a_wall_inward(roof: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture) -> None:
    """Two starts of one wall, drawn in by cords: one fold in the middle of the cloth."""

    def work(job: fold_job.FoldJob, tell: Any = None, stopped: Any = None) -> dict[str, Any]:
        return fold_job.work_fold(replace(job, places=job.places[:1], starts=2), tell, stopped)

    monkeypatch.setattr(kept_reading, "work_fold", work)
    assert run(["set", str(roof), "stow.pull=cords", "stow.pull_force=3 N/m"]) == 0
    capsys.readouterr()
    assert run(["walls", str(roof), "--part", "fold", "--fold", "--json"]) == 0
    first, *others = json.loads(capsys.readouterr().out)["fold"]["places"]
    assert first["slow"]["in"] == first["slow"]["rested"] == 2
    assert 0.35 < first["tip_m"] / first["cloth_m"] < 0.55
    assert all(place["slow"] is None for place in others)
