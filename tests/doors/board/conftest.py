"""A running board on a copy of a demo, one for all tests that want the same, and tabs of Chromium that were let in."""

from __future__ import annotations

import contextlib
import http.client
import importlib.util
import json
import sys
import tomllib
from collections.abc import Callable, Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest
from starlette.testclient import TestClient

from loftwright.board.app import build
from loftwright.board.desk import Desk
from loftwright.board.guard import Entry
from loftwright.board.serve import running
from loftwright.project.demos import demo_text

PATIENCE = 20.0
"""Longest that anything is waited for on a slow machine [s]."""
LOOK = 25
"""Between two looks [ms]."""
HOLES = 'place = "640 mm"\nforce = "810 N, label"\n'
DRILLED = """# Drilled already, from the rear.
feet = [["1.440 m", "-30 mm"], ["1.560 m", "-42 mm"]]
heads = [["1.000 m", "70 mm"]]
"""
LENGTHS = {"m": Fraction(1), "mm": Fraction(1, 1000), "in": Fraction(254, 10000), "ft": Fraction(3048, 10000)}


def text_of(name: str) -> str:
    """Return a demo; "drilled" is one of them with holes for its spring."""
    if name != "drilled":
        return demo_text(name)
    text = demo_text("fennimoor")
    assert text.count(HOLES) == 1
    return text.replace(HOLES, DRILLED + HOLES)


def metres(text: str) -> float:
    """Return a length as it stands in a file [m]: "1.496 m", "-36 mm", "5 ft 7 1/2 in"."""
    words = text.split(",")[0].split()
    whole = part = Fraction(0)
    for word in words:
        if word in LENGTHS:
            whole, part = whole + part * LENGTHS[word], Fraction(0)
        else:
            part += Fraction(word.lstrip("-"))
    return float(-whole if text.startswith("-") else whole)


def flat(value: Any, path: str = "") -> dict[str, Any]:
    """Return the values of a TOML file by their paths."""
    if isinstance(value, dict | list):
        pairs = value.items() if isinstance(value, dict) else enumerate(value)
        return {key: one for name, part in pairs for key, one in flat(part, f"{path}.{name}".strip(".")).items()}
    return {path: value}


class Board:
    """A running board and its file, which is put back between tests."""

    def __init__(self, entry: Entry, file: Path) -> None:
        self.entry = entry
        self.file = file
        self.first = file.read_bytes()

    @property
    def known(self) -> dict[str, str]:
        """What a browser that was let in sends with every request."""
        return {"Cookie": f"{self.entry.cookie}={self.entry.token}", "Origin": self.entry.base}

    def get(self, path: str) -> tuple[int, str]:
        """Load a page without a browser, and return status and HTML."""
        connection = http.client.HTTPConnection("127.0.0.1", self.entry.port, timeout=30)
        with contextlib.closing(connection):
            connection.request("GET", path, headers=self.known)
            answer = connection.getresponse()
            return answer.status, answer.read().decode("utf-8")

    def post(self, action: str, **fields: str) -> tuple[int, dict[str, Any]]:
        """Do what a page's script can do, and return status and answer."""
        connection = http.client.HTTPConnection("127.0.0.1", self.entry.port, timeout=30)
        headers = {
            **self.known,
            "Accept": "application/json",
            "Content-Type": "application/x-www-form-urlencoded",
        }
        with contextlib.closing(connection):
            connection.request("POST", action, urlencode(fields), headers)
            answer = connection.getresponse()
            return answer.status, json.loads(answer.read())

    def put_back(self) -> None:
        """Put the file back as it was at first and open it anew, so that nothing can be undone."""
        if not self.file.exists() or self.file.read_bytes() != self.first:
            self.file.unlink(missing_ok=True)
            self.file.write_bytes(self.first)
        status, answer = self.post("/do/open", file=self.file.name)
        assert (status, answer["ok"]) == (200, True), answer

    @property
    def values(self) -> dict[str, Any]:
        """What the file holds, by path."""
        return flat(tomllib.loads(self.file.read_text(encoding="utf-8")))


