"""Reading, changing and writing a project file.

The file is read whole and every fault is listed. A change keeps comments and order, is judged before
anything is written, and replaces the file in one step with the version before it kept beside it.
"""

from __future__ import annotations

import contextlib
import errno
import hashlib
import os
import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, cast

from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.writing import get, put, put_new
from loftwright.project.keys import Key, Member, Section, Spot, members
from loftwright.project.model import Project
from loftwright.project.possible import impossible
from loftwright.project.possible_choice import catalogue_faults
from loftwright.project.reading import fault_title, nearest, quoted, to_project

MOST_BYTES = 1_000_000
"""A project file larger than this is refused; a full one has some ten thousand."""

PREVIOUS = ".previous"
"""Added to the file's name for the version before the last change."""


def read(path: str | os.PathLike[str]) -> Project:
    """Return the project in a file. Errors: ProjectFault with every fault found."""
    path = Path(path)
    return _loads_beside(path, _decode(_bytes(path), path.name))


def _loads_beside(path: Path, text: str) -> Project:
    """Return the project in a text that is, or will be, the file at `path`; what it names must lie there too."""
    project = loads(text, path.name)
    if faults := catalogue_faults(project, path.parent):
        raise ProjectFault(faults, fault_title(path.name, faults))
    return project


def loads(text: str, name: str = "project") -> Project:
    """Return the project in a text; `name` is what messages call it. Errors: ProjectFault with every fault found."""
    project = to_project(_tables(text, name), name)
    faults = impossible(project)
    if faults:
        raise ProjectFault(faults, fault_title(name, faults))
    return project


def stamp(path: str | os.PathLike[str]) -> str:
    """Return a mark of the file's content, to tell later whether it was changed meanwhile."""
    return _stamp(_bytes(Path(path)))


def edit(
    path: str | os.PathLike[str], changes: Mapping[str, str | int | bool | None], *, stamp: str | None = None
) -> Project:
    """Change keys of a project file and return the project as it then is.

    `changes` maps paths ("shell.mass", "spring.0.foot.x", "settings.units") to what is to stand there:
    a quantity as a text, a word, a whole number or true and false; None takes a key of a section out. A missing
    key is added, and a missing section too. Comments and order stay. With `stamp`, a file that was changed since is
    left alone.
    Errors: ProjectFault; nothing is written then.
    """
    path = Path(path).resolve()
    before = _bytes(path)
    if stamp is not None and _stamp(before) != stamp:
        raise ProjectFault(
            [
                Fault(
                    path.name,
                    "not as it was read",
                    "it changed on disk and your change was not written",
                    "read it again and repeat the change",
                )
            ]
        )
    text = _decode(before, path.name)
    after = edited(text, changes, path.name)
    try:
        project = _loads_beside(path, after)
    except ProjectFault as error:
        raise type(error)(error.faults, change_title(path.name, error.faults)) from None
    if after != text:
        with _named(path):
            put(path.with_name(path.name + PREVIOUS), before, like=path)
            put(path, after.encode("utf-8"))
    return project


def write_new(path: str | os.PathLike[str], text: str, *, over: bool = False) -> Project:
    """Write a new project file and return its project. Errors: ProjectFault; nothing is written then.

    A file that is there already is left alone unless `over`; then it is kept as the previous version.
    """
    path = Path(path)
    project = _loads_beside(path, text)
    if over and path.is_file():
        with _named(path):
            put(path.with_name(path.name + PREVIOUS), _bytes(path), like=path)
            put(path, text.encode("utf-8"))
        return project
    try:
        with _named(path):
            put_new(path, text.encode("utf-8"))
    except FileExistsError:
        do = "choose another name or remove it first"
        raise ProjectFault([Fault(path.name, "there already", "nothing was written over", do)]) from None
    return project


def edited(text: str, changes: Mapping[str, str | int | bool | None], name: str = "project") -> str:
    """Return the text of a project file with keys changed, comments and order kept; it is not judged yet."""
    import tomlkit

    _tables(text, name)
    windows = "\n" in text and text.count("\n") == text.count("\r\n")
    document = tomlkit.parse(text.replace("\r\n", "\n") if windows else text)
    faults: list[Fault] = []
    for path, value in changes.items():
        if value is None:
            _take_out(document, path)
            continue
        fault = _known(path, document)
        if fault is None:
            _set(document, path, value)
        else:
            faults.append(fault)
    if faults:
        raise ProjectFault(faults, change_title(name, faults))
    after = tomlkit.dumps(document)
    return after.replace("\n", "\r\n") if windows else after


