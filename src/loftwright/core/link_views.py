"""What screens and pages show of places to bolt lifting arms: text, and the shapes that drawings need.

Every text is plain text in the builder's units; shapes are metres in the van's frame, as in `core.scene`.
"""

from __future__ import annotations

from dataclasses import dataclass

from loftwright.core.choices import Units
from loftwright.core.scene import Spot
from loftwright.core.views import Caution, Fact


@dataclass(frozen=True, slots=True)
class LinkPicture:
    """The closed roof and the open one on one pair of arms; `zones` are corner pairs of where pivots may sit."""

    roof: tuple[Spot, ...]
    opening: tuple[float, float]
    shell: tuple[Spot, ...]
    shell_open: tuple[Spot, ...]
    arms: tuple[tuple[Spot, Spot], ...]
    arms_open: tuple[tuple[Spot, Spot], ...]
    zones: tuple[tuple[Spot, Spot], ...]


@dataclass(frozen=True, slots=True)
class LinkAnswer:
    """One way to bolt the arms: its number, the four pivots as text, figures, and its picture."""

    number: int
    pivots: tuple[Fact, ...]
    figures: tuple[Fact, ...]
    picture: LinkPicture


@dataclass(frozen=True, slots=True)
class LinksPage:
    """Where to bolt lifting arms that are at hand, best first; `none` says why there is no answer, if so."""

    name: str
    subtitle: str
    asked: tuple[Fact, ...]
    answers: tuple[LinkAnswer, ...]
    sifted: tuple[str, ...]
    none: str
    cautions: tuple[Caution, ...]
    assumptions: tuple[str, ...]
    units: Units
    made_with: str
