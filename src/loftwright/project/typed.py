"""From KEY=VALUE as typed to a change of the project file: each key decides what kind of value its text is."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from loftwright.core.errors import Fault, ProjectFault
from loftwright.project.keys import Count, Section, YesNo, members
from loftwright.project.model import Project
from loftwright.project.reading import quoted

Value = str | int | bool

_TRUE_FALSE = {"true": True, "false": False}


def changes_of(words: Sequence[str]) -> dict[str, Value]:
    """Return changes by the path of their key, as `project.file.edit` takes them. Errors: ProjectFault."""
    faults: list[Fault] = []
    found: dict[str, Value] = {}
    for word in words:
        path, equals, text = word.partition("=")
        path = path.strip()
        if not equals or not path:
            faults.append(Fault("A change", quoted(word), "it reads KEY=VALUE", 'write it as shell.mass="62 kg"'))
        elif path in found:
            faults.append(Fault(path, "changed twice", "one value can stand there", "leave one of the two out"))
        else:
            found[path] = typed(path, text.strip())
    if faults:
        raise ProjectFault(faults)
    return found


def typed(path: str, text: str) -> Value:
    """Return a text as the key at `path` wants it: a whole number, true or false, or the text itself."""
    about = _about(path)
    if isinstance(about, Count) and re.fullmatch(r"[+-]?\d{1,18}", text):
        return int(text)
    if isinstance(about, YesNo):
        return _TRUE_FALSE.get(text.casefold(), text)
    return text


def _about(path: str) -> Any:
    table: type[Section] | None = Project
    about: Any = None
    for step in path.split("."):
        if step.isdecimal() or table is None:
            continue
        member = next((m for m in members(table) if m.key == step), None)
        if member is None:
            return None
        about, table = member.about, member.table
    return about
