"""The overhang test of a strip of cloth: its bending length from how far it hangs down under its own weight.

Angles are from level to the line from the clamp to the free end.
"""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, array_of

LINE = np.deg2rad(41.5)
"""Dip at which the test is read [rad]."""
_STEP = 0.004
_LONGEST = 6.0


@cache
def heavy_table() -> tuple[Array, Array]:
    """Return dips [rad] from small to near upright, and the overhang over the bending length there [1].

    A level clamped strip under its weight, from its free end: d2 theta / d sigma2 = -sigma cos(theta) (1), sigma the
    arc over the bending length c = (B / w)^(1/3) [1], theta the dip of the strip [rad], turned to level at the clamp.
    One run for each slope of the end, by fourth-order steps; the clamp is where theta passes nought.
    Source: plane elastica, derivation.
    """
    tip = np.concatenate([np.geomspace(0.004, 0.7, 160), np.pi / 2 - np.geomspace(0.85, 1e-4, 240)])
    theta, rate = tip.copy(), np.zeros_like(tip)
    x, z = np.zeros_like(tip), np.zeros_like(tip)
    length, dip = np.zeros_like(tip), np.zeros_like(tip)
    h = _STEP
    for step in range(round(_LONGEST / h)):
        s = step * h
        a1, b1 = rate, -s * np.cos(theta)
        a2, b2 = rate + h / 2 * b1, -(s + h / 2) * np.cos(theta + h / 2 * a1)
        a3, b3 = rate + h / 2 * b2, -(s + h / 2) * np.cos(theta + h / 2 * a2)
        a4, b4 = rate + h * b3, -(s + h) * np.cos(theta + h * a3)
        new = theta + h / 6 * (a1 + 2 * a2 + 2 * a3 + a4)
        middle = theta + h / 2 * a2
        nx = x + h / 6 * (np.cos(theta) + 4 * np.cos(middle) + np.cos(new))
        nz = z + h / 6 * (np.sin(theta) + 4 * np.sin(middle) + np.sin(new))
        hit = (theta > 0) & (new <= 0) & (length == 0)
        part = np.where(hit, theta / np.where(hit, theta - new, 1.0), 0.0)
        length[hit] = (s + part * h)[hit]
        dip[hit] = np.arctan2(z + part * (nz - z), x + part * (nx - x))[hit]
        x, z, theta, rate = nx, nz, new, rate + h / 6 * (b1 + 2 * b2 + 2 * b3 + b4)
    found = length > 0
    return dip[found], length[found]


def bending_length(overhang: ArrayLike, dip: ArrayLike = LINE) -> Array:
    """Return the bending length c [m] of a strip whose `overhang` [m] dips by `dip` [rad], exactly, [...].

    c = overhang / (L / c at that dip) (1), from `heavy_table`; at the usual 41.5 degrees half the overhang to 0.02 per
    cent. ValueError where the dip lies outside 1 to 82 degrees.
    Source: plane elastica, derivation.

    >>> round(float(bending_length(0.090)), 5)
    0.04499
    """
    angle = array_of(dip)
    if np.any(angle < np.deg2rad(1.0)) or np.any(angle > np.deg2rad(82.0)):
        raise ValueError("the strip must dip by 1 to 82 degrees")
    dips, ratios = heavy_table()
    ratio = np.exp(np.interp(np.log(angle), np.log(dips), np.log(ratios)))
    return np.asarray(array_of(overhang) / ratio)


def peirce_length(overhang: ArrayLike, dip: ArrayLike) -> Array:
    """Return the bending length [m] by the usual closed form, c = L (cos(t / 2) / (8 tan t))^(1/3) (1), [...].

    `overhang` L [m], `dip` t [rad]. Validity: small dips; the stiffness from it is 2 per cent high at 26 degrees, 6 at
    41, 12 at 57 and 34 at 75 degrees. Use `bending_length` for anything but a comparison.
    Source: Peirce, The handle of cloth as a measurable quantity, J. Text. Inst. 21 (1930), as given by Szablewski and
    Kobza; errors: derivation.

    >>> round(float(peirce_length(1.0, np.deg2rad(43.0))), 6)
    0.499625
    """
    t = array_of(dip)
    return np.asarray(array_of(overhang) * np.cbrt(np.cos(t / 2) / (8 * np.tan(t))))
