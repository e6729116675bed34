"""The choice of springs as plain text, fitted to a width."""

from __future__ import annotations

from collections.abc import Sequence

from loftwright.core.choice_views import ChoicePage, HoleRow, Shortfall, SpringAnswer
from loftwright.documents.choice_words import (
    FAILING,
    MEASURED,
    hole_lines,
    holes_title,
    other_line,
    springs_title,
    worth_line,
)
from loftwright.documents.plain_text import Look, as_text, caution_lines, fact_lines, heading, points
from loftwright.documents.roof_sheet import sentence

SHOWN = ("How many", "Foot", "Head")
"""What is shown of the other choices."""


def choice_text(page: ChoicePage, look: Look, *, brief: bool = False) -> str:
    """Return what `choose` says of one roof; `brief` leaves other choices, ways to measure and assumptions out."""
    lines = [look.bold(page.name), *_measure(page, look, brief=brief), ""]
    lines += look.wrapped(sentence(page.subtitle))
    if page.advice or page.in_the_way:
        lines += heading(look, "In the way") + _shortfalls(page.in_the_way, look)
        lines += heading(look, "What would free it") + (
            points((f"{one.words}." for one in page.advice), look) or ["No change that was tried is enough."]
        )
    if page.best is not None:
        lines += heading(look, springs_title(page)) + _answer(page.best, look)
    if page.holes is not None:
        lines += _holes(page.holes, look)
    if page.card is not None:
        lines += heading(look, "Tuning card") + points(page.card.how, look)
        lines += [line for one in page.card.lines for line in look.wrapped(one.words, 2, 0)]
        lines += look.wrapped(sentence(page.card.note))
    if page.ratings is not None:
        lines += heading(look, "Forces to order together") + look.wrapped(page.ratings.words)
        lines += points(page.ratings.where, look)
    if page.others and not brief:
        lines += heading(look, "Other choices")
        for other in page.others:
            lines += look.wrapped(other_line(other), 2, 0)
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
        lines += look.wrapped(f"{number}. {worth_line(one)}", 3, 0)
        lines += [] if brief else look.wrapped(one.how, 3)
    return lines


def _answer(answer: SpringAnswer, look: Look) -> list[str]:
    why = look.wrapped(sentence(answer.why))
    return [*why, *fact_lines(answer.facts, look), *_shortfalls(answer.rest[1:], look)]


def _shortfalls(rest: Sequence[Shortfall], look: Look) -> list[str]:
    return points((f"{one.title}: {one.fails} of 100" for one in rest[:FAILING]), look)


def _holes(row: HoleRow, look: Look) -> list[str]:
    lines = heading(look, holes_title(row)) + (look.wrapped(row.take) if row.take else [])
    for line in hole_lines(row):
        lines += look.wrapped(line, 2, 0)
    return [*lines, *look.wrapped(sentence(row.note))]
