"""Work in another process: what comes back, what it tells meanwhile, how it is stopped, and what follows when it dies.

Exact constructed cases. The work is a small module of its own, which the process finds by its name.
"""

from __future__ import annotations

import asyncio
import importlib
import math
import operator
import os
import signal
import threading
import time
from collections.abc import Awaitable, Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any, TypeVar

import pytest

from loftwright.board import jobs
from loftwright.board.jobs import Worker
from loftwright.core.errors import Fault, ProjectFault

T = TypeVar("T")
LONG = 60.0
"""Longer than anything here takes [s]."""
WORK = """
import os, time
from loftwright.board import jobs
from loftwright.core.errors import Fault, ProjectFault

def told():
    jobs.tell(0.25, "a quarter")
    jobs.tell(0.5, "half")
    until = time.monotonic() + 60
    while not jobs.stopped() and time.monotonic() < until:
        time.sleep(0.01)
    return "best so far" if jobs.stopped() else "the end"

def faulty():
    raise ProjectFault([Fault("[shell] mass", "heavy", "a weight is wanted", "write it like 62 kg")], "a title:")

def deaf(seconds, path):
    # It looks whether it is wanted only at its end, and talks all the while.
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        jobs.tell(0.1, "the old work")
        time.sleep(0.005)
    with open(path, "w") as out:
        out.write(f"{jobs.stopped()}")

def end():
    os._exit(3)
"""


def ran(work: Callable[[], Awaitable[T]]) -> T:
    """Run work in a loop of its own; another may run in this thread."""

    async def in_time() -> T:
        return await asyncio.wait_for(work(), LONG)

    with ThreadPoolExecutor(1) as thread:
        return thread.submit(lambda: asyncio.run(in_time())).result()


