"""Patterns of cutting: how many pieces of each length go into one bar, in whole steps of length.

A bar of length L holds pieces l_i with cuts of width k between them when

    sum l_i + (n - 1) k <= L,   that is   sum (l_i + k) <= L + k                                 (1)

so each piece is widened by one kerf and the bar too. Sizes and capacities here are these sums in steps of `STEP`.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loftwright.core.motion import Array

STEP: Final = 1e-4
"""Lengths are reckoned in steps of a tenth of a millimetre [m]: pieces rounded up, bars down."""

Pattern = tuple[int, ...]
Counts = NDArray[np.int64]


def every_pattern(sizes: Sequence[int], wanted: Sequence[int], capacity: int, most: int) -> list[Pattern] | None:
    """Return every pattern that nothing can be added to, None if there are more than `most`.

    `sizes` in falling order and `capacity` in steps; `wanted` pieces of each size are the most that a pattern holds.
    """
    found: list[Pattern] = []
    kinds = len(sizes)
    # One entry: counts so far, room left.
    stack: list[tuple[Pattern, int]] = [((), capacity)]
    visited = 0
    while stack:
        counts, room = stack.pop()
        visited += 1
        if visited > 40 * most:
            return None
        at = len(counts)
        if at == kinds:
            full = all(n == w or size > room for n, w, size in zip(counts, wanted, sizes, strict=True))
            if full and any(counts):
                found.append(counts)
                if len(found) > most:
                    return None
            continue
        stack += [((*counts, n), room - n * sizes[at]) for n in range(min(wanted[at], room // sizes[at]) + 1)]
    return sorted(found, reverse=True)


def dearest_pattern(sizes: Sequence[int], wanted: Sequence[int], capacity: int, worth: Array) -> tuple[float, Pattern]:
    """Return the pattern worth most, and what it is worth, by dynamic programming over the room left.

    `worth` [1, price or m] of one piece of each size, [kinds]; `sizes` and `capacity` in steps; `wanted` bounds counts.
    Source: Gilmore and Gomory, A Linear Programming Approach to the Cutting-Stock Problem, 1961 (method from memory).
    """
    copies = [
        i for i, size in enumerate(sizes) if worth[i] > 1e-12 for _ in range(min(wanted[i], capacity // max(size, 1)))
    ]
    best = np.zeros(capacity + 1)
    taken = np.zeros((len(copies), capacity + 1), dtype=np.bool_)
    for row, i in enumerate(copies):
        size = sizes[i]
        tried = best[: capacity + 1 - size] + worth[i]
        taken[row, size:] = tried > best[size:] + 1e-12
        best[size:] = np.where(taken[row, size:], tried, best[size:])
    counts = [0] * len(sizes)
    room = capacity
    for row in range(len(copies) - 1, -1, -1):
        if taken[row, room]:
            counts[copies[row]] += 1
            room -= sizes[copies[row]]
    return float(best[capacity]), tuple(counts)


def fitted(sizes: Sequence[int], order: Sequence[int], capacities: Sequence[int]) -> list[tuple[int, list[int]]]:
    """Return bars (which capacity, kinds of the pieces) by first fit in the `order` of kinds given.

    `sizes` and `capacities` in steps; a new bar is of the first capacity in the list that holds the piece.
    """
    bars: list[tuple[int, list[int]]] = []
    room: list[int] = []
    for kind in order:
        place = next((b for b, left in enumerate(room) if sizes[kind] <= left), None)
        if place is None:
            bar = next(s for s, capacity in enumerate(capacities) if sizes[kind] <= capacity)
            bars.append((bar, []))
            room.append(capacities[bar])
            place = len(bars) - 1
        bars[place][1].append(kind)
        room[place] -= sizes[kind]
    return bars
