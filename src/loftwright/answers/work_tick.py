"""What ticking a task off writes into the file."""

from __future__ import annotations

from datetime import date

from loftwright.answers.work_flags import listed, names_of, plain
from loftwright.core.errors import Fault, ProjectFault
from loftwright.project.model import Project
from loftwright.project.reading import nearest, quoted


def task_called(project: Project, written: str) -> str:
    """Return the id of the task that somebody wrote. Errors: ProjectFault, which offers the nearest one."""
    known = names_of(listed(project).tasks)
    if plain(written) in known:
        return known[plain(written)]
    near = nearest(plain(written), tuple(known))
    do = f'write "{known[near]}" if that is meant' if near else "loftwright plan lists them all"
    raise ProjectFault([Fault("--tick", quoted(written), "there is no such task", do)])


def tick_changes(
    project: Project, written: str, on: str | None = None, took: str | None = None, *, done: bool = True
) -> dict[str, str | int | bool | None]:
    """Return what to write into the file so that the task somebody wrote is done, or is to do again.

    `on` is the day, today where it is left out; `took` the working time as the file takes it. Errors: ProjectFault of a
    task that is not on the list, or of no day of the calendar.
    """
    name = task_called(project, written)
    number = listed(project).entry.get(name)
    if not done:
        return {} if number is None else {f"todo.{number}.done": None, f"todo.{number}.took": None}
    day = date.today().isoformat()
    if on is not None:
        try:
            day = date.fromisoformat(on).isoformat()
        except ValueError:
            raise ProjectFault(
                [Fault("--on", f'"{on}"', "no day of any calendar", "write a day as year-month-day")]
            ) from None
    at = f"todo.{len(project.todo) if number is None else number}"
    changes: dict[str, str | int | bool | None] = {} if number is not None else {f"{at}.task": name}
    changes[f"{at}.done"] = day
    if took is not None:
        changes[f"{at}.took"] = took
    return changes
