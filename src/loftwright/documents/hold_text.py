"""What is said of fit and strength as plain text, fitted to a width."""

from __future__ import annotations

from loftwright.core.hold_views import GoNoGo, HoldPage, HoldPart, WindPlay
from loftwright.documents.plain_text import Look, grid_lines, heading, points
from loftwright.documents.roof_sheet import sentence
from loftwright.documents.section_text import (
    alone_text,
    page_lines,
    page_text,
    section_lines,
    short_lines,
    verdict_lines,
)


def hold_text(page: HoldPage, look: Look, *, brief: bool = False) -> str:
    """Return what `hold` says of one roof; `brief` keeps the answers and the worst judgements."""
    lines = page_lines(page, look)
    lines += heading(look, f"Of {len(page.rows)} judgements {page.tally.text()}.")
    for line in page.wind_card[:1] if brief else page.wind_card:
        lines += look.wrapped(sentence(line))
    lines += short_lines(page.sections, look)
    lines += heading(look, "Verdicts, worst first")
    lines += verdict_lines(page.rows, look, brief=brief)
    if not brief:
        for section in page.sections:
            lines += section_lines(section, look)
        if page.wind is not None:
            lines += _wind(page.wind, look)
        for grid in (page.ring_pieces, page.stock, page.holes):
            lines += grid_lines(grid, look)
        lines += heading(look, "Assumed") + points(page.assumptions, look)
    lines += _before(page.before_the_cut, look, brief=brief)
    return page_text(page, lines, look)


def part_text(page: HoldPage, part: HoldPart, look: Look, *, brief: bool = False) -> str:
    """Return what `hold` says of one question alone; `brief` keeps the answer and the worst judgements."""
    section = page.section(part)
    whole = section_lines(section, look)
    for grid in {"opening": (page.ring_pieces, page.stock), "joints": (page.holes,)}.get(part, ()):
        whole += grid_lines(grid, look)
    return alone_text(page, section, look, brief=brief, whole=whole)


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
