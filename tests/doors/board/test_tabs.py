"""Several tabs, stale pages and quick fingers: what a page shows is what it changes, and nothing else.

Exact constructed cases: what is done in one tab or behind the page's back is done by hand, and the file is read.
"""

from __future__ import annotations

import json
import os
import re
import tomllib
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from loftwright.board.app import build, pages
from loftwright.board.desk import Desk
from loftwright.project.demos import demo_text
from loftwright.project.file import edited
from loftwright.project.rewriting import without

browser = pytest.mark.browser
JSON = {"accept": "application/json"}
OTHER = "Another project is open now: load the page again."
LONG = 30.0
"""Longer than anything here takes [s]."""
READING = {"how_open": "50 %", "way": "push up", "scale": "bathroom scales"}


def with_readings(text: str, *forces: str) -> str:
    """Return a project's text with readings of these forces."""
    changes = {f"reading.{i}.{key}": value for i in range(len(forces)) for key, value in READING.items()}
    return edited(without(text, "reading"), changes | {f"reading.{i}.force": force for i, force in enumerate(forces)})


@pytest.fixture
def file(tmp_path: Path) -> Path:
    (tmp_path / "other.toml").write_text(demo_text("quellmere"), encoding="utf-8")
    target = tmp_path / "roof.toml"
    target.write_text(with_readings(demo_text("fennimoor"), "11 kg", "12 kg", "13 kg"), encoding="utf-8")
    return target


@pytest.fixture
def client(file: Path) -> Iterator[TestClient]:
    with TestClient(build(Desk(file.parent, file)), follow_redirects=False) as found:
        yield found


def do(client: TestClient, action: str, **fields: str) -> dict[str, Any]:
    answer: dict[str, Any] = client.post(f"/do/{action}", data=fields, headers=JSON).json()
    return answer


def held(file: Path) -> dict[str, Any]:
    return tomllib.loads(file.read_text(encoding="utf-8"))


def forces(file: Path) -> list[str]:
    return [one["force"] for one in held(file)["reading"]]


def form(page: str, opening: str) -> dict[str, str]:
    """Return what a browser without script sends of a form whose tag holds these words."""
    whole = next(one for one in re.findall(r"<form\b.*?</form>", page, re.DOTALL) if opening in one.split(">")[0])
    found = {}
    for tag in re.findall(r"<input\b[^>]*>", whole):
        name, value = (re.search(rf'\b{key}="([^"]*)"', tag) for key in ("name", "value"))
        if name is not None:
            found[name[1]] = "" if value is None else value[1]
    for name, options in re.findall(r'<select\b[^>]*\bname="([^"]*)"[^>]*>(.*?)</select>', whole, re.DOTALL):
        values = re.findall(r'<option value="([^"]*)"( selected)?', options)
        found[name] = next((value for value, chosen in values if chosen), values[0][0])
    return found


# --- of which file a page is -------------------------------------------------------------------------


def test_every_form_that_does_something_says_of_which_file_its_page_is(client: TestClient) -> None:
    marks = set()
    for path in pages():
        page = client.get(path).text
        marks |= set(re.findall(r'<body [^>]*data-file="(\w+)"', page))
        for one in re.findall(r'<form\b[^>]*method="post"[^>]*>.*?</form>', page, re.DOTALL):
            marks |= {*re.findall(r'name="of_file" value="(\w+)"', one)} or {one}
    assert len(marks) == 1


def test_a_form_of_one_project_changes_no_other(client: TestClient, file: Path) -> None:
    stale = client.get("/have").text
    other = file.with_name("other.toml")
    before = other.read_bytes()
    assert do(client, "open", **form(client.get("/start").text, "/do/open") | {"file": "other.toml"})["ok"]
    typed = form(stale, 'id="set-shell"') | {"shell.mass": "99 kg"}
    assert do(client, "change", **typed)["said"] == OTHER
    plain = client.post("/do/change", data=typed)
    assert plain.status_code == 422
    assert OTHER in plain.text
    for action in ("undo", "remove", "add", "beside-copy", "motion", "mine"):
        assert do(client, action, of_file=typed["of_file"], path="zone.0", name="copy")["said"] == OTHER
    assert other.read_bytes() == before
    # A page of the open one still can, and so can the first again.
    assert do(client, "change", **form(client.get("/have").text, 'id="set-shell"') | {"shell.mass": "99 kg"})["ok"]
    assert do(client, "open", file="roof.toml", of_file=typed["of_file"])["ok"]
    assert do(client, "change", **typed)["ok"]
    assert held(file)["shell"]["mass"] == "99 kg, measured"


