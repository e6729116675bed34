"""From the bytes of a project file to its tables, with every fault of the writing said by its line."""

from __future__ import annotations

import hashlib
import os
import re
import tomllib
from pathlib import Path
from typing import Any

from loftwright.core.errors import Fault, ProjectFault
from loftwright.project.reading import quoted

MOST_BYTES = 1_000_000
"""A project file larger than this is refused; a full one has some ten thousand."""


def decoded(data: bytes, name: str) -> str:
    """Return the bytes of a file as text, without a byte order mark. Errors: ProjectFault where it is not UTF-8."""
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


def content_stamp(data: bytes) -> str:
    """Return a mark of a content, the same only for the same bytes."""
    return hashlib.sha256(data).hexdigest()


def place_stamp(path: Path) -> str:
    """Return a mark of a file by where it lies, the same whatever stands in it; `path` is resolved."""
    return hashlib.sha256(os.fsencode(path)).hexdigest()[:PLACE_LETTERS]


PLACE_LETTERS = 16


_TWICE = ("Cannot overwrite a value", "Cannot declare", "Cannot mutate", "Cannot redefine", "Duplicate")


def tables_of(text: str, name: str) -> dict[str, Any]:
    """Return the tables that a text holds. Errors: ProjectFault where it is no TOML or too long."""
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
