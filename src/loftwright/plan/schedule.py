"""The critical path: earliest and latest times, slack, and which tasks set the finish.

Time runs in hours [h]. Without a calendar work and waits are both elapsed time, as in the textbooks; with one, work
runs in working hours and waits run on over nights and weekends.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from loftwright.core.motion import Array, Flags, array_of
from loftwright.plan.calendar_days import TINY, WorkCalendar
from loftwright.plan.tasks import Network

Numbers = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Passes:
    """Times of every task, each [..., n] in elapsed hours [h]; slack in working hours [h].

    `driver` is the number of the task that sets the earliest start, -1 for none; `finish` [...] is when all is over.
    """

    early_start: Array
    early_finish: Array
    free_from: Array
    late_start: Array
    late_finish: Array
    slack: Array
    free_slack: Array
    driver: Numbers
    finish: Array

    def chain(self, end: Numbers | int | None = None) -> Flags:
        """Return which tasks set the start of task `end`, itself with them, [..., n]; None: of the one that ends last.

        Among tasks that end together the first in the list counts.
        """
        n = self.driver.shape[-1]
        driver = self.driver.reshape(-1, n)
        rows = np.arange(len(driver))
        last = np.argmax(self.free_from.reshape(-1, n), axis=-1) if end is None else np.broadcast_to(end, len(rows))
        on = np.zeros(driver.shape, dtype=bool)
        now = np.array(last, dtype=np.int64)
        for _ in range(n):
            there = now >= 0
            on[rows[there], now[there]] = True
            now = np.where(there, driver[rows, now], -1)
        return np.asarray(on.reshape(self.driver.shape))


def block_hours(net: Network, work: ArrayLike, wait: ArrayLike) -> dict[int, Array]:
    """Return for the first task of each group that belongs on one day how long the whole group takes.

    The sum of its work and of the waits inside it, as one builder does one after another.

    Parameters
    ----------
    net: the tasks.
    work: [h of work], [..., n]. wait: [h], [..., n].

    Returns
    -------
    Hours [h], [...], by the number of the group's first task.
    """
    works, waits = array_of(work), array_of(wait)
    found: dict[int, Array] = {}
    for name in sorted({task.one_day for task in net.tasks} - {""}):
        members = [i for i in net.order if net.tasks[i].one_day == name]
        inside = {link.before for i in members for link in net.into[i] if link.waits and link.before in members}
        total = works[..., members].sum(axis=-1) + waits[..., sorted(inside)].sum(axis=-1)
        found[members[0]] = np.asarray(total)
    return found


def passes(
    net: Network,
    work: ArrayLike,
    wait: ArrayLike = 0.0,
    *,
    calendar: WorkCalendar | None = None,
    not_before: float = 0.0,
    fixed: Array | None = None,
) -> Passes:
    """Return earliest and latest times of every task by a forward and a backward pass.

        ES = max over what comes before of (EF + wait), EF = ES + work                          (1)
        LF = min over what comes after of (LS - wait), LS = LF - work                           (2)
        slack = LS - ES, free slack = min over what comes after of (ES - wait) - EF              (3)

    with a calendar all sums of work, and both slacks, in working hours; a task starts at the next working moment, and
    the first of a group that belongs on one day in time for the whole group.

    Parameters
    ----------
    net: the tasks with their links.
    work: [h of work], [..., n]. wait: what must pass after each task [h], [..., n].
    calendar: which hours are worked; None: all of them.
    not_before: nothing starts earlier [h].
    fixed: when a task that is done was over [h], [n]; nan for those still to do.

    Source: Kelley and Walker, critical-path planning and scheduling (from memory); any textbook of operations
    research.
    """
    n = len(net.tasks)
    works, waits = (np.broadcast_to(array_of(v), np.broadcast_shapes(np.shape(v), (n,))) for v in (work, wait))
    works, waits = np.broadcast_arrays(works, waits)
    shape = works.shape[:-1]
    over = np.full(n, np.nan) if fixed is None else fixed
    blocks = block_hours(net, works, waits)
    start, end = np.zeros((*shape, n)), np.zeros((*shape, n))
    driver = np.full((*shape, n), -1, dtype=np.int64)
    for i in net.order:
        if np.isfinite(over[i]):
            start[..., i] = end[..., i] = over[i]
            continue
        ready = np.full(shape, not_before)
        for link in net.into[i]:
            at = end[..., link.before] + (waits[..., link.before] if link.waits else 0.0)
            later = at > ready + TINY
            driver[..., i] = np.where(later, link.before, driver[..., i])
            ready = np.where(later, at, ready)
        begun = ready
        if calendar is not None:
            begun = calendar.whole_day_start(ready, blocks[i]) if i in blocks else calendar.next_start(ready)
            begun = np.where(works[..., i] > TINY, begun, ready)
        start[..., i] = begun
        end[..., i] = begun + works[..., i] if calendar is None else calendar.after_work(begun, works[..., i])
    free_from = end + waits
    finish = np.asarray(free_from.max(axis=-1))
    late_start, late_end = np.zeros_like(start), np.zeros_like(end)
    room = np.zeros_like(end)
    for i in reversed(net.order):
        latest = finish - waits[..., i]
        soonest = latest
        for link in net.out[i]:
            held = waits[..., i] if link.waits else 0.0
            if not np.isfinite(over[link.then]):
                latest = np.minimum(latest, late_start[..., link.then] - held)
                soonest = np.minimum(soonest, start[..., link.then] - held)
        late_end[..., i], room[..., i] = latest, soonest
        begun = latest - works[..., i] if calendar is None else calendar.before_work(latest, works[..., i])
        late_start[..., i] = calendar.whole_day_latest(begun, blocks[i]) if calendar and i in blocks else begun
    count = np.asarray if calendar is None else calendar.worked_by
    slack, free = count(late_start) - count(start), count(room) - count(end)
    done = np.isfinite(over)
    late_start, late_end = np.where(done, start, late_start), np.where(done, end, late_end)
    return Passes(
        early_start=start,
        early_finish=end,
        free_from=free_from,
        late_start=late_start,
        late_finish=late_end,
        slack=np.where(done, 0.0, slack),
        free_slack=np.where(done, 0.0, free),
        driver=driver,
        finish=finish,
    )
