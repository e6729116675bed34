"""What is said of every key of the project file, and how a section's keys are listed.

Every quantity carries a `Key`: what it means, in which dimension, what is allowed, what is taken for
"unknown" and what is taken when it is left out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel, ConfigDict, GetCoreSchemaHandler
from pydantic_core import CoreSchema, core_schema

from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension

HINGED_END = "hinged end"
"""Value of `Key.per` for an x that is unknown by shares of the opening's length from the hinged end."""


@dataclass(frozen=True, slots=True)
class Key:
    """A quantity in the project file.

    `low` and `high` bound what is allowed, in SI. `unknown` is the range taken for "unknown", in SI, or
    in shares of the key named by `per` ("opening.length", or "stroke" in the same table; `HINGED_END`
    counts shares of the opening's length from the hinged end). `default` is the text taken when the key
    is left out; `same_as` names another key whose value is then taken. A key with neither must be
    written unless its field allows None. `beside` names a key and shares of it: where that key is written
    and known, these shares are taken for "unknown" instead, so that the two fit each other.
    """

    dimension: Dimension
    low: float
    high: float
    meaning: str
    unknown: tuple[float, float]
    unknown_reason: str
    default: str | None = None
    default_reason: str = ""
    per: str = ""
    same_as: str = ""
    beside: tuple[str, float, float] | None = None

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        there = core_schema.is_instance_schema(Uncertain)
        return core_schema.nullable_schema(there) if type(None) in get_args(source) else there


@dataclass(frozen=True, slots=True)
class Spot:
    """A point in the side view, written as a two-element array [x, z]."""

    meaning: str
    x: Key
    z: Key
    needed: bool = True


@dataclass(frozen=True, slots=True)
class Choice:
    """One word of a closed list; `unknown` is the word taken for "unknown"."""

    meaning: str
    unknown: str
    unknown_reason: str
    default: str | None = None
    default_reason: str = ""


@dataclass(frozen=True, slots=True)
class Count:
    """A whole number written without a unit; `default` is also taken for "unknown"."""

    meaning: str
    low: int
    high: int
    default: int | None = None
    default_reason: str = ""


@dataclass(frozen=True, slots=True)
class YesNo:
    """true or false; `default` is also taken for "unknown"."""

    meaning: str
    default: bool
    default_reason: str


@dataclass(frozen=True, slots=True)
class Words:
    """Free text; `example` stands in new files where nothing is written."""

    meaning: str
    default: str | None = None
    pattern: str = ""
    allowed: str = ""
    example: str = "unknown"


@dataclass(frozen=True, slots=True)
class Most:
    """How many entries a list of the file may have: each one costs memory in every draw."""

    entries: int


class Section(BaseModel):
    """A table of the project file."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True, populate_by_name=True)


@dataclass(frozen=True, slots=True)
class Member:
    """One key of a section, taken apart: its name in the file and in Python, its type and what is said of it.

    `about` is a Key, Spot, Choice, Count, YesNo or Words, or None where the key is a table or a list of
    tables of the class `table`. `most` is the most entries of a list, 0 where the key is no list.
    """

    key: str
    attribute: str
    about: Key | Spot | Choice | Count | YesNo | Words | None
    table: type[Section] | None
    most: int
    optional: bool
    words: tuple[str, ...]

    @property
    def many(self) -> bool:
        """Whether the key holds a list."""
        return self.most > 0

    @property
    def required(self) -> bool:
        """Whether a file must write this key."""
        about = self.about
        if self.optional or self.many or isinstance(about, YesNo):
            return False
        if isinstance(about, Key):
            return about.default is None and not about.same_as
        if isinstance(about, Spot):
            return about.needed
        return about is not None and about.default is None


@cache
def members(section: type[Section]) -> tuple[Member, ...]:
    """Return the keys of a section in the order of the file; fields of which nothing is said are none."""
    found: list[Member] = []
    for attribute, field in section.model_fields.items():
        kinds = (Key, Spot, Choice, Count, YesNo, Words)
        about = next((note for note in field.metadata if isinstance(note, kinds)), None)
        kind: Any = field.annotation
        optional = type(None) in get_args(kind)
        if optional:
            kind = next(part for part in get_args(kind) if part is not type(None))
        most = next((note.entries for note in field.metadata if isinstance(note, Most)), 0)
        if get_origin(kind) is tuple:
            kind = get_args(kind)[0]
        table = kind if isinstance(kind, type) and issubclass(kind, Section) else None
        words = tuple(str(word) for word in get_args(kind)) if get_origin(kind) is Literal else ()
        if about is not None or table is not None:
            found.append(Member(field.alias or attribute, attribute, about, table, most, optional, words))
    return tuple(found)


def walk_section(section: Section, prefix: str = "") -> Iterator[tuple[str, Uncertain]]:
    """Yield every quantity of a section and what lies below it, under its path in the file."""
    for member in members(type(section)):
        value = getattr(section, member.attribute)
        path = f"{prefix}{member.key}"
        if isinstance(value, Uncertain):
            yield path, value
        elif isinstance(value, Section):
            yield from walk_section(value, f"{path}.")
        elif isinstance(value, tuple):
            for number, part in enumerate(value):
                yield from walk_section(part, f"{path}.{number}.")


def force_limit(meaning: str, unknown: tuple[float, float], reason: str, how: str, default: str = "unknown") -> Key:
    """Return what is said of a force that a part bears [N]."""
    return Key(
        Dimension.FORCE,
        5.0,
        50_000.0,
        meaning,
        unknown=unknown,
        unknown_reason=reason,
        default=default,
        default_reason=how,
    )


def offset(meaning: str, low: float, high: float, unknown: tuple[float, float], reason: str, default: str) -> Key:
    """Return what is said of a place [m] that may lie to either side of where it counts from."""
    return Key(
        Dimension.LENGTH,
        low,
        high,
        meaning,
        unknown=unknown,
        unknown_reason=reason,
        default=default,
        default_reason=reason,
    )
