"""The papers of the open project, made when they are asked for, in another process."""

from __future__ import annotations

import re
from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from typing import Any, Final, cast, get_args
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from loftwright.answers.book import BookChoice
from loftwright.answers.new_name import SUFFIX
from loftwright.board import work
from loftwright.board.desk import Desk
from loftwright.board.page import environment, sentences
from loftwright.core.book_views import BOOK_SHEETS, REST_SHEETS, BookSheet, HoldSheet, Paper, WallSheet
from loftwright.core.errors import Fault, LoftwrightError, ProjectFault
from loftwright.documents.hold_book import HOLD_SHEETS
from loftwright.project.from_answers import units_of

PDF, HTML = "application/pdf", "text/html; charset=utf-8"
WALL_SHEETS: Final[tuple[WallSheet, ...]] = get_args(WallSheet)
PATTERNS: Final[dict[str, tuple[work.PatternKind, str]]] = {
    "patterns.pdf": ("tiles", PDF),
    "patterns-long.pdf": ("long", PDF),
    "patterns.dxf": ("dxf", "image/vnd.dxf"),
    "patterns-svg.zip": ("svg", "application/zip"),
}
"""The patterns' files: how each is made, and its kind."""
PAPERS: Final = get_args(Paper)
HEIGHTS: Final = ("low", "true")
SPRINGS: Final = ("planned", "searched")
FOLDER: Final = "/papers"
ChoiceOf = Callable[[Desk], BookChoice | None]
"""What finds the search for springs that was made of the open roof as it is now."""
_UNSAFE: Final = re.compile(r"[^A-Za-z0-9._-]+")


@dataclass(frozen=True, slots=True)
class Wanted:
    """How papers are wanted: size (None: as the units have it), height of the timber frame, and with which springs."""

    paper: Paper | None = None
    height: str = "low"
    springs: str = "planned"


def wanted(query: Any) -> Wanted:
    """Return how an address wants papers. Errors: ProjectFault with a sentence for each word that is not known."""
    faults: list[Fault] = []

    def one_of(name: str, where: str, allowed: tuple[str, ...], usual: str) -> str:
        given = query.get(name) or usual
        if given and given not in allowed:
            faults.append(Fault(where, f'"{given[:40]}"', f"one of {', '.join(allowed)}", "choose one of these"))
        return str(given)

    paper = one_of("paper", "The paper", PAPERS, "")
    height = one_of("frame", "The timber frame's height", HEIGHTS, "low")
    springs = one_of("springs", "The springs", SPRINGS, "planned")
    if faults:
        raise ProjectFault(faults)
    return Wanted(cast(Paper, paper) if paper else None, height, springs)


def _choice(desk: Desk, springs: str, choice_of: ChoiceOf) -> BookChoice | None:
    """Return the search that a paper is to be made with. Errors: ProjectFault where it has not been made."""
    if springs != "searched":
        return None
    choice = choice_of(desk)
    if choice is None:
        do = "search for springs first, under Papers or What lifts it, or take them as planned"
        raise ProjectFault([Fault("The search for springs", "not there", "this roof has none as it is now", do)])
    return choice


async def _made(desk: Desk, make: Callable[..., bytes], *args: Any) -> bytes:
    """Return a paper; while a search fills the one process, the other one makes it."""
    worker = desk.verdicts if desk.long.busy else desk.long
    return await worker.run(make, *args)


def file_header(name: str, *, inline: bool) -> str:
    """Return the header that names a file: plain letters for all, its full name for those who can read it."""
    plain = _UNSAFE.sub("-", name.encode("ascii", "ignore").decode()).strip("-.") or "paper"
    way = "inline" if inline else "attachment"
    return f"{way}; filename=\"{plain}\"; filename*=UTF-8''{quote(name, safe='')}"


def _sent(data: bytes, kind: str, name: str, *, inline: bool = True) -> Response:
    return Response(data, media_type=kind, headers={"Content-Disposition": file_header(name, inline=inline)})


def _named(desk: Desk, what: str) -> str:
    return f"{desk.open.path.name.removesuffix(SUFFIX)}-{what}"


async def _measuring_sheet(request: Request, desk: Desk) -> Response:
    if desk.history is None or request.query_params.get("blank"):
        asked = request.query_params.get("units")
        units = units_of(asked or "metric") if asked or desk.history is None else desk.project.settings.units
        return _sent(await _made(desk, work.measuring_sheet, None, units), PDF, "measuring-sheet.pdf")
    data = await _made(desk, work.measuring_sheet, desk.project, desk.project.settings.units)
    return _sent(data, PDF, _named(desk, "measuring-sheet.pdf"))


async def _roof_pdf(request: Request, desk: Desk) -> Response:
    return _sent(await _made(desk, work.roof_sheet, desk.project), PDF, _named(desk, "roof.pdf"))


async def _roof_html(request: Request, desk: Desk) -> Response:
    # It brings its own script: it is a file to keep or send, not a page of the board.
    data = await _made(desk, work.roof_file, desk.project)
    return _sent(data, HTML, _named(desk, "roof.html"), inline=False)


