"""The page on the cloth walls: the strip, the fold beneath it, metres and price, water, sewing, slow answers."""

from __future__ import annotations

import asyncio
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

from loftwright.answers.board_home import BoardHome
from loftwright.answers.board_walls import CAUTIONS, BoardWalls, Taken, seam_moved, single_seams, window_moved
from loftwright.answers.decisions import DECISIONS, WALLS
from loftwright.answers.fields import fieldsets
from loftwright.answers.grips import steps
from loftwright.answers.trial import trial
from loftwright.board import work
from loftwright.board.actions import JOIN
from loftwright.board.desk import Desk
from loftwright.board.mistakes import mistake
from loftwright.board.page import Page, View, sentences, walls_before, walls_now
from loftwright.board.said import Action, Form, Said
from loftwright.core.errors import Fault, LoftwrightError, ProjectFault
from loftwright.core.wall_views import WallPage
from loftwright.core.wording import Wording, hundredths
from loftwright.documents.ornaments import Ready
from loftwright.documents.wall_board import (
    fold_play,
    letters,
    roll_drawings,
    space_drawing,
    wall_strip,
    walls_in_space,
    water_drawings,
)
from loftwright.project.model import Project
from loftwright.project.typed import typed

KEPT: Final = "slow answers on the walls"
"""The name by which the desk keeps the long work."""
MOST_DIGITS: Final = 6
"""So many digits the number of an entry has at most."""
BETWEEN: Final = 0.25
"""Seconds between two words on how far the work is."""
SHEETS: Final = (
    ("walls.pdf", "All sheets"),
    ("walls/sheet/panels.pdf", "Panels by ordinates"),
    ("walls/sheet/layout.pdf", "Cutting layout"),
    ("walls/sheet/sewing.pdf", "Order of sewing"),
    ("walls/sheet/bill.pdf", "Bill"),
    ("walls/sheet/water.pdf", "Lower edge"),
    ("walls/sheet/fold.pdf", "Fold"),
    ("walls/sheet/tucking.pdf", "Tucking card"),
    ("walls/sheet/trial.pdf", "Trial in paper"),
)
"""The sheets: their addresses below that of the papers, and their titles."""
PATTERNS: Final = (
    ("walls/patterns.pdf?paper=a4", "Sheets to tape, A4"),
    ("walls/patterns.pdf?paper=letter", "Sheets to tape, Letter"),
    ("walls/patterns-long.pdf", "One long page"),
    ("walls/patterns.dxf", "DXF"),
    ("walls/patterns-svg.zip", "SVG, all in one zip"),
)
"""The patterns at full size: their addresses and titles."""
JOBS: Final[dict[str, tuple[bool, bool, str]]] = {
    "fold": (True, False, "the fold"),
    "lay": (False, True, "the layout on the rolls"),
    "both": (True, True, "the fold and the layout"),
}
"""What can be asked of the long work: whether the fold, whether the layout, and its name."""

WAITS: Final = "Waiting until other long work has ended"
STARTS: Final = "Starting"
BROKEN: Final = "The work broke off by a mistake of the program; nothing was changed."
UNDER_WAY: Final = "This is under way already: wait for its end, or stop it."
NOT_BEGUN: Final = "It was stopped before it began."
STOPPED: Final = "It was stopped: what was not finished is not kept, what was there before is."
NO_WORK: Final = "Nothing is under way."
CHANGED: Final = "The walls were judged anew meanwhile: look again, nothing was written."
BEING_RECKONED: Final = "The walls are being reckoned: try again in a moment."


@dataclass(slots=True)
class LongWork:
    """Slow answers on the walls of one file under way, as every tab sees it: how far, what went wrong, what was said.

    `share` is done [1]; `step` says what is being done.
    """

    file: Path
    name: str = ""
    running: bool = False
    waiting: bool = False
    stopping: bool = False
    share: float = 0.0
    step: str = STARTS
    wrong: tuple[str, ...] = ()
    said: str = ""
    task: asyncio.Task[None] | None = None
    due: bool = field(default=False)


def kept(desk: Desk) -> LongWork | None:
    """Return the work that was asked for last, of whichever file."""
    found: LongWork | None = desk.kept.get(KEPT)
    return found


def of_file(desk: Desk) -> LongWork:
    """Return the work on the open file; none begun where none was asked for."""
    found = kept(desk)
    return found if found is not None and found.file == desk.open.path else LongWork(desk.open.path)


