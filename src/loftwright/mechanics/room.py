"""Whether the roof can move at all: what it comes near, how true its hinges must be, what can be reached."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from loftwright.core.judged import Judged
from loftwright.core.motion import Array, column, opening_of, thinned
from loftwright.core.outline import shell_outline
from loftwright.mechanics import binding
from loftwright.mechanics.clearance import (
    Capsule,
    Gap,
    capsule_between,
    fixed_line,
    line_height,
    nearest,
    over_board,
    past_head,
    past_opening_edges,
    rim_over_roof,
    shell_over_board,
    shell_past_upstand,
    spring_bodies,
    under_shell,
)
from loftwright.mechanics.feel import Roof
from loftwright.mechanics.gas_spring import tube_length
from loftwright.mechanics.guides import Shoes
from loftwright.mechanics.rules import (
    ARM_ROOF,
    BINDING,
    FLAT,
    HEAD,
    LINES_UP,
    POSSIBLE,
    REACH,
    RIM,
    SHELL_BED,
    SHELL_EDGE,
    SPRING_BED,
    SPRING_ROOF,
    SPRING_SHELL,
    TRANSMISSION,
)

ARM_END: Final = 0.06
"""The first 60 mm of an arm belong to its bracket and are not looked at [m]: judgement."""
HEAD_RADIUS: Final = 0.11
"""Half the breadth of a head with some room [m]: judgement."""
EVERY: Final = 10
"""Gaps are smooth over the travel; every tenth station finds the least to a fraction of a millimetre."""
KNUCKLE: Final = 0.06
"""Length of a hinge pin in its bearing [m]: judgement."""
TAPE: Final = 0.001
"""The finest difference that a tape or string shows [m]: judgement."""
SIDE_LIMIT: Final = 150.0
"""Side force that hinges and plates take as the roof turns, in silence [N]: judgement."""
FLATTEST_DEG: Final = 8.0
"""Least angle at which crossing arms may start [degrees]: a push between their feet is 7 times the load; judgement."""


@dataclass(frozen=True, slots=True)
class Board:
    """A bed board from `start` to `end` with its top at `height` [m], each [draws]."""

    start: Array
    end: Array
    height: Array


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What stands round the moving shell; every number [m] and [draws] unless said otherwise.

    `heights` are the shell's outer heights above its rim at rear, middle and front; `roof_x`, `roof_z` [draws, points]
    the roof skin along the middle; `stands_x` where the person stands; `plate_stiffness` [N/m].
    """

    heights: tuple[Array, Array, Array]
    thickness: Array
    roof_x: Array
    roof_z: Array
    roof_build: Array
    upstand: Array
    opening_length: Array
    bed: Board | None
    stands_x: Array
    reach: Array
    arm_width: Array
    play: Array
    plate_stiffness: Array
    clearance: Array
    transmission_min: Array


@dataclass(frozen=True, slots=True)
class SpringRoom:
    """Gaps of one mount's springs over the travel [m], each [draws, travel]; `bed` is None without a board."""

    roof: Gap
    shell: Gap
    bed: Gap | None
    head: Array
    name: str


@dataclass(frozen=True, slots=True)
class Room:
    """Gaps over the travel [m], each [draws, travel] unless said otherwise.

    `reading` [draws] is the tape or string reading by which left and right may differ; `side_force` [N, draws] what
    left and right press sideways when they are only as true as a tape shows; `hand_height` [m, draws] the strap's
    end above the feet.
    """

    rim: Array
    edge: Gap
    bed: Gap | None
    springs: tuple[SpringRoom, ...]
    arms: Gap | None
    arm_head: Array | None
    reading: Array
    side_force: Array
    hand_height: Array


def _beyond(capsule: Capsule, share: Array) -> Capsule:
    """Return the capsule without its first `share` [draws, travel]."""
    return Capsule(
        capsule.ax + share * (capsule.bx - capsule.ax),
        capsule.az + share * (capsule.bz - capsule.az),
        capsule.bx,
        capsule.bz,
        capsule.radius,
    )


