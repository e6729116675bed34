"""What lifts it: springs searched, explained, and fitted into the file.

One search at a time for all tabs. Its result stays until the next one, marked where the roof has changed since.
"""

from __future__ import annotations

import asyncio
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path
from typing import Any, Final

from loftwright.answers import board_choice
from loftwright.answers.board_choice import Asked, BoardChoice
from loftwright.answers.board_home import BoardHome
from loftwright.answers.decisions import LIFTS, PAPERS
from loftwright.answers.hand_springs import hand_springs
from loftwright.board import work
from loftwright.board.desk import Desk
from loftwright.board.mistakes import mistake
from loftwright.board.page import Page, View, sentences
from loftwright.board.pages.forms import fields_of
from loftwright.board.said import Action, Form, Said
from loftwright.core.errors import LoftwrightError
from loftwright.core.wording import Wording, hundredths
from loftwright.documents.choice_words import FAILING, MEASURED, ChoiceWords, choice_words, home_test_svg
from loftwright.project.model import Project

PATH: Final = LIFTS
FORMS: Final = fields_of(PATH)
KEPT: Final = "springs"
"""The name by which the desk keeps the search."""
BETWEEN: Final = 0.25
"""Seconds between two words on how far the search is."""
SHOWN: Final = ("How many", "Foot", "Head")
"""What is shown of the other choices before they are opened."""

WAITS = "Waiting until other long work has ended"
STARTS = "Starting"
BROKEN = "The search broke off by a mistake of the program; nothing was changed."
UNDER_WAY = "A search is under way already: wait for its end, or stop it."
NOT_BEGUN = "The search was stopped before it began."
NO_SEARCH = "No search is under way."
NOT_NEWEST = "These springs are not those of the newest search any more: look at it first."
BEFORE = "This is of the roof before your last change: search again."

_numbers = count(1)


@dataclass(frozen=True, slots=True)
class Made:
    """What a search found, under the number that its buttons carry, with its words and pictures."""

    number: str
    choice: BoardChoice
    words: ChoiceWords


@dataclass(slots=True)
class Search:
    """The search for springs of one file, as every tab sees it: how far it is, what went wrong, what was found last.

    `share` is done [1]; `step` says what is being done.
    """

    file: Path
    running: bool = False
    waiting: bool = False
    stopping: bool = False
    share: float = 0.0
    step: str = STARTS
    asked: Asked | None = None
    wrong: tuple[str, ...] = ()
    said: str = ""
    made: Made | None = None
    task: asyncio.Task[None] | None = None
    due: bool = field(default=False)


def kept(desk: Desk) -> Search | None:
    """Return the search that was asked for last, of whichever file."""
    found: Search | None = desk.kept.get(KEPT)
    return found


def of_file(desk: Desk) -> Search:
    """Return the search of the open file; an empty one where none was asked for."""
    found = kept(desk)
    return found if found is not None and found.file == desk.open.path else Search(desk.open.path)


def tell(desk: Desk) -> None:
    """Tell the pages that show the search."""
    for page in (LIFTS, PAPERS):
        desk.changed(page)


async def search(desk: Desk, form: Form) -> Said:
    """Start a search for springs."""
    last = kept(desk)
    if last is not None and last.running:
        return Said(False, UNDER_WAY)
    project, path = desk.project, desk.open.path
    asked = board_choice.asked(project, path.parent, form.get("list", ""), form.get("draws", ""))
    now = Search(path, running=True, waiting=desk.long.busy, asked=asked, made=of_file(desk).made)
    desk.kept[KEPT] = now
    now.task = desk.start(_follow(desk, now, project, asked))
    tell(desk)
    return Said(True, "Searching for springs. Go on elsewhere meanwhile, if you like.")


