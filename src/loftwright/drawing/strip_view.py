"""The walls unrolled into one strip, panel beside panel in the order of sewing, seen from outside."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from loftwright.core.errors import Bug
from loftwright.core.pattern import XY as Flat
from loftwright.core.pattern import PatternPiece
from loftwright.drawing.page import (
    XY,
    Drawing,
    Group,
    Polyline,
    Primitive,
    Rect,
    Text,
    text_box,
    text_width,
    unpatched,
)
from loftwright.drawing.pattern_room import Standing, inner_places, inside

_CHORD = 0.001
_SEAM, _SIGN, _NAME = 2.4, 1.8, 2.6
_GAP, _SIDE, _TOP, _UNDER = 6.0, 5.0, 8.0, 8.0


def unrolled_walls(
    pieces: Sequence[PatternPiece], seams: Sequence[str], *, width: float, height: float = math.inf
) -> Drawing:
    """Return the panels side by side within `width` and `height` [mm], each as the group "panel W1".

    `seams` are the names of the joins, the one left of the first panel first, one more than panels; where the strip
    closes, first and last are the same. Errors: Bug where their number is wrong.
    """
    if not pieces or len(seams) != len(pieces) + 1:
        raise Bug("a strip of walls needs the name of every seam, first and last included")
    boxes = [_net_box(piece) for piece in pieces]
    whole = sum(x1 - x0 for x0, _, x1, _ in boxes)
    room = width - 2 * _SIDE - _GAP * (len(pieces) - 1)
    tall = max(y1 for *_, y1 in boxes) - min(y0 for _, y0, *_ in boxes)
    scale = min(room / whole, (height - _TOP - _UNDER) / tall)
    base = _TOP + scale * max(y1 for *_, y1 in boxes)
    bottom = base - scale * min(y0 for _, y0, *_ in boxes)
    x = _SIDE + (room - scale * whole) / 2
    marks: list[Primitive] = []
    places = [x - _GAP / 2]
    for piece, (x0, _, x1, _) in zip(pieces, boxes, strict=True):
        marks.append(Group(f"panel {piece.number}", tuple(_panel(piece, scale, (x - scale * x0, base))), (0.0, 0.0)))
        x += scale * (x1 - x0) + _GAP
        places.append(x - _GAP / 2)
    marks += _seams(pieces, seams, places, boxes, scale, base)
    names = ", ".join(f"{piece.number} {piece.name}" for piece in pieces)
    order = f"Panels in the order of sewing, seen from outside: {names}."
    said = "Seen from outside. Edges on both sides of a seam's name are sewn together; equal signs meet."
    marks.append(Text((0.0, bottom + _UNDER - 0.8), said, 2.2, "start", "note"))
    return Drawing(width, bottom + _UNDER, "The walls unrolled", order, tuple(marks))


def _net_box(piece: PatternPiece) -> tuple[float, float, float, float]:
    """Return least and greatest x and y of what is sewn [m]."""
    spots = [spot for contour in piece.of("stitch") for spot in contour.flattened(_CHORD)]
    if not spots:
        return piece.box
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    return min(xs), min(ys), max(xs), max(ys)


def _panel(piece: PatternPiece, scale: float, origin: XY) -> list[Primitive]:
    """Return one panel: what is sewn solid, windows thin, match marks outwards, number and name inside."""

    def at(spot: Flat) -> XY:
        return origin[0] + scale * spot[0], origin[1] - scale * spot[1]

    lines: list[Primitive] = []
    runs: list[tuple[XY, XY]] = []
    outline: list[XY] = []
    for contour in (*piece.of("stitch"), *piece.of("mark")):
        points = [at(spot) for spot in contour.flattened(_CHORD)]
        outline = outline or points
        lines.append(Polyline(tuple(points), "outline" if contour.kind == "stitch" else "fine"))
        runs += pairwise(points)
    taken: list[Rect] = []
    texts: list[Text] = []
    for notch in piece.notches:
        x, y = at(notch.at)
        ox, oy = notch.out[0], -notch.out[1]
        high = 1.3
        tip = (x + ox * high, y + oy * high)
        corners = ((x - oy * high / 2, y + ox * high / 2), tip, (x + oy * high / 2, y - ox * high / 2))
        lines.append(Polyline((*corners, corners[0]), "fine"))
        half = text_width(notch.sign, _SIGN) / 2
        off = 0.8 + abs(ox) * half + abs(oy) * _SIGN / 2
        sign = Text((x - ox * off, y - oy * off + 0.35 * _SIGN), notch.sign, _SIGN, "middle", "ink", halo=True)
        if not text_box(sign).overlaps_any(taken, 0.2):
            texts.append(sign)
            taken.append(text_box(sign))
    closed = [(one.name, [at(spot) for spot in one.flattened(_CHORD)]) for one in piece.of("mark") if one.closed]
    for name, inner in closed:
        # What lies wholly within another one is named, the one around it is known by it.
        if name and not any(other is not inner and inside(other[0], inner) for _, other in closed):
            _write((name,), (2.0, 1.6), inner, runs, taken, texts, bold=False)
    for said in ((piece.number, piece.name), (piece.number,)):
        if _write(said, (_NAME, 2.2, 1.8), outline, runs, taken, texts, bold=True):
            break
    return [*lines, *unpatched(texts, lines)]


def _write(
    said: Sequence[str],
    sizes: Sequence[float],
    outline: Sequence[XY],
    runs: Sequence[tuple[XY, XY]],
    taken: list[Rect],
    texts: list[Text],
    *,
    bold: bool,
) -> bool:
    """Write lines of text inside `outline` at the largest of `sizes` that has room; say whether there was any."""
    for size in sizes:
        block = tuple(
            Text(
                (0.0, (k - (len(said) - 1) / 2) * 1.25 * size + 0.35 * size),
                text,
                size,
                "middle",
                "ink",
                bold and k == 0,
            )
            for k, text in enumerate(said)
        )
        places = inner_places(block, outline, runs, taken, gap=0.4, step=1.0, most=1)
        if places:
            made = Standing(block, ()).at(places[0])
            texts += made
            taken += [text_box(text) for text in made]
            return True
    return False


def _seams(
    pieces: Sequence[PatternPiece],
    seams: Sequence[str],
    places: Sequence[float],
    boxes: Sequence[tuple[float, float, float, float]],
    scale: float,
    base: float,
) -> list[Primitive]:
    """Return the seams' names in the gaps between panels, upright, as high as the panels beside them."""
    marks: list[Primitive] = []
    for k, (x, name) in enumerate(zip(places, seams, strict=True)):
        beside = [boxes[j] for j in (k - 1, k) if 0 <= j < len(pieces)]
        top = base - scale * max(y1 for *_, y1 in beside)
        size = _SEAM
        y = base - text_width(name, size) / 2
        if base - top > text_width(name, size):
            y = (base + min(base - scale * y1 for *_, y1 in beside)) / 2
        marks.append(Text((x + 0.35 * size, y), name, size, "middle", "note", False, -math.pi / 2))
    return marks