def test_files_of_the_same_name_are_told_apart(client: TestClient, file: Path, tmp_path: Path) -> None:
    folder = tmp_path / "elsewhere"
    folder.mkdir()
    twin = folder / "roof.toml"
    twin.write_bytes(file.read_bytes())
    typed = form(client.get("/readings").text, 'id="reading"') | {"force": "9", "station": "", "how_open": "40"}
    with TestClient(build(Desk(folder, twin))) as there:
        assert do(there, "undo", of_file=typed["of_file"])["said"] == OTHER
        said = do(there, "reading_add", **typed, name="a")["said"]
        assert said == "This reading is of roof.toml, and another file of that name is open: open the other first."
    assert forces(twin) == ["11 kg", "12 kg", "13 kg"]
    assert do(client, "reading_add", **typed, name="a")["ok"]


class Live:
    """The websocket of a tab, spoken by hand."""

    def __init__(self, socket: Any, thread: ThreadPoolExecutor) -> None:
        self.socket = socket
        self.thread = thread

    def send(self, kind: str, **rest: Any) -> None:
        self.socket.send_text(json.dumps({"t": kind} | rest))

    def until(self, kind: str, **wanted: Any) -> dict[str, Any]:
        while True:
            found: dict[str, Any] = json.loads(self.thread.submit(self.socket.receive_text).result(LONG))
            if found["t"] == kind and wanted.items() <= found.items():
                return found

    def title(self, words: str) -> tuple[str, set[str]]:
        """Return the title that comes with these words, and the parts that came until then."""
        came: set[str] = set()
        while True:
            parts = self.until("parts")["parts"]
            came |= set(parts)
            if words in parts.get("title", ""):
                return parts["title"], came


@pytest.fixture
def live(client: TestClient) -> Iterator[Live]:
    with ThreadPoolExecutor(1) as thread, client.websocket_connect("/live") as socket:
        yield Live(socket, thread)


def mark_of(client: TestClient) -> str:
    found = re.search(r'data-file="(\w+)"', client.get("/").text)
    assert found is not None
    return found[1]


def test_a_tab_of_another_file_is_loaded_anew_and_drops_nothing(client: TestClient, file: Path, live: Live) -> None:
    mark = mark_of(client)
    live.send("hello", page="/", query={}, width=700, file=mark)
    live.until("picture")
    live.until("parts")
    other = file.with_name("other.toml")
    before = other.read_bytes()
    assert do(client, "open", file="other.toml")["ok"]
    assert live.until("gone")["to"] == "/"
    live.send("drop", grip="spring.0.foot", x=1.5, z=-0.05, seq=3, file=mark)
    assert live.until("dropped", seq=3) == {"t": "dropped", "seq": 3, "ok": False, "said": OTHER}
    live.send("try", grip="spring.0.foot", x=1.5, z=-0.05, seq=4)
    assert live.until("trial", seq=4)["refused"] == OTHER
    assert other.read_bytes() == before
    # So is one that comes back to a program that has another file open.
    live.send("hello", page="/have", query={}, file=mark)
    assert live.until("gone", to="/have")
    live.send("hello", page="/have", query={}, file=mark_of(client))
    assert "fields" in live.until("parts")["parts"]


def test_the_first_questions_stay_when_another_file_is_opened(client: TestClient, live: Live) -> None:
    live.send("hello", page="/start", query={}, file=mark_of(client))
    live.until("parts")
    assert do(client, "open", file="other.toml")["ok"]
    assert live.title("other.toml")


def test_a_new_name_comes_to_every_page(client: TestClient, live: Live) -> None:
    live.send("hello", page="/moves", query={}, file=mark_of(client))
    live.title("roof.toml")
    live.until("parts")
    assert do(client, "change", name="Swallow nest")["ok"]
    title, came = live.title("Swallow nest")
    assert re.search(r"<p data-title hidden>[^<]+: Swallow nest</p>", title)
    assert "roof.toml" in title
    # The version that its forms name is alone no news of a part.
    assert "othermotion" not in came


# --- entries by their numbers, and values that were shown --------------------------------------------


