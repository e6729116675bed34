"""Whether there is room to stand, walk and sit up: rules and judgements over the map of the floor."""

from __future__ import annotations

from typing import Final

from numpy.typing import ArrayLike

from loftwright.core.checks import Rule, Source
from loftwright.core.judged import Judged, against
from loftwright.core.motion import array_of
from loftwright.fitout.headroom import Walk
from loftwright.reference.people import ANSUR, SITTING, height_of

AREA_WANTED: Final = 0.5
"""Floor on which one stands, turns and dresses [m2]: judgement."""
WALK_WANTED: Final = 0.9
"""Straight way from the bed to the door or the stove [m]: judgement."""
SIT_UP: Final = height_of(SITTING["men"], 0.95)
"""Height free over the bed so that 95 in 100 men sit up in it [m]; `reference.people.SITTING`."""

_SETTING = Source("judgement", "a setting of the project file", "judgement")

AREA_SMALL: Final = Rule(
    "ROOM-2101",
    "Hardly any floor is free and high enough to stand on",
    "Floor enough is free and high enough to stand on",
    "m2",
    "at least",
    "Bed and cupboards stand where the roof is highest, or the roof is high only over a corner.",
    "Move the bed to the low end, open further, or hinge the shell at the other end.",
    _SETTING,
)
WALK_SHORT: Final = Rule(
    "ROOM-2102",
    "You cannot take two steps upright",
    "You can take two steps upright",
    "m",
    "at least",
    "A high spot of which one cannot walk out is little use with a pan in the hand.",
    "Clear a straight strip of floor under the high part, or open further.",
    _SETTING,
)
SITTING_LOW: Final = Rule(
    "ROOM-2103",
    "You hit your head when you sit up in bed",
    "You can sit up in bed",
    "short m",
    "at least",
    "A sleeper who starts up hits the shell, its frame or a latch.",
    "Lower the bed, turn it so that the pillow lies under the high end, or pad what is above it.",
    ANSUR,
)


def stands(area: ArrayLike, wanted: ArrayLike = AREA_WANTED) -> Judged:
    """Return the floor `area` to stand on against the one `wanted` [m2], each [...]."""
    return against(AREA_SMALL, area, wanted)


def walks(walk: Walk, wanted: ArrayLike = WALK_WANTED) -> Judged:
    """Return the walk along the van, upright, against the one `wanted` [m], each [...]."""
    return against(WALK_SHORT, walk.along, wanted)


def sits_up(over_pillow: ArrayLike, mattress: ArrayLike = 0.0, wanted: ArrayLike = SIT_UP, which: str = "") -> Judged:
    """Return the room over the pillow against the height `wanted` sitting up [m], each [...].

    `over_pillow` is the height over the bed board, `mattress` its pressed thickness [m]; `which` says open or closed.
    """
    return against(SITTING_LOW, array_of(over_pillow) - array_of(mattress), wanted, which)
