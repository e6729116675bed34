"""Readings at the van: what a phone sends reaches the file once, and nothing typed is lost while there is no link."""

from __future__ import annotations

import asyncio
import re
import threading
import time
import tomllib
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
import uvicorn
from starlette.testclient import TestClient

from loftwright.board.app import build
from loftwright.board.desk import Desk
from loftwright.board.serve import listen, port_of
from loftwright.project.demos import demo_text

JSON = {"accept": "application/json"}
PUSH = {"station": "10 % push up", "force": "11,8", "temperature": "16", "after": "1", "scale": "", "doubt": ""}
PHONE = {"width": 360, "height": 740}


def without_readings(name: str) -> str:
    """Return a demo as it was before the roof was built."""
    return re.sub(r"^\[\[(?:reading|tape)\]\]\n(?:(?!\[).*\n?)*", "", demo_text(name), flags=re.MULTILINE)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "built.toml"
    path.write_text(without_readings("fennimoor"), encoding="utf-8")
    return path


@pytest.fixture
def client(file: Path) -> Iterator[TestClient]:
    with TestClient(build(Desk(file.parent, file)), follow_redirects=False) as made:
        yield made


def readings(file: Path) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = tomllib.loads(file.read_text(encoding="utf-8")).get("reading", [])
    return found


def forces(file: Path) -> list[str]:
    return [one["force"] for one in readings(file)]


def add(client: TestClient, **fields: str) -> dict[str, Any]:
    answer: dict[str, Any] = client.post("/do/reading_add", data=PUSH | fields, headers=JSON).json()
    return answer


def run_of(client: TestClient) -> str:
    """Return how the page calls this run of the program."""
    return re.search(r'"run": "(\w+)"', client.get("/readings").text).group(1)  # type: ignore[union-attr]


# --- what is written ---------------------------------------------------------------------------------


def test_a_reading_is_written_as_it_was_typed(client: TestClient, file: Path) -> None:
    assert add(client)["said"] == "Saved: push up at 10 % open, 11,8 kg."
    assert readings(file) == [
        {
            "after": 1,
            "how_open": "10 %",
            "way": "push up",
            "force": "11,8 kg",
            "scale": "bathroom scales",
            "temperature": "16 C",
        }
    ]
    page = client.get("/readings").text
    assert "<strong>11.8 kg</strong> push up at 10 % open, 16 °C" in page


def test_a_reading_far_above_what_is_expected_is_saved_and_asked_about(client: TestClient, file: Path) -> None:
    said = add(client, force="118")["said"]
    assert re.fullmatch(r"Saved, though about 1\d(\.\d)? kg was expected: is it a misreading\?", said)
    assert forces(file) == ["118 kg"]
    # Not as many times as much, and not by as much.
    assert add(client, force="35")["said"].startswith("Saved: ")


def test_units_and_doubt_that_are_typed_stand(client: TestClient, file: Path) -> None:
    assert add(client, station="", how_open="33 %", way="pull down", force="90 N", doubt="5 N", temperature="")["ok"]
    assert add(client, force="7", doubt="0.4", scale="luggage scale", after="2")["ok"]
    first, second = readings(file)
    assert first == {
        "after": 1,
        "how_open": "33 %",
        "way": "pull down",
        "force": "90 N +- 5 N, measured",
        "scale": "luggage scale",
    }
    assert (second["after"], second["force"], second["scale"]) == (2, "7 kg +- 0.4 kg, measured", "luggage scale")


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"force": "heavy"}, "What the scale read"),
        ({"force": ""}, "What the scale read"),
        ({"force": "unknown"}, "What the scale read"),
        ({"force": "900"}, "What the scale read"),
        ({"force": "-3"}, "What the scale read"),
        ({"doubt": "a bit"}, "Give or take"),
        ({"temperature": "900"}, "How warm"),
        ({"station": "", "how_open": "120", "way": "push up"}, "How far open"),
        ({"station": "", "how_open": "20", "way": "sideways"}, "Which way"),
        ({"after": "0"}, "Set of readings"),
    ],
)
def test_what_is_wrong_is_one_sentence_beside_its_field(
    client: TestClient, file: Path, typed: dict[str, str], field: str
) -> None:
    before = file.read_bytes()
    answer = client.post("/do/reading_add", data=PUSH | typed, headers=JSON)
    assert answer.status_code == 422
    faults = answer.json()["faults"]
    assert [fault["where"] for fault in faults] == [field]
    assert faults[0]["said"].endswith(".")
    assert f'data-where="{field}"' in client.get("/readings").text
    assert file.read_bytes() == before


