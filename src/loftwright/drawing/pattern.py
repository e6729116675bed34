"""One flat piece of cloth at full size: where it is sewn and cut, its match marks, grain, nap and words.

Page millimetres are millimetres of cloth, x to the right, y down. Where the piece is cut into tiles, a text may have
to step aside: it brings all places where it may stand, the best one first.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from loftwright.core.errors import Bug
from loftwright.core.pattern import Contour, Notch, PatternPiece
from loftwright.drawing.page import XY, Line, Polygon, Polyline, Primitive, Rect, Text, text_width
from loftwright.drawing.pattern_room import (
    Standing,
    boxes_of,
    dashed,
    inner_places,
    inside,
    places_along,
    readable,
    rect_round,
)

Side = Literal["lower", "right", "upper", "left"]

_OUT: dict[Side, XY] = {"lower": (0.0, -1.0), "right": (1.0, 0.0), "upper": (0.0, 1.0), "left": (-1.0, 0.0)}
_NAMED: dict[str, Side] = {
    "lower": "lower",
    "bottom": "lower",
    "hem": "lower",
    "upper": "upper",
    "top": "upper",
    "left": "left",
    "right": "right",
}
_CORNER = math.radians(35.0)
"""A line that turns by more than this has a corner there [rad]."""
NOTCH = 5.0
"""Height and width of a match mark's triangle [mm]."""
_COARSE = 0.002
"""Chord [m] of arcs where only room for words is looked for."""
_SIGN, _EDGE, _FIGURE = 4.2, 4.0, 3.2
_HEADING = (18.0, 8.0, 5.5, 5.5)


@dataclass(frozen=True, slots=True)
class PieceDrawing:
    """A piece at full size: its lines, its texts, the cut line round it, and what holds all of it [mm, y down]."""

    lines: tuple[Primitive, ...]
    words: tuple[Standing, ...]
    outline: tuple[XY, ...]
    reach: Rect

    @property
    def marks(self) -> tuple[Primitive, ...]:
        """Every line, and every text at its best place."""
        return (*self.lines, *(text for word in self.words for text in word.at(word.places[0])))


def page_mm(spot: XY) -> XY:
    """Return a point of a piece [m, y up] in page millimetres, y down."""
    return 1000.0 * spot[0], -1000.0 * spot[1]


def outer_contour(piece: PatternPiece) -> Contour:
    """Return the outermost line of a piece: its cut line, else its stitch line."""
    found = piece.of("cut") or piece.of("stitch")
    if not found:
        raise Bug(f"piece {piece.number!r} has no outline")
    return found[0]


def sides_of(piece: PatternPiece) -> dict[Side, tuple[XY, ...]]:
    """Return the runs of the stitch line [m] that look down, right, up and left, each counter-clockwise.

    Nothing where the line has no four corners to tell them by.
    """
    closed = [contour for contour in piece.of("stitch") if contour.closed]
    if not closed:
        return {}
    line = list(closed[0].flattened())[:-1]
    if sum(ax * by - bx * ay for (ax, ay), (bx, by) in zip(line, (*line[1:], line[0]), strict=True)) < 0:
        line.reverse()
    n = len(line)

    def turn(k: int) -> float:
        a, b, c = line[k - 1], line[k], line[(k + 1) % n]
        before, after = math.atan2(b[1] - a[1], b[0] - a[0]), math.atan2(c[1] - b[1], c[0] - b[0])
        return math.remainder(after - before, 2.0 * math.pi)

    corners = [k for k in range(n) if turn(k) > _CORNER]
    if len(corners) < 4:
        return {}
    runs = [
        tuple(line[k % n] for k in range(a, (b if b > a else b + n) + 1))
        for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)
    ]

    def looks(run: tuple[XY, ...], side: Side) -> float:
        (ax, ay), (bx, by) = run[0], run[-1]
        length = math.dist(run[0], run[-1]) or 1.0
        return ((by - ay) * _OUT[side][0] - (bx - ax) * _OUT[side][1]) / length

    return {side: max(runs, key=lambda run, side=side: looks(run, side)) for side in _OUT}  # type: ignore[misc]


