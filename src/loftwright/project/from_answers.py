"""From what was typed at the terminal to a project, units and a list of what is at hand; every fault is said."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import cast, get_args

from loftwright.core.choices import Units
from loftwright.core.errors import Fault, ProjectFault
from loftwright.plan.scout import AtHand
from loftwright.project.file import loads
from loftwright.project.model import Project
from loftwright.project.newfile import FiveAnswers, new_project
from loftwright.project.reading import nearest, quoted


def _one_of(where: str, word: str, words: Sequence[str]) -> str:
    if word in words:
        return word
    near = nearest(word, words)
    do = f'write "{near}"' if near else "choose one of them"
    raise ProjectFault([Fault(where, quoted(word), "one of " + ", ".join(f'"{w}"' for w in words), do)])


def units_of(word: str) -> Units:
    """Return a word as a system of units. Errors: ProjectFault."""
    return cast(Units, _one_of("units", word, get_args(Units)))


def at_hand_of(words: Sequence[str]) -> frozenset[AtHand]:
    """Return words as what is at hand already; a word may hold several with commas. Errors: ProjectFault."""
    known = get_args(AtHand)
    every = [part.strip() for word in words for part in word.split(",")]
    return frozenset(cast(AtHand, _one_of("what is at hand", word, known)) for word in every if word != "nothing")


def project_from(answers: FiveAnswers, units: str = "metric", name: str = "my roof") -> Project:
    """Return the project that five answers make. Errors: ProjectFault."""
    return loads(new_project(answers, units_of(units), name), name)


def without_answers(answers: Mapping[str, str | None]) -> None:
    """Refuse answers beside a project that holds them already. Errors: ProjectFault."""
    faults = [
        Fault(key.replace("_", " "), "given beside a project", "the project holds it already", "leave one out")
        for key, answer in answers.items()
        if answer is not None
    ]
    if faults:
        raise ProjectFault(faults)
