"""What every chapter of printed books shares: the width of a page's text, and the paper that goes with units."""

from __future__ import annotations

from typing import Any, Final

from loftwright.core.book_views import Paper

WIDTH: Final = 178.0
"""Width of the printed area of both papers [mm]."""
Chapter = dict[str, Any]


def paper_for(units: str) -> Paper:
    """Return the paper that goes with a system of units."""
    return "letter" if units == "imperial" else "a4"
