"""The name of a new project's file, made from what the builder calls the project."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from typing import Final

from loftwright.core.errors import Fault, ProjectFault
from loftwright.project.reading import quoted

SUFFIX: Final = ".toml"
LONGEST_NAME: Final = 60
FIRST_NAME: Final = "my roof"
_KEPT_BY_SYSTEMS: Final = frozenset(
    {"con", "prn", "aux", "nul", *(f"{word}{n}" for word in ("com", "lpt") for n in range(10))}
)
NAME: Final = "The project's name"


def file_name(name: str) -> str:
    """Return the name of the file for a project's name: letters and digits, with hyphens between the words.

    Errors: ProjectFault for a name of which no file can be made on every system, or that looks like a path.
    """
    text = unicodedata.normalize("NFC", name).strip()
    allowed, do = "letters, digits and spaces make a file's name", "choose another name"
    if not text:
        raise ProjectFault([Fault(NAME, "empty", "the file is called by it", f'write one, such as "{FIRST_NAME}"')])
    if any(c in "/\\" for c in text) or text.startswith("."):
        raise ProjectFault([Fault(NAME, quoted(text), f"it must not look like a path; {allowed}", do)])
    if not text.isprintable():
        raise ProjectFault([Fault(NAME, "written with characters that cannot be seen", allowed, do)])
    if len(text) > LONGEST_NAME or len(text.encode("utf-8")) > 3 * LONGEST_NAME:
        raise ProjectFault([Fault(NAME, f"{len(text)} characters long", f"{LONGEST_NAME} are the most", "shorten it")])
    stem = "-".join(re.findall(r"[\w]+", text.casefold().removesuffix(SUFFIX))).replace("_", "-").strip("-")
    if not stem:
        raise ProjectFault([Fault(NAME, quoted(text), allowed, do)])
    if stem in _KEPT_BY_SYSTEMS:
        raise ProjectFault([Fault(NAME, quoted(text), "some systems keep this name for a device", do)])
    return stem + SUFFIX


def fresh_name(taken: Iterable[str]) -> str:
    """Return a name for a project of which no file is there yet; `taken` are the names of files."""
    there = frozenset(taken)
    count, name = 1, FIRST_NAME
    while file_name(name) in there:
        count += 1
        name = f"{FIRST_NAME} {count}"
    return name
