"""The pages on fit and strength through the application, without a browser.

Exact constructed cases, on copies of demos.
"""

from __future__ import annotations

import json
import re
import time
import tomllib
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from loftwright.answers.decisions import HOLD_PAGES
from loftwright.board.app import build
from loftwright.board.desk import Desk
from loftwright.board.pages.hold import PAPERS
from loftwright.board.pages.papers import HOLD
from loftwright.documents.hold_book import HOLD_SHEETS
from loftwright.project.demos import demo_text

LONGEST = 60.0
"""Longest that a judgement is waited for [s]."""
REMARK = re.compile(r'data-part="([a-z]+)"')


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("hold")
    (made / "roof.toml").write_text(demo_text("fennimoor"), encoding="utf-8")
    return made


@pytest.fixture(scope="module")
def client(folder: Path) -> Iterator[TestClient]:
    with TestClient(build(Desk(folder, folder / "roof.toml")), follow_redirects=False) as made:
        yield made


def judged(client: TestClient, path: str) -> str:
    """Return a page once fit and strength are judged."""
    end = time.monotonic() + LONGEST
    while "reckoned ..." in (page := client.get(path).text) and time.monotonic() < end:
        time.sleep(0.1)
    return page


def data_of(page: str, mark: str) -> Any:
    """Return the data that a page hands to its script."""
    found = re.search(rf"<script type=\"application/json\" {mark}>(.*?)</script>", page, re.S)
    assert found is not None
    return json.loads(found[1])


def test_before_it_is_judged_the_page_says_so_and_shows_the_fields(tmp_path: Path) -> None:
    (tmp_path / "roof.toml").write_text(demo_text("fennimoor"), encoding="utf-8")
    with TestClient(build(Desk(tmp_path, tmp_path / "roof.toml"))) as client:
        page = client.get("/opening").text
        assert "Being reckoned ..." in page
        assert 'name="cut.corner_radius"' in page
        # The plan waits for no judgement.
        assert data_of(page, "data-cut-tables")["opening"] == pytest.approx([2.0, 1.38])


@pytest.mark.parametrize("path", HOLD_PAGES)
def test_each_page_answers_its_question(client: TestClient, path: str) -> None:
    page = judged(client, path)
    assert 'class="answer"' in page
    assert "Judged on this page" in page
    assert "crash or roll-over assessment" in page
    for name, _ in PAPERS[path]:
        assert f'href="/papers/hold/{name}.pdf"' in page
        assert name in HOLD_SHEETS
    # Every part that is sent anew stands on the page once.
    names = REMARK.findall(page)
    assert sorted(set(names)) == sorted(names)


def test_the_wind_to_play_with_is_a_table(client: TestClient) -> None:
    page = judged(client, "/wind")
    play = data_of(page, "data-wind")
    assert sorted(play["directions"]) == ["front", "left", "rear", "right"]
    count = len(play["gusts"])
    assert 0 <= play["wanted"] < count
    for part in play["parts"]:
        assert [len(one) for one in part["used"]] == [count] * 4
        assert len(part["first"]) == 4
        # The table passes a limit between the same two gusts between which the words name one.
        for used, first in zip(part["used"], part["first"], strict=True):
            gusts = [float(text.split()[0]) for text in play["gusts"]]
            named = float(first.split()[-2])
            if used[-1] < 1:
                assert "above" in first or named > gusts[-1], part["name"]
                continue
            past = next(k for k in range(count) if used[k] >= 1)
            step = gusts[1] - gusts[0]
            assert gusts[past] - step - 0.5 <= named <= gusts[past] + 0.5, (part["name"], first)
    assert {len(one) for one in (*play["sway"], *play["without"])} <= {count}
    assert page.count("<figure data-side=") == 4
    # Without a script the gusts at the limits stand in a table.
    assert page.count("<table") >= 1


def test_how_it_stands_is_said_on_the_first_page_and_in_the_way(client: TestClient) -> None:
    home = judged(client, "/")
    line = re.search(r'class="fit-and-strength">.*?</p>', home, re.S)
    assert line is not None
    assert re.search(r"On fit and strength \d+ fails?, \d+ not known yet, \d+ holds?:", unescape(line[0]))
    for path in HOLD_PAGES:
        assert f'<a href="{path}">' in line[0]
    way = home[home.index('data-part="where"') : home.index('id="said"')]
    wind = way[way.index('href="/wind"') : way.index('href="/opening"')]
    assert "not known yet" in wind or " fail" in wind


