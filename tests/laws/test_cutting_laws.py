"""What holds for every way of cutting; and the least against all ways there are, on small cases (second way)."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
import pytest

from loftwright.core.fitting_views import CutPiece, CutPlan, StockBar
from loftwright.plan.cutting import KERF, first_fit
from loftwright.plan.stock_cutting import cut_from_stock

SEEDS = range(8)


def pieces_of(seed: int, count: int = 14) -> list[CutPiece]:
    rng = np.random.default_rng(seed)
    return [CutPiece(f"p{i}", float(mm) / 1000) for i, mm in enumerate(rng.integers(150, 1900, count))]


def held(plan: CutPlan) -> list[str]:
    return sorted(piece.label for bar in plan.bars for piece in bar.pieces)


@pytest.mark.parametrize("seed", SEEDS)
def test_every_piece_is_cut_once_and_every_bar_closes(seed: int) -> None:
    pieces = pieces_of(seed)
    kerf = 0.003
    plan = cut_from_stock(pieces, [StockBar(3.0), StockBar(2.4)], kerf)
    assert held(plan) == sorted(piece.label for piece in pieces)
    for bar in plan.bars:
        cuts = len(bar.pieces) - 1 + (bar.offcut > 0)
        whole = sum(piece.length for piece in bar.pieces) + cuts * kerf + bar.offcut
        # A rest thinner than the blade goes into dust.
        assert bar.stock.length - kerf - 1e-9 <= whole <= bar.stock.length + 1e-9


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("kerf", [0.0, 0.004])
def test_no_plan_beats_the_length_bound_or_loses_to_first_fit(seed: int, kerf: float) -> None:
    pieces = pieces_of(seed)
    plan = cut_from_stock(pieces, [StockBar(3.0)], kerf)
    # Each bar holds at most its length and one blade of pieces, each longer by a blade.
    total = sum(piece.length + kerf for piece in pieces)
    assert len(plan.bars) >= math.ceil(total / (3.0 + kerf) - 1e-9)
    assert plan.spent >= 3.0 * math.ceil(total / (3.0 + kerf) - 1e-9) - 1e-9
    assert plan.least <= plan.spent + 1e-9
    if kerf == KERF:
        frame = first_fit([(piece.label, piece.length) for piece in pieces], 3.0, 0.045, 0.095)
        assert len(plan.bars) <= len(frame)


@pytest.mark.parametrize("seed", range(4))
def test_more_kinds_of_bar_never_cost_more_and_a_wider_saw_never_less(seed: int) -> None:
    pieces = pieces_of(seed)
    one = cut_from_stock(pieces, [StockBar(3.0)], 0.003)
    both = cut_from_stock(pieces, [StockBar(3.0), StockBar(2.0)], 0.003)
    thin = cut_from_stock(pieces, [StockBar(3.0)], 0.0)
    assert both.spent <= one.spent + 1e-9
    assert thin.spent <= one.spent + 1e-9


@pytest.mark.parametrize("seed", range(3))
def test_order_and_scale_do_not_matter(seed: int) -> None:
    pieces = pieces_of(seed)
    plan = cut_from_stock(pieces, [StockBar(3.0)], 0.003)
    turned = cut_from_stock(pieces[::-1], [StockBar(3.0)], 0.003)
    double = cut_from_stock([CutPiece(p.label, 2 * p.length) for p in pieces], [StockBar(6.0)], 0.006)
    assert len(plan.bars) == len(turned.bars) == len(double.bars)


def sharings(count: int) -> Iterator[list[list[int]]]:
    """Yield every way to share things out into heaps."""
    if count == 0:
        yield []
        return
    for rest in sharings(count - 1):
        for i in range(len(rest)):
            yield [*rest[:i], [*rest[i], count - 1], *rest[i + 1 :]]
        yield [*rest, [count - 1]]


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize("most_patterns", [4000, 2])
def test_least_money_against_every_way_there_is(seed: int, most_patterns: int) -> None:
    """Second way: all 877 ways to share seven pieces out among bars, each bar the cheapest that holds its pieces."""
    pieces = pieces_of(seed + 50, 7)
    stock = [StockBar(3.0, 11.0), StockBar(2.0, 8.0), StockBar(4.0, 16.0)]
    kerf = 0.004

    def price(heap: list[int]) -> float:
        need = sum(pieces[i].length for i in heap) + (len(heap) - 1) * kerf
        return min((float(bar.price or 0) for bar in stock if need <= bar.length + 1e-9), default=math.inf)

    least = min(sum(map(price, heaps)) for heaps in sharings(len(pieces)))
    plan = cut_from_stock(pieces, stock, kerf, most_patterns=most_patterns)
    assert plan.measure == "money"
    assert plan.least - 1e-6 <= least <= plan.spent + 1e-6
    if plan.proved:
        assert plan.spent == pytest.approx(least)
    assert plan.proved or most_patterns == 2