def test_an_entry_is_taken_out_once_from_a_page_that_shows_it(client: TestClient, file: Path) -> None:
    stale = form(client.get("/proof").text, 'id="remove-reading.0"')
    assert do(client, "remove", **stale)["ok"]
    again = do(client, "remove", **stale)
    assert again["said"].startswith("Reading 1 is not what it was: ")
    assert forces(file) == ["12 kg", "13 kg"]
    assert do(client, "remove", **form(client.get("/proof").text, 'id="remove-reading.0"'))["ok"]
    assert forces(file) == ["13 kg"]


def test_of_two_equal_entries_the_second_is_not_taken_for_the_first(client: TestClient, file: Path) -> None:
    assert do(client, "change", **{"reading.1.force": "11 kg"})["ok"]
    stale = form(client.get("/proof").text, 'id="remove-reading.0"')
    assert do(client, "remove", **stale)["ok"]
    assert not do(client, "remove", **stale)["ok"]
    assert forces(file) == ["11 kg", "13 kg"]


def test_what_changed_elsewhere_in_the_file_hinders_nothing(client: TestClient, file: Path) -> None:
    stale = form(client.get("/proof").text, 'id="remove-reading.2"')
    assert do(client, "change", **{"shell.mass": "70 kg", "reading.0.force": "10 kg"})["ok"]
    assert do(client, "remove", **stale)["ok"]
    assert forces(file) == ["10 kg", "12 kg"]


def test_an_entry_is_added_once(client: TestClient, file: Path) -> None:
    count = len(held(file)["zone"])
    stale = form(client.get("/moves").text + client.get("/lifts").text, "/do/add")
    wanted = next(one for page in ("/have", "/moves", "/lifts") for one in adds(client.get(page).text, "zone."))
    assert stale["seen"] == wanted["seen"]
    assert do(client, "add", **wanted)["ok"]
    assert do(client, "change", **{f"zone.{count}.name": "mine"})["ok"]
    assert not do(client, "add", **wanted)["ok"]
    assert len(held(file)["zone"]) == count + 1
    assert held(file)["zone"][count]["name"] == "mine"


def adds(page: str, key: str) -> Iterator[dict[str, str]]:
    for one in re.findall(r'<form method="post" action="/do/add".*?</form>', page, re.DOTALL):
        fields = form(one, "/do/add")
        if any(name.startswith(key) for name in fields):
            yield fields


def test_a_stale_form_without_script_changes_only_what_was_typed(client: TestClient, file: Path) -> None:
    stale = form(client.get("/have").text, 'id="set-shell"')
    assert do(client, "change", **{"shell.mass": "70 kg, label", "shell.thickness": "35 mm"})["ok"]
    # The mass is another by now, which the page without script did not hear of.
    answer = do(client, "change", **stale | {"shell.thickness": "35 mm", "shell.centre": "1.02 m"})
    assert answer["ok"], answer
    shell = held(file)["shell"]
    assert (shell["mass"], shell["thickness"]) == ("70 kg, label", "35 mm")
    assert shell["centre"].startswith("1.02 m")


def test_a_value_that_is_another_by_now_is_not_overwritten_unseen(client: TestClient, file: Path) -> None:
    stale = form(client.get("/have").text, 'id="set-shell"')
    assert do(client, "change", **{"shell.mass": "70 kg, label"})["ok"]
    before = file.read_bytes()
    answer = do(client, "change", **stale | {"shell.mass": "55 kg"})
    assert [fault["where"] for fault in answer["faults"]] == ["[shell] mass"]
    assert answer["said"].startswith('[shell] mass is "70 kg, label" by now: ')
    assert answer["said"].count(".") == 1
    # So it is with a script, which says of each field what it showed.
    script = {"shell.mass": "55 kg", "shell.mass@word": "measured"}
    shown = {"shell.mass@was": "62 +- 1 kg", "shell.mass@word@was": "measured"}
    assert not do(client, "change", **script, **shown)["ok"]
    assert file.read_bytes() == before
    shown = {"shell.mass@was": "70 kg", "shell.mass@word@was": "label"}
    assert do(client, "change", **script, **shown)["ok"]
    assert held(file)["shell"]["mass"] == "55 kg, measured"
    # What is there already need not be refused.
    assert do(client, "change", **script, **shown)["ok"]


