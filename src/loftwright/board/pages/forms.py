"""The pages that are forms: what you have, how it moves, settings."""

from __future__ import annotations

from typing import Any

from loftwright.answers.board_home import BoardHome
from loftwright.answers.decisions import DECISIONS, HAVE, MOVES, SETTINGS
from loftwright.answers.fields import fieldsets
from loftwright.board.desk import Desk
from loftwright.board.page import Context, Page, View
from loftwright.board.pages.motion import ways


def fields_of(path: str) -> Context:
    """Return what fills the forms of the page at `path`."""

    async def context(desk: Desk, view: View, home: BoardHome | None) -> dict[str, Any]:
        history = desk.open
        checks = () if home is None else home.open_checks
        here = next(page for page in DECISIONS if page.path == path)
        sets = fieldsets(history.project, history.text, path, checks)
        more = ways(desk) if path == MOVES else {}
        return {"fieldsets": sets, "here": here, "rows": rows_on(path, home)} | more

    return context


def rows_on(path: str, home: BoardHome | None) -> tuple[tuple[Any, Any], ...]:
    """Return the judgements that are counted on a page, each with where it leads."""
    if home is None:
        return ()
    pairs = zip(home.page.rows, home.links, home.on_page, strict=True)
    return tuple((row, link) for row, link, page in pairs if page == path)


PAGES = tuple(
    Page(
        path=page.path,
        title=page.title,
        template="fields.html",
        parts=("othermotion", "fields", "cautions", "pageverdicts")
        if page.path == MOVES
        else ("fields", "pageverdicts"),
        context=fields_of(page.path),
        styles=("fields.css",),
    )
    for page in DECISIONS
    if page.path in (HAVE, MOVES, SETTINGS)
)
