"""The page on the parts: what is bought, what it costs, what is there, how bars are cut, the list as a file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final, Literal, cast

from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from loftwright.answers.board_home import BoardHome
from loftwright.answers.board_parts import (
    CELLS,
    BoardParts,
    cell_of,
    cells_of,
    list_read,
    part_changes,
    parts_file,
    shown_groups,
)
from loftwright.answers.decisions import DECISIONS, PARTS
from loftwright.answers.fields import fieldsets
from loftwright.board.desk import Desk
from loftwright.board.page import Page, View, environment, other_newest, sentences
from loftwright.board.papers import file_header
from loftwright.board.said import Action, Form, Said, refused
from loftwright.core.errors import Fault, LoftwrightError, ProjectFault
from loftwright.documents.ornaments import Ready
from loftwright.documents.riding_board import bars_drawings
from loftwright.project.history import History
from loftwright.project.typed import Value

LIST: Final = f"{PARTS}/list.csv"
READ: Final = "the list of parts that was read"
MOST_LETTERS: Final = 200_000
"""A longer list is not read here; the command reads longer ones."""
MOST_SHOWN: Final = 50
"""So many mistakes of a list are shown; the others come once these are mended."""
ALL: Final = "all"
"""The button's field that says of which all is there: ordered, have, or with NONE in front none of it."""
NONE: Final = "no-"
SIGNS: Final = {"in the garage": "●", "only ordered": "◐", "not ordered": "○", "": "○"}
"""A sign beside the word that says where a part is."""


@dataclass(frozen=True, slots=True)
class Read:
    """What came of the list that was read last: of which file, whether it was taken, and what is said of it."""

    history: History
    ok: bool
    said: tuple[str, ...]
    more: int = 0


# --- what is filled in ---------------------------------------------------------------------------------


def _named(found: BoardParts | None, part: str) -> str:
    """Return what a part is called in a sentence."""
    lines = () if found is None else found.page.lines
    return next((line.name.partition(",")[0] for line in lines if line.id == part), part)


async def fill(desk: Desk, form: Form) -> Said:
    """Write price, what is ordered and what is there of one part; a button puts all of it into one of these."""
    part, history = form["part"], desk.open
    newest, _, _ = await other_newest(desk, PARTS)
    found = cast("BoardParts | None", newest)
    cells = dict(form)
    if asked := form.get(ALL, ""):
        key = asked.removeprefix(NONE)
        whole = None if found is None else found.whole.get(part)
        if key not in ("ordered", "have") or (whole is None and key == asked):
            raise ProjectFault([Fault("The part", "not known", "the list has changed", "look at the page again")])
        cells[key] = (whole or "") if key == asked else ""
        cells.pop(f"{key}@was", None)
    try:
        changes = part_changes(history.project, history.text, part, cells)
        if not changes:
            return Said(True, "Nothing was changed.")
        what = f"{_named(found, part)}: {_words(changes)}"
        desk.change(changes, what)
    except ProjectFault as error:
        said = refused(error)
        return Said(False, said.said, tuple((cell_of(where), text) for where, text in said.faults))
    return Said(True, f"Saved: {what}.")


def _words(changes: Mapping[str, Value | None]) -> str:
    words = {"price": "price", "ordered": "what is ordered", "have": "what is in the garage"}
    names = [words[key] for key in CELLS if any(path.endswith(f".{key}") for path in changes)]
    return " and ".join(names)


# --- the list as a file --------------------------------------------------------------------------------


async def read(desk: Desk, form: Form) -> Said:
    """Take prices, amounts and notes from a list; with a mistake in it nothing is written and all are shown."""
    history, text = desk.open, form["list"]
    if not text.strip():
        return Said(False, "There is no list: choose a file, or paste one.")
    try:
        if len(text) > MOST_LETTERS:
            given = f"{len(text)} letters long"
            do = "shorten it, or use the command: loftwright parts FILE --read LIST"
            raise ProjectFault([Fault("The list", given, f"at most {MOST_LETTERS} are read here", do)])
        back = await desk.strength.run(list_read, history.project, history.path, form.get("name", ""), text)
        if back.changes and desk.history is history:
            desk.change(back.changes, "list of parts read")
    except ProjectFault as error:
        every = sentences(error)
        desk.kept[READ] = Read(history, False, every[:MOST_SHOWN], len(every[MOST_SHOWN:]))
        desk.changed(PARTS)
        one = "is 1 mistake" if len(every) == 1 else f"are {len(every)} mistakes"
        return Said(False, f"Nothing was written: there {one} in the list, shown where it was read. {every[0]}")
    said = f"Read: {back.known} parts of the design changed, {back.own} of your own. Undo takes it back."
    if not back.changes:
        said = "Read: the list says nothing that the file does not say already."
    desk.kept[READ] = Read(history, True, (said, *back.said))
    desk.changed(PARTS)
    return Said(True, said)


async def send_list(request: Request) -> Response:
    """Send the list for a spreadsheet."""
    desk: Desk = request.app.state.desk
    decimal: Literal["point", "comma"] = "comma" if request.query_params.get("decimal") == "comma" else "point"
    try:
        data = await desk.strength.run(parts_file, desk.project, desk.open.path, decimal)
        header = file_header(f"{desk.open.path.stem}-parts.csv", inline=False)
    except LoftwrightError as error:
        page = environment().get_template("paper_refused.html").render(said=sentences(error))
        return HTMLResponse(page, 422)
    return Response(data, media_type="text/csv; charset=utf-8", headers={"Content-Disposition": header})


# --- the page ------------------------------------------------------------------------------------------


async def context(desk: Desk, view: View, home: BoardHome | None) -> dict[str, Any]:
    """Return everything on the parts, and the forms."""
    history = desk.open
    newest, is_before, refused_by = await other_newest(desk, PARTS)
    found = cast("BoardParts | None", newest)
    page = None if found is None else found.page
    drawn = () if page is None else bars_drawings(page, width_px=view.width)
    last: Read | None = desk.kept.get(READ)
    sets = fieldsets(history.project, history.text, PARTS, () if found is None or is_before else found.open_checks)
    return {
        "here": next(one for one in DECISIONS if one.path == PARTS),
        "fieldsets": tuple(one for one in sets if not one.path.startswith("bought.")),
        "entries": tuple(one for one in sets if one.path.startswith("bought.")),
        "rows": () if found is None else found.rows,
        "shown": page,
        "groups": () if page is None else shown_groups(page, cells_of(history.project, history.text)),
        "bars": () if page is None else tuple(zip(page.bars, [[Ready(one) for one in s] for s in drawn], strict=True)),
        "before": is_before and page is not None,
        "refused": refused_by,
        "currency": history.project.settings.currency,
        "last_read": last if last is not None and last.history is history else None,
        "list_path": LIST,
        "signs": SIGNS,
    }


PAGE = Page(
    path=PARTS,
    title="Parts",
    template="buying.html",
    parts=("buysays", "buylist", "buyread", "buybars", "buycare", "pageverdicts", "planfields"),
    context=context,
    modules=("hold.js", "filter.js", "listfile.js"),
    styles=("fields.css", "hold.css", "buying.css"),
    sized=True,
)
ACTIONS: dict[str, Action] = {"part": fill, "parts-read": read}
ROUTES = (Route(LIST, send_list),)