def test_entries_that_moved_up_are_not_changed_in_the_place_of_others(client: TestClient, file: Path) -> None:
    stale = form(client.get("/proof").text, 'id="change-reading.1"')
    assert stale["reading.1.force"] == "12 kg"
    assert do(client, "remove", path="reading.0")["ok"]
    assert not do(client, "change", **stale | {"reading.1.force": "12.5 kg"})["ok"]
    assert not do(client, "change", **{"reading.1.force": "12.5 kg", "reading.1.force@was": "12 kg"})["ok"]
    assert forces(file) == ["12 kg", "13 kg"]


def test_a_page_of_a_forgotten_version_is_refused(client: TestClient, file: Path) -> None:
    stale = form(client.get("/have").text, 'id="set-shell"') | {"seen": "0" * 64, "shell.mass": "55 kg"}
    before = file.read_bytes()
    assert do(client, "change", **stale)["said"].startswith("The page is of an older version of the file: ")
    assert not do(client, "remove", path="reading.0", seen="0" * 64)["ok"]
    assert file.read_bytes() == before


# --- places that are typed ---------------------------------------------------------------------------


def test_a_typed_place_that_cannot_be_put_together_turns_back(client: TestClient, file: Path) -> None:
    arms = file.with_name("arms.toml")
    arms.write_text(demo_text("ottergate"), encoding="utf-8")
    assert do(client, "open", file="arms.toml")["ok"]
    before = arms.read_bytes()
    # So far ahead the arms of this roof jam on their way.
    answer = do(client, "place", **{"linkage.arm_a_van.x": "90 in", "what": "arm moved"})
    assert not answer["ok"]
    assert "The lifting arms jam" in answer["said"]
    assert [fault["where"] for fault in answer["faults"]] == ["[linkage] arm_a_van x"]
    assert not do(client, "place", **{"linkage.arm_a_van.x": "far"})["ok"]
    assert arms.read_bytes() == before
    assert do(client, "place", **{"linkage.arm_a_van.x": "67 in"})["ok"]
    assert held(arms)["linkage"]["arm_a_van"][0] == "67 in"


def test_a_place_that_is_another_by_now_is_not_overwritten_unseen(client: TestClient, file: Path) -> None:
    near = {"spring.0.foot.x": "1.502 m", "spring.0.foot.x@was": "1.496 m"}
    assert do(client, "place", **near, what="foot moved")["said"] == "Saved: foot moved."
    assert held(file)["spring"][0]["foot"][0] == "1.502 m"
    assert not do(client, "place", **near | {"spring.0.foot.x": "1.51 m"})["ok"]


def test_a_place_is_compared_in_the_words_of_the_drawing(client: TestClient, file: Path) -> None:
    # "1.30 m" in the file is "1.3 m" on the drawing.
    assert held(file)["zone"][0]["from"][0] == "1.30 m"
    assert do(client, "place", **{"zone.0.from.x": "1.31 m", "zone.0.from.x@was": "1.3 m"})["ok"]
    assert held(file)["zone"][0]["from"][0] == "1.31 m"


# --- names that are also words -----------------------------------------------------------------------


def test_what_the_script_sends_back_is_never_respelled(tmp_path: Path) -> None:
    file = tmp_path / "grey-van.toml"
    text = edited(demo_text("fennimoor"), {"settings.words": "curb", "name": "The grey van"})
    text = edited(text, {"spring.0.name": "grey gas", "zone.0.name": "grey corner"})
    file.write_text(text, encoding="utf-8")
    with TestClient(build(Desk(tmp_path, file))) as client, ThreadPoolExecutor(1) as thread:
        page = client.get("/readings").text
        data = re.search(r'<script type="application/json" id="known">(.*?)</script>', page)
        assert data is not None
        known = json.loads(data[1])
        assert known["file"] == "grey-van.toml"
        assert "grey-van.toml" in page
        for path in pages():
            assert not re.search(r"gray (?:van|gas|corner)|gray-van", client.get(path).text), path
        typed = form(page, 'id="reading"') | {"station": known["stations"][0]["key"], "force": "11", "name": "a"}
        typed["file"] = known["file"]
        answer = do(client, "reading_add", **typed)
        assert answer["ok"], answer
        with client.websocket_connect("/live") as socket:
            live = Live(socket, thread)
            live.send("hello", page="/", query={}, width=700, file=known["mark"])
            picture = live.until("picture")["picture"]
        labels = [one["label"] for one in picture["grips"]]
        assert any("grey gas" in label for label in labels)
        assert any("grey corner" in label for label in labels)
        assert client.get("/start").text.count("grey-van.toml")


