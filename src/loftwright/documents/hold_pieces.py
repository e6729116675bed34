"""What sheets on fit, strength and walls are made of: facts, judgements, tables, cautions, for the template."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from loftwright.core.checks import Verdict
from loftwright.core.fitting_pages import FittingSection
from loftwright.core.hold_views import HoldPage, HoldSection
from loftwright.core.views import CheckRow, Grid
from loftwright.core.wall_views import WallPage, WallSection
from loftwright.documents.roof_sheet import sentence

_HOLDING = 8
"""Judgements that hold, of one question, before the rest is counted only."""


def facts_of(section: HoldSection | WallSection | FittingSection) -> list[dict[str, str]]:
    """Return the facts of a section for the template."""
    return [asdict(fact) for fact in section.facts]


def rows_of(rows: Sequence[CheckRow]) -> list[dict[str, str]]:
    """Return judgements for the template."""
    keys = ("title", "value", "limit", "margin", "basis", "remedy", "source")
    return [{"verdict": r.verdict.value, **{k: getattr(r, k) for k in keys}} for r in rows]


def closest(rows: Sequence[CheckRow]) -> list[dict[str, str]]:
    """Return all that does not hold and what holds with least room; how many more hold stands below."""
    holding = [row for row in rows if row.verdict is Verdict.HOLDS]
    rest = holding[_HOLDING:] if len(holding) > _HOLDING + 1 else []
    made = rows_of([row for row in rows if row not in rest])
    if rest:
        blank = dict.fromkeys(("value", "limit", "margin", "basis", "remedy", "source"), "")
        made.append({"verdict": Verdict.HOLDS.value, "title": f"{len(rest)} more hold with more room", **blank})
    return made


def grid_of(grid: Grid) -> dict[str, Any]:
    """Return a table for the template."""
    return {
        "title": grid.title,
        "headings": list(grid.headings),
        "rows": [list(row) for row in grid.rows],
        "note": grid.note,
    }


def section_of(section: HoldSection | WallSection | FittingSection) -> dict[str, Any]:
    """Return a section for the template."""
    return {
        "title": section.title,
        "says": sentence(section.says),
        "facts": facts_of(section),
        "grids": [grid_of(grid) for grid in section.grids],
        "rows": closest(section.rows),
        "said": list(section.said),
    }


def cautions(page: HoldPage | WallPage, *more: str) -> list[str]:
    """Return what is said of a sheet's own dangers, then the page's cautions that it does not say already."""
    told = tuple(text.lower() for text in more)
    said = [c.text for c in page.cautions if not any(text.startswith(c.text.lower().rstrip(".")) for text in told)]
    return list(dict.fromkeys((*more, *said)))
