"""What an action answers: one sentence, and which fields are at fault."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from dataclasses import dataclass, replace
from typing import Any, Final

from loftwright.board.desk import Desk
from loftwright.core.choices import Spelling
from loftwright.core.errors import Fault, LoftwrightError, ProjectFault
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


OF_FILE: Final = "of_file"
"""The field by which every form says of which file its page is."""
SEEN: Final = "seen"
"""The field by which every form says which version of the file its page showed."""
OTHER_FILE: Final = "Another project is open now: load the page again."


class Form(dict[str, str]):
    """The fields of a form as they were sent. Errors: ProjectFault where one is asked for that is not there."""

    def __missing__(self, name: str) -> str:
        """Refuse a form without a field that it needs."""
        raise ProjectFault([Fault("The form", "not whole", f"it lacks {name}", "load the page again and send it anew")])


Action = Callable[[Desk, Form], Awaitable[Said]]


def refused(error: LoftwrightError) -> Said:
    """Return the answer to what cannot be done: a sentence for each mistake."""
    if isinstance(error, ProjectFault):
        faults = tuple((fault.where, fault.sentence()) for fault in error.faults)
        return Said(False, " ".join(said for _, said in faults), faults)
    text = str(error)
    return Said(False, text if text.endswith(".") else f"{text}.")
