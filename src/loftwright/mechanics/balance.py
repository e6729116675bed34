"""What the hand feels: virtual work over the whole travel, for every linkage alike.

With q the driving angle from closed [rad], the hand's force, raising or lowering slowly, is

    push_up   = -(G + S_out + L_open - M) / h'          (1)
    pull_down =  (G + S_in + L_close + M) / h'          (2)

where G = -m g dz_c/dq is the weight's share, S = sum N F dL/dq the springs', L that of the other
loads, M the friction moment of the pins and h' = u dp_h/dq the hand's path along its own direction u:
straight up or down, as a strap hangs and as scales read, unless the path leans more than 45 degrees;
from there on the hand follows, 45 degrees off the path. A spring that grows
longer pushes with its outward force, one that is squeezed with its inward force, whichever way
the roof goes. Derived here from the principle of virtual work; the same forces follow from
equilibrium (`reactions`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, PointPath, Travel, Wrench, column
from loftwright.mechanics.gas_spring import GasSpring, at_temperature, compression, moving_in, moving_out
from loftwright.mechanics.masses import Body

G0 = 9.80665
"""Standard gravity [m/s2]. CGPM 1901, resolution 2."""


@dataclass(frozen=True, slots=True)
class Mount:
    """`count` equal springs, left and right together, and where their ends sit when the roof is closed.

    `foot` and `head` are (x, z) [m] in the van's frame, `sideways` the distance across between the
    two ends of one spring [m]; each [...].
    """

    spring: GasSpring
    count: int
    foot_on: str
    head_on: str
    foot_x: Array
    foot_z: Array
    head_x: Array
    head_z: Array
    sideways: Array


@dataclass(frozen=True, slots=True)
class Lever:
    """A spring's length [m], its rate dL/dq [m/rad], and the line from foot to head, each [..., n]."""

    length: Array
    rate: Array
    along_x: Array
    along_z: Array
    along_y: Array
    foot: PointPath
    head: PointPath


def span(foot: PointPath, head: PointPath, sideways: ArrayLike) -> tuple[Array, Array]:
    """Return the distance L [m] between two moving points and its rate dL/dq [m/rad], each [..., n].

    L^2 = dx^2 + dz^2 + dy^2, dL/dq = (dx dx' + dz dz') / L (3), with dx, dz, dy the differences between
    head and foot [m], of which dy = `sideways` [m], [...], stays.
    """
    dx, dz = head.x - foot.x, head.z - foot.z
    length = np.maximum(np.sqrt(dx**2 + dz**2 + column(sideways) ** 2), 1e-6)
    return length, (dx * (head.dx - foot.dx) + dz * (head.dz - foot.dz)) / length


def lever(mount: Mount, travel: Travel) -> Lever:
    """Return length and leverage of one spring over the travel, by `span`; shape [..., n]."""
    foot = travel.body(mount.foot_on).point(mount.foot_x, mount.foot_z)
    head = travel.body(mount.head_on).point(mount.head_x, mount.head_z)
    dx, dz, dy = head.x - foot.x, head.z - foot.z, column(mount.sideways)
    length, rate = span(foot, head, mount.sideways)
    return Lever(length, rate, dx / length, dz / length, dy / length + 0 * length, foot, head)


@dataclass(frozen=True, slots=True)
class Push:
    """A mount with its line and one spring's push along it [N], when the roof is raised and when it is lowered.

    `raising` and `lowering` are [..., n].
    """

    mount: Mount
    line: Lever
    raising: Array
    lowering: Array

    def at(self, index: int) -> Push:
        """Return the push of one state, where states are the first axis."""
        return replace(self, raising=self.raising[index], lowering=self.lowering[index])


def push_of(mount: Mount, line: Lever, *, kelvin: Array | None = None, factor: ArrayLike = 1.0) -> Push:
    """Return one spring's push over the travel.

    `kelvin` [K], [...], is the spring's temperature (left out: 20 C), `factor` [1], [...], multiplies the
    gas force: age and delivery.
    """
    spring = mount.spring if kelvin is None else at_temperature(mount.spring, kelvin)
    squeezed = compression(mount.spring, line.length)
    out, back = moving_out(spring, squeezed, factor), moving_in(spring, squeezed, factor)
    growing = line.rate > 0
    return Push(mount, line, np.where(growing, out, back), np.where(growing, back, out))


