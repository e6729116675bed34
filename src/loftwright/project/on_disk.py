"""What lies on disk in the place of a project file that is kept open: read, judged and told apart from ours."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from loftwright.core.errors import Fault, ProjectFault
from loftwright.project.differences import Elsewhere, elsewhere_changed
from loftwright.project.file import bytes_of, judged_beside
from loftwright.project.model import Project
from loftwright.project.text import MOST_BYTES, content_stamp, decoded, tables_of

MARK = b"\xef\xbb\xbf"
"""Byte order mark, which some editors put at the start of a file; it stays there."""

Signs = tuple[int, int, int, int]
"""What tells cheaply that a file may have changed: time of the last write in ns, size, number and disk of the file."""


@dataclass(frozen=True, slots=True)
class State:
    """One accepted version of the file."""

    data: bytes
    text: str
    tables: dict[str, Any]
    project: Project


@dataclass(frozen=True, slots=True)
class Theirs:
    """What lies on disk in place of our version: its bytes and state as far as they can be had, and the faults."""

    gone: bool = False
    data: bytes | None = None
    state: State | None = None
    faults: tuple[Fault, ...] = ()

    @property
    def stamp(self) -> str:
        """A mark of the content on disk, empty where there is none that can be read."""
        return "" if self.data is None else content_stamp(self.data)

    def said(self, name: str, ours: State) -> Elsewhere:
        """Return what is said of it to the builder, who has `ours`."""
        if self.gone:
            return Elsewhere("gone", f"{name} is no longer there: it was deleted or moved.")
        if self.state is not None:
            return elsewhere_changed(name, ours.tables, self.state.tables, self.stamp)
        faults = tuple(fault.sentence() for fault in self.faults)
        said = f"{name} was changed in another program and cannot be used as it stands."
        return Elsewhere("unreadable", said, faults, stamp=self.stamp)


def state_of(path: Path, data: bytes) -> State:
    """Return the state that bytes are, as the file at `path`. Errors: ProjectFault."""
    text = decoded(data, path.name)
    tables = tables_of(text, path.name)
    return State(data, text, tables, judged_beside(path, tables))


def encoded(text: str, name: str) -> bytes:
    """Return a text as the bytes of a file. Errors: ProjectFault where it is no text or too long."""
    try:
        data = text.encode("utf-8")
    except UnicodeEncodeError:
        fault = Fault(name, "not text in UTF-8", "half a character stands in it", "type it anew")
        raise ProjectFault([fault]) from None
    if len(data) > MOST_BYTES:
        fault = Fault(name, "larger than 1 MB", "a project file is a short text", "take out what is not needed")
        raise ProjectFault([fault])
    return data


def signs_in(found: os.stat_result) -> Signs:
    """Return the signs in what the system says of a file."""
    return found.st_mtime_ns, found.st_size, found.st_ino, found.st_dev


def signs_of(path: Path) -> Signs | None:
    """Return the signs of a file, None where it cannot be looked at."""
    try:
        return signs_in(path.stat())
    except OSError:
        return None


def look(path: Path, ours: State) -> Theirs | None:
    """Return what lies at `path` in place of `ours`, None where that is the file there."""
    try:
        data = bytes_of(path)
    except ProjectFault as error:
        return Theirs(gone=not os.path.lexists(path), faults=error.faults)
    if data == ours.data:
        return None
    try:
        return Theirs(data=data, state=state_of(path, data))
    except ProjectFault as error:
        return Theirs(data=data, faults=error.faults)


def not_ours(path: Path, what: str) -> ProjectFault:
    """Return the fault of a file that is another one by now; `what` says what was not done."""
    do = "take the file as it is now, or keep this version"
    return ProjectFault([Fault(path.name, "not as it was read", what, do)])


def is_gone(path: Path, what: str) -> ProjectFault:
    """Return the fault of a file that is gone; `what` says what was not done."""
    do = "put it back, or keep this version, which writes it again"
    return ProjectFault([Fault(path.name, "no longer there", f"it was deleted or moved and {what}", do)])
