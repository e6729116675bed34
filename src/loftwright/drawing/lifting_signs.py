"""Small pictures of the ways in which a roof can lift: a van from the side, its roof closed and open."""

from __future__ import annotations

import math
from typing import Final

from loftwright.drawing.page import XY, Circle, Drawing, Line, Polygon, Polyline, Primitive, Text
from loftwright.drawing.parts import arrow

WIDTH, HEIGHT = 48.0, 33.0
"""Size of a picture [mm]."""

WAYS: Final = ("hinge front", "hinge rear", "arms", "level arms", "scissor", "unknown")
"""Ways that have a picture."""

_ROOF, _GROUND = 17.0, 31.0
_REAR, _FRONT = 7.0, 32.0
"""Ends of the shell on the page: the rear is at the left, the cab at the right."""
_TURN: Final = math.radians(24.0)


def _van() -> list[Primitive]:
    """Return the van: body, side window of the cab, wheels, ground."""
    body = (
        (4.0, 28.0), (4.0, 18.2), (5.2, _ROOF), (34.0, _ROOF), (39.0, 21.6), (44.4, 22.8), (45.4, 24.2), (45.4, 28.0),
    )  # fmt: skip
    cab = ((33.2, 18.8), (33.2, 22.2), (37.6, 22.2), (34.8, 18.8))
    return [
        Line((1.0, _GROUND), (47.0, _GROUND), "fine"),
        Polygon(body, "item"),
        Polygon(cab, "pivot"),
        *(Circle((x, 28.2), 2.6, "pivot") for x in (11.0, 38.4)),
    ]


def _outline() -> tuple[XY, ...]:
    """Return the closed shell, a shallow tub upside down."""
    low, high = _ROOF - 0.3, _ROOF - 3.2
    return ((_REAR, low), (_REAR + 0.6, high + 0.8), (_REAR + 2.0, high), (_FRONT - 3.2, high), (_FRONT, low))


def _turned(points: tuple[XY, ...], about: XY, angle: float) -> tuple[XY, ...]:
    """Return points turned about one by an angle [rad] that lifts what lies to the right of it."""
    cos, sin = math.cos(angle), math.sin(angle)
    return tuple(
        (about[0] + cos * (x - about[0]) + sin * (y - about[1]), about[1] - sin * (x - about[0]) + cos * (y - about[1]))
        for x, y in points
    )


def _moved(points: tuple[XY, ...], dx: float, dy: float) -> tuple[XY, ...]:
    return tuple((x + dx, y + dy) for x, y in points)


def _shell(opened: tuple[XY, ...]) -> list[Primitive]:
    closed = _outline()
    return [Polyline((*closed, closed[0]), "ghost"), Polygon(opened, "shell")]


def _rise(x: float, top: float) -> list[Primitive]:
    """Return an arrow upwards at x, from the roof to `top`."""
    return [Line((x, _ROOF - 4.2), (x, top), "ink"), arrow((x, top), 0.0, -1.0, 2.4)]


def _pins(*places: XY) -> list[Primitive]:
    return [Circle(at, 0.8, "pivot") for at in places]


def _hinged(at_front: bool) -> list[Primitive]:
    axis = (_FRONT, _ROOF - 0.3) if at_front else (_REAR, _ROOF - 0.3)
    opened = _turned(_outline(), axis, -_TURN if at_front else _TURN)
    free = _REAR if at_front else _FRONT
    (wall,) = [point for point, before in zip(opened, _outline(), strict=True) if before == (free, _ROOF - 0.3)]
    return [
        Polyline(((free, _ROOF), wall), "strap"),
        *_shell(opened),
        *_rise(_REAR - 4.4 if at_front else _FRONT + 4.4, 8.0),
        *_pins(axis),
    ]


def _bars(*ends: tuple[XY, XY]) -> list[Primitive]:
    return [Line(a, b, "rim") for a, b in ends]


def _arms() -> list[Primitive]:
    a, b = (_FRONT - 3.0, _ROOF), (_FRONT - 7.5, _ROOF)
    opened = _moved(_turned(_outline(), (_FRONT, _ROOF - 0.3), -math.radians(10.0)), -3.5, -4.6)
    on_shell = _turned(((_FRONT - 5.0, _ROOF - 0.9), (_FRONT - 11.0, _ROOF - 0.9)), (_FRONT, _ROOF - 0.3), -0.1745)
    c, d = _moved(on_shell, -3.5, -4.6)
    return [*_shell(opened), *_bars((a, c), (b, d)), *_rise(_REAR - 4.4, 5.5), *_pins(a, b, c, d)]


def _level() -> list[Primitive]:
    opened = _moved(_outline(), -2.5, -8.0)
    ends = tuple(((x, _ROOF), (x - 4.0, _ROOF - 8.6)) for x in (_REAR + 7.5, _FRONT - 3.0))
    return [*_shell(opened), *_bars(*ends), *_rise(_FRONT + 4.4, 7.0), *_pins(*(end for pair in ends for end in pair))]


def _crossing() -> list[Primitive]:
    opened = _moved(_outline(), 0.0, -8.0)
    low, high = _ROOF, _ROOF - 8.6
    left, right = _REAR + 5.0, _FRONT - 6.0
    middle = ((left + right) / 2, (low + high) / 2)
    ends = (((left, low), (right, high)), ((right, low), (left, high)))
    pins = _pins(*(end for pair in ends for end in pair), middle)
    return [*_shell(opened), *_bars(*ends), *_rise(_FRONT + 4.4, 7.0), *pins]


def _unknown() -> list[Primitive]:
    middle = (_REAR + _FRONT) / 2
    closed = _outline()
    return [Polygon(closed, "shell"), Text((middle, _ROOF - 5.0), "?", 9.0, "middle", "ink", True)]


def lifting_sign(way: str) -> Drawing:
    """Return the picture of one of `WAYS`: the shell open, dashed where it lies closed, its pins, an arrow upwards."""
    marks = {
        "hinge front": lambda: _hinged(True),
        "hinge rear": lambda: _hinged(False),
        "arms": _arms,
        "level arms": _level,
        "scissor": _crossing,
        "unknown": _unknown,
    }[way]()
    return Drawing(WIDTH, HEIGHT, way, "", (*_van(), *marks))
