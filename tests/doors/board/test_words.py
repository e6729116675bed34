"""Spelling and units on the board: what is shown changes, what the file holds does not."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from loftwright.board.app import build
from loftwright.board.desk import Desk
from loftwright.project.demos import demo_text
from loftwright.project.file import edited

JSON = {"accept": "application/json"}
BRITISH = re.compile(r"\b(?:kerb|centre|metres?|colour|aluminium|judgement|licence)\b", re.IGNORECASE)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    target = tmp_path / "roof.toml"
    target.write_text(edited(demo_text("fennimoor"), {"spring.0.name": "grey spring"}), encoding="utf-8")
    return target


@pytest.fixture
def client(file: Path) -> Iterator[TestClient]:
    with TestClient(build(Desk(file.parent, file))) as found:
        yield found


def seen(page: str) -> str:
    """Return what a person reads of a page: the text between its tags."""
    return re.sub(r"<script.*?</script>|<style.*?</style>|<[^>]*>", " ", page, flags=re.DOTALL)


def test_the_edge_is_called_by_its_name_in_both_spellings(client: TestClient) -> None:
    page = client.get("/have").text
    assert "Kerb (upstand) round the opening" in page
    assert client.post("/do/change", data={"settings.words": "curb"}, headers=JSON).json()["ok"]
    page = client.get("/have").text
    assert "Curb (upstand) round the opening" in page
    assert 'name="roof.upstand"' in page
    for path in ("/", "/have", "/moves", "/lifts", "/proof", "/papers"):
        shown = seen(client.get(path).text)
        found = set(BRITISH.findall(shown))
        assert found == set(), path


def test_own_words_and_values_stay(client: TestClient, file: Path) -> None:
    before = tomllib.loads(file.read_text(encoding="utf-8"))
    assert client.post("/do/change", data={"settings.words": "curb"}, headers=JSON).json()["ok"]
    page = client.get("/lifts").text
    assert 'value="grey spring"' in page
    assert "gray spring" not in page
    after = tomllib.loads(file.read_text(encoding="utf-8"))
    assert after == {**before, "settings": {**before["settings"], "words": "curb"}}


def test_the_settings_offer_both_switches(client: TestClient) -> None:
    page = client.get("/settings").text
    assert 'name="settings.words"' in page
    assert "American: curb, aluminum, meter" in page
    assert 'name="settings.units"' in page
    assert client.post("/do/change", data={"settings.words": "curb"}, headers=JSON).json()["ok"]
    # The choice itself names both spellings in either.
    assert "British: kerb, aluminium, metre" in client.get("/settings").text
    answer = client.post("/do/change", data={"settings.words": "kerbs"}, headers=JSON).json()
    assert not answer["ok"]
    assert '"kerb"' in answer["said"]
    assert client.post("/do/change", data={"settings.words": "kerb"}, headers=JSON).json()["ok"]


def test_other_units_leave_every_written_value_as_it_is(client: TestClient, file: Path) -> None:
    before = tomllib.loads(file.read_text(encoding="utf-8"))
    metric = client.get("/have").text
    assert client.post("/do/change", data={"settings.units": "imperial"}, headers=JSON).json()["ok"]
    after = tomllib.loads(file.read_text(encoding="utf-8"))
    assert after == {**before, "settings": {**before["settings"], "units": "imperial"}}
    imperial = client.get("/have").text
    # In which order they stand hangs on whether the roof is judged yet.
    values = [dict(re.findall(r'<input id="in-([^"]*)"[^>]*? value="([^"]*)"', page)) for page in (metric, imperial)]
    assert values[0] == values[1]
    assert len(values[0]) > 20
    # What the program says of them is in the other units.
    assert "between 0 mm and" in metric
    assert re.search(r"between 0 in and", imperial)
