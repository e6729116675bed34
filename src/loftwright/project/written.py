"""What stands in a project file, as text: what a form shows, and which of its texts are changes.

The text of a value is the builder's own spelling without the quotes; numbers, true and false read as they stand.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from loftwright.core.choices import Units
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.uncertain import Provenance
from loftwright.project.plane import CROSSWISE
from loftwright.project.reading import is_unknown, place, to_project
from loftwright.project.typed import Value, typed
from loftwright.reference.measuring import OWN_PLACES

UNKNOWN = "unknown"

_ENDS_VALUE = re.compile(r",(?:\s+|(?=[A-Za-z]))")
"""A comma behind which the word stands that says how a value is known."""
_RANGE = re.compile(r"\+-|\+/-|±|\.\.|\sto\s")
_AXES = {"x": 0, "z": 1}

WORD_FIELD = "@word"
"""Behind a path in a form: how the value is known, apart from its text."""

WAS_FIELD = "@was"
"""Behind the name of a field: what it showed before it was filled in."""


@dataclass(frozen=True, slots=True)
class Written:
    """The values that a project file holds, by their paths."""

    tables: Mapping[str, Any]

    def at(self, path: str) -> Any:
        """Return what stands at a path: a text, a number, a table or a list; None where nothing does."""
        found: Any = self.tables
        for step in path.split("."):
            if isinstance(found, Mapping):
                found = found.get(step)
            elif isinstance(found, list):
                number = _AXES.get(step, int(step) if step.isdecimal() else -1)
                found = found[number] if 0 <= number < len(found) else None
            elif step not in _AXES:
                # A point may be written as one word, which then stands for both of its values.
                return None
        return found

    def text(self, path: str) -> str | None:
        """Return the text of the value at a path, None where nothing is written."""
        found = self.at(path)
        if isinstance(found, bool):
            return "true" if found else "false"
        return None if found is None or isinstance(found, (Mapping, list)) else str(found)

    def count(self, path: str) -> int:
        """Return how many entries the list at a path has; none where it is not written."""
        found = self.at(path)
        return len(found) if isinstance(found, list) else 0


def written(text: str) -> Written:
    """Return what stands in the text of a project file, which must be one that reads."""
    return Written(tomllib.loads(text, parse_float=str))


def changed(text: str, fields: Mapping[str, str], seen: str | None = None) -> dict[str, Value | None]:
    """Return what the texts of a form change in the text of a project file, as `project.file.edited` takes it.

    `fields` holds texts by the paths of their keys. A text as it is written already is no change; an empty one takes
    out a key that is written. A field "shell.mass@word" holds the word of `shell.mass` where a form asks for both.

    What the form showed before it was filled in is a field "shell.mass@was" (and "shell.mass@word@was"), or stands in
    `seen`, the text of the file at that time. What is as it was shown is no change then, whatever the file has by now.
    Errors: ProjectFault where another value than the one shown stands there by now.
    """
    there, then = written(text), None if seen is None else written(seen)
    found: dict[str, Value | None] = {}
    faults: list[Fault] = []
    for path, typed_text in fields.items():
        if path.endswith((WORD_FIELD, WAS_FIELD)):
            continue
        old, word = (there.text(path) or "").strip(), fields.get(path + WORD_FIELD)
        new = _one_text(old, typed_text, word)
        if new == old:
            continue
        was = _shown(path, fields, then, old)
        if was is not None and was != old:
            if _one_text(was, typed_text, word) != was:
                faults.append(_overtaken(path, old))
            continue
        found[path] = typed(path, new) if new else None
    if faults:
        raise ProjectFault(faults)
    return found


def needs_seen(fields: Mapping[str, str]) -> bool:
    """Whether some field of a form does not say itself what it showed before it was filled in."""
    return any(not path.endswith((WORD_FIELD, WAS_FIELD)) and path + WAS_FIELD not in fields for path in fields)


def _one_text(old: str, text: str, word: str | None) -> str:
    return text.strip() if word is None else joined(old, text, word)


def _shown(path: str, fields: Mapping[str, str], then: Written | None, old: str) -> str | None:
    """Return the text that a form showed at a path, None where that is not known; `old` if it showed what is there."""
    was = fields.get(path + WAS_FIELD)
    if was is not None:
        return _one_text(old, was, fields.get(path + WORD_FIELD + WAS_FIELD))
    return None if then is None else (then.text(path) or "").strip()


def _overtaken(path: str, now: str) -> Fault:
    stands = f'"{now}" by now' if now else "not written any more"
    return Fault(
        place_of(path),
        stands,
        "it was changed elsewhere after this page showed it, and yours was not saved",
        "look at it, and save again if yours is right",
    )


def unlike(text: str, other: str, path: str) -> bool:
    """Whether two texts of a file hold different things at a path; lists around it must be as long as well.

    >>> unlike("a = [1, 1]", "a = [1]", "a.0"), unlike("a = [1, 2]", "a = [1, 3]", "a.0")
    (True, False)
    """
    one, two = written(text), written(other)
    steps = path.split(".")
    above = [".".join(steps[:number]) for number in range(1, len(steps))]
    return one.at(path) != two.at(path) or any(one.count(each) != two.count(each) for each in above)


def is_key(path: str) -> bool:
    """Whether an x or z is a key of its own section, as of items and measured heights, and no half of a point."""
    return path.split(".")[0] in ("item", *OWN_PLACES)


def place_of(path: str) -> str:
    """Return where a key stands as faults name it.

    >>> place_of("shell.mass"), place_of("spring.1.foot.x")
    ('[shell] mass', '[[spring]] 2 foot x')
    """
    first, *rest = path.split(".")
    if not rest:
        return first
    names = [str(int(step) + 1) if step.isdecimal() else step for step in rest]
    return place(first, int(rest[0]), *names[1:]) if rest[0].isdecimal() else place(first, None, *names)


def fault_of(path: str, text: str, units: Units = "metric") -> Fault | None:
    """Return what is wrong with one value by itself, as reading a file would say it; None when it can be read.

    `path` is its key as a change names it. What it does together with other values is not looked at.
    """
    steps = path.split(".")
    first = [("0" if step.isdecimal() else step) for step in steps]
    value: Any = typed(path, text.strip())
    table: Any = value
    for step in reversed(first[1:]):
        if step in _AXES and not is_key(path):
            # Of a list, a point whose x is unknown is not looked at.
            table = [table if step == axis else "0 m" for axis in _AXES]
        else:
            table = [table] if step == "0" else {step: table}
    document: dict[str, Any] = {"format": 1, "name": "one value", "settings": {"units": units}}
    if steps[0] == "shell" and path.split(".")[1] in _SIDEWAYS:
        document["linkage"] = {"end": "left"}
    merged = {**document.get(steps[0], {}), **table} if isinstance(table, dict) else table
    document[steps[0]] = merged
    where = place_of(".".join(first))
    try:
        to_project(document, "one value")
    except ProjectFault as error:
        return next((fault for fault in error.faults if fault.where == where), None)
    return None


_SIDEWAYS = {path.split(".")[1] for path in (CROSSWISE.heights[0], CROSSWISE.heights[2], CROSSWISE.overhang)}
"""Sizes that only a shell hinged at a side has."""


# --- how a value is known ----------------------------------------------------------------------------


def without_word(text: str) -> tuple[str, str]:
    """Return a quantity's text without the word that says how it is known, and that word.

    A plain decision has none. What is not known has the word and no text of its own.

    >>> without_word("46 +- 2 kg, measured")
    ('46 +- 2 kg', 'measured')
    >>> without_word("1,9 m")
    ('1,9 m', '')
    >>> without_word("unknown")
    ('', 'unknown')
    """
    text = text.strip()
    if is_unknown(text):
        return "", Provenance.UNKNOWN.value
    body, *words = _ENDS_VALUE.split(text)
    word = words[0].strip().casefold() if len(words) == 1 else ""
    if word not in list(Provenance):
        return text, ""
    return body.strip(), "" if word == Provenance.GIVEN else word


def with_word(text: str, word: str) -> str:
    """Return a quantity's text with another word for how it is known; an empty one makes it a plain decision.

    A range is kept. Where nothing is known no other word can be said, and a single number is dropped for "unknown".

    >>> with_word("46 +- 2 kg", "measured")
    '46 +- 2 kg, measured'
    >>> with_word("40 .. 50 kg, assumed", "unknown")
    '40 .. 50 kg, unknown'
    >>> with_word("46 kg, label", "")
    '46 kg'
    """
    body, _ = without_word(text)
    if is_unknown(text) or (word == Provenance.UNKNOWN and not _RANGE.search(body)):
        return UNKNOWN
    if not body:
        return ""
    return body if word in ("", Provenance.GIVEN) else f"{body}, {word}"


def joined(old: str, text: str, word: str) -> str:
    """Return one text from a form that asks for a quantity and for how it is known in two fields.

    `old` is what the file holds, `text` what was typed and `word` what was picked. A word in the typed text goes
    before the one picked. Where nothing was known and now a number is typed, a picked "unknown" is one that was left
    standing and does not count.

    >>> joined("46 kg, assumed", "46 kg", "measured")
    '46 kg, measured'
    >>> joined("unknown", "46 kg", "unknown")
    '46 kg'
    >>> joined("46 kg", "46 kg", "unknown")
    'unknown'
    """
    body, said = without_word(text)
    if (body, said or word) == without_word(old):
        return old
    if said:
        return text.strip()
    if not body:
        return UNKNOWN if Provenance.UNKNOWN in (word, without_word(old)[1]) else ""
    left_standing = word == Provenance.UNKNOWN and is_unknown(old)
    return body if left_standing else with_word(body, word)
