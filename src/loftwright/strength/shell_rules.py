"""What can go wrong with the shell itself: it sags, its sides lift off the seal, it twists, the test told nothing."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Rule, Source
from loftwright.core.judged import Judged, against

MOST_SAG: Final = 1 / 100
"""Most droop of the lip as a part of its distance from the spring heads [1]: judgement; cloth and latches take it."""
MOST_TWIST: Final = float(np.radians(2.0))
"""Most twist from hinged end to lip [rad]: judgement, as for unequal springs."""
MOST_DOUBT: Final = 0.25
"""Most doubt of a stiffness from a home test, as a part [1]: judgement; a lay-up alone leaves far more."""

_BEAM: Final = Source("derivation", "shell as a beam, docs/theory-strength.md; limit by judgement", "derivation")

SAGS: Final = Rule(
    "SHELL-821",
    "The raised shell droops at its lip",
    "The raised shell stays nearly straight",
    "m",
    "at most",
    "A shell that was bonded all round now hangs on two hinges and two springs.",
    "Bond ribs or a liner into the shell, or move the spring heads towards the lip.",
    _BEAM,
)
SIDES_LIFT: Final = Rule(
    "SHELL-822",
    "The closed shell lifts off its seal half-way along",
    "The closed shell stays on its seal all along",
    "m",
    "at most",
    "Latched only at the lip, the shell is bowed up by its own seal and by the air going by.",
    "Add latches or hooks at mid-side, stiffen the sides, or take a softer, thicker seal.",
    _BEAM,
)
TWISTS: Final = Rule(
    "SHELL-823",
    "The shell twists when its springs are unequal or one is lost",
    "The shell stays nearly flat when its springs are unequal or one is lost",
    "rad",
    "at most",
    "An open tray has next to no stiffness in twist until a liner closes it.",
    "Bond in a liner all round, join left and right springs to a stiff beam, or set them closer together.",
    Source("derivation", "twist of a thin section, docs/theory-strength.md; limit by judgement", "derivation"),
)
TEST_TELLS: Final = Rule(
    "SHELL-824",
    "The weight on the shell moved it too little to read",
    "The test tells how stiff the shell is",
    "fraction",
    "at most",
    "A reading hardly larger than what the tape can tell apart says little about stiffness.",
    "Repeat it with more weight, or over a longer span.",
    Source("derivation", "doubts in independent factors, docs/theory-strength.md; limit by judgement", "derivation"),
)


def judge_sag(droop: ArrayLike, beyond: ArrayLike) -> Judged:
    """Return whether the raised lip droops too far, `SAGS`: droop by `shell_hung.lip_droop` against `MOST_SAG` beyond.

    droop [m]; beyond: from spring heads to lip [m]; each [...].
    """
    return against(SAGS, droop, MOST_SAG * np.asarray(beyond, dtype=np.float64), "lip")


def judge_sides(rise: ArrayLike, reserve: ArrayLike) -> Judged:
    """Return whether the closed shell lifts off at mid-side, `SIDES_LIFT`.

    rise: by `shell_hung.side_rise` [m]; reserve: how far it may rise before the seal only just seals [m]; each [...].
    """
    return against(SIDES_LIFT, rise, reserve, "mid-side")


def judge_twist(angle: ArrayLike | None, limit: ArrayLike = MOST_TWIST, *, which: str = "springs") -> Judged:
    """Return whether the shell twists too far, `TWISTS`; without a stiffness it is not known yet.

    angle: by `shell_hung.twist_angle` [rad], or None; limit [rad]; each [...]; which: what twists it.
    """
    if angle is None:
        return Judged(
            TWISTS,
            None,
            np.asarray(limit, dtype=np.float64),
            which,
            unknown="how far the shell twists under a known weight at one corner",
            missing="twist_moment",
        )
    return against(TWISTS, np.abs(np.asarray(angle, dtype=np.float64)), limit, which)


def judge_test(doubt: ArrayLike, *, which: str) -> Judged:
    """Return whether a home test told enough, `TEST_TELLS`.

    doubt: by `shell_stiffness.reading_doubt` [1], [...]; which: "bending test" or "twist test".
    """
    return against(TEST_TELLS, doubt, MOST_DOUBT, which)