@dataclass(frozen=True, slots=True)
class Load:
    """A named load on the shell that is neither weight nor spring.

    `raising` and `lowering` are the wrenches met in the two directions; they differ for loads that
    act one way only.
    """

    name: str
    raising: Wrench
    lowering: Wrench


@dataclass(frozen=True, slots=True)
class Part:
    """What a lifter does to one moving body, in the two ways of moving; wrenches about the van's origin."""

    on: str
    raising: Wrench
    lowering: Wrench


@dataclass(frozen=True, slots=True)
class Lifter:
    """`count` equal springs other than gas springs, left and right together, and what they do to each body.

    `length` [m], [..., n], and `room` left to the longest or shortest it may be [m], [...], are None where there is
    no such thing.
    """

    name: str
    count: int
    parts: tuple[Part, ...]
    length: Array | None
    room: Array | None

    def shares(self, travel: Travel) -> tuple[Array, Array]:
        """Return the generalised force of all of them, raising and lowering [N m/rad], each [..., n]."""
        none = np.zeros(travel.fraction.size)
        up = sum((part.raising.work_rate(travel.body(part.on)) for part in self.parts), start=none)
        down = sum((part.lowering.work_rate(travel.body(part.on)) for part in self.parts), start=none)
        return np.asarray(up), np.asarray(down)


@dataclass(frozen=True, slots=True)
class Drive:
    """Every share of the balance as a generalised force in the opening sense [N m/rad], each [..., n].

    `springs_raising` and `springs_lowering` hold one share per mount, for all its springs together; `lifters_raising`
    and `lifters_lowering` likewise for what lifts beside gas springs, alike in every state.
    """

    weight: Array
    springs_raising: tuple[Array, ...]
    springs_lowering: tuple[Array, ...]
    loads_raising: Array
    loads_lowering: Array
    friction: Array
    hand_path: Array
    lifters_raising: tuple[Array, ...] = ()
    lifters_lowering: tuple[Array, ...] = ()

    @property
    def rising(self) -> Array:
        """Generalised force that drives a roof moving up [N m/rad]; positive rises by itself."""
        lifted = _total(self.springs_raising) + _total(self.lifters_raising)
        return self.weight + lifted + self.loads_raising - self.friction

    @property
    def falling(self) -> Array:
        """Generalised force that still holds up a roof moving down [N m/rad]; negative falls by itself."""
        lifted = _total(self.springs_lowering) + _total(self.lifters_lowering)
        return self.weight + lifted + self.loads_lowering + self.friction

    @property
    def at_rest(self) -> Array:
        """Generalised force on a roof at rest whose friction has been shaken off [N m/rad].

        Springs push with the middle of their two forces; loads that act one way only are left out.
        """
        shares = (self.springs_raising, self.springs_lowering, self.lifters_raising, self.lifters_lowering)
        return self.weight + sum(_total(share) for share in shares) / 2 + self.loads_raising

    @property
    def push_up(self) -> Array:
        """Hand force needed to raise [N], eq. (1); negative: it rises by itself."""
        return -self.rising / self.hand_path

    @property
    def pull_down(self) -> Array:
        """Hand force needed to lower [N], eq. (2); negative: it falls by itself."""
        return self.falling / self.hand_path

    def at(self, index: int) -> Drive:
        """Return the balance of one state, where states are the first axis of the springs' and the loads' shares."""
        return replace(
            self,
            loads_raising=self.loads_raising[index],
            loads_lowering=self.loads_lowering[index],
            springs_raising=tuple(s[index] for s in self.springs_raising),
            springs_lowering=tuple(s[index] for s in self.springs_lowering),
        )

    def without_one_spring(self, count: int, index: int) -> Drive:
        """Return the same balance with one of the `count` springs of mount `index` gone."""
        keep = (count - 1) / count

        def lessen(shares: tuple[Array, ...]) -> tuple[Array, ...]:
            return tuple(share * keep if i == index else share for i, share in enumerate(shares))

        return replace(
            self, springs_raising=lessen(self.springs_raising), springs_lowering=lessen(self.springs_lowering)
        )

    def without_one_lifter(self, count: int, index: int) -> Drive:
        """Return the same balance with one of the `count` springs of lifter `index` gone."""
        keep = (count - 1) / count
        up, down = (
            tuple(share * keep if i == index else share for i, share in enumerate(shares))
            for shares in (self.lifters_raising, self.lifters_lowering)
        )
        return replace(self, lifters_raising=up, lifters_lowering=down)


