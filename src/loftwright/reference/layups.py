"""What a square metre of shell weighs, by what it is built from: rough ranges built up layer by layer.

Each layer is a thickness times a density, or a weight per area outright. The low end is a light, careful
build, the high end a sturdy one with more resin, glue and stiffening.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.motion import Array
from loftwright.core.uncertain import Provenance, Uncertain, even

JUDGEMENT: Final = Source("judgement", "usual thicknesses and densities of the trade", "judgement")
MAT: Final = Source(
    "iso-12215-5", "glass mass fraction of hand-laid chopped strand mat, 0.30 (from memory)", "standard"
)

GLASS_DENSITY: Final = 2560.0
RESIN_DENSITY: Final = 1200.0
"""Density of glass fibre and of polyester resin [kg/m3]."""


def mat_laminate(glass: ArrayLike, glass_fraction: ArrayLike) -> Array:
    """Return the weight per area of a laminate from its dry glass.

        w = g / psi                                                                              (1)

    Parameters
    ----------
    glass: g, dry glass [kg/m2], [...].
    glass_fraction: psi, glass mass over laminate mass [1], 0 < psi < 1, [...].

    Returns
    -------
    Weight of glass and resin [kg/m2], [...].

    Source: definition of the mass fraction, as used in ISO 12215-5.

    >>> round(float(mat_laminate(3 * 0.450, 0.30)), 3)  # three mats of 450 g/m2
    4.5
    """
    return np.asarray(glass, dtype=np.float64) / np.asarray(glass_fraction, dtype=np.float64)


def mat_thickness(glass: ArrayLike, glass_fraction: ArrayLike) -> Array:
    """Return the thickness of a laminate from its dry glass, by the rule of mixtures.

        t = g / rho_glass + (w - g) / rho_resin,   w from (1)                                    (2)

    `glass` [kg/m2] and `glass_fraction` [1] as in `mat_laminate`; [m], [...].

    >>> round(float(mat_thickness(3 * 0.450, 0.30)) * 1000, 2)  # three mats of 450 g/m2, in millimetres
    3.15
    """
    g = np.asarray(glass, dtype=np.float64)
    return np.asarray(g / GLASS_DENSITY + (mat_laminate(g, glass_fraction) - g) / RESIN_DENSITY)


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of a shell: what it is, its weight per area [kg/m2] and its thickness [m], light and sturdy.

    What does not lie all over the shell, such as ribs, adds weight but no `thick`.
    """

    what: str
    low: float
    high: float
    thick: tuple[float, float]
    source: Source = JUDGEMENT


def sheet(what: str, thickness_mm: tuple[float, float], density: tuple[float, float]) -> Layer:
    """Return a layer of even thickness [mm], light and sturdy, with its density [kg/m3]."""
    thick = (thickness_mm[0] / 1000, thickness_mm[1] / 1000)
    return Layer(what, thick[0] * density[0], thick[1] * density[1], thick)


def mats(what: str, glass: tuple[float, float], glass_fraction: float) -> Layer:
    """Return a layer of chopped strand mat and resin; `glass` in [kg/m2], light and sturdy."""
    low, high = (float(mat_laminate(g, glass_fraction)) for g in glass)
    thin, thick = (float(mat_thickness(g, glass_fraction)) for g in glass)
    return Layer(what, low, high, (thin, thick), MAT)


@dataclass(frozen=True, slots=True)
class LayUp:
    """What a shell is built from, in words, and its layers."""

    made_of: str
    words: str
    layers: tuple[Layer, ...]

    @property
    def low(self) -> float:
        """Weight per area of a light build [kg/m2]."""
        return sum(layer.low for layer in self.layers)

    @property
    def high(self) -> float:
        """Weight per area of a sturdy build [kg/m2]."""
        return sum(layer.high for layer in self.layers)

    @property
    def thick(self) -> tuple[float, float]:
        """Thickness of a light and of a sturdy build [m], from outside to lining."""
        return sum(layer.thick[0] for layer in self.layers), sum(layer.thick[1] for layer in self.layers)

    @property
    def weight_per_area(self) -> Uncertain:
        """Weight per area [kg/m2], assumed, anywhere between light and sturdy."""
        return even(self.low, self.high, Provenance.ASSUMED)


_FOAM_PLYWOOD = LayUp(
    "foam-plywood",
    "foam between two plywood faces",
    (
        sheet("outer plywood", (4.0, 6.0), (500.0, 680.0)),
        sheet("foam", (20.0, 35.0), (32.0, 40.0)),
        sheet("inner plywood", (3.0, 5.0), (500.0, 680.0)),
        Layer("glass cloth, resin and paint outside", 0.9, 1.8, (0.0005, 0.001)),
        Layer("glue, battens, corners and plates under the fittings", 1.0, 2.6, (0.0, 0.0)),
    ),
)
_GLASS_FIBRE = LayUp(
    "glass-fibre",
    "chopped strand mat and polyester resin, laid by hand",
    (
        mats("three to five mats of 450 g/m2", (3 * 0.450, 5 * 0.450), 0.30),
        Layer("gelcoat", 0.5, 0.8, (0.0004, 0.0006)),
        Layer("ribs, flange, doubled corners and headlining", 0.3, 2.5, (0.0, 0.003)),
    ),
)
_ALUMINIUM_SKIN = LayUp(
    "aluminium-skin",
    "aluminium sheet on a light frame",
    (
        sheet("aluminium sheet", (1.0, 1.6), (2700.0, 2700.0)),
        Layer("frame", 1.0, 2.8, (0.012, 0.025)),
        Layer("felt to plywood lining, rivets and sealant", 0.3, 2.4, (0.001, 0.004)),
    ),
)
_PLYWOOD = LayUp(
    "plywood",
    "plywood on battens",
    (
        sheet("plywood", (6.0, 12.0), (500.0, 680.0)),
        Layer("battens and corners", 0.8, 1.6, (0.0, 0.0)),
        Layer("glass cloth, resin and paint", 0.6, 1.3, (0.0003, 0.0008)),
    ),
)
_KNOWN: Final = (_FOAM_PLYWOOD, _GLASS_FIBRE, _ALUMINIUM_SKIN, _PLYWOOD)
_UNKNOWN = LayUp(
    "unknown",
    "not known yet",
    (
        Layer(
            "any of the lay-ups above",
            min(v.low for v in _KNOWN),
            max(v.high for v in _KNOWN),
            (min(v.thick[0] for v in _KNOWN), max(v.thick[1] for v in _KNOWN)),
        ),
    ),
)

LAYUPS: Final[dict[str, LayUp]] = {lay_up.made_of: lay_up for lay_up in (*_KNOWN, _UNKNOWN)}
"""Every lay-up by the word that the project file uses."""
