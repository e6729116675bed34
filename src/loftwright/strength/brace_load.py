"""What a brace across the free end carries, when it buckles, how stiff it is and how much it rattles.

Arrays are [...] over rows and broadcast.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, array_of


@dataclass(frozen=True, slots=True)
class Round:
    """A round bar or tube: `area` [m2], second moment `inertia` [m4] and outer radius `edge` [m], each [...]."""

    area: Array
    inertia: Array
    edge: Array


def round_section(outer: ArrayLike, inner: ArrayLike = 0.0) -> Round:
    """Return area and second moment of a round bar or tube.

        A = pi / 4 (D^2 - d^2),   I = pi / 64 (D^4 - d^4)                                        (1)

    outer: D, inner: d [m], 0 <= d < D, [...]. Source: derivation.

    >>> round(float(round_section(0.025, 0.021).inertia) * 1e12, 3)
    9628.196
    """
    big, small = array_of(outer), array_of(inner)
    return Round(np.pi / 4 * (big**2 - small**2), np.pi / 64 * (big**4 - small**4), big / 2)


def euler_load(modulus: ArrayLike, inertia: ArrayLike, length: ArrayLike) -> Array:
    """Return the push at which a slender straight bar on pinned ends bends sideways [N].

        P = pi^2 E I / L^2                                                                       (2)

    modulus: E [Pa]; inertia: I, the least one [m4]; length: L between pins [m]; each [...].
    Valid for an elastic straight bar; see `strut_load` for a stocky or crooked one.
    Source: Timoshenko and Gere, Theory of Elastic Stability, 2nd ed. 1961, section 2.1 (from memory).

    >>> round(float(euler_load(206e9, round_section(0.008).inertia, 0.400)), 1)
    2554.9
    """
    return np.pi**2 * array_of(modulus) * array_of(inertia) / np.square(array_of(length))


def strut_load(
    critical: ArrayLike,
    yields_at: ArrayLike,
    area: ArrayLike,
    inertia: ArrayLike,
    edge: ArrayLike,
    crooked: ArrayLike = 0.0,
) -> Array:
    """Return the push at which a pinned bar yields at its edge, bent by its own crookedness [N].

        (s_y - s) (s_E - s) = eta s_E s,   eta = e c A / I,   P = A s                            (3)

    with s_E = P_E / A. Straight, e = 0, it is the lesser of the Euler load and the load that crushes it, A s_y.

    critical: P_E by `euler_load` [N]; yields_at: s_y [Pa]; area: A [m2]; inertia: I [m4]; edge: c, from
    the middle to the edge [m]; crooked: e, how far its middle is off the line between the pins [m]; each [...].
    Source: Perry-Robertson formula, as in Timoshenko and Gere, section 1.13 (from memory).

    >>> tube = round_section(0.012)
    >>> straight = euler_load(70e9, tube.inertia, 1.2)
    >>> round(float(straight)), round(float(strut_load(straight, 160e6, tube.area, tube.inertia, tube.edge, 0.005)))
    (488, 447)
    """
    a, yield_ = array_of(area), array_of(yields_at)
    euler = array_of(critical) / a
    eta = array_of(crooked) * array_of(edge) * a / array_of(inertia)
    half = (yield_ + (1 + eta) * euler) / 2
    # The lesser root, written so that no two near numbers are taken from each other.
    return np.asarray(a * yield_ * euler / (half + np.sqrt(np.maximum(half**2 - yield_ * euler, 0.0))))


def force_along(sideways: ArrayLike, across: ArrayLike) -> Array:
    """Return the push or pull in a brace that alone holds a sideways force [N].

    (7) N = P / across. sideways: P at the free end [N]; across: the part of the brace's direction along y [1], > 0;
    each [...]. Of a pair of straps one works at a time and carries all of it. Source: derivation.

    >>> round(float(force_along(200.0, 0.8)), 6)
    250.0
    """
    return array_of(sideways) / np.maximum(array_of(across), 1e-9)


def diagonal_stiffness(modulus: ArrayLike, area: ArrayLike, length: ArrayLike, across: ArrayLike) -> Array:
    """Return the sideways stiffness of one straight bar or strap [N/m].

        k = E A / L across^2                                                                     (9)

    modulus: E [Pa]; area: A [m2]; length: L [m]; across: the part of its direction along y [1]; each [...].
    Source: derivation, one bar in a frame of pins.

    >>> round(float(diagonal_stiffness(200e9, 10e-6, 1.0, np.cos(np.pi / 4))), 3)
    1000000.0
    """
    return array_of(modulus) * array_of(area) / array_of(length) * np.square(array_of(across))


def free_play(clearances: Sequence[ArrayLike], across: ArrayLike) -> Array:
    """Return how far the free end moves sideways from one side to the other before its brace holds [m].

    (11) play = sum of clearances / across. Each clearance lets the brace grow or shorten by hole less pin, or by what
    a strap hangs loose.

    clearances: of pivot, track, lock, each along the brace [m], [...]; across [1], [...]. Source: derivation.

    >>> round(float(free_play([0.0003, 0.0005], 0.8)), 6)
    0.001
    """
    total = np.zeros(())
    for clearance in clearances:
        total = total + array_of(clearance)
    return np.asarray(total / np.maximum(array_of(across), 1e-9))
