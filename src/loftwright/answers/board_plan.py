"""All that the drawing board shows of the order of work and the hand-over, and what its forms write.

What computes is imported where it is asked: the board's own process only carries and writes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from loftwright.answers.decisions import decisions, link_of
from loftwright.core.board_views import Decision
from loftwright.core.checks import Check, Verdict
from loftwright.core.errors import Fault, LoftwrightError, ProjectFault
from loftwright.core.field_views import Link
from loftwright.core.views import CheckRow
from loftwright.core.work_pages import HandOverPage, WorkPage
from loftwright.project.model import Project
from loftwright.project.typed import Value
from loftwright.project.written import WAS_FIELD, changed, written

HOURS: Final = {"least": "At least", "likely": "Likely", "most": "At most"}
"""Keys of [[todo]] for the builder's own hours, and what they are called."""


@dataclass(frozen=True, slots=True)
class BoardPlan:
    """The order of work of one roof: its page, the cards of the hand-over, how the decisions stand, what fails.

    `cards` is None where the roof cannot be put together; `why` says so. `links` are as long as `page.rows`.
    """

    page: WorkPage
    cards: HandOverPage | None
    why: str
    decisions: tuple[Decision, ...]
    links: tuple[Link, ...]
    open_checks: tuple[Check, ...]

    @property
    def rows(self) -> tuple[tuple[CheckRow, Link], ...]:
        """The judgements, each with where it leads."""
        return tuple(zip(self.page.rows, self.links, strict=True))


def board_plan(project: Project, path: Path) -> BoardPlan:
    """Return the order of work and the cards, with the slow answers on the walls that are kept beside the file.

    Errors: ProjectFault where tasks wait for each other in a circle.
    """
    from loftwright.answers.hand_over import hand_over
    from loftwright.answers.hand_over_view import hand_over_page
    from loftwright.answers.kept_reading import kept_walls
    from loftwright.answers.work_plan import work_plan
    from loftwright.answers.work_view import work_page

    kept = kept_walls(path, project)
    outcome = work_plan(project, kept)
    cards, why = None, ""
    try:
        # What is bought or done changes no card.
        cards = hand_over_page(hand_over(project.model_copy(update={"bought": (), "todo": ()}), kept))
    except LoftwrightError as error:
        why = error.faults[0].sentence() if isinstance(error, ProjectFault) else f"{str(error).rstrip('.')}."
    return BoardPlan(
        work_page(outcome),
        cards,
        why,
        decisions(outcome.checks),
        tuple(link_of(project, check) for check in outcome.checks),
        tuple(check for check in outcome.checks if check.verdict is not Verdict.HOLDS),
    )


# --- what is filled in beside a task -------------------------------------------------------------------


def hours_of(project: Project, text: str) -> dict[str, dict[str, str]]:
    """Return the builder's own hours as the text of a file has them, by the path of each entry ("todo.0")."""
    there = written(text)
    return {
        f"todo.{number}": {name: there.text(f"todo.{number}.{name}") or "" for name in HOURS}
        for number in range(len(project.todo))
    }


def ticked(project: Project, task: str, on: str, *, done: bool) -> dict[str, Value | None]:
    """Return what ticking a task off on a day writes, today where that is empty, or what taking the tick away does.

    Errors: ProjectFault of a task that is not on the list, or of no day of the calendar.
    """
    from loftwright.answers.work_tick import tick_changes

    try:
        return tick_changes(project, task, on or None, done=done)
    except ProjectFault as error:
        # Said in the page's words, not in those of the command.
        words = {"--on": "The day", "--tick": "The task"}
        raise ProjectFault(
            [Fault(words.get(f.where, f.where), f.given, f.allowed, f.do) for f in error.faults]
        ) from None


def hours_changes(project: Project, text: str, task: str, form: Mapping[str, str]) -> dict[str, Value | None]:
    """Return what the builder's own hours of a task change in the file; an entry is made where there is none.

    `form` holds texts by `HOURS`, with what each showed under its name with `WAS_FIELD` behind it where it says so.
    Errors: ProjectFault of a task that is not on the list, or where another value stands there by now.
    """
    from loftwright.answers.work_flags import listed
    from loftwright.answers.work_tick import task_called

    name = task_called(project, task)
    number = listed(project).entry.get(name)
    at = len(project.todo) if number is None else number
    named = {
        f"todo.{at}.{key}{end}": form[f"{key}{end}"]
        for key in HOURS
        for end in ("", WAS_FIELD)
        if f"{key}{end}" in form
    }
    changes = changed(text, named)
    if number is None and changes:
        return {f"todo.{at}.task": name, **changes}
    return changes


def hour_of(place: str) -> str:
    """Return which of the hours a fault of the file speaks of by its place, the place itself where it is none.

    >>> hour_of("[[todo]] 3 likely")
    'likely'
    """
    return next((key for key in HOURS if place.startswith("[[todo]]") and place.endswith(f" {key}")), place)
