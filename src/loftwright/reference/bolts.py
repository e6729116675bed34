"""Bolts that can be bought: sizes with their threads, holes and washers, and how strong their grades are.

Lengths in metres, stresses in pascals. Coarse threads only.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Literal

from loftwright.core.checks import Source

ISO_THREAD: Final = Source(
    "iso-898-1", "As = pi/4 (d - 0.9382 P)^2; nominal areas of M5 to M10 read in a public reproduction", "standard"
)
INCH_THREAD: Final = Source(
    "asme-b1-1", "As = 0.7854 (d - 0.9743 / n)^2; areas in square inches read in a public reproduction", "standard"
)
HOLES: Final = Source("iso-273", "medium series, read in a public reproduction", "standard")
WASHERS: Final = Source("iso-7089", "normal series, read in a public reproduction", "standard")
INCH_WASHERS: Final = Source("asme-b18-21-1", "type A narrow, read in a public reproduction", "standard")

Thread = Literal["metric", "unified"]

CORNERS: Final = 1.13
"""Least width across corners of a hexagon over its width across flats [1]; ISO 4014, from memory."""


@dataclass(frozen=True, slots=True)
class Bolt:
    """A hexagon bolt of one size: `pitch` of its thread, clearance `hole`, plain `washer` outer and thick [m].

    `flats` is the width across the flats of head and nut [m] (from memory).
    """

    name: str
    thread: Thread
    diameter: float
    pitch: float
    hole: float
    washer: float
    washer_thick: float
    flats: float

    @property
    def stress_area(self) -> float:
        """Stress area of the thread [m2].

            As = pi/4 (d - 0.9382 P)^2                                                          (1)

        The unified form 0.7854 (d - 0.9743 / n)^2 differs by rounding and by 0.9743 for 0.9382.
        Source: `ISO_THREAD`, `INCH_THREAD`.

        >>> round(BOLTS["M6"].stress_area * 1e6, 1)
        20.1
        """
        cut = 0.9382 if self.thread == "metric" else 0.9743
        return math.pi / 4.0 * (self.diameter - cut * self.pitch) ** 2

    @property
    def shank_area(self) -> float:
        """Area of the plain shank [m2]."""
        return math.pi / 4.0 * self.diameter**2

    @property
    def mean_head(self) -> float:
        """Mean of the widths across flats and corners of head or nut, d_m of EN 1993-1-8 [m]."""
        return 0.5 * (1.0 + CORNERS) * self.flats


def _metric(name: str, *mm: float) -> Bolt:
    d, pitch, hole, washer, thick, flats = (v / 1000.0 for v in mm)
    return Bolt(name, "metric", d, pitch, hole, washer, thick, flats)


_IN: Final = 0.0254


def _unified(name: str, diameter: float, threads: int, hole: float, washer: float, thick: float, flats: float) -> Bolt:
    d, h, w, t, f = (v * _IN for v in (diameter, hole, washer, thick, flats))
    return Bolt(name, "unified", d, _IN / threads, h, w, t, f)


BOLTS: Final[dict[str, Bolt]] = {
    bolt.name: bolt
    for bolt in (
        _metric("M4", 4.0, 0.7, 4.5, 9.0, 0.8, 7.0),
        _metric("M5", 5.0, 0.8, 5.5, 10.0, 1.0, 8.0),
        _metric("M6", 6.0, 1.0, 6.6, 12.0, 1.6, 10.0),
        _metric("M8", 8.0, 1.25, 9.0, 16.0, 1.6, 13.0),
        _metric("M10", 10.0, 1.5, 11.0, 20.0, 2.0, 16.0),
        _metric("M12", 12.0, 1.75, 13.5, 24.0, 2.5, 18.0),
        # Clearance drills of the inch sizes are common practice; the heads are from memory.
        _unified("#8-32", 0.164, 32, 0.177, 0.438, 0.049, 0.250),
        _unified("#10-24", 0.190, 24, 0.201, 0.500, 0.049, 0.3125),
        _unified("1/4-20", 0.250, 20, 0.266, 0.625, 0.065, 0.4375),
        _unified("5/16-18", 0.3125, 18, 0.332, 0.750, 0.065, 0.500),
        _unified("3/8-16", 0.375, 16, 0.397, 0.875, 0.065, 0.5625),
    )
}
"""Every size by its name."""

PENNY: Final = 3.0
"""Outer diameter of a wide (penny, fender) washer over the bolt's [1]; common practice, ISO 7093 from memory."""


@dataclass(frozen=True, slots=True)
class BoltClass:
    """Strength class of a bolt: least `tensile`, `yields` and `proof` stress [Pa].

    `shear` is the share of the tensile strength that counts in shear through the thread, alpha_v of EN 1993-1-8 [1].
    """

    name: str
    metal: Literal["zinc-plated steel", "stainless steel"]
    tensile: float
    yields: float
    proof: float
    shear: float
    source: Source


_KSI: Final = 6.894757e6
_ISO = Source("iso-898-1", "Table 3, nominal strengths and proof stress to 16 mm, public reproduction", "standard")
_STAINLESS = Source("iso-3506-1", "Table 2, read in a public reproduction; 0.2 % stress as proof", "standard")
_SAE = Source("sae-j429", "Table 1, grade 5 to 1 in: 85, 92 and 120 ksi, read in a public reproduction", "standard")

CLASSES: Final[dict[str, BoltClass]] = {
    grade.name: grade
    for grade in (
        BoltClass("5.8", "zinc-plated steel", 500.0e6, 400.0e6, 380.0e6, 0.5, _ISO),
        BoltClass("8.8", "zinc-plated steel", 800.0e6, 640.0e6, 580.0e6, 0.6, _ISO),
        BoltClass("10.9", "zinc-plated steel", 1000.0e6, 900.0e6, 830.0e6, 0.5, _ISO),
        BoltClass("A2-70", "stainless steel", 700.0e6, 450.0e6, 450.0e6, 0.6, _STAINLESS),
        BoltClass("A4-80", "stainless steel", 800.0e6, 600.0e6, 600.0e6, 0.6, _STAINLESS),
        BoltClass("grade 5", "zinc-plated steel", 120.0 * _KSI, 92.0 * _KSI, 85.0 * _KSI, 0.6, _SAE),
    )
}
"""Every class by its name. The shear share of stainless (EN 1993-1-4) and of grade 5 (as 8.8) is from memory."""


def least_tensile_load(bolt: Bolt, grade: BoltClass) -> float:
    """Return the least breaking load in tension [N], R_m As, of a bolt of this grade."""
    return grade.tensile * bolt.stress_area


def proof_load(bolt: Bolt, grade: BoltClass) -> float:
    """Return the proof load [N], S_p As, of a bolt of this grade."""
    return grade.proof * bolt.stress_area
