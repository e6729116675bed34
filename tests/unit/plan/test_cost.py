"""The cost band: exact constructed sums."""

from __future__ import annotations

import math

import pytest

from loftwright.core.errors import Bug, ProjectFault
from loftwright.plan.cost import Price, cost_band


def price(part: str, low: float, high: float, currency: str = "EUR", dated: str = "2026-11") -> Price:
    return Price(part, "piece", low, high, currency, dated, "judgement")


TABLE = {p.part: p for p in (price("hinge", 15, 90), price("seal", 3, 12, dated="2025-02"), price("latch", 8, 35))}


def test_counts_times_prices() -> None:
    band = cost_band({"hinge": 1, "seal": 7.5, "latch": 4}, TABLE)
    assert (band.low, band.high) == pytest.approx((15 + 22.5 + 32, 90 + 90 + 140))
    assert [row.part for row in band.rows] == ["latch", "hinge", "seal"]
    assert (band.rows[0].low, band.rows[0].high, band.rows[0].count) == (32, 140, 4)
    assert (band.currency, band.dated, band.unpriced) == ("EUR", "2025-02", ())


def test_nothing_needed_costs_nothing() -> None:
    band = cost_band({"seal": 0.0}, TABLE)
    assert (band.low, band.high, band.rows, band.currency, band.dated) == (0.0, 0.0, (), "", "")


def test_a_part_without_price_is_named_and_left_out() -> None:
    band = cost_band({"hinge": 1, "winch": 2, "crane": 0}, TABLE)
    assert band.unpriced == ("winch",)
    assert band.high == 90


def test_only_prices_in_use_count_for_date_and_currency() -> None:
    table = TABLE | {"prop": price("prop", 1, 2, "GBP", "2020-01")}
    assert cost_band({"hinge": 1}, table).dated == "2026-11"
    with pytest.raises(ProjectFault) as caught:
        cost_band({"hinge": 1, "prop": 1}, table)
    assert str(caught.value) == (
        "price table, currency is EUR and GBP: all prices must be in one currency; convert the prices to one currency."
    )


@pytest.mark.parametrize("count", [-1.0, math.nan, math.inf])
def test_a_count_that_is_none_is_a_bug(count: float) -> None:
    with pytest.raises(Bug):
        cost_band({"hinge": count}, TABLE)


def test_doubling_every_count_doubles_the_band() -> None:
    once, twice = cost_band({"hinge": 1, "seal": 4}, TABLE), cost_band({"hinge": 2, "seal": 8}, TABLE)
    assert (twice.low, twice.high) == (2 * once.low, 2 * once.high)
