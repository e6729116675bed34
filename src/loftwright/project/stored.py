"""Answers that take long, kept in a file beside the project file, each with a stamp of what it was worked out from.

The file can be thrown away at any time: everything in it can be worked out again. What cannot be read counts as not
there. Names: `roof.toml` keeps its answers in `roof.kept.json`.
"""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any, Final

from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.writing import get, write_all

BEGINS: Final = b'{"form": '
"""How every file of kept answers begins."""
FORM: Final = 1
"""Version of the file's form; answers of another one count as not there."""
MOST_BYTES: Final = 20_000_000


def stamp_of(inputs: Any) -> str:
    """Return a mark of what an answer is worked out from: numbers, texts, lists and tables of them.

    Numbers count to nine digits, so that they outlive being written and read.
    """
    return hashlib.sha256(json.dumps(_rounded(inputs), sort_keys=True).encode()).hexdigest()[:32]


def _rounded(value: Any) -> Any:
    if isinstance(value, float):
        return f"{value:.9g}"
    if isinstance(value, dict):
        return {str(key): _rounded(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [_rounded(part) for part in value]
    return value


def kept_beside(project_file: Path) -> Path:
    """Return the file in which the answers of a project file are kept."""
    return project_file.with_name(f"{project_file.stem}.kept.json")


def _all(path: Path) -> dict[str, Any]:
    """Return the answers in a file by their names; nothing where it is not there or not of our form."""
    try:
        found = json.loads(get(path, MOST_BYTES, "a file of kept answers"))
    except (ProjectFault, ValueError, RecursionError):
        return {}
    if not isinstance(found, dict) or found.get("form") != FORM or not isinstance(found.get("answers"), dict):
        return {}
    return {
        name: one
        for name, one in found["answers"].items()
        if isinstance(one, dict) and isinstance(one.get("stamp"), str) and "answer" in one
    }


def kept(path: Path, name: str) -> tuple[str, Any] | None:
    """Return stamp and content of a kept answer, None where there is none that can be read."""
    one = _all(path).get(name)
    return None if one is None else (one["stamp"], one["answer"])


def _ours(path: Path) -> bool:
    """Whether a file looks like one that was written here, of whatever form."""
    try:
        return get(path, MOST_BYTES, "a file of kept answers")[: len(BEGINS)] in (b"", BEGINS)
    except ProjectFault:
        return False


def keep(path: Path, name: str, stamp: str, answer: Any) -> None:
    """Keep an answer under its name, beside the others in the file; written whole or not at all.

    `answer` is made of numbers, texts, lists and tables. Errors: ProjectFault where it cannot be written.
    """
    there = _all(path)
    if path.is_symlink() or (path.exists() and not there and not _ours(path)):
        fault = Fault(str(path), "not a file of kept answers", "nothing is written over it", "move it away")
        raise ProjectFault([fault])
    every = {**there, name: {"stamp": stamp, "answer": answer}}
    write_all({path: json.dumps({"form": FORM, "answers": every}, allow_nan=False).encode()})
