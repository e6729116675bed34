"""Fit and strength as data for the drawing board: the roof in wind to be looked up, the plan whose corners move."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from loftwright.answers.cut_grips import CutBoard
from loftwright.core.choices import Spelling, Units
from loftwright.core.hold_views import HoldPage
from loftwright.core.spelling import own_words
from loftwright.core.wording import Wording
from loftwright.documents.board_picture import length_unit
from loftwright.documents.respelled import respelled_page
from loftwright.documents.typeset import printable
from loftwright.drawing.page import Polygon
from loftwright.drawing.plan_view import cut_plan
from loftwright.drawing.svg import svg
from loftwright.drawing.wind_view import wanted_gust, wind_scene

PX_PER_MM = 4.8
"""CSS pixels for a millimetre of these drawings; their texts of 2.5 mm are 12 px high."""
LEAST_MM, MOST_MM = 60.0, 178.0
"""Narrowest and widest that they are drawn."""
WIDEST_SCENE_MM = 100.0
ROOMY_MM = 100.0
"""From this width on the plan of the cut has room for plates and their names."""


def drawn_width(width_px: float) -> float:
    """Return how wide a drawing is made for a column of `width_px` CSS pixels [mm]."""
    return min(max(width_px / PX_PER_MM, LEAST_MM), MOST_MM)


def wind_play(page: HoldPage) -> dict[str, Any] | None:
    """Return the raised roof over gusts and directions for the page's script; None where it is not judged."""
    play = page.wind
    if play is None or not play.directions or not play.gusts:
        return None
    return {
        "directions": list(play.directions),
        "gusts": list(play.gust_texts),
        "wanted": wanted_gust(play),
        "parts": [
            {
                "name": part.name,
                "limit": part.limit,
                "used": [[round(share, 4) for share in one] for one in part.used],
                "first": list(part.first),
            }
            for part in play.parts
        ],
        "held": [list(one) for one in play.held],
        "sway": [list(texts) for texts in play.sway_texts],
        "without": [list(texts) for texts in play.sway_without],
    }


def wind_scenes(page: HoldPage, *, width_px: float) -> tuple[tuple[str, str], ...]:
    """Return the raised roof in the wind from each side: what that is called, and its picture as SVG."""
    play = page.wind
    if play is None or not play.gusts:
        return ()
    width = min(drawn_width(width_px), WIDEST_SCENE_MM)
    found = []
    for number, direction in enumerate(play.directions):
        made = svg(wind_scene(play, number, width=width), ids=f"scene-{number}", responsive=True, joined=True)
        found.append((direction, _ready(made, page.words, page.name)))
    return tuple(found)


def cut_picture(board: CutBoard, *, width_px: float, units: Units, words: Spelling, name: str) -> dict[str, Any]:
    """Return the plan of the cut for a column of `width_px` CSS pixels, with the points that move it.

    `view` is the place of the opening's rear edge on the middle line [mm] and the scale [mm/m].
    """
    width = drawn_width(width_px)
    plan = board.plan if width >= ROOMY_MM else replace(board.plan, plates=(), sizes=board.plan.sizes[:2])
    drawing = cut_plan(plan, Wording(units), width=width, height=width)
    # The cut line is the one closed shape drawn so: where it lies tells where everything lies.
    cut = next(mark for mark in drawing.marks if isinstance(mark, Polygon) and mark.pen == "rim")
    xs, ys = [x for x, _ in cut.points], [y for _, y in cut.points]
    rear, half, front, _ = board.plan.opening
    scale = (max(xs) - min(xs)) / (front - rear)
    return {
        "svg": _ready(svg(drawing, ids="cut", responsive=True, joined=True), words, name),
        "view": [min(xs) - scale * rear, (min(ys) + max(ys)) / 2, scale],
        "size": [round(drawing.width, 3), round(drawing.height, 3)],
        "grips": [
            {
                "path": grip.name,
                "label": grip.label,
                "kind": "pivot" if grip.name == "radius" else "corner",
                "at": grip.at,
            }
            for grip in board.grips
        ],
        "steps": list(board.steps),
        "length": length_unit(units),
        "opening": [front, 2 * half],
        "radius": board.plan.radius,
    }


def _ready(made: str, words: Spelling, name: str) -> str:
    return respelled_page(str(printable(made.replace("\n", " "))), words, own_words([name]))
