"""What is sold how: lengths of bolts, heights of nuts, packs and spreading rates of what is used up.

Packs and rates are common practice, no source, unless one is named; a builder writes the figures of the tin.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from loftwright.core.checks import Source

BOLT_LENGTHS: Final = Source("iso-4014", "nominal lengths of ISO 4014 and ISO 4017; from memory", "standard")
NUTS: Final = Source("iso-4032", "Table 1, greatest height m, read in a public reproduction", "standard")
LOCK_NUTS: Final = Source(
    "iso-7040", "greatest height h; M4 to M10 read in a public table of ASME B18.16.3M, M12 from memory", "standard"
)
INCH_BOLTS: Final = Source("common-practice", "inch bolts by eighths and quarters, nuts by 7/8 d", "common practice")
RATES: Final = Source("common-practice", "packs and spreading rates printed on tins and tubes", "common practice")

_MM, _IN = 0.001, 0.0254

METRIC_LENGTHS: Final = tuple(
    mm * _MM
    for mm in (8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90, 100, 110, 120, 130, 140, 150, 160)
)
"""Lengths that metric hexagon bolts are made in [m]; `BOLT_LENGTHS`."""
INCH_LENGTHS: Final = tuple(
    inch * _IN
    for inch in (
        *(0.375, 0.5, 0.625, 0.75, 0.875, 1.0, 1.25, 1.5, 1.75, 2.0, 2.25, 2.5, 2.75, 3.0, 3.25, 3.5, 3.75, 4.0),
        *(4.5, 5.0, 5.5, 6.0),
    )
)
"""Lengths that inch bolts are made in [m]; common practice."""

NUT_HEIGHTS: Final[dict[str, tuple[float, float]]] = {
    name: (plain * _MM, locking * _MM)
    for name, plain, locking in (
        ("M4", 3.2, 6.0),
        ("M5", 4.7, 6.8),
        ("M6", 5.2, 8.0),
        ("M8", 6.8, 9.5),
        ("M10", 8.4, 11.9),
        ("M12", 10.8, 14.9),
    )
} | {
    name: (plain * _IN, locking * _IN)
    for name, plain, locking in (
        ("#8-32", 0.130, 0.240),
        ("#10-24", 0.130, 0.245),
        ("1/4-20", 0.226, 0.328),
        ("5/16-18", 0.273, 0.359),
        ("3/8-16", 0.337, 0.468),
    )
}
"""Greatest height of a plain and of a self-locking nut [m] by size; inch sizes from memory."""

THREADS_OUT: Final = 2.0
"""Threads that show beyond the nut [1]; common practice."""

RIVET_SPARE: Final = 0.10
"""Rivets bought over those counted: some are drilled out again [1]; common practice."""
BOLT_SPARE: Final = 0.05
"""Bolts, washers and nuts bought over those counted [1]; common practice."""
SEAL_SPARE: Final = 0.05
"""Seal bought over the perimeter: cut at the joint, and nothing is stretched round corners [1]; common practice."""
BEAD_WASTE: Final = 0.20
"""Sealant lost in nozzles, in smoothing and in the tube [1]; common practice."""
PAINT_WASTE: Final = 0.20
"""Primer lost in brush and tin [1]; common practice."""
RESIN_WASTE: Final = 0.15
"""Resin lost in pots, rollers and batches that set too early [1]; common practice."""
MAT_WASTE: Final = 0.10
"""Mat lost at ragged edges and corners, laps not counted [1]; common practice."""

CARTRIDGE: Final = 0.290
"""Sealant in one cartridge [l]; common practice (290 to 310 ml)."""
PRIMER_TIN: Final = 0.25
"""The smallest tin of primer [l]."""
PRIMER_SPREAD: Final = 8000.0
"""Area that a cubic metre of primer covers once [m2/m3]: 8 m2 a litre on smooth metal."""
PRIMER_BESIDE: Final = 0.02
"""Strip beside a cut edge that is primed on both faces [m]; judgement."""

MAT_ROLL: Final = 0.95
"""Width of a roll of chopped strand mat [m]; common practice (0.9 to 1.25 m)."""
MAT_LAP: Final = 0.05
"""Lap between two pieces of mat [m].

Source: a public article on laying up chopped strand mat by hand (read in a public reproduction).
"""
BOND_LAP: Final = 0.05
"""How far mat that bonds in a wood strip lies on the skin, each side [m]; boat building, from memory."""
CATALYST: Final = 0.02
"""Catalyst over resin by mass [1]; 1 to 2 % on public pages of laminating hand-outs; the tin's table goes first."""
CATALYST_DENSITY: Final = 1.15
"""Density of catalyst [kg/l]; from memory."""
RESIN_PACKS: Final = (1.0, 5.0, 25.0)
"""Polyester resin in one tin [kg]."""
FILLER_DENSITY: Final = 1.8
"""Density of polyester filler [kg/l]; from memory."""
FILLER_TIN: Final = 1.0
"""Polyester filler in one tin [kg]."""
CLEANER: Final = 0.25
"""Cleaner for rollers and hands' tools over resin [l/kg]; judgement."""


@dataclass(frozen=True, slots=True)
class Protection:
    """Something worn at work: `id`, `name`, how many `pieces` of it, and what it is `against`."""

    id: str
    name: str
    pieces: int
    against: str


PROTECTION: Final = (
    Protection("protect-gloves-cut", "cut-resistant gloves, pair", 2, "sheet edges and swarf"),
    Protection("protect-gloves-chemical", "nitrile gloves, pair", 50, "sealant, primer, resin"),
    Protection("protect-goggles", "goggles, one for each who helps", 2, "swarf, drill chips, splashes"),
    Protection("protect-mask-dust", "dust mask FFP3 (or P100)", 10, "grinding and glass-fibre dust"),
    Protection("protect-mask-vapour", "half mask, filter for organic vapour", 1, "resin, primer and solvent vapour"),
    Protection("protect-ears", "ear defenders", 2, "saw and grinder on a sheet roof"),
)
"""Always in the list; common practice, the law of the place comes first."""
