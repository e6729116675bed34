"""What the board does when something cannot be: roofs that cannot be built, odd addresses, and our own mistakes.

Every page still answers with a sentence, and with the way back.
"""

from __future__ import annotations

import asyncio
import json
import re
import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from loftwright.answers import board_home as judgement
from loftwright.answers.other_designs import choices
from loftwright.board import app, live, page
from loftwright.board.app import PAGES, build
from loftwright.board.desk import Desk
from loftwright.board.jobs import BrokenOff
from loftwright.board.pages import beside, home, lifts
from loftwright.core.errors import Bug
from loftwright.project.demos import demo_text
from loftwright.project.newfile import FiveAnswers, new_project

JSON = {"accept": "application/json"}
LONG = 60.0
"""Longer than anything here takes [s]."""
FOOT = "spring.0.foot"


@pytest.fixture
def file(tmp_path: Path) -> Path:
    made = tmp_path / "ottergate.toml"
    made.write_text(demo_text("ottergate"), encoding="utf-8")
    return made


@pytest.fixture
def desk(file: Path) -> Desk:
    return Desk(file.parent, file)


@pytest.fixture
def client(desk: Desk) -> Iterator[TestClient]:
    with TestClient(build(desk), raise_server_exceptions=False) as made:
        yield made


def do(client: TestClient, action: str, **fields: str) -> dict[str, Any]:
    return dict(client.post(f"/do/{action}", data=fields, headers=JSON).json())


def until(true: Callable[[], bool]) -> None:
    end = time.monotonic() + LONG
    while not true():
        assert time.monotonic() < end
        time.sleep(0.02)


class Tab:
    """A tab that speaks by hand; what is waited for in vain ends the test."""

    def __init__(self, socket: Any, thread: ThreadPoolExecutor) -> None:
        self.socket, self.thread = socket, thread

    def send(self, kind: str, **rest: Any) -> None:
        self.socket.send_text(json.dumps({"t": kind} | rest))

    def until(self, kind: str, holds: Callable[[dict[str, Any]], bool] = lambda _: True) -> dict[str, Any]:
        while True:
            found: dict[str, Any] = json.loads(self.thread.submit(self.socket.receive_text).result(LONG))
            if found["t"] == kind and holds(found):
                return found


@pytest.fixture
def tab(client: TestClient) -> Iterator[Tab]:
    with ThreadPoolExecutor(1) as thread, client.websocket_connect("/live") as socket:
        yield Tab(socket, thread)


# --- roofs ---------------------------------------------------------------------------------------------


def far(text: str) -> str:
    """Return a roof whose arms do not reach."""
    return re.sub(r"arm_a_van = \[[^,]+,", 'arm_a_van = ["-3 m",', text)


def without_springs(text: str) -> str:
    """Return a roof that nothing lifts yet."""
    return re.sub(r"(?ms)^\[\[(spring|zone|reading|tape)[^\n]*\n.*?(?=^\[|\Z)", "", text)


SIDE = (Path(__file__).parents[2] / "roofs" / "side_hinge.toml").read_text(encoding="utf-8")
ROOFS: dict[str, str] = {
    "arms that do not reach": far(demo_text("ottergate")),
    "no springs": without_springs(demo_text("ottergate")),
    "hinged at a side": SIDE,
    "nothing known": new_project(FiveAnswers(), "metric"),
}


@pytest.mark.parametrize("name", ROOFS)
def test_every_page_stands_on_every_roof(tmp_path: Path, name: str) -> None:
    made = tmp_path / "roof.toml"
    made.write_text(ROOFS[name], encoding="utf-8")
    desk = Desk(tmp_path, made)
    with TestClient(build(desk), follow_redirects=False) as client:
        for _ in range(2):
            for one in PAGES:
                assert client.get(one.path).status_code == 200, one.path
        assert client.get("/papers/readings.pdf").content.startswith(b"%PDF")
        assert client.get("/solid.json").status_code in (200, 422)
        with ThreadPoolExecutor(1) as thread:
            for one in PAGES:
                with client.websocket_connect("/live") as socket:
                    tab = Tab(socket, thread)
                    tab.send("hello", page=one.path, query={}, width=700)
                    assert set(one.parts) <= set(tab.until("parts")["parts"]), one.path