def _total(shares: tuple[Array, ...]) -> Array:
    return np.asarray(sum(shares, start=np.zeros(1)))


def weight_share(body: Body, travel: Travel) -> Array:
    """Return -m g dz_c/dq [N m/rad], shape [..., n]."""
    centre = travel.shell.point(body.x, body.z)
    return -G0 * column(body.mass) * centre.dz


def pin_friction(moment: Array, travel: Travel) -> Array:
    """Return the friction share of the pins [N m/rad], shape [..., n], never negative.

    `moment` [N m], shape [...], is the friction moment of all pins together. A single hinge turns
    with the shell; of four pins each carries a quarter and turns by the difference of its two
    links.
    """
    shell = travel.shell.dphi
    if not travel.arms:
        return column(moment) * np.abs(shell)
    turns = sum(np.abs(arm.dphi) + np.abs(arm.dphi - shell) for arm in travel.arms)
    return np.asarray(column(moment) * turns / (2 * len(travel.arms)))


_LEAN = np.cos(np.radians(45.0))


def hand_direction(path: PointPath) -> tuple[Array, Array]:
    """Return the unit vector (x, z) along which a hand pushes up at a moving point, each [..., n].

    Straight up (or down, where the point goes down) while the path leans by less than 45 degrees; beyond, 45 degrees
    off the path on the upright's side. `path` carries positions [m] and rates [m/rad]. Judgement: people push up and
    hang on straps, and give way sideways where that would move nothing.
    """
    rate = np.maximum(np.hypot(path.dx, path.dz), 1e-9)
    px, pz = path.dx / rate, path.dz / rate
    up = np.where(pz < 0, -1.0, 1.0)
    # The part of the upright that is square to the path.
    wx, wz = -up * pz * px, up * (1 - pz * pz)
    size = np.maximum(np.hypot(wx, wz), 1e-12)
    steep = np.abs(pz) >= _LEAN
    ux = np.where(steep, 0.0, _LEAN * (px + wx / size))
    uz = np.where(steep, up, _LEAN * (pz + wz / size))
    return np.asarray(ux), np.asarray(uz)


def balance(
    travel: Travel,
    body: Body,
    pushes: Sequence[Push],
    loads: Sequence[Load],
    pin_moment: Array,
    handle: tuple[Array, Array],
    lifters: Sequence[Lifter] = (),
) -> Drive:
    """Return every share of the balance over the travel.

    `handle` is the hand's point on the closed shell (x, z) [m], each [...]; `pin_moment` [N m] is [...].
    """
    hand = travel.shell.point(*handle)
    ux, uz = hand_direction(hand)
    lifted = [lifter.shares(travel) for lifter in lifters]
    nothing = np.zeros(travel.fraction.size)
    return Drive(
        weight=weight_share(body, travel),
        springs_raising=tuple(p.mount.count * p.raising * p.line.rate for p in pushes),
        springs_lowering=tuple(p.mount.count * p.lowering * p.line.rate for p in pushes),
        loads_raising=np.asarray(sum((load.raising.work_rate(travel.shell) for load in loads), start=nothing)),
        loads_lowering=np.asarray(sum((load.lowering.work_rate(travel.shell) for load in loads), start=nothing)),
        friction=pin_friction(pin_moment, travel),
        hand_path=ux * hand.dx + uz * hand.dz,
        lifters_raising=tuple(up for up, _ in lifted),
        lifters_lowering=tuple(down for _, down in lifted),
    )
