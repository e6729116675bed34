"""What the drawing board shows beside the pages that paper shows too: points to move, the roof while it is moved.

Filled by the answers; every text is plain text in the builder's units.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from loftwright.core.checks import Tally
from loftwright.core.choices import BodyName
from loftwright.core.scene import PoseTable, Scene, Spot
from loftwright.core.views import ForceChart

GripKind = Literal["pivot", "spring", "zone", "hole", "handle", "item"]
"""What a movable point belongs to: hinge or arm pin, spring end, corner of a zone, bracket hole, handle, an item."""


@dataclass(frozen=True, slots=True)
class Grip:
    """A point that can be moved on the drawing, where it lies when the roof is closed [m].

    `path` is the point's path in the project file ("spring.0.foot", "linkage.hinge", "zone.1.from",
    "spring.0.feet.2"); `x_path` and `z_path` are those of its two values, with the texts that stand there.
    `note` says how they are known ("your decision", "measured").
    """

    path: str
    label: str
    kind: GripKind
    body: BodyName
    at: Spot
    x_path: str
    z_path: str
    x_text: str
    z_text: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class LengthStrip:
    """Length of one spring over the travel against what it can be, in the strip's `unit`.

    `x` as in the force chart [% open], `y` as long; `low` and `high` are pushed in and pulled out.
    `margin_low` and `margin_high` bound what is wanted of it.
    """

    name: str
    unit: str
    decimals: int
    x: tuple[float, ...]
    y: tuple[float, ...]
    low: float
    high: float
    margin_low: float
    margin_high: float


@dataclass(frozen=True, slots=True)
class Readout:
    """A figure that changes as the roof opens, finished as text at every station of the pose table."""

    label: str
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Trial:
    """The roof as it is being moved: enough to draw it and to feel it, few draws, no verdicts.

    `readouts` have one text for each station of `poses`.
    """

    scene: Scene
    poses: PoseTable
    chart: ForceChart
    strips: tuple[LengthStrip, ...]
    readouts: tuple[Readout, ...]
    grips: tuple[Grip, ...]


@dataclass(frozen=True, slots=True)
class Decision:
    """One decision of the way to a roof: its page's path ("/lifts"), its title, and how its judgements stand."""

    path: str
    title: str
    asks: str
    """The question that it answers, in a few words."""
    tally: Tally
