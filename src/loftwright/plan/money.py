"""What it costs: planned, spent and left, by the builder's own prices, as bands.

A price is a range. Both ends of the sum are reached only if every price is at its end. Between them the prices are
taken as independent and even over their ranges: the band in which 95 of 100 such sums lie is about

    middle +- 1.96 sqrt( sum a_i^2 (high_i - low_i)^2 / 12 )                                     (1)

Source: JCGM 101:2008, 9.2: sums of rectangular inputs (tables read in public test suites); the normal form is a little
too wide for few parts, and is cut off at both ends. Dear shops are dear in everything: then the ends are nearer the
truth.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.errors import Bug
from loftwright.core.fitting_views import GROUPS, GroupMoney, Money, MoneyBand, PartGroup, PartLine, PartRow
from loftwright.core.motion import array_of
from loftwright.plan.parts import packs_for

COVER: Final = 1.959964
"""Half-width of 95 of 100 in standard deviations of a normal sum [1]."""
OWN_GROUP: Final[PartGroup] = "tools & protection"
"""Where parts stand that the builder added."""


@dataclass(frozen=True, slots=True)
class Account:
    """One part in money: `needed` in its unit, `spent` what was bought and `left` what is to be bought, in units.

    `price` of one unit, None where there is none; `here` is what lies in the garage.
    """

    id: str
    name: str
    group: PartGroup
    needed: float
    spent: float
    left: float
    here: float
    price: tuple[float, float] | None


def band(amounts: ArrayLike, low: ArrayLike, high: ArrayLike) -> MoneyBand:
    """Return the sum of `amounts` [1], [n], at prices from `low` to `high` [price], [n]; equation (1).

    Errors: Bug for a price below nought or a range upside down.

    >>> band([2.0, 1.0], [10.0, 5.0], [20.0, 5.0])
    MoneyBand(low=25.0, high=45.0, likely=(25.0, 45.0))
    """
    a, p, q = np.broadcast_arrays(array_of(amounts), array_of(low), array_of(high))
    if not (np.all(np.isfinite(a + p + q)) and np.all(p >= 0) and np.all(q >= p) and np.all(a >= 0)):
        raise Bug("amounts and prices must be ranges from nought up")
    least, most = math.fsum(np.ravel(a * p)), math.fsum(np.ravel(a * q))
    half = COVER * math.sqrt(math.fsum(np.ravel((a * (q - p)) ** 2)) / 12.0)
    middle = 0.5 * (least + most)
    return MoneyBand(least, most, (max(least, middle - half), min(most, middle + half)))


def accounts(lines: Iterable[PartLine], rows: Iterable[PartRow]) -> tuple[Account, ...]:
    """Return every part in money: the design's `lines` with the builder's `rows`, then parts of the builder's own.

        left = pack ceil( (needed - max(bought, here)) / pack )   where anything lacks, else 0   (2)

    What lies in the garage beyond what was bought was there before and costs nothing.
    """
    builder: Mapping[str, PartRow] = {row.id: row for row in rows}
    found = []
    known = set()
    for line in lines:
        part = line.part
        known.add(part.id)
        row = builder.get(part.id)
        bought, here, price = (row.bought, row.have, row.price) if row else (0.0, 0.0, None)
        lacking = max(0.0, line.needed - max(bought, here))
        left = packs_for(lacking, part.pack) * part.pack
        found.append(Account(part.id, part.name, part.group, line.needed, bought, left, here, price))
    for row in builder.values():
        if row.id not in known:
            left = max(0.0, row.quantity - max(row.bought, row.have))
            found.append(Account(row.id, row.name, OWN_GROUP, row.quantity, row.bought, left, row.have, row.price))
    return tuple(found)


def money_of(found: Sequence[Account], currency: str) -> Money:
    """Return what all accounts cost together and by group, in `currency`; those without a price are named.

    planned = spent + left, part by part; a part that costs nothing, spent or left, needs no price.
    """
    priced = [one for one in found if one.price is not None]
    return Money(
        currency,
        *_three(priced),
        groups=tuple(
            GroupMoney(group, *_three([one for one in priced if one.group == group]))
            for group in GROUPS
            if any(one.group == group for one in priced)
        ),
        unpriced=tuple(one.name for one in found if one.price is None and one.spent + one.left > 0),
    )


def _three(priced: Sequence[Account]) -> tuple[MoneyBand, MoneyBand, MoneyBand]:
    low = [one.price[0] for one in priced if one.price]
    high = [one.price[1] for one in priced if one.price]
    spent, left = np.array([one.spent for one in priced]), np.array([one.left for one in priced])
    return band(spent + left, low, high), band(spent, low, high), band(left, low, high)
