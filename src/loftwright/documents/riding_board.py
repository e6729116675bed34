"""Fit-out, bars and order of work as drawings for the drawing board, as wide as its column."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from loftwright.core.choices import Spelling
from loftwright.core.fitting_pages import FittingPage, FittingPart
from loftwright.core.parts_pages import PartsPage
from loftwright.core.spelling import own_words
from loftwright.core.work_pages import WorkPage
from loftwright.documents.fitting_pictures import (
    loop_picture,
    room_picture,
    rose_picture,
    seal_picture,
    sun_picture,
    wiring_picture,
)
from loftwright.documents.hold_board import ROOMY_MM, drawn_width
from loftwright.documents.respelled import respelled_page
from loftwright.documents.typeset import printable
from loftwright.documents.work_pictures import bars_pictures, finish_picture
from loftwright.drawing.calendar_view import open_days, order_of_work
from loftwright.drawing.page import Drawing
from loftwright.drawing.svg import svg

SMALL_MM: Final = 100.0
"""What says little is drawn no wider than this."""
TWO_MM: Final = 140.0
"""From this width on two drawings stand side by side."""
BETWEEN_MM: Final = 5.0
"""Room between them."""


def _screen(drawing: Drawing | None, ids: str, words: Spelling, name: str) -> str:
    """Return a drawing for a screen, in the page's spelling; nothing for none. `ids` starts the ids within it."""
    if drawing is None:
        return ""
    made = svg(drawing, ids=ids, responsive=True, joined=True)
    return respelled_page(str(printable(made.replace("\n", " "))), words, own_words([name]))


def _screens(drawings: Iterable[Drawing | None], ids: str, page: FittingPage | PartsPage | WorkPage) -> tuple[str, ...]:
    made = (_screen(one, f"{ids}-{number}", page.words, page.name) for number, one in enumerate(drawings))
    return tuple(one for one in made if one)


def riding_drawings(page: FittingPage, *, width_px: float) -> dict[FittingPart, tuple[str, ...]]:
    """Return the drawings of each part of the fit-out as SVG for a column of `width_px` CSS pixels."""
    width = drawn_width(width_px)
    small = min(width, SMALL_MM)
    beside = (width - BETWEEN_MM) / 2 if width >= TWO_MM else width
    return {
        "seal": _screens((seal_picture(page, width=width),), "seal", page),
        "standing": _screens(
            (room_picture(page, closed=closed, width=beside, height=110.0) for closed in (False, True)), "room", page
        ),
        "panel": _screens(
            (
                sun_picture(page, width=width),
                rose_picture(page, width=small),
                loop_picture(page, width=width, height=90.0 if width >= ROOMY_MM else 150.0),
                wiring_picture(page, width=width),
            ),
            "panel",
            page,
        ),
    }


def bars_drawings(page: PartsPage, *, width_px: float) -> tuple[tuple[str, ...], ...]:
    """Return how the bars of each section are cut as SVG for a column of `width_px` CSS pixels."""
    width = drawn_width(width_px)
    return tuple(
        _screens(bars_pictures(bars, width=width), f"bars-{number}", page) for number, bars in enumerate(page.bars)
    )


def calendar_drawings(page: WorkPage, *, width_px: float) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return what is left to do over the days, and what is done, as SVG for a column of `width_px` CSS pixels."""
    opened = open_days(page.schedule)
    width = drawn_width(width_px)
    made = []
    for done in (False, True):
        tasks = tuple(one for one in page.schedule.tasks if one.done is done)
        some = replace(page.schedule, tasks=tasks)
        # The whole schedule knows since when and until when the roof is open.
        drawn = order_of_work(some, width=width, today=page.today, worked=page.worked, opened=opened) if tasks else ()
        made.append(_screens(drawn, "done" if done else "days", page))
    return made[0], made[1]


def finish_drawing(page: WorkPage, *, width_px: float) -> str:
    """Return on which day the plans end as SVG for a column of `width_px` CSS pixels; nothing once all is done."""
    return _screen(finish_picture(page, width=drawn_width(width_px)), "finish", page.words, page.name)
