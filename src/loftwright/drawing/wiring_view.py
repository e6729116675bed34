"""The wiring as one line a circuit: panel, gland, fuse, controller and battery downwards, loads hang from one line.

Each thing is a sign with its name and ready texts beside it; the cable's text stands beside its line.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from loftwright.core.errors import Bug
from loftwright.drawing.legend import sentences
from loftwright.drawing.page import Circle, Drawing, Line, Polygon, Polyline, Primitive, Text
from loftwright.drawing.shadings import box
from loftwright.drawing.tiles import wrapped

ThingKind = Literal["panel", "gland", "fuse", "controller", "battery", "switch", "lift", "lamp", "other"]

_NAME, _SIZE, _TITLE = 2.5, 2.2, 2.9
_LINE, _HALF, _CABLE = 3.1, 4.0, 7.0
_BESIDE, _INDENT, _TOP = 3.0, 8.0, 7.0
_LEAST = 40.0
"""A circuit's column has at least this width [mm]."""


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing in a circuit: its name, lines of text, and the text of the cable that comes to it from above."""

    kind: ThingKind
    name: str
    texts: tuple[str, ...] = ()
    cable: str = ""


@dataclass(frozen=True, slots=True)
class Wiring:
    """`source` runs from the panel down to the battery; each of `loads` hangs from the battery, first thing first."""

    title: str
    source: tuple[Thing, ...]
    loads: tuple[tuple[Thing, ...], ...] = ()
    said: tuple[str, ...] = ()


def wiring_view(wiring: Wiring, *, width: float) -> Drawing:
    """Return the diagram, `width` [mm] wide; loads stand side by side where there is room.

    Errors: Bug without a source.
    """
    if not wiring.source:
        raise Bug("a wiring needs what feeds it")
    marks: list[Primitive] = [Text((0.3, 3.6), wiring.title, _TITLE, "start", "ink", True)]
    n = len(wiring.loads)
    beside = n == 0 or width / n >= _LEAST
    chain, y = _chain(wiring.source, _HALF + 1.0, _TOP, width)
    marks += chain
    if n and beside:
        y, drawn = _side_by_side(wiring.loads, y, width)
        marks += drawn
    elif n:
        y, drawn = _stacked(wiring.loads, y, width)
        marks += drawn
    said, y = sentences(wiring.said, 0.3, y + 2.4, width - 0.6)
    return Drawing(width, y + 0.8, wiring.title, _told(wiring), (*marks, *said))


def _side_by_side(loads: Sequence[Sequence[Thing]], top: float, width: float) -> tuple[float, list[Primitive]]:
    """Return loads in columns under one line across, and where they end."""
    each = width / len(loads)
    bar = top + 4.0
    x0 = _HALF + 1.0
    marks: list[Primitive] = [
        Line((x0, top), (x0, bar), "sign"),
        Line((x0, bar), (each * (len(loads) - 1) + x0, bar), "rim"),
    ]
    low = bar
    for k, load in enumerate(loads):
        x = each * k + x0
        marks.append(Circle((x, bar), 0.6, "start-hole"))
        drawn, end = _chain(load, x, bar, each - 1.5, led=True)
        marks += drawn
        low = max(low, end)
    return low, marks


def _stacked(loads: Sequence[Sequence[Thing]], top: float, width: float) -> tuple[float, list[Primitive]]:
    """Return loads one under the other, fed from one upright line at the left, and where they end."""
    x0 = _HALF + 1.0
    x = x0 + _INDENT
    marks: list[Primitive] = []
    y = top + 2.0
    last = y
    for load in loads:
        marks += [Polyline(((x0, y), (x, y), (x, y + 1.0)), "sign"), Circle((x0, y), 0.6, "start-hole")]
        last = y
        drawn, y = _chain(load, x, y + 0.5, width - _INDENT, led=True)
        marks += drawn
        y += 3.0
    return y - 3.0, [Line((x0, top), (x0, last), "rim"), *marks]


def _chain(
    things: Sequence[Thing], x: float, top: float, width: float, *, led: bool = False
) -> tuple[list[Primitive], float]:
    """Return things under one another on a line at x, and where the last one ends; `led`: a cable comes from above.

    `width` [mm] counts from `_HALF` left of the line.
    """
    marks: list[Primitive] = []
    left = x + _HALF + _BESIDE
    room = width - 2 * _HALF - _BESIDE - 1.0
    y = top
    for k, thing in enumerate(things):
        if k or led:
            lines = wrapped(thing.cable, room + _HALF, _SIZE)
            long = max(_CABLE, _LINE * len(lines) + 2.6)
            marks.append(Line((x, y), (x, y + long), "sign"))
            start = y + long / 2 - _LINE * (len(lines) - 1) / 2 + 0.8
            marks += [
                Text((x + _BESIDE, start + _LINE * i), line, _SIZE, "start", "note") for i, line in enumerate(lines)
            ]
            y += long
        rows = [(line, True) for line in wrapped(thing.name, room, _NAME, bold=True)]
        rows += [(line, False) for text in thing.texts for line in wrapped(text, room, _SIZE)]
        high = max(2 * _HALF, _LINE * len(rows) + 1.2)
        marks += _sign(thing.kind, x, y + _HALF)
        if high > 2 * _HALF and k < len(things) - 1:
            # The cable leaves below the texts.
            marks.append(Line((x, y + 2 * _HALF), (x, y + high), "sign"))
        start = y + 2.9 if len(rows) > 2 else y + _HALF + 0.9 - _LINE * (len(rows) - 1) / 2
        for i, (line, bold) in enumerate(rows):
            size = _NAME if bold else _SIZE
            marks.append(Text((left, start + _LINE * i), line, size, "start", "ink", bold))
        y += high
    return marks, y


def _sign(kind: ThingKind, x: float, y: float) -> list[Primitive]:
    """Return the sign of a thing about x, y, four millimetres to every side."""
    h = _HALF
    frame = Polygon(box(x - h, y - h, x + h, y + h), "sign-plate")
    match kind:
        case "panel":
            grid: list[Primitive] = [
                Line((x - h + k * h, y - h), (x - h + k * h, y + h), "fine") for k in (0.5, 1.0, 1.5)
            ]
            grid += [Line((x - h, y + k * h), (x + h, y + k * h), "fine") for k in (-0.33, 0.33)]
            return [frame, *grid]
        case "gland":
            upper = ((x - 2.6, y - h), (x + 2.6, y - h), (x + 1.2, y), (x - 1.2, y))
            lower = ((x - 1.2, y), (x + 1.2, y), (x + 2.6, y + h), (x - 2.6, y + h))
            return [Polygon(upper, "sign-plate"), Polygon(lower, "sign-plate"), Line((x - h, y), (x + h, y), "floor")]
        case "fuse":
            return [
                Polygon(box(x - 1.6, y - h, x + 1.6, y + h), "sign-plate"),
                Line((x, y - h), (x, y + h), "sign"),
            ]
        case "controller":
            return [
                frame,
                Line((x - h, y + h), (x + h, y - h), "fine"),
                Polyline(((x - 3.0, y - 2.2), (x - 0.4, y - 2.2)), "sign"),
                Polyline(((x - 3.0, y - 1.2), (x - 0.4, y - 1.2)), "sign"),
                Polyline(((x + 0.4, y + 2.2), (x + 3.0, y + 2.2)), "sign"),
            ]
        case "battery":
            plates: list[Primitive] = []
            for k, half in ((-1.8, 3.4), (-0.6, 1.7), (0.6, 3.4), (1.8, 1.7)):
                plates.append(Line((x - half, y + k), (x + half, y + k), "rim" if half < 2 else "sign"))
            return [
                Line((x, y - h), (x, y - 1.8), "sign"),
                Line((x, y + 1.8), (x, y + h), "sign"),
                *plates,
            ]
        case "switch":
            return [
                Line((x, y - h), (x, y - 2.0), "sign"),
                Line((x, y + 2.0), (x, y + h), "sign"),
                Line((x, y + 2.0), (x + 2.2, y - 1.8), "sign"),
                Circle((x, y - 2.0), 0.5, "pivot"),
                Circle((x, y + 2.0), 0.5, "pivot"),
            ]
        case "lift":
            return [
                frame,
                Polyline(((x - 2.6, y + 1.0), (x, y - 2.4), (x + 2.6, y + 1.0)), "rim"),
                Line((x - 2.6, y + 2.6), (x + 2.6, y + 2.6), "sign"),
            ]
        case "lamp":
            d = 0.707 * 3.4
            return [
                Line((x, y - h), (x, y - 3.4), "sign"),
                Circle((x, y), 3.4, "sign-plate"),
                Line((x - d, y - d), (x + d, y + d), "fine"),
                Line((x - d, y + d), (x + d, y - d), "fine"),
            ]
        case _:
            return [frame]


def _told(wiring: Wiring) -> str:
    def said(things: Sequence[Thing]) -> str:
        return ", then ".join(
            " ".join(filter(None, (t.name, *t.texts, f"by {t.cable}" if t.cable else ""))) for t in things
        )

    loads = " ".join(f"From the battery: {said(load)}." for load in wiring.loads)
    return f"{said(wiring.source)}. {loads}".strip()
