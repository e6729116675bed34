"""What is left to push with once friction is taken from a listed force, and what is taken where a word is unknown.

F1, the force moving out, is the listed force less a share of the full friction loop: none of it where F1 is
listed, half where the middle is, all of it where F3 is.
"""

from __future__ import annotations

from typing import TypeVar, cast

from loftwright.core.choices import Units
from loftwright.core.quantity_text import format_quantity
from loftwright.core.uncertain import Provenance, even, exact
from loftwright.core.units import Dimension
from loftwright.project.choice_sections import AtHand
from loftwright.project.motion_sections import Spring

Described = TypeVar("Described", bound=Spring | AtHand)

LEAST_FIRST_FORCE = 5.0
"""Least force of a spring that pushes at all [N]. Kind: judgement."""

LOOP_SHARES = {"F1": 0.0, "middle": 0.5, "F3": 1.0}
"""How much of the full friction loop lies between a listed force and F1 [1], by what that force means."""


def _share(spring: Spring | AtHand) -> float:
    """Return how much of the friction, as the file counts it, lies between the listed force and F1 [1]."""
    return LOOP_SHARES[spring.force_is] * (2.0 if spring.friction_is == "half loop" else 1.0)


def first_force(spring: Spring | AtHand) -> float:
    """Return the least F1 [N] of the nominal spring and of the ends of the ranges that were written."""
    force, friction = spring.force, spring.friction
    low = force.nominal if force.provenance is Provenance.UNKNOWN else force.low
    high = friction.nominal if friction.provenance is Provenance.UNKNOWN else friction.high
    return low - _share(spring) * high


def settled(
    spring: Described, where: str, units: Units, *, which_force: bool, which_friction: bool
) -> tuple[Described, list[str]]:
    """Return the spring with the doubt that unknown words bring, and in sentences what was taken beyond it.

    `which_force` and `which_friction`: whether it is unknown what the force and the friction are. What is
    unknown is taken within what the other number leaves possible; what is written stays as it is.
    """
    said: list[str] = []

    def span(low: float, high: float) -> str:
        ends = (format_quantity(exact(end), Dimension.FORCE, units, digits=4) for end in (low, high))
        return " to ".join(ends)

    force, friction, share = spring.force, spring.friction, _share(spring)
    if which_friction:
        provenance = friction.provenance if friction.provenance is Provenance.UNKNOWN else Provenance.ASSUMED
        friction = even(friction.low, 2 * friction.high, provenance)
    if which_force:
        # As F3 the whole loop lies between the listed force and F1.
        share *= 2
    room = (force.low if force.provenance is not Provenance.UNKNOWN else force.nominal) - LEAST_FIRST_FORCE
    if share and friction.provenance is Provenance.UNKNOWN and share * friction.high > room:
        high = room / share
        friction = even(min(friction.low, high / 2), high, Provenance.UNKNOWN)
        said.append(
            f"{where} friction is unknown: taken as {span(friction.low, high)}, as the force leaves no room for more."
        )
    needed = share * friction.high + LEAST_FIRST_FORCE
    if force.provenance is Provenance.UNKNOWN and force.low < needed:
        force = even(needed, max(force.high, 2 * needed), Provenance.UNKNOWN)
        said.append(f"{where} force is unknown: taken as {span(force.low, force.high)}, more than the friction.")
    if which_force:
        half = share * friction.high / 2
        below = max(0.0, min(half, force.low - half - LEAST_FIRST_FORCE))
        if below < half:
            said.append(
                f"{where} force_is is unknown: F3 is left out, since the friction would take all of the force or more."
            )
        force = even(force.low - below, force.high + half, Provenance.ASSUMED)
    return cast(Described, spring.model_copy(update={"force": force, "friction": friction})), said
