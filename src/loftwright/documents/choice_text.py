"""The choice of springs as plain text, fitted to a width."""

from __future__ import annotations

from collections.abc import Sequence

from loftwright.core.choice_views import ChoicePage, HoleRow, Shortfall, SpringAnswer
from loftwright.documents.plain_text import Look, as_text, caution_lines, fact_lines, heading, points

SHOWN = ("How many", "Foot", "Head")
"""What is shown of the other choices."""
MEASURED, FAILING = 3, 4
"""How many measurements, and how many requirements that fail, are shown."""


def choice_text(page: ChoicePage, look: Look, *, brief: bool = False) -> str:
    """Return what `choose` says of one roof; `brief` leaves other choices, ways to measure and assumptions out."""
    lines = [look.bold(page.name), *_measure(page, look, brief=brief), ""]
    lines += look.wrapped(f"{page.subtitle[0].upper()}{page.subtitle[1:]}.")
    if page.advice or page.in_the_way:
        lines += heading(look, "In the way") + _shortfalls(page.in_the_way, look)
        lines += heading(look, "What would free it") + (
            points((f"{one.words}." for one in page.advice), look) or ["No change that was tried is enough."]
        )
    if page.best is not None:
        title = f"Springs: {page.best.name}" if not page.in_the_way else f"Nearest, not to be ordered: {page.best.name}"
        lines += heading(look, title) + _answer(page.best, look)
    if page.holes is not None:
        lines += _holes(page.holes, look)
    if page.card is not None:
        lines += heading(look, "Tuning card") + points(page.card.how, look)
        lines += [line for one in page.card.lines for line in look.wrapped(one.words, 2, 0)]
        lines += look.wrapped(f"{page.card.note[0].upper()}{page.card.note[1:]}.")
    if page.ratings is not None:
        lines += heading(look, "Forces to order together") + look.wrapped(page.ratings.words)
        lines += points(page.ratings.where, look)
    if page.others and not brief:
        lines += heading(look, "Other choices")
        for other in page.others:
            lines += look.wrapped(f"{other.name}: {other.why}.", 2, 0)
            lines += fact_lines([fact for fact in other.facts if fact.label in SHOWN], look)
    if not brief:
        lines += heading(look, "Assumed") + points(page.assumptions, look)
    lines += caution_lines(page.cautions, look)
    return as_text([*lines, "", *look.wrapped(page.searched)])


def _measure(page: ChoicePage, look: Look, *, brief: bool) -> list[str]:
    if not page.measure and not page.measure_note:
        return []
    lines = heading(look, "Measure first")
    lines += look.wrapped(page.measure_note)
    for number, one in enumerate(page.measure[:MEASURED], 1):
        minutes = f" ({one.minutes} min)" if one.minutes else ""
        lines += look.wrapped(f"{number}. {one.title}{minutes}: {one.gain}.", 3, 0)
        lines += [] if brief else look.wrapped(one.how, 3)
    return lines


def _answer(answer: SpringAnswer, look: Look) -> list[str]:
    why = look.wrapped(f"{answer.why[0].upper()}{answer.why[1:]}.")
    return [*why, *fact_lines(answer.facts, look), *_shortfalls(answer.rest[1:], look)]


def _shortfalls(rest: Sequence[Shortfall], look: Look) -> list[str]:
    return points((f"{one.title}: {one.fails} of 100" for one in rest[:FAILING]), look)


def _holes(row: HoleRow, look: Look) -> list[str]:
    if row.both:
        title = (
            f"Holes: {len(row.feet)} in {row.feet[0].body} for feet, {len(row.heads)} in {row.heads[0].body} for heads"
        )
    else:
        title = f"A row of {len(row.rows[0])} holes in {row.rows[0][0].body}"
    lines = heading(look, title) + (look.wrapped(row.take) if row.take else [])
    for holes, end in ((row.feet, "Foot hole"), (row.heads, "Head hole")):
        for hole in holes if len(holes) > 1 else ():
            start = "; start here" if hole.start else ""
            lines += look.wrapped(f"{end if row.both else 'Hole'} {hole.name}: {hole.words}{start}.", 2, 0)
    if row.fixed is not None:
        lines += look.wrapped(f"The other end in {row.fixed.body}: {row.fixed.words}.", 2, 0)
    if row.both:
        lines += look.wrapped(f"Places: {'; '.join(one.words.removeprefix('place ') for one in row.places)}.", 2, 0)
    return [*lines, *look.wrapped(f"{row.note[0].upper()}{row.note[1:]}.")]
