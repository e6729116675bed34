"""What is said of fit and strength as plain text, fitted to a width."""

from __future__ import annotations

from loftwright.core.hold_views import GoNoGo, HoldPage, HoldPart, HoldSection, WindPlay
from loftwright.documents.plain_text import (
    Look,
    as_text,
    caution_lines,
    fact_lines,
    grid_lines,
    heading,
    points,
    row_lines,
)
from loftwright.documents.roof_sheet import sentence

BRIEF_ROWS = 8
"""How many judgements a brief page has, the worst."""


def hold_text(page: HoldPage, look: Look, *, brief: bool = False) -> str:
    """Return what `hold` says of one roof; `brief` keeps the answers and the worst judgements."""
    lines = [look.bold(page.name), *look.wrapped(page.subtitle)]
    lines += heading(look, f"Of {len(page.rows)} judgements {page.tally.text()}.")
    for line in page.wind_card[:1] if brief else page.wind_card:
        lines += look.wrapped(sentence(line))
    lines += heading(look, "In short")
    for section in page.sections:
        lines += look.wrapped(f"{section.title}: {section.says}", 2, 0)
    lines += heading(look, "Verdicts, worst first")
    for row in page.rows[:BRIEF_ROWS] if brief else page.rows:
        lines += row_lines(row, look, brief=brief)
    if brief and len(page.rows) > BRIEF_ROWS:
        lines += look.wrapped(f"{len(page.rows) - BRIEF_ROWS} more without --brief.")
    if not brief:
        for section in page.sections:
            lines += _section(section, look)
        if page.wind is not None:
            lines += _wind(page.wind, look)
        for grid in (page.ring_pieces, page.stock, page.holes):
            lines += grid_lines(grid, look)
        lines += heading(look, "Assumed") + points(page.assumptions, look)
    lines += _before(page.before_the_cut, look, brief=brief)
    lines += caution_lines(page.cautions, look)
    return as_text([*lines, "", *look.wrapped(page.provenance)])


def part_text(page: HoldPage, part: HoldPart, look: Look, *, brief: bool = False) -> str:
    """Return what `hold` says of one question alone; `brief` keeps the answer and the worst judgements."""
    section = page.section(part)
    lines = [look.bold(page.name), *look.wrapped(page.subtitle)]
    lines += heading(look, section.title) + look.wrapped(sentence(section.says)) if brief else _section(section, look)
    if not brief:
        for grid in {"opening": (page.ring_pieces, page.stock), "joints": (page.holes,)}.get(part, ()):
            lines += grid_lines(grid, look)
    lines += heading(look, f"Of {len(section.rows)} judgements {section.tally.text()}.")
    for row in section.rows[:BRIEF_ROWS] if brief else section.rows:
        lines += row_lines(row, look, brief=brief)
    if brief and len(section.rows) > BRIEF_ROWS:
        lines += look.wrapped(f"{len(section.rows) - BRIEF_ROWS} more without --brief.")
    lines += caution_lines(page.cautions, look)
    return as_text([*lines, "", *look.wrapped(page.provenance)])


def _section(section: HoldSection, look: Look) -> list[str]:
    """Return figures and tables of one question; its judgements stand among all of them."""
    lines = heading(look, section.title) + look.wrapped(sentence(section.says))
    lines += fact_lines(section.facts, look)
    for grid in section.grids:
        lines += grid_lines(grid, look)
    return lines + points(section.said, look)


def _wind(play: WindPlay, look: Look) -> list[str]:
    lines = heading(look, "Gust at which each part is at its limit")
    for part in play.parts:
        said = ", ".join(f"{name} {first}" for name, first in zip(play.directions, part.first, strict=True))
        lines += look.wrapped(f"{part.name} ({part.limit}): {said}", 2, 0)
    return lines


def _before(things: tuple[GoNoGo, ...], look: Look, *, brief: bool) -> list[str]:
    if not things:
        return []
    lines = heading(look, "Before the cut")
    for thing in things:
        word = look.verdict(thing.verdict)
        wide = len(Look().verdict(thing.verdict))
        told = look.wrapped(f"{thing.what}: {thing.state}" if thing.state else thing.what, wide)
        told[0] = word + told[0][wide:]
        lines += told
        if thing.do and not brief:
            lines += look.wrapped(f"Do: {thing.do}", wide)
    return lines
