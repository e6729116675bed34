"""One truth, the file, under tabs, other programs, full disks and an end in the midst of a move: in a real browser."""

from __future__ import annotations

import contextlib
import errno
import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest

pytestmark = pytest.mark.browser

FOOT = "spring.0.foot"
VAN = ("linkage.hinge", "zone.0.from")
SEEN_AFTER = 3.0
"""Longest until what another program did to the file is seen on the page [s]."""
PROGRAM = (sys.executable, "-c", "from loftwright.cli.main import app_main; app_main()")


def counts(tab: Any) -> str:
    """Return how the decisions stand, as the way through them says it."""
    return str(tab.text("[data-part=where]"))


def test_what_one_tab_does_every_tab_shows(board: Any, tab: Any, tab_of: Any, metres: Any) -> None:
    other = tab_of(beside=tab).go(board.entry.base)
    form = tab_of(beside=tab).go(f"{board.entry.base}/lifts")
    typed = form.page.locator('[name="spring.0.stroke"]')
    place = form.page.locator('[name="spring.0.foot.x"]')
    assert place.input_value() == "1.496 m"
    typed.fill("0.2")
    typed.evaluate("(el) => el.setSelectionRange(1, 2)")
    before, start = counts(other), other.at(FOOT)
    tab.drag(FOOT, 8, 6)
    tab.until(lambda: board.file.read_bytes() != board.first)
    x = board.values[f"{FOOT}.0"]
    assert metres(x) > 1.5
    other.until(lambda: abs(other.at(FOOT)[0] - start[0]) > 6, "the drawing in the other tab")
    other.until(lambda: counts(other) != before, "the counts in the other tab")
    tab.until(lambda: counts(tab) == counts(other), "the same counts in both")
    form.until(lambda: place.input_value() == x, "the value in the form")
    assert typed.input_value() == "0.2"
    caret = "[document.activeElement.name, document.activeElement.selectionStart, document.activeElement.selectionEnd]"
    assert form.page.evaluate(caret) == ["spring.0.stroke", 1, 2]

    # The keys undo and redo, but not while somebody types.
    changed = board.file.read_bytes()
    form.page.keyboard.press("Control+z")
    form.page.wait_for_timeout(150)
    assert board.file.read_bytes() == changed
    other.page.keyboard.press("Control+z")
    other.until(lambda: board.file.read_bytes() == board.first, "undone, with every comment")
    form.until(lambda: place.input_value() == "1.496 m")
    other.page.locator("#redo:not([disabled])").wait_for()
    other.page.keyboard.press("Control+Shift+Z")
    other.until(lambda: board.file.read_bytes() == changed, "done again")
    tab.undo()
    tab.until(lambda: board.file.read_bytes() == board.first)
    tab.page.locator("#redo:not([disabled])").click()
    tab.until(lambda: board.file.read_bytes() == changed)
    tab.page.locator("#redo[disabled]").wait_for()


def test_another_program_writes_the_file(board: Any, tab: Any) -> None:
    def write(data: bytes) -> float:
        part = board.file.with_suffix(".part")
        part.write_bytes(data)
        os.replace(part, board.file)
        return time.monotonic()

    def noticed(words: str, since: float) -> str:
        said = str(tab.says("[data-part=notice]", words))
        assert time.monotonic() - since < SEEN_AFTER
        return said

    button = tab.page.locator
    theirs = board.first.replace(b'"1.496 m"', b'"1.510 m"')
    said = noticed("1.510 m", write(theirs))
    assert "1.496 m" in said
    # What is done here meanwhile is refused, and theirs stays.
    start = tab.at(FOOT)
    tab.drag(FOOT, 9, 4)
    refused = tab.says("[data-said].bad", "changed in another program and your change was not made")
    assert refused.endswith(".")
    assert board.file.read_bytes() == theirs
    tab.until(lambda: abs(tab.at(FOOT)[0] - start[0]) < 1, "back where it was")
    button("button:text('Take the file as it is now')").click()
    tab.until(lambda: tab.text("[data-part=notice]") == "", "the notice goes")
    tab.until(lambda: tab.at(FOOT)[0] - start[0] > 1.5, "theirs on the drawing")
    assert board.file.read_bytes() == theirs
    tab.undo()
    tab.until(lambda: board.file.read_bytes() == board.first)

    noticed("1.510 m", write(theirs))
    button("button:text('Keep what is here and write it')").click()
    tab.until(lambda: board.file.read_bytes() == board.first)
    tab.until(lambda: tab.text("[data-part=notice]") == "")

    # Gone, and then no project at all: it cannot be taken, only written again.
    board.file.unlink()
    for words, spoil in (("no longer there", None), ("cannot be", b'name = "half a line\n[shell\n')):
        if spoil is not None:
            noticed(words, write(spoil))
        else:
            noticed(words, time.monotonic())
        assert button("button:text('Take the file as it is now')").count() == 0
        button("button:text('Keep what is here and write it')").click()
        tab.until(lambda: board.file.exists() and board.file.read_bytes() == board.first)
        tab.until(lambda: tab.text("[data-part=notice]") == "")
    tab.drag(FOOT, 5, 5)
    tab.says("[data-said]", "Saved: ")


