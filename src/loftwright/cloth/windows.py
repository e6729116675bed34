"""Windows: one sight line, and from it the outline of every layer, its tape, and what it must keep clear of.

A sight line is an upright rectangle with round corners, placed by its middle along the wall and its lower edge over
the lower line. All in metres, in the frame of the panel; outlines turn left and carry their corners as arcs.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from loftwright.cloth.cut_lines import EDGES, Net
from loftwright.cloth.window_rows import left_of
from loftwright.core.motion import Array
from loftwright.core.pattern import Contour, ContourKind, Vertex

QUARTER: Final = math.sqrt(2.0) - 1.0
"""Bulge of a quarter circle: tan(pi / 8) [1]."""

Closing = Literal["all round", "three sides"]


@dataclass(frozen=True, slots=True)
class Sight:
    """What is looked through: `middle` from the wall's middle, `bottom` over its lower line, sizes and corners [m]."""

    middle: float
    bottom: float
    width: float
    height: float
    radius: float = 0.04
    name: str = "window"

    def __post_init__(self) -> None:
        if min(self.width, self.height) <= 0.0 or not 0.0 <= self.radius <= min(self.width, self.height) / 2.0:
            raise ValueError(f"{self.name}: its corners must fit within its sides, and its sides be more than nought")


@dataclass(frozen=True, slots=True)
class Layering:
    """How far each layer goes beyond the sight line [m]; `turn` is how far the outer cloth falls short of it.

    Judgement, common practice: 10 mm turned outward, 15 mm for the clear sheet, 20 for the insect screen, 40 for the
    curtain or flap, zip or hook tape in the middle between screen and curtain.
    """

    turn: float = 0.010
    clear: float = 0.015
    screen: float = 0.020
    curtain: float = 0.040
    tape: float = 0.030

    @property
    def largest(self) -> float:
        """The largest layer beyond the sight line [m]."""
        return max(-self.turn, self.clear, self.screen, self.curtain, self.tape)


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle with round corners in the panel's frame [m]."""

    left: float
    bottom: float
    right: float
    top: float
    radius: float

    def grown(self, by: float) -> Box:
        """Return it `by` [m] larger all round (or smaller), corners concentric, sharp where no radius is left."""
        return Box(self.left - by, self.bottom - by, self.right + by, self.top + by, max(self.radius + by, 0.0))

    @property
    def perimeter(self) -> float:
        """Length of its edge, 2 (width + height) - (8 - 2 pi) r [m]."""
        sides = 2.0 * (self.right - self.left + self.top - self.bottom)
        return sides - (8.0 - 2.0 * math.pi) * self.radius

    def contour(self, kind: ContourKind, name: str) -> Contour:
        """Return it as lines and quarter circles."""
        x0, y0, x1, y1, r = self.left, self.bottom, self.right, self.top, self.radius
        if r <= 0.0:
            corners: tuple[Vertex, ...] = ((x0, y0, 0.0), (x1, y0, 0.0), (x1, y1, 0.0), (x0, y1, 0.0))
            return Contour(kind, corners, True, name)
        found: list[Vertex] = []
        for x, y, bulge in (
            (x0 + r, y0, 0.0),
            (x1 - r, y0, QUARTER),
            (x1, y0 + r, 0.0),
            (x1, y1 - r, QUARTER),
            (x1 - r, y1, 0.0),
            (x0 + r, y1, QUARTER),
            (x0, y1 - r, 0.0),
            (x0, y0 + r, QUARTER),
        ):
            # Where a side has no straight part left its two ends are one point, which carries the arc.
            if found and math.dist(found[-1][:2], (x, y)) < 1e-9:
                found[-1] = (x, y, bulge)
            else:
                found.append((x, y, bulge))
        return Contour(kind, tuple(found), True, name)


def placed(sight: Sight, net: Net) -> Box:
    """Return the sight line in the frame of a panel: from the middle of its lower line, over the line's chord.

    The lower edge lies `bottom` over the highest point of the lower line below the window, so that it stays level.
    """
    low = net.bottom
    middle = float(low[0, 0] + low[-1, 0]) / 2.0 + sight.middle
    x0, x1 = middle - sight.width / 2.0, middle + sight.width / 2.0
    across = np.append(np.linspace(x0, x1, 21), np.clip(low[:, 0], x0, x1))
    base = float(np.max(np.interp(across, low[:, 0], low[:, 1])))
    return Box(x0, base + sight.bottom, x1, base + sight.bottom + sight.height, sight.radius)


def layers(box: Box, layering: Layering) -> Mapping[str, Box]:
    """Return the outline of every layer of a window by its name, from its sight line. Lengths in [m]."""
    return {
        "outer cloth, cut": box.grown(-layering.turn),
        "sight line": box,
        "clear sheet": box.grown(layering.clear),
        "insect screen": box.grown(layering.screen),
        "tape": box.grown(layering.tape),
        "curtain": box.grown(layering.curtain),
    }


def tape_length(box: Box, layering: Layering, closing: Closing = "all round", overlap: float = 0.05) -> float:
    """Return how much zip or hook tape goes round a window [m], with `overlap` [m] more.

    All round: 2 (w + h) - (8 - 2 pi) r on the tape's own line (1); on three sides the upper straight side is left out.
    """
    own = box.grown(layering.tape)
    whole = own.perimeter
    return overlap + (whole if closing == "all round" else whole - (own.right - own.left - 2.0 * own.radius))


def relief_notches(box: Box, layering: Layering, pitch: float = 0.010, short: float = 0.002) -> tuple[Contour, ...]:
    """Return the cuts that let the outer cloth's round corners be turned: from its cut line to `short` [m] of the line.

    They stand at most `pitch` [m] apart on the sight line's corners, at least three to a corner.
    """
    cut = box.grown(-layering.turn)
    r = box.radius
    if r <= short or layering.turn <= short:
        return ()
    count = max(3, math.ceil(math.pi / 2.0 * r / pitch) - 1)
    found = []
    centres = (
        (box.right - r, box.bottom + r, -0.5),
        (box.right - r, box.top - r, 0.0),
        (box.left + r, box.top - r, 0.5),
        (box.left + r, box.bottom + r, 1.0),
    )
    for number, (cx, cy, quarter) in enumerate(centres, 1):
        for k in range(count):
            angle = math.pi * (quarter + 0.5 * (k + 1) / (count + 1))
            way = (math.cos(angle), math.sin(angle))
            ends = tuple((cx + at * way[0], cy + at * way[1], 0.0) for at in (cut.radius, r - short))
            found.append(Contour("mark", ends, False, f"relief cut, corner {number}"))
    return tuple(found)


def _edge_points(box: Box) -> Array:
    corners = np.asarray(box.contour("mark", "").flattened(2e-5))
    apart = np.hypot(*np.diff(corners, axis=0).T)
    filled = [
        corners[k] + (corners[k + 1] - corners[k]) * np.linspace(0.0, 1.0, max(2, int(apart[k] / 0.005)))[:, None]
        for k in range(len(corners) - 1)
    ]
    return np.concatenate(filled)


def clearances(box: Box, net: Net) -> Mapping[str, float]:
    """Return how far inside each edge of its panel a layer stays [m], by the names of `EDGES`; negative beyond it."""
    points = _edge_points(box)
    return {name: float(np.min(left_of(points[None], net.edge(name)[None]))) for name in EDGES}
