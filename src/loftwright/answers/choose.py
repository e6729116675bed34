"""Which springs in which holes: searched, judged by every rule in fresh draws, and insured.

Order: search in one set of draws; judge the finalists exactly in a second; choose holes, card and forces in a third
and claim odds in a fourth, so that nothing is claimed on the draws that it was chosen on. Where nothing works:
what is in the way, and changes that were searched anew before they are said.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from loftwright.answers.choose_advice import changed, changes
from loftwright.answers.choose_freed import Advised, advice_for
from loftwright.answers.choose_holes import METRIC, Hand, HoleNumbers, drilled_holes
from loftwright.answers.choose_measure import what_to_measure
from loftwright.answers.choose_roofs import (
    Drawn,
    clear_places,
    drawn,
    ends_at,
    fitted_with,
    joined,
    own_entry,
)
from loftwright.answers.choose_search import (
    CLAIM,
    DRAWS,
    FINALISTS,
    JUDGE,
    LEARN,
    MIDDLE,
    NOTHING_WORKS,
    OTHERS,
    Candidate,
    Work,
    best_odds,
    judged_exactly,
    searched,
)
from loftwright.answers.choose_together import RatingNumbers, choose_forces, choose_holes, marked
from loftwright.answers.roof_odds import Fails, Gain
from loftwright.answers.to_measure import Task
from loftwright.choice.odds import chance_of
from loftwright.choice.search import Budget, Found
from loftwright.choice.window import Ends, bounds
from loftwright.core.checks import Rule
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.lifting import Entries, Fit, Pair, Zone
from loftwright.mechanics.rules import ONE_LOST
from loftwright.project.model import Project
from loftwright.project.stock import Listed, entries_of
from loftwright.project.zones import zones_of


@dataclass(frozen=True, slots=True)
class Chosen:
    """Everything about the choice of springs for one project.

    `project` is the one searched: with a prop, where `prop_needed`. `own` is the place of the file's springs in the
    list (None: not among them). `planned` [1]: odds of the file's own springs (None without any), with what fails
    then. `found` is what the search looked at. `others` are unlike the best. `gains`: what to measure; where no reading
    alone adds anything, `leads` are those that tell most about which springs fit, and `together` the odds [1] after all
    of them. `in_the_way`: what fails with the best where nothing works.
    """

    project: Project
    listed: Listed
    own: int | None
    pairs: tuple[Pair, ...]
    found: Found
    draws: int
    prop_needed: bool
    planned: float | None
    planned_rest: tuple[Fails, ...]
    unjudged: tuple[tuple[Rule, str], ...]
    best: Candidate | None
    others: tuple[Candidate, ...]
    holes: HoleNumbers | None
    ratings: RatingNumbers | None
    gains: tuple[Gain, ...]
    leads: tuple[Task, ...]
    together: float
    in_the_way: tuple[Fails, ...]
    advice: tuple[Advised, ...]
    said: tuple[str, ...]
    broken_off: bool = False
    """Whether it was stopped after the search, while the best were judged and insured."""

    def is_own(self, one: Candidate) -> bool:
        """Whether these are the file's own springs, moved at most."""
        return one.fit.entry == self.own

    @property
    def stopped(self) -> bool:
        """Whether it was stopped before its end."""
        return self.found.stopped or self.broken_off


