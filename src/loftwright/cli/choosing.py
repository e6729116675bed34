"""The commands that choose springs: choose, and springs for the list that comes along."""

from __future__ import annotations

import contextlib
import signal
import sys
import threading
from collections.abc import Iterator
from pathlib import Path
from types import FrameType
from typing import TYPE_CHECKING, Annotated

import typer

from loftwright.cli import talk
from loftwright.cli.options import Demo, FileToRead, Json, project_of
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.writing import fit_to_write, write_all

if TYPE_CHECKING:
    from concurrent.futures import Executor

    from loftwright.project.model import Project
    from loftwright.project.stock import Listed

WIDE = 60
"""Width of the line that says how far the work is."""


def add_to(app: typer.Typer) -> None:
    """Add these commands to the program."""
    app.command(epilog=CHOOSE_EXAMPLES)(choose)
    app.command(epilog=SPRINGS_EXAMPLES)(springs)


CHOOSE_EXAMPLES = """\b
Examples:
  loftwright choose my-roof.toml
  loftwright choose my-roof.toml --springs supplier.csv --write
  loftwright choose my-roof.toml --at-hand
  loftwright choose --demo fennimoor --brief

Where brackets may sit stands in the file as [[zone]], springs at hand as [[at_hand]].
Ctrl-C stops the search and shows the best so far."""


def choose(
    file: FileToRead = None,
    demo: Demo = None,
    at_hand: Annotated[
        bool, typer.Option("--at-hand", help="Only the springs of [[at_hand]]: where to mount them.")
    ] = False,
    springs: Annotated[
        Path | None,
        typer.Option(metavar="CSV", help="A list of springs, such as your supplier's.", show_default=False),
    ] = None,
    draws: Annotated[
        int, typer.Option(min=100, max=5000, metavar="N", help="How many roofs like yours to try on.")
    ] = 400,
    workers: Annotated[int, typer.Option(min=1, max=64, metavar="N", help="How many processors search at once.")] = 1,
    as_json: Json = False,
    brief: Annotated[bool, typer.Option("--brief", help="Leave other choices and assumptions out.")] = False,
    write: Annotated[bool, typer.Option("--write", help="Write the chosen springs and holes into the file.")] = False,
) -> None:
    """Choose springs and bracket holes: odds that the roof meets everything, and what to measure first.

    Also a row of holes and a card that leads from hole to hole, and forces to order together. Where nothing works:
    what is in the way, and changes that were tried before they are said.
    """
    project = project_of(file, demo)
    if write and file is None:
        raise ProjectFault([Fault("--write", "asked for with a demo", "a demo is not changed", "name a file of yours")])
    if at_hand and springs is not None:
        raise ProjectFault([Fault("--springs", "beside --at-hand", "one list is searched", "leave one of them out")])
    from loftwright.answers import choice_view
    from loftwright.answers.choose import choose as chosen_for
    from loftwright.answers.choose_search import Work
    from loftwright.answers.hole_words import hand_of
    from loftwright.project.file import stamp

    mark = None if file is None else stamp(file)
    listed = list_for(project, file, springs)
    with progress() as tell, stoppable() as stopped, _pool(workers) as executor:
        found = chosen_for(
            project,
            listed,
            at_hand=at_hand,
            draws=draws,
            hand=hand_of(project.settings.units),
            work=Work(executor, tell, stopped.is_set),
        )
    if as_json:
        from loftwright.answers import numbers
        from loftwright.answers.choice_numbers import choice_numbers

        talk.answer(numbers.as_json(choice_numbers(found)))
    else:
        from loftwright.documents.choice_text import choice_text

        talk.answer(choice_text(choice_view.choice_page(found), talk.look(), brief=brief))
    if stopped.is_set():
        talk.note("Stopped: this is the best so far." + (" Nothing was written." if write else ""))
        raise KeyboardInterrupt
    if write and file is not None:
        from loftwright.answers.choice_written import as_changes
        from loftwright.project.file import edit

        edit(file, as_changes(found), stamp=mark)
        talk.note(f"Written: {file}")


def list_for(project: Project, file: Path | None, springs: Path | None) -> Listed:
    """Return the list to choose from: the one named, else the project's own, else the one that comes along."""
    from loftwright.project.possible_choice import catalogue_path
    from loftwright.project.spring_list import read_springs

    if springs is not None:
        return read_springs(springs)
    return read_springs(None if file is None else catalogue_path(project, file.parent))


class _Told:
    """Says on one line how far the work is."""

    def __init__(self) -> None:
        from loftwright.core.wording import Wording

        self._say = Wording()

    def __call__(self, share: float, text: str) -> None:
        line = f"{self._say.percent(share)} {text}"
        sys.stderr.write(f"\r{line:<{WIDE}}")
        sys.stderr.flush()


@contextlib.contextmanager
def progress() -> Iterator[_Told | None]:
    """Yield what says how far the work is: only where somebody sits at a terminal."""
    if sys.stderr is None or not sys.stderr.isatty():
        yield None
        return
    with contextlib.ExitStack() as stack:
        stack.callback(sys.stderr.write, f"\r{'':<{WIDE}}\r")
        yield _Told()


@contextlib.contextmanager
def stoppable() -> Iterator[threading.Event]:
    """Yield a flag that the first Ctrl-C raises; the second one ends the program."""
    flag = threading.Event()

    def stop(number: int, frame: FrameType | None) -> None:
        if flag.is_set():
            raise KeyboardInterrupt
        flag.set()

    try:
        before = signal.signal(signal.SIGINT, stop)
    except ValueError:
        # Not the main thread: somebody else looks after the keyboard.
        yield flag
        return
    try:
        yield flag
    finally:
        signal.signal(signal.SIGINT, before)


@contextlib.contextmanager
def _pool(workers: int) -> Iterator[Executor | None]:
    """Yield so many processes, or nothing where one is enough; they leave the keyboard to this one."""
    if workers == 1:
        yield None
        return
    from concurrent.futures import ProcessPoolExecutor

    with ProcessPoolExecutor(workers, initializer=signal.signal, initargs=(signal.SIGINT, signal.SIG_IGN)) as pool:
        yield pool


SPRINGS_EXAMPLES = """\b
Examples:
  loftwright springs
  loftwright springs --write springs.csv"""


def springs(
    write: Annotated[
        Path | None, typer.Option("--write", metavar="PATH", help="Write it to a file.", show_default=False)
    ] = None,
) -> None:
    """Print the invented list of gas springs that comes along, as CSV to be edited.

    Put your supplier's springs in its place and name it in the project file: [choice] catalogue.
    """
    from loftwright.project.spring_list import own_list

    if write is None:
        talk.answer(own_list())
        return
    fit_to_write((write,))
    if write.exists():
        raise ProjectFault([Fault(str(write), "there already", "nothing was written over", "choose another name")])
    write_all({write: own_list().encode("utf-8")})
    talk.note(f"Written: {write}")
