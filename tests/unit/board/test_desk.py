"""The desk alone: what is opened, who is told of what, and how the file on the disk is watched.

Exact constructed cases, on copies of a demo.
"""

from __future__ import annotations

import asyncio
import os
import threading
import time
from collections.abc import Awaitable, Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any, TypeVar

import pytest

from loftwright.board import desk as desks
from loftwright.board import judging
from loftwright.board.desk import Desk
from loftwright.board.jobs import BrokenOff
from loftwright.core.errors import CannotAssemble, ProjectFault
from loftwright.project.demos import demo_text

T = TypeVar("T")
LONG = 60.0
"""Longer than anything here takes [s]."""


def ran(work: Callable[[], Awaitable[T]]) -> T:
    """Run work in a loop of its own; another may run in this thread."""

    async def in_time() -> T:
        return await asyncio.wait_for(work(), LONG)

    with ThreadPoolExecutor(1) as thread:
        return thread.submit(lambda: asyncio.run(in_time())).result()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "vans"
    made.mkdir()
    for name in ("fennimoor", "quellmere"):
        (made / f"{name}.toml").write_text(demo_text(name), encoding="utf-8")
    return made


@pytest.fixture
def desk(folder: Path) -> Iterator[Desk]:
    made = Desk(folder)
    made.take(Path("fennimoor.toml"))
    yield made
    made.close()


# --- only the folder ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "name", ["../other.toml", "..", ".", "", "deeper/roof.toml", "/etc/passwd", "a\0b.toml", "link.toml"]
)
def test_nothing_outside_the_folder_is_opened(desk: Desk, tmp_path: Path, name: str) -> None:
    (tmp_path / "other.toml").write_text(demo_text("larkenmoor"), encoding="utf-8")
    (desk.folder / "link.toml").symlink_to(tmp_path / "other.toml")
    (desk.folder / "deeper").mkdir()
    (desk.folder / "deeper" / "roof.toml").write_text(demo_text("larkenmoor"), encoding="utf-8")
    before = desk.version
    with pytest.raises(ProjectFault) as raised:
        desk.take(Path(name))
    assert [fault.allowed for fault in raised.value.faults] == ["only files of this folder are opened"]
    assert (desk.project.name, desk.version) == ("Fennimoor", before)


def test_files_of_the_folder_are_opened(desk: Desk) -> None:
    (desk.folder / "same.toml").symlink_to(desk.folder / "quellmere.toml")
    for name in ("quellmere.toml", "./quellmere.toml", "same.toml", str(desk.folder / "quellmere.toml")):
        desk.take(Path("fennimoor.toml"))
        before = desk.version
        desk.take(Path(name))
        assert (desk.project.name, desk.open.path) == ("Quellmere", desk.folder / "quellmere.toml")
        assert desk.version > before


def test_a_file_that_cannot_be_read_leaves_the_open_one(desk: Desk) -> None:
    (desk.folder / "broken.toml").write_text("name = \n", encoding="utf-8")
    for name in ("broken.toml", "none.toml", "x" * 5000):
        with pytest.raises(ProjectFault):
            desk.take(Path(name))
        assert desk.project.name == "Fennimoor"


def test_before_anything_is_open(folder: Path) -> None:
    desk = Desk(folder, folder / "new.toml")
    assert desk.wanted == folder / "new.toml"
    for ask in (lambda: desk.project, lambda: desk.open, desk.undo, lambda: desk.change({"name": "x"}, "the name")):
        with pytest.raises(ProjectFault, match="not open"):
            ask()
    desk.close()


# --- who is told -------------------------------------------------------------------------------------


def test_every_change_is_told_to_all_who_listen(desk: Desk) -> None:
    async def told() -> list[tuple[str, str, int]]:
        heard: list[tuple[str, str, int]] = []
        ends = [desk.listen(lambda who=who: heard.append((who, desk.project.name, desk.version))) for who in "ab"]
        steps: list[Callable[[], None]] = [
            lambda: desk.change({"name": "One"}, "the name"),
            desk.undo,
            desk.redo,
            ends[0],
            lambda: desk.replace(desk.open.text.replace("One", "Two"), "all"),
            lambda: desk.remove("tape", "the tape"),
            desk.changed,
            ends[1],
            ends[1],
            desk.undo,
        ]
        for step in steps:
            step()
        return heard

    heard = ran(told)
    # Who of them is told first is nobody's business.
    assert [name for who, name, _ in heard if who == "a"] == ["One", "Fennimoor", "One"]
    assert [name for who, name, _ in heard if who == "b"] == ["One", "Fennimoor", "One", "Two", "Two", "Two"]
    versions = [version for who, _, version in heard if who == "b"]
    assert versions == sorted(set(versions))


