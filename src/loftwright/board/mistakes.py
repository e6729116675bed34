"""A mistake of the program itself: one sentence for the page, the whole of it for who started the program."""

from __future__ import annotations

import sys
import traceback
from typing import Final

from loftwright.documents.typeset import printable

LONGEST: Final = 200
"""Letters of what went wrong that are shown."""


def mistake(error: BaseException) -> str:
    """Return a sentence on a mistake of the program; where and how it came about goes to standard error."""
    traceback.print_exception(error, file=sys.stderr)
    what = " ".join(f"{type(error).__name__}: {error}".split())[:LONGEST].rstrip(": .")
    return f"This is a mistake of the program ({printable(what)}); your file is as it was last saved."
