"""Snow lying on the closed roof."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array
from loftwright.reference.wind import SNOW


def snow_load(depth: ArrayLike, area: ArrayLike, weight: ArrayLike) -> Array:
    """Return the weight of snow on a level roof.

        F = gamma d A                                                                            (1)

    `depth` [m], `area` [m2] seen from above, `weight` gamma [N/m3], each [...]; [N], [...]. No drift, no sliding off.
    Source: EN 1991-1-3, Annex E for gamma.

    >>> float(snow_load(0.2, 3.36, 2000.0))
    1344.0
    """
    return np.asarray(np.asarray(depth, dtype=np.float64) * np.asarray(area) * np.asarray(weight))


def snow_range(depth: ArrayLike, area: ArrayLike, kind: str) -> tuple[Array, Array]:
    """Return the least and the greatest weight [N] of a kind of snow, "fresh", "settled", "old" or "wet", by (1).

    `depth` [m] and `area` [m2], each [...]. KeyError for another kind.
    Source: EN 1991-1-3, Annex E.
    """
    low, high = SNOW[kind]
    return snow_load(depth, area, low), snow_load(depth, area, high)
