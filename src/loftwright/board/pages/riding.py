"""The page on what rides on the roof: seal, room to stand, panel and wire, powered lift, lining."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, cast

from loftwright.answers.board_home import BoardHome
from loftwright.answers.board_riding import CAUTIONS, BoardRiding, headings_table
from loftwright.answers.decisions import DECISIONS, RIDING
from loftwright.answers.fields import fieldsets
from loftwright.board.desk import Desk
from loftwright.board.page import Page, View, other_newest
from loftwright.board.pages.walls import BEING_RECKONED
from loftwright.board.said import Action, Form, Said
from loftwright.core.fitting_pages import Offered
from loftwright.core.views import Grid
from loftwright.documents.fitting_pictures import lift_table
from loftwright.documents.ornaments import Ready
from loftwright.documents.riding_board import riding_drawings
from loftwright.project.typed import typed

CHANGED = "The fit-out was judged anew meanwhile: look again, nothing was written."
LIFT_NOTE = "Cold and wet. Negative: the roof pushes or pulls the other way, and the actuator holds it back"


def mark_of(offered: Iterable[Offered]) -> str:
    """Return what tells one offer from another."""
    return "; ".join(f"{one.path}={one.text}" for one in offered)


async def take(desk: Desk, form: Form) -> Said:
    """Write what the fit-out gives for the rest of the file: the seal's push, and the lining's weight."""
    found = cast("BoardRiding | None", await desk.other(RIDING, wait=0, at_once=True))
    if found is None:
        return Said(False, BEING_RECKONED.replace("walls are", "fit-out is"))
    offered = found.page.offered
    if mark_of(offered) != form["offered"]:
        return Said(False, CHANGED)
    if not offered:
        return Said(False, "There is nothing to take over.")
    desk.change({one.path: typed(one.path, one.text) for one in offered}, "seal and lining taken over")
    return Said(True, "Saved: seal and lining are in the file for the balance. Undo takes it back.")


async def context(desk: Desk, view: View, home: BoardHome | None) -> dict[str, Any]:
    """Return everything on the fit-out, and the forms."""
    history = desk.open
    newest, is_before, refused = await other_newest(desk, RIDING)
    found = cast("BoardRiding | None", newest)
    page = None if found is None else found.page
    drawn = {} if page is None else riding_drawings(page, width_px=view.width)
    lift = () if page is None else lift_table(page)
    lists = (Grid("What one actuator does over the travel", ("Open", "Raising", "Lowering"), lift, LIFT_NOTE),)
    return {
        "here": next(one for one in DECISIONS if one.path == RIDING),
        "fieldsets": fieldsets(
            history.project, history.text, RIDING, () if found is None or is_before else found.open_checks
        ),
        "rows": () if found is None else found.rows,
        "shown": page,
        "sections": () if page is None else page.sections,
        "lists": lists if lift else (),
        "pictures": {part: tuple(Ready(one) for one in made) for part, made in drawn.items()},
        "before": is_before and page is not None,
        "refused": refused,
        "sun": None if page is None else headings_table(page.sun),
        "taken": () if page is None or is_before else page.offered,
        "offered": "" if page is None else mark_of(page.offered),
        "cautions": CAUTIONS,
    }


PAGE = Page(
    path=RIDING,
    title="What rides on it",
    template="riding.html",
    parts=("ridesays", "ridemore", "ridesun", "ridetaken", "holdtables", "pageverdicts", "fields"),
    context=context,
    modules=("hold.js", "headings.js"),
    styles=("fields.css", "hold.css", "riding.css"),
    sized=True,
)
ACTIONS: dict[str, Action] = {"riding-take": take}
