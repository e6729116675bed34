"""Odds as a bar: exact constructed cases."""

from __future__ import annotations

import pytest

from loftwright.drawing.odds_bar import odds_bar
from loftwright.drawing.page import Line, Polygon


def wide(marks: tuple[object, ...], pen: str) -> list[float]:
    """Return how wide the closed shapes of a pen are [mm]."""
    return [m.points[1][0] - m.points[0][0] for m in marks if isinstance(m, Polygon) and m.pen == pen]


@pytest.mark.parametrize("odds", [1, 37, 100])
def test_black_is_to_the_whole_as_the_odds_to_100(odds: int) -> None:
    marks = odds_bar(odds).marks
    (black,), (whole,) = wide(marks, "start-hole"), wide(marks, "outline")
    assert black / whole == pytest.approx(odds / 100)


def test_what_a_measurement_adds_is_hatched_beside_the_black() -> None:
    marks = odds_bar(60, 78).marks
    (black,), (added,), (whole,) = (wide(marks, pen) for pen in ("start-hole", "marker", "outline"))
    assert (black / whole, added / whole) == pytest.approx((0.6, 0.18))
    assert any(isinstance(mark, Line) and mark.pen == "marker" for mark in marks)


def test_no_odds_leave_it_empty_and_a_loss_hatches_nothing() -> None:
    assert wide(odds_bar(0).marks, "start-hole") == []
    assert wide(odds_bar(40, 40).marks, "marker") == []
