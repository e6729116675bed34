"""What a process of its own answers of the open project: asked once for each state of it, kept as long as it stands."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import Callable, Coroutine
from typing import Any, Generic, TypeVar

from loftwright.board.jobs import BrokenOff, Worker
from loftwright.core.errors import LoftwrightError
from loftwright.project.model import Project

FAILED_FOR = 3.0
"""Seconds for which a judgement that broke off is not asked for again."""

T = TypeVar("T")
Start = Callable[[Coroutine[Any, Any, Any]], "asyncio.Task[Any]"]


class Judging(Generic[T]):
    """The newest answer of `work` on the open project, by a worker's process; `start` begins work in the background.

    `more` is what `work` is given beside the project, asked for when its turn comes. It begins `rests()` seconds after
    it was first asked for, so that quick changes are not each judged, or at once where somebody looks at it.
    """

    def __init__(
        self,
        start: Start,
        worker: Callable[[], Worker],
        work: Callable[..., T],
        project: Callable[[], Project],
        rests: Callable[[], float] = lambda: 0.0,
        more: Callable[[], tuple[Any, ...]] = tuple,
    ) -> None:
        self._start, self._worker, self._work, self._project = start, worker, work, project
        self._rests, self._more = rests, more
        self._tasks: dict[int, asyncio.Task[T]] = {}
        self._looked: dict[int, asyncio.Event] = {}

    async def found(self, *, wait: float | None = None, at_once: bool = False) -> T | None:
        """Return what is answered of the open project; None when it takes longer than `wait` seconds.

        Errors: ProjectFault or CannotAssemble when the roof cannot be built at all; BrokenOff when the process that
        judges died twice, and is tried again when somebody asks a little later.
        """
        key = id(project := self._project())
        task = self._tasks.get(key)
        if task is None:
            looked = self._looked[key] = asyncio.Event()
            task = self._start(self._ask(project, looked))
            task.add_done_callback(lambda done: self._forget(key, done))
            self._tasks[key] = task
        if at_once:
            self._looked[key].set()
        try:
            if wait is None:
                return await asyncio.shield(task)
            with contextlib.suppress(asyncio.TimeoutError):
                return await asyncio.wait_for(asyncio.shield(task), wait)
        except asyncio.CancelledError:
            # A change took the judgement away from who waited for it: that of the roof as it is now is wanted.
            if not task.cancelled() or self._tasks.get(key) is task:
                raise
            return await self.found(wait=wait, at_once=at_once)
        return None

    def drop(self) -> None:
        """Forget all answers: the project is another one."""
        for task in self._tasks.values():
            task.cancel()
        self._tasks.clear()
        self._looked.clear()

    async def _ask(self, project: Project, looked: asyncio.Event) -> T:
        """Return what the process answers, asked once more where it died. Errors: BrokenOff."""
        if rests := self._rests():
            with contextlib.suppress(asyncio.TimeoutError):
                await asyncio.wait_for(looked.wait(), rests)
        try:
            return await self._worker().run(self._work, project, *self._more())
        except BrokenOff:
            return await self._worker().run(self._work, project, *self._more())

    def _forget(self, key: int, task: asyncio.Task[T]) -> None:
        """Keep an answer, and what is wrong with the roof; any other failure only for a while."""
        error = None if task.cancelled() else task.exception()
        if error is None or (isinstance(error, LoftwrightError) and not isinstance(error, BrokenOff)):
            return

        def forget() -> None:
            if self._tasks.get(key) is task:
                del self._tasks[key]

        asyncio.get_running_loop().call_later(FAILED_FOR, forget)
