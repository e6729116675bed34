"""What would free a roof for which no springs work: each change searched anew and judged exactly before it is said."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from loftwright.answers.choose_advice import WIDER, Change, changed, changes
from loftwright.answers.choose_roofs import fitted_with
from loftwright.answers.choose_search import (
    ADVICE,
    DRAWS,
    QUICK,
    QUICK_DRAWS,
    TRIALS,
    WORKS,
    Candidate,
    Work,
    best_odds,
    judged_exactly,
    searched,
)
from loftwright.choice.advice import Freed, advise
from loftwright.choice.search import Found
from loftwright.core.errors import CannotAssemble, ProjectFault
from loftwright.core.lifting import Pair
from loftwright.core.wording import Wording
from loftwright.project.model import Project
from loftwright.project.stock import Listed
from loftwright.project.zones import zones_of


@dataclass(frozen=True, slots=True)
class Advised:
    """A change that was tried: how it is said in the builder's units, and the odds after it [1]."""

    change: tuple[tuple[Change, float], ...]
    odds: float
    frees: bool

    def words(self, say: Wording) -> str:
        """Return the change in words."""
        return " and ".join(one.said(size, say) for one, size in self.change)


def advice_for(
    project: Project, listed: Listed, pairs: Sequence[Pair], best: Candidate, *, work: Work
) -> tuple[Advised, ...]:
    """Return changes that free the roof, each searched anew and judged exactly; else the nearest one."""
    every = changes(project)
    by_name = {one.kind.name: one for one in every}
    seed = project.settings.seed + ADVICE

    def found_after(sizes: Mapping[str, float], draws_seed: int) -> tuple[Project, Sequence[Pair], Found]:
        after = changed(project, every, sizes)
        around = wider(zones_of(after).pairs, sizes.get(WIDER, 0.0))
        quiet = Work(work.executor, None, work.cancelled)
        start = [replace(best.fit)] if len(around) == len(pairs) else []
        return (
            after,
            around,
            searched(after, listed, around, draws_seed, QUICK_DRAWS, QUICK, None, quiet, start, wanted=4),
        )

    def tried(sizes: Mapping[str, float]) -> float:
        if work.stop:
            return 0.0
        try:
            return best_odds(found_after(sizes, seed)[2])
        except (ProjectFault, CannotAssemble):
            # A roof that cannot be built frees nobody.
            return 0.0

    def confirmed(sizes: Mapping[str, float]) -> float:
        try:
            after, around, found = found_after(sizes, seed)
        except (ProjectFault, CannotAssemble):
            return 0.0
        odds = 0.0
        for answer in found.answers[:2]:
            fitted = fitted_with(after, listed.entries, around, answer.fit)
            exact = judged_exactly(fitted, listed.entries, around[answer.fit.pair], answer.fit, DRAWS, seed + 1)
            odds = max(odds, exact.odds)
        return odds

    fails = {one.rule.id: one.share for one in best.rest}
    kinds = [one.kind for one in every if one.kind.eases & fails.keys()]
    result = advise(kinds, tried, WORKS, fails, TRIALS, confirmed)

    def said(freed: Freed, *, frees: bool) -> Advised:
        return Advised(tuple((by_name[name], size) for name, size in freed.sizes), freed.odds, frees)

    if result.freed:
        return tuple(said(freed, frees=True) for freed in result.freed[:3])
    near = result.nearest
    if near is None or work.stop:
        return ()
    # The nearest is judged exactly too before it is said.
    odds = confirmed(dict(near.sizes))
    return (said(replace(near, odds=odds), frees=odds >= WORKS),) if odds > best.odds + 0.02 else ()


def wider(pairs: Sequence[Pair], by: float) -> tuple[Pair, ...]:
    """Return pairs of zones that reach further on every side by so much [m]."""

    def grown(pair: Pair) -> Pair:
        zones = (
            replace(
                zone, x_low=zone.x_low - by, x_high=zone.x_high + by, z_low=zone.z_low - by, z_high=zone.z_high + by
            )
            for zone in (pair.foot, pair.head)
        )
        return Pair(next(zones), next(zones), pair.per_side)

    return tuple(grown(pair) for pair in pairs) if by else tuple(pairs)
