"""How stiff the skins of a shell are, by what it is built from, with how far each figure is to be doubted.

A range runs from a light, careful build to a sturdy one; the moduli of laid-up and glued things are never known better
than within some fifteen per cent before a piece is tested.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.motion import Array
from loftwright.reference.layups import mat_thickness
from loftwright.reference.sheets import USUAL_GLASS, mat_strength

MAT_STIFFNESS: Final = Source("iso-12215-5", "Annex C, moduli of chopped strand mat; from memory", "standard")
MAT_DOUBT: Final = 0.15
"""Doubt of the moduli against any real panel [1]: judgement, by formulas of different bodies that lie as far apart.

A public page of plastics data gives a flexural modulus of 7 GPa for chopped-glass polyester (read); the formula gives
6.4 GPa at the usual glass.
"""
WOOD: Final = Source("judgement", "building plywood along and across its outer grain, mean of both", "judgement")
SHEET_METAL: Final = Source("en-1999-1-1", "aluminium alloys, E 70 GPa, G 27 GPa; from memory", "standard")


def mat_modulus(glass_fraction: ArrayLike) -> Array:
    """Return Young's modulus of chopped strand mat in polyester [Pa].

    (1) E = 38000 psi - 5000 MPa. glass_fraction: psi [1], 0.2 to 0.4, [...]. Within `MAT_DOUBT`.

    Source: `MAT_STIFFNESS`.

    >>> round(float(mat_modulus(0.30)) / 1e6)
    6400
    """
    return mat_strength(glass_fraction).modulus


def mat_shear_modulus(glass_fraction: ArrayLike) -> Array:
    """Return the shear modulus in the plane of chopped strand mat in polyester [Pa].

    (2) G = 1700 psi + 2240 MPa. glass_fraction: psi [1], 0.2 to 0.4, [...]. Within `MAT_DOUBT`.

    Source: `MAT_STIFFNESS`.

    >>> round(float(mat_shear_modulus(0.30)) / 1e6)
    2750
    """
    return np.asarray((1700.0 * np.asarray(glass_fraction, dtype=np.float64) + 2240.0) * 1e6)


@dataclass(frozen=True, slots=True)
class Skins:
    """What carries in a shell's wall, each as (low, high).

    `modulus` and `shear` of the skins [Pa]; thickness of the `outer` and of the `inner` skin [m], and how far their
    middles lie `apart` [m]. Where `shears` is false, ribs or a frame stand for the inner skin: they stiffen the shell
    along but not in twist.
    """

    modulus: tuple[float, float]
    shear: tuple[float, float]
    outer: tuple[float, float]
    inner: tuple[float, float]
    apart: tuple[float, float]
    shears: bool
    source: Source


def _doubted(value: float, doubt: float) -> tuple[float, float]:
    return value * (1 - doubt), value * (1 + doubt)


SKINS: Final[dict[str, Skins]] = {
    "foam-plywood": Skins((4.0e9, 8.0e9), (0.4e9, 0.7e9), (0.004, 0.006), (0.003, 0.005), (0.0235, 0.0405), True, WOOD),
    "glass-fibre": Skins(
        _doubted(float(mat_modulus(USUAL_GLASS)), MAT_DOUBT),
        _doubted(float(mat_shear_modulus(USUAL_GLASS)), MAT_DOUBT),
        (float(mat_thickness(3 * 0.450, USUAL_GLASS)), float(mat_thickness(5 * 0.450, USUAL_GLASS))),
        (0.0, 0.001),
        (0.0, 0.025),
        False,
        MAT_STIFFNESS,
    ),
    "aluminium-skin": Skins(
        (70.0e9, 70.0e9), (27.0e9, 27.0e9), (0.001, 0.0016), (0.0002, 0.0010), (0.012, 0.025), False, SHEET_METAL
    ),
    "plywood": Skins((4.0e9, 8.0e9), (0.4e9, 0.7e9), (0.006, 0.012), (0.0, 0.003), (0.0, 0.025), False, WOOD),
}
"""What carries in a shell's wall, by the word that the project file uses for its build; thicknesses as in `LAYUPS`.

Ribs, frames and battens are smeared over the width from their weight; their share that carries is judgement.
"""
