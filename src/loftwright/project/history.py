"""One project file that a program keeps open: every accepted change is written at once, and can be undone.

The file on disk is the truth. What another program wrote into it is never written over unasked: every change is
refused until the builder takes theirs or keeps his own. Undo and redo go over whole texts of the file, so comments
come back as well.
"""

from __future__ import annotations

import os
import threading
import time
from dataclasses import dataclass
from pathlib import Path

from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.writing import put_kept, put_new
from loftwright.project.changing import Changes, changed
from loftwright.project.differences import Elsewhere as Elsewhere
from loftwright.project.file import as_change, bytes_of, judged_beside, previous_of, refuse_read_only, said_of_disk
from loftwright.project.model import Project
from loftwright.project.on_disk import (
    MARK,
    Signs,
    State,
    Theirs,
    encoded,
    is_gone,
    look,
    not_ours,
    signs_in,
    signs_of,
    state_of,
)
from loftwright.project.rewriting import edited, without
from loftwright.project.text import content_stamp, decoded, place_stamp

MOST_STEPS = 200
"""So many changes can be undone; the oldest is forgotten first."""

THEIRS = "change made in another program"
"""Words of the step by which the file of another program is taken."""

OURS = "keeping this version over another program's"
"""Words of the step by which a file of another program is written over."""

_SETTLED = 2_000_000_000
"""A file looked at sooner than this after it was written may change again under the same time, in ns."""


@dataclass(frozen=True, slots=True)
class _Step:
    """A change, in words, and the file on its other side: before it where it can be undone, after it where redone."""

    what: str
    data: bytes
    join: str = ""


@dataclass(frozen=True, slots=True)
class Version:
    """A version of the file that is remembered: a mark of its content, the change that came after it, and its text.

    The version that was opened has no words of a change.
    """

    stamp: str
    before: str
    text: str


