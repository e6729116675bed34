"""How the program speaks: answers on standard output, everything else on standard error.

Nothing here fails because nobody listens: a reader that has gone away ends the writing, not the work.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import sys
from typing import TYPE_CHECKING, TextIO

from loftwright.core.choices import Spelling
from loftwright.core.errors import LoftwrightError, ProjectFault
from loftwright.core.spelling import spelled

if TYPE_CHECKING:
    from loftwright.documents.plain_text import Look


_spelling: tuple[Spelling, tuple[str, ...]] = ("kerb", ())


def spell(words: Spelling, own: tuple[str, ...]) -> None:
    """Speak from here on in the spelling of a project; names of its builder's `own` stay as they are."""
    global _spelling
    _spelling = words, own


def prepare() -> None:
    """Let characters that the terminal cannot show be replaced instead of failing."""
    spell("kerb", ())
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(AttributeError, ValueError):
            stream.reconfigure(errors="replace")  # type: ignore[union-attr]


def answer(text: str) -> None:
    """Write an answer, whole lines, to standard output; what other programs read (JSON) keeps its spelling."""
    _write(sys.stdout, text if text.startswith("{") else spelled(text, *_spelling))


def note(text: str) -> None:
    """Write a line about the work to standard error."""
    with contextlib.suppress(OSError, ValueError):
        _write(sys.stderr, f"{spelled(text, *_spelling)}\n")


def faults(error: LoftwrightError) -> None:
    """Write one sentence for each fault to standard error."""
    if isinstance(error, ProjectFault):
        if error.title:
            note(error.title)
        for fault in error.faults:
            note(fault.sentence())
    else:
        text = str(error)
        note(text if text.endswith(".") else f"{text}.")


def flush() -> None:
    """Send on what was written so far."""
    _write(sys.stdout, "")


def _write(stream: TextIO | None, text: str) -> None:
    if stream is None or stream.closed:
        return
    try:
        stream.write(text)
        stream.flush()
    except BrokenPipeError:
        leave(stream)


def leave(stream: TextIO | None = None) -> None:
    """Send everything from here on to nowhere, so that ending the program does not fail on it either."""
    with contextlib.suppress(OSError, ValueError, AttributeError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, (stream or sys.stdout).fileno())


def look() -> Look:
    """Return how wide the terminal is and whether it wants colour."""
    from loftwright.documents.plain_text import Look

    return Look(shutil.get_terminal_size((80, 24)).columns, _colour(sys.stdout))


def _colour(stream: TextIO | None) -> bool:
    if stream is None or os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb":
        return False
    return stream.isatty()


def asks_back() -> bool:
    """Return whether a person sits at the other end of standard input."""
    return sys.stdin is not None and not sys.stdin.closed and sys.stdin.isatty()
