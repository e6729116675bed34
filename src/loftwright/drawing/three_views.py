"""Side, rear and plan view of one roof, open with the closed shell dashed in the same place, at one scale."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from loftwright.core.solid import Solid
from loftwright.drawing.elevation import SCALES
from loftwright.drawing.legend import Sign, legend, sentences
from loftwright.drawing.nearness import far_to_near
from loftwright.drawing.page import XY, Drawing, Line, Polygon, Primitive, Text, text_width
from loftwright.drawing.parts import dimension
from loftwright.drawing.solid_seen import PLAN, REAR, SIDE, Shown, bounds, hull, shown_of
from loftwright.drawing.tiles import pointer, wrapped

_SIZE, _CAPTION, _FIGURE = 2.5, 2.9, 2.5
_GAP, _HEAD, _FOOT, _DIM = 9.0, 6.0, 8.0, 6.5
_STACKED = 120.0
"""Up to this width the views stand one under the other [mm]."""


@dataclass(frozen=True, slots=True)
class CoverWords:
    """Dimensions of the three views as ready texts, and lines of facts for the corner that stays free.

    `rise` of the shell's highest corner, `length` and `width` of the shell closed; empty ones are left out.
    """

    rise: str = ""
    length: str = ""
    width: str = ""
    title: str = ""
    facts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a view stands: page [mm] = x + scale right, y - scale up."""

    x: float
    y: float
    scale: float

    def at(self, spot: XY) -> XY:
        return self.x + self.scale * spot[0], self.y - self.scale * spot[1]


def three_views(solid: Solid, words: CoverWords, *, width: float, height: float = math.inf) -> Drawing:
    """Return the side view, the rear view beside it and the plan under it, the corner free for facts.

    The scale is the largest usual one at which all of it fits `width` and `height` [mm]; on a narrow page the views
    stand one under the other.
    """
    side, rear, plan = (shown_of(solid, way) for way in (SIDE, REAR, PLAN))
    if width < _STACKED:
        return _stacked((side, rear, plan), words, width)
    (sx0, sz0, sx1, sz1), (rx0, rz0, rx1, rz1) = side.box(), rear.box()
    px0, py0, px1, py1 = plan.box()
    x0, x1, z0, z1 = min(sx0, px0), max(sx1, px1), min(sz0, rz0), max(sz1, rz1)
    left = _DIM + 3.0 if words.rise else 0.5
    low = 4.0 + (_DIM if words.length else 0.0)
    ratio = SCALES[-1]
    for ratio in SCALES:
        s = 1000 / ratio
        wide = left + s * (x1 - x0) + _GAP + s * (rx1 - rx0) + 0.5
        tall = _HEAD + s * (z1 - z0) + _GAP + s * (py1 - py0) + low + _FOOT
        if wide <= width and tall <= height:
            break
    s = 1000 / ratio
    spare = max(0.0, width - (left + s * (x1 - x0) + _GAP + s * (rx1 - rx0) + 0.5)) / 2
    a = _Place(left + spare / 2 - s * x0, _HEAD + s * z1, s)
    b = _Place(width - spare / 2 - 0.5 - s * rx1, a.y, s)
    top = _HEAD + s * (z1 - z0) + _GAP
    c = _Place(a.x, top + s * py1, s)
    bottom = top + s * (py1 - py0)
    marks: list[Primitive] = []
    for shown, place, base in ((side, a, 3.6), (rear, b, 3.6), (plan, c, top - 2.0)):
        marks += _drawn(shown, place)
        box = shown.box()
        marks.append(Text((place.at((box[0], 0.0))[0], base), shown.way.name, _CAPTION, "start", "ink", True))
    marks += _sizes(side, plan, words, a, c, left=a.at((x0, 0.0))[0] - 3.5, under=bottom + 3.5)
    corner = b.at((rx0, 0.0))[0]
    marks += _corner(words, corner, top + 1.0, width - corner - 0.5)
    foot = bottom + low
    arrow = c.at((x0, 0.0))[0]
    marks += [*pointer((arrow + 18.0, foot + 1.4), (arrow + 30.0, foot + 1.4))]
    marks.append(Text((arrow, foot + 2.3), "to the cab", _SIZE, "start", "ink"))
    note = f"1 : {ratio} when printed at 100 %; dashed: closed"
    marks.append(Text((width - 0.5, foot + 2.3), note, 2.3, "end", "note"))
    return Drawing(width, foot + 5.0, "The roof in three views", _told(words), tuple(marks))


