"""Rules of the parts, on both sides of each limit. Exact constructed cases."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.checks import Check, Verdict
from loftwright.core.fitting_views import CutPiece, Part, PartRow, StockBar
from loftwright.core.judged import Judged
from loftwright.plan.money import accounts, money_of
from loftwright.plan.part_rules import NOT_HERE, TOO_DEAR, TOO_LONG, judge_cutting, judge_parts, not_here
from loftwright.plan.parts import line_of
from loftwright.plan.stock_cutting import cut_from_stock

LINES = (
    line_of(Part("hinges", "hinges", "hinges", 2, "pieces")),
    line_of(Part("bolts", "bolts", "fasteners", 20, "pieces", 0.05)),
    line_of(Part("lining", "lining", "lining", 4, "m2", before_cut=False)),
)


def rows(hinges: float, bolts: float) -> list[PartRow]:
    return [
        PartRow("hinges", "", 2, "pieces", (30.0, 50.0), bought=2.0, have=hinges),
        PartRow("bolts", "", 20, "pieces", (0.5, 0.5), bought=21.0, have=bolts),
        PartRow("lining", "", 4, "m2", (10.0, 15.0)),
    ]


def first(found: Judged) -> Check:
    assert found.value is not None
    assert found.limit is not None
    return found.rule.judge(float(found.value[0]), float(found.limit[0]), part=found.which)


def judged(given: list[PartRow], budget: float | None = 300.0, unpriced: tuple[str, ...] = ()) -> tuple[Judged, ...]:
    found = accounts(LINES, given)
    return judge_parts(LINES, found, money_of(found, "EUR").planned.middle, budget, unpriced)


def test_all_in_the_garage() -> None:
    # Spares and lining may still be on their way.
    check = first(judged(rows(2, 20))[0])
    assert (check.rule, check.verdict) == (NOT_HERE, Verdict.HOLDS)


def test_ordered_is_not_there() -> None:
    check = first(judged(rows(0, 20))[0])
    assert check.verdict is Verdict.FAILS
    assert (check.value, check.part) == (1.0, "hinges")
    assert not_here(LINES, accounts(LINES, rows(1, 19))) == ("hinges", "bolts")
    assert not_here(LINES, accounts(LINES, [])) == ("hinges", "bolts")


def test_many_missing_parts_are_counted() -> None:
    many = tuple(line_of(Part(f"p{i}", f"part {i}", "brace", 1, "pieces")) for i in range(5))
    (found,) = judge_parts(many, accounts(many, []), [0.0, 0.0], None)
    assert found.which == "part 0, part 1, part 2 and 2 more"
    assert found.value is not None
    assert found.value.tolist() == [5.0, 5.0]


@pytest.mark.parametrize(("budget", "verdict"), [(150.0, Verdict.HOLDS), (130.0, Verdict.FAILS)])
def test_planned_against_the_money_set_aside(budget: float, verdict: Verdict) -> None:
    # 2 x 40 + 21 x 0.5 + 4 x 12.5 = 140.5
    check = first(judged(rows(2, 20), budget)[1])
    assert check.rule is TOO_DEAR
    assert check.value == pytest.approx(140.5 / budget)
    assert check.verdict is verdict


def test_without_prices_the_budget_is_open_unless_it_is_gone() -> None:
    open_, gone = (judged(rows(2, 20), budget, ("winch",))[1] for budget in (1000.0, 100.0))
    assert (open_.value, open_.unknown) == (None, "the price of winch")
    assert first(gone).verdict is Verdict.FAILS
    assert len(judged(rows(2, 20), None)) == 1


def test_rows_are_kept() -> None:
    found = judge_parts(LINES, accounts(LINES, []), np.array([90.0, 110.0]), 100.0)[1]
    assert found.value is not None
    assert found.value.tolist() == pytest.approx([0.9, 1.1])


@pytest.mark.parametrize(("length", "verdict"), [(2.9, Verdict.HOLDS), (3.2, Verdict.FAILS)])
def test_a_piece_longer_than_any_bar(length: float, verdict: Verdict) -> None:
    stock = [StockBar(3.0), StockBar(2.0)]
    plan = cut_from_stock([CutPiece("rail", length), CutPiece("end", 1.0)], stock, 0.003)
    (found,) = judge_cutting(plan, stock, "L 40x40x4", rows=3)
    assert found.value is not None
    assert found.value.shape == (3,)
    assert (found.rule, first(found).verdict) == (TOO_LONG, verdict)
