"""What is said of the fit-out as plain text, fitted to a width."""

from __future__ import annotations

from loftwright.core.fitting_pages import FittingPage, FittingPart, FittingSection, Offered
from loftwright.documents.hold_text import BRIEF_ROWS
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


def fitting_text(page: FittingPage, look: Look, *, brief: bool = False) -> str:
    """Return what `fitout` says of one roof; `brief` keeps the answers and the worst judgements."""
    lines = [look.bold(page.name), *look.wrapped(page.subtitle)]
    lines += heading(look, f"Of {len(page.rows)} judgements {page.tally.text()}.")
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
            lines += _section(page, section, look)
        lines += _offered(page.offered, look)
        lines += heading(look, "Assumed") + points(page.assumptions, look)
    lines += caution_lines(page.cautions, look)
    return as_text([*lines, "", *look.wrapped(page.provenance)])


def part_text(page: FittingPage, part: FittingPart, look: Look, *, brief: bool = False) -> str:
    """Return what `fitout` says of one question alone; `brief` keeps the answer and the worst judgements."""
    section = page.section(part)
    lines = [look.bold(page.name), *look.wrapped(page.subtitle)]
    if brief:
        lines += heading(look, section.title) + look.wrapped(sentence(section.says))
    else:
        lines += _section(page, section, look)
    if section.rows:
        lines += heading(look, f"Of {len(section.rows)} judgements {section.tally.text()}.")
    for row in section.rows[:BRIEF_ROWS] if brief else section.rows:
        lines += row_lines(row, look, brief=brief)
    if brief and len(section.rows) > BRIEF_ROWS:
        lines += look.wrapped(f"{len(section.rows) - BRIEF_ROWS} more without --brief.")
    lines += caution_lines(page.cautions, look)
    return as_text([*lines, "", *look.wrapped(page.provenance)])


def _section(page: FittingPage, section: FittingSection, look: Look) -> list[str]:
    """Return figures and tables of one question; its judgements stand among all of them."""
    lines = heading(look, section.title) + look.wrapped(sentence(section.says))
    lines += fact_lines(section.facts, look)
    for grid in section.grids:
        lines += grid_lines(grid, look)
    if section.part == "seal":
        lines += heading(look, "Weighing a sample of the seal") + points(page.seal.sample, look)
    if section.part == "panel" and page.wire is not None:
        lines += heading(look, "The way of the current")
        lines += points((f"{what}: {size}" for what, size in page.wire.parts), look)
    return lines + points(section.said, look)


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
