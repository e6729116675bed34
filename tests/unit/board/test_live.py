"""The websocket of one tab, without a browser: what it answers, in which order, and what it makes of nonsense.

Exact constructed cases on a copy of a demo, through the application that the board runs.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from loftwright.board.app import build
from loftwright.board.desk import Desk
from loftwright.board.live import MOST_TEXT
from loftwright.project.demos import demo_text
from loftwright.project.file import read

FOOT = "spring.0.foot"
LONG = 30.0
"""Longer than anything here takes [s]."""
ONLY_TRIED = "nothing is saved before you let go"
JSON = {"accept": "application/json"}


class Tab:
    """A tab that speaks by hand. What is waited for in vain ends the test, not the run."""

    def __init__(self, socket: Any, thread: ThreadPoolExecutor) -> None:
        self.socket = socket
        self.thread = thread

    def send(self, kind: str, **rest: Any) -> None:
        self.raw(json.dumps({"t": kind} | rest))

    def raw(self, text: str) -> None:
        self.socket.send_text(text)

    def hear(self) -> dict[str, Any]:
        found: dict[str, Any] = json.loads(self.thread.submit(self.socket.receive_text).result(LONG))
        return found

    def until(self, kind: str, **wanted: Any) -> dict[str, Any]:
        """Return the next message of a kind that holds what is wanted."""
        while True:
            found = self.hear()
            if found["t"] == kind and wanted.items() <= found.items():
                return found

    def part(self, name: str, words: str, *, there: bool = True) -> str:
        """Return the part of the page that comes next with or without these words."""
        while True:
            found = self.until("parts")["parts"].get(name)
            if found is not None and (words in found) is there:
                return str(found)

    def is_there(self) -> bool:
        """Return whether it still answers, tries and drops alike."""
        self.send("try", seq=-1)
        refused = self.until("trial", seq=-1)["refused"]
        self.send("drop", seq=-2)
        return {refused, self.until("dropped", seq=-2)["said"]} == {"This point is not known."}


@pytest.fixture(scope="module")
def desk_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("live") / "roof.toml"


@pytest.fixture(scope="module")
def client(desk_file: Path) -> Iterator[TestClient]:
    desk_file.write_text(demo_text("fennimoor"), encoding="utf-8")
    with TestClient(build(Desk(desk_file.parent, desk_file))) as made:
        yield made


@pytest.fixture
def file(client: TestClient, desk_file: Path) -> Path:
    desk_file.write_text(demo_text("fennimoor"), encoding="utf-8")
    assert client.post("/do/open", data={"file": desk_file.name}, headers=JSON).json()["ok"]
    return desk_file


@pytest.fixture
def tab(client: TestClient, file: Path) -> Iterator[Tab]:
    with ThreadPoolExecutor(1) as thread, client.websocket_connect("/live") as socket:
        yield Tab(socket, thread)


def grip(picture: dict[str, Any], path: str = FOOT) -> dict[str, Any]:
    found: dict[str, Any] = next(one for one in picture["grips"] if one["path"] == path)
    return found


def place(file: Path) -> tuple[float, float]:
    foot = read(file).spring[0].foot
    return foot.x.nominal, foot.z.nominal


# --- the usual way -----------------------------------------------------------------------------------


def test_a_greeting_is_answered_with_the_drawing_and_the_parts(tab: Tab) -> None:
    tab.send("hello", page="/", query={}, width=700)
    first, second = tab.hear(), tab.hear()
    assert (first["t"], second["t"]) == ("picture", "parts")
    assert grip(first["picture"])["at"] == [1.496, -0.036]
    # To the width that was asked for: five pixels to the millimetre.
    assert first["picture"]["side"]["size"][0] == pytest.approx(700 / 5)
    assert second["version"] == first["version"]
    assert set(second["parts"]) == {"notice", "title", "where", "undo", "donext", "odds", "verdicts", "cautions"}
    if "worst first" not in second["parts"]["verdicts"]:
        tab.part("verdicts", "worst first")
    tab.send("width", width=900)
    assert tab.until("picture")["picture"]["side"]["size"][0] == pytest.approx(900 / 5)


def test_a_page_without_a_drawing_gets_its_parts_alone(tab: Tab) -> None:
    tab.send("hello", page="/have", query={})
    found = tab.hear()
    assert found["t"] == "parts"
    assert set(found["parts"]) == {"notice", "title", "where", "undo", "fields", "pageverdicts"}


def test_a_try_is_shown_and_judged_and_never_written(tab: Tab, file: Path) -> None:
    before = file.read_bytes()
    tab.send("hello", page="/", query={}, width=700)
    tab.part("odds", "roofs like yours")
    tab.send("try", grip=FOOT, x=1.5204, z=-0.04, seq=7)
    shown = tab.until("trial")
    assert (shown["seq"], grip(shown["picture"])["at"]) == (7, [1.52, -0.04])
    tab.part("odds", ONLY_TRIED)
    assert file.read_bytes() == before
    tab.send("cancel")
    assert grip(tab.until("picture")["picture"])["at"] == [1.496, -0.036]
    assert "roofs like yours" in tab.part("odds", ONLY_TRIED, there=False)
    assert file.read_bytes() == before


def test_of_many_tries_the_newest_is_answered(tab: Tab) -> None:
    tab.send("hello", page="/", query={})
    for seq in range(1, 31):
        tab.send("try", grip=FOOT, x=1.45 + 0.001 * seq, z=-0.036, seq=seq)
    answered = [tab.until("trial")]
    while answered[-1]["seq"] < 30:
        answered.append(tab.until("trial"))
    order = [one["seq"] for one in answered]
    assert order == sorted(set(order))
    assert grip(answered[-1]["picture"])["at"] == [1.48, -0.036]


def test_a_drop_is_written_and_comes_to_every_tab(tab: Tab, client: TestClient, file: Path) -> None:
    with ThreadPoolExecutor(1) as thread, client.websocket_connect("/live") as socket:
        other = Tab(socket, thread)
        for one, page in ((tab, "/"), (other, "/lifts")):
            one.send("hello", page=page, query={})
            one.until("parts")
        tab.send("drop", grip=FOOT, x=1.52, z=-0.05, seq=3, label="foot of side spring")
        assert tab.until("dropped") == {
            "t": "dropped",
            "seq": 3,
            "ok": True,
            "said": "Saved: foot of side spring moved.",
        }
        assert place(file) == pytest.approx((1.52, -0.05))
        picture = tab.until("picture")
        assert grip(picture["picture"])["at"] == [1.52, -0.05]
        tab.part("undo", "foot of side spring moved")
        written = tomllib.loads(file.read_text(encoding="utf-8"))["spring"][0]["foot"][0]
        other.part("fields", f'value="{written}"')
    # The other is gone: a change is told to who is left.
    assert client.post("/do/undo", headers=JSON).json()["ok"]
    assert grip(tab.until("picture")["picture"])["at"] == [1.496, -0.036]
    assert place(file) == (1.496, -0.036)


def test_small_moves_that_belong_together_are_undone_together(tab: Tab, client: TestClient, file: Path) -> None:
    before = file.read_bytes()
    for seq, x in enumerate((1.497, 1.498, 1.499)):
        tab.send("drop", grip=FOOT, x=x, z=-0.036, seq=seq, join=FOOT)
        assert tab.until("dropped", seq=seq)["ok"]
    assert place(file) == pytest.approx((1.499, -0.036))
    assert client.post("/do/undo", headers=JSON).json()["ok"]
    assert file.read_bytes() == before
    assert not client.post("/do/undo", headers=JSON).json()["ok"]


@pytest.mark.parametrize(
    ("path", "x", "z", "words"),
    [
        (FOOT, 7.0, 0.0, "must lie within -3 m to 6 m"),
        (FOOT, -1e300, 0.0, "must lie within"),
        (FOOT, float("nan"), 0.0, "no number"),
        (FOOT, 1.5, float("inf"), "no number"),
        (FOOT, 1.5, float("-inf"), "no number"),
        ("spring.7.foot", 1.5, 0.0, "no point of this roof is called that"),
        ("shell.mass", 1.5, 0.0, "no point of this roof is called that"),
        ("__class__", 1.5, 0.0, "no point of this roof is called that"),
        ("", 1.5, 0.0, "no point of this roof is called that"),
        ("\ud800", 1.5, 0.0, "no point of this roof is called that"),
    ],
)
def test_what_cannot_be_is_one_sentence(tab: Tab, file: Path, path: str, x: float, z: float, words: str) -> None:
    before = file.read_bytes()
    # Python writes NaN and Infinity as no other JSON does; they are read all the same.
    tab.send("try", grip=path, x=x, z=z, seq=1)
    said = [tab.until("trial", seq=1)["refused"]]
    tab.send("drop", grip=path, x=x, z=z, seq=2)
    dropped = tab.until("dropped", seq=2)
    assert dropped["ok"] is False
    for one in (*said, dropped["said"]):
        assert words in one
        assert one.endswith(".")
    assert file.read_bytes() == before


# --- nonsense ----------------------------------------------------------------------------------------

HUGE = "1" + "0" * 400
NONSENSE = {
    "nothing": "",
    "no JSON": "hello",
    "a list": "[]",
    "a number": "17",
    "no kind": "{}",
    "a kind that is no text": '{"t":1}',
    "an unknown kind": '{"t":"shutdown"}',
    "half a message": '{"t":"try","grip":',
    "deep": "[" * 20_000,
    "deep inside": '{"t":"hello","query":' + '{"a":' * 5_000 + "1" + "}" * 5_001,
    "too long": json.dumps({"t": "hello", "page": "/", "more": "x" * MOST_TEXT}),
    "a page that is a list": '{"t":"hello","page":[]}',
    "a page that is an object": '{"t":"hello","page":{"a":1}}',
    "an unknown page": '{"t":"hello","page":"/etc/passwd"}',
    "a query of anything": '{"t":"hello","page":"/beside","query":{"with":{"a":[1]},"b":null}}',
    "a query that is a list": '{"t":"hello","page":"/start","query":[1,2]}',
    "a width that is text": '{"t":"width","width":"wide"}',
    "a width that is no number": '{"t":"width","width":NaN}',
    "a width beyond all numbers": f'{{"t":"width","width":{HUGE}}}',
    "a width below nought": '{"t":"hello","page":"/","width":-5}',
    "a try of nothing": '{"t":"try"}',
    "a try of numbers": '{"t":"try","grip":5,"x":1,"z":1}',
    "a try at texts": f'{{"t":"try","grip":"{FOOT}","x":"1","z":[]}}',
    "a try beyond all numbers": f'{{"t":"try","grip":"{FOOT}","x":{HUGE},"z":0,"seq":5}}',
    "a try at yes and no": f'{{"t":"try","grip":"{FOOT}","x":true,"z":false,"seq":{{"a":1}}}}',
    "a drop of nothing": '{"t":"drop"}',
    "a drop beyond all numbers": f'{{"t":"drop","grip":"{FOOT}","x":0,"z":-{HUGE},"seq":5}}',
    "a drop at yes and no": f'{{"t":"drop","grip":"{FOOT}","x":true,"z":false}}',
    "a cancel of nothing": '{"t":"cancel","seq":[]}',
}


@pytest.mark.parametrize("text", NONSENSE.values(), ids=NONSENSE)
def test_nonsense_changes_nothing_and_ends_nothing(tab: Tab, file: Path, text: str) -> None:
    before = file.read_bytes()
    tab.raw(text)
    assert tab.is_there()
    assert file.read_bytes() == before
    # And the tab still works.
    tab.send("hello", page="/", query={})
    assert grip(tab.until("picture")["picture"])["at"] == [1.496, -0.036]


def test_bytes_are_no_message(tab: Tab, file: Path) -> None:
    tab.socket.send_bytes(b'{"t":"drop"}')
    assert tab.is_there()


@pytest.mark.parametrize("label", ["\ud800", "<b>bold</b>", ["a"], {"a": 1}, 5, None, "x" * 40_000])
def test_whatever_a_point_is_called_the_pages_stand(tab: Tab, client: TestClient, file: Path, label: Any) -> None:
    tab.send("drop", grip=FOOT, x=1.5, z=-0.036, seq=1, label=label, join=label)
    assert tab.until("dropped", seq=1)["ok"]
    page = client.get("/")
    assert page.status_code == 200
    assert "<b>bold" not in page.text
    assert "x" * 1000 not in page.text
    assert client.post("/do/undo", headers=JSON).json()["ok"]


def test_without_a_project_the_tab_is_led_to_the_start(tmp_path: Path) -> None:
    with (
        TestClient(build(Desk(tmp_path))) as client,
        ThreadPoolExecutor(1) as thread,
        client.websocket_connect("/live") as socket,
    ):
        tab = Tab(socket, thread)
        tab.send("hello", page="/lifts", query={})
        assert tab.hear() == {"t": "gone", "to": "/start"}
        assert tab.is_there()
        tab.send("width", width=500)
        tab.send("cancel")
        tab.send("hello", page="/start", query={})
        assert set(tab.until("parts")["parts"]) >= {"start_files"}
