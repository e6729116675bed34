"""The closed roof on the road: what latches, hinges, stops and catch carry, and the speed at which each has enough."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.answers.held_shell import ShellFound, shell_itself
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.core.wording import Wording
from loftwright.mechanics.feel import side_moment
from loftwright.project.assemble_road import PRESSED, OnRoad, on_road
from loftwright.project.assemble_shell import ShellStiffness, shell_stiffness
from loftwright.project.plane import CROSSWISE
from loftwright.project.shell_tested import twist_known
from loftwright.strength.brace_rules import UNEVEN, judge_latches
from loftwright.strength.latch_alignment import Offset, latch_offset
from loftwright.strength.road import air_per_pressure
from loftwright.strength.road_forces import RoadForces, held_road
from loftwright.strength.road_rules import (
    HINGE_WEAK,
    ONE_LATCH_LOST,
    SEAL_CARRIES,
    STOPS_FREE,
    judge_road,
)

FASTEST: Final = 70.0
"""Speeds above this [m/s] are written as this: no van drives there."""
HAND: Final = 20.0
"""Push to one side of a hand off the middle, or of wind, while the lip comes down [N]: judgement."""
STROKE: Final = 0.010
"""How far a latch draws its side of the lip down [m]: judgement, a common toggle."""
LATCH, HINGE, STOP, CATCH = "latches", "hinges", "stops", "safety catch"
ARMS, SHOES = "arm pins", "shoes of the guides"

TWIST_ASKED: Final = "how far the shell twists under a known weight at one corner"

AIR_NOTE: Final = (
    "Air over a shell on a van's roof is nowhere published: suction and drag are wide ranges by judgement. Wind from "
    "the side on the road is left out."
)
RARE_NOTE: Final = (
    "Once a latch has let go, forces are taken as they are, without the factor on wind and road, as for an accident "
    "(EN 1990, 6.4.3.3, from memory)."
)
TWIST_NOTE: Final = "Until the shell's twist is measured, latches are taken to come down level."
LIP_NOTE: Final = "Latches are taken on one line along the lip; the other end is held by its hinges, arms or guides."
CATCH_NOTE: Final = "The safety catch is taken on the latches' line and bites after 10 mm."
SEAL_NOTE: Final = "Without solid stops the seal takes their place under the latches."
DEAD_NOTE: Final = "The closed arms stand at a dead point: forces of their pins and latches cannot be given."
BONDED_NOTE: Final = "The panel is bonded flat: the air is taken to pull at the shell as if it were not there."
SIDE_NOTE: Final = (
    "Of a roof hinged at a side the air is taken alike from front to rear; its hinges take all of the drag."
)


@dataclass(frozen=True, slots=True)
class RoadPart:
    """One kind of part on the road, arrays [rows].

    `force` of the hardest worked one at the wanted speed and its `limit`, safety taken off [N]: of stops the least push
    and the least that counts. `speed` [m/s] at its limit, at most `FASTEST`; None where it has none of its own.
    """

    name: str
    force: Array
    limit: Array
    speed: Array | None


@dataclass(frozen=True, slots=True)
class RoadFound:
    """The closed roof on the road, arrays [rows] unless said otherwise.

    `wanted` speed and `fastest`, at which the first latch or hinge has enough [m/s]; `pressure` of the air [Pa]; `lift`
    and `drag` of the air at the wanted speed [N], up and backwards, a panel's lift counted; `line` [N] is all that the
    latches must hold down.
    `latch` [rows, latches] the pull of each and `hinge` [rows, 3] what the hardest worked hinge or arm pin puts on the
    shell: along the plane of motion, up, across [N]; `latch_lost` and `hinge_lost` the same greatest forces with one
    latch gone [N], of a single latch what nothing holds; `gape` [m] of the lip between latches; `offset` of latches to
    keepers [m]. `latch_x`, `latch_z` [m]: where they hold.
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    parts: tuple[RoadPart, ...]
    wanted: Array
    fastest: Array
    pressure: Array
    lift: Array
    drag: Array
    line: Array
    latch: Array
    hinge: Array
    latch_lost: Array
    hinge_lost: Array
    gape: Array
    offset: Offset
    latch_x: Array
    latch_z: Array
    shell: ShellFound

    def part(self, name: str) -> RoadPart | None:
        """Return the part of that name: "latches", "hinges" or "arm pins", "stops", "safety catch"."""
        return next((part for part in self.parts if part.name == name), None)


