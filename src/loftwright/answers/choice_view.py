"""The choice of springs as one page of text and figures, ready to show."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from loftwright.answers.choose import Chosen
from loftwright.answers.choose_holes import HoleNumbers
from loftwright.answers.choose_roofs import ends_at
from loftwright.answers.choose_search import NOTHING_WORKS, Candidate
from loftwright.answers.choose_together import RatingNumbers
from loftwright.answers.hole_words import body, card_of, hole_row, lip_heights, place
from loftwright.answers.odds_words import gain_words, lower, of_100
from loftwright.answers.roof_odds import Fails
from loftwright.answers.to_measure import Task
from loftwright.answers.views import cautions_of, wording
from loftwright.core.choice_views import (
    Advice,
    ChoicePage,
    Ratings,
    Shortfall,
    SpringAnswer,
    Worth,
)
from loftwright.core.version import MADE_WITH
from loftwright.core.views import Caution, Fact
from loftwright.core.wording import Wording, hundredths
from loftwright.project.plane import CROSSWISE, SIDE_NOTES, plane_of

SPRINGS_OUT = (
    "Never move, fit or take off a spring unless the shell is propped and two people are there; a spring that is "
    "pushed in jumps."
)
"""The caution of whoever moves springs from hole to hole."""


def choice_page(chosen: Chosen) -> ChoicePage:
    """Return everything said about the choice of springs on one page."""
    project = chosen.project
    say = wording(project)
    best, row = chosen.best, chosen.holes
    return ChoicePage(
        name=project.name,
        subtitle=_subtitle(chosen),
        measure=tuple(_worth(gain.task, gain.before, gain.after, gain_words(gain)) for gain in chosen.gains)
        or tuple(_worth(task, chosen.together, chosen.together, TELLS) for task in chosen.leads),
        planned=None if chosen.planned is None else hundredths(chosen.planned),
        planned_rest=() if chosen.planned is None else _rest(chosen.planned_rest),
        best=None if best is None else _answer(chosen, best, say),
        others=tuple(_answer(chosen, one, say) for one in chosen.others),
        holes=None
        if best is None or row is None
        else hole_row(row, say, plane_of(project).near, take=_take(chosen, best, row, say)),
        card=None if best is None or row is None else card_of(row, say, lip_heights(best.drawn, say)),
        ratings=None if best is None or chosen.ratings is None else _ratings(chosen, chosen.ratings, row, say),
        in_the_way=_rest(best.rest) if best is not None and best.odds < NOTHING_WORKS else (),
        advice=tuple(
            Advice(
                one.words(say),
                hundredths(one.odds),
                f"{one.words(say)[0].upper()}{one.words(say)[1:]}: {of_100(one.odds)} roofs like yours then meet "
                f"everything{'' if one.frees else ', the nearest that was found'}",
                tuple(change.path for change, _ in one.change if change.path),
            )
            for one in chosen.advice
        ),
        searched=searched(chosen),
        cautions=tuple(Caution(text) for text in (SPRINGS_OUT, *cautions_of(project))),
        assumptions=_assumed(chosen),
        units=project.settings.units,
        made_with=MADE_WITH,
        measure_note=_measure_note(chosen),
    )


TELLS = "tells much about which springs fit"
"""Said of a reading that brings nearer without adding to the odds by itself."""


def _worth(task: Task, before: float, after: float, words: str) -> Worth:
    return Worth(task.how.title, task.how.minutes, task.how.how, hundredths(before), hundredths(after), words)


def _measure_note(chosen: Chosen) -> str:
    if chosen.gains or chosen.best is None:
        return ""
    if not chosen.leads and chosen.stopped:
        return "Stopped before it was looked at what is worth measuring."
    if not chosen.leads:
        return "No reading would change what to choose: what is left is chance."
    before, after = hundredths(chosen.best.odds), hundredths(chosen.together)
    said = "No reading alone adds 1 of 100"
    if after > before and len(chosen.leads) > 1:
        return f"{said}; these {len(chosen.leads)} together: {before} to {after} of 100."
    return f"{said}: too much is open at once. Begin with these, and ask again."


NOTHING_YET = "stopped before any springs were found"


def _subtitle(chosen: Chosen) -> str:
    if chosen.best is None:
        return NOTHING_YET if chosen.stopped else "no springs of this list fit into these zones"
    if chosen.best.odds < NOTHING_WORKS:
        said = f"nothing that was tried works: the best meets everything in {of_100(chosen.best.odds)} roofs like yours"
    else:
        said = f"the best springs found meet everything in {of_100(chosen.best.odds)} roofs like yours"
    if chosen.planned is not None:
        said += f"; those of the file in {of_100(chosen.planned)}"
    return f"{said}. A prop or lock that cannot slip is required for that" if chosen.prop_needed else said


def searched(chosen: Chosen) -> str:
    """Return what was tried, in a sentence."""
    found = chosen.found
    stopped = " Stopped before the end: this is the best so far." if chosen.stopped else ""
    return (
        f"Tried: {found.springs} springs in {found.mounts} places, on {found.draws} drawn roofs; the best were judged "
        f"by every rule, and their odds claimed on {2 * chosen.draws} fresh ones.{stopped}"
    )


def _rest(fails: Sequence[Fails]) -> tuple[Shortfall, ...]:
    def words(one: Fails) -> str:
        return f"{one.rule.title} ({one.which})" if one.which else one.rule.title

    return tuple(Shortfall(one.rule.id, words(one), hundredths(one.share)) for one in fails)


def _answer(chosen: Chosen, one: Candidate, say: Wording) -> SpringAnswer:
    entries, i = chosen.listed.entries, one.fit.entry
    fitted = one.drawn.roof.fitted[0]
    squeezed = one.drawn.felt.compressions[0][0]
    stroke = float(entries.stroke[i])
    price = float(entries.price[i])
    edge = plane_of(chosen.project).near
    foot, head = place(one.fit.foot_x, one.fit.foot_z, say, edge), place(one.fit.head_x, one.fit.head_z, say, edge)
    facts = [
        Fact("Force F1", say.force(float(entries.force_1[i])), "moving out, near full extension, 20 °C, new"),
        Fact("How many", f"{one.pair.count}", f"{one.pair.per_side} on each side"),
        Fact("Stroke", say.short_length(stroke), f"extended {say.short_length(float(entries.extended[i]))}"),
        Fact(
            "Rod and tube",
            f"{say.short_length(float(entries.rod_diameter[i]))} / {say.short_length(float(entries.tube_diameter[i]))}",
        ),
        Fact("Foot", foot, f"on {body(one.pair.foot.on)}, {one.pair.foot.name}"),
        Fact("Head", head, f"on {body(one.pair.head.on)}, {one.pair.head.name}"),
        Fact(
            "Stroke left, closed and open",
            f"{say.short_length(stroke - float(squeezed.max()))} / {say.short_length(float(squeezed.min()))}",
        ),
        Fact("Greatest push of one", say.force(float(one.drawn.felt.end_force[0][0].max())), "hot from the sun"),
    ]
    if not math.isnan(price):
        facts.append(Fact("Price of one", say.money(price, chosen.listed.currency)))
    rest = _rest(one.rest)
    why = f"meets everything in {of_100(one.odds)} roofs like yours"
    if rest:
        why += f"; most of the rest: {lower(rest[0].title)} ({rest[0].fails} of 100)"
    return SpringAnswer(fitted.name, hundredths(one.odds), tuple(facts), rest, why)


# --- holes and forces -------------------------------------------------------------------------------


def _take(chosen: Chosen, best: Candidate, row: HoleNumbers, say: Wording) -> str:
    """Return what is ordered with the holes where it is not the best single springs, or not in their place."""
    entries, i = chosen.listed.entries, row.fit.entry
    if i == best.fit.entry and row.pair == best.pair:
        same = np.isclose(row.ends.table, ends_at(best.fit).table, atol=1e-6).all(axis=1).any()
        return "" if same else "With holes, the same springs go into other places than alone: those below."
    price = float(entries.price[i])
    parts = [
        f"force F1 {say.force(float(entries.force_1[i]))}",
        f"stroke {say.short_length(float(entries.stroke[i]))}",
        f"extended {say.short_length(float(entries.extended[i]))}",
        f"rod and tube {say.short_length(float(entries.rod_diameter[i]))} / "
        f"{say.short_length(float(entries.tube_diameter[i]))}",
        f"{row.pair.per_side} on each side",
        *(() if math.isnan(price) else (f"{say.money(price, chosen.listed.currency)} each",)),
    ]
    return f"With holes, take these springs instead: {row.name}; {', '.join(parts)}."


def _ratings(chosen: Chosen, found: RatingNumbers, row: HoleNumbers | None, say: Wording) -> Ratings:
    forces = tuple(say.force(float(force)) for force in found.force_1)
    odds = hundredths(found.odds)
    edge = plane_of(chosen.project).near
    named = [f"{name} ({force})" for name, force in zip(found.names, forces, strict=True)]
    words = (
        f"Order {', '.join(named[:-1])} and {named[-1]} together, each for holes of its own: in {odds} of 100 roofs "
        "one of them works"
    )
    if row is not None and found.versus is not None:
        beats = f"one kind with its {row.drilled} holes does it in {of_100(row.odds)}"
        if not found.versus.clear:
            beats += "; there is nothing to choose between them"
        words += f"; {beats}"
    where = []
    for name, fit in zip(named, found.fits, strict=True):
        pair = chosen.pairs[fit.pair]
        where.append(
            f"{name}: foot on {body(pair.foot.on)} {place(fit.foot_x, fit.foot_z, say, edge)}; "
            f"head on {body(pair.head.on)} {place(fit.head_x, fit.head_z, say, edge)}."
        )
    return Ratings(forces, odds, f"{words}. Fit {found.names[0]} first.", tuple(where))


def _assumed(chosen: Chosen) -> tuple[str, ...]:
    said = list(chosen.said)
    if chosen.prop_needed:
        said.append(
            "A positive prop or lock is required and taken as fitted: without one, no springs in these zones keep the "
            "open roof up when one spring fails, or in the gust."
        )
    if chosen.project.spring:
        said.append("Brackets, and the damping inside the springs, are taken as those of the springs in the file.")
    if chosen.unjudged:
        titles = dict.fromkeys(lower(rule.title) for rule, _ in chosen.unjudged)
        said.append(f"Not judged yet and left out of the odds: {'; '.join(titles)}.")
    sides = SIDE_NOTES if plane_of(chosen.project) is CROSSWISE else ()
    return (*said, *sides, *chosen.project.taken)
