"""Whether the seal goes round the corners and lets water off: rules and judgements.

Whether it fills the gap and is not crushed is judged with the seat; what it does to latches and stops with the road.
"""

from __future__ import annotations

from typing import Final

from numpy.typing import ArrayLike

from loftwright.core.checks import Rule, Source
from loftwright.core.judged import Judged, against
from loftwright.core.motion import Flags
from loftwright.fitout.seal import joint_to_water, wet_length

WET_ALLOWED: Final = 0.5
"""Length of seal that may stand in water before it dries [m]: judgement."""
JOINT_DRY: Final = 0.10
"""How far the seal's joint stays from standing water [m]: judgement."""

CORNER_TIGHT: Final = Rule(
    "SEAL-2001",
    "The seal kinks in the corners and leaks there",
    "The seal bends round the corners without a kink",
    "short m",
    "at least",
    "A hollow seal bent too tightly folds flat on the inside of the bend and stands off the roof.",
    "Round the corners more, take a seal that bends tighter, or cut it at the corner and fit a moulded or glued one.",
    Source("common-practice", "bend a sample until it folds; the radius just before is the least", "common practice"),
)
WATER_STANDS: Final = Rule(
    "SEAL-2002",
    "Water stands along the seal",
    "Water runs off along the seal",
    "m",
    "at most",
    "Standing water finds each pinhole, freezes the seal to the roof and starts rust at the cut edge.",
    "Leave a gap in the outer lip or set a drain at the lowest place, and park with that side or end down.",
    Source("judgement", "water spreads along the seal's path; the allowed length is a setting", "judgement"),
)
JOINT_WET: Final = Rule(
    "SEAL-2003",
    "The seal's joint lies in standing water",
    "The seal's joint lies clear of standing water",
    "short m",
    "at least",
    "The joint of the two ends is the first place to open.",
    "Put the joint at the rear where the roof is highest, glue it over its whole face, and drain the hollow beside it.",
    Source("common-practice", "joint at the rear, away from hollows", "common practice"),
)


def bends(corner_radius: ArrayLike, least_bend: ArrayLike | None) -> Judged:
    """Return the radius of the corners against the least one that the seal bears [m], each [...].

    `corner_radius` of the seal's middle line; `least_bend` None where no sample has been bent yet.
    """
    if least_bend is None:
        return Judged(
            CORNER_TIGHT, None, None, "", "how tightly a sample of the seal bends before it folds", "seal_bend"
        )
    return against(CORNER_TIGHT, corner_radius, least_bend)


def runs_off(wet: Flags, step: ArrayLike, allowed: ArrayLike = WET_ALLOWED) -> Judged:
    """Return the length of seal that stands in water against the `allowed` one [m], [...].

    `wet` [..., k] from `standing_water`, `step` of each station [m], [..., k].
    """
    return against(WATER_STANDS, wet_length(wet, step), allowed)


def joint_dry(wet: Flags, step: ArrayLike, joint: int, wanted: ArrayLike = JOINT_DRY) -> Judged:
    """Return how far station `joint` lies from standing water against the distance `wanted` [m], [...].

    `wet` [..., k], `step` of each station [m], [..., k].
    """
    return against(JOINT_WET, joint_to_water(wet, step, joint), wanted)
