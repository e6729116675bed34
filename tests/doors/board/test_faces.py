"""What stands on the pages whatever becomes of the judgement: cautions, names, bands, and no keys of the file."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from loftwright.answers.decisions import DECISIONS
from loftwright.answers.views import cautions_of
from loftwright.board.app import build
from loftwright.board.desk import Desk
from loftwright.project.demos import demo_text
from loftwright.project.file import edited, loads

CAREFUL = ("/", "/moves", "/lifts")
KEY = re.compile(r"\([a-z_]+(?:\.[a-z0-9_]+)+\)")


def opened(folder: Path, text: str) -> TestClient:
    """Return the board of a file."""
    file = folder / "roof.toml"
    file.write_text(text, encoding="utf-8")
    return TestClient(build(Desk(folder, file)))


@pytest.fixture
def client(tmp_path: Path) -> Iterator[TestClient]:
    with opened(tmp_path, demo_text("quellmere")) as found:
        yield found


def seen(page: str) -> str:
    """Return what a person reads of a page."""
    return unescape(re.sub(r"<script.*?</script>|<[^>]*>", " ", page, flags=re.DOTALL))


def until(client: TestClient, path: str, words: str) -> str:
    """Return what is read on a page once it says these words."""
    for _ in range(200):
        if words in (page := seen(client.get(path).text)):
            return page
    raise AssertionError(f"waited in vain for {words!r}")


@pytest.mark.parametrize("path", CAREFUL)
def test_cautions_stand_there_before_the_roof_is_judged(
    client: TestClient, monkeypatch: pytest.MonkeyPatch, path: str
) -> None:
    async def never(*_: object, **__: object) -> None:
        return None

    monkeypatch.setattr(Desk, "home", never)
    page = seen(client.get(path).text)
    for caution in cautions_of(loads(demo_text("quellmere"))):
        assert page.count(caution) == 1


@pytest.mark.parametrize("path", CAREFUL)
def test_cautions_stand_there_where_no_roof_can_be_put_together(tmp_path: Path, path: str) -> None:
    # The arms jam long before they are open.
    text = edited(demo_text("ottergate"), {"linkage.arm_a_shell.x": "0.1 m"})
    with opened(tmp_path, text) as client:
        page = until(client, path, "cannot be put together")
    assert "The lifting arms jam" in page
    for caution in cautions_of(loads(text)):
        assert page.count(caution) == 1


def test_the_drawing_has_one_name(client: TestClient) -> None:
    page = client.get("/").text
    way = page[page.index('aria-label="Decisions"') : page.index("</nav>")]
    assert re.findall(r"<a href=\"([^\"]*)\"[^>]*><span>([^<]*)<", way) == [
        (one.path, one.title) for one in DECISIONS if one.path != "/settings"
    ]
    assert DECISIONS[0].title == "Drawing"


def test_bands_are_of_all_roofs_at_rest_and_of_few_while_a_point_is_moved(client: TestClient) -> None:
    page = client.get("/").text
    found = re.search(r"data-tables>(.*?)</script>", page, re.DOTALL)
    assert found is not None
    still = json.loads(found[1])
    assert still["band_note"] == "shaded: 8 of 10 roofs like yours"
    with client.websocket_connect("/live") as socket:
        socket.send_text(json.dumps({"t": "hello", "page": "/", "query": {}, "width": 900}))
        spot = next(grip for grip in still["grips"] if grip["path"] == "spring.0.foot")["at"]
        socket.send_text(
            json.dumps({"t": "try", "grip": "spring.0.foot", "x": spot[0] + 0.003, "z": spot[1], "seq": 1})
        )
        notes = {}
        while "trial" not in notes or "picture" not in notes:
            message = json.loads(socket.receive_text())
            if "picture" in message:
                notes[message["t"]] = message["picture"]["band_note"]
    assert notes == {"picture": still["band_note"], "trial": f"{still['band_note']}, from 32 roofs while you move it"}


def test_pages_do_not_name_keys_of_the_file(client: TestClient) -> None:
    rows = until(client, "/lifts", "Judged on this page")
    for path in ("/", "/lifts", "/start?lifts=hinge+front&opening_length=2+m"):
        assert KEY.findall(seen(client.get(path).text)) == []
    assert "pull a strip of cloth tight" in rows
