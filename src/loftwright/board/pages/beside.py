"""Two designs side by side: the open project and a file of its folder or one of its earlier versions."""

from __future__ import annotations

import asyncio
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final
from urllib.parse import quote

from loftwright.answers.board_beside import beside, taken_over
from loftwright.answers.board_home import BoardHome
from loftwright.answers.other_designs import Other, choices, kept_copy, other_design, whole_text
from loftwright.board.actions import require_as_seen
from loftwright.board.desk import Desk
from loftwright.board.mistakes import mistake
from loftwright.board.page import Page, View, sentences
from loftwright.board.said import Action, Form, Said, refused
from loftwright.core.beside_views import Beside
from loftwright.core.errors import LoftwrightError, ProjectFault
from loftwright.documents.beside_picture import pictures_beside
from loftwright.project.model import Project

PATH: Final = "/beside"
KEPT: Final = "side by side"
"""The name by which the desk keeps what was compared last."""
MOST_KEPT: Final = 4
"""So many comparisons are kept, and as many as there are tabs: what one tab shows never takes another's away."""
MOST_WIDTHS: Final = 4
"""So many drawings of one comparison are kept, by their widths."""
SOON: Final = 0.25
"""Seconds that a page waits for a comparison before it is sent without it."""
WITH: Final = "with"
"""The name of the other design in addresses and forms."""
FIRST_VALUES: Final = 12
"""So many differing values of the file are shown at once, the rest when asked for."""
BROKEN: Final = "The comparison was broken off: change something in either design, and it is made anew."


@dataclass(slots=True)
class KeptBeside:
    """What was compared last with one other design, of which project and content, and the work under way."""

    project: Project | None = None
    stamp: str = ""
    made: Beside | None = None
    wrong: tuple[str, ...] = ()
    pictures: dict[float, Any] = field(default_factory=dict)
    task: asyncio.Task[None] | None = None

    def fresh(self, desk: Desk, other: Other) -> bool:
        """Whether it is of both designs as they are now."""
        return self.project is desk.project and self.stamp == other.stamp


def kept(desk: Desk, other: Other) -> KeptBeside:
    """Return what is known of the open project beside another design; where that is of before, it is made anew."""
    every: dict[tuple[Path, str], KeptBeside] = desk.kept.setdefault(KEPT, {})
    key = desk.open.path, other.key
    found = every.pop(key, None) or KeptBeside()
    every[key] = found
    while len(every) > MOST_KEPT and len(every) > desk.tabs:
        every.pop(next(iter(every)))
    if not found.fresh(desk, other) and found.task is None:
        found.task = desk.start(_compare(desk, found, other))
    return found


async def _compare(desk: Desk, found: KeptBeside, other: Other) -> None:
    """Keep how two designs differ, and tell the page."""
    project, text = desk.project, desk.open.text
    made: Beside | None = None
    wrong: tuple[str, ...] = (BROKEN,)
    try:
        made = await desk.judge(beside, project, text, other.project, other.text)
        wrong = made.wrong
    except LoftwrightError as error:
        wrong = sentences(error)
    except Exception as error:
        mistake(error)
    finally:
        found.project, found.stamp, found.made, found.wrong = project, other.stamp, made, wrong
        found.pictures, found.task = {}, None
        desk.changed(PATH)


async def context(desk: Desk, view: View, home: BoardHome | None) -> dict[str, Any]:
    """Return what can be put beside the open project, and how the two differ as far as it is known."""
    files, steps = choices(desk.open, desk.folder)
    wanted = view.query.get(WITH, "")
    filled: dict[str, Any] = {
        "files": files,
        "steps": steps,
        "wanted": wanted,
        "other": None,
        "made": None,
        "two": None,
        "fresh": True,
        "first_values": FIRST_VALUES,
        "not_compared": (),
        "back": f"{PATH}?{WITH}={quote(wanted)}" if wanted else PATH,
    }
    if not wanted:
        return filled
    try:
        other = other_design(desk.open, desk.folder, wanted)
    except LoftwrightError as error:
        return filled | {"not_compared": sentences(error)}
    found = kept(desk, other)
    if found.task is not None and found.made is None:
        await asyncio.wait({found.task}, timeout=SOON)
    return filled | {
        "other": other,
        "made": found.made,
        "two": _pictures(found, view.width),
        "fresh": found.fresh(desk, other),
        "not_compared": found.wrong if found.fresh(desk, other) else (),
    }


def _pictures(found: KeptBeside, width: float) -> Any:
    made = found.made
    if made is None or made.here is None or made.there is None:
        return None
    if width not in found.pictures:
        while len(found.pictures) >= MOST_WIDTHS:
            found.pictures.pop(next(iter(found.pictures)))
        found.pictures[width] = pictures_beside(made.here, made.there, width_px=width)
    return found.pictures[width]


def _other(desk: Desk, form: Form) -> Other | None:
    """Return the other design of a form, None where it is no longer what the page shows."""
    other = other_design(desk.open, desk.folder, form[WITH])
    return other if other.stamp == form["stamp"] else None


async def take(desk: Desk, form: Form) -> Said:
    """Take one value, section or list over from the other design."""
    other = _other(desk, form)
    if other is None:
        return Said(False, "The other design was changed meanwhile: load the page again and look once more.")
    require_as_seen(desk, form, form["path"])
    what = form["what"]
    desk.replace(taken_over(desk.open.text, other.text, form["path"]), f"{what} taken from {other.source}")
    return Said(True, f"Taken over: {what}. Undo brings yours back.")


async def take_all(desk: Desk, form: Form) -> Said:
    """Take the whole of the other design; the project keeps its name."""
    other = _other(desk, form)
    if other is None:
        return Said(False, "The other design was changed meanwhile: load the page again and look once more.")
    desk.replace(whole_text(desk.open, other), f"everything taken from {other.source}")
    return Said(True, "The whole other design was taken over. Undo brings yours back.")


async def copy(desk: Desk, form: Form) -> Said:
    """Keep the open project under another name beside itself."""
    try:
        made = kept_copy(desk.open, desk.folder, form["name"])
    except ProjectFault as error:
        said = refused(error).said
        return Said(False, said, (("name", said),))
    return Said(True, f"Kept: {made.name}. Go on changing this one.", go=f"{PATH}?{WITH}={quote(f'file:{made.name}')}")


PAGE = Page(
    path=PATH,
    title="Side by side",
    template="beside.html",
    parts=("beside_choose", "beside_drawings", "beside_differences", "beside_copy"),
    context=context,
    modules=("beside.js",),
    styles=("drawing.css", "beside.css"),
)
ACTIONS: dict[str, Action] = {"beside-take": take, "beside-take-all": take_all, "beside-copy": copy}
