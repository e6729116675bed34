"""Lining and insulation: areas, what they weigh and where, how warm they keep; sums of layers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, array_of
from loftwright.reference.warmth import INSIDE_UP, OUTSIDE


def ceiling_area(x: ArrayLike, z: ArrayLike, width: ArrayLike) -> Array:
    """Return the area of the lining under the shell's top [m2], [...].

    A = w sum sqrt(dx^2 + dz^2) (1), over the corners `x`, `z` of its inside in the side view [m], [..., k], and the
    `width` across [m], [...]. Validity: a shell straight across; a crown of 1 in 10 adds under 3 in 100.

    >>> float(ceiling_area([0.0, 3.0], [0.0, 4.0], 1.2))
    6.0
    """
    run = np.hypot(np.diff(array_of(x), axis=-1), np.diff(array_of(z), axis=-1))
    return np.asarray(array_of(width) * run.sum(axis=-1))


def cheeks_area(x: ArrayLike, z: ArrayLike, rim: ArrayLike) -> Array:
    """Return the area of both side cheeks together [m2], [...], between the top's inside and the rim.

    A = 2 sum (x_{i+1} - x_i) ((z_i + z_{i+1}) / 2 - z_rim) (2); `x`, `z` corners [m], [..., k]; `rim` height [m],
    [...].
    """
    high = array_of(z) - array_of(rim)[..., None]
    return np.asarray(2.0 * (np.diff(array_of(x), axis=-1) * (high[..., 1:] + high[..., :-1]) / 2).sum(axis=-1))


def ring_strip_area(length: ArrayLike, width: ArrayLike, depth: ArrayLike, corner_radius: ArrayLike = 0.0) -> Array:
    """Return the area of the strip that clads the cut edge all round [m2], [...].

    A = d (2 (a + b) - (8 - 2 pi) r) (3), `length` a and `width` b of the opening, `depth` d of the strip from roof
    skin to lining and `corner_radius` r [m], each [...].
    """
    a, b, r = array_of(length), array_of(width), array_of(corner_radius)
    return np.asarray(array_of(depth) * (2 * (a + b) - (8 - 2 * np.pi) * r))


def resistance(
    thickness: Sequence[ArrayLike],
    conductivity: Sequence[ArrayLike],
    *,
    inside: ArrayLike = INSIDE_UP,
    outside: ArrayLike = OUTSIDE,
) -> Array:
    """Return the thermal resistance of layers in series [m2 K/W], [...].

    R = Rsi + sum d / lambda + Rse                                                               (4)

    Parameters
    ----------
    thickness: d of each layer [m], each [...]. conductivity: its lambda [W/(m K)], each [...].
    inside, outside: of the air at the faces, `reference.warmth` [m2 K/W]; upward heat by default.

    Validity: layers without gaps; frames and screws are bridges that the sum does not see. Source: ISO 6946, 6.7.1.
    ValueError where layers and conductivities differ in number.

    >>> round(float(resistance([0.003, 0.020], [0.20, 0.035])), 6)
    0.726429
    """
    if len(thickness) != len(conductivity):
        raise ValueError("each layer needs a thickness and a conductivity")
    layers = sum((array_of(d) / array_of(k) for d, k in zip(thickness, conductivity, strict=True)), start=np.zeros(()))
    return np.asarray(array_of(inside) + layers + array_of(outside))


@dataclass(frozen=True, slots=True)
class Weight:
    """`mass` [kg] and the place of its centre, `x` along and `z` up [m], each [...]: what the balance takes back."""

    mass: Array
    x: Array
    z: Array


def together(mass: ArrayLike, x: ArrayLike, z: ArrayLike) -> Weight:
    """Return the mass and the centre of parts together.

    m = sum m_i (5), x = sum m_i x_i / m, z = sum m_i z_i / m (6); `mass` [kg], `x`, `z` [m], each [..., p] over parts.
    Where nothing weighs anything the centre is the mean place.
    """
    each, px, pz = np.broadcast_arrays(array_of(mass), array_of(x), array_of(z))
    whole = each.sum(axis=-1)
    none = whole <= 0
    safe = np.where(none, 1.0, whole)
    at_x, at_z = (np.where(none, p.mean(axis=-1), (each * p).sum(axis=-1) / safe) for p in (px, pz))
    return Weight(np.asarray(whole), at_x, at_z)


def ceiling_centre(x: ArrayLike, z: ArrayLike) -> tuple[Array, Array]:
    """Return the centre of an even lining along the corners `x`, `z` [m], [..., k]: its x and z [m], [...]."""
    px, pz = array_of(x), array_of(z)
    run = np.hypot(np.diff(px, axis=-1), np.diff(pz, axis=-1))
    whole = run.sum(axis=-1)
    mid_x, mid_z = (px[..., 1:] + px[..., :-1]) / 2, (pz[..., 1:] + pz[..., :-1]) / 2
    return np.asarray((run * mid_x).sum(axis=-1) / whole), np.asarray((run * mid_z).sum(axis=-1) / whole)
