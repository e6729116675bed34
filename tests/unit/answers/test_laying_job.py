"""Laying as work that takes long: repeatable, checked again when it is read. Exact constructed cases."""

from __future__ import annotations

import copy
from dataclasses import replace
from typing import Any

import pytest

from loftwright.answers.laying_job import (
    LayingJob,
    job_of,
    read_laying,
    roll_pieces,
    rolls_of,
    work_laying,
)
from loftwright.cloth.laying import faults, lay
from loftwright.project.stored import keep, kept, kept_beside
from tests.unit.answers.cloth_pieces import CANVAS, FLEECE, roof, walls_of


@pytest.fixture(scope="module")
def job() -> LayingJob:
    """Canvas walls, a second's search."""
    return replace(job_of(roof(), walls_of("canvas")), seconds=1.0)


@pytest.fixture(scope="module")
def answer(job: LayingJob) -> list[dict[str, Any]]:
    found = work_laying(job)
    assert found is not None
    return found


def test_the_layout_is_there_and_right(job: LayingJob, answer: list[dict[str, Any]]) -> None:
    """Two lie beside each other on 1.50 m: a side and an end, twice, or less."""
    (layout,) = read_laying(answer)
    assert layout.material == "canvas"
    assert layout.width == pytest.approx(1.50)
    assert not faults(layout, job.rolls[0][2], clearance=job.clearance)
    assert layout.area == pytest.approx(2 * (1.24 + 2.04) * 0.54)
    assert layout.area / 1.50 <= layout.length <= 2 * 2.04 + 0.002


def test_it_outlives_being_kept(job: LayingJob, answer: list[dict[str, Any]], tmp_path: Any) -> None:
    file = kept_beside(tmp_path / "roof.toml")
    keep(file, "laying", job.stamp, answer)
    again = kept(file, "laying")
    assert again is not None
    assert again[0] == job.stamp
    assert read_laying(again[1]) == read_laying(answer)


def _moved(one: dict[str, Any]) -> None:
    one["laid"][0]["at"] = one["laid"][1]["at"]


def _lost(one: dict[str, Any]) -> None:
    one["laid"].pop()


def _turned(one: dict[str, Any]) -> None:
    one["laid"][0]["turned"] += 0.01


def _off(one: dict[str, Any]) -> None:
    one["length"] *= 0.9


def _cut_off(one: dict[str, Any]) -> None:
    del one["pieces"]


def _no_number(one: dict[str, Any]) -> None:
    one["laid"][0]["at"] = ["far", None]


@pytest.mark.parametrize("spoil", [_moved, _lost, _turned, _off, _cut_off, _no_number])
def test_what_fails_is_dropped(spoil: Any, answer: list[dict[str, Any]]) -> None:
    spoilt = copy.deepcopy(answer)
    spoil(spoilt[0])
    assert read_laying(spoilt) == ()
    assert len(read_laying([*spoilt, *answer])) == 1


@pytest.mark.parametrize("nothing", [None, 3, "x", {}, [], [1, "x", None]])
def test_what_is_no_answer_is_none(nothing: Any) -> None:
    assert read_laying(nothing) == ()


def test_without_the_library_it_repeats(job: LayingJob) -> None:
    """Our own rule lays the same pieces the same way twice."""
    pieces = job.rolls[0][2]
    assert lay(pieces, 1.5, library=False) == lay(pieces, 1.5, library=False)


def test_progress_and_stop(job: LayingJob) -> None:
    heard: list[tuple[float, str]] = []
    assert work_laying(job, lambda share, text: heard.append((share, text))) is not None
    assert [share for share, _ in heard] == sorted(share for share, _ in heard)
    assert heard[-1][0] == 1.0
    assert heard[0][1].startswith("canvas: ")
    assert work_laying(job, None, lambda: True) is None


def test_the_stamp_is_of_the_pieces(job: LayingJob) -> None:
    same = job_of(roof(), walls_of("canvas"))
    assert same.stamp == job.stamp
    assert job_of(roof(CANVAS + FLEECE), (*walls_of("canvas"), *walls_of("fleece", "I"))).stamp != job.stamp
    assert job_of(roof(CANVAS.replace("1.53", "1.52")), walls_of("canvas")).stamp != job.stamp
    assert job_of(roof(CANVAS.replace("400 g", "300 g")), walls_of("canvas")).stamp == job.stamp
    shorter = (*walls_of("canvas")[:3], replace(walls_of("canvas")[2], number="W4"))
    assert job_of(roof(), shorter).stamp != job.stamp


@pytest.mark.parametrize(
    ("grain", "nap", "turns"),
    [
        ("along the wall", "false", "grain"),
        ("up the wall", "false", "grain"),
        ("either way", "false", "quarter"),
        ("either way", "true", "nap"),
        ("along the wall", "true", "nap"),
    ],
)
def test_how_pieces_may_be_turned(grain: str, nap: str, turns: str) -> None:
    project = roof(f'{CANVAS}grain = "{grain}"\nnap = {nap}\n')
    pieces = roll_pieces(walls_of("canvas"), project.layer[0])
    assert {piece.turns for piece in pieces} == {turns}


def test_grain_up_the_wall_joins_the_sides() -> None:
    """2.04 m do not lie across 1.50 m: each side becomes two parts of 1.02 m and 20 mm at the new seam."""
    (asked,) = rolls_of(roof(f'{CANVAS}grain = "up the wall"\n'), walls_of("canvas"))
    assert asked.joined == ("W2", "W4")
    across = sorted(round(max(y for _, y in one.outline) - min(y for _, y in one.outline), 6) for one in asked.pieces)
    assert across == pytest.approx([1.04] * 4 + [1.24] * 2)


def test_all_cloth_lies_on_one_roll_without_layers() -> None:
    (asked,) = rolls_of(roof(""), walls_of("cloth"))
    assert asked.layer is None
    assert asked.width == pytest.approx(1.47)
    assert len(asked.pieces) == 4
