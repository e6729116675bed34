"""How tight the top stop and the springs pull the cloth, dry and wet."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, array_of


@dataclass(frozen=True, slots=True)
class Tightness:
    """Pull of the open wall along its height, per metre of rim [N/m], dry and wet, each [...]."""

    dry: Array
    wet: Array

    @property
    def worst(self) -> Array:
        """The greater of the two [N/m], [...]."""
        return np.asarray(np.maximum(self.dry, self.wet))


def strain(gap: ArrayLike, cloth: ArrayLike) -> Array:
    """Return how much the cloth is stretched [1], [...]: gap / cloth - 1 (1), 0 while it hangs slack.

    `gap` from lower to upper line with the shell on its top stop [m]; `cloth` its own height between them [m].
    """
    return np.asarray(np.maximum(array_of(gap) / array_of(cloth) - 1.0, 0.0))


def wet_height(cloth: ArrayLike, shrinkage: ArrayLike) -> Array:
    """Return the height of `cloth` [m] after it has shrunk by the share `shrinkage` [1]: h (1 - s) (1), [...].

    ValueError unless 0 <= s < 1.
    """
    share = array_of(shrinkage)
    if np.any((share < 0.0) | (share >= 1.0)):
        raise ValueError("shrinkage is a share from 0 to below 1")
    return np.asarray(array_of(cloth) * (1.0 - share))


def tightness(
    gap: ArrayLike,
    cloth: ArrayLike,
    *,
    stiffness: ArrayLike,
    shrinkage: ArrayLike,
    most: ArrayLike = np.inf,
) -> Tightness:
    """Return the pull of the cloth dry and wet.

    min(K e, N) (1), with the strain e of the dry or the shrunk cloth. A shell that only springs hold up comes down
    before the cloth is pulled harder than their surplus.

    `gap` between the lines on the top stop [m], infinite where the cloth itself is the stop; `cloth` its height dry
    [m]; `stiffness` K along that direction [N/m]; `shrinkage` when wet [1]; `most` that the springs can keep up [N/m],
    infinite for a shell that is held down on a fixed stop; each [...].
    ValueError: neither a stop nor a surplus bounds the pull, or shrinkage as in `wet_height`.
    Source: derivation, stretch of an elastic sheet along one direction.
    """
    pull = array_of(stiffness)
    cap = array_of(most)
    if np.any(np.isinf(array_of(gap)) & np.isinf(cap)):
        raise ValueError("the cloth is pulled without end: give a top stop or the springs' surplus")
    dry = np.minimum(pull * strain(gap, cloth), cap)
    wet = np.minimum(pull * strain(gap, wet_height(cloth, shrinkage)), cap)
    return Tightness(np.asarray(dry), np.asarray(wet))
