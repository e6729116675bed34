"""Whether the lining leaves room for the fold and weighs no more than planned: rules and judgements."""

from __future__ import annotations

from typing import Final

from numpy.typing import ArrayLike

from loftwright.core.checks import Rule, Source
from loftwright.core.judged import Judged, against
from loftwright.core.motion import array_of

_SETTING = Source("judgement", "a setting of the project file", "judgement")

LINING_THICK: Final = Rule(
    "LINING-2501",
    "The lining takes the room that the folded cloth needs",
    "The lining leaves room for the folded cloth",
    "short m",
    "at most",
    "The cloth folds into the hollow of the shell; boards under it fill it first and the roof no longer shuts.",
    "Take a thinner board, leave the lining off where the bundle lies, or use cloth instead of board.",
    Source("derivation", "depth of the hollow less the folded bundle and play", "derivation"),
)
LINING_HEAVY: Final = Rule(
    "LINING-2502",
    "The lining is heavier than the springs were chosen for",
    "The lining weighs no more than the springs were chosen for",
    "kg",
    "at most",
    "What is screwed in later is lifted every evening, and springs already bought may no longer carry it.",
    "Take a lighter board, line only the ceiling, or weigh the shell again and choose the springs after it.",
    _SETTING,
)


def leaves_room(thickness: ArrayLike, hollow: ArrayLike | None, bundle: ArrayLike, play: ArrayLike = 0.01) -> Judged:
    """Return the `thickness` of board and lining against what the `hollow` has left over [m], each [...].

    `hollow` depth of the shell where the cloth lies (None: not measured), folded `bundle` and `play` [m].
    """
    if hollow is None:
        return Judged(
            LINING_THICK,
            array_of(thickness),
            None,
            "",
            "how deep the shell is inside where the cloth folds in",
            "hollow",
        )
    return against(LINING_THICK, thickness, array_of(hollow) - array_of(bundle) - array_of(play))


def light_enough(mass: ArrayLike, planned: ArrayLike) -> Judged:
    """Return the `mass` of lining, insulation and lights against what was `planned` for them [kg], each [...]."""
    return against(LINING_HEAVY, mass, planned)
