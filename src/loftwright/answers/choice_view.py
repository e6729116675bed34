"""The choice of springs as one page of text and figures, ready to show."""

from __future__ import annotations

import math
from collections.abc import Sequence

from loftwright.answers.choose import Chosen
from loftwright.answers.choose_holes import ZERO_C, Hand, HoleNumbers, RatingNumbers
from loftwright.answers.choose_search import NOTHING_WORKS, Candidate
from loftwright.answers.odds_words import gain_words, lower, of_100
from loftwright.answers.roof_odds import Fails
from loftwright.answers.to_measure import Task
from loftwright.answers.views import wording
from loftwright.choice.card import Condition, Line
from loftwright.core.choice_views import (
    Advice,
    Card,
    CardLine,
    ChoicePage,
    Hole,
    HoleRow,
    Ratings,
    Shortfall,
    SpringAnswer,
    Worth,
)
from loftwright.core.choices import Edge, Units
from loftwright.core.units import Dimension, size_of
from loftwright.core.version import MADE_WITH
from loftwright.core.views import Caution, Fact
from loftwright.core.wording import Wording, hundredths
from loftwright.project.plane import CROSSWISE, SIDE_NOTES, plane_of
from loftwright.reference.cautions import ALWAYS

SPRINGS_OUT = (
    "Never move, fit or take off a spring unless the shell is propped and two people are there; a spring that is "
    "pushed in jumps."
)
"""The caution of whoever moves springs from hole to hole."""


def hand_of(units: Units) -> Hand:
    """Return what forces are read to and holes are marked out to, in the builder's units [N, m]."""
    if units == "imperial":
        return Hand(2 * size_of("lb", Dimension.FORCE), size_of("in") / 16)
    return Hand(size_of("kg", Dimension.FORCE), 0.001)


def place(x: float, z: float, say: Wording, edge: Edge = "rear") -> str:
    """Return where a hole sits in the closed roof, in words; x and z [m], x from `edge` of the opening."""
    beyond = "behind" if edge == "rear" else "outside"
    along = f"{say.short_length(abs(x))} {'from' if x >= 0 else beyond} the {edge} edge"
    if z == 0:
        return f"{along}, at roof height"
    return f"{along}, {say.short_length(abs(z))} {'above' if z > 0 else 'below'} the roof"


def body(name: str) -> str:
    """Return what a bracket is bolted to, in words."""
    return name if name.startswith("arm") else f"the {name}"


