"""The tuning card: lines that a person follows at the van, from hole to hole, without any sums.

At a hole the builder takes the readings and goes down its lines. The first line that fits, and whose hole is not
ticked off yet, says where the spring goes next; where none fits, it stays. Holes tried are ticked, so that each is
tried once at most, and there is a greatest number of moves.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loftwright.core.motion import Array, Flags

Ints = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Condition:
    """Reading number `reading` is over `limit`, or (`over` false) at most `limit`. A reading not taken fits neither."""

    reading: int
    over: bool
    limit: float


@dataclass(frozen=True, slots=True)
class Line:
    """At hole `at`, if all `conditions` fit, go to hole `go`; the same hole: stay."""

    at: int
    conditions: tuple[Condition, ...]
    go: int


@dataclass(frozen=True, slots=True)
class TuningCard:
    """A card: the hole to start with, its lines in order, and the most moves.

    `learned` [1]: share of the draws learned from that end in a hole that works; `staying` [1]: without any move.
    """

    start: int
    lines: tuple[Line, ...]
    most_moves: int
    learned: float
    staying: float


@dataclass(frozen=True, slots=True)
class Followed:
    """Where a card leads: final hole and number of moves, each [draws]."""

    hole: Ints
    moves: Ints


def follow(card: TuningCard, readings: Array) -> Followed:
    """Return the hole in which a person who follows the card ends, and the number of moves, [draws].

    `readings` [1, readings x holes x draws]: what is read with the spring in each hole, in the units of the card;
    nan: not taken.
    """
    lines: list[list[Told]] = [[] for _ in range(readings.shape[1])]
    for line in card.lines:
        fits = np.ones(readings.shape[2], dtype=bool)
        for condition in line.conditions:
            seen = readings[condition.reading, line.at]
            fits &= seen > condition.limit if condition.over else seen <= condition.limit
        lines[line.at].append(Told(line.conditions, line.go, fits))
    rows = np.arange(readings.shape[2])
    at = np.full(rows.size, card.start, dtype=np.intp)
    return follow_lines(lines, card.most_moves, rows, at, 1 << at, np.zeros_like(at))


def ends_well(card: TuningCard, works: Flags, readings: Array) -> Flags:
    """Return whether following the card ends in a hole that works [draws].

    `works` [1, holes x draws]; `readings` [1, readings x holes x draws] as for `follow`.
    """
    return np.asarray(works[follow(card, readings).hole, np.arange(works.shape[1])])


@dataclass(frozen=True, slots=True)
class Told:
    """A line with its answer in every draw: `fits` [draws] at its own hole."""

    conditions: tuple[Condition, ...]
    go: int
    fits: Flags


def follow_lines(lines: list[list[Told]], most_moves: int, rows: Ints, at: Ints, ticks: Ints, moves: Ints) -> Followed:
    """Return where draws `rows` end that stand at holes `at`, with `ticks` as binary digits, after `moves`."""
    at, ticks, moves = at.copy(), ticks.copy(), moves.copy()
    under_way = np.flatnonzero(moves < most_moves)
    while under_way.size:
        here, gone = at[under_way], []
        for hole, listed in enumerate(lines):
            still = under_way[here == hole] if listed else under_way[:0]
            for line in listed:
                if not still.size:
                    break
                fits = line.fits[rows[still]]
                if line.go != hole:
                    fits &= (ticks[still] >> line.go) & 1 == 0
                    sent = still[fits]
                    at[sent] = line.go
                    gone.append(sent)
                still = still[~fits]
        moved = np.concatenate(gone) if gone else under_way[:0]
        ticks[moved] |= 1 << at[moved]
        moves[moved] += 1
        under_way = moved[moves[moved] < most_moves]
    return Followed(at, moves)
