"""Reading, changing and writing a project file.

The file is read whole and every fault is listed. A change keeps comments and order, is judged before
anything is written, and replaces the file in one step with the version before it kept beside it.
"""

from __future__ import annotations

import contextlib
import errno
import os
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.writing import get, put_kept, put_new, read_only
from loftwright.project.changing import Changes, change_title
from loftwright.project.model import Project
from loftwright.project.possible import impossible
from loftwright.project.possible_choice import catalogue_faults
from loftwright.project.reading import fault_title, to_project
from loftwright.project.rewriting import edited as edited
from loftwright.project.text import MOST_BYTES as MOST_BYTES
from loftwright.project.text import content_stamp, decoded, tables_of

PREVIOUS = ".previous"
"""Added to the file's name for the version before the last change."""


def read(path: str | os.PathLike[str]) -> Project:
    """Return the project in a file. Errors: ProjectFault with every fault found."""
    path = Path(path)
    return loads_beside(path, decoded(bytes_of(path), path.name))


def loads_beside(path: Path, text: str) -> Project:
    """Return the project in a text that is, or will be, the file at `path`; what it names must lie there too."""
    return judged_beside(path, tables_of(text, path.name))


def judged_beside(path: Path, tables: Mapping[str, Any]) -> Project:
    """Return the project in tables that are, or will be, the file at `path`. Errors: ProjectFault."""
    project = judged(tables, path.name)
    if faults := catalogue_faults(project, path.parent):
        raise ProjectFault(faults, fault_title(path.name, faults))
    return project


def loads(text: str, name: str = "project") -> Project:
    """Return the project in a text; `name` is what messages call it. Errors: ProjectFault with every fault found."""
    return judged(tables_of(text, name), name)


def judged(tables: Mapping[str, Any], name: str) -> Project:
    """Return the project in the tables of a file. Errors: ProjectFault with every fault found."""
    project = to_project(tables, name)
    faults = impossible(project)
    if faults:
        raise ProjectFault(faults, fault_title(name, faults))
    return project


def stamp(path: str | os.PathLike[str]) -> str:
    """Return a mark of the file's content, to tell later whether it was changed meanwhile."""
    return content_stamp(bytes_of(Path(path)))


def edit(path: str | os.PathLike[str], changes: Changes, *, stamp: str | None = None) -> Project:
    """Change keys of a project file and return the project as it then is.

    `changes` maps paths ("shell.mass", "spring.0.foot.x", "settings.units") to what is to stand there:
    a quantity as a text, a word, a whole number or true and false; None takes what stands there out. A missing
    key is added, and a missing section too. Comments and order stay. With `stamp`, a file that was changed since is
    left alone.
    Errors: ProjectFault; nothing is written then.
    """
    path = Path(path).resolve()
    before = bytes_of(path)
    if stamp is not None and content_stamp(before) != stamp:
        raise changed_meanwhile(path)
    text = decoded(before, path.name)
    after = edited(text, changes, path.name)
    with as_change(path.name):
        project = loads_beside(path, after)
    if after != text:
        refuse_read_only(path)
        with said_of_disk(path):
            if put_kept(path, after.encode("utf-8"), before=before, kept=previous_of(path)) is None:
                raise changed_meanwhile(path)
    return project


def write_new(path: str | os.PathLike[str], text: str, *, over: bool = False) -> Project:
    """Write a new project file and return its project. Errors: ProjectFault; nothing is written then.

    A file that is there already is left alone unless `over`; then it is kept as the previous version.
    """
    path = Path(path)
    project = loads_beside(path, text)
    if over and path.is_file():
        refuse_read_only(path)
        with said_of_disk(path):
            if put_kept(path, text.encode("utf-8"), before=bytes_of(path), kept=previous_of(path)) is None:
                raise changed_meanwhile(path)
        return project
    try:
        with said_of_disk(path):
            put_new(path, text.encode("utf-8"))
    except FileExistsError:
        do = "choose another name or remove it first"
        raise ProjectFault([Fault(path.name, "there already", "nothing was written over", do)]) from None
    return project


MOST_LISTED = 500
"""So many files of a folder are looked into for projects."""


def folder_projects(folder: str | os.PathLike[str]) -> tuple[Path, ...]:
    """Return the files of a folder that look like project files, by name; none where it cannot be looked into.

    Such a file is TOML with a format and a name at its top; whether the project in it can be used only `read` tells.
    """
    try:
        found = [path for path in Path(folder).iterdir() if path.suffix.casefold() == ".toml"]
    except (OSError, ValueError):
        return ()
    found.sort(key=lambda path: (path.name.casefold(), path.name))
    return tuple(path for path in found[:MOST_LISTED] if _looks_like_a_project(path))


def _looks_like_a_project(path: Path) -> bool:
    try:
        tables = tables_of(decoded(bytes_of(path), path.name), path.name)
    except ProjectFault:
        return False
    return type(tables.get("format")) is int and isinstance(tables.get("name"), str)


# --- what the disk refuses -------------------------------------------------------------------------


def bytes_of(path: Path) -> bytes:
    """Return the bytes of a project file. Errors: ProjectFault."""
    return get(path, MOST_BYTES, "a project file", " or make one with new")


def previous_of(path: Path) -> Path:
    """Return where the version before the last change of a file is kept."""
    return path.with_name(path.name + PREVIOUS)


def changed_meanwhile(path: Path) -> ProjectFault:
    """Return the fault of a file that is no longer as it was read."""
    what = "it changed on disk and your change was not written"
    return ProjectFault([Fault(path.name, "not as it was read", what, "read it again and repeat the change")])


def refuse_read_only(path: Path) -> None:
    """Refuse a file that may only be read: renaming would get round its rights. Errors: ProjectFault."""
    if read_only(path):
        do = "change the rights of the file, or use a copy elsewhere"
        raise ProjectFault([Fault(str(path), "a file that may only be read", "it was left as it was", do)])


@contextlib.contextmanager
def as_change(name: str) -> Iterator[None]:
    """Say of faults found that a change made them and that the file was left as it was."""
    try:
        yield
    except ProjectFault as error:
        raise type(error)(error.faults, change_title(name, error.faults)) from None


_FULL = (errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC))
_RIGHTS = (errno.EACCES, errno.EPERM, errno.EROFS)
_GONE = (errno.ENOENT, errno.ENOTDIR)


@contextlib.contextmanager
def said_of_disk(path: Path, *, every: bool = False) -> Iterator[None]:
    """Say why a file could not be written: no room, no rights, no folder; with `every`, whatever else it was.

    A file that is there already is left to the caller, as FileExistsError.
    """
    try:
        yield
    except FileExistsError:
        raise
    except OSError as error:
        if error.errno in _FULL:
            given, allowed = "as it was", "there is no room left on its disk and the change was not written"
            do = "make room and repeat the change"
        elif error.errno in _RIGHTS:
            given, allowed = "in a folder that you may not write to", "it was left as it was"
            do = "change the rights of its folder, or use a copy elsewhere"
        elif error.errno in _GONE:
            given, allowed = "not written", f"its folder {path.parent} is no longer there"
            do = "put the folder back and repeat the change"
        elif every:
            why = (error.strerror or "no reason given").casefold()
            given, allowed, do = "not written", f"the disk refused it ({why})", "look at the disk and repeat the change"
        else:
            raise
        raise ProjectFault([Fault(str(path), given, allowed, do)]) from None
