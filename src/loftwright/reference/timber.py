"""Building timber for a frame on the ground: sections and lengths sold, what it bears, what screws and bolts hold.

Common practice where no source is named.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from loftwright.core.checks import Source
from loftwright.core.choices import Units


@dataclass(frozen=True, slots=True)
class Stock:
    """Sections (thick, deep) [m], the smallest first, of beams and of boards, and stock lengths [m]."""

    beams: tuple[tuple[float, float], ...]
    board: tuple[float, float]
    lengths: tuple[float, ...]
    screws: tuple[str, str, str]
    """Short, middle and long wood screws."""
    bolt: str


_IN, _FT = 0.0254, 0.3048
STOCK: Final[dict[Units, Stock]] = {
    "metric": Stock(
        ((0.045, 0.095), (0.045, 0.120), (0.045, 0.145), (0.045, 0.195), (0.045, 0.220)),
        (0.022, 0.095),
        (2.4, 3.0, 3.6, 4.2, 4.8, 5.4),
        ("5 x 60", "5 x 80", "5 x 100"),
        "M10",
    ),
    "imperial": Stock(
        tuple((1.5 * _IN, deep * _IN) for deep in (3.5, 5.5, 7.25, 9.25)),
        (0.75 * _IN, 3.5 * _IN),
        tuple(n * _FT for n in (8, 10, 12, 14, 16, 18)),
        ("no. 10 x 2 1/2 in", "no. 10 x 3 in", "no. 12 x 4 in"),
        "3/8 in",
    ),
}

HANDY: Final = 4.3
"""Longer bars are bought only where a piece needs them [m]; judgement."""

BENDING_STRENGTH: Final = 16.0e6
"""Characteristic bending strength of the weakest common grade of building softwood [Pa]."""
BENDING_SOURCE: Final = Source("en-338", "class C16 of EN 338, from memory", "standard")
SAFETY: Final = 3.0
"""Strength over allowed stress: material, long load and a knot in the wrong place together; judgement."""
ALLOWED_BENDING: Final = BENDING_STRENGTH / SAFETY
STIFFNESS: Final = 8.0e9
"""Mean modulus of elasticity of the same grade [Pa]."""
DENSITY: Final = 450.0
"""Air-dry softwood [kg/m3]; common practice, no source."""

SCREW_HOLDS: Final = 500.0
"""What one wood screw of middle size is trusted with across the grain [N]; judgement, on the safe side."""
BOLT_HOLDS: Final = 2000.0
"""What one bolt with big washers is trusted with through two timbers [N]; judgement, on the safe side."""
MOST_SCREWS: Final = 8
"""Beyond so many screws bolts are asked for."""

LEAN: Final = 200.0
"""How hard someone who stumbles leans on the open shell, any way [N]; judgement."""
AGAINST_TIPPING: Final = 1.5
"""Moments that hold the frame down over those that tip it, at least; common practice."""
