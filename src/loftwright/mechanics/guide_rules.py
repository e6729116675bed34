"""Whether straight guides slide: the hand forces with the shoes' rub, put to the builder's limits."""

from __future__ import annotations

import numpy as np

from loftwright.core.choices import Age, Temperature
from loftwright.core.errors import Bug
from loftwright.core.judged import Judged
from loftwright.mechanics.balance import hand_direction
from loftwright.mechanics.feel import Feel, Roof, is_wet, state
from loftwright.mechanics.guides import Guided, guided
from loftwright.mechanics.reactions import wrenches
from loftwright.mechanics.rules import GUIDE_JAMS, GUIDE_PULL, GUIDE_PUSH


def with_rub(roof: Roof, felt: Feel, heat: Temperature, age: Age, *, raising: bool) -> Guided:
    """Return the hand force [N] with the shoes' rub in one state, [draws, travel].

    Raises Bug where the roof has no guides.
    """
    if roof.shoes is None:
        raise Bug("a roof without guides has no shoes that rub")
    loads = (*felt.loads, *felt.wet) if is_wet(heat) else felt.loads
    pushes = [push.at(state(heat, age)) for push in felt.springs]
    load = wrenches(roof.travel, roof.body, pushes, loads, raising=raising, lifters=felt.lifters)["shell"]
    return guided(roof.travel, load, felt.hand, hand_direction(felt.hand), roof.shoes, raising=raising)


def judge_guides(roof: Roof, felt: Feel) -> tuple[Judged, ...]:
    """Return the judgements on straight guides, value and limit [draws] each; none for any other linkage."""
    if roof.shoes is None:
        return ()
    up = with_rub(roof, felt, "cold", "aged", raising=True)
    down = with_rub(roof, felt, "hot", "new", raising=False)
    most = np.broadcast_to(np.maximum(up.jams, down.jams), felt.hand.x.shape).max(axis=-1)
    return (
        Judged(GUIDE_JAMS, most, np.ones_like(most)),
        Judged(GUIDE_PUSH, up.hand.max(axis=-1) + 0 * most, roof.limits.push_to_start),
        Judged(GUIDE_PULL, down.hand.max(axis=-1) + 0 * most, roof.limits.pull_to_start_down),
    )