class Tab:
    """One tab of the browser: its page, what it asked for, what it complained of, the kinds of messages it was sent."""

    def __init__(self, page: Any) -> None:
        self.page = page
        self.complaints: list[str] = []
        self.asked: list[str] = []
        self.kinds: list[str] = []
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        # A form that is refused answers 422, of which the browser speaks by itself.
        page.on("console", lambda said: self._heard(said.text) if said.type == "error" else None)
        page.on("request", lambda request: self.asked.append(request.url))
        page.on("websocket", self._link)

    def _heard(self, said: str) -> None:
        if "status of 422" not in said:
            self.complaints.append(said)

    def _link(self, socket: Any) -> None:
        self.asked.append(socket.url)
        # Each message starts with its kind; a picture is long.
        socket.on("framereceived", lambda data: self.kinds.append(str(data)[:20].split('"')[3]))

    def until(self, found: Callable[[], Any], what: str = "") -> Any:
        """Return what `found` returns once it is true; the page goes on meanwhile."""
        for _ in range(int(PATIENCE * 1000 / LOOK)):
            with contextlib.suppress(OSError):
                if value := found():
                    return value
            self.page.wait_for_timeout(LOOK)
        raise AssertionError(f"waited in vain for {what or 'it'}")

    def go(self, address: str) -> Tab:
        """Open an address and wait until the page is linked and has had everything that comes by itself."""
        self.kinds.clear()
        self.page.goto(address)
        return self.settled()

    def settled(self) -> Tab:
        """Wait until the page is linked and what comes after its greeting is there."""
        self.page.wait_for_selector('body[data-linked="yes"]')
        draws = self.page.locator("[data-drawing]").count()
        self.until(lambda: "parts" in self.kinds and (not draws or "picture" in self.kinds), "the page's parts")
        self.drawn()
        return self

    def drawn(self) -> None:
        """Wait for two frames, which only a tab in front draws."""
        self.page.bring_to_front()
        self.page.evaluate("() => new Promise((f) => requestAnimationFrame(() => requestAnimationFrame(f)))")

    def text(self, selector: str) -> str:
        """Return what is read there first, its spaces made one; nothing where there is no such thing."""
        return " ".join(" ".join(self.page.locator(selector).all_inner_texts()[:1]).split())

    def says(self, selector: str, words: str) -> str:
        """Wait until words are read there, and return all of it."""
        try:
            self.until(lambda: words in self.text(selector))
        except AssertionError:
            assert words in self.text(selector)
        return self.text(selector)

    def slide(self, percent: int) -> None:
        """Open the roof so far."""
        script = "(el, v) => { el.value = v; el.dispatchEvent(new Event('input')); }"
        self.page.locator("[data-slider]").evaluate(script, str(percent))

    def at(self, path: str) -> tuple[float, float]:
        """Return the middle of a point's mark [CSS px in the window]."""
        box = self.page.locator(f'.grip[data-path="{path}"]').bounding_box()
        return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2

    def per_metre(self, board: Board, one: str, other: str) -> float:
        """Return the scale of the drawing [CSS px/m], from two points of the van as they stand in the file."""
        here, there = ([metres(board.values[f"{path}.{i}"]) for i in (0, 1)] for path in (one, other))
        (x0, y0), (x1, y1) = self.at(one), self.at(other)
        along, up = (x1 - x0) / (there[0] - here[0]), (y0 - y1) / (there[1] - here[1])
        # To scale means the same along and up; the shorter way is measured more coarsely.
        assert abs(along - up) < 0.4 / min(abs(a - b) for a, b in zip(here, there, strict=True))
        return along

    def take(self, path: str) -> tuple[float, float]:
        """Press the mouse on a point; return where it was."""
        self.drawn()
        x, y = self.at(path)
        self.page.mouse.move(x, y)
        self.page.mouse.down()
        return x, y

    def drag(self, path: str, dx: float, dy: float) -> None:
        """Drag a point by the mouse and let go [CSS px, down is positive]."""
        x, y = self.take(path)
        self.page.mouse.move(x + dx, y + dy, steps=4)
        self.page.mouse.up()

    def undo(self) -> None:
        """Press the undo button once it can be pressed."""
        self.page.locator("#undo:not([disabled])").click()


