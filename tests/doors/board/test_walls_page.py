"""The page on the cloth walls through the application, without a browser: what is shown, moved, begun and sent.

Exact constructed cases: a page of walls made up in sample_walls.py, on copies of demos.
"""

from __future__ import annotations

import asyncio
import importlib.util
import io
import json
import re
import sys
import time
import tomllib
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from loftwright.board import work
from loftwright.board.app import build
from loftwright.board.desk import Desk
from loftwright.board.pages import papers, walls
from loftwright.board.papers import PATTERNS, WALL_SHEETS
from loftwright.core.errors import Fault, ProjectFault
from loftwright.project.demos import demo_text

_SPEC = importlib.util.spec_from_file_location("sample_walls", Path(__file__).parent / "sample_walls.py")
assert _SPEC is not None
assert _SPEC.loader is not None
sample = importlib.util.module_from_spec(_SPEC)
sys.modules["sample_walls"] = sample
_SPEC.loader.exec_module(sample)

JSON = {"accept": "application/json"}
PART = re.compile(r'data-part="([a-z]+)"')
WINDOW = '\n[[window]]\nname = "side"\nwall = "right"\nalong = "-50 mm"\nwidth = "400 mm"\nheight = "200 mm"\n'


class Opened:
    """A board on a roof with one window, whose walls are those of the sample."""

    def __init__(self, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        self.file = folder / "roof.toml"
        self.file.write_text(re.sub(r"\n\[\[(window|seam)\]\][^\[]*", "\n", demo_text("fennimoor")) + WINDOW, "utf-8")
        self.desk = Desk(folder)
        self.desk.take(self.file)
        self.walls: Any = sample.board_walls()

        async def judged(**_: object) -> Any:
            if isinstance(self.walls, Exception):
                raise self.walls
            return self.walls

        monkeypatch.setattr(self.desk, "walls", judged)
        self.client = TestClient(build(self.desk))

    @property
    def values(self) -> dict[str, Any]:
        return tomllib.loads(self.file.read_text(encoding="utf-8"))

    def page(self) -> str:
        return str(self.client.get("/walls").text)

    def do(self, action: str, **fields: str) -> dict[str, Any]:
        return dict(self.client.post(f"/do/{action}", data=fields, headers=JSON).json())


@pytest.fixture
def opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Opened]:
    made = Opened(tmp_path, monkeypatch)
    with made.client:
        yield made


def data_of(page: str, mark: str) -> Any:
    """Return the data that a page hands to one of its scripts."""
    found = re.search(rf"<script type=\"application/json\" {mark}>(.*?)</script>", page, re.S)
    assert found is not None
    return json.loads(found[1])


def test_everything_stands_on_the_page_once(opened: Opened) -> None:
    page = opened.page()
    names = PART.findall(page)
    assert sorted(names) == sorted(set(names))
    assert set(walls.PAGE.parts) <= set(names)
    for part in ("shape", "water", "sewing", "windows", "metres", "warmth", "fold"):
        assert page.count(f"The answer on {part}.") == 1
    strip = data_of(page, "data-strip-tables")
    # Four panels, four seams of which one closes the ring, so five lines.
    assert [panel["number"] for panel in strip["panels"]] == ["W1", "W2", "W3", "W4"]
    assert [seam["sign"] for seam in strip["seams"]] == ["A", "B", "C", "D", "A"]
    assert strip["steps"] == [100, 10]
    assert strip["around"] == 60_000
    assert data_of(page, "data-fold-tables")["places"][0]["poses"][0]["open"] == 0.0
    assert "moving the first one writes the places of all" in page
    assert "worked out for an earlier version of the roof: work it out again" in page
    assert "2.5 m" in page
    assert "Open windows" not in page
    for address, _ in (*walls.SHEETS, *walls.PATTERNS):
        assert f'href="/papers/{address}"' in page


def test_without_a_fold_the_page_asks_for_one(opened: Opened) -> None:
    opened.walls = sample.without_fold()
    page = opened.page()
    assert [place["poses"] for place in data_of(page, "data-fold-tables")["places"]] == [[], []]
    assert "has not been worked out yet" in page


def test_why_walls_cannot_be_judged_is_said_here_and_nowhere_else(opened: Opened) -> None:
    while "Verdicts are being reckoned" in opened.client.get("/").text:
        time.sleep(0.05)
    opened.walls = ProjectFault([Fault("The lines", "cross", "the upper one lies above", "raise the shell")])
    assert "raise the shell" in opened.page()
    assert "raise the shell" not in opened.client.get("/have").text


def test_a_window_that_is_moved_is_written_on_the_marks_of_the_tape(opened: Opened) -> None:
    assert opened.do("walls-window", entry="0", along="0.1204", bottom="0.15")["ok"]
    assert opened.values["window"][0] | {"along": "120 mm", "bottom": "150 mm"} == opened.values["window"][0]
    before = opened.file.read_bytes()
    assert opened.do("walls-window", entry="0", along="0.1203", bottom="0.1499")["said"] == "Left as it was."
    assert opened.file.read_bytes() == before


