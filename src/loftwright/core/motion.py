"""How a rigid body moves in the side view, over the whole travel at once.

Axes: x to the cab, z up, origin at the rear edge of the roof opening at roof height. Angles turn
from x towards z. Every array carries the travel on its last axis; leading axes are draws or
candidates and broadcast.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]


GRADING = 0.8
"""How much closer stations stand at both ends of the travel: by a factor 1 - GRADING there."""


def fractions(stations: int) -> Array:
    """Return the shares of the travel at which everything is worked out, from 0 closed to 1 open, [stations].

    f = s - GRADING sin(2 pi s) / (2 pi) on even s (1): five times closer at both ends than an even spacing, where
    seal and cloth come and go within a few millimetres of the lip's rise. ValueError for fewer than two.
    """
    if stations < 2:
        raise ValueError("a travel needs at least two stations")
    even = np.linspace(0.0, 1.0, stations)
    shares: Array = even - GRADING * np.sin(2.0 * np.pi * even) / (2.0 * np.pi)
    shares[-1] = 1.0
    return shares


def array_of(value: ArrayLike) -> Array:
    """Return `value` [...] as an array of floats."""
    return np.asarray(value, dtype=np.float64)


def first_row(values: ArrayLike) -> Array:
    """Return row 0, the nominal one, of `values` [rows, n]; values [n] are the same for every row."""
    return np.asarray(np.atleast_2d(np.asarray(values, dtype=np.float64))[0])


def column(value: ArrayLike) -> Array:
    """Return `value` [...] as [..., 1], ready to broadcast against the travel axis."""
    return np.asarray(value, dtype=np.float64)[..., None]


@dataclass(frozen=True, slots=True)
class PointPath:
    """Path of one point of `body`: position [m] and first derivative by the driving angle [m/rad], each [..., n].

    The second derivative [m/rad2] is worked out when it is asked for.
    """

    x: Array
    z: Array
    dx: Array
    dz: Array
    body: Motion

    @property
    def ddx(self) -> Array:
        """Second derivative of x [m/rad2]."""
        body = self.body
        return np.asarray(body.ddx - body.ddphi * (self.z - body.z) - body.dphi**2 * (self.x - body.x))

    @property
    def ddz(self) -> Array:
        """Second derivative of z [m/rad2]."""
        body = self.body
        return np.asarray(body.ddz + body.ddphi * (self.x - body.x) - body.dphi**2 * (self.z - body.z))


@dataclass(frozen=True, slots=True)
class Motion:
    """Displacement of one body from where it is when closed.

    A point at p0 when closed lies at p = t + R(phi) p0, with t = (x, z) [m] and phi [rad], each
    [..., n]. `d` and `dd` are first and second derivatives by the driving angle q [rad].
    """

    x: Array
    z: Array
    phi: Array
    dx: Array
    dz: Array
    dphi: Array
    ddx: Array
    ddz: Array
    ddphi: Array

    def point(self, px: ArrayLike, pz: ArrayLike) -> PointPath:
        """Return the path of the point that lies at (px, pz) [m] when closed; px and pz are shaped [...]."""
        bx, bz = column(px), column(pz)
        cos, sin = np.cos(self.phi), np.sin(self.phi)
        rx, rz = cos * bx - sin * bz, sin * bx + cos * bz
        return PointPath(self.x + rx, self.z + rz, self.dx - self.dphi * rz, self.dz + self.dphi * rx, self)


def still(n: int) -> Motion:
    """Return the motion of a body that never moves, over `n` stations."""
    zero = np.zeros(n)
    return Motion(zero, zero, zero, zero, zero, zero, zero, zero, zero)


def turning(pivot_x: ArrayLike, pivot_z: ArrayLike, phi: Array, dphi: Array, ddphi: Array) -> Motion:
    """Return the motion of a body turning by phi [..., n] about a fixed pivot [...]."""
    hx, hz = column(pivot_x), column(pivot_z)
    cos, sin = np.cos(phi), np.sin(phi)
    # t = H - R H; its derivatives follow from dR/dphi = R(90 deg) R.
    rx, rz = cos * hx - sin * hz, sin * hx + cos * hz
    return Motion(
        hx - rx,
        hz - rz,
        phi,
        dphi * rz,
        -dphi * rx,
        dphi,
        ddphi * rz + dphi**2 * rx,
        -ddphi * rx + dphi**2 * rz,
        ddphi,
    )


@dataclass(frozen=True, slots=True)
class Wrench:
    """Planar load on the shell over the travel: force (fx, fz) [N] and moment `m` [N m] about the van's origin.

    Each array is [..., n]; the moment turns from x towards z.
    """

    fx: Array
    fz: Array
    m: Array

    def __add__(self, other: Wrench) -> Wrench:
        return Wrench(self.fx + other.fx, self.fz + other.fz, self.m + other.m)

    def scaled(self, factor: ArrayLike) -> Wrench:
        """Return the wrench times `factor` [...]."""
        f = column(factor)
        return Wrench(self.fx * f, self.fz * f, self.m * f)

    def work_rate(self, motion: Motion) -> Array:
        """Return the generalised force [N m/rad] that this wrench exerts on a body moving by `motion`.

        The body's material point at the van's origin moves with (dx + dphi z, dz - dphi x).
        """
        vx = motion.dx + motion.dphi * motion.z
        vz = motion.dz - motion.dphi * motion.x
        return self.fx * vx + self.fz * vz + self.m * motion.dphi


def push_at(path: PointPath, fx: ArrayLike, fz: ArrayLike) -> Wrench:
    """Return the wrench of a force (fx, fz) [N], each [..., n], acting at a moving point."""
    ax, az = np.asarray(fx, dtype=np.float64), np.asarray(fz, dtype=np.float64)
    # Moment turning x towards z is x fz - z fx.
    return Wrench(ax + 0 * path.x, az + 0 * path.x, path.x * az - path.z * ax)


@dataclass(frozen=True, slots=True)
class Travel:
    """The whole motion from closed to open.

    `fraction` [n] runs from 0 (closed) to 1 (open) in the driving angle, graded as `fractions` has it;
    `q` [..., n] is the driving angle from closed [rad], never falling; `shell` and `arms` are the
    bodies that move. Of a shell that slides in straight guides q is how far it has slid [m].
    """

    fraction: Array
    q: Array
    shell: Motion
    arms: tuple[Motion, ...]

    @property
    def slides(self) -> bool:
        """Whether the shell slides in straight guides: no arms carry it and it does not turn."""
        return not self.arms and not bool(np.any(self.shell.dphi))

    @property
    def hinged(self) -> bool:
        """Whether the shell turns about one hinge."""
        return not self.arms and not self.slides

    def body(self, name: str) -> Motion:
        """Return the motion of "van", "shell", "arm a" or "arm b"."""
        if name == "van":
            return still(self.fraction.size)
        if name == "shell":
            return self.shell
        return self.arms[("arm a", "arm b").index(name)]


def opening_of(travel: Travel) -> Array:
    """Return how far the shell has turned from closed [rad, >= 0], shaped [..., n]."""
    return np.abs(travel.shell.phi)


def thinned(travel: Travel, step: int) -> Travel:
    """Return every `step`-th station of a travel, closed and open kept; the stations less one must be a multiple."""

    def body(motion: Motion) -> Motion:
        return Motion(
            *(
                np.asarray(v)[..., ::step]
                for v in (
                    motion.x,
                    motion.z,
                    motion.phi,
                    motion.dx,
                    motion.dz,
                    motion.dphi,
                    motion.ddx,
                    motion.ddz,
                    motion.ddphi,
                )
            )
        )

    return Travel(
        travel.fraction[::step], travel.q[..., ::step], body(travel.shell), tuple(body(arm) for arm in travel.arms)
    )
