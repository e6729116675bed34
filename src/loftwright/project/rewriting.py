"""Changing the text of a project file, with its comments and its order kept.

What comes out is read again and held against the same change made in plain tables, so that a text of an
unusual layout is refused rather than changed otherwise than was meant.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from loftwright.core.errors import Fault, ProjectFault
from loftwright.project.adding import TextMaker
from loftwright.project.changing import (
    MOST_DIGITS,
    Changes,
    change,
    change_title,
    changed,
    copied,
    named,
    steps_of,
    take_entry_out,
)
from loftwright.project.text import tables_of


def edited(text: str, changes: Changes, name: str = "project") -> str:
    """Return the text of a project file with keys changed, comments and order kept; it is not judged yet.

    Errors: ProjectFault of paths that the file cannot hold, and of a text that is no TOML.
    """
    wanted = changed(tables_of(text, name), changes, name)
    document, windows = _parsed(text)
    change(document, changes, name, TextMaker())
    return _checked(_dumped(document, windows), wanted, name)


def without(text: str, path: str, name: str = "project") -> str:
    """Return the text without one entry of a list ("spring.1"), one section ("bed") or a whole list ("zone").

    A comment right above what is taken out goes with it, except above the first of several without names (readings),
    where it speaks of all; every other one stays. The text is not judged yet.
    Errors: ProjectFault where there is no such thing.
    """
    tables = tables_of(text, name)
    fault = _not_removable(tables, path)
    if fault is not None:
        raise ProjectFault([fault], change_title(name, [fault]))
    steps = tuple(steps_of(path))
    wanted = copied(tables)
    take_entry_out(wanted, path)
    after = _without_blocks(text, steps, nameless=named(f"{path}.name", tables) != "value")
    if after is None:
        document, windows = _parsed(text)
        take_entry_out(document, path)
        after = _dumped(document, windows)
    return _checked(after, wanted, name)


def _not_removable(tables: Any, path: str) -> Fault | None:
    """Return the fault of a path that names nothing that can be taken out whole, else None."""
    what = named(".".join("0" if step.isdecimal() else step for step in path.split(".")), tables)
    if isinstance(what, Fault):
        return what
    if what == "part":
        return Fault(path, "a part of every project", "it cannot be taken out", "change its values")
    if what not in ("entry", "section", "list"):
        allowed = "only these are taken out whole"
        return Fault(path, "no section, no list and no entry of one", allowed, "take the values out one by one")
    there: Any = tables
    for step in path.split("."):
        if step.isdecimal():
            fits = len(step) <= MOST_DIGITS and isinstance(there, list) and int(step) < len(there)
            there = there[int(step)] if fits else None
        else:
            there = there.get(step) if isinstance(there, dict) else None
    if there is not None:
        return None
    return Fault(path, "not in the file", "it may have been taken out already", "look at the file again")


def _parsed(text: str) -> tuple[Any, bool]:
    """Return the document of a text, and whether its lines end as in Windows."""
    import tomlkit

    windows = "\n" in text and text.count("\n") == text.count("\r\n")
    return tomlkit.parse(text.replace("\r\n", "\n") if windows else text), windows


def _dumped(document: Any, windows: bool) -> str:
    import tomlkit

    after = tomlkit.dumps(document)
    return after.replace("\n", "\r\n") if windows else after


def _checked(after: str, wanted: Mapping[str, Any], name: str) -> str:
    """Return a changed text that holds what is wanted. Errors: ProjectFault where it holds something else."""
    try:
        right = same(tomllib.loads(after), wanted)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError):
        right = False
    if right:
        return after
    fault = Fault(
        name,
        "laid out in a way that this change cannot be written into",
        "it was not written",
        "change it in a text editor",
    )
    raise ProjectFault([fault], change_title(name, [fault]))


def same(one: Any, other: Any) -> bool:
    """Whether two values of a file are the same, in kind as well."""
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(same(value, other[key]) for key, value in one.items())
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(same(a, b) for a, b in zip(one, other, strict=True))
    not_a_number = one != one and other != other
    return type(one) is type(other) and bool(one == other or not_a_number)


# --- whole blocks of lines -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Statement:
    """Lines that belong together: kind is "blank", "comment", "key" or "heading"; `place` is that of a heading."""

    text: str
    kind: str
    place: tuple[str | int, ...] = ()


def _statements(text: str) -> Iterator[_Statement]:
    """Yield the statements of a text that is good TOML; joined again they are the text."""
    counts: dict[tuple[str | int, ...], int] = {}
    lines = text.split("\n")
    lines = [line + "\n" for line in lines[:-1]] + ([lines[-1]] if lines[-1] else [])
    held = ""
    for line in lines:
        start = line.strip()
        if not held and not start:
            yield _Statement(line, "blank")
        elif not held and start.startswith("#"):
            yield _Statement(line, "comment")
        elif not held and start.startswith("["):
            yield _Statement(line, "heading", _place(tomllib.loads(line), counts))
        else:
            # A value may go on over further lines; it is whole when it reads.
            held += line
            try:
                tomllib.loads(held)
            except tomllib.TOMLDecodeError:
                continue
            yield _Statement(held, "key")
            held = ""


def _place(heading: dict[str, Any], counts: dict[tuple[str | int, ...], int]) -> tuple[str | int, ...]:
    """Return where the section of a heading stands, entries of lists by their number; `counts` is carried on."""
    place: tuple[str | int, ...] = ()
    inner: Any = heading
    while inner:
        step, inner = next(iter(inner.items()))
        place = (*place, step)
        if isinstance(inner, list):
            counts[place] = counts.get(place, -1) + 1
            inner = None
        if place in counts:
            place = (*place, counts[place])
    return place


def _without_blocks(text: str, steps: tuple[str | int, ...], *, nameless: bool) -> str | None:
    """Return the text without the blocks of lines under headings at or below `steps`, None where there are none."""
    statements = list(_statements(text))
    headings = [n for n, s in enumerate(statements) if s.kind == "heading"]
    ends = [*headings[1:], len(statements)]
    gone = [_at_or_below(statements[n].place, steps) for n in headings]
    if not any(gone):
        return None
    more = nameless and steps[-1] == 0 and any(statements[n].place == (*steps[:-1], 1) for n in headings)
    keep = [True] * len(statements)
    for number, (first, end) in enumerate(zip(headings, ends, strict=True)):
        if not gone[number]:
            continue
        follows = number + 1 < len(gone) and gone[number + 1]
        begins = number > 0 and gone[number - 1]
        last = end if follows else _tail(statements, first, end)
        keep[first:last] = [False] * (last - first)
        if not begins and not (more and statements[first].place == steps):
            above = first
            while above and statements[above - 1].kind == "comment":
                above -= 1
            keep[above:first] = [False] * (first - above)
        if not follows:
            _close(statements, keep, last, end)
    return "".join(s.text for s, kept in zip(statements, keep, strict=True) if kept)


def _at_or_below(place: tuple[str | int, ...], steps: tuple[str | int, ...]) -> bool:
    return place[: len(steps)] == steps


def _tail(statements: list[_Statement], first: int, end: int) -> int:
    """Return where the lines begin that stand after a block and belong to what follows."""
    last = end
    while last > first + 1 and statements[last - 1].kind in ("blank", "comment"):
        last -= 1
    return next((n for n in range(last, end) if statements[n].kind == "blank"), last)


def _close(statements: list[_Statement], keep: list[bool], last: int, end: int) -> None:
    """Leave no two gaps where lines were taken out, none at the end, and none below a comment that was kept."""
    above = next((n for n in reversed(range(last)) if keep[n]), None)
    blank = above is None or statements[above].kind == "blank"
    only_blank = all(s.kind == "blank" for s in statements[last:end])
    comment = above is not None and statements[above].kind == "comment" and only_blank
    gap = last
    while gap < end and statements[gap].kind == "blank" and (blank or (comment and end < len(statements))):
        keep[gap] = False
        gap += 1
    if gap == len(statements):
        while above is not None and above >= 0 and statements[above].kind == "blank":
            keep[above] = False
            above -= 1
