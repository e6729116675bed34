"""Readings at the van: one hand, a phone, a link that comes and goes.

Phones reach the board by plain http on the local network, where browsers keep no page for later (they run no service
worker there). So the page must be open before the link is lost; from then on it needs none: what is typed and what is
saved stays on the phone and is sent when the link is back.
"""

from __future__ import annotations

import asyncio
import secrets
from dataclasses import dataclass, field
from typing import Any, Final

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from loftwright.answers.board_home import BoardHome
from loftwright.answers.board_readings import LABELS, SCALES, USUAL, misread, reading_changes, reading_sheet, stands
from loftwright.board.desk import Desk
from loftwright.board.page import Page, View
from loftwright.board.pages.proof import plan_of
from loftwright.board.said import OF_FILE, Action, Form, Said
from loftwright.documents.readings_sheet import readings_pdf

PATH: Final = "/readings"
TAKEN: Final = "readings taken"
"""The name by which the desk keeps which readings it has taken already."""
MOST_TAKEN: Final = 200
"""So many readings are remembered by the names that phones gave them."""
LONGEST_NAME: Final = 64


@dataclass(frozen=True, slots=True)
class Taken:
    """Readings taken since the program started, by the names that phones gave them; `run` names this start."""

    run: str = field(default_factory=lambda: secrets.token_hex(8))
    names: list[str] = field(default_factory=list)


def taken(desk: Desk) -> Taken:
    """Return what was taken since the program started."""
    found: Taken | None = desk.kept.get(TAKEN)
    if found is None:
        found = Taken()
        desk.kept[TAKEN] = found
    return found


async def context(desk: Desk, view: View, home: BoardHome | None) -> dict[str, Any]:
    """Return what is to be read next and what was read."""
    plan = plan_of(desk)
    # What the page's script goes by while there is no link.
    known = {
        "file": desk.open.path.name,
        "mark": desk.open.mark,
        "run": taken(desk).run,
        "set_now": plan.set_now,
        "how": SCALES,
        "usual": USUAL,
        "labels": LABELS,
        "units": {"force": plan.force_unit, "doubt": plan.force_unit, "temperature": plan.degree.removeprefix("°")},
        "stations": [
            {
                "key": one.key,
                "words": one.words,
                "how_open": one.how_open,
                "lip": one.lip,
                "way": one.way,
                "scale": one.scale,
                "first": one.first,
                "done": one.done,
            }
            for one in plan.stations
        ],
    }
    return {"plan": plan, "known": known, "labels": LABELS}


async def reading_add(desk: Desk, form: Form) -> Said:
    """Write a reading into the file, once however often it is sent.

    A phone gives each reading a name, and says which run of the program it first tried to send it to. Within one run
    names decide. After a restart names are forgotten: then an equal reading in the file is taken for the same one.
    """
    belongs = form.get(OF_FILE, "")
    if belongs and belongs != desk.open.mark:
        name = form.get("file") or "another file"
        there = "another file of that name" if name == desk.open.path.name else desk.open.path.name
        return Said(False, f"This reading is of {name}, and {there} is open: open the other first.")
    known, name = taken(desk), form.get("name", "")[:LONGEST_NAME]
    if name and name in known.names:
        return Said(True, "Saved before.")
    changes, words = reading_changes(desk.project, form)
    before, doubtful = form.get("run", ""), ""
    if not (name and before and before != known.run and stands(desk.open.text, changes)):
        plan = plan_of(desk)
        desk.change(changes, f"reading: {words}")
        doubtful = misread(desk.project, plan, form.get("station", ""))
    if name:
        known.names.append(name)
        del known.names[:-MOST_TAKEN]
    return Said(True, doubtful or f"Saved: {words}.")


async def sheet(request: Request) -> Response:
    """Send the paper sheet for readings."""
    desk: Desk = request.app.state.desk
    if desk.history is None:
        return RedirectResponse("/start", 303)
    made = await asyncio.to_thread(readings_pdf, reading_sheet(desk.project))
    return Response(made, media_type="application/pdf")


PAGE = Page(
    path=PATH,
    title="Readings at the van",
    template="readings.html",
    parts=("readings_plan", "readings_saved"),
    context=context,
    modules=("readings.js",),
    styles=("readings.css",),
)
ACTIONS: dict[str, Action] = {"reading_add": reading_add}
ROUTES: Final = (Route("/papers/readings.pdf", sheet),)
