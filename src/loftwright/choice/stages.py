"""The stages of the search, each cut into jobs that anybody may do: a first look, a comparison, and moves."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from loftwright.choice.moves import Box, Lot, Moving, box_of, chances, lot_of, moved, steady_points, together
from loftwright.choice.scoring import Index, Stock, bodies_of, joined, score, score_at, stock
from loftwright.choice.window import block_size, ends_from, ends_of, reach
from loftwright.core.errors import Bug
from loftwright.core.lifting import Entries, Fit, Lift, Pair
from loftwright.core.motion import Array

J = TypeVar("J")
R = TypeVar("R")
Span = tuple[float, float]
"""Between which shares of the whole work [1] a stage lies."""


class Work:
    """Has jobs done, in place or by an executor, in order; between jobs it tells how far it is and may be stopped."""

    def __init__(
        self,
        executor: Executor | None,
        progress: Callable[[float, str], None] | None,
        cancelled: Callable[[], bool] | None,
    ) -> None:
        self._executor, self._progress, self._cancelled = executor, progress, cancelled
        self.stopped = False

    def tell(self, share: float, text: str) -> None:
        """Say that this `share` [1] of the whole work is done, and what comes next."""
        if self._progress is not None:
            self._progress(share, text)

    def _goes_on(self) -> bool:
        if not self.stopped and self._cancelled is not None and self._cancelled():
            self.stopped = True
        return not self.stopped

    def results(self, function: Callable[[J], R], jobs: Sequence[J], span: Span, text: str) -> list[R]:
        """Return the results of as many jobs as were done before being stopped, the first ones first."""
        found: list[R] = []
        if not self._goes_on():
            return found
        futures = None if self._executor is None else [self._executor.submit(function, job) for job in jobs]
        try:
            for i, job in enumerate(jobs):
                if not self._goes_on():
                    break
                self.tell(span[0] + (span[1] - span[0]) * i / len(jobs), text)
                found.append(function(job) if futures is None else futures[i].result())
        finally:
            for future in (futures or [])[len(found) :]:
                future.cancel()
        return found


@dataclass(frozen=True, slots=True)
class _Look:
    """Mounts to look at first: `count` points of the even sequence from `first` on, in one pair of zones.

    No more than `looks` bodies on mounts are scored, and the `most` best are kept.
    """

    shelf: Stock
    pair: Pair
    which: int
    first: int
    count: int
    shift: Array
    looks: int
    most: int


_SLACK = 0.004
# Lengths that miss by less [m] are looked at: other draws of the brackets may still fit.
_AT_LEAST = 8
# So many of each job are looked at even where no length fits.
_LOOKED_AT, _COMPARED, _MOVED = 2_000, 250, 6
# Mounts in one job.


def _look(work: _Look) -> tuple[Lot, int]:
    """Return the best of the mounts with every body that fits, and how many were scored."""
    shelf, lift = work.shelf, work.shelf.lift
    box = box_of(work.pair)
    table = box.low + steady_points(work.first, work.count, work.shift) * (box.high - box.low)
    at = reach(lift, work.pair, ends_from(table))
    shortest, longest = (edge[:, :1] for edge in (at.length.min(axis=0), at.length.max(axis=0)))
    springs, allowed = shelf.springs, (shelf.pieces[shelf.members] >= work.pair.count).any(axis=1)
    extended, stroke = springs.extended[:, 0], springs.stroke[:, 0]
    missing = np.maximum(extended - shortest - stroke + lift.closed_margin[0], longest + lift.open_margin[0] - extended)
    missing = np.where(allowed, missing, np.inf)
    near = max(_SLACK, float(np.sort(missing, axis=None)[min(_AT_LEAST, missing.size) - 1]))
    mount, body = np.nonzero((missing <= near) & np.isfinite(missing))
    if mount.size > work.looks:
        some = np.arange(work.looks) * mount.size // work.looks
        mount, body = mount[some], body[some]
    guess = shelf.index[shelf.members[body, shelf.members.shape[1] // 2]]
    step = block_size(lift)
    parts = [slice(i, i + step) for i in range(0, mount.size, step)]
    scored = joined([score_at(shelf, work.pair, at.pick(mount[part]), guess[part]) for part in parts])
    every = lot_of(work.which, table[mount], scored)
    return every.best(work.most), every.size


@dataclass(frozen=True, slots=True)
class _Compare:
    shelf: Stock
    pair: Pair
    lot: Lot


def _compare(work: _Compare) -> Lot:
    lot = work.lot
    scored = score(work.shelf, work.pair, ends_from(lot.table), lot.entry)
    return Lot(lot.pair, scored.entry, lot.table, scored.odds, scored.margin)


def _near_forces(bodies: Sequence[Index], lot: Lot, reachable: int = 3) -> list[Index]:
    """Return of each body in the lot the entries next to those in use, up to `reachable` steps away."""
    used = np.unique(lot.entry)
    found = []
    for body in bodies:
        at = np.flatnonzero(np.isin(body, used))
        if at.size:
            found.append(body[max(0, at[0] - reachable) : at[-1] + reachable + 1])
    return found


def usable_of(lift: Lift, entries: Entries, pieces: NDArray[np.int64], pairs: Sequence[Pair]) -> NDArray[np.bool_]:
    """Return which entries may be taken: not over the highest pressure [Pa], with enough `pieces` [1] for some pair."""
    area = np.pi / 4 * entries.rod_diameter**2
    pressure = (entries.force_1 * entries.ratio + entries.loop / 2) / area
    return np.asarray((pressure <= lift.top_pressure) & (pieces >= min(pair.count for pair in pairs)))


def typical_row(lift: Lift) -> Index:
    """Return the draw nearest to the mean of all, as one index: least mean square of all bounds and chances.

    Draws in which something else fails come last.
    """
    drawn = lift.chances
    every = [drawn.ratio, drawn.loop, drawn.length, drawn.foot_x, drawn.foot_z, drawn.head_x, drawn.head_z]
    tables = [np.broadcast_to(values, lift.draws)[:, None] for values in every]
    tables += [demand.bound[:, np.isfinite(demand.bound).all(axis=0)] for demand in lift.demands]
    off = np.where(lift.holding, 0.0, 1e9)
    for table in tables:
        if table.shape[0] == lift.draws and table.size:
            scale = np.maximum(table.std(axis=0), 1e-12)
            off += np.square((table - table.mean(axis=0)) / scale).mean(axis=1)
    return np.array([off.argmin()])


class Stages:
    """One search: what stays the same from stage to stage."""

    def __init__(
        self, lift: Lift, pairs: Sequence[Pair], entries: Entries, pieces: NDArray[np.int64], seed: int, work: Work
    ) -> None:
        self.lift, self.pairs, self.entries, self.pieces = lift, pairs, entries, pieces
        self.seed, self.work = seed, work
        usable = usable_of(lift, entries, pieces, pairs)
        every = bodies_of(entries)
        self.body: Index = np.zeros(entries.force_1.size, dtype=np.intp)
        for which, own in enumerate(every):
            self.body[own] = which
        self._usable = usable
        self.bodies = [own[usable[own]] for own in every if usable[own].any()]
        self.springs = int(usable.sum())
        self.boxes: list[Box] = [box_of(pair) for pair in pairs]
        self.scored = 0
        self.mounts = 0

    def may_take(self, fit: Fit) -> bool:
        """Whether a fit uses springs that may be taken, as many as there are; Bug where its ends leave the zones."""
        box, at = self.boxes[fit.pair], ends_of((fit,)).table[0]
        if (at < box.low - 1e-9).any() or (at > box.high + 1e-9).any():
            raise Bug(f"the ends of {fit} lie outside their zones")
        return bool(self._usable[fit.entry] and self.pieces[fit.entry] >= self.pairs[fit.pair].count)

    def first_draws(self, count: int) -> Lift:
        """Return the lift in its first draws."""
        return self.lift if count >= self.lift.draws else self.lift.only(np.arange(count))

    def first_look(self, mounts: int, looks: int, most: int, span: Span) -> Lot:
        """Return the best of mounts spread evenly over all pairs of zones, in one typical draw.

        With a long list not every body that fits is looked at on every mount, but so many that all make `looks`.
        """
        shelf = stock(self.lift.only(typical_row(self.lift)), self.entries, self.bodies, self.pieces)
        able = [i for i, pair in enumerate(self.pairs) if (self.pieces[shelf.index] >= pair.count).any()]
        share = -(-mounts // max(1, len(able)))
        jobs = [
            _Look(
                shelf,
                self.pairs[which],
                which,
                first,
                count := min(_LOOKED_AT, share - first),
                chances((4,), (self.seed, which)),
                max(_AT_LEAST, looks * count // (share * len(able))),
                most,
            )
            for which in able
            for first in range(0, share, _LOOKED_AT)
        ]
        looked = self.work.results(_look, jobs, span, "looking at places")
        self.mounts += sum(job.count for job in jobs[: len(looked)])
        self.scored += sum(count for _, count in looked)
        return together([lot for lot, _ in looked])

    def compared(self, lot: Lot, draws: int, span: Span) -> Lot:
        """Return the same mounts judged in a few draws; those left undone are dropped."""
        shelf = stock(self.first_draws(draws), self.entries, _near_forces(self.bodies, lot), self.pieces)
        jobs = [_Compare(shelf, self.pairs[which], lot.pick(own)) for which, own in self._jobs(lot, _COMPARED)]
        self.scored += lot.size
        return together(self.work.results(_compare, jobs, span, "comparing places"))

    def _jobs(self, lot: Lot, size: int) -> list[tuple[int, Index]]:
        """Return which mounts make one job each: of one pair, `size` at most."""
        found = []
        for which in np.unique(lot.pair):
            own = np.flatnonzero(lot.pair == which)
            found += [(int(which), own[at : at + size]) for at in range(0, own.size, size)]
        return found

    def moved(self, lot: Lot, draws: int, rounds: int, moves: int, step: float, key: int, span: Span) -> Lot:
        """Return the mounts after one level of moves from a `step` [1] of the zones on; those left undone stay."""
        shelf = stock(self.first_draws(draws), self.entries, _near_forces(self.bodies, lot), self.pieces)
        cut = self._jobs(lot, _MOVED)
        jobs = [
            Moving(shelf, self.pairs[which], lot.pick(own), rounds, moves, step, (self.seed, key, i))
            for i, (which, own) in enumerate(cut)
        ]
        done = self.work.results(moved, jobs, span, f"moving brackets in {shelf.lift.draws} roofs")
        self.scored += sum(job.lot.size * (job.rounds * job.moves + 1) for job in jobs[: len(done)])
        return together([*done, *(lot.pick(own) for _, own in cut[len(done) :])])
