"""Whether the latched roof stays on the van at speed: rules and judgements.

None of this is an assessment of a crash or of roll-over. Nobody rides under the roof while it is open.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.core.checks import Rule, Source
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.strength.road_forces import RoadForces

_BALANCE = Source("derivation", "rigid shell on hinges, latches and stops, docs/theory-strength.md", "derivation")
_BOLTED = Source(
    "shigley-mechanical-engineering-design", "preloaded joint with an external load (from memory)", "handbook"
)
_SETTING = Source("judgement", "a setting of the project file", "judgement")

LATCH_WEAK: Final = Rule(
    "ROAD-901",
    "The latches give way at speed",
    "The latches hold at speed",
    "N",
    "at most",
    "Air sucks at the top of the shell with the square of the speed, and seal, springs and bumps push with it.",
    "Fit stronger latches or more of them, stiffen the bar between them, or drive slower.",
    _BALANCE,
)
HINGE_WEAK: Final = Rule(
    "ROAD-902",
    "The hinges give way at speed",
    "The hinges hold at speed",
    "N",
    "at most",
    "The hinges take their share of the uplift, all of the drag and every bump.",
    "Fit stronger hinges on larger plates, a lower front to the shell, or drive slower.",
    _BALANCE,
)
STOPS_FREE: Final = Rule(
    "ROAD-903",
    "The shell lifts off its stops at speed and chatters",
    "The shell stays pressed on its stops at speed",
    "N",
    "at least",
    "Once a stop is free the latch feels every gust and bump in full, wears and works loose.",
    "Set the latches tighter, use stiffer stops, or lighter springs.",
    _BOLTED,
)
SEAL_CARRIES: Final = Rule(
    "ROAD-904",
    "The seal carries the closed shell instead of its stops",
    "Solid stops carry the closed shell before the seal does",
    "N",
    "at least",
    "A shell that rests on rubber moves on every bump and squeezes its seal flat for good.",
    "Set the stops so that they touch before the seal is fully squeezed, and draw the latches down onto them.",
    _SETTING,
)
ONE_LATCH_LOST: Final = Rule(
    "ROAD-905",
    "When one latch lets go the next part follows",
    "The rest holds when one latch lets go",
    "N",
    "at most",
    "A latch left open or broken throws its share on its neighbours and on the hinges.",
    "Fit one latch more than needed, stronger ones, or a strap across the shell for the road.",
    _BALANCE,
)
CATCH_MISSING: Final = Rule(
    "ROAD-906",
    "Nothing holds the shell if its latches open on the road",
    "A second catch holds the shell if its latches open on the road",
    "yes or no",
    "at least",
    "A shell hinged at the rear opens into the wind like a bonnet and is torn off.",
    "Fit a catch that works by itself, apart from the latches, and a sign at the driver's seat.",
    Source("common-practice", "as for bonnets that open into the wind", "common practice"),
)
CATCH_WEAK: Final = Rule(
    "ROAD-907",
    "The safety catch breaks when the latches open at speed",
    "The safety catch holds when the latches open at speed",
    "N",
    "at most",
    "A load that comes suddenly stretches what stops it twice as far, and slack makes it worse.",
    "Fit a stronger catch with less slack, or far from the hinges.",
    Source("timoshenko-strength-1", "suddenly applied load (from memory)", "handbook"),
)
LIP_GAPES: Final = Rule(
    "ROAD-908",
    "The lip gapes between the latches at speed",
    "The lip stays on its seal between the latches",
    "short m",
    "at most",
    "Latches hold points; what is between them bends up until the seal lets air and water in.",
    "Fit a stiffer bar, or latches closer together.",
    Source(
        "derivation", "bar on elastic latches, docs/theory-strength.md; limit is how far the seal follows", "derivation"
    ),
)


@dataclass(frozen=True, slots=True)
class RoadLimits:
    """What the parts of a closed roof may carry, each [...]; None where it is not known.

    `latch`, `hinge` and `catch` are strengths of one [N], over `safety` [1], or over `rare` [1] once a latch has let go
    (None: the same); `stop` [N] is the least push that counts as pressed; `follow` [m] is how far the seal follows a
    lip that rises.
    """

    latch: Array | None
    hinge: Array | None
    catch: Array | None
    safety: Array
    stop: Array
    follow: Array
    rare: Array | None = None


def _judge(rule: Rule, value: Array, limit: Array | None, ask: str, missing: str, which: str = "") -> Judged:
    if limit is None:
        return Judged(rule, value, None, which, ask, missing)
    got, allowed = np.broadcast_arrays(value, limit)
    return Judged(rule, got, allowed, which)


def judge_road(
    forces: RoadForces, limits: RoadLimits, *, hinged: bool, opens_into_wind: bool, has_catch: bool
) -> tuple[Judged, ...]:
    """Return the judgements on the latched roof, value and limit [draws] each."""

    def over(strength: Array | None, safety: Array) -> Array | None:
        return None if strength is None else np.asarray(strength / safety)

    rare = limits.safety if limits.rare is None else limits.rare
    latch, hinge = over(limits.latch, limits.safety), over(limits.hinge, limits.safety)
    latch_left, hinge_left, catch = (over(each, rare) for each in (limits.latch, limits.hinge, limits.catch))
    one = np.ones(np.shape(forces.hinge))
    ask_latch, ask_hinge = "what one latch and its bolts carry", "what one hinge and its bolts carry"
    found = [
        _judge(LATCH_WEAK, forces.latch.max(axis=-1), latch, ask_latch, "latch_limit"),
        _judge(STOPS_FREE, forces.stop.min(axis=-1), limits.stop, "", ""),
        _judge(SEAL_CARRIES, forces.stop_rest.min(axis=-1), limits.stop, "", ""),
        _judge(ONE_LATCH_LOST, forces.latch_lost, latch_left, ask_latch, "latch_limit", "latches"),
    ]
    if hinged:
        found += [
            _judge(HINGE_WEAK, forces.hinge, hinge, ask_hinge, "hinge_limit"),
            _judge(ONE_LATCH_LOST, forces.hinge_lost, hinge_left, ask_hinge, "hinge_limit", "hinges"),
            _judge(LIP_GAPES, forces.gape, limits.follow, "", ""),
        ]
    if opens_into_wind:
        found.append(_judge(CATCH_MISSING, one * float(has_catch), one, "", ""))
    if has_catch:
        ask = "what the safety catch and its bolts carry"
        found.append(_judge(CATCH_WEAK, forces.catch, catch, ask, "catch_limit"))
    return tuple(found)