# --- ways back ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "back",
    ["javascript:alert(1)", "//elsewhere.example", "/\\elsewhere.example", "/\t/elsewhere.example", "elsewhere", ""],
)
def test_only_addresses_of_the_board_lead_back(client: TestClient, back: str) -> None:
    refused = client.post("/do/change", data={"shell.mass": "heavy", "back": back})
    assert refused.status_code == 422
    assert re.findall(r'<a href="([^"]*)"', refused.text) == ["/"]
    assert client.post("/do/change", data={"shell.mass": "63 kg", "back": back}).headers["location"] == "/"


def test_an_address_of_the_board_leads_back(client: TestClient) -> None:
    refused = client.post("/do/change", data={"shell.mass": "heavy", "back": "/beside?with=a"})
    assert re.findall(r'<a href="([^"]*)"', refused.text) == ["/beside?with=a"]


# --- what another program wrote ----------------------------------------------------------------------


@pytest.mark.parametrize("action", ["theirs", "mine"])
def test_only_what_the_notice_showed_is_taken_or_written_over(
    client: TestClient, file: Path, live: Live, action: str
) -> None:
    first = file.read_bytes()
    assert first.count(b'"11 kg"') == 1
    live.send("hello", page="/have", query={})
    live.until("parts")

    def written(force: bytes) -> dict[str, str]:
        part = file.with_suffix(".part")
        part.write_bytes(first.replace(b"11 kg", force))
        os.replace(part, file)
        while True:
            notice = live.until("parts")["parts"].get("notice", "")
            if force.decode() in notice:
                return form(notice, "<form")

    shown = written(b"21 kg")
    file.write_bytes(first.replace(b"11 kg", b"22 kg"))
    answer = do(client, action, **shown)
    assert "changed once more in another program" in answer["said"]
    assert forces(file)[0] == "22 kg"
    now = written(b"23 kg")
    assert do(client, action, **now)["ok"]
    assert forces(file)[0] == ("23 kg" if action == "theirs" else "11 kg")


# --- in a browser ------------------------------------------------------------------------------------


def posted(tab: Any, board: Any, action: str) -> int:
    return int(tab.asked.count(f"{board.entry.base}/do/{action}"))


@browser
def test_half_a_number_is_not_saved_when_something_else_changes(board: Any, tab: Any, tab_of: Any) -> None:
    form, other = (tab_of(beside=tab).go(f"{board.entry.base}/have") for _ in range(2))
    field = form.page.locator('[name="shell.mass"]')
    form.page.bring_to_front()
    field.click()
    field.press("ControlOrMeta+a")
    form.page.keyboard.type("58 kg")
    form.page.keyboard.press("Home")
    form.page.keyboard.press("ArrowRight")
    caret = "[document.activeElement.name, document.activeElement.selectionStart, document.activeElement.value]"
    assert form.page.evaluate(caret) == ["shell.mass", 1, "58 kg"]
    thickness = other.page.locator('[name="shell.thickness"]')
    thickness.fill("35 mm")
    thickness.press("Enter")
    form.until(lambda: form.page.locator('[name="shell.thickness"]').input_value() == "35 mm", "the other tab's value")
    assert form.page.evaluate(caret) == ["shell.mass", 1, "58 kg"]
    assert posted(form, board, "change") == 0
    assert board.values["shell.mass"].startswith("62 +- 1 kg")
    # What was typed before is saved when the field is left, though nothing more is typed.
    form.page.keyboard.press("Tab")
    form.says("#said", "Saved: ")
    assert board.values["shell.mass"] == "58 kg, measured"
    assert board.values["shell.thickness"] == "35 mm"


@browser
def test_a_double_click_takes_out_one(board: Any, tab: Any) -> None:
    count = len({path.split(".")[1] for path in board.values if path.startswith("reading.")})
    assert count > 1
    second = board.values["reading.1.force"]
    tab.go(f"{board.entry.base}/readings")
    tab.page.locator("[data-part=readings_saved] button").first.dblclick()
    tab.says("#said", "Taken out: ")
    tab.until(lambda: tab.page.locator("[data-part=readings_saved] li").count() == count - 1)
    tab.drawn()
    assert posted(tab, board, "remove") == 1
    assert board.values["reading.0.force"] == second
    # Two steps back by two clicks are meant.
    tab.page.locator("#undo:not([disabled])").dblclick()
    tab.until(lambda: board.file.read_bytes() == board.first)


