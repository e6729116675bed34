"""The first ten minutes: one question, five numbers, what they come to at once, and the new project's file."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from loftwright.answers import board_start as first
from loftwright.answers.board_home import BoardHome
from loftwright.answers.new_name import FIRST_NAME, SUFFIX, file_name, fresh_name
from loftwright.board.desk import Desk
from loftwright.board.page import Page, View, environment
from loftwright.board.said import Action, Form, Said, refused
from loftwright.core.choices import Units
from loftwright.core.errors import Fault, LoftwrightError, ProjectFault
from loftwright.documents.ornaments import Ready
from loftwright.documents.start_pictures import lifting_picture, start_picture
from loftwright.project.demos import DEMOS
from loftwright.project.file import folder_projects, write_new
from loftwright.project.newfile import from_demo

UNITS: tuple[Units, ...] = ("metric", "imperial")
USUAL_WIDTH = 640.0
ASKED = ("units", first.LIFTS, *(number.name for number in first.NUMBERS))
"""Fields of the form that are answers."""


async def context(desk: Desk, view: View, home: BoardHome | None) -> dict[str, Any]:
    """Return the project files of the folder and the demos, which may come and go."""
    there = [path.name for path in folder_projects(desk.folder) if desk.holds(path)]
    now = "" if desk.history is None else desk.history.path.name
    return {
        "files": [name for name in there if name != now],
        "open_now": now,
        "demos": [(name, about, f"{name}{SUFFIX}" in there) for name, about in DEMOS.items()],
        "folder": desk.folder.name,
    }


async def still(desk: Desk, view: View, home: BoardHome | None) -> dict[str, Any]:
    """Return the questions with the answers of the address, and what these come to."""
    asked = first.Asked.of(view.query)
    named = _named(desk)
    return {
        "lifting": first.WAYS,
        "numbers": first.NUMBERS,
        "have": first.HAVE,
        "asked": asked,
        "texts": dict.fromkeys((number.name for number in first.NUMBERS), "") | dict(asked.texts),
        "picture_of": lifting_picture,
        "name": view.query.get("name") or (named.removesuffix(SUFFIX) if named else fresh_name(_taken(desk))),
        "named": named,
        "examples": _examples(asked),
        "sliders": _sliders(),
    } | await _looked(desk, asked if any(name in view.query for name in ASKED) else None, USUAL_WIDTH)


def _named(desk: Desk) -> str:
    """Return the file that was named when the program started and is still to be made."""
    return desk.wanted.name if desk.history is None and desk.wanted is not None else ""


def _taken(desk: Desk) -> list[str]:
    """Return the names of the folder's files; none where it cannot be looked into."""
    try:
        return [path.name.casefold() for path in desk.folder.iterdir()]
    except OSError:
        return []


def _examples(asked: first.Asked) -> dict[str, str]:
    """Return what a number looks like, by its field."""
    found = {}
    for number in first.NUMBERS:
        found[number.name] = first.slider_texts(number, asked.units)[first.slider_start(number, asked.units)]
    return found


def _sliders() -> Ready:
    """Return the texts at which sliders stop, by units and field, for the page's script."""
    made = {
        units: {
            number.name: {"texts": first.slider_texts(number, units), "start": first.slider_start(number, units)}
            for number in first.NUMBERS
        }
        for units in UNITS
    }
    # No "<" may stand in a script element's text.
    return Ready(json.dumps(made, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c"))


async def _looked(desk: Desk, asked: first.Asked | None, width: float) -> dict[str, Any]:
    """Return what the answers come to, with its drawing; nothing before there are any."""
    if asked is None:
        return {"look": None, "first_picture": "", "faults": {}}
    look = await desk.verdicts.run(first.look, asked)
    picture = ""
    if look.scene is not None and look.poses is not None:
        picture = start_picture(look.scene, look.poses, asked.units, width_px=width)
    return {"look": look, "first_picture": picture, "faults": dict(look.faults)}


async def look(request: Request) -> Response:
    """Answer what the answers so far come to, as a part of the page with the faults of the fields."""
    desk: Desk = request.app.state.desk
    async with request.form(max_files=0, max_fields=100) as form:
        given = {name: text for name, text in form.items() if isinstance(text, str)}
    try:
        filled = await _looked(desk, first.Asked.of(given), _width(given))
    except LoftwrightError as error:
        return JSONResponse(refused(error).as_json(), 422)
    found: first.Look = filled["look"]
    return JSONResponse(
        {
            "ok": True,
            "parts": {
                name: environment().get_template(f"parts/{name}.html").render(filled)
                for name in ("start_look", "start_short")
            },
            "faults": dict(found.faults),
            "taken": dict(found.taken),
            "at": dict(found.at),
        }
    )


def _width(form: Mapping[str, str]) -> float:
    text = form.get("width", "")
    return float(text) if text.isdecimal() and len(text) <= 5 else USUAL_WIDTH


async def begin(desk: Desk, form: Form) -> Said:
    """Write the new project's file, never over another one, and open it."""
    asked = first.Asked.of(form)
    named = _named(desk)
    name = form.get("name", "").strip()
    try:
        target = desk.folder.joinpath(named or file_name(name))
        _write(target, first.new_text(asked, name or FIRST_NAME))
    except ProjectFault as error:
        at_fields, rest = first.field_faults(error)
        faults = (*at_fields, *(("name", said) for said in rest))
        return Said(False, " ".join(said for _, said in faults), faults)
    desk.take(target)
    return Said(True, f"Written: {target.name}.", go="/")


async def demo(desk: Desk, form: Form) -> Said:
    """Open a copy of a made-up roof; one that lies in the folder already is opened as it is."""
    text = from_demo(form["demo"])
    target = desk.folder.joinpath(f"{form['demo']}{SUFFIX}")
    if not target.exists():
        _write(target, text)
    desk.take(target)
    return Said(True, f"Opened: {target.name}.", go="/")


def _write(target: Path, text: str) -> None:
    """Write a new file. Errors: ProjectFault, whatever the disk says."""
    try:
        write_new(target, text)
    except OSError as error:
        given = f"not written ({error.strerror or 'the disk refuses it'})"
        raise ProjectFault(
            [Fault(target.name, given, "the folder must be writable", "make room, or choose another name")]
        ) from None


PAGE = Page(
    path="/start",
    title="Begin a roof",
    template="start.html",
    parts=("start_files",),
    context=context,
    still=still,
    modules=("start.js",),
    styles=("start.css",),
    without_project=True,
)
ACTIONS: dict[str, Action] = {"begin": begin, "demo": demo}
ROUTES = (Route("/start/look", look, methods=["POST"]),)