def opens_into_wind(base: Basis) -> bool:
    """Whether the air of driving gets under the lip once the latches open: hinged, or on arms, at the rear."""
    link = base.project.linkage
    return link.kind in ("hinge", "four-bar") and link.end == "rear"


def on_the_road(base: Basis) -> RoadFound:
    """Return what the closed roof's parts carry on the road, how the shell itself sags, and whether all of it holds."""
    at, project = base.at, base.project
    stiff = shell_stiffness(project, at, base.outline)
    twist = None if stiff.twist is None else stiff.twist / base.roof.rim.length
    given = on_road(project, at, base.roof, base.outline, twist)
    forces = held_road(given.shut, given.cases, given.bar, at("linkage.spacing"), given.drive, given.rated, given.catch)
    shell = shell_itself(base, stiff, given.latch_x, given.drive.pressure)
    offset = _aligned(base, given, stiff)
    parts = _parts(base, given, forces)
    load = air_per_pressure(given.shut.cap, given.shut.air).times(given.drive.pressure)
    if given.panel is not None:
        load = load + given.panel.times(given.drive.pressure)
    # Of a roof hinged at a side the drag is no part of the plane of motion.
    drag = at("road.drag") * given.drive.pressure * given.shut.cap.step
    across = given.shut.cap.length if base.plane is CROSSWISE else given.shut.cap.width
    speeds = [part.speed for part in parts if part.speed is not None and part.name != STOP]
    return RoadFound(
        judged=(*_judged(base, given, forces, offset), *shell.judged),
        said=_said(base, given),
        parts=parts,
        wanted=base.full(at("road.speed")),
        fastest=base.full(np.min(speeds, axis=0)),
        pressure=base.full(given.drive.pressure),
        lift=base.full(load.up),
        drag=base.full(drag * across),
        line=base.full(forces.line),
        latch=forces.latch,
        hinge=forces.hinge_parts,
        latch_lost=base.full(forces.latch_lost if given.bar.count > 1 else forces.line),
        hinge_lost=base.full(forces.hinge_lost),
        gape=base.full(forces.gape),
        offset=offset,
        latch_x=base.full(given.latch_x),
        latch_z=base.full(given.latch_z),
        shell=shell,
    )


def _said(base: Basis, given: OnRoad) -> tuple[str, ...]:
    notes = [
        (AIR_NOTE, True),
        (RARE_NOTE, True),
        (TWIST_NOTE, not twist_known(base.project)),
        (LIP_NOTE, not base.roof.travel.hinged),
        (SEAL_NOTE, not base.project.latches.stops),
        (CATCH_NOTE, given.catch is not None),
        (DEAD_NOTE, not given.bounded),
        (SIDE_NOTE, base.plane is CROSSWISE),
    ]
    return (*(note for note, there in notes if there), *_of_panel(base, given))


def _of_panel(base: Basis, given: OnRoad) -> tuple[str, ...]:
    """Return what the panel adds on the road; a bonded one adds nothing."""
    if given.panel is None:
        return ()
    lift = base.full(given.panel.up * given.drive.pressure)
    if float(lift[0]) <= 0.0:
        return (BONDED_NOTE,)
    say = Wording(base.project.settings.units)
    low, high = (say.force(float(end)) for end in (lift.min(), lift.max()))
    ends = "" if low == high else f", {low} to {high} over a wide range by judgement"
    return (
        f"The panel on its feet is counted: it lifts the shell by {say.force(float(lift[0]))} more at the wanted speed"
        f"{ends}.",
    )


def _holding(base: Basis) -> str:
    """Return what the shell is held by at the end away from its latches."""
    return {"hinge": HINGE, "guides": SHOES}.get(base.project.linkage.kind, ARMS)


