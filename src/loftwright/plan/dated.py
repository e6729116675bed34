"""The plan with its days: from today on, with what is done ticked off."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date

import numpy as np

from loftwright.core.motion import Array
from loftwright.core.work import Done, Hours, Planned, Schedule, Task
from loftwright.plan.calendar_days import TINY, WorkCalendar
from loftwright.plan.one_builder import Ends, in_turn, turns
from loftwright.plan.schedule import passes
from loftwright.plan.tasks import Network, network
from loftwright.plan.three_point import pert_mean

ONE = Hours(1.0, 1.0, 1.0)


@dataclass(frozen=True, slots=True)
class Job:
    """What is to be planned, from `today` on.

    `alone`: one builder does one task after another. `pace` [1] is by how much all work takes longer than written,
    three estimates: builders misjudge all their tasks alike.
    """

    tasks: tuple[Task, ...]
    calendar: WorkCalendar
    today: date
    done: Mapping[str, Done] = field(default_factory=dict)
    alone: bool = True
    pace: Hours = ONE
    ends: Ends = field(default_factory=Ends)


@dataclass(frozen=True, slots=True, eq=False)
class Ready:
    """A job made ready to compute: expected `work` and `wait` [h], [n]; `fixed` [h], [n] is nan for what is to do."""

    net: Network
    work: Array
    wait: Array
    fixed: Array
    not_before: float


def made_ready(job: Job) -> Ready:
    """Return the network of the `job` with expected hours, what is done, and, for a builder alone, whose turn it is.

    Errors: `ProjectFault` as `tasks.network`.
    """
    plain = network(job.tasks)
    fixed = np.array([_over(job, task.id) for task in job.tasks])
    to_do = np.isnan(fixed)
    pace = float(pert_mean(job.pace.least, job.pace.likely, job.pace.most))
    work = pace * np.array([float(pert_mean(t.hours.least, t.hours.likely, t.hours.most)) for t in job.tasks]) * to_do
    wait = np.array([float(pert_mean(t.wait.least, t.wait.likely, t.wait.most)) for t in job.tasks])
    start = job.calendar.morning_of(job.today)
    if not job.alone:
        return Ready(plain, work, wait, fixed, start)
    order = turns(plain, work, wait, job.calendar, not_before=start, fixed=fixed, ends=job.ends)
    # What is done waits for nothing any more, though it was done before its turn.
    free = tuple(replace(task, after=()) if task.id in job.done else task for task in job.tasks)
    return Ready(in_turn(free, order), work, wait, fixed, start)


def _over(job: Job, name: str) -> float:
    done = job.done.get(name)
    return float("nan") if done is None else job.calendar.evening_of(done.on)


def planned(job: Job) -> Schedule:
    """Return the schedule of the `job` at expected hours.

    Errors: `ProjectFault` as `tasks.network`.
    """
    ready = made_ready(job)
    times = passes(
        ready.net, ready.work, ready.wait, calendar=job.calendar, not_before=ready.not_before, fixed=ready.fixed
    )
    chain = times.chain()
    rows = []
    for i, task in enumerate(job.tasks):
        done = job.done.get(task.id)
        begins, ends, free_from, first, last = (
            _day(job.calendar, float(each[i]))
            for each in (
                times.early_start,
                times.early_finish,
                times.free_from,
                times.late_start,
                job.calendar.end_of(job.calendar.worked_by(times.late_finish)),
            )
        )
        rows.append(
            Planned(
                task=task,
                begins=begins,
                ends=ends,
                free_from=free_from,
                latest_begin=first,
                latest_end=max(last, ends),
                hours=float(ready.work[i]) if done is None else done.hours,
                slack=max(float(times.slack[i]), 0.0),
                free_slack=max(float(times.free_slack[i]), 0.0),
                critical=done is None and bool(chain[i] or times.slack[i] <= TINY),
                done=done is not None,
            )
        )
    place = {i: k for k, i in enumerate(ready.net.order)}
    by_start = sorted(range(len(rows)), key=lambda i: (float(times.early_start[i]), place[i]))
    path = tuple(job.tasks[i].id for i in by_start if chain[i] and job.tasks[i].id not in job.done)
    early = tuple(
        (task.id, a.id) for task in job.tasks if task.id in job.done for a in task.after if a.id not in job.done
    )
    return Schedule(tuple(rows[i] for i in by_start), _day(job.calendar, float(times.finish)), path, early)


def _day(calendar: WorkCalendar, time: float) -> date:
    return calendar.date_of(time)


def pace_so_far(tasks: tuple[Task, ...], done: Mapping[str, Done]) -> float | None:
    """Return how much longer the tasks that are done took than was expected, actual over expected hours [1].

    None where nothing is ticked off yet.
    """
    ticked = [task for task in tasks if task.id in done]
    expected = sum(float(pert_mean(t.hours.least, t.hours.likely, t.hours.most)) for t in ticked)
    return sum(done[task.id].hours for task in ticked) / expected if expected > 0.0 else None
