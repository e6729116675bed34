"""The seal: exact constructed cases, each on both sides of its limit."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.checks import Check, Verdict
from loftwright.core.judged import Judged
from loftwright.fitout import seal
from loftwright.fitout.seal_rules import CORNER_TIGHT, JOINT_WET, WATER_STANDS, bends, joint_dry, runs_off


def checked(found: Judged) -> Check:
    assert found.value is not None
    assert found.limit is not None
    return found.rule.judge(float(found.value.ravel()[0]), float(found.limit.ravel()[0]))


def test_length_round_the_rim() -> None:
    assert seal.seal_length(2.4, 1.4, 0.0) == pytest.approx(7.6)
    # Half the width as radius: two straights and a circle.
    assert seal.seal_length(2.4, 1.4, 0.7) == pytest.approx(2.0 + np.pi * 1.4)
    with pytest.raises(ValueError, match="corners"):
        seal.seal_length(2.4, 1.4, 0.8)


def test_gaps_over_rows() -> None:
    found = seal.gaps_to_fill([[0.010, 0.012], [0.008, 0.011]], [[0.012, 0.016], [0.009, 0.013]])
    np.testing.assert_allclose(found.least, [0.010, 0.008])
    np.testing.assert_allclose(found.most, [0.016, 0.013])
    np.testing.assert_allclose(found.spread, [0.006, 0.005])


def test_weighing_and_the_list() -> None:
    # 0.5 kg under 100 mm is 4.903 N for 100 mm, which a list gives as 49.03 N/m.
    assert seal.weighed(0.5, 0.1) == pytest.approx(49.03325)
    assert seal.per_metre(4.903325) == pytest.approx(49.03325)
    with pytest.raises(ValueError, match="length"):
        seal.weighed(0.5, 0.0)


def test_the_curve_goes_through_its_points() -> None:
    curve = seal.curve_through([0.006, 0.006], [100.0, 80.0], 0.003, [30.0, 40.0])
    np.testing.assert_allclose(curve.force(0.006), [100.0, 80.0])
    np.testing.assert_allclose(curve.force(0.003), [30.0, 40.0])
    assert curve.power[0] > 1
    assert curve.power[1] == pytest.approx(1.0)
    np.testing.assert_allclose(curve.force(-0.001), 0.0)
    straight = seal.curve_through(0.006, 100.0)
    assert straight.force(0.0015) == pytest.approx(25.0)


@pytest.mark.parametrize(
    "points", [(0.0, 100.0, None, None), (0.006, 100.0, 0.007, 30.0), (0.006, 100.0, 0.003, 120.0)]
)
def test_points_that_make_no_curve(points: tuple[float, float, float | None, float | None]) -> None:
    with pytest.raises(ValueError, match="must be"):
        seal.curve_through(*points)


@pytest.mark.parametrize(("line", "total"), [(50.0, 380.0), (100.0, 760.0), (200.0, 1520.0)])
def test_line_load_times_perimeter(line: float, total: float) -> None:
    """Computed here from first principles: 7.6 m of seal."""
    step = np.full(76, 0.1)
    pushed = seal.push(seal.curve_through(0.005, line), np.full(76, 0.005), step, np.linspace(0.0, 2.4, 76))
    assert pushed.force == pytest.approx(total)
    assert pushed.x == pytest.approx(1.2)
    # Hinge at one end, two latches at the other: each takes a quarter.
    assert seal.latch_pull(pushed, 0.0, 2.4, 2) == pytest.approx(total / 4)


def test_a_wedge_of_squeeze_pushes_at_two_thirds() -> None:
    """Exact: squeeze rising straight from nought puts the push at two thirds of the length."""
    x = (np.arange(2000) + 0.5) / 2000
    pushed = seal.push(seal.curve_through(0.01, 100.0), 0.01 * x, 1 / 2000, x)
    assert pushed.force == pytest.approx(50.0, rel=1e-6)
    assert pushed.x == pytest.approx(2 / 3, rel=1e-6)


def test_over_a_travel_the_push_goes_to_nothing() -> None:
    curve = seal.curve_through(np.array([[[0.005]], [[0.005]]]), np.array([[[100.0]], [[50.0]]]))
    rise = np.array([0.0, 0.0025, 0.005, 0.1])
    squeeze = np.maximum(0.005 - rise, 0.0)[:, None] * np.ones(8)
    pushed = seal.push(curve, squeeze, 0.5, np.arange(8.0))
    np.testing.assert_allclose(pushed.force, [[400.0, 200.0, 0.0, 0.0], [200.0, 100.0, 0.0, 0.0]])
    np.testing.assert_allclose(pushed.x, 3.5)


def test_the_squeeze_in_a_gap() -> None:
    np.testing.assert_allclose(
        seal.squeezed([0.015, 0.012], [[0.010, 0.016], [0.010, 0.016]]), [[0.005, 0], [0.002, 0]]
    )
    with pytest.raises(ValueError, match="latch"):
        seal.latch_pull(seal.SealPush(np.array(1.0), np.array(1.0)), 0.0, 2.0, 0)


# Round a rectangle with stations 0.5 m apart: a hollow at station 2, a lesser one at 6.
HEIGHT = np.array([0.020, 0.010, 0.000, 0.010, 0.020, 0.015, 0.0142, 0.018])


def test_water_stands_in_both_hollows() -> None:
    wet = seal.standing_water(HEIGHT, depth=0.002)
    assert np.flatnonzero(wet).tolist() == [2, 5, 6]
    assert [(s.first, s.last, s.lowest) for s in seal.stretches(wet, HEIGHT)] == [(2, 2, 2), (5, 6, 6)]


def test_a_drain_dries_its_hollow_alone() -> None:
    drain = np.zeros(8)
    drain[2] = 1
    assert np.flatnonzero(seal.standing_water(HEIGHT, drain, 0.002)).tolist() == [5, 6]


def test_a_hollow_over_the_end_of_the_loop() -> None:
    turned = np.roll(HEIGHT, -2)
    # 11 mm deep: one station to each side of the deeper hollow; the lesser one runs over its sill, 6 mm up, into it.
    assert np.flatnonzero(seal.standing_water(turned, depth=0.011)).tolist() == [0, 1, 7]
    assert np.flatnonzero(seal.standing_water(turned[[7, 0, 1, 2]], depth=0.011)).tolist() == [0, 1, 2]
    first = seal.stretches(np.array([True, False, False, True]), np.array([0.0, 1.0, 1.0, 0.5]))
    assert [(s.first, s.last, s.lowest) for s in first] == [(3, 0, 0)]


def test_a_slope_does_not_hold_water_but_its_foot_does() -> None:
    slope = np.array([0.0, 0.01, 0.02, 0.03, 0.04, 0.03, 0.02, 0.01])
    assert np.flatnonzero(seal.standing_water(slope, depth=0.002)).tolist() == [0]


def test_a_shelf_drains_to_what_is_lower() -> None:
    shelf = np.array([0.03, 0.02, 0.02, 0.01, 0.0, 0.01, 0.02, 0.03])
    assert np.flatnonzero(seal.standing_water(shelf, depth=0.001)).tolist() == [4]


def test_a_level_rim_stands_in_water_all_round() -> None:
    wet = seal.standing_water(np.zeros((2, 6)))
    assert wet.all()
    assert seal.stretches(wet[0], np.zeros(6))[0].last == 5


def test_parking_moves_the_water() -> None:
    x, y = np.array([0.0, 2.0, 2.0, 0.0]), np.array([-0.7, -0.7, 0.7, 0.7])
    heights = seal.parked(np.zeros(4), x, y, [0.02, -0.02], [0.01, 0.01])
    assert np.flatnonzero(seal.standing_water(heights[0])).tolist() == [0]
    assert np.flatnonzero(seal.standing_water(heights[1])).tolist() == [1]


def test_the_joint_goes_to_the_rear_and_high() -> None:
    x = np.array([0.0, 0.0, 0.0, 1.0, 2.0, 2.0, 2.0, 1.0])
    assert seal.joint_station(x, [0.01, 0.03, 0.02, 0.9, 0.9, 0.9, 0.9, 0.9]) == 1


def test_way_to_the_water_is_the_shorter_one() -> None:
    wet = np.array([[False, False, True, False], [False, False, False, False]])
    np.testing.assert_allclose(seal.joint_to_water(wet, 0.5, 3), [0.5, 1.0])
    np.testing.assert_allclose(seal.joint_to_water(wet[0], 0.5, 0), 1.0)


def test_corners() -> None:
    assert checked(bends(0.10, 0.05)).verdict is Verdict.HOLDS
    assert checked(bends(0.03, 0.05)).verdict is Verdict.FAILS
    assert CORNER_TIGHT.judge(0.05, 0.05).margin == 0
    assert "sample" in bends(0.10, None).unknown


def test_water_runs_off_or_stands() -> None:
    wet = seal.standing_water(np.stack([HEIGHT, HEIGHT]), np.array([[0] * 8, [0, 0, 1, 0, 0, 0, 1, 0]]), 0.002)
    found = runs_off(wet, 0.5)
    assert found.value is not None
    assert [WATER_STANDS.judge(float(v), 0.5).verdict for v in found.value] == [Verdict.FAILS, Verdict.HOLDS]


def test_the_joint_is_dry_or_wet() -> None:
    wet = seal.standing_water(HEIGHT, depth=0.002)
    assert checked(joint_dry(wet, 0.5, 0)).verdict is Verdict.HOLDS
    assert checked(joint_dry(wet, 0.5, 6)).verdict is Verdict.FAILS
    assert JOINT_WET.judge(1.0, 0.1).margin == pytest.approx(0.9)