def choice_page(chosen: Chosen) -> ChoicePage:
    """Return everything said about the choice of springs on one page."""
    project = chosen.project
    say = wording(project)
    best = chosen.best
    return ChoicePage(
        name=project.name,
        subtitle=_subtitle(chosen),
        measure=tuple(_worth(gain.task, gain.before, gain.after, gain_words(gain)) for gain in chosen.gains)
        or tuple(_worth(task, chosen.together, chosen.together, TELLS) for task in chosen.leads),
        planned=None if chosen.planned is None else hundredths(chosen.planned),
        planned_rest=() if chosen.planned is None else _rest(chosen.planned_rest),
        best=None if best is None else _answer(chosen, best, say),
        others=tuple(_answer(chosen, one, say) for one in chosen.others),
        holes=None if best is None or chosen.holes is None else _holes(best, chosen.holes, say, plane_of(project).near),
        card=None if best is None or chosen.holes is None else _card(chosen.holes, say),
        ratings=None if best is None or chosen.ratings is None else _ratings(best, chosen.ratings, chosen.holes, say),
        in_the_way=_rest(best.rest) if best is not None and best.odds < NOTHING_WORKS else (),
        advice=tuple(
            Advice(
                one.words(say),
                hundredths(one.odds),
                f"{one.words(say)[0].upper()}{one.words(say)[1:]}: {of_100(one.odds)} roofs like yours then meet "
                f"everything{'' if one.frees else ', the nearest that was found'}",
            )
            for one in chosen.advice
        ),
        searched=searched(chosen),
        cautions=tuple(Caution(text) for text in (SPRINGS_OUT, *ALWAYS)),
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
    if not chosen.leads:
        return "No reading would change what to choose: what is left is chance."
    before, after = hundredths(chosen.best.odds), hundredths(chosen.together)
    said = "No reading alone adds 1 of 100"
    if after > before and len(chosen.leads) > 1:
        return f"{said}; these {len(chosen.leads)} together: {before} to {after} of 100."
    return f"{said}: too much is open at once. Begin with these, and ask again."


def _subtitle(chosen: Chosen) -> str:
    if chosen.best is None:
        return "no springs of this list fit into these zones"
    if chosen.best.odds < NOTHING_WORKS:
        said = f"nothing that was tried works: the best meets everything in {of_100(chosen.best.odds)} roofs like yours"
    else:
        said = f"the best springs found meet everything in {of_100(chosen.best.odds)} roofs like yours"
    return said if chosen.planned is None else f"{said}; those of the file in {of_100(chosen.planned)}"


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


# --- holes, card, forces -------------------------------------------------------------------------------


def _holes(best: Candidate, row: HoleNumbers, say: Wording, edge: Edge) -> HoleRow:
    ends = row.ends
    moving, still = (best.pair.foot, best.pair.head) if row.end == "foot" else (best.pair.head, best.pair.foot)
    x, z = (ends.foot_x, ends.foot_z) if row.end == "foot" else (ends.head_x, ends.head_z)
    other = (ends.head_x, ends.head_z) if row.end == "foot" else (ends.foot_x, ends.foot_z)
    start = row.row.holes.index(row.row.start)
    holes = tuple(
        Hole(
            number + 1,
            body(moving.on),
            1000.0 * float(x[number]),
            1000.0 * float(z[number]),
            number == start,
            place(float(x[number]), float(z[number]), say, edge),
        )
        for number in range(ends.count)
    )
    at = (float(other[0][0]), float(other[1][0]))
    fixed = Hole(0, body(still.on), 1000.0 * at[0], 1000.0 * at[1], False, place(*at, say, edge))
    odds, first = hundredths(row.row.odds), hundredths(row.row.first)
    with_card = first if row.card_odds is None else hundredths(row.card_odds)
    note = f"one hole alone works in {first} of 100 roofs, one of the row in {odds}, by the card alone {with_card}"
    return HoleRow(holes, fixed, odds, first, with_card, note)


def _card(row: HoleNumbers, say: Wording) -> Card | None:
    if row.card is None:
        return None
    how = (
        "Springs new and at the day's temperature, no rain, nothing on the roof; latches open.",
        "Push: with a luggage scale or bathroom scales at the handle, slowly, just as the lip leaves the seal.",
        "Pull: with the luggage scale on the strap, slowly, from fully open.",
        "Rises by itself: how far open the roof is when it no longer needs a push.",
        "Tick every hole you have tried; go down the lines of the hole you are at and take the first that fits and "
        f"whose hole is not ticked. At most {row.card.most_moves} moves.",
    )
    lines = tuple(_line(line, say) for line in row.card.lines)
    return Card(how, lines, "where no line fits, the springs stay where they are")


def _line(line: Line, say: Wording) -> CardLine:
    at, go = line.at + 1, 0 if line.go == line.at else line.go + 1
    reading = " and ".join(_condition(one, say) for one in line.conditions)
    then = "stay" if go == 0 else f"go to hole {go}"
    return CardLine(at, reading, go, f"At hole {at}: if {reading}, {then}.")


def _condition(one: Condition, say: Wording) -> str:
    word = "over" if one.over else "at most"
    if one.reading == 0:
        return f"the push to start is {word} {say.force_hand(one.limit)}"
    if one.reading == 1:
        return f"the pull to start down is {word} {say.force_hand(one.limit)}"
    if one.reading == 2:
        return f"the roof rises by itself from {'more than' if one.over else 'at most'} {say.percent(one.limit)} open"
    return f"the day is {'warmer than' if one.over else 'at most'} {say.temperature(one.limit + ZERO_C)}"


def _ratings(best: Candidate, found: RatingNumbers, row: HoleNumbers | None, say: Wording) -> Ratings:
    forces = tuple(say.force(float(force)) for force in found.force_1)
    odds = hundredths(found.order.odds)
    own = found.name == best.drawn.roof.fitted[0].name
    where = "the first hole" if own else "its holes"
    of = "" if own else f" of {found.name}"
    words = f"Order {', '.join(forces)}{of} together: in {odds} of 100 roofs one of them works in {where}"
    if row is not None and found.versus is not None:
        beats = "the row of holes with one force does it in " + of_100(row.row.odds)
        if not found.versus.clear:
            beats += "; there is nothing to choose between them"
        words += f"; {beats}"
    return Ratings(forces, odds, f"{words}.")


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