def _stacked(views: Sequence[Shown], words: CoverWords, width: float) -> Drawing:
    side, _, plan = views
    left = _DIM + 3.0 if words.rise else 0.5
    s = (width - left - 0.5) / max(v.box()[2] - v.box()[0] for v in views)
    marks: list[Primitive] = []
    y = 0.0
    places: list[_Place] = []
    for shown in views:
        x0, y0, x1, y1 = shown.box()
        at = left if shown is not views[1] else left + (width - left - s * (x1 - x0)) / 2
        place = _Place(at - s * x0, y + _HEAD + s * y1, s)
        places.append(place)
        marks += _drawn(shown, place)
        marks.append(Text((0.3, y + 3.6), shown.way.name, _CAPTION, "start", "ink", True))
        y += _HEAD + s * (y1 - y0) + 4.0
    marks += _sizes(side, plan, words, places[0], places[2], left=left - 3.5, under=y - 0.5)
    y += _DIM if words.length else 0.0
    under, y = _key(y, 0.0, width)
    marks += under
    said = ("The cab is to the right; from behind, the left side is to the left.", *words.facts)
    rows, y = sentences(said, 0.3, y + 0.5, width - 0.6, size=_SIZE, pen="ink")
    return Drawing(width, y + 2.0, "The roof in three views", _told(words), (*marks, *rows))


def _drawn(shown: Shown, place: _Place) -> list[Primitive]:
    """Return what is seen from far to near, then the closed shell dashed."""
    marks: list[Primitive] = []
    for k in far_to_near([spots for _, spots in shown.things]):
        pen, spots = shown.things[k]
        flat = tuple(place.at((x, y)) for x, y, _ in spots)
        if len(flat) > 2:
            marks.append(Polygon(flat, pen))
        elif math.dist(*flat) > 0.3:
            marks.append(Line(flat[0], flat[1], pen))
    ring = [place.at(spot) for spot in hull(shown.closed)]
    marks += [Line(a, b, "ghost") for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)]
    return marks


def _sizes(
    side: Shown, plan: Shown, words: CoverWords, a: _Place, c: _Place, *, left: float, under: float
) -> list[Primitive]:
    """Return the rise left of the side view, length under and width beside the plan."""
    marks: list[Primitive] = []
    if words.rise:
        high, low = max(side.opened, key=lambda p: p[1]), max(side.closed, key=lambda p: p[1])
        (hx, hy), (lx, ly) = a.at(high), a.at(low)
        marks += [Line((left - 1.0, y), (x - 0.8, y), "leader") for x, y in ((hx, hy), (lx, ly))]
        marks += dimension((left, hy), (left, ly))
        middle = max((hy + ly) / 2, text_width(words.rise, _FIGURE) / 2 + 4.6)
        marks.append(Text((left - 0.9, middle), words.rise, _FIGURE, "middle", "ink", False, -math.pi / 2))
    x0, y0, x1, y1 = bounds(plan.closed)
    (px0, py0), (px1, py1) = c.at((x0, y0)), c.at((x1, y1))
    if words.length:
        marks += [Line((x, py0 + 0.8), (x, under + 1.0), "dim") for x in (px0, px1)]
        marks += dimension((px0, under), (px1, under))
        marks.append(Text(((px0 + px1) / 2, under + 3.2), words.length, _FIGURE, "middle"))
    if words.width:
        marks += [Line((px0 - 0.8, y), (left - 1.0, y), "dim") for y in (py0, py1)]
        marks += dimension((left, py1), (left, py0))
        marks.append(Text((left - 0.9, (py0 + py1) / 2), words.width, _FIGURE, "middle", "ink", False, -math.pi / 2))
    return marks


def _corner(words: CoverWords, left: float, top: float, width: float) -> list[Primitive]:
    """Return title and facts in the corner under the rear view."""
    marks: list[Primitive] = []
    y = top
    for line in wrapped(words.title, width, 3.4, bold=True) if words.title else []:
        y += 4.4
        marks.append(Text((left, y - 1.0), line, 3.4, "start", "ink", True))
    rows, y = sentences(words.facts, left, y + 0.6, width, size=_SIZE, pen="ink")
    return [*marks, *rows]


def _key(top: float, left: float, width: float) -> tuple[list[Primitive], float]:
    return legend([Sign((Line((0.0, -1.0), (8.0, -1.0), "ghost"),), 8.0, "the closed shell")], left, top, width)


def _told(words: CoverWords) -> str:
    said = [words.rise, words.length, words.width, *words.facts]
    return " ".join(["The roof open, the closed shell dashed.", *(f"{text.rstrip('.')}." for text in said if text)])
