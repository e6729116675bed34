"""The way from each hinge plate to the roof's bows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.answers.ring_loads import RingLoads
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.project.assemble_opening import (
    Bows,
    Parts,
    RingPlan,
    ring_metal,
    ring_section,
    ring_sizes,
    skin_metal,
)
from loftwright.project.plane import LENGTHWISE
from loftwright.strength.hinge_path import PathToBows, path_to_bows, push_of_plate, skin_alone
from loftwright.strength.ring_rules import NOTHING_TO_PUSH_ON, judge_path

FREE_MOMENT: Final = 10.0
"""Moment of a hinge plate that skin and ring may take without a second bow [N m]: judgement."""
NO_BOWS: Final = "where the roof's bows are: find them from inside or with a magnet, and write them ([[bow]])"
BOWS_APART: Final = 0.5
"""Distance between bows where fewer than two are written [m]: judgement."""


@dataclass(frozen=True, slots=True)
class Way:
    """The way of one pair of hinge plates to the bows.

    `path`; `lift` [N] and `turning` [N m] of one plate, [rows], where it pushes hardest; `skin` is the
    stress if thin skin bore it alone [Pa], [rows].
    """

    name: str
    path: PathToBows
    lift: Array
    turning: Array
    skin: Array


def hinge_ways(base: Basis, loads: RingLoads, bows: Bows) -> tuple[Way, ...]:
    """Return the way of every pair of hinge plates to the bows, at the station where its plates push hardest.

    A hinge beyond an end of the opening has its channel reach outwards from its plate; one beside the opening,
    or along a side, has it lie to both sides of its middle.
    """
    at, project = base.at, base.project
    plate, channel = at("fit.plate_length"), at("ring.channel")
    lengthwise = base.plane is LENGTHWISE
    length = base.full(at("opening.length"))
    apart = _apart(bows)
    found = []
    for one in loads.plates:
        turning = -one.forward * one.height[:, None] if lengthwise else np.zeros_like(one.forward)
        push = push_of_plate(one.up, turning, np.broadcast_to(plate, (base.rows,))[:, None])
        hardest = push.argmax(axis=-1)[:, None]
        lift, turned, most = (np.take_along_axis(v, hardest, axis=-1)[:, 0] for v in (one.up, turning, push))
        if lengthwise:
            hinge = one.along
            half = np.maximum(channel, plate) / 2
            ahead, behind = hinge[0] > length[0], hinge[0] < 0.0
            start = hinge - (plate / 2 if ahead else np.maximum(channel, plate / 2) if behind else half)
            end = hinge + (np.maximum(channel, plate / 2) if ahead else plate / 2 if behind else half)
        else:
            hinge = length / 2 + base.roof.spacing / 2
            start, end = (hinge + sign * np.maximum(channel, plate) / 2 for sign in (-1.0, 1.0))
        path = path_to_bows(start, end, bows.place, hinge, lift, turned)
        metal = skin_metal(project)
        _, stress = skin_alone(
            most, at("fit.plate_width") / 2, np.asarray(apart), at("body.skin"), np.asarray(metal.young)
        )
        found.append(Way(one.name, path, lift, turned, base.full(stress)))
    return tuple(found)


def _apart(bows: Bows) -> float:
    """Return the distance between bows, nominal [m]."""
    places = np.sort(bows.place[0])
    return float(np.diff(places).mean()) if places.size > 1 and np.ptp(places) > 0 else BOWS_APART


def judge_ways(base: Basis, ways: tuple[Way, ...], plan: RingPlan, parts: Parts) -> tuple[Judged, ...]:
    """Return the judgements of every way; the channel is of the ring's own bar."""
    if not base.project.bow:
        return tuple(Judged(NOTHING_TO_PUSH_ON, None, None, way.name, NO_BOWS) for way in ways)
    section, deep = ring_section(base.project, plan.ring), base.full(ring_sizes(base.project, base.at)[1])
    # The modulus goes with the second moment over the depth.
    modulus = section.moduli[0] * (parts.lift / parts.lift[0]) * (deep[0] / deep)
    judged: list[Judged] = []
    for way in ways:
        judged += judge_path(
            way.path,
            which=way.name,
            modulus=base.full(modulus),
            channel_yielding=np.asarray(ring_metal(base.project).yielding),
            skin_stress=way.skin,
            skin_yielding=np.asarray(skin_metal(base.project).yielding),
            safety=base.full(base.at("safety.metal")),
            free_moment=np.asarray(FREE_MOMENT),
        )
    return tuple(judged)
