"""Chapters of the build book on what rides on the roof and goes into it: seal, room, sun and cable, lift, lining."""

from __future__ import annotations

from typing import Final

from loftwright.core.book_views import PAPER_MM, Paper
from loftwright.core.fitting_pages import FittingPage, FittingPart, FittingSection
from loftwright.core.views import Grid
from loftwright.documents.chapters import Chapter
from loftwright.documents.fitting_pictures import (
    lift_table,
    loop_picture,
    room_picture,
    rose_picture,
    seal_picture,
    sun_picture,
    wiring_picture,
)
from loftwright.documents.hold_pieces import grid_of, section_of
from loftwright.drawing.page import Drawing
from loftwright.drawing.svg import svg

TITLES: Final[dict[FittingPart, str]] = {
    "seal": "The seal",
    "standing": "Room to stand",
    "panel": "Panel and wire",
    "lift": "Powered lift",
    "lining": "Lining and lamps",
}
NOT_PLANNED: Final = "Not planned yet"
SEAL_CARE: Final = (
    "The rim must be clean, dry and warm when the seal is glued; press it on from the joint round to the joint.",
    "Round the corners without pulling: a stretched seal shrinks back and opens its joint.",
)
_HALF: Final = 86.0
"""Width of a map of headroom, two of them side by side [mm]."""
_SEAL: Final = 224.0
"""Height of what stands beside the seal's path on its page [mm]."""


def _pictures(*drawings: Drawing | None) -> list[str]:
    return [svg(one) for one in drawings if one is not None]


def _planned(section: FittingSection) -> bool:
    return bool(section.rows or section.grids)


def _seal(page: FittingPage, paper: Paper) -> Chapter:
    return {
        "kind": "fit-out-part",
        "title": TITLES["seal"],
        "pictures": _pictures(seal_picture(page, height=PAPER_MM[paper][1] - _SEAL)),
        "beside": False,
        "section": section_of(page.section("seal")),
        "steps_title": "Weighing a sample of the seal",
        "steps": list(page.seal.sample),
        "fields": ["reading at half of the squeeze", "reading at the whole squeeze", "length of the sample"],
        "care": list(SEAL_CARE),
    }


def _standing(page: FittingPage) -> Chapter:
    pictures = _pictures(*(room_picture(page, closed=closed, width=_HALF) for closed in (False, True)))
    return {**_plain(page, "standing"), "pictures": pictures, "beside": len(pictures) > 1}


def _panel(page: FittingPage) -> Chapter:
    pictures = (sun_picture(page, height=58.0), rose_picture(page), loop_picture(page), wiring_picture(page))
    section = section_of(page.section("panel"))
    return {**_plain(page, "panel"), "pictures": _pictures(*pictures), "section": section}


def _lift(page: FittingPage) -> Chapter:
    chapter = _plain(page, "lift")
    rows = lift_table(page)
    if rows:
        note = "Cold and wet. Negative: the roof pushes or pulls the other way, and the actuator holds it back."
        table = Grid("What one actuator does over the travel", ("Open", "Raising", "Lowering"), rows, note)
        chapter["section"]["grids"].append(grid_of(table))
    return chapter


def _plain(page: FittingPage, part: FittingPart) -> Chapter:
    return {
        "kind": "fit-out-part",
        "title": TITLES[part],
        "pictures": [],
        "beside": False,
        "section": section_of(page.section(part)),
        "steps_title": "",
        "steps": [],
        "fields": [],
        "care": [],
    }


def _not_planned(page: FittingPage, sections: list[FittingSection]) -> Chapter:
    return {
        "kind": "fit-out-rest",
        "title": NOT_PLANNED,
        "sections": [section_of(section) for section in sections],
        "assumptions": [],
    }


def fit_chapters(page: FittingPage, paper: Paper) -> list[Chapter]:
    """Return the chapters on the fit-out; parts that the file leaves out stand together at the end."""
    made = {"standing": _standing, "panel": _panel, "lift": _lift}
    chapters: list[Chapter] = []
    absent: list[FittingSection] = []
    for section in page.sections:
        if section.part == "seal":
            chapters.append(_seal(page, paper))
        elif section.part in ("panel", "lift", "lining") and not _planned(section):
            absent.append(section)
        elif section.part in made:
            chapters.append(made[section.part](page))
        else:
            chapters.append(_plain(page, section.part))
    if absent:
        chapters.append(_not_planned(page, absent))
    return [{"number": "", **chapter} for chapter in chapters]
