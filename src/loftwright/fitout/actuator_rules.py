"""Whether a powered lift is strong, quick, safe and holds: rules and judgements.

None of this is an assessment of the safety of a machine. Prop the roof before anyone is under it.
"""

from __future__ import annotations

from typing import Final

from numpy.typing import ArrayLike

from loftwright.core.checks import Rule, Source
from loftwright.core.judged import Judged, against
from loftwright.core.motion import array_of
from loftwright.fitout.actuator import BUCKLING_MARGIN, EULER, PINCH, PINCH_LIMIT, Hardest, Spare

FORCE_MARGIN: Final = 1.5
"""Rated force over the greatest one needed [1]. Judgement: cold grease, a low battery, wear."""
TIME_WANTED: Final = 60.0
"""Time to open [s]: judgement; one stands beside it with a finger on the switch."""
END_MARGIN: Final = 0.005
"""Stroke left at each end, so that its own switch does not stop it before the roof's stop does [m]: judgement."""
CRANK_HAND: Final = 60.0
"""Force at a crank that most people keep up for a few minutes [N]: judgement."""

_WORK = Source("derivation", "virtual work over the travel", "derivation")
_SETTING = Source("judgement", "a setting of the project file", "judgement")

LIFT_WEAK: Final = Rule(
    "LIFTER-2201",
    "The actuators stall on the way",
    "The actuators are strong enough over the whole travel",
    "N",
    "at most",
    "The leverage is poorest near closed, and cold, wet cloth and snow come on top there.",
    "Mount them further from the hinge, fit stronger ones, or let gas springs carry the weight.",
    _WORK,
)
LIFT_SLOW: Final = Rule(
    "LIFTER-2202",
    "The roof takes too long to open",
    "The roof opens soon enough",
    "s",
    "at most",
    "The switch is held by hand with the roof in sight; what takes minutes is left alone and goes wrong unseen.",
    "Take a faster actuator, or a shorter stroke with more force closer to the hinge.",
    _SETTING,
)
LIFT_SINKS: Final = Rule(
    "LIFTER-2203",
    "The roof sinks when the current is off",
    "The roof stays up when the current is off",
    "N",
    "at least",
    "Each actuator must hold its share by friction or a brake alone, for nights on end.",
    "Take one with a greater holding force or a brake, or let gas springs carry more of the weight. Prop it anyway.",
    _WORK,
)
STROKE_ENDS: Final = Rule(
    "LIFTER-2205",
    "The actuator's stroke is too short or its body too long",
    "The actuator has stroke to spare at both ends",
    "short m",
    "at least",
    "At its own end it tears at its brackets or leaves the roof ajar, and its end switch stops it too soon or never.",
    "Move a bracket, or take another stroke. Its end switches must act before anything else stops it.",
    Source("derivation", "distance of the pins over the travel", "derivation"),
)
PINCHES: Final = Rule(
    "LIFTER-2206",
    "A hand or a neck caught in the roof is crushed",
    "The drive gives up before it hurts what is caught",
    "N",
    "at most",
    "A motor does not feel a finger. It pulls until it stalls or is cut off, and the roof's weight comes first.",
    "Set the current cut-off lower, let springs carry the weight, fit a safety edge that turns it back, and hold the "
    "switch by hand with the roof in sight.",
    PINCH,
)
OUT_OF_STEP: Final = Rule(
    "LIFTER-2207",
    "Two actuators out of step wring the shell",
    "Two actuators keep near enough in step",
    "rad",
    "at most",
    "Of two motors of one kind the one that carries more runs slower, and nothing tells the other.",
    "Take a pair that counts turns and waits for each other, tie both sides with a stiff shaft, or use one only.",
    Source("derivation", "speeds apart over the stroke; what the shell bears is measured", "derivation"),
)
ROD_BENDS: Final = Rule(
    "LIFTER-2208",
    "The actuator's rod buckles",
    "The actuator's rod stays straight",
    "N",
    "at most",
    "A long thin rod that pushes bends sideways, the more so when its mounts are not in line.",
    "Take a thicker rod or a shorter stroke, mount it so that it pulls, or let springs carry more.",
    EULER,
)


def strong_enough(worst: Hardest, rated: ArrayLike, which: str = "", margin: ArrayLike = FORCE_MARGIN) -> Judged:
    """Return the greatest force needed of one actuator against its `rated` one over `margin` [N; 1], each [...].

    `worst` [N] over the travel; `which` names the day: "hot", "cold", "snow on top".
    """
    return against(LIFT_WEAK, worst.most, array_of(rated) / array_of(margin), which)


def quick_enough(time: ArrayLike, wanted: ArrayLike = TIME_WANTED) -> Judged:
    """Return the `time` to open against the one `wanted` [s], each [...]."""
    return against(LIFT_SLOW, time, wanted)


def stays_up(holding: ArrayLike | None, worst: Hardest, margin: ArrayLike = FORCE_MARGIN) -> Judged:
    """Return the `holding` force of one unpowered actuator against `margin` [1] x the greatest needed [N], each [...].

    `holding` is what the list calls static load or holding force [N]; None where it is not known.
    """
    limit = array_of(margin) * worst.most
    if holding is None:
        return Judged(LIFT_SINKS, None, limit, "", "what one actuator holds without current", "holding_force")
    return against(LIFT_SINKS, holding, limit)


def stroke_fits(spare: Spare, margin: ArrayLike = END_MARGIN) -> tuple[Judged, Judged]:
    """Return what is left of the stroke, drawn in and reached out, against the `margin` [m], each [...]."""
    return (
        against(STROKE_ENDS, spare.inward, margin, "drawn in"),
        against(STROKE_ENDS, spare.outward, margin, "reached out"),
    )


def pinches(edge: ArrayLike, allowed: ArrayLike = PINCH_LIMIT, which: str = "") -> Judged:
    """Return the greatest force at the `edge` over the travel against the one `allowed` [N].

    `edge` [..., n] from `actuator.edge_force`; `allowed` [...]; `which` says closing or opening.
    """
    return against(PINCHES, array_of(edge).max(axis=-1), allowed, which)


def in_step(twisted: ArrayLike, borne: ArrayLike | None) -> Judged:
    """Return how far the shell is `twisted` against what it bears, `borne` [rad], each [...]; None: not measured."""
    if borne is None:
        ask = "how far the shell can be twisted: three supports, a known weight and a tape"
        return Judged(OUT_OF_STEP, array_of(twisted), None, "", ask, "twist_borne")
    return against(OUT_OF_STEP, twisted, borne)


def rod_straight(worst: Hardest, bends_at: ArrayLike, margin: ArrayLike = BUCKLING_MARGIN) -> Judged:
    """Return the greatest push of one actuator against its bending load `bends_at` over `margin` [N; 1], each [...]."""
    return against(ROD_BENDS, worst.push, array_of(bends_at) / array_of(margin))
