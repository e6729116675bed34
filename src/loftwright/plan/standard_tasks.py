"""The list of tasks for one roof, from what it has; and the order that safety demands, whoever wrote the list."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from loftwright.core.choices import LinkageKind
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.work import After, Hours, Task
from loftwright.plan.tasks import all_before, merged, network, without
from loftwright.reference.work import BACK, CHAPTERS, ONE_DAY, SAFE_ORDER
from loftwright.reference.work_row import Flag, StandardTask


@dataclass(frozen=True, slots=True)
class Roof:
    """What a roof has and how it is made, as far as the order of work hangs on it.

    `shell`: bought, built by hand, or at hand already. `laminate`: stiffeners or pads are laminated into it.
    """

    kind: LinkageKind = "hinge"
    shell: str = "bought"
    trial: bool = True
    springs: bool = True
    brace: bool = False
    panel: bool = False
    lining: bool = False
    walls: bool = True
    laminate: bool = False

    def flags(self) -> frozenset[Flag]:
        """Return what is true of the roof, as the standard list names it."""
        found: list[tuple[Flag, bool]] = [
            ("hinge", self.kind == "hinge"),
            ("arms", self.kind != "hinge"),
            ("bought", self.shell == "bought"),
            ("built", self.shell == "built"),
            ("trial", self.trial),
            ("springs", self.springs),
            ("brace", self.brace),
            ("panel", self.panel),
            ("lining", self.lining),
            ("walls", self.walls),
            ("laminate", self.laminate),
        ]
        return frozenset(flag for flag, there in found if there)


def _task(row: StandardTask, chapter: str) -> Task:
    return Task(
        id=row.id,
        name=row.name,
        hours=Hours(*row.hours),
        after=tuple(After(name.removeprefix("~"), not name.startswith("~")) for name in row.after),
        wait=Hours(*row.wait),
        wait_is=row.wait_is,
        helpers=row.helpers,
        tools=row.tools,
        roof_open=row.roof_open,
        weather=row.weather,
        one_day=row.one_day,
        chapter=chapter,
        note=row.note,
    )


def standard_tasks(roof: Roof) -> tuple[Task, ...]:
    """Return the tasks for a `roof`, in the order of the chapters, safe order and all.

    Rows that do not belong to this roof are taken out, and what came after them comes after what they came after.
    Source: common practice, no source; hours by judgement, wide.
    """
    has = roof.flags()
    tasks: list[Task] = []
    dropped: dict[str, Task] = {}
    for chapter, rows in CHAPTERS:
        for row in rows:
            task = _task(row, chapter)
            if row.when <= has and not row.unless & has:
                tasks.append(task)
            else:
                known = dropped.get(row.id, replace(task, after=()))
                dropped[row.id] = replace(known, after=merged((*known.after, *task.after)))
    names = {task.id for task in tasks}
    gone = frozenset(set(dropped) - names)
    return with_safe_order(without([*tasks, *(dropped[name] for name in sorted(gone))], gone))


def way_back() -> tuple[Task, ...]:
    """Return the tasks that close the hole for good with the shell fixed on it, if going on makes no sense."""
    chapter, rows = BACK
    return tuple(_task(row, chapter) for row in rows)


def unsafe_order(tasks: Sequence[Task]) -> tuple[tuple[str, str, str], ...]:
    """Return which pairs of the safe order the list of `tasks` does not keep: (before, then, why).

    A pair counts when its second task is there; errors as `tasks.network`.
    """
    net = network(tasks)
    before = all_before(net)
    place = {task.id: i for i, task in enumerate(tasks)}
    return tuple(
        (first, then, why)
        for first, then, why in SAFE_ORDER
        if then in place and (first not in place or place[first] not in before[place[then]])
    )


def with_safe_order(tasks: Sequence[Task]) -> tuple[Task, ...]:
    """Return `tasks` with every link of the safe order that was missing, and cut and ring on one day.

    Errors: `ProjectFault` where a task is missing that must come first, and, as `tasks.network`, where the list has
    them the wrong way round.
    """
    missing = unsafe_order(tasks)
    names = {task.id for task in tasks}
    faults = [
        Fault(f"task {then}", "", f"{first} must come before it: {why}", f"put {first} back on the list")
        for first, then, why in missing
        if first not in names
    ]
    if faults:
        raise ProjectFault(faults)
    extra: dict[str, list[After]] = {}
    for first, then, _ in missing:
        extra.setdefault(then, []).append(After(first))
    linked = tuple(
        replace(
            task,
            after=merged((*task.after, *extra.get(task.id, ()))),
            one_day="cut" if task.id in ONE_DAY else task.one_day,
        )
        for task in tasks
    )
    network(linked)
    return linked


def before_the_cut(tasks: Sequence[Task]) -> tuple[Task, ...]:
    """Return those of `tasks` that the cut comes after, near or far, less the going through of the list.

    None where no task cuts; errors as `tasks.network`.
    """
    place = {task.id: i for i, task in enumerate(tasks)}
    if "cut" not in place:
        return ()
    wanted = all_before(network(tasks))[place["cut"]] - {place.get("go-no-go", -1)}
    return tuple(task for i, task in enumerate(tasks) if i in wanted)
