"""Sheets that joints go through: roof skins, fittings, laminates, plywood and foam, with what a joint needs of them.

Lengths in metres, stresses in pascals. The strengths are least values; a real panel can be weaker where it is rusted,
wet, badly laid or drilled before.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.motion import Array
from loftwright.reference.metals import METALS

Family = Literal["steel", "stainless steel", "aluminium", "laminate", "plywood", "foam"]

MAT: Final = Source("iso-12215-5", "Annex C, chopped strand mat; formulas from memory", "standard")
STAINLESS: Final = Source("en-1993-1-4", "Table 2.1, 1.4301 strip: 230 and 540 MPa; from memory", "standard")
ALUMINIUM: Final = Source("en-1999-1-1", "Table 3.2, 5754 H22 sheet; from memory", "standard")
BIRCH: Final = Source("judgement", "low values of building plywood; EN 12369-2 is the place to look", "judgement")
FOAM: Final = Source("judgement", "crushing stress of light building foam at 10 % squeeze", "judgement")

USUAL_GLASS: Final = 0.30
"""Glass mass fraction of hand-laid mat that is usual [1]; ISO 12215-5, from memory."""


@dataclass(frozen=True, slots=True)
class MatStrength:
    """Strengths of a chopped-strand-mat laminate [Pa], each [...]."""

    tensile: Array
    compressive: Array
    flexural: Array
    shear: Array
    interlaminar: Array
    modulus: Array


def mat_strength(glass_fraction: ArrayLike) -> MatStrength:
    """Return the strengths of chopped strand mat in polyester by its glass.

        tensile 800 psi^2 - 80 psi + 37; compressive 150 psi + 72; flexural 502 psi^2 + 107;
        shear in its plane 80 psi + 38; between the layers 22.5 - 17.5 psi; E = 38000 psi - 5000, all MPa     (1)

    Parameters
    ----------
    glass_fraction: psi, glass mass over laminate mass [1], 0.2 to 0.4, [...].

    Returns
    -------
    Strengths and modulus [Pa], each [...].

    A good panel lies within about 15 % of it. Source: `MAT`.

    >>> round(float(mat_strength(0.30).interlaminar) / 1e6, 2)
    17.25
    """
    psi = np.asarray(glass_fraction, dtype=np.float64)
    return MatStrength(
        (800.0 * psi**2 - 80.0 * psi + 37.0) * 1e6,
        (150.0 * psi + 72.0) * 1e6,
        (502.0 * psi**2 + 107.0) * 1e6,
        (80.0 * psi + 38.0) * 1e6,
        (22.5 - 17.5 * psi) * 1e6,
        (38000.0 * psi - 5000.0) * 1e6,
    )


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet material: `tensile` strength, `yields`, `bearing` at a hole, `shear` in its plane, `through` it [Pa].

    `through` is the shear strength on the rim of a head that is pulled through; `bends` what the skin bears in
    bending, `crush` what it bears under a washer, `modulus` its stiffness [Pa].
    """

    name: str
    family: Family
    tensile: float
    yields: float
    bearing: float
    shear: float
    through: float
    bends: float
    crush: float
    modulus: float
    source: Source


PULL_OVER: Final = 1.5 / np.pi
"""Pull-over 1.5 t d Fu as a stress on the rim pi d t, over the tensile strength [1]; AISI S100."""


def metal(name: str, family: Family, key: str) -> Sheet:
    """Return a sheet of one of the `METALS`, by its `key`."""
    of = METALS[key]
    return metal_sheet(name, family, of.tensile, of.yielding, of.young, of.source)


def metal_sheet(name: str, family: Family, tensile: float, yields: float, modulus: float, source: Source) -> Sheet:
    """Return a metal sheet from its `tensile` strength, `yields` stress and `modulus` [Pa]."""
    return Sheet(
        name,
        family,
        tensile,
        yields,
        2.5 * tensile,
        0.6 * tensile,
        PULL_OVER * tensile,
        yields,
        tensile,
        modulus,
        source,
    )


def mat_sheet(glass_fraction: float = USUAL_GLASS, name: str = "glass mat laminate") -> Sheet:
    """Return chopped strand mat as a sheet, from its `glass_fraction` [1].

    The strength at a hole is not taken above that in compression, nor that through the sheet above that between its
    layers: both on the safe side, by judgement.
    """
    s = mat_strength(glass_fraction)
    t, c, b, v, i, e = (float(x) for x in (s.tensile, s.compressive, s.flexural, s.shear, s.interlaminar, s.modulus))
    return Sheet(name, "laminate", t, t, c, v, i, b, c, e, MAT)


SHEETS: Final[dict[str, Sheet]] = {
    sheet.name: sheet
    for sheet in (
        metal("roof steel", "steel", "body sheet"),
        metal("S235 steel", "steel", "S235"),
        metal_sheet("stainless 1.4301", "stainless steel", 540.0e6, 230.0e6, METALS["1.4301"].young, STAINLESS),
        metal_sheet("aluminium 5754 H22", "aluminium", 220.0e6, 130.0e6, METALS["6082-T6"].young, ALUMINIUM),
        metal("aluminium 6082 T6", "aluminium", "6082-T6"),
        mat_sheet(),
        Sheet("plywood", "plywood", 20.0e6, 20.0e6, 30.0e6, 3.5e6, 3.5e6, 20.0e6, 3.0e6, 6.0e9, BIRCH),
        Sheet("foam", "foam", 0.15e6, 0.15e6, 0.15e6, 0.1e6, 0.1e6, 0.15e6, 0.15e6, 5.0e6, FOAM),
    )
}
"""Every sheet by its name."""
