"""The roof in one open pose as flat panels: walls between the rim of the opening and the rim of the shell.

Axes x to the cab, y to the left, z up, origin at the middle of the rear edge of the opening at roof height. Rows come
first, [...]; the components of a point last. A wedge hinged at either end or a box on a level lift: only the heights
of the two ends differ.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array

Direction = Literal["front", "rear", "left", "right"]
"""Where the wind comes from, seen from the van."""
DIRECTIONS: Final[tuple[Direction, ...]] = ("front", "rear", "left", "right")
WALLS: Final[tuple[Direction, ...]] = DIRECTIONS


@dataclass(frozen=True, slots=True)
class RaisedShape:
    """The roof in one open pose; every field is [...].

    `rear` x of the rear edge of the opening, its `length` and `width` [m]; `shell_x`, `shell_z` the rear end of the
    shell's lower rim in the open pose, `shell_length`, `shell_width` and `shell_height` of the shell itself [m];
    `tilt` [rad] from x towards z, positive with the front end higher; `hinge_x`, `hinge_z` the middle of the hinge
    line [m]; `roof_height` of the van's roof above the ground [m].
    """

    rear: Array
    length: Array
    width: Array
    shell_x: Array
    shell_z: Array
    shell_length: Array
    shell_width: Array
    shell_height: Array
    tilt: Array
    hinge_x: Array
    hinge_z: Array
    roof_height: Array

    @property
    def front_z(self) -> Array:
        """Height of the front end of the shell's rim over the roof [m]."""
        return np.asarray(self.shell_z + self.shell_length * np.sin(self.tilt))

    @property
    def front_x(self) -> Array:
        """Place of the front end of the shell's rim [m]."""
        return np.asarray(self.shell_x + self.shell_length * np.cos(self.tilt))

    @property
    def raised(self) -> Array:
        """Height of the highest part of the rim over the roof [m]."""
        return np.maximum(np.maximum(self.shell_z, self.front_z), 0.0)

    @property
    def hinge(self) -> Array:
        """Middle of the hinge line, [..., 3] [m]."""
        return points(self.hinge_x, 0.0, self.hinge_z)

    def on_shell(self, along: ArrayLike, across: ArrayLike, above: ArrayLike = 0.0) -> Array:
        """Return a point of the shell: `along` from its rear end, `across` to the left, `above` its rim [m], [...]."""
        a, up = np.asarray(along, dtype=np.float64), np.asarray(above, dtype=np.float64)
        c, s = np.cos(self.tilt), np.sin(self.tilt)
        return points(self.shell_x + a * c - up * s, across, self.shell_z + a * s + up * c)

    def corners(self, wall: Direction) -> tuple[Array, Array, Array, Array]:
        """Return the corners of a wall [m], [..., 3]: below, above, above, below, so that the area points outward."""
        low, high = self.width / 2.0, self.shell_width / 2.0
        x0, x1 = self.rear, self.rear + self.length
        back = self.shell_x, np.maximum(self.shell_z, 0.0)
        fore = self.front_x, np.maximum(self.front_z, 0.0)

        def up(end: tuple[Array, Array], y: Array) -> Array:
            return points(end[0], y, end[1])

        if wall == "left":
            return points(x0, low, 0.0), up(back, high), up(fore, high), points(x1, low, 0.0)
        if wall == "right":
            return points(x1, -low, 0.0), up(fore, -high), up(back, -high), points(x0, -low, 0.0)
        if wall == "front":
            return points(x1, low, 0.0), up(fore, high), up(fore, -high), points(x1, -low, 0.0)
        return points(x0, -low, 0.0), up(back, -high), up(back, high), points(x0, low, 0.0)


def points(x: ArrayLike, y: ArrayLike, z: ArrayLike) -> Array:
    """Return points from `x`, `y`, `z` [m], each [...], as [..., 3]."""
    return np.stack(np.broadcast_arrays(*(np.asarray(v, dtype=np.float64) for v in (x, y, z))), axis=-1)


def vector_area(corners: tuple[Array, Array, Array, Array]) -> Array:
    """Return the vector area of four corners: (C - A) x (D - B) / 2 (1), exact for any surface between them.

    `corners` A, B, C, D [m], [..., 3]; [m2], [..., 3]. Source: derivation.
    """
    a, b, c, d = corners
    return np.asarray(np.cross(c - a, d - b) / 2.0)


def panel_centre(corners: tuple[Array, Array, Array, Array]) -> Array:
    """Return the middle of area of four corners from its two triangles (2); a panel of no area has the corners' mean.

    `corners` A, B, C, D [m], [..., 3]; [m], [..., 3]. Source: derivation.
    """
    a, b, c, d = corners
    one = np.linalg.norm(np.cross(b - a, c - a), axis=-1)[..., None]
    two = np.linalg.norm(np.cross(c - a, d - a), axis=-1)[..., None]
    whole = one + two
    weighted = one * (a + b + c) / 3.0 + two * (a + c + d) / 3.0
    return np.asarray(np.where(whole > 0, weighted / np.where(whole > 0, whole, 1.0), (a + b + c + d) / 4.0))


def upper_edge_centre(corners: tuple[Array, Array, Array, Array]) -> Array:
    """Return where a wall's push on its upper edge acts: t = (h_B + 2 h_C) / (3 (h_B + h_C)) from B to C (3).

    The push per length of edge is proportional to the height of the cloth below it, h_B to h_C. `corners` A, B, C, D
    [m], [..., 3]; [m], [..., 3]. Source: derivation.
    """
    a, b, c, d = corners
    first, last = (np.linalg.norm(v, axis=-1)[..., None] for v in (b - a, c - d))
    both = first + last
    t = np.where(both > 0, (first + 2.0 * last) / np.where(both > 0, 3.0 * both, 1.0), 0.5)
    return np.asarray(b + t * (c - b))
