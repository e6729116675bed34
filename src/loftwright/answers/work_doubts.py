"""Ticks that cannot be right: their days, and what they skip."""

from __future__ import annotations

from datetime import date
from typing import Final

from loftwright.core.work import Done, Task
from loftwright.plan.tasks import all_before, network
from loftwright.project.model import Project
from loftwright.reference.work import SAFE_ORDER

FAR_OFF: Final = 366
"""A tick so many days after all that comes before it is taken for a slip of the pen and left out [days]: judgement."""


def small(text: str) -> str:
    """Return a task's name as it stands within a sentence."""
    return f"{text[:1].lower()}{text[1:]}"


def days_in_doubt(
    project: Project, done: dict[str, Done], names: dict[str, str]
) -> tuple[dict[str, Done], tuple[str, ...]]:
    """Return what is done, less ticks of a day far off, and a sentence on each day that cannot be right."""
    start, today = (
        None if day is None else date.fromisoformat(day) for day in (project.plan.start, project.plan.today)
    )
    latest = max((day for day in (start, today) if day is not None), default=None)
    kept: dict[str, Done] = {}
    said: list[str] = []
    for name, one in sorted(done.items(), key=lambda each: each[1].on):
        ticked = f"{names[name]}: ticked off on {one.on.isoformat()}"
        if latest is not None and (one.on - latest).days > FAR_OFF:
            said.append(f"{ticked}, more than a year after all before it: left out until its day is right.")
            continue
        if today is not None and one.on > today:
            said.append(f"{ticked}, which is later than today as written (plan.today, {today.isoformat()}).")
        if start is not None and one.on < start:
            said.append(f"{ticked}, which is before the first day of work (plan.start, {start.isoformat()}).")
        latest = one.on if latest is None else max(latest, one.on)
        kept[name] = one
    return {name: one for name, one in done.items() if name in kept}, tuple(said)


def skipped(tasks: tuple[Task, ...], done: dict[str, Done], names: dict[str, str]) -> tuple[str, ...]:
    """Return sentences on ticks before which safety wants another one, and on a closing that skips what leads to it."""
    said: list[str] = []
    missing: dict[str, list[str]] = {}
    for first, then, why in SAFE_ORDER:
        if then in done and first in names and first not in done:
            mine = missing.setdefault(then, [])
            # The reason stands with the first one alone, or the sentence grows too long to read.
            mine.append(f"{small(names[first])} ({why})" if not mine else small(names[first]))
        elif then in done and first in done and done[first].on > done[then].on:
            said.append(f"{names[then]}: ticked off before the day of this: {small(names[first])}; {why}.")
    said += [f"{names[then]}: ticked off, although not yet done: {'; '.join(mine)}." for then, mine in missing.items()]
    if "closed" in done:
        net = network(tasks)
        before = all_before(net)[net.number("closed")]
        left = sum(tasks[i].id not in done for i in before)
        if left:
            said.append(
                f"{names['closed']}: ticked off, although {left} "
                f"{'task' if left == 1 else 'tasks'} before it {'is' if left == 1 else 'are'} not."
            )
    return tuple(said)
