"""What a page of the board is, and how it becomes HTML: whole, or in parts that are sent anew after a change."""

from __future__ import annotations

import re
from collections.abc import Awaitable, Callable, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, pass_context
from jinja2.runtime import Context as Filled
from jinja2.utils import htmlsafe_json_dumps

from loftwright.answers.board_hold import BoardHold
from loftwright.answers.board_home import BoardHome, change_words
from loftwright.answers.board_walls import BoardWalls
from loftwright.answers.decisions import DECISIONS, HOLD_PAGES, PARTS, PLAN, RIDING, WALLS
from loftwright.answers.views import cautions_of
from loftwright.board.desk import BoardOther, Desk
from loftwright.board.jobs import BrokenOff
from loftwright.board.mistakes import mistake
from loftwright.board.said import OF_FILE, SEEN
from loftwright.core.board_views import Decision
from loftwright.core.checks import Verdict
from loftwright.core.errors import LoftwrightError, ProjectFault
from loftwright.core.version import MADE_WITH
from loftwright.documents.keyless import keyless
from loftwright.documents.ornaments import curve_sign, verdict_sign
from loftwright.documents.respelled import MACHINE, respelled, respelled_page
from loftwright.documents.roof_sheet import minutes_text, sentence
from loftwright.documents.typeset import printable
from loftwright.project.written import place_of, without_word

HERE = Path(__file__).parent
SOON = 0.25
"""Seconds that a page waits for its verdicts before it is sent without them."""
FRAME_PARTS = ("notice", "title", "where", "undo")
"""Parts that stand on every page: what happened to the file, its name, the way through the decisions, undo and redo."""


@dataclass(frozen=True, slots=True)
class View:
    """What one tab looks at: its query, the width of its drawing [CSS px], its look, and a roof that is only tried."""

    query: Mapping[str, str] = field(default_factory=dict)
    width: float = 900.0
    look: str = ""
    trial: BoardHome | None = None


NOT_BUILT = "This roof cannot be put together as it stands"
NOT_JUDGED = "This roof is not judged just now"
NOT_SHOWN = "This page cannot be shown as it stands"

Context = Callable[[Desk, View, BoardHome | None], Awaitable[dict[str, Any]]]
"""What fills a page: from the desk, what the tab looks at, and the roof judged (None: not yet, or it cannot be)."""


@dataclass(frozen=True, slots=True)
class Page:
    """One page: its path, title, template, the parts of which it is made, its modules and what fills it.

    `parts` are sent anew after a change; `still` fills what is sent once with the page and looks after itself, such as
    the drawing, which follows by messages of its own where the page `draws`. `trial_parts` follow a point while it is
    dragged. `without_project` pages open before there is one. The parts of `sized` pages are drawn for the tab's width.
    """

    path: str
    title: str
    template: str
    parts: tuple[str, ...]
    context: Context
    still: Context | None = None
    draws: bool = False
    modules: tuple[str, ...] = ()
    styles: tuple[str, ...] = ()
    trial_parts: tuple[str, ...] = ()
    without_project: bool = False
    sized: bool = False


def _shown(value: Any) -> Any:
    """Return what is put into a page: text freed of control characters, ready HTML as it is."""
    return value if hasattr(value, "__html__") else printable(value)


@pass_context
def _as_json(filled: Filled, value: Any) -> Any:
    """Return data for a page's script in the page's spelling; it may stand in a script element."""
    return htmlsafe_json_dumps(respelled(value, *filled.get("spelling", ("kerb", ())), keep=MACHINE))


