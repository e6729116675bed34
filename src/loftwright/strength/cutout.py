"""Stress gathered at the edge of a hole in plain skin: round, oval, and rectangular with rounded corners.

Only published figures within their published range: outside it the answer is "no published figure", never a
number stretched beyond it. A corner without a radius has no finite figure at all.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.judged import Judged
from loftwright.core.motion import Array, Flags
from loftwright.strength.cutout_rules import CORNER_RADIUS, CORNER_STRESS, LEAST_RADIUS

ROARK: Final = Source("roark-formulas", "Table 17.1", "handbook")

RADIUS_RANGE: Final = (0.2, 1.0)
"""Corner radius over half the side that lies along the pull, as published [1]."""

SIDE_RANGE: Final = (0.3, 1.0)
"""Half the side along the pull over half the side across it, as published [1]."""

NO_RADIUS: Final = "no published figure for a corner without a radius: its stress has no bound"
SMALL_RADIUS: Final = "no published figure for the stress at so small a corner radius"
LARGE_RADIUS: Final = "no published figure for a corner radius above half a side of the hole"
LONG_HOLE: Final = "no published figure for the stress at the corners of a hole that is long along the pull"
NARROW_HOLE: Final = "no published figure for a hole narrower than 0.3 of its length across the pull"
WIDE_HOLE: Final = "no published figure for a round hole wider than half the plate"
_RANGE_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class HoleFactor:
    """Peak stress over the even stress of the plain skin [1], [...]: NaN where nothing is published.

    `why` says for the first row that has none what it lies outside of; "" where every row has one.
    """

    factor: Array
    published: Flags
    why: str


def round_hole_peak(along: ArrayLike, across: ArrayLike, shear: ArrayLike) -> Array:
    """Return the greatest stress [Pa] at the edge of a small round hole, without sign, in a wide plate.

    s1,2 = (sx + sy)/2 +- sqrt(((sx - sy)/2)^2 + t^2) (1); peak = max(|3 s1 - s2|, |3 s2 - s1|) (2):
    3 for a pull one way, 2 for equal pulls both ways, 4 for pure shear.

    Even stress `along` sx, `across` sy and `shear` t [Pa], each [...].
    Validity: elastic, hole far from every edge.
    Source: Kirsch's solution, in Young and Budynas, Roark's Formulas, Table 17.1.

    >>> [float(round_hole_peak(*s)) for s in ((1, 0, 0), (1, 1, 0), (0, 0, 1))]
    [3.0, 2.0, 4.0]
    """
    x, y, t = (np.asarray(v, dtype=np.float64) for v in (along, across, shear))
    middle, half = 0.5 * (x + y), np.hypot(0.5 * (x - y), t)
    high, low = middle + half, middle - half
    return np.asarray(np.maximum(np.abs(3.0 * high - low), np.abs(3.0 * low - high)))


def oval_hole_factor(half_across: ArrayLike, half_along: ArrayLike) -> Array:
    """Return the stress factor [1] at an elliptical hole in a wide plate pulled one way: 1 + 2 a / b (1).

    Half axis `half_across` a across the pull and `half_along` b along it [m], each [...].
    Source: Inglis' solution, in Young and Budynas, Roark's Formulas, Table 17.1.

    >>> float(oval_hole_factor(2.0, 1.0))
    5.0
    """
    return np.asarray(1.0 + 2.0 * np.asarray(half_across, dtype=np.float64) / np.asarray(half_along, dtype=np.float64))


def strip_hole_factor(radius: ArrayLike, half_width: ArrayLike) -> HoleFactor:
    """Return the factor on the stress far away [1] at a round hole in the middle of a strip pulled along.

    K = (3 - 3.13 x + 3.66 x^2 - 1.53 x^3) / (1 - x), x = r / h (1), refused beyond x = 0.5.

    Hole `radius` r and `half_width` h of the strip [m], each [...].
    Source: Young and Budynas, Roark's Formulas, Table 17.1; it agrees with Howland's figures up to x = 0.5.

    >>> round(float(strip_hole_factor(0.3, 1.0).factor), 4)
    3.3558
    """
    x = np.asarray(radius, dtype=np.float64) / np.asarray(half_width, dtype=np.float64)
    known = np.asarray((x > 0.0) & (x <= 0.5 + _RANGE_SLACK))
    inside = np.where(known, x, 0.5)
    net = 3.0 - 3.13 * inside + 3.66 * inside**2 - 1.53 * inside**3
    return HoleFactor(
        np.asarray(np.where(known, net / (1.0 - inside), np.nan)), known, "" if np.all(known) else WIDE_HOLE
    )


def corner_factor(half_across: ArrayLike, half_along: ArrayLike, radius: ArrayLike) -> HoleFactor:
    """Return the stress factor [1] at the corners of a rectangular hole in a wide plate pulled one way.

    K = C1 + C2 (b/a) + C3 (b/a)^2 + C4 (b/a)^3 (1) with s = sqrt(r/b):
    C1 = 14.815 - 15.774 s + 8.149 s^2, C2 = -11.201 - 9.750 s + 9.600 s^2,
    C3 = 0.202 + 38.662 s - 27.374 s^2, C4 = 3.232 - 23.002 s + 15.482 s^2 (2).

    Half side `half_across` a across the pull, `half_along` b along it, corner `radius` r [m], each [...].
    Validity: `SIDE_RANGE` for b/a and `RADIUS_RANGE` for r/b; a hole that is long along the pull lies outside.
    The fit gives 3.04 for a round hole, 1.4 % above the exact 3.
    Source: Young and Budynas, Roark's Formulas for Stress and Strain, Table 17.1.

    >>> round(float(corner_factor(1.0, 0.5, 0.1).factor), 4)
    5.0793
    >>> corner_factor(1.0, 0.5, 0.05).why
    'no published figure for the stress at so small a corner radius'
    """
    a, b, r = np.broadcast_arrays(*(np.asarray(v, dtype=np.float64) for v in (half_across, half_along, radius)))
    if not (np.all(a > 0) and np.all(b > 0)):
        raise ValueError("a hole needs sides above zero")
    side, share = b / a, r / b
    faults = (
        (NO_RADIUS, r <= 0.0),
        (LARGE_RADIUS, r > np.minimum(a, b) * (1.0 + _RANGE_SLACK)),
        (LONG_HOLE, side > SIDE_RANGE[1] + _RANGE_SLACK),
        (NARROW_HOLE, side < SIDE_RANGE[0] - _RANGE_SLACK),
        (SMALL_RADIUS, share < RADIUS_RANGE[0] - _RANGE_SLACK),
    )
    outside = np.any([fault for _, fault in faults], axis=0)
    s, k = np.sqrt(np.where(outside, 1.0, share)), np.where(outside, 1.0, side)
    factor = (
        14.815
        - 15.774 * s
        + 8.149 * s**2
        + (-11.201 - 9.750 * s + 9.600 * s**2) * k
        + (0.202 + 38.662 * s - 27.374 * s**2) * k**2
        + (3.232 - 23.002 * s + 15.482 * s**2) * k**3
    )
    why = next((said for said, fault in faults if np.any(fault)), "")
    return HoleFactor(np.asarray(np.where(outside, np.nan, factor)), np.asarray(~outside), why)


def judge_corner_radius(radius: ArrayLike, *, least: ArrayLike = LEAST_RADIUS, which: str = "") -> Judged:
    """Return the rule on the corner `radius` [m] against the `least` one [m], each [...]; `which` names the corner.

    A corner without a radius fails whatever the limit.
    """
    value, limit = np.broadcast_arrays(np.asarray(radius, dtype=np.float64), np.asarray(least, dtype=np.float64))
    # At least a millimetre is asked for: a corner without a radius is refused at any setting.
    return Judged(CORNER_RADIUS, value, np.maximum(limit, 1e-3), which=which)


def judge_corner_stress(pull: ArrayLike | None, found: HoleFactor, limit: ArrayLike, *, which: str = "") -> Judged:
    """Return the rule on the peak stress at the corners: `pull` times the factor against `limit`.

    Even stress `pull` of the plain skin [Pa] without sign, or None when nobody has estimated it; `limit` [Pa]; each
    [...]. Not known where no figure is published, nor without a pull. `which` names the way of the pull.
    Shear in the skin is not covered: no published figure for it is held here except for a round hole.
    """
    if not np.all(found.published):
        return Judged(CORNER_STRESS, None, None, which=which, unknown=found.why)
    if pull is None:
        return Judged(
            CORNER_STRESS, None, None, which=which, unknown="the pull in the roof skin", missing="roof_stress"
        )
    value = np.abs(np.asarray(pull, dtype=np.float64)) * found.factor
    value, most = np.broadcast_arrays(value, np.asarray(limit, dtype=np.float64))
    return Judged(CORNER_STRESS, value, most, which=which)
