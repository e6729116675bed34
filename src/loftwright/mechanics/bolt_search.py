"""Search for the bolt points of two lifting arms a side that are at hand (`bolt_points`)."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields
from typing import Final

import numpy as np

from loftwright.core.motion import Array
from loftwright.mechanics.bolt_points import GOOD_GAP, Linkages, Wanted, bounds, graded, in_zone, met, moved, placed
from loftwright.mechanics.four_bar import FourBar

Clear = Callable[[FourBar, Array, Array], Array]
"""Least gap over what is wanted [m], [n], of n linkages with their arm a's swing [rad] and sense [1], each [n]."""

APART: Final = 0.03
"""Answers of which every pivot lies within this distance [m] count as one: judgement."""
SAME: Final = 0.002
"""The same after each was improved [m]."""


@dataclass(frozen=True, slots=True)
class Sifted:
    """How many candidates were left after each question [1], and the most room that one had over what is wanted [m].

    `nearest` is minus infinity where none was looked at.
    """

    tried: int
    reach: int
    in_zone: int
    move: int
    grip: int
    clear: int
    nearest: float


@dataclass(frozen=True, slots=True)
class Answers:
    """The best linkages, best first, different ones only, and how many candidates were left after each question."""

    best: Linkages
    sifted: Sifted


def even_spread(count: int, low: Array, high: Array) -> Array:
    """Return `count` places spread evenly between `low` and `high` [rad, m, m, m, m, m], each [6], as [count, 6].

    (1) u_n = frac(1/2 + n g), g_j = x^-j with x the real root of x^(d+1) = x + 1 over the d coordinates that are
    free. Source: additive recurrence with a generalised golden ratio (M. Roberts, 2018; from memory).
    """
    free = np.flatnonzero(high > low)
    ratio = 2.0
    for _ in range(60):
        ratio = (1.0 + ratio) ** (1.0 / (free.size + 1))
    step = ratio ** -np.arange(1.0, free.size + 1)
    shares = np.zeros((count if free.size else 1, low.size))
    shares[:, free] = np.mod(0.5 + np.arange(1, shares.shape[0] + 1)[:, None] * step, 1.0)
    return low + shares * (high - low)


_SIDES: Final = np.array([[1.0, 1.0], [1.0, -1.0], [-1.0, 1.0], [-1.0, -1.0]])


def _apart(found: Linkages, keep: int, distance: float) -> Linkages:
    """Return the best `keep` of graded linkages of which some pivot lies more than `distance` [m] from the others'."""
    order = np.argsort(-found.grade, kind="stable")
    pins = np.stack(found.pins, axis=-1)[order]
    chosen: list[int] = []
    left = np.ones(order.size, dtype=np.bool_)
    while left.any() and len(chosen) < keep:
        first = int(np.argmax(left))
        chosen.append(first)
        left &= np.abs(pins - pins[first]).max(axis=-1) > distance
        left[first] = False
    return found.pick(order[chosen])


def _none(wanted: Wanted, clear: Clear | None) -> Clear:
    return clear if clear is not None else lambda bar, opens, sense: np.full(opens.size, GOOD_GAP)


_QUESTIONS: Final = ("reach", "in_zone", "move", "grip", "clear")


def _counts() -> dict[str, float]:
    return {**dict.fromkeys(_QUESTIONS, 0.0), "nearest": -np.inf}


def _judged(wanted: Wanted, free: Array, sides: Array, clear: Clear, counts: dict[str, float]) -> Linkages:
    """Return the candidates that do all that is wanted, graded, counting what is left after each question."""
    free, fits = met(wanted, free, sides)
    pins, reach = placed(wanted, free, sides)
    counts["reach"] += int((reach & fits).sum())
    there = reach & fits & in_zone(wanted, pins)
    counts["in_zone"] += int(there.sum())
    found, goes = moved(wanted, free[there], sides[there])
    found = found.pick(goes)
    counts["move"] += len(found)
    found = found.pick(found.grip >= wanted.grip)
    counts["grip"] += len(found)
    # Many starts that meet distances on plates end in one and the same linkage.
    same = np.round(np.stack(found.pins, axis=-1) / SAME)
    found = found.pick(np.sort(np.unique(same, axis=0, return_index=True)[1]))
    if len(found) > MOST_CLEARED:
        plain = graded(found, wanted, np.full(len(found), GOOD_GAP))
        found = found.pick(np.argsort(-plain.grade, kind="stable")[:MOST_CLEARED])
    gap = clear(found.bar(), found.opens, found.sense) if len(found) else np.zeros(0)
    found = graded(found, wanted, gap)
    if len(found):
        counts["nearest"] = max(counts["nearest"], float(gap.max()))
    found = found.pick(found.gap >= 0.0)
    counts["clear"] += len(found)
    return found


