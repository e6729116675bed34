"""Pieces as they are laid on the roll: allowed turns, outlines made simpler outward, turned outlines.

Lengths in metres, x along the roll, y across it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from loftwright.core.motion import Array
from loftwright.core.pattern import XY

Turns = Literal["nap", "grain", "quarter", "free"]
"""How a piece may be turned: not at all, half round, by quarter turns, or by any angle."""

TURNS: Final[dict[Turns, tuple[float, ...]]] = {
    "nap": (0.0,),
    "grain": (0.0, math.pi),
    "quarter": (0.0, math.pi / 2.0, math.pi, 3.0 * math.pi / 2.0),
}
"""Allowed turns to the left [rad]; a free piece is in none of these rows."""

OUTWARD: Final = 0.0005
"""How far a simpler outline may stand off the true one [m]."""
_GROWN = 0.0002
"""Growth and tolerance of the simplifying [m]: a tip, 1.5 times the growth, and the tolerance make up `OUTWARD`."""
_FEW = 24
"""An outline of no more vertices is laid as it is."""


@dataclass(frozen=True, slots=True)
class RollPiece:
    """A piece to be laid: its cut line [m], x along the roll, how often it is cut and how it may be turned."""

    number: str
    outline: tuple[XY, ...]
    count: int = 1
    turns: Turns = "grain"

    @property
    def points(self) -> Array:
        """Vertices of the cut line [m], turning left, without a repeated last one, [k, 2]."""
        points = np.asarray(self.outline, dtype=np.float64)
        if len(points) > 1 and np.array_equal(points[0], points[-1]):
            points = points[:-1]
        return points if area(points) >= 0.0 else np.asarray(points[::-1])


def area(points: Array) -> float:
    """Return the area inside a closed line of `points` [m, shaped k by 2], in m2, positive where it turns left."""
    x, y = points[:, 0], points[:, 1]
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) / 2.0


def turned(points: Array, angle: float) -> Array:
    """Return `points` [m, shaped k by 2] turned left about the origin by `angle` [rad], exact for quarter turns."""
    quarters = angle / (math.pi / 2.0)
    if abs(quarters - round(quarters)) < 1e-9:
        cos, sin = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[round(quarters) % 4]
    else:
        cos, sin = math.cos(angle), math.sin(angle)
    return np.asarray(points @ np.array([[cos, sin], [-sin, cos]]))


def grown(points: Array, by: float) -> Array:
    """Return a simple outline that holds that of `points` [m, shaped k by 2] and all within `by` [m] of its edges.

    A line of many vertices is grown and made simpler so that it stays outside, within `OUTWARD` of the true one.
    ValueError where the line crosses itself.
    """
    from shapely.geometry import Polygon

    shape = Polygon(points)
    if not shape.is_valid or shape.is_empty:
        raise ValueError("the cut line crosses itself")
    many = len(points) > _FEW
    growth = by + (_GROWN if many else 0.0)
    if growth > 0.0:
        shape = shape.buffer(growth, join_style="mitre", mitre_limit=1.5)
    if many:
        shape = shape.simplify(_GROWN)
    found = np.asarray(shape.exterior.coords[:-1], dtype=np.float64)
    return found if area(found) >= 0.0 else np.asarray(found[::-1])


def lies(piece: RollPiece) -> tuple[float, ...]:
    """Return the turns [rad] that are tried with a piece: all allowed ones, or for a free one along its sides."""
    if piece.turns != "free":
        return TURNS[piece.turns]
    from shapely.geometry import Polygon

    box = np.asarray(Polygon(piece.points).minimum_rotated_rectangle.exterior.coords)
    sides = np.diff(box[:3], axis=0)
    long = sides[int(np.argmax(np.hypot(sides[:, 0], sides[:, 1])))]
    tilt = -math.atan2(long[1], long[0])
    return (*TURNS["quarter"], *(tilt + quarter for quarter in TURNS["quarter"]))


def narrowest(piece: RollPiece) -> float:
    """Return the least width of roll that a piece needs in any lie that is tried [m]."""
    return min(float(np.ptp(turned(piece.points, angle)[:, 1])) for angle in lies(piece))
