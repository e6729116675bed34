"""Cutting lengths from stock: the longest first, each from the first bar that still has room for it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from loftwright.core.errors import Bug
from loftwright.core.trial_frame import Bar
from loftwright.reference.timber import HANDY

KERF = 0.004
"""What a saw takes away at each cut [m]: a hand saw or circular saw; common practice, no source."""


def first_fit(lengths: Sequence[tuple[str, float]], stock: float, thick: float, deep: float) -> tuple[Bar, ...]:
    """Return bars of one stock length, packed by first fit with the longest piece first.

    `lengths` (mark, length) [m], `stock` [m], section `thick` x `deep` [m]. Every piece is charged one kerf, also the
    last of a bar. Not the least possible number of bars: first fit decreasing takes at most 11/9 of it and 6/9 of a bar
    more. Source: Dosa, The tight bound of first fit decreasing bin-packing, 2007 (from memory).
    """
    if any(length > stock for _, length in lengths):
        raise Bug(f"a piece is longer than the stock of {stock} m")
    room: list[float] = []
    cuts: list[list[tuple[str, float]]] = []
    for mark, length in sorted(lengths, key=lambda piece: (-piece[1], piece[0])):
        place = next((i for i, left in enumerate(room) if length <= left + 1e-9), None)
        if place is None:
            room.append(stock)
            cuts.append([])
            place = len(room) - 1
        cuts[place].append((mark, length))
        room[place] -= length + KERF
    return tuple(Bar(thick, deep, stock, tuple(made), max(left, 0.0)) for left, made in zip(room, cuts, strict=True))


def packed(lengths: Sequence[tuple[str, float]], stocks: Iterable[float], thick: float, deep: float) -> tuple[Bar, ...]:
    """Return bars of that one stock length [m] which needs the least timber.

    `lengths` (mark, length) [m], `stocks` sold [m], section `thick` x `deep` [m]. Stocks hard to carry are left
    out where shorter ones will do; a piece longer than any stock is ordered to length.
    """
    longest = max(length for _, length in lengths)
    fit = [stock for stock in sorted(stocks) if stock >= longest] or [longest]
    tried = [first_fit(lengths, stock, thick, deep) for stock in fit if stock <= HANDY or stock == fit[0]]
    return min(tried, key=lambda bars: (round(sum(bar.length for bar in bars), 6), len(bars)))
