"""The fold as slow work: what it reads, how it is counted and kept, and the join to the real chain.

Constructed cases, computed here from first principles; a stand-in for the chain but for one run.
"""

from __future__ import annotations

import json
import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from loftwright.answers.fold_job import POINTS, POSES, FoldJob, PlaceJob, fold_job, read_fold, work_fold
from loftwright.answers.fold_read import ways_of
from loftwright.answers.kept_reading import keep_fold, kept_walls
from loftwright.answers.kept_walls import NOTHING_KEPT
from loftwright.project.stored import kept_beside

from .fold_roofs import CANVAS, CORDS, falls, roof


@pytest.fixture(scope="module")
def job() -> FoldJob:
    return fold_job(roof(bar_in="80 mm", bar_below="10 mm", **CORDS))


def place(job: FoldJob, wall: str) -> PlaceJob:
    return next(one for one in job.places if one.wall == wall)


def test_the_rear_wall_is_driven_by_the_hinge(job: FoldJob) -> None:
    """A turn by 25 degrees: rear leans back against u towards z, sides not at all; the way ends 60 mm up."""
    rear, right = place(job, "rear"), place(job, "right")
    assert rear.tilt[0] == pytest.approx(-math.radians(25.0), abs=1e-4)
    assert rear.tilt[-1] == pytest.approx(0.0, abs=1e-6)
    assert right.tilt == pytest.approx((0.0,) * len(right.tilt), abs=1e-6)
    assert (rear.u[-1], rear.z[-1]) == pytest.approx((0.0, 0.06), abs=1e-5)
    assert rear.z[0] > 0.8
    assert rear.u[0] > 0.1
    assert rear.seconds == 10.0
    assert np.all(np.diff(rear.z) < 0.0)


def test_strip_room_and_pulls_are_those_of_the_file(job: FoldJob) -> None:
    """B = m g c3 with 0.35 kg/m2 and 40 mm; thickness not below 2 mm; bar and ceiling from the upper line."""
    right = place(job, "right")
    length, mass, stiffness, thickness = right.strand
    assert mass == 0.35
    assert stiffness == pytest.approx(0.35 * 9.80665 * 0.04**3, rel=1e-5)
    assert thickness == 0.002
    assert length > math.hypot(right.u[0], right.z[0])
    # Measured is within 5 %: the chain is drawn with both ends.
    assert (right.pulls, right.stronger) == (((0.5, 2.85),), ((0.5, 3.15),))
    (tube,) = right.bars
    assert tube == pytest.approx((0.08, 0.0025, 0.0125))
    # The closed shell's inside lies at the upper line's own height: room for the thickness is left.
    assert right.ceiling == pytest.approx(0.002)
    assert (right.boxes[1][0], right.boxes[1][3]) == (0.0, 0.0)
    strand, drive, room = right.parts()
    assert strand.length == length
    assert drive.u.shape == room.tilt.shape == room.pressure.shape
    assert room.boxes.shape[1] == 4


def test_the_middle_is_held_and_the_cords_go_below_and_above() -> None:
    held = place(fold_job(roof(hold_middle=True, **CORDS)), "rear")
    assert np.array(held.pulls) == pytest.approx(np.array([[0.25, 1.425], [0.75, 1.425]]))
    assert np.array(held.stronger) == pytest.approx(np.array([[0.25, 1.575], [0.75, 1.575]]))
    assert held.holds[0][0] == 0.5
    assert place(fold_job(roof()), "rear").pulls == ()