def test_what_has_no_script_is_led_back_to_the_page(client: TestClient, file: Path) -> None:
    answer = client.post("/do/reading_add", data=PUSH | {"back": "/readings"})
    assert (answer.status_code, answer.headers["location"]) == (303, "/readings")
    assert forces(file) == ["11,8 kg"]


def test_stations_are_ticked_and_the_next_one_is_offered(client: TestClient) -> None:
    def chosen() -> str:
        return re.search(r'<option value="([^"]*)" selected', client.get("/readings").text).group(1)  # type: ignore[union-attr]

    assert chosen() == "10 % push up"
    # A reading near a station counts as taken there, one further off does not.
    assert add(client, station="", how_open="17", way="push up")["ok"]
    assert chosen() == "10 % push up"
    assert add(client, station="", how_open="12", way="push up")["ok"]
    assert chosen() == "25 % push up"
    # After a change everything is read anew.
    assert add(client, station="90 % pull down", after="2")["ok"]
    assert chosen() == "10 % push up"


def test_the_paper_sheet_is_one_page(client: TestClient) -> None:
    answer = client.get("/papers/readings.pdf")
    assert answer.headers["content-type"] == "application/pdf"
    assert re.findall(rb"/Type\s*/Page\b(?!s)", answer.content) == [b"/Type /Page"] or b"/Count 1" in answer.content


# --- once, however often it is sent ------------------------------------------------------------------


def test_the_same_reading_sent_again_adds_nothing(client: TestClient, file: Path) -> None:
    run = run_of(client)
    for _ in range(3):
        assert add(client, name="a", run=run)["ok"]
    assert forces(file) == ["11,8 kg"]
    # Read twice with the same figure: two readings, each sent twice.
    for _ in range(2):
        assert add(client, name="b", run=run)["ok"]
    assert forces(file) == ["11,8 kg", "11,8 kg"]


def test_a_refused_reading_can_be_sent_again_when_mended(client: TestClient, file: Path) -> None:
    run = run_of(client)
    assert not add(client, name="a", run=run, force="heavy")["ok"]
    assert add(client, name="a", run=run)["ok"]
    assert forces(file) == ["11,8 kg"]


def test_a_reading_that_was_undone_is_not_brought_back(client: TestClient, file: Path) -> None:
    run = run_of(client)
    assert add(client, name="a", run=run)["ok"]
    assert client.post("/do/undo", headers=JSON).json()["ok"]
    assert add(client, name="a", run=run)["ok"]
    assert forces(file) == []


def test_after_a_restart_an_equal_reading_is_the_same_one(client: TestClient, file: Path) -> None:
    run = run_of(client)
    assert add(client, name="a", run=run)["ok"]
    with TestClient(build(Desk(file.parent, file))) as again:
        assert run_of(again) != run
        # The answer to the first sending was lost with the program.
        assert add(again, name="a", run=run)["ok"]
        assert forces(file) == ["11,8 kg"]
        # This one was tried before the restart too, and had not arrived.
        assert add(again, name="b", run=run, force="12")["ok"]
        # This one is new, though equal.
        assert add(again, name="c", run=run_of(again))["ok"]
    assert forces(file) == ["11,8 kg", "12 kg", "11,8 kg"]


def test_a_reading_of_another_file_is_refused(client: TestClient, file: Path) -> None:
    answer = add(client, file="other.toml", of_file="0" * 16)
    assert not answer["ok"]
    assert answer["said"] == "This reading is of other.toml, and built.toml is open: open the other first."
    assert forces(file) == []


