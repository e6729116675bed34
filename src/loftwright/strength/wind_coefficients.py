"""Pressure and force coefficients by table: walls of a closed body, flat roofs, canopies, sections.

Straight between the tabulated places, held outside. Every argument broadcasts, [...]; coefficients are [1], signs as in
the standard: positive pushes on the outer face, on a canopy downward.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array
from loftwright.reference import wind as tables

Way = Literal["up", "down"]
"""Which way the wind on the shell is taken: it pulls up, or it presses down."""


def windward_coefficient(slenderness: ArrayLike) -> Array:
    """Return cpe,10 of the wall that faces the wind, zone D, by `slenderness` h/d [1], [...].

    Source: EN 1991-1-4:2005, Table 7.1; read in a public reproduction.
    """
    return np.asarray(np.interp(np.asarray(slenderness), tables.HEIGHT_OVER_DEPTH, tables.WINDWARD))


def leeward_coefficient(slenderness: ArrayLike) -> Array:
    """Return cpe,10 of the wall in the lee, zone E, by `slenderness` h/d [1], [...].

    The standard lets windward and leeward together be taken at 0.85 up to h/d = 1 (from memory); not used.
    Source: EN 1991-1-4:2005, Table 7.1; read in a public reproduction.
    """
    return np.asarray(np.interp(np.asarray(slenderness), tables.HEIGHT_OVER_DEPTH, tables.LEEWARD))


def side_coefficient(height: ArrayLike, width: ArrayLike, depth: ArrayLike) -> Array:
    """Return the mean cpe,10 over a wall along the wind.

        e = min(b, 2 h);   A up to e/5, B up to e, C beyond, weighted by their lengths over d      (1)

    `height` h, `width` b across and `depth` d along the wind [m], each [...].
    Source: EN 1991-1-4:2005, Figure 7.5 (from memory) and Table 7.1 (read in a public reproduction).
    """
    h, b, d = np.broadcast_arrays(*(np.asarray(v, dtype=np.float64) for v in (height, width, depth)))
    e = np.minimum(b, 2.0 * h)
    first = np.minimum(e / 5.0, d)
    second = np.minimum(e, d) - first
    rest = d - first - second
    a, mid, c = tables.SIDE
    return np.asarray((a * first + mid * second + c * rest) / d)


def by_area(small: ArrayLike, large: ArrayLike, area: ArrayLike) -> Array:
    """Return the coefficient of a loaded area between 1 and 10 m2.

        c = c1 - (c1 - c10) log10(A)                                                             (2)

    `small` c1 and `large` c10 [1], `area` [m2], each [...]; held outside 1 to 10 m2.
    Source: EN 1991-1-4:2005, 7.2.1, Figure 7.2; from memory.
    """
    one, ten = np.asarray(small, dtype=np.float64), np.asarray(large, dtype=np.float64)
    share = np.log10(np.clip(np.asarray(area, dtype=np.float64), 1.0, 10.0))
    return np.asarray(one - (one - ten) * share)


def inside_coefficient(outside: ArrayLike, share: ArrayLike) -> Array:
    """Return the pressure inside when a window stands open: c_pi = share c_pe (3).

    `outside` [1] of the wall with the window, `share` [1], 0.75 where the window is twice as large as all other
    openings, 0.9 where it is three times as large, each [...].
    Source: EN 1991-1-4:2005, 7.2.9(5); from memory.
    """
    return np.asarray(np.asarray(share, dtype=np.float64) * np.asarray(outside, dtype=np.float64))


def canopy_coefficient(tilt: ArrayLike, way: Way, blockage: ArrayLike = 1.0) -> Array:
    """Return the overall coefficient of a mono-pitch canopy, both faces together.

    `tilt` [rad] either way up, `way` "up" or "down", `blockage` [1] from 0 (nothing under it) to 1 (blocked, as by
    walls), straight between, each [...]. Held beyond 30 degrees, where the table ends.
    Source: EN 1991-1-4:2005, 7.3, Table 7.6, for all directions of wind; read in a public reproduction.

    >>> round(float(canopy_coefficient(np.radians(10.0), "up", 0.5)), 3)
    -1.15
    """
    pitch = np.abs(np.degrees(np.asarray(tilt, dtype=np.float64)))
    if way == "down":
        return np.asarray(np.interp(pitch, tables.CANOPY_PITCH_DEG, tables.CANOPY_DOWN) + 0.0 * np.asarray(blockage))
    free, full = (
        np.interp(pitch, tables.CANOPY_PITCH_DEG, table) for table in (tables.CANOPY_UP_FREE, tables.CANOPY_UP_BLOCKED)
    )
    share = np.asarray(blockage, dtype=np.float64)
    return np.asarray((1.0 - share) * free + share * full)


def flat_roof_coefficient(height: ArrayLike, width: ArrayLike, depth: ArrayLike) -> Array:
    """Return the mean cpe,10 over a flat roof with sharp eaves, zone I taken as pulling.

        e = min(b, 2 h); F at both windward corners, e/4 by e/10; G between them; H up to e/2; I beyond   (4)

    `height` h above the ground, `width` b across and `depth` d along the wind [m], each [...]. A comparison for the
    canopy: less the pressure inside it is the lift of a level shell with closed walls.
    Source: EN 1991-1-4:2005, Figure 7.6 (from memory) and Table 7.2 (read in two public reproductions).
    """
    h, b, d = np.broadcast_arrays(*(np.asarray(v, dtype=np.float64) for v in (height, width, depth)))
    e = np.minimum(b, 2.0 * h)
    strip, half = np.minimum(e / 10.0, d), np.minimum(e / 2.0, d)
    corner = 2.0 * (e / 4.0) * strip
    areas = {"F": corner, "G": b * strip - corner, "H": b * (half - strip), "I": b * (d - half)}
    total = sum((tables.FLAT[zone][0] * area for zone, area in areas.items()), np.zeros_like(b))
    return np.asarray(total / (b * d))


def section_coefficient(depth_over_height: ArrayLike) -> Array:
    """Return the force coefficient of a long rectangular section with no flow round its ends.

    `depth_over_height` [1], depth along the wind over height across it, [...]; straight over the logarithm, as drawn.
    Source: EN 1991-1-4:2005, 7.6, Figure 7.23; places read in a public reproduction.
    """
    ratio = np.log(np.asarray(depth_over_height, dtype=np.float64))
    return np.asarray(np.interp(ratio, np.log(tables.SECTION_DEPTH), tables.SECTION_DRAG))
