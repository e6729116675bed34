"""Sentences without keys and sections of the project file, for who never sees the file."""

from __future__ import annotations

import re
from typing import Final

_KEY: Final = re.compile(r" \([a-z_]+(?:\.[a-z0-9_]+)+\)")

_SECTIONS: Final = (
    ("No [[zone]] is written:", "No place for brackets is marked out yet:"),
    ("No [[zone]] and no [[spring]] is written:", "No place for brackets is marked out yet, and there are no springs:"),
)
"""Sentences of the terminal that name sections of the file, and what a page says instead."""


def keyless(text: str) -> str:
    """Return a text without keys of the file in brackets.

    >>> keyless("measure first: the shell's thickness (shell.thickness); 90 of 100 (as drawn)")
    "measure first: the shell's thickness; 90 of 100 (as drawn)"
    >>> keyless("No [[zone]] is written: brackets may move 100 mm along.")
    'No place for brackets is marked out yet: brackets may move 100 mm along.'
    """
    text = _KEY.sub("", text)
    for written, said in _SECTIONS:
        text = text.replace(written, said)
    return text