@pytest.fixture(scope="session")
def started_boards(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Callable[[str], Board]]:
    """Yield what starts the board of a demo once."""
    with contextlib.ExitStack() as stack:
        made: dict[str, Board] = {}

        def board(name: str) -> Board:
            if name not in made:
                file = tmp_path_factory.mktemp(name) / f"{name}.toml"
                file.write_text(text_of(name), encoding="utf-8")
                entry = stack.enter_context(running(lambda entry: build(Desk(file.parent, file))))
                made[name] = Board(entry, file)
            return made[name]

        yield board


@pytest.fixture
def board_of(started_boards: Callable[[str], Board]) -> Callable[[str], Board]:
    """Return what gives the board of a demo, its file as it was at first."""

    def board(name: str) -> Board:
        found = started_boards(name)
        found.put_back()
        return found

    return board


@pytest.fixture
def board(board_of: Callable[[str], Board]) -> Board:
    """Return the board of a roof that is hinged at the front and has holes, its file as it was at first."""
    return board_of("drilled")


@pytest.fixture
def tab_of(chromium: Any) -> Iterator[Callable[..., Tab]]:
    """Yield what opens a tab, in a browser of its own unless it is given one; at the end none may have complained."""
    contexts: list[Any] = []
    tabs: list[Tab] = []

    def tab(*, beside: Tab | None = None, **wanted: Any) -> Tab:
        if beside is not None:
            made = Tab(beside.page.context.new_page())
        else:
            context = chromium.new_context(**{"viewport": {"width": 1280, "height": 900}, **wanted})
            context.set_default_timeout(PATIENCE * 1000)
            contexts.append(context)
            made = Tab(context.new_page())
        tabs.append(made)
        return made

    yield tab
    for context in contexts:
        context.close()
    assert [said for one in tabs for said in one.complaints] == []


@pytest.fixture
def tab(tab_of: Callable[..., Tab], board: Board) -> Tab:
    """Return a tab that shows the drawing of `board`."""
    return tab_of().go(board.entry.address)


@pytest.fixture(scope="session", name="metres")
def length() -> Callable[[str], float]:
    """Return what reads a length of a file."""
    return metres


@pytest.fixture(scope="session")
def demo() -> Callable[[str], str]:
    """Return what gives the text of a demo."""
    return text_of


class FittedOut:
    """A board on a roof of which nothing is bought or done, whose fit-out, parts and plan are those of the sample."""

    def __init__(self, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        spec = importlib.util.spec_from_file_location("sample_fitout", Path(__file__).parent / "sample_fitout.py")
        assert spec is not None
        assert spec.loader is not None
        self.sample = importlib.util.module_from_spec(spec)
        sys.modules["sample_fitout"] = self.sample
        spec.loader.exec_module(self.sample)
        self.file = folder / "roof.toml"
        self.file.write_text(demo_text("quellmere"), "utf-8")
        self.desk = Desk(folder)
        self.desk.take(self.file)
        made = {"/riding": self.sample.riding, "/parts": self.sample.parts, "/plan": self.sample.plan}

        async def judged(path: str, **_: object) -> Any:
            return made[path]()

        async def here(work: Callable[..., Any], *args: Any) -> Any:
            return work(*args)

        monkeypatch.setattr(self.desk, "other", judged)
        monkeypatch.setattr(self.desk.strength, "run", here)
        self.client = TestClient(build(self.desk))

    @property
    def values(self) -> dict[str, Any]:
        """What the file holds."""
        return tomllib.loads(self.file.read_text(encoding="utf-8"))

    def page(self, path: str) -> str:
        """Load a page and return its HTML."""
        return str(self.client.get(path).text)

    def do(self, action: str, **fields: str) -> dict[str, Any]:
        """Do what a form of a page does, and return the answer."""
        answer = self.client.post(f"/do/{action}", data=fields, headers={"accept": "application/json"})
        return dict(answer.json())


@pytest.fixture
def fitted_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[FittedOut]:
    """Yield a board with made-up answers on fit-out, parts and plan."""
    made = FittedOut(tmp_path, monkeypatch)
    with made.client:
        yield made
