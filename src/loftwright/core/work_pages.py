"""What screens and pages show of the order of work and of the hand-over: text that is ready, and the schedule to draw.

Filled in one place from the answers; every text is plain text in the builder's units.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Final, Literal, get_args

from loftwright.core.checks import Verdict
from loftwright.core.choices import Spelling, Units
from loftwright.core.views import Caution, CheckRow, Fact, Grid, Judged
from loftwright.core.work import Basis, PartStatus, Schedule

Card = Literal["commissioning", "service", "driver", "inspector", "faults"]
"""A card of the hand-over, in the order in which they are printed."""
CARDS: Final[tuple[Card, ...]] = get_args(Card)


@dataclass(frozen=True, slots=True)
class HelpPage:
    """Where a task or a fault is explained: title and path of a page of the board, sheet of the book, and a command."""

    title: str
    path: str
    sheet: str
    command: str


@dataclass(frozen=True, slots=True)
class TaskRow:
    """One task as people read it.

    `id` is what the file and `--tick` call it, `key` the path of its entry in the file, empty where there is none.
    `state` is one word: "done", "next", "waits". `slack` is how late it may be without moving the finish.
    """

    id: str
    name: str
    chapter: str
    begins: str
    ends: str
    free_from: str
    hours: str
    slack: str
    helpers: str
    tools: str
    note: str
    state: Literal["done", "next", "waits"]
    critical: bool
    roof_open: bool
    after: tuple[str, ...]
    """Names of what must be done before, as far as it is not done."""
    help: HelpPage
    key: str = ""


@dataclass(frozen=True, slots=True)
class WorkChapter:
    """Tasks that belong together; `done` of them are ticked off."""

    title: str
    tasks: tuple[TaskRow, ...]
    help: HelpPage

    @property
    def done(self) -> int:
        """How many are ticked off."""
        return sum(task.state == "done" for task in self.tasks)


@dataclass(frozen=True, slots=True)
class GoLine:
    """One line of the list before the cut; `stop`: while it is not so, nobody cuts."""

    what: str
    verdict: Verdict
    basis: Basis
    status: PartStatus
    stop: bool
    do: str
    rests_on: tuple[str, ...]
    """What it rests on that nobody has measured, in words."""


@dataclass(frozen=True, slots=True)
class GoPage:
    """The list before the cut: `says` is go or no-go in a sentence."""

    go: bool
    says: str
    unmet: tuple[GoLine, ...]
    on_assumption: tuple[GoLine, ...]
    met: tuple[GoLine, ...]
    wishes: tuple[GoLine, ...]
    """What is no hard stop and is not so."""
    road: tuple[str, ...] = ()
    """What fails and must hold before it is driven fast."""


@dataclass(frozen=True, slots=True)
class FinishText:
    """When it will be finished, to be drawn: `shares` are days with how many of all plans end on them [1].

    `named` are days with words; `wanted` is the day by which it should be done, None where none is set.
    """

    shares: tuple[tuple[date, float], ...]
    named: tuple[tuple[date, str], ...]
    wanted: date | None
    wanted_text: str


@dataclass(frozen=True, slots=True)
class WorkPage(Judged):
    """Everything said about the order of work of one roof.

    `says` is the answer in a sentence; `next_up` are what can be begun now; `shorten` says what holds the roof open
    and what shortens it; `schedule`, `worked` (weekdays, Monday being 0) and `today` are there to be drawn.
    """

    name: str
    subtitle: str
    says: str
    facts: tuple[Fact, ...]
    rows: tuple[CheckRow, ...]
    """Judgements on the plan, worst first."""
    next_up: tuple[TaskRow, ...]
    chapters: tuple[WorkChapter, ...]
    path: tuple[str, ...]
    """Names of the tasks that set the finish, first to last."""
    shorten: Grid
    holds_open: Grid
    cut_day: tuple[str, ...]
    rain_cover: tuple[str, ...]
    go: GoPage
    way_back: tuple[TaskRow, ...]
    way_back_says: str
    said: tuple[str, ...]
    cautions: tuple[Caution, ...]
    schedule: Schedule
    worked: tuple[int, ...]
    today: date
    units: Units
    made_with: str
    words: Spelling = "kerb"
    finish_days: FinishText | None = None
    """None once everything is done."""
    doubts: tuple[str, ...] = ()
    """Ticks that cannot be right: their days, or what they skip; `says` begins with them."""


@dataclass(frozen=True, slots=True)
class StepRow:
    """One step of commissioning: what to do, how many help, what to look for, where to write it down."""

    title: str
    people: str
    do: tuple[str, ...]
    expect: tuple[str, ...]
    stop_if: str


@dataclass(frozen=True, slots=True)
class ServiceRow:
    """One thing to look after: when, what, how, and what to do if it is not so."""

    when: str
    what: str
    how: str
    figure: str


@dataclass(frozen=True, slots=True)
class FaultCause:
    """One cause of a fault: what it may be, what to measure, this roof's own number, and where it is explained."""

    cause: str
    measure: str
    own: str
    """What the answer says of this roof, with its numbers; empty where it says nothing."""
    verdict: Verdict | None
    rule: str
    help: HelpPage


@dataclass(frozen=True, slots=True)
class FaultEntry:
    """One symptom with its causes in the order in which to look; `care` is what not to do meanwhile."""

    id: str
    symptom: str
    where: str
    causes: tuple[FaultCause, ...]
    care: str


@dataclass(frozen=True, slots=True)
class HandOverPage:
    """All cards of the hand-over of one roof."""

    name: str
    subtitle: str
    commissioning: tuple[StepRow, ...]
    readings: Grid
    """At which openings to read, and what to expect."""
    service: tuple[ServiceRow, ...]
    torques: Grid
    driver: tuple[str, ...]
    dossier: tuple[Fact, ...]
    sheets: Grid
    """What goes into the inspector's folder: sheet, what it shows, command."""
    masses: Grid
    judged: tuple[CheckRow, ...]
    """Judgements that an inspector asks for first."""
    not_assessed: tuple[str, ...]
    sources: tuple[str, ...]
    faults: tuple[FaultEntry, ...]
    cautions: tuple[Caution, ...]
    said: tuple[str, ...]
    provenance: str
    units: Units
    made_with: str
    words: Spelling = "kerb"
