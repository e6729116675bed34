"""Changing keys in the tables of a project file: what a path may name, and how values are set and taken out.

The same walk sets values in plain tables, to try a change, and in the tables of a text with its comments, to
make it (`rewriting`): only how a key, a section or an entry is added differs (`Maker`).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from loftwright.core.errors import Fault, ProjectFault
from loftwright.project.keys import Key, Member, Section, Spot, members
from loftwright.project.model import Project
from loftwright.project.reading import nearest, quoted

Changes = Mapping[str, str | int | bool | None]
"""What is to stand at paths of the file; None takes what stands there out."""

MOST_DIGITS = 4
"""A number in a path with more digits than this names no entry of any list."""


class Maker:
    """How new things are added to plain tables."""

    def add_key(self, table: Any, key: str, value: Any) -> None:
        """Add a key to a section."""
        table[key] = value

    def add_section(self, document: Any, holder: Any, name: str) -> None:
        """Add a section without keys to `holder`, which is the document or a section of it."""
        holder[name] = {}

    def add_list(self, document: Any, holder: Any, name: str) -> None:
        """Add a list without entries, or put one in the place of what is no list."""
        holder[name] = []

    def add_entry(self, entries: Any) -> None:
        """Add an entry without keys to the end of a list of tables."""
        entries.append({})


def changed(tables: Mapping[str, Any], changes: Changes, name: str) -> dict[str, Any]:
    """Return the tables of a file with keys changed; those given stay. Errors: ProjectFault of paths."""
    after: dict[str, Any] = copied(tables)
    change(after, changes, name, Maker())
    return after


def copied(value: Any) -> Any:
    """Return a copy of tables and lists down to their values."""
    if isinstance(value, dict):
        return {key: copied(part) for key, part in value.items()}
    return [copied(part) for part in value] if isinstance(value, list) else value


def change_title(name: str, faults: Sequence[Fault]) -> str:
    """Return the line above the faults of a change."""
    count = "1 fault" if len(faults) == 1 else f"{len(faults)} faults"
    return f"The change cannot be made, and {name} was left as it was ({count}):"


def change(document: Any, changes: Changes, name: str, maker: Maker) -> None:
    """Change keys of a document in place, in the order given.

    Of a point in a list, None leaves "unknown" for that coordinate; a point by itself goes when both are None.
    Errors: ProjectFault with every path that names no value; the document is then of no more use.
    """
    faults: list[Fault] = []
    for path, value in changes.items():
        found = named(path, document)
        if isinstance(found, Fault):
            faults.append(found)
        elif isinstance(value, str) and _half(value):
            faults.append(Fault(path, "not text in UTF-8", "half a character stands in it", "type it anew"))
        elif value is None and found == "point":
            _take_out(document, path)
        elif found != "value":
            faults.append(_no_key(path, "it is a table, a list or a point; name one value in it"))
        elif value is not None:
            _set(document, path, value, maker)
        elif _in_point(path):
            point, _, end = path.rpartition(".")
            other = f"{point}.{'z' if end == 'x' else 'x'}"
            if not point.rpartition(".")[2].isdecimal() and changes.get(other, "") is None:
                _take_out(document, point)
            elif _there(document, point) is not None:
                _set(document, path, "unknown", maker)
        else:
            _take_out(document, path)
    if faults:
        raise ProjectFault(faults, change_title(name, faults))


def _half(text: str) -> bool:
    """Whether half a character stands in a text, which no file can hold."""
    return any("\ud800" <= c <= "\udfff" for c in text)


def take_entry_out(document: Any, path: str) -> None:
    """Take an entry of a list, a list or a section out of a document in place; a list left empty goes as well."""
    holder, last = _holder(document, path)
    del holder[last]
    if isinstance(last, int) and not len(holder):
        _take_out(document, path.rpartition(".")[0])


# --- what a path names -----------------------------------------------------------------------------

Named = Literal["value", "point", "entry", "section", "part", "list"]
"""What a path may name: a point is one by itself, an entry one of a list, be it a point or a table; a section may be
left out, a part is a section that every project has."""


@dataclass(slots=True)
class _At:
    """Where a walk along a path has come to."""

    table: type[Section] | None = Project
    member: Member | None = None
    holder: Any = None
    entry: bool = False


def named(path: str, document: Any) -> Named | Fault:
    """Return what a path names, or its fault where the file can hold no such thing."""
    at = _At(holder=document)
    trail: list[str] = []
    for step in path.split("."):
        fault = _step(at, step, path, trail)
        if fault is not None:
            return fault
        trail.append(step)
    if at.entry:
        return "entry"
    if at.member is not None and at.member.many:
        return "list"
    if at.member is not None and isinstance(at.member.about, Spot):
        return "point"
    if at.table is None:
        return "value"
    return "section" if at.member is not None and at.member.optional else "part"


def _step(at: _At, step: str, path: str, trail: list[str]) -> Fault | None:
    member = at.member
    if member is not None and member.many and not at.entry:
        return _entry(at, step, path, trail)
    if member is not None and isinstance(member.about, Spot):
        if step not in ("x", "z"):
            return _no_key(path, "a point has x and z")
        at.table, at.member, at.entry = None, None, False
        return None
    if at.table is None:
        return _no_key(path, "nothing lies below it")
    found = next((m for m in members(at.table) if m.key == step), None)
    if found is None:
        near = nearest(step, [m.key for m in members(at.table)])
        return _no_key(path, f'the nearest is "{".".join([*trail, near])}"' if near else "no key is like it")
    at.holder = at.holder.get(step) if isinstance(at.holder, Mapping) else None
    at.member, at.entry = found, False
    at.table = found.table if found.about is None and not found.many else None
    if at.table is not None and not (at.holder is None or isinstance(at.holder, Mapping)):
        return _no_key(path, f"{'.'.join([*trail, step])} is no section in this file")
    return None


def _entry(at: _At, step: str, path: str, trail: list[str]) -> Fault | None:
    member = at.member
    assert member is not None
    if not step.isdecimal() or len(step) > MOST_DIGITS:
        return _no_key(path, "a number from 0 on says which")
    count = len(at.holder) if isinstance(at.holder, list) else 0
    number = int(step)
    if number > count:
        return Fault(
            path,
            "not in the file",
            f"it holds {count} of these, counted from 0",
            f"the next one is {'.'.join([*trail, str(count)])}",
        )
    at.holder = {} if number == count else at.holder[number]
    at.entry = True
    at.table = None if isinstance(member.about, Spot) else member.table
    return None


def _no_key(path: str, why: str) -> Fault:
    shown = path if path.isprintable() and len(path) <= 80 else quoted(path)
    return Fault(shown, "not a value of the project file", why, "correct the path")


def _in_point(path: str) -> bool:
    """Whether the last step of a path is a coordinate of a point."""
    return path.rpartition(".")[2] in ("x", "z") and isinstance(_about(path), Spot)


@cache
def _about_of(steps: tuple[str, ...]) -> Key | Spot | None:
    table: type[Section] | None = Project
    about: Any = None
    for step in steps:
        if table is None:
            break
        member = next(m for m in members(table) if m.key == step)
        about, table = member.about, member.table
    return about if isinstance(about, (Key, Spot)) else None


def _about(path: str) -> Key | Spot | None:
    """Return what is said of the key that holds the last step of a path."""
    return _about_of(tuple(step for step in path.split(".")[:-1] if not step.isdecimal()))


# --- walking ---------------------------------------------------------------------------------------


def steps_of(path: str) -> list[str | int]:
    """Return the steps of a path, entries of lists as numbers."""
    return [int(step) if step.isdecimal() else step for step in path.split(".")]


def _there(document: Any, path: str) -> Any:
    """Return what stands at a path, None where nothing does."""
    holder = document
    for step in steps_of(path):
        if isinstance(step, int):
            if not isinstance(holder, list) or step >= len(holder):
                return None
        elif not isinstance(holder, Mapping) or step not in holder:
            return None
        holder = holder[step]
    return holder


def _holder(document: Any, path: str) -> tuple[Any, str | int]:
    """Return the table or list that holds the last step of a path, and that step."""
    above = path.rpartition(".")[0]
    return (_there(document, above) if above else document), steps_of(path)[-1]


def _take_out(document: Any, path: str) -> None:
    """Take a key out where it is there."""
    holder, last = _holder(document, path)
    if isinstance(holder, Mapping) and last in holder:
        del holder[last]  # type: ignore[attr-defined]


def _set(document: Any, path: str, value: str | int | bool, maker: Maker) -> None:
    steps = steps_of(path)
    if _in_point(path):
        steps[-1] = 0 if steps[-1] == "x" else 1
        _make_point(document, steps[:-1], maker)
    holder = _reached(document, steps[:-1], maker)
    last = steps[-1]
    if isinstance(last, int) or last in holder:
        old = holder[last]
        old = old.unwrap() if hasattr(old, "unwrap") else old
        if type(old) is not type(value) or old != value:
            holder[last] = value
    else:
        maker.add_key(holder, last, value)


def _reached(document: Any, steps: Sequence[str | int], maker: Maker) -> Any:
    """Return the table or list that steps lead to; sections and entries of lists that are missing are added."""
    holder = document
    for step, after in zip(steps, [*steps, ""][1:], strict=True):
        if isinstance(step, int):
            if step == len(holder):
                maker.add_entry(holder)
        elif isinstance(after, int):
            # A list may be written as unknown.
            if not isinstance(holder.get(step), list):
                maker.add_list(document, holder, step)
        elif step not in holder:
            maker.add_section(document, holder, step)
        holder = holder[step]
    return holder


def _make_point(document: Any, steps: Sequence[str | int], maker: Maker) -> None:
    """Write a point that is missing or unknown as a pair, so that one of the two can be set."""
    last = steps[-1]
    unknown = ["unknown", "unknown"]
    if isinstance(last, int):
        name = steps[-2]
        table = _reached(document, steps[:-2], maker)
        if not isinstance(table.get(name), list):
            maker.add_list(None, table, str(name))
        points = table[name]
        if last == len(points):
            points.append(unknown)
        elif not _is_pair(points[last]):
            points[last] = unknown
        return
    holder = _reached(document, steps[:-1], maker)
    if last not in holder:
        maker.add_key(holder, last, unknown)
    elif not _is_pair(holder[last]):
        holder[last] = unknown


def _is_pair(value: Any) -> bool:
    return isinstance(value, list) and len(value) == 2
