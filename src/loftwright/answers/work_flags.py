"""The builder's tasks, from what the roof has and from the file's own entries, and the days on which they may fall."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final

from loftwright.answers.work_doubts import days_in_doubt, skipped
from loftwright.core.uncertain import Uncertain
from loftwright.core.work import After, Done, Hours, Task
from loftwright.plan.calendar_days import WorkCalendar, weekdays
from loftwright.plan.dated import ONE, Job, pace_so_far
from loftwright.plan.standard_tasks import Roof, standard_tasks, with_safe_order
from loftwright.plan.tasks import merged
from loftwright.project.model import Project
from loftwright.project.plan_sections import Todo
from loftwright.project.reading import nearest, quoted

FAR_AHEAD: Final = date(2030, 1, 7)
"""The Monday from which days are counted where no first day is written: the same in every run."""
HOUR: Final = 3600.0
LEAST_SHARE, MOST_SHARE = 0.5, 2.0
"""Least and most over the likely time of a task of one's own, where only that is written [1]: judgement."""
OWN_LIKELY: Final = 2.0
"""Likely time of a task of one's own without any [h]: judgement."""
AS_WRITTEN: Final = 20.0
"""So many hours at the written pace are weighed against what was timed [h]: judgement, as a few tasks tell little."""
OWN: Final = "Your own"
LIFT: Final[tuple[Task, ...]] = (
    Task(
        "order-actuators",
        "Order actuators, switch, fuse and cable",
        Hours(0.3, 0.7, 2.0),
        (After("design"),),
        Hours(72.0, 240.0, 700.0),
        "delivery",
        chapter="Order",
    ),
    Task(
        "actuators-on",
        "Fit the actuators, wire them and try that they stop at a hand's pressure",
        Hours(2.0, 5.0, 12.0),
        (After("prop-up"), After("order-actuators"), After("battery-on", waits=False)),
        helpers=1,
        tools=("drill", "spanners", "meter"),
        chapter="After it is closed",
        note="Try the stop with a soft ball, never with a hand.",
    ),
)
"""Tasks of a powered lift; hours are common practice without a source."""


@dataclass(frozen=True, slots=True)
class Listed:
    """The tasks of one roof, those that are done, and sentences about entries that were not understood.

    `entry` gives the number of a task's entry in the file, by its id; `timed` are those done whose time is written.
    `doubts` are sentences on ticks that cannot be right: their days, or what they skip.
    """

    tasks: tuple[Task, ...]
    done: dict[str, Done]
    timed: frozenset[str]
    entry: dict[str, int]
    said: tuple[str, ...]
    doubts: tuple[str, ...] = ()


def roof_of(project: Project, *, trial: bool | None = None) -> Roof:
    """Return what the order of work hangs on; `trial` puts another answer in place of that on the timber frame."""
    return Roof(
        kind=project.linkage.kind,
        shell=project.plan.shell_is,
        trial=project.plan.trial_frame if trial is None else trial,
        springs=bool(project.spring or project.coil or project.torsion or project.cord),
        brace=project.brace is not None,
        panel=project.panel is not None,
        lining=project.lining is not None and not project.lining.there,
        walls=True,
        laminate=project.plan.shell_is == "built" or any(joint.layer == "mat laminate" for joint in project.joint),
    )


def plain(text: str) -> str:
    """Return a task's name as it is compared: small letters, one blank between words, no marks.

    >>> plain("Mark-out  the cut:")
    'mark out the cut'
    """
    return " ".join("".join(c if c.isalnum() else " " for c in text.casefold()).split())


def names_of(tasks: Iterable[Task]) -> dict[str, str]:
    """Return the id of each task by all that it may be called: its id, its name, and that up to a colon."""
    every = tuple(tasks)
    # An id goes before any name that reads like it.
    found = {plain(task.id): task.id for task in every}
    for task in every:
        found.setdefault(plain(task.name), task.id)
    for task in every:
        found.setdefault(plain(task.name.split(":")[0]), task.id)
    return found


def is_own(todo: Todo) -> bool:
    """Whether an entry that is none of the standard tasks says enough to be one of the builder's own."""
    return any(v is not None for v in (todo.name, todo.after, todo.least, todo.likely, todo.most))


def listed(project: Project, *, trial: bool | None = None) -> Listed:
    """Return the tasks of one roof with the file's entries put in.

    Errors: ProjectFault where tasks of the builder's own wait for each other in a circle.
    """
    tasks = list(standard_tasks(roof_of(project, trial=trial)))
    if project.lift is not None:
        tasks += LIFT
    known = names_of((*tasks, *standard_tasks(replace(roof_of(project), trial=True, panel=True, lining=True))))
    here = {task.id for task in tasks}
    said: list[str] = []
    entry: dict[str, int] = {}
    for number, todo in enumerate(project.todo):
        name = known.get(plain(todo.task), "")
        if not name and is_own(todo):
            name = todo.task
            tasks.append(Task(name, todo.name or name.capitalize(), _hours(todo, None), chapter=OWN))
            known[plain(name)], here = name, here | {name}
        if not name:
            said.append(unknown_task(todo.task, known))
        elif name in here:
            entry[name] = number
    done: dict[str, Done] = {}
    place = {task.id: i for i, task in enumerate(tasks)}
    timed = set[str]()
    for name, number in entry.items():
        todo, at = project.todo[number], place[name]
        task = tasks[at]
        extra, missed = _after(todo, known, here - {name})
        said += missed
        tasks[at] = task = replace(
            task,
            name=todo.name or task.name,
            hours=_hours(todo, task.hours),
            after=merged((*task.after, *extra)),
        )
        if todo.done is not None:
            took = task.hours.likely if todo.took is None else todo.took.nominal / HOUR
            done[name] = Done(took, date.fromisoformat(todo.done))
            if todo.took is not None:
                timed.add(name)
        elif todo.took is not None:
            said.append(f"{task.name}: the time it took counts once the day is written on which it was done.")
    ordered = with_safe_order(tasks)
    names = {task.id: task.name for task in ordered}
    done, doubts = days_in_doubt(project, done, names)
    return Listed(
        ordered, done, frozenset(timed & set(done)), entry, tuple(said), (*doubts, *skipped(ordered, done, names))
    )