MOST_CLEARED: Final = 1200
"""At most so many candidates, the best by their movement, are looked at for room."""
NEIGHBOURS: Final = 60
"""Places tried round an answer in one round of improving it."""


def _improved(found: Linkages, wanted: Wanted, clear: Clear, rounds: int) -> Linkages:
    """Return every answer moved to the best of its neighbours, round by round in half the distance."""
    low, high = bounds(wanted)
    wide = high - low
    if not (wide > 0).any():
        return found
    shares = even_spread(NEIGHBOURS, -np.ones(6), np.ones(6))
    n, reach = len(found), 0.15
    for _ in range(rounds):
        tried = np.clip(found.free[:, None, :] + reach * wide * shares, low, high)
        whose = np.repeat(np.arange(n), NEIGHBOURS)
        counts = _counts()
        free, sides = tried.reshape(-1, 6), found.sides[whose]
        # The neighbours' owner rides along in the sides.
        marked = np.concatenate([sides, whose[:, None].astype(np.float64)], axis=-1)
        near = _judged(wanted, free, marked, clear, counts)
        best = np.arange(n)
        grade = found.grade.copy()
        for i, owner in enumerate(near.sides[:, 2].astype(int)):
            if near.grade[i] > grade[owner]:
                grade[owner], best[owner] = near.grade[i], n + i
        near = _with(near, sides=near.sides[:, :2])
        found = _joined(found, near).pick(best)
        reach /= 2
    return found


def _with(found: Linkages, **changes: Array) -> Linkages:
    return Linkages(**({f.name: getattr(found, f.name) for f in fields(found)} | changes))


def _joined(one: Linkages, two: Linkages) -> Linkages:
    arrays = {
        f.name: np.concatenate([getattr(one, f.name), getattr(two, f.name)]) for f in fields(one) if f.name != "pins"
    }
    return Linkages(pins=tuple(np.concatenate(pair) for pair in zip(one.pins, two.pins, strict=True)), **arrays)


def bolt_points(
    wanted: Wanted, *, clear: Clear | None = None, tried: int = 60_000, keep: int = 6, rounds: int = 4
) -> Answers:
    """Return where the arms at hand may be bolted, best first, each answer different from those before it.

    wanted: lengths [m], zones [m], rise [m], tilt [rad] and what else is asked; clear: least gap over what is wanted
    [m] of many linkages, left out: nothing comes near. tried: places tried [1]; keep: most answers [1]; rounds: rounds
    of improving [1]. Deterministic. No answer is an empty list; `sifted` then tells after which question none was
    left. Source: derivation; two exact positions by perpendicular bisectors.
    """
    room = _none(wanted, clear)
    low, high = bounds(wanted)
    # Distances to be met cost a dozen steps each, and every start that meets them is an answer of its own.
    many = tried if wanted.van_plate is None and wanted.shell_plate is None else max(tried // 6, 1)
    starts = even_spread(many, low, high)
    free = np.repeat(starts, 4, axis=0)
    sides = np.tile(_SIDES, (starts.shape[0], 1))
    counts = _counts()
    # Where distances on plates leave no freedom, every answer stands alone, however near another.
    asked = int(wanted.van_plate is not None) + int(wanted.shell_plate is not None)
    distance = APART if int((high > low).sum()) > asked else SAME
    found = _apart(_judged(wanted, free, sides, room, counts), keep, distance)
    found = _apart(_improved(found, wanted, room, rounds), keep, SAME) if len(found) else found
    reach, in_zone, move, grip, clears = (int(counts[name]) for name in _QUESTIONS)
    return Answers(found, Sifted(free.shape[0], reach, in_zone, move, grip, clears, counts["nearest"]))
