"""Two positions of a body and the pivots that carry it from one to the other: closed form.

A rigid body goes from closed to open by one displacement p' = t + R(phi) p. A pin of the body lies at P and
at P' and stays on an arm of given length; the arm's other end is as far from both, so that it lies on the
perpendicular bisector of P P'. Left and right are alike; the side view is planar.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loftwright.core.choices import End
from loftwright.core.motion import Array, Flags

_TINY = 1e-12


@dataclass(frozen=True, slots=True)
class Displacement:
    """Closed to open: p' = (x, z) + R(phi) p, x and z [m], phi [rad] from x towards z; each [...]."""

    x: Array
    z: Array
    phi: Array

    def apply(self, px: Array, pz: Array) -> tuple[Array, Array]:
        """Return where the point (px, pz) [m] of the closed body lies when it is open, each [...]."""
        cos, sin = np.cos(self.phi), np.sin(self.phi)
        return self.x + cos * px - sin * pz, self.z + sin * px + cos * pz

    def inverse(self) -> Displacement:
        """Return the displacement from open back to closed: the van as the shell sees it."""
        cos, sin = np.cos(self.phi), np.sin(self.phi)
        return Displacement(-(cos * self.x + sin * self.z), -(cos * self.z - sin * self.x), -self.phi)


def opened(lip: tuple[Array, Array], rise: Array, shift: Array, tilt: Array, *, end: End) -> Displacement:
    """Return the displacement that lifts the `lip` and tilts the shell.

    (1) phi = -tilt (low end at the front) or +tilt (at the rear); the lip goes to lip + (shift, rise).

    lip: (x, z) [m], closed; rise, shift [m], shift towards the cab; tilt [rad], the lip higher than the low end
    when positive; each [...]. Source: derivation.

    >>> up = opened((np.array(0.0), np.array(0.0)), np.array(0.7), np.array(0.1), np.array(0.2), end="front")
    >>> [round(float(v), 6) for v in up.apply(np.array(2.0), np.array(0.0))]
    [2.060133, 0.302661]
    """
    phi = np.asarray(-tilt if end == "front" else tilt) + 0.0
    turned = Displacement(np.zeros_like(phi), np.zeros_like(phi), phi).apply(*lip)
    return Displacement(lip[0] + shift - turned[0], lip[1] + rise - turned[1], phi)


def other_pivot(px: Array, pz: Array, move: Displacement, length: Array, side: Array) -> tuple[Array, Array, Flags]:
    """Return the end of an arm whose first end is carried by a displacement, and whether the arm is long enough.

    (2) A = (P + P')/2 + side sqrt(l^2 - |P' - P|^2/4) n, n square to P' - P, turned from x towards z.
    With the displacement of the shell, P on the shell gives A on the van; with its inverse, A on the van gives P
    on the closed shell.

    px, pz: the first end [m]; move: its displacement; length: of the arm [m]; side: +1 or -1 [1]; each [...].
    Returned: x, z [m] and a flag, false where the arm is too short or the end does not move; the place then means
    nothing. Source: handbook, Norton, Design of Machinery, two-position motion synthesis (construction by
    perpendicular bisectors); written in vectors here.
    """
    qx, qz = move.apply(px, pz)
    dx, dz = qx - px, qz - pz
    span = np.hypot(dx, dz)
    square = length**2 - span**2 / 4
    reach = np.asarray((square >= 0.0) & (span > _TINY))
    out = side * np.sqrt(np.maximum(square, 0.0)) / np.maximum(span, _TINY)
    return (px + qx) / 2 - out * dz, (pz + qz) / 2 + out * dx, reach


def swing(ax: Array, az: Array, px: Array, pz: Array, move: Displacement) -> Array:
    """Return how far an arm from A to P turns from closed to open [rad], from x towards z, within half a turn.

    ax, az, px, pz: pins [m], closed; move: the displacement of P; each [...].
    """
    qx, qz = move.apply(px, pz)
    ux, uz, vx, vz = px - ax, pz - az, qx - ax, qz - az
    return np.asarray(np.arctan2(ux * vz - uz * vx, ux * vx + uz * vz))


def seat_doubt(
    pins: tuple[Array, ...],
    lip: tuple[Array, Array],
    low: tuple[Array, Array],
    doubt_a: Array,
    doubt_b: Array,
) -> Array:
    """Return how far the low end may stand off its seat [m] when bolts sit a little off and the lip is held down.

    Bolts off by d and an arm longer by l leave a misfit e_i = u_i . (dP_i - dA_i) - l_i along arm i, u_i along
    it; the closed shell gives way by (v, w) with (3) u_i . v(P_i) = -e_i and v_z(lip) = 0, so that
    v_z(low) = c_a e_a + c_b e_b and

        doubt = sqrt((c_a doubt_a)^2 + (c_b doubt_b)^2)                                                    (4)

    pins: the eight coordinates of `four_bar.FourBar.pins` [m]; lip, low: both ends of the closed rim [m];
    doubt_a, doubt_b: doubt of the two misfits [m]; each [...]. Infinite where the arms cannot hold the low end down.
    Source: derivation, first order.
    """
    ax, az, px, pz, bx, bz, rx, rz = pins
    rows = []
    for fx, fz, tx, tz in ((ax, az, px, pz), (bx, bz, rx, rz)):
        size = np.maximum(np.hypot(tx - fx, tz - fz), _TINY)
        ux, uz = (tx - fx) / size, (tz - fz) / size
        # About the lip, whose z stays: unknown are its way along x and the turn w.
        rows.append((ux, uz * (tx - lip[0]) - ux * (tz - lip[1])))
    (a0, a1), (b0, b1) = rows
    det = a0 * b1 - a1 * b0
    lost = np.abs(det) < _TINY
    both = np.hypot(b0 * doubt_a, a0 * doubt_b) * np.abs((low[0] - lip[0]) / np.where(lost, 1.0, det))
    return np.asarray(np.where(lost, np.inf, both))
