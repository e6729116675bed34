"""The websocket of one tab: points that are dragged, and parts of the page after each change.

Messages are JSON objects with the kind in "t". From the page: hello, width, try, drop, cancel. To the page: parts,
picture, trial, dropped, gone. Of tries only the newest counts; each is answered once.
"""

from __future__ import annotations

import asyncio
import contextlib
import json
from dataclasses import dataclass, field, replace
from typing import Any, TypeGuard

from starlette.websockets import WebSocket, WebSocketDisconnect

from loftwright.answers.grips import moved, tried
from loftwright.answers.trial import trial
from loftwright.board.desk import Desk
from loftwright.board.page import Page, View, parts, sentences
from loftwright.core.errors import LoftwrightError
from loftwright.core.scene import Spot
from loftwright.documents.board_picture import Window, picture
from loftwright.documents.respelled import respelled
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
    view: View = field(default_factory=View)
    window: Window | None = None
    version: int = 0
    of_page: int = 0
    sent: dict[str, str] = field(default_factory=dict)
    tried: tuple[int, Project] | None = None
    rested: tuple[int, Project] | None = None
    news: asyncio.Event = field(default_factory=asyncio.Event)
    asked: asyncio.Event = field(default_factory=asyncio.Event)
    newest: dict[str, Any] | None = None
    later: asyncio.Task[None] | None = None
    judging: asyncio.Task[None] | None = None
    resting: asyncio.Task[None] | None = None

    async def send(self, kind: str, **rest: Any) -> None:
        """Send one message."""
        await self.socket.send_text(json.dumps({"t": kind} | rest, separators=(",", ":")))


async def live(socket: WebSocket) -> None:
    """Serve one tab until it closes."""
    desk: Desk = socket.app.state.desk
    await socket.accept()
    tab = Tab(socket, desk)
    done = desk.listen(tab.news.set)
    helpers = [desk.start(_tell_news(tab)), desk.start(_answer_tries(tab))]
    try:
        while True:
            came = await socket.receive()
            if came["type"] != "websocket.receive":
                break
            message = _read(came.get("text") or "")
            if message is not None:
                await _take(tab, message)
    except WebSocketDisconnect:
        pass
    finally:
        done()
        for helper in (*helpers, tab.later, tab.resting, tab.judging):
            if helper is not None:
                helper.cancel()


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
    if kind == "hello":
        path, query = message.get("page"), message.get("query")
        tab.page = tab.socket.app.state.pages.get(path) if isinstance(path, str) else None
        tab.view = View(_texts(query), _width(message))
        # The page may have been made before the last change, or before a restart.
        tab.version = 0
        tab.news.set()
    elif kind == "width":
        tab.view = replace(tab.view, width=_width(message))
        tab.window = None
        await _send_picture(tab)
    elif kind == "try":
        tab.newest = message
        tab.asked.set()
    elif kind == "drop":
        tab.newest = None
        await _drop(tab, message)
    elif kind == "cancel":
        tab.newest, tab.tried = None, None
        tab.view = replace(tab.view, trial=None)
        await _send_picture(tab)
        tab.version = 0
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
        with contextlib.suppress(RuntimeError, WebSocketDisconnect):
            if tab.version != desk.version:
                await _refresh(tab, page)
            elif tab.of_page != of_page and desk.history is not None:
                await _send_parts(tab, await parts(page, desk, tab.view, page.parts), tab.version)


async def _refresh(tab: Tab, page: Page) -> None:
    desk = tab.desk
    version = desk.version
    tab.view, tab.tried = replace(tab.view, trial=None), None
    if desk.history is None and not page.without_project:
        await tab.send("gone", to="/start")
        return
    tab.version = version
    await _send_picture(tab)
    if tab.later is not None:
        tab.later.cancel()
    tab.later = desk.start(_send_words(tab, page, version))


