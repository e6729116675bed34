"""The pages on fit and strength: fit, wind and road, the opening, joints."""

from __future__ import annotations

from typing import Any, Final

from loftwright.answers.board_hold import BoardHold
from loftwright.answers.board_home import BoardHome
from loftwright.answers.cut_grips import cut_board, cut_moved
from loftwright.answers.decisions import DECISIONS, FIT, JOINTS, OPENING, WIND
from loftwright.answers.fields import fieldsets
from loftwright.answers.trial import trial
from loftwright.board.actions import JOIN
from loftwright.board.desk import Desk
from loftwright.board.page import Context, Page, View, before, sentences
from loftwright.board.said import Action, Form, Said
from loftwright.core.errors import Fault, LoftwrightError, ProjectFault
from loftwright.core.hold_views import HoldPage, HoldPart
from loftwright.core.views import Grid
from loftwright.documents.hold_board import cut_picture, drawn_width, wind_play, wind_scenes
from loftwright.documents.hold_pictures import gap_svg
from loftwright.documents.ornaments import Ready

SHOWN: Final[dict[str, tuple[HoldPart, ...]]] = {
    FIT: ("fit",),
    WIND: ("wind", "road"),
    OPENING: ("opening", "van"),
    JOINTS: ("joints",),
}
"""The questions that each page answers."""
PARTS: Final[dict[str, tuple[str, ...]]] = {
    FIT: ("holdpicture", "packers"),
    WIND: ("holdpicture", "winddata"),
    OPENING: ("cutdata", "cutfigures"),
    JOINTS: (),
}
"""What of each page is sent anew beside what all of them have."""
MODULES: Final[dict[str, tuple[str, ...]]] = {
    FIT: ("hold.js",),
    WIND: ("hold.js", "windplay.js"),
    OPENING: ("hold.js", "cut.js"),
    JOINTS: (),
}
PAPERS: Final[dict[str, tuple[tuple[str, str], ...]]] = {
    FIT: (("packers", "Packers at full size"), ("fit", "Fit on paper")),
    WIND: (("wind-card", "Wind card for the van"),),
    OPENING: (
        ("before-the-cut", "Before the cut"),
        ("cut-plan", "Cut plan"),
        ("corners", "Corners at full size"),
        ("ring", "Ring: cutting list"),
    ),
    JOINTS: (("holes", "Every hole"), ("inspector", "For the inspector")),
}
"""The papers that belong to each page: their names and titles."""


async def newest(desk: Desk, home: BoardHome | None) -> tuple[BoardHold | None, bool]:
    """Return what is judged of fit and strength, and whether of the roof before the last change.

    None where nothing is judged yet, or where the roof cannot be judged: the frame says why.
    """
    if home is not None:
        try:
            found = await desk.hold(wait=0, at_once=True)
        except LoftwrightError:
            return None, False
        if found is not None:
            return found, False
    return before(desk), True


def context_of(path: str) -> Context:
    """Return what fills the page at `path`."""

    async def context(desk: Desk, view: View, home: BoardHome | None) -> dict[str, Any]:
        history = desk.open
        hold, is_before = await newest(desk, home)
        checks = () if hold is None or is_before else hold.open_checks
        here = next(page for page in DECISIONS if page.path == path)
        shown = None if hold is None else hold.page
        return {
            "here": here,
            "fieldsets": fieldsets(history.project, history.text, path, checks),
            "rows": () if hold is None else hold.rows_on(path),
            "sections": () if shown is None else tuple(shown.section(part) for part in SHOWN[path]),
            "shown": shown,
            "lists": () if shown is None else lists_on(path, shown),
            "before": is_before and hold is not None,
            "sheets": PAPERS[path],
            "picture": "",
            "scenes": (),
            "play": None,
            "cut": None,
            "figures": (),
            "no_drawing": (),
        } | _drawn(path, desk, view, shown)

    return context


def lists_on(path: str, page: HoldPage) -> tuple[Grid, ...]:
    """Return the lists for the workshop that belong to a page."""
    if path == OPENING:
        return page.stock, page.ring_pieces
    return (page.holes,) if path == JOINTS else ()


def _drawn(path: str, desk: Desk, view: View, shown: HoldPage | None) -> dict[str, Any]:
    """Return the pictures of a page."""
    if path == OPENING:
        return _cut(desk, view, shown)
    if shown is None:
        return {}
    if path == FIT and shown.gap is not None:
        return {"picture": Ready(gap_svg(shown, width=drawn_width(view.width)))}
    if path == WIND:
        scenes = tuple((name, Ready(made)) for name, made in wind_scenes(shown, width_px=view.width))
        return {"scenes": scenes, "play": wind_play(shown)}
    return {}


def _cut(desk: Desk, view: View, shown: HoldPage | None) -> dict[str, Any]:
    """Return the plan of the opening, which waits for no judgement."""
    settings = desk.project.settings
    try:
        board = cut_board(desk.project, shown)
        made = cut_picture(
            board, width_px=view.width, units=settings.units, words=settings.words, name=desk.project.name
        )
    except LoftwrightError as error:
        return {"no_drawing": sentences(error)}
    return {"cut": made, "figures": board.figures}


async def cut(desk: Desk, form: Form) -> Said:
    """Write where a corner of the cut line, or the point of its radius, was put; what cannot be turns back."""
    name = form["grip"]
    try:
        x, y = float(form["x"]), float(form["y"])
    except ValueError:
        raise ProjectFault(
            [Fault("What was moved", "no place", "it takes two numbers", "load the page again")]
        ) from None
    changes = cut_moved(desk.project, name, x, y)
    if not changes:
        return Said(True, "Left as it was.")
    # What cannot be put together turns back before anything is written.
    trial(desk.open.tried(changes))
    what = f"{'corner radius' if name == 'radius' else f'{name} corner'} of the opening moved"
    desk.change(changes, what, join=form.get(JOIN, ""))
    return Said(True, f"Saved: {what}.")


PAGES: Final = tuple(
    Page(
        path=page.path,
        title=page.title,
        template="hold.html",
        parts=("holdsays", *PARTS[page.path], "holdmore", "holdtables", "pageverdicts", "fields", "holdcare"),
        context=context_of(page.path),
        modules=MODULES[page.path],
        styles=("fields.css", "drawing.css", "hold.css") if page.path == OPENING else ("fields.css", "hold.css"),
        sized=True,
    )
    for page in DECISIONS
    if page.path in SHOWN
)
ACTIONS: dict[str, Action] = {"cut": cut}
