"""What is said of the hole in the roof: what holds it open, the day of the cut, its cover, go or no-go, way back."""

from __future__ import annotations

from typing import Final

import numpy as np

from loftwright.answers.hold_said import nominal
from loftwright.answers.odds_words import lower, of_100
from loftwright.answers.work_go import GoFound
from loftwright.answers.work_plan import WorkNumbers
from loftwright.answers.work_words import (
    day_words,
    half_nights,
    help_of,
    helpers_words,
    hours_words,
    nights_words,
    nine_nights,
)
from loftwright.core.checks import Check, Verdict
from loftwright.core.views import Grid
from loftwright.core.wording import Wording
from loftwright.core.work import GoRow
from loftwright.core.work_pages import GoLine, GoPage, TaskRow
from loftwright.plan.schedule import block_hours
from loftwright.plan.three_point import pert_mean
from loftwright.project.model import Project
from loftwright.project.plane import CROSSWISE, plane_of
from loftwright.reference.field_words import label_of

COVER_LAPS: Final = 0.5
"""How far a rain cover reaches past the hole on each side [m]: judgement, past ring and gutter."""
LEAST_PLANS: Final = 0.05
"""Weekdays on which fewer of the plans than this begin the cut are not told apart [1]."""
WEEKDAYS: Final = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
LEAST_SHARE: Final = 0.05
"""Tasks that hold the roof open for less than this on average are left out of the table [days]."""


def shorten(found: WorkNumbers) -> Grid:
    """Return the nights with the roof open as planned and in other ways; no rows once it is closed."""
    ways = [
        ("as planned", found.open),
        ("without the timber frame", found.without_frame)
        if found.project.plan.trial_frame
        else ("with the timber frame", found.with_frame),
        *((one.what, one.open) for one in found.others),
    ]
    closed, peaks = "closed" in found.listed.done, weekday_words(found)
    return Grid(
        "Nights with the roof open",
        ("Way", "Expected", "Half of the plans", "Nine of ten"),
        ()
        if closed
        else tuple(
            (what, *(f"{round(v)}" for v in (nominal(way.nights), half_nights(way), nine_nights(way))))
            for what, way in ways
        ),
        "Counted from the first cut until the shell is closed on its seal; curing and days without work count too."
        + (f" {peaks}" if peaks else ""),
    )


def weekday_words(found: WorkNumbers) -> str:
    """Return what the weekday of the cut does to the nights with the roof open: why most plans stand in two peaks.

    Empty once it is cut, and where fewer than two weekdays have enough plans, or they differ by less than a night.
    """
    plans, nights = found.plans, found.open.nights[1:]
    if "cut" in found.listed.done or nights.size == 0:
        return ""
    begins = plans.times.early_start[1:, plans.ready.net.number("cut")]
    days = np.array([found.job.calendar.date_of(float(time)).weekday() for time in begins])
    mean = {day: float(nights[days == day].mean()) for day in range(7) if np.mean(days == day) >= LEAST_PLANS}
    if len(mean) < 2:
        return ""
    best, worst = min(mean, key=lambda day: mean[day]), max(mean, key=lambda day: mean[day])
    fewer = round(mean[worst] - mean[best])
    if fewer < 1:
        return ""
    return (
        f"The plans stand in peaks by the day of the cut: begin it on a {WEEKDAYS[best]}, {nights_words(fewer)} fewer "
        f"than on a {WEEKDAYS[worst]} on average."
    )


def holds_open(found: WorkNumbers) -> Grid:
    """Return which tasks hold the roof open, and for how long; no rows once it is closed."""
    shares = () if "closed" in found.listed.done else found.open.shares
    return Grid(
        "What holds the roof open",
        ("Task", "Days", "Sets it in", "Work"),
        tuple(
            (one.name, f"{one.days:.1f}", of_100(one.critical), hours_words(one.hours))
            for one in shares
            if one.days >= LEAST_SHARE
        ),
        "Days from its own start to that of what it holds up, nights and curing with it: the most that could be won.",
    )


