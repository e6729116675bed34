"""What an action answers: one sentence, and which fields are at fault."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from loftwright.board.desk import Desk
from loftwright.core.choices import Spelling
from loftwright.core.errors import LoftwrightError, ProjectFault
from loftwright.core.spelling import spelled


@dataclass(frozen=True, slots=True)
class Said:
    """The answer to an action: whether it was done, a sentence, faults by their place, and where to go on."""

    ok: bool
    said: str = ""
    faults: tuple[tuple[str, str], ...] = ()
    go: str = ""

    def spelled(self, words: Spelling, own: tuple[str, ...]) -> Said:
        """Return it in the spelling asked for."""
        faults = tuple((where, spelled(said, words, own)) for where, said in self.faults)
        return replace(self, said=spelled(self.said, words, own), faults=faults)

    def as_json(self) -> dict[str, Any]:
        """Return it for the page's script."""
        faults = [{"where": where, "said": said} for where, said in self.faults]
        return {"ok": self.ok, "said": self.said, "faults": faults, "go": self.go}


Form = Mapping[str, str]
Action = Callable[[Desk, Form], Awaitable[Said]]


def refused(error: LoftwrightError) -> Said:
    """Return the answer to what cannot be done: a sentence for each mistake."""
    if isinstance(error, ProjectFault):
        faults = tuple((fault.where, fault.sentence()) for fault in error.faults)
        return Said(False, " ".join(said for _, said in faults), faults)
    text = str(error)
    return Said(False, text if text.endswith(".") else f"{text}.")
