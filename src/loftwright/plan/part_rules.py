"""What can go wrong with the parts: ordered but not there, dearer than the money, longer than the bars."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Rule, Source
from loftwright.core.fitting_views import CutPlan, PartLine, StockBar
from loftwright.core.judged import Judged
from loftwright.core.motion import array_of
from loftwright.plan.money import Account

_PRACTICE = Source("common-practice", "nothing is cut open that cannot be closed the same day", "common practice")
_OWN = Source("judgement", "a setting of the project file", "judgement")
_CUTTING = Source("derivation", "a piece fits the bar it is cut from", "derivation")

NOT_HERE: Final = Rule(
    "PARTS-2601",
    "A part that must be there before the cut is not there yet",
    "Every part that must be there before the cut is in the garage",
    "count",
    "at most",
    "Once the roof is cut the van stands open until the last of these parts is fitted.",
    "Wait with the cut until they lie in the garage and have been held against the van.",
    _PRACTICE,
)
TOO_DEAR: Final = Rule(
    "PARTS-2602",
    "The parts cost more than the money set aside",
    "The parts cost no more than the money set aside",
    "1",
    "at most",
    "A roof that stands open for want of money is worse than none.",
    "Set more aside, find cheaper parts, or leave out what the roof can do without, before you cut.",
    _OWN,
)
TOO_LONG: Final = Rule(
    "PARTS-2603",
    "A piece is longer than any bar that is sold",
    "Every piece can be cut from a bar that is sold",
    "m",
    "at most",
    "A piece that no bar holds must be joined or ordered to length, and a joint is a weak place.",
    "Order the bar to length, or plan a proper joint where the load is least.",
    _CUTTING,
)

NAMED: Final = 3
"""So many missing parts are named."""


def not_here(lines: Iterable[PartLine], found: Iterable[Account]) -> tuple[str, ...]:
    """Return the names of parts that must be there before the cut and do not lie in the garage, spares not counted."""
    here = {one.id: one.here for one in found}
    return tuple(
        line.part.name
        for line in lines
        if line.part.before_cut and here.get(line.part.id, 0.0) < line.part.quantity * (1 - 1e-9)
    )


def _names(names: Sequence[str]) -> str:
    more = len(names) - NAMED
    return ", ".join(names[:NAMED]) + (f" and {more} more" if more > 0 else "")


def judge_parts(
    lines: Sequence[PartLine],
    found: Sequence[Account],
    cost: ArrayLike,
    budget: ArrayLike | None,
    unpriced: Sequence[str] = (),
) -> tuple[Judged, ...]:
    """Return whether the parts are there and can be paid.

    Parameters
    ----------
    lines: the design's parts.
    found: the same in money, with what lies in the garage.
    cost: planned, of all that has a price [price], [rows].
    budget: money set aside [price], [...]; None where none is named: then it is not judged.
    unpriced: parts without a price; unless the others alone are too dear, they leave the budget open.
    """
    planned = np.atleast_1d(array_of(cost))
    missing = not_here(lines, found)
    count = np.full(planned.shape, float(len(missing)))
    judged = [Judged(NOT_HERE, count, np.zeros(planned.shape), _names(missing))]
    if budget is not None:
        most = array_of(budget)
        share = np.asarray(planned / np.maximum(most, 1e-9))
        limit = np.ones(share.shape)
        if unpriced and not np.all(share > 1.0):
            judged.append(Judged(TOO_DEAR, None, limit, unknown=f"the price of {_names(unpriced)}", missing="price"))
        else:
            judged.append(Judged(TOO_DEAR, share, limit))
    return tuple(judged)


def judge_cutting(plan: CutPlan, stock: Sequence[StockBar], which: str, rows: int = 1) -> tuple[Judged, ...]:
    """Return whether all pieces of a section, named by `which`, come out of the bars of `stock`, for so many rows [1].

    Compares the longest piece with the longest bar [m].
    """
    pieces = [*(piece for bar in plan.bars for piece in bar.pieces), *plan.too_long, *plan.short_of]
    longest = max((piece.length for piece in pieces), default=0.0)
    bar = max((one.length for one in stock), default=0.0)
    full = np.ones(rows)
    return (Judged(TOO_LONG, longest * full, bar * full, which),)
