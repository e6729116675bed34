"""The order of work, ready to show: what is next, the days, the open roof, the day of the cut, go or no-go."""

from __future__ import annotations

from collections.abc import Container, Iterable
from dataclasses import replace
from datetime import date
from typing import Final, Literal

import numpy as np

from loftwright.answers.hold_said import nominal
from loftwright.answers.odds_words import of_100
from loftwright.answers.views import check_row, wording
from loftwright.answers.work_doubts import small
from loftwright.answers.work_open_view import back_rows, cut_day, go_page, holds_open, rain_cover, shorten
from loftwright.answers.work_plan import DAY, WorkNumbers, back_days
from loftwright.answers.work_words import (
    day_words,
    half_nights,
    help_of,
    help_page,
    helpers_words,
    hours_words,
    nights_words,
    nine_nights,
)
from loftwright.core.checks import Outcome
from loftwright.core.version import MADE_WITH
from loftwright.core.views import Caution, Fact
from loftwright.core.wording import Wording
from loftwright.core.work import Planned
from loftwright.core.work_pages import FinishText, TaskRow, WorkChapter, WorkPage
from loftwright.plan.calendar_days import DAY as DAY_HOURS
from loftwright.reference.work_help import HELP_OF_CHAPTER

CAUTIONS: Final = (
    "Isolate the battery before cutting, minus first.",
    "Know what lies behind the skin before you cut: wiring, air bags, belt mounts.",
    "Nobody is under the shell before it is propped.",
    "None of this is a crash or roll-over assessment: a local inspector or engineer decides what may be cut.",
)
COVER: Final = "cover-on"
LEAST_SLACK, WHOLE_FROM = 0.05, 10.0
"""Slack below this is none, from this on it is told in whole days [days of work]."""


def _state(one: Planned, done: Container[str]) -> Literal["done", "next", "waits"]:
    if one.done:
        return "done"
    return "next" if all(after.id in done for after in one.task.after) else "waits"


def _row(one: Planned, found: WorkNumbers) -> TaskRow:
    task, done, day = one.task, found.listed.done, found.job.calendar.hours
    names = {other.id: other.name for other in found.listed.tasks}
    entry = found.listed.entry.get(task.id)
    days = one.slack / day
    slack = f"{days:.1f} days of work" if days < WHOLE_FROM else f"{days:.0f} days of work"
    if one.critical or days < LEAST_SLACK:
        slack = "none"
    return TaskRow(
        id=task.id,
        name=task.name,
        chapter=task.chapter,
        begins=day_words(one.begins),
        ends=day_words(one.ends),
        free_from=day_words(one.free_from) if one.free_from != one.ends else "",
        hours=hours_words(one.hours),
        slack="" if one.done else slack,
        helpers=helpers_words(task.helpers),
        tools=", ".join(task.tools),
        note=task.note,
        state=_state(one, done),
        critical=one.critical,
        roof_open=task.roof_open,
        after=tuple(names[after.id] for after in task.after if after.id not in done),
        help=help_of(task),
        key="" if entry is None else f"todo.{entry}",
    )


def _chapters(rows: Iterable[TaskRow]) -> tuple[WorkChapter, ...]:
    found: dict[str, list[TaskRow]] = {name: [] for name in HELP_OF_CHAPTER}
    for row in rows:
        found[row.chapter].append(row)
    return tuple(
        WorkChapter(name, tuple(tasks), help_page(HELP_OF_CHAPTER[name])) for name, tasks in found.items() if tasks
    )


def _next(rows: Iterable[TaskRow], found: WorkNumbers) -> tuple[TaskRow, ...]:
    """Return what can be begun now; the cover of a hole that nobody has covered comes first."""
    bare = uncovered(found)
    ready = [row for row in rows if row.state == "next" or (bare and row.id == COVER)]
    if bare:
        ready.sort(key=lambda row: row.id != COVER)
        ready[0] = replace(ready[0], name=f"Cover it tonight: {small(ready[0].name)}", state="next")
    return tuple(ready)


def uncovered(found: WorkNumbers) -> bool:
    """Whether the roof is cut, not closed, and its cover has never been put on."""
    done = found.listed.done
    return "cut" in done and "closed" not in done and COVER not in done


STAND_IN: Final = "No first day is written: days count from a Monday far ahead, so only their distances mean something."
"""Said where days are counted from `work_flags.FAR_AHEAD`."""


def _top(found: WorkNumbers) -> str:
    """Return what stands before everything else: ticks in doubt, a hole without its cover."""
    cover = ("Cover it tonight, and every evening until it is closed.",) if uncovered(found) else ()
    stands = () if found.project.plan.start or found.listed.done else (STAND_IN,)
    return "".join(f"{text} " for text in (*cover, *found.listed.doubts, *stands))


def _says(found: WorkNumbers) -> str:
    project, days = found.project, found.days
    if all(one.done for one in found.schedule.tasks):
        return "Everything is ticked off: the roof is done."
    said = f"It will likely be done by {day_words(days.half)}, nine of ten plans by {day_words(days.nine_in_ten)}"
    if project.plan.finish is not None and found.by_finish is not None:
        wanted = day_words(date.fromisoformat(project.plan.finish))
        said += f"; {of_100(found.by_finish)} plans are done by the day you want, {wanted}"
    if "closed" in found.listed.done:
        return f"{said}. The roof is closed."
    return f"{said}. The roof is open for {nights_words(nominal(found.open.nights))} as planned."


