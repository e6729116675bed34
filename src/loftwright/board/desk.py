"""The desk: the one project that is open, what is known of it, and who is to be told when it changes."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import Callable, Coroutine, Mapping
from itertools import count
from pathlib import Path
from typing import Any

from loftwright.answers.board_home import BoardHome, board_home
from loftwright.answers.own_names import own_names
from loftwright.board.jobs import Worker
from loftwright.core.choices import Spelling
from loftwright.core.errors import Fault, LoftwrightError, ProjectFault
from loftwright.project.history import Elsewhere, History
from loftwright.project.model import Project
from loftwright.project.typed import Value

LOOK_EVERY = 1.0
"""Seconds between two looks at the file on the disk while somebody looks at the page."""

Listener = Callable[[], None]


class Desk:
    """The state that all tabs share. One project is open, or none; it is replaced whole with each change.

    `version` rises with every change of anything that a page shows. Raises ProjectFault when `file` cannot be read.
    """

    def __init__(self, folder: Path, file: Path | None = None) -> None:
        self.folder = folder.resolve()
        self.wanted = file if file is not None and not file.exists() else None
        self.history: History | None = None
        self._numbers = count(1)
        self.version = next(self._numbers)
        self.elsewhere: Elsewhere | None = None
        self.verdicts = Worker("The judgement")
        self.long = Worker("The long work")
        self.kept: dict[str, Any] = {}
        """What pages keep for all tabs: results of long work, by the page's own names."""
        self.pages: dict[str, int] = {}
        """When something was new that one page alone shows, by its path; the numbers are those of versions."""
        self._listeners: set[Listener] = set()
        self._watching: asyncio.Task[Any] | None = None
        self._homes: dict[int, asyncio.Task[BoardHome]] = {}
        self._tasks: set[asyncio.Task[Any]] = set()
        if file is not None and file.exists():
            self.history = History.open(file)
            self.verdicts.warm(board_home, self.history.project)

    # --- who listens ---------------------------------------------------------------------------------

    def listen(self, listener: Listener) -> Callable[[], None]:
        """Have `listener` called after each change; returns what ends that."""
        self._listeners.add(listener)
        if self._watching is None or self._watching.done():
            self._watching = self.start(self._watch())
        return lambda: self._listeners.discard(listener)

    def changed(self, page: str = "") -> None:
        """Tell everybody that something which pages show is new; with a path, something that this page alone shows."""
        if page:
            self.pages[page] = next(self._numbers)
        else:
            self.version = next(self._numbers)
        for listener in tuple(self._listeners):
            listener()

    def start(self, work: Coroutine[Any, Any, Any]) -> asyncio.Task[Any]:
        """Start work in the background and keep hold of it."""
        task = asyncio.get_running_loop().create_task(work)
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)
        return task

    def close(self) -> None:
        """End all work."""
        for task in tuple(self._tasks):
            task.cancel()
        self.verdicts.close()
        self.long.close()

    # --- the open project ----------------------------------------------------------------------------

    @property
    def open(self) -> History:
        """The open project. Errors: ProjectFault when none is open."""
        if self.history is None:
            raise ProjectFault([Fault("The project", "not open", "no file is open yet", "open or make one first")])
        return self.history

    @property
    def project(self) -> Project:
        """The open project's model. Errors: ProjectFault when none is open."""
        return self.open.project

    def spelling(self) -> tuple[Spelling, tuple[str, ...]]:
        """Return how words are spelled, and the builder's own names, which stay as they are."""
        if self.history is None or self.history.project.settings.words == "kerb":
            return "kerb", ()
        return self.history.project.settings.words, own_names(self.history.project)

    def take(self, path: Path) -> None:
        """Open another project of the folder. Errors: ProjectFault."""
        self.history = History.open(self.inside(path))
        self._fresh()

    def inside(self, path: Path) -> Path:
        """Return the path when it lies in the project's folder. Errors: ProjectFault."""
        whole: Path | None = None
        with contextlib.suppress(OSError, ValueError):
            whole = self.folder.joinpath(path).resolve()
        if whole is None or whole.parent != self.folder:
            raise ProjectFault(
                [Fault("The file", f'"{path}"', "only files of this folder are opened", "name one of it")]
            )
        return whole

    def change(self, changes: Mapping[str, Value | None], what: str, *, join: str = "") -> None:
        """Write changes into the file at once. Errors: ProjectFault; nothing is changed then."""
        self.open.change(changes, what, join=join)
        self._fresh()

    def replace(self, text: str, what: str) -> None:
        """Put another whole text in the file's place, as one change. Errors: ProjectFault."""
        self.open.replace(text, what)
        self._fresh()

    def remove(self, path: str, what: str) -> None:
        """Take an entry out of the file. Errors: ProjectFault."""
        self.open.remove(path, what)
        self._fresh()

    def undo(self) -> None:
        """Go back before the last change. Errors: ProjectFault."""
        self.open.undo()
        self._fresh()

    def redo(self) -> None:
        """Make the change again that was undone last. Errors: ProjectFault."""
        self.open.redo()
        self._fresh()

    def take_theirs(self) -> None:
        """Take the file as another program left it. Errors: ProjectFault."""
        self.open.take_theirs()
        self._fresh()

    def keep_mine(self) -> None:
        """Write the project as it is here over what another program left. Errors: ProjectFault."""
        self.open.keep_mine()
        self._fresh()

    def _fresh(self) -> None:
        self.elsewhere = None
        for task in self._homes.values():
            task.cancel()
        self._homes.clear()
        self.changed()

    async def _watch(self) -> None:
        """Look at the disk now and then, as long as somebody listens."""
        while self._listeners:
            await asyncio.sleep(LOOK_EVERY)
            found = self.history.elsewhere() if self.history is not None else None
            if found != self.elsewhere:
                self.elsewhere = found
                self.changed()

    # --- what is known of it -------------------------------------------------------------------------

    async def home(self, *, wait: float | None = None) -> BoardHome | None:
        """Return all that is judged of the open project; None when it takes longer than `wait` seconds.

        Errors: ProjectFault or CannotAssemble when the roof cannot be built at all.
        """
        project = self.project
        key = id(project)
        task = self._homes.get(key)
        if task is None:
            task = self.start(self.verdicts.run(board_home, project))
            task.add_done_callback(lambda done: done.cancelled() or done.exception())
            self._homes[key] = task
        try:
            if wait is None:
                return await asyncio.shield(task)
            with contextlib.suppress(asyncio.TimeoutError):
                return await asyncio.wait_for(asyncio.shield(task), wait)
        except asyncio.CancelledError:
            # A change took the judgement away from who waited for it: that of the roof as it is now is wanted.
            if not task.cancelled() or self._homes.get(key) is task:
                raise
            return await self.home(wait=wait)
        return None

    async def try_home(self, project: Project) -> BoardHome | None:
        """Return all that is judged of a project that is only tried; None when the process is busy or it fails."""
        if self.verdicts.busy:
            return None
        with contextlib.suppress(LoftwrightError):
            return await self.verdicts.run(board_home, project)
        return None