async def begin(desk: Desk, form: Form) -> Said:
    """Start what takes long: the fold, the layout on the rolls, or both."""
    if form["which"] not in JOBS:
        raise ProjectFault([Fault("The work", "not known", f"one of {', '.join(JOBS)}", "load the page again")])
    last = kept(desk)
    if last is not None and last.running:
        return Said(False, UNDER_WAY)
    fold, lay, name = JOBS[form["which"]]
    now = LongWork(desk.open.path, name, running=True, waiting=desk.long.busy)
    desk.kept[KEPT] = now
    now.task = desk.start(_follow(desk, now, desk.project, fold, lay))
    desk.changed(WALLS)
    return Said(True, f"Working out {name}. Go on elsewhere meanwhile, if you like.")


async def _follow(desk: Desk, now: LongWork, project: Project, fold: bool, lay: bool) -> None:
    """Wait for the work's end, tell the tabs how far it is, and have the walls judged with what it kept."""
    loop = asyncio.get_running_loop()

    def show() -> None:
        now.due = False
        if now.running:
            desk.changed(WALLS)

    def hear(share: float, text: str) -> None:
        now.waiting, now.share, now.step = False, share, text or STARTS
        if not now.due:
            now.due = True
            loop.call_later(BETWEEN, show)

    now.wrong = (BROKEN,)
    try:
        done = await desk.long.follow(hear, work.walls, project, now.file, fold, lay)
        now.wrong, now.said = (), f"Worked out: {now.name}." if done else STOPPED
    except LoftwrightError as error:
        now.wrong = sentences(error)
    except Exception as error:
        mistake(error)
    except asyncio.CancelledError:
        now.wrong, now.said = (), NOT_BEGUN
    finally:
        now.running = False
        desk.walls_again()


async def stop(desk: Desk, form: Form) -> Said:
    """Ask the work to end with what it has."""
    now = kept(desk)
    if now is None or not now.running:
        return Said(False, NO_WORK)
    now.stopping = True
    if now.waiting and now.task is not None:
        now.task.cancel()
        return Said(True, NOT_BEGUN)
    desk.long.stop()
    desk.changed(WALLS)
    return Said(True, "Stopping.")


# --- what is moved, and what is taken over -------------------------------------------------------------


def _number(form: Form, name: str) -> float:
    """Return a number of a form. Errors: ProjectFault where it is none."""
    try:
        return float(form[name])
    except ValueError:
        raise _no_number() from None


def _count(form: Form, name: str) -> int:
    """Return a whole number of a form. Errors: ProjectFault where it is none."""
    if not form[name].isdecimal() or len(form[name]) > MOST_DIGITS:
        raise _no_number()
    return int(form[name])


def _no_number() -> ProjectFault:
    return ProjectFault([Fault("What was moved", "no place", "it takes numbers", "load the page again")])


def _written(desk: Desk, form: Form, changes: dict[str, str], what: str, more: str = "") -> Said:
    """Write what was moved; what cannot be put together turns back before anything is written."""
    if not changes:
        return Said(True, "Left as it was.")
    trial(desk.open.tried(changes))
    desk.change(changes, what, join=form.get(JOIN, ""))
    return Said(True, f"Saved: {what}.{more}")


async def window(desk: Desk, form: Form) -> Said:
    """Write where a window was put."""
    entry = _count(form, "entry")
    changes = window_moved(desk.project, entry, _number(form, "along"), _number(form, "bottom"))
    return _written(desk, form, changes, f"{desk.project.window[entry].name} moved")


async def seam(desk: Desk, form: Form) -> Said:
    """Write where a seam was put; the first one that is moved writes the places of all."""
    found = await desk.walls(wait=0, at_once=True) or walls_before(desk)
    if found is None:
        return Said(False, BEING_RECKONED)
    first = not desk.project.seam
    changes = seam_moved(desk.project, found.page, form["seam"], _number(form, "at"))
    more = " The places of all seams are written in the file now; they stay when sizes change." if first else ""
    return _written(desk, form, changes, f"seam {form['seam']} moved", more)


