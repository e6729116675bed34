"""Forces in hinges, pins and handle by equilibrium of every body: the check on virtual work, and what brackets carry.

Planar statics of the shell and, where there are arms, of each arm. Unknown are the pin forces and
the hand force along its direction (`balance.hand_direction`); left and right sides are taken together. Derived here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from loftwright.core.motion import Array, Flags, Travel, Wrench, column, push_at
from loftwright.mechanics.balance import G0, Load, Push, hand_direction
from loftwright.mechanics.masses import Body

MOST_CONDITION: Final = 200.0
"""Condition of the equations, each at its own scale, beyond which a station counts as a dead point: judgement."""


@dataclass(frozen=True, slots=True)
class Pins:
    """Where the shell is held when closed: one hinge, or the two arm pairs' van and shell pins; (x, z) [m], each [...].

    `van` and `shell` have equal length; for a hinge they hold the same point.
    """

    van: tuple[tuple[Array, Array], ...]
    shell: tuple[tuple[Array, Array], ...]


@dataclass(frozen=True, slots=True)
class Reactions:
    """Hand force [N] and pin forces on the shell [N], each [..., n].

    `at_van` are the forces of the van on the hinge or the arms. `bounded` [..., n] is false at a dead point,
    where no force can be given and every number stands at nought. `hand` is positive in the direction of opening.
    """

    hand: Array
    on_shell: tuple[tuple[Array, Array], ...]
    at_van: tuple[tuple[Array, Array], ...]
    bounded: Flags


def _cross(x: Array, z: Array, fx: Array, fz: Array) -> Array:
    return x * fz - z * fx


def reactions(
    travel: Travel,
    body: Body,
    pushes: Sequence[Push],
    loads: Sequence[Load],
    pin_moment: Array,
    handle: tuple[Array, Array],
    pins: Pins,
    *,
    going: Literal["up", "down"],
) -> Reactions:
    """Return hand and pin forces over the travel, moving slowly up or down.

    Arguments as in `balance.balance`: `handle` (x, z) [m] when closed and `pin_moment` [N m], each [...].
    Valid away from dead points, where the pins' forces have no bound; those stations are marked.
    """
    n = travel.fraction.size
    zero = np.zeros(n)
    sense = 1.0 if going == "up" else -1.0
    centre = travel.shell.point(body.x, body.z)
    wrench: dict[str, Wrench] = {name: Wrench(zero, zero, zero) for name in ("van", "shell", "arm a", "arm b")}
    wrench["shell"] += push_at(centre, zero, -G0 * column(body.mass) + zero)
    for other in loads:
        wrench["shell"] += other.raising if going == "up" else other.lowering
    for one in pushes:
        line, mount = one.line, one.mount
        push = mount.count * (one.raising if going == "up" else one.lowering)
        wrench[mount.head_on] += push_at(line.head, push * line.along_x, push * line.along_z)
        wrench[mount.foot_on] += push_at(line.foot, -push * line.along_x, -push * line.along_z)
    hand = travel.shell.point(*handle)
    ux, uz = hand_direction(hand)
    turn = travel.shell.dphi
    if not travel.arms:
        drag = -sense * np.sign(turn) * column(pin_moment)
        hinge = travel.shell.point(*pins.shell[0])
        load = wrench["shell"]
        about = load.m - _cross(hinge.x, hinge.z, load.fx, load.fz) + drag
        reach = _cross(hand.x - hinge.x, hand.z - hinge.z, ux, uz)
        force = -about / reach
        rx, rz = -load.fx - force * ux, -load.fz - force * uz
        return Reactions(force, ((rx, rz),), ((rx, rz),), np.ones(force.shape, dtype=np.bool_))
    quarter = column(pin_moment) / 4
    # Unknowns: force of arm a on the shell (x, z), of arm b (x, z), hand.
    feet = [(np.asarray(x)[..., None] + zero, np.asarray(z)[..., None] + zero) for x, z in pins.van]
    tops = [travel.shell.point(*p) for p in pins.shell]
    shell_drag, rows, rights = zero, [], []
    for arm, name, foot, top in zip(travel.arms, ("arm a", "arm b"), feet, tops, strict=True):
        at_foot = -sense * np.sign(arm.dphi) * quarter
        at_top = -sense * np.sign(turn - arm.dphi) * quarter
        shell_drag = shell_drag + at_top
        load = wrench[name]
        # Moments about the arm's foot: own load, minus the force it gives the shell, friction at both pins.
        rights.append(load.m - _cross(foot[0], foot[1], load.fx, load.fz) + at_foot - at_top)
        rows.append((-(top.z - foot[1]), top.x - foot[0]))
    load = wrench["shell"]
    shape = np.broadcast_shapes(load.m.shape, *(r.shape for r in rights), hand.x.shape)
    matrix = np.zeros((*shape, 5, 5))
    right = np.zeros((*shape, 5))
    # Moments of the shell about the middle of its pins, so that the equations do not hang on where the origin lies.
    mx, mz = (tops[0].x + tops[1].x) / 2, (tops[0].z + tops[1].z) / 2
    for i, top in enumerate(tops):
        matrix[..., 0, 2 * i] = 1.0
        matrix[..., 1, 2 * i + 1] = 1.0
        matrix[..., 2, 2 * i] = mz - top.z
        matrix[..., 2, 2 * i + 1] = top.x - mx
        matrix[..., 3 + i, 2 * i], matrix[..., 3 + i, 2 * i + 1] = rows[i]
        right[..., 3 + i] = rights[i]
    matrix[..., 0, 4], matrix[..., 1, 4] = ux, uz
    matrix[..., 2, 4] = _cross(hand.x - mx, hand.z - mz, ux, uz)
    about = load.m - _cross(mx, mz, load.fx, load.fz)
    right[..., 0], right[..., 1], right[..., 2] = -load.fx, -load.fz, -about - shell_drag
    # Near a dead point the lines of both arms and of the shell meet and the pins' forces grow without bound.
    bounded = np.linalg.cond(matrix / np.linalg.norm(matrix, axis=-1, keepdims=True)) < MOST_CONDITION
    matrix = np.where(bounded[..., None, None], matrix, np.eye(5))
    found = np.where(bounded[..., None], np.linalg.solve(matrix, right[..., None])[..., 0], 0.0)
    on_shell = tuple((found[..., 2 * i], found[..., 2 * i + 1]) for i in range(2))
    at_van = tuple(
        (on_shell[i][0] - wrench[name].fx, on_shell[i][1] - wrench[name].fz)
        for i, name in enumerate(("arm a", "arm b"))
    )
    return Reactions(found[..., 4], on_shell, at_van, np.asarray(bounded))
