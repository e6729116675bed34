"""Faults of what is written on what rides on the roof, on parts and on the work, at the nominal values."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from loftwright.core.errors import Fault
from loftwright.project.model import Project
from loftwright.project.possible_springs import CHECK, said


def plan_faults(project: Project) -> list[Fault]:
    """Return every fault of these sections, in the order of the file."""
    parts = (_seal, _lift, _dates, _tasks, _bought)
    return [fault for part in parts for fault in part(project)]


def _day(where: str, text: str | None) -> Iterator[Fault]:
    if text is None:
        return
    try:
        date.fromisoformat(text)
    except ValueError:
        yield Fault(where, f'"{text}"', "no day of any calendar", "write a day as year-month-day")


def _seal(project: Project) -> Iterator[Fault]:
    seal = project.seal
    names = ("sample", "height", "squeezed", "pressed")
    missing = [name for name in names if getattr(seal, name) is None]
    if 0 < len(missing) < len(names):
        yield Fault(
            f"[seal] {missing[0]}",
            "left out",
            f"a sample on scales is written with {', '.join(names[:-1])} and {names[-1]}",
            "write what is missing, or leave all of them out",
        )
    if seal.height is not None and seal.squeezed is not None and seal.squeezed.nominal >= seal.height.nominal:
        yield Fault(
            "[seal] squeezed",
            said(project, seal.squeezed.nominal),
            f"a squeezed sample is lower than a free one, at {said(project, seal.height.nominal)}",
            CHECK,
        )


def _lift(project: Project) -> Iterator[Fault]:
    lift = project.lift
    if lift is not None and lift.idle.nominal > lift.amps.nominal:
        yield Fault("[lift] idle", f"{lift.idle.nominal:g}", f"at full load it draws {lift.amps.nominal:g}", CHECK)


def _dates(project: Project) -> Iterator[Fault]:
    plan = project.plan
    for name in ("start", "finish", "today"):
        yield from _day(f"[plan] {name}", getattr(plan, name))
    if plan.start is not None and plan.finish is not None and plan.finish < plan.start:
        yield Fault("[plan] finish", f'"{plan.finish}"', f"the first day of work is {plan.start}", CHECK)


def _tasks(project: Project) -> Iterator[Fault]:
    seen: set[str] = set()
    for number, task in enumerate(project.todo, 1):
        where = f"[[todo]] {number}"
        yield from _day(f"{where} done", task.done)
        if task.task in seen:
            yield Fault(f"{where} task", f'"{task.task}"', "it stands in the list already", "take one of them out")
        seen.add(task.task)
        times = [t.nominal for t in (task.least, task.likely, task.most) if t is not None]
        if times != sorted(times):
            yield Fault(f"{where} likely", "out of order", "least, likely and most rise one after the other", CHECK)


def _bought(project: Project) -> Iterator[Fault]:
    seen: set[str] = set()
    for number, part in enumerate(project.bought, 1):
        if part.part in seen:
            yield Fault(
                f"[[bought]] {number} part", f'"{part.part}"', "it stands in the list already", "take one of them out"
            )
        seen.add(part.part)
