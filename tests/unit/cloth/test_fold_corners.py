"""The folded corner: excess cloth by exact geometry; thicknesses against the order of magnitude that a trial gave.

The trial in three dimensions (computed, not sewn) found 8 to 10 layers at a corner of 150 mm radius with a fold of
230 mm: 31 to 39 mm for a wall of 3.9 mm, 62 to 78 mm for two such walls.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from loftwright.cloth import fold_corners as corners
from loftwright.cloth.bundle import Cavity
from loftwright.cloth.fold_corners import Corner
from loftwright.core.checks import Check, Verdict
from loftwright.core.judged import Judged


def corner(**changed: float) -> Corner:
    """Return the insulated wall of the trial, 500 mm high over a gap of 60 mm."""
    sizes = {
        "height": 0.5,
        "gap": 0.06,
        "radius": 0.15,
        "outer": 0.0006,
        "insulation": 0.003,
        "lining": 0.0003,
        "bending_length": 0.045,
        "outer_bending": 0.040,
    } | changed
    return Corner(**{name: np.array([size]) for name, size in sizes.items()})


def cavity(lining: float = 0.06, back: float = 0.3, under: float = 0.04) -> Cavity:
    return Cavity(np.array([lining]), np.array([back]), np.array([under]))


def judged(said: Judged) -> Check:
    """Return the judgement of the first row, or that it is not known."""
    assert said.value is not None
    assert said.limit is not None
    if said.unknown:
        return said.rule.not_known(said.unknown)
    return said.rule.judge(float(said.value[0]), float(said.limit[0]))


def around(length: float, width: float, radius: float) -> float:
    """Return the length round a rectangle with rounded corners."""
    return 2 * (length + width) - (8 - 2 * math.pi) * radius


@pytest.mark.parametrize(("depth", "radius", "excess"), [(0.23, 0.15, 396), (0.23, 0.3, 361), (0.116, 0.15, 182)])
def test_excess_cloth_is_the_difference_of_two_rims(depth: float, radius: float, excess: int) -> None:
    """Second way: a rounded rectangle less the one that runs beside it further in, a quarter of it each corner."""
    inner = around(2.0 - 2 * depth, 1.2 - 2 * depth, max(radius - depth, 0.0))
    found = float(corners.excess_cloth(depth, radius))
    assert found == pytest.approx((around(2.0, 1.2, radius) - inner) / 4)
    assert round(found * 1000) == excess


def test_corner_layers_and_bundle_hold_what_the_trial_gave() -> None:
    few, many = corners.corner_layers(0.23, 0.15)
    assert float(few) < 8 < 10 < float(many)
    for thickness, least, most in ((0.0039, 0.031, 0.039), (0.0078, 0.062, 0.078)):
        low, high = corners.corner_bundle(0.23, 0.15, thickness, 0.045)
        assert float(low) <= least * 1.05
        assert most <= float(high)


def test_canvas_corner_is_all_loops() -> None:
    low, high = corners.corner_bundle(0.23, 0.15, 0.0006, 0.040)
    assert (float(low), float(high)) == pytest.approx((0.028, 0.038))


def test_seam_past_the_crossing_folds_is_thinner_and_the_default() -> None:
    """Fold 230 mm, radius 150: the folds of both walls cross for 80 mm past the round."""
    middle, near, far = corners.seams_compared(0.23, 0.15, 0.0039, 0.0006)
    assert (bool(middle.crowded), bool(near.crowded), bool(far.crowded)) == (True, True, False)
    assert float(far.high) < float(middle.high)
    assert float(far.high) == pytest.approx(4 * 0.0039 + 3 * 4 * 0.0006)
    default = corners.seam_default(0.23, 0.15)
    assert default == 0.080
    assert float(corners.seam_at(default, 0.23, 0.15, 0.0039, 0.0006).high) == pytest.approx(float(far.high))


def test_seam_goes_to_mid_corner_where_nothing_is_gained() -> None:
    assert corners.seam_default(0.47, 0.15) == 0.0
    assert corners.seam_default(0.15, 0.15) == corners.PAST[0]
    middle, near, far = corners.seams_compared(0.47, 0.15, 0.0039, 0.0006)
    assert float(middle.high) == float(near.high) == float(far.high)


def test_remedies_are_set_side_by_side() -> None:
    found = {one.name: one for one in corners.remedies(corner(), cavity())}
    as_it_is = found["as it is"]
    assert float(as_it_is.gain[0]) == float(as_it_is.depth_gain[0]) == 0.0
    for name in ("insulation stopped short", "plain corner gussets", "removable lining"):
        assert float(found[name].gain[0]) > 0
        assert float(found[name].depth_gain[0]) == 0.0
    two = found["two folds"]
    assert float(two.depth[0]) == pytest.approx(float(as_it_is.depth[0]) / 2)
    assert float(two.depth_gain[0]) == pytest.approx(0.11625)
    assert float(found["short cords at the corners' ends"].gain[0]) == 0.0


def test_insulation_must_stop_beyond_the_crossing_folds() -> None:
    short = {one.name: one for one in corners.remedies(corner(), cavity(), stop=0.05)}
    tall = {one.name: one for one in corners.remedies(corner(height=0.96), cavity())}
    assert float(short["insulation stopped short"].gain[0]) == 0.0
    assert float(tall["insulation stopped short"].gain[0]) == 0.0


def test_moving_the_bar_back_helps_once_the_fold_stays_before_it() -> None:
    under = corners.remedies(corner(), cavity(back=0.20), bar_moved=0.05)[-1]
    beyond = corners.remedies(corner(), cavity(back=0.10), bar_moved=0.05)[-1]
    assert float(under.gain[0]) == pytest.approx(0.02)
    assert float(beyond.gain[0]) == 0.0


def test_corner_judged_on_both_sides_and_between() -> None:
    thin = corners.corner_bundle(0.23, 0.15, np.array([0.0006]), 0.040)
    double = corners.corner_bundle(0.23, 0.15, np.array([0.0156]), 0.045)
    between = corners.corner_bundle(0.23, 0.15, np.array([0.0070]), 0.045)
    assert judged(corners.corner_judged(*thin, 0.06)).verdict is Verdict.HOLDS
    assert judged(corners.corner_judged(*double, 0.06)).verdict is Verdict.FAILS
    assert judged(corners.corner_judged(*between, 0.06)).verdict is Verdict.NOT_KNOWN