def test_the_first_seam_that_is_moved_writes_all_of_them(opened: Opened) -> None:
    said = opened.do("walls-seam", seam="rear right corner", at="0.7004")
    assert said["ok"]
    assert "places of all seams" in said["said"]
    # The sample's seams stand at 0.6, 2.4, 3.6 and 5.4 m; the one at 0.6 m was put to 0.7 m.
    assert [seam["at"] for seam in opened.values["seam"]] == ["700 mm", "2.4 m", "3.6 m", "5.4 m"]
    again = opened.do("walls-seam", seam="front left corner", at="3.5")
    assert again["ok"]
    assert "places of all seams" not in again["said"]
    assert [seam["at"] for seam in opened.values["seam"]] == ["700 mm", "2.4 m", "3.5 m", "5.4 m"]
    # It is one change each.
    assert opened.do("undo")["ok"]
    assert opened.do("undo")["ok"]
    assert "seam" not in opened.values


@pytest.mark.parametrize(
    ("action", "fields", "words"),
    [
        ("walls-window", {"entry": "3", "along": "0", "bottom": "0.1"}, "window 4"),
        ("walls-window", {"entry": "0", "along": "nan", "bottom": "0.1"}, "load the page again"),
        ("walls-window", {"entry": "0", "along": "far", "bottom": "0.1"}, "takes numbers"),
        ("walls-window", {"entry": "inf", "along": "0", "bottom": "0.1"}, "load the page again"),
        ("walls-window", {"entry": "0", "along": "9", "bottom": "0.1"}, "along"),
        ("walls-window", {"entry": "0", "along": "0", "bottom": "-0.1"}, "bottom"),
        ("walls-seam", {"seam": "middle", "at": "1"}, "no seam"),
        ("walls-seam", {"seam": "rear right corner", "at": "inf"}, "no seam"),
        ("walls-seam", {"seam": "rear right corner", "at": "2.38"}, "front right corner stands there"),
        # Round the start of the closed line.
        ("walls-seam", {"seam": "rear right corner", "at": "-0.58"}, "rear left corner stands there"),
        ("walls-work", {"which": "supper"}, "load the page again"),
        ("walls-stop", {}, "Nothing is under way"),
        ("walls-take", {"offered": "what stood there before"}, "nothing was written"),
    ],
)
def test_what_cannot_be_is_refused_with_its_reason(
    opened: Opened, action: str, fields: dict[str, str], words: str
) -> None:
    before = opened.file.read_bytes()
    answer = opened.do(action, **fields)
    assert not answer["ok"]
    assert words in answer["said"]
    assert opened.file.read_bytes() == before


def test_what_the_walls_give_is_taken_over_as_it_was_offered(opened: Opened) -> None:
    assert opened.do("walls-take", offered=walls.mark_of(opened.walls.taken))["ok"]
    assert opened.values["shell"]["mass"] == "58 kg"


class Slow:
    """Stands for the process of long work: tells how far it is, and ends when it may."""

    def __init__(self) -> None:
        self.go = asyncio.Event()
        self.asked: tuple[Any, ...] = ()
        self.busy = False

    async def follow(self, hear: Any, job: Any, *args: Any) -> bool:
        self.asked = (job, *args)
        hear(0.0, "")
        hear(0.4, "rear wall")
        await self.go.wait()
        return not self.stopped

    stopped = False

    def stop(self) -> None:
        self.stopped = True
        self.go.set()

    def close(self) -> None:
        """Nothing to end."""


@pytest.mark.parametrize("ends", [True, False])
def test_long_work_shows_how_far_it_is_and_is_judged_with_at_its_end(
    opened: Opened, monkeypatch: pytest.MonkeyPatch, ends: bool
) -> None:
    slow = Slow()
    opened.desk.long.close()
    monkeypatch.setattr(opened.desk, "long", slow)
    assert opened.do("walls-work", which="fold")["ok"]
    page = opened.page()
    assert 'value="40"' in page
    assert "Rear wall." in page
    assert slow.asked[0] is work.walls
    assert slow.asked[2:] == (opened.file.resolve(), True, False)
    assert not opened.do("walls-work", which="lay")["ok"]
    version = opened.desk.version
    if ends:
        opened.client.portal.call(slow.go.set)  # type: ignore[union-attr]
    else:
        assert opened.do("walls-stop")["ok"]
    end = time.monotonic() + 10
    while opened.desk.version == version and time.monotonic() < end:
        time.sleep(0.01)
    # All tabs are told, so that the walls are judged with what was kept.
    assert opened.desk.version > version
    assert ("Worked out: the fold." if ends else "what was not finished is not kept") in opened.page()


def test_files_in_one_archive_are_what_they_were() -> None:
    files = {"W1.svg": b"<svg>1</svg>", "W2.svg": b"<svg>2</svg>"}
    made = work.zipped(files)
    with zipfile.ZipFile(io.BytesIO(made)) as archive:
        assert {name: archive.read(name) for name in archive.namelist()} == files
    # The same files make the same archive, whenever it is made.
    assert work.zipped(files) == made


def test_every_sheet_and_pattern_is_offered(opened: Opened) -> None:
    page = opened.client.get("/papers").text
    paths = {f"walls/sheet/{name}.pdf" for name in WALL_SHEETS} | {f"walls/{name}" for name in PATTERNS}
    assert {offer.path for offer in papers.WALLS} == {"walls.pdf", *paths}
    assert {path.split("?")[0] for path, _ in (*walls.SHEETS, *walls.PATTERNS)} == {"walls.pdf", *paths}
    for path in paths:
        assert f'href="/papers/{path}' in page
    for path in ("walls/nothing.pdf", "walls/sheet/nothing.pdf"):
        refused = opened.client.get(f"/papers/{path}")
        assert refused.status_code == 422
        assert "This paper cannot be made" in refused.text
