"""The search for springs and for the places of their ends: many mounts judged roughly, few of them exactly.

1. Mounts spread evenly over the free coordinates of each pair of zones; every body of springs whose length fits is
   judged there in one typical draw.
2. The best that are unlike one another are judged in a few draws.
3. Those left are moved by shrinking steps, in more and more draws, fewer and fewer of them. Draws are the same for
   all (common random numbers); a move is kept only if it scores better.
4. The last ones get their exact odds in all draws.

The work is cut into jobs whose size and chances do not depend on who does them, so that a seed has one answer.
Guaranteed: on the draws of the lift the best answer is no worse in odds than any of the `known` fits that may be
taken, so that a wider zone, a longer list or looser limits, started from the answers of the narrower one, never lower
the best odds. Without `known` the search is a good one, not a proof.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from loftwright.choice.moves import Lot, together, unlike
from loftwright.choice.odds import Share, margin_of, odds_of, shares
from loftwright.choice.scoring import Index
from loftwright.choice.stages import Stages, Work
from loftwright.choice.window import bounds, ends_of
from loftwright.core.errors import Bug
from loftwright.core.lifting import Entries, Fit, Lift, Pair

Progress = Callable[[float, str], None]
"""(share done [1], what is being done) -> nothing."""
J = TypeVar("J")
R = TypeVar("R")


@dataclass(frozen=True, slots=True)
class Level:
    """One stage of moving: how many mounts, in how many draws, by how many moves, and the first step [1] of a zone."""

    kept: int
    draws: int
    rounds: int
    moves: int
    step: float


@dataclass(frozen=True, slots=True)
class Budget:
    """How much is tried. `Budget()` takes a few seconds for 2 000 springs, `Budget.small()` about half a second.

    `mounts`: places looked at in one draw, all pairs of zones together, with no more than `looks` bodies of springs on
    them; `compared`: how many of them in `few_draws`; then the `levels`; `judged`: how many get exact odds.
    """

    mounts: int = 40_000
    looks: int = 300_000
    compared: int = 4_000
    few_draws: int = 12
    levels: tuple[Level, ...] = (
        Level(288, 16, 12, 8, 0.15),
        Level(96, 64, 12, 8, 0.08),
        Level(24, 1_000_000, 10, 6, 0.04),
    )
    judged: int = 48

    @classmethod
    def small(cls) -> Budget:
        """Return the budget of a quick look."""
        return cls(
            mounts=6_000,
            looks=40_000,
            compared=1_000,
            levels=(Level(96, 12, 12, 6, 0.15), Level(24, 64, 12, 6, 0.08), Level(6, 1_000_000, 10, 6, 0.04)),
            judged=16,
        )


@dataclass(frozen=True, slots=True)
class Answer:
    """One choice: odds [1] in all draws with the delivered chance averaged, and mean log margin [1]."""

    fit: Fit
    odds: float
    margin: float


@dataclass(frozen=True, slots=True)
class Found:
    """What the search found: `answers` best first (by odds, then margin) and unlike one another.

    `mounts`, `springs`, `scored`: places looked at, entries tried, and how many times a body of springs was scored at
    a place; `stopped`: cancelled before the end, the answers are the best so far. `in_the_way`: in what share of
    roofs each requirement fails with the best answer (even when its odds are nought), most often first.
    """

    answers: tuple[Answer, ...]
    mounts: int
    springs: int
    scored: int
    draws: int
    stopped: bool
    in_the_way: tuple[Share, ...]


def judged(lift: Lift, pairs: Sequence[Pair], entries: Entries, fits: Sequence[Fit]) -> tuple[Answer, ...]:
    """Return the exact odds of fits in all draws of a lift, in their order.

    Odds of the best of many on the draws that chose it are a little too good; fresh draws tell them without that.
    """
    found: dict[int, Answer] = {}
    for which in sorted({fit.pair for fit in fits}):
        places = [i for i, fit in enumerate(fits) if fit.pair == which]
        own = [fits[i] for i in places]
        picked = entries.pick(np.array([fit.entry for fit in own], dtype=np.intp))
        window = bounds(lift, pairs[which], ends_of(own), picked)
        values = zip(places, own, odds_of(lift, picked, window), margin_of(window), strict=True)
        found |= {i: Answer(fit, float(odds), float(margin)) for i, fit, odds, margin in values}
    return tuple(found[i] for i in range(len(fits)))


def search(
    lift: Lift,
    pairs: Sequence[Pair],
    entries: Entries,
    *,
    seed: int,
    budget: Budget | None = None,
    executor: Executor | None = None,
    progress: Progress | None = None,
    cancelled: Callable[[], bool] | None = None,
    wanted: int = 8,
    known: Sequence[Fit] = (),
) -> Found:
    """Return the springs and mounts most likely to meet every demand.

    All draws count alike in the odds. The same `seed` gives the same
    answer with any `executor` (for a pool of processes the formulas must be functions of modules). `known` fits (pair
    and entry as places in `pairs` and `entries`, ends in the zones) are taken as starts and always judged, unless their
    springs may not be taken.
    """
    plenty = np.full(entries.force_1.size, np.iinfo(np.int64).max)
    work = Work(executor, progress, cancelled)
    return _search(lift, pairs, entries, plenty, seed, budget or Budget(), work, wanted, known)


def where_for(
    lift: Lift,
    pairs: Sequence[Pair],
    entries: Entries,
    pieces: Sequence[int],
    *,
    seed: int,
    budget: Budget | None = None,
    executor: Executor | None = None,
    progress: Progress | None = None,
    cancelled: Callable[[], bool] | None = None,
    wanted: int = 8,
    known: Sequence[Fit] = (),
) -> Found:
    """Return where to mount springs at hand: as `search`, with no more springs of an entry than there are `pieces`.

    Where nothing works, `Found.in_the_way` says which requirement fails at the best place found; with no answers at
    all there are too few springs for any pair, or all of them hold more pressure than is taken.
    """
    if len(pieces) != entries.force_1.size:
        raise Bug("each entry at hand needs its number of pieces")
    work = Work(executor, progress, cancelled)
    own = np.array(pieces, dtype=np.int64)
    return _search(lift, pairs, entries, own, seed, budget or Budget(), work, wanted, known)


_APART = 0.03
# Answers with the same body whose ends all lie closer [m] count as one.


def _fits(lot: Lot) -> list[Fit]:
    return [
        Fit(int(pair), int(entry), *(float(v) for v in row))
        for pair, entry, row in zip(lot.pair, lot.entry, lot.table, strict=True)
    ]


def _lot_of_fits(fits: Sequence[Fit]) -> Lot:
    if not fits:
        return together([])
    none = np.full(len(fits), -np.inf)
    pair, entry = (np.array([getattr(fit, name) for fit in fits], dtype=np.intp) for name in ("pair", "entry"))
    return Lot(pair, entry, ends_of(fits).table, none, none)


def _different(answers: Sequence[Answer], body: Index, wanted: int) -> tuple[Answer, ...]:
    """Return the first `wanted` answers that are unlike all those before them."""

    def alike(one: Fit, other: Fit) -> bool:
        apart = np.abs(np.diff(ends_of((one, other)).table, axis=0)).max()
        return bool(one.pair == other.pair and body[one.entry] == body[other.entry] and apart < _APART)

    kept: list[Answer] = []
    for answer in answers:
        if len(kept) == wanted:
            break
        if not any(alike(answer.fit, other.fit) for other in kept):
            kept.append(answer)
    return tuple(kept)


def _search(
    lift: Lift,
    pairs: Sequence[Pair],
    entries: Entries,
    pieces: NDArray[np.int64],
    seed: int,
    budget: Budget,
    work: Work,
    wanted: int,
    known: Sequence[Fit],
) -> Found:
    if not pairs:
        raise Bug("a search needs at least one pair of zones")
    run = Stages(lift, pairs, entries, pieces, seed, work)
    if not run.springs:
        return Found((), 0, 0, 0, lift.draws, False, ())
    known = [fit for fit in known if run.may_take(fit)]
    starts = _lot_of_fits(known)
    lot = run.first_look(budget.mounts, budget.looks, budget.compared // 2, (0.0, 0.3))
    lot = unlike(lot, run.boxes, cells=6, each=2).best(budget.compared)
    compared = run.compared(lot, budget.few_draws, (0.3, 0.35)) if lot.size else lot
    if compared.size:
        lot = unlike(compared, run.boxes, cells=4, each=2)
    tops = [lot.best(budget.judged // 4)]
    at = 0.35
    for key, level in enumerate(budget.levels):
        # What seems a little worse in few draws may be better in many: no spring takes more than a fifth of the places.
        lot = unlike(lot, run.boxes, cells=1, each=-(-level.kept // 5))
        lot = together([starts, lot.best(level.kept)])
        if work.stopped or not lot.size:
            break
        until = at + 0.6 / len(budget.levels)
        lot = run.moved(lot, level.draws, level.rounds, level.moves, level.step, key, (at, until))
        at = until
        lot = unlike(lot, run.boxes, cells=12, each=1)
        tops.append(lot.best(budget.judged // 2))
    work.tell(0.95, "counting the odds")
    # Those of the last stage come first: they were scored in the most draws.
    fits = list(dict.fromkeys([*known, *_fits(together(tops[::-1]))]))[: len(known) + budget.judged]
    answers = sorted(judged(lift, pairs, entries, fits), key=lambda a: (-a.odds, -a.margin))
    best = _different(answers, run.body, wanted)
    work.tell(1.0, "done")
    in_the_way: tuple[Share, ...] = ()
    if best:
        fit = best[0].fit
        own = entries.pick(np.array([fit.entry]))
        in_the_way = shares(lift, own, bounds(lift, pairs[fit.pair], ends_of([fit]), own))[0]
    return Found(best, run.mounts, run.springs, run.scored, lift.draws, work.stopped, in_the_way)
