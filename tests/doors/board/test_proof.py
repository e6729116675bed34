"""The page of the proof as a browser without script meets it: forms in, HTML out, one file as the truth."""

from __future__ import annotations

import html
import re
import time
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from loftwright.board.app import build
from loftwright.board.desk import Desk
from loftwright.cli.main import run
from loftwright.project.demos import demo_text

JSON = {"accept": "application/json"}
FOUR = (
    {"station": "10 % push up", "force": "11.8", "doubt": "0.5", "temperature": "16", "after": "1"},
    {"how_open": "20", "way": "push up", "force": "7.3", "doubt": "0.5", "temperature": "16", "after": "1"},
    {"station": "60 % pull down", "force": "8.8", "doubt": "0.3", "temperature": "16", "after": "1"},
    {"station": "90 % pull down", "force": "15.2", "doubt": "0.4", "temperature": "16", "after": "1"},
)
"""The readings of one of the demos, as somebody types them."""
SIDE = """format = 1
name = "side"
[opening]
length = "2.0 m"
width = "1.15 m"
[shell]
length = "2.12 m"
width = "1.26 m"
overhang_left = "55 mm"
height_left = "120 mm"
height_right = "150 mm"
mass = "62 +- 1 kg, measured"
[linkage]
kind = "hinge"
end = "right"
opens = "28 deg"
hinge = ["1.17 m", "30 mm"]
"""
SOON = 60.0
"""Longest that what readings say is waited for [s]."""


def without_readings(name: str) -> str:
    """Return a demo as it was before the roof was built."""
    return re.sub(r"^\[\[(?:reading|tape)\]\]\n(?:(?!\[).*\n?)*", "", demo_text(name), flags=re.MULTILINE)


def flat(page: str) -> str:
    """Return what a page says, without its tags."""
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", page)).split())


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "built.toml"
    path.write_text(without_readings("fennimoor"), encoding="utf-8")
    return path


@pytest.fixture
def client(file: Path) -> Iterator[TestClient]:
    with TestClient(build(Desk(file.parent, file)), follow_redirects=False) as made:
        yield made


