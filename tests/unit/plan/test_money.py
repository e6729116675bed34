"""Planned, spent and left. Exact constructed sums; the band of 95 against published sums and seeded draws."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.errors import Bug
from loftwright.core.fitting_views import Part, PartRow
from loftwright.plan.money import accounts, band, money_of
from loftwright.plan.parts import line_of

SEAL = line_of(Part("seal", "rim seal", "seal", 7.4, "m", 0.05))
BOLTS = line_of(Part("bolts", "bolts", "fasteners", 90, "pieces", 0.0, 50.0))
HINGES = line_of(Part("hinges", "hinges", "hinges", 2, "pieces"))


def test_nothing_bought_is_all_left() -> None:
    rows = [PartRow("seal", "", 0, "m", (3.0, 5.0)), PartRow("bolts", "", 0, "pieces", (0.2, 0.2))]
    money = money_of(accounts([SEAL, BOLTS, HINGES], rows), "EUR")
    # 8 m of seal, two boxes of bolts.
    assert (money.planned.low, money.planned.high) == pytest.approx((24 + 20, 40 + 20))
    assert (money.spent.high, money.left, money.currency) == (0.0, money.planned, "EUR")
    assert money.unpriced == ("hinges",)
    assert [one.group for one in money.groups] == ["fasteners", "seal"]


def test_what_is_bought_is_spent_and_what_lay_there_is_free() -> None:
    rows = [
        PartRow("seal", "", 0, "m", (4.0, 4.0), bought=5.0),
        PartRow("bolts", "", 0, "pieces", (0.2, 0.2), bought=0.0, have=60.0),
        PartRow("hinges", "", 0, "pieces", None, have=2.0),
    ]
    found = {one.id: one for one in accounts([SEAL, BOLTS, HINGES], rows)}
    # 7.77 m are needed: 2.77 are lacking, sold by the metre; 30 bolts are lacking: a box.
    assert (found["seal"].spent, found["seal"].left) == (5.0, 3.0)
    assert (found["bolts"].spent, found["bolts"].left) == (0.0, 50.0)
    money = money_of(tuple(found.values()), "EUR")
    assert (money.spent.low, money.left.low, money.planned.low) == pytest.approx((20.0, 22.0, 42.0))
    # The hinges are there: they need no price.
    assert money.unpriced == ()
    for group in money.groups:
        assert group.planned.middle == pytest.approx(group.spent.middle + group.left.middle)
    assert sum(group.planned.low for group in money.groups) == pytest.approx(money.planned.low)


def test_the_builders_own_parts_count() -> None:
    own = PartRow("tarpaulin", "tarpaulin", 1, "pieces", (30.0, 40.0), bought=1.0)
    money = money_of(accounts([SEAL], [own]), "GBP")
    assert (money.spent.low, money.spent.high, money.unpriced) == (30.0, 40.0, ("rim seal",))


def test_sum_of_four_rectangular_inputs() -> None:
    """JCGM 101:2008, 9.2.3: four inputs of sd 1; 95 % is +- 3.88, by the normal form +- 3.92 (both read)."""
    root = np.sqrt(3.0)
    found = band(np.ones(4), np.full(4, 10 - root), np.full(4, 10 + root))
    half = (found.likely[1] - found.likely[0]) / 2
    assert half == pytest.approx(3.92, abs=0.005)
    shares = np.random.default_rng(5).random((40_000, 4))
    drawn = np.sum(10 - root + shares * 2 * root, axis=-1)
    assert np.quantile(np.abs(drawn - 40), 0.95) == pytest.approx(3.88, abs=0.05)
    assert found.middle == pytest.approx(40.0)


def test_band_lies_within_its_ends() -> None:
    one = band([1.0], [10.0], [20.0])
    # Half-width 1.96 x 10 / sqrt(12) = 5.658 would reach over the ends.
    assert one.likely == (10.0, 20.0)
    assert band([], [], []).likely == (0.0, 0.0)
    for bad in (([1.0], [-1.0], [2.0]), ([1.0], [3.0], [2.0]), ([float("nan")], [1.0], [2.0])):
        with pytest.raises(Bug):
            band(*bad)
