"""The websocket of one tab: points that are dragged, and parts of the page after each change.

Messages are JSON objects with the kind in "t". From the page: hello, width, try, drop, cancel. To the page: parts,
picture, trial, dropped, gone. Of tries only the newest counts; each is answered once.
"""

from __future__ import annotations

import asyncio
import contextlib
import json
from collections.abc import Awaitable
from dataclasses import dataclass, field, replace
from typing import Any, TypeGuard

from starlette.websockets import WebSocket, WebSocketDisconnect

from loftwright.answers.board_home import BoardHome
from loftwright.answers.grips import moved, tried
from loftwright.answers.trial import DRAWS, trial
from loftwright.board.desk import Desk
from loftwright.board.mistakes import mistake
from loftwright.board.page import Page, View, not_shown, parts, without_seen
from loftwright.board.said import OTHER_FILE
from loftwright.core.scene import Spot
from loftwright.documents.board_picture import Window, picture
from loftwright.documents.respelled import MACHINE, respelled
from loftwright.documents.typeset import printable
from loftwright.project.model import Project

REST = 0.15
"""Seconds that a dragged point must rest before its verdicts are asked for."""
NARROWEST, WIDEST = 200.0, 2400.0
MOST_TEXT = 100_000
MOST_WORDS = 200
"""Letters that are kept of what a moved point is called."""


@dataclass(slots=True)
class Tab:
    """One tab: its socket, its page, what was sent to it last."""

    socket: WebSocket
    desk: Desk
    page: Page | None = None
    file: str = ""
    """The mark of the file that its page was made of; empty where it does not say."""
    view: View = field(default_factory=View)
    window: Window | None = None
    version: int = 0
    of_page: int = 0
    sent: dict[str, str] = field(default_factory=dict)
    tried: tuple[int, Project] | None = None
    news: asyncio.Event = field(default_factory=asyncio.Event)
    asked: asyncio.Event = field(default_factory=asyncio.Event)
    newest: dict[str, Any] | None = None
    later: asyncio.Task[None] | None = None
    resting: asyncio.Task[None] | None = None
    sending: asyncio.Lock = field(default_factory=asyncio.Lock)
    """Held while parts are made and sent: those made later are sent later."""

    async def send(self, kind: str, **rest: Any) -> None:
        """Send one message; to a tab that is gone meanwhile, none."""
        text = json.dumps({"t": kind} | rest, separators=(",", ":"))
        # Starlette says by either that the socket is closed.
        with contextlib.suppress(RuntimeError, WebSocketDisconnect):
            await self.socket.send_text(text)

    def rest_no_more(self) -> None:
        """Ask no longer for the verdicts on a point that was tried."""
        self.tried = None
        if self.resting is not None:
            self.resting.cancel()
            self.resting = None


async def live(socket: WebSocket) -> None:
    """Serve one tab until it closes."""
    desk: Desk = socket.app.state.desk
    await socket.accept()
    tab = Tab(socket, desk)
    done = desk.listen(tab.news.set)
    tasks = [desk.start(_tell_news(tab)), desk.start(_answer_tries(tab))]
    try:
        while True:
            came = await socket.receive()
            if came["type"] != "websocket.receive":
                break
            message = _read(came.get("text") or "")
            if message is not None:
                try:
                    await _take(tab, message)
                except Exception as error:
                    mistake(error)
    except WebSocketDisconnect:
        pass
    finally:
        done()
        for task in (*tasks, tab.later, tab.resting):
            if task is not None:
                task.cancel()


def _read(text: str) -> dict[str, Any] | None:
    """Return a message, None for what is none."""
    if len(text) > MOST_TEXT:
        return None
    with contextlib.suppress(ValueError, RecursionError):
        found = json.loads(text)
        if isinstance(found, dict) and isinstance(found.get("t"), str):
            return found
    return None


async def _take(tab: Tab, message: dict[str, Any]) -> None:
    kind = message["t"]
    if kind != "hello" and _is_of_other_file(tab, message.get("file", tab.file)):
        await _refuse_other_file(tab, kind, message.get("seq"))
    elif kind == "hello":
        path, query = message.get("page"), message.get("query")
        tab.page = tab.socket.app.state.pages.get(path) if isinstance(path, str) else None
        tab.view = View(_texts(query), _width(message))
        tab.file = message["file"] if isinstance(message.get("file"), str) else ""
        # The page may have been made before the last change, or before a restart.
        tab.version = 0
        tab.news.set()
    elif kind == "width":
        tab.view = replace(tab.view, width=_width(message))
        tab.window = None
        await _send_picture(tab)
        if tab.page is not None and tab.page.sized:
            tab.version = 0
            tab.news.set()
    elif kind == "try":
        tab.newest = message
        tab.asked.set()
    elif kind == "drop":
        tab.newest = None
        await _drop(tab, message)
    elif kind == "cancel":
        tab.newest = None
        tab.rest_no_more()
        tab.view = replace(tab.view, trial=None)
        await _send_picture(tab)
        tab.version = 0
        tab.news.set()


