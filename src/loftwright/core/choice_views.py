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
    """One bracket hole: its number or letter on paper (none: the only one of its end), where it sits closed [mm].

    `start`: whether it is one to start with.
    """

    name: str
    body: str
    x_mm: float
    z_mm: float
    start: bool
    words: str


@dataclass(frozen=True, slots=True)
class Place:
    """A place of the spring: its number, and the foot and the head hole it joins, counted from nought in their rows.

    `words` say it whole ("hole 3"; "place 4: foot hole 2, head hole B").
    """

    number: int
    foot: int
    head: int
    start: bool
    words: str


@dataclass(frozen=True, slots=True)
class HoleRow:
    """Holes for the foot and for the head, in rows, the places they make, and the odds out of 100 that one works.

    Where one end has a single hole, places are the holes of the other, by the same numbers. `with_card` is out of 100
    too: found by following the tuning card alone. `take` says so where these are not the springs, or not the places,
    of the best single mounts.
    """

    feet: tuple[Hole, ...]
    heads: tuple[Hole, ...]
    places: tuple[Place, ...]
    odds: int
    first: int
    with_card: int
    note: str
    take: str = ""

    @property
    def both(self) -> bool:
        """Whether both ends have several holes."""
        return len(self.feet) > 1 and len(self.heads) > 1

    @property
    def rows(self) -> tuple[tuple[Hole, ...], ...]:
        """The rows of several holes; the foot's own hole where there is none."""
        several = tuple(row for row in (self.feet, self.heads) if len(row) > 1)
        return several or (self.feet,)

    @property
    def fixed(self) -> Hole | None:
        """The only hole of the other end; None where both have several."""
        if self.both:
            return None
        return self.feet[0] if len(self.heads) > 1 else self.heads[0]

    @property
    def word(self) -> str:
        """What a place is called: hole, where one end alone moves."""
        return "place" if self.both else "hole"

    @property
    def start(self) -> Place:
        """The place to start with."""
        return next((one for one in self.places if one.start), self.places[0])


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
    """Which forces to order together, each with holes of its own, odds out of 100 that one works, and how it compares.

    `where` says of each spring where it goes.
    """

    forces: tuple[str, ...]
    odds: int
    words: str
    where: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Advice:
    """A change that frees a roof for which nothing works: checked before it is said; odds out of 100 after it.

    `paths`: the keys of the file that it changes, where it changes any.
    """

    change: str
    odds: int
    words: str
    paths: tuple[str, ...] = ()


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
    moves: tuple[Fact, ...] = ()
    """What can be done after the readings, each with its odds, best first; none where nothing was looked for."""
    moves_note: str = ""
    cleared: bool = True
    """Whether nothing contradicts any more; else odds after the readings are not to be told."""
