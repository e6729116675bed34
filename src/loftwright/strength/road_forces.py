"""The latched roof at speed: what each latch, stop, hinge and the safety catch carry, and each one's speed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loftwright.core.motion import Array
from loftwright.strength.latch_bar import Bar, bar_shares
from loftwright.strength.latched import (
    Held,
    Lines,
    hold,
    latch_share,
    preloaded,
    pressure_breaking,
    pressure_freeing,
    pressure_reaching_size,
    sudden,
)
from loftwright.strength.road import (
    Cap,
    Push,
    RoadAir,
    air_per_pressure,
    apparent_wind,
    road_speed,
    seal_push,
    tossed_up,
    weight,
)
from loftwright.strength.wind import velocity_pressure


@dataclass(frozen=True, slots=True)
class Drive:
    """How the van drives, each [...].

    Road `speed`, `head` and `cross` wind [m/s], `density` of the air [kg/m3] and `bump`, the acceleration down on top
    of gravity in units of it [1]; up it counts as `tossed_up`.
    """

    speed: Array
    head: Array
    cross: Array
    density: Array
    bump: Array

    @property
    def pressure(self) -> Array:
        """Pressure of the resultant wind [Pa]."""
        return velocity_pressure(apparent_wind(self.speed, self.head, self.cross).speed, self.density)

    def speed_at(self, pressure: Array) -> Array:
        """Return the road speed [m/s] with this wind at which the air reaches `pressure` [Pa], [...]."""
        return road_speed(pressure, self.density, self.head, self.cross)


@dataclass(frozen=True, slots=True)
class Shut:
    """What acts on the closed shell and how its latches are set, each [...].

    `mass` [kg] with its centre at `x`, `z` [m]; `seal_line` [N/m]; `springs` as they push when closed; `preload`, the
    pull of each closed latch at rest [N]; stiffness of the `stop` beside each latch [N/m]; `side`, coefficient [1] of a
    cross wind on the shell's long side.
    """

    cap: Cap
    air: RoadAir
    mass: Array
    x: Array
    z: Array
    seal_line: Array
    springs: Push
    preload: Array
    stop: Array
    side: Array

    def still(self, bump: Array) -> Push:
        """Return the load without air while the road accelerates the van upwards by `bump` [1] times gravity."""
        return weight(self.mass, self.x, self.z, bump) + seal_push(self.cap, self.seal_line) + self.springs


@dataclass(frozen=True, slots=True)
class Catch:
    """The safety catch on the latches' line: `slack` [m] before it bites and `stiffness` [N/m], each [...]."""

    slack: Array
    stiffness: Array


@dataclass(frozen=True, slots=True)
class Rated:
    """What parts may carry with safety taken off, each [...].

    One `latch` and one `hinge` [N]; `stop`, the least push [N] with which a stop counts as pressed.
    """

    latch: Array
    hinge: Array
    stop: Array


@dataclass(frozen=True, slots=True)
class RoadForces:
    """What the road asks for; forces [N], speeds [m/s], each [...], those of single latches and stops [..., n].

    `latch` and `stop` at speed with the shell tossed up, `stop_rest` at rest, `hinge` of one hinge (nought without
    hinges), `latch_lost` and `hinge_lost` the greatest with any one latch gone, `gape` [m] of the lip between latches,
    `catch` when all latches let go (nought without one). `latch_speed`, `hinge_speed`, `stop_speed`: road speed at
    which the first of each reaches its limit, infinite where none does. `line` is what all latches and stops together
    must hold down; `hinge_parts` [..., 3] are the parts of `hinge` along, up and across the side view.
    """

    latch: Array
    stop: Array
    stop_rest: Array
    hinge: Array
    latch_lost: Array
    hinge_lost: Array
    gape: Array
    catch: Array
    latch_speed: Array
    hinge_speed: Array
    stop_speed: Array
    line: Array
    hinge_parts: Array


@dataclass(frozen=True, slots=True)
class HeldCases:
    """What holds the shell: at `rest`, tossed `up` and `down` without air, and for one pascal of air, `air` [m2].

    In each `hinge_forward` and `hinge_up` are those of one pair of hinges, pins of arms or shoes after the other,
    [..., pairs].
    `across` [m2] is what one hinge takes for one pascal square to the side view, `beside` [N] what it takes so at
    speed whatever the pressure ahead.
    """

    rest: Held
    up: Held
    down: Held
    air: Held
    across: Array
    beside: Array


def _size(*parts: Array) -> Array:
    return np.asarray(np.sqrt(np.asarray(sum(part**2 for part in parts))))