def test_a_roof_whose_arms_do_not_reach_says_so_and_is_undone(client: TestClient) -> None:
    assert do(client, "change", **{"linkage.arm_a_van.x": "-3 m"})["ok"]
    for path in ("/proof", "/readings"):
        text = unescape(client.get(path).text)
        until(lambda path=path: page.NOT_BUILT in unescape(client.get(path).text))
        said = re.search(r"<p>([^<]*(?:arm|reach|meet)[^<]*)</p>", text)
        assert said is not None, path
        assert said[1].endswith(".")
        assert '<button formaction="/do/undo" id="undo" title' in text
    assert do(client, "undo")["ok"]
    until(lambda: page.NOT_BUILT not in unescape(client.get("/readings").text))


# --- odd addresses and forms -----------------------------------------------------------------------------

ADDRESSES = (
    f"/start?opening_length={'9' * 60}",
    f"/start?opening_length={'9' * 500}",
    f"/start?shell_mass={'9' * 80}&units=imperial",
    "/start?opening_length=1e999&units=bogus&lifts=zz",
    "/start?shell_mass=nan&person_height=%F0%9F%98%80",
    "/beside?with=file:%00",
    "/beside?with=file:../x",
    f"/beside?with=file:{'a' * 5000}",
    "/beside?with=step:zz",
    "/papers?paper=zz&springs=%00",
)


@pytest.mark.parametrize("address", ADDRESSES, ids=lambda one: one[:30])
def test_an_odd_address_is_a_page_with_a_sentence(client: TestClient, address: str) -> None:
    answer = client.get(address)
    assert answer.status_code == 200
    assert 'class="fault"' in answer.text


@pytest.mark.parametrize(
    ("action", "fields", "words"),
    [
        ("remove", {}, "it lacks path"),
        ("open", {}, "it lacks file"),
        ("fit-springs", {}, ""),
        ("beside-take", {}, "it lacks with"),
        ("motion", {}, "it lacks wanted"),
        ("demo", {}, "it lacks demo"),
        ("change", {"foo": "1"}, "foo is not a value of the project file"),
        ("change", {"": "1"}, "is not a value of the project file"),
        ("change", {"x": "1"}, "x is not a value of the project file"),
        ("change", {"spring.q.x": "1"}, "is not a value of the project file"),
        ("add", {"what": ""}, ""),
        ("add", {"what": "", "spring.99.name": "a"}, ""),
        ("reading_add", {"how_open": "50", "way": "push up", "force": "1e400"}, ""),
        ("nothing", {}, "no such action"),
    ],
)
def test_an_odd_form_is_one_sentence(client: TestClient, action: str, fields: dict[str, str], words: str) -> None:
    before = client.app.state.desk.open.text  # type: ignore[attr-defined]
    answer = do(client, action, **fields)
    assert "mistake of the program" not in answer["said"]
    assert words in answer["said"]
    assert answer["said"].endswith(".")
    if action != "add":
        assert not answer["ok"]
        assert client.app.state.desk.open.text == before  # type: ignore[attr-defined]


@pytest.mark.parametrize("hole", ["foot 1.2.3 4", "foot . -", f"head {'9' * 400} 1", "foot 1 2 3", "nonsense"])
def test_a_hole_that_is_none_is_no_mistake_of_the_program(client: TestClient, hole: str) -> None:
    answer = do(client, "reading_add", how_open="50", way="push up", force="5", hole=hole)
    assert "mistake" not in answer["said"]
    desk = client.app.state.desk  # type: ignore[attr-defined]
    assert all(reading.spring is None for reading in desk.project.reading[-1:])


def test_going_back_stays_on_the_board(client: TestClient) -> None:
    for back in ("//evil.example", "/\\evil.example", "javascript:alert(1)", "https://evil.example"):
        answer = client.post(f"/look/dark?back={back}", follow_redirects=False)
        assert answer.headers["location"] == "/"
        refused = client.post("/do/undo", data={"back": back})
        assert "evil" not in refused.text
        assert "javascript" not in refused.text
    answer = client.post("/look/dark?back=/proof", follow_redirects=False)
    assert answer.headers["location"] == "/proof"


