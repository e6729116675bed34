"""What knowing something would add to the odds: the value of a reading before it is taken.

A reading splits the roofs that are still possible into groups; in each group the design that is best there is built:

    after = sum over groups s of share(s) max over designs a of mean(chance[a] in s),            (1)
    now   = max over designs a of mean(chance[a]).                                              (2)

after >= now on the same draws, exactly: the best design now is among those that each group chooses from. But the
greatest of many noisy means is too great. The gain that is told is therefore cross-fitted: each fold of the draws is
scored with the design that the other folds choose for its group, and so is (2). Groups are even quantiles of the
reading, about cube root of the draws of them; two readings split the draws like a k-d tree.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loftwright.core.motion import Array

FOLDS: Final = 5
"""Parts of the draws for cross-fitting."""
LEANING: Final = 4.0
"""How many draws of the mean over all groups are mixed into each group when it chooses: little data, little trust."""

Groups = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Learning:
    """What each of R readings, or sets of readings, would add; shares 0 .. 1.

    `now` [1]: best odds without any. `after` [1, readings]: best odds expected after it, from the cross-fitted gain,
    never below `now`. `plug_in` [1, readings]: after (1), too good by noise. `gain` [1, readings] = after - now,
    `error` [1, readings]: its standard error. `all_known` [1]: if everything were known, mean of the best in every
    draw. `best`: the design that is best now.
    """

    now: float
    best: int
    after: Array
    plug_in: Array
    gain: Array
    error: Array
    all_known: float

    def ranked(self, minutes: Array) -> NDArray[np.intp]:
        """Return the places of the readings, the greatest gain per minute first; without gain the quickest first.

        `minutes` [min, readings]: work to take each. A gain within one standard error of nothing counts as none.
        """
        per_minute = np.where(self.gain > self.error, self.gain, 0.0) / np.maximum(minutes, 1e-9)
        return np.lexsort((minutes, -per_minute))


def groups_of(reading: Array, count: int | None = None) -> Groups:
    """Return the group of every draw by each reading [readings, draws], 0 .. count - 1, in even quantiles.

    Equal readings share a group, so that yes and no are two groups at most. A reading that was not taken (nan)
    counts as greater than all others. `reading` [1, readings x draws], in whatever unit; `count`: about the cube
    root of the draws when left out.
    """
    values = np.atleast_2d(np.asarray(reading, dtype=float))
    draws = values.shape[1]
    count = _count(draws, 1) if count is None else count
    order = np.argsort(values, axis=1, kind="stable")
    inside = np.take_along_axis(values, order, axis=1)
    new = np.ones(values.shape, dtype=bool)
    new[:, 1:] = (inside[:, 1:] != inside[:, :-1]) & ~(np.isnan(inside[:, 1:]) & np.isnan(inside[:, :-1]))
    # Equal readings are put where the middle one of them stands.
    place = np.broadcast_to(np.arange(draws), values.shape)
    begin = np.maximum.accumulate(np.where(new, place, 0), axis=1)
    last = np.ones(values.shape, dtype=bool)
    last[:, :-1] = new[:, 1:]
    end = np.minimum.accumulate(np.where(last, place, draws)[:, ::-1], axis=1)[:, ::-1]
    found = np.empty(values.shape, dtype=np.intp)
    np.put_along_axis(found, order, (begin + end + 1) * count // (2 * draws), axis=1)
    return found


def groups_of_set(readings: Array, count: int | None = None) -> Groups:
    """Return the group of every draw by several readings together [draws]: split by the first, each part by the next.

    `readings` [1, readings in the set x draws]; `count`: parts for each reading, about draws^(1 / (2 + number)).
    """
    number, draws = readings.shape
    each = _count(draws, number) if count is None else count
    group = np.zeros(draws, dtype=np.intp)
    for reading in readings:
        parts = np.zeros(draws, dtype=np.intp)
        for at in np.unique(group):
            rows = np.flatnonzero(group == at)
            parts[rows] = groups_of(reading[rows], each)[0]
        group = group * each + parts
    return np.asarray(np.unique(group, return_inverse=True)[1], dtype=np.intp)


def learning(chance: Array, readings: Array, count: int | None = None) -> Learning:
    """Return what each reading would add to the best odds, after (1), (2), with the cross-fitted gain.

    `chance` [1, designs x draws]: that a design works in this draw. `readings` [1, readings x draws]: what would be
    read in it, the error of the instrument added, in whatever unit; the bare value of an input for perfect knowledge
    of it. `count`: groups, about the cube root of the draws when left out.
    """
    return learning_of_groups(chance, groups_of(readings, count))


def learning_of_sets(chance: Array, readings: Array, sets: tuple[tuple[int, ...], ...]) -> Learning:
    """Return what each set of readings, taken together, would add to the best odds.

    `chance` and `readings` [1] as for `learning`; `sets`: places of the readings that are taken together.
    """
    return learning_of_groups(chance, np.array([groups_of_set(readings[list(s)]) for s in sets]))


def learning_of_groups(chance: Array, groups: Groups) -> Learning:
    """Return what each way of grouping the draws would add to the best odds, after (1), (2).

    `chance` [1, designs x draws]; `groups` [1, readings x draws]: the group of every draw, from 0.
    """
    p = np.asarray(chance, dtype=float)
    draws = p.shape[1]
    size = int(groups.max()) + 1
    # Folds go round within each group, so that every fold holds its share of every group.
    order = np.argsort(groups, axis=1, kind="stable")
    fold = np.empty(groups.shape, dtype=np.intp)
    np.put_along_axis(fold, order, np.broadcast_to(np.arange(draws) % FOLDS, groups.shape), axis=1)
    overall = p.mean(axis=1)
    best = int(np.argmax(overall))
    now = float(overall[best])
    after, gain, error = [], [], []
    columns = np.ascontiguousarray(p.T)
    for group, part in zip(groups, fold, strict=True):
        sums, counts = _sums(columns, group * FOLDS + part, size)
        # Sums in another order differ in the last digit; the law holds exactly.
        after.append(min(max(float(sums.sum(axis=1).max(axis=1).sum()) / draws, now), 1.0))
        difference = _cross_fitted(p, group, part, sums, counts)
        gain.append(float(difference.mean()))
        error.append(float(difference.std() / np.sqrt(draws)))
    bound = np.array(after)
    told = np.clip(np.array(gain), 0.0, bound - now)
    return Learning(now, best, now + told, bound, told, np.array(error), float(p.max(axis=0).mean()))


def _count(draws: int, readings: int) -> int:
    return max(2, round(float(draws ** (1.0 / (2 + readings)))))


def _sums(columns: Array, cell: Groups, size: int) -> tuple[Array, Array]:
    """Return sums of chances [groups, folds, designs] and numbers of draws [groups, folds]."""
    counts = np.bincount(cell, minlength=size * FOLDS)
    held = np.flatnonzero(counts)
    begin = np.concatenate([[0], np.cumsum(counts[held])[:-1]])
    sums = np.zeros((counts.size, columns.shape[1]))
    sums[held] = np.add.reduceat(columns[np.argsort(cell, kind="stable")], begin, axis=0)
    return sums.reshape(size, FOLDS, -1), counts.reshape(size, FOLDS).astype(float)


def _cross_fitted(p: Array, group: Groups, fold: Groups, sums: Array, counts: Array) -> Array:
    """Return per draw what the reading adds [draws], every choice made without the fold it is scored on."""
    everywhere, number = sums.sum(axis=0), counts.sum(axis=0)
    rest = everywhere.sum(axis=0) - everywhere
    mean = rest / np.maximum(number.sum() - number, 1.0)[:, None]
    here = sums.sum(axis=1, keepdims=True) - sums
    size = counts.sum(axis=1, keepdims=True) - counts
    choice = ((here + LEANING * mean) / (size + LEANING)[..., None]).argmax(axis=2)
    plain = mean.argmax(axis=1)
    column = np.arange(p.shape[1])
    return np.asarray(p[choice[group, fold], column] - p[plain[fold], column])