@contextlib.contextmanager
def _named(path: Path) -> Iterator[None]:
    """Say which file could not be written where the rights of its folder forbid it."""
    try:
        yield
    except OSError as error:
        if error.errno not in (errno.EACCES, errno.EPERM, errno.EROFS):
            raise
        do = "change the rights of its folder, or use a copy elsewhere"
        raise ProjectFault(
            [Fault(str(path), "in a folder that you may not write to", "it was left as it was", do)]
        ) from None


def change_title(name: str, faults: Sequence[Fault]) -> str:
    """Return the line above the faults of a change."""
    count = "1 fault" if len(faults) == 1 else f"{len(faults)} faults"
    return f"The change cannot be made, and {name} was left as it was ({count}):"


# --- bytes and text --------------------------------------------------------------------------------


def _bytes(path: Path) -> bytes:
    return get(path, MOST_BYTES, "a project file", " or make one with new")


def _decode(data: bytes, name: str) -> str:
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise ProjectFault(
            [
                Fault(
                    f"line {line} of {name}",
                    "not text in UTF-8",
                    "a project file is plain text in UTF-8",
                    "save it as UTF-8 in your editor",
                )
            ]
        ) from None


def _stamp(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


_TWICE = ("Cannot overwrite a value", "Cannot declare", "Cannot mutate", "Cannot redefine", "Duplicate")


def _tables(text: str, name: str) -> dict[str, Any]:
    if len(text) > MOST_BYTES:
        raise ProjectFault(
            [Fault(name, "larger than 1 MB", "a project file is a short text", "check that you named the right file")]
        )
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise ProjectFault([_syntax(text, name, str(error))]) from None
    except (RecursionError, ValueError):
        raise ProjectFault(
            [
                Fault(
                    name,
                    "beyond reading",
                    "brackets are nested too deeply or a number has too many digits",
                    "correct it",
                )
            ]
        ) from None


def _syntax(text: str, name: str, message: str) -> Fault:
    lines = text.replace("\r\n", "\n").split("\n")
    found = re.search(r"at line (\d+)", message)
    number = int(found[1]) if found else len(lines)
    if not found:
        while number > 1 and not lines[number - 1].strip():
            number -= 1
    line = lines[number - 1].strip() if number <= len(lines) else ""
    where = f"line {number} of {name}"
    if message.startswith(_TWICE):
        return Fault(
            where, f"a repetition, {_plain(line)}", "every key and section is written once", "take one of the two out"
        )
    return Fault(
        where,
        f"not readable, {_plain(line)}",
        'a line holds a [section], or a key with its value such as length = "1.9 m"',
        "look for a missing quote, bracket or equals sign",
    )


def _plain(line: str) -> str:
    """Return a line of the file for a message, without the quotes of `quoted`."""
    return quoted(line)[1:-1] if line else "an empty line"


# --- changing the text -----------------------------------------------------------------------------


def _known(path: str, document: Mapping[str, Any]) -> Fault | None:
    """Return the fault of a path that names no single value of the file, else None."""
    steps = path.split(".")
    table: type[Section] | None = Project
    member: Member | None = None
    holder: Any = document
    trail: list[str] = []
    for step in steps:
        if member is not None and member.many:
            if not step.isdecimal():
                return _no_key(path, trail, "a number from 0 on says which")
            count = len(holder) if isinstance(holder, list) else 0
            number = int(step)
            adds = number == count
            if number > count:
                do = f"the next one is {'.'.join([*trail, str(count)])}"
                return Fault(path, "not in the file", f"it holds {count} of these, counted from 0", do)
            holder = {} if adds else holder[number]
            table, member = (member.table, None) if not isinstance(member.about, Spot) else (None, _as_point(member))
        elif member is not None and isinstance(member.about, Spot):
            if step not in ("x", "z"):
                return _no_key(path, trail, "a point has x and z")
            table, member = None, None
            trail.append(step)
            continue
        elif table is None:
            return _no_key(path, trail, "nothing lies below it")
        else:
            found = next((m for m in members(table) if m.key == step), None)
            if found is None:
                near = nearest(step, [m.key for m in members(table)])
                return _no_key(
                    path, trail, f'the nearest is "{".".join([*trail, near])}"' if near else "no key is like it"
                )
            holder = holder.get(step) if isinstance(holder, Mapping) else None
            member, table = found, found.table if found.about is None and not found.many else None
        trail.append(step)
    single = table is None and (member is None or (not member.many and not isinstance(member.about, Spot)))
    if not single:
        return _no_key(path, trail, "it is a table, a list or a point; name one value in it")
    return None


def _as_point(member: Member) -> Member:
    return Member(member.key, member.attribute, member.about, member.table, 0, False, ())


def _no_key(path: str, trail: list[str], why: str) -> Fault:
    return Fault(
        path if path.isprintable() else quoted(path), "not a value of the project file", why, "correct the path"
    )


def _take_out(document: Any, path: str) -> None:
    """Take a key of a section out, where it is there."""
    section, key = path.split(".")
    if section in document and key in document[section]:
        del document[section][key]


def _set(document: Any, path: str, value: str | int | bool) -> None:
    import tomlkit

    steps: list[str | int] = [int(step) if step.isdecimal() else step for step in path.split(".")]
    if steps[-1] in ("x", "z") and isinstance(_about(path), Spot):
        steps[-1] = 0 if steps[-1] == "x" else 1
        _make_point(document, steps[:-1])
    holder = _reached(document, steps[:-1])
    last = steps[-1]
    if isinstance(last, int) or last in holder:
        old = holder[last]
        old = old.unwrap() if hasattr(old, "unwrap") else old
        if type(old) is not type(value) or old != value:
            holder[last] = value
    elif isinstance(holder, tomlkit.items.Table):
        _add_key(holder, last, value)
    else:
        holder[last] = value


def _reached(document: Any, steps: list[str | int]) -> Any:
    """Return the table or list that steps lead to; sections and entries of lists that are missing are added."""
    holder = document
    for step, after in zip(steps, [*steps, ""][1:], strict=True):
        if isinstance(step, int):
            if step == len(holder):
                _add_entry(holder)
        elif step not in holder:
            if isinstance(after, int):
                _add_list(document, holder, step)
            else:
                _add_section(document, holder, step)
        holder = holder[step]
    return holder


def _add_list(document: Any, holder: Any, name: str) -> None:
    """Add a list without entries: of sections in double brackets at the top, of inline tables within a section."""
    import tomlkit

    if holder is document:
        _end_line(document)
        document.append(name, tomlkit.aot())
    else:
        _add_key(holder, name, tomlkit.array().multiline(True))


def _add_entry(holder: Any) -> None:
    """Add an empty entry at the end of a list."""
    import tomlkit

    if not isinstance(holder, tomlkit.items.AoT):
        holder.append(tomlkit.inline_table())
        return
    entry = tomlkit.table()
    if len(holder):
        # Comments at a table's end belong to what follows, those behind an empty line if there is one.
        last = holder[-1].value.body
        start = len(last)
        while start and last[start - 1][0] is None:
            start -= 1
        empty = (i for i in range(start, len(last)) if not last[i][1].as_string().strip())
        start = next(empty, start)
        entry.value.body.extend(last[start:])
        del last[start:]
        if last and not last[-1][1].trivia.trail.endswith("\n"):
            last[-1][1].trivia.trail = "\n"
        last.append((None, tomlkit.nl()))
    holder.append(entry)


def _about(path: str) -> Key | Spot | None:
    """Return what is said of the key that holds the last step of a path."""
    table: type[Section] | None = Project
    about: Any = None
    for step in path.split(".")[:-1]:
        if step.isdecimal() or table is None:
            continue
        member = next(m for m in members(table) if m.key == step)
        about, table = member.about, member.table
    return cast("Key | Spot | None", about)


def _make_point(document: Any, steps: list[str | int]) -> None:
    """Write a point that is missing or unknown as a pair, so that one of the two can be set."""
    import tomlkit

    last = steps[-1]
    if isinstance(last, int):
        table = _reached(document, steps[:-2])
        if steps[-2] not in table:
            _add_key(table, cast("str", steps[-2]), tomlkit.array())
    holder = _reached(document, steps[:-1])
    if isinstance(last, int):
        if last == len(holder):
            holder.append(["unknown", "unknown"])
        elif not isinstance(holder[last], list):
            holder[last] = ["unknown", "unknown"]
    elif last not in holder:
        _add_key(holder, last, ["unknown", "unknown"])
    elif not isinstance(holder[last], list):
        holder[last] = ["unknown", "unknown"]


def _end_line(document: Any) -> None:
    """End a document with an empty line, so that what follows stands apart."""
    import tomlkit

    if document.body and not tomlkit.dumps(document).endswith("\n"):
        document.add(tomlkit.nl())
    document.add(tomlkit.nl())


def _add_section(document: Any, holder: Any, name: str) -> None:
    import tomlkit

    if holder is document:
        _end_line(document)
        document.append(name, tomlkit.table())
    else:
        holder.append(name, tomlkit.table())


def _add_key(table: Any, key: str, value: Any) -> None:
    """Add a key right after the table's last one: comments at a table's end belong to the next table."""
    body = table.value.body
    tail: list[Any] = []
    while body and body[-1][0] is None:
        tail.insert(0, body.pop()[1])
    if body:
        trivia = body[-1][1].trivia
        if not trivia.trail.endswith("\n"):
            trivia.trail = "\n"
    table.append(key, value)
    for item in tail:
        body.append((None, item))
