"""How the load on a plate is shared out among its bolts.

The plate is rigid and all bolts are alike. In the plane of the plate: x and y; z stands square to it, away from what it
is bolted to, so that a force along +z pulls the bolts. Loads act on the plate, at the origin of its own axes. Rows come
first in every array, bolts last.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.motion import Array

ELASTIC: Final = Source(
    "shigley-mechanical-engineering-design",
    "ch. 8, bolted joints loaded in shear: direct and moment load about the centroid (from memory)",
    "handbook",
)
HEEL: Final = Source(
    "derivation", "rigid plate tilting about the edge that it presses, bolts stretching with distance", "derivation"
)

HEEL_SHARE: Final = 0.5
"""How far out to the plate's edge the pressing line lies, from the last bolt [1]; judgement: thin skins give way."""


@dataclass(frozen=True, slots=True)
class BoltForces:
    """What each bolt carries [N]: shear along x and y, pull along z, [..., bolts]; `pressed` on the plate [...]."""

    x: Array
    y: Array
    pull: Array
    pressed: Array

    @property
    def shear(self) -> Array:
        """Shear in each bolt [N], [..., bolts]."""
        return np.hypot(self.x, self.y)


def _points(points: ArrayLike) -> Array:
    at = np.asarray(points, dtype=np.float64)
    if at.ndim < 2 or at.shape[-1] != 2 or at.shape[-2] < 1:
        raise ValueError("the holes of a plate are pairs of x and y, [bolts, 2]")
    return at


def in_plane(points: ArrayLike, force_x: ArrayLike, force_y: ArrayLike, twist: ArrayLike) -> tuple[Array, Array]:
    """Return the shear in each bolt from a load in the plane of the plate, by the elastic method.

        q_i = F / n + M k x r_i / sum r^2,   M = m - (r_c x F)                                     (1)

    with r_i from the centroid r_c of the bolts and k square to the plate.

    Parameters
    ----------
    points: holes x and y [m], [..., bolts, 2].
    force_x, force_y: F at the origin of the plate [N], [...].
    twist: m about the origin, from x to y [N m], [...].

    Returns
    -------
    Force in each bolt along x and along y [N], each [..., bolts]; together they equal the load.

    ValueError where one bolt alone, or all bolts at one place, would have to hold a twist.
    Source: `ELASTIC`.

    >>> holes = [(-0.075, 0.06), (0.075, 0.06), (-0.075, -0.06), (0.075, -0.06)]  # 16 kN at an arm of 425 mm
    >>> x, y = in_plane(holes, 0.0, -16000.0, -16000.0 * 0.425)
    >>> [round(float(f)) for f in np.hypot(x, y)]
    [14789, 20973, 14789, 20973]
    """
    at = _points(points)
    fx, fy, m = (np.asarray(v, dtype=np.float64) for v in (force_x, force_y, twist))
    count = at.shape[-2]
    centre = at.mean(axis=-2)
    arm = at - centre[..., None, :]
    about = m - (centre[..., 0] * fy - centre[..., 1] * fx)
    polar = np.sum(arm**2, axis=(-2, -1))
    size = np.max(np.abs(fx)) + np.max(np.abs(fy)) + np.max(np.abs(m))
    if np.any((polar <= 0.0) & (np.abs(about) > 1e-9 * (1.0 + size))):
        raise ValueError("one bolt alone cannot hold a twist: give the plate a second hole")
    turn = np.divide(about, polar, out=np.zeros(np.broadcast_shapes(about.shape, polar.shape)), where=polar > 0.0)
    x = fx[..., None] / count - turn[..., None] * arm[..., 1]
    y = fy[..., None] / count + turn[..., None] * arm[..., 0]
    return np.asarray(x), np.asarray(y)


def tilting(along: ArrayLike, moment: ArrayLike, edge: ArrayLike, heel_share: float = HEEL_SHARE) -> Array:
    """Return the pull in each bolt from a moment that tilts the plate about the edge that it presses.

        T_i = |M| l_i / sum l^2,   l_i = distance of bolt i from the pressing line                    (2)

    The pressing line lies beyond the last bolt on the pressed side by `heel_share` of the plate's overhang there.

    Parameters
    ----------
    along: where each bolt lies along the direction of tilting [m], [..., bolts].
    moment: M, positive where it pulls bolts that lie further along [N m], [...].
    edge: overhang of the plate beyond its last bolts [m], [...].
    heel_share: share of the overhang [1]; 1 for a stiff plate on a stiff base.

    Returns
    -------
    Pull in each bolt [N], never below zero, [..., bolts]; sum T l = |M|.

    ValueError where neither bolts nor overhang give a lever arm. Source: `HEEL`; the share by judgement.

    >>> tilting([0.0, 0.1], 10.0, 0.0).round(9).tolist()
    [0.0, 100.0]
    """
    s = np.asarray(along, dtype=np.float64)
    m = np.asarray(moment, dtype=np.float64)[..., None]
    out = heel_share * np.asarray(edge, dtype=np.float64)[..., None]
    low, high = s.min(axis=-1, keepdims=True), s.max(axis=-1, keepdims=True)
    lever = np.where(m >= 0.0, s - low, high - s) + out
    square = np.sum(lever**2, axis=-1, keepdims=True)
    if np.any((square <= 0.0) & (np.abs(m) > 0.0)):
        raise ValueError("bolts in one line with no plate beyond them cannot hold a tilting moment")
    return np.asarray(np.abs(m) * np.divide(lever, square, out=np.zeros_like(lever), where=square > 0.0))