def cut_day(found: WorkNumbers) -> tuple[str, ...]:
    """Return sentences on the day of the cut: when, how long, with whom; none once all of it is done."""
    tasks = [one for one in found.schedule.tasks if one.task.one_day == "cut" and not one.done]
    if not tasks:
        return ()
    names = [one.task.name for one in sorted(tasks, key=lambda one: one.task.id == found.job.ends.cover)]
    most = max(tasks, key=lambda one: one.task.helpers)
    need, there = most.task.helpers, found.project.plan.people
    net = found.plans.ready.net
    blocks = block_hours(net, found.plans.work[0], found.plans.wait[0])
    block = next(float(hours) for i, hours in blocks.items() if net.tasks[i].one_day == "cut")
    day = found.job.calendar.hours
    said = [
        f"It falls on {day_words(tasks[0].begins)}: {'; '.join(lower(name) for name in names)}.",
        f"It takes about {hours_words(block)}; a working day is written as {hours_words(day)}."
        + (
            " Work longer that day: the ring goes in before night, or the cover goes over the bare hole."
            if block > day
            else ""
        ),
        f"It needs {helpers_words(need)} beside you, and you have {there or 'none'}."
        + (" Ask for more before you set the day." if need > there else ""),
        *(f"{one.task.name}: {one.task.note}" for one in tasks if one.task.note),
        "Two dry days with little wind, or another weekend.",
    ]
    return tuple(said)


def rain_cover(project: Project, say: Wording) -> tuple[str, ...]:
    """Return sentences on the cover for the nights with an open roof."""
    length, width = (project.opening.length.nominal + 2 * COVER_LAPS, project.opening.width.nominal + 2 * COVER_LAPS)
    return (
        f"A tarpaulin of at least {say.length(length)} by {say.length(width)}: the hole and "
        f"{say.length(COVER_LAPS)} past it all round.",
        "A batten or a hoop under its middle, so that water runs off and does not stand in it.",
        "Straps under the gutters or round the van, not tape on paint; edges turned down, none into the wind.",
        "Try it before the cut, with a hose; it lies ready while the saw runs.",
    )


def key_words(project: Project, path: str) -> str:
    """Return what forms call a key of the file, or the key itself where they do not know it."""
    try:
        return label_of(path, across=plane_of(project) is CROSSWISE)
    except KeyError:
        return path


def _line(row: GoRow, project: Project) -> GoLine:
    rests = tuple(dict.fromkeys(key_words(project, path) for path in row.rests_on))
    return GoLine(row.what, row.verdict, row.basis, row.status, row.stop, row.do, rests)


def road_words(checks: tuple[Check, ...]) -> tuple[str, ...]:
    """Return what fails and must hold before it is driven fast, with what to do about each."""
    return tuple(f"{check.words}: {lower(check.rule.remedy)}" for check in checks)


def go_page(found: GoFound | None, project: Project, *, cut: bool = False) -> GoPage:
    """Return the list before the cut in the order in which it is read; `cut`: the roof is cut already."""
    if found is None:
        return GoPage(False, "There is no list before the cut.", (), (), (), ())
    lines = [(row, _line(row, project)) for row in found.list.rows]
    stops = [(row, line) for row, line in lines if row.stop]
    met = [(row, line) for row, line in stops if row.verdict is Verdict.HOLDS]
    unmet = tuple(line for row, line in stops if row.verdict is not Verdict.HOLDS)
    rough = tuple(line for row, line in met if row.rests_on)
    says = f"No go: {len(unmet)} of {len(stops)} hard stops {'is' if len(unmet) == 1 else 'are'} not met."
    if found.list.go:
        says = f"Go: all {len(stops)} hard stops are met."
    if rough:
        rest = "rests" if len(rough) == 1 else "rest"
        says += f" {len(rough)} of those that are met {rest} on numbers that nobody has measured."
    if cut:
        says = "The roof is cut. What stood on the list still counts for the way to closing it. " + says
    return GoPage(
        go=found.list.go,
        says=says,
        unmet=unmet,
        on_assumption=rough,
        met=tuple(line for row, line in met if not row.rests_on),
        wishes=tuple(line for row, line in lines if not row.stop and row.verdict is not Verdict.HOLDS),
        road=road_words(found.road),
    )


def back_rows(found: WorkNumbers) -> tuple[TaskRow, ...]:
    """Return the tasks of the way back, without days: nobody plans them."""
    return tuple(
        TaskRow(
            id=task.id,
            name=task.name,
            chapter=task.chapter,
            begins="",
            ends="",
            free_from="",
            hours=hours_words(float(pert_mean(task.hours.least, task.hours.likely, task.hours.most))),
            slack="",
            helpers=helpers_words(task.helpers),
            tools=", ".join(task.tools),
            note=task.note,
            state="waits",
            critical=False,
            roof_open=task.roof_open,
            after=(),
            help=help_of(task),
        )
        for task in found.back
    )
