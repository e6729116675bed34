"""Sheets on what is bought: the shopping list with boxes to tick, bars bar by bar, money."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any, Final

from loftwright.core.book_views import PAPER_MM, Paper
from loftwright.core.parts_pages import PartsGroup, PartsPage, PartText
from loftwright.documents.chapters import Chapter
from loftwright.documents.hold_pieces import rows_of
from loftwright.documents.work_pictures import bars_pictures
from loftwright.drawing.svg import svg

SHOPPING: Final = "What to buy"
BARS: Final = "Bars, cut one by one"
_MARGINS: Final = 60.0
"""Head and foot of a page of bars, its heading and sentence with them [mm]."""
_NOTE: Final = 90
"""A note of more characters than this stands under the other figures, as wide as the page."""
BAR_STEPS: Final = (
    "Mark from one end, in the order of the drawing; saw on the waste side of the line.",
    "Measure each piece before the next is marked: a short piece in a long bar can still be changed.",
    "Write its name on every piece. Deburr it before it is handled.",
)


def _line(line: PartText) -> dict[str, Any]:
    # What is bought says how much is needed already, unless it comes in packs.
    alike = line.buy == line.needed or line.buy.startswith(f"{line.needed} x ")
    return {
        "name": line.name,
        "buy": line.buy,
        "needed": "" if alike else f"needed {line.needed}",
        "price": line.price,
        "cost": line.cost,
        "ordered": line.status in ("only ordered", "in the garage"),
        "here": line.status == "in the garage",
        "note": "; ".join(filter(None, (line.note, line.remark))),
        "source": line.source,
        "before_cut": line.before_cut,
    }


def _group(group: PartsGroup) -> dict[str, Any]:
    title = group.title[0].upper() + group.title[1:]
    return {"title": title, "planned": group.planned, "lines": [_line(line) for line in group.lines]}


def shopping(page: PartsPage) -> Chapter:
    """Return the list of what is bought, group by group, with boxes to tick and room for the price."""
    return {
        "kind": "shopping",
        "title": SHOPPING,
        "says": page.says,
        "money": [asdict(fact) for fact in page.money if len(fact.note) <= _NOTE],
        "told": [asdict(fact) for fact in page.money if len(fact.note) > _NOTE],
        "groups": [_group(group) for group in page.groups],
        "rows": rows_of(page.rows),
        "assumptions": list(page.assumptions),
        "provenance": page.provenance,
    }


def bars(page: PartsPage, paper: Paper) -> Chapter:
    """Return how every bar is cut, section by section."""
    height = PAPER_MM[paper][1] - _MARGINS
    sections = [
        {
            "title": one.title[0].upper() + one.title[1:],
            "says": one.says,
            "source": one.source,
            "pictures": [svg(drawing) for drawing in bars_pictures(one, height=height)],
        }
        for one in page.bars
    ]
    return {
        "kind": "bars",
        "title": BARS,
        "steps": list(BAR_STEPS),
        "sections": [section for section in sections if section["pictures"]],
    }
