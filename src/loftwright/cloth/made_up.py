"""A wall made up of its layers, for every draw at once: what it weighs, how thick and stiff it is, how high it loops.

Layers stand on the last axis, in their order through the wall; other axes are draws and broadcast. For one draw the
same as `fold.strand_of` and `fold.loop_length` say.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.cloth.fold import CONTACT_LEAST, bending_length_of, stiffness_of
from loftwright.core.motion import Array, Flags, array_of


@dataclass(frozen=True, slots=True)
class MadeUp:
    """A wall of several layers, each [...].

    `mass` [kg/m2]; `thickness` in contact [m]; `stiffness` in bending [N m]; `loop` [m], the bending length that sets
    how high its loops stand.
    """

    mass: Array
    thickness: Array
    stiffness: Array
    loop: Array


def made_up(
    mass: ArrayLike,
    thickness: ArrayLike,
    bending_length: ArrayLike,
    bond: float = 0.0,
    there: Flags | None = None,
    contact_least: float = CONTACT_LEAST,
) -> MadeUp:
    """Return the wall that layers make up.

    `mass` [kg/m2], `thickness` [m] and `bending_length` [m] of each layer, [..., layers]. Free to slip the wall is as
    stiff as the sum of B (1), glued as the sum of B + E t d2 about the common middle with E = 12 B / t3 (2); it stands
    at the share `bond` [1] between both, in logarithms. Its loops stand as high as those of the stiffest run of
    neighbouring layers by itself (3). `there` [..., layers] says which layers there are; where none is, all is
    nought. The thickness counts for not less than `contact_least` [m]. ValueError without layers.
    Source: bending of layered sheets, derivation; the share is judgement.
    """
    each = np.broadcast_arrays(array_of(mass), array_of(thickness), array_of(bending_length))
    count = each[0].shape[-1] if each[0].ndim else 0
    if count == 0:
        raise ValueError("a wall needs a layer")
    kept = np.ones(each[0].shape) if there is None else np.broadcast_to(there, each[0].shape).astype(np.float64)
    weigh, thick = each[0] * kept, each[1] * kept
    stiff = stiffness_of(each[0], each[2]) * kept
    # Stretch of a layer along the wall times its thickness; of its own thickness, so that none is divided by nought.
    stretch = 12.0 * stiff / each[1] ** 2
    middle = np.cumsum(thick, axis=-1) - thick / 2.0
    runs = [(i, j) for i in range(count) for j in range(i + 1, count + 1)]
    whole = _stiffness(stiff, stretch, middle, bond)
    loops = []
    for i, j in runs:
        part = slice(i, j)
        one = _stiffness(stiff[..., part], stretch[..., part], middle[..., part], bond)
        total = np.sum(weigh[..., part], axis=-1)
        loops.append(np.where(total > 0.0, bending_length_of(np.where(total > 0.0, total, 1.0), one), 0.0))
    real = np.any(kept > 0.0, axis=-1)
    summed = np.maximum(np.sum(thick, axis=-1), contact_least)
    return MadeUp(
        np.asarray(np.sum(weigh, axis=-1)),
        np.asarray(np.where(real, summed, 0.0)),
        whole,
        np.asarray(np.max(loops, axis=0)),
    )


def _stiffness(stiff: Array, stretch: Array, middle: Array, bond: float) -> Array:
    """Return the stiffness [N m] of layers bound at the share `bond`."""
    free = np.sum(stiff, axis=-1)
    if bond == 0.0:
        return np.asarray(free)
    held = np.sum(stretch, axis=-1)
    neutral = np.sum(stretch * middle, axis=-1) / np.where(held > 0.0, held, 1.0)
    glued = free + np.sum(stretch * (middle - neutral[..., None]) ** 2, axis=-1)
    return np.asarray(free ** (1.0 - bond) * glued**bond)
