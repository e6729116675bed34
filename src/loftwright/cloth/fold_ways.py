"""Which way a wall folds: many starts of the same strip, counted.

The direction is a choice that any small thing decides; no number from one run may be quoted.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, Protocol

import numpy as np

from loftwright.cloth.chain import Drive, Folded, Room, Start, Strand
from loftwright.cloth.fold_rules import INWARD
from loftwright.core.judged import Judged, against
from loftwright.core.motion import Array

Way = Literal["in", "out", "both"]
Said = Literal["always in", "always out", "not decided: add a pull here", "too few starts"]

_WAYS: tuple[Way, ...] = ("in", "out", "both")

OUTWARD_LIMIT = 0.015
"""Reaching less far than this to one side counts as not going there [m]: judgement."""
LEAST_STARTS = 20
"""Starts below which nothing is said of the direction."""
BOWS = (0.010, -0.010)
"""How the strip may hang before it comes down, inward and outward [m], by turns: judgement."""
REST_LIMIT = 1e-3
"""A run whose kinetic energy over weight times length is above this has not come to rest [1]: judgement."""


class Run(Protocol):
    """What lowers one strip once."""

    def __call__(self, strand: Strand, drive: Drive, room: Room, start: Start) -> Folded:
        """Return how the strip of `strand` comes to rest in `room`, lowered by `drive` from `start`."""


@dataclass(frozen=True, slots=True)
class Ending:
    """One run: its start, the way it went, and whether it came to rest."""

    start: Start
    way: Way
    folded: Folded
    rests: bool


@dataclass(frozen=True, slots=True)
class Ways:
    """All runs of one place, with the counts and what can be said."""

    name: str
    endings: tuple[Ending, ...]

    def count(self, way: Way) -> int:
        """Return how many runs went that way."""
        return sum(ending.way == way for ending in self.endings)

    @property
    def said(self) -> Said:
        """What can be said of the direction."""
        total = len(self.endings)
        if total < LEAST_STARTS:
            return "too few starts"
        if self.count("in") == total:
            return "always in"
        return "always out" if self.count("out") == total else "not decided: add a pull here"

    @property
    def unrested(self) -> int:
        """How many runs had not come to rest."""
        return sum(not ending.rests for ending in self.endings)

    @property
    def text(self) -> str:
        """The counts in one line."""
        total = len(self.endings)
        counts = ", ".join(f"{self.count(way)} {way}" for way in _WAYS)
        restless = f", {self.unrested} not at rest" if self.unrested else ""
        return f"{self.name}: {self.said} ({counts}, of {total}{restless})"

    def spread(self, of: Literal["inward", "outward", "bundle", "lift"], way: Way | None = "in") -> Array:
        """Return least, middle and greatest of one result over the runs that went `way`, [3] [m], lift in [N/m].

        Over all runs where none went that way or `way` is None. ValueError without runs.
        """
        chosen = [e for e in self.endings if way is None or e.way == way] or list(self.endings)
        if not chosen:
            raise ValueError("no run yet")
        return np.asarray(np.quantile([getattr(ending.folded, of) for ending in chosen], [0.0, 0.5, 1.0]))

    @property
    def shown(self) -> Ending:
        """The run to draw: of the commonest way the one of middle depth."""
        way = max(_WAYS, key=self.count)
        chosen = sorted((e for e in self.endings if e.way == way), key=lambda e: e.folded.inward)
        return chosen[len(chosen) // 2]


def way_of(inward: float, outward: float, limit: float = OUTWARD_LIMIT) -> Way:
    """Return the way of a run that reaches `inward` and `outward` [m] from the line between its clamps.

    "in" where it does not reach beyond `limit` [m] outward, "out" where it does, and "both" where it does so on both
    sides.
    """
    if outward <= limit:
        return "in"
    return "both" if inward > limit else "out"


def starts_of(count: int = LEAST_STARTS, bows: tuple[float, ...] = BOWS, seed: int = 1) -> tuple[Start, ...]:
    """Return `count` starts, each with a seed of its own from `seed` on, taking `bows` [m] by turns."""
    return tuple(Start(bows[i % len(bows)], seed + i) for i in range(count))


def many(
    name: str,
    strand: Strand,
    drive: Drive,
    room: Room | tuple[Room, ...],
    *,
    run: Run,
    starts: tuple[Start, ...] | None = None,
    tell: Callable[[float, str], None] = lambda share, text: None,
    stopped: Callable[[], bool] = lambda: False,
) -> Ways:
    """Return how a strip folds from many starts, the same `strand` and `drive` each time.

    Where `room` is several, each is tried with as many starts as there are `BOWS`, by turns.
    `run` lowers it once. `tell(share, text)` hears the share done [1] after every run; when `stopped()` becomes true
    the runs so far are returned. `starts` by default as `starts_of` has them.
    """
    every = starts_of() if starts is None else starts
    rooms = room if isinstance(room, tuple) else (room,)
    endings: list[Ending] = []
    for number, start in enumerate(every):
        if stopped():
            break
        folded = run(strand, drive, rooms[number // len(BOWS) % len(rooms)], start)
        endings.append(Ending(start, way_of(folded.inward, folded.outward), folded, folded.rest <= REST_LIMIT))
        tell(len(endings) / len(every), f"{name}: {len(endings)} of {len(every)} starts")
    return Ways(name, tuple(endings))


def could_still(count: int, chance: float = 0.05) -> float:
    """Return the greatest share of other endings [1] that `count` equal ones leave open, 1 - chance^(1/count) (1).

    `chance` [1] is that of being wrong. 20 runs that all went in still leave 14 in 100 open. ValueError without runs.
    Source: exact binomial bound for no event seen, derivation.

    >>> round(could_still(20), 3)
    0.139
    """
    if count < 1:
        raise ValueError("no run yet")
    return float(1.0 - chance ** (1.0 / count))


def inward_judged(ways: Ways) -> Judged:
    """Return the share of runs that went in [1] against all of them, for one place.

    Not known while there are fewer starts than `LEAST_STARTS`.
    """
    total = len(ways.endings)
    if total < LEAST_STARTS:
        return Judged(INWARD, None, None, ways.name, "let the fold be worked out from more starts")
    return against(INWARD, [ways.count("in") / total], [1.0], ways.name)