def _named_run(piece: PatternPiece, name: str, order: int, sides: dict[Side, tuple[XY, ...]]) -> tuple[XY, ...]:
    """Return the run of an edge [m]: a contour of that name, else the side its words tell of, else by its order."""
    for contour in piece.contours:
        if contour.name == name and not contour.closed:
            return contour.flattened()
    for word in name.lower().replace(",", " ").split():
        if word in _NAMED and _NAMED[word] in sides:
            return sides[_NAMED[word]]
    every = tuple(sides.values())
    return every[order % len(every)] if every else ()


def edge_runs(piece: PatternPiece) -> list[tuple[XY, ...]]:
    """Return where each of the piece's edges runs [m], in their order; nothing for one that is not found."""
    sides = sides_of(piece)
    return [_named_run(piece, name, order, sides) for order, (name, _, _) in enumerate(piece.edges)]


def notch_marks(notch: Notch, *, high: float = NOTCH, scale: float = 1000.0) -> tuple[Polygon, XY]:
    """Return the triangle of a match mark, its tip outwards, and where the middle of its sign may stand, inwards."""
    x, y = scale * notch.at[0], -scale * notch.at[1]
    ox, oy = notch.out[0], -notch.out[1]
    half = high / 2
    points = ((x - oy * half, y + ox * half), (x + ox * high, y + oy * high), (x + oy * half, y - ox * half))
    return Polygon(points, "outline"), (x - ox * high, y - oy * high)


def head_at(tip: XY, ux: float, uy: float, size: float = 6.0) -> Polygon:
    """Return a filled arrow head at `tip` that points along (ux, uy)."""
    bx, by, half = tip[0] - size * ux, tip[1] - size * uy, 0.28 * size
    return Polygon((tip, (bx - half * uy, by + half * ux), (bx + half * uy, by - half * ux)), "start-hole")


def _grain(piece: PatternPiece) -> tuple[list[Primitive], list[Standing]]:
    """Return the arrow along the threads, two-headed, and beside it the one-headed arrow of the nap."""
    if piece.grain is None:
        return [], []
    a, b = page_mm(piece.grain[0]), page_mm(piece.grain[1])
    length = math.dist(a, b)
    if length < 1.0:
        return [], []
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    marks: list[Primitive] = [Line(a, b, "outline"), head_at(a, -ux, -uy), head_at(b, ux, uy)]
    turn = readable(math.atan2(uy, ux))
    down = (-math.sin(turn), math.cos(turn))

    def beside(text: str, off: float, share: float) -> Standing:
        places = []
        for t in (share, 0.5, 0.35, 0.65, 0.25, 0.75):
            x, y = a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])
            places.append(((x + off * down[0], y + off * down[1]), turn))
        return Standing((Text((0.0, 0.0), text, 4.5, "middle", "ink"),), tuple(places))

    words = [beside("grain", -1.6, 0.5)]
    if piece.nap:
        c = (a[0] + 9.0 * down[0] + 0.2 * (b[0] - a[0]), a[1] + 9.0 * down[1] + 0.2 * (b[1] - a[1]))
        d = (a[0] + 9.0 * down[0] + 0.8 * (b[0] - a[0]), a[1] + 9.0 * down[1] + 0.8 * (b[1] - a[1]))
        marks += [Line(c, d, "ink"), head_at(d, ux, uy)]
        words.append(beside("nap", 9.0 + 5.2, 0.5))
    return marks, words


def contour_lines(contour: Contour) -> list[Primitive]:
    """Return a contour as it is drawn: cut lines solid, stitch lines in long dashes, marks thin."""
    points = tuple(page_mm(spot) for spot in contour.flattened())
    if contour.kind == "stitch":
        return list(dashed(points, "ink"))
    return [Polyline(points, "rim" if contour.kind == "cut" else "fine")]


