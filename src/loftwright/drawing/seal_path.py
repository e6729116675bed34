"""The seal from above: its path round the rim, corners with their radius, low places where water stands, the joint."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from loftwright.core.errors import Bug
from loftwright.drawing.legend import Sign, legend, sentences
from loftwright.drawing.page import (
    XY,
    Circle,
    Drawing,
    Line,
    Placer,
    Polygon,
    Primitive,
    Rect,
    Text,
    crosses,
    text_box,
    text_width,
    unpatched,
)
from loftwright.drawing.shadings import box, shaded, triangle
from loftwright.drawing.tiles import pointer

_SIZE, _TITLE, _SIDE, _HEAD, _FOOT = 2.4, 2.9, 8.0, 8.0, 6.0
_WIDE = 1.7
"""How wide the seal and water are drawn [mm]."""


@dataclass(frozen=True, slots=True)
class LowPlace:
    """A stretch of the seal in standing water, as points along it [mm]; `lowest` is where a drain would sit."""

    run: tuple[XY, ...]
    text: str
    lowest: XY | None = None


@dataclass(frozen=True, slots=True)
class SealPath:
    """The seal's middle line, closed, x to the cab and y to the left [mm]; texts are ready.

    `corners` are points on the rounding with what is said there; `joint` is where the ends meet.
    """

    title: str
    line: tuple[XY, ...]
    length: str
    joint: XY
    joint_text: str
    corners: tuple[tuple[XY, str], ...] = ()
    low: tuple[LowPlace, ...] = ()
    drains: tuple[tuple[XY, str], ...] = ()
    hinges: tuple[tuple[XY, str], ...] = ()
    latches: tuple[tuple[XY, str], ...] = ()
    said: tuple[str, ...] = ()


def seal_path(seal: SealPath, *, width: float, height: float = 120.0) -> Drawing:
    """Return the seal within `width` and about `height` [mm], cab to the right. Errors: Bug without a line."""
    if len(seal.line) < 3:
        raise Bug("a seal needs its line")
    xs, ys = [x for x, _ in seal.line], [y for _, y in seal.line]
    x0, x1, y0, y1 = min(xs), max(xs), min(ys), max(ys)
    s = min((width - 2 * _SIDE) / (x1 - x0), (height - _HEAD - _FOOT) / (y1 - y0))
    left = (width - s * (x1 - x0)) / 2 - s * x0
    bottom = _HEAD + s * (y1 - y0)

    def at(spot: XY) -> XY:
        return left + s * spot[0], bottom - s * (spot[1] - y0)

    centre = ((x0 + x1) / 2, (y0 + y1) / 2)
    line = [at(spot) for spot in seal.line]
    marks: list[Primitive] = [Text((0.3, 3.6), seal.title, _TITLE, "start", "ink", True)]
    for place in seal.low:
        marks += _water([at(spot) for spot in place.run])
    outer, inner = _beside(line, _WIDE / 2), _beside(line, -_WIDE / 2)
    marks += [Polygon(tuple(outer), "outline"), Polygon(tuple(inner), "outline")]
    placer = Placer(Rect(0.5, _HEAD - 3.0, width - 0.5, bottom + _FOOT - 1.5), gap=0.7)
    placer.avoid_line([*line, line[0]], _WIDE + 0.4)
    labels: list[Primitive] = []
    middle = at(centre)

    def put(text: str, spot: XY, *, bold: bool = False) -> None:
        """Write a text inwards of its spot, with a leader."""
        if not text:
            return
        x, y = at(spot)
        half = text_width(text, _SIZE, bold=bold) / 2
        sx = 1.0 if middle[0] > x + 1.0 else -1.0 if middle[0] < x - 1.0 else 0.0
        sy = 1.0 if middle[1] > y else -1.0
        # From a side that runs upright straight in, from a level one along the way to the middle.
        level = abs(middle[1] - y) > 0.9 * s * (y1 - y0) / 2
        places = [(x + sx * (half + 4.0), y + 0.8), (x + sx * (half + 4.0), y + 4.0 * sy + 0.8)]
        if level:
            places = [(x, y + 6.0 * sy + 0.8), (x + sx * (half + 2.0), y + 6.0 * sy + 0.8), (x, y + 10.0 * sy + 0.8)]
        places += [
            (x + side * (half + k), y + j * sy)
            for k in (4.0, 8.0, 14.0, 20.0)
            for j in (5.0, 8.0, 11.0, 14.0, 18.0)
            for side in ((sx,) if sx else (1.0, -1.0))
        ]
        taken = list(placer.taken)
        free = [one for one in places if not any(crosses(box, _near(text, one, bold, (x, y)), (x, y)) for box in taken)]
        found = placer.place(Text(places[0], text, _SIZE, "middle", "ink", bold, halo=True), free or places)
        if found is None:
            return
        labels.append(found)
        near = _near(text, found.at, bold, (x, y))
        if math.dist(near, (x, y)) > 1.2:
            marks.append(Line(near, (x, y), "fine"))
            placer.avoid_line([near, (x, y)], 0.2)

    put(seal.joint_text, seal.joint, bold=True)
    for spot, text in seal.corners:
        put(text, spot)
    for place in seal.low:
        put(place.text, place.lowest or place.run[len(place.run) // 2])
    for spots in (seal.drains, seal.hinges, seal.latches):
        for spot, text in spots:
            put(text, spot)
    marks += _signs(seal, at)
    found = placer.place(Text(middle, seal.length, 3.2, "middle", "ink", True), [middle])
    labels += [found] if found is not None else []
    y = bottom + _FOOT - 1.0
    right = left + s * x1
    marks += [
        Text((left + s * x0, y), "rear", _SIZE, "start", "note"),
        *pointer((right - 8.0, y - 0.8), (right, y - 0.8)),
    ]
    marks.append(Text((right - 9.5, y), "cab", _SIZE, "end", "note"))
    under, end = legend(_key(seal), 0.0, y + 1.2, width)
    said, end = sentences(seal.said, 0.3, end, width - 0.6)
    told = [seal.length, seal.joint_text, *(t for _, t in seal.corners), *(p.text for p in seal.low)]
    description = " ".join(f"{text}." for text in told if text)
    return Drawing(width, end + 0.6, seal.title, description, (*marks, *unpatched(labels, marks), *under, *said))


def _near(text: str, at: XY, bold: bool, spot: XY) -> XY:
    """Return the place of a text's box that is nearest to a spot."""
    box = text_box(Text(at, text, _SIZE, "middle", "ink", bold))
    return min(max(spot[0], box.x0), box.x1), min(max(spot[1], box.y0), box.y1)