def test_half_of_the_starts_are_drawn_by_either_end_of_the_pull(job: FoldJob) -> None:
    """2 to 4 N/m: each end with as many starts bowed in as out; a pull without a range is the same for all."""

    def drawn(**keys: Any) -> list[tuple[float, float]]:
        seen: list[tuple[float, float]] = []
        stand_in = falls("in")

        def run(strand: Any, drive: Any, room: Any, start: Any) -> Any:
            seen.append((float(np.sum(room.pulls[:, 1])), start.bow))
            return stand_in(strand, drive, room, start)

        made = fold_job(roof(**keys))
        work_fold(replace(made, places=made.places[:1]), run=run)
        return seen

    wide = drawn(pull="cords", pull_force="2 .. 4 N/m, assumed")
    assert sorted({force for force, _ in wide}) == pytest.approx([2.0, 4.0])
    for force in (2.0, 4.0):
        bows = [bow for one, bow in wide if one == pytest.approx(force)]
        assert len(bows) == 12
        assert sum(bow > 0.0 for bow in bows) == 6
    assert {force for force, _ in drawn(pull="cords", pull_force="3 N/m")} == {3.0}
    assert {force for force, _ in drawn()} == {0.0}


def test_an_answer_of_an_older_form_counts_as_not_there(job: FoldJob, tmp_path: Path) -> None:
    project, file = roof(**CORDS), tmp_path / "roof.toml"
    mine = fold_job(project)
    answer = work_fold(mine, run=falls("in"))
    older = {key: value for key, value in answer.items() if key != "form"}
    for old in (older, {**answer, "form": 1}):
        with pytest.raises(ValueError, match=r"no |kept"):
            read_fold(old)
        keep_fold(file, mine, old)
        assert kept_walls(file, project).fold_is == "none"


def test_the_stamp_follows_what_is_read_and_nothing_else(job: FoldJob) -> None:
    same = roof(bar_in="80 mm", bar_below="10 mm", **CORDS)
    assert fold_job(same).stamp == job.stamp
    assert fold_job(roof(bar_in="80 mm", bar_below="10 mm", push_limit="7 N/m", **CORDS)).stamp == job.stamp
    for other in (
        roof(bar_in="85 mm", bar_below="10 mm", **CORDS),
        roof(bar_in="80 mm", bar_below="10 mm", **CORDS, opens="24 deg"),
        roof(bar_in="80 mm", bar_below="10 mm", **CORDS, layers=CANVAS.replace("40 mm", "45 mm")),
        roof(bar_in="80 mm", bar_below="10 mm", **CORDS, starts=30),
    ):
        assert fold_job(other).stamp != job.stamp


def test_all_starts_of_all_places_are_counted_and_told(job: FoldJob) -> None:
    heard: list[tuple[float, str]] = []
    answer = work_fold(job, tell=lambda share, text: heard.append((share, text)), run=falls("by turns"))
    assert answer["complete"]
    assert "rear wall, 7 of 24" in [text for _, text in heard]
    assert [share for share, _ in heard] == sorted(share for share, _ in heard)
    assert heard[-1][0] == pytest.approx(1.0)
    places = read_fold(json.loads(json.dumps(answer)))
    names = [one.name for one in places]
    assert names[:3] == ["rear wall", "right wall, high end", "right wall"]
    assert names[3:] == ["front wall", "left wall", "left wall, high end"]
    for one in places:
        assert (one.ways.count("in"), one.ways.count("out"), one.rested) == (12, 12, 24)
        assert len(one.ends) == 24
        assert len(one.poses) <= POSES
        assert all(len(pose.cloth) <= POINTS for pose in one.poses)
        assert one.poses[0].open == pytest.approx(1.0)
        assert one.poses[-1].open == pytest.approx(0.0)
        assert one.lifts[0] == pytest.approx(1.0)
        ways = ways_of(one)
        assert ways.said == "not decided: add a pull here"
        went_in = [reach for reach, way in zip(one.inward, one.ways, strict=True) if way == "in"]
        assert ways.spread("inward") == pytest.approx([min(went_in), float(np.median(went_in)), max(went_in)])


def test_walls_that_are_alike_are_worked_out_once(job: FoldJob) -> None:
    """Left and right of a roof that is alike on both sides."""
    seen: list[float] = []
    stand_in = falls("in")

    def run(strand: Any, drive: Any, room: Any, start: Any) -> Any:
        seen.append(strand.length)
        return stand_in(strand, drive, room, start)

    places = read_fold(work_fold(job, run=run))
    assert len(seen) == 4 * 24
    right, left = (next(one for one in places if one.name == f"{side} wall") for side in ("right", "left"))
    assert replace(right, name="") == replace(left, name="")


