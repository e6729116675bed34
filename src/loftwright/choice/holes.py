"""Which holes to drill in a bracket, so that it is likeliest that one of them works.

One spring is tried in one hole after another, so that a row works in a draw where any of its holes does:

    odds = mean over draws of max over holes of works[hole, draw].                              (1)

Choosing k sets that cover most is hard in general (maximum coverage). Along a line it is mostly easy: a roof that
is served by two holes is mostly served by the holes between them. Counting for every hole only those draws that
its neighbour in the row does not serve,

    covered <= served(h1) + sum over i of served(h_i and not h_(i-1)),                          (2)

with equality where the holes that serve a draw lie side by side. The right side is maximised exactly by dynamic
programming along the line; it bounds every row, and a branch-and-bound search over the left side closes the gap.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loftwright.core.errors import Bug
from loftwright.core.motion import Array, Flags

SLACK: Final = 1e-9
"""Rounding allowed when two holes are exactly as far apart as they must be [m]."""

Single = NDArray[np.float32]
"""Counts in matrix products: whole numbers up to 2^24 are exact in it."""


@dataclass(frozen=True, slots=True)
class Row:
    """A row of holes, by their places in the list of candidates, in order along the line.

    `start`: the hole likeliest to work alone, its odds `first` [1]. `odds` [1]: that at least one of the row works,
    with its standard error `error` [1]; `each` [1, holes]: every hole alone. All three are judged on the draws kept
    aside for it, if there were any. `learned` [1] are the odds on the draws that the row was chosen on, `bound` [1]
    what no row can exceed there.
    """

    holes: tuple[int, ...]
    start: int
    first: float
    odds: float
    error: float
    each: tuple[float, ...]
    learned: float
    bound: float

    @property
    def proven(self) -> bool:
        """Whether no other row is better on the draws that this one was chosen on."""
        return self.learned >= self.bound


def over_chances(low: Array, high: Array, delivered: Array) -> Flags:
    """Return where holes work [holes, draws x k], each draw taken with each of k delivered factors.

    works = low <= delivered <= high (3). One spring goes through all holes, so that its delivered factor must be one
    and the same in them: averaged hole by hole it would be lost. k factors of equal chance in each draw make the
    odds smoother than one drawn factor.

    `low`, `high` [1, holes x draws]: between which the delivered factor must lie. `delivered` [1, k]: quantiles.
    """
    fits = (low[..., None] <= delivered) & (delivered <= high[..., None])
    return np.asarray(fits.reshape(*low.shape[:-1], -1))


def choose_row(
    works: Flags,
    place: Array,
    spacing: float,
    most: int,
    keep: tuple[int, ...] = (),
    claim: Flags | None = None,
    nodes: int = 2000,
) -> Row:
    """Return the row of at most `most` holes that is likeliest to hold one that works, after (1).

    A hole is added only where it serves a draw that no other does. Without `nodes` enough the row is a local
    optimum (no hole can be exchanged for a better one) and `Row.proven` may be false. Bug when `keep` holds too
    many holes or two that stand too close.

    `works` [1, holes x draws]: whether a hole works, with the same spring in all. `place` [m, holes]: along the
    line; in any order. `spacing` [m]: least distance of two holes. `keep`: holes that the row must have.
    `claim` [1, holes x other draws]: fresh draws on which to judge the chosen row; without them its odds are a
    little too good, having been chosen as the best on these very draws.
    """
    if len(keep) > most or most < 1:
        raise Bug("a row needs room for the holes that are kept")
    kept = np.sort(place[list(keep)])
    if kept.size > 1 and np.diff(kept).min() < spacing - SLACK:
        raise Bug("two holes that are kept stand closer than the spacing")
    served = works[list(keep)].any(axis=0)
    free = np.flatnonzero((np.abs(place[:, None] - kept[None, :]) >= spacing - SLACK).all(axis=1))
    order = free[np.argsort(place[free], kind="stable")]
    picked, count, bound = _cover(works[order][:, ~served], place[order], spacing, most - len(keep), nodes)
    holes = np.array([*keep, *order[picked]], dtype=np.intp)
    if holes.size == 0:
        holes = np.array([int(np.argmax(works.mean(axis=1)))], dtype=np.intp)
    holes = holes[np.argsort(place[holes], kind="stable")]
    draws = works.shape[1]
    there = works if claim is None else claim
    each = there[holes].mean(axis=1)
    odds = float(there[holes].any(axis=0).mean())
    best = int(np.argmax(works[holes].mean(axis=1)))
    return Row(
        holes=tuple(int(h) for h in holes),
        start=int(holes[best]),
        first=float(each[best]),
        odds=odds,
        error=share_error(odds, there.shape[1]),
        each=tuple(float(e) for e in each),
        learned=float(served.sum() + count) / draws,
        bound=float(served.sum() + bound) / draws,
    )


def share_error(share: float, draws: int) -> float:
    """Return the standard error of a share found in that many draws [1]: sqrt(share (1 - share) / draws) (5).

    `share` [1]. One draw is counted as lost and one as won before, so that 0 and 1 are not held for certain.
    """
    fair = (share * draws + 1.0) / (draws + 2.0)
    return float(np.sqrt(fair * (1.0 - fair) / (draws + 2.0)))


def _cover(works: Flags, place: Array, spacing: float, most: int, nodes: int) -> tuple[list[int], int, int]:
    """Return holes in order of place that cover most draws, how many they cover, and the bound of (2)."""
    if most < 1 or works.shape[0] == 0:
        return [], 0, 0
    served = works.astype(np.float32)
    follow = np.searchsorted(place, place + (spacing - SLACK))
    follow = np.maximum(follow, np.arange(place.size) + 1)
    # only[i, j]: draws that j serves and i does not; tail[m, i]: the most that m further holes after i add to (2).
    count = served.sum(axis=1)
    only = count[None, :] - served @ served.T
    allowed = np.arange(place.size)[None, :] >= follow[:, None]
    tail = np.zeros((most, place.size), dtype=np.float32)
    for m in range(1, most):
        tail[m] = np.where(allowed, only + tail[m - 1][None, :], 0.0).max(axis=1)
    bound = min(int(np.max(count + tail[most - 1])), int(works.any(axis=0).sum()))
    near = ~(allowed | allowed.T)
    tries = [_improved(served, near, most, start) for start in ([], _along(count, only, allowed, tail, most))]
    value, holes = max(tries, key=lambda t: t[0])
    if value < bound and nodes > 0:
        value, holes, done = _branch(served, follow, tail, most, value, holes, nodes)
        bound = value if done else bound
    return sorted(holes), value, bound


def _along(count: Single, only: Single, allowed: Flags, tail: Single, most: int) -> list[int]:
    """Return the row that makes the right side of (2) greatest."""
    holes = [int(np.argmax(count + tail[most - 1]))]
    for m in range(most - 2, -1, -1):
        gain = np.where(allowed[holes[-1]], only[holes[-1]] + tail[m], 0.0)
        if gain.max() <= 0:
            break
        holes.append(int(np.argmax(gain)))
    return holes


def _improved(served: Single, near: Flags, most: int, start: list[int]) -> tuple[int, list[int]]:
    """Return a row after filling it up greedily and exchanging single holes until none is better."""
    holes = list(start)

    def best_added(others: list[int]) -> tuple[int, float]:
        open_still = np.ones(served.shape[1], np.float32) if not others else 1.0 - served[others].max(axis=0)
        gain = np.where(near[others].any(axis=0), -1.0, served @ open_still)
        at = int(np.argmax(gain))
        return at, float(gain[at])

    while True:
        while len(holes) < most:
            at, gain = best_added(holes)
            if gain <= 0:
                break
            holes.append(at)
        better = False
        for hole in list(holes):
            others = [h for h in holes if h != hole]
            at, gain = best_added(others)
            kept = float(served[holes].max(axis=0).sum() - (served[others].max(axis=0).sum() if others else 0.0))
            if gain > kept:
                holes, better = [*others, at], True
        if not better:
            return (int(served[holes].max(axis=0).sum()) if holes else 0), holes


def _branch(
    served: Single, follow: NDArray[np.intp], tail: Single, most: int, value: int, holes: list[int], nodes: int
) -> tuple[int, list[int], bool]:
    """Return the best row by branch and bound along the line, and whether the search came to its end."""
    best, left = (value, holes), nodes

    def visit(row: list[int], covered: int, open_still: Single, more: int) -> bool:
        nonlocal best, left
        if left <= 0:
            return False
        left -= 1
        first = int(follow[row[-1]]) if row else 0
        if first >= served.shape[0]:
            return True
        gain = served[first:] @ open_still
        if more == 1:
            at = int(np.argmax(gain))
            if covered + gain[at] > best[0]:
                best = (int(covered + gain[at]), [*row, first + at])
            return True
        # What further holes can add: never more than (2) allows, nor than the greatest single gains together.
        top = float(np.sort(gain)[-(more - 1) :].sum())
        upper = covered + gain + np.minimum(tail[more - 1][first:], top)
        done = True
        for at in np.argsort(-upper, kind="stable"):
            if upper[at] <= best[0]:
                break
            hole = first + int(at)
            reached = int(covered + gain[at])
            if reached > best[0]:
                best = (reached, [*row, hole])
            done = visit([*row, hole], reached, open_still * (1.0 - served[hole]), more - 1) and done
        return done

    done = visit([], 0, np.ones(served.shape[1], np.float32), most)
    return best[0], best[1], done
