"""What is said of the fit-out as plain text, fitted to a width."""

from __future__ import annotations

from loftwright.core.fitting_pages import FittingPage, FittingPart, FittingSection, Offered
from loftwright.documents.plain_text import Look, heading, points
from loftwright.documents.section_text import (
    alone_text,
    page_lines,
    page_text,
    section_lines,
    short_lines,
    verdict_lines,
)


def fitting_text(page: FittingPage, look: Look, *, brief: bool = False) -> str:
    """Return what `fitout` says of one roof; `brief` keeps the answers and the worst judgements."""
    lines = page_lines(page, look)
    lines += heading(look, f"Of {len(page.rows)} judgements {page.tally.text()}.")
    lines += short_lines(page.sections, look)
    lines += heading(look, "Verdicts, worst first")
    lines += verdict_lines(page.rows, look, brief=brief)
    if not brief:
        for section in page.sections:
            lines += _section(page, section, look)
        lines += _offered(page.offered, look)
        lines += heading(look, "Assumed") + points(page.assumptions, look)
    return page_text(page, lines, look)


def part_text(page: FittingPage, part: FittingPart, look: Look, *, brief: bool = False) -> str:
    """Return what `fitout` says of one question alone; `brief` keeps the answer and the worst judgements."""
    section = page.section(part)
    return alone_text(page, section, look, brief=brief, whole=_section(page, section, look))


def _section(page: FittingPage, section: FittingSection, look: Look) -> list[str]:
    lines: list[str] = []
    if section.part == "seal":
        lines += heading(look, "Weighing a sample of the seal") + points(page.seal.sample, look)
    if section.part == "panel" and page.wire is not None:
        lines += heading(look, "The way of the current")
        lines += points((f"{what}: {size}" for what, size in page.wire.parts), look)
    return section_lines(section, look, lines)


def _offered(offered: tuple[Offered, ...], look: Look) -> list[str]:
    if not offered:
        return []
    lines = heading(look, "What your file could take over")
    for sentence_of in dict.fromkeys(one.sentence for one in offered):
        lines += look.wrapped(sentence_of, 2, 0)
        lines += [
            line
            for one in offered
            if one.sentence == sentence_of
            for line in look.wrapped(f"{one.path} = {one.text}", 4, 2)
        ]
    return lines
