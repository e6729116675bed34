"""Copper cables and fuses of low-voltage wiring: sizes, resistance, what they bear, how tightly they bend.

Local rules for wiring in vehicles and a qualified electrician come before every figure here.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from loftwright.core.checks import Source

CONDUCTOR: Final = Source(
    "iec-60228", "Table 3, class 5 (finely stranded), 20 C; read in public reproductions", "standard"
)
BEARS: Final = Source(
    "vde-0298-4", "Table 11, single cable free in air, 30 C, conductor 70 C; read in a public reproduction", "standard"
)
BENDS: Final = Source("hd-516", "Table of least bending radii; read in a public reproduction", "standard")
FUSE_SIZES: Final = Source("iso-8820", "Parts 3 and 5, from memory", "standard")


@dataclass(frozen=True, slots=True)
class Conductor:
    """One finely stranded copper conductor.

    `area` [m2]; most resistance at 20 C `plain` or `tinned` [ohm/m]; `bears`, current of a single cable free in air at
    30 C with its conductor at 70 C [A]; `over`, usual outer diameter of a single cable with sheath [m] (from memory:
    measure yours).
    """

    name: str
    area: float
    plain: float
    tinned: float
    bears: float
    over: float


CONDUCTORS: Final = (
    Conductor("1.5 mm2", 1.5e-6, 13.3e-3, 13.7e-3, 24.0, 4.6e-3),
    Conductor("2.5 mm2", 2.5e-6, 7.98e-3, 8.21e-3, 32.0, 5.2e-3),
    Conductor("4 mm2", 4.0e-6, 4.95e-3, 5.09e-3, 42.0, 5.8e-3),
    Conductor("6 mm2", 6.0e-6, 3.30e-3, 3.39e-3, 54.0, 6.5e-3),
    Conductor("10 mm2", 10.0e-6, 1.91e-3, 1.95e-3, 73.0, 8.0e-3),
    Conductor("16 mm2", 16.0e-6, 1.21e-3, 1.24e-3, 98.0, 9.2e-3),
    Conductor("25 mm2", 25.0e-6, 0.780e-3, 0.795e-3, 129.0, 11.2e-3),
)
"""Sources: `CONDUCTOR` and `BEARS`."""

ALPHA: Final = 0.004
"""Rise of copper's resistance per kelvin over 20 C [1/K], as IEC 60228, Annex, has it: 250 / (230 + t); read."""
BEARS_AT: Final = 303.15
"""Air temperature for which `Conductor.bears` stands [K]."""
INSULATION: Final = 343.15
"""Conductor temperature that plain PVC bears [K]: 70 C."""

FUSES: Final = (1.0, 2.0, 3.0, 4.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 50.0, 60.0, 70.0, 80.0, 100.0)
"""Usual ratings of road-vehicle fuses [A]. Source: `FUSE_SIZES`."""
FUSE_MARGIN: Final = 1.25
"""Least rating over the current that flows all day [1]. Usual rule, as NEC 690.9 reads (from memory). NEC adds another
1.25 for bright sun on a panel (1.56 in all), IEC 62548 asks 1.5 for a string; ask what holds where you live."""

LEAST_BEND: Final = ((0.012, 5.0), (1.0, 6.0))
"""Least bend radius of a freely moving flexible cable over its diameter [1], up to a diameter [m]. Source: `BENDS`."""
BEND_RANGE: Final = (5.0, 8.0)
"""Least bend radius over the diameter to work with [1]: from `LEAST_BEND` up to a cautious value (judgement)."""
DRIP: Final = 0.03
"""How far a loop should hang under the gland [m], so that water drips off before the hole: common practice."""