def _facts(found: WorkNumbers, say: Wording) -> tuple[Fact, ...]:
    plan, tasks = found.project.plan, found.schedule.tasks
    left = [one for one in tasks if not one.done]
    facts = [
        Fact("Tasks", f"{len(tasks) - len(left)} of {len(tasks)} done"),
        Fact(
            "Work left",
            hours_words(sum(one.hours for one in left)),
            f"{hours_words(found.job.calendar.hours)} a day, {plan.days} {'day' if plan.days == 1 else 'days'} a week",
        ),
        Fact("Planned from", day_words(found.job.today)),
        Fact("Done, as expected", day_words(found.schedule.finish)),
        Fact(
            "Done in half of the plans",
            day_words(found.days.half),
            f"one of ten by {day_words(found.days.one_in_ten)}, nine by {day_words(found.days.nine_in_ten)}",
        ),
    ]
    if found.by_finish is not None and plan.finish is not None:
        facts.append(
            Fact("Done by the day you want", of_100(found.by_finish), day_words(date.fromisoformat(plan.finish)))
        )
    if found.pace is not None:
        facts.append(
            Fact(
                "Pace so far",
                f"{say.ratio(round(found.pace, 2))} times",
                "what tasks took over what was expected; the rest is planned with part of it",
            )
        )
    if "closed" not in found.listed.done:
        half, nine = nights_words(half_nights(found.open)), nights_words(nine_nights(found.open))
        facts += [
            Fact(
                "Roof open",
                nights_words(nominal(found.open.nights)),
                f"as planned; half of the plans {half}, nine of ten up to {nine}",
            ),
            Fact("You allow", nights_words(plan.open_days.nominal / DAY), "with the roof open"),
        ]
        if "cut" not in found.listed.done:
            with_it, without = (nights_words(nominal(one.nights)) for one in (found.with_frame, found.without_frame))
            facts.append(
                Fact(
                    "Timber frame",
                    f"{with_it} open with it, {without} without",
                    "planned with it" if plan.trial_frame else "planned without it",
                )
            )
    return tuple(facts)


def _finish_days(found: WorkNumbers) -> FinishText | None:
    """Return how many of all plans end on which day; None once everything is done."""
    if all(one.done for one in found.schedule.tasks):
        return None
    days, calendar, wanted = found.days, found.job.calendar, found.project.plan.finish
    drawn, count = np.unique(days.days[1:], return_counts=True)
    shares: dict[date, float] = {}
    for day, many in zip(drawn, count, strict=True):
        on = calendar.date_of(DAY_HOURS * float(day))
        shares[on] = shares.get(on, 0.0) + float(many) / float(count.sum())
    named = ((days.one_in_ten, "one of ten"), (days.half, "half of the plans"), (days.nine_in_ten, "nine of ten"))
    by = None if wanted is None else date.fromisoformat(wanted)
    return FinishText(
        shares=tuple(sorted(shares.items())),
        named=tuple((on, f"{text}: {day_words(on)}") for on, text in named),
        wanted=by,
        wanted_text="" if by is None else f"wanted by {day_words(by)}",
    )


def work_page(outcome: Outcome[WorkNumbers]) -> WorkPage:
    """Return everything said about the order of work of one roof on one page."""
    found = outcome.numbers
    project, plan = found.project, found.project.plan
    say = wording(project)
    rows = tuple(_row(one, found) for one in found.schedule.tasks)
    names = {task.id: task.name for task in found.listed.tasks}
    work, days = back_days(found)
    chapters = _chapters(rows)
    return WorkPage(
        name=project.name,
        subtitle=f"{len(rows)} tasks in {len(chapters)} chapters; shell {plan.shell_is}, "
        + ("tried on a timber frame first" if plan.trial_frame else "without a timber frame"),
        says=_top(found) + _says(found),
        doubts=found.listed.doubts,
        facts=_facts(found, say),
        rows=tuple(check_row(check, say) for check in outcome.checks),
        next_up=_next(rows, found),
        chapters=chapters,
        path=tuple(names[name] for name in found.schedule.path),
        shorten=shorten(found),
        holds_open=holds_open(found),
        cut_day=cut_day(found),
        rain_cover=rain_cover(project, say),
        go=go_page(found.go, project, cut="cut" in found.listed.done),
        way_back=back_rows(found),
        way_back_says=f"About {hours_words(work)} of work, {days.days + 1} days from the first to the last, the roof "
        "open or under its cover until then.",
        said=outcome.assumptions,
        cautions=tuple(Caution(text) for text in CAUTIONS),
        schedule=found.schedule,
        worked=found.job.calendar.worked,
        today=found.job.today,
        units=project.settings.units,
        made_with=MADE_WITH,
        words=project.settings.words,
        finish_days=_finish_days(found),
    )
