"""Rules on the order of work: the day it is done, the nights with a hole in the roof, who is there, what is ready."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from loftwright.core.checks import Rule, Source
from loftwright.core.judged import Judged, against
from loftwright.core.work import GoNoGo, Task

_DRAWS = Source("derivation", "draws over the network of tasks; the hours are estimates", "derivation")

FINISH_MISSED: Final = Rule(
    "PLAN-2701",
    "It will not be finished by the day you want",
    "It will be finished by the day you want",
    "count",
    "at most",
    "Days from the start, with curing, delivery and days off; most tasks take longer than people think.",
    "Start earlier, order the slow parts first, work more days a week, or shorten a task on the critical path.",
    _DRAWS,
)
OPEN_TOO_LONG: Final = Rule(
    "PLAN-2702",
    "The roof stands open for more nights than you want",
    "The roof is closed again after no more nights than you want",
    "count",
    "at most",
    "Each night with a hole in the roof is a chance for rain, dew and thieves.",
    "Try everything on the timber frame first, get help for the task that holds the roof open longest, or wait for "
    "days off in a row.",
    _DRAWS,
)
NOT_READY: Final = Rule(
    "PLAN-2703",
    "Not everything that must be so before the cut is so",
    "Everything that must be so before the cut is so",
    "count",
    "at most",
    "A cut cannot be taken back, and what is missing then keeps the roof open.",
    "Do what each row of the list says; until then leave the saw in its box.",
    Source("common-practice", "list before a step that cannot be taken back", "common practice"),
)
HELPERS_SHORT: Final = Rule(
    "PLAN-2704",
    "A task needs more helpers than there are",
    "There are helpers enough for every task",
    "count",
    "at most",
    "A shell that is carried or held by too few people falls on one of them.",
    "Ask more people for that day, use a hoist, or lift the shell in lighter parts.",
    Source("common-practice", "one at each corner of a shell", "common practice"),
)
RING_NEXT_DAY: Final = Rule(
    "PLAN-2705",
    "The hole stands without its ring overnight",
    "The ring is in on the day of the cut",
    "s",
    "at most",
    "Without its ring the roof springs and dents at a touch, and adhesive wants a clean fresh edge.",
    "Try the ring on a paper pattern beforehand, start early, get help for that day, or work a longer day; cover the "
    "hole every evening until it is closed.",
    Source("common-practice", "cut and ring on one day", "common practice"),
)


def judge_helpers(tasks: Sequence[Task], there: int) -> Judged:
    """Return the most helpers that any of `tasks` needs against how many are `there`; the task is named."""
    most = max(tasks, key=lambda task: task.helpers)
    return against(HELPERS_SHORT, [float(most.helpers)], [float(there)], most.name)


def judge_ready(found: GoNoGo) -> Judged:
    """Return how many hard stops of the list before the cut are not met, against none."""
    return against(NOT_READY, [float(found.unmet)], [0.0])