def _runs(lines: Iterable[Primitive]) -> list[tuple[XY, XY]]:
    found: list[tuple[XY, XY]] = []
    for mark in lines:
        if isinstance(mark, Line):
            found.append((mark.a, mark.b))
        elif isinstance(mark, Polyline):
            found += pairwise(mark.points)
        elif isinstance(mark, Polygon):
            found += pairwise((*mark.points, mark.points[0]))
    return found


def _heading(piece: PatternPiece, factor: float) -> tuple[Text, ...]:
    lines = [piece.number, piece.name, f"cut {piece.count} of {piece.material}", piece.side]
    found, y, before = [], 0.0, 0.0
    for text, size in zip(lines, _HEADING, strict=True):
        if text:
            y += (0.22 * before + 1.15 * size) * factor
            before = size
            found.append(Text((0.0, y), text, size * factor, "middle", "ink", size > 6.0))
    return tuple(replace(text, at=(0.0, text.at[1] - y / 2)) for text in found)


def _ordinates(piece: PatternPiece, figures: Sequence[tuple[str, str, str]]) -> tuple[list[Primitive], list[Standing]]:
    """Return thin uprights from the lower to the upper stitch line; `figures` of each stand at both its ends."""
    sides = sides_of(piece)
    lower = sides.get("lower", ((0.0, 0.0), (1.0, 0.0)))
    length = math.dist(lower[0], lower[-1]) or 1.0
    ux, uy = (lower[-1][0] - lower[0][0]) / length, (lower[-1][1] - lower[0][1]) / length
    marks: list[Primitive] = []
    words: list[Standing] = []
    for k, (along, low, high) in enumerate(piece.ordinates):
        ends = [page_mm((lower[0][0] + along * ux - h * uy, lower[0][1] + along * uy + h * ux)) for h in (low, high)]
        marks.append(Line(ends[0], ends[1], "leader"))
        if k < len(figures):
            # Low at the foot and high at the head, beside their upright; along in the middle of it.
            for text, share, off in zip(figures[k], (0.5, 0.0, 1.0), (0.0, 16.0, -16.0), strict=True):
                x, y = (ends[0][i] + share * (ends[1][i] - ends[0][i]) for i in (0, 1))
                words.append(
                    Standing(
                        (Text((0.0, 0.0), text, _FIGURE, "middle", "note"),),
                        (((x - 0.8, y - off), -math.pi / 2),),
                    )
                )
    return marks, words


def ordinate_ends(piece: PatternPiece) -> list[tuple[XY, XY]]:
    """Return the lower and upper end of each ordinate [mm, y down]."""
    return [(mark.a, mark.b) for mark in _ordinates(piece, ())[0] if isinstance(mark, Line)]


