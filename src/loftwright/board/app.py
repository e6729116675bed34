"""The web application: pages, actions, files, and one websocket for each tab."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from importlib.resources import files
from typing import Any

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from starlette.routing import Mount, Route, WebSocketRoute
from starlette.staticfiles import StaticFiles
from starlette.types import ASGIApp

from loftwright.board.actions import ACTIONS, is_of_other_file
from loftwright.board.desk import Desk
from loftwright.board.live import live
from loftwright.board.mistakes import mistake
from loftwright.board.page import HERE, Page, View, environment, not_shown, whole, whole_without
from loftwright.board.pages import (
    beside,
    forms,
    hold,
    home,
    lifts,
    motion,
    papers,
    parts,
    plan,
    proof,
    readings,
    riding,
    start,
    walls,
)
from loftwright.board.said import OTHER_FILE, Action, Form, Said, refused
from loftwright.core.errors import LoftwrightError
from loftwright.documents.board_picture import pens_css

PAGES: tuple[Page, ...] = (
    home.PAGE,
    *forms.PAGES,
    start.PAGE,
    lifts.PAGE,
    walls.PAGE,
    *hold.PAGES,
    riding.PAGE,
    parts.PAGE,
    plan.PAGE,
    proof.PAGE,
    readings.PAGE,
    papers.PAGE,
    beside.PAGE,
)
LOOK_COOKIE = "loftwright-look"
LOOKS = ("light", "dark")


def pages() -> dict[str, Page]:
    """Return the pages by their paths."""
    return {page.path: page for page in PAGES}


def actions() -> dict[str, Action]:
    """Return what can be done, by name."""
    return {
        **ACTIONS,
        **start.ACTIONS,
        **lifts.ACTIONS,
        **walls.ACTIONS,
        **hold.ACTIONS,
        **riding.ACTIONS,
        **parts.ACTIONS,
        **plan.ACTIONS,
        **motion.ACTIONS,
        **beside.ACTIONS,
        **proof.ACTIONS,
        **readings.ACTIONS,
        **papers.ACTIONS,
    }


def wants_json(request: Request) -> bool:
    """Return whether the page's script asks, not a browser that shows what comes."""
    return "application/json" in request.headers.get("accept", "")


def view_of(request: Request) -> View:
    """Return what a request looks at."""
    look = request.cookies.get(LOOK_COOKIE, "")
    return View(dict(request.query_params), look=look if look in LOOKS else "")


async def show(request: Request) -> Response:
    """Send a page; before there is a project, the first questions."""
    desk: Desk = request.app.state.desk
    page = pages()[request.scope["path"]]
    if desk.history is None and not page.without_project:
        return RedirectResponse("/start", 303)
    view = view_of(request)
    try:
        return HTMLResponse(await whole(page, desk, view))
    except Exception as error:
        return HTMLResponse(await whole_without(page, desk, view, not_shown(error)), status_of(error))


def status_of(error: Exception) -> int:
    """Return how an answer that failed is marked: what the builder can mend, or a mistake of the program."""
    return 422 if isinstance(error, LoftwrightError) else 500


async def failed(request: Request, error: Exception) -> Response:
    """Say why there is no answer, where nothing nearer to it has."""
    said = not_shown(error)
    if wants_json(request):
        return JSONResponse(Said(False, " ".join(said)).as_json(), status_of(error))
    page = environment().get_template("refused.html")
    return HTMLResponse(page.render(said=Said(False, " ".join(said)), back="/"), status_of(error))


async def act(request: Request) -> Response:
    """Do what a form asks for; a fault is a sentence, and what was typed stays in the browser."""
    desk: Desk = request.app.state.desk
    action = actions().get(request.path_params["name"])
    if action is None:
        return _answer(request, Said(False, "There is no such action."), 404)
    async with request.form(max_files=0, max_fields=1000) as form:
        given = Form((name, text) for name, text in form.items() if isinstance(text, str))
    status = 422
    try:
        other = is_of_other_file(desk, request.path_params["name"], given)
        said = Said(False, OTHER_FILE) if other else await action(desk, given)
    except LoftwrightError as error:
        said = refused(error)
    except Exception as error:
        said, status = Said(False, mistake(error)), status_of(error)
    said = said.spelled(*desk.spelling())
    return _answer(request, said, 200 if said.ok else status, given.get("back", "/"))


def _answer(request: Request, said: Said, status: int, back: str = "/") -> Response:
    if wants_json(request):
        return JSONResponse(said.as_json(), status)
    if said.ok:
        return RedirectResponse(said.go or _of_board(back), 303)
    return HTMLResponse(environment().get_template("refused.html").render(said=said, back=_of_board(back)), status)


def _of_board(back: str) -> str:
    """Return an address of the board itself to go back to; the first page in place of any other."""
    # Browsers leave out line ends and tabs, and take a backslash for a slash.
    known = back.startswith("/") and not back.startswith("//") and "\\" not in back and back.isprintable()
    return back if known else "/"


async def look(request: Request) -> Response:
    """Keep the choice of light, dark or as the system has it."""
    wanted = request.path_params["look"]
    back = request.query_params.get("back", "/")
    answer = RedirectResponse(_of_board(back), 303)
    if wanted in LOOKS:
        answer.set_cookie(LOOK_COOKIE, wanted, max_age=YEAR, samesite="lax", httponly=True)
    else:
        answer.delete_cookie(LOOK_COOKIE)
    return answer


YEAR = 31_536_000


async def pens(request: Request) -> Response:
    """Send the pens of all drawings, light and dark."""
    return Response(pens_css(), media_type="text/css")


def fonts() -> ASGIApp:
    """Return the files of the fonts that come along."""
    return StaticFiles(directory=str(files("loftwright.documents") / "fonts"))


def build(desk: Desk) -> Starlette:
    """Return the application around one desk; the server stands a guard around it that lets requests in."""

    @asynccontextmanager
    async def lifespan(app: Starlette) -> AsyncIterator[None]:
        try:
            yield
        finally:
            desk.close()

    routes = [
        *(Route(page.path, show) for page in PAGES),
        *home.ROUTES,
        *start.ROUTES,
        *readings.ROUTES,
        *papers.ROUTES,
        *parts.ROUTES,
        Route("/do/{name}", act, methods=["POST"]),
        Route("/look/{look}", look, methods=["POST"]),
        WebSocketRoute("/live", live),
        Route("/static/pens.css", pens),
        Mount("/static/fonts", fonts()),
        Mount("/static", StaticFiles(directory=HERE / "static")),
    ]
    nets: dict[Any, Any] = {LoftwrightError: failed, Exception: failed}
    app = Starlette(routes=routes, lifespan=lifespan, exception_handlers=nets)
    app.state.desk = desk
    app.state.pages = pages()
    return app
