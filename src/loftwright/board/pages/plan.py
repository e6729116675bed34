"""The page on the order of work: what is next, days, the open roof, go or no-go, and the cards of the hand-over."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final, cast

from loftwright.answers.board_home import BoardHome
from loftwright.answers.board_plan import HOURS, BoardPlan, hour_of, hours_changes, hours_of, ticked
from loftwright.answers.decisions import DECISIONS, PLAN
from loftwright.answers.fields import fieldsets
from loftwright.board.desk import Desk
from loftwright.board.page import Page, View, other_newest
from loftwright.board.said import Action, Form, Said, refused
from loftwright.core.errors import ProjectFault
from loftwright.core.views import Grid
from loftwright.core.work_pages import GoLine, GoPage, HandOverPage
from loftwright.documents.ornaments import Ready
from loftwright.documents.riding_board import calendar_drawings, finish_drawing

SIGNS: Final = {"done": "✓", "next": "▸", "waits": "…"}
"""A sign beside the word that says how a task stands."""
FEW: Final = 12
"""So many lines of the list before the cut are shown before the rest folds away."""


def _task_named(found: BoardPlan | None, task: str) -> str:
    chapters = () if found is None else found.page.chapters
    name = next((one.name for chapter in chapters for one in chapter.tasks if one.id == task), task)
    return name.partition(":")[0]


async def tick(desk: Desk, form: Form) -> Said:
    """Tick a task off on a day, today where none is given, or take the tick away."""
    found = cast("BoardPlan | None", (await other_newest(desk, PLAN))[0])
    done = form.get("done", "yes") == "yes"
    try:
        changes = ticked(desk.project, form["task"], form.get("on", "").strip(), done=done)
    except ProjectFault as error:
        said = refused(error)
        return Said(
            False, said.said, tuple(("on" if where == "The day" else where, text) for where, text in said.faults)
        )
    if not changes:
        return Said(True, "Nothing was changed.")
    what = f"{_task_named(found, form['task'])}: {'done' if done else 'not done after all'}"
    desk.change(changes, what)
    return Said(True, f"Saved: {what}. The rest is planned anew.")


async def hours(desk: Desk, form: Form) -> Said:
    """Write the builder's own hours for a task."""
    history = desk.open
    found = cast("BoardPlan | None", (await other_newest(desk, PLAN))[0])
    try:
        changes = hours_changes(history.project, history.text, form["task"], form)
        if not changes:
            return Said(True, "Nothing was changed.")
        what = f"{_task_named(found, form['task'])}: your own hours"
        desk.change(changes, what)
    except ProjectFault as error:
        said = refused(error)
        return Said(False, said.said, tuple((hour_of(where), text) for where, text in said.faults))
    return Said(True, f"Saved: {what}. The rest is planned anew.")


# --- the page ------------------------------------------------------------------------------------------


def _before(go: GoPage | None) -> tuple[tuple[str, str, tuple[GoLine, ...], bool], ...]:
    """Return the list before the cut in parts: a key, a title, its lines, and whether it stands open."""
    if go is None:
        return ()
    work = tuple(line for line in go.unmet if not line.status)
    bought = tuple(line for line in go.unmet if line.status)
    every = (
        ("unmet", "Not met yet: work and measuring", work, True),
        ("parts", "Not met yet: parts that are not in the garage", bought, len(bought) <= FEW),
        ("rough", "Met, but on numbers that nobody has measured", go.on_assumption, len(go.on_assumption) <= FEW),
        ("met", "Met", go.met, False),
        ("wishes", "Wishes, no hard stops", go.wishes, False),
    )
    return tuple(one for one in every if one[2])


def _card_lists(cards: HandOverPage | None) -> tuple[Grid, ...]:
    if cards is None:
        return ()
    every = (cards.torques, cards.readings, cards.masses)
    return tuple(grid for grid in every if grid.rows)


def _services(cards: HandOverPage | None) -> Mapping[str, list[Any]]:
    """Return what is looked after by when it is."""
    found: dict[str, list[Any]] = {}
    for row in () if cards is None else cards.service:
        found.setdefault(row.when, []).append(row)
    return found


async def context(desk: Desk, view: View, home: BoardHome | None) -> dict[str, Any]:
    """Return everything on the order of work, and the forms."""
    history = desk.open
    newest, is_before, refused_by = await other_newest(desk, PLAN)
    found = cast("BoardPlan | None", newest)
    page = None if found is None else found.page
    cards = None if found is None else found.cards
    left, past = ((), ()) if page is None else calendar_drawings(page, width_px=view.width)
    sets = fieldsets(history.project, history.text, PLAN, () if found is None or is_before else found.open_checks)
    return {
        "here": next(one for one in DECISIONS if one.path == PLAN),
        "fieldsets": tuple(one for one in sets if not one.path.startswith("todo.")),
        "entries": tuple(one for one in sets if one.path.startswith("todo.")),
        "rows": () if found is None else found.rows,
        "shown": page,
        "cards": cards,
        "why": "" if found is None else found.why,
        "before": is_before and page is not None,
        "refused": refused_by,
        "days": tuple(Ready(one) for one in left),
        "past": tuple(Ready(one) for one in past),
        "finish": Ready("" if page is None else finish_drawing(page, width_px=view.width)),
        "before_cut": _before(None if page is None else page.go),
        "own_hours": hours_of(history.project, history.text),
        "hour_names": HOURS,
        "signs": SIGNS,
        "lists": () if page is None else tuple(grid for grid in (page.shorten, page.holds_open) if grid.rows),
        "card_lists": _card_lists(cards),
        "services": _services(cards),
    }


PAGE = Page(
    path=PLAN,
    title="Plan",
    template="plan.html",
    parts=(
        "plansays",
        "plandays",
        "plantasks",
        "planopen",
        "plango",
        "plancards",
        "planfaults",
        "planback",
        "pageverdicts",
        "planfields",
    ),
    context=context,
    modules=("hold.js", "filter.js"),
    styles=("fields.css", "hold.css", "buying.css", "plan.css"),
    sized=True,
)
ACTIONS: dict[str, Action] = {"plan-tick": tick, "plan-hours": hours}
