"""Which metals may touch, and what to put between those that may not. Words, no figures: common practice."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from loftwright.core.judged import Judged
from loftwright.strength.joint_rules import UNLIKE

NOBLEST_LAST: Final = ("zinc-plated steel", "aluminium", "steel", "stainless steel", "copper or brass", "carbon fibre")
"""From the least noble, which is eaten, to the noblest, outdoors; a general order, no figures.

Common practice, no source: galvanic pairs outdoors, with salt on winter roads.
"""


@dataclass(frozen=True, slots=True)
class Advice:
    """What to do where two metals meet: whether they must be kept apart, how, and which of them is eaten."""

    apart: bool
    eaten: str
    words: str


_TAPE: Final = (
    "Tape or a plastic pad between them, a sleeve and washers of plastic round the bolts, all bedded in sealant."
)
_PAIRS: Final[dict[frozenset[str], Advice]] = {
    frozenset(("aluminium", "steel")): Advice(
        True, "aluminium", f"{_TAPE} Prime the steel to its cut edges, and the aluminium too."
    ),
    frozenset(("aluminium", "zinc-plated steel")): Advice(
        False,
        "zinc-plated steel",
        "Zinc protects the aluminium while it lasts: bed it in sealant, renew when it rusts.",
    ),
    frozenset(("aluminium", "stainless steel")): Advice(
        True,
        "aluminium",
        f"{_TAPE} Small stainless bolts in much aluminium are borne if bedded wet; never a small aluminium part on "
        "much stainless.",
    ),
    frozenset(("steel", "zinc-plated steel")): Advice(
        False, "zinc-plated steel", "May touch: primer on cut edges, wax in the cavity."
    ),
    frozenset(("steel", "stainless steel")): Advice(
        True,
        "steel",
        "Paint both round the joint, bed the bolts wet: a scratch in the roof's paint beside stainless rusts fast.",
    ),
    frozenset(("stainless steel", "zinc-plated steel")): Advice(
        True,
        "zinc-plated steel",
        "Zinc goes first and then the steel: use stainless bolts, or a painted plate with plastic washers.",
    ),
    frozenset(("aluminium", "copper or brass")): Advice(True, "aluminium", "Never together outdoors."),
    frozenset(("steel", "copper or brass")): Advice(
        True, "steel", "Keep brass fittings off bare steel: pad and sealant."
    ),
    frozenset(("aluminium", "carbon fibre")): Advice(
        True, "aluminium", "A layer of glass and resin between them, always."
    ),
    frozenset(("steel", "carbon fibre")): Advice(True, "steel", "A layer of glass and resin between them, always."),
}
_METALS: Final = frozenset(NOBLEST_LAST)


def advice(one: str, other: str) -> Advice:
    """Return what to do where two materials meet; what is no metal may touch anything."""
    if one == other or one not in _METALS or other not in _METALS:
        return Advice(False, "", "May touch.")
    known = _PAIRS.get(frozenset((one, other)))
    if known is not None:
        return known
    eaten = min((one, other), key=NOBLEST_LAST.index)
    return Advice(True, eaten, _TAPE)


def touching(stack: Iterable[str], through: str = "") -> tuple[tuple[str, str], ...]:
    """Return the pairs of materials that touch: neighbours in a stack, and the bolt with each layer it passes."""
    layers = list(stack)
    pairs = [*pairwise(layers)] + [(through, layer) for layer in layers if through]
    return tuple(dict.fromkeys(pairs))


def judge_unlike(name: str, pairs: Iterable[tuple[str, str]], isolated: bool) -> Judged:
    """Put to a joint how many pairs of metals touch that should not."""
    bad = 0 if isolated else sum(advice(*pair).apart for pair in pairs)
    return Judged(UNLIKE, np.array([float(bad)]), np.array([0.0]), name)