def choose(
    project: Project,
    listed: Listed,
    *,
    at_hand: bool = False,
    draws: int = DRAWS,
    budget: Budget | None = None,
    work: Work | None = None,
    hand: Hand = METRIC,
) -> Chosen:
    """Return the springs and holes that are likeliest to meet everything, with their insurance.

    `listed` is the list to choose from; with `at_hand`, only the springs of the project's [[at_hand]] are.
    `hand` says to what forces are read on the card and holes are marked out. Errors: ProjectFault when it is not said
    where brackets may sit, or when there are no springs at hand.
    """
    work = work or Work()
    places = zones_of(project)
    if not places.pairs:
        raise ProjectFault([NO_ZONE])
    if at_hand:
        if not project.at_hand:
            raise ProjectFault([NONE_AT_HAND])
        listed = entries_of(project.at_hand)
    known: list[Fit] = []
    own: int | None = None
    if not at_hand and len(project.spring) == 1:
        own = len(listed.entries.names)
        listed = replace(
            listed, entries=joined(listed.entries, own_entry(project)), pieces=np.append(listed.pieces, 12)
        )
        known = own_fit(project, places.pairs, len(listed.entries.names) - 1)
    seed = project.settings.seed
    work.tell(0.0, "drawing roofs")
    found = searched(project, listed, places.pairs, seed, draws, budget or MIDDLE, work.part(0.02, 0.5), work, known)
    prop_needed = False
    if not project.requirements.prop_fitted and best_odds(found) < NOTHING_WORKS and not work.stop:
        braced = changed(project, changes(project), {"prop": 1.0})
        with_prop = searched(
            braced, listed, places.pairs, seed, draws, budget or MIDDLE, work.part(0.02, 0.5), work, known
        )
        always_falls = any(one.rule == ONE_LOST.id and one.fails > 0.99 for one in found.in_the_way)
        if always_falls or best_odds(with_prop) > best_odds(found) + 0.1:
            project, found, prop_needed = braced, with_prop, True
    # With a prop where one is needed, so that springs are compared with springs.
    plan = drawn(project, 2 * draws, seed + CLAIM)
    work.tell(0.5, "judging the best by every rule")
    finalists = _finalists(project, listed.entries, places.pairs, found, known, draws, hand.grain, work)
    best, others = _ranked(project, listed.entries, finalists, draws, work)
    done = Chosen(
        project=project,
        listed=listed,
        own=own,
        pairs=places.pairs,
        found=found,
        draws=draws,
        prop_needed=prop_needed,
        planned=plan_odds(plan) if project.spring else None,
        planned_rest=plan.rest,
        unjudged=plan.unjudged if best is None else best.drawn.unjudged,
        best=best,
        others=others,
        holes=None,
        ratings=None,
        gains=(),
        leads=(),
        together=0.0 if best is None else best.odds,
        in_the_way=() if best is None else best.rest,
        advice=(),
        said=(*places.said, *listed.said),
    )
    if best is None or work.stop:
        return replace(done, broken_off=work.stop)
    if best.odds < NOTHING_WORKS:
        done = _measured(done, finalists, work)
        work.tell(0.75, "looking for what would free it")
        done = replace(done, advice=advice_for(project, listed, places.pairs, best, work=work))
    else:
        work.tell(0.75, "choosing holes")
        done = _insured(done, finalists, at_hand=at_hand, hand=hand, work=work)
    return replace(done, broken_off=work.stop)


NO_ZONE: Final = Fault(
    "[[zone]]",
    "not there",
    "it is not said where brackets of springs may sit",
    "write a zone for feet and one for heads, or a [[spring]] with its holes",
)
NONE_AT_HAND: Final = Fault(
    "[[at_hand]]", "not there", "no springs at hand are written down", "describe them in [[at_hand]], one table a kind"
)


def plan_odds(plan: Drawn) -> float:
    """Return the odds [1] that the file's own springs meet everything, averaged as those of all others are."""
    if len(plan.roof.fitted) != 1:
        return float(plan.meets.mean())
    spring = plan.project.spring[0]
    pair = Pair(
        Zone("", spring.foot_on, 0.0, 0.0, 0.0, 0.0, spring.place.nominal),
        Zone("", spring.head_on, 0.0, 0.0, 0.0, 0.0, spring.place.nominal + spring.sideways.nominal),
        spring.per_side,
    )
    ends = Ends(*(np.array([v.nominal]) for v in (spring.foot.x, spring.foot.z, spring.head.x, spring.head.z)))
    own, lift = own_entry(plan.project), plan.lift()
    return float(chance_of(lift, own, bounds(lift, pair, ends, own)).mean())


def own_fit(project: Project, pairs: Sequence[Pair], entry: int) -> list[Fit]:
    """Return the file's own springs as a fit, where their holes lie in a pair of zones; none elsewhere."""
    spring = project.spring[0]
    fx, fz, hx, hz = (v.nominal for v in (spring.foot.x, spring.foot.z, spring.head.x, spring.head.z))
    edge = 1e-9
    for i, pair in enumerate(pairs):
        foot, head = pair.foot, pair.head
        if (
            (foot.on, head.on, pair.per_side) == (spring.foot_on, spring.head_on, spring.per_side)
            and foot.x_low - edge <= fx <= foot.x_high + edge
            and foot.z_low - edge <= fz <= foot.z_high + edge
            and head.x_low - edge <= hx <= head.x_high + edge
            and head.z_low - edge <= hz <= head.z_high + edge
        ):
            return [Fit(i, entry, fx, fz, hx, hz)]
    return []