def _beside(line: Sequence[XY], off: float) -> list[XY]:
    """Return a closed line moved sideways by `off` [mm]."""
    n = len(line)
    found = []
    for k in range(n):
        (ax, ay), (bx, by) = line[k - 1], line[(k + 1) % n]
        long = math.dist((ax, ay), (bx, by)) or 1.0
        found.append((line[k][0] + off * (by - ay) / long, line[k][1] - off * (bx - ax) / long))
    return found


def _water(run: Sequence[XY]) -> list[Primitive]:
    """Return a hatched band along a stretch that stands in water."""
    if len(run) < 2:
        return []
    r = 2.6
    sides: list[list[XY]] = [[], []]
    for k, (x, y) in enumerate(run):
        (ax, ay), (bx, by) = run[max(k - 1, 0)], run[min(k + 1, len(run) - 1)]
        long = math.dist((ax, ay), (bx, by)) or 1.0
        nx, ny = (by - ay) / long, -(bx - ax) / long
        sides[0].append((x + r * nx, y + r * ny))
        sides[1].append((x - r * nx, y - r * ny))
    band = [*sides[0], *reversed(sides[1])]
    return [*shaded(band, "level", gap=0.9), Polygon(tuple(band), "thin-outline")]


def _cross(x: float, y: float) -> tuple[Primitive, ...]:
    r = 1.5
    return Line((x - r, y - r), (x + r, y + r), "marker"), Line((x - r, y + r), (x + r, y - r), "marker")


def _square(x: float, y: float, r: float, pen: str) -> Polygon:
    return Polygon(((x - r, y - r), (x + r, y - r), (x + r, y + r), (x - r, y + r)), pen)


def _signs(seal: SealPath, at: Callable[[XY], XY]) -> list[Primitive]:
    """Return signs on the seal: hinges, latches, drains and the joint."""
    marks: list[Primitive] = []
    for spot, _ in seal.hinges:
        marks.append(Circle(at(spot), 1.1, "pivot"))
    for spot, _ in seal.latches:
        marks.append(_square(*at(spot), 1.1, "sign-plate"))
    for spot, _ in seal.drains:
        x, y = at(spot)
        marks.append(triangle(x, y + 1.2, 2.4))
    return [*marks, *_cross(*at(seal.joint))]


def _key(seal: SealPath) -> list[Sign]:
    """Return what the signs mean, only those that are there."""
    band = box(0.0, -2.4, 6.0, 0.0)
    lines = (Line((0.0, -2.0), (6.0, -2.0), "outline"), Line((0.0, -0.4), (6.0, -0.4), "outline"))
    signs = [Sign(lines, 6.0, "seal"), Sign(_cross(1.5, -1.2), 3.0, "the ends meet")]
    if seal.low:
        signs.append(Sign((*shaded(band, "level", gap=0.9), Polygon(band, "thin-outline")), 6.0, "water stands here"))
    if seal.drains:
        signs.append(Sign((triangle(1.2, 0.0, 2.4),), 2.4, "drain"))
    if seal.hinges:
        signs.append(Sign((Circle((1.1, -1.1), 1.1, "pivot"),), 2.2, "hinge"))
    if seal.latches:
        signs.append(Sign((_square(1.1, -1.1, 1.1, "sign-plate"),), 2.2, "latch"))
    return signs