async def _send_words(tab: Tab, page: Page, version: int) -> None:
    """Send the parts of the page, and once more when verdicts that took longer are there."""
    desk = tab.desk
    with contextlib.suppress(RuntimeError, WebSocketDisconnect):
        await _send_parts(tab, await parts(page, desk, tab.view), version)
        if desk.history is None:
            return
        with contextlib.suppress(LoftwrightError):
            await desk.home()
        if desk.version == version:
            await _send_parts(tab, await parts(page, desk, tab.view), version)


async def _send_parts(tab: Tab, made: dict[str, str], version: int, *, trial: bool = False) -> None:
    changed = {name: html for name, html in made.items() if tab.sent.get(name) != html}
    tab.sent.update(changed)
    await tab.send("parts", version=version, parts=changed, trial=trial)


async def _send_picture(tab: Tab) -> None:
    """Send the drawing of the open project to a tab that shows it."""
    if tab.page is None or not tab.page.draws or tab.desk.history is None:
        return
    try:
        made = drawn(tab, tab.desk.project)
    except LoftwrightError as error:
        await tab.send("picture", wrong=list(sentences(error)))
        return
    await tab.send("picture", picture=made, version=tab.desk.version)


def drawn(tab: Tab, project: Project) -> dict[str, Any]:
    """Return the drawing of a project for a tab; the scale is held where the roof still fits."""
    made = picture(trial(project), width_px=tab.view.width, window=tab.window, units=project.settings.units)
    tab.window = tuple(made["side"]["window"])
    return dict(respelled(made, *tab.desk.spelling()))


# --- while a point is dragged ----------------------------------------------------------------------


async def _answer_tries(tab: Tab) -> None:
    """Answer the newest try, one after the other; when none comes for a while, send its verdicts."""
    while True:
        await tab.asked.wait()
        tab.asked.clear()
        message, tab.newest = tab.newest, None
        if message is None:
            continue
        with contextlib.suppress(RuntimeError, WebSocketDisconnect):
            await _try(tab, message)
            if tab.resting is not None:
                tab.resting.cancel()
            tab.resting = tab.desk.start(_rest(tab))


async def _try(tab: Tab, message: dict[str, Any]) -> None:
    found, seq = _spot(message), message.get("seq")
    if found is None or tab.desk.history is None:
        await tab.send("trial", seq=seq, refused="This point is not known.")
        return
    path, (x, z) = found
    try:
        project = tried(tab.desk.project, path, x, z)
        made = drawn(tab, project)
    except LoftwrightError as error:
        tab.tried = None
        await tab.send("trial", seq=seq, refused=" ".join(sentences(error)))
        return
    tab.tried = (tab.desk.version, project)
    await tab.send("trial", seq=seq, picture=made)


async def _rest(tab: Tab) -> None:
    """Have the newest try judged, unless another one comes meanwhile; tries go on being answered."""
    await asyncio.sleep(REST)
    tab.rested = tab.tried
    if tab.judging is None or tab.judging.done():
        tab.judging = tab.desk.start(_judge(tab))


async def _judge(tab: Tab) -> None:
    """Send the verdicts on the newest try at which the point rested, unless it has moved on since."""
    while tab.rested is not None and tab.rested is tab.tried and tab.page is not None and tab.page.trial_parts:
        asked, tab.rested = tab.rested, None
        version, project = asked
        home = await tab.desk.try_home(project)
        if home is None or tab.tried is not asked or tab.desk.version != version:
            continue
        tab.view = replace(tab.view, trial=home)
        made = await parts(tab.page, tab.desk, tab.view, tab.page.trial_parts)
        with contextlib.suppress(RuntimeError, WebSocketDisconnect):
            await _send_parts(tab, made, version, trial=True)


async def _drop(tab: Tab, message: dict[str, Any]) -> None:
    found, seq = _spot(message), message.get("seq")
    tab.tried = None
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
    except LoftwrightError as error:
        await tab.send("dropped", seq=seq, ok=False, said=" ".join(sentences(error)))
        await _send_picture(tab)
        tab.version = 0
        tab.news.set()
        return
    await tab.send("dropped", seq=seq, ok=True, said=f"Saved: {what} moved.")
    tab.version = 0
    tab.news.set()
