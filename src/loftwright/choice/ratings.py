"""Which forces of a list to order together for the same mounts, so that it is likeliest that one works.

Springs of different rating come from different batches: given the roof, each works or not by itself,

    odds = 1 - mean over draws of product over ordered forces of (1 - chance[force, draw]).      (1)
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from math import comb
from typing import Final

import numpy as np

from loftwright.core.errors import Bug
from loftwright.core.motion import Array

EXHAUSTIVE: Final = 200_000
"""How many sets of forces are all tried; beyond that the best is found step by step."""


@dataclass(frozen=True, slots=True)
class Order:
    """Forces to order together, by their places in the list, rising.

    `odds` [1]: that at least one works; `each` [1]: every one alone; `first`: the one to fit first. `proven`: all sets
    were tried. `per_draw` [1, draws]: the odds in each draw, to compare with another plan.
    """

    forces: tuple[int, ...]
    first: int
    odds: float
    each: tuple[float, ...]
    per_draw: Array
    proven: bool


@dataclass(frozen=True, slots=True)
class Versus:
    """Two plans on the same draws: odds of both [1], their difference `gain` [1] and its standard error [1]."""

    plan: float
    other: float
    gain: float
    error: float

    @property
    def clear(self) -> bool:
        """Whether one of the two is better beyond two standard errors."""
        return abs(self.gain) > 2.0 * self.error


def odds_of(chance: Array, forces: tuple[int, ...]) -> float:
    """Return the odds that at least one of `forces` works [1], after (1).

    `chance` [1, forces x draws]: that a spring of this rating works in this draw.
    """
    return float(1.0 - (1.0 - chance[list(forces)]).prod(axis=0).mean())


def choose_ratings(chance: Array, most: int, claim: Array | None = None) -> Order:
    """Return the `most` forces whose odds together are best, after (1), fewer where there are fewer.

    All sets are tried up to `EXHAUSTIVE` of them; beyond, forces are added one by one and exchanged until no
    exchange is better. Bug when nothing is to be ordered.

    `chance` [1, forces x draws]: that a spring of this rating works in this draw, its own delivered force averaged.
    `claim` [1, forces x other draws]: fresh draws on which the chosen set is judged.
    """
    count = min(most, chance.shape[0])
    if count < 1:
        raise Bug("no force to order")
    miss = 1.0 - chance
    proven = comb(chance.shape[0], count) <= EXHAUSTIVE
    forces = tuple(sorted(_all_tried(miss, count) if proven else _exchanged(miss, count)))
    there = chance if claim is None else claim
    each = there[list(forces)].mean(axis=1)
    per_draw = 1.0 - (1.0 - there[list(forces)]).prod(axis=0)
    first = forces[int(np.argmax(chance[list(forces)].mean(axis=1)))]
    return Order(forces, first, float(per_draw.mean()), tuple(float(e) for e in each), per_draw, proven)


def compare(plan: Array, other: Array) -> Versus:
    """Return how two plans compare on the same draws: gain = mean(plan - other) (2), error by their differences.

    `plan`, `other` [1, draws]: chance that the plan ends well in this draw, or whether it does.
    """
    a, b = np.asarray(plan, dtype=float), np.asarray(other, dtype=float)
    return Versus(float(a.mean()), float(b.mean()), float((a - b).mean()), float((a - b).std() / np.sqrt(a.size)))


def _judged(order: Order, claim: Array) -> Order:
    each = claim[list(order.forces)].mean(axis=1)
    per_draw = 1.0 - (1.0 - claim[list(order.forces)]).prod(axis=0)
    return Order(
        order.forces, order.first, float(per_draw.mean()), tuple(float(e) for e in each), per_draw, order.proven
    )


def _all_tried(miss: Array, count: int) -> tuple[int, ...]:
    """Return the set with the least mean product of misses; its last two members come from one matrix product."""
    if count == 1:
        return (int(np.argmin(miss.mean(axis=1))),)
    size = miss.shape[0]
    best, found = np.inf, tuple(range(count))
    for head in combinations(range(size - 2), count - 2):
        first = head[-1] + 1 if head else 0
        rest = miss[first:]
        both = (rest * miss[list(head)].prod(axis=0)) @ rest.T
        both[np.tril_indices(both.shape[0])] = np.inf
        at = int(np.argmin(both))
        if both.flat[at] < best:
            i, j = divmod(at, both.shape[1])
            best, found = float(both.flat[at]), (*head, first + i, first + j)
    return found


def _exchanged(miss: Array, count: int) -> tuple[int, ...]:
    """Return a set that no exchange of one force betters, from greedy adding."""
    held: list[int] = []

    def best_added(others: list[int]) -> tuple[int, float]:
        left = miss @ miss[others].prod(axis=0) if others else miss.sum(axis=1)
        left[others] = np.inf
        at = int(np.argmin(left))
        return at, float(left[at])

    while len(held) < count:
        held.append(best_added(held)[0])
    now, better = float(miss[held].prod(axis=0).sum()), True
    while better:
        better = False
        for force in list(held):
            others = [h for h in held if h != force]
            at, left = best_added(others)
            if left < now - 1e-12 * miss.shape[1]:
                held, now, better = [*others, at], left, True
    return tuple(held)
