"""Which fuse, where: large enough not to blow on a bright day, small enough to save the cable.

A panel cannot blow a fuse by its own current: the battery can. The fuse that saves the cable from fire sits at the
battery, within a hand's breadth of its terminal. A fuse at the panel's end matters where several strings feed one
cable. Disconnect the panel before the battery; a lit panel is always live. Local rules come first.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, array_of
from loftwright.reference.wire import FUSE_MARGIN, FUSES


def least_rating(current: ArrayLike, margin: ArrayLike = FUSE_MARGIN) -> Array:
    """Return the rating under which a fuse would tire: margin x current (1).

    `current` is the greatest lasting one [A; 1 ampere], the panel's short-circuit current or the controller's rated
    output, and `margin` [1], each [...]. Source: usual rule, NEC 690.9 (from memory).
    """
    return np.asarray(array_of(margin) * array_of(current))


def next_fuse(current: ArrayLike, margin: ArrayLike = FUSE_MARGIN) -> Array:
    """Return the smallest usual rating that is not below `least_rating`.

    Parameters
    ----------
    current: greatest lasting current [A; 1 ampere], [...].
    margin: rating over current [1], [...].

    Returns
    -------
    Rating, [...].

    ValueError where no fuse of the table is large enough. Source: ISO 8820, from memory.

    >>> float(next_fuse(9.7))
    15.0
    """
    least = least_rating(current, margin)
    ratings = np.array(FUSES)
    index = np.searchsorted(ratings, least - 1e-9)
    if np.any(index >= len(ratings)):
        raise ValueError(f"no fuse of the table carries {float(np.max(least)):.0f} A")
    return np.asarray(ratings[index])
