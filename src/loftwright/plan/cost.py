"""What it costs, as a band: counts of parts times the low and high prices of a dated table."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from loftwright.core.errors import Bug, Fault, ProjectFault


@dataclass(frozen=True, slots=True)
class Price:
    """Price of one part: `low` to `high` in `currency` per `unit`, `dated` by year and month, on what `basis`."""

    part: str
    unit: str
    low: float
    high: float
    currency: str
    dated: str
    basis: str


@dataclass(frozen=True, slots=True)
class CostRow:
    """One part of the sum: how many, and what they cost together."""

    part: str
    count: float
    unit: str
    low: float
    high: float
    basis: str


@dataclass(frozen=True, slots=True)
class CostBand:
    """What all parts cost together, dearest row first.

    `dated` is the oldest date among the prices used, so that the band is no fresher than its stalest price;
    `unpriced` names the parts that no price was found for and that are therefore missing from the sum.
    """

    low: float
    high: float
    currency: str
    dated: str
    rows: tuple[CostRow, ...]
    unpriced: tuple[str, ...]


def cost_band(counts: Mapping[str, float], prices: Mapping[str, Price]) -> CostBand:
    """Return the cost of `counts` parts [1] at `prices`.

        low = sum n_i low_i,   high = sum n_i high_i                                             (1)

    Parameters
    ----------
    counts: how many of each part, in the unit of its price; parts with none are left out of the rows.
    prices: by part.

    Returns
    -------
    `CostBand`; without any priced part it is 0 to 0 with an empty currency and date.

    Errors: ProjectFault when the prices used are in more than one currency.
    Validity: both ends are reached only if every part is cheap or every part is dear, so the band is wide.
    """
    rows, unpriced, used = [], [], []
    for part, count in counts.items():
        if not (math.isfinite(count) and count >= 0):
            raise Bug(f"{count} of {part} is no count")
        if count == 0:
            continue
        price = prices.get(part)
        if price is None:
            unpriced.append(part)
            continue
        used.append(price)
        rows.append(CostRow(part, count, price.unit, count * price.low, count * price.high, price.basis))
    currencies = sorted({price.currency for price in used})
    if len(currencies) > 1:
        raise ProjectFault(
            [
                Fault(
                    "price table, currency",
                    " and ".join(currencies),
                    "all prices must be in one currency",
                    "convert the prices to one currency",
                )
            ]
        )
    rows.sort(key=lambda row: (-row.high, row.part))
    return CostBand(
        low=math.fsum(row.low for row in rows),
        high=math.fsum(row.high for row in rows),
        currency=currencies[0] if currencies else "",
        dated=min((price.dated for price in used), default=""),
        rows=tuple(rows),
        unpriced=tuple(unpriced),
    )
