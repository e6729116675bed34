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
from typing import Any, ParamSpec, TypeVar

from loftwright.core.errors import Fault, ProjectFault

P = ParamSpec("P")
T = TypeVar("T")
Tell = Callable[[float, str], None]

_told: Any = None
_stop: Any = None


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


def tell(share: float, text: str) -> None:
    """Say in a process of ours how far its work is: `share` done [1] and what is being done."""
    if _told is not None:
        _told.put((share, text))


def stopped() -> bool:
    """Return in a process of ours whether its work is no longer wanted."""
    return _stop is not None and bool(_stop.is_set())


class Worker:
    """One process that answers one question after the other; a process that died is replaced."""

    def __init__(self, name: str) -> None:
        self._name = name
        self._pool: ProcessPoolExecutor | None = None
        self._stop: Any = None
        self._told: Any = None
        self._reader: threading.Thread | None = None
        self._hear: Tell | None = None
        self._loop: asyncio.AbstractEventLoop | None = None
        self._turn = asyncio.Lock()

    @property
    def busy(self) -> bool:
        """Whether it is at work."""
        return self._turn.locked()

    def warm(self, work: Callable[P, object], *args: P.args, **kwargs: P.kwargs) -> None:
        """Start the process on work whose result nobody waits for, so that the next question is quick."""
        future = self._started().submit(work, *args, **kwargs)
        future.add_done_callback(_forget)

    async def run(self, work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """Return what `work` returns, or raise what it raises. Errors: ProjectFault when the process died."""
        async with self._turn:
            return await self._ask(work, *args, **kwargs)

    async def follow(self, hear: Tell, work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """Return what `work` returns; `hear` is called in this loop with what it tells of its progress."""
        async with self._turn:
            self._hear, self._loop = hear, asyncio.get_running_loop()
            try:
                return await self._ask(work, *args, **kwargs)
            finally:
                self._hear = None

    async def _ask(self, work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        pool = self._started()
        self._stop.clear()
        try:
            return await asyncio.wrap_future(pool.submit(work, *args, **kwargs))
        except BrokenProcessPool:
            self.close()
            raise ProjectFault(
                [Fault(self._name, "broken off", "the process that did it ended", "ask again; close other programs")]
            ) from None
        except asyncio.CancelledError:
            self._stop.set()
            raise

    def stop(self) -> None:
        """Ask the work under way to end with the best it has."""
        if self._stop is not None:
            self._stop.set()

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
            self._told, self._stop = context.Queue(), context.Event()
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
            hear, loop = self._hear, self._loop
            if hear is not None and loop is not None:
                with contextlib.suppress(RuntimeError):
                    loop.call_soon_threadsafe(hear, *news)


def _forget(future: Future[Any]) -> None:
    if not future.cancelled():
        future.exception()
