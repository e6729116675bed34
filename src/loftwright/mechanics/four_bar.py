"""How two lifting arms a side carry the shell from closed to open: four-bar, parallel arms.

The side view is planar; left and right are alike. One driving angle q [rad], zero when closed and
never falling, moves everything. Points are given where they lie when the roof is closed. The
derivatives come from the velocity and acceleration equations of the loop, not from differences.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.errors import CannotAssemble
from loftwright.core.motion import Array, Flags, Motion, Travel, column, fractions, turning

_TINY = 1e-12
_IN_LINE = 1e-9
"""Sine below which two links count as lying in one line."""


def _floats(*values: ArrayLike) -> list[Array]:
    return [np.asarray(value, dtype=np.float64) for value in values]


def _floored(value: Array, floor: Array) -> Array:
    """Return `value` kept at least `floor` away from zero, on its own side."""
    return np.where(np.abs(value) < floor, np.copysign(floor, value), value)


@dataclass(frozen=True, slots=True)
class FourBar:
    """Pins [m] of two lifting arms where they lie when the roof is closed; each shaped [...].

    `van` pins stay where they are, `shell` pins are fixed to the shell; the shell is the coupler.
    """

    arm_a_van_x: ArrayLike
    arm_a_van_z: ArrayLike
    arm_a_shell_x: ArrayLike
    arm_a_shell_z: ArrayLike
    arm_b_van_x: ArrayLike
    arm_b_van_z: ArrayLike
    arm_b_shell_x: ArrayLike
    arm_b_shell_z: ArrayLike

    def pins(self) -> tuple[Array, ...]:
        """Return the eight coordinates in the order of the fields, broadcast against each other."""
        return tuple(
            np.broadcast_arrays(
                *_floats(
                    self.arm_a_van_x,
                    self.arm_a_van_z,
                    self.arm_a_shell_x,
                    self.arm_a_shell_z,
                    self.arm_b_van_x,
                    self.arm_b_van_z,
                    self.arm_b_shell_x,
                    self.arm_b_shell_z,
                )
            )
        )

    def lengths(self) -> tuple[Array, Array, Array, Array]:
        """Return (van, arm a, shell, arm b): lengths of the four links [m], each [...]."""
        ax, az, px, pz, bx, bz, rx, rz = self.pins()
        return (
            np.hypot(bx - ax, bz - az),
            np.hypot(px - ax, pz - az),
            np.hypot(rx - px, rz - pz),
            np.hypot(rx - bx, rz - bz),
        )


@dataclass(frozen=True, slots=True)
class FourBarTravel:
    """Travel of a shell on two arms a side, with what is said of each draw.

    `possible` [...]: the arms reach the whole opening on the circuit of the closed roof. Where it is
    false the poses are finite but held at the limit of reach, and mean nothing.
    `jams_at` [...]: how far arm a can turn [rad], never more than asked.
    `transmission` [..., n]: acute angle [rad] between arm b and the shell.
    `line_a`, `line_b` [..., n]: signed sine between arm a or arm b and the shell's line of pins.
    `sense` [...]: +1 where arm a turns from x towards z, -1 where it turns the other way.
    `parallel` [...]: the arms are equal and parallel.
    """

    bar: FourBar
    travel: Travel
    possible: Flags
    jams_at: Array
    transmission: Array
    line_a: Array
    line_b: Array
    sense: Array
    parallel: Flags


def _meet(fx: Array, fz: Array, b: Array, c: Array, circuit: Array) -> tuple[Array, Array]:
    """Return the coupler vector g from pin A to pin B.

    f = B0 - A. (2) |g| = b, |g - f| = c, the sign of cross(f, g) being `circuit`.
    Out of reach, g points along f, the nearest there is.
    """
    span = np.maximum(np.hypot(fx, fz), _TINY)
    base = np.maximum(2.0 * span * b, _TINY)
    cos = np.clip((span**2 + b**2 - c**2) / base, -1.0, 1.0)
    # Area form of the sine: keeps its digits where the links are nearly in line.
    area = ((b + c) - span) * ((b + c) + span) * (span - np.abs(b - c)) * (span + np.abs(b - c))
    sin = circuit * np.minimum(np.sqrt(np.maximum(area, 0.0)) / base, 1.0)
    ux, uz = fx / span, fz / span
    return b * (cos * ux - sin * uz), b * (cos * uz + sin * ux)


def _first_limit(d: Array, a: Array, b: Array, c: Array, start: Array, sense: Array) -> Array:
    """Return how far arm a turns before arm b and the shell lie in one line [rad]; two pi where they never do.

    (3) cos theta = (a2 + d2 - L2) / (2 a d) at L = b + c and L = |b - c|.
    """
    nearest = np.full_like(start, 2.0 * np.pi)
    for limit in (b + c, np.abs(b - c)):
        cos = (a**2 + d**2 - limit**2) / np.maximum(2.0 * a * d, _TINY)
        reached = np.abs(cos) < 1.0
        theta = np.arccos(np.clip(cos, -1.0, 1.0))
        for mirror in (theta, -theta):
            turn = np.mod(sense * (mirror - start), 2.0 * np.pi)
            # A closed roof standing at the limit leaves it; it comes back only after a full turn.
            turn = np.where(turn < _IN_LINE, 2.0 * np.pi, turn)
            nearest = np.where(reached, np.minimum(nearest, turn), nearest)
    return nearest


def _raising_sense(
    arm_x: Array, arm_z: Array, gx: Array, gz: Array, ex: Array, ez: Array, lever: Array, parallel: Flags
) -> Array:
    """Return +1 or -1: the sense of arm a in which the chosen shell point starts upwards.

    (4) dz/dq = arm_x + phi' lever, with phi' by equation (6) and lever = x of the point from pin A.
    """
    cross = gx * ez - gz * ex
    scale = np.maximum(np.hypot(gx, gz) * np.hypot(ex, ez), _TINY)
    dphi = np.where(parallel, 0.0, (arm_z * ex - arm_x * ez) / _floored(cross, _IN_LINE * scale))
    rise = arm_x + dphi * lever
    still = np.abs(rise) < _IN_LINE * np.hypot(arm_x, arm_z)
    rise = np.where(still | (np.abs(cross) < _IN_LINE * scale), arm_x, rise)
    return np.where(rise < 0.0, -1.0, 1.0)


def four_bar_travel(
    bar: FourBar,
    opens: ArrayLike,
    *,
    stations: int = 121,
    raises: tuple[ArrayLike, ArrayLike] | None = None,
    sense: ArrayLike | None = None,
) -> FourBarTravel:
    """Return the travel of a shell carried by two arms a side, of which it is the coupler.

    With A = A0 + R(s q) a, f = B0 - A, g = B - A, e = B - B0 and J the turn by 90 degrees:
    (5) g from |g| = b, |g - f| = c on the circuit of the closed roof;
    (6) phi' = -(A' . e) / (g x e),   psi' = -(A' . g) / (g x e);
    (7) phi'' = -(w . e) / (g x e),   psi'' = -(w . g) / (g x e),  w = A'' - phi'2 g + psi'2 e,
    from A' + phi' J g = psi' J e and its derivative; phi turns the shell, psi arm b.

    bar: closed pins [m], each [...]. opens: how far arm a turns from closed [rad, > 0], [...].
    raises: (x, z) [m] closed, the shell point whose first movement must be upwards; it settles which
    way arm a turns; left out, the middle between the shell's two pins. Where that point starts level
    or the closed links are in line, arm a's own shell pin decides. sense: +1 or -1 [...] settles it
    outright; give the sense of the nominal roof to its draws, so that none opens backwards.
    Equal parallel arms keep the shell from turning, through their change points too (where the arms
    lie in line with the shell another branch meets; see `dead_points`).
    Valid below one full turn. Draws that cannot be assembled come back finite with `possible` false;
    `require_possible` turns that into a CannotAssemble for a single roof.
    Source: handbook, Norton, Design of Machinery, ch. 4, 6 and 7 (vector loop), written in vectors here.
    """
    lifted_x = 0.0 if raises is None else raises[0]
    ax, az, px, pz, bx, bz, rx, rz, total, lifted, given = np.broadcast_arrays(
        *bar.pins(), *_floats(opens, lifted_x, 1.0 if sense is None else sense)
    )
    d, a = np.hypot(bx - ax, bz - az), np.hypot(px - ax, pz - az)
    b, c = np.hypot(rx - px, rz - pz), np.hypot(rx - bx, rz - bz)
    size = np.maximum(np.maximum(d, a), np.maximum(b, c))
    parallel = np.hypot((px - ax) - (rx - bx), (pz - az) - (rz - bz)) <= _IN_LINE * size

    f0x, f0z = bx - px, bz - pz
    g0x, g0z = rx - px, rz - pz
    closed_line = (f0x * g0z - f0z * g0x) / np.maximum(b * c, _TINY)
    circuit = np.where(closed_line < 0.0, -1.0, 1.0)

    turn = given
    if sense is None:
        lever = (rx - px) / 2 if raises is None else lifted - px
        turn = _raising_sense(px - ax, pz - az, g0x, g0z, rx - bx, rz - bz, lever, parallel)

    fraction = fractions(stations)
    q = column(total) * fraction
    s = column(turn)
    cos, sin = np.cos(s * q), np.sin(s * q)
    arm_x, arm_z = column(px - ax), column(pz - az)
    ux, uz = cos * arm_x - sin * arm_z, sin * arm_x + cos * arm_z
    pin_x, pin_z = column(ax) + ux, column(az) + uz
    vx, vz = -s * uz, s * ux

    gx, gz = _meet(column(bx) - pin_x, column(bz) - pin_z, column(b), column(c), column(circuit))
    level = column(parallel)
    gx, gz = np.where(level, column(g0x), gx), np.where(level, column(g0z), gz)
    ex, ez = gx + pin_x - column(bx), gz + pin_z - column(bz)

    cross = gx * ez - gz * ex
    det = _floored(cross, column(np.maximum(_IN_LINE * b * c, _TINY)))
    dphi = np.where(level, 0.0, -(vx * ex + vz * ez) / det)
    dpsi = np.where(level, s, -(vx * gx + vz * gz) / det)
    wx = -ux - dphi**2 * gx + dpsi**2 * ex
    wz = -uz - dphi**2 * gz + dpsi**2 * ez
    ddphi = np.where(level, 0.0, -(wx * ex + wz * ez) / det)
    ddpsi = np.where(level, 0.0, -(wx * gx + wz * gz) / det)

    phi = np.where(level, 0.0, _turned(column(g0x), column(g0z), gx, gz))
    psi = np.where(level, s * q, _turned(column(rx - bx), column(rz - bz), ex, ez))

    sc, ss = np.cos(phi), np.sin(phi)
    ox, oz = sc * column(px) - ss * column(pz), ss * column(px) + sc * column(pz)
    shell = Motion(
        pin_x - ox,
        pin_z - oz,
        phi,
        vx + dphi * oz,
        vz - dphi * ox,
        dphi,
        -ux + ddphi * oz + dphi**2 * ox,
        -uz - ddphi * ox + dphi**2 * oz,
        ddphi,
    )
    arms = (
        turning(ax, az, s * q, s + np.zeros_like(q), np.zeros_like(q)),
        turning(bx, bz, psi, dpsi, ddpsi),
    )

    start = np.arctan2((bx - ax) * (pz - az) - (bz - az) * (px - ax), (bx - ax) * (px - ax) + (bz - az) * (pz - az))
    # The span between pin A and pivot B0 is least and greatest at the ends of the travel or where arm a
    # lies along the van pivots, which can fall between two stations.
    to_inner = np.mod(-turn * start, 2.0 * np.pi)
    to_outer = np.mod(turn * (np.pi - start), 2.0 * np.pi)
    span = np.hypot(column(bx) - pin_x, column(bz) - pin_z)
    least = np.where(to_inner <= total, np.abs(d - a), span.min(axis=-1))
    most = np.where(to_outer <= total, d + a, span.max(axis=-1))
    slack = _TINY * size
    links = (a > slack) & (b > slack) & (c > slack) & (d > slack)
    fits = (least >= np.abs(b - c) - slack) & (most <= b + c + slack) & (np.abs(closed_line) > _IN_LINE)
    possible = links & (parallel | fits)
    limit = np.minimum(_first_limit(d, a, b, c, start, turn), total)
    limit = np.where(fits, total, np.where(np.abs(closed_line) > _IN_LINE, limit, 0.0))
    jams_at = np.where(possible, total, np.where(links, limit, 0.0))

    def sine(x: Array, z: Array, length: Array) -> Array:
        return (x * gz - z * gx) / column(np.maximum(length * b, _TINY))

    return FourBarTravel(
        bar,
        Travel(fraction, q, shell, arms),
        np.asarray(possible),
        np.asarray(jams_at),
        np.arctan2(np.abs(cross), np.abs(gx * ex + gz * ez)),
        sine(ux, uz, a),
        sine(ex, ez, c),
        np.asarray(turn),
        np.asarray(parallel),
    )


def _turned(x0: Array, z0: Array, x: Array, z: Array) -> Array:
    """Return the continuous angle [..., n] from the vector (x0, z0) to (x, z)."""
    turned: Array = np.unwrap(np.arctan2(x0 * z - z0 * x, x0 * x + z0 * z), axis=-1)
    return turned


def require_possible(found: FourBarTravel) -> FourBarTravel:
    """Return `found` unchanged when its arms reach the whole opening; raise CannotAssemble if not.

    Of several draws the first that fails is described.
    """
    if bool(np.all(found.possible)):
        return found
    where = tuple(int(i) for i in np.argwhere(~np.atleast_1d(found.possible))[0])
    shape = np.atleast_1d(found.possible).shape

    def pick(value: Array) -> float:
        return float(np.broadcast_to(np.atleast_1d(value), shape)[where])

    d, a, b, c = (pick(length) for length in found.bar.lengths())
    size = max(d, a, b, c)
    for name, length in (("the van pins", d), ("arm a", a), ("the shell pins", b), ("arm b", c)):
        if length <= _TINY * size:
            raise CannotAssemble(f"The two ends of {name} lie on one spot; give two places apart.")
    asked, jams = np.degrees(pick(found.travel.q[..., -1])), np.degrees(pick(found.jams_at))
    if abs(pick(found.line_b[..., 0])) <= _IN_LINE:
        raise CannotAssemble(
            "With the roof closed, arm b and the shell's two pins lie in one line, so which way they fold "
            "cannot be told; move one pin off that line."
        )
    raise CannotAssemble(
        f"The lifting arms jam after {jams:.1f} of the {asked:.1f} degrees asked for: there arm b and the "
        "shell's two pins lie in one line and reach no further; open less, or change a pin."
    )


@dataclass(frozen=True, slots=True)
class LineUp:
    """Where an arm first lies in one line with the shell's two pins.

    `found` [...]: it does within the travel. `fraction` [...]: where; 1 when it does not.
    """

    found: Flags
    fraction: Array


@dataclass(frozen=True, slots=True)
class DeadPoints:
    """Poses at which the linkage loses its hold.

    `arm_b`: arm b in line with the shell: arm a jams there (transmission angle nought).
    `arm_a`: arm a in line with the shell: a push on arm b or along the shell cannot turn it (toggle).
    `change` [...]: equal parallel arms lie in line with the shell within the travel: the shell may
    leave level and fold the other way.
    """

    arm_a: LineUp
    arm_b: LineUp
    change: Flags


def _line_up(sine: Array, fraction: Array) -> LineUp:
    touches = np.abs(sine) <= _IN_LINE
    left, right = sine[..., :-1], sine[..., 1:]
    crosses = (left * right < 0.0) | touches[..., :-1]
    crosses = np.concatenate([crosses, touches[..., -1:]], axis=-1)
    found = np.asarray(crosses.any(axis=-1))
    index = crosses.argmax(axis=-1)
    after = np.minimum(index + 1, fraction.size - 1)
    s0 = np.take_along_axis(sine, index[..., None], axis=-1)[..., 0]
    s1 = np.take_along_axis(sine, after[..., None], axis=-1)[..., 0]
    drop = s0 - s1
    share = np.where(np.abs(s0) <= _IN_LINE, 0.0, s0 / np.where(drop == 0.0, 1.0, drop))
    place = fraction[index] + np.clip(share, 0.0, 1.0) * (fraction[after] - fraction[index])
    return LineUp(found, np.where(found, place, 1.0))


def dead_points(found: FourBarTravel) -> DeadPoints:
    """Return where arm a and arm b line up with the shell along the travel.

    The place is found by change of sign of the sine between the links and straight interpolation
    between two stations (second order in the step). Draws that jam count as lined up at arm b.
    """
    fraction = found.travel.fraction
    arm_a, arm_b = _line_up(found.line_a, fraction), _line_up(found.line_b, fraction)
    asked = found.travel.q[..., -1]
    jam = np.clip(found.jams_at / np.maximum(asked, _TINY), 0.0, 1.0)
    stuck = ~found.possible
    arm_b = LineUp(np.asarray(arm_b.found | stuck), np.where(stuck, np.minimum(jam, arm_b.fraction), arm_b.fraction))
    return DeadPoints(arm_a, arm_b, np.asarray(found.parallel & arm_b.found))
