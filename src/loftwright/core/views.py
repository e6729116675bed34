"""What screens and pages show: text and series that need no more sums.

Filled in one place from the answers; every document reads these and nothing else.
Every text is plain text in the builder's units.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Protocol

from loftwright.core.checks import Sense, Tally, Verdict, tally_of
from loftwright.core.choices import Age, Spelling, Temperature, Units
from loftwright.core.scene import PoseTable, Scene

Way = Literal["push", "pull"]


@dataclass(frozen=True, slots=True)
class CheckRow:
    """One judgement as people read it; `margin` carries its sign, empty texts mean there is no such number."""

    id: str
    title: str
    verdict: Verdict
    value: str
    limit: str
    margin: str
    basis: str
    reason: str
    remedy: str
    source: str
    inputs: tuple[str, ...] = ()


class HasRows(Protocol):
    """Something with judgements as people read them."""

    @property
    def rows(self) -> tuple[CheckRow, ...]:
        """The judgements."""


class Judged:
    """What has judgements can count them."""

    __slots__ = ()

    @property
    def tally(self: HasRows) -> Tally:
        """How many judgements fail, are not known yet and hold."""
        return tally_of(row.verdict for row in self.rows)


@dataclass(frozen=True, slots=True)
class Fact:
    """One key figure: what it is, the figure with its unit, and a few words beside it."""

    label: str
    value: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Curve:
    """Hand force over the chart's x, in the chart's unit.

    "push": needed to raise it, negative where it rises by itself; "pull": needed to lower it, negative where it falls
    by itself. `low` and `high` are the band of roofs like this one, both or neither.
    """

    label: str
    kind: Way
    state: Temperature
    age: Age
    y: tuple[float, ...]
    low: tuple[float, ...] | None = None
    high: tuple[float, ...] | None = None


@dataclass(frozen=True, slots=True)
class LimitZone:
    """A limit for one way of moving, between x0 and x1 in the chart's x; beyond `y` is not allowed.

    A limit that changes along x comes as steps side by side, of which one carries the label.
    """

    label: str
    kind: Way
    x0: float
    x1: float
    y: float
    sense: Sense


@dataclass(frozen=True, slots=True)
class ForceChart:
    """Force curves. `x` rises from 0 to 100 (% open); `degrees` are the same stations in the unit `beside`."""

    x: tuple[float, ...]
    degrees: tuple[float, ...]
    x_label: str
    y_label: str
    unit: str
    """Unit of every y and limit, short: "kg"."""
    decimals: int
    """Decimals with which a y is worth reading."""
    curves: tuple[Curve, ...]
    limits: tuple[LimitZone, ...] = ()
    band_note: str = ""
    """What the shaded band holds, in a few words; empty when no curve has one."""
    beside: str = "°"


@dataclass(frozen=True, slots=True)
class Grid:
    """One table: a title, headings, rows of cells, and a few words below it."""

    title: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class DoNext:
    """One thing to do next, the most useful first; `minutes` is None where a time would be invented."""

    title: str
    minutes: int | None
    how: str
    why: str


@dataclass(frozen=True, slots=True)
class Caution:
    """One warning, a short sentence or two."""

    text: str


@dataclass(frozen=True, slots=True)
class RoofPage(Judged):
    """Everything said about one roof on one page."""

    name: str
    subtitle: str
    odds: str
    """Out of 100 roofs like this one, how many meet everything: the first thing that any face shows."""
    odds_note: str
    """What fails in the rest and what could not be judged, in sentences; may be empty."""
    next_best: str
    """What adds most to the odds per minute of work; may be empty."""
    facts: tuple[Fact, ...]
    rows: tuple[CheckRow, ...]
    """Worst first."""
    chart: ForceChart
    scene: Scene
    poses: PoseTable
    do_next: tuple[DoNext, ...]
    cautions: tuple[Caution, ...]
    assumptions: tuple[str, ...]
    units: Units
    provenance: str
    """How much of it is measured, in a sentence."""
    made_with: str
    """Program and version."""
    words: Spelling = "kerb"


@dataclass(frozen=True, slots=True)
class Box:
    """What is already known for one box of the measuring sheet, or that it is not.

    `key` is the project file's key ("shell.length"). `value` is None when nothing but a guess is known; `note` says how
    it is known, or the range that stands in ("guess 1.2 .. 1.8 m"). `label` is needed only for keys that the sheet has
    no words for.
    """

    key: str
    value: str | None
    note: str = ""
    label: str = ""
    light: bool = False
    """Whether the value is only a suggestion, to be written over."""


@dataclass(frozen=True, slots=True)
class SheetPage:
    """What the measuring sheet is filled from."""

    name: str
    subtitle: str
    boxes: tuple[Box, ...]
    cautions: tuple[Caution, ...]
    units: Units
    made_with: str
    words: Spelling = "kerb"


@dataclass(frozen=True, slots=True)
class CostLine:
    """One part still to be bought: how many, and the band of its price with its currency."""

    part: str
    count: str
    price: str


@dataclass(frozen=True, slots=True)
class ScoutPage:
    """Whether a roof is worth starting, on one page."""

    name: str
    subtitle: str
    worth: Literal["yes", "probably", "no"]
    meaning: str
    """What that word means, in a sentence."""
    reasons: tuple[str, ...]
    """Sentences; the strongest first."""
    facts: tuple[Fact, ...]
    troubles: tuple[CheckRow, ...]
    """The likeliest first."""
    cost: tuple[CostLine, ...]
    """The dearest first."""
    cost_total: str
    cost_note: str
    """How far to trust the prices, in a sentence."""
    do_next: tuple[DoNext, ...]
    cautions: tuple[Caution, ...]
    assumptions: tuple[str, ...]
    units: Units
    made_with: str
