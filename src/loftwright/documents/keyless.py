"""Sentences without the keys of the project file, for who never sees the file."""

from __future__ import annotations

import re
from typing import Final

_KEY: Final = re.compile(r" \([a-z_]+(?:\.[a-z0-9_]+)+\)")


def keyless(text: str) -> str:
    """Return a text without keys of the file in brackets.

    >>> keyless("measure first: the shell's thickness (shell.thickness); 90 of 100 (as drawn)")
    "measure first: the shell's thickness; 90 of 100 (as drawn)"
    """
    return _KEY.sub("", text)
