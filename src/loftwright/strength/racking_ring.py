"""A ring of bars round the opening: its stiffness along and across its own axis, node by node.

The bars lie along the edge of the opening and are tied to the skin at every node there. Shear of the bars
and slip of the fastenings are left out, so what a ring gives back is an upper figure.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array

Corners = Literal["rigid", "pinned"]
"""Whether the bars carry bending round the corners of the ring or meet there in a pin."""


def ring_matrices(points: Array, corner: Array, corners: Corners = "rigid") -> tuple[Array, Array]:
    """Return the stiffness of a closed ring per unit EA [1/m] and per unit EI [1/m3], each [2 n, 2 n].

    Unknowns are the displacements x0, y0, x1, y1 .. of n nodes in order round the ring. Between two nodes
    h apart the bar has the axial stiffness EA/h (1) and the cubic bending stiffness
    EI/h^3 [12, 6h, -12, 6h; 6h, 4h^2, -6h, 2h^2; ..] (2); rotations, free of moments, are then eliminated (3).
    With `corners` "pinned" each side has its own rotation at a corner.

    `points` [2, n] [m]; `corner` [n] is 1 at a corner and 0 elsewhere [1].
    Source: any text on frames; worked out again for Loftwright in docs/theory-strength.md.
    """
    n = points.shape[1]
    turn = np.zeros((n, 2), dtype=np.int64)
    unknown = 2 * n
    for i in range(n):
        # Column 0 is the rotation towards the next node, column 1 that from the node before.
        turn[i] = unknown
        unknown += 1
        if corners == "pinned" and corner[i]:
            turn[i, 1] = unknown
            unknown += 1
    axial, bending = np.zeros((2 * n, 2 * n)), np.zeros((unknown, unknown))
    for i in range(n):
        j = (i + 1) % n
        step = points[:, j] - points[:, i]
        h = float(np.hypot(*step))
        along, across = step / h, np.array([-step[1], step[0]]) / h
        place = [2 * i, 2 * i + 1, 2 * j, 2 * j + 1]
        stretch = np.concatenate([-along, along])
        axial[np.ix_(place, place)] += np.outer(stretch, stretch) / h
        cubic = np.array([[12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h]])
        cubic = np.vstack([cubic, -cubic[0], [6 * h, 2 * h * h, -6 * h, 4 * h * h]]) / h**3
        to_bar = np.zeros((4, 6))
        to_bar[0, :2], to_bar[1, 4], to_bar[2, 2:4], to_bar[3, 5] = across, 1.0, across, 1.0
        every = [*place, turn[i, 0], turn[j, 1]]
        bending[np.ix_(every, every)] += to_bar.T @ cubic @ to_bar
    moved, turned = slice(0, 2 * n), slice(2 * n, unknown)
    cross = bending[moved, turned]
    free = bending[moved, moved] - cross @ np.linalg.solve(bending[turned, turned], cross.T)
    return axial, 0.5 * (free + free.T)


def frame_stiffness(
    length: ArrayLike, width: ArrayLike, modulus: ArrayLike, area: ArrayLike, inertia: ArrayLike
) -> Array:
    """Return the racking stiffness [N/m] of a bare rectangular frame with rigid corners, shear flow per shear angle.

    An even shear flow q along its four bars bends each in a double curve, M = q a b / 4 at the corners, and gives
    gamma / q = a b (a + b) / (24 E I) + (a^3 + b^3) / (6 E A a b) (1).

    Sides `length` a and `width` b [m], Young's `modulus` E [Pa], section `area` A [m2], second moment `inertia` I
    in the plane of the frame [m4]; each [...].
    Source: worked out from the strain energy of the bars, docs/theory-strength.md.

    >>> round(float(frame_stiffness(1.0, 1.0, 200e9, 1.0, 1e-8)))
    24000
    """
    a, b = np.asarray(length, dtype=np.float64), np.asarray(width, dtype=np.float64)
    e = np.asarray(modulus, dtype=np.float64)
    bent = a * b * (a + b) / (24.0 * e * np.asarray(inertia, dtype=np.float64))
    drawn = (a**3 + b**3) / (6.0 * e * np.asarray(area, dtype=np.float64) * a * b)
    return np.asarray(1.0 / (bent + drawn))
