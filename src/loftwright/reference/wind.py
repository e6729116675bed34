"""Wind: air, Beaufort's scale, open country, pressure coefficients of small closed bodies and of canopies.

"Read" means read in a public reproduction. Signs of coefficients are those of the standard: positive pushes on the
outer face, negative pulls it outward; on a canopy positive acts downward.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from loftwright.core.checks import Source

EN_WIND: Final = "en-1991-1-4"
CANOPY_SOURCE: Final = Source(EN_WIND, "7.3, Table 7.6, overall coefficients (read)", "standard")

AIR_DENSITY: Final = 1.25
"""Recommended density of air [kg/m3]. EN 1991-1-4:2005, 4.5 note 2; read."""


@dataclass(frozen=True, slots=True)
class Force:
    """One number of Beaufort's scale with its name and range [m/s], a ten-minute mean at 10 m; no upper end at 12."""

    number: int
    name: str
    low: float
    high: float | None


BEAUFORT: Final = (
    Force(0, "calm", 0.0, 0.2),
    Force(1, "light air", 0.3, 1.5),
    Force(2, "light breeze", 1.6, 3.3),
    Force(3, "gentle breeze", 3.4, 5.4),
    Force(4, "moderate breeze", 5.5, 7.9),
    Force(5, "fresh breeze", 8.0, 10.7),
    Force(6, "strong breeze", 10.8, 13.8),
    Force(7, "near gale", 13.9, 17.1),
    Force(8, "gale", 17.2, 20.7),
    Force(9, "strong gale", 20.8, 24.4),
    Force(10, "storm", 24.5, 28.4),
    Force(11, "violent storm", 28.5, 32.6),
    Force(12, "hurricane", 32.7, None),
)
"""WMO-No. 8, ranges read in two public reproductions; names from memory."""

BEAUFORT_HEIGHT: Final = 10.0
"""Beaufort's scale is the wind at this height [m]."""

GUST_FACTOR: Final = (1.3, 1.7)
"""Gust over ten-minute mean at the same height, open country [1]: judgement, set so that it holds 1.69.

That is what EN 1991-1-4, 4.5 gives at 2.2 m in terrain II, sqrt(1 + 7 / ln(2.2 / 0.05)).
"""


@dataclass(frozen=True, slots=True)
class Terrain:
    """A kind of country in words, its roughness length [m] and the height [m] under which the wind is held even."""

    words: str
    roughness: float
    least_height: float


TERRAINS: Final[dict[str, Terrain]] = {
    "sea": Terrain("a coast open to the sea", 0.003, 1.0),
    "lake": Terrain("a lake or flat bare ground", 0.01, 1.0),
    "open": Terrain("grass with single trees or houses", 0.05, 2.0),
    "village": Terrain("villages, suburbs, woods", 0.3, 5.0),
    "town": Terrain("a town of buildings over 15 m", 1.0, 10.0),
}
"""EN 1991-1-4:2005, Table 4.1, categories 0 to IV; 0, I, II and IV read, III from memory."""
OPEN: Final = TERRAINS["open"]


HEIGHT_OVER_DEPTH: Final = (0.25, 1.0, 5.0)
"""h/d at which Table 7.1 stands [1]; straight between, held outside."""
WINDWARD: Final = (0.7, 0.8, 0.8)
LEEWARD: Final = (-0.3, -0.5, -0.7)
"""cpe,10 of zones D and E at these h/d [1]. EN 1991-1-4:2005, 7.2.2, Table 7.1; read."""
WINDWARD_SMALL: Final = 1.0
"""cpe,1 of zone D [1]: of an area of 1 m2 or less; zone E is the same as for 10 m2."""
SIDE: Final = (-1.2, -0.8, -0.5)
SIDE_SMALL: Final = (-1.4, -1.1, -0.5)
"""cpe,10 and cpe,1 of the zones A, B, C of walls along the wind [1], any h/d. Table 7.1; read."""

FLAT: Final = {"F": (-1.8, -2.5), "G": (-1.2, -2.0), "H": (-0.7, -1.2), "I": (-0.2, -0.2)}
"""cpe,10 and cpe,1 of a flat roof with sharp eaves [1]; zone I also +0.2. Table 7.2; read."""

CANOPY_PITCH_DEG: Final = (0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0)
CANOPY_DOWN: Final = (0.2, 0.4, 0.5, 0.7, 0.8, 1.0, 1.2)
CANOPY_UP_FREE: Final = (-0.5, -0.7, -0.9, -1.1, -1.3, -1.6, -1.8)
CANOPY_UP_BLOCKED: Final = (-1.3, -1.4, -1.4, -1.4, -1.4, -1.4, -1.4)
"""Overall force coefficients of a mono-pitch canopy [1]: downward; upward with nothing under it; upward blocked."""
CENTRE: Final = (0.25, 0.5)
"""Where the push acts, as a share of the depth from the edge that the wind meets [1].

A quarter: EN 1991-1-4:2005, Figure 7.16, from memory. The middle is the other end of the range, judgement.
"""

INSIDE: Final = (-0.3, 0.2)
"""Pressure coefficient inside where openings are not known [1]; EN 1991-1-4:2005, 7.2.9(6) note 2; from memory."""
THROUGH_WINDOW: Final = (0.75, 0.9)
"""Inside over outside pressure at an open window that is twice, or three times, all other openings [1].

EN 1991-1-4:2005, 7.2.9(5); from memory.
"""

SECTION_DEPTH: Final = (0.1, 0.2, 0.6, 0.7, 1.0, 2.0, 5.0, 10.0)
SECTION_DRAG: Final = (2.0, 2.0, 2.35, 2.4, 2.1, 1.65, 1.0, 0.9)
"""Force coefficient of a long rectangular section over its depth along the wind through its height across it [1].

EN 1991-1-4:2005, 7.6, Figure 7.23; read.
"""

PLATE: Final = (1.08, 1.2, 1.32)
"""A flat plate square to the wind [1]: 1.2 with a band of a tenth.

1.28 read in public teaching pages of NASA Glenn; 1.17 to 1.2 for square plates from memory (Hoerner; White).
"""
EDGE: Final = 1.3
"""Wind on the shell's own side over its height [1]: windward and leeward wall of one body, 0.8 + 0.5; judgement.

Alone, without walls under it, a free plate has 1.2 and a long one up to 2.0.
"""

COEFFICIENT: Final = (0.8, 1.3)
"""How far the true force may lie from the tables [1]: judgement. They stand for houses, not for a box on a van."""


SNOW: Final[dict[str, tuple[float, float]]] = {
    "fresh": (1000.0, 1000.0),
    "settled": (2000.0, 2000.0),
    "old": (2500.0, 3500.0),
    "wet": (4000.0, 4000.0),
}
"""Weight of snow [N/m3], low and high. EN 1991-1-3, Table E.1; read, the low end for old snow from memory."""