def test_work_that_is_stopped_says_so_and_keeps_what_is_done(job: FoldJob) -> None:
    left = iter(range(100))
    answer = work_fold(job, stopped=lambda: next(left) >= 30, run=falls("in"))
    assert not answer["complete"]
    counts = [len(one.ways) for one in read_fold(answer)]
    assert counts[0] == 24
    assert sum(counts[1:2]) == 6


def test_a_strip_that_cannot_hang_is_told(job: FoldJob) -> None:
    def run(*_: Any) -> Any:
        raise ValueError("the strip is 3 mm shorter than the way between its clamps")

    answer = work_fold(job, run=run)
    assert answer["places"] == []
    assert "rear wall: the strip is 3 mm shorter" in answer["said"][0]
    assert read_fold(answer) == ()


def test_without_cloth_there_is_nothing_to_work_out() -> None:
    bare = fold_job(roof(layers=""))
    assert bare.places == ()
    assert "[[layer]]" in bare.why
    assert work_fold(bare, run=falls("in"))["places"] == []


@pytest.mark.parametrize(
    "broken",
    [
        None,
        [],
        {"places": 3},
        {"places": [{}]},
        {"places": [{"name": "rear wall", "ways": ["up"]}]},
    ],
)
def test_a_kept_answer_of_another_form_is_refused(broken: Any) -> None:
    with pytest.raises(ValueError, match=r"no |kept"):
        read_fold(broken)


def test_a_kept_answer_with_a_number_that_is_none_is_refused(job: FoldJob) -> None:
    answer = work_fold(job, run=falls("in"))
    answer["places"][0]["bundle"][0] = math.nan
    with pytest.raises(ValueError, match="no number"):
        read_fold(answer)


def test_what_is_kept_is_fresh_until_the_project_changes(tmp_path: Path) -> None:
    project, file = roof(**CORDS), tmp_path / "roof.toml"
    assert kept_walls(None, project) == NOTHING_KEPT
    assert kept_walls(file, project) == NOTHING_KEPT
    mine = fold_job(project)
    keep_fold(file, mine, work_fold(mine, run=falls("in")))
    found = kept_walls(file, project)
    assert found.fold_is == "fresh"
    assert found.laid_is == "none"
    assert len(found.fold) == 6
    assert kept_walls(file, roof(**{**CORDS, "pull_force": "2 N/m"})).fold_is == "stale"
    kept_beside(file).write_text("no json", encoding="utf-8")
    assert kept_walls(file, project).fold_is == "none"


@pytest.mark.slow
def test_the_chain_itself_folds_inward_by_the_pull_and_mirrors() -> None:
    """The real chain on the rear wall of a roof hinged in front: in with 3 N/m, and its mirror image mirrored."""
    from loftwright.cloth.chain import Drive, Start, run

    strand, drive, room = place(fold_job(roof(**CORDS)), "rear").parts()
    # On an even floor, as the rule of thumb was tried.
    room = replace(room, boxes=np.array([[-1.0, -0.05, 1.5, 0.0]]))
    found = run(strand, drive, room, Start(0.01, 3), node=0.012)
    assert found.inward > 0.3
    assert found.outward < 0.015
    # One fold: about half of the surplus height, walls of 0.95 m and 60 mm between the lines.
    assert float(np.max(found.points[:, 0])) == pytest.approx((strand.length - 0.06) / 2 + 0.0125, abs=0.04)
    mirrored = replace(room, tilt=-room.tilt, pulls=room.pulls * [1.0, -1.0], pressure=-room.pressure)
    # Ripples have no mirror image of their own: without them both starts are each other's.
    one = run(strand, drive, room, Start(0.01, 3, 0.0), node=0.012)
    other = run(
        strand, Drive(-drive.u, drive.z, -drive.lean, drive.seconds), mirrored, Start(-0.01, 3, 0.0), node=0.012
    )
    assert other.outward == pytest.approx(one.inward, abs=2e-3)
    assert other.points[:, 0] == pytest.approx(-one.points[:, 0], abs=5e-3)
