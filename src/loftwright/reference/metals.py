"""Metals of bars, sheets and roof skins: stiffness, density and the least strength their standards promise.

SI throughout. `status` says how each row's figures were confirmed.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from loftwright.core.checks import Source
from loftwright.core.choices import MetalName


@dataclass(frozen=True, slots=True)
class Metal:
    """One metal: moduli E and G [Pa], Poisson's ratio [1], density [kg/m3], yield (or 0.2 % proof) and tensile [Pa]."""

    key: str
    name: str
    young: float
    shear: float
    poisson: float
    density: float
    yielding: float
    tensile: float
    source: Source
    status: str


METALS: Final[dict[str, Metal]] = {
    metal.key: metal
    for metal in (
        Metal(
            "S235",
            "structural steel S235",
            210.0e9,
            81.0e9,
            0.3,
            7850.0,
            235.0e6,
            360.0e6,
            Source("en-10025-2", "Table 7, to 16 mm; E, G and density as EN 1993-1-1, 3.2.6", "standard"),
            "yield, tensile, E and density read in a public reproduction; G from memory",
        ),
        Metal(
            "body sheet",
            "drawing-quality sheet of a van's roof",
            210.0e9,
            81.0e9,
            0.3,
            7850.0,
            140.0e6,
            270.0e6,
            Source("en-10130", "grades DC03 and DC04; yield 140 MPa on the safe side", "standard"),
            "from memory; the standard gives a highest yield only, the lowest is judgement",
        ),
        Metal(
            "6060-T66",
            "aluminium 6060-T66",
            70.0e9,
            27.0e9,
            0.3,
            2700.0,
            160.0e6,
            215.0e6,
            Source("en-1999-1-1", "Table 3.2b, extruded, to 3 mm thick", "standard"),
            "E and density read in a public reproduction; the rest from memory",
        ),
        Metal(
            "6061-T6",
            "aluminium 6061-T6",
            69.6e9,
            26.2e9,
            0.33,
            2700.0,
            241.0e6,
            262.0e6,
            Source("astm-b221", "extruded, least values 35 and 38 ksi", "standard"),
            "yield and tensile read in a public reproduction; E, G and density from memory",
        ),
        Metal(
            "6082-T6",
            "aluminium 6082-T6",
            70.0e9,
            27.0e9,
            0.3,
            2700.0,
            250.0e6,
            290.0e6,
            Source("en-1999-1-1", "Table 3.2b, extruded, to 5 mm thick", "standard"),
            "E, density and yield read in a public reproduction; the rest from memory",
        ),
        Metal(
            "1.4301",
            "stainless steel 1.4301",
            200.0e9,
            76.9e9,
            0.3,
            7900.0,
            210.0e6,
            520.0e6,
            Source("en-1993-1-4", "Table 2.1, hot-rolled plate, and 2.1.3", "standard"),
            "from memory",
        ),
    )
}
"""Every metal by its key."""

BARS: Final[dict[MetalName, str]] = {"steel": "S235", "aluminium": "6060-T66", "stainless": "1.4301"}
"""Which metal a bar or tube is taken for that is only named "steel" and the like: the plain one of its kind."""


def bar_metal(name: MetalName) -> Metal:
    """Return the metal of a bar or tube that the file only names "steel", "aluminium" or "stainless"."""
    return METALS[BARS[name]]