@pytest.fixture(scope="module")
def work(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    folder = tmp_path_factory.mktemp("work")
    folder.joinpath("work_for_jobs.py").write_text(WORK, encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(str(folder))
        yield importlib.import_module("work_for_jobs")


@pytest.fixture(scope="module")
def shared(work: Any) -> Iterator[Worker]:
    made = Worker("The trial work")
    yield made
    made.close()


def is_alive(pid: int) -> bool:
    try:
        return Path(f"/proc/{pid}/stat").read_text(encoding="utf-8").rsplit(")", 1)[1].split()[0] != "Z"
    except OSError:
        return False


def ended(pid: int) -> bool:
    until = time.monotonic() + LONG
    while is_alive(pid) and time.monotonic() < until:
        time.sleep(0.01)
    return not is_alive(pid)


linux = pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="looks into /proc")


def test_one_process_answers_one_question_after_the_other(shared: Worker) -> None:
    async def asked() -> tuple[list[float], set[int]]:
        roots = await asyncio.gather(*(shared.run(math.sqrt, number) for number in (4.0, 9.0, 16.0)))
        return roots, {await shared.run(os.getpid) for _ in range(2)}

    roots, pids = ran(asked)
    assert roots == [2.0, 3.0, 4.0]
    assert len(pids) == 1
    assert os.getpid() not in pids
    assert not shared.busy


def test_what_it_raises_comes_back(shared: Worker, work: Any) -> None:
    with pytest.raises(ZeroDivisionError):
        ran(lambda: shared.run(operator.truediv, 1, 0))
    with pytest.raises(ProjectFault) as raised:
        ran(lambda: shared.run(work.faulty))
    assert raised.value.faults == (Fault("[shell] mass", "heavy", "a weight is wanted", "write it like 62 kg"),)
    assert str(raised.value).startswith("a title:")
    assert ran(lambda: shared.run(math.sqrt, 4.0)) == 2.0


def test_it_tells_how_far_it_is_and_can_be_stopped(shared: Worker, work: Any) -> None:
    heard: list[tuple[float, str]] = []

    async def followed() -> str:
        def hear(share: float, text: str) -> None:
            heard.append((share, text))
            at_work.append(shared.busy and threading.get_ident() == here)
            if share == 0.5:
                shared.stop()

        here = threading.get_ident()
        return await shared.follow(hear, work.told)

    at_work: list[bool] = []
    assert ran(followed) == "best so far"
    assert at_work == [True, True, True]
    # The first call says that its turn has come.
    assert heard == [(0.0, ""), (0.25, "a quarter"), (0.5, "half")]
    # The next work is not stopped, and nobody hears of it who does not ask.
    assert ran(lambda: shared.run(jobs.stopped)) is False
    assert ran(lambda: shared.run(jobs.tell, 0.75, "unheard")) is None
    assert len(heard) == 3


def test_who_no_longer_waits_stops_it(shared: Worker, work: Any) -> None:
    async def given_up() -> float:
        task = asyncio.ensure_future(shared.follow(lambda share, text: told.set(), work.told))
        told = asyncio.Event()
        await told.wait()
        task.cancel()
        with pytest.raises(asyncio.CancelledError):
            await task
        await asyncio.sleep(0.2)
        started = time.monotonic()
        assert await shared.run(math.sqrt, 4.0) == 2.0
        return time.monotonic() - started

    assert ran(given_up) < 30


def test_work_that_was_given_up_stays_given_up_when_the_next_is_asked_for(work: Any, tmp_path: Path) -> None:
    """The old work sees that it is not wanted, the new one does not; the new one hears nothing of the old one."""
    worker = Worker("The trial work")
    heard: list[str] = []

    async def asked() -> str:
        begun = asyncio.Event()
        old = asyncio.ensure_future(worker.follow(lambda *_: begun.set(), work.deaf, 0.6, str(tmp_path / "old")))
        await begun.wait()
        await asyncio.sleep(0.1)
        old.cancel()
        with pytest.raises(asyncio.CancelledError):
            await old
        # It is at work still, and says so.
        assert worker.busy

        def hear(share: float, text: str) -> None:
            heard.append(text)
            if text == "half":
                worker.stop()

        return await worker.follow(hear, work.told)

    try:
        assert ran(asked) == "best so far"
    finally:
        worker.close()
    assert (tmp_path / "old").read_text(encoding="utf-8") == "True"
    assert heard == ["", "a quarter", "half"]
    assert not worker.busy


def test_stop_reaches_the_work_whose_turn_has_just_come(shared: Worker, work: Any) -> None:
    async def asked() -> str:
        return await shared.follow(lambda share, text: None if text else shared.stop(), work.told)

    assert ran(asked) == "best so far"


@linux
@pytest.mark.parametrize("when", ["at work", "idle", "by itself"])
def test_a_process_that_died_is_one_sentence_and_is_replaced(work: Any, when: str) -> None:
    worker = Worker("The trial work")
    try:
        pid = ran(lambda: worker.run(os.getpid))

        async def at_work() -> Any:
            task = asyncio.ensure_future(worker.run(time.sleep, 300))
            await asyncio.sleep(0.2)
            os.kill(pid, signal.SIGKILL)
            return await task

        if when == "idle":
            os.kill(pid, signal.SIGKILL)
            assert ended(pid)
        with pytest.raises(ProjectFault) as raised:
            ran(
                {"at work": at_work, "idle": lambda: worker.run(os.getpid), "by itself": lambda: worker.run(work.end)}[
                    when
                ]
            )
        (fault,) = raised.value.faults
        assert fault.sentence() == (
            "The trial work is broken off: the process that did it ended; ask again; close other programs."
        )
        assert not worker.busy
        again = ran(lambda: worker.run(os.getpid))
        assert again != pid
    finally:
        worker.close()
    assert ended(again)


@linux
def test_it_is_closed_at_once_and_may_begin_again() -> None:
    worker = Worker("The trial work")
    worker.close()
    worker.stop()
    worker.warm(operator.truediv, 1, 0)

    async def closed() -> int:
        pid = await worker.run(os.getpid)
        task = asyncio.ensure_future(worker.run(time.sleep, 300))
        await asyncio.sleep(0.1)
        worker.close()
        with pytest.raises(ProjectFault, match="broken off"):
            await task
        return pid

    pid = ran(closed)
    assert ended(pid)
    try:
        assert ran(lambda: worker.run(math.sqrt, 9.0)) == 3.0
    finally:
        worker.close()
        worker.close()