def test_who_waits_for_the_judgement_gets_that_of_the_changed_roof(file: Path) -> None:
    async def both() -> tuple[str, str]:
        desk = Desk(file.parent, file)
        try:
            waiting = asyncio.create_task(desk.home())
            await asyncio.sleep(0)
            desk.change({"name": "Changed meanwhile"}, "the name")
            found = await asyncio.wait_for(waiting, 60)
            assert found is not None
            return found.page.name, desk.project.name
        finally:
            desk.close()

    # In a thread of its own: the one here may have the browser's loop already.
    with ThreadPoolExecutor(1) as thread:
        found = thread.submit(lambda: asyncio.run(both())).result(90)
    assert found == ("Changed meanwhile", "Changed meanwhile")


# --- on a phone --------------------------------------------------------------------------------------


class Program:
    """The program as it runs, on one port, started and ended as somebody does it; without the guard."""

    def __init__(self, file: Path) -> None:
        self.file = file
        self.port = 0
        self.thread: threading.Thread | None = None

    def start(self) -> None:
        sockets = listen(self.port)
        self.port = port_of(sockets)
        config = uvicorn.Config(
            build(Desk(self.file.parent, self.file)),
            ws="websockets-sansio",
            log_config=None,
            log_level="critical",
            timeout_graceful_shutdown=1,
        )
        self.server = uvicorn.Server(config)
        self.sockets = sockets
        self.thread = threading.Thread(target=lambda: asyncio.run(self.server.serve(list(sockets))), daemon=True)
        self.thread.start()
        until = time.monotonic() + 20
        while not self.server.started:
            assert time.monotonic() < until
            time.sleep(0.02)

    def stop(self) -> None:
        if self.thread is None:
            return
        self.server.should_exit = True
        self.thread.join(20)
        assert not self.thread.is_alive()
        self.thread = None
        for one in self.sockets:
            one.close()

    @property
    def page(self) -> str:
        return f"http://127.0.0.1:{self.port}/readings"


@pytest.fixture
def program(file: Path) -> Iterator[Program]:
    made = Program(file)
    made.start()
    yield made
    made.stop()


@pytest.fixture
def phone(chromium: Any) -> Iterator[Any]:
    context = chromium.new_context(viewport=PHONE, has_touch=True, is_mobile=True, color_scheme="dark")
    context.set_default_timeout(20_000)
    yield context
    context.close()


def opened(phone: Any, program: Program) -> Any:
    page = phone.new_page()
    page.complaints = []
    page.on("pageerror", lambda error: page.complaints.append(str(error)))
    page.goto(program.page)
    page.wait_for_selector('body[data-linked="yes"]')
    return page


def save(page: Any, force: str) -> None:
    page.fill("#force", force)
    page.tap("#save")


def says(page: Any, text: str) -> None:
    page.wait_for_selector(f"#saved-said:has-text({text!r})")


def waits(page: Any) -> list[str]:
    return [text.split(" kg")[0] for text in page.locator("#waiting-list li strong").all_inner_texts()]


def nothing_waits(page: Any) -> None:
    page.wait_for_selector("#waiting", state="hidden")


@pytest.mark.browser
def test_a_reading_goes_from_the_phone_to_the_file(phone: Any, program: Program) -> None:
    page = opened(phone, program)
    assert page.input_value("#station") == "10 % push up"
    page.fill("#temperature", "16")
    save(page, "11.8")
    says(page, "Saved.")
    assert readings(program.file)[0] | {"temperature": "16 C"} == readings(program.file)[0]
    assert forces(program.file) == ["11.8 kg"]
    # The next reading is offered, the number made room, how warm it is stays.
    assert page.input_value("#station") == "25 % push up"
    assert (page.input_value("#force"), page.input_value("#temperature")) == ("", "16")
    page.wait_for_selector("[data-part=readings_saved] strong:has-text('11.8 kg')")
    nothing_waits(page)
    assert page.complaints == []


