"""Pictures for the measuring sheet: what to lay where, and which length is which letter."""

from __future__ import annotations

import math

from loftwright.drawing.page import XY, Circle, Drawing, Line, Polygon, Polyline, Primitive, Text
from loftwright.drawing.parts import dimension

_CELL_W, _CELL_H = 60.0, 31.0
_GAP = 3.0


def _letter(mark: str, at: XY) -> list[Primitive]:
    """Return a marked circle: the letter by which the sheet's boxes call this length."""
    return [Circle(at, 1.75, "pivot"), Text((at[0], at[1] + 0.75), mark, 2.1, "middle", "ink", True)]


def _measured(a: XY, b: XY, mark: str, *, away: XY = (0.0, 0.0), shift: float = 0.5) -> list[Primitive]:
    """Return a dimension from a to b with its letter at the share `shift` of the way, moved by `away`."""
    at = (a[0] + shift * (b[0] - a[0]) + away[0], a[1] + shift * (b[1] - a[1]) + away[1])
    return [*dimension(a, b), *_letter(mark, at)]


def _shell_at(x: float, y: float, w: float, h: float) -> Polygon:
    """Return a shell seen from the side, standing on its rim at y, from x to x + w."""
    outline = (
        (0, 0),
        (-0.01, 0.5),
        (0.02, 0.78),
        (0.12, 0.92),
        (0.35, 1.0),
        (0.6, 0.97),
        (0.82, 0.8),
        (0.95, 0.5),
        (1, 0.0),
    )
    return Polygon(tuple((x + w * a, y - h * b) for a, b in outline), "shell")


def _ground(x0: float, x1: float, y: float) -> list[Primitive]:
    marks: list[Primitive] = [Line((x0, y), (x1, y), "floor")]
    x = x0 + 1.0
    while x < x1:
        marks.append(Line((x, y), (x - 0.9, y + 1.0), "fine"))
        x += 2.6
    return marks


def _scales(x: float, y: float) -> list[Primitive]:
    """Return bathroom scales on the ground at y with a batten on edge, the top at y - 4."""
    return [
        Polygon(((x - 3.2, y - 1.6), (x + 3.2, y - 1.6), (x + 3.6, y), (x - 3.6, y)), "item"),
        Polygon(((x - 0.6, y - 4.0), (x + 0.6, y - 4.0), (x + 0.6, y - 1.6), (x - 0.6, y - 1.6)), "board"),
    ]


def _weigh() -> list[Primitive]:
    y = 22.0
    return [
        _shell_at(7, y - 4, 46, 8),
        *_scales(14, y),
        *_scales(46, y),
        *_ground(3, 57, y),
        Line((7, y - 4), (7, y + 6.2), "dim"),
        Line((14, y), (14, y + 3.6), "dim"),
        Line((46, y), (46, y + 6.2), "dim"),
        *_measured((7, y + 2.8), (14, y + 2.8), "1", away=(-5.6, 0)),
        *_measured((7, y + 5.6), (46, y + 5.6), "3", shift=0.55),
        *_letter("2", (20.2, y - 2)),
        *_letter("4", (52.2, y - 2)),
    ]


def _balance() -> list[Primitive]:
    y, x = 22.0, 31.0
    return [
        _shell_at(7, y - 3.2, 46, 8),
        Circle((x, y - 1.6), 1.6, "item"),
        *_ground(3, 57, y),
        Line((x, y - 15), (x, y + 4), "ghost"),
        Line((7, y - 3.2), (7, y + 4), "dim"),
        *_measured((7, y + 3.2), (x, y + 3.2), "6"),
        *_letter("5", (36.5, y - 7.0)),
        Text((38.0, y + 4.6), "pipe, across the shell", 2.1, "start", "note"),
    ]


def _shell() -> list[Primitive]:
    y = 22.0
    marks: list[Primitive] = [_shell_at(9, y, 44, 10), *_ground(3, 57, y)]
    for x, h, mark, side in ((11.0, 8.4, "9", 2.6), (31.0, 9.9, "10", 2.6), (50.4, 5.6, "11", -2.6)):
        marks += _measured((x, y), (x, y - h), mark, away=(side, 0.6))
    marks += [
        Line((9, y), (9, y + 4), "dim"),
        Line((53, y), (53, y + 4), "dim"),
        *_measured((9, y + 3.2), (53, y + 3.2), "7"),
        Text((56.5, y - 11.0), "width: 8", 2.1, "end", "note"),
    ]
    return marks


