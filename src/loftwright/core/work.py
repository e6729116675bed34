"""The order of work as faces show it: tasks, their waits, when they fall, and what must be so before the cut.

Work is in working hours [h]; a wait (curing, drying, delivery) is in elapsed hours [h] and runs over nights and
weekends. Days are `datetime.date` without time zones; weeks start on Monday.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from loftwright.core.checks import Verdict

WaitKind = Literal["", "curing", "delivery", "weather", "answer"]
"""What a wait after a task is for."""

Basis = Literal["measured", "given", "only assumed", "not known", ""]
"""How the number behind a row of the go/no-go list is known; empty where no number stands behind it."""

PartStatus = Literal["in the garage", "only ordered", "not ordered", ""]
"""Where a part is; empty where no part is meant."""


@dataclass(frozen=True, slots=True)
class Hours:
    """Three estimates of one duration [h]: the least, the likeliest and the most it may take."""

    least: float
    likely: float
    most: float

    def __post_init__(self) -> None:
        if not 0.0 <= self.least <= self.likely <= self.most:
            raise ValueError(f"{self.least}, {self.likely}, {self.most}: wanted 0 <= least <= likely <= most")


NO_WAIT = Hours(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class After:
    """What a task comes after; `waits`: it also waits until that task's curing, drying or delivery is over."""

    id: str
    waits: bool = True


@dataclass(frozen=True, slots=True)
class Task:
    """One task: what to do, how long it takes [h], what must be done before.

    `wait` [h, elapsed] is what must pass after the work before those that wait for it may start. `helpers` are people
    beside the builder. Tasks of one `one_day` group follow each other on one working day. `roof_open`: there is a
    hole in the roof while it is done. `weather`: it wants a dry day.
    """

    id: str
    name: str
    hours: Hours
    after: tuple[After, ...] = ()
    wait: Hours = NO_WAIT
    wait_is: WaitKind = ""
    helpers: int = 0
    tools: tuple[str, ...] = ()
    roof_open: bool = False
    weather: bool = False
    one_day: str = ""
    chapter: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Done:
    """A task that is ticked off: the working hours it took [h] and the day on which its work ended."""

    hours: float
    on: date


@dataclass(frozen=True, slots=True)
class Planned:
    """When one task falls.

    `begins` and `ends` are the days of its work, `free_from` the day on which its wait is over, `latest_begin` and
    `latest_end` the last days that do not move the finish. `slack` and `free_slack` are working hours [h]. `hours` is
    what it is expected to take, or took [h]. `critical`: nothing else leaves it room.
    """

    task: Task
    begins: date
    ends: date
    free_from: date
    latest_begin: date
    latest_end: date
    hours: float
    slack: float
    free_slack: float
    critical: bool
    done: bool


@dataclass(frozen=True, slots=True)
class Schedule:
    """Every task in the order in which it is begun; `path` are the ids that set the finish, first to last.

    `too_early` are pairs (done, not done yet): a task is ticked although one before it is not.
    """

    tasks: tuple[Planned, ...]
    finish: date
    path: tuple[str, ...]
    too_early: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class GoRow:
    """One row of the list before the cut: what, whether it is so, how that is known, where the part is.

    `stop`: while this is not so, nobody cuts; otherwise it is a wish.
    """

    what: str
    verdict: Verdict
    basis: Basis
    status: PartStatus
    stop: bool
    do: str = ""
    """What to do about it; empty where it is so."""
    rests_on: tuple[str, ...] = ()
    """Keys of the project file on which it rests and which nobody has measured."""


@dataclass(frozen=True, slots=True)
class GoNoGo:
    """The list before the cut, hard stops first; `go` only when every hard stop is met."""

    rows: tuple[GoRow, ...]
    go: bool
    unmet: int
    """Hard stops not met."""
    on_assumption: int
    """Hard stops that are met, but only on numbers that nobody has measured."""