@pytest.mark.browser
def test_a_wrong_number_stays_in_its_field(phone: Any, program: Program) -> None:
    page = opened(phone, program)
    save(page, "heavy")
    page.wait_for_selector("#force[aria-invalid=true]")
    assert page.locator("p.fault").inner_text().startswith('What the scale read is "heavy"')
    assert page.input_value("#force") == "heavy"
    assert page.evaluate("document.activeElement.id") == "force"
    nothing_waits(page)
    assert forces(program.file) == []
    save(page, "8.8")
    says(page, "Saved.")
    assert page.locator("[aria-invalid]").count() == 0
    assert forces(program.file) == ["8.8 kg"]


@pytest.mark.browser
def test_without_a_link_readings_wait_on_the_phone_and_are_sent_once(phone: Any, program: Program) -> None:
    page = opened(phone, program)
    program.stop()
    page.wait_for_selector('body[data-linked="no"]')
    save(page, "11.8")
    says(page, "Kept on this phone, not sent yet.")
    save(page, "heavy")
    page.wait_for_selector("#waiting-list li >> nth=1")
    save(page, "7.3")
    page.wait_for_selector("#waiting-list li >> nth=2")
    assert waits(page) == ["11.8", "heavy", "7.3"]
    # What is typed and not saved is kept as well.
    page.fill("#force", "15.")
    program.start()
    page.wait_for_selector("#waiting-list .fault")
    # The refused one stays with its sentence, the others are in the file, in the order in which they were read.
    page.wait_for_selector("#waiting-list li >> nth=1", state="detached")
    assert waits(page) == ["heavy"]
    says(page, "Not everything was taken")
    assert forces(program.file) == ["11.8 kg", "7.3 kg"]
    assert page.input_value("#force") == "15."
    page.tap("#waiting-list button:has-text('Change it')")
    assert page.input_value("#force") == "heavy"
    save(page, "8.8")
    says(page, "Saved.")
    assert forces(program.file) == ["11.8 kg", "7.3 kg", "8.8 kg"]
    nothing_waits(page)
    assert page.complaints == []


@pytest.mark.browser
def test_a_kept_number_keeps_its_unit(phone: Any, program: Program) -> None:
    page = opened(phone, program)
    page.fill("#temperature", "14,5")
    page.fill("#force", "6")
    # The units are changed in another tab: the page of the phone comes anew.
    changed = page.request.post(
        program.page.replace("readings", "do/change"), form={"settings.units": "imperial"}, headers=JSON
    )
    assert changed.json()["ok"]
    page.wait_for_selector(".unit:has-text('°F')")
    page.wait_for_selector('body[data-linked="yes"]')
    assert (page.input_value("#temperature"), page.input_value("#force")) == ("14,5 C", "6 kg")
    page.tap("#save")
    says(page, "Saved.")
    (one,) = readings(program.file)
    assert (one["temperature"], one["force"]) == ("14,5 C", "6 kg")
    assert page.complaints == []


@pytest.mark.browser
def test_the_next_reading_is_the_next_of_the_list(phone: Any, program: Program) -> None:
    page = opened(phone, program)
    keys = page.eval_on_selector_all("#station option", "(some) => some.map((one) => one.value)")
    label = page.locator("label[for=force]")
    assert keys[0].endswith("push up")
    assert label.inner_text() == "How much more than your weight"
    down = [key for key in keys if key.endswith("pull down")]
    page.select_option("#station", down[1])
    assert label.inner_text() == "What the scale read"
    assert page.locator("#do").inner_text().startswith("Pull down at ")
    save(page, "7")
    says(page, "Saved.")
    assert page.input_value("#station") == down[2]


@pytest.mark.browser
def test_a_phone_out_of_reach_sends_when_it_is_back(phone: Any, program: Program) -> None:
    page = opened(phone, program)
    phone.set_offline(True)
    save(page, "11.8")
    says(page, "Kept on this phone, not sent yet.")
    page.select_option("#station", "90 % pull down")
    save(page, "15.2")
    page.wait_for_selector("#waiting-list li >> nth=1")
    assert forces(program.file) == []
    phone.set_offline(False)
    nothing_waits(page)
    says(page, "What waited is sent and saved.")
    assert [(one["how_open"], one["force"]) for one in readings(program.file)] == [
        ("10 %", "11.8 kg"),
        ("90 %", "15.2 kg"),
    ]


