"""Whether a gas spring folds under its own push: slender struts with pinned ends.

A spring at rest pushes its rod with no more than about the gas pressure, far below the strength
of steel, so only sideways bending counts. Arrays are [...] throughout and broadcast.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.motion import Array

STEEL_MODULUS = 206.0e9
"""Young's modulus of the rod and tube [Pa]."""

CAUTION_FACTOR = 3.0
"""Least bending load over greatest force. Judgement: it covers play in the guide, a bow, and end friction."""

STEPPED_SOURCE = Source(
    "Timoshenko and Gere, Theory of Elastic Stability, 2nd ed. 1961",
    "section 2.14, by the same equilibrium",
    "derivation",
)


def second_moment(outer: ArrayLike, inner: ArrayLike = 0.0) -> Array:
    """Return the second moment of area [m4] of a round bar or tube from its `outer` and `inner` diameter [m], [...]."""
    a, b = np.asarray(outer, dtype=np.float64), np.asarray(inner, dtype=np.float64)
    return np.asarray(np.pi / 64.0 * (a**4 - b**4), dtype=np.float64)


def stepped_load(
    rod_diameter: ArrayLike,
    rod_length: ArrayLike,
    tube_outer: ArrayLike,
    tube_inner: ArrayLike,
    tube_length: ArrayLike,
) -> Array:
    """Return the load [N] at which rod and tube in line, pinned at both ends, bend sideways.

    The least P with tan(k1 L1)/k1 + tan(k2 L2)/k2 = 0 (1), ki = sqrt(P / (E Ii)), E = `STEEL_MODULUS`.

    Found by halving on the phase of the deflected shape, which passes pi once, at the first root:
    k1 L1 carried over the step with its branch kept, plus k2 L2 (2). Between the Euler loads of the
    whole length in rod and in tube, so a bracket always exists.

    `rod_diameter` and free `rod_length` from end centre to tube [m]; `tube_outer`, `tube_inner`
    and `tube_length` to the other end centre [m]; each [...].
    Validity: elastic, straight, load through both end centres, rod clamped snugly in line with the
    tube: play in the guide is neglected, so divide by `CAUTION_FACTOR`. The rod's share inside the tube is left out.
    Source: `STEPPED_SOURCE`.
    """
    l1, l2 = np.asarray(rod_length, dtype=np.float64), np.asarray(tube_length, dtype=np.float64)
    rod, tube, l1, l2 = np.broadcast_arrays(
        STEEL_MODULUS * second_moment(rod_diameter), STEEL_MODULUS * second_moment(tube_outer, tube_inner), l1, l2
    )
    whole = np.pi**2 / np.square(l1 + l2)
    low, high = whole * np.minimum(rod, tube), whole * np.maximum(rod, tube)
    step = np.sqrt(rod / tube) - 1.0
    # 60 halvings carry any bracket to the last digit of a double.
    for _ in range(60):
        middle = 0.5 * (low + high)
        at_step = np.sqrt(middle / rod) * l1
        sin, cos = np.sin(at_step), np.cos(at_step)
        carried = at_step + np.arctan2(step * sin * cos, 1.0 + step * sin * sin)
        below = carried + np.sqrt(middle / tube) * l2 < np.pi
        low, high = np.where(below, middle, low), np.where(below, high, middle)
    return np.asarray(0.5 * (low + high), dtype=np.float64)


def spring_critical_load(
    *,
    rod_diameter: ArrayLike,
    tube_diameter: ArrayLike,
    tube_wall: ArrayLike,
    length: ArrayLike,
    rod_out: ArrayLike,
) -> Array:
    """Return the load [N] at which a gas spring of this `length` bends sideways, by `stepped_load`.

    `length` between end centres [m], of which `rod_out` is bare rod [m]; the rest, end fittings
    included, counts as tube of `tube_diameter` and `tube_wall` [m]; each [...].
    Validity: as `stepped_load`; set against `CAUTION_FACTOR`.

    >>> round(float(spring_critical_load(
    ...     rod_diameter=0.008, tube_diameter=0.018, tube_wall=0.0015, length=0.6, rod_out=0.3)))
    1830
    """
    outer = np.asarray(tube_diameter, dtype=np.float64)
    whole, bare = np.asarray(length, dtype=np.float64), np.asarray(rod_out, dtype=np.float64)
    inner = np.maximum(outer - 2.0 * np.asarray(tube_wall, dtype=np.float64), 0.0)
    return stepped_load(rod_diameter, bare, outer, inner, np.maximum(whole - bare, 0.0))