# --- our own mistakes ------------------------------------------------------------------------------------


async def breaks(*given: object) -> dict[str, Any]:
    raise KeyError("a key of our own")


@pytest.fixture
def broken(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the page of readings fail by a mistake of ours."""
    every = {one.path: replace(one, context=breaks) if one.path == "/readings" else one for one in PAGES}
    monkeypatch.setattr(app, "pages", lambda: every)


def test_a_page_that_fails_by_a_mistake_keeps_its_frame_and_undo(
    broken: None, client: TestClient, tab: Tab, capsys: pytest.CaptureFixture[str]
) -> None:
    assert do(client, "change", **{"shell.mass": "47 kg", "what": "shell weighed"})["ok"]
    answer = client.get("/readings")
    assert answer.status_code == 500
    assert "mistake of the program (KeyError: &#39;a key of our own&#39;)" in answer.text
    assert '<button formaction="/do/undo" id="undo" title="shell weighed">' in answer.text
    assert "a key of our own" in capsys.readouterr().err
    # In a tab that is open the frame goes on as well.
    tab.send("hello", page="/readings", query={})
    found = tab.until("parts")["parts"]
    assert "mistake of the program" in found["notice"]
    assert "shell weighed" in found["undo"]
    assert do(client, "undo")["ok"]
    tab.until("parts", lambda one: 'id="redo" title="shell weighed"' in one["parts"].get("undo", ""))


def test_a_judgement_that_fails_by_a_mistake_leaves_all_pages(
    client: TestClient, desk: Desk, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    async def fails(*given: object, wait: float | None = None) -> None:
        raise Bug("no margin without value and limit")

    monkeypatch.setattr(desk, "home", fails)
    for one in PAGES:
        answer = client.get(one.path)
        assert answer.status_code == 200, one.path
        assert "mistake of the program (Bug: no margin" in answer.text
        assert page.NOT_JUDGED in answer.text
        assert page.NOT_BUILT not in answer.text
    assert "in fails" in capsys.readouterr().err


def test_a_judgement_that_was_broken_off_is_no_fault_of_the_roof(
    client: TestClient, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    async def dies(work: object, *args: object) -> None:
        raise BrokenOff.of("The judgement")

    with monkeypatch.context() as patch:
        patch.setattr(desk.verdicts, "run", dies)
        text = client.get("/have").text
        assert "The judgement is broken off" in text
        assert page.NOT_JUDGED in text
        assert page.NOT_BUILT not in text
    # Without a change of the file it is there again, a little later.
    until(lambda: page.NOT_JUDGED not in client.get("/have").text)
    until(lambda: "roofs like yours" in client.get("/").text)


def test_an_action_that_fails_by_a_mistake_says_so(
    client: TestClient, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(Desk, "undo", lambda self: {}["ours"])
    assert do(client, "change", **{"shell.mass": "47 kg"})["ok"]
    answer = client.post("/do/undo", headers=JSON)
    assert answer.status_code == 500
    assert "mistake of the program (KeyError: 'ours')" in answer.json()["said"]
    assert "lacks" not in answer.json()["said"]
    assert "Traceback" in capsys.readouterr().err
    answer = client.post("/do/undo")
    assert answer.status_code == 500
    assert "mistake of the program" in answer.text


def test_other_addresses_have_a_net_too(client: TestClient, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(home, "solid", lambda project: 1 / 0)
    answer = client.get("/solid.json", headers=JSON)
    assert answer.status_code == 500
    assert "mistake of the program (ZeroDivisionError" in answer.json()["said"]


def test_a_tab_outlives_mistakes(
    client: TestClient, tab: Tab, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    tab.send("hello", page="/", query={}, width=700)
    tab.until("picture")
    tab.send("try", grip=FOOT, x=1e308, z=0, seq=1)
    assert "must lie within" in tab.until("trial")["refused"]
    tab.send("drop", grip=FOOT, x=1e308, z=0, seq=2)
    assert "must lie within" in tab.until("dropped")["said"]
    with monkeypatch.context() as patch:
        patch.setattr(live, "trial", lambda *given, **more: {}["ours"])
        tab.send("try", grip=FOOT, x=1.5, z=0, seq=3)
        assert "mistake of the program (KeyError" in tab.until("trial")["refused"]
        tab.send("drop", grip=FOOT, x=1.5, z=0, seq=4)
        dropped = tab.until("dropped")
        assert not dropped["ok"]
        assert "mistake of the program" in dropped["said"]
        tab.send("width", width=800)
        assert "mistake" in tab.until("picture")["wrong"][0]
        patch.setattr(live, "_texts", lambda query: 1 / 0)
        tab.send("hello", page="/", query={}, width=700)
    with monkeypatch.context() as patch:
        patch.setattr(live, "_refresh", breaks)
        assert do(client, "change", **{"shell.mass": "47 kg", "what": "shell weighed"})["ok"]
        until(lambda: "a key of our own" in capsys.readouterr().err)
    tab.send("try", grip=FOOT, x=1.5, z=-0.036, seq=5)
    tab.until("trial", lambda one: one.get("seq") == 5 and "picture" in one)
    assert do(client, "undo")["ok"]
    tab.until("parts", lambda one: "redo" in one["parts"].get("undo", ""))


# --- tabs ------------------------------------------------------------------------------------------------


def test_a_point_that_rests_right_after_a_drop_is_judged(tab: Tab, desk: Desk) -> None:
    """The process is busy with the roof as it was dropped; the trial waits for its turn."""
    tab.send("hello", page="/", query={}, width=700)
    grip = tab.until("picture")["picture"]["grips"][0]
    x, z = grip["at"]
    run = desk.verdicts.run

    async def slow(work: Any, *args: Any) -> Any:
        if work is judgement.board_home:
            await run(time.sleep, 0.8)
        return await run(work, *args)

    desk.verdicts.run = slow  # type: ignore[method-assign]
    tab.send("drop", grip=grip["path"], x=x + 0.003, z=z, seq=1)
    assert tab.until("dropped")["ok"]
    tab.until("picture")
    tab.send("try", grip=grip["path"], x=x + 0.005, z=z, seq=2)
    assert "picture" in tab.until("trial")
    found = tab.until("parts", lambda one: one["trial"])
    assert "nothing is saved before you let go" in found["parts"]["odds"]


def test_parts_whose_sending_was_cancelled_are_sent_again(desk: Desk) -> None:
    async def sent() -> list[list[str]]:
        out: list[list[str]] = []
        stuck = asyncio.Event()

        class Slow:
            """A phone that takes nothing at first."""

            async def send_text(self, text: str) -> None:
                if not stuck.is_set():
                    stuck.set()
                    await asyncio.sleep(LONG)
                out.append(list(json.loads(text)["parts"]))

        shown = next(one for one in PAGES if one.path == "/have")
        tab = live.Tab(Slow(), desk, page=shown)  # type: ignore[arg-type]
        await desk.home()
        first = asyncio.ensure_future(live._send_parts(tab, shown, 1))
        await stuck.wait()
        second = asyncio.ensure_future(live._send_parts(tab, shown, 2))
        await asyncio.sleep(0.05)
        # The second waits for the first, whose words are older.
        assert out == []
        first.cancel()
        await second
        await live._send_parts(tab, shown, 3)
        return out

    try:
        with ThreadPoolExecutor(1) as thread:
            second, third = thread.submit(lambda: asyncio.run(sent())).result(LONG)
    finally:
        desk.close()
    assert {"fields", "undo", "where"} <= set(second)
    assert "fields" not in third


def test_as_many_comparisons_as_tabs_come_to_rest(
    client: TestClient, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    others = [f"p{k}.toml" for k in range(6)]
    for name in others:
        (desk.folder / name).write_text(f"{demo_text('ottergate')}\n# {name}\n", encoding="utf-8")
    compared: list[str] = []
    compare = beside._compare

    async def counted(desk: Desk, found: Any, other: Any) -> None:
        compared.append(other.key)
        await compare(desk, found, other)

    monkeypatch.setattr(beside, "_compare", counted)
    sockets = [client.websocket_connect("/live") for _ in others]
    with ThreadPoolExecutor(1) as thread:
        try:
            tabs = [Tab(socket.__enter__(), thread) for socket in sockets]
            for one, name in zip(tabs, others, strict=True):
                one.send("hello", page="/beside", query={"with": f"file:{name}"}, width=600)
            for one in tabs:
                one.until("parts", lambda found: "Key figures" in found["parts"].get("beside_differences", ""))
            time.sleep(1.0)
            assert len(compared) == len(set(compared)) == len(others)
        finally:
            for socket in sockets:
                socket.__exit__(None, None, None)
    # Without tabs few are kept, and few drawings of each.
    until(lambda: desk.tabs == 0)
    client.get("/beside?with=file:p0.toml")
    kept = desk.kept[beside.KEPT]
    assert len(kept) <= beside.MOST_KEPT
    found = kept[(desk.open.path, "file:p0.toml")]
    until(lambda: found.made is not None)
    for width in range(300, 320):
        assert beside._pictures(found, float(width)) is not None
    assert len(found.pictures) == beside.MOST_WIDTHS


def test_papers_follow_a_search_that_another_page_began(
    client: TestClient, desk: Desk, tab: Tab, monkeypatch: pytest.MonkeyPatch
) -> None:
    async def follow(hear: Callable[[float, str], None], *given: object) -> None:
        hear(0.0, "")
        for share in (0.25, 0.5):
            hear(share, "moving brackets")
            await asyncio.sleep(0.4)
        raise Bug("that is all")

    monkeypatch.setattr(desk.long, "follow", follow)
    tab.send("hello", page="/papers", query={"springs": "searched"})
    tab.until("parts")
    assert do(client, "search-springs", list="along", draws="100")["ok"]
    for words in ("25 %", "50 %", lifts.BROKEN):
        tab.until("parts", lambda one, words=words: words in unescape(one["parts"].get("papers", "")))


def test_a_search_whose_turn_has_come_waits_no_longer_and_is_stopped_at_work(
    client: TestClient, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    stopped = threading.Event()

    async def follow(hear: Callable[[float, str], None], *given: object) -> None:
        hear(0.0, "")
        while not stopped.is_set():
            await asyncio.sleep(0.01)
        raise Bug("that is all")

    monkeypatch.setattr(desk.long, "follow", follow)
    monkeypatch.setattr(desk.long, "stop", stopped.set)
    monkeypatch.setattr(type(desk.long), "busy", property(lambda _: True))
    assert do(client, "search-springs", list="along", draws="100")["ok"]
    until(lambda: f"<p>{lifts.STARTS}" in client.get("/lifts").text)
    # It is asked to end; who waits for it is not taken from it.
    assert do(client, "stop-springs")["said"] == "Stopping: the best so far comes in a moment."
    until(lambda: not desk.kept[lifts.KEPT].running)
    assert stopped.is_set()


# --- files outside the folder ----------------------------------------------------------------------------


def test_links_that_lead_out_of_the_folder_are_not_offered(
    client: TestClient, desk: Desk, tmp_path_factory: pytest.TempPathFactory
) -> None:
    outside = tmp_path_factory.mktemp("outside") / "secret.toml"
    outside.write_text(demo_text("quellmere"), encoding="utf-8")
    (desk.folder / "leading-out.toml").symlink_to(outside)
    (desk.folder / "leading-here.toml").symlink_to(desk.folder / "other.toml")
    (desk.folder / "other.toml").write_text(demo_text("quellmere"), encoding="utf-8")
    (desk.folder / "out.csv").symlink_to(outside)
    start = client.get("/start").text
    assert "leading-here.toml" in start
    assert "leading-out.toml" not in start
    files, _ = choices(desk.open, desk.folder)
    assert "leading-out.toml" not in {one.words for one in files}
    assert not do(client, "open", file="leading-out.toml")["ok"]
    for name in ("/etc/passwd", "out.csv", str(outside)):
        answer = do(client, "change", **{"choice.catalogue": name})
        assert not answer["ok"]
        assert "only files of this folder are opened" in answer["said"]
