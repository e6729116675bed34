"""Where to try mounts: points spread evenly over the zones, a choice of unlike ones, and moves from good ones."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np

from loftwright.choice.scoring import MARGIN_WEIGHT, Index, Scored, Stock, score
from loftwright.choice.window import ends_from
from loftwright.core.lifting import Pair
from loftwright.core.motion import Array

_ROOT = 1.1673039782614187
# Root of x^5 = x + 1, the golden ratio of four dimensions.
_STEPS = _ROOT ** -np.arange(1.0, 5.0)


def steady_points(first: int, count: int, shift: Array) -> Array:
    """Return `count` points of an endless even sequence in the unit cube of four dimensions from the `first` on [1].

    u_k = frac(shift + k (1/p, 1/p^2, 1/p^3, 1/p^4)), p^5 = p + 1 (1); `shift` [4] [1]; returned [count, 4].
    """
    place = np.arange(first, first + count, dtype=np.float64)[:, None]
    return np.asarray((shift + place * _STEPS) % 1.0)


def chances(shape: tuple[int, ...], key: Sequence[int]) -> Array:
    """Return even chances in [0, 1) [1] of a `shape` that depend on `key` alone, alike on every machine."""
    bits = np.random.PCG64(list(key)).random_raw(int(np.prod(shape)))
    return np.asarray((bits >> np.uint64(11)).astype(np.float64) * 2.0**-53).reshape(shape)


@dataclass(frozen=True, slots=True)
class Box:
    """The free coordinates of a pair of zones [m], [4] each: foot x, foot z, head x, head z."""

    low: Array
    high: Array


def box_of(pair: Pair) -> Box:
    """Return between which coordinates the ends may sit."""
    foot, head = pair.foot, pair.head
    return Box(
        np.array([foot.x_low, foot.z_low, head.x_low, head.z_low]),
        np.array([foot.x_high, foot.z_high, head.x_high, head.z_high]),
    )


@dataclass(frozen=True, slots=True)
class Lot:
    """Mounts with their springs, each [mounts].

    `pair` and `entry` are places in their lists, `table` the ends [m], [mounts, 4]; odds and mean log margin [1].
    """

    pair: Index
    entry: Index
    table: Array
    odds: Array
    margin: Array

    @property
    def score(self) -> Array:
        """What the search raises [1]."""
        return np.asarray(self.odds + MARGIN_WEIGHT * self.margin)

    @property
    def size(self) -> int:
        """Number of mounts."""
        return int(self.pair.size)

    def pick(self, index: Index) -> Lot:
        """Return the mounts at `index`, in that order."""
        return Lot(*(getattr(self, f.name)[index] for f in fields(self)))

    def best(self, most: int) -> Lot:
        """Return the `most` best, best first; equal ones stay in their order."""
        return self.pick(np.argsort(-self.score, kind="stable")[:most])


def lot_of(pair: int, table: Array, scored: Scored) -> Lot:
    """Return scored mounts of one pair of zones, ends in a `table` [mounts, 4] [m]."""
    return Lot(np.full(scored.entry.size, pair), scored.entry, table, scored.odds, scored.margin)


def together(lots: Sequence[Lot]) -> Lot:
    """Return several lots as one."""
    if not lots:
        none = np.zeros(0)
        return Lot(none.astype(np.intp), none.astype(np.intp), np.zeros((0, 4)), none, none)
    return Lot(*(np.concatenate([getattr(lot, f.name) for lot in lots]) for f in fields(Lot)))


def unlike(lot: Lot, boxes: Sequence[Box], *, cells: int, each: int) -> Lot:
    """Return the best `each` of every cell, best first: a cell is a pair, an entry, 1/`cells` of every coordinate."""
    if not lot.size:
        return lot
    low, high = (np.stack([getattr(box, side) for box in boxes])[lot.pair] for side in ("low", "high"))
    where = np.floor((lot.table - low) / np.maximum(high - low, 1e-9) * cells).clip(0, cells - 1)
    key = np.column_stack([lot.pair, lot.entry, where.astype(np.intp)])
    _, cell = np.unique(key, axis=0, return_inverse=True)
    cell = cell.reshape(-1)
    order = np.lexsort((-lot.score, cell))
    ranked = cell[order]
    first = np.concatenate([[0], np.flatnonzero(np.diff(ranked)) + 1])
    place = np.arange(lot.size) - np.repeat(first, np.diff(np.append(first, lot.size)))
    return lot.pick(np.sort(order[place < each])).best(lot.size)


@dataclass(frozen=True, slots=True)
class Moving:
    """Mounts of one pair to be moved: `steps` as shares of the zones [1], `rounds` times `moves` each."""

    shelf: Stock
    pair: Pair
    lot: Lot
    rounds: int
    moves: int
    step: float
    key: tuple[int, ...]


_WIDER, _NARROWER = 1.3, 0.6


def _others(at: Index, dice: Array) -> Index:
    """Return for each place in a row another one, by chance."""
    return np.asarray((at[:, None] + 1 + (dice * (at.size - 1)).astype(np.intp)) % at.size)


def moved(work: Moving) -> Lot:
    """Return the mounts after their moves: each is tried from where it is, the best is kept if it scores better.

    Of the moves one repeats the last one that helped, one in three follows the difference of two mounts of the lot,
    the others go a chance distance in some or all coordinates. Steps widen by 1.3 after a gain and shrink by 0.6.
    """
    lot, box, moves = work.lot, box_of(work.pair), work.moves
    size = box.high - box.low
    at = np.arange(lot.size)
    scored = score(work.shelf, work.pair, ends_from(lot.table), lot.entry)
    table, entry, odds, margin, best = lot.table.copy(), scored.entry, scored.odds, scored.margin, scored.score
    step = np.full(lot.size, work.step)
    last = np.zeros_like(table)
    differing = moves // 3 if lot.size > 3 else 0
    for turn in range(work.rounds):
        dice = chances((lot.size, moves, 10), (*work.key, turn))
        shift = (2.0 * dice[..., :4] - 1.0) * step[:, None, None] * size
        # Half of the moves leave some coordinates alone.
        shift = np.where((dice[..., 4:8] < 0.5) & (dice[..., 8:9] < 0.5), 0.0, shift)
        if differing:
            one, two = (_others(at, dice[:, :differing, i]) for i in (8, 9))
            shift[:, :differing] = shift[:, :differing] * 0.1 + 0.7 * (table[one] - table[two])
        shift[:, -1] = np.where(last.any(axis=1, keepdims=True), last, shift[:, -1])
        tried = np.clip(table[:, None] + shift, box.low, box.high)
        found = score(work.shelf, work.pair, ends_from(tried.reshape(-1, 4)), np.repeat(entry, moves))
        which = found.score.reshape(lot.size, moves).argmax(axis=1)
        pick = at * moves + which
        better = found.score[pick] > best
        last = np.where(better[:, None], tried[at, which] - table, 0.0)
        table = np.where(better[:, None], tried[at, which], table)
        entry, odds, margin, best = (
            np.where(better, new[pick], old)
            for new, old in ((found.entry, entry), (found.odds, odds), (found.margin, margin), (found.score, best))
        )
        step = np.where(better, np.minimum(step * _WIDER, 0.5), step * _NARROWER)
    return Lot(lot.pair, entry, table, odds, margin)
