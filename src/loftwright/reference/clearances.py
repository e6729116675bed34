"""Heights that a van with a raised roof commonly meets, from low to high. A sign at the place itself always rules."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from loftwright.core.checks import Source


@dataclass(frozen=True, slots=True)
class Clearance:
    """A height [m] that must not be passed, where it is met, and where the figure comes from."""

    where: str
    height: float
    source: Source


CLEARANCES: Final = (
    Clearance("the lowest bars of car parks in Britain", 1.90, Source("common-practice", "usual", "common practice")),
    Clearance(
        "garages built to the German rule",
        2.00,
        Source("common-practice", "garage rules, from memory", "common practice"),
    ),
    Clearance(
        "car parks built to British guidance",
        2.10,
        Source("common-practice", "guidance on car parks, from memory", "common practice"),
    ),
    Clearance("the higher bars of car parks in Britain", 2.20, Source("common-practice", "usual", "common practice")),
    Clearance(
        "parking places for accessible vans in the USA",
        2.490,
        Source("ada-2010", "502.5, 98 inches (read in a public reproduction)", "standard"),
    ),
    Clearance(
        "the greatest height of commercial vehicles in the EU",
        4.00,
        Source("eu-96-53", "Annex I, 1.3 (read in a public reproduction)", "standard"),
    ),
)
