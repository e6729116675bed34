"""Sheets on the order of work: days, tasks to tick, the open roof, go or no-go, the way back."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict
from typing import Any, Final

from loftwright.core.book_views import PAPER_MM, Paper
from loftwright.core.checks import Verdict
from loftwright.core.work_pages import GoLine, TaskRow, WorkChapter, WorkPage
from loftwright.documents.chapters import Chapter
from loftwright.documents.hold_pieces import grid_of, rows_of
from loftwright.documents.roof_sheet import sentence
from loftwright.documents.work_pictures import calendar_pictures, finish_picture, months_pictures
from loftwright.drawing.svg import svg

CALENDAR: Final = "Order of work"
MONTHS: Final = "Month by month"
TASKS: Final = "Tasks to tick"
OPEN: Final = "Days with the roof open"
GO: Final = "Go or no-go"
BACK: Final = "The way back"
NOT_YET: Final = (
    "No saw, no drill in the roof before the sheet on go and no-go is ticked to its end.",
    "Nothing that the cut needs is still on order when the saw comes out.",
    "Nobody under the shell before it is propped, and nobody alone at a spring.",
    "No cut before a wet weekend: no cover is as good as a closed roof.",
)
BACK_CARE: Final = (
    "A roof that is closed and tight is no defeat: everything that was bought can be used later.",
    "The shell stays latched and sealed on its ring, or bolted down all round; never only roped down on the road.",
)
_HEAD: Final = 46.0
"""Margins and heading of a page of pictures [mm]."""


def _tasks(tasks: Iterable[TaskRow]) -> list[dict[str, Any]]:
    return [
        {
            "name": task.name,
            "when": task.begins if task.begins == task.ends else f"{task.begins} to {task.ends}",
            "hours": task.hours,
            "helpers": task.helpers or "alone",
            "tools": task.tools,
            "note": task.note,
            "waits": f"then wait to {task.free_from}" if task.free_from else "",
            "slack": task.slack,
            "done": task.state == "done",
            "critical": task.critical,
            "roof_open": task.roof_open,
            "after": list(task.after),
            "help": f"{task.help.sheet} ({task.help.command})",
        }
        for task in tasks
    ]


def calendar(page: WorkPage, paper: Paper) -> Chapter:
    """Return when what is done: the answer, what comes first, odds of the finish, and the drawing of the days."""
    finish = finish_picture(page)
    first = page.next_up[0].begins if page.next_up else ""
    return {
        "kind": "calendar",
        "title": CALENDAR,
        "says": sentence(page.says),
        "facts": [asdict(fact) for fact in page.facts],
        "first": first,
        "next_up": _tasks(page.next_up),
        "finish": None if finish is None else svg(finish),
        "not_yet": list(NOT_YET),
        "rows": rows_of(page.rows),
        "pictures": [svg(one) for one in calendar_pictures(page, height=PAPER_MM[paper][1] - _HEAD)],
        "said": list(page.said),
    }


def months(page: WorkPage) -> Chapter:
    """Return the months as grids of days."""
    return {"kind": "months", "title": MONTHS, "pictures": [svg(one) for one in months_pictures(page)]}


def _chapter(chapter: WorkChapter) -> dict[str, Any]:
    return {
        "title": chapter.title,
        "done": f"{chapter.done} of {len(chapter.tasks)} done",
        "help": f"{chapter.help.sheet} ({chapter.help.command})",
        "tasks": _tasks(chapter.tasks),
    }


def tasks(page: WorkPage) -> Chapter:
    """Return every task with who, tools, hours and a box."""
    return {"kind": "tasks", "title": TASKS, "chapters": [_chapter(one) for one in page.chapters]}


def open_roof(page: WorkPage) -> Chapter:
    """Return what holds the roof open, what shortens it, the day of the cut and the rain cover."""
    return {
        "kind": "open-roof",
        "title": OPEN,
        "grids": [grid_of(grid) for grid in (page.shorten, page.holds_open) if grid.rows],
        "cut_day": [sentence(text) for text in page.cut_day],
        "rain_cover": [sentence(text) for text in page.rain_cover],
        "cautions": [caution.text for caution in page.cautions],
    }


def _go_line(line: GoLine) -> dict[str, Any]:
    return {
        "what": sentence(line.what).rstrip("."),
        "verdict": line.verdict.value,
        "state": line.status or ("" if line.verdict is Verdict.HOLDS else line.verdict.value),
        "basis": line.basis,
        "do": sentence(line.do),
        "rests_on": ", ".join(line.rests_on),
    }


def _go_lines(lines: Iterable[GoLine], *, parts: bool) -> list[dict[str, Any]]:
    return [_go_line(line) for line in lines if bool(line.status) == parts]


def go(page: WorkPage) -> Chapter:
    """Return the list before the cut: what is not so first, with boxes for yes and no."""
    return {
        "kind": "go",
        "title": GO,
        "go": page.go.go,
        "says": sentence(page.go.says),
        "unmet": _go_lines(page.go.unmet, parts=False),
        "parts": _go_lines(page.go.unmet, parts=True),
        "assumed": [_go_line(line) for line in page.go.on_assumption],
        "met": [_go_line(line) for line in page.go.met],
        "wishes": _go_lines(page.go.wishes, parts=False),
        "later": _go_lines(page.go.wishes, parts=True),
        "cautions": [caution.text for caution in page.cautions],
    }


def way_back(page: WorkPage) -> Chapter:
    """Return how the hole is closed with the shell fixed, if going on makes no sense."""
    return {
        "kind": "way-back",
        "title": BACK,
        "says": sentence(page.way_back_says),
        "tasks": _tasks(page.way_back),
        "care": list(BACK_CARE),
    }
