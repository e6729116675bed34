"""Cloths for the walls, clear film, staples and screws: what they hold before they give, as wide ranges.

Common practice, no source: a sheet that comes with the roll, or a strip torn at home, is worth more. Strength is that
of a strip pulled until it breaks, new and dry (ISO 13934-1 pulls strips of 50 mm: N per 50 mm times 20 is N/m).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from loftwright.core.checks import Source

CLOTH_SOURCE: Final = Source("common-practice", "usual ranges of the trade, no source", "common practice")
STRIP_SOURCE: Final = Source("iso-13934-1", "strip method, what is measured (from memory)", "standard")
HOLD_SOURCE: Final = Source("judgement", "short cloth staples in softwood or plywood", "judgement")


@dataclass(frozen=True, slots=True)
class Cloth:
    """A cloth in words, its mass [kg/m2], strength along and across the roll and stiffness [N/m], each low and high.

    Stiffness is force per width over strain, at a tenth to a third of the strength.
    """

    words: str
    mass: float
    along: tuple[float, float]
    across: tuple[float, float]
    stiffness: tuple[float, float]
    source: Source = CLOTH_SOURCE


CLOTHS: Final[dict[str, Cloth]] = {
    "cotton-polyester": Cloth("cotton and polyester canvas", 0.30, (20e3, 36e3), (12e3, 24e3), (60e3, 200e3)),
    "coated-polyester": Cloth("polyester coated with PVC", 0.60, (36e3, 60e3), (30e3, 56e3), (150e3, 500e3)),
    "acrylic": Cloth("woven acrylic", 0.30, (22e3, 30e3), (14e3, 20e3), (60e3, 150e3)),
    "unknown": Cloth("not known yet", 0.40, (12e3, 60e3), (12e3, 56e3), (60e3, 500e3)),
}
FILMS: Final[dict[str, Cloth]] = {
    "film-0.5": Cloth("clear PVC film, 0.5 mm", 0.62, (7e3, 10e3), (7e3, 10e3), (5e3, 20e3)),
    "film-0.75": Cloth("clear PVC film, 0.75 mm", 0.93, (10.5e3, 15e3), (10.5e3, 15e3), (7.5e3, 30e3)),
}
"""Warm and new; film that is cold, old or creased is brittle and tears far below this."""

SEAM: Final = (0.5, 0.8)
"""Strength of a sewn seam over that of the cloth [1]: common practice, no source."""
UNEVEN: Final = 1.5
"""Pull at the worst place of an edge, corner or crease over the mean [1]: judgement."""
AGED: Final = 0.6
"""What sun, folding and wet leave of the strength in some years [1]: judgement."""
SAFETY: Final = 2.0
"""Strength over what is allowed [1]: judgement, a setting."""