@browser
def test_a_form_is_sent_once_while_its_answer_is_on_the_way(board: Any, tab: Any) -> None:
    tab.go(f"{board.entry.base}/proof")
    held_back: list[Any] = []
    tab.page.route("**/do/reading_add", lambda route: held_back.append(route))
    tab.page.locator("[data-key=reading-add] > summary").click()
    tab.page.fill("#add-open", "55")
    tab.page.fill("#add-force", "9")
    for _ in range(3):
        tab.page.press("#add-force", "Enter")
    tab.until(lambda: held_back)
    tab.drawn()
    assert len(held_back) == 1
    held_back[0].continue_()
    tab.says("#said", "Saved: ")
    assert tab.page.input_value("#add-force") == ""
    assert sum(path.endswith(".force") for path in board.values) == text_count(board.first, "force = ") + 1


def text_count(data: bytes, words: str) -> int:
    return len([1 for line in data.decode().splitlines() if line.startswith(words)])


@browser
def test_what_is_typed_while_another_value_is_sent_stays_and_is_sent_too(board: Any, tab: Any, tab_of: Any) -> None:
    form = tab_of(beside=tab).go(f"{board.entry.base}/have")
    mass, thickness = (form.page.locator(f'[name="shell.{key}"]') for key in ("mass", "thickness"))
    held_back: list[Any] = []
    form.page.route("**/do/change", lambda route: held_back.append(route))
    mass.fill("63 kg")
    mass.press("Enter")
    form.until(lambda: held_back)
    thickness.click()
    thickness.press("ControlOrMeta+a")
    form.page.keyboard.type("36 m")
    held_back.pop().continue_()
    form.says("#said", "Saved: ")
    assert board.values["shell.mass"] == "63 kg, measured"
    # New parts come from elsewhere: half of it stands there still.
    assert board.post("/do/change", **{"shell.width": "1.49 m"})[1]["ok"]
    form.until(lambda: form.page.locator('[name="shell.width"]').input_value() == "1.49 m")
    assert thickness.input_value() == "36 m"
    form.page.unroute("**/do/change")
    form.page.keyboard.type("m")
    form.page.keyboard.press("Tab")
    form.until(lambda: board.values["shell.thickness"] == "36 mm")
    assert board.values["shell.mass"] == "63 kg, measured"


@browser
def test_choices_made_faster_than_they_are_saved_end_at_the_last(board: Any, tab: Any, tab_of: Any) -> None:
    form = tab_of(beside=tab).go(f"{board.entry.base}/settings")
    box = form.page.locator('[name="settings.units"]')
    for units in ("imperial", "metric", "imperial", "metric", "imperial"):
        box.select_option(units)
    form.until(lambda: board.values.get("settings.units") == "imperial")
    # The first of them is written on the way as well: what counts is where it ends.
    form.page.wait_for_timeout(1500)
    assert board.values["settings.units"] == "imperial"
    assert not form.page.locator("#said.bad").count()


@browser
def test_a_value_that_another_tab_has_changed_is_asked_for_again(board: Any, tab: Any, tab_of: Any) -> None:
    form = tab_of(beside=tab).go(f"{board.entry.base}/have")
    field = form.page.locator('[name="shell.mass"]')
    field.click()
    field.press("ControlOrMeta+a")
    form.page.keyboard.type("58 kg")
    assert board.post("/do/change", **{"shell.mass": "71 kg, label"})[1]["ok"]
    form.until(lambda: field.evaluate("(el) => el.defaultValue") == "71 kg")
    assert field.input_value() == "58 kg"
    field.press("Enter")
    said = form.says("#said.bad", "by now")
    assert said.startswith('[shell] mass is "71 kg, label" by now: ')
    assert board.values["shell.mass"] == "71 kg, label"
    assert field.input_value() == "58 kg"
    field.press("Enter")
    form.says("#said", "Saved: ")
    assert board.values["shell.mass"].startswith("58 kg")


@browser
def test_a_typed_place_that_cannot_be_stays_in_its_field(board_of: Any, tab_of: Any) -> None:
    board = board_of("ottergate")
    tab = tab_of().go(board.entry.address)
    tab.page.locator('.grip[data-path="linkage.arm_a_van"]').press("Enter")
    field = tab.page.locator("#point-x")
    field.fill("90 in")
    field.press("Enter")
    tab.says("#said.bad", "The lifting arms jam")
    assert "The lifting arms jam" in tab.text("#point .fault")
    assert field.input_value() == "90 in"
    assert board.file.read_bytes() == board.first
    field.fill("67 in")
    field.press("Enter")
    tab.says("#said", "Saved: ")
    assert board.values["linkage.arm_a_van.0"] == "67 in"


