"""Whether cable, fuse and loop are sound: rules and judgements.

They say nothing of the rest of the wiring. Local rules and a qualified electrician come first.
"""

from __future__ import annotations

from typing import Final

from numpy.typing import ArrayLike

from loftwright.core.checks import Rule, Source
from loftwright.core.judged import Judged, against
from loftwright.core.motion import array_of
from loftwright.fitout.flex_loop import Loop, least_bend
from loftwright.fitout.fuse import least_rating
from loftwright.reference.wire import BEARS, BENDS, FUSE_MARGIN

DROP_LARGE: Final = Rule(
    "WIRE-2401",
    "Too much of the panel's voltage is lost in the cable",
    "Little of the panel's voltage is lost in the cable",
    "1",
    "at most",
    "A thin long cable turns sun into heat, and a controller that sees too little voltage stops charging.",
    "Fit a thicker or shorter cable, or panels in series for less current.",
    Source("iec-60228", "class 5, warmed; the allowed share is a setting", "standard"),
)
FUSE_LARGE: Final = Rule(
    "WIRE-2402",
    "The cable burns before its fuse blows",
    "The fuse blows before the cable is too hot",
    "1",
    "at most",
    "A fuse saves the cable only if it is rated no higher than what the cable bears where it is hottest.",
    "Fit a thicker cable, one whose insulation bears more heat, or a smaller fuse if the current allows.",
    BEARS,
)
FUSE_SMALL: Final = Rule(
    "WIRE-2403",
    "The fuse blows on a bright day",
    "The fuse bears a bright day",
    "1",
    "at least",
    "A fuse that carries its full rating for hours gets hot, tires and blows without a fault.",
    "Fit the next larger fuse, and a cable that bears it.",
    Source("judgement", "usual rule of 1.25 times the lasting current, NEC 690.9 from memory", "judgement"),
)
LOOP_SHORT: Final = Rule(
    "WIRE-2404",
    "The cable is pulled tight before the roof is open",
    "The cable's loop is long enough for the whole travel",
    "short m",
    "at least",
    "A cable that becomes the roof's top stop is torn out of its gland or its plug.",
    "Cut the loop longer, or move the clips closer to the hinge.",
    Source("derivation", "longest distance of the clips over the travel, with slack", "derivation"),
)
LOOP_TIGHT: Final = Rule(
    "WIRE-2405",
    "The cable is bent too tightly when the roof moves",
    "The cable bends gently when the roof moves",
    "short m",
    "at least",
    "Strands of a cable bent too tightly break one by one inside the sheath, and the last ones get hot.",
    "Set the clips further apart, let both point along the bend, or take a thinner or more flexible cable.",
    BENDS,
)


def drop_small(lost: ArrayLike, voltage: ArrayLike, share: ArrayLike) -> Judged:
    """Return the drop `lost` over `voltage` [V; 1 volt] against the allowed `share` [1], each [...]."""
    return against(DROP_LARGE, array_of(lost) / array_of(voltage), share)


def fuse_saves(rating: ArrayLike, borne: ArrayLike, which: str = "") -> Judged:
    """Return a fuse's `rating` over the current `borne` by its cable, over nought [A; 1 ampere], [...], against 1.

    `which` names the end, panel or battery. The answer is a ratio [1].
    """
    return against(FUSE_LARGE, array_of(rating) / array_of(borne), 1.0, which)


def fuse_lasts(rating: ArrayLike, current: ArrayLike, margin: ArrayLike = FUSE_MARGIN, which: str = "") -> Judged:
    """Return a fuse's `rating` over its least one, `margin` [1] x lasting `current` [A; 1 ampere], [...], against 1.

    `which` names the end, panel or battery. The answer is a ratio [1].
    """
    return against(FUSE_SMALL, array_of(rating) / least_rating(current, margin), 1.0, which)


def loop_holds(
    found: Loop, diameter: ArrayLike, multiple: ArrayLike | None = None, slack: ArrayLike = 1.05
) -> tuple[Judged, Judged]:
    """Return the loop's length and its tightest bend against their limits.

    Parameters
    ----------
    found: the loop [m], [...].
    diameter: of the cable over its sheath [m], [...].
    multiple: least bend radius over the diameter [1], [...]; None takes the table's.
    slack: least free length over the longest distance [1], [...].

    Returns
    -------
    Free length against slack x longest distance, and bend radius against the least one [m], each [...].
    """
    return (
        against(LOOP_SHORT, found.free, array_of(slack) * found.longest),
        against(LOOP_TIGHT, found.bend, least_bend(diameter, multiple)),
    )
