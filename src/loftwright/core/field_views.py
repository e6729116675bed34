"""What forms show: every key of the project file as a field, gathered into sets.

Filled by the answers; every text is plain text in the builder's units.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

FieldKind = Literal["quantity", "word", "choice", "yesno", "count", "point-x", "point-z"]


@dataclass(frozen=True, slots=True)
class Option:
    """One of the words that a field may hold: as the file writes it, and as people read it."""

    word: str
    label: str


@dataclass(frozen=True, slots=True)
class HowTo:
    """How a builder settles a field with household tools."""

    title: str
    minutes: int
    how: str


@dataclass(frozen=True, slots=True)
class Field:
    """One value of the project file; `path` is where it stands there ("spring.0.foot.x").

    `text` is what is written there, in the builder's own spelling, empty where nothing is (`given` is False then);
    `placeholder` is the text that is taken when nothing is written, `left_out` says so in words. `choices` are the
    words of a closed list, `usual` is what their list says for nothing written. `help` says what it is, `allowed` its
    bounds in words. `word` is how it is known, as the file writes it ("measured"), `words` what it can be, empty where
    nothing is known in this way. `doubt` is the range that follows, `likely` what stands in for an unknown. `advanced`
    marks what few people change or what this kind of roof does not have. `matters` names the judgements that hang on
    it, empty when all of them hold.
    """

    path: str
    label: str
    kind: FieldKind
    text: str
    given: bool
    required: bool = False
    placeholder: str = ""
    left_out: str = ""
    choices: tuple[Option, ...] = ()
    usual: str = "not written"
    help: str = ""
    allowed: str = ""
    word: str = ""
    words: tuple[Option, ...] = ()
    doubt: str = ""
    likely: str = ""
    measure: HowTo | None = None
    advanced: bool = False
    matters: str = ""


@dataclass(frozen=True, slots=True)
class Add:
    """A new entry or section: what the button says, and what it writes, as path and text."""

    label: str
    changes: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class FieldSet:
    """Fields that stand together: a section of the file, one entry of a list, or the head of a list.

    `path` is the section's ("spring.0"; "spring" for the list itself). `can_remove` is what the button says that
    takes the whole of it out, empty where it must stay.
    """

    title: str
    path: str
    note: str
    fields: tuple[Field, ...]
    adds: tuple[Add, ...] = ()
    can_remove: str = ""


@dataclass(frozen=True, slots=True)
class Link:
    """Where a click on a judgement leads: a page, the path of a field on it (empty: the page itself), its label."""

    page: str
    path: str
    label: str