def piece_drawing(piece: PatternPiece, figures: Sequence[tuple[str, str, str]] = ()) -> PieceDrawing:
    """Return a piece at full size. `figures` are its ordinates as texts, without the unit: along, low, high.

    Errors: Bug where the piece has no outline.
    """
    outline = tuple(page_mm(spot) for spot in outer_contour(piece).flattened())
    lines: list[Primitive] = []
    ordinates, ordinate_words = _ordinates(piece, figures)
    lines += ordinates
    for contour in piece.contours:
        lines += contour_lines(contour)
    words: list[Standing] = []
    taken: list[Rect] = []
    for notch in piece.notches:
        triangle, spot = notch_marks(notch)
        lines.append(triangle)
        # A sign stays where its mark is.
        sign = Standing(
            (Text((0.0, 0.0), notch.sign, _SIGN, "middle", "ink", True, halo=True),),
            (((spot[0], spot[1] + 0.35 * _SIGN), 0.0),),
        )
        words.append(sign)
        taken += boxes_of(sign.at(sign.places[0]))
    grain, grain_words = _grain(piece)
    lines += grain
    for mark in grain:
        if isinstance(mark, Line):
            (ax, ay), (bx, by) = mark.a, mark.b
            taken.append(Rect(min(ax, bx) - 3.0, min(ay, by) - 3.0, max(ax, bx) + 3.0, max(ay, by) + 3.0))
    free_of = list(taken)

    def settle(standing: Standing) -> None:
        """Keep the places that are free, if there are any, and take the best of them."""
        free = [
            place
            for place in standing.places
            if not any(b.overlaps_any(free_of, 1.5) for b in boxes_of(standing.at(place)))
        ]
        kept = replace(standing, places=tuple(free) or standing.places)
        words.append(kept)
        free_of.extend(boxes_of(kept.at(kept.places[0])))

    for word in grain_words:
        words.append(word)
        free_of.extend(boxes_of(word.at(word.places[0])))
    for one in piece.words:
        text = Text((0.0, 0.35 * 1000.0 * one.size), one.text, 1000.0 * one.size, "middle", "ink")
        standing = Standing((text,), ((page_mm(one.at), -one.turn),))
        words.append(standing)
        free_of.extend(boxes_of(standing.at(standing.places[0])))
    for (name, finish, allowance), way in zip(piece.edges, edge_runs(piece), strict=True):
        run = [page_mm(spot) for spot in way]
        said = ", ".join(filter(None, (name, finish, allowance)))
        for size in (_EDGE, 0.8 * _EDGE, 0.62 * _EDGE):
            places = places_along(run, text_width(said, size), size, inset=10.0) if run else []
            if places:
                settle(Standing((Text((0.0, 0.0), said, size, "middle", "ink", halo=True),), tuple(places)))
                break
    for standing in ordinate_words:
        if not any(b.overlaps_any(free_of, 0.5) for b in boxes_of(standing.at(standing.places[0]))):
            settle(standing)
    # Uprights may run behind a heading, nothing else.
    hard = _runs(
        mark for mark in lines if isinstance(mark, Polygon) or (isinstance(mark, Line) and mark.pen != "leader")
    )
    for contour in piece.contours:
        hard += pairwise([page_mm(spot) for spot in contour.flattened(_COARSE)])
    for contour in piece.of("mark"):
        if contour.closed and contour.name:
            words += _label_inside(contour, piece, free_of)
    if not any(piece.number in one.text for one in piece.words):
        coarse = [page_mm(spot) for spot in outer_contour(piece).flattened(_COARSE)]
        words += _headed(piece, coarse, hard, free_of)
    boxes = [box for word in words for box in boxes_of(word.at(word.places[0]))]
    spots = [spot for run in _runs(lines) for spot in run]
    boxes.append(Rect(*(f(s[i] for s in spots) for f in (min, max) for i in (0, 1))))
    return PieceDrawing(tuple(lines), tuple(words), outline, rect_round(boxes))


def _label_inside(contour: Contour, piece: PatternPiece, taken: list[Rect]) -> list[Standing]:
    """Return the name of a closed mark, such as a window, inside it and outside of all marks within it."""
    outline = [page_mm(spot) for spot in contour.flattened(_COARSE)]
    others = [
        [page_mm(spot) for spot in other.flattened(_COARSE)]
        for other in piece.of("mark")
        if other.closed and other is not contour
    ]
    within = [other for other in others if inside(other[0], outline)]
    runs = [run for line in (outline, *within) for run in pairwise(line)]
    for size in (6.0, 4.5, 3.2):
        texts = (Text((0.0, 0.35 * size), contour.name, size, "middle", "ink", halo=True),)
        places = inner_places(texts, outline, runs, taken, gap=1.5, step=8.0, most=40, holes=within)
        if places:
            taken += boxes_of(Standing(texts, ()).at(places[0]))
            return [Standing(texts, tuple(places))]
    return []


def _headed(
    piece: PatternPiece, outline: Sequence[XY], runs: Sequence[tuple[XY, XY]], taken: list[Rect]
) -> list[Standing]:
    """Return number, name, how many of what, and side, together where there is room, smaller where there is little."""
    for factor in (1.0, 0.75, 0.55, 0.4, 0.3):
        texts = tuple(replace(text, halo=True) for text in _heading(piece, factor))
        places = inner_places(texts, outline, runs, taken, gap=4.0 * factor, step=15.0)
        if places:
            return [Standing(texts, tuple(places))]
    return []