def _arm_capsules(roof: Roof, width: Array) -> list[Capsule]:
    found = []
    for (fx, fz), (tx, tz), arm in zip(roof.pins.van, roof.pins.shell, roof.travel.arms, strict=True):
        whole = capsule_between(arm.point(fx, fz), arm.point(tx, tz), width / 2)
        length = np.maximum(np.hypot(whole.bx - whole.ax, whole.bz - whole.az), 1e-6)
        found.append(_beyond(whole, np.minimum(ARM_END / length, 0.9)))
    return found


def _post_capsules(roof: Roof, shoes: Shoes, width: Array) -> list[Capsule]:
    """Return the posts of straight guides: from the rim down to as far as the open shoe still holds them."""
    travel = roof.travel
    rise = travel.q[..., -1]
    lean_x, lean_z = travel.shell.dx[..., 0], travel.shell.dz[..., 0]
    found = []
    for x, z in shoes.pairs:
        low, high = -shoes.length / 2 - rise, (roof.rim.z - z) / lean_z
        lower, upper = (travel.shell.point(x + far * lean_x, z + far * lean_z) for far in (low, high))
        found.append(capsule_between(lower, upper, width / 2))
    return found


def _rim_gap(roof: Roof, around: Surroundings) -> Array:
    """Return how far the rim stays above the roof, [draws, travel].

    Of a hinged shell only what reaches beyond its hinge can go down; of any other, all of it.
    """
    rear, front = roof.rim.rear, roof.rim.rear + roof.rim.length
    if not roof.travel.hinged:
        ends = (rear, front)
    else:
        hinge = np.clip(roof.pins.shell[0][0], rear, front)
        ends = (rear, hinge) if _hinged_at_rear(roof) else (hinge, front)
    x = np.stack(np.broadcast_arrays(*ends), axis=-1)
    z = np.broadcast_to(roof.rim.z[..., None], x.shape)
    return rim_over_roof(roof.travel.shell, x, z, around.roof_x, around.roof_z).distance


def _hinged_at_rear(roof: Roof) -> bool:
    return bool(roof.travel.shell.phi[0, -1] > 0)


def _true(roof: Roof, around: Surroundings) -> tuple[Array, Array]:
    """Return the reading that uses up the play [m], and the side force at the finest tape reading [N]; each [draws]."""
    # Hinges without play bind too: the ratio below is taken at next to none.
    free = np.maximum(around.play, 1e-9)
    if roof.travel.slides:
        reading = free
    elif not roof.travel.arms:
        opens = opening_of(roof.travel)[..., -1]
        reading = binding.hinge_reading(opens, free, roof.spacing, KNUCKLE)
    else:
        readings = []
        for (fx, fz), (tx, tz), arm in zip(roof.pins.van, roof.pins.shell, roof.travel.arms, strict=True):
            length = np.hypot(tx - fx, tz - fz)
            theta = column(np.arctan2(tz - fz, tx - fx)) + arm.phi
            readings.append(binding.arm_reading(length, theta, free))
        reading = np.min(readings, axis=0)
    # A misfit grows in proportion to the reading; the tolerated reading makes just the play of it.
    misfit = free * TAPE / np.maximum(reading, 1e-12)
    return reading, binding.side_force(misfit[..., None], around.play, around.plate_stiffness)[..., 0]


