"""Learning a tuning card from draws.

What happens after leaving a hole does not depend on the lines of that hole, since it is never come back to; so that
for every roof in which hole h is reached, the value of going to each hole j,

    value[j] = whether the card ends in a hole that works, from j on with h ticked,             (1)

is known while the lines of h change, and a line that sends the set A of them to j adds

    gain = sum over A of (value[j] - value of what the lines of h say now).                      (2)

Every place, hole to go to and condition (one limit, or two on different readings) is tried at once by histograms, and
the best line enters; then the lines of that hole are exchanged one by one while it gains. Every step raises the share
of draws that end well, from that of staying at the start.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

import numpy as np

from loftwright.choice.card import Condition, Ints, Line, Told, TuningCard, ends_well, follow_lines
from loftwright.choice.card_signs import Asked, Signs, best_double, best_single, histogram, signs_of
from loftwright.choice.holes import share_error
from loftwright.core.errors import Bug
from loftwright.core.motion import Array, Flags

STRICT: Final = 1.0
"""A line must gain this many times the square root of the number of draws that it changes: less is luck."""
LEAST: Final = 0.001
"""Least share of the draws that a line must gain to be worth its place on paper."""


@dataclass(frozen=True, slots=True)
class Judged:
    """A card with honest odds `odds` [1] and their standard error `error` [1]: from draws it was not learned from."""

    card: TuningCard
    odds: float
    error: float


def learn_card(
    works: Flags,
    readings: Array,
    asked: tuple[Asked, ...],
    starts: tuple[int, ...] | None = None,
    most_moves: int = 3,
    most_lines: int = 12,
    most_here: int = 4,
) -> TuningCard:
    """Return the card that ends most draws in a hole that works, after (1), (2).

    A card with more lines is never worse on these draws, and none is worse than staying at its start. A later one of
    the `starts` is taken only where its card gains at least `LEAST`.

    `works` [1, holes x draws]: whether a hole works, with one and the same spring in all. `readings`
    [1, readings x holes x draws]: what would be read there, error of the instrument added, in the unit in which
    `asked` names its limits; nan: cannot be taken. `starts`: holes to start with, the preferred one first; the
    likeliest when left out. `most_lines` on the card, `most_here` at one hole.
    """
    if readings.shape[0] != len(asked) or readings.shape[1:] != works.shape:
        raise Bug("readings do not belong to these holes, draws and questions")
    tried = starts or (int(np.argmax(works.mean(axis=1))),)
    signs = signs_of(readings, asked)
    best: TuningCard | None = None
    for start in tried:
        card = _Learner(works, signs, start, most_moves, most_here).learn(most_lines)
        if best is None or card.learned > best.learned + LEAST:
            best = card
    assert best is not None
    return best


def learn_and_judge(
    works: Flags,
    readings: Array,
    asked: tuple[Asked, ...],
    starts: tuple[int, ...] | None = None,
    most_moves: int = 3,
    most_lines: int = 12,
    most_here: int = 4,
) -> Judged:
    """Return the card learned from all draws, with odds from two cards, each learned on one half, judged on the other.

    Arguments as for `learn_card`, [1]. The odds are a little too low rather than too high: half the draws teach less.
    """
    card = learn_card(works, readings, asked, starts, most_moves, most_lines, most_here)
    good = np.zeros(works.shape[1], dtype=bool)
    halves = np.arange(works.shape[1]) % 2
    for half in (0, 1):
        here, there = halves == half, halves != half
        one = learn_card(works[:, here], readings[..., here], asked, (card.start,), most_moves, most_lines, most_here)
        good[there] = ends_well(one, works[:, there], readings[..., there])
    odds = float(good.mean())
    return Judged(card, odds, share_error(odds, good.size))


@dataclass(frozen=True, slots=True)
class _Reached:
    """Roofs in which a hole is reached with a move left: rows, ticks and moves, and what every step on is worth.

    `value` [holes, rows] of (1), `able` [holes, rows]: hole not ticked, or the hole itself (stay).
    """

    rows: Ints
    value: Array
    able: Flags


@dataclass(frozen=True, slots=True)
class _Offer:
    """A line that could enter at `place` of the list of a hole, and its gain of (2), less what luck explains."""

    hole: int
    place: int
    line: Told
    gain: float
    score: float


_Tried = tuple[int, list[list[Told]]]
"""How many draws end well, and the lines of every hole."""


@dataclass(slots=True)
class _Learner:
    works: Flags
    signs: Signs
    start: int
    most_moves: int
    most_here: int
    lines: list[list[Told]] = field(default_factory=list)

    def learn(self, most_lines: int) -> TuningCard:
        """Return the better of two cards: grown from nothing line by line, and pruned from one with too many."""
        draws = self.works.shape[1]
        grown = self._grown(most_lines)
        pruned = self._pruned(most_lines)
        good, self.lines = max((grown, pruned), key=lambda tried: tried[0])
        lines = tuple(Line(h, line.conditions, line.go) for h, listed in enumerate(self.lines) for line in listed)
        staying = float(self.works[self.start].mean())
        return TuningCard(self.start, lines, self.most_moves, good / draws, staying)

    def _grown(self, most_lines: int) -> _Tried:
        """Add lines one by one, the best first, improving those of the same hole after each."""
        holes, draws = self.works.shape
        self.lines = [[] for _ in range(holes)]
        while (count := self._count()) < most_lines:
            offers = [offer for hole in range(holes) if (offer := self._best_at(hole)) is not None]
            best = max(offers, key=lambda offer: offer.score, default=None)
            if best is None or best.gain < LEAST * draws:
                break
            self.lines[best.hole].insert(best.place, best.line)
            if count:
                self._exchange(best.hole)
        return self._good(), [list(listed) for listed in self.lines]

    def _pruned(self, most_lines: int) -> _Tried:
        """Fill every hole with lines as if all roofs came there that fail at the start, then drop the least useful.

        Step by step from hole to hole is worth nothing until the last step is there: growing does not find it.
        """
        holes, draws = self.works.shape
        self.lines = [[] for _ in range(holes)]
        failing = np.flatnonzero(~self.works[self.start])
        others = [hole for hole in range(holes) if hole != self.start]
        for hole in (*others, *others, self.start, *others, self.start):
            came = failing if hole != self.start and not self.lines[self.start] else None
            reached = self._reached(hole, came)
            if reached is not None:
                self._fill(hole, reached)
        best: _Tried | None = None
        while True:
            if self._count() <= most_lines:
                now = self._good()
                if best is not None and now < best[0] - LEAST * draws:
                    return best
                best = (now, [list(listed) for listed in self.lines])
            if self._count() == 0:
                assert best is not None
                return best
            left = []
            for hole, listed in enumerate(self.lines):
                for number in range(len(listed)):
                    line = listed.pop(number)
                    left.append((self._good(), hole, number))
                    listed.insert(number, line)
            _, hole, number = max(left)
            self.lines[hole].pop(number)

    def _fill(self, hole: int, reached: _Reached) -> None:
        self.lines[hole] = []
        while len(self.lines[hole]) < self.most_here:
            offer = self._offer(hole, reached)
            if offer is None:
                break
            self.lines[hole].insert(offer.place, offer.line)
        self._exchange(hole, reached)

    def _count(self) -> int:
        return sum(map(len, self.lines))

    def _good(self) -> int:
        rows = np.arange(self.works.shape[1])
        at = np.full(rows.size, self.start, dtype=np.intp)
        ends = follow_lines(self.lines, self.most_moves, rows, at, 1 << at, np.zeros_like(at))
        return int(self.works[ends.hole, rows].sum())

    def _best_at(self, hole: int) -> _Offer | None:
        if len(self.lines[hole]) >= self.most_here:
            return None
        reached = self._reached(hole)
        return None if reached is None else self._offer(hole, reached)

    def _exchange(self, hole: int, reached: _Reached | None = None) -> None:
        """Take out each line of a hole in turn and put the best one in its stead, while that gains."""
        reached = self._reached(hole) if reached is None else reached
        if reached is None:
            return
        better = True
        while better:
            better = False
            for line in list(self.lines[hole]):
                now = self._said(hole, reached)[1].sum()
                before = list(self.lines[hole])
                self.lines[hole].remove(line)
                offer = self._offer(hole, reached)
                if offer is not None:
                    self.lines[hole].insert(offer.place, offer.line)
                if self._said(hole, reached)[1].sum() > now:
                    better = True
                else:
                    self.lines[hole] = before

    def _reached(self, hole: int, came: Ints | None = None) -> _Reached | None:
        """Return the roofs that reach a hole, and what going on from it is worth; `came`: those from the start."""
        draws = self.works.shape[1]
        # A roof that reaches the hole stops there when the hole has no lines.
        listed, self.lines[hole] = self.lines[hole], []
        rows = np.arange(draws)
        at = np.full(draws, self.start, dtype=np.intp)
        ticks, moves = 1 << at, np.zeros_like(at)
        if came is not None:
            rows, ticks = came, (ticks[came] | (1 << hole))
            moves = np.ones_like(rows)
        elif hole != self.start:
            at, ticks, moves = self._stopped(rows)
            rows = np.flatnonzero((at == hole) & (moves < self.most_moves))
            ticks, moves = ticks[rows], moves[rows]
        reached = None
        if rows.size:
            holes = self.works.shape[0]
            able = ((ticks[None, :] >> np.arange(holes)[:, None]) & 1) == 0
            to, which = np.nonzero(able)
            ends = follow_lines(
                self.lines, self.most_moves, rows[which], to, ticks[which] | (1 << to), moves[which] + 1
            )
            value = np.zeros(able.shape)
            value[to, which] = self.works[ends.hole, rows[which]]
            value[hole] = self.works[hole, rows]
            able[hole] = True
            reached = _Reached(rows, value, able)
        self.lines[hole] = listed
        return reached

    def _stopped(self, rows: Ints) -> tuple[Ints, Ints, Ints]:
        """Return holes, ticks and moves at the end of the card [draws]."""
        at = np.full(rows.size, self.start, dtype=np.intp)
        ticks, moves = 1 << at, np.zeros_like(at)
        for _ in range(self.most_moves):
            step = follow_lines(self.lines, 1, rows, at, ticks, np.zeros_like(at))
            moves += step.moves
            at = step.hole
            ticks = ticks | (1 << at)
        return at, ticks, moves

    def _said(self, hole: int, reached: _Reached) -> tuple[Ints, Array]:
        """Return which line catches each roof at a hole (their number: none), and what that is worth."""
        caught = np.full(reached.rows.size, len(self.lines[hole]), dtype=np.intp)
        worth = reached.value[hole].copy()
        for number in range(len(self.lines[hole]) - 1, -1, -1):
            line = self.lines[hole][number]
            fits = line.fits[reached.rows] & reached.able[line.go]
            caught[fits] = number
            worth[fits] = reached.value[line.go][fits]
        return caught, worth

    def _offer(self, hole: int, reached: _Reached) -> _Offer | None:
        """Return the best line that could enter at a hole, of all places, holes to go to, and conditions."""
        caught, worth = self._said(hole, reached)
        places = len(self.lines[hole]) + 1
        gains = np.where(reached.able, reached.value - worth, 0.0)
        # [places, holes, rows]: what each roof gains if a line at that place sends it to that hole.
        delta = gains[None] * (caught[None, :] >= np.arange(places)[:, None])[:, None, :]
        delta = delta.reshape(-1, reached.rows.size)
        signs, side = self.signs, self.signs.span + 2
        number = signs.place.shape[0]
        single = histogram(signs.place[:, hole, reached.rows] + (np.arange(number) * side)[:, None], delta, side)
        known = np.isfinite(signs.limits[:, hole])
        offers = [*best_single(single, known)]
        if len(signs.pairs):
            double = histogram(signs.cell[:, hole, reached.rows], delta, side * side)
            offers += best_double(double.reshape(*double.shape[:2], side, side), known, signs.pairs)
        best: _Offer | None = None
        for row, gain, conditions in offers:
            if gain <= 0 or (best is not None and gain <= best.score):
                continue
            place, go = divmod(row, self.works.shape[0])
            fits = signs.fits(hole, conditions)
            changed = np.abs(delta[row])[fits[reached.rows]].sum()
            score = gain - STRICT * np.sqrt(changed) - (len(conditions) - 1) * LEAST * self.works.shape[1]
            if score > 0 and (best is None or score > best.score):
                named = tuple(Condition(r, over, float(signs.limits[r, hole, n])) for r, over, n in conditions)
                best = _Offer(hole, place, Told(named, go, fits), gain, float(score))
        return best