def tables(file: Path, name: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = tomllib.loads(file.read_text(encoding="utf-8")).get(name, [])
    return found


def reckoned(client: TestClient) -> str:
    """Return the page once what the readings say is of the readings as they are."""
    until = time.monotonic() + SOON
    while "Being reckoned" in (page := client.get("/proof").text):
        assert time.monotonic() < until
        time.sleep(0.1)
    return flat(page)


def test_without_readings_it_says_what_to_read_first(client: TestClient) -> None:
    page = client.get("/proof").text
    said = flat(page)
    assert "What to read first" in said
    assert 'href="/readings"' in page
    assert 'href="/papers/readings.pdf"' in page
    assert "Prop the roof whenever nobody moves it." in said
    first = said.split("What to read first")[1].split("Enter a reading")[0]
    # Each way is read, and each at two openings.
    assert len(re.findall(r"Push up at \d+ % open", first)) >= 2
    assert len(re.findall(r"Pull down at \d+ % open", first)) >= 2
    assert "No readings yet." in reckoned(client)


@pytest.mark.slow
def test_four_readings_say_what_the_terminal_says(
    client: TestClient, file: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    for typed in FOUR:
        assert client.post("/do/reading_add", data=typed, headers=JSON).json()["ok"]
    page = reckoned(client)
    monkeypatch.setenv("COLUMNS", "4000")
    monkeypatch.setenv("NO_COLOR", "1")
    assert run(["prove", str(file)]) == 0
    terminal = [" ".join(line.split()) for line in capsys.readouterr().out.splitlines() if line.strip()]
    odds = next(line for line in terminal if line.startswith("Everything holds:"))
    before, after = re.findall(r"(\d+) of 100", odds)
    assert f"Everything holds, before the readings {before} of 100 after them {after} of 100" in page
    for heading in ("What the readings say", "Which hole next"):
        assert terminal[terminal.index(heading) + 1] in page
    rows = [line for line in terminal if line.startswith("measured ")]
    assert len(rows) == len(FOUR)
    for line in rows:
        measured, expected, off = re.fullmatch(r"measured (.*), expected (.*), off (.*)", line).groups()  # type: ignore[union-attr]
        assert f"Measured {measured} Expected {expected} Off {off} fits" in page


def test_a_change_marks_what_was_said_as_of_before(client: TestClient) -> None:
    assert "No readings yet." in reckoned(client)
    assert client.post("/do/reading_add", data=FOUR[0], headers=JSON).json()["ok"]
    page = flat(client.get("/proof").text)
    assert "Being reckoned" in page
    # The reading itself is there at once.
    assert "push up at 10 % open, 16 °C: 11.8 kg" in page


def test_a_tape_reading_is_written(client: TestClient, file: Path) -> None:
    typed = {"step": "hinges", "what": "diagonal", "how_open": "0", "reads": "2538"}
    answer = client.post("/do/tape_add", data=typed, headers=JSON)
    assert answer.json()["said"] == "Saved: diagonal after the hinges, 2538 mm."
    assert tables(file, "tape") == [
        {"step": "hinges", "what": "diagonal", "how_open": "0 %", "reads": "2538 mm, measured"}
    ]


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"step": "hinges", "what": "lip height", "reads": "about a metre"}, "What the tape read"),
        ({"step": "hinges", "what": "lip height", "reads": ""}, "What the tape read"),
        ({"step": "hinges", "what": "lip height", "reads": "50000"}, "What the tape read"),
        ({"step": "hinges", "what": "lip height", "reads": "800", "how_open": "140"}, "How far open"),
        ({"step": "roofing", "what": "lip height", "reads": "800"}, "After which step"),
    ],
)
def test_a_wrong_tape_reading_is_one_sentence_beside_its_field(
    client: TestClient, file: Path, typed: dict[str, str], field: str
) -> None:
    before = file.read_bytes()
    answer = client.post("/do/tape_add", data=typed, headers=JSON)
    assert answer.status_code == 422
    assert [fault["where"] for fault in answer.json()["faults"]] == [field]
    assert answer.json()["said"].startswith(field)
    assert f'data-where="{field}"' in client.get("/proof").text
    assert file.read_bytes() == before


def test_a_reading_can_be_changed_and_taken_out(client: TestClient, file: Path) -> None:
    for typed in FOUR[:2]:
        assert client.post("/do/reading_add", data=typed, headers=JSON).json()["ok"]
    page = client.get("/proof").text
    assert 'name="reading.1.force" value="7.3 kg +- 0.5 kg, measured"' in page
    changed = client.post("/do/change", data={"reading.1.force": "7.9 kg", "what": "Reading 2"}, headers=JSON)
    assert changed.json()["said"] == "Saved: Reading 2."
    assert [one["force"] for one in tables(file, "reading")] == ["11.8 kg +- 0.5 kg, measured", "7.9 kg"]
    wrong = client.post("/do/change", data={"reading.1.force": "heavy"}, headers=JSON)
    where = wrong.json()["faults"][0]["where"]
    assert f'data-where="{where}"' in client.get("/proof").text
    assert client.post("/do/remove", data={"path": "reading.0", "what": "Reading 1"}, headers=JSON).json()["ok"]
    assert [one["force"] for one in tables(file, "reading")] == ["7.9 kg"]


def test_a_roof_hinged_at_a_side_says_why_there_is_no_proof(tmp_path: Path) -> None:
    file = tmp_path / "side.toml"
    file.write_text(SIDE, encoding="utf-8")
    with TestClient(build(Desk(tmp_path, file))) as client:
        page = reckoned(client)
        assert page.count("a proof by readings is not made yet for a roof hinged at a side") == 2
        assert "Reading to take" in client.get("/readings").text
