"""The drawing board itself: do next, the drawing, curves, verdicts."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from loftwright.answers.board_home import BoardHome
from loftwright.answers.decisions import HOME
from loftwright.answers.solid_view import solid
from loftwright.answers.trial import trial
from loftwright.board.desk import Desk
from loftwright.board.page import Page, View, sentences
from loftwright.core.errors import LoftwrightError
from loftwright.core.wording import Wording
from loftwright.documents.board_picture import picture
from loftwright.documents.solid_picture import solid_picture


async def context(desk: Desk, view: View, home: BoardHome | None) -> dict[str, Any]:
    """Return nothing more than the frame's own: the roof judged says it all."""
    return {}


async def still(desk: Desk, view: View, home: BoardHome | None) -> dict[str, Any]:
    """Return the drawing of the open project, or why there is none."""
    project = desk.project
    try:
        made = picture(trial(project, draws=project.settings.draws), width_px=view.width, units=project.settings.units)
    except LoftwrightError as error:
        return {"picture": None, "no_drawing": sentences(error)}
    return {"picture": made, "no_drawing": ()}


async def in_space(request: Request) -> Response:
    """Send the roof in three dimensions."""
    desk: Desk = request.app.state.desk
    try:
        project = desk.project
        made = solid_picture(solid(project), Wording(project.settings.units), name=project.name)
    except LoftwrightError as error:
        return JSONResponse({"said": " ".join(sentences(error))}, 422)
    return JSONResponse(made)


ROUTES = (Route("/solid.json", in_space),)
PAGE = Page(
    path=HOME,
    title="Drawing board",
    template="home.html",
    parts=("donext", "odds", "verdicts", "cautions"),
    context=context,
    still=still,
    draws=True,
    modules=("drawing.js", "solid-opener.js"),
    styles=("drawing.css", "solid.css"),
    trial_parts=("odds", "verdicts"),
)
