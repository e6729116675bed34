"""Heavy work in other processes, so that the page stays alive: one for verdicts, one for long searches.

The processes are started afresh (not forked from a server with threads) and import only what they answer with.
"""

from __future__ import annotations

import asyncio
import contextlib
import multiprocessing
import os
import signal
import threading
from collections.abc import Callable
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from itertools import count
from typing import Any, ParamSpec, TypeVar

from loftwright.core.errors import Fault, ProjectFault

P = ParamSpec("P")
T = TypeVar("T")
Tell = Callable[[float, str], None]

_told: Any = None
_stop: Any = None
_number = 0


class BrokenOff(ProjectFault):
    """The process that did the work ended before it was done, for whatever reason; the work can be asked for again."""

    @classmethod
    def of(cls, name: str) -> BrokenOff:
        """Return it for the work called `name`."""
        return cls([Fault(name, "broken off", "the process that did it ended", "ask again; close other programs")])


def _begin(told: Any, stop: Any) -> None:
    """Prepare a process: the keyboard belongs to the server."""
    global _told, _stop
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()
    _told, _stop = told, stop


def _end_with_parent() -> None:
    """End this process when the server is gone, however it ended."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def _numbered(number: int, work: Callable[..., T], args: tuple[Any, ...], kwargs: dict[str, Any]) -> T:
    """Do a job in a process of ours under its number, by which it is stopped and its progress is told."""
    global _number
    _number = number
    return work(*args, **kwargs)


def tell(share: float, text: str) -> None:
    """Say in a process of ours how far its work is: `share` done [1] and what is being done."""
    if _told is not None:
        _told.put((_number, share, text))


def stopped() -> bool:
    """Return in a process of ours whether its work is no longer wanted."""
    return _stop is not None and bool(_stop.value >= _number)


class Worker:
    """One process that answers one question after the other; a process that died is replaced."""

    def __init__(self, name: str) -> None:
        self._name = name
        self._pool: ProcessPoolExecutor | None = None
        self._stop: Any = None
        """The highest number of a job that is no longer wanted; without a lock, which a killed process would keep."""
        self._told: Any = None
        self._reader: threading.Thread | None = None
        self._hear: Tell | None = None
        self._loop: asyncio.AbstractEventLoop | None = None
        self._numbers = count(1)
        self._number = 0
        """The number of the job whose turn it is, or was last."""
        self._turn = asyncio.Lock()

    @property
    def busy(self) -> bool:
        """Whether it is at work, also on what nobody waits for any more."""
        return self._turn.locked()

    def warm(self, work: Callable[P, object], *args: P.args, **kwargs: P.kwargs) -> None:
        """Start the process on work whose result nobody waits for, so that the next question is quick."""
        future = self._started().submit(_numbered, next(self._numbers), work, args, kwargs)
        future.add_done_callback(_forget)

    async def run(self, work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """Return what `work` returns, or raise what it raises. Errors: BrokenOff when the process died."""
        return await self._ask(None, work, args, kwargs)

    async def follow(self, hear: Tell, work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """Return what `work` returns; `hear` is called in this loop with what it tells of its progress.

        The first call, with no words, says that its turn has come.
        """
        return await self._ask(hear, work, args, kwargs)

    async def _ask(self, hear: Tell | None, work: Callable[..., T], args: tuple[Any, ...], kwargs: dict[str, Any]) -> T:
        await self._turn.acquire()
        loop, number = asyncio.get_running_loop(), next(self._numbers)
        self._number, self._loop, self._hear = number, loop, hear
        pool: ProcessPoolExecutor | None = None
        try:
            pool = self._started()
            future = pool.submit(_numbered, number, work, args, kwargs)
        except BaseException as error:
            self._turn.release()
            if isinstance(error, BrokenProcessPool | OSError):
                raise self._broken(pool) from None
            raise
        # The turn lasts as long as the work, also where nobody waits for it any more.
        future.add_done_callback(lambda _: self._give_turn(loop))
        try:
            if hear is not None:
                hear(0.0, "")
            return await asyncio.wrap_future(future)
        except BrokenProcessPool:
            raise self._broken(pool) from None
        except asyncio.CancelledError:
            self._give_up(number)
            raise
        finally:
            if self._number == number:
                self._hear = None

    def _broken(self, pool: ProcessPoolExecutor | None) -> BrokenOff:
        """End what is left of a process that died, so that another one takes its place."""
        if pool is self._pool:
            self.close()
        return BrokenOff.of(self._name)

    def _give_turn(self, loop: asyncio.AbstractEventLoop) -> None:
        """Let the next question have its turn; called in whichever thread the work ended."""
        try:
            loop.call_soon_threadsafe(self._turn.release)
        except RuntimeError:
            # The loop is closed, and nobody in it waits.
            self._turn = asyncio.Lock()

    def _give_up(self, number: int) -> None:
        if self._stop is not None and self._stop.value < number:
            self._stop.value = number

    def stop(self) -> None:
        """Ask the work under way to end with the best it has."""
        self._give_up(self._number)

    def close(self) -> None:
        """End the process at once."""
        pool, self._pool = self._pool, None
        if pool is None:
            return
        self.stop()
        processes = list((getattr(pool, "_processes", None) or {}).values())
        pool.shutdown(wait=False, cancel_futures=True)
        for process in processes:
            process.kill()
        with contextlib.suppress(OSError, ValueError):
            self._told.put(None)

    def _started(self) -> ProcessPoolExecutor:
        if self._pool is None:
            context = multiprocessing.get_context("spawn")
            self._told, self._stop = context.Queue(), context.RawValue("q", 0)
            # A killed process may have held the queue's lock: what waits for it then must not hold up our own end.
            self._told.cancel_join_thread()
            self._pool = ProcessPoolExecutor(
                1, mp_context=context, initializer=_begin, initargs=(self._told, self._stop)
            )
            self._reader = threading.Thread(target=self._listen, args=(self._told,), daemon=True)
            self._reader.start()
        return self._pool

    def _listen(self, told: Any) -> None:
        """Hand on what the process tells, until it is closed."""
        while True:
            try:
                news = told.get()
            except (EOFError, OSError):
                return
            if news is None:
                return
            loop = self._loop
            if loop is not None:
                with contextlib.suppress(RuntimeError):
                    loop.call_soon_threadsafe(self._heard, *news)

    def _heard(self, number: int, share: float, text: str) -> None:
        """Hand on what a job tells to whoever waits for this one."""
        if self._hear is not None and number == self._number:
            self._hear(share, text)


def _forget(future: Future[Any]) -> None:
    if not future.cancelled():
        future.exception()
