"""Where to bolt two lifting arms a side that are at hand: all four pivots, from the wanted open pose.

The shell's displacement from closed to open is known up to its tilt and its shift; each pair of places on one
side of the arms (free in a zone) gives the other two in closed form, two choices each (`two_positions`). Free
coordinates are scanned by an even sequence without chance, all candidates at once; given distances between two
pivots on one plate are met by a few Newton steps of least length. What remains is moved through its whole travel.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from loftwright.core.choices import End
from loftwright.core.motion import Array, Flags
from loftwright.mechanics.four_bar import FourBar, dead_points, four_bar_travel
from loftwright.mechanics.two_positions import Displacement, opened, other_pivot, seat_doubt, swing

STATIONS: Final = 33
"""Stations of the travel at which candidates are looked at."""
LEAST_SWING, MOST_SWING = np.radians(3.0), np.radians(170.0)
"""An arm that turns less or more from closed to open is left out [rad]: judgement."""
LEAST_HAND_PATH: Final = 0.05
"""Least way of the hand [m] a radian of arm a: less and no hand lifts the roof: judgement."""
DIPS: Final = 0.002
"""How far the lip may sink before it rises [m]: judgement."""
PLATE: Final = 1e-7
"""How well distances on a plate are met [m]."""
PLATE_TAPE: Final = 0.0005
"""The same where nothing is free to meet them [m]: a tape's reading."""
GOOD_GRIP, GOOD_DEAD, GOOD_GAP, GOOD_SEAT, LONG_SHIFT = np.radians(15.0), np.radians(15.0), 0.02, 0.01, 0.5
"""Margins [rad, rad, m], doubt of the seat and shift [m] at which more, or less, is worth no more: judgement."""


@dataclass(frozen=True, slots=True)
class Box:
    """Where a pivot may lie on the closed roof: x and z from low to high [m]."""

    x_low: float
    x_high: float
    z_low: float
    z_high: float

    def holds(self, x: Array, z: Array) -> Flags:
        """Return whether (x, z) [m], [...], lie within, a hair's breadth allowed."""
        hair = 1e-9
        return np.asarray(
            (x >= self.x_low - hair) & (x <= self.x_high + hair) & (z >= self.z_low - hair) & (z <= self.z_high + hair)
        )


@dataclass(frozen=True, slots=True)
class Wanted:
    """Arms at hand and what is wanted of them; lengths [m], angles [rad].

    `arm_a`, `arm_b`: lengths of the arms; `van_plate`, `shell_plate`: distance of both pivots on the van, on the
    shell (None: free). `lip`, `low`, `hand`: both ends of the closed rim and the hand's point. `rise` of the lip;
    `tilt` and `shift` (of the lip towards the cab) from least to most. The places `free_on` that side are looked
    through, those on the other follow. `grip`: least transmission angle; `doubts`: misfit of either arm
    along itself that bolts and lengths a little off may leave.
    """

    arm_a: float
    arm_b: float
    van_plate: float | None
    shell_plate: float | None
    lip: tuple[float, float]
    low: tuple[float, float]
    hand: tuple[float, float]
    end: End
    rise: float
    tilt: tuple[float, float]
    shift: tuple[float, float]
    a_van: Box
    a_shell: Box
    b_van: Box
    b_shell: Box
    free_on: Literal["van", "shell"]
    grip: float
    doubts: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Linkages:
    """Linkages that do what is wanted, and their figures; every array [n].

    `pins` in the order of `FourBar.pins` [m]; `opens` [rad] arm a's swing and `sense` [1]; `tilt` [rad] and `shift`
    [m] of the open shell; `rise` [m] of the lip as worked out over the travel; `grip` [rad] least transmission angle
    and `grip_at` [1] where; `off_dead` [rad] least angle between either arm and the line of the shell's pins;
    `sway` [m] how far the lip goes fore and aft; `gap` [m] least gap over what is wanted; `seat` [m] how far
    the low end may stand off its seat for bolts a little off; `grade` [1] how good all in all, 1 best.
    """

    pins: tuple[Array, ...]
    opens: Array
    sense: Array
    tilt: Array
    shift: Array
    rise: Array
    grip: Array
    grip_at: Array
    off_dead: Array
    sway: Array
    gap: Array
    seat: Array
    grade: Array
    free: Array
    sides: Array

    def __len__(self) -> int:
        return int(self.opens.size)

    def pick(self, index: Flags | NDArray[np.intp] | slice) -> Linkages:
        """Return the linkages at `index` [k] or where it is true."""
        arrays = {f.name: getattr(self, f.name)[index] for f in fields(self) if f.name != "pins"}
        return Linkages(pins=tuple(p[index] for p in self.pins), **arrays)

    def bar(self) -> FourBar:
        """Return all of them as one linkage of n draws."""
        return FourBar(*self.pins)


