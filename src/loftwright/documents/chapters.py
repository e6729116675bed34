"""What printed books share: the width of a page's text, the paper that goes with units, and how chapters are bound."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from loftwright.core.book_views import BookPage, Paper
from loftwright.core.choices import Spelling
from loftwright.core.hold_views import HoldPage
from loftwright.core.wall_views import WallPage
from loftwright.documents.roof_sheet import cut
from loftwright.documents.typeset import Printed, chaptered

WIDTH: Final = 178.0
"""Width of the printed area of both papers [mm]."""
Chapter = dict[str, Any]


def paper_for(units: str) -> Paper:
    """Return the paper that goes with a system of units."""
    return "letter" if units == "imperial" else "a4"


def bound(
    page: BookPage | HoldPage | WallPage,
    chapters: Sequence[Chapter],
    paper: Paper,
    *,
    alone: bool,
    words: Spelling,
    own: tuple[str, ...],
) -> Printed:
    """Return chapters as one printed book under the page's name, or one `alone`; `own` names keep their words."""
    return chaptered(
        "book.typ",
        {
            "paper": "a4" if paper == "a4" else "us-letter",
            "name": cut(page.name, 160),
            "short": cut(page.name, 60),
            "subtitle": page.subtitle,
            "made_with": page.made_with,
            "alone": alone,
            "chapters": list(chapters),
        },
        words,
        own,
    )
