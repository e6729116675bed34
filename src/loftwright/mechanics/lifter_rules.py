"""What springs other than gas springs are judged by: the lengths they may take, and the loss of one."""

from __future__ import annotations

from typing import Final

import numpy as np

from loftwright.core.checks import Rule, Source
from loftwright.core.judged import Judged
from loftwright.mechanics.feel import Feel

LIFTER_LENGTH: Final = Rule(
    "LIFT-223",
    "A coil spring or cord is drawn or squeezed too far",
    "Coil springs and cords keep within their lengths",
    "short m",
    "at least",
    "Beyond its length a coil stays bent or lies solid, and a cord tears or pulls harder than anyone measured.",
    "Move an end so that the length changes less, or take a longer spring or cord.",
    Source("derivation", "longest and shortest length over the travel", "derivation"),
)


def judge_lifters(felt: Feel) -> tuple[Judged, ...]:
    """Return the judgements on lifters by themselves, value and limit [m], [draws] each."""
    found = []
    for lifter in felt.lifters:
        if lifter.room is not None:
            found.append(Judged(LIFTER_LENGTH, lifter.room, np.zeros_like(lifter.room), lifter.name))
    return tuple(found)
