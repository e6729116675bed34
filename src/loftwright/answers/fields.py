"""Everything of the project file that is edited on one page of the board, as sets of fields for a form."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Any, Final, cast

from loftwright.answers.decisions import DECISIONS, BoardPage, key_behind
from loftwright.answers.field_parts import (
    allowed,
    choices,
    help_text,
    how_to,
    kind_of,
    left_out,
    needed_here,
    of_this_roof,
    range_of,
    standing,
    usual,
    word_of,
    words_for,
)
from loftwright.answers.new_entries import adds_of
from loftwright.core.checks import Check, Verdict
from loftwright.core.errors import Bug
from loftwright.core.field_views import Add, Field, FieldSet
from loftwright.core.uncertain import Uncertain
from loftwright.project.keys import Member, Section, Spot, members
from loftwright.project.model import Project, walk
from loftwright.project.plane import CROSSWISE, plane_of
from loftwright.project.reading import is_unknown
from loftwright.project.typed import Value
from loftwright.project.written import Written, changed, is_key, written
from loftwright.reference.field_words import SELDOM, alike, label_of, section_words

MOST_NAMED = 3
"""How many judgements are named beside a field."""

LEAST: Final = {"roof.profile": 2, "weighing.reading": 1, "cord.point": 1}
"""Entries that a list cannot do without; the whole of it can go."""


def fieldsets(project: Project, file_text: str, page_path: str, checks: tuple[Check, ...] = ()) -> tuple[FieldSet, ...]:
    """Return everything that is edited on a page, in the order in which it is shown.

    `file_text` is the text that `project` was read from. With `checks`, fields say which judgements that do not hold
    hang on them. Lists come entry by entry, and last of all their own set, which adds one.
    Errors: Bug for a page that does not exist.
    """
    page = next((page for page in DECISIONS if page.path == page_path), None)
    if page is None:
        raise Bug(f"the board has no page {page_path}")
    return tuple(_Form(project, written(file_text), walk(project), _waits(checks)).page(page))


def changes_from(
    project: Project, file_text: str, form: Mapping[str, str], seen: str | None = None
) -> dict[str, Value | None]:
    """Return what the fields of a form change in the file, as a change of the file takes it.

    `form` holds texts by path, and how a value is known under its path with `WORD_FIELD` behind it where a form asks
    for both. Texts as they stand are no change. Readings that name a spring follow its new name. `seen` is the text of
    the file that the form showed, where its fields do not say so themselves.
    Errors: ProjectFault where another value than the one shown stands in the file by now.
    """
    changes = changed(file_text, form, seen)
    for number, spring in enumerate(project.spring):
        name = changes.get(f"spring.{number}.name")
        if isinstance(name, str) and [other.name for other in project.spring].count(spring.name) == 1:
            for at, reading in enumerate(project.reading):
                if reading.spring == spring.name:
                    changes.setdefault(f"reading.{at}.spring", name)
    return changes


def _waits(checks: tuple[Check, ...]) -> dict[str, list[str]]:
    """Return what does not hold, by the keys of the file that it hangs on."""
    found: dict[str, list[str]] = {}
    for check in checks:
        if check.verdict is Verdict.HOLDS:
            continue
        for path in dict.fromkeys(key_behind(path) for path in check.inputs):
            found.setdefault(path, []).append(check.words)
    return found


def _matters(said: list[str]) -> str:
    more = len(said) - MOST_NAMED
    return "; ".join(said[:MOST_NAMED]) + (f"; and {more} more" if more > 0 else "")


@dataclass(frozen=True, slots=True)
class _Form:
    """One project and what its file holds."""

    project: Project
    there: Written
    values: Mapping[str, Uncertain]
    waits: Mapping[str, list[str]]

    def page(self, page: BoardPage) -> Iterator[FieldSet]:
        for section, parts in groupby(page.holds, key=lambda part: part.split(".")[0]):
            member = next(member for member in members(Project) if member.key == section)
            keys = [part.partition(".")[2] for part in parts]
            if member.table is None:
                words = section_words("")
                yield FieldSet(words.heading, "", words.note, tuple(self.field(member, section)))
            elif member.many:
                yield from self.entries(member, section, "")
            else:
                only = [key for key in keys if key]
                for one in self.section(member, section, only):
                    yield replace(one, title=page.asked_for) if only else one

    # --- sets -------------------------------------------------------------------------------------------

    def section(self, member: Member, path: str, only: list[str]) -> Iterator[FieldSet]:
        """Yield a section; `only` these keys of it, all where that is empty."""
        words, there = section_words(path), self.there.at(path) is not None
        table = cast(type[Section], member.table)
        own = [part for part in members(table) if part.key in only or not only]
        if only:
            own.sort(key=lambda part: only.index(part.key))
        if member.optional and not there and words.add:
            yield FieldSet(words.heading, path, words.note, (), self.adds(path))
            return
        if there or not member.optional:
            fields = tuple(field for part in own if _is_leaf(part) for field in self.field(part, f"{path}.{part.key}"))
            remove = words.remove if member.optional else ""
            yield FieldSet(words.heading, path, words.note, fields, (), remove)
        yield from self.below(own, path, "")

    def entries(self, member: Member, path: str, before: str) -> Iterator[FieldSet]:
        """Yield every entry of a list, then the list's own set, which adds one."""
        words, count = section_words(path), self.there.count(path)
        parts = members(cast(type[Section], member.table))
        remove = words.remove if count > LEAST.get(alike(path), 0) else ""
        for number in range(count):
            at = f"{path}.{number}"
            name = self.there.text(f"{at}.name")
            title = _heading(before, f"{words.one} {number + 1}") + (f": {name}" if name else "")
            fields = tuple(field for part in parts if _is_leaf(part) for field in self.field(part, f"{at}.{part.key}"))
            yield FieldSet(title, at, "", fields, (), remove)
            yield from self.below(list(parts), at, f"{title}, ")
        yield self.head(member, path, before)

    def below(self, parts: list[Member], path: str, before: str) -> Iterator[FieldSet]:
        """Yield what lies below a section or an entry: points, lists and sections of its own."""
        for part in parts:
            at = f"{path}.{part.key}"
            words = section_words(at) if part.many or (part.table is not None and part.about is None) else None
            if words is None:
                continue
            heading = _heading(before, words.heading)
            if isinstance(part.about, Spot):
                yield from self.points(part, at, before)
            elif part.many:
                yield from self.entries(part, at, before)
            elif self.there.at(at) is None:
                yield FieldSet(heading, at, words.note, (), self.adds(at))
            else:
                own = members(cast(type[Section], part.table))
                fields = tuple(field for one in own for field in self.field(one, f"{at}.{one.key}"))
                yield FieldSet(heading, at, words.note, fields, (), words.remove)

    def points(self, member: Member, path: str, before: str) -> Iterator[FieldSet]:
        """Yield every point of a list, then the list's own set."""
        words, count = section_words(path), self.there.count(path)
        spot = cast(Spot, member.about)
        remove = words.remove if count > LEAST.get(path, 0) else ""
        for number in range(count):
            title = _heading(before, f"{words.one} {number + 1}")
            at = f"{path}.{number}"
            yield FieldSet(title, at, "", tuple(self.point(spot, at, member)), (), remove)
        yield self.head(member, path, before)

    def head(self, member: Member, path: str, before: str) -> FieldSet:
        """Return the set of a list itself: what it is, and what adds an entry or takes all of them out."""
        words, count = section_words(path), self.there.count(path)
        adds = self.adds(path) if count < member.most else ()
        return FieldSet(_heading(before, words.heading), path, words.note, (), adds, words.clear if count else "")

    def adds(self, path: str) -> tuple[Add, ...]:
        return adds_of(path, self.project, self.there)

    # --- fields -----------------------------------------------------------------------------------------

    def field(self, member: Member, path: str) -> Iterator[Field]:
        if isinstance(member.about, Spot):
            yield from self.point(member.about, path, member)
        else:
            yield self.one(path, member, member.about)

    def point(self, spot: Spot, path: str, member: Member) -> Iterator[Field]:
        for axis, key in (("x", spot.x), ("z", spot.z)):
            yield self.one(f"{path}.{axis}", member, key)

    def one(self, path: str, member: Member, about: Any) -> Field:
        """Return the field of one value; `about` is what is said of it, of a point that of its x or z."""
        project, text = self.project, self.there.text(path)
        value = self.value(path)
        across = plane_of(project) is CROSSWISE
        label = label_of(path, across=across)
        options = choices(project, path, member)
        placeholder, left = left_out(project, path, member, value)
        word = word_of(about, text)
        unsure = range_of(project, path, about, value, text)
        waits = self.waits.get(path, [])
        here = of_this_roof(project, self.there, path)
        return Field(
            path=path,
            label=label,
            kind=kind_of(path, about, options),
            text=text or "",
            given=text is not None,
            required=needed_here(project, path),
            placeholder="" if text is not None else placeholder,
            left_out="" if text is not None else left,
            choices=options,
            usual=usual(path, about),
            help=help_text(path, member, across=across),
            allowed=allowed(project, path, about),
            word=word,
            words=words_for(about, word),
            doubt="" if word == "unknown" or text is None else unsure,
            likely=unsure if word == "unknown" or (text is None and placeholder == "unknown") else "",
            measure=how_to(path),
            advanced=(not here or alike(path) in SELDOM or path in SELDOM) and not waits and not standing(here, text),
            matters=_matters(waits),
        )

    def value(self, path: str) -> Uncertain | None:
        """Return the quantity at a path of the file; points of lists that are left out as unknown have none."""
        steps = path.split(".")
        if len(steps) > 2 and steps[-1] in ("x", "z") and steps[-2].isdecimal() and not is_key(path):
            entries = self.there.at(".".join(steps[:-2]))
            dropped = [is_unknown(one[0] if isinstance(one, list) and one else one) for one in entries]
            number = int(steps[-2])
            if dropped[number]:
                return None
            path = ".".join([*steps[:-2], str(number - sum(dropped[:number])), steps[-1]])
        return self.values.get(path)


def _is_leaf(member: Member) -> bool:
    """Whether a key holds one value or one point."""
    return member.about is not None and not member.many


def _heading(before: str, heading: str) -> str:
    return f"{before}{heading[0].lower()}{heading[1:]}" if before else heading