async def _follow(desk: Desk, now: Search, project: Project, asked: Asked) -> None:
    """Wait for what a search finds, and tell the tabs how far it is."""
    loop = asyncio.get_running_loop()

    def show() -> None:
        now.due = False
        if now.running:
            tell(desk)

    def hear(share: float, text: str) -> None:
        now.waiting, now.share, now.step = False, share, text or STARTS
        if not now.due:
            now.due = True
            loop.call_later(BETWEEN, show)

    now.wrong = (BROKEN,)
    try:
        found = await desk.long.follow(hear, work.springs, project, asked)
        now.made = Made(next_number(), found, choice_words(found.page))
        now.wrong, now.said = (), "The search was stopped: the best so far." if found.stopped else "The search is done."
    except LoftwrightError as error:
        now.wrong = sentences(error)
    except Exception as error:
        mistake(error)
    except asyncio.CancelledError:
        now.wrong = ()
        now.said = NOT_BEGUN
    finally:
        now.running = False
        tell(desk)


def next_number() -> str:
    """Return a number that no other result of this run has."""
    return str(next(_numbers))


async def stop(desk: Desk, form: Form) -> Said:
    """Ask the search to end with the best that it has."""
    now = kept(desk)
    if now is None or not now.running:
        return Said(False, NO_SEARCH)
    now.stopping = True
    if now.waiting and now.task is not None:
        now.task.cancel()
        return Said(True, NOT_BEGUN)
    desk.long.stop()
    tell(desk)
    return Said(True, "Stopping: the best so far comes in a moment.")


async def fit(desk: Desk, form: Form) -> Said:
    """Write springs that were found into the file."""
    made = of_file(desk).made
    if made is None or made.number != form["found"]:
        return Said(False, NOT_NEWEST)
    fitting = board_choice.fit(made.choice, desk.project, form["which"])
    desk.change(fitting.changes, fitting.what)
    return Said(True, f"In the file: {fitting.what}. Undo takes it back.")


# --- the page ----------------------------------------------------------------------------------------


async def context(desk: Desk, view: View, home: BoardHome | None) -> dict[str, Any]:
    """Return the forms, how far a search is, and what was found last."""
    project, text = desk.project, desk.open.text
    now = of_file(desk)
    made = now.made
    found = None if made is None else made.choice
    fits = {} if found is None else board_choice.fittings(found)
    filled: dict[str, Any] = {
        "offers": board_choice.offers(project),
        "draws": board_choice.usual_draws() if now.asked is None else now.asked.draws,
        "last_list": "" if now.asked is None else now.asked.which,
        "least_draws": board_choice.LEAST_DRAWS,
        "most_draws": board_choice.MOST_DRAWS,
        "which_list": board_choice.WHICH_LIST,
        "how_many": board_choice.HOW_MANY,
        "places_said": board_choice.places_said(project),
        "search": now,
        "elsewhere_running": _of_other_file(desk),
        "done_of_100": hundredths(now.share),
        "percent": Wording(project.settings.units).percent(now.share),
        "WAITS": WAITS,
        "made": made,
        "found": None if found is None else found.page,
        "words": None if made is None else made.words,
        "before": BEFORE if found is not None and not board_choice.of_this_roof(found, project) else "",
        "fits": fits,
        "refused": () if found is None else board_choice.refusals(found),
        "advice_links": () if found is None else board_choice.advice_links(found),
        "fitted": {key for key, one in fits.items() if board_choice.is_in(text, one)},
        "first_measured": MEASURED,
        "first_failing": FAILING,
        "facts_shown": SHOWN,
        "hand": hand_springs(project),
        "test_picture": home_test_svg(),
        "care": board_choice.care(project) if found is None else tuple(one.text for one in found.page.cautions),
    }
    return filled | await FORMS(desk, view, home)


def _of_other_file(desk: Desk) -> str:
    """Return the name of another file that is being searched for, empty when none is."""
    now = kept(desk)
    return now.file.name if now is not None and now.running and now.file != desk.open.path else ""


PAGE = Page(
    path=PATH,
    title="What lifts it",
    template="lifts.html",
    parts=("search", "searching", "searchsaid", "choice", "pageverdicts", "fields", "athand", "liftscare"),
    context=context,
    styles=("fields.css", "lifts.css"),
)

ACTIONS: dict[str, Action] = {"search-springs": search, "stop-springs": stop, "fit-springs": fit}
