"""What pages with a section for each question have in common as plain text, fitted to a width."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, Protocol

from loftwright.core.section_views import Section
from loftwright.core.views import Caution, CheckRow
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

AnySection = Section[Any]


class Named(Protocol):
    """What every such page has at its beginning and its end."""

    @property
    def name(self) -> str:
        """The roof's name."""

    @property
    def subtitle(self) -> str:
        """A few words on it."""

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """What stands on every such page."""

    @property
    def provenance(self) -> str:
        """How much of it is measured, in a sentence."""


def page_lines(page: Named, look: Look) -> list[str]:
    """Return the beginning of a page: whose it is."""
    return [look.bold(page.name), *look.wrapped(page.subtitle)]


def page_text(page: Named, lines: Iterable[str], look: Look) -> str:
    """Return a page as text, with cautions and provenance at its end."""
    return as_text([*lines, *caution_lines(page.cautions, look), "", *look.wrapped(page.provenance)])


def short_lines(sections: Sequence[AnySection], look: Look) -> list[str]:
    """Return the answer to each question in a sentence."""
    lines = heading(look, "In short")
    for section in sections:
        lines += look.wrapped(f"{section.title}: {section.says}", 2, 0)
    return lines


def verdict_lines(rows: Sequence[CheckRow], look: Look, *, brief: bool) -> list[str]:
    """Return judgements; `brief` keeps the first ones and says how many more there are."""
    lines = [line for row in (rows[:BRIEF_ROWS] if brief else rows) for line in row_lines(row, look, brief=brief)]
    if brief and len(rows) > BRIEF_ROWS:
        lines += look.wrapped(f"{len(rows) - BRIEF_ROWS} more without --brief.")
    return lines


def section_lines(section: AnySection, look: Look, own: Iterable[str] = ()) -> list[str]:
    """Return figures and tables of one question; its judgements stand among all of them.

    `own` stands between its tables and what was taken for granted.
    """
    lines = _answer(section, look) + fact_lines(section.facts, look)
    for grid in section.grids:
        lines += grid_lines(grid, look)
    return [*lines, *own, *points(section.said, look)]


def alone_text(
    page: Named,
    section: AnySection,
    look: Look,
    *,
    brief: bool,
    whole: Iterable[str],
    note: Iterable[str] = (),
) -> str:
    """Return one question alone; `brief` keeps its answer, `note` and the worst judgements instead of `whole`."""
    lines = [*page_lines(page, look), *(_answer(section, look) if brief else whole), *note]
    if section.rows:
        lines += heading(look, f"Of {len(section.rows)} judgements {section.tally.text()}.")
    return page_text(page, lines + verdict_lines(section.rows, look, brief=brief), look)


def _answer(section: AnySection, look: Look) -> list[str]:
    return heading(look, section.title) + look.wrapped(sentence(section.says))