def test_a_disk_that_refuses(board: Any, tab: Any, tab_of: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    form = tab_of(beside=tab).go(f"{board.entry.base}/have")
    field = form.page.locator('[name="shell.mass"]')

    def refused(words: str) -> None:
        start = tab.at(FOOT)
        tab.drag(FOOT, 7, 5)
        said = tab.says("[data-said].bad", words)
        tab.until(lambda: abs(tab.at(FOOT)[0] - start[0]) < 1)
        field.fill("63 kg")
        field.press("Enter")
        in_form = form.says("#said.bad", words)
        for one in (said, in_form):
            # One sentence.
            assert re.fullmatch(r"[^.]+(\.\w+[^.]*)*\.", one), one
        assert field.input_value() == "63 kg"
        assert board.file.read_bytes() == board.first

    rights = board.file.stat().st_mode
    board.file.chmod(0o444)
    try:
        refused("may only be read")
    finally:
        board.file.chmod(rights)

    def full(number: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", full)
        refused("no room left")
    assert [one.name for one in board.file.parent.iterdir() if one.suffix == ".part"] == []
    # With room again it is saved as it was typed, and Enter asks only once.
    form.asked.clear()
    field.fill("64 kg")
    field.press("Enter")
    form.says("#said", "Saved: ")
    form.drawn()
    assert [asked for asked in form.asked if asked.endswith("/do/change")] == [f"{board.entry.base}/do/change"]
    assert board.values["shell.mass"].startswith("64 kg")


# --- the program ends, and comes back ----------------------------------------------------------------


def is_alive(pid: int) -> bool:
    try:
        return Path(f"/proc/{pid}/stat").read_text(encoding="utf-8").rsplit(")", 1)[1].split()[0] != "Z"
    except OSError:
        return False


def processes_of(pid: int) -> list[int]:
    found = Path(f"/proc/{pid}/task").glob("*/children")
    return [int(one) for children in found for one in children.read_text("utf-8").split()]


@contextlib.contextmanager
def started(file: Path, port: int) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """Yield the program as somebody starts it, and the address that it prints."""
    process = subprocess.Popen(
        [*PROGRAM, "board", "--no-browser", "--port", str(port), str(file)],
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
        encoding="utf-8",
        env={**os.environ, "XDG_STATE_HOME": str(file.parent / "state")},
    )
    with process:
        try:
            assert process.stdout is not None
            yield process, process.stdout.readline().strip()
        finally:
            process.terminate()
            process.communicate(timeout=20)


@pytest.mark.skipif(sys.platform != "linux", reason="looks into /proc")
def test_killed_in_the_midst_of_a_move(tab_of: Any, tmp_path: Path, demo: Any) -> None:
    file = tmp_path / "roof.toml"
    file.write_text(demo("fennimoor"), encoding="utf-8")
    tab = tab_of()
    with started(file, 0) as (process, address):
        port = urlsplit(address).port
        assert port
        tab.go(address)
        tab.drag(FOOT, 6, 4)
        tab.says("[data-said]", "Saved: ")
        saved, processes = file.read_bytes(), processes_of(process.pid)
        tab.drawn()
        start = tab.take(FOOT)
        tab.page.mouse.move(start[0] - 30, start[1], steps=3)
        assert processes
        process.send_signal(signal.SIGKILL)
        process.wait(20)
        tab.page.locator("#link").wait_for(state="visible")
        tab.page.mouse.move(start[0] - 40, start[1], steps=2)
        tab.page.mouse.up()
        tab.says("[data-said].bad", "The connection is lost")
        tab.until(lambda: abs(tab.at(FOOT)[0] - start[0]) < 1, "back at the last accepted place")
        tab.until(lambda: not any(map(is_alive, processes)), "no process is left")
    assert file.read_bytes() == saved
    tab.kinds.clear()
    with started(file, port) as (_, again):
        assert again == address
        tab.settled()
        tab.page.locator("#link").wait_for(state="hidden")
        tab.until(lambda: abs(tab.at(FOOT)[0] - start[0]) < 1)
        assert file.read_bytes() == saved
        # The browser says of each try that nobody answered.
        tab.complaints[:] = [said for said in tab.complaints if "ERR_CONNECTION" not in said]
        # What was done before the end is no step of this run.
        assert tab.page.locator("#undo[disabled]").count() == 1
        tab.drag(FOOT, -6, 0)
        tab.says("[data-said]", "Saved: ")
        assert file.read_bytes() != saved