def test_a_change_that_is_refused_is_told_to_nobody(desk: Desk) -> None:
    async def told() -> list[int]:
        heard: list[int] = []
        desk.listen(lambda: heard.append(desk.version))
        for changes in ({"shell.mass": "heavy"}, {"no.such": "1 m"}):
            with pytest.raises(ProjectFault):
                desk.change(changes, "nothing")
        with pytest.raises(ProjectFault):
            desk.undo()
        return heard

    assert ran(told) == []


def test_what_is_new_on_one_page_alone_is_no_new_version(desk: Desk) -> None:
    version = desk.version
    desk.changed("/lifts")
    desk.changed("/proof")
    assert desk.version == version
    assert desk.pages["/proof"] > desk.pages["/lifts"] > version
    desk.changed()
    assert desk.version > desk.pages["/proof"]


# --- the file on the disk ----------------------------------------------------------------------------


def watching() -> int:
    """Return how many look at the disk."""
    return len([task for task in asyncio.all_tasks() if "Desk._watch" in repr(task.get_coro())])


def test_the_file_is_watched_while_somebody_listens(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(desks, "LOOK_EVERY", 0.02)
    file = desk.open.path
    first = file.read_bytes()

    async def seen() -> list[str]:
        news = asyncio.Event()
        found = []
        assert watching() == 0
        end = desk.listen(news.set)
        for data in (first.replace(b"1.50 m", b"1.48 m"), b"name = \n", None, first):
            news.clear()
            if data is None:
                file.unlink()
            else:
                file.write_bytes(data)
            await news.wait()
            found.append("" if desk.elsewhere is None else desk.elsewhere.kind)
        # What stands in its place need not be a file.
        file.unlink()
        file.mkdir()
        news.clear()
        await news.wait()
        found.append("" if desk.elsewhere is None else desk.elsewhere.kind)
        file.rmdir()
        assert watching() == 1
        end()
        await asyncio.sleep(0.2)
        assert watching() == 0
        return found

    found = ran(seen)
    assert found[0] == "changed"
    assert found[1] == "unreadable"
    assert found[2] == "gone"
    assert found[3] == ""
    assert found[4] in ("unreadable", "gone")
    assert desk.project.name == "Fennimoor"


def test_tabs_that_come_and_go_are_watched_for_once(desk: Desk) -> None:
    async def loaded_again_and_again() -> int:
        for _ in range(5):
            end = desk.listen(lambda: None)
            await asyncio.sleep(0)
            end()
        desk.listen(lambda: None)
        desk.listen(lambda: None)
        await asyncio.sleep(0)
        return watching()

    assert ran(loaded_again_and_again) == 1


# --- what is judged ----------------------------------------------------------------------------------


def test_the_judgement_is_that_of_the_roof_as_it_is(desk: Desk) -> None:
    async def judged() -> tuple[object, list[str], int]:
        at_once = await desk.home(wait=0)
        both = await asyncio.gather(desk.home(), desk.home())
        kept = await desk.home(wait=0)
        assert kept is both[0] is both[1]
        pid = await desk.verdicts.run(os.getpid)
        desk.change({"name": "Another"}, "the name")
        after = await desk.home()
        tried = await desk.try_home(desk.project)
        assert after is not None
        assert tried is not None
        names = [one.page.name for one in (*both, after, tried) if one is not None]
        # While the process is busy a mere trial waits for its turn.
        busy = asyncio.ensure_future(desk.verdicts.run(time.sleep, 0.3))
        await asyncio.sleep(0.05)
        waited = await desk.try_home(desk.project)
        assert busy.done()
        assert waited is not None
        return at_once, names, pid

    at_once, names, pid = ran(judged)
    assert at_once is None
    assert names == ["Fennimoor", "Fennimoor", "Another", "Another"]
    assert pid != os.getpid()


def test_a_judgement_whose_process_died_is_asked_for_again(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(judging, "FAILED_FOR", 0.05)
    left = [1]
    run = desk.verdicts.run

    async def dies(work: Any, *args: Any) -> Any:
        if left[0]:
            left[0] -= 1
            return await run(os._exit, 3)
        return await run(work, *args)

    monkeypatch.setattr(desk.verdicts, "run", dies)

    async def asked() -> None:
        # Once by itself, without a word of it.
        assert (await desk.home()) is not None
        desk.change({"name": "Another"}, "the name")
        left[0] = 2
        with pytest.raises(BrokenOff, match="ask again"):
            await desk.home()
        assert left == [0]
        with pytest.raises(BrokenOff):
            await desk.home()
        # And when somebody asks a little later, without a change.
        await asyncio.sleep(0.2)
        found = await desk.home()
        assert found is not None
        assert found.page.name == "Another"

    ran(asked)


def test_what_is_wrong_with_the_roof_itself_is_found_out_once(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(judging, "FAILED_FOR", 0.0)
    asked: list[object] = []

    async def refuses(work: Any, *args: Any) -> Any:
        asked.append(work)
        raise CannotAssemble("arm a does not reach")

    monkeypatch.setattr(desk.verdicts, "run", refuses)

    async def twice() -> None:
        for _ in range(2):
            with pytest.raises(CannotAssemble):
                await desk.home()
            await asyncio.sleep(0.05)

    ran(twice)
    assert len(asked) == 1


def test_the_watch_outlives_a_mistake(
    desk: Desk, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(desks, "LOOK_EVERY", 0.01)
    looked: list[int] = []

    def elsewhere(self: object) -> None:
        looked.append(1)
        if len(looked) < 4:
            raise ValueError("an odd clock")

    monkeypatch.setattr(type(desk.open), "elsewhere", elsewhere)

    async def watched() -> None:
        end = desk.listen(lambda: None)
        while len(looked) < 6:
            await asyncio.sleep(0.01)
        end()

    ran(watched)
    assert capsys.readouterr().err.count("ValueError: an odd clock") == 1


# --- lists of springs --------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["/etc/passwd", "../list.csv", "link.csv", "~/list.csv", "deeper/../../list.csv"])
def test_a_list_of_springs_outside_the_folder_is_refused(
    desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    (desk.folder / "deeper").mkdir()
    outside = tmp_path / "list.csv"
    outside.write_text("a list\n", encoding="utf-8")
    (desk.folder / "link.csv").symlink_to(outside)
    before = desk.open.text
    text = before.replace("[choice]", f'[choice]\ncatalogue = "{name}"', 1)
    assert text != before
    (desk.folder / "other.toml").write_text(text, encoding="utf-8")
    for ask in (
        lambda: desk.change({"choice.catalogue": name}, "the list"),
        lambda: desk.replace(text, "all"),
        lambda: desk.take(Path("other.toml")),
    ):
        with pytest.raises(ProjectFault) as raised:
            ask()
        (fault,) = raised.value.faults
        assert "only files of this folder" in fault.sentence()
    assert (desk.open.path.name, desk.open.text) == ("fennimoor.toml", before)


def test_a_list_of_springs_of_the_folder_is_taken(desk: Desk) -> None:
    (desk.folder / "lists").mkdir()
    for name in ("list.csv", "lists/list.csv"):
        (desk.folder / name).write_text("a list\n", encoding="utf-8")
        desk.change({"choice.catalogue": name}, "the list")
        assert desk.project.choice.catalogue == name


def test_a_list_that_the_file_named_when_the_board_began_is_left(folder: Path, tmp_path: Path) -> None:
    outside = tmp_path / "list.csv"
    outside.write_text("a list\n", encoding="utf-8")
    file = folder / "fennimoor.toml"
    named = f'[choice]\ncatalogue = "{outside}"'
    file.write_text(demo_text("fennimoor").replace("[choice]", named, 1), encoding="utf-8")
    desk = Desk(folder, file)
    try:
        desk.replace(desk.open.text.replace("Fennimoor", "Another"), "the name")
        assert desk.project.name == "Another"
    finally:
        desk.close()


def test_closing_ends_what_is_under_way(desk: Desk) -> None:
    async def closed() -> bool:
        begun = threading.Event()

        async def endless() -> None:
            begun.set()
            await asyncio.sleep(LONG)

        task = desk.start(endless())
        desk.listen(lambda: None)
        await asyncio.sleep(0.01)
        desk.close()
        await asyncio.sleep(0.01)
        return begun.is_set() and task.cancelled() and watching() == 0

    assert ran(closed)
