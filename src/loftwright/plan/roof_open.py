"""For how long there is a hole in the roof: from the first cut until the shell is closed on its seal.

A figure of its own, because rain, thieves and second thoughts all fall into it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loftwright.core.judged import Judged, against
from loftwright.core.motion import Array
from loftwright.plan.calendar_days import DAY, TINY
from loftwright.plan.finish_odds import Drawn
from loftwright.plan.schedule import block_hours
from loftwright.plan.work_rules import OPEN_TOO_LONG, RING_NEXT_DAY


@dataclass(frozen=True, slots=True)
class Share:
    """What one task adds to the days with the roof open, over the draws.

    `critical` [1] is the share of the plans in which it sets the closing; `days` [1] what it then takes of the open
    time, nights and waits after it with it, mean over all plans: the most that could be won on it; `hours` [h] its
    mean work.
    """

    id: str
    name: str
    critical: float
    days: float
    hours: float


@dataclass(frozen=True, slots=True, eq=False)
class RoofOpen:
    """Days [1] and nights [1] with the roof open, each [rows], row 0 at expected hours.

    `shares` are those of the draws, the greatest first; they add up to the mean days.
    """

    days: Array
    nights: Array
    shares: tuple[Share, ...]

    def by_share(self, share: float) -> float:
        """Return the days [1] within which the given `share` [1] of the drawn plans close the roof."""
        return float(np.quantile(self.days[1:], share))


def roof_open(plans: Drawn) -> RoofOpen:
    """Return for how long the roof is open, and what holds it open.

        days = (end of closing - start of the cut) / 24                                          (1)

    Walking back from the closing along what set each start, each task is given the time from its own start to the
    start of what it held up, inside the open time; the parts add up to the whole.

    KeyError where the job has no task that cuts or none that closes.
    """
    net, times = plans.ready.net, plans.times
    cut, closed = net.number(plans.job.ends.cut), net.number(plans.job.ends.closed)
    begin, end = times.early_start[:, cut], times.early_finish[:, closed]
    days = np.maximum(end - begin, 0.0) / DAY
    nights = np.maximum(np.floor(end / DAY - TINY) - np.floor(begin / DAY + TINY), 0.0)
    rows = np.arange(len(days))
    part, held = np.zeros(times.early_start.shape), np.zeros(times.early_start.shape, dtype=bool)
    now, until = np.full(len(rows), closed), end
    for _ in range(len(net.tasks)):
        there = (now >= 0) & (until > begin + TINY)
        start = np.where(there, np.maximum(times.early_start[rows, now], begin), until)
        start = np.where(there & (times.driver[rows, now] < 0), begin, start)
        part[rows[there], now[there]] += (until - start)[there]
        held[rows[there], now[there]] = True
        now, until = np.where(there, times.driver[rows, now], -1), start
    some = slice(1, None) if len(days) > 1 else slice(None)
    shares = [
        Share(
            task.id,
            task.name,
            critical=float(held[some, i].mean()),
            days=float(part[some, i].mean()) / DAY,
            hours=float(plans.work[some, i].mean()),
        )
        for i, task in enumerate(net.tasks)
        if held[some, i].any()
    ]
    return RoofOpen(days, np.asarray(nights), tuple(sorted(shares, key=lambda each: -each.days)))


@dataclass(frozen=True, slots=True)
class TrialGain:
    """Days [1] with the roof open in half of the plans and in nine of ten, with the timber trial frame and without."""

    with_half: float
    with_nine: float
    without_half: float
    without_nine: float


def trial_gain(with_frame: RoofOpen, without_frame: RoofOpen) -> TrialGain:
    """Return what the timber trial frame is worth in days with the roof open."""
    return TrialGain(
        with_frame.by_share(0.5), with_frame.by_share(0.9), without_frame.by_share(0.5), without_frame.by_share(0.9)
    )


def judge_open(found: RoofOpen, most_nights: float) -> Judged:
    """Return the nights with the roof open against the most that are wanted, `most_nights` [1]; each [rows]."""
    return against(OPEN_TOO_LONG, found.nights, most_nights)


def judge_ring(plans: Drawn) -> Judged:
    """Return cut and ring against one working day [s], [rows]: the hole must not stand without its ring overnight.

    Once it is cut, what was done counts as it took, and each night since then as one whole working day more.
    KeyError where no task cuts.
    """
    net = plans.ready.net
    cut = net.number(plans.job.ends.cut)
    day = net.tasks[cut].one_day
    blocks = block_hours(net, plans.work, plans.wait)
    hours = next((h for i, h in blocks.items() if net.tasks[i].one_day == day), plans.work[:, cut])
    job = plans.job
    done = job.done.get(job.ends.cut)
    if done is not None:
        took = sum(one.hours for name, one in job.done.items() if net.tasks[net.number(name)].one_day == day)
        hours = hours + took + job.calendar.hours * max((job.today - done.on).days, 0)
    return against(RING_NEXT_DAY, hours * 3600.0, job.calendar.hours * 3600.0)
