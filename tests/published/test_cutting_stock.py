"""The least number of bars on published cases of cutting and packing.

Sources: the paper-roll example of public encyclopaedia pages on the cutting-stock problem (5600 mm, 13 orders,
73 rolls, 0.401 % waste; orders and answer read in a public reproduction); the roll of 100 with orders of 45, 36, 31
and 14 that goes with Gilmore and Gomory's method in text books (relaxed 452.25, whole 453; orders and both figures
read in a public reproduction); OR-Library, binpack1, u120_00 after Falkenauer (150, 120 pieces, 48 bins; sizes and
answer read in a public test file that quotes them, the answer also in a public table of results).

Laminate and nuts: the batch of a public laminating hand-out (6 kg of glass at 30 %, 20 kg, 14 kg; read in a public
reproduction); heights of nuts of ISO 4032 (read in a public reproduction).
"""

from __future__ import annotations

import pytest

from loftwright.core.fitting_views import CutPiece, CutPlan, StockBar
from loftwright.plan.laminate_list import batch
from loftwright.plan.stock_cutting import cut_from_stock
from loftwright.reference.bolts import BOLTS
from loftwright.reference.consumables import NUT_HEIGHTS

ROLLS = {
    1380: 22,
    1520: 25,
    1560: 12,
    1710: 14,
    1820: 18,
    1880: 18,
    1930: 20,
    2000: 10,
    2050: 12,
    2100: 14,
    2140: 16,
    2150: 18,
    2200: 20,
}
FOUR = {45: 97, 36: 610, 31: 395, 14: 211}
# fmt: off
U120_00 = (
    42, 69, 67, 57, 93, 90, 38, 36, 45, 42, 33, 79, 27, 57, 44, 84, 86, 92, 46, 38, 85, 33, 82, 73,
    49, 70, 59, 23, 57, 72, 74, 69, 33, 42, 28, 46, 30, 64, 29, 74, 41, 49, 55, 98, 80, 32, 25, 38,
    82, 30, 35, 39, 57, 84, 62, 50, 55, 27, 30, 36, 20, 78, 47, 26, 45, 41, 58, 98, 91, 96, 73, 84,
    37, 93, 91, 43, 73, 85, 81, 79, 71, 80, 76, 83, 41, 78, 70, 23, 42, 87, 43, 84, 60, 55, 49, 78,
    73, 62, 36, 44, 94, 69, 32, 96, 70, 84, 58, 78, 25, 80, 58, 66, 83, 24, 98, 60, 42, 43, 43, 39,
)
# fmt: on


def plan_of(orders: dict[int, int], bar: int, most_patterns: int = 4000) -> CutPlan:
    pieces = [CutPiece(f"{mm}", mm / 1000) for mm, count in orders.items() for _ in range(count)]
    return cut_from_stock(pieces, [StockBar(bar / 1000)], 0.0, most_patterns=most_patterns)


@pytest.mark.parametrize("most_patterns", [400, 10], ids=["all patterns listed", "patterns made one by one"])
def test_paper_rolls(most_patterns: int) -> None:
    plan = plan_of(ROLLS, 5600, most_patterns)
    assert sum(mm * count for mm, count in ROLLS.items()) == 407_160
    assert (len(plan.bars), plan.proved) == (73, True)
    assert 100 * plan.waste == pytest.approx(0.401, abs=0.0005)


@pytest.mark.parametrize("most_patterns", [400, 1], ids=["all patterns listed", "patterns made one by one"])
def test_four_widths(most_patterns: int) -> None:
    plan = plan_of(FOUR, 100, most_patterns)
    assert (len(plan.bars), plan.proved) == (453, True)
    assert plan.least == pytest.approx(45.3)


def test_packing_of_the_public_library() -> None:
    assert len(U120_00) == 120
    plan = plan_of({size: U120_00.count(size) for size in U120_00}, 150)
    assert (len(plan.bars), plan.proved) == (48, True)


def test_a_batch_of_resin() -> None:
    found = batch(6.0, 1.0, 0.30)
    assert (float(found.laminate), float(found.resin)) == pytest.approx((20.0, 14.0))


@pytest.mark.parametrize(("name", "height"), [("M4", 3.2), ("M5", 4.7), ("M6", 5.2), ("M8", 6.8), ("M10", 8.4)])
def test_heights_of_nuts(name: str, height: float) -> None:
    assert NUT_HEIGHTS[name][0] * 1000 == pytest.approx(height)
    assert NUT_HEIGHTS[name][1] > NUT_HEIGHTS[name][0]


def test_every_bolt_has_its_nut() -> None:
    assert set(NUT_HEIGHTS) == set(BOLTS)
