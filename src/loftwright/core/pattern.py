"""Flat pieces of cloth as they cross from where they are worked out to paper, files and screens.

Lengths in metres in the piece's own frame: x along the wall from its left seam seen from outside, y up the cloth.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

XY = tuple[float, float]
"""A point of a piece [m]."""

Vertex = tuple[float, float, float]
"""A point of a contour [m] and the bulge to the next one: tan of a quarter of the arc's angle, left turns positive."""

ContourKind = Literal["stitch", "cut", "mark"]


@dataclass(frozen=True, slots=True)
class Contour:
    """A run of straight lines and arcs. `kind`: where it is sewn, where it is cut, or what is only drawn on it."""

    kind: ContourKind
    vertices: tuple[Vertex, ...]
    closed: bool = True
    name: str = ""

    def flattened(self, chord: float = 0.0001) -> tuple[XY, ...]:
        """Return it as straight lines within `chord` [m] of its arcs; a closed one ends as it began."""
        found: list[XY] = []
        every = (*self.vertices, self.vertices[0]) if self.closed else self.vertices
        for (x0, y0, bulge), (x1, y1, _) in pairwise(every):
            found.append((x0, y0))
            if bulge == 0.0:
                continue
            angle = 4.0 * math.atan(bulge)
            cx = (x0 + x1) / 2.0 - (y1 - y0) * (1.0 - bulge**2) / (4.0 * bulge)
            cy = (y0 + y1) / 2.0 + (x1 - x0) * (1.0 - bulge**2) / (4.0 * bulge)
            radius = math.hypot(x0 - cx, y0 - cy)
            begin = math.atan2(y0 - cy, x0 - cx)
            step = 2.0 * math.acos(max(1.0 - chord / radius, -1.0)) if radius > chord else math.pi
            parts = max(1, math.ceil(abs(angle) / step))
            found += [
                (cx + radius * math.cos(begin + angle * k / parts), cy + radius * math.sin(begin + angle * k / parts))
                for k in range(1, parts)
            ]
        found.append((every[-1][0], every[-1][1]))
        return tuple(found)


@dataclass(frozen=True, slots=True)
class Notch:
    """A match mark on an edge: where [m], the way out of the piece as a unit vector, and its sign.

    `sign` is a short text that also stands at the same place of the neighbour or the rim: "3", "A2"; `arc` [m] is how
    far along the rim or seam it lies.
    """

    at: XY
    out: XY
    sign: str
    arc: float


@dataclass(frozen=True, slots=True)
class Words:
    """A text on the piece: its middle [m], its height [m], its turn to the left [rad]."""

    at: XY
    text: str
    size: float = 0.02
    turn: float = 0.0


@dataclass(frozen=True, slots=True)
class PatternPiece:
    """One flat piece: what is sewn, cut and marked, and everything that is written on it.

    `number` is short and its own ("W1"); `side` says how it lies; `count` how many are cut of it; `grain` runs from
    and to; `nap` whether it may not be turned round. `ordinates` are heights of the lower and upper stitch line over
    the line through its lower ends at distances along it [m]: along, low, high.
    """

    number: str
    name: str
    material: str
    count: int
    side: str
    contours: tuple[Contour, ...]
    notches: tuple[Notch, ...] = ()
    words: tuple[Words, ...] = ()
    grain: tuple[XY, XY] | None = None
    nap: bool = False
    ordinates: tuple[tuple[float, float, float], ...] = ()
    edges: tuple[tuple[str, str, str], ...] = ()
    """Each edge: its name, how it is finished, its allowance as text."""

    def of(self, kind: ContourKind) -> tuple[Contour, ...]:
        """Return its contours of one kind, the outer one first."""
        return tuple(contour for contour in self.contours if contour.kind == kind)

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Least and greatest x and y of all contours [m]: left, bottom, right, top."""
        points = [point for contour in self.contours for point in contour.flattened()]
        xs, ys = [x for x, _ in points], [y for _, y in points]
        return min(xs), min(ys), max(xs), max(ys)


@dataclass(frozen=True, slots=True)
class LaidPiece:
    """A piece as it lies on the roll: its cut line [m], x along the roll, y across it."""

    number: str
    outline: tuple[XY, ...]
    turned: float
    """By how much it is turned to the left [rad]."""
    mirrored: bool = False


@dataclass(frozen=True, slots=True)
class Layout:
    """How the pieces of one material lie on its roll: `width` usable and `length` needed [m]."""

    material: str
    width: float
    length: float
    pieces: tuple[LaidPiece, ...]
    how: str
    """In a few words, how it was found."""

    @property
    def area(self) -> float:
        """Area of the pieces [m2]."""
        return sum(abs(area_of(piece.outline)) for piece in self.pieces)

    @property
    def waste(self) -> float:
        """Share of the roll's usable cloth that is left over [1]."""
        whole = self.width * self.length
        return 1.0 - self.area / whole if whole > 0.0 else 0.0


def area_of(outline: tuple[XY, ...]) -> float:
    """Return the area inside a closed line [m2], positive where it turns left.

    >>> area_of(((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0)))
    2.0
    """
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]), strict=True)) / 2.0
