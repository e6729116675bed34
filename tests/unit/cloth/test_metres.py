"""Metres to buy. Roll widths: 60 inches is 1524 mm (computed from the inch); the rest is constructed."""

from __future__ import annotations

import pytest

from loftwright.cloth.laying import lay
from loftwright.cloth.laying_shapes import RollPiece, area, narrowest
from loftwright.cloth.metres import (
    alternatives,
    judge_metres,
    judge_roll,
    length_to_buy,
    metres_of,
    split,
    split_to_fit,
)
from loftwright.cloth.roll_rules import LEFT_OVER
from loftwright.core.checks import Check, Verdict
from loftwright.core.judged import Judged

STRIPS = (RollPiece("wall", ((0.0, 0.0), (1.8, 0.0), (1.8, 0.6), (0.0, 0.6)), 7, "nap"),)


def check(judged: Judged) -> Check:
    assert judged.value is not None
    assert judged.limit is not None
    return judged.rule.judge(float(judged.value), float(judged.limit))


def test_seven_panels_on_a_sixty_inch_roll() -> None:
    """Two lie side by side, so four lengths: 4 x 1.8 = 7.2 m, with ends 0.05 and test strip 0.5 m: 7.8 m."""
    laid = lay(STRIPS, 60 * 0.0254, clearance=0.0, library=False)
    found = metres_of(laid, price=12.0)
    assert found.buy == 7.8
    assert found.price == pytest.approx(93.6)
    assert found.waste == pytest.approx(1.0 - 7 * 1.8 * 0.6 / (7.8 * 1.524))


@pytest.mark.parametrize(("laid", "buy"), [(3.20, 3.8), (3.25, 3.8), (3.2501, 3.9), (0.0, 0.6)])
def test_rounded_up(laid: float, buy: float) -> None:
    assert length_to_buy(laid) == buy


def test_a_split_wall_keeps_its_cloth() -> None:
    wall = RollPiece("left", ((0.0, 0.0), (2.0, 0.1), (2.0, 0.7), (0.0, 0.5)))
    parts = split(wall, 2, 0.02)
    assert [part.number for part in parts] == ["lefta", "leftb"]
    # Both parts hold the 40 mm about the new seam, where the wall is 0.5 m high on average.
    extra = sum(area(part.points) for part in parts) - area(wall.points)
    assert extra == pytest.approx(0.04 * 0.55, rel=1e-9)


def test_up_the_wall_is_split_until_it_fits() -> None:
    parts = split_to_fit(STRIPS, 1.0, 0.02)
    assert len(parts) == 2
    # Half of 1.8 m and the allowance at the one new seam.
    assert [narrowest(part) for part in parts] == pytest.approx([0.92, 0.92])


def test_what_another_way_saves() -> None:
    along, upward, wider, narrow = alternatives(STRIPS, 1.524, widths=(1.9, 0.5), clearance=0.0)
    assert (along.buy, along.saved) == (7.8, 0.0)
    # 0.6 m each up the roll, two panels of 0.92 m for each wall, none side by side: 14 x 0.6 m.
    assert "7 more seams" in upward.name
    assert upward.buy == length_to_buy(14 * 0.6)
    # Three across 1.9 m: three lengths.
    assert wider.saved == pytest.approx(7.8 - length_to_buy(3 * 1.8))
    assert narrow.buy is None


def test_width_of_the_roll() -> None:
    (fits,), (too_narrow,) = judge_roll(STRIPS, 0.7), judge_roll(STRIPS, 0.5)
    assert check(fits).verdict is Verdict.HOLDS
    assert check(too_narrow).verdict is Verdict.FAILS


def test_what_is_left_over() -> None:
    used = judge_metres(metres_of(lay(STRIPS, 1.524, clearance=0.0, library=False)))
    assert check(used).verdict is Verdict.HOLDS
    # The value is what is left over, and so are both titles.
    assert "in no piece" in LEFT_OVER.title
    assert "in no piece" in LEFT_OVER.promise
    unlucky = judge_metres(metres_of(lay(STRIPS, 1.19, clearance=0.0, library=False), roll=1.22))
    assert check(unlucky).verdict is Verdict.FAILS