@pytest.mark.browser
def test_what_waits_outlives_the_page(phone: Any, program: Program) -> None:
    page = opened(phone, program)
    program.stop()
    page.wait_for_selector('body[data-linked="no"]')
    save(page, "11.8")
    says(page, "Kept on this phone")
    page.fill("#force", "7.")
    page.fill("#temperature", "21")
    asked: list[str] = []

    def leave(dialog: Any) -> None:
        asked.append(dialog.type)
        dialog.accept()

    page.on("dialog", leave)
    page.close(run_before_unload=True)
    page.wait_for_event("close") if not page.is_closed() else None
    assert asked == ["beforeunload"]
    program.start()
    page = opened(phone, program)
    nothing_waits(page)
    page.wait_for_selector("[data-part=readings_saved] strong:has-text('11.8 kg')")
    assert forces(program.file) == ["11.8 kg"]
    assert (page.input_value("#force"), page.input_value("#temperature")) == ("7.", "21")
    # Nothing waits any more, so nobody is asked.
    page.on("dialog", leave)
    page.reload()
    assert asked == ["beforeunload"]
    assert forces(program.file) == ["11.8 kg"]


@pytest.mark.browser
def test_an_answer_that_is_lost_adds_nothing_twice(phone: Any, program: Program) -> None:
    page = opened(phone, program)
    sent = []

    def lose(route: Any) -> None:
        sent.append(route.request.post_data)
        # It arrives; its answer does not.
        route.fetch()
        route.abort()

    page.route("**/do/reading_add", lose)
    save(page, "11.8")
    says(page, "Kept on this phone, not sent yet.")
    assert forces(program.file) == ["11.8 kg"]
    assert waits(page) == ["11.8"]
    page.unroute("**/do/reading_add")
    page.tap("#send-now")
    nothing_waits(page)
    assert len(sent) == 1
    assert forces(program.file) == ["11.8 kg"]
    # The same once more, with the program restarted between.
    page.route("**/do/reading_add", lose)
    save(page, "7.3")
    says(page, "Kept on this phone, not sent yet.")
    assert waits(page) == ["7.3"]
    page.unroute("**/do/reading_add")
    program.stop()
    page.wait_for_selector('body[data-linked="no"]')
    program.start()
    nothing_waits(page)
    assert forces(program.file) == ["11.8 kg", "7.3 kg"]


@pytest.mark.browser
def test_two_tabs_of_one_phone_send_once(phone: Any, program: Program) -> None:
    pages = [opened(phone, program), opened(phone, program)]
    program.stop()
    for page in pages:
        page.wait_for_selector('body[data-linked="no"]')
    save(pages[0], "11.8")
    says(pages[0], "Kept on this phone")
    pages[1].wait_for_selector("#waiting-list li")
    program.start()
    for page in pages:
        page.wait_for_selector('body[data-linked="yes"]')
        nothing_waits(page)
    assert forces(program.file) == ["11.8 kg"]


@pytest.mark.browser
@pytest.mark.parametrize("path", ["readings", "proof"])
def test_it_fits_a_phone(phone: Any, program: Program, path: str) -> None:
    page = phone.new_page()
    page.goto(program.page.replace("readings", path))
    page.wait_for_selector('body[data-linked="yes"]')
    page.evaluate("document.querySelectorAll('main details').forEach((one) => { one.open = true; })")
    assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]
    low = page.evaluate(
        """() => [...document.querySelectorAll('main :is(button, .button, input, select, summary)')]
        .filter((el) => el.getClientRects().length && el.getBoundingClientRect().height < 44)
        .map((el) => el.outerHTML)"""
    )
    assert low == []
    if path == "readings":
        assert page.locator("#save").bounding_box()["height"] >= 56
        assert page.get_attribute("#force", "inputmode") == "decimal"
