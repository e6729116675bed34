"""Where the springs go after readings: another hole, a new hole in the same bracket, or springs of another force.

Readings have narrowed the draws. The springs that are fitted keep their delivered force, their friction and their
length, which the draws hold by now, so that a place works or not in each draw:

    odds = mean over draws of works with the drawn delivered factor.                             (1)

Springs of another force come from a batch of which nothing is known, so that their factor is averaged:

    odds = mean over draws of the chance that they work.                                         (2)

Brackets keep the error with which they were mounted, wherever a new hole in them is. Among places that work in all
draws the one with most room is better still, so that the mean log margin counts beside the odds, a little. The best
of many noisy odds is a little too good, and work has its price, so that every kind of move must promise more than a
simpler one by its `PRICE`. A local search round the holes that there are.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal, get_args

import numpy as np

from loftwright.choice.moves import box_of, chances
from loftwright.choice.odds import holds, log_margin, probability
from loftwright.choice.scoring import bodies_of
from loftwright.choice.window import Ends, Window, bounds, ends_from, ends_of
from loftwright.core.errors import Bug
from loftwright.core.lifting import Entries, Fit, Lift, Pair
from loftwright.core.motion import Array

Kind = Literal["stay", "another hole", "new hole", "other springs", "other springs in a new hole"]
PRICE: Final[dict[Kind, float]] = {
    "stay": 0.0,
    "another hole": 0.0,
    "new hole": 0.005,
    "other springs": 0.01,
    "other springs in a new hole": 0.015,
}
"""Odds that a kind of move must gain over what is simpler [1]: judgement."""
ROOM: Final = 0.2
"""How much mean log margin counts beside odds [1]: judgement."""
MOST_ROOM: Final = 0.06
"""Log margins of single draws above this, and under it negative, count no more [1]: judgement."""
REACHABLE: Final = 3
"""Forces so many places up or down the list are looked at."""
KEPT, MOVES, TURNS, STEP = 4, 8, 4, 0.10
"""New holes: how many of the best go on, by how many moves, how often, and the first step as a share of the zones."""
_NARROWER = 0.7


@dataclass(frozen=True, slots=True)
class Move:
    """One thing that can be done: springs and ends after it, its odds (1) or (2) [1], and what kind of work it is.

    `worth` [1]: odds with what room counts beside them, less the price of the work.
    """

    fit: Fit
    odds: float
    kind: Kind
    worth: float


def next_moves(
    lift: Lift, fresh: Lift, pair: Pair, entries: Entries, here: Fit, holes: Sequence[Fit], *, seed: int
) -> tuple[Move, ...]:
    """Return the best move of each kind, the one worth most first; staying is always among them.

    `lift`: draws after the readings, the springs that are fitted in its chances; `fresh`: the same roofs with springs
    of another order of that body in their chances. `here`: where the springs are now; `holes`: all that are drilled.
    Bug when a hole is said to hold other springs than those that are fitted.
    """
    if any(fit.entry != here.entry for fit in holes):
        raise Bug("holes are tried with the springs that are fitted")
    box = box_of(pair)
    size = box.high - box.low
    own = here.entry
    body = next(body for body in bodies_of(entries) if own in body)
    at = int(np.flatnonzero(body == own)[0])
    others = np.setdiff1d(body[max(0, at - REACHABLE) : at + REACHABLE + 1], [own])

    def judged(entry: Array, table: Array) -> Array:
        """Return odds and what room counts beside them, [2, places]."""
        found = np.zeros((2, entry.size))
        for mine in (entry == own, entry != own):
            if mine.any():
                spring, ends = entries.pick(entry[mine]), ends_from(table[mine])
                same = bool(entry[mine][0] == own)
                found[:, mine] = _held(lift, pair, spring, ends) if same else _hoped(fresh, pair, spring, ends)
        return found

    drilled = ends_of([here, *holes]).table
    many = len(drilled)
    entry = np.concatenate([np.full(many, own), np.tile(others, many)])
    table = np.vstack([drilled, np.repeat(drilled, others.size, axis=0)])
    kind = np.array([0] + [1] * (many - 1) + [3] * (many * others.size))
    odds, room = judged(entry, table)
    value = odds + room
    for turn in range(TURNS):
        # The best with the same springs and the best with others go on side by side.
        groups = [np.flatnonzero(kind <= 2), np.flatnonzero(kind > 2)]
        best = np.concatenate([group[np.argsort(-value[group], kind="stable")[:KEPT]] for group in groups])
        dice = 2 * chances((best.size * MOVES, 4), (seed, turn)) - 1
        shift = 2 * STEP * _NARROWER**turn * size * dice
        tried = np.clip(np.repeat(table[best], MOVES, axis=0) + shift, box.low, box.high)
        springs = np.repeat(entry[best], MOVES)
        entry, table = np.append(entry, springs), np.vstack([table, tried])
        kind = np.append(kind, np.where(springs == own, 2, 4))
        more, space = judged(springs, tried)
        odds, value = np.append(odds, more), np.append(value, more + space)
    found = []
    for number, name in enumerate(get_args(Kind)):
        rows = np.flatnonzero(kind == number)
        if rows.size:
            top = int(rows[np.argmax(value[rows])])
            fit = Fit(here.pair, int(entry[top]), *(float(v) for v in table[top]))
            found.append(Move(fit, float(odds[top]), name, float(value[top]) - PRICE[name]))
    return tuple(sorted(found, key=lambda move: -move.worth))


def _held(lift: Lift, pair: Pair, spring: Entries, ends: Ends) -> tuple[Array, Array]:
    """Return odds (1) and what room counts, each [places], of springs whose delivered factor is that of the draw."""
    window = bounds(lift, pair, ends, spring)
    factor = 1.0 + spring.tolerance[:, None] * lift.chances.delivered
    return holds(lift, spring, window).mean(axis=1), _room(window, factor)


def _hoped(fresh: Lift, pair: Pair, spring: Entries, ends: Ends) -> tuple[Array, Array]:
    """Return odds (2) and what room counts, each [places], of springs of a batch of which nothing is known."""
    window = bounds(fresh, pair, ends, spring)
    chance = probability(fresh.chances.spread, spring.tolerance[:, None], window.low, window.high)
    return (chance * (window.fits & fresh.holding)).mean(axis=1), _room(window, np.ones(1))


def _room(window: Window, factor: Array) -> Array:
    low, high = (np.log(np.maximum(edge, 1e-6) / factor) for edge in (window.low, window.high))
    margin = log_margin(low, high, np.minimum(window.closed_spare, window.open_spare))
    return np.asarray(ROOM * np.clip(margin, -MOST_ROOM, MOST_ROOM).mean(axis=-1))
