"""The desk: the one project that is open, what is known of it, and who is to be told when it changes."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import Callable, Coroutine, Mapping
from itertools import count
from pathlib import Path
from typing import Any, ParamSpec, TypeVar

from loftwright.answers.board_hold import BoardHold, board_hold
from loftwright.answers.board_home import BoardHome, board_home
from loftwright.answers.board_parts import BoardParts, board_parts
from loftwright.answers.board_plan import BoardPlan, board_plan
from loftwright.answers.board_riding import BoardRiding, board_riding
from loftwright.answers.board_walls import BoardWalls, board_walls
from loftwright.answers.decisions import PARTS, PLAN, RIDING
from loftwright.answers.own_names import own_names
from loftwright.board.jobs import BrokenOff, Worker
from loftwright.board.judging import Judging
from loftwright.board.mistakes import mistake
from loftwright.core.choices import Spelling
from loftwright.core.errors import Fault, LoftwrightError, ProjectFault
from loftwright.core.spelling import own_words
from loftwright.project.history import Elsewhere, History
from loftwright.project.model import Project
from loftwright.project.typed import Value
from loftwright.project.written import written

STRENGTH_RESTS = 1.5
"""Seconds for which the project is left alone before fit and strength are judged that nobody looks at."""
WALLS_REST = 3.0
"""Seconds for which the project is left alone before the cloth walls are judged that nobody looks at."""
FIT_OUT_RESTS = 4.0
"""Seconds for which the project is left alone before fit-out, parts and plan are judged that nobody looks at."""
LOOK_EVERY = 1.0
"""Seconds between two looks at the file on the disk while somebody looks at the page."""
CATALOGUE = "choice.catalogue"
"""The only value of a project file that names another file."""

Listener = Callable[[], None]
BoardOther = BoardRiding | BoardParts | BoardPlan
"""What is judged of the fit-out, the parts and the plan: each of one page."""
P = ParamSpec("P")
T = TypeVar("T")


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
        self.strength = Worker("The judgement of strength")
        self.kept: dict[str, Any] = {}
        """What pages keep for all tabs: results of long work, by the page's own names."""
        self.pages: dict[str, int] = {}
        """When something was new that one page alone shows, by its path; the numbers are those of versions."""
        self._listeners: set[Listener] = set()
        self._watching: asyncio.Task[Any] | None = None
        self._homes = Judging(self.start, lambda: self.verdicts, board_home, lambda: self.project)
        self._holds = Judging(
            self.start, lambda: self.strength, board_hold, lambda: self.project, lambda: STRENGTH_RESTS
        )
        # By the process that judges strength, each in its turn: there are two, beside the one for long work.
        self._walls = Judging(
            self.start,
            lambda: self.strength,
            board_walls,
            lambda: self.project,
            lambda: WALLS_REST,
            self._file,
        )
        # Parts and plan need also where the file is: the slow answers on the walls are kept beside it.
        self._others: dict[str, Judging[Any]] = {
            path: Judging(self.start, lambda: self.strength, work, lambda: self.project, lambda: FIT_OUT_RESTS, more)
            for path, work, more in (
                (RIDING, board_riding, tuple),
                (PARTS, board_parts, self._file),
                (PLAN, board_plan, self._file),
            )
        }
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

    @property
    def tabs(self) -> int:
        """How many listen."""
        return len(self._listeners)

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
        self.strength.close()

    # --- the open project ----------------------------------------------------------------------------

    @property
    def open(self) -> History:
        """The open project. Errors: ProjectFault when none is open."""
        if self.history is None:
            raise ProjectFault([Fault("The project", "not open", "no file is open yet", "open or make one first")])
        return self.history

    def _file(self) -> tuple[Path]:
        return (self.open.path,)

    @property
    def project(self) -> Project:
        """The open project's model. Errors: ProjectFault when none is open."""
        return self.open.project

    def spelling(self) -> tuple[Spelling, tuple[str, ...]]:
        """Return how words are spelled, and the builder's own names, which stay as they are."""
        if self.history is None or self.history.project.settings.words == "kerb":
            return "kerb", ()
        return self.history.project.settings.words, (
            *own_names(self.history.project),
            *own_words([self.history.path.name, self.folder.name]),
        )

    def take(self, path: Path) -> None:
        """Open another project of the folder. Errors: ProjectFault."""
        history = History.open(self.inside(path))
        self._keep_inside(history.project.choice.catalogue)
        self.history = history
        self._fresh()

    def holds(self, path: Path) -> bool:
        """Whether a path leads to a place in the project's folder, also where it is a link."""
        with contextlib.suppress(OSError, ValueError, RuntimeError):
            return self.folder.joinpath(path).resolve().parent == self.folder
        return False

    def inside(self, path: Path) -> Path:
        """Return the path when it lies in the project's folder. Errors: ProjectFault."""
        if not self.holds(path):
            raise ProjectFault(
                [Fault("The file", f'"{path}"', "only files of this folder are opened", "name one of it")]
            )
        return self.folder.joinpath(path).resolve()

    def _keep_inside(self, catalogue: object) -> None:
        """Refuse a list of springs outside the folder, which a page would then read. Errors: ProjectFault.

        One that stands in the open project already is left: it was written on this computer, not in a page.
        """
        if not isinstance(catalogue, str):
            return
        if self.history is not None and self.history.project.choice.catalogue == catalogue:
            return
        with contextlib.suppress(OSError, ValueError, RuntimeError):
            if self.folder.joinpath(Path(catalogue).expanduser()).resolve().is_relative_to(self.folder):
                return
        do = "copy it into the project's folder and write its name"
        raise ProjectFault(
            [Fault("[choice] catalogue", f'"{catalogue[:60]}"', "only files of this folder are opened here", do)]
        )

    # Changes wait for the disk in the loop of the server, some hundredths of a second: so no two of them cross, and
    # nobody is shown what is not yet written.

    def change(self, changes: Mapping[str, Value | None], what: str, *, join: str = "") -> None:
        """Write changes into the file at once. Errors: ProjectFault; nothing is changed then."""
        self._keep_inside(changes.get(CATALOGUE))
        self.open.change(changes, what, join=join)
        self._fresh()

    def replace(self, text: str, what: str) -> None:
        """Put another whole text in the file's place, as one change. Errors: ProjectFault."""
        history = self.open
        # What does not read is refused by the history, in its words.
        with contextlib.suppress(ValueError):
            self._keep_inside(written(text).at(CATALOGUE))
        history.replace(text, what)
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

    def take_theirs(self, seen: str | None = None) -> None:
        """Take the file as another program left it, with `seen` only that version. Errors: ProjectFault."""
        self.open.take_theirs(seen)
        self._fresh()

    def keep_mine(self, seen: str | None = None) -> None:
        """Write the project as it is here over what another program left, with `seen` only over that version.

        Errors: ProjectFault.
        """
        self.open.keep_mine(seen)
        self._fresh()

    def _fresh(self) -> None:
        self.elsewhere = None
        self._homes.drop()
        self._holds.drop()
        self._walls.drop()
        for judging in self._others.values():
            judging.drop()
        self.changed()

    async def _watch(self) -> None:
        """Look at the disk now and then, as long as somebody listens."""
        last = ""
        while self._listeners:
            await asyncio.sleep(LOOK_EVERY)
            try:
                found = self.history.elsewhere() if self.history is not None else None
                if found != self.elsewhere:
                    self.elsewhere = found
                    self.changed()
            except Exception as error:
                # Said once, not every second.
                if repr(error) != last:
                    last = repr(error)
                    mistake(error)

    # --- what is known of it -------------------------------------------------------------------------

    async def home(self, *, wait: float | None = None) -> BoardHome | None:
        """Return all that is judged of how the open project moves; None when it takes longer than `wait` seconds.

        Errors: as those of `Judging.found`.
        """
        return await self._homes.found(wait=wait)

    async def hold(self, *, wait: float | None = None, at_once: bool = False) -> BoardHold | None:
        """Return all that is judged of whether it sits and holds; None when it takes longer than `wait` seconds.

        It is judged once the project rests, or `at_once` for who looks at it. Errors: as those of `Judging.found`.
        """
        return await self._holds.found(wait=wait, at_once=at_once)

    async def walls(self, *, wait: float | None = None, at_once: bool = False) -> BoardWalls | None:
        """Return all that is judged of the cloth walls; None when it takes longer than `wait` seconds.

        They are judged once the project rests, or `at_once` for who looks at them. Errors: as those of `Judging.found`.
        """
        return await self._walls.found(wait=wait, at_once=at_once)

    async def other(self, path: str, *, wait: float | None = None, at_once: bool = False) -> BoardOther | None:
        """Return all that is judged on the page of fit-out, parts or plan; None when it takes over `wait` seconds.

        It is judged once the project rests, or `at_once` for who looks at it. Errors: as those of `Judging.found`.
        """
        found: BoardOther | None = await self._others[path].found(wait=wait, at_once=at_once)
        return found

    def later_judgements(self) -> tuple[Coroutine[Any, Any, object], ...]:
        """Return what is to be waited for beside how it moves: strength, walls, fit-out, parts, plan."""
        return (self.hold(), self.walls(), *(self.other(path) for path in self._others))

    def walls_again(self) -> None:
        """Judge the walls anew, and what hangs on them: what is kept beside the file has changed."""
        self._walls.drop()
        for path in (PARTS, PLAN):
            self._others[path].drop()
        self.changed()

    async def judge(self, work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """Return what the process for judgements answers, asked once more where it died. Errors: BrokenOff."""
        try:
            return await self.verdicts.run(work, *args, **kwargs)
        except BrokenOff:
            return await self.verdicts.run(work, *args, **kwargs)

    async def try_home(self, project: Project) -> BoardHome | None:
        """Return all that is judged of a project that is only tried; None when it cannot be judged.

        It waits for its turn: who no longer wants it cancels it.
        """
        with contextlib.suppress(LoftwrightError):
            return await self.verdicts.run(board_home, project)
        return None
