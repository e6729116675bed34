"""What the build book and its single sheets show: text in the builder's units, and figures that drawings need.

Figures named `_mm` are millimetres at full size, in the van's axes for the closed roof: x to the cab, z up.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, get_args

from loftwright.core.choice_views import ChoicePage, ProofPage
from loftwright.core.choices import Units
from loftwright.core.fitting_pages import FittingPage
from loftwright.core.hold_views import HoldPage
from loftwright.core.parts_pages import PartsPage
from loftwright.core.solid import Solid
from loftwright.core.trial_frame import TrialFrame
from loftwright.core.views import Caution, Fact, RoofPage
from loftwright.core.wall_views import WallPage
from loftwright.core.work_pages import HandOverPage, WorkPage

Paper = Literal["a4", "letter"]
PAPER_MM: Final[dict[Paper, tuple[float, float]]] = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""Width and height of a sheet [mm]."""

Sheet = Literal["card", "drilling", "request", "steps", "frame", "home-test", "readings"]
"""Chapters on springs and readings that are also printed alone."""

RestSheet = Literal[
    "fit-out",
    "shopping",
    "bars",
    "calendar",
    "tasks",
    "open-roof",
    "go",
    "way-back",
    "first-lift",
    "service",
    "dash",
    "folder",
    "faults",
]
"""Chapters on fit-out, parts, order of work and hand-over that are also printed alone, in the order of the book."""

BookSheet = Sheet | RestSheet
"""Whatever the book prints alone."""
SHEETS: Final[tuple[Sheet, ...]] = get_args(Sheet)
REST_SHEETS: Final[tuple[RestSheet, ...]] = get_args(RestSheet)
BOOK_SHEETS: Final[tuple[BookSheet, ...]] = (*SHEETS, *REST_SHEETS)

HoldSheet = Literal[
    "fit", "packers", "wind-card", "cut-plan", "corners", "ring", "holes", "inspector", "before-the-cut"
]
"""Sheets on fit and strength, in the order in which they are printed together."""

WallSheet = Literal["panels", "water", "layout", "sewing", "bill", "fold", "tucking", "trial"]
"""Sheets on the cloth walls, in the order in which they are printed together."""

Side = Literal["left", "right"]


@dataclass(frozen=True, slots=True)
class DrillMark:
    """One hole to drill, or a pivot to check by: its name on paper and its middle [mm]."""

    name: str
    x_mm: float
    z_mm: float
    start: bool = False
    pivot: bool = False


@dataclass(frozen=True, slots=True)
class RefLine:
    """A line that the builder draws first: upright at `at_mm` along, or level at `at_mm` up; `words` say where."""

    way: Literal["upright", "level"]
    at_mm: float
    words: str


@dataclass(frozen=True, slots=True)
class DrillPlan:
    """Holes in one part of the roof at full size, with the lines they hang on and lengths to check by tape."""

    title: str
    marks: tuple[DrillMark, ...]
    lines: tuple[RefLine, ...]
    checks: tuple[Fact, ...]
    place: str


@dataclass(frozen=True, slots=True)
class Request:
    """What to ask a supplier for: lines in a counter clerk's words; `fits` says which answer of the search it is."""

    title: str
    lines: tuple[Fact, ...]
    fits: str


@dataclass(frozen=True, slots=True)
class Work:
    """One step of fitting: what to do, how many people, and checks to tick."""

    title: str
    people: int
    do: tuple[str, ...]
    checks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FrameRow:
    """One line of the cutting list."""

    mark: str
    name: str
    count: str
    section: str
    length: str
    cut: str
    joint: str


@dataclass(frozen=True, slots=True)
class FramePage:
    """The timber frame in words beside its shapes."""

    frame: TrialFrame
    facts: tuple[Fact, ...]
    rows: tuple[FrameRow, ...]
    bars: tuple[Fact, ...]
    bars_note: str
    packers: tuple[Fact, ...]
    crown: tuple[Fact, ...]
    true: tuple[str, ...]
    build: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CoverPage:
    """The roof for its three views, and what is written at them.

    `rise` of the shell's highest corner when open, `length` and `width` of the closed shell, as text.
    """

    solid: Solid
    rise: str
    length: str
    width: str


@dataclass(frozen=True, slots=True)
class RestPage:
    """What comes after the design: fit-out, what is bought, the order of work, and how it is handed over."""

    fitting: FittingPage
    parts: PartsPage
    work: WorkPage
    hand_over: HandOverPage


@dataclass(frozen=True, slots=True)
class BookPage:
    """Everything that the build book says. `choice` and `proof` are None where there is no such answer."""

    name: str
    subtitle: str
    roof: RoofPage
    choice: ChoicePage | None
    choice_missing: str
    """Why there is no choice of springs, in a sentence; empty when there is one."""
    proof: ProofPage | None
    drilling: tuple[DrillPlan, ...]
    requests: tuple[Request, ...]
    works: tuple[Work, ...]
    home_test: tuple[str, ...]
    home_cautions: tuple[str, ...]
    frame: FramePage
    sources: tuple[str, ...]
    cautions: tuple[Caution, ...]
    units: Units
    made_with: str
    hold: HoldPage | None = None
    """Whether it sits and holds; None where that is not asked for."""
    walls: WallPage | None = None
    """The cloth walls; None where they are not asked for."""
    rest: RestPage | None = None
    """Fit-out, parts, order of work and hand-over; None where they are not asked for."""
    cover: CoverPage | None = None
    """The three views of the cover; None where they are not asked for."""
