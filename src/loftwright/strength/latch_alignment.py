"""Whether the latches meet their keepers as the shell comes down: sideways offset against what the catch takes.

The shell hangs on its hinges with their slop, may stand askew or twisted, and is pushed sideways by wind or by a hand
off the middle. Arrays are [...] over rows and broadcast.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, array_of


@dataclass(frozen=True, slots=True)
class Offset:
    """How far a latch can be from its keeper, each [...].

    `to_left` and `to_right` are the two ends of the range of y [m], left positive; `worst` the greater size of both
    [m]; `uneven` how much higher the latch on one side stands than the one on the other [m].
    """

    to_left: Array
    to_right: Array
    worst: Array
    uneven: Array


def latch_offset(
    *,
    askew: ArrayLike,
    side_slop: ArrayLike,
    radial_slop: ArrayLike,
    hinges_apart: ArrayLike,
    reach: ArrayLike,
    twist: ArrayLike,
    height: ArrayLike,
    latches_apart: ArrayLike,
    sideways: ArrayLike,
    stiffness: ArrayLike,
) -> Offset:
    """Return where the latches can be sideways just before they meet their keepers.

        range = askew +- (s / 2 + reach r / apart + |twist| height + P / k)                      (1)
        uneven = |twist| latches_apart                                                           (2)

    Parameters
    ----------
    askew: how far to the left the latch hangs by itself, measured or set true [m].
    side_slop: s, free movement of the hinges along their axis, from end to end [m].
    radial_slop: r, hole less pin of one hinge [m]; one goes forward, the other back.
    hinges_apart: distance between the two hinges across the van [m].
    reach: from hinges to latches along the van [m].
    twist: angle of the lip against the hinged end, by unequal springs [rad].
    height: of the latches below the axis about which the shell twists [m].
    latches_apart: distance between the outer latches [m].
    sideways: P, sideways push at the lip while it comes down [N].
    stiffness: k, sideways stiffness of the free end without its brace [N/m].
    Each [...].

    Returns
    -------
    `Offset`; everything goes the wrong way at once, so it is a bound and not a spread.

    Source: derivation, rigid shell and small angles.

    >>> found = latch_offset(askew=0.001, side_slop=0.002, radial_slop=0.0005, hinges_apart=1.0, reach=2.0,
    ...                      twist=0.01, height=0.1, latches_apart=1.2, sideways=20.0, stiffness=10e3)
    >>> round(float(found.to_left), 6), round(float(found.to_right), 6), round(float(found.uneven), 6)
    (0.006, -0.004, 0.012)
    """
    angle = np.abs(array_of(twist))
    each_way = (
        array_of(side_slop) / 2
        + array_of(reach) * array_of(radial_slop) / array_of(hinges_apart)
        + angle * np.abs(array_of(height))
        + np.abs(array_of(sideways)) / array_of(stiffness)
    )
    left, right = np.asarray(array_of(askew) + each_way), np.asarray(array_of(askew) - each_way)
    return Offset(left, right, np.maximum(np.abs(left), np.abs(right)), np.asarray(angle * array_of(latches_apart)))
