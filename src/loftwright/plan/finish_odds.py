"""When it will be finished: draws over the whole network.

Odds along the longest path alone are too hopeful where others are nearly as long; the draws see all of them.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np

from loftwright.core.judged import Judged, against
from loftwright.core.motion import Array
from loftwright.core.work import Hours
from loftwright.plan.calendar_days import DAY, TINY
from loftwright.plan.dated import Job, Ready, made_ready
from loftwright.plan.schedule import Passes, passes
from loftwright.plan.three_point import chances, pert_quantile
from loftwright.plan.work_rules import FINISH_MISSED


def _drawn(hours: Hours, name: str, count: int, seed: int) -> Array:
    return pert_quantile(hours.least, hours.likely, hours.most, chances(name, count, seed))


@dataclass(frozen=True, slots=True, eq=False)
class Drawn:
    """A job drawn many times: row 0 at expected hours, then the draws; `times` are [rows, n], `work` [h] too."""

    job: Job
    ready: Ready
    work: Array
    wait: Array
    times: Passes


def drawn(job: Job, draws: int, seed: int) -> Drawn:
    """Return the `job` at expected hours and `draws` times with drawn hours, waits and pace.

    Each task has its own stream of chances, so that adding one leaves the others alone; the pace is one for all. The
    builder keeps to the order found at expected hours, which makes the draws a little late.
    """
    ready = made_ready(job)
    pace = _drawn(job.pace, "pace of all work", draws, seed)
    work, wait = np.empty((1 + draws, len(job.tasks))), np.empty((1 + draws, len(job.tasks)))
    work[0], wait[0] = ready.work, ready.wait
    for i, task in enumerate(job.tasks):
        to_do = float(np.isnan(ready.fixed[i]))
        work[1:, i] = to_do * pace * _drawn(task.hours, f"work {task.id}", draws, seed)
        wait[1:, i] = _drawn(task.wait, f"wait {task.id}", draws, seed)
    times = passes(ready.net, work, wait, calendar=job.calendar, not_before=ready.not_before, fixed=ready.fixed)
    return Drawn(job, ready, work, wait, times)


@dataclass(frozen=True, slots=True, eq=False)
class Finish:
    """When all is done: `days` from the calendar's first day, [rows] [1]; dates by how many of 100 plans are done.

    `expected` is that of row 0.
    """

    days: Array
    expected: date
    one_in_ten: date
    half: date
    nine_in_ten: date


def finish(plans: Drawn) -> Finish:
    """Return when the work will be finished, from the draws."""
    days = np.floor(plans.times.finish / DAY + TINY)
    calendar = plans.job.calendar
    when = [calendar.date_of(DAY * float(_share(days[1:], share))) for share in (0.1, 0.5, 0.9)]
    return Finish(np.asarray(days), calendar.date_of(DAY * float(days[0])), *when)


def _share(values: Array, share: float) -> float:
    """Return the smallest of `values` by which at least `share` of them are reached."""
    ranked = np.sort(values)
    return float(ranked[max(int(np.ceil(share * len(ranked))) - 1, 0)])


def share_by(plans: Drawn, wanted: date) -> float:
    """Return the share [1] of the drawn plans that are finished on the day `wanted` or before."""
    limit = (wanted - plans.job.calendar.first).days
    return float(np.mean(finish(plans).days[1:] <= limit))


def judge_finish(plans: Drawn, wanted: date) -> Judged:
    """Return the finish against the day `wanted`, both in days from the calendar's first day, [rows]."""
    return against(FINISH_MISSED, finish(plans).days, float((wanted - plans.job.calendar.first).days))