WORTH_MOVING: Final = 0.03
"""Odds [1] that other springs or holes must add before those of the file are given up: judgement."""


def _finalists(
    project: Project,
    entries: Entries,
    pairs: Sequence[Pair],
    found: Found,
    known: Sequence[Fit],
    draws: int,
    grain: float,
    work: Work,
) -> list[Candidate]:
    """Return the best that the nominal roof allows, judged exactly in fresh draws, best first.

    The file's own springs in their holes (`known`) stand first unless others are better by `WORTH_MOVING`.
    """
    clear = [(fit, fitted_with(project, entries, pairs, fit)) for fit in known]
    for answer in found.answers:
        fit = marked(answer.fit, pairs[answer.fit.pair], grain)
        fitted = fitted_with(project, entries, pairs, fit)
        if bool(clear_places(fitted, ends_at(fit))[0]):
            clear.append((fit, fitted))
    if len(clear) == len(known):
        # Said with what is in the way rather than not at all.
        clear += [(a.fit, fitted_with(project, entries, pairs, a.fit)) for a in found.answers[:1]]
    judged: list[Candidate] = []
    for number, (fit, fitted) in enumerate(clear[:FINALISTS]):
        if judged and work.stop:
            break
        work.tell(0.5 + 0.2 * number / FINALISTS, "judging the best by every rule")
        judged.append(judged_exactly(fitted, entries, pairs[fit.pair], fit, draws, project.settings.seed + JUDGE))
    # Holes that are there are not given up at all.
    stays = WORTH_MOVING if drilled_holes(project) is None else 1.0
    return sorted(judged, key=lambda one: -one.odds - (stays if one.fit in known else 0.0))


def _ranked(
    project: Project, entries: Entries, finalists: Sequence[Candidate], draws: int, work: Work
) -> tuple[Candidate | None, tuple[Candidate, ...]]:
    """Return the best and some others unlike it, with odds claimed in draws that chose none of them."""
    if not finalists:
        return None, ()
    claimed: list[Candidate] = []
    for one in (finalists[0], *_unlike(entries, finalists)):
        if claimed and work.stop:
            break
        again = judged_exactly(one.drawn.project, entries, one.pair, one.fit, 2 * draws, project.settings.seed + CLAIM)
        claimed.append(again)
    return claimed[0], tuple(claimed[1:])


def _unlike(entries: Entries, finalists: Sequence[Candidate]) -> list[Candidate]:
    """Return the best finalists of other springs than those before them."""
    seen, found = {int(entries.body[finalists[0].fit.entry])}, list[Candidate]()
    for one in finalists[1:]:
        body = int(entries.body[one.fit.entry])
        if body not in seen and len(found) < OTHERS:
            seen.add(body)
            found.append(one)
    return found


def _insured(done: Chosen, finalists: Sequence[Candidate], *, at_hand: bool, hand: Hand, work: Work) -> Chosen:
    """Return the choice with its row of holes, card, forces to order together, and what to measure."""
    best = done.best
    assert best is not None
    project, draws = best.drawn.project, 2 * done.draws
    learn = drawn(project, draws, done.project.settings.seed + LEARN)
    starts = [one.fit for one in finalists]
    # The best comes first: where nothing is better, springs stay where they are.
    starts.sort(key=lambda fit: fit != best.fit)
    there = drilled_holes(done.project) if done.is_own(best) else None
    holes = choose_holes(project, learn, best, done.listed, done.pairs, starts, draws, hand, there=there)
    if work.stop:
        return replace(done, holes=holes)
    work.tell(0.88, "choosing forces to order together")
    ratings = None
    if not at_hand:
        ratings = choose_forces(project, learn, done.listed, done.pairs, starts, draws, holes, hand)
    work.tell(0.94, "what is worth measuring")
    return _measured(replace(done, holes=holes, ratings=ratings), finalists, work)


def _measured(done: Chosen, finalists: Sequence[Candidate], work: Work) -> Chosen:
    """Return the choice with what to measure."""
    base = done.best.odds if done.best is not None else 0.0
    found = what_to_measure(done.listed, done.pairs, finalists, base, work.executor, work.cancelled or (lambda: False))
    return replace(done, gains=found.gains, leads=found.leads, together=found.together)
