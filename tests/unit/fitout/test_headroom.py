"""Headroom over the floor plan: exact constructed rooms, each rule on both sides of its limit."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.checks import Verdict
from loftwright.fitout import headroom
from loftwright.fitout.headroom_rules import AREA_SMALL, SIT_UP, SITTING_LOW, WALK_SHORT, sits_up, stands, walks

X = (np.arange(48) + 0.5) * 0.05
Y = (np.arange(28) + 0.5) * 0.05 - 0.7


def opened(tilt: list[float]) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    """Return the room under a flat shell over a whole van of 2.4 by 1.4 m, the roof 1.5 m above the floor."""
    rows = np.array(tilt)
    under = X[None, None, :] * np.tan(rows)[:, None, None]
    return headroom.room_over(headroom.ceiling(X, Y, under, 0.0, 2.4, 1.4), -1.5)


def test_outside_the_opening_the_roof_is_the_ceiling() -> None:
    under = np.full((2, 3, 4), 0.8)
    found = headroom.ceiling([-0.5, 0.5, 1.5, 2.5], [-0.8, 0.0, 0.8], under, -0.03, [2.0, 1.0], 1.2)
    np.testing.assert_allclose(found[0, 1], [-0.03, 0.8, 0.8, -0.03])
    np.testing.assert_allclose(found[1, 1], [-0.03, 0.8, -0.03, -0.03])
    np.testing.assert_allclose(found[:, [0, 2]], -0.03)


def test_area_under_a_wedge() -> None:
    """Exact: 1.9 m is reached where x tan(phi) = 0.4; half a cell of error at the edge."""
    room = opened([0.2, 0.3])
    exact = 1.4 * (2.4 - 0.4 / np.tan([0.2, 0.3]))
    np.testing.assert_allclose(headroom.standing_area(room, 1.9, 0.05, 0.05), exact, atol=1.4 * 0.025 + 1e-9)
    # A row may want its own height.
    own = headroom.standing_area(room, np.array([1.9, 5.0]), 0.05, 0.05)
    assert own[0] > 0
    assert own[1] == 0


def test_furniture_takes_floor() -> None:
    blocked = np.zeros((28, 48), dtype=bool)
    blocked[:14] = True
    room = opened([0.3])
    half = headroom.standing_area(room, 1.9, 0.05, 0.05, blocked)
    np.testing.assert_allclose(half, headroom.standing_area(room, 1.9, 0.05, 0.05) / 2)


def test_the_longest_walk() -> None:
    room = np.full((2, 6, 10), 2.0)
    room[0, :, 7] = 1.0
    room[1, 2, :] = 1.0
    found = headroom.longest_walk(room, 1.9, 0.1, 0.2, body_width=0.6)
    # Row 0: a low beam across at 0.7 m. Row 1: a low beam along leaves three cells of 0.2 m on one side.
    np.testing.assert_allclose(found.along, [0.7, 1.0])
    np.testing.assert_allclose(found.across, [1.2, 0.6])
    assert headroom.longest_walk(room, 1.9, 0.1, 0.2, body_width=2.0).along.max() == 0


def test_more_people_stand_under_a_higher_roof() -> None:
    low, high = headroom.who_stands(1.80), headroom.who_stands(1.90)
    assert low.men < high.men
    assert low.women < high.women
    assert np.all(headroom.who_stands([1.7, 1.9]).women > headroom.who_stands([1.7, 1.9]).men)
    assert headroom.who_stands(1.9, hat=0.025).men < headroom.who_stands(1.9).men


def test_floor_to_stand_on() -> None:
    found = stands(headroom.standing_area(opened([0.30, 0.17]), 1.9, 0.05, 0.05), 0.5)
    assert found.value is not None
    assert [AREA_SMALL.judge(float(v), 0.5).verdict for v in found.value] == [Verdict.HOLDS, Verdict.FAILS]


def test_floor_to_walk_on() -> None:
    found = walks(headroom.longest_walk(opened([0.30, 0.17]), 1.9, 0.05, 0.05))
    assert found.value is not None
    assert found.limit is not None
    pairs = zip(found.value, found.limit, strict=True)
    assert [WALK_SHORT.judge(float(v), float(k)).verdict for v, k in pairs] == [Verdict.HOLDS, Verdict.FAILS]


def test_sitting_up_in_bed() -> None:
    assert pytest.approx(0.977, abs=1e-6) == SIT_UP
    found = sits_up([1.12, 1.00], 0.10)
    assert found.value is not None
    assert [SITTING_LOW.judge(float(v), SIT_UP).verdict for v in found.value] == [Verdict.HOLDS, Verdict.FAILS]
