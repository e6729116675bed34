"""What is said of the order of work as plain text, fitted to a width."""

from __future__ import annotations

from collections.abc import Iterable

from loftwright.core.work_pages import GoLine, GoPage, TaskRow, WorkChapter, WorkPage
from loftwright.documents.plain_text import (
    Look,
    as_text,
    caution_lines,
    fact_lines,
    grid_lines,
    heading,
    points,
    row_lines,
)

BRIEF_ROWS = 5
"""How many tasks and lines of the list before the cut a brief page has."""
MARKS = {"done": "x", "next": ">", "waits": " "}
"""What stands before a task."""


def work_text(page: WorkPage, look: Look, *, brief: bool = False) -> str:
    """Return what `plan` says of one roof; `brief` keeps the answer, what is next and the hard stops not met."""
    lines = [look.bold(page.name), *look.wrapped(page.subtitle)]
    lines += heading(look, page.says)
    lines += fact_lines(page.facts, look)
    lines += heading(look, "Can be begun now")
    for task in page.next_up[:BRIEF_ROWS] if brief else page.next_up:
        lines += _task(task, look, brief=brief)
    if not page.next_up:
        lines += ["Nothing."]
    lines += heading(look, f"Of {len(page.rows)} judgements {page.tally.text()}.")
    for row in page.rows:
        lines += row_lines(row, look, brief=brief)
    if brief:
        lines += _go(page.go, look, brief=True)
        return as_text([*lines, *caution_lines(page.cautions, look)])
    for chapter in page.chapters:
        lines += _chapter(chapter, look)
    lines += look.wrapped("x done, > can be begun, * sets the finish, o the roof is open. Tick with --tick TASK.")
    for grid in (page.shorten, page.holds_open):
        if grid.rows:
            lines += grid_lines(grid, look)
    if page.cut_day:
        lines += heading(look, "The day of the cut") + points(page.cut_day, look)
    lines += heading(look, "Rain cover") + points(page.rain_cover, look)
    lines += _go(page.go, look, brief=False)
    lines += heading(look, "The way back: the hole closed with the shell fixed") + look.wrapped(page.way_back_says)
    for task in page.way_back:
        lines += look.wrapped(f"- {task.name} ({_beside(task.hours, task.helpers)})", 2, 0)
    lines += heading(look, "Taken for granted") + points(page.said, look)
    return as_text([*lines, *caution_lines(page.cautions, look)])


def ticked_text(page: WorkPage, look: Look) -> str:
    """Return what is left once a task was ticked off: the answer, and what can be begun."""
    lines = [*look.wrapped(page.says)]
    lines += heading(look, "Can be begun now")
    for task in page.next_up[:BRIEF_ROWS]:
        lines += _task(task, look, brief=True)
    return as_text(lines or ["Nothing."])


def _beside(*words: str) -> str:
    return ", ".join(word for word in words if word)


def _task(task: TaskRow, look: Look, *, brief: bool) -> list[str]:
    lines = look.wrapped(f"- {task.name} [{task.id}]: {task.begins}, {_beside(task.hours, task.helpers)}", 2, 0)
    if not brief:
        lines += look.wrapped(f"Tools: {task.tools}.", 2) if task.tools else []
        lines += look.wrapped(task.note, 2) if task.note else []
        lines += look.wrapped(f"Help: {task.help.title} on the board; {task.help.sheet} ({task.help.command}).", 2)
    return lines


def _chapter(chapter: WorkChapter, look: Look) -> list[str]:
    lines = heading(look, f"{chapter.title}: {chapter.done} of {len(chapter.tasks)} done")
    where = chapter.help
    lines += look.wrapped(f"Help: {where.title} on the board; {where.sheet} ({where.command}).")
    for task in chapter.tasks:
        signs = f"{MARKS[task.state]}{'*' if task.critical else ' '}{'o' if task.roof_open else ' '}"
        when = task.ends if task.begins == task.ends else f"{task.begins} to {task.ends}"
        waits = f"then wait to {task.free_from}" if task.free_from else ""
        spare = f"may be {task.slack} late" if task.slack not in ("", "none") else ""
        told = f"{task.name} [{task.id}]: {_beside(when, task.hours, task.helpers, waits, spare)}"
        body = look.wrapped(told, 4)
        lines += [f"{signs} {body[0][4:]}", *body[1:]]
    return lines


def _grouped(lines: Iterable[GoLine]) -> list[tuple[GoLine, list[str]]]:
    """Return lines with those together that ask for the same of parts."""
    found: dict[object, tuple[GoLine, list[str]]] = {}
    for number, line in enumerate(lines):
        key: object = (line.status, line.do) if line.status else number
        found.setdefault(key, (line, []))[1].append(line.what)
    return list(found.values())


def _go(go: GoPage, look: Look, *, brief: bool) -> list[str]:
    lines = heading(look, go.says)
    groups = _grouped(go.unmet)
    for line, whats in groups[:BRIEF_ROWS] if brief else groups:
        lines += _go_line(line, whats, look)
    if brief and len(groups) > BRIEF_ROWS:
        lines += look.wrapped(f"{len(groups) - BRIEF_ROWS} more without --brief.")
    if brief:
        return lines
    if go.on_assumption:
        lines += heading(look, "Met, but only on numbers that nobody has measured")
        for line in go.on_assumption:
            lines += look.wrapped(f"- {line.what}: {', '.join(line.rests_on)}", 2, 0)
    if go.road:
        lines += heading(look, "Before the first fast road") + points(go.road, look)
    if go.wishes:
        lines += heading(look, "No hard stop, but not so yet")
        for line, whats in _grouped(go.wishes):
            lines += _go_line(line, whats, look)
    return lines


def _go_line(line: GoLine, whats: list[str], look: Look) -> list[str]:
    word = look.verdict(line.verdict)
    wide = len(Look().verdict(line.verdict))
    said = whats[0] if len(whats) == 1 else f"{len(whats)} parts: {'; '.join(whats)}"
    told = look.wrapped(f"{said}: {line.status}" if line.status else said, wide)
    told[0] = word + told[0][wide:]
    return [*told, *(look.wrapped(f"Do: {line.do}", wide) if line.do else [])]
