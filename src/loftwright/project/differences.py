"""In which values two versions of a project file differ, and what is said of a file that was changed elsewhere."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal

MOST_DIFFERENCES = 12
"""So many differing values are listed; the sentence says how many there are."""


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """The file on disk is not as it was last written or read here.

    `kind` is "changed", "gone" or "unreadable"; `said` is one sentence for the builder. `faults` are the sentences on
    a file that cannot be used. `differences` lists path, what stands here and what stands there as texts, an empty
    text where nothing stands; the longest lists are cut. `stamp` marks the content on disk, empty where there is none.
    """

    kind: Literal["changed", "gone", "unreadable"]
    said: str
    faults: tuple[str, ...] = ()
    differences: tuple[tuple[str, str, str], ...] = ()
    stamp: str = ""


def elsewhere_changed(name: str, ours: Mapping[str, Any], theirs: Mapping[str, Any], stamp: str = "") -> Elsewhere:
    """Return what is said of a file that another program changed and that can be used; `stamp` marks its content."""
    found = tuple(differences(ours, theirs))
    if not found:
        what = "no value differs, only comments or the order of lines"
    else:
        what = "1 value differs" if len(found) == 1 else f"{len(found)} values differ"
    said = f"{name} was changed in another program: {what}."
    return Elsewhere("changed", said, (), found[:MOST_DIFFERENCES], stamp)


def differences(ours: Any, theirs: Any, path: str = "") -> Iterator[tuple[str, str, str]]:
    """Yield path, our value and their value where two versions differ, in the order of ours.

    Lists of sections of unlike length are one difference: which entry is which cannot be told.
    """
    if isinstance(ours, Mapping) and isinstance(theirs, Mapping):
        for key in dict.fromkeys([*ours, *theirs]):
            yield from differences(ours.get(key), theirs.get(key), f"{path}.{key}" if path else key)
    elif _is_point(ours) and _is_point(theirs):
        for end, one, other in zip("xz", ours, theirs, strict=True):
            yield from differences(one, other, f"{path}.{end}")
    elif isinstance(ours, list) and isinstance(theirs, list) and len(ours) == len(theirs):
        for number, (one, other) in enumerate(zip(ours, theirs, strict=True)):
            yield from differences(one, other, f"{path}.{number}")
    elif isinstance(ours, Mapping) and theirs is None:
        yield from differences(ours, {}, path)
    elif isinstance(theirs, Mapping) and ours is None:
        yield from differences({}, theirs, path)
    elif type(ours) is not type(theirs) or ours != theirs:
        yield path, _said(ours), _said(theirs)


def _is_point(value: Any) -> bool:
    return isinstance(value, list) and len(value) == 2 and all(isinstance(part, (str, int, float)) for part in value)


def _said(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if _is_point(value):
        return ", ".join(map(str, value))
    if isinstance(value, list):
        return "1 entry" if len(value) == 1 else f"{len(value)} entries"
    return "a section" if isinstance(value, Mapping) else str(value)