def bounds(wanted: Wanted) -> tuple[Array, Array]:
    """Return least and most of the free coordinates [rad, m, m, m, m, m]: tilt, shift, x and z of two pivots."""
    one, two = (wanted.a_van, wanted.b_van) if wanted.free_on == "van" else (wanted.a_shell, wanted.b_shell)
    low = [wanted.tilt[0], wanted.shift[0], one.x_low, one.z_low, two.x_low, two.z_low]
    high = [wanted.tilt[1], wanted.shift[1], one.x_high, one.z_high, two.x_high, two.z_high]
    return np.array(low), np.array(high)


def displacement(wanted: Wanted, free: Array) -> Displacement:
    """Return the shell's displacement for free coordinates `free` [n, 6] as `bounds` has them [rad, m]."""
    n = free.shape[0]
    lip = (np.full(n, wanted.lip[0]), np.full(n, wanted.lip[1]))
    return opened(lip, np.full(n, wanted.rise), free[:, 1], free[:, 0], end=wanted.end)


def placed(wanted: Wanted, free: Array, sides: Array) -> tuple[tuple[Array, ...], Flags]:
    """Return all four pivots [m] (order of `FourBar.pins`) and whether the arms are long enough, each [n].

    free: [n, 6] as `bounds` has them [rad, m]; sides: [n, 2], +1 or -1 [1], the choice of `other_pivot` for each arm.
    """
    move = displacement(wanted, free)
    if wanted.free_on == "van":
        move = move.inverse()
    ones, twos = (free[:, 2], free[:, 3]), (free[:, 4], free[:, 5])
    ax, az, reach_a = other_pivot(*ones, move, np.asarray(wanted.arm_a), sides[:, 0])
    bx, bz, reach_b = other_pivot(*twos, move, np.asarray(wanted.arm_b), sides[:, 1])
    if wanted.free_on == "van":
        return (*ones, ax, az, *twos, bx, bz), np.asarray(reach_a & reach_b)
    return (ax, az, *ones, bx, bz, *twos), np.asarray(reach_a & reach_b)


def _misses(wanted: Wanted, free: Array, sides: Array) -> Array:
    """Return by how much the given distances on the plates are missed [m], [n, m]."""
    ax, az, px, pz, bx, bz, rx, rz = placed(wanted, free, sides)[0]
    found = []
    if wanted.van_plate is not None:
        found.append(np.hypot(bx - ax, bz - az) - wanted.van_plate)
    if wanted.shell_plate is not None:
        found.append(np.hypot(rx - px, rz - pz) - wanted.shell_plate)
    return np.stack(found, axis=-1) if found else np.zeros((free.shape[0], 0))


def met(wanted: Wanted, free: Array, sides: Array, *, steps: int = 14) -> tuple[Array, Flags]:
    """Return free coordinates that meet the plates' distances, and which do.

    Newton steps of least length in shares of the zones: du = -J^T (J J^T)^-1 r (2), kept within the zones.
    free: [n, 6] as `bounds` has them [rad, m]; sides: [n, 2] [1]; steps: at most so many [1].
    """
    low, high = bounds(wanted)
    wide = high - low
    count = int(wanted.van_plate is not None) + int(wanted.shell_plate is not None)
    if count == 0:
        return free, np.ones(free.shape[0], dtype=np.bool_)
    moving = np.flatnonzero(wide > 0)
    good = PLATE if moving.size else PLATE_TAPE
    free = free.copy()
    left = np.arange(free.shape[0])
    for _ in range(steps if moving.size else 0):
        part, side = free[left], sides[left]
        miss = _misses(wanted, part, side)
        jacobian = np.zeros((*miss.shape, moving.size))
        for j, at in enumerate(moving):
            h = 1e-6 * wide[at]
            more, less = part.copy(), part.copy()
            more[:, at] += h
            less[:, at] -= h
            jacobian[..., j] = (_misses(wanted, more, side) - _misses(wanted, less, side)) / 2e-6
        # A little is added where a pivot's place does not change the distance at all.
        square = jacobian @ jacobian.swapaxes(-1, -2) + 1e-12 * np.eye(count)
        step = -(jacobian.swapaxes(-1, -2) @ np.linalg.solve(square, miss[..., None]))[..., 0]
        longest = np.maximum(np.abs(step).max(axis=-1, keepdims=True), 0.3)
        part[:, moving] = np.clip(part[:, moving] + wide[moving] * step * (0.3 / longest), low[moving], high[moving])
        free[left] = part
        left = left[np.abs(_misses(wanted, part, side)).max(axis=-1) > PLATE * 1e-2]
        if left.size == 0:
            break
    return free, np.asarray(np.abs(_misses(wanted, free, sides)).max(axis=-1) <= good)


