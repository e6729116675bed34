"""What screens and pages show of the cloth walls: text that is ready, and numbers ready to be drawn.

Filled in one place from the answers; every text is plain text in the builder's units. Lengths to be drawn are in
metres. The strip is the wall unrolled in sewing order, seen from outside: x along it, y up the cloth.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from loftwright.core.choices import Edge, Spelling, Units
from loftwright.core.pattern import XY, Layout, PatternPiece
from loftwright.core.section_views import Section, Sectioned
from loftwright.core.views import Caution, CheckRow, Grid

WallPart = Literal["shape", "water", "sewing", "windows", "metres", "warmth", "fold"]
"""A question about the walls, in the order in which they are worked out."""
WALL_PARTS: tuple[WallPart, ...] = ("shape", "water", "sewing", "windows", "metres", "warmth", "fold")

Point = tuple[float, float, float]
"""A point in space [m]."""

Freshness = Literal["fresh", "stale", "none"]
"""Of an answer that takes long: worked out for the project as it is, for an earlier one, or not yet."""


@dataclass(frozen=True, slots=True)
class WallSection(Section[WallPart]):
    """All that is said about one question on the walls."""


@dataclass(frozen=True, slots=True)
class StripPanel:
    """One panel on the strip: its stitch line [m] on the strip, where its lower edge begins along the lower line [m].

    `number` and `name` as on its pattern. `wall` is where most of it hangs. `arcs` are lengths along the lower line at
    the points of `lower`, both from left to right.
    """

    number: str
    name: str
    wall: Edge
    outline: tuple[XY, ...]
    lower: tuple[XY, ...]
    arcs: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class StripWindow:
    """One window on the strip: its sight line and the outline of its largest layer [m].

    `entry` is its number in the file from nought; `move` and `rise` [m] are `along` and `bottom` as the file has them,
    so that dragging adds to them.
    """

    name: str
    entry: int
    sight: tuple[XY, ...]
    largest: tuple[XY, ...]
    move: float
    rise: float
    fits: bool


@dataclass(frozen=True, slots=True)
class StripSeam:
    """One seam on the strip: its name, its line from below to above [m], and its place along the lower line [m]."""

    name: str
    low: XY
    high: XY
    arc: float


@dataclass(frozen=True, slots=True)
class Strip:
    """The wall unrolled: panels in sewing order side by side, with the whole length of the lower line [m]."""

    panels: tuple[StripPanel, ...]
    windows: tuple[StripWindow, ...]
    seams: tuple[StripSeam, ...]
    around: float
    length: float
    height: float


@dataclass(frozen=True, slots=True)
class FoldPose:
    """The section at one moment: the cloth and the shell's inside [m], u inward, z up; `open` share [1]."""

    open: float
    cloth: tuple[XY, ...]
    shell: tuple[XY, XY]
    bar: tuple[float, float, float] | None = None
    """Middle u, z and radius of the latches' bar."""


@dataclass(frozen=True, slots=True)
class FoldPlace:
    """The fold at one place of the rim.

    `arc` [m] along the lower line. `says` in one sentence; `counts` of starts that ended in, out and both ways. `poses`
    from open to closed of the most usual ending; `ends` the cloth at rest of every start. `boxes` [m] are what stands
    in the van: u0, z0, u1, z1. `room` [m]: clear depth and height for it, where known. `hang`: how far it hangs below
    the ring, empty where it does not.
    """

    name: str
    wall: Edge
    arc: float
    says: str
    counts: tuple[int, int, int]
    tip: str
    bundle: str
    push: str
    poses: tuple[FoldPose, ...]
    ends: tuple[tuple[XY, ...], ...]
    boxes: tuple[tuple[float, float, float, float], ...]
    room: tuple[float, float] | None
    hang: str = ""


@dataclass(frozen=True, slots=True)
class EdgeWater:
    """The lower edge in section at one place: heights above the roof's skin there [m], with dimensions as text."""

    place: str
    upstand: float
    line: float
    water: float
    splash: float
    lap: float
    hem: float
    says: str
    sizes: tuple[tuple[str, float, float, str], ...]
    """Dimensions: what, from height, to height, text."""


@dataclass(frozen=True, slots=True)
class RollNeed:
    """What is bought of one roll: its layout and what it comes to, as text."""

    layout: Layout
    freshness: Freshness
    buy: str
    waste: str
    price: str
    note: str


@dataclass(frozen=True, slots=True)
class WallPage(Sectioned[WallPart]):
    """Everything said about the cloth walls of one roof."""

    name: str
    subtitle: str
    sections: tuple[WallSection, ...]
    rows: tuple[CheckRow, ...]
    """All judgements, worst first."""
    strip: Strip
    lower: tuple[Point, ...]
    """The lower line in space, closed [m]."""
    upper: tuple[Point, ...]
    """The upper line in space, roof open, closed [m]."""
    rulings: tuple[tuple[Point, Point], ...]
    """Straight lines of the rolled-out cloth from the lower to the upper line, for an illustration."""
    pieces: tuple[PatternPiece, ...]
    rolls: tuple[RollNeed, ...]
    water: tuple[EdgeWater, ...]
    sewing: tuple[str, ...]
    """Order of sewing, one sentence each."""
    bill: Grid
    """Cloth, thread, tape, clear sheet, staples."""
    places: tuple[FoldPlace, ...]
    fold: Freshness
    fold_note: str
    """What is to be done about the fold's freshness, empty where nothing."""
    tucking: tuple[str, ...]
    """What hangs in the van: how the cloth is tucked in, short lines."""
    trial: tuple[str, ...]
    """The smallest trial in paper before cloth is cut, short lines."""
    cautions: tuple[Caution, ...]
    assumptions: tuple[str, ...]
    provenance: str
    units: Units
    made_with: str
    words: Spelling = "kerb"
