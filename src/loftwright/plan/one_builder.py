"""One pair of hands: tasks that could run side by side are put one after another.

The critical path alone supposes that everybody who is needed is there at once. A builder alone does one task at a
time; only curing and delivery run beside it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

import numpy as np

from loftwright.core.motion import Array
from loftwright.core.work import After, Task
from loftwright.plan.calendar_days import TINY, WorkCalendar
from loftwright.plan.schedule import block_hours, passes
from loftwright.plan.tasks import Network, all_before, merged, network


@dataclass(frozen=True, slots=True)
class Ends:
    """The ids of the task that opens the roof, of its cover, and of the one after which it is closed and sealed."""

    cut: str = "cut"
    closed: str = "closed"
    cover: str = "cover-on"


_ASKED: Final = ("delivery", "answer")


def _groups(net: Network, ends: Ends) -> tuple[frozenset[int], frozenset[int]]:
    """Return the tasks that come after the cut, itself with them, and those that closing needs, itself with them."""
    names = {task.id for task in net.tasks}
    if not {ends.cut, ends.closed} <= names:
        return frozenset(), frozenset()
    before = all_before(net)
    cut, closed = net.number(ends.cut), net.number(ends.closed)
    return frozenset(i for i in range(len(net.tasks)) if cut in before[i]) | {cut}, before[closed] | {closed}


def turns(
    net: Network,
    work: Array,
    wait: Array,
    calendar: WorkCalendar | None,
    *,
    not_before: float = 0.0,
    fixed: Array | None = None,
    ends: Ends | None = None,
) -> tuple[int, ...]:
    """Return in which order one builder does the tasks.

    Whenever the hands are free, of the tasks that may start the one with the earliest latest start comes first, but
    orders and questions to others before all else, because their answers take days. What need not wait for the cut
    comes before the cut, as far as it can be done by then; once the roof is open nothing is begun that does not help
    to close it, and its cover comes before all else; a group that belongs on one day is finished before anything else
    is begun. A good order, not always the best one.

    Parameters
    ----------
    net: the tasks.
    work: [h of work], [n]. wait: [h], [n].
    calendar: which hours are worked.
    not_before: nothing starts earlier [h]. fixed: when a task that is done was over [h], [n], nan elsewhere.
    ends: what opens the roof and what closes it.
    """
    late = passes(net, work, wait, calendar=calendar, not_before=not_before, fixed=fixed).late_start
    marks = ends or Ends()
    later, needed = _groups(net, marks)
    blocks = block_hours(net, work, wait)
    end: dict[int, float] = {}
    if fixed is not None:
        end = {i: float(fixed[i]) for i in range(len(net.tasks)) if np.isfinite(fixed[i])}
    is_open = any(net.tasks[i].id == marks.cut for i in end)
    now, order, group = not_before, list[int](), ""
    while len(end) < len(net.tasks):
        able = [i for i in net.order if i not in end and all(link.before in end for link in net.into[i])]
        ready = {}
        for i in able:
            times = (end[link.before] + (float(wait[link.before]) if link.waits else 0.0) for link in net.into[i])
            ready[i] = max(not_before, *times) if net.into[i] else not_before
        idle = [i for i in able if work[i] <= TINY]
        if idle:
            end.update({i: ready[i] for i in idle})
            continue
        moment = now if calendar is None else float(calendar.next_start(now))
        if calendar is not None:
            for i in set(blocks) & set(able):
                ready[i] = float(calendar.whole_day_start(max(ready[i], now), blocks[i]))
        begun = [i for i in able if group and net.tasks[i].one_day == group]
        ours = begun or ([i for i in able if i in needed] if is_open else []) or able
        free = [i for i in ours if ready[i] <= moment + TINY]
        if not free:
            soonest = min(ready[i] for i in ours)
            free = [i for i in ours if ready[i] <= soonest + TINY]
        pick = min(
            free,
            key=lambda i: (
                net.tasks[i].id != marks.cover,
                i in later,
                net.tasks[i].wait_is not in _ASKED,
                float(late[i]),
                i,
            ),
        )
        begin = max(moment, ready[pick])
        now = begin + float(work[pick]) if calendar is None else float(calendar.after_work(begin, work[pick]))
        end[pick] = now
        order.append(pick)
        group = net.tasks[pick].one_day or group
        is_open = (is_open or net.tasks[pick].id == marks.cut) and net.tasks[pick].id != marks.closed
    return tuple(order)


def in_turn(tasks: Sequence[Task], order: Sequence[int]) -> Network:
    """Return the network of `tasks` in which each task of `order` also comes after the one before it in that order."""
    linked = list(tasks)
    for before, then in pairwise(order):
        after = (*linked[then].after, After(linked[before].id, waits=False))
        linked[then] = replace(linked[then], after=merged(after))
    return network(linked)