def _roof_curve() -> list[Primitive]:
    marks: list[Primitive] = []
    # Across: a straightedge on the crown, level, with the gap at the side.
    across = [(4 + 22 * t, 14 + 4.2 * (2 * t - 1) ** 2) for t in (i / 24 for i in range(25))]
    marks += [Polyline(tuple(across), "rim"), Polygon(((3, 12.4), (27, 12.4), (27, 13.7), (3, 13.7)), "board")]
    marks += _measured((5.2, 13.7), (5.2, 17.1), "12", away=(0, 6.0))
    marks.append(Text((15, 9.6), "across: straightedge", 2.1, "middle", "note"))
    # Along: a string over two equal blocks, depths below it.
    along = [(32 + 25 * t, 17 + 3.0 * (2 * t - 1) ** 2) for t in (i / 24 for i in range(25))]
    marks += [Polyline(tuple(along), "rim"), Line((32, 13.2), (57, 13.2), "ghost")]
    for x in (32.6, 56.4):
        marks.append(Polygon(((x - 0.7, 13.2), (x + 0.7, 13.2), (x + 0.7, 19.6), (x - 0.7, 19.6)), "item"))
    for k in (1, 2, 3):
        x = 32 + 25 * k / 4
        marks += dimension((x, 13.2), (x, 17 + 3.0 * (k / 2 - 1) ** 2))
    marks += [*_letter("13", (44.5, 22.4)), Line((44.5, 20.6), (44.5, 17.6), "leader")]
    marks.append(Text((44.5, 9.6), "along: string on equal blocks", 2.1, "middle", "note"))
    return marks


def _hinge() -> list[Primitive]:
    y = 19.0
    return [
        Polygon(((3, y), (10, y), (10, y + 1.4), (3, y + 1.4)), "steel"),
        Polygon(((48, y), (57, y), (57, y + 1.4), (48, y + 1.4)), "steel"),
        _shell_at(8.5, y - 0.8, 44.5, 8),
        Circle((50.2, y - 1.8), 0.9, "pivot"),
        Line((10, y), (10, y + 9.6), "dim"),
        Line((48, y), (48, y + 4), "dim"),
        Line((50.2, y - 1.8), (50.2, y + 9.6), "dim"),
        *_measured((10, y + 3.6), (48, y + 3.6), "14"),
        *_measured((10, y + 9.0), (50.2, y + 9.0), "15"),
        Line((50.2, y - 1.8), (58.2, y - 1.8), "dim"),
        *_measured((57.6, y), (57.6, y - 1.8), "16", away=(-0.4, -6.0)),
        Text((29, y - 10.0), "from the opening's rear edge", 2.1, "middle", "note"),
    ]


def _inside() -> list[Primitive]:
    y = 27.0
    marks: list[Primitive] = [
        *_ground(3, 57, y),
        Polygon(((4, 6), (20, 6), (20, 7.4), (4, 7.4)), "steel"),
        Polygon(((44, 6), (57, 6), (57, 7.4), (44, 7.4)), "steel"),
        Polygon(((25, 12), (43, 12), (43, 13.2), (25, 13.2)), "board"),
    ]
    body = [(0.06, 0.0), (0.05, 0.5), (0.07, 0.74), (0.0, 0.84), (-0.07, 0.74), (-0.05, 0.5), (-0.06, 0.0)]
    h = 16.5
    marks.append(Polygon(tuple((14 + h * a, y - h * b) for a, b in body), "person"))
    marks.append(Circle((14, y - 0.92 * h), 0.075 * h, "person"))
    marks += _measured((5.5, y), (5.5, 6), "17")
    marks += _measured((17.6, y), (17.6, y - h), "21", away=(0, 3))
    marks += _measured((33, 6), (33, 12), "20", away=(3.2, 0))
    marks += [Line((20, 7.4), (20, 23), "dim"), Line((25, 13.2), (25, 18), "dim"), Line((43, 13.2), (43, 23), "dim")]
    marks += [Line((20, 6), (44, 6), "ghost")]
    marks += [*dimension((20, 17), (25, 17)), *_letter("18", (28.0, 17)), *_measured((20, 22), (43, 22), "19")]
    marks.append(Text((45, 13.4), "bed board", 2.1, "start", "note"))
    return marks


def measuring_pictures(titles: tuple[str, str, str, str, str, str], *, width: float = 186.0) -> Drawing:
    """Return six pictures in two rows: weigh, balance, shell, roof, hinge, inside; each under its title."""
    cells = (_weigh(), _balance(), _shell(), _roof_curve(), _hinge(), _inside())
    step = (width - _CELL_W) / 2
    marks: list[Primitive] = []
    for i, (title, cell) in enumerate(zip(titles, cells, strict=True)):
        dx, dy = (i % 3) * step, (i // 3) * (_CELL_H + _GAP)
        marks += [_moved(mark, dx, dy) for mark in [*cell, Text((0.0, 3.0), title, 2.6, "start", "ink", True)]]
    height = math.ceil(2 * _CELL_H + _GAP)
    return Drawing(
        width, height, "What to measure", "Six sketches; the numbers name the boxes of the sheet.", tuple(marks)
    )


def _moved(mark: Primitive, dx: float, dy: float) -> Primitive:
    def to(p: XY) -> XY:
        return p[0] + dx, p[1] + dy

    match mark:
        case Line(a, b, pen):
            return Line(to(a), to(b), pen)
        case Polyline(points, pen):
            return Polyline(tuple(to(p) for p in points), pen)
        case Polygon(points, pen):
            return Polygon(tuple(to(p) for p in points), pen)
        case Circle(centre, r, pen):
            return Circle(to(centre), r, pen)
        case Text(at, text, size, anchor, pen, bold):
            return Text(to(at), text, size, anchor, pen, bold)
        case _:
            raise TypeError(f"the sketches hold no {type(mark).__name__}")