@cache
def environment() -> Environment:
    """Return the templates, escaping everything, refusing names that are not filled."""
    made = Environment(
        loader=FileSystemLoader(HERE / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=_shown,
    )
    made.globals.update(
        Verdict=Verdict,
        place_of=place_of,
        words_of=change_words,
        hold_pages=HOLD_PAGES,
        split_word=without_word,
        verdict_sign=verdict_sign,
        curve_sign=curve_sign,
        made_with=MADE_WITH,
    )
    made.filters.update(keyless=keyless, sentence=sentence, minutes=minutes_text, tojson=_as_json)
    return made


def sentences(error: LoftwrightError) -> tuple[str, ...]:
    """Return what is wrong, a sentence for each mistake."""
    if isinstance(error, ProjectFault):
        return tuple(fault.sentence() for fault in error.faults)
    return (sentence(str(error)),)


async def surround(page: Page, desk: Desk, view: View) -> dict[str, Any]:
    """Return what the frame of every page needs.

    `home` is the judged roof, None while it is being judged; `wrong` are sentences on why it cannot be judged, under
    the heading `wrong_heading`.
    """
    history = desk.history
    home: BoardHome | None = None
    hold: BoardHold | None = None
    walls: BoardWalls | None = None
    others: dict[str, BoardOther] = {}
    wrong: tuple[str, ...] = ()
    heading = NOT_BUILT
    if history is not None:
        try:
            home = view.trial or await desk.home(wait=SOON)
            # What takes longer is never waited for: it comes as soon as it is there.
            hold = await desk.hold(wait=0) if home is not None else None
            if hold is not None:
                desk.kept[KEPT] = (history, hold)
            walls = await walls_now(desk) if home is not None else None
            if home is not None:
                asked = [(path, await other_now(desk, path)) for path in OTHERS]
                others = {path: found for path, found in asked if found is not None}
        except BrokenOff as error:
            wrong, heading = sentences(error), NOT_JUDGED
        except LoftwrightError as error:
            wrong = sentences(error)
        except Exception as error:
            wrong, heading = (mistake(error),), NOT_JUDGED
    return {
        "page": page,
        "view": view,
        "version": desk.version,
        "project": None if history is None else history.project,
        "file_name": "" if history is None else history.path.name,
        "file_mark": "" if history is None else history.mark,
        "stamp": "" if history is None else history.stamp,
        "undoable": "" if history is None else history.undoable,
        "redoable": "" if history is None else history.redoable,
        "elsewhere": desk.elsewhere,
        "home": home,
        "hold": hold,
        "walls": walls,
        "others": tuple((OTHERS[path], path, found.page.tally) for path, found in others.items()),
        "wrong": wrong,
        "wrong_heading": heading,
        "cautions": () if history is None else cautions_of(history.project),
        "trial": view.trial is not None,
        "spelling": desk.spelling(),
        "ways": DECISIONS
        if home is None
        else together(home.decisions, hold or before(desk), walls or walls_before(desk), _others_known(desk, others)),
    }


KEPT = "fit and strength"


def before(desk: Desk) -> BoardHold | None:
    """Return the newest judgement of fit and strength of the open file, of the roof as it is now or was before."""
    kept = desk.kept.get(KEPT)
    return kept[1] if kept is not None and kept[0] is desk.history else None


KEPT_WALLS = "walls"


async def walls_now(desk: Desk, *, at_once: bool = False) -> BoardWalls | None:
    """Return the cloth walls judged; None where they are not yet, or cannot be: that their own page says."""
    try:
        found = await desk.walls(wait=0, at_once=at_once)
    except Exception:
        return None
    if found is not None:
        desk.kept[KEPT_WALLS] = (desk.history, found)
    return found


def walls_before(desk: Desk) -> BoardWalls | None:
    """Return the newest judgement of the walls of the open file, of the roof as it is now or was before."""
    kept = desk.kept.get(KEPT_WALLS)
    return kept[1] if kept is not None and kept[0] is desk.history else None


OTHERS = {RIDING: "what rides on it", PARTS: "the parts", PLAN: "the plan"}
"""The pages of which each is judged by itself, and what it is judged on."""
KEPT_OTHER = "judged on "


async def other_now(desk: Desk, path: str, *, at_once: bool = False) -> BoardOther | None:
    """Return what is judged on one of these pages; None where it is not yet, or cannot be: the page says so."""
    try:
        found = await desk.other(path, wait=0, at_once=at_once)
    except Exception:
        return None
    if found is not None:
        desk.kept[f"{KEPT_OTHER}{path}"] = (desk.history, found)
    return found


def other_before(desk: Desk, path: str) -> BoardOther | None:
    """Return the newest judgement of one of these pages of the open file, of the roof as it is now or was before."""
    kept = desk.kept.get(f"{KEPT_OTHER}{path}")
    return kept[1] if kept is not None and kept[0] is desk.history else None


async def other_newest(desk: Desk, path: str) -> tuple[BoardOther | None, bool, tuple[str, ...]]:
    """Return what a page shows of its judgement, whether it is one before the last change, and why there is none."""
    found = await other_now(desk, path, at_once=True)
    if found is not None:
        return found, False, ()
    try:
        await desk.other(path, wait=0, at_once=True)
    except LoftwrightError as error:
        return None, False, sentences(error)
    except Exception as error:
        return None, False, (mistake(error),)
    return other_before(desk, path), True, ()


def _others_known(desk: Desk, others: Mapping[str, BoardOther]) -> dict[str, BoardOther]:
    known = {path: others.get(path) or other_before(desk, path) for path in OTHERS}
    return {path: found for path, found in known.items() if found is not None}


def together(
    moves: tuple[Decision, ...],
    hold: BoardHold | None,
    walls: BoardWalls | None = None,
    others: Mapping[str, BoardOther] | None = None,
) -> tuple[Decision, ...]:
    """Return how each decision stands: on movement, and on everything else where it was judged already."""
    held: dict[str, Decision] = {}
    every = ((hold, HOLD_PAGES), (walls, (WALLS,)), *((found, (path,)) for path, found in (others or {}).items()))
    for found, pages in every:
        held |= {one.path: one for one in (found.decisions if found is not None else ()) if one.path in pages}
    return tuple(held.get(decision.path, decision) for decision in moves)


async def frame(page: Page, desk: Desk, view: View) -> dict[str, Any]:
    """Return what the frame of every page needs, and what the page needs itself."""
    filled = await surround(page, desk, view)
    return filled | await page.context(desk, view, filled["home"])


async def whole(page: Page, desk: Desk, view: View) -> str:
    """Return a page as HTML."""
    filled = await frame(page, desk, view)
    if page.still is not None:
        filled |= await page.still(desk, view, filled["home"])
    return _finished(environment().get_template(page.template).render(filled), filled)


def not_shown(error: Exception) -> tuple[str, ...]:
    """Return why a page cannot be shown; a mistake of the program goes to standard error too."""
    return sentences(error) if isinstance(error, LoftwrightError) else (mistake(error),)


async def whole_without(page: Page, desk: Desk, view: View, said: tuple[str, ...]) -> str:
    """Return the frame of a page that cannot be shown, with the way on to others, undo, and why."""
    filled = await surround(page, desk, view) | {"not_shown": said, "not_shown_heading": NOT_SHOWN}
    return _finished(environment().get_template("not_shown.html").render(filled), filled)


async def parts(page: Page, desk: Desk, view: View, names: tuple[str, ...] | None = None) -> dict[str, str]:
    """Return the parts of a page as HTML, by their names; where they cannot be made, the frame's alone, saying why."""
    wanted = (*FRAME_PARTS, *page.parts) if names is None else names
    filled = await surround(page, desk, view)
    try:
        return _rendered(filled | await page.context(desk, view, filled["home"]), wanted)
    except Exception as error:
        return _rendered(filled | {"wrong": not_shown(error), "wrong_heading": NOT_SHOWN}, FRAME_PARTS)


def _rendered(filled: dict[str, Any], names: tuple[str, ...]) -> dict[str, str]:
    made = {name: environment().get_template(f"parts/{name}.html").render(filled) for name in names}
    return {name: _finished(html, filled) for name, html in made.items()}


_FORM = re.compile(r"<form\b[^>]*\bmethod=\"post\"[^>]*>")
_SEEN = re.compile(rf'<input type="hidden" name="{SEEN}" value="\w*">')


def _finished(html: str, filled: Mapping[str, Any]) -> str:
    """Return HTML in its spelling; each form that does something says of which file and version of it its page is."""
    said = ((OF_FILE, filled["file_mark"]), (SEEN, filled["stamp"]))
    hidden = "".join(f'<input type="hidden" name="{name}" value="{value}">' for name, value in said if value)
    return respelled_page(_FORM.sub(lambda form: f"{form[0]}{hidden}", html), *filled["spelling"])


def without_seen(html: str) -> str:
    """Return a part without the version of the file that its forms name: alone that is no news."""
    return _SEEN.sub("", html)
