"""Cutting from bars: kerf, several bars, bars at hand, what does not fit, and what is said when time runs out."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.errors import Bug
from loftwright.core.fitting_views import CutPiece, CutPlan, StockBar
from loftwright.plan.stock_cutting import cut_from_stock
from loftwright.plan.stock_patterns import dearest_pattern, every_pattern, fitted


def cut(lengths: list[float], *stock: StockBar, kerf: float = 0.0, **more: float) -> CutPlan:
    pieces = [CutPiece(f"p{i}", length) for i, length in enumerate(lengths)]
    return cut_from_stock(pieces, stock, kerf, **more)  # type: ignore[arg-type]


def test_the_saw_cuts_between_pieces_only() -> None:
    """Exact case: two pieces and one cut fill a bar; a hair more takes a second bar."""
    full = cut([1.498, 1.498], StockBar(3.0), kerf=0.004)
    assert (len(full.bars), full.bars[0].offcut) == (1, 0.0)
    assert len(cut([1.498, 1.499], StockBar(3.0), kerf=0.004).bars) == 2
    rest = cut([1.0, 1.0], StockBar(3.0), kerf=0.004).bars[0].offcut
    assert rest == pytest.approx(3.0 - 2.0 - 2 * 0.004)


def test_least_metres_then_fewest_bars() -> None:
    plan = cut([2.9, 2.0, 1.0, 1.0], StockBar(3.0), StockBar(6.0))
    assert (plan.measure, plan.spent, plan.length, len(plan.bars)) == ("metres", 9.0, 9.0, 2)
    assert plan.proved
    assert plan.said == "No other way of cutting takes less."


def test_a_dear_bar_is_left_alone() -> None:
    assert cut([1.0] * 4, StockBar(4.0, 50.0), StockBar(2.0, 10.0)).spent == 20.0
    assert cut([1.0] * 4, StockBar(4.0, 15.0), StockBar(2.0, 10.0)).spent == 15.0


def test_bars_at_hand_go_first_and_can_run_out() -> None:
    at_hand = StockBar(2.0, 0.0, at_most=1)
    plan = cut([1.0, 1.0, 1.0], at_hand, StockBar(3.0, 12.0))
    assert plan.spent == 12.0
    short = cut([2.9, 2.0, 1.0], StockBar(3.0, 4.0, at_most=1), StockBar(2.0, 9.0, at_most=1))
    # One must be left; the shortest is.
    assert [piece.length for piece in short.short_of] == [1.0]
    assert not short.proved
    assert "do not suffice" in short.said


def test_what_no_bar_holds_is_named() -> None:
    plan = cut([3.1, 1.0], StockBar(3.0))
    assert [piece.label for piece in plan.too_long] == ["p0"]
    assert [piece.label for bar in plan.bars for piece in bar.pieces] == ["p1"]
    none = cut([], StockBar(3.0))
    assert (none.bars, none.said, none.waste) == ((), "There is nothing to cut.", 0.0)


def awkward() -> list[float]:
    """Return pieces of a seeded draw of which first fit makes a bar more than the least."""
    rng = np.random.default_rng(46)
    return [float(mm) / 1000 for mm in rng.integers(300, 1100, 17)]


def test_without_time_first_fit_stands_with_its_bound() -> None:
    plan = cut(awkward(), StockBar(3.0), kerf=0.003, time_limit=0.0, most_patterns=1)
    assert sum(len(bar.pieces) for bar in plan.bars) == 17
    assert (plan.spent, plan.least, plan.proved) == (15.0, pytest.approx(12.0), False)
    assert plan.said == "This is the best way found; another could save at most 20.0 %."


def test_more_patterns_are_listed_where_the_answer_stays_open() -> None:
    plan = cut(awkward(), StockBar(3.0), kerf=0.003, most_patterns=600)
    assert (plan.spent, plan.proved) == (12.0, True)


def test_ends_and_labels_come_back() -> None:
    mitred = CutPiece("front rail", 1.2, (0.0, np.pi / 4))
    plan = cut_from_stock([mitred], [StockBar(3.0)], 0.003)
    assert plan.bars[0].pieces == (mitred,)


@pytest.mark.parametrize(("length", "bar", "kerf"), [(0.0, 3.0, 0.0), (1.0, -1.0, 0.0), (1.0, 3.0, -0.1)])
def test_what_is_no_length_is_our_mistake(length: float, bar: float, kerf: float) -> None:
    with pytest.raises(Bug):
        cut([length], StockBar(bar), kerf=kerf)


def test_patterns_that_nothing_can_be_added_to() -> None:
    """Exact case: bars of 10 with 6, 4 and 3."""
    assert every_pattern([6, 4, 3], [2, 2, 2], 10, 50) == [(1, 1, 0), (1, 0, 1), (0, 2, 0), (0, 1, 2)]
    assert every_pattern([6, 4, 3], [2, 2, 2], 10, 3) is None


def test_the_pattern_worth_most() -> None:
    value, pattern = dearest_pattern([6, 4, 3], [2, 2, 3], 10, np.array([6.0, 4.1, 3.0]))
    assert (value, pattern) == (pytest.approx(10.1), (1, 1, 0))
    # Bounded: only two pieces of size 3.
    assert dearest_pattern([3], [2], 10, np.array([1.0])) == (2.0, (2,))


def test_first_fit_takes_the_first_bar_with_room() -> None:
    assert fitted([6, 4], [0, 0, 1, 1], [10]) == [(0, [0, 1]), (0, [0, 1])]
