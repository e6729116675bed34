"""Forces in hinges, pins and handle by equilibrium of every body: the check on virtual work, and what brackets carry.

Planar statics of the shell and, where there are arms, of each arm. Unknown are the pin forces and
the hand force along its direction (`balance.hand_direction`); left and right sides are taken together. Derived here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from loftwright.core.motion import Array, Flags, PointPath, Travel, Wrench, column, push_at
from loftwright.mechanics.balance import G0, Lifter, Load, Push, hand_direction
from loftwright.mechanics.guides import Shoes, guided
from loftwright.mechanics.masses import Body

MOST_CONDITION: Final = 200.0
"""Condition of the equations, each at its own scale, beyond which a station counts as a dead point: judgement."""


@dataclass(frozen=True, slots=True)
class Pins:
    """Where the shell is held when closed: one hinge, or the two arm pairs' van and shell pins; (x, z) [m], each [...].

    `van` and `shell` have equal length; for a hinge they hold the same point. `crossing` arms are pinned to each other
    in the middle; arm a's shell pin and arm b's van pin slide level. Of guides `van` are the upper and the lower end of
    the shoes, and `shell` the same.
    """

    van: tuple[tuple[Array, Array], ...]
    shell: tuple[tuple[Array, Array], ...]
    crossing: bool = False


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


def wrenches(
    travel: Travel,
    body: Body,
    pushes: Sequence[Push],
    loads: Sequence[Load],
    *,
    raising: bool,
    lifters: Sequence[Lifter] = (),
) -> dict[str, Wrench]:
    """Return all that acts on van, shell and arms but hand, pins and friction, by body; forces [N], moments [N m].

    Arguments as in `balance.balance`.
    """
    zero = np.zeros(travel.fraction.size)
    centre = travel.shell.point(body.x, body.z)
    wrench: dict[str, Wrench] = {name: Wrench(zero, zero, zero) for name in ("van", "shell", "arm a", "arm b")}
    wrench["shell"] += push_at(centre, zero, -G0 * column(body.mass) + zero)
    for other in loads:
        wrench["shell"] += other.raising if raising else other.lowering
    for part in (part for lifter in lifters for part in lifter.parts):
        wrench[part.on] += part.raising if raising else part.lowering
    for one in pushes:
        line, mount = one.line, one.mount
        push = mount.count * (one.raising if raising else one.lowering)
        wrench[mount.head_on] += push_at(line.head, push * line.along_x, push * line.along_z)
        wrench[mount.foot_on] += push_at(line.foot, -push * line.along_x, -push * line.along_z)
    return wrench


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
    lifters: Sequence[Lifter] = (),
) -> Reactions:
    """Return hand and pin forces over the travel, moving slowly up or down.

    Arguments as in `balance.balance`: `handle` (x, z) [m] when closed and `pin_moment` [N m], each [...].
    Valid away from dead points, where the pins' forces have no bound; those stations are marked.
    """
    zero = np.zeros(travel.fraction.size)
    sense = 1.0 if going == "up" else -1.0
    wrench = wrenches(travel, body, pushes, loads, raising=going == "up", lifters=lifters)
    hand = travel.shell.point(*handle)
    ux, uz = hand_direction(hand)
    turn = travel.shell.dphi
    if travel.slides:
        return _on_guides(travel, wrench["shell"], hand, (ux, uz), pins, sense)
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
    if pins.crossing:
        return _on_crossing_arms(travel, wrench, quarter, hand, (ux, uz), pins, sense)
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
    found, bounded = _solved(matrix, right)
    on_shell = tuple((found[..., 2 * i], found[..., 2 * i + 1]) for i in range(2))
    at_van = tuple(
        (on_shell[i][0] - wrench[name].fx, on_shell[i][1] - wrench[name].fz)
        for i, name in enumerate(("arm a", "arm b"))
    )
    return Reactions(found[..., 4], on_shell, at_van, bounded)


def _on_guides(
    travel: Travel, load: Wrench, hand: PointPath, direction: tuple[Array, Array], pins: Pins, sense: float
) -> Reactions:
    """Return the forces of a shell in straight guides, without their rub."""
    (ax, az), (bx, bz) = (tuple(np.asarray(v, dtype=np.float64) for v in end) for end in pins.van)
    length = np.hypot(ax - bx, az - bz)
    shoes = Shoes((ax + bx) / 2, (az + bz) / 2, length, np.zeros_like(length))
    found = guided(travel, load, hand, direction, shoes, raising=sense > 0)
    ends = tuple((end * found.square_x, end * found.square_z) for end in (found.upper, found.lower))
    return Reactions(sense * found.hand, ends, ends, np.ones(found.hand.shape, dtype=np.bool_))


def _solved(matrix: Array, right: Array) -> tuple[Array, Flags]:
    """Return the unknowns, [..., k], and where they are bounded; elsewhere they stand at nought."""
    # Near a dead point the lines of both arms and of the shell meet and the pins' forces grow without bound.
    bounded = np.linalg.cond(matrix / np.linalg.norm(matrix, axis=-1, keepdims=True)) < MOST_CONDITION
    matrix = np.where(bounded[..., None, None], matrix, np.eye(matrix.shape[-1]))
    found = np.where(bounded[..., None], np.linalg.solve(matrix, right[..., None])[..., 0], 0.0)
    return found, np.asarray(bounded)


def _on_crossing_arms(
    travel: Travel,
    wrench: dict[str, Wrench],
    quarter: Array,
    hand: PointPath,
    direction: tuple[Array, Array],
    pins: Pins,
    sense: float,
) -> Reactions:
    """Return the forces on crossing arms: force and moment balance of the shell and both arms, nine unknowns.

    `quarter` [N m], [..., 1]: friction moment of each of the four end pins; sliding ends push square to their slides.
    """
    arm_a, arm_b = travel.arms
    (ax, az), (bx, bz) = pins.van
    (cx, cz), (dx, dz) = pins.shell
    # Where the ends are: a and b on the van, c and d on the shell, and the pin in the middle.
    ends = (arm_a.point(ax, az), arm_b.point(bx, bz), arm_a.point(cx, cz), arm_b.point(dx, dz))
    a, b, c, d = ends
    mx, mz = (a.x + c.x) / 2, (a.z + c.z) / 2
    shape = np.broadcast_shapes(*(w.m.shape for w in wrench.values()), hand.x.shape, mx.shape, quarter.shape)
    matrix, right = np.zeros((*shape, 9, 9)), np.zeros((*shape, 9))
    # Unknowns: on the shell by arm b (x, z), by arm a (z); on arm a by the van (x, z); on arm b by the van (z);
    # on arm b by arm a at the middle (x, z); hand. Rows: x, z, moment about the middle pin of shell, arm a, arm b.
    shell, first, second = 0, 3, 6

    def enters(row: int, unknown: int, place: PointPath, x: float, z: float) -> None:
        matrix[..., row, unknown] += x
        matrix[..., row + 1, unknown] += z
        matrix[..., row + 2, unknown] += _cross(place.x - mx, place.z - mz, np.asarray(x), np.asarray(z))

    for unknown, x, z in ((0, 1.0, 0.0), (1, 0.0, 1.0)):
        enters(shell, unknown, d, x, z)
        enters(second, unknown, d, -x, -z)
    enters(shell, 2, c, 0.0, 1.0)
    enters(first, 2, c, 0.0, -1.0)
    enters(first, 3, a, 1.0, 0.0)
    enters(first, 4, a, 0.0, 1.0)
    enters(second, 5, b, 0.0, 1.0)
    # Through the middle pin itself: no moment about it.
    for unknown, axis in ((6, 0), (7, 1)):
        matrix[..., second + axis, unknown] = 1.0
        matrix[..., first + axis, unknown] = -1.0
    ux, uz = direction
    matrix[..., 0, 8], matrix[..., 1, 8] = ux, uz
    matrix[..., 2, 8] = _cross(hand.x - mx, hand.z - mz, ux, uz)
    drags = []
    for arm in travel.arms:
        drags.append(-sense * np.sign(arm.dphi) * quarter)
    # Each arm rubs at both its ends; the shell feels the upper pins the other way round.
    for row, name, drag in (
        (shell, "shell", -drags[0] - drags[1]),
        (first, "arm a", 2 * drags[0]),
        (second, "arm b", 2 * drags[1]),
    ):
        load = wrench[name]
        right[..., row], right[..., row + 1] = -load.fx, -load.fz
        right[..., row + 2] = -(load.m - _cross(mx, mz, load.fx, load.fz)) - drag
    found, bounded = _solved(matrix, right)
    none = np.zeros_like(found[..., 0])
    return Reactions(
        found[..., 8],
        ((none, found[..., 2]), (found[..., 0], found[..., 1])),
        ((found[..., 3], found[..., 4]), (none, found[..., 5])),
        bounded,
    )
