"""Clear sheet in the fold of the walls: how tightly it bends between two faces, and what that strains it.

A sheet without weight is bent back on itself between two parallel faces a gap D apart; it leaves either face where
its curvature is nought and is pressed there by a force P per width square to the faces. With the tangent's angle t
from the face, B dt/ds = P x and dx/ds = cos t, so that B (dt/ds)^2 / 2 = P sin t (1). Then

    D / 2 = sqrt(B / 2P) I,  I = integral of sqrt(sin t), 0 to pi/2 = sqrt(pi)/2 Gamma(3/4) / Gamma(5/4) (2)

and, with q = 2 I = 2.39628: curvature at the tip q / D (3), P = q^2 / 2 B / D^2 = 2.87108 B / D^2 (4). The tip lies
2 D / q past where the sheet leaves the faces (5). The sheet in the bend is 2 D / q times the integral of
1 / sqrt(sin t), which is pi / I = 2 pi / q, so it is 4 pi D / q^2 = 2.18844 D long (6). D here is the gap of the
sheet's middle surface: the gap between the faces less the sheet's thickness.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, array_of

TIP: Final = math.sqrt(math.pi) * math.gamma(0.75) / math.gamma(1.25)
"""Curvature at the tip times the gap, q [1]: equation (3)."""
PUSH: Final = TIP**2 / 2.0
"""Push of the fold times gap^2 over bending stiffness [1]: equation (4)."""
REACH: Final = 2.0 / TIP
"""From where the sheet leaves the faces to its tip, over the gap [1]: equation (5)."""
LENGTH: Final = 4.0 * math.pi / TIP**2
"""Sheet in the bend over the gap [1]: equation (6)."""


def tip_radius(gap: ArrayLike, thickness: ArrayLike) -> Array:
    """Return the radius of the sheet's middle surface at the tip of the fold [m], [...].

    R = (gap - thickness) / q (3); `gap` [m] between the faces and `thickness` [m] of the sheet, [...]. Nought where the
    gap is no wider than the sheet.
    Source: elastica, derived above; checked by a boundary-value solution.

    >>> round(float(tip_radius(0.030, 0.0)), 5)
    0.01252
    """
    return np.maximum(array_of(gap) - array_of(thickness), 0.0) / TIP


def fold_push(stiffness: ArrayLike, gap: ArrayLike) -> Array:
    """Return how hard a weightless fold presses the faces apart, per width [N/m]: P = 2.87108 B / D^2 (4).

    `stiffness` B [N m] per width and the `gap` D [m] of the middle surface, [...]. ValueError for no gap.
    """
    wide = array_of(gap)
    if np.any(wide <= 0.0):
        raise ValueError("a fold needs a gap")
    return np.asarray(PUSH * array_of(stiffness) / wide**2)


def bend_length(gap: ArrayLike) -> Array:
    """Return how much sheet lies in the bend [m], half on either side of the crease (6); `gap` [m], [...]."""
    return np.asarray(LENGTH * array_of(gap))


def lies_bent(crease: ArrayLike, gap: ArrayLike, thickness: ArrayLike) -> Array:
    """Return whether sheet `crease` [m] from the nearest crease, negative across it, reaches into its bend, [...].

    The bend's middle surface lies in the `gap` less the `thickness` of the sheet, both [m].
    """
    return np.asarray(array_of(crease) < bend_length(np.maximum(array_of(gap) - array_of(thickness), 0.0)) / 2.0)


def strain(thickness: ArrayLike, radius: ArrayLike) -> Array:
    """Return the stretch of the outer face of a bent sheet [1]: t / (2 R) (7); `thickness` t [m], `radius` R [m]."""
    return np.asarray(array_of(thickness) / (2.0 * array_of(radius)))


def least_radius(thickness: ArrayLike, allowed: ArrayLike) -> Array:
    """Return the least radius [m] of a sheet `thickness` [m] thick at a stretch `allowed` [1] of its face: from (7)."""
    return np.asarray(array_of(thickness) / (2.0 * array_of(allowed)))
