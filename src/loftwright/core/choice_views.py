"""What screens and pages show of the choice of springs: text, and the few figures that drawings need.

Every text is plain text in the builder's units; figures named `_mm` are millimetres for drawings at full size.
"""

from __future__ import annotations

from dataclasses import dataclass

from loftwright.core.choices import Units
from loftwright.core.views import Caution, Fact


@dataclass(frozen=True, slots=True)
class Worth:
    """One thing to measure: minutes, and the odds out of 100 before and after, as text ("61", "78").

    `gain` says it in a sentence piece ("61 to 78 of 100"); `how` is the way to do it.
    """

    title: str
    minutes: int | None
    how: str
    before: int
    after: int
    gain: str


@dataclass(frozen=True, slots=True)
class Shortfall:
    """One requirement that fails in some of the roofs: its words and in how many of 100."""

    rule: str
    title: str
    fails: int


@dataclass(frozen=True, slots=True)
class SpringAnswer:
    """One choice of springs: what to ask for, where to mount it, and its odds out of 100.

    `facts` hold force, stroke, lengths, count, ends; `rest` what fails in the other roofs, most often first.
    """

    name: str
    odds: int
    facts: tuple[Fact, ...]
    rest: tuple[Shortfall, ...]
    why: str


@dataclass(frozen=True, slots=True)
class Hole:
    """One bracket hole: its number on paper, where it sits closed [mm], and whether it is the one to start with."""

    number: int
    body: str
    x_mm: float
    z_mm: float
    start: bool
    words: str


@dataclass(frozen=True, slots=True)
class HoleRow:
    """A row of holes in one bracket, the fixed end of the spring, and the odds out of 100 that one of them works.

    `with_card` is out of 100 too: found by following the tuning card alone.
    """

    holes: tuple[Hole, ...]
    fixed: Hole
    odds: int
    first: int
    with_card: int
    note: str


@dataclass(frozen=True, slots=True)
class CardLine:
    """One line of the tuning card: at hole `at`, if `reading` says so, go to hole `go` (0: stay, it is right)."""

    at: int
    reading: str
    go: int
    words: str


@dataclass(frozen=True, slots=True)
class Card:
    """The tuning card: how to take the readings, and its lines in the order in which they are asked."""

    how: tuple[str, ...]
    lines: tuple[CardLine, ...]
    note: str


@dataclass(frozen=True, slots=True)
class Ratings:
    """Which forces to order together for the same mounts, odds out of 100 that one works, and how that compares."""

    forces: tuple[str, ...]
    odds: int
    words: str


@dataclass(frozen=True, slots=True)
class Advice:
    """A change that frees a roof for which nothing works: checked before it is said; odds out of 100 after it."""

    change: str
    odds: int
    words: str


@dataclass(frozen=True, slots=True)
class ChoicePage:
    """Everything said about the choice of springs on one page; what to measure comes first."""

    name: str
    subtitle: str
    measure: tuple[Worth, ...]
    planned: int | None
    """Odds out of 100 of the springs in the file; None when there are none."""
    planned_rest: tuple[Shortfall, ...]
    best: SpringAnswer | None
    others: tuple[SpringAnswer, ...]
    holes: HoleRow | None
    card: Card | None
    ratings: Ratings | None
    in_the_way: tuple[Shortfall, ...]
    advice: tuple[Advice, ...]
    searched: str
    """What was tried, in a sentence: how many springs, mounts and roofs."""
    cautions: tuple[Caution, ...]
    assumptions: tuple[str, ...]
    units: Units
    made_with: str
    measure_note: str = ""
    """What is said above the measurements, in sentences."""


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """One reading on the built roof: what was read, what was expected before any reading, and how far off it is."""

    what: str
    measured: str
    expected: str
    off: str
    strange: bool


@dataclass(frozen=True, slots=True)
class ReadingChart:
    """Predicted against measured hand force: `percent` open, `force` in the chart's unit, with the band before."""

    unit: str
    percent: tuple[float, ...]
    measured: tuple[float, ...]
    before_low: tuple[float, ...]
    before_high: tuple[float, ...]
    after: tuple[float, ...]
    labels: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ProofPage:
    """What readings on the built roof say: learnt values, odds after them, which hole next, and what looks wrong."""

    name: str
    subtitle: str
    rows: tuple[ReadingRow, ...]
    learnt: tuple[Fact, ...]
    chart: ReadingChart | None
    verdict: str
    """The likely cause of readings that contradict, or that they agree."""
    odds_before: int
    odds_after: int
    next_hole: str
    holes: HoleRow | None
    tape: tuple[Fact, ...]
    """Predicted tape readings with their tolerance; `note` says what a miss means."""
    tape_verdict: str
    cautions: tuple[Caution, ...]
    units: Units
    made_with: str
