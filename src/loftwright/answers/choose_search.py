"""Parts of choosing springs: how the work is done, the search in drawn roofs, the exact judgement of one fit."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.choose_roofs import Drawn, drawn, ends_at
from loftwright.answers.roof_odds import Fails
from loftwright.choice.odds import chance_of
from loftwright.choice.search import Budget, Found, Level, Progress, where_for
from loftwright.choice.window import bounds
from loftwright.core.lifting import Entries, Fit, Lift, Pair
from loftwright.core.motion import Array
from loftwright.project.model import Project
from loftwright.project.stock import Listed

DRAWS: Final = 400
"""Roofs in which springs are searched and judged; odds are claimed in twice as many."""
FINALISTS: Final = 10
OTHERS: Final = 3
"""How many choices are judged exactly, and how many are shown beside the best."""
NOTHING_WORKS: Final = 0.3
"""Odds below which it is said what is in the way, and what would free the roof [1]: judgement."""
WORKS: Final = 0.5
"""Odds that advice must reach [1]: judgement."""
TRIALS: Final = 36
"""Searches spent on advice."""
QUICK_DRAWS: Final = 120
QUICK: Final = Budget(
    mounts=2_000, compared=300, few_draws=8, levels=(Level(32, 16, 5, 5, 0.15), Level(8, 64, 5, 5, 0.05)), judged=8
)
"""What one trial of advice may cost."""
MIDDLE: Final = Budget(
    mounts=16_000,
    compared=2_000,
    few_draws=10,
    levels=(
        Level(160, 16, 6, 6, 0.15),
        Level(64, 64, 6, 6, 0.06),
        Level(16, 200, 6, 6, 0.03),
        Level(8, 100_000, 4, 6, 0.015),
    ),
    judged=32,
)
"""What the search itself may cost: some seconds on a desk machine."""
SEARCH, JUDGE, LEARN, CLAIM, ADVICE = 101, 202, 303, 404, 505
# Added to the project's seed, so that no two steps share their draws.


@dataclass(frozen=True, slots=True)
class Candidate:
    """Springs in their holes, judged exactly: odds [1] that everything holds, and what fails in the rest.

    `drawn`: the roof fitted with them; `chance` [draws] that everything holds, its delivered force averaged.
    """

    fit: Fit
    pair: Pair
    odds: float
    rest: tuple[Fails, ...]
    drawn: Drawn
    chance: Array


@dataclass(frozen=True, slots=True)
class Work:
    """How the work is done: by whom, whom to tell how far it is, and when to stop."""

    executor: Executor | None = None
    progress: Progress | None = None
    cancelled: Callable[[], bool] | None = None

    def tell(self, share: float, text: str) -> None:
        """Say how far the work is."""
        if self.progress is not None:
            self.progress(share, text)

    def part(self, start: float, end: float) -> Progress | None:
        """Return a progress that fills one part of the whole."""
        tell = self.progress
        return None if tell is None else lambda share, text: tell(start + (end - start) * share, text)

    @property
    def stop(self) -> bool:
        """Whether to stop now."""
        return self.cancelled is not None and self.cancelled()


def best_odds(found: Found) -> float:
    """Return the odds of the best answer of a search [1]; nought without any."""
    return found.answers[0].odds if found.answers else 0.0


def searched(
    project: Project,
    listed: Listed,
    pairs: Sequence[Pair],
    seed: int,
    draws: int,
    budget: Budget,
    progress: Progress | None,
    work: Work,
    known: Sequence[Fit],
    wanted: int = 3 * FINALISTS,
) -> Found:
    """Return the springs and places likeliest to meet every rule that is linear in them, in `draws` drawn roofs.

    Known fits are starts; there are never more springs of a kind than the list has pieces.
    """
    return where_for(
        open_lift(drawn(project, draws, seed + SEARCH)),
        pairs,
        listed.entries,
        listed.pieces.tolist(),
        seed=seed,
        budget=budget,
        executor=work.executor,
        progress=progress,
        cancelled=work.cancelled,
        wanted=wanted,
        known=known,
    )


def open_lift(base: Drawn) -> Lift:
    """Return what a roof asks of springs that are still to be chosen."""
    holding = base.without_springs()
    # Where what no spring can change fails in most roofs, the springs are still chosen for the rest of the rules.
    if holding[base.rows.draws].mean() < 0.5:
        holding = base.roof.possible
    return base.lift(holding)


def judged_exactly(project: Project, entries: Entries, pair: Pair, fit: Fit, draws: int, seed: int) -> Candidate:
    """Return springs judged by every rule in fresh draws; `project` is fitted with them."""
    base = drawn(project, draws, seed)
    lift = base.lift()
    own = entries.pick(np.array([fit.entry]))
    chance = chance_of(lift, own, bounds(lift, pair, ends_at(fit), own))[0]
    return Candidate(fit, pair, float(chance.mean()), base.rest, base, chance)
