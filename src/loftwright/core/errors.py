"""What can go wrong, as one family.

    LoftwrightError
    +-- ProjectFault            the builder's file or request is at fault; every fault is listed
    |   +-- NewerFormat         the file was written by a newer version
    +-- CannotAssemble          the parts named cannot be put together in the closed or an open position
    Bug                         our own mistake; never shown as the builder's

A builder's mistake reads: where (section, key), what was given, what is allowed, what to do.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any


class LoftwrightError(Exception):
    """Anything that a builder can mend."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One mistake in a project file or a request.

    Each part is plain text; together they make one sentence.
    """

    where: str
    given: str
    allowed: str
    do: str

    def sentence(self) -> str:
        """Return the whole mistake in one line."""
        given = f" is {self.given}" if self.given else ""
        return f"{self.where}{given}: {self.allowed}; {self.do}."


class ProjectFault(LoftwrightError):
    """The project cannot be used as it stands; `faults` lists every mistake found."""

    def __init__(self, faults: Iterable[Fault], title: str = "") -> None:
        self.faults: tuple[Fault, ...] = tuple(faults)
        self.title = title
        lines = [fault.sentence() for fault in self.faults]
        super().__init__("\n".join([title, *lines] if title else lines))

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self), (self.faults, self.title)


class NewerFormat(ProjectFault):
    """The file carries a format version that this version does not know."""


class CannotAssemble(LoftwrightError):
    """Links or spring ends cannot meet at the positions given."""


class Bug(Exception):
    """A broken promise inside the program; please report it."""
