"""Keys of an answer as JSON, against the page of the reference that explains them."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

DIRECTION = re.compile(r"\.(?:front|rear|left|right)$")
NOT_EXPLAINED = ("format", "made_with", "project")
"""What every answer has; explained once for all."""


def keys_of(value: Any, at: str = "") -> set[str]:
    """Return every key by its path, those of things in a list once."""
    if isinstance(value, dict):
        return {key for name, part in value.items() for key in keys_of(part, f"{at}.{name}".lstrip("."))}
    if isinstance(value, list) and value and isinstance(value[0], dict):
        return {key for part in value for key in keys_of(part, at)}
    return {at}


def without_direction(key: str) -> str:
    """Return a key that ends in a direction as the reference names it."""
    return DIRECTION.sub("", key)


def named_on(page: Path) -> set[str]:
    """Return the keys that a page of the reference explains in its tables."""
    rows = re.findall(r"^\| (`.*?) \|", page.read_text(encoding="utf-8"), re.MULTILINE)
    return {key for row in rows for key in re.findall(r"`([\w.]+)`", row)}


def assert_explained(keys: set[str], page: Path) -> None:
    """Every key is explained, and no other; a judgement's keys, the same in every answer, but for its question."""
    named = named_on(page)
    plain = {key for key in keys if key.split(".")[0] not in NOT_EXPLAINED}
    found = {key for key in plain if not key.startswith("checks.")} | {"checks.question"}
    assert found - named == set()
    parents = {key.rpartition(".")[0] for key in named}
    assert named - found - parents == set()


def assert_tallied(told: dict[str, Any], questions: tuple[str, ...]) -> None:
    """The tally counts the judgements, and every question has one."""
    verdicts = [check["verdict"] for check in told["checks"]]
    assert told["tally"] == {
        "fails": verdicts.count("fails"),
        "not_known": verdicts.count("not known yet"),
        "holds": verdicts.count("holds"),
    }
    assert {check["question"] for check in told["checks"]} == set(questions)


def assert_alone(alone: dict[str, Any], question: str, questions: tuple[str, ...], judgements: int) -> None:
    """One question alone has nothing of the others; all together have `judgements`."""
    assert set(questions) & set(alone) == {question}
    assert {check["question"] for check in alone["checks"]} == {question}
    assert len(alone["checks"]) < judgements
