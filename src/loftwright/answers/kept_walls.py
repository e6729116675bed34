"""What is kept of the walls' slow answers: the fold at each place and how the pieces lie on their rolls."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from loftwright.core.pattern import XY, Layout
from loftwright.core.wall_views import Freshness


@dataclass(frozen=True, slots=True)
class KeptPose:
    """The section at one moment: share open [1] and nodes of the cloth [m]."""

    open: float
    cloth: tuple[XY, ...]


@dataclass(frozen=True, slots=True)
class KeptPlace:
    """The fold at one place: of every start, how it ended, reach inward and outward, bundle [m], push [N/m].

    `ways` are "in", "out" or "both"; `tip`: furthest inward of the lower line [m], where `inward` and `outward` count
    from the line between the clamps. `poses` of the most usual ending; `ends` the cloth at rest of every start [m].
    `lifts`: push on the shell [N/m] at shares open `open_at` [1], the greatest of the starts. `rested`: how many came
    to rest.
    """

    name: str
    ways: tuple[str, ...]
    inward: tuple[float, ...]
    outward: tuple[float, ...]
    bundle: tuple[float, ...]
    push: tuple[float, ...]
    poses: tuple[KeptPose, ...]
    ends: tuple[tuple[XY, ...], ...]
    open_at: tuple[float, ...]
    lifts: tuple[float, ...]
    rested: int
    tip: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class KeptWalls:
    """Slow answers as they were kept, and whether each is of the project as it is."""

    fold: tuple[KeptPlace, ...] = ()
    fold_is: Freshness = "none"
    laid: tuple[Layout, ...] = ()
    laid_is: Freshness = "none"


NOTHING_KEPT: Final = KeptWalls()
