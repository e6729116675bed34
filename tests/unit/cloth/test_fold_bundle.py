"""Room for the folded wall and its push on the shell: exact constructed cases."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.cloth import bundle
from loftwright.cloth.bundle import Cavity, Obstacle
from loftwright.cloth.chain import Folded
from loftwright.cloth.fold import hang_bound, plate_push, quick_bundle, quick_depth
from loftwright.core.checks import Check, Verdict
from loftwright.core.judged import Judged

CAVITY = Cavity(np.array([0.06]), np.array([0.25]), np.array([0.03]))


def judged(said: Judged) -> Check:
    """Return the judgement of the first row."""
    assert said.value is not None
    assert said.limit is not None
    return said.rule.judge(float(said.value.flat[0]), float(said.limit.flat[0]))


def lowered(lifts: list[float], at_rest: float) -> Folded:
    """Return a run whose frames stand at even shares of the drive."""
    none = np.zeros((1, 2))
    frames = np.zeros((len(lifts), 1, 2))
    drive = np.linspace(0.0, 100.0, len(lifts))
    return Folded(none, 0.22, 0.0, 0.03, at_rest, 0.0, 0.0, 1, 1e-4, frames, drive, np.array(lifts))


def test_tip_against_board_and_cabinet() -> None:
    """A 500 mm wall over 60 mm reaches in 235 mm by rule of thumb: 245 mm are needed, 10 mm of them clear."""
    depth = quick_depth(np.array([0.5]), 0.06)[1]
    board, cabinet = bundle.tip_judged(
        depth, (Obstacle("bed board", np.array([0.40])), Obstacle("cabinet", np.array([0.24]))), "rear wall"
    )
    assert judged(board).verdict is Verdict.HOLDS
    assert judged(cabinet).verdict is Verdict.FAILS
    assert (board.which, cabinet.which) == ("rear wall, bed board", "rear wall, cabinet")


def test_cloth_that_hangs_against_the_bed_below() -> None:
    """A string of 1 m over an edge 40 mm wide, 30 mm apart at its ends: (1 - 0.04 - 0.05) / 2 = 455 mm."""
    taut = hang_bound(np.array([1.0]), 0.03, 0.04)
    assert taut == pytest.approx([0.455])
    assert judged(bundle.hang_judged(taut, 0.46, "rear wall")).verdict is Verdict.HOLDS
    assert judged(bundle.hang_judged(taut, 0.45, "rear wall")).verdict is Verdict.FAILS
    assert bundle.hang_judged(taut, 0.45, "rear wall").which == "rear wall"


def test_the_hang_is_half_of_what_two_folds_leave_and_never_negative() -> None:
    """Two folds of 0.5 m each, their ends 15 mm apart over an edge 8 mm wide: (0.5 - 0.008 - 0.017) / 2."""
    assert float(hang_bound(1.0, 0.03, 0.008, 2)) == pytest.approx(0.2375)
    assert float(hang_bound(0.05, 0.03, 0.04)) == 0.0


def test_bundle_under_lining_and_under_the_bar() -> None:
    height = quick_bundle(np.array([0.045]), 0.0039)[1]
    assert judged(bundle.bundle_judged(height, CAVITY.height_at(0.24), "rear wall")).verdict is Verdict.HOLDS
    assert judged(bundle.bundle_judged(height, CAVITY.height_at(0.26), "rear wall")).verdict is Verdict.FAILS


def test_push_of_a_pressed_fold_on_both_sides_of_the_limit() -> None:
    canvas, quilted = 0.35 * 9.80665 * 0.04**3, 0.58 * 9.80665 * 0.07**3
    assert judged(bundle.push_judged(plate_push([canvas], 0.03), 5.0, "rear wall")).verdict is Verdict.HOLDS
    assert judged(bundle.push_judged(plate_push([quilted], 0.02), 5.0, "rear wall")).verdict is Verdict.FAILS


def test_push_of_one_wall_over_the_last_part() -> None:
    """Two runs whose push is read off at shares 1, 0.5 and 0 of the opening; straight between."""
    share = np.linspace(1.0, 0.0, 101)
    found = bundle.place_push((lowered([0.0, 0.0, 4.0], 4.0), lowered([-1.0, 0.0, 2.0], 2.0)), share, 6, 0.25)
    assert found.share == pytest.approx([0.0, 0.05, 0.10, 0.15, 0.20, 0.25])
    assert found.force == pytest.approx([3.0, 2.7, 2.4, 2.1, 1.8, 1.5])
    assert found.low == pytest.approx([2.0, 1.8, 1.6, 1.4, 1.2, 1.0])
    assert found.high == pytest.approx([4.0, 3.6, 3.2, 2.8, 2.4, 2.0])


def test_without_a_run_there_is_no_push() -> None:
    with pytest.raises(ValueError, match="no run"):
        bundle.place_push((), np.linspace(1.0, 0.0, 3))