def held_road(
    shut: Shut, cases: HeldCases, bar: Bar, hinges_apart: Array, drive: Drive, rated: Rated, catch: Catch | None
) -> RoadForces:
    """Return what the parts of a shell with its latches on one line carry on the road, [...].

    Net pull of the latch line S = S_still + q S_air (1), shared by `bar`; latch and stop by `preloaded`, each hinge
    half of its pair's force, and with one latch lost also the couple that holds the shell level, over `hinges_apart`
    [m] (2). The stops press on the latches' line, so that the hinges' force is straight in q too; every speed is
    exact (3). The catch takes what the latches held, suddenly (4). Source: derivation.
    """
    q = drive.pressure
    still, blown = cases.up, cases.air
    phi = latch_share(bar.latch, shut.stop)[..., None]
    shares = bar_shares(bar)
    each_rest = shares.share * cases.rest.latch_line[..., None]
    each_still, each_air = shares.share * still.latch_line[..., None], shares.share * blown.latch_line[..., None]
    pre = shut.preload[..., None]
    road = preloaded(each_still + each_air * q[..., None], each_rest, pre, phi)
    line = still.latch_line + q * blown.latch_line

    pairs = np.shape(blown.hinge_up)
    slopes = np.stack(
        np.broadcast_arrays(
            blown.hinge_forward / 2, blown.hinge_up / 2, np.broadcast_to(cases.across[..., None], pairs)
        ),
        axis=-1,
    )
    hinge, parts = np.zeros(np.shape(line)), np.zeros((*np.shape(line), 3))
    hinge_q = np.full(np.shape(line), np.inf)
    for held in (still, cases.down):
        constants = np.stack(
            np.broadcast_arrays(
                held.hinge_forward / 2, held.hinge_up / 2, np.broadcast_to(cases.beside[..., None], pairs)
            ),
            axis=-1,
        )
        every = constants + slopes * q[..., None, None]
        size = np.linalg.norm(every, axis=-1)
        worst = np.argmax(size, axis=-1)[..., None]
        here = np.take_along_axis(size, worst, -1)[..., 0]
        picked = np.take_along_axis(every, worst[..., None], -2)[..., 0, :]
        parts = np.where((here > hinge)[..., None], picked, parts)
        hinge = np.maximum(hinge, here)
        reached = pressure_reaching_size(constants, slopes, rated.hinge[..., None])
        hinge_q = np.minimum(hinge_q, reached.min(axis=-1))

    latch_lost, hinge_lost = np.zeros(np.shape(line)), hinge
    if bar.count > 1:
        along, lift, beside = np.moveaxis(parts, -1, 0)
        for gone in range(bar.count):
            left = bar_shares(bar, lost=gone)
            pulls = preloaded(left.share * line[..., None], each_rest, pre, phi).latch
            pulls = np.where(np.arange(bar.count) == gone, 0.0, pulls)
            latch_lost = np.maximum(latch_lost, pulls.max(axis=-1))
            couple = np.abs(left.roll * line) / hinges_apart
            hinge_lost = np.maximum(hinge_lost, _size(along, np.abs(lift) + couple, beside))
    thrown = np.zeros(np.shape(line)) if catch is None else sudden(line, catch.slack, catch.stiffness)
    latch_q = pressure_breaking(each_rest, each_still, each_air, pre, phi, rated.latch[..., None])
    stop_q = pressure_freeing(each_rest, each_still, each_air, pre - rated.stop[..., None], phi)
    return RoadForces(
        latch=road.latch,
        stop=road.stop,
        stop_rest=preloaded(each_rest, each_rest, pre, phi).stop,
        hinge=hinge,
        latch_lost=latch_lost,
        hinge_lost=hinge_lost,
        gape=np.asarray((shares.rise * np.maximum(line, 0.0)[..., None]).max(axis=-1)),
        catch=thrown,
        latch_speed=drive.speed_at(latch_q.min(axis=-1)),
        hinge_speed=drive.speed_at(hinge_q),
        stop_speed=drive.speed_at(stop_q.min(axis=-1)),
        line=line,
        hinge_parts=parts,
    )


def hinged_cases(shut: Shut, lines: Lines, drive: Drive) -> HeldCases:
    """Return what holds a hinged shell, by the balance of a rigid body about its hinge: `hold`.

    A cross wind's push on the side is shared by the ends as on a beam. Source: derivation.
    """

    def one(load: Push) -> Held:
        found = hold(lines, load)
        return Held(found.latch_line, found.hinge_forward[..., None], found.hinge_up[..., None])

    cap = shut.cap
    push = shut.side * cap.length * cap.step * velocity_pressure(drive.cross, drive.density)
    middle = cap.rear + cap.length / 2
    beside = push * np.abs(lines.latch_x - middle) / np.abs(lines.latch_x - lines.hinge_x) / 2
    still = [one(shut.still(bump)) for bump in (0 * drive.bump, -tossed_up(drive.bump), drive.bump)]
    rest, up, down = still
    return HeldCases(rest, up, down, one(air_per_pressure(cap, shut.air)), np.zeros(np.shape(beside)), beside)
