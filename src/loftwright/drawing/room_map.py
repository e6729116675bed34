"""Headroom over the floor from above: heights as classes of hatching, figures, and where one can stand outlined."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from loftwright.core.errors import Bug
from loftwright.drawing.legend import Sign, legend, sentences
from loftwright.drawing.page import (
    XY,
    Drawing,
    Line,
    Placer,
    Polygon,
    Polyline,
    Primitive,
    Rect,
    Text,
    text_width,
    unpatched,
)
from loftwright.drawing.pattern_room import dashed
from loftwright.drawing.shadings import Shading, box, shaded
from loftwright.drawing.tiles import pointer

At = Callable[[XY], XY]
"""From the van [mm] to the page [mm]."""
_SHADINGS: tuple[Shading, ...] = ("dense", "crossed", "rising", "level", "none")
"""How classes are hatched, the lowest first; the last one is bare paper."""
_SIZE, _SIDE, _HEAD, _GAP = 2.4, 3.0, 8.6, 1.7


@dataclass(frozen=True, slots=True)
class HeightClass:
    """Heights from `least` [mm] up to the next class, and what is said of them, figures ready."""

    least: float
    text: str


@dataclass(frozen=True, slots=True)
class Furniture:
    """A thing on the floor: x from rear to front, y from right to left [mm], and its name."""

    x0: float
    y0: float
    x1: float
    y1: float
    name: str


@dataclass(frozen=True, slots=True)
class RoomMap:
    """The floor in cells: `heights` [mm] in rows along the van, the first row at the right side (least y).

    `x0`, `y0` is the rear right corner of the first cell, `dx`, `dy` a cell's size [mm]. `classes` rise, two to five,
    the first from 0. `need` [mm]: where there is as much, one can stand. `blocked` cells hold furniture. `figures` are
    heights as text with their place [mm]; `opening` is the hole above: x0, y0, x1, y1 [mm]. `walks` are lines of
    walking with their length as text: from, to [mm].
    """

    title: str
    heights: tuple[tuple[float, ...], ...]
    x0: float
    y0: float
    dx: float
    dy: float
    classes: tuple[HeightClass, ...]
    need: float
    need_text: str
    figures: tuple[tuple[XY, str], ...] = ()
    blocked: tuple[tuple[bool, ...], ...] = ()
    furniture: tuple[Furniture, ...] = ()
    opening: tuple[float, float, float, float] | None = None
    walks: tuple[tuple[XY, XY, str], ...] = ()
    said: tuple[str, ...] = ()


def _class_of(height: float, classes: Sequence[HeightClass]) -> int:
    return max(k for k, one in enumerate(classes) if k == 0 or height >= one.least - 1e-6)


def _stands(room: RoomMap, row: int, column: int) -> bool:
    if not (0 <= row < len(room.heights) and 0 <= column < len(room.heights[0])):
        return False
    if room.blocked and room.blocked[row][column]:
        return False
    return room.heights[row][column] >= room.need - 1e-6


def room_map(room: RoomMap, *, width: float, height: float = math.inf) -> Drawing:
    """Return the map within `width` and `height` [mm], cab to the right, left side of the van above.

    Errors: Bug for a grid that is not one, or classes that do not rise from 0.
    """
    rows, columns = len(room.heights), len(room.heights[0]) if room.heights else 0
    low = [one.least for one in room.classes]
    if not columns or any(len(row) != columns for row in room.heights):
        raise Bug("a map of headroom needs rows of equal length")
    if not 2 <= len(low) <= len(_SHADINGS) or low != sorted(low) or low[0] > 0:
        raise Bug("classes of height must rise from 0, two to five of them")
    _, tall = _words(room, 0.0, width)
    s = min(
        (width - 2 * _SIDE) / (columns * room.dx),
        (height - _HEAD - tall - 10.0) / (rows * room.dy) if math.isfinite(height) else math.inf,
    )
    left = (width - s * columns * room.dx) / 2
    bottom = _HEAD + s * rows * room.dy

    def at(spot: XY) -> XY:
        return left + s * (spot[0] - room.x0), bottom - s * (spot[1] - room.y0)

    marks: list[Primitive] = [Text((0.3, 3.6), room.title, 2.9, "start", "ink", True)]
    marks += _ground(room, at)
    for thing in room.furniture:
        corners = box(*at((thing.x0, thing.y0)), *at((thing.x1, thing.y1)))
        marks += [Polygon(corners, "paper"), Polygon(corners, "outline")]
    frame = box(left, _HEAD, left + s * columns * room.dx, bottom)
    marks.append(Polygon(frame, "outline"))
    standing = _standing(room, at)
    marks += standing
    if room.opening is not None:
        x0, y0, x1, y1 = room.opening
        ring = [at(spot) for spot in ((x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0))]
        marks += dashed(ring, "ink", dash=2.4, gap=1.2)
    labels: list[Primitive] = []
    placer = Placer(Rect(left + 0.4, _HEAD + 0.4, frame[1][0] - 0.4, bottom - 0.4), gap=0.6)
    edges = [[line.a, line.b] for line in standing] + [list(m.points) for m in marks if isinstance(m, Polyline)]
    for edge in edges:
        placer.avoid_line(edge, 0.4)
    marks += _labels(room, at, placer, labels)
    marks.append(Text(((frame[0][0] + frame[1][0]) / 2, _HEAD - 1.0), "left side", _SIZE, "middle", "note"))
    y = bottom + 3.2
    for text, x, anchor in (("rear", left, "start"), ("right side", left + s * columns * room.dx / 2, "middle")):
        marks.append(Text((x, y), text, _SIZE, anchor, "note"))  # type: ignore[arg-type]
    right = left + s * columns * room.dx
    word = text_width("cab", _SIZE)
    marks += [
        Text((right - 9.5 - word, y), "cab", _SIZE, "start", "note"),
        *pointer((right - 8.0, y - 0.8), (right, y - 0.8)),
    ]
    under, end = _words(room, y + 1.2, width)
    return Drawing(width, end + 0.6, room.title, _told(room), (*marks, *unpatched(labels, marks), *under))


def _ground(room: RoomMap, at: At) -> list[Primitive]:
    """Return every class hatched; cells of one class in a row are one box."""
    marks: list[Primitive] = []
    shadings = _SHADINGS[len(_SHADINGS) - len(room.classes) :]
    for i, row in enumerate(room.heights):
        kinds = [_class_of(height, room.classes) for height in row]
        start = 0
        for j in range(1, len(row) + 1):
            if j < len(row) and kinds[j] == kinds[start]:
                continue
            a = at((room.x0 + start * room.dx, room.y0 + i * room.dy))
            b = at((room.x0 + j * room.dx, room.y0 + (i + 1) * room.dy))
            marks += shaded(box(a[0], b[1], b[0], a[1]), shadings[kinds[start]], gap=_GAP, pen="leader")
            start = j
    return marks


def _standing(room: RoomMap, at: At) -> list[Line]:
    """Return the outline of the floor on which one can stand, bold; straight runs are one line."""
    rows, columns = len(room.heights), len(room.heights[0])
    marks: list[Line] = []

    def runs(edge: Sequence[bool]) -> list[tuple[int, int]]:
        found: list[tuple[int, int]] = []
        for k, here in enumerate(edge):
            if here and found and found[-1][1] == k:
                found[-1] = (found[-1][0], k + 1)
            elif here:
                found.append((k, k + 1))
        return found

    for i in range(rows + 1):
        y = room.y0 + i * room.dy
        for j0, j1 in runs([_stands(room, i - 1, j) != _stands(room, i, j) for j in range(columns)]):
            marks.append(Line(at((room.x0 + j0 * room.dx, y)), at((room.x0 + j1 * room.dx, y)), "rim"))
    for j in range(columns + 1):
        x = room.x0 + j * room.dx
        for i0, i1 in runs([_stands(room, i, j - 1) != _stands(room, i, j) for i in range(rows)]):
            marks.append(Line(at((x, room.y0 + i0 * room.dy)), at((x, room.y0 + i1 * room.dy)), "rim"))
    return marks


def _labels(room: RoomMap, at: At, placer: Placer, labels: list[Primitive]) -> list[Primitive]:
    """Return walks with their lengths, names of furniture and figures of height; texts go into `labels`."""
    marks: list[Primitive] = []
    for a, b, text in room.walks:
        (ax, ay), (bx, by) = at(a), at(b)
        marks += [
            *pointer(((ax + bx) / 2, (ay + by) / 2), (bx, by)),
            *pointer(((ax + bx) / 2, (ay + by) / 2), (ax, ay)),
        ]
        placer.avoid_line([(ax, ay), (bx, by)], 1.0)
        half = text_width(text, _SIZE, bold=True) / 2
        along = [(ax + k * (bx - ax), ay + k * (by - ay)) for k in (0.25, 0.75, 0.5)]
        spots = [(x, y + dy) for x, y in along for dy in (-1.8, 3.6)]
        if abs(bx - ax) < abs(by - ay):
            spots = [(x + side * (half + 1.8), y + 0.8) for x, y in along for side in (1.0, -1.0)]
        found = placer.place(Text(spots[0], text, _SIZE, "middle", "ink", True, halo=True), spots)
        labels += [found] if found is not None else []
    for thing in room.furniture:
        x, y = at(((thing.x0 + thing.x1) / 2, (thing.y0 + thing.y1) / 2))
        found = placer.place(Text((x, y + 0.8), thing.name, _SIZE, "middle", "ink", halo=True), [(x, y + 0.8)])
        labels += [found] if found is not None else []
    for spot, text in room.figures:
        x, y = at(spot)
        # A figure belongs to its place: where that is taken, or a line runs there, it is left out.
        found = placer.place(
            Text((x, y + 0.8), text, _SIZE, "middle", "ink", halo=True), [(x, y + 0.8)], near=False, care=1
        )
        labels += [found] if found is not None else []
    return marks


def _words(room: RoomMap, top: float, width: float) -> tuple[list[Primitive], float]:
    sample = box(0.0, -2.6, 6.0, 0.0)
    shadings = _SHADINGS[len(_SHADINGS) - len(room.classes) :]
    signs = [
        Sign((*shaded(sample, how, gap=_GAP, pen="leader"), Polygon(sample, "thin-outline")), 6.0, one.text)
        for one, how in zip(room.classes, shadings, strict=True)
    ]
    signs.append(Sign((Polygon(sample, "rim"),), 6.0, room.need_text))
    if room.opening is not None:
        signs.append(Sign(tuple(dashed(((0.0, -1.2), (7.2, -1.2)), "ink", dash=2.4, gap=1.2)), 7.2, "opening above"))
    marks, y = legend(signs, 0.0, top, width)
    said, y = sentences(room.said, 0.3, y, width - 0.6)
    return [*marks, *said], y


def _told(room: RoomMap) -> str:
    cells = [h for row in room.heights for h in row]
    many = sum(_stands(room, i, j) for i in range(len(room.heights)) for j in range(len(room.heights[0])))
    walks = " ".join(f"{text}." for _, _, text in room.walks)
    share = f"{room.need_text}: {round(100 * many / len(cells))} of 100 parts of the floor."
    return " ".join(filter(None, [share, walks, *room.said]))