def room(around: Surroundings, roof: Roof) -> Room:
    """Return what the moving roof comes near, at every `EVERY`-th station of its travel."""
    roof = replace(roof, travel=thinned(roof.travel, EVERY))
    shell = roof.travel.shell
    rear, front = roof.rim.rear, roof.rim.rear + roof.rim.length
    inner = shell_outline(rear, front, roof.rim.z, *around.heights, thickness=around.thickness)
    skin = fixed_line(around.roof_x, around.roof_z)
    at_rear = line_height(np.zeros_like(rear)[..., None], skin)[..., 0]
    at_front = line_height(around.opening_length[..., None], skin)[..., 0]
    edge = nearest(
        shell_past_upstand(shell, *inner, np.zeros_like(rear), at_rear, around.upstand),
        shell_past_upstand(shell, *inner, around.opening_length, at_front, around.upstand),
    )
    head = (around.stands_x, roof.feet_z + roof.person_height - HEAD_RADIUS)
    springs = []
    for fitted in roof.fitted:
        mount, gas = fitted.mount, fitted.mount.spring
        foot = roof.travel.body(mount.foot_on).point(mount.foot_x, mount.foot_z)
        top = roof.travel.body(mount.head_on).point(mount.head_x, mount.head_z)
        parts = spring_bodies(
            foot,
            top,
            tube_length(gas.extended, gas.stroke),
            fitted.tube_diameter / 2,
            gas.rod_diameter / 2,
        )
        aside = column(fitted.place - HEAD_RADIUS - fitted.tube_diameter / 2)
        springs.append(
            SpringRoom(
                roof=nearest(
                    *(
                        past_opening_edges(
                            part,
                            around.opening_length,
                            around.roof_x,
                            around.roof_z,
                            roof_build=around.roof_build,
                            upstand=around.upstand,
                        )
                        for part in parts
                    )
                ),
                shell=nearest(*(under_shell(part, shell, *inner) for part in parts)),
                bed=None
                if around.bed is None
                else nearest(*(over_board(p, around.bed.start, around.bed.end, around.bed.height) for p in parts)),
                head=np.maximum(nearest(*(past_head(p, *head, HEAD_RADIUS) for p in parts)).distance, aside),
                name=fitted.name,
            )
        )
    arms = _arm_capsules(roof, around.arm_width) if roof.travel.arms else []
    if roof.shoes is not None:
        arms = _post_capsules(roof, roof.shoes, around.arm_width)
    reading, side = _true(roof, around)
    hand = shell.point(*roof.handle)
    return Room(
        rim=_rim_gap(roof, around),
        edge=edge,
        bed=None
        if around.bed is None
        else shell_over_board(shell, *inner, around.bed.start, around.bed.end, around.bed.height),
        springs=tuple(springs),
        arms=nearest(
            *(
                past_opening_edges(
                    arm,
                    around.opening_length,
                    around.roof_x,
                    around.roof_z,
                    roof_build=around.roof_build,
                    upstand=np.zeros_like(around.upstand),
                )
                for arm in arms
            )
        )
        if arms
        else None,
        arm_head=np.maximum(
            nearest(*(past_head(a, *head, HEAD_RADIUS) for a in arms)).distance,
            column(roof.spacing / 2 - HEAD_RADIUS),
        )
        if arms
        else None,
        reading=reading,
        side_force=side,
        hand_height=hand.z[..., -1] - roof.strap_length - roof.feet_z,
    )


def judge_room(space: Room, roof: Roof, around: Surroundings) -> tuple[Judged, ...]:
    """Return every judgement on how the roof moves, value and limit [draws] each."""
    nought = np.zeros_like(around.clearance)
    keep = around.clearance

    def least(gap: Array) -> Array:
        return np.asarray(gap.min(axis=-1))

    found = []
    # Reaching and not folding are said only where some roof like this one would not; no margin is worth reading.
    if roof.travel.arms and not roof.reaches.all():
        found.append(Judged(POSSIBLE, roof.reaches.astype(np.float64), nought + 1.0))
    if roof.transmission is not None:
        found.append(Judged(TRANSMISSION, least(roof.transmission), around.transmission_min))
    if roof.lines_up is not None and (roof.lines_up < 1.0).any():
        found.append(Judged(LINES_UP, roof.lines_up, nought + 1.0))
    if roof.stands is not None:
        found.append(Judged(FLAT, least(roof.stands), nought + np.radians(FLATTEST_DEG)))
    found.append(Judged(RIM, least(space.rim), nought))
    found.append(Judged(SHELL_EDGE, least(space.edge.distance), nought))
    if space.bed is not None:
        found.append(Judged(SHELL_BED, least(space.bed.distance), keep))
    for one in space.springs:
        found.append(Judged(SPRING_ROOF, least(one.roof.distance), keep, one.name))
        found.append(Judged(SPRING_SHELL, least(one.shell.distance), keep, one.name))
        if one.bed is not None:
            found.append(Judged(SPRING_BED, least(one.bed.distance), keep, one.name))
        found.append(Judged(HEAD, least(one.head), keep, one.name))
    if space.arms is not None and space.arm_head is not None:
        found.append(Judged(ARM_ROOF, least(space.arms.distance), keep))
        found.append(
            Judged(HEAD, least(space.arm_head), keep, "lifting arms" if roof.travel.arms else "posts of the guides")
        )
    found.append(Judged(REACH, space.hand_height, around.reach))
    found.append(Judged(BINDING, space.side_force, nought + SIDE_LIMIT))
    return tuple(found)
