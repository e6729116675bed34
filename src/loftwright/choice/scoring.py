"""Many mounts scored against a whole list of springs: one pass over the travel serves all forces of a body.

Springs of one body (alike in all but force) share compression, friction and growth, so that the bounds on X = w g of
`window` (2) are theirs in common; over each one's w they bound its g. In logarithms that is a difference:

    log low of g = greatest over states of (log low of X - log w).                                   (1)

Two things are near here and exact in `window.bounds`: the force ratio in heat and cold is that of one spring of the
body, the `guess` (it depends on pressure and friction faintly), and the load that bends the rod is read from a table.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loftwright.choice.odds import LEAST_MARGIN, log_margin, probability
from loftwright.choice.window import (
    Asked,
    Drawn,
    Ends,
    Line,
    Reach,
    asked_of,
    bending,
    block_size,
    drawn,
    reach,
    warmed,
)
from loftwright.core.lifting import Entries, Lift, Pair
from loftwright.core.motion import Array

Index = NDArray[np.intp]

MARGIN_WEIGHT = 0.1
"""How much mean log margin counts beside odds while searching [1]. Judgement: enough to break ties."""
_LEAST_FORCE = 1e-3
_CLOSEST = 3
_TABLE = np.linspace(-0.25, 1.25, 61)


def bodies_of(entries: Entries) -> tuple[Index, ...]:
    """Return the entries of each body, weakest first; those with other tolerance or end limit stand apart."""
    key = np.stack([entries.body.astype(np.float64), entries.tolerance, entries.end_limit], axis=-1)
    _, which = np.unique(key, axis=0, return_inverse=True)
    which = which.reshape(-1)
    order = np.lexsort((entries.force_1, which))
    cuts = np.flatnonzero(np.diff(which[order])) + 1
    return tuple(np.split(order, cuts))


@dataclass(frozen=True, slots=True)
class Stock:
    """Some springs of a list made ready for quick scoring in the draws of a lift.

    `index` [few], rising, are their places in the list; all else counts within these few. `members` [bodies, most]:
    the springs of each body, the last one repeated; `body` [few]: where each belongs; `middle`: one spring of each
    body, [bodies], and `springs` the same as drawn; `log_force`, log w, and `ratios` in heat and cold [states, few,
    draws]; `bends` [bodies, 61]: the push that the rods bear [N] over c/stroke; `pieces` [few]: how many there are.
    """

    lift: Lift
    asked: tuple[Asked, ...]
    index: Index
    members: Index
    body: Index
    middle: Entries
    springs: Drawn
    log_force: Array
    ratios: Array
    bends: Array
    pieces: NDArray[np.int64]


def stock(lift: Lift, entries: Entries, bodies: Sequence[Index], pieces: NDArray[np.int64]) -> Stock:
    """Return the `bodies` of a list, as places in it, ready for scoring in every draw; `pieces` [1] of each entry."""
    index = np.sort(np.concatenate(bodies))
    few = entries.pick(index)
    own = [np.searchsorted(index, body) for body in bodies]
    most = max(body.size for body in own)
    members = np.stack([np.pad(body, (0, most - body.size), mode="edge") for body in own])
    body_of = np.zeros(index.size, dtype=np.intp)
    for which, body in enumerate(own):
        body_of[body] = which
    middle = few.pick(np.array([body[body.size // 2] for body in own]))
    springs = drawn(lift, middle)
    as_drawn = drawn(lift, few)
    in_heat = [warmed(lift, few, as_drawn, state) for state in range(len(lift.states))]
    squeezed = _TABLE * middle.stroke[:, None]
    return Stock(
        lift=lift,
        asked=asked_of(lift),
        index=index,
        members=members,
        body=body_of,
        middle=middle,
        springs=springs,
        log_force=np.log(np.maximum(np.stack([force for force, _ in in_heat]), _LEAST_FORCE)),
        ratios=np.stack([ratio for _, ratio in in_heat]),
        bends=bending(lift, middle, middle.extended[:, None] - squeezed, middle.stroke[:, None] - squeezed),
        pieces=pieces[index],
    )


@dataclass(frozen=True, slots=True)
class Scored:
    """The best entry of a body at each mount, as a place in the list, its odds and mean log margin [1]; [mounts]."""

    entry: Index
    odds: Array
    margin: Array

    @property
    def score(self) -> Array:
        """What the search raises [1]."""
        return np.asarray(self.odds + MARGIN_WEIGHT * self.margin)


def score(shelf: Stock, pair: Pair, ends: Ends, guess: Index) -> Scored:
    """Return how well each mount does with the best force of a body, ends [m].

    `guess` [mounts] is an entry of that body, near the best one if known, as a place in the list.
    """
    step = block_size(shelf.lift)
    parts = [slice(at, at + step) for at in range(0, ends.count, step)]
    return joined([score_at(shelf, pair, reach(shelf.lift, pair, ends.pick(part)), guess[part]) for part in parts])


def joined(parts: list[Scored]) -> Scored:
    """Return several lots of scored mounts as one."""
    if not parts:
        return Scored(np.zeros(0, dtype=np.intp), np.zeros(0), np.zeros(0))
    return Scored(
        np.concatenate([p.entry for p in parts]),
        np.concatenate([p.odds for p in parts]),
        np.concatenate([p.margin for p in parts]),
    )


def score_at(shelf: Stock, pair: Pair, at: Reach, guess: Index) -> Scored:
    """Return the same for mounts whose reach is known already."""
    guess = np.searchsorted(shelf.index, guess)
    body = shelf.body[guess]
    lift, growth = shelf.lift, shelf.lift.formulas.growth
    loop, stroke = shelf.springs.loop[body], shelf.springs.stroke[body]
    squeezed = shelf.springs.extended[body] - at.length
    least, most = squeezed.min(axis=0), squeezed.max(axis=0)
    line = Line(at, pair.count, loop)
    states = len(lift.states)
    lows, highs = np.full((states, *least.shape), -np.inf), np.full((states, *least.shape), np.inf)
    for state in range(states):
        own = [asked for asked in shelf.asked if asked.state == state]
        if not own:
            continue
        first, last = min(a.first for a in own), max(a.last for a in own)
        yielding = 1.0 / growth(shelf.ratios[state][guess], stroke, squeezed[first:last])
        for asked in own:
            low, high = line.gas_bounds(asked, yielding[asked.first - first : asked.last - first])
            lows[state], highs[state] = np.maximum(lows[state], low), np.minimum(highs[state], high)
    limit = np.minimum(shelf.middle.end_limit[body][:, None], _bends(shelf, body, least / stroke))
    if lift.bracket_limit is not None:
        limit = np.minimum(limit, lift.bracket_limit)
    hot = lift.hottest
    highs[hot] = np.minimum(highs[hot], (limit - loop) / growth(shelf.ratios[hot][guess], stroke, most))
    spare = np.minimum(stroke - most - lift.closed_margin, least - lift.open_margin)
    return _best_force(shelf, pair, body, lows, highs, spare)


def _bends(shelf: Stock, body: Index, share: Array) -> Array:
    """Return the push that the rods bear [N] at c/stroke = `share` [mounts, draws], straight between table places."""
    place = np.clip((share - _TABLE[0]) / (_TABLE[1] - _TABLE[0]), 0.0, _TABLE.size - 1.001)
    left = place.astype(np.intp)
    part = place - left
    rows = body[:, None]
    return np.asarray(shelf.bends[rows, left] * (1.0 - part) + shelf.bends[rows, left + 1] * part)


def _best_force(shelf: Stock, pair: Pair, body: Index, lows: Array, highs: Array, spare: Array) -> Scored:
    """Return the force of the body with the best score; odds are worked out for those of best margin."""
    lift = shelf.lift
    members = shelf.members[body]
    allowed = shelf.pieces[members] >= pair.count
    log_low, log_high = (np.log(np.maximum(edge, _LEAST_FORCE)) for edge in (lows, highs))
    log_force = shelf.log_force[:, members]
    low = (log_low[:, :, None] - log_force).max(axis=0)
    high = (log_high[:, :, None] - log_force).min(axis=0)
    margin = log_margin(low, high, spare[:, None]).mean(axis=-1)
    ranked = np.where(allowed, margin, LEAST_MARGIN - 1.0)
    closest = _CLOSEST if lift.draws > 1 else 1
    if members.shape[1] > closest:
        # A stable order, so that equal margins rank alike whatever stands beside them.
        near = (
            np.argsort(-ranked, axis=1, kind="stable")[:, :closest] if closest > 1 else ranked.argmax(axis=1)[:, None]
        )
        members, allowed, margin = (np.take_along_axis(v, near, axis=1) for v in (members, allowed, margin))
        low, high = (np.take_along_axis(v, near[:, :, None], axis=1) for v in (low, high))
    tolerance = shelf.middle.tolerance[body][:, None, None]
    right = ((spare >= 0) & lift.holding)[:, None]
    chance = probability(lift.chances.spread, tolerance, np.exp(low), np.exp(high))
    odds = np.where(allowed, (chance * right).mean(axis=-1), -1.0)
    best = np.argmax(odds + MARGIN_WEIGHT * margin, axis=1)[:, None]
    entry, odds, margin = (np.take_along_axis(v, best, axis=1)[:, 0] for v in (members, odds, margin))
    return Scored(shelf.index[entry], odds, margin)
