"""What is said of the cloth walls as plain text, fitted to a width."""

from __future__ import annotations

from loftwright.core.wall_views import FoldPlace, RollNeed, WallPage, WallPart, WallSection
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


def wall_text(page: WallPage, look: Look, *, brief: bool = False) -> str:
    """Return what `walls` says of one roof; `brief` keeps the answers and the worst judgements."""
    lines = page_lines(page, look)
    lines += heading(look, f"Of {len(page.rows)} judgements {page.tally.text()}.")
    lines += short_lines(page.sections, look)
    lines += _note(page, look)
    lines += heading(look, "Verdicts, worst first")
    lines += verdict_lines(page.rows, look, brief=brief)
    if not brief:
        for section in page.sections:
            lines += _section(page, section, look)
        lines += heading(look, "Assumed") + points(page.assumptions, look)
    return page_text(page, lines, look)


def part_text(page: WallPage, part: WallPart, look: Look, *, brief: bool = False) -> str:
    """Return what `walls` says of one question alone; `brief` keeps the answer and the worst judgements."""
    section = page.section(part)
    note = _note(page, look) if part == "fold" else ()
    return alone_text(page, section, look, brief=brief, whole=_section(page, section, look), note=note)


def _note(page: WallPage, look: Look) -> list[str]:
    return ["", *look.wrapped(sentence(page.fold_note))] if page.fold_note else []


def _section(page: WallPage, section: WallSection, look: Look) -> list[str]:
    lines: list[str] = []
    if section.part == "sewing":
        lines += heading(look, "Order of sewing") + points(page.sewing, look)
        lines += grid_lines(page.bill, look)
        lines += heading(look, "First in paper") + points(page.trial, look)
    if section.part == "metres":
        for roll in page.rolls:
            lines += _roll(roll, look)
    if section.part == "fold":
        for place in page.places:
            lines += _place(place, look)
        if page.tucking:
            lines += heading(look, "Tucking it in") + points(page.tucking, look)
    return section_lines(section, look, lines)


def _roll(roll: RollNeed, look: Look) -> list[str]:
    stale = " (laid for an earlier version of the roof)" if roll.freshness == "stale" else ""
    said = ", ".join(text for text in (f"buy {roll.buy}", roll.waste, roll.price) if text)
    return look.wrapped(f"{roll.layout.material}: {said}{stale}", 2, 0) + (
        look.wrapped(roll.note, 2) if roll.note else []
    )


def _place(place: FoldPlace, look: Look) -> list[str]:
    inward = "" if place.tip.startswith("outside") else " inward of the lower line"
    named = (("tip", place.tip, inward), ("bundle", place.bundle, " high above the ring"))
    figures = [f"{what} {text}{where}" for what, text, where in named if text]
    figures += [f"hangs below the ring: {place.hang}"] if place.hang else []
    figures += [f"push on the closed shell {place.push}"] if place.push else []
    says = place.says if place.says.lower().startswith(place.name.lower()) else f"{place.name}: {place.says}"
    return look.wrapped(says, 2, 0) + (look.wrapped("; ".join(figures), 2) if figures else [])
