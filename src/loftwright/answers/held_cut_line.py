"""The line of the saw: corners, what a look behind the lining found, what the tape across the door says, the plan."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.core.choices import Lookup
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.project.assemble_opening import LEAST_MARGIN, Bows, edge_of
from loftwright.strength.cutout import HoleFactor, corner_factor, judge_corner_radius, judge_corner_stress
from loftwright.strength.cutout_rules import CORNER_RADIUS, CORNER_STRESS, SAW_MEETS
from loftwright.strength.torsion import judge_twist, tape_test

TAPE_DOUBT: Final = 0.001
"""How surely four readings of a tape tell a change of two diagonals [m]: judgement, half a millimetre each."""

NO_PULL: Final = "the pull in the roof's skin as the van twists and bends; no tape or scale shows it"
NO_RADIUS: Final = "decide on the radius of the opening's corners (cut.corner_radius)"

SAW: Final = 0.012
"""Diameter of the hole through which a jigsaw's blade starts [m]: common practice."""
LEG: Final = 0.05
"""Length of straight edge on a corner template beyond the arc [m]: judgement."""

LOOK_FOR: Final = {
    "cables": ("cables and pipes", "look behind the lining along the whole cut line, with a lamp and a mirror"),
    "air_bags": ("air bags", "look behind the lining along the roof's edges for air bags and their gas canisters"),
    "lining": ("linings, belt anchors, speakers", "take the lining down and look at all that is fastened there"),
}


@dataclass(frozen=True, slots=True)
class CutPlan:
    """The nominal cut as it is marked on the roof, all [m].

    The rectangle is `length` by `width`, x from its rear edge, y to the left of the van's middle. `radius` of its
    corners is None while nobody has decided; `centres` [4, 2] of the corners' arcs; `starts` [4, 2] holes of
    `start_diameter` for the saw, on the waste, touching the line; `rear`, `front`, `side`: skin left to the roof's rear
    and front end and to each side; `diagonal` of the rectangle with sharp corners, both alike when it is square;
    `bows`: place of each bow within the cut and whether it stays whole; `template`: radius and length of
    straight edge of the corner's template.
    """

    length: float
    width: float
    radius: float | None
    centres: Array
    starts: Array
    start_diameter: float
    rear: float
    front: float
    side: float
    diagonal: float
    bows: tuple[tuple[float, bool], ...]
    template: tuple[float, float] | None


def corners(base: Basis) -> tuple[tuple[Judged, ...], HoleFactor | None, HoleFactor | None]:
    """Return the judgements of the corners, and their factors for a pull along and across the van."""
    ways = ("pull along the van", "pull across the van")
    if base.project.cut.corner_radius is None:
        missing = "cut.corner_radius"
        stress = tuple(Judged(CORNER_STRESS, None, None, way, NO_RADIUS, missing) for way in ways)
        return (Judged(CORNER_RADIUS, None, None, "", NO_RADIUS, missing), *stress), None, None
    radius = base.full(base.at("cut.corner_radius"))
    length, width = base.at("opening.length") / 2, base.at("opening.width") / 2
    along, across = corner_factor(width, length, radius), corner_factor(length, width, radius)
    judged = [judge_corner_radius(radius)]
    for way, factor in zip(ways, (along, across), strict=True):
        one = judge_corner_stress(None, factor, 1.0, which=way)
        judged.append(replace(one, unknown=NO_PULL if not one.unknown or one.missing else one.unknown, missing=""))
    return tuple(judged), along, across


def tape(base: Basis) -> tuple[tuple[Judged, ...], Array | None, Array | None]:
    """Return what the tape across the door says of the state the van is in now, the share kept after cut and ring."""
    cut, most = base.project.cut, base.full(base.at("cut.door_limit"))
    steps = {"door_cut": "after the cut", "door_ring": "with the ring in"}
    if cut.door_before is None:
        none = judge_twist(None, which=steps["door_ring"])
        return (replace(none, missing="cut.door_before"),), None, None
    before = np.maximum(base.full(base.at("cut.door_before")), TAPE_DOUBT)
    kept: dict[str, Array] = {}
    judged: list[Judged] = []
    for key, which in steps.items():
        if getattr(cut, key) is None:
            continue
        after = np.maximum(base.full(base.at(f"cut.{key}")), TAPE_DOUBT)
        told = tape_test(before, after, plus_minus=0.999 * TAPE_DOUBT)
        kept[key] = told.kept
        now = key == "door_ring" or cut.door_ring is None
        if now and float(before[0]) <= TAPE_DOUBT:
            judged.append(replace(judge_twist(replace(told, told=False), which=which), missing="cut.door_before"))
        elif now:
            judged.append(judge_twist(told, most=most, which=which))
    if cut.door_ring is None:
        judged.append(replace(judge_twist(None, which=steps["door_ring"]), missing="cut.door_ring"))
    return tuple(judged), kept.get("door_cut"), kept.get("door_ring")


def survey(cables: Lookup, air_bags: Lookup, lining: Lookup) -> tuple[Judged, ...]:
    """Return whether the saw may meet what lies behind the lining, once for each thing; not known before a look."""
    found = []
    for key, seen in (("cables", cables), ("air_bags", air_bags), ("lining", lining)):
        which, look = LOOK_FOR[key]
        if seen == "not looked yet":
            found.append(Judged(SAW_MEETS, None, None, which, look, f"cut.{key}"))
        else:
            clear = np.array([0.0 if seen == "in the way" else 1.0])
            found.append(Judged(SAW_MEETS, clear, np.ones(1), which))
    return tuple(found)


def cut_plan(base: Basis, bows: Bows) -> CutPlan:
    """Return the nominal cut as it is marked on the roof."""

    def first(path: str) -> float:
        return float(base.at(path)[0])

    length, width, rear = first("opening.length"), first("opening.width"), first("body.rear_edge")
    given = base.project.cut.corner_radius is not None
    radius = first("cut.corner_radius") if given else None
    corners = np.array([(0.0, -1.0), (1.0, -1.0), (1.0, 1.0), (0.0, 1.0)])
    inwards = np.array([(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)])
    sharp = corners * np.array([length, width / 2])
    arc = min(radius or 0.0, min(length, width) / 2)
    # Each hole touches one straight line just past the arc, in turn a side and an end.
    along = np.array([(arc, SAW / 2), (SAW / 2, arc), (arc, SAW / 2), (SAW / 2, arc)])
    return CutPlan(
        length,
        width,
        radius,
        sharp + inwards * arc,
        sharp + inwards * np.maximum(along, SAW / 2),
        SAW,
        rear,
        max(first("body.roof_length") - rear - length, LEAST_MARGIN),
        float(edge_of(base.at)[0]),
        float(np.hypot(length, width)),
        tuple(
            (float(x), bow.kept)
            for x, bow in zip(bows.place[0], base.project.bow, strict=True)
            if 0.0 < float(x) < length
        ),
        None if radius is None else (radius, radius + LEG),
    )