@browser
@pytest.mark.parametrize(
    ("answer", "words"),
    [
        ({"status": 401, "body": "<h1>locked</h1>"}, "open the address that it printed again"),
        ({"status": 500, "body": "Internal Server Error"}, "a mistake of the program; nothing may have been saved"),
        ({"status": 413, "body": "<h1>Too much</h1>"}, "nothing was saved. Load the page again."),
        (None, "The connection is lost"),
    ],
)
def test_answers_that_are_none_are_told_apart(board: Any, tab: Any, answer: dict[str, Any] | None, words: str) -> None:
    tab.go(f"{board.entry.base}/have")
    tab.page.route("**/do/change", lambda route: route.abort() if answer is None else route.fulfill(**answer))
    tab.page.locator('[name="shell.mass"]').fill("63 kg")
    tab.page.locator('[name="shell.mass"]').press("Enter")
    tab.says("#said.bad", words)
    assert tab.page.locator('[name="shell.mass"]').input_value() == "63 kg"
    # Of which the browser speaks by itself.
    tab.complaints[:] = [said for said in tab.complaints if "Failed to load resource" not in said]


@browser
def test_one_refused_field_keeps_no_other_from_being_saved(board: Any, tab: Any) -> None:
    tab.go(f"{board.entry.base}/have")
    mass, width = (tab.page.locator(f'[name="shell.{name}"]') for name in ("mass", "width"))
    mass.fill("heavy")
    mass.press("Enter")
    tab.says("#said.bad", "heavy")
    width.fill("1.47 m")
    width.press("Enter")
    tab.until(lambda: board.values["shell.width"].startswith("1.47 m"))
    said = tab.says("#said.bad", "Not saved: ")
    assert "heavy" in said
    assert "Saved: " in said
    tab.until(lambda: width.evaluate("(el) => el.defaultValue") == "1.47 m")
    assert mass.input_value() == "heavy"
    assert mass.get_attribute("aria-invalid") == "true"
    assert "heavy" in tab.text('[id="shell.mass"] .fault')
    assert width.get_attribute("aria-invalid") is None


@browser
def test_what_was_typed_without_a_link_is_sent_when_it_is_back(board: Any, tab: Any) -> None:
    tab.go(f"{board.entry.base}/have")
    tab.page.route("**/do/change", lambda route: route.abort())
    mass = tab.page.locator('[name="shell.mass"]')
    mass.fill("63 kg")
    mass.press("Enter")
    tab.says("#said.bad", "sent when the program runs again")
    assert "Not saved yet" in tab.text('[id="shell.mass"] .fault')
    assert not board.values["shell.mass"].startswith("63 kg")
    tab.page.unroute("**/do/change")
    # What live.js tells when its websocket is open again.
    tab.page.evaluate("async () => (await import('/static/live.js')).connect()")
    tab.says("#said", "Saved: ")
    assert board.values["shell.mass"].startswith("63 kg")
    assert tab.page.locator("[aria-invalid]").count() == 0
    tab.complaints[:] = [said for said in tab.complaints if "Failed to load resource" not in said]


@browser
def test_tabs_follow_a_rename_and_another_project(board: Any, tab: Any, tab_of: Any) -> None:
    form = tab_of(beside=tab).go(f"{board.entry.base}/have")
    assert board.post("/do/change", name="Swallow nest")[1]["ok"]
    for one in (tab, form):
        one.says("header .name", "Swallow nest")
        one.until(lambda one=one: one.page.title().endswith(": Swallow nest"))
    other = board.file.with_name("second.toml")
    other.write_text(demo_text("quellmere"), encoding="utf-8")
    try:
        assert board.post("/do/open", file="second.toml")[1]["ok"]
        for one in (form, tab):
            one.page.locator("header .file", has_text="second.toml").wait_for()
            one.page.wait_for_selector('body[data-linked="yes"]')
        field = form.page.locator('[name="shell.mass"]')
        field.fill("77 kg")
        field.press("Enter")
        form.says("#said", "Saved: ")
        assert "77 kg" in other.read_text(encoding="utf-8")
        assert "77 kg" not in board.file.read_text(encoding="utf-8")
    finally:
        board.put_back()
        other.unlink()
