"""What a view in three dimensions shows: one roof as flat faces and lines, and how its bodies turn.

Metres in the van's frame: x to the cab, y to the left, z up; origin in the middle of the rear edge of the roof
opening at roof height. Everything that moves is given where it lies when the roof is CLOSED, with the name of
the body that carries it. Bodies move in one upright plane, `Swing`, by the same `PoseTable` as the side view.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from loftwright.core.choices import BodyName
from loftwright.core.scene import Pose, PoseTable

Point = tuple[float, float, float]
"""A point (x, y, z) [m]."""

Loop = tuple[Point, ...]
"""Corners of a flat face, anticlockwise as seen from outside, the first not repeated."""

Tone = Literal[
    "floor", "roof", "upstand", "shell", "inside", "rim", "arm", "rail", "board", "item", "hinge", "pin", "handle",
    "tube", "rod", "strap", "trace",
]  # fmt: skip
"""Names of pens: what a face or line is made of."""


@dataclass(frozen=True, slots=True)
class Swing:
    """The upright plane in which bodies move: its origin (x, y) [m] and the level direction (ex, ey) of its first axis.

    A roof hinged at an end or on arms moves along the van: (1, 0). One hinged at a side moves across it, as seen
    from behind: (0, -1), from the left edge of the opening to the right.
    """

    x: float
    y: float
    ex: float
    ey: float

    def into(self, u: float, v: float, z: float) -> Point:
        """Return the van's (x, y, z) [m] of u along the plane, v to its left, z up."""
        return self.x + u * self.ex - v * self.ey, self.y + u * self.ey + v * self.ex, z

    def out_of(self, point: Point) -> Point:
        """Return (u, v, z) [m] of a point of the van."""
        x, y = point[0] - self.x, point[1] - self.y
        return x * self.ex + y * self.ey, y * self.ex - x * self.ey, point[2]

    def moved(self, point: Point, pose: Pose) -> Point:
        """Return where the point that lies at `point` when closed lies in `pose`."""
        u, v, z = self.out_of(point)
        cos, sin = math.cos(pose.phi), math.sin(pose.phi)
        return self.into(pose.x + cos * u - sin * z, v, pose.z + sin * u + cos * z)


@dataclass(frozen=True, slots=True)
class Part:
    """Flat faces of one body in one tone, seen from outside only. `name` is shared by the parts of one solid."""

    name: str
    body: BodyName
    tone: Tone
    faces: tuple[Loop, ...]


@dataclass(frozen=True, slots=True)
class Bar:
    """A round bar of one body from a to b, `wide` [m]: a hinge's knuckle, a pin, a handle."""

    name: str
    body: BodyName
    tone: Tone
    a: Point
    b: Point
    wide: float


@dataclass(frozen=True, slots=True)
class Lifter:
    """A spring between two bodies; the tube, `tube_length` [m], sits at the head; without one it is a line."""

    name: str
    foot_on: BodyName
    foot: Point
    head_on: BodyName
    head: Point
    tube_length: float
    tube_wide: float


@dataclass(frozen=True, slots=True)
class Strap:
    """A strap of `length` [m] that hangs straight down from a point of a body."""

    body: BodyName
    at: Point
    length: float


@dataclass(frozen=True, slots=True)
class Figure:
    """A person, feet at `at`, `height` tall [m]; stands upright from `fits_from` (0 closed, 1 open) on.

    Lower down the shell would be in the way; `fits_from` is None where it always is.
    """

    at: Point
    height: float
    fits_from: float | None


@dataclass(frozen=True, slots=True)
class Caption:
    """A word beside a point."""

    text: str
    at: Point


@dataclass(frozen=True, slots=True)
class Solid:
    """One roof, closed, in three dimensions, and what moves it.

    `notes`: sentences on what is drawn as an illustration only.
    """

    parts: tuple[Part, ...]
    bars: tuple[Bar, ...]
    lifters: tuple[Lifter, ...]
    straps: tuple[Strap, ...]
    figure: Figure | None
    captions: tuple[Caption, ...]
    swing: Swing
    poses: PoseTable
    notes: tuple[str, ...]
