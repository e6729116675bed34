"""What screens and pages show of the fit-out: text that is ready, and numbers ready to be drawn.

Filled in one place from the answers; every text is plain text in the builder's units. Lengths to be drawn are in
metres, in the roof's own frame: x to the cab from the rear edge of the opening, y to the left, z up.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from loftwright.core.choices import Spelling, Units
from loftwright.core.section_views import Section, Sectioned
from loftwright.core.views import Caution, CheckRow

FittingPart = Literal["seal", "standing", "panel", "lift", "lining"]
"""A question about the fit-out, in the order in which they are worked out."""
FITTING_PARTS: tuple[FittingPart, ...] = ("seal", "standing", "panel", "lift", "lining")

Spot = tuple[float, float]
"""A point of a plan or a side view [m]."""


@dataclass(frozen=True, slots=True)
class FittingSection(Section[FittingPart]):
    """All that is said about one question on the fit-out."""


@dataclass(frozen=True, slots=True)
class SealDrawn:
    """The seal round the rim seen from above [m]: `path` closed, counter-clockwise from the middle of the rear end.

    `wet`: whether water stands at each point on the parked van; `joint` is where its ends meet. `sizes` in words.
    """

    path: tuple[Spot, ...]
    wet: tuple[bool, ...]
    joint: Spot
    length: str
    lean: str
    sample: tuple[str, ...]
    """How a sample is weighed, step by step."""


@dataclass(frozen=True, slots=True)
class RoomMap:
    """Height free over floor and bed [m], by place: `opened` and `closed` are [y][x] at middles of cells `x`, `y` [m].

    `need` is the height for which floor is wanted [m]; `bed`: (rear, right, front, left) of the board, or None.
    `levels` are heights to be drawn as steps with their texts.
    """

    x: tuple[float, ...]
    y: tuple[float, ...]
    opened: tuple[tuple[float, ...], ...]
    closed: tuple[tuple[float, ...], ...]
    need: float
    need_text: str
    bed: tuple[float, float, float, float] | None
    levels: tuple[tuple[float, str], ...]


@dataclass(frozen=True, slots=True)
class SunChart:
    """Energy a day of each month [W h], flat at its worst heading, raised at the best one in winter.

    `use` [W h] a day; `wanted`: which months count. `by_heading`: the dark months' mean, raised and flat, for each of
    `headings` (where the cab points), [W h]. `best` is the heading to park by, `flat_best` the most had flat in the
    dark months [W h]; the texts say what the best and the worst heading give raised, the best one flat, and the use.
    """

    months: tuple[str, ...]
    flat: tuple[float, ...]
    raised: tuple[float, ...]
    use: float
    wanted: tuple[bool, ...]
    headings: tuple[str, ...]
    by_heading: tuple[float, ...]
    by_heading_flat: tuple[float, ...]
    best: int
    flat_best: float
    best_text: str
    worst_text: str
    flat_text: str
    use_text: str


@dataclass(frozen=True, slots=True)
class LoopDrawn:
    """The cable's free loop in the plane of motion [m]: clip on the `van`, `path` of the shell's, closed to open.

    `free` length and tightest `bend` [m] with texts; `placed`: whether the clips stand in the file.
    """

    van: Spot
    path: tuple[Spot, ...]
    free: float
    bend: float
    free_text: str
    bend_text: str
    placed: bool


@dataclass(frozen=True, slots=True)
class WireDrawn:
    """The way of the current as texts: panel, cable, loop, controller, fuse, battery, in order; each what and size."""

    parts: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class LiftDrawn:
    """Force of one actuator over the travel [N], cold and wet, by share of the travel [1]; `rated` [N]."""

    share: tuple[float, ...]
    raising: tuple[float, ...]
    lowering: tuple[float, ...]
    rated: float


@dataclass(frozen=True, slots=True)
class Offered:
    """One number of this answer for the file: its key, the quantity as the file takes it, and what it is."""

    path: str
    text: str
    sentence: str


@dataclass(frozen=True, slots=True)
class FittingPage(Sectioned[FittingPart]):
    """Everything said about the fit-out of one roof; what is left out of the file is None."""

    name: str
    subtitle: str
    sections: tuple[FittingSection, ...]
    rows: tuple[CheckRow, ...]
    """All judgements, worst first."""
    seal: SealDrawn
    room: RoomMap
    sun: SunChart | None
    loop: LoopDrawn | None
    wire: WireDrawn | None
    lift: LiftDrawn | None
    offered: tuple[Offered, ...]
    cautions: tuple[Caution, ...]
    assumptions: tuple[str, ...]
    provenance: str
    units: Units
    made_with: str
    words: Spelling = "kerb"