async def _from_book(request: Request, desk: Desk, only: BookSheet | None, choice_of: ChoiceOf) -> Response:
    how, project = wanted(request.query_params), desk.project
    if only == "card" and how.springs != "searched":
        do = "take the springs as the search chooses"
        raise ProjectFault([Fault("The tuning card", "not there", "it comes from the search for springs", do)])
    choice = _choice(desk, how.springs, choice_of)
    try:
        asked = (project, desk.open.path, choice, only, how.paper, how.height)
        # What hangs on strength and walls is made where these are judged: it may be known there already.
        rest = only in REST_SHEETS
        data = await (desk.strength.run(work.book, *asked) if rest else _made(desk, work.book, *asked))
    except ProjectFault as error:
        raise _of_sheet(error, "look under What lifts it why") from None
    return _sent(data, PDF, _named(desk, f"{only or 'book'}.pdf"))


async def _on_strength(request: Request, desk: Desk, only: HoldSheet | None) -> Response:
    """Send the sheets on fit and strength, by the process that judges those: it may know them already."""
    how = wanted(request.query_params)
    try:
        data = await desk.strength.run(work.hold, desk.project, only, how.paper)
    except ProjectFault as error:
        raise _of_sheet(error, "look on the page of that name what is not known yet") from None
    return _sent(data, PDF, _named(desk, f"{only or 'fit-and-strength'}.pdf"))


async def _on_walls(request: Request, desk: Desk, only: WallSheet | None) -> Response:
    """Send the sheets on the walls, by the process that judges those: it may know them already."""
    how = wanted(request.query_params)
    try:
        data = await desk.strength.run(work.wall_sheets, desk.project, desk.open.path, only, how.paper)
    except ProjectFault as error:
        raise _of_sheet(error, "look on the page of the walls what is not known yet") from None
    return _sent(data, PDF, _named(desk, f"walls-{only}.pdf" if only else "walls.pdf"))


async def _pattern_file(request: Request, desk: Desk, name: str) -> Response:
    """Send the patterns at full size; what is no page to look at is saved."""
    how = wanted(request.query_params)
    kind, mime = PATTERNS[name]
    data = await desk.strength.run(work.patterns, desk.project, desk.open.path, kind, how.paper)
    return _sent(data, mime, _named(desk, name), inline=mime == PDF)


def _of_sheet(error: ProjectFault, do: str) -> ProjectFault:
    """Return faults in the page's words where they speak of an option of the terminal; `do` says what to do then."""
    return ProjectFault(
        [
            Fault("This sheet", fault.given, fault.allowed, do) if fault.where.startswith("--only") else fault
            for fault in error.faults
        ]
    )


def _known_sheet(request: Request, names: tuple[str, ...]) -> str:
    """Return the sheet that an address names. Errors: ProjectFault for one that does not exist."""
    name = str(request.path_params["name"])
    if name not in names:
        do = "choose it on the page of papers"
        raise ProjectFault([Fault("The sheet", f'"{name[:40]}"', f"one of {', '.join(names)}", do)])
    return name


def _route(path: str, make: Callable[[Request, Desk], Awaitable[Response]]) -> Route:
    async def answer(request: Request) -> Response:
        try:
            return await make(request, request.app.state.desk)
        except LoftwrightError as error:
            page = environment().get_template("paper_refused.html").render(said=sentences(error))
            return HTMLResponse(page, 422)

    return Route(f"{FOLDER}{path}", answer)


def routes(choice_of: ChoiceOf) -> tuple[Route, ...]:
    """Return the addresses of all papers; `choice_of` finds the search that belongs to the open roof."""

    async def book(request: Request, desk: Desk) -> Response:
        return await _from_book(request, desk, None, choice_of)

    async def sheet(request: Request, desk: Desk) -> Response:
        return await _from_book(request, desk, cast(BookSheet, _known_sheet(request, BOOK_SHEETS)), choice_of)

    async def strength(request: Request, desk: Desk) -> Response:
        return await _on_strength(request, desk, None)

    async def strength_sheet(request: Request, desk: Desk) -> Response:
        return await _on_strength(request, desk, cast(HoldSheet, _known_sheet(request, HOLD_SHEETS)))

    async def walls(request: Request, desk: Desk) -> Response:
        return await _on_walls(request, desk, None)

    async def wall_sheet(request: Request, desk: Desk) -> Response:
        return await _on_walls(request, desk, cast(WallSheet, _known_sheet(request, WALL_SHEETS)))

    async def pattern_file(request: Request, desk: Desk) -> Response:
        return await _pattern_file(request, desk, _known_sheet(request, tuple(PATTERNS)))

    return (
        _route("/measuring-sheet.pdf", _measuring_sheet),
        _route("/roof.pdf", _roof_pdf),
        _route("/roof.html", _roof_html),
        _route("/book.pdf", book),
        _route("/sheet/{name}.pdf", sheet),
        _route("/hold.pdf", strength),
        _route("/hold/{name}.pdf", strength_sheet),
        _route("/walls.pdf", walls),
        _route("/walls/sheet/{name}.pdf", wall_sheet),
        _route("/walls/{name}", pattern_file),
    )
