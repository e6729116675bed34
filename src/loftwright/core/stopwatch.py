"""How long something has taken, in words."""

from __future__ import annotations

import time

from loftwright.core.wording import Wording


class Stopwatch:
    """Runs from the moment it is made."""

    def __init__(self) -> None:
        self._started = time.monotonic()

    def text(self) -> str:
        """Return the time since the start: "1.4 s"."""
        return Wording().time(time.monotonic() - self._started)
