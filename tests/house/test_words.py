"""The repository speaks of the product alone: no paths of one machine, no talk of how the work was organised."""

from __future__ import annotations

import re

import pytest

# The words are put together here so that this file does not hold them.
FORBIDDEN = {
    "a path of one machine": r"(?:^|[^\w.])/(?:wor" + r"k|far" + r"m|roo" + r"t|hom" + r"e|Use" + r"rs)/\w",
    "a drive of one machine": r"\b[A-Z]:\\Use" + r"rs",
    "a job folder": "bash_" + "jobs",
    "talk of a recording": "transcr" + "ipt",
    "talk of a first text": "seed " + "document",
    "a wrong word for how a value was confirmed": "stored " + "(?:public )?cop" + "y",
    "talk of who wrote it": r"\b(?:sub-?age" + r"nt|AI age" + r"nt|language mod" + r"el|chat" + r"bot)s?\b",
    "talk of an order": r"\b(?:as|in|per|by) the (?:iss" + r"ue|spe" + r"c|bri" + r"ef)\b",
}


@pytest.mark.parametrize("what", FORBIDDEN)
def test_no_forbidden_words(texts: dict[str, str], what: str) -> None:
    pattern = re.compile(FORBIDDEN[what], re.IGNORECASE)
    faults = [
        f"{name}:{number}: {line.strip()[:100]}"
        for name, text in texts.items()
        if not name.endswith((".svg", ".min.js"))
        for number, line in enumerate(text.splitlines(), 1)
        if pattern.search(line)
    ]
    assert faults == []


def test_nothing_in_the_package_is_left_open(texts: dict[str, str]) -> None:
    open_end = re.compile(r"\b(?:TO" + r"DO|FIX" + r"ME|XX" + r"X|NotImplemented" + r"Error)\b")
    faults = [name for name, text in texts.items() if name.startswith("src/") and open_end.search(text)]
    assert faults == []