def _parts(base: Basis, given: OnRoad, forces: RoadForces) -> tuple[RoadPart, ...]:
    def part(name: str, force: Array, limit: Array, speed: Array | None) -> RoadPart:
        own = None if speed is None else base.full(np.minimum(speed, FASTEST))
        return RoadPart(name, base.full(force), base.full(limit), own)

    found = [
        part(LATCH, forces.latch.max(axis=-1), given.rated.latch, forces.latch_speed),
        part(_holding(base), forces.hinge, given.rated.hinge, forces.hinge_speed),
    ]
    if base.project.latches.stops:
        found.append(part(STOP, forces.stop.min(axis=-1), given.rated.stop, forces.stop_speed))
    if given.catch is not None and given.limits.catch is not None:
        found.append(part(CATCH, forces.catch, given.limits.catch / base.at("safety.parts"), None))
    return tuple(found)


def _judged(base: Basis, given: OnRoad, forces: RoadForces, offset: Offset) -> tuple[Judged, ...]:
    """Return the judgements that apply; the hinges' own stand for pins of arms and shoes as well."""
    latches = base.project.latches
    known_twist = twist_known(base.project)
    found = judge_road(
        forces,
        given.limits,
        hinged=True,
        opens_into_wind=opens_into_wind(base),
        has_catch=latches.catch,
    )
    kept = []
    for one in found:
        if one.rule is STOPS_FREE and not latches.stops:
            continue
        if one.rule is SEAL_CARRIES and not latches.stops:
            # No stop, no push on one.
            none = np.zeros(base.rows)
            kept.append(Judged(one.rule, none, none + PRESSED))
        elif one.rule is ONE_LATCH_LOST and latches.count == 1:
            if one.which == LATCH:
                # Its weight alone keeps the shell down.
                kept.append(Judged(one.rule, base.full(forces.line), np.zeros(base.rows), LATCH))
        elif one.rule is HINGE_WEAK or one.which == HINGE:
            kept.append(replace(one, which=_holding(base)))
        else:
            kept.append(one)
    stroke = np.full(base.rows, STROKE)
    room = base.full(base.at("latches.catch_width"))
    for one in judge_latches(base.full(offset.worst), room, base.full(offset.uneven), stroke):
        # How unequal springs share out over arms or shoes is not reckoned.
        if one.rule is UNEVEN and not (base.roof.fitted and base.roof.travel.hinged):
            continue
        if one.rule is UNEVEN and not known_twist:
            one = replace(one, value=None, unknown=TWIST_ASKED, missing="shell.twist_moment")
        kept.append(one)
    return tuple(kept)


def _aligned(base: Basis, given: OnRoad, stiff: ShellStiffness) -> Offset:
    """Return how far latches can be from their keepers as the shell comes down."""
    at, roof = base.at, base.roof
    pin_x, pin_z = roof.pins.shell[0]
    reach, spacing = np.abs(given.latch_x - pin_x), at("linkage.spacing")
    moment = np.zeros(base.rows)
    if roof.travel.hinged:
        for i, fitted in enumerate(roof.fitted):
            moment = moment + side_moment(roof, base.felt, i, np.sqrt(2.0) * fitted.tolerance)[..., 0]
    turning = at("hinges.upright") * spacing**2 / 2 + 2 * at("hinges.turning") * (180 / np.pi)
    sideways = 1 / (reach**2 / turning + 1 / (2 * at("linkage.plate_stiffness")))
    play = at("linkage.play")
    return latch_offset(
        # A brace can draw the lip over by its own play.
        askew=at("brace.play") / 2 if base.project.brace is not None else 0 * play,
        side_slop=play,
        radial_slop=play,
        hinges_apart=spacing,
        reach=reach,
        twist=0 * moment if stiff.twist is None else moment * base.roof.rim.length / stiff.twist,
        height=np.abs(given.latch_z - pin_z),
        latches_apart=at("latches.spread") if base.project.latches.count > 1 else 0 * play,
        sideways=HAND,
        stiffness=sideways,
    )
