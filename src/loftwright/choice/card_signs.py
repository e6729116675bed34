"""Readings in the form in which lines of a tuning card are found: numbers of limits, and sums over all conditions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.choice.card import Ints
from loftwright.core.motion import Array, Flags

LIMITS: Final = 12
"""Most limits that are tried for one reading at one hole: rounded quantiles."""


@dataclass(frozen=True, slots=True)
class Asked:
    """One thing that is read or seen at each hole: limits on the card are multiples of `step`, in the reading's unit.

    `step` 0: yes or no, given as 1 and 0. `cuts`: the only limits allowed, instead of a step (cool, mild, warm).
    """

    name: str
    step: float = 0.0
    cuts: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Signs:
    """Readings as numbers of limits that they are over: `place` [readings, holes, draws], `span` + 1 where not taken.

    `limits` [readings, holes, span]: nan beyond the last. `cell` [pairs, holes, draws]: both places of a pair in one.
    """

    place: Ints
    limits: Array
    span: int
    pairs: Ints
    cell: Ints

    def fits(self, hole: int, conditions: tuple[tuple[int, bool, int], ...]) -> Flags:
        """Return where conditions (reading, over, number of the limit) hold at a hole [draws]."""
        good = np.ones(self.place.shape[2], dtype=bool)
        for reading, over, number in conditions:
            place = self.place[reading, hole]
            good &= (place > number) & (place <= self.span) if over else place <= number
        return good


def signs_of(readings: Array, asked: tuple[Asked, ...]) -> Signs:
    """Return the numbers of limits that `readings` [1, readings x holes x draws] are over, in the units of `asked`."""
    number, holes, _ = readings.shape
    found = [[_limits(readings[r, h], asked[r]) for h in range(holes)] for r in range(number)]
    span = max(1, max(cut.size for row in found for cut in row))
    limits = np.full((number, holes, span), np.nan)
    place = np.empty(readings.shape, dtype=np.intp)
    for r in range(number):
        for h in range(holes):
            limits[r, h, : found[r][h].size] = found[r][h]
            place[r, h] = np.searchsorted(found[r][h], readings[r, h], side="left")
    place[np.isnan(readings)] = span + 1
    pairs = np.array([(i, j) for i in range(number) for j in range(i + 1, number)], dtype=np.intp).reshape(-1, 2)
    cell = place[pairs[:, 0]] * (span + 2) + place[pairs[:, 1]]
    return Signs(place, limits, span, pairs, cell + (np.arange(len(pairs)) * (span + 2) ** 2)[:, None, None])


def _limits(values: Array, asked: Asked) -> Array:
    """Return the limits that a card may name for these readings, rising."""
    if asked.cuts:
        return np.array(sorted(asked.cuts))
    if asked.step <= 0:
        return np.array([0.5])
    seen = values[np.isfinite(values)]
    if seen.size == 0:
        return np.empty(0)
    even = np.quantile(seen, (np.arange(LIMITS) + 0.5) / LIMITS)
    return np.unique(np.round(even / asked.step)) * asked.step


Found = tuple[int, float, tuple[tuple[int, bool, int], ...]]
"""Number of place and hole, gain, and conditions (reading, over, number of the limit)."""


def histogram(cell: Ints, delta: Array, side: int) -> Array:
    """Return sums of `delta` [1, cases x rows] by `cell` [groups, rows], `side` cells each: [cases, groups, side]."""
    groups = len(cell)
    flat = cell.ravel()
    sums = [
        np.bincount(flat, np.tile(one, groups), groups * side) if one.any() else np.zeros(groups * side)
        for one in delta
    ]
    return np.asarray(np.array(sums).reshape(len(delta), groups, side))


def best_single(sums: Array, known: Flags) -> list[Found]:
    """Return the best condition on one reading of every case; `sums` [1, cases x readings x cells]."""
    below = np.cumsum(sums[..., :-1], axis=-1)
    gain = np.stack([below[..., :-1], below[..., -1:] - below[..., :-1]])
    gain = np.where(known, gain, -np.inf).transpose(1, 0, 2, 3)
    found: list[Found] = []
    for case, at in enumerate(gain.reshape(len(gain), -1).argmax(axis=1)):
        over, reading, number = (int(i) for i in np.unravel_index(at, gain.shape[1:]))
        found.append((case, float(gain[case, over, reading, number]), ((reading, bool(over), number),)))
    return found


def best_double(sums: Array, known: Flags, pairs: Ints) -> list[Found]:
    """Return the best two conditions of every case; `sums` [1, cases x pairs x cells x cells]."""
    below = np.cumsum(np.cumsum(sums[..., :-1, :-1], axis=-1), axis=-2)
    low_low, low, all_low = below[..., :-1, :-1], below[..., :-1, -1:], below[..., -1:, :-1]
    every = below[..., -1:, -1:]
    gain = np.stack([low_low, low - low_low, all_low - low_low, every - low - all_low + low_low])
    both = known[pairs[:, 0]][:, :, None] & known[pairs[:, 1]][:, None, :]
    gain = np.where(both, gain, -np.inf).transpose(1, 0, 2, 3, 4)
    found: list[Found] = []
    for case, at in enumerate(gain.reshape(len(gain), -1).argmax(axis=1)):
        way, pair, one, two = (int(i) for i in np.unravel_index(at, gain.shape[1:]))
        first, second = (int(i) for i in pairs[pair])
        conditions = ((first, way >= 2, one), (second, way % 2 == 1, two))
        found.append((case, float(gain[case, way, pair, one, two]), conditions))
    return found
