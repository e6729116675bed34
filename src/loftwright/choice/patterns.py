"""Springs and their insurance chosen together: those that a row of holes, or their neighbours in the list, help most.

The spring and mounts that are likeliest to work alone are not those that are easiest to put right: a row of holes
changes leverage near closed and near open each in its own measure, and that depends on where the row lies and which
way it runs. So spring, ends, and the way and spacing of the row are moved together, and what is raised is

    odds = mean over draws and delivered factors of max over holes of works,                     (1)

with one and the same spring in all holes; or, for springs ordered together, each with holes of its own and from a
batch of its own,

    odds = 1 - mean over draws of product over springs of (1 - chance).                          (2)

Draws are the same for all that is tried (common random numbers); a move is kept only if it is better, so that the
result is never worse on these draws than the best of the first rows. A local search, not a proof.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from loftwright.choice.holes import over_chances
from loftwright.choice.moves import Box, box_of, chances
from loftwright.choice.odds import chance_of as in_window
from loftwright.choice.scoring import Index, bodies_of
from loftwright.choice.search import Level
from loftwright.choice.window import Ends, bounds, ends_from, ends_of
from loftwright.core.errors import Bug
from loftwright.core.lifting import Entries, Fit, Lift, Pair
from loftwright.core.motion import Array, Flags

QUANTILES = 6
"""Delivered forces, equally likely, that each draw is taken with."""
WIDEST = 2.2
"""First rows are spaced between the least spacing and so many times that."""
ANOTHER = 0.35
"""Share of the moves that also take the next force of the list."""
_NARROWER = 0.75


@dataclass(frozen=True, slots=True)
class Shape:
    """How many holes a pattern has in the bracket of the foot and in that of the head; every pair of them is used."""

    feet: int
    heads: int


@dataclass(frozen=True, slots=True)
class Pattern:
    """A spring with its holes: `feet` [feet, 2] and `heads` [heads, 2] are (x, z) closed [m], in rows.

    `pair` and `entry` are places in their lists; `learned` [1]: odds (1) on the draws that it was chosen on.
    """

    pair: int
    entry: int
    feet: Array
    heads: Array
    learned: float

    @property
    def ends(self) -> Ends:
        """Every combination of foot and head [m], heads of the first foot first."""
        return _every(self.feet[None], self.heads[None])


def _every(feet: Array, heads: Array) -> Ends:
    # [patterns, feet, 2] and [patterns, heads, 2] -> every combination, one after the other.
    both = np.broadcast_arrays(feet[:, :, None, :], heads[:, None, :, :])
    return ends_from(np.concatenate([part.reshape(-1, 2) for part in both], axis=1))


def delivered_quantiles(lift: Lift, tolerance: Array, count: int = QUANTILES) -> Array:
    """Return equally likely delivered factors [1], [..., count], of springs of some `tolerance` [1], [...]."""
    share = (np.arange(count) + 0.5) / count
    chance = np.interp(share, lift.chances.spread.cumulative, lift.chances.spread.x)
    return np.asarray(1.0 + tolerance[..., None] * chance)


EFFORT: tuple[Level, ...] = (Level(120, 40, 1, 1, 0.08), Level(8, 60, 5, 6, 0.08), Level(4, 200, 4, 6, 0.04))
"""Stages: how many patterns are kept, in how many draws, and how they are moved; the first only looks."""


@dataclass(slots=True)
class _Rows:
    """Patterns of one shape: `entry` [k] and `table` [k, 8]: middle of foot and head row, then the step of each [m]."""

    entry: Index
    table: Array

    def pick(self, index: Index) -> _Rows:
        return _Rows(self.entry[index], self.table[index])

    def holes(self, shape: Shape) -> tuple[Array, Array]:
        """Return feet [k, feet, 2] and heads [k, heads, 2]."""
        feet, heads = _offsets(shape.feet)[None, :, None], _offsets(shape.heads)[None, :, None]
        at = self.table[:, None, :]
        return at[..., 0:2] + feet * at[..., 4:6], at[..., 2:4] + heads * at[..., 6:8]


def _offsets(count: int) -> Array:
    return np.asarray(np.arange(count) - (count - 1) / 2, dtype=np.float64)


def choose_pattern(
    lift: Lift,
    pairs: Sequence[Pair],
    entries: Entries,
    starts: Sequence[Fit],
    shapes: Sequence[Shape],
    spacing: float,
    *,
    seed: int,
    effort: Sequence[Level] = EFFORT,
) -> Pattern:
    """Return the spring and the rows of holes that together are likeliest to hold a combination that works, after (1).

    `starts`: mounts to begin from, best first, as a search found them. `spacing` [m]: least distance of neighbouring
    holes. All holes of a row lie in their zone, on a straight line of any direction, evenly spaced. Bug without
    starts or shapes.
    """
    if not starts or not shapes:
        raise Bug("a pattern needs somewhere to start from")
    found = [
        _Shaped(lift, pairs[which], which, entries, shape, spacing, seed).best(
            [fit for fit in starts if fit.pair == which], effort
        )
        for which in sorted({fit.pair for fit in starts})
        for shape in shapes
    ]
    return max(found, key=lambda pattern: pattern.learned)


class _Shaped:
    """The search for a pattern of one shape in one pair of zones."""

    def __init__(
        self, lift: Lift, pair: Pair, which: int, entries: Entries, shape: Shape, spacing: float, seed: int
    ) -> None:
        self.lift, self.pair, self.which, self.entries, self.shape = lift, pair, which, entries, shape
        self.box: Box = box_of(pair)
        self.size = self.box.high - self.box.low
        self.spacing = spacing
        self.key = (seed, which, shape.feet, shape.heads)
        self.near = _neighbours(entries)

    def best(self, starts: Sequence[Fit], effort: Sequence[Level]) -> Pattern:
        """Return the best pattern found from these starts."""
        rows = self._first(starts, effort[0])
        for number, level in enumerate(effort):
            few = self.lift if level.draws >= self.lift.draws else self.lift.only(np.arange(level.draws))
            odds = self._odds(few, rows)
            order = np.argsort(-odds, kind="stable")[: level.kept]
            rows, odds = rows.pick(order), odds[order]
            step = level.step
            for turn in range(level.rounds if number else 0):
                tried = self._moved(rows, level.moves, step, (number, turn))
                every = _Rows(np.append(rows.entry, tried.entry), np.vstack([rows.table, tried.table]))
                odds = np.append(odds, self._odds(few, tried))
                order = np.argsort(-odds, kind="stable")[: level.kept]
                rows, odds = every.pick(order), odds[order]
                step *= _NARROWER
        feet, heads = rows.pick(np.array([0])).holes(self.shape)
        return Pattern(self.which, int(rows.entry[0]), feet[0], heads[0], float(odds[0]))

    def _first(self, starts: Sequence[Fit], level: Level) -> _Rows:
        """Return rows through the starts and near them, half of them level, the others in any direction."""
        many = level.kept
        dice = chances((many, 9), (*self.key, 0))
        which = np.arange(many) % len(starts)
        table = np.zeros((many, 8))
        table[:, :4] = ends_of(starts).table[which] + (2 * dice[:, :4] - 1) * level.step * 2 * self.size
        table[: len(starts), :4] = ends_of(starts).table[:many]
        for end in (0, 1):
            turn = np.where(dice[:, 8] < 0.5, 0.0, np.pi * dice[:, 4 + end])
            step = self.spacing * (1 + (WIDEST - 1) * dice[:, 6 + end])
            table[:, 4 + 2 * end], table[:, 5 + 2 * end] = step * np.cos(turn), step * np.sin(turn)
        return self._kept_inside(_Rows(np.array([fit.entry for fit in starts], dtype=np.intp)[which], table))

    def _moved(self, rows: _Rows, moves: int, step: float, key: tuple[int, ...]) -> _Rows:
        many = rows.entry.size * moves
        dice = chances((many, 10), (*self.key, 1, *key))
        entry, table = np.repeat(rows.entry, moves), np.repeat(rows.table, moves, axis=0)
        shift = 2 * dice[:, :8] - 1
        # Some moves leave the middle alone, some the way of the row.
        shift[:, :4] *= np.where(dice[:, 9:] < 0.2, 0.0, 2 * step * self.size)
        shift[:, 4:] *= np.where(dice[:, 9:] > 0.8, 0.0, 8 * step * self.spacing)
        way = np.where(dice[:, 8] < ANOTHER / 2, 0, np.where(dice[:, 8] > 1 - ANOTHER / 2, 2, 1))
        return self._kept_inside(_Rows(self.near[entry, way], table + shift))

    def _kept_inside(self, rows: _Rows) -> _Rows:
        """Return rows stretched to the least spacing and moved until all their holes lie in the zones."""
        table = rows.table.copy()
        for end, count in ((0, self.shape.feet), (1, self.shape.heads)):
            step = table[:, 4 + 2 * end : 6 + 2 * end]
            low, high = (side[2 * end : 2 * end + 2] for side in (self.box.low, self.box.high))
            reach = (count - 1) / 2
            if count > 1:
                # A row across a narrow zone is laid level instead.
                most = (high - low) / (count - 1)
                step[:, 1] = np.clip(step[:, 1], -most[1], most[1])
                upright = step[:, 1]
                least = np.sqrt(np.maximum(self.spacing**2 - upright**2, 0.0))
                level = np.minimum(np.maximum(np.abs(step[:, 0]), least), max(most[0], 0.0))
                step[:, 0] = np.where(step[:, 0] < 0, -level, level)
            room = reach * np.abs(step)
            table[:, 2 * end : 2 * end + 2] = np.clip(table[:, 2 * end : 2 * end + 2], low + room, high - room)
        return _Rows(rows.entry, table)

    def _odds(self, lift: Lift, rows: _Rows) -> Array:
        """Return odds (1) of every row [1]; nought where the holes find no room at their spacing."""
        feet, heads = rows.holes(self.shape)
        holes = self.shape.feet * self.shape.heads
        entry = np.repeat(rows.entry, holes)
        window = bounds(lift, self.pair, _every(feet, heads), self.entries.pick(entry))
        low = np.where(window.fits & lift.holding, window.low, np.inf).reshape(rows.entry.size, holes, lift.draws)
        high = window.high.reshape(low.shape)
        factors = delivered_quantiles(lift, self.entries.tolerance[rows.entry])
        served = np.zeros(rows.entry.size)
        for factor in factors.T:
            one = factor[:, None, None]
            served += ((low <= one) & (one <= high)).any(axis=1).mean(axis=1)
        close = np.zeros(rows.entry.size, dtype=bool)
        for row, count in ((feet, self.shape.feet), (heads, self.shape.heads)):
            if count > 1:
                close |= np.hypot(*(row[:, 1] - row[:, 0]).T) < self.spacing - 1e-9
        return np.where(close, 0.0, served / QUANTILES)


def _neighbours(entries: Entries) -> Index:
    """Return for every entry the next weaker, itself, and the next stronger one of its body, [entries, 3]."""
    near = np.repeat(np.arange(entries.force_1.size)[:, None], 3, axis=1)
    for body in bodies_of(entries):
        near[body[1:], 0] = body[:-1]
        near[body[:-1], 2] = body[1:]
    return near


def works_in(lift: Lift, pair: Pair, entry: Entries, ends: Ends, delivered: Array) -> Flags:
    """Return where each hole works, [holes, draws x k], every draw taken with each of `delivered` factors [1], [k].

    `entry`: one spring; `ends` [m]: the holes. As `choose_row` and the learning of a card want it.
    """
    window = bounds(lift, pair, ends, entry)
    low = np.where(window.fits & lift.holding, window.low, np.inf)
    return over_chances(low, window.high, delivered)


@dataclass(frozen=True, slots=True)
class Together:
    """Springs to order together, each with holes of its own: `fits`, the likeliest first, and their odds (2) [1].

    `learned` are the odds on the draws that they were chosen on.
    """

    fits: tuple[Fit, ...]
    learned: float


TOGETHER: tuple[Level, ...] = (Level(16, 60, 4, 12, 0.06), Level(8, 200, 4, 10, 0.03))
"""Stages of choosing springs to order together: places kept, draws, turns, moves, and the first step."""


def choose_together(
    lift: Lift,
    pairs: Sequence[Pair],
    entries: Entries,
    starts: Sequence[Fit],
    most: int,
    *,
    seed: int,
    effort: Sequence[Level] = TOGETHER,
) -> Together:
    """Return the `most` springs to order together, each with its own ends, whose odds (2) are best.

    One is added after the other, each where it works in most roofs in which those before it do not; then each is
    chosen anew beside the others. No two are one and the same entry, since one batch is one chance. `starts`: mounts
    to begin from, best first; ends move within their zones [m]. Bug without starts.
    """
    if not starts:
        raise Bug("springs ordered together need somewhere to start from")
    near = _neighbours(entries)
    held: list[Fit] = []
    misses: list[Array] = []
    for turn in range(2 * most - 1):
        if turn >= most:
            # The oldest makes room for a better one, itself among the starts.
            out = held.pop(0)
            misses.pop(0)
            starts = [out, *starts]
        left = np.prod(misses, axis=0) if misses else np.ones(lift.draws)
        taken = {fit.entry for fit in held}
        fit = _added(lift, pairs, entries, [*held, *starts], left, taken, near, (seed, 2, turn), effort)
        held.append(fit)
        misses.append(1.0 - chance_of(lift, pairs[fit.pair], entries.pick(np.array([fit.entry])), ends_of([fit]))[0])
    alone = np.array([miss.mean() for miss in misses])
    order = np.argsort(alone, kind="stable")
    return Together(tuple(held[i] for i in order), float(1.0 - np.prod(misses, axis=0).mean()))


def _added(
    lift: Lift,
    pairs: Sequence[Pair],
    entries: Entries,
    starts: Sequence[Fit],
    left: Array,
    taken: set[int],
    near: Index,
    key: tuple[int, ...],
    effort: Sequence[Level],
) -> Fit:
    """Return the fit that works in the greatest share of what is `left` of each draw [1], its entry not `taken`."""

    def worth(fits: Sequence[Fit], draws: int) -> Array:
        few = lift if draws >= lift.draws else lift.only(np.arange(draws))
        found = np.empty(len(fits))
        for which in {fit.pair for fit in fits}:
            rows = [i for i, fit in enumerate(fits) if fit.pair == which]
            own = [fits[i] for i in rows]
            chance = chance_of(few, pairs[which], entries.pick(np.array([f.entry for f in own])), ends_of(own))
            found[rows] = (chance * left[: few.draws]).mean(axis=1)
        # A batch that is ordered already is no further chance.
        return np.where([fit.entry in taken for fit in fits], found - 1.0, found)

    fits = list(starts)
    for number, level in enumerate(effort):
        value = worth(fits, level.draws)
        step = level.step
        for turn in range(level.rounds):
            order = np.argsort(-value, kind="stable")[: level.kept]
            fits, value = [fits[i] for i in order], value[order]
            tried = _shifted(fits, pairs, near, level.moves, step, (*key, number, turn))
            fits, value = [*fits, *tried], np.append(value, worth(tried, level.draws))
            step *= _NARROWER
        order = np.argsort(-value, kind="stable")[: level.kept]
        fits = [fits[i] for i in order]
    return fits[int(np.argmax(worth(fits, lift.draws)))]


def _shifted(
    fits: Sequence[Fit], pairs: Sequence[Pair], near: Index, moves: int, step: float, key: tuple[int, ...]
) -> list[Fit]:
    """Return each fit moved several times, now and then with the next force."""
    dice = chances((len(fits), moves, 5), key)
    found = []
    for fit, own in zip(fits, dice, strict=True):
        box = box_of(pairs[fit.pair])
        table = ends_of([fit]).table + 2 * step * (2 * own[:, :4] - 1) * (box.high - box.low)
        way = np.where(own[:, 4] < ANOTHER, 0, np.where(own[:, 4] > 1 - ANOTHER, 2, 1))
        for row, entry in zip(np.clip(table, box.low, box.high), near[fit.entry, way], strict=True):
            found.append(Fit(fit.pair, int(entry), *(float(v) for v in row)))
    return found


def chance_of(lift: Lift, pair: Pair, entries: Entries, ends: Ends) -> Array:
    """Return the chance [1] that each spring works in each draw, [mounts, draws], its delivered force averaged.

    `ends` [m] and `entries`: one for each mount.
    """
    return in_window(lift, entries, bounds(lift, pair, ends, entries))
