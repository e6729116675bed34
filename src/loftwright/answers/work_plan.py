"""The order of work of one roof: tasks, days, odds, the open roof, helpers and the list before the cut, in this order.

Days and odds come from draws over hours, waits and pace; row 0 is at expected hours. The list before the cut asks the
answers on movement, strength and walls; it is left out where only days are wanted.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import lru_cache
from typing import Final

import numpy as np

from loftwright.answers.draws import Rows, rows
from loftwright.answers.judged_roof import inputs_of
from loftwright.answers.judging import decide
from loftwright.answers.kept_walls import NOTHING_KEPT, KeptWalls
from loftwright.answers.work_flags import Listed, first_day, job_of, listed
from loftwright.answers.work_go import GoFound, go_found
from loftwright.core.checks import Check, Outcome, worst_first
from loftwright.core.errors import LoftwrightError, ProjectFault
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.core.work import Schedule, Task
from loftwright.plan.dated import Job, pace_so_far, planned
from loftwright.plan.finish_odds import Drawn, Finish, drawn, finish, judge_finish, share_by
from loftwright.plan.roof_open import RoofOpen, TrialGain, judge_open, judge_ring, roof_open, trial_gain
from loftwright.plan.standard_tasks import way_back
from loftwright.plan.work_rules import FINISH_MISSED, HELPERS_SHORT, RING_NEXT_DAY, judge_helpers, judge_ready
from loftwright.project.model import Project

DAY: Final = 86_400.0
EVERY_DAY: Final = 7
OPEN_DAYS: Final = "plan.open_days"
HOURS_SAID: Final = (
    "Hours are what one handy person takes who does it for the first time, by common practice without a source: put "
    "your own in, and tick tasks off."
)
ALONE_SAID: Final = "One pair of hands is reckoned with: one task after another; helpers come for single tasks."
SEQUENCE_SAID: Final = "The way back is not in the days: it is the road to take if going on makes no sense."


@dataclass(frozen=True, slots=True, eq=False)
class OpenWith:
    """The time with the roof open if something were done in another way: `what` that is."""

    what: str
    open: RoofOpen


@dataclass(frozen=True, slots=True, eq=False)
class WorkNumbers:
    """Everything computed on the order of work of one project.

    `plans` are the draws, `days` when it is finished, `by_finish` the share of plans done by the day that is wanted
    [1], None where none is. `open` is the time with a hole in the roof, `with_frame` and `without_frame` the same with
    the timber frame and without, whichever is planned, `gain` both side by side; `others` what else was tried to
    shorten it, the best first. `go` is None where only days are asked for, or where the roof cannot be put together.
    `back` are the tasks of the way back.
    """

    project: Project
    listed: Listed
    job: Job
    schedule: Schedule
    plans: Drawn
    days: Finish
    by_finish: float | None
    pace: float | None
    open: RoofOpen
    with_frame: RoofOpen
    without_frame: RoofOpen
    gain: TrialGain
    others: tuple[OpenWith, ...]
    cut_day: tuple[Task, ...]
    go: GoFound | None
    back: tuple[Task, ...]


def _drawn(job: Job, project: Project) -> Drawn:
    return drawn(job, project.settings.draws, project.settings.seed)


def _other(what: str, job: Job, project: Project) -> OpenWith:
    return OpenWith(what, roof_open(_drawn(job, project)))


def work_rows(project: Project) -> Rows:
    """Return the rows on which the plan is judged: the nominal one, each end of what is asked for, and the draws."""
    return rows(inputs_of(project), {OPEN_DAYS: None}, project.settings.draws, project.settings.seed)


def _spread(values: Array, at: Rows) -> Array:
    """Return numbers of the plan, [1 + draws], on the rows of `at`: the ends of what is not of the plan see row 0."""
    ends = np.repeat(values[:1], at.count - values.size, axis=0)
    return np.concatenate([values[:1], ends, values[1:]])


def _decided(one: Judged, at: Rows) -> Check:
    """Return the check of one judgement, with odds of plans in place of odds of roofs."""
    if one.value is None or one.limit is None:
        return one.rule.not_known(one.unknown, inputs=(one.missing,) if one.missing else (), part=one.which)
    if one.value.size > 1:
        drawn = 1 + at.draws.stop - at.draws.start
        value, limit = (_spread(v, at) if v.size == drawn else v for v in (one.value, one.limit))
        check = decide(replace(one, value=value, limit=limit), at, np.ones(at.count, dtype=bool))
        return replace(check, basis=check.basis.replace("roofs like yours", "plans like yours"))
    return one.rule.judge(float(one.value[0]), float(one.limit[0]), basis="as planned", part=one.which)


def _judged(project: Project, found: WorkNumbers, at: Rows) -> Iterable[Check]:
    """Return every judgement on the plan."""
    plan = project.plan
    if plan.finish is not None:
        if plan.start is None and not found.listed.done and plan.today is None:
            yield FINISH_MISSED.not_known("write the first day of work (plan.start)", inputs=("plan.start",))
        else:
            check = _decided(judge_finish(found.plans, date.fromisoformat(plan.finish)), at)
            yield replace(check, inputs=("plan.finish",))
    if "closed" not in found.listed.done:
        opened = judge_open(found.open, 1.0)
        yield replace(_decided(replace(opened, limit=at(OPEN_DAYS) / DAY), at), inputs=(OPEN_DAYS,))
    if "fit-ring" not in found.listed.done:
        yield replace(_decided(judge_ring(found.plans), at), inputs=("plan.hours",))
    to_do = tuple(task for task in found.listed.tasks if task.id not in found.listed.done)
    for group in helped(to_do):
        if any(task.helpers for task in group):
            yield replace(_decided(judge_helpers(group, plan.people), at), inputs=("plan.people",))


def helped(tasks: tuple[Task, ...]) -> tuple[tuple[Task, ...], tuple[Task, ...], tuple[Task, ...]]:
    """Return `tasks` in three: those on the day of the cut, those under the open roof after it, and all others."""
    first = tuple(task for task in tasks if task.one_day == "cut")
    opened = tuple(task for task in tasks if task.roof_open and task not in first)
    return first, opened, tuple(task for task in tasks if task not in (*first, *opened))


def _for_the_cut(checks: tuple[Check, ...], tasks: tuple[Task, ...]) -> tuple[Check, ...]:
    """Return those of the judgements on the plan that stop the cut: helpers until it is closed, and the ring."""
    names = {task.name for task in tasks if task.roof_open}
    return tuple(
        check
        for check in checks
        if check.rule.id == RING_NEXT_DAY.id or (check.rule.id == HELPERS_SHORT.id and check.part in names)
    )


def _said(project: Project, found: Listed, schedule: Schedule) -> tuple[str, ...]:
    names = {task.id: task.name for task in found.tasks}
    early = tuple(
        f"{names[done]} is ticked off, although this is not: {names[before][:1].lower()}{names[before][1:]}."
        for done, before in schedule.too_early
    )
    first = first_day(project)[1]
    return (*found.said, *found.doubts, *early, *([first] if first else []), HOURS_SAID, ALONE_SAID, SEQUENCE_SAID)


@lru_cache(maxsize=2)
def work_plan(project: Project, kept: KeptWalls = NOTHING_KEPT, *, go: bool = True) -> Outcome[WorkNumbers]:
    """Return the order of work of this roof, worst judgement first; without `go` the days alone.

    A roof that cannot be put together has its days all the same, and no list before the cut.
    Raises ProjectFault where tasks wait for each other in a circle.
    """
    found = listed(project)
    job = job_of(project, found)
    schedule, plans = planned(job), _drawn(job, project)
    opened = roof_open(plans)
    wanted = project.plan.finish
    other = roof_open(_drawn(job_of(project, listed(project, trial=not project.plan.trial_frame)), project))
    with_frame, without = (opened, other) if project.plan.trial_frame else (other, opened)
    numbers = WorkNumbers(
        project=project,
        listed=found,
        job=job,
        schedule=schedule,
        plans=plans,
        days=finish(plans),
        by_finish=None if wanted is None else share_by(plans, date.fromisoformat(wanted)),
        pace=pace_so_far(found.tasks, {name: found.done[name] for name in found.timed}),
        open=opened,
        with_frame=with_frame,
        without_frame=without,
        gain=trial_gain(with_frame, without),
        others=_others(project, found) if "closed" not in found.done else (),
        cut_day=tuple(task for task in found.tasks if task.one_day == "cut"),
        go=None,
        back=way_back(),
    )
    at = work_rows(project)
    checks, why = tuple(_judged(project, numbers, at)), tuple[str, ...]()
    if go:
        before, why = _before(project, found, kept, _for_the_cut(checks, found.tasks))
        numbers = replace(numbers, go=before)
        if before is not None and "cut" not in found.done:
            checks = (*checks, _decided(judge_ready(before.list), at))
    return Outcome(numbers, worst_first(checks), (*why, *_said(project, found, schedule)))


def _before(
    project: Project, found: Listed, kept: KeptWalls, plan: tuple[Check, ...]
) -> tuple[GoFound | None, tuple[str, ...]]:
    """Return the list before the cut, or a sentence that says why there is none."""
    try:
        return go_found(project, found, kept, plan), ()
    except LoftwrightError as error:
        why = error.faults[0].sentence() if isinstance(error, ProjectFault) else str(error)
        return None, (f"There is no list before the cut: {why.rstrip('.')}.",)


def _others(project: Project, found: Listed) -> tuple[OpenWith, ...]:
    """Return what else may shorten the time with the roof open, the best first."""
    tried = []
    if project.plan.days < EVERY_DAY:
        tried.append(
            _other("days off in a row, from the cut until it is closed", job_of(project, found, days=7), project)
        )
    tried.append(_other("a second pair of hands all the time", job_of(project, found, alone=False), project))
    return tuple(sorted(tried, key=lambda one: float(np.mean(one.open.nights))))


def back_days(found: WorkNumbers) -> tuple[float, timedelta]:
    """Return the working time of the way back [h], and how many days it takes from one morning to the last evening."""
    job = Job(found.back, found.job.calendar, found.job.today, pace=found.job.pace)
    schedule = planned(job)
    return sum(one.hours for one in schedule.tasks), schedule.finish - found.job.today