def unknown_task(written: str, known: dict[str, str]) -> str:
    """Return a sentence on a task that is not on the list, with the nearest one offered."""
    near = nearest(plain(written), tuple(known))
    offer = f"did you mean {quoted(known[near])}?" if near else "loftwright plan lists them all."
    return f"There is no task called {quoted(written)}: {offer}"


def _after(todo: Todo, known: dict[str, str], here: set[str]) -> tuple[list[After], list[str]]:
    found, missed = [], []
    for word in (todo.after or "").split(","):
        if not plain(word):
            continue
        name = known.get(plain(word), "")
        if name in here:
            found.append(After(name))
        elif not name:
            missed.append(unknown_task(word.strip(), known))
    return found, missed


def _ends(value: Uncertain | None) -> tuple[float, float, float] | None:
    return None if value is None else (value.low / HOUR, value.nominal / HOUR, value.high / HOUR)


def _hours(todo: Todo, usual: Hours | None) -> Hours:
    """Return the three estimates of a task: those written, and in their proportion what is left out."""
    least, likely, most = _ends(todo.least), _ends(todo.likely), _ends(todo.most)
    middle = likely[1] if likely else None
    if usual is None or usual.likely <= 0.0:
        usual = Hours(OWN_LIKELY * LEAST_SHARE, OWN_LIKELY, OWN_LIKELY * MOST_SHARE)
    if middle is None:
        middle = usual.likely
    share = middle / usual.likely
    low = least[0] if least else (likely[0] if likely and likely[0] < middle else usual.least * share)
    high = most[2] if most else (likely[2] if likely and likely[2] > middle else usual.most * share)
    if likely is None:
        middle = min(max(middle, low if least else 0.0), high if most else middle + low)
    return Hours(min(low, middle), middle, max(high, middle))


def first_day(project: Project) -> tuple[date, str]:
    """Return the day from which days are counted, and a sentence where none is written."""
    plan = project.plan
    if plan.start is not None:
        return date.fromisoformat(plan.start), ""
    days = [todo.done for todo in project.todo if todo.done is not None]
    days += [] if plan.today is None else [plan.today]
    if days:
        return date.fromisoformat(min(days)), (
            "No first day of work is written: days are counted from the first one that the file names."
        )
    return FAR_AHEAD, (
        f"No first day of work is written: days are counted from Monday {FAR_AHEAD.day} January {FAR_AHEAD.year}, far "
        "ahead; only how long things take means anything."
    )


def today_of(project: Project, done: dict[str, Done]) -> date:
    """Return the day from which the rest is planned: as written, else the day after the last one ticked off."""
    first = first_day(project)[0]
    if project.plan.today is not None:
        return max(first, date.fromisoformat(project.plan.today))
    if done:
        return max(first, max(one.on for one in done.values()) + timedelta(days=1))
    return first


def calendar_of(project: Project, *, days: int | None = None) -> WorkCalendar:
    """Return which hours are worked; `days` a week in place of those written."""
    hours = project.plan.hours.nominal / HOUR
    count = project.plan.days if days is None else days
    return WorkCalendar(first_day(project)[0], weekdays(count), hours, min(9.0, 24.0 - hours))


def pace_of(project: Project, found: Listed) -> Hours:
    """Return by how much the rest takes longer than written [1]: what was timed so far, and doubt of the hours a day.

    p = (h_0 + sum of what it took) / (h_0 + sum of what was expected)                        (1)
    """
    timed = {name: found.done[name] for name in found.timed}
    ratio = pace_so_far(found.tasks, timed)
    pace = 1.0
    if ratio is not None:
        took = sum(one.hours for one in timed.values())
        pace = (AS_WRITTEN + took) / (AS_WRITTEN + took / ratio) if ratio > 0.0 else 1.0
    hours = project.plan.hours
    if hours.low >= hours.high and pace == 1.0:
        return ONE
    return Hours(pace * hours.nominal / hours.high, pace, pace * hours.nominal / hours.low)


def job_of(project: Project, found: Listed, *, days: int | None = None, alone: bool = True) -> Job:
    """Return what is to be planned; `days` a week, or several pairs of hands, in place of what is written."""
    return Job(
        found.tasks,
        calendar_of(project, days=days),
        today_of(project, found.done),
        found.done,
        alone=alone,
        pace=pace_of(project, found),
    )