@pytest.fixture
def moved(tmp_path: Path) -> Iterator[tuple[TestClient, Path]]:
    file = tmp_path / "roof.toml"
    file.write_text(demo_text("fennimoor"), encoding="utf-8")
    with TestClient(build(Desk(tmp_path, file))) as client:
        yield client, file


def put(client: TestClient, **fields: str) -> dict[str, Any]:
    return dict(client.post("/do/cut", data=fields, headers={"accept": "application/json"}).json())


def test_a_corner_that_is_put_elsewhere_changes_length_and_width(moved: tuple[TestClient, Path]) -> None:
    client, file = moved
    before = tomllib.loads(file.read_text(encoding="utf-8"))
    assert put(client, grip="front right", x="1.9004", y="-0.6502")["ok"]
    after = tomllib.loads(file.read_text(encoding="utf-8"))
    # Both sides move: the width is twice the corner's distance from the middle, in whole millimetres.
    assert (after["opening"]["length"], after["opening"]["width"]) == ("1.9 m", "1.3 m")
    after["opening"] = before["opening"]
    assert after == before


def test_a_rear_corner_leaves_the_length(moved: tuple[TestClient, Path]) -> None:
    client, file = moved
    before = tomllib.loads(file.read_text(encoding="utf-8"))
    assert put(client, grip="rear left", x="0.3", y="0.64")["ok"]
    after = tomllib.loads(file.read_text(encoding="utf-8"))
    assert after["opening"] == before["opening"] | {"width": "1.28 m"}
    assert after["body"] == before["body"]


def test_the_radius_has_a_point_of_its_own(moved: tuple[TestClient, Path]) -> None:
    client, file = moved
    # 80 mm from both edges of an opening of 2 m by 1.38 m.
    assert put(client, grip="radius", x="1.92", y="0.61")["ok"]
    assert tomllib.loads(file.read_text(encoding="utf-8"))["cut"]["corner_radius"] == "80 mm"


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"grip": "front left", "x": "1.9", "y": "0.9"}, "shell"),
        ({"grip": "radius", "x": "1.999", "y": "0.689"}, "tears"),
        ({"grip": "front left", "x": "far", "y": "0.6"}, "two numbers"),
        ({"grip": "front left", "x": "nan", "y": "0.6"}, "cut line"),
        ({"grip": "middle", "x": "1", "y": "0.6"}, "cut line"),
        ({"grip": "front left", "x": "1"}, "lacks y"),
    ],
)
def test_what_cannot_be_is_refused_with_its_reason(
    moved: tuple[TestClient, Path], fields: dict[str, str], words: str
) -> None:
    client, file = moved
    before = file.read_bytes()
    answer = put(client, **fields)
    assert not answer["ok"]
    assert words in answer["said"]
    assert file.read_bytes() == before


def test_where_nothing_moves_nothing_is_written(moved: tuple[TestClient, Path]) -> None:
    client, file = moved
    before = file.read_bytes()
    assert put(client, grip="front left", x="2.0003", y="0.6901")["ok"]
    assert file.read_bytes() == before


def test_every_sheet_is_offered_and_a_page_says_what_it_lacks(client: TestClient) -> None:
    page = client.get("/papers").text
    assert {offer.path for offer in HOLD} == {"hold.pdf", *(f"hold/{name}.pdf" for name in HOLD_SHEETS)}
    for offer in HOLD:
        assert f'href="/papers/{offer.path}?paper=a4"' in page
    refused = client.get("/papers/hold/nothing.pdf")
    assert refused.status_code == 422
    assert "This paper cannot be made" in refused.text


def test_a_sheet_comes_as_it_is_asked_for(client: TestClient) -> None:
    judged(client, "/wind")
    made = client.get("/papers/hold/wind-card.pdf?paper=letter")
    assert made.status_code == 200
    assert made.content.startswith(b"%PDF")
    assert made.headers["content-disposition"].startswith('inline; filename="roof-wind-card.pdf"')
