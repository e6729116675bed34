"""What a page that answers several questions says of each of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Generic, Protocol, TypeVar

from loftwright.core.views import CheckRow, Fact, Grid, Judged

P = TypeVar("P", bound=str)
P_co = TypeVar("P_co", bound=str, covariant=True)


@dataclass(frozen=True, slots=True)
class Section(Judged, Generic[P]):
    """All that is said about one question; `says` is the answer in a sentence, `said` what was taken for granted."""

    part: P
    title: str
    says: str
    facts: tuple[Fact, ...]
    grids: tuple[Grid, ...]
    rows: tuple[CheckRow, ...]
    said: tuple[str, ...]


S = TypeVar("S", bound=Section[Any])
S_co = TypeVar("S_co", covariant=True)


class HasSections(Protocol[S_co]):
    """A page with a section for each question."""

    @property
    def sections(self) -> tuple[S_co, ...]:
        """The sections, in the order in which they are shown."""


class Sectioned(Judged, Generic[P]):
    """A page with a section for each question."""

    __slots__ = ()

    def section(self: HasSections[S], part: P) -> S:
        """Return what is said about one question."""
        return next(section for section in self.sections if section.part == part)