async def take(desk: Desk, form: Form) -> Said:
    """Write what the walls give for the rest of the file: the weight of the cloth, and its push on the shell."""
    found = await desk.walls(wait=0, at_once=True)
    if found is None:
        return Said(False, BEING_RECKONED)
    if mark_of(found.taken) != form["offered"]:
        return Said(False, CHANGED)
    changes = {one.path: typed(one.path, one.text) for one in found.taken}
    if not changes:
        return Said(False, "There is nothing to take over.")
    desk.change(changes, "the cloth's weight and push taken over")
    return Said(True, "Saved: the cloth's weight and push are in the file. Undo takes it back.")


def mark_of(taken: tuple[Taken, ...]) -> str:
    """Return what tells one offer from another."""
    return "; ".join(f"{one.path}={one.text}" for one in taken)


# --- the page ------------------------------------------------------------------------------------------


async def newest(desk: Desk, home: BoardHome | None) -> tuple[BoardWalls | None, bool, tuple[str, ...]]:
    """Return what is judged of the walls, whether of the roof before the last change, and why it is not judged."""
    found = await walls_now(desk, at_once=True)
    if found is not None:
        return found, False, ()
    if home is None:
        # Where the roof itself cannot be put together the frame says so.
        return walls_before(desk), True, ()
    try:
        await desk.walls(wait=0, at_once=True)
    except LoftwrightError as error:
        return None, False, sentences(error)
    except Exception as error:
        return None, False, (mistake(error),)
    return walls_before(desk), True, ()


async def context(desk: Desk, view: View, home: BoardHome | None) -> dict[str, Any]:
    """Return everything on the walls, the forms, and how far long work is."""
    history, project = desk.open, desk.project
    walls, is_before, refused = await newest(desk, home)
    checks = () if walls is None or is_before else walls.open_checks
    page = None if walls is None else walls.page
    now = of_file(desk)
    running = kept(desk)
    say = Wording(project.settings.units)
    return {
        "here": next(one for one in DECISIONS if one.path == WALLS),
        "fieldsets": fieldsets(history.project, history.text, WALLS, checks),
        "rows": () if walls is None else walls.rows,
        "shown": page,
        "sections": () if page is None else page.sections,
        "lists": () if page is None else (page.bill,),
        "before": is_before and page is not None,
        "refused": refused,
        "work": now,
        "elsewhere_running": running.file.name
        if running is not None and running.file != now.file and running.running
        else "",
        "done_of_100": hundredths(now.share),
        "percent": say.percent(now.share),
        "WAITS": WAITS,
        "taken": () if walls is None or is_before else walls.taken,
        "left_alone": () if walls is None or is_before else walls.left,
        "offered": "" if walls is None else mark_of(walls.taken),
        "sheets": SHEETS,
        "patterns": PATTERNS,
        "cautions": CAUTIONS,
        "own_seams": bool(project.seam),
    } | _drawn(page, project, view)


def _drawn(page: WallPage | None, project: Project, view: View) -> dict[str, Any]:
    """Return the pictures of the walls, and the data that the page's scripts draw from."""
    if page is None:
        empty = {"strip": None, "seams": (), "play": None, "space": None, "still_space": ""}
        return empty | {"rolls": (), "water_drawn": ()}
    seams = single_seams(page.strip.seams, page.strip.around)
    fine, coarse = steps(project.settings.units)
    return {
        "strip": wall_strip(page, seams, (coarse, fine)) if page.strip.panels else None,
        "seams": tuple(zip(letters(len(seams)), (seam.name for seam in seams), strict=True)),
        "play": fold_play(page),
        "space": walls_in_space(page),
        "still_space": Ready(space_drawing(page, width_px=view.width)),
        "rolls": tuple((roll, Ready(made), short) for roll, made, short in roll_drawings(page, width_px=view.width)),
        "water_drawn": tuple(Ready(made) for made in water_drawings(page, width_px=view.width)),
    }


PAGE = Page(
    path=WALLS,
    title="Walls",
    template="walls.html",
    parts=(
        "wallsays",
        "wallrolls",
        "wallstrip",
        "wallwork",
        "wallworksaid",
        "wallfold",
        "wallmore",
        "wallspace",
        "walltaken",
        "holdtables",
        "pageverdicts",
        "fields",
    ),
    context=context,
    modules=("hold.js", "strip.js", "foldplay.js", "wallspace.js"),
    styles=("fields.css", "drawing.css", "lifts.css", "hold.css", "walls.css"),
    sized=True,
)
ACTIONS: dict[str, Action] = {
    "walls-work": begin,
    "walls-stop": stop,
    "walls-window": window,
    "walls-seam": seam,
    "walls-take": take,
}