def _is_of_other_file(tab: Tab, file: object) -> bool:
    """Whether a page, or a message from it, is of another file than the open one; one that names none never is."""
    if tab.desk.history is None or not file or (tab.page is not None and tab.page.without_project):
        return False
    return file != tab.desk.history.mark


async def _refuse_other_file(tab: Tab, kind: str, seq: object) -> None:
    """Refuse what a page of another file asks for, and have it loaded anew."""
    tab.newest = None
    tab.rest_no_more()
    if kind == "drop":
        await tab.send("dropped", seq=seq, ok=False, said=OTHER_FILE)
    elif kind == "try":
        await tab.send("trial", seq=seq, refused=OTHER_FILE)
    tab.news.set()


def _texts(query: object) -> dict[str, str]:
    return {str(k): str(v) for k, v in query.items()} if isinstance(query, dict) else {}


def _width(message: dict[str, Any]) -> float:
    width = message.get("width")
    return float(width) if isinstance(width, int | float) and NARROWEST <= width <= WIDEST else View().width


def _spot(message: dict[str, Any]) -> tuple[str, Spot] | None:
    path, x, z = (message.get(name) for name in ("grip", "x", "z"))
    if isinstance(path, str) and _is_number(x) and _is_number(z):
        with contextlib.suppress(OverflowError):
            return path, (float(x), float(z))
    return None


def _is_number(value: object) -> TypeGuard[int | float]:
    """Return whether a value of a message is a number; yes and no are none."""
    return isinstance(value, int | float) and not isinstance(value, bool)


def _words(message: dict[str, Any], name: str, otherwise: str) -> str:
    """Return a few words of a message as a page can show them."""
    text = message.get(name)
    return (printable(text[:MOST_WORDS]) if isinstance(text, str) else "") or otherwise


# --- after a change --------------------------------------------------------------------------------


async def _tell_news(tab: Tab) -> None:
    """Send what is new, each time that something is."""
    while True:
        await tab.news.wait()
        tab.news.clear()
        page, desk = tab.page, tab.desk
        if page is None:
            continue
        of_page, tab.of_page = tab.of_page, desk.pages.get(page.path, 0)
        try:
            if _is_of_other_file(tab, tab.file):
                if tab.later is not None:
                    tab.later.cancel()
                await tab.send("gone", to=page.path)
            elif tab.version != desk.version:
                await _refresh(tab, page)
            elif tab.of_page != of_page and desk.history is not None:
                await _send_parts(tab, page, tab.version)
        except Exception as error:
            mistake(error)


async def _refresh(tab: Tab, page: Page) -> None:
    desk = tab.desk
    version = desk.version
    tab.rest_no_more()
    tab.view = replace(tab.view, trial=None)
    if desk.history is None and not page.without_project:
        await tab.send("gone", to="/start")
        return
    tab.version = version
    if tab.later is not None:
        tab.later.cancel()
    await _send_picture(tab)
    tab.later = desk.start(_send_words(tab, page, version))


async def _send_words(tab: Tab, page: Page, version: int) -> None:
    """Send the parts of the page, and once more when verdicts that took longer are there."""
    desk = tab.desk
    try:
        await _send_parts(tab, page, version)
        if desk.history is None:
            return
        with contextlib.suppress(Exception):
            await desk.home()
        if desk.version == version:
            await _send_parts(tab, page, version)
        # Each as soon as it is there: what somebody looks at is judged first.
        waits = {desk.start(_quietly(judged)) for judged in desk.later_judgements()}
        try:
            while waits:
                _, waits = await asyncio.wait(waits, return_when=asyncio.FIRST_COMPLETED)
                if desk.version == version:
                    await _send_parts(tab, page, version)
        finally:
            for wait in waits:
                wait.cancel()
    except Exception as error:
        mistake(error)


