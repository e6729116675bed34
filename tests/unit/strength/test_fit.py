"""Gap against the seal, stops, trim, cover, ranking: exact constructed cases, computed here from first principles."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.checks import Check, Verdict
from loftwright.core.judged import Judged
from loftwright.strength.fit import (
    Candidate,
    by_place,
    judge_gap,
    judge_lap,
    judge_points,
    judge_rim_height,
    judge_trim,
    lap,
    outside,
    rank,
    rim_height,
    seal_heights,
    stand_height,
    stop_heights,
    trim_line,
)
from loftwright.strength.fit_rim import Rim, shell_rim
from loftwright.strength.fit_rules import GAP_RANGE, LAP, POINTS, RIM_HEIGHT, SEAL_CRUSHED, SEAL_LOOSE, TRIM
from loftwright.strength.fit_seat import Seat, seat, seat_at
from loftwright.strength.fit_surfaces import Points, Surface, measured_surface

RIM = shell_rim(rear=-0.1, length=2.2, width=1.2, radius=0.0)
"""A flat rim; on `ROOF` it touches in the middle of its ends and stands 6 mm up along its sides."""
ROOF = measured_surface(crown=0.006, width=1.2, length=2.2, middle=1.0)


@pytest.fixture(scope="module")
def seated() -> Seat:
    return seat_at(RIM, ROOF, 0.0)


def check(judged: Judged) -> Check:
    assert judged.value is not None
    assert judged.limit is not None
    return judged.rule.judge(float(np.ravel(judged.value)[0]), float(np.ravel(judged.limit)[0]), part=judged.which)


def test_gap_stands_where_it_must(seated: Seat) -> None:
    places = by_place(RIM.stations(), seated.gap)
    assert {name: (float(least), float(most)) for name, (least, most) in places.items()} == {
        "rear": pytest.approx((0.0, 0.006 * (12 / 14) ** 2), abs=1e-12),
        "front": pytest.approx((0.0, 0.006 * (12 / 14) ** 2), abs=1e-12),
        "right": pytest.approx((0.006, 0.006), abs=1e-12),
        "left": pytest.approx((0.006, 0.006), abs=1e-12),
        "corners": pytest.approx((0.006, 0.006), abs=1e-12),
    }


@pytest.mark.parametrize(("most", "verdict"), [(0.0151, Verdict.HOLDS), (0.0149, Verdict.FAILS)])
def test_seal_follows_a_gap_up_to_its_range(seated: Seat, most: float, verdict: Verdict) -> None:
    first, *rest = judge_gap(seated, RIM.stations(), seal_least=0.009, seal_most=most)
    assert first.rule is GAP_RANGE
    assert check(first).verdict is verdict
    assert len(rest) == 10


def test_seal_within_its_range_holds_everywhere(seated: Seat) -> None:
    found = judge_gap(seated, RIM.stations(), seal_least=0.008, seal_most=0.016)
    assert all(check(judged).verdict is Verdict.HOLDS for judged in found)
    assert {judged.which for judged in found[1:]} == {"rear", "right", "front", "left", "corners"}


def test_stops_too_high_leave_the_seal_loose_where_the_gap_is_widest(seated: Seat) -> None:
    found = judge_gap(seated, RIM.stations(), seal_least=0.008, seal_most=0.016, stand=0.0101)
    loose = {judged.which for judged in found if judged.rule is SEAL_LOOSE and check(judged).verdict is Verdict.FAILS}
    assert loose == {"right", "left", "corners"}
    assert [check(j).verdict for j in found if (j.rule, j.which) == (SEAL_LOOSE, "rear")] == [Verdict.HOLDS]


def test_stops_too_low_crush_the_seal_where_the_gap_is_narrowest(seated: Seat) -> None:
    found = judge_gap(seated, RIM.stations(), seal_least=0.008, seal_most=0.016, stand=0.0079)
    crushed = {j.which for j in found if j.rule is SEAL_CRUSHED and check(j).verdict is Verdict.FAILS}
    assert crushed == {"rear", "front"}
    assert [check(j).verdict for j in found if (j.rule, j.which) == (SEAL_CRUSHED, "left")] == [Verdict.HOLDS]
    assert [check(j).verdict for j in found if (j.rule, j.which) == (SEAL_CRUSHED, "rear")] == [Verdict.FAILS]


def test_a_seal_not_known_waits_for_a_measurement(seated: Seat) -> None:
    (only,) = judge_gap(seated, RIM.stations(), seal_least=None, seal_most=0.016)
    assert only.limit is None
    assert only.missing == "seal_range"
    assert only.rule.not_known(only.unknown).verdict is Verdict.NOT_KNOWN


def test_what_the_seal_has_left_is_shared(seated: Seat) -> None:
    stand = stand_height(seated.largest, 0.008, 0.016)
    heights = seal_heights(seated, stand)
    assert heights.min() - 0.008 == pytest.approx(0.016 - heights.max(), abs=1e-14)
    assert float(stand_height(0.03, 0.004, 0.01)) == 0.0


def test_stops_bear_together_at_the_height_of_the_stand(seated: Seat) -> None:
    x, y = np.array([0.0, 2.0, 1.0]), np.array([0.6, -0.6, 0.3])
    heights = stop_heights(RIM, ROOF, seated, 0.009, x, y)
    np.testing.assert_allclose(heights, [0.015, 0.015, 0.009 + 0.006 / 4], atol=1e-12)


def test_scribing_leaves_no_gap(seated: Seat) -> None:
    trim = trim_line(seated)
    assert trim.cut.min() >= 0.0
    assert float(trim.largest) == pytest.approx(0.006, abs=1e-12)
    assert float(trim.left) == pytest.approx(0.0, abs=1e-15)
    rim = RIM.stations()
    again = seat(rim.x, rim.y, trim.cut, ROOF.height(rim.x, rim.y))
    np.testing.assert_allclose(again.gap, 0.0, atol=1e-12)


def test_part_of_the_cut_leaves_part_of_the_gap(seated: Seat) -> None:
    trim = trim_line(seated, 0.002)
    assert (float(trim.largest), float(trim.left), float(trim.drop)) == pytest.approx((0.004, 0.002, 0.004), abs=1e-12)
    rim = RIM.stations()
    again = seat(rim.x, rim.y, trim.cut, ROOF.height(rim.x, rim.y))
    assert float(again.largest) <= 0.002 + 1e-12
    nothing = trim_line(seated, 0.01)
    assert (float(nothing.largest), float(nothing.left)) == pytest.approx((0.0, 0.006), abs=1e-12)


@pytest.mark.parametrize(("allowance", "verdict"), [(0.0061, Verdict.HOLDS), (0.0059, Verdict.FAILS)])
def test_a_rim_spares_what_it_can(seated: Seat, allowance: float, verdict: Verdict) -> None:
    judged = judge_trim(trim_line(seated), allowance)
    assert judged.rule is TRIM
    assert check(judged).verdict is verdict


def test_a_rim_not_looked_at_waits_for_a_measurement(seated: Seat) -> None:
    judged = judge_trim(trim_line(seated), None)
    assert judged.missing == "trim_allowance"
    assert judged.rule.not_known(judged.unknown).verdict is Verdict.NOT_KNOWN


def test_outside_is_the_distance_to_a_rounded_rectangle() -> None:
    x, y = np.array([1.5, 0.0, 1.0 - 0.2, 1.3]), np.array([0.0, 0.0, 0.6 - 0.2, 0.8])
    expected = [0.5, -0.6, -0.2, np.hypot(0.5, 0.4) - 0.2]
    np.testing.assert_allclose(outside(x, y, 2.0, 1.2, 0.2), expected, atol=1e-14)


def test_a_sharp_corner_of_the_hole_under_a_round_one_of_the_rim() -> None:
    rim = shell_rim(rear=-0.1, length=2.2, width=1.2, radius=0.3)
    assert float(lap(rim, 0.0, 2.0, 1.0, 0.0)) == pytest.approx(0.3 - np.hypot(0.2, 0.2), abs=1e-12)
    assert float(lap(rim, 0.0, 2.0, 1.0, 0.2)) == pytest.approx(0.1, abs=1e-12)
    assert float(lap(rim, 0.04, 2.0, 1.0, 0.2)) == pytest.approx(0.06, abs=1e-12)


@pytest.mark.parametrize(("shift", "verdict"), [(0.069, Verdict.HOLDS), (0.071, Verdict.FAILS), (-0.3, Verdict.FAILS)])
def test_the_shell_covers_the_hole_or_not(shift: float, verdict: Verdict) -> None:
    judged = judge_lap(lap(RIM, shift, 2.0, 1.0, 0.1))
    assert judged.rule is LAP
    assert check(judged).verdict is verdict


def dented(depth: float) -> Surface:
    """Return a flat roof of 15 points, one of them low by `depth`."""
    z = np.zeros(15)
    z[7] = -depth
    points = Points(np.tile(np.linspace(0, 2, 5), 3), np.repeat([-0.6, 0.0, 0.6], 5), z)
    return measured_surface(width=1.4, length=2.0, middle=1.0, points=points)


@pytest.mark.parametrize(("depth", "verdict"), [(0.004, Verdict.HOLDS), (0.015, Verdict.FAILS)])
def test_a_point_out_of_the_curve_is_said(depth: float, verdict: Verdict) -> None:
    judged = judge_points(dented(depth), "roof")
    assert judged is not None
    assert judged.rule is POINTS
    assert check(judged).verdict is verdict


def test_a_roof_without_points_has_none_to_judge() -> None:
    assert judge_points(ROOF, "roof") is None


def candidate(name: str, rim: Rim) -> Candidate:
    return Candidate(name, seat_at(rim, ROOF, 0.0).largest, lap(rim, 0.0, 2.0, 1.0, 0.1))


def test_shells_are_ranked_by_cover_then_by_gap() -> None:
    flat = candidate("flat", RIM)
    arched = candidate("arched", shell_rim(rear=-0.1, length=2.2, width=1.2, radius=0.0, end_rise=0.005))
    short = candidate("short", shell_rim(rear=-0.1, length=2.05, width=1.2, radius=0.0, end_rise=0.006))
    ranking = rank((flat, short, arched))
    assert ranking.order == ("arched", "flat", "short")
    assert ranking.covers == (True, True, False)
    assert ranking.best.tolist() == [2]


def test_every_row_has_its_own_best() -> None:
    ranking = rank(
        (
            Candidate("a", np.array([0.004, 0.004, 0.004]), np.array([0.05, 0.05, 0.01])),
            Candidate("b", np.array([0.005, 0.003, 0.005]), np.array(0.05)),
        )
    )
    assert ranking.order == ("a", "b")
    assert ranking.best.tolist() == [0, 1, 1]
    with pytest.raises(ValueError, match="no shell"):
        rank(())


def test_the_closed_rim_stands_over_the_origin_by_what_holds_it(seated: Seat) -> None:
    """The flat rim touches the crest in the middle of both ends; raised on stops it stands there by their height."""
    ends = rim_height(RIM.stations(), ROOF, seated, 0.010, 0.0, ("rear", "front"))
    sides = rim_height(RIM.stations(), ROOF, seated, 0.010, 0.0, ("left", "right"))
    assert float(ends) == pytest.approx(0.010, abs=1e-12)
    assert float(sides) == pytest.approx(0.010, abs=1e-12)
    assert float(rim_height(RIM.stations(), ROOF, seated, 0.010, -0.004, ("rear", "front"))) == pytest.approx(0.014)


@pytest.mark.parametrize(
    ("written", "verdict"), [(0.014, Verdict.HOLDS), (0.016, Verdict.FAILS), (0.004, Verdict.FAILS)]
)
def test_a_rim_height_in_the_file_may_be_a_little_off(written: float, verdict: Verdict) -> None:
    judged = judge_rim_height(np.array([0.010]), written)
    assert judged.rule is RIM_HEIGHT
    assert check(judged).verdict is verdict
