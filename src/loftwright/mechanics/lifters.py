"""What lifts beside gas springs: coil springs, torsion springs at a pivot, elastic cords.

They are springs of one length or angle only: heat, cold, age and speed leave them as they are. A cord gives back
less than it took; the work lost in a cycle is its hysteresis. All work is taken up as wrenches on the bodies, so
that virtual work and equilibrium meet the same forces.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.core.motion import Array, PointPath, Travel, Wrench, column, push_at
from loftwright.mechanics.balance import Lifter, Part, span

LEAST_STEP: Final = 1e-6
"""Two points of a cord's curve lie at least so far apart [m]."""


@dataclass(frozen=True, slots=True)
class Between:
    """Two ends (x, z) [m] when the roof is closed, what carries them, and their distance across [m]; each [...]."""

    foot_on: str
    head_on: str
    foot_x: Array
    foot_z: Array
    head_x: Array
    head_z: Array
    sideways: Array

    def paths(self, travel: Travel) -> tuple[PointPath, PointPath]:
        """Return the paths of foot and head."""
        foot = travel.body(self.foot_on).point(self.foot_x, self.foot_z)
        return foot, travel.body(self.head_on).point(self.head_x, self.head_z)


@dataclass(frozen=True, slots=True)
class Coil:
    """`count` equal coil springs that pull (`pulls`) or push; `rate` [N/m], `free` length [m], `initial` [N].

    `limit` [m]: longest drawn or shortest squeezed length, None where nobody knows; each [...].
    """

    name: str
    count: int
    between: Between
    pulls: bool
    rate: Array
    free: Array
    initial: Array
    limit: Array | None


@dataclass(frozen=True, slots=True)
class Torsion:
    """`count` equal torsion springs that turn the body `on` in the opening sense.

    `moment` [N m] of one with the roof closed, less `per_radian` [N m/rad] for what the body turns; each [...].
    """

    name: str
    count: int
    on: str
    moment: Array
    per_radian: Array


@dataclass(frozen=True, slots=True)
class Cord:
    """`count` equal cords: pull `force` [N], [..., k], at `length` [m], [..., k], the first of them slack.

    `lost` [1], [...]: the share of the pull missing when it goes back.
    """

    name: str
    count: int
    between: Between
    length: Array
    force: Array
    lost: Array


Gear = Coil | Torsion | Cord


def coil_push(coil: Coil, length: Array) -> Array:
    """Return how hard one coil spring pushes its ends apart [N] at `length` [m], [..., n]; negative: it pulls.

    (1) pulls: -(F0 + k (L - L0)) for L > L0, else 0; pushes: k (L0 - L) for L < L0, else 0.
    Source: Hooke's law with initial tension, as EN 13906-2 has it (from memory).

    >>> one = np.array(1.0)
    >>> ends = Between("van", "shell", one, one, one, one, one)
    >>> spring = Coil("c", 2, ends, True, 1000 * one, 0.3 * one, 20 * one, None)
    >>> coil_push(spring, np.array([0.2, 0.4])).round(6).tolist()
    [0.0, -120.0]
    """
    drawn = length - column(coil.free)
    rate = column(coil.rate)
    if coil.pulls:
        return np.asarray(np.where(drawn > 0, -(column(coil.initial) + rate * drawn), 0.0))
    return np.asarray(np.where(drawn < 0, -rate * drawn, 0.0))


def cord_pull(cord: Cord, length: Array) -> Array:
    """Return the pull of one cord drawn out slowly [N] at `length` [m], [..., n].

    (2) straight between its points, nought below the first, on with the last slope beyond the last.
    """
    at, force = np.asarray(cord.length), np.asarray(cord.force)
    total = np.zeros(1)
    for i in range(at.shape[-1] - 1):
        wide = np.maximum(at[..., i + 1] - at[..., i], LEAST_STEP)
        slope = column((force[..., i + 1] - force[..., i]) / wide)
        most = np.inf if i == at.shape[-1] - 2 else column(wide)
        total = total + slope * np.clip(length - column(at[..., i]), 0.0, most)
    return np.asarray(np.maximum(total, 0.0))


def torsion_moment(torsion: Torsion, turned: Array) -> Array:
    """Return the moment of one torsion spring [N m] once its body has `turned` [rad], [..., n]: M0 - k turned (3).

    It never falls below nought: a leg then only lies on.
    """
    return np.asarray(np.maximum(column(torsion.moment) - column(torsion.per_radian) * turned, 0.0))


def _along(between: Between, travel: Travel, raising: Array, lowering: Array, count: int) -> tuple[Part, ...]:
    """Return a push along the line between two ends [N], [..., n], as wrenches on whatever carries them."""
    foot, head = between.paths(travel)
    length, _ = span(foot, head, between.sideways)
    ux, uz = (head.x - foot.x) / length, (head.z - foot.z) / length
    parts = []
    for body, end, sign in ((between.head_on, head, count), (between.foot_on, foot, -count)):
        up, down = (push_at(end, sign * push * ux, sign * push * uz) for push in (raising, lowering))
        if body != "van":
            parts.append(Part(body, up, down))
    return tuple(parts)


def _coil(coil: Coil, travel: Travel) -> Lifter:
    foot, head = coil.between.paths(travel)
    length, _ = span(foot, head, coil.between.sideways)
    push = coil_push(coil, length)
    room = None
    if coil.limit is not None:
        room = coil.limit - length.max(axis=-1) if coil.pulls else length.min(axis=-1) - coil.limit
    return Lifter(coil.name, coil.count, _along(coil.between, travel, push, push, coil.count), length, room)


def _cord(cord: Cord, travel: Travel) -> Lifter:
    foot, head = cord.between.paths(travel)
    length, rate = span(foot, head, cord.between.sideways)
    out = cord_pull(cord, length)
    back = out * (1.0 - column(cord.lost))
    # Raised, a cord that grows longer is drawn out; lowered, it is the other way round.
    raising, lowering = np.where(rate > 0, out, back), np.where(rate > 0, back, out)
    room = cord.length[..., -1] - length.max(axis=-1)
    return Lifter(cord.name, cord.count, _along(cord.between, travel, -raising, -lowering, cord.count), length, room)


def _torsion(torsion: Torsion, travel: Travel) -> Lifter:
    body = travel.body(torsion.on)
    moment = torsion.count * torsion_moment(torsion, np.abs(body.phi)) * np.sign(body.phi[..., -1:])
    none = np.zeros_like(moment)
    turn = Wrench(none, none, moment)
    return Lifter(torsion.name, torsion.count, (Part(torsion.on, turn, turn),), None, None)


def lifters(gear: Sequence[Gear], travel: Travel) -> tuple[Lifter, ...]:
    """Return what every piece of gear does over the travel."""
    found = []
    for one in gear:
        if isinstance(one, Coil):
            found.append(_coil(one, travel))
        elif isinstance(one, Cord):
            found.append(_cord(one, travel))
        else:
            found.append(_torsion(one, travel))
    return tuple(found)