async def _quietly(judged: Awaitable[object]) -> None:
    """Wait for a judgement; what goes wrong there stands in the parts."""
    with contextlib.suppress(Exception):
        await judged


async def _send_parts(tab: Tab, page: Page, version: int, *, trial: BoardHome | None = None) -> None:
    """Send those parts of a page that differ from what the tab has; with `trial`, those that follow a point.

    What is being sent counts as unknown to the tab until it is sent: sending may be cancelled on the way.
    """
    async with tab.sending:
        if trial is not None:
            tab.view = replace(tab.view, trial=trial)
        made = await parts(page, tab.desk, tab.view, None if trial is None else page.trial_parts)
        changed = {name: html for name, html in made.items() if tab.sent.get(name) != without_seen(html)}
        for name in changed:
            tab.sent.pop(name, None)
        await tab.send("parts", version=version, parts=changed, trial=trial is not None)
        tab.sent.update((name, without_seen(html)) for name, html in changed.items())


async def _send_picture(tab: Tab) -> None:
    """Send the drawing of the open project to a tab that shows it."""
    if tab.page is None or not tab.page.draws or tab.desk.history is None:
        return
    try:
        made = drawn(tab, tab.desk.project, draws=tab.desk.project.settings.draws)
    except Exception as error:
        await tab.send("picture", wrong=list(not_shown(error)))
        return
    await tab.send("picture", picture=made, version=tab.desk.version)


def drawn(tab: Tab, project: Project, *, draws: int = DRAWS) -> dict[str, Any]:
    """Return the drawing of a project for a tab; the scale is held where the roof still fits.

    `draws` is how many roofs the bands are made of: few while a point is moved.
    """
    made = picture(
        trial(project, draws=draws), width_px=tab.view.width, window=tab.window, units=project.settings.units
    )
    tab.window = tuple(made["side"]["window"])
    return dict(respelled(made, *tab.desk.spelling(), keep=MACHINE))


# --- while a point is dragged ----------------------------------------------------------------------


async def _answer_tries(tab: Tab) -> None:
    """Answer the newest try, one after the other; when none comes for a while, send its verdicts."""
    while True:
        await tab.asked.wait()
        tab.asked.clear()
        message, tab.newest = tab.newest, None
        if message is None:
            continue
        tab.rest_no_more()
        try:
            await _try(tab, message)
            tab.resting = tab.desk.start(_rest(tab))
        except Exception as error:
            await tab.send("trial", seq=message.get("seq"), refused=" ".join(not_shown(error)))


async def _try(tab: Tab, message: dict[str, Any]) -> None:
    found, seq = _spot(message), message.get("seq")
    if found is None or tab.desk.history is None:
        await tab.send("trial", seq=seq, refused="This point is not known.")
        return
    path, (x, z) = found
    project = tried(tab.desk.project, path, x, z)
    made = drawn(tab, project)
    tab.tried = (tab.desk.version, project)
    await tab.send("trial", seq=seq, picture=made)


async def _rest(tab: Tab) -> None:
    """Send the verdicts on the newest try when the point rests; it is cancelled by whatever comes after."""
    await asyncio.sleep(REST)
    asked, page = tab.tried, tab.page
    if asked is None or page is None or not page.trial_parts:
        return
    version, project = asked
    try:
        home = await tab.desk.try_home(project)
        if home is not None and tab.tried is asked and tab.desk.version == version:
            await _send_parts(tab, page, version, trial=home)
    except Exception as error:
        mistake(error)


async def _drop(tab: Tab, message: dict[str, Any]) -> None:
    found, seq = _spot(message), message.get("seq")
    tab.rest_no_more()
    tab.view = replace(tab.view, trial=None)
    if found is None or tab.desk.history is None:
        await tab.send("dropped", seq=seq, ok=False, said="This point is not known.")
        return
    path, (x, z) = found
    what, join = _words(message, "label", path), _words(message, "join", "")
    try:
        changes = moved(tab.desk.project, path, x, z)
        # What cannot be put together turns back before anything is written.
        trial(tried(tab.desk.project, path, x, z))
        tab.desk.change(changes, f"{what} moved", join=join)
    except Exception as error:
        await tab.send("dropped", seq=seq, ok=False, said=" ".join(not_shown(error)))
        await _send_picture(tab)
        tab.version = 0
        tab.news.set()
        return
    await tab.send("dropped", seq=seq, ok=True, said=f"Saved: {what} moved.")
    tab.version = 0
    tab.news.set()
