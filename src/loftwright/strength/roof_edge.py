"""How much stiffer the skin left beside the opening is than a flat sheet, from one weight stood on the whole roof."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array
from loftwright.core.units import STANDARD_GRAVITY

POISSON: Final = 0.3
"""Poisson's ratio of steel and aluminium sheet [1]."""
TEST_MASS: Final = 20.0
"""What is stood on the roof beside the planned cut [kg]."""
MOST_BOW: Final = 10.0
"""More than so many times its bare stiffness is not believed of a bow [1]: judgement, as below."""
MOST_FACTOR: Final = 200.0
"""More than this is not believed of a roof's skin [1]: judgement; a small dip is hardly read, and the rails give."""


def plate_stiffness(young: ArrayLike, skin: ArrayLike) -> Array:
    """Return the bending stiffness D = E t^3 / (12 (1 - nu^2)) (1) of a flat sheet [N m], [...].

    `young` E [Pa], thickness `skin` t [m].
    Source: timoshenko-plates-and-shells, ch. 1 (from memory).
    """
    return np.asarray(np.asarray(young) * np.asarray(skin) ** 3 / (12 * (1 - POISSON**2)))


def flat_dip(force: ArrayLike, edge: ArrayLike, stiffness: ArrayLike) -> Array:
    """Return how far a flat sheet, built in along one straight edge and wide, dips under a force [m], [...].

    w = P a^2 / (4 pi D) (2): `force` P [N] at the distance `edge` a [m] from the built-in edge, `stiffness` D [N m]. It
    is a clamped round plate with the force near its edge, w = P (R^2 - b^2)^2 / (16 pi D R^2), for great R = a + b.
    Source: timoshenko-plates-and-shells, clamped circular plate, force anywhere (from memory); its limit: derivation.
    """
    return np.asarray(np.asarray(force) * np.asarray(edge) ** 2 / (4 * np.pi * np.asarray(stiffness)))


def edge_factor(dip: ArrayLike, edge: ArrayLike, young: ArrayLike, skin: ArrayLike) -> Array:
    """Return how many times stiffer than flat the skin beside the opening is, f = w / dip (3) [1], [...].

    `dip` [m] of the whole roof where the test weight stands on the planned cut, `edge` [m] from the side rail, between
    two bows; w from (2) for a sheet of modulus `young` [Pa] and thickness `skin` [m]. Between 1 and
    `MOST_FACTOR`. A crowned skin dips alike wherever the weight stands, so that f grows with the square of `edge`.
    Validity: one number stands for crown, swages and edge folds, whatever the direction; what a weight finds is taken
    for the skin's bending on every side of the opening. Source: derivation; the bounds are judgement.
    """
    flat = flat_dip(TEST_MASS * STANDARD_GRAVITY, edge, plate_stiffness(young, skin))
    return np.asarray(np.clip(flat / np.maximum(np.asarray(dip), 1e-9), 1.0, MOST_FACTOR))


def bow_with_skin(dip: ArrayLike, span: ArrayLike, bare: ArrayLike) -> Array:
    """Return the bending stiffness E I of a whole bow with the skin on it and its crown [N m2], [...].

    E I = P L^3 / (192 w) (4), a beam built in at both rails with the test weight P at its middle: `dip` w [m] there,
    `span` L [m]. At least `bare`, that of its own section [N m2], and at most `MOST_BOW` times that.
    Validity: what neighbours take of the weight counts as the bow's own.
    Source: timoshenko-gere, built-in beam with a force at mid-span (from memory); the bounds are judgement.
    """
    force, alone = TEST_MASS * STANDARD_GRAVITY, np.asarray(bare, dtype=np.float64)
    found = force * np.asarray(span) ** 3 / (192 * np.maximum(np.asarray(dip), 1e-9))
    return np.asarray(np.clip(found, alone, MOST_BOW * alone))
