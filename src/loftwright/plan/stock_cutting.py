"""Cutting pieces from bars as they are sold, with the least money or the least length bought.

The programme stands in `stock_programme`, the patterns in `stock_patterns`.
"""

from __future__ import annotations

import math
import time
from collections.abc import Sequence
from typing import Final, Literal

from loftwright.core.errors import Bug
from loftwright.core.fitting_views import CutBar, CutPiece, CutPlan, StockBar
from loftwright.plan.stock_patterns import STEP
from loftwright.plan.stock_programme import Column, Task, solved

MOST_PATTERNS: Final = 4000
"""Up to so many patterns all are listed."""
TIME_LIMIT: Final = 5.0
"""After so long [s] the best that was found is taken."""
_PER_BAR: Final = 1e-5
_SHORT: Final = 1e3


def cut_from_stock(
    pieces: Sequence[CutPiece],
    stock: Sequence[StockBar],
    kerf: float,
    *,
    time_limit: float = TIME_LIMIT,
    most_patterns: int = MOST_PATTERNS,
) -> CutPlan:
    """Return how to cut the `pieces` from bars of `stock`, with a saw `kerf` [m] wide between pieces.

    Money is made least where every bar has a price, else the length bought and then the number of bars.

    Parameters
    ----------
    pieces: with their lengths over the longest edge [m]; slanted ends are not nested into one another.
    stock: bars sold or at hand, with lengths [m].
    kerf: what the saw takes away at each cut [m], 0 or more.
    time_limit: after which the best found so far is taken [s].
    most_patterns: above which patterns are made one by one, and only if that leaves it open are more listed [1].

    Returns
    -------
    `CutPlan`. Pieces that no bar holds are in `too_long`, those that too few bars are left for in `short_of`.

    Errors: Bug for a length or kerf that is none.
    """
    _sound(pieces, stock, kerf)
    longest = max((bar.length for bar in stock), default=0.0)
    fit = [piece for piece in pieces if _up(piece.length) <= _down(longest)]
    too_long = tuple(piece for piece in pieces if _up(piece.length) > _down(longest))
    measure: Literal["money", "metres"] = "money" if all(bar.price is not None for bar in stock) else "metres"
    if not fit:
        return CutPlan((), kerf, measure, 0.0, 0.0, True, "There is nothing to cut.", too_long)
    lengths = sorted({_up(piece.length) for piece in fit}, reverse=True)
    task = _task(lengths, fit, stock, _up(kerf), measure)
    columns, bound, proved = solved(task, time.monotonic() + time_limit, most_patterns)
    bars, left = _bars(columns, lengths, fit, stock, kerf)
    spent = sum(_paid(bar.stock, measure) for bar in bars)
    if left:
        bound, proved = 0.0, False
    least = spent if proved else min(spent, bound)
    return CutPlan(bars, kerf, measure, spent, least, proved, _said(spent, least, proved, left), too_long, left)


def _sound(pieces: Sequence[CutPiece], stock: Sequence[StockBar], kerf: float) -> None:
    numbers = [piece.length for piece in pieces] + [bar.length for bar in stock]
    if not all(math.isfinite(n) and n > 0 for n in numbers) or not (math.isfinite(kerf) and kerf >= 0):
        raise Bug(f"lengths {numbers} and kerf {kerf} must be lengths")


def _up(length: float) -> int:
    return math.ceil(length / STEP - 1e-6)


def _down(length: float) -> int:
    return math.floor(length / STEP + 1e-6)


def _paid(bar: StockBar, measure: str) -> float:
    return float(bar.price or 0.0) if measure == "money" else bar.length


def _task(lengths: Sequence[int], fit: Sequence[CutPiece], stock: Sequence[StockBar], kerf: int, measure: str) -> Task:
    sizes = [length + kerf for length in lengths]
    capacities = [_down(bar.length) + kerf for bar in stock]
    common = math.gcd(*sizes, *capacities)
    found = [_up(piece.length) for piece in fit]
    per_bar = _PER_BAR if measure == "metres" else 0.0
    cost = [_paid(bar, measure) + per_bar for bar in stock]
    return Task(
        tuple(size // common for size in sizes),
        tuple(found.count(length) for length in lengths),
        tuple(capacity // common for capacity in capacities),
        tuple(bar.at_most for bar in stock),
        tuple(cost),
        _SHORT * (max(cost) or 1.0),
        per_bar,
        _grain([_paid(bar, measure) for bar in stock]),
    )


def _grain(costs: Sequence[float]) -> float:
    """Return the greatest common measure of costs to a ten-thousandth, 0 where there is none."""
    whole = [round(cost / STEP) for cost in costs]
    if all(abs(n * STEP - cost) < 1e-9 for n, cost in zip(whole, costs, strict=True)):
        return math.gcd(*whole) * STEP
    return costs[0] if len(costs) == 1 else 0.0


def _bars(
    columns: Sequence[Column], lengths: Sequence[int], fit: Sequence[CutPiece], stock: Sequence[StockBar], kerf: float
) -> tuple[tuple[CutBar, ...], tuple[CutPiece, ...]]:
    """Return the bars with their pieces, longest bars first, and the pieces that are left uncut."""
    waiting = {length: [piece for piece in fit if _up(piece.length) == length] for length in lengths}
    order = sorted(columns, key=lambda column: (-stock[column[0]].length, tuple(-n for n in column[1])))
    bars = []
    for bar, pattern in order:
        held: list[CutPiece] = []
        for length, n in zip(lengths, pattern, strict=True):
            # A pattern may hold more than is wanted.
            held += waiting[length][:n]
            waiting[length] = waiting[length][n:]
        if held:
            rest = stock[bar].length - sum(piece.length for piece in held) - (len(held) - 1) * kerf
            bars.append(CutBar(stock[bar], tuple(held), max(0.0, rest - kerf) if rest > 1e-9 else 0.0))
    return tuple(bars), tuple(piece for length in lengths for piece in waiting[length])


def _said(spent: float, least: float, proved: bool, left: Sequence[CutPiece]) -> str:
    if left:
        return f"The bars at hand do not suffice: {len(left)} pieces are left uncut."
    if proved:
        return "No other way of cutting takes less."
    share = 100.0 * (1.0 - least / spent) if spent > 0 else 0.0
    return f"This is the best way found; another could save at most {share:.1f} %."