def in_zone(wanted: Wanted, pins: tuple[Array, ...]) -> Flags:
    """Return whether all four pivots lie in their zones, [n]; `pins` [m] in the order of `FourBar.pins`."""
    ax, az, px, pz, bx, bz, rx, rz = pins
    return np.asarray(
        wanted.a_van.holds(ax, az)
        & wanted.a_shell.holds(px, pz)
        & wanted.b_van.holds(bx, bz)
        & wanted.b_shell.holds(rx, rz)
    )


def moved(wanted: Wanted, free: Array, sides: Array, *, stations: int = STATIONS) -> tuple[Linkages, Flags]:
    """Return the candidates with the figures of their travel, and whether they go the whole way.

    free: [n, 6] as `bounds` has them [rad, m]; sides: [n, 2] [1]. Whole way: on the circuit of the closed roof from
    closed to the wanted open pose, the lip rising from the start, no arm
    in line with the shell's pins, the hand moving.
    """
    pins, _ = placed(wanted, free, sides)
    ax, az, px, pz, _, _, rx, rz = pins
    move = displacement(wanted, free)
    turn = swing(ax, az, px, pz, move)
    opens = np.clip(np.abs(turn), LEAST_SWING, MOST_SWING)
    found = four_bar_travel(FourBar(*pins), opens, stations=stations, raises=wanted.lip)
    shell = found.travel.shell
    n = free.shape[0]
    lip = shell.point(np.full(n, wanted.lip[0]), np.full(n, wanted.lip[1]))
    hand = shell.point(np.full(n, wanted.hand[0]), np.full(n, wanted.hand[1]))
    end_x, end_z = move.apply(rx, rz)
    top = shell.point(rx, rz)
    there = np.hypot(top.x[..., -1] - end_x, top.z[..., -1] - end_z) < 1e-6
    dead = dead_points(found)
    goes = (
        found.possible
        & (found.sense == np.sign(turn))
        & (opens == np.abs(turn))
        & there
        & ~dead.arm_a.found
        & ~dead.arm_b.found
        & (np.hypot(hand.dx, hand.dz).min(axis=-1) >= LEAST_HAND_PATH)
        & (lip.z.min(axis=-1) >= wanted.lip[1] - DIPS)
    )
    index = found.transmission.argmin(axis=-1)
    grip = found.transmission.min(axis=-1)
    line_a = np.arcsin(np.minimum(np.abs(found.line_a).min(axis=-1), 1.0))
    seat = seat_doubt(
        pins,
        (np.full(n, wanted.lip[0]), np.full(n, wanted.lip[1])),
        (np.full(n, wanted.low[0]), np.full(n, wanted.low[1])),
        *(np.asarray(doubt) for doubt in wanted.doubts),
    )
    nought = np.zeros(n)
    return Linkages(
        pins=pins,
        opens=opens,
        sense=np.where(turn < 0, -1.0, 1.0),
        tilt=free[:, 0],
        shift=free[:, 1],
        rise=lip.z[..., -1] - lip.z[..., 0],
        grip=grip,
        grip_at=found.travel.fraction[index],
        off_dead=np.minimum(grip, line_a),
        sway=np.ptp(lip.x, axis=-1),
        gap=nought,
        seat=seat,
        grade=nought,
        free=free,
        sides=sides,
    ), np.asarray(goes)


def graded(found: Linkages, wanted: Wanted, gap: Array) -> Linkages:
    """Return the linkages with their gaps [m], [n], and their grade.

    Grade: least of the margins of grip, dead point and gap, each in shares of what is plenty (3), less a little for
    fore-and-aft travel and for a seat that hangs on true bolts, plus a little for the mean margin. Judgement.
    """
    shares = np.stack([(found.grip - wanted.grip) / GOOD_GRIP, found.off_dead / GOOD_DEAD, gap / GOOD_GAP], axis=-1)
    shares = np.minimum(shares, 1.0)
    grade = (
        shares.min(axis=-1)
        + 0.1 * shares.mean(axis=-1)
        - 0.1 * np.minimum(found.sway / LONG_SHIFT, 1.0)
        - 0.2 * np.minimum(found.seat / GOOD_SEAT, 20.0)
    )
    arrays = {f.name: getattr(found, f.name) for f in fields(found)} | {"gap": gap, "grade": grade}
    return Linkages(**arrays)
