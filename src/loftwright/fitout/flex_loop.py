"""The cable's free loop from van to shell: long enough when open, not bent too tightly when closed.

The loop runs from the last clip on the van to the first clip on the shell. Both clips hold the cable so that it can
bend only between them. Keep the loop away from the arms' pinch points, and let it leave the gland downward.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, PointPath, array_of, column
from loftwright.reference.wire import LEAST_BEND


@dataclass(frozen=True, slots=True)
class Loop:
    """The free loop over all poses, each [...].

    `free` length and `needed` [m], `longest` and `shortest` distance of the clips [m]; `bend`, its tightest radius, as
    an even arc or less [m]; `hang`, how far the arc's middle lies off the straight line when the clips are closest [m].
    """

    free: Array
    needed: Array
    longest: Array
    shortest: Array
    bend: Array
    hang: Array


def clip_distance(van_x: ArrayLike, van_z: ArrayLike, shell: PointPath, sideways: ArrayLike = 0.0) -> Array:
    """Return the distance of both clips over the travel: d^2 = dx^2 + dz^2 + dy^2 (1).

    Parameters
    ----------
    van_x, van_z: clip on the van [m], [...].
    shell: path of the clip on the shell [m], [..., n].
    sideways: dy between the clips [m], [...].

    Returns
    -------
    Distance [m], [..., n].

    Source: derivation.
    """
    dx, dz = shell.x - column(van_x), shell.z - column(van_z)
    return np.asarray(np.sqrt(dx**2 + dz**2 + column(sideways) ** 2))


def arc_half_angle(chord: ArrayLike, length: ArrayLike) -> Array:
    """Return half the angle of an even arc of given chord and length: sin a / a = chord / length (2).

    `chord` and `length` [m] are [...]; a [rad], 0 to pi, is [...]: nought where the length does not exceed the chord.
    Solved by halving. Source: derivation.

    >>> import math
    >>> round(float(arc_half_angle(2.0, math.pi)) / math.pi, 6)
    0.5
    """
    ratio = np.clip(array_of(chord) / array_of(length), 0.0, 1.0)
    low, high = np.zeros_like(ratio), np.full_like(ratio, np.pi)
    for _ in range(50):
        middle = 0.5 * (low + high)
        more = np.sinc(middle / np.pi) > ratio
        low, high = np.where(more, middle, low), np.where(more, high, middle)
    return np.asarray(0.5 * (low + high))


def loop(distance: Array, *, factor: ArrayLike = 1.15, free: ArrayLike | None = None, even: ArrayLike = 0.6) -> Loop:
    """Return the free loop's length and its tightest bend.

        free = factor x longest distance, unless given                                           (3)
        bend = even x free / 2 a, with a from (2) for the shortest distance                      (4)

    An even arc is the gentlest curve of that length between two points; a real loop, held by its clips and its own
    weight, bends more tightly: `even` says by how much. Clips that point the cable along the arc help.

    Parameters
    ----------
    distance: of the clips over the travel [m], [..., n].
    factor: free length over the longest distance [1], [...].
    free: free length as cut [m], [...]; None takes (3).
    even: tightest radius over that of an even arc [1], [...]: judgement, 0.5 to 0.9.

    Returns
    -------
    The loop [m], each [...]. A loop no longer than its shortest distance is straight: bend is held at its length x 100.

    Source: derivation and judgement.
    """
    longest, shortest = np.max(distance, axis=-1), np.min(distance, axis=-1)
    needed = array_of(factor) * longest
    length = needed if free is None else array_of(free)
    half = arc_half_angle(shortest, length)
    radius = length / np.maximum(2.0 * half, 1e-2)
    hang = radius * (1.0 - np.cos(half))
    names = (length, needed, longest, shortest, array_of(even) * radius, hang)
    return Loop(*(np.asarray(value) for value in np.broadcast_arrays(*names)))


def least_bend(diameter: ArrayLike, multiple: ArrayLike | None = None) -> Array:
    """Return the least radius that a freely moving cable bears: multiple x diameter (5).

    `diameter` over its sheath [m] and `multiple` [1] are [...]; None takes 5 up to 12 mm and 6 above. The radius [m] is
    [...]. Source: HD 516, least bending radii, read in a public reproduction.

    >>> round(float(least_bend(0.006)), 3)
    0.03
    """
    across = array_of(diameter)
    if multiple is not None:
        return np.asarray(array_of(multiple) * across)
    (limit, thin), (_, thick) = LEAST_BEND
    return np.asarray(np.where(across <= limit, thin, thick) * across)
