"""Which other designs can be put beside the open one: files of its folder, and versions that are remembered."""

from __future__ import annotations

import contextlib
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from loftwright.answers.new_name import SUFFIX, file_name
from loftwright.core.errors import Fault, ProjectFault
from loftwright.project.file import bytes_of, edited, folder_projects, loads_beside, write_new
from loftwright.project.history import History
from loftwright.project.model import Project
from loftwright.project.text import content_stamp, decoded

FILE, STEP = "file:", "step:"
MOST_STEPS: Final = 30
"""So many earlier versions are offered, the newest first."""


@dataclass(frozen=True, slots=True)
class Choice:
    """Another design that can be put beside: its key in addresses, and what it is called."""

    key: str
    words: str


@dataclass(frozen=True, slots=True)
class Other:
    """Another design: what it is called, a mark of its content, its text and its project."""

    key: str
    words: str
    stamp: str
    text: str
    project: Project

    @property
    def source(self) -> str:
        """What it is called where something was taken from it."""
        return self.words if self.key.startswith(FILE) else "an earlier version"


def choices(history: History, folder: Path) -> tuple[tuple[Choice, ...], tuple[Choice, ...]]:
    """Return the files of the folder and the remembered versions that can be put beside the open project."""
    files = (path for path in folder_projects(folder) if _lies_in(folder, path) and path.resolve() != history.path)
    steps = history.versions()
    shown = [*steps[:MOST_STEPS], *(step for step in steps[MOST_STEPS:] if not step.before)]
    return (
        tuple(Choice(f"{FILE}{path.name}", path.name) for path in files),
        tuple(Choice(f"{STEP}{step.stamp}", _before(step.before)) for step in shown),
    )


def _before(what: str) -> str:
    return f"as it was before: {what}" if what else "as it was opened"


def other_design(history: History, folder: Path, key: str) -> Other:
    """Return the design that is meant by a key. Errors: ProjectFault where it is no longer there or cannot be used."""
    if key.startswith(STEP):
        step = next((step for step in history.versions() if step.stamp == key.removeprefix(STEP)), None)
        if step is not None:
            project = loads_beside(history.path, step.text)
            return Other(key, _before(step.before), step.stamp, step.text, project)
        if key == f"{STEP}{history.stamp}":
            return Other(key, "the roof as it is", history.stamp, history.text, history.project)
    elif key.startswith(FILE):
        path = folder.joinpath(key.removeprefix(FILE))
        if path.name == key.removeprefix(FILE) and _lies_in(folder, path):
            data = bytes_of(path)
            text = decoded(data, path.name)
            return Other(key, path.name, content_stamp(data), text, loads_beside(path, text))
    raise ProjectFault([Fault("The other design", "not there any more", "it cannot be shown", "choose another one")])


def _lies_in(folder: Path, path: Path) -> bool:
    """Whether a path leads to a place in a folder, also where it is a link; no name that no disk can hold does."""
    with contextlib.suppress(OSError, ValueError, RuntimeError):
        return path.resolve().parent == folder.resolve()
    return False


def whole_text(history: History, other: Other) -> str:
    """Return the text of another design, to take the place of the open one, which keeps its name."""
    return edited(other.text, {"name": history.project.name})


def kept_copy(history: History, folder: Path, name: str) -> Path:
    """Write the open project under another name into the folder, never over a file that is there; return its path.

    Errors: ProjectFault.
    """
    target = folder / file_name(name)
    try:
        write_new(target, edited(history.text, {"name": name.strip().removesuffix(SUFFIX)}))
    except OSError as error:
        given = f"not written ({error.strerror or 'the disk refuses it'})"
        raise ProjectFault([Fault(target.name, given, "the folder must be writable", "make room in it")]) from None
    return target
