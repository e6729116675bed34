"""Tasks as a network: what comes before what, in an order in which each follows all it comes after."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.work import After, Task


@dataclass(frozen=True, slots=True)
class Link:
    """Task number `before` comes before task number `then`; `waits`: its curing or delivery counts too."""

    before: int
    then: int
    waits: bool


@dataclass(frozen=True, slots=True)
class Network:
    """Tasks with their links by number; `order` is one in which every task follows all it comes after."""

    tasks: tuple[Task, ...]
    into: tuple[tuple[Link, ...], ...]
    """Links that lead into each task."""
    out: tuple[tuple[Link, ...], ...]
    """Links that lead out of each task."""
    order: tuple[int, ...]

    def number(self, name: str) -> int:
        """Return the number of the task with the id `name`; KeyError where there is none."""
        for i, task in enumerate(self.tasks):
            if task.id == name:
                return i
        raise KeyError(name)


def network(tasks: Sequence[Task]) -> Network:
    """Return the network of `tasks`.

    Errors: `ProjectFault` that lists every id given twice, every predecessor that is no task, and, where tasks wait
    for each other in a circle, one circle by its names.
    """
    place = {task.id: i for i, task in enumerate(tasks)}
    faults = [
        Fault(f"task {task.id}", "", "this id is given to two tasks", "give each its own")
        for i, task in enumerate(tasks)
        if place[task.id] != i
    ]
    faults += [
        Fault(f"task {task.id}, after", after.id, "there is no such task", "write the id of a task, or leave it out")
        for task in tasks
        for after in task.after
        if after.id not in place
    ]
    if faults:
        raise ProjectFault(faults)
    into = tuple(tuple(Link(place[a.id], i, a.waits) for a in task.after) for i, task in enumerate(tasks))
    out = tuple(tuple(link for links in into for link in links if link.before == i) for i in range(len(tasks)))
    order: list[int] = []
    left = [len({link.before for link in links}) for links in into]
    ready = [i for i, count in enumerate(left) if count == 0]
    while ready:
        now = ready.pop(0)
        order.append(now)
        for then in sorted({link.then for link in out[now]}):
            left[then] -= 1
            if left[then] == 0:
                ready.append(then)
    if len(order) < len(tasks):
        names = " -> ".join(f"{tasks[i].id} ({tasks[i].name})" for i in _circle(into, set(order)))
        raise ProjectFault(
            [Fault("tasks", names, "these wait for each other in a circle", "take out one that need not wait")]
        )
    return Network(tuple(tasks), into, out, tuple(order))


def _circle(into: tuple[tuple[Link, ...], ...], free: set[int]) -> list[int]:
    """Return one circle among the tasks that are not `free`, from what comes before to what comes after, closed."""
    now = next(i for i in range(len(into)) if i not in free)
    seen: list[int] = []
    while now not in seen:
        seen.append(now)
        now = next(link.before for link in into[now] if link.before not in free)
    circle = [*seen[seen.index(now) :], now]
    return circle[::-1]


def all_before(net: Network) -> tuple[frozenset[int], ...]:
    """Return for each task the numbers of all that come before it, near and far."""
    found: dict[int, frozenset[int]] = {}
    for i in net.order:
        found[i] = frozenset().union(*(found[link.before] | {link.before} for link in net.into[i]))
    return tuple(found[i] for i in range(len(net.tasks)))


def without(tasks: Sequence[Task], dropped: frozenset[str]) -> tuple[Task, ...]:
    """Return the tasks less those in `dropped`; what came after a dropped one comes after what that came after."""
    every = {task.id: task for task in tasks}

    def kept(after: After, seen: frozenset[str]) -> list[After]:
        if after.id not in dropped:
            return [after]
        return [far for a in every[after.id].after if a.id not in seen for far in kept(a, seen | {a.id})]

    result = []
    for task in tasks:
        if task.id not in dropped:
            links = [far for after in task.after for far in kept(after, frozenset({after.id}))]
            result.append(replace(task, after=merged(links)))
    return tuple(result)


def merged(links: Sequence[After]) -> tuple[After, ...]:
    """Return `links` with each predecessor once; it waits where any of them did."""
    waits: dict[str, bool] = {}
    for after in links:
        waits[after.id] = waits.get(after.id, False) or after.waits
    return tuple(After(name, wait) for name, wait in waits.items())