class History:
    """A project file kept open, with what was done to it.

    Every method that changes something either writes the file and returns the project as it then is, or raises
    ProjectFault and leaves file, project and steps as they were. Threads may share one.
    """

    def __init__(self, path: Path, state: State, signs: Signs | None) -> None:
        self.path = path
        """The file itself, where a link was followed."""
        self._now = state
        self._opened = state.data
        self._signs = signs
        self._looked = time.time_ns()
        self._seen: tuple[Signs, int, Elsewhere] | None = None
        self._done: list[_Step] = []
        self._undone: list[_Step] = []
        self._lock = threading.RLock()

    @classmethod
    def open(cls, path: str | os.PathLike[str]) -> History:
        """Open a project file. Errors: ProjectFault with every fault found."""
        place = Path(path).resolve()
        signs = signs_of(place)
        return cls(place, state_of(place, bytes_of(place)), signs)

    @property
    def project(self) -> Project:
        """The project as last accepted."""
        return self._now.project

    @property
    def text(self) -> str:
        """The text of the file as last accepted, without a byte order mark."""
        return self._now.text

    @property
    def mark(self) -> str:
        """A mark of which file this is, the same however its content changes."""
        return place_stamp(self.path)

    @property
    def stamp(self) -> str:
        """A mark of the file's content as last accepted, as `file.stamp` gives it."""
        return content_stamp(self._now.data)

    @property
    def undoable(self) -> str:
        """Words of the change that would be undone next, empty when there is none."""
        return self._done[-1].what if self._done else ""

    @property
    def redoable(self) -> str:
        """Words of the change that would be done again next, empty when there is none."""
        return self._undone[-1].what if self._undone else ""

    def versions(self) -> tuple[Version, ...]:
        """Return the versions to which undo leads, the newest first, and last the one that was opened.

        Each content comes once, and that of now not at all.
        """
        with self._lock:
            steps = [(step.data, step.what) for step in reversed(self._done) if step.data != self._opened]
            found: dict[bytes, str] = {}
            for data, what in (*steps, (self._opened, "")):
                found.setdefault(data, what)
            found.pop(self._now.data, None)
            return tuple(
                Version(content_stamp(data), what, decoded(data, self.path.name)) for data, what in found.items()
            )

    def text_of(self, stamp: str) -> str | None:
        """Return the text of the version with a stamp: that of now, or one to which undo or redo leads; else None."""
        with self._lock:
            kept = (step.data for steps in (self._done, self._undone) for step in reversed(steps))
            for data in (self._now.data, *kept, self._opened):
                if content_stamp(data) == stamp:
                    return decoded(data, self.path.name)
            return None

    # --- changes ----------------------------------------------------------------------------------

    def tried(self, changes: Changes) -> Project:
        """Return the project as `change` would make it; nothing is written and the disk is not looked at.

        Errors: ProjectFault as `change` gives it.
        """
        name = self.path.name
        tables = changed(self._now.tables, changes, name)
        with as_change(name):
            return judged_beside(self.path, tables)

    def change(self, changes: Changes, what: str, *, join: str = "") -> Project:
        """Change keys of the file, as `file.edit` does.

        `what` is the change in words. Where `join` is that of the step before and nothing came between, the two become
        one step: so many small moves of one thing are undone at once. Errors: ProjectFault.
        """
        with self._lock:
            self._require_ours()
            text = edited(self.text, changes, self.path.name)
            return self._accept(text, what, join)

    def replace(self, text: str, what: str) -> Project:
        """Put another whole text in the file's place. Errors: ProjectFault."""
        with self._lock:
            self._require_ours()
            return self._accept(text.removeprefix("\ufeff"), what)

    def remove(self, path: str, what: str) -> Project:
        """Take one entry of a list ("spring.1"), one section ("bed") or a whole list ("zone") out.

        Errors: ProjectFault.
        """
        with self._lock:
            self._require_ours()
            return self._accept(without(self.text, path, self.path.name), what)

    def undo(self) -> Project:
        """Go back before the last change. Errors: ProjectFault, also where there is nothing to undo."""
        with self._lock:
            return self._back(self._done, self._undone, "undo")

    def redo(self) -> Project:
        """Do the change again that was undone last. Errors: ProjectFault, also where there is none."""
        with self._lock:
            return self._back(self._undone, self._done, "do again")

    def _back(self, source: list[_Step], target: list[_Step], verb: str) -> Project:
        if not source:
            fault = Fault(self.path.name, "as it was", f"there is nothing to {verb}", "make a change first")
            raise ProjectFault([fault])
        self._require_ours()
        step = source[-1]
        with as_change(self.path.name):
            state = state_of(self.path, step.data)
        before = self._now
        self._write(state)
        source.pop()
        target.append(_Step(step.what, before.data))
        return state.project

    def _accept(self, text: str, what: str, join: str = "") -> Project:
        """Judge a text, write it and remember the step."""
        before = self._now
        if text == before.text:
            return before.project
        with as_change(self.path.name):
            mark = MARK if before.data.startswith(MARK) else b""
            state = state_of(self.path, mark + encoded(text, self.path.name))
        self._write(state)
        last = self._done[-1] if self._done and not self._undone else None
        if last is not None and join and last.join == join:
            self._done.pop()
            if last.data != state.data:
                self._done.append(_Step(what, last.data, join))
        else:
            self._remember(_Step(what, before.data, join))
        self._undone.clear()
        return state.project

    def _remember(self, step: _Step) -> None:
        self._done.append(step)
        del self._done[:-MOST_STEPS]

    def _write(self, state: State) -> None:
        """Put a state on disk in place of the present one, which is kept as the previous version."""
        refuse_read_only(self.path)
        with said_of_disk(self.path, every=True):
            found = put_kept(self.path, state.data, before=self._now.data, kept=previous_of(self.path))
        if found is None:
            self._require_ours()
            raise not_ours(self.path, "it changed while your change was being written, which was not done")
        self._take(state, signs_in(found))

    def _take(self, state: State, signs: Signs | None) -> None:
        self._now, self._signs, self._looked, self._seen = state, signs, time.time_ns(), None

    # --- the file on disk -------------------------------------------------------------------------

    def elsewhere(self) -> Elsewhere | None:
        """Return what happened to the file on disk, None when it is as it was last written or read here.

        Cheap enough to ask every second: the file is only read when it looks changed or was just written.
        """
        with self._lock:
            signs = signs_of(self.path)
            if signs is not None and signs == self._signs and self._looked - signs[0] > _SETTLED:
                return None
            if self._seen is not None and self._seen[0] == signs and self._seen[1] - self._seen[0][0] > _SETTLED:
                return self._seen[2]
            looked = time.time_ns()
            theirs = look(self.path, self._now)
            if theirs is None:
                self._signs, self._looked, self._seen = signs, looked, None
                return None
            found = theirs.said(self.path.name, self._now)
            # What a file names may come and go without it: only a file that can be used is remembered.
            self._seen = (signs, looked, found) if signs is not None and theirs.state is not None else None
            return found

    def take_theirs(self, seen: str | None = None) -> Project:
        """Accept the file as it lies on disk, as one step that can be undone. Errors: ProjectFault; nothing changes.

        With `seen`, the stamp of `Elsewhere`, only that content is taken.
        """
        with self._lock:
            signs = signs_of(self.path)
            theirs = look(self.path, self._now)
            if theirs is None:
                return self.project
            if theirs.gone:
                raise is_gone(self.path, "there is nothing to take")
            self._require_seen(theirs, seen)
            if theirs.state is None:
                title = f"{self.path.name} on disk cannot be taken, and this version stays as it was:"
                raise ProjectFault(theirs.faults, title)
            self._remember(_Step(THEIRS, self._now.data))
            self._undone.clear()
            self._take(theirs.state, signs)
            return self.project

    def keep_mine(self, seen: str | None = None) -> Project:
        """Write this version over the file on disk. Errors: ProjectFault; nothing changes.

        Theirs is kept as the previous version and, where it can be used, as a step to which undo goes back. A file that
        is gone is written again. With `seen`, the stamp of `Elsewhere`, only that content is written over.
        """
        with self._lock:
            theirs = look(self.path, self._now)
            if theirs is None:
                return self.project
            self._require_seen(theirs, seen)
            ours = self._now
            if theirs.gone:
                self._write_again()
                return ours.project
            if theirs.data is None:
                raise ProjectFault(
                    theirs.faults, f"What lies in the place of {self.path.name} cannot be kept beside it:"
                )
            refuse_read_only(self.path)
            with said_of_disk(self.path, every=True):
                found = put_kept(self.path, ours.data, before=theirs.data, kept=previous_of(self.path))
            if found is None:
                raise not_ours(self.path, "it changed once more just now, and nothing was written over it")
            self._take(ours, signs_in(found))
            if theirs.state is not None:
                self._remember(_Step(THEIRS, ours.data))
                self._remember(_Step(OURS, theirs.data))
                self._undone.clear()
            return ours.project

    def _require_seen(self, theirs: Theirs, seen: str | None) -> None:
        """Refuse to go on where something else lies on disk than what the builder was shown."""
        if seen is not None and seen != theirs.stamp:
            fault = Fault(
                self.path.name,
                "not as it was shown",
                "it was changed once more in another program, and nothing was taken or written",
                "look at how it differs now, and choose again",
            )
            raise ProjectFault([fault])

    def _write_again(self) -> None:
        try:
            with said_of_disk(self.path, every=True):
                put_new(self.path, self._now.data)
        except FileExistsError:
            raise not_ours(self.path, "it came back just now, and nothing was written over it") from None
        self._take(self._now, signs_of(self.path))

    def _require_ours(self) -> None:
        """Refuse to go on where the file on disk is not ours: it is read, not only looked at."""
        theirs = look(self.path, self._now)
        if theirs is None:
            return
        if theirs.gone:
            raise is_gone(self.path, "nothing was changed")
        raise not_ours(self.path, "it was changed in another program and your change was not made")
