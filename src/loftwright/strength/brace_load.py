"""What a brace across the free end carries, when it buckles, how stiff it is and how much it rattles.

Arrays are [...] over rows and broadcast.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array


def _array(value: ArrayLike) -> Array:
    return np.asarray(value, dtype=np.float64)


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
    big, small = _array(outer), _array(inner)
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
    return np.pi**2 * _array(modulus) * _array(inertia) / np.square(_array(length))


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

    critical: P_E by `euler_load` or `kneed_load` [N]; yields_at: s_y [Pa]; area: A [m2]; inertia: I [m4]; edge: c, from
    the middle to the edge [m]; crooked: e, how far its middle is off the line between the pins [m]; each [...].
    Source: Perry-Robertson formula, as in Timoshenko and Gere, section 1.13 (from memory).

    >>> tube = round_section(0.012)
    >>> straight = euler_load(70e9, tube.inertia, 1.2)
    >>> round(float(straight)), round(float(strut_load(straight, 160e6, tube.area, tube.inertia, tube.edge, 0.005)))
    (488, 447)
    """
    a, yield_ = _array(area), _array(yields_at)
    euler = _array(critical) / a
    eta = _array(crooked) * _array(edge) * a / _array(inertia)
    half = (yield_ + (1 + eta) * euler) / 2
    # The lesser root, written so that no two near numbers are taken from each other.
    return np.asarray(a * yield_ * euler / (half + np.sqrt(np.maximum(half**2 - yield_ * euler, 0.0))))


def kneed_load(critical: ArrayLike, lower: ArrayLike, upper: ArrayLike, knee_stiffness: ArrayLike) -> Array:
    """Return the push at which a locked folding arm folds at a knee that gives [N].

        P_k = c (l1 + l2) / (l1 l2),   1 / P = 1 / P_E + 1 / P_k                                 (4)

    P_k is the load at which two stiff links on a springy knee fold; joined with the Euler load of the unbroken arm the
    sum is on the safe side. An equal pair has P_k = 2 c / l.

    critical: P_E of the arm without a knee [N]; lower, upper: l1, l2 [m]; knee_stiffness: c, moment of the lock per
    angle [N m/rad]; each [...]. Source: derivation; the sum is Foeppl and Papkovich's (from memory).

    >>> round(float(kneed_load(2000.0, 0.5, 0.5, 500.0)), 3)
    1000.0
    """
    l1, l2 = _array(lower), _array(upper)
    knee = _array(knee_stiffness) * (l1 + l2) / (l1 * l2)
    return np.asarray(1.0 / (1.0 / _array(critical) + 1.0 / knee))


def kink_of_play(play: ArrayLike, lower: ArrayLike, upper: ArrayLike) -> Array:
    """Return how far play in a knee lets it stand off the line between the ends [m].

    (6) e = phi l1 l2 / (l1 + l2). To be given to `strut_load` as crookedness.
    play: phi, the free angle of the knee [rad]; lower, upper: l1, l2 [m]; each [...]. Valid for small angles.
    Source: derivation.

    >>> float(kink_of_play(0.02, 0.4, 0.4))
    0.004
    """
    l1, l2 = _array(lower), _array(upper)
    return np.asarray(_array(play) * l1 * l2 / (l1 + l2))


def force_along(sideways: ArrayLike, across: ArrayLike) -> Array:
    """Return the push or pull in a brace that alone holds a sideways force [N].

    (7) N = P / across. sideways: P at the free end [N]; across: the part of the brace's direction along y [1], > 0;
    each [...]. Of a pair of straps one works at a time and carries all of it. Source: derivation.

    >>> round(float(force_along(200.0, 0.8)), 6)
    250.0
    """
    return _array(sideways) / np.maximum(_array(across), 1e-9)


def force_upright(sideways: ArrayLike, across: ArrayLike, slope: ArrayLike) -> Array:
    """Return what a leaning brace puts on shell and van up and down while it holds a sideways force [N].

    (8) V = P sin(slope) / across. A strap always pulls the shell down by it; a bar pulls down or pushes up by the side
    from which the force comes.

    sideways: P [N]; across [1]; slope: to the horizontal [rad]; each [...]. Source: derivation.

    >>> round(float(force_upright(200.0, 0.8, np.arcsin(0.6))), 6)
    150.0
    """
    return np.asarray(force_along(sideways, across) * np.sin(_array(slope)))


def diagonal_stiffness(modulus: ArrayLike, area: ArrayLike, length: ArrayLike, across: ArrayLike) -> Array:
    """Return the sideways stiffness of one straight bar or strap [N/m].

        k = E A / L across^2                                                                     (9)

    modulus: E [Pa]; area: A [m2]; length: L [m]; across: the part of its direction along y [1]; each [...].
    Source: derivation, one bar in a frame of pins.

    >>> round(float(diagonal_stiffness(200e9, 10e-6, 1.0, np.cos(np.pi / 4))), 3)
    1000000.0
    """
    return _array(modulus) * _array(area) / _array(length) * np.square(_array(across))


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
        total = total + _array(clearance)
    return np.asarray(total / np.maximum(_array(across), 1e-9))


def play_angle(play: ArrayLike, reach: ArrayLike) -> Array:
    """Return the angle that the shell turns to and fro about an upright axis at its hinges by play [rad].

    (12) angle = play / reach. play: at the free end [m]; reach: from hinges to free end [m]; each [...].
    Valid for small angles. Source: derivation.

    >>> float(play_angle(0.01, 2.0))
    0.005
    """
    return _array(play) / _array(reach)