def clamped(points: ArrayLike, force_z: ArrayLike, moment_x: ArrayLike, moment_y: ArrayLike) -> Array:
    """Return the force along z in each bolt of a plate that its bolts hold both ways, about their centroid.

        T_i = F / n + a y_i - b x_i,   [Iyy -Ixy; -Ixy Ixx] [a b]^T = [Mx My]^T                    (3)

    with Iyy = sum y^2, Ixx = sum x^2, Ixy = sum x y and moments about the centroid.

    `points` holes x and y [m], [..., bolts, 2]; `force_z` [N], `moment_x` and `moment_y` [N m] at the origin, [...].
    Pull is positive, push negative [N], [..., bolts]: nothing beside the bolts presses. The pull is an upper bound on
    that of a plate that presses further out. ValueError for bolts in one line. Source: `ELASTIC`.

    >>> [round(float(f), 6) for f in clamped([(0, 0), (0, 0.1), (0.1, 0), (0.1, 0.1)], 0.0, 10.0, 0.0)]
    [-50.0, 50.0, -50.0, 50.0]
    """
    at = _points(points)
    f, mx, my = (np.asarray(v, dtype=np.float64) for v in (force_z, moment_x, moment_y))
    centre = at.mean(axis=-2)
    arm = at - centre[..., None, :]
    mx, my = mx - centre[..., 1] * f, my + centre[..., 0] * f
    xx, yy = (np.sum(arm[..., k] ** 2, axis=-1) for k in (0, 1))
    xy = np.sum(arm[..., 0] * arm[..., 1], axis=-1)
    whole = xx * yy - xy**2
    if np.any(whole <= 1e-12 * np.square(xx + yy)):
        raise ValueError("bolts in one line cannot hold a plate both ways")
    a, b = (xx * mx + xy * my) / whole, (yy * my + xy * mx) / whole
    return np.asarray(f[..., None] / at.shape[-2] + a[..., None] * arm[..., 1] - b[..., None] * arm[..., 0])


def bolt_forces(
    points: ArrayLike,
    force: ArrayLike,
    moment: ArrayLike,
    *,
    edge: ArrayLike = 0.0,
    heel_share: float = HEEL_SHARE,
) -> BoltForces:
    """Return what each bolt of a plate carries under a load in space.

    Shear by `in_plane`. Pull: that along z shared evenly, pressing not relied upon, plus `tilting` about both axes:

        T_i = max(Fz, 0) / n + T_i(Mx) + T_i(My),   pressed = sum T - Fz                              (4)

    Parameters
    ----------
    points: holes x and y in the plane of the plate [m], [..., bolts, 2].
    force: on the plate along x, y, z, at the origin of its axes [N], [..., 3].
    moment: about x, y, z through that origin [N m], [..., 3].
    edge: overhang of the plate beyond its outer bolts [m], [...].
    heel_share: share of the overhang at which the plate presses [1].

    Returns
    -------
    Shear, pull and pressing force [N].

    Both moments at once are added as if each tilted the plate alone, on the safe side. ValueError as in the parts.
    Source: `ELASTIC`, `HEEL`.
    """
    at = _points(points)
    f, m = np.asarray(force, dtype=np.float64), np.asarray(moment, dtype=np.float64)
    x, y = in_plane(at, f[..., 0], f[..., 1], m[..., 2])
    fz = f[..., 2]
    centre = at.mean(axis=-2)
    about_x, about_y = m[..., 0] - centre[..., 1] * fz, m[..., 1] + centre[..., 0] * fz
    pull = (
        np.maximum(fz, 0.0)[..., None] / at.shape[-2]
        + tilting(at[..., 1], about_x, edge, heel_share)
        + tilting(-at[..., 0], about_y, edge, heel_share)
    )
    return BoltForces(x, y, np.asarray(pull), np.asarray(pull.sum(axis=-1) - fz))
