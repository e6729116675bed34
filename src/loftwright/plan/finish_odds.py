"""When it will be finished: odds along one path as published, and draws over the whole network.

The published rule looks at the longest path alone and is too hopeful where others are nearly as long; the draws see
all of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

import numpy as np

from loftwright.core.judged import Judged, against
from loftwright.core.motion import Array
from loftwright.core.work import Hours
from loftwright.plan.calendar_days import DAY, TINY
from loftwright.plan.dated import Job, Ready, made_ready
from loftwright.plan.schedule import Passes, passes
from loftwright.plan.tasks import Network
from loftwright.plan.three_point import chances, normal_share, pert_mean, pert_quantile, pert_variance
from loftwright.plan.work_rules import FINISH_MISSED


@dataclass(frozen=True, slots=True)
class PathOdds:
    """One path: numbers of its tasks, expected length [h], variance [h h]."""

    tasks: tuple[int, ...]
    mean: float
    variance: float

    def by(self, time: float) -> float:
        """Return the chance [1] that the path is done by `time` [h], taken as normal."""
        return normal_share(self.mean, self.variance, time)


def path_odds(net: Network, path: Sequence[int]) -> PathOdds:
    """Return length and variance of one `path`, waits with it: sums of those of its tasks."""
    spans = [net.tasks[i].hours for i in path]
    for before, then in pairwise(path):
        if any(link.before == before and link.waits for link in net.into[then]):
            spans.append(net.tasks[before].wait)
    mean = sum(float(pert_mean(h.least, h.likely, h.most)) for h in spans)
    return PathOdds(tuple(path), mean, sum(float(pert_variance(h.least, h.most)) for h in spans))


def all_paths_by(paths: Sequence[PathOdds], time: float) -> float:
    """Return the chance [1] that all of `paths` are done by `time` [h], taken as independent: the product.

    Exact for normal paths that share no task; a lower bound, on the safe side, where they do.
    """
    share = 1.0
    for path in paths:
        share *= path.by(time)
    return share


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
