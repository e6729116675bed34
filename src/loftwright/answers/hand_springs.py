"""Springs at hand as a page shows them: what is known of each kind, and the test at home for a force nobody knows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from loftwright.answers.views import wording
from loftwright.core.uncertain import Provenance
from loftwright.core.views import Fact
from loftwright.project.choice_sections import AtHand
from loftwright.project.model import Project
from loftwright.reference.fitting import HOME_CAUTIONS, HOME_TEST


@dataclass(frozen=True, slots=True)
class HandSprings:
    """Springs at hand: what is known of each kind, and how to find a force that nobody knows.

    `unknown`: whether the force of any is neither written nor tested.
    """

    kinds: tuple[Fact, ...]
    unknown: bool
    test: tuple[str, ...]
    cautions: tuple[str, ...]


_KNOWN: Final = {
    Provenance.MEASURED: "as measured",
    Provenance.LABEL: "as its label says",
    Provenance.ASSUMED: "as assumed",
    Provenance.SUGGESTED: "as the program suggests",
    Provenance.GIVEN: "as written",
    Provenance.UNKNOWN: "nobody knows its force: test it at home",
}


def hand_springs(project: Project) -> HandSprings:
    """Return the springs at hand of a project, and the test at home."""
    kinds = tuple(_kind(project, one) for one in project.at_hand)
    unknown = any(_is_open(one) for one in project.at_hand)
    return HandSprings(kinds, unknown, HOME_TEST, HOME_CAUTIONS)


def _is_open(one: AtHand) -> bool:
    return one.home_test is None and one.force.provenance is Provenance.UNKNOWN


def _kind(project: Project, one: AtHand) -> Fact:
    say = wording(project)
    pieces = f"{one.pieces} {'piece' if one.pieces == 1 else 'pieces'}"
    if one.home_test is not None:
        return Fact(one.name, pieces, "force by a test at home")
    if _is_open(one):
        return Fact(one.name, pieces, _KNOWN[Provenance.UNKNOWN])
    return Fact(one.name, f"{pieces}, {say.force(one.force.nominal)}", f"force {_KNOWN[one.force.provenance]}")
