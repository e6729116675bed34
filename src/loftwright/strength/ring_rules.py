"""What can go wrong with the ring round the opening: every rule once, and the judgements of one ring.

None of it says how the body behaves in a crash or when it rolls over.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from loftwright.core.checks import Rule, Source
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.strength.hinge_path import PathToBows

_FRAME: Final = Source("derivation", "the ring as a frame in space; limit a setting by judgement", "derivation")
_PATH: Final = Source("derivation", "a stiff channel on equal bows", "derivation")

DIPS: Final = Rule(
    "RING-1001",
    "The edge of the opening dips further than the seal follows",
    "The edge of the opening dips less than the seal follows",
    "short m",
    "at most",
    "Under its load the ring bends away from the closed shell, which it holds at hinges, latches and stops; between "
    "these the seal opens.",
    "Take a deeper ring section, tie more bow ends to it, or bring the load nearer to a bow.",
    _FRAME,
)
SAGS: Final = Rule(
    "RING-1002",
    "The ring sags visibly between its corners",
    "The ring stays straight to the eye",
    "short m",
    "at most",
    "A long side that sags more than a small share of its length looks wrong and drags hinges and latches along.",
    "Take a deeper ring section, or tie the bow ends along that side to the ring.",
    Source("common-practice", "length over 200, as for beams in buildings", "common practice"),
)
BENDS_FOR_GOOD: Final = Rule(
    "RING-1003",
    "The ring bends for good",
    "The ring springs back",
    "Pa",
    "at most",
    "Beyond its yield strength, less the safety factor, the bar keeps its bend when the load is gone.",
    "Take a heavier section or a stronger alloy, or spread the load over more of the ring.",
    _FRAME,
)
PLATE_TILTS: Final = Rule(
    "RING-1004",
    "The hinge plates tilt with the ring and the hinges bind",
    "The hinge plates stay level enough for the hinges",
    "rad",
    "at most",
    "An open section twists easily; the plate on it tilts under load, and the two hinge axes no longer line up.",
    "Take a closed tube for the ring, or lead the hinge plates through an inner channel to the bows.",
    _FRAME,
)
NOTHING_TO_PUSH_ON: Final = Rule(
    "RING-1005",
    "The hinge plate has nothing to push on",
    "The hinge plate pushes on the roof's bows",
    "count",
    "at least",
    "Between bows there is only thin skin; it dents and tears where a hinge turns its load into a push and a pull.",
    "Fasten an inner channel from the hinge plate across at least one bow, better two.",
    Source("judgement", "at least one bow is reached", "judgement"),
)
SKIN_DENTS: Final = Rule(
    "RING-1006",
    "The roof skin alone is dented by the hinge plate",
    "The roof skin alone bears the hinge plate",
    "Pa",
    "at most",
    "The plate pushes on one end and pulls on the other, and the skin under it yields.",
    "Lead the load to the bows through an inner channel, and put a wide backing plate under the skin.",
    Source("roark-formulas", "7th ed., Table 11.4, case 1b", "handbook"),
)
CHANNEL_BENDS: Final = Rule(
    "RING-1007",
    "The bar under the hinge bends for good between the bows",
    "The bar under the hinge springs back between the bows",
    "Pa",
    "at most",
    "The inner channel, or the ring alone, carries the hinge's push and its turning to the bows as a beam.",
    "Fit an inner channel or a deeper one, or set the hinge plate nearer to a bow.",
    _PATH,
)
MOMENT_LEFT: Final = Rule(
    "RING-1008",
    "The hinge plate rocks on a single bow",
    "The hinge plate does not rock on its bows",
    "N m",
    "at most",
    "One bow takes a push but no turning; the rest twists skin and ring.",
    "Make the inner channel long enough to be fastened to two bows.",
    _PATH,
)


def judge_path(
    path: PathToBows,
    *,
    which: str,
    modulus: Array,
    channel_yielding: Array,
    skin_stress: Array,
    skin_yielding: Array,
    safety: Array,
    free_moment: Array,
) -> tuple[Judged, ...]:
    """Return the judgements of one hinge plate's way to the bows; `which` names the plate.

    Channel's section `modulus` [m3] and its `channel_yielding` [Pa]; `skin_stress` [Pa] if the skin bore it alone
    (judged only where no bow is reached) and `skin_yielding` [Pa]; `safety` [1]; `free_moment` [N m] that skin and
    ring may take; each [rows] or a number.
    """
    shape = path.moment.shape

    def wide(value: Array) -> Array:
        return np.broadcast_to(np.asarray(value, dtype=np.float64), shape)

    reached = Judged(NOTHING_TO_PUSH_ON, wide(path.counts), wide(np.array(1.0)), which)
    if path.count == 0:
        return (reached, Judged(SKIN_DENTS, wide(skin_stress), wide(skin_yielding / safety), which))
    return (
        reached,
        Judged(CHANNEL_BENDS, path.moment / modulus, wide(channel_yielding / safety), which),
        Judged(MOMENT_LEFT, path.left_over, wide(free_moment), which),
    )
