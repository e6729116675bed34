"""Three estimates of one duration: their mean as published, and draws of the curve behind them."""

from __future__ import annotations

import math
import zlib
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, array_of

CELLS: Final = 400
"""Cells of the table from which a curve is read backwards: within 1e-4 of the range of the exact quantile."""


def pert_mean(least: ArrayLike, likely: ArrayLike, most: ArrayLike) -> Array:
    """Return the expected duration.

        t = (a + 4 m + b) / 6                                                                    (1)

    Parameters
    ----------
    least: a [h], [...]. likely: m [h], [...]. most: b [h], [...].

    Source: Malcolm, Roseboom, Clark and Fazar 1959 (from memory; read in public reproductions of textbooks).

    >>> round(float(pert_mean(6.0, 8.0, 11.0)), 4)
    8.1667
    """
    return np.asarray((array_of(least) + 4.0 * array_of(likely) + array_of(most)) / 6.0)


def pert_quantile(least: float, likely: float, most: float, chance: ArrayLike) -> Array:
    """Return the duration that is not exceeded with the given chance, on the beta curve of three estimates.

    Shape on t from 0 to 1, with the mean of (1):

        f(t) ~ t^(p - 1) (1 - t)^(q - 1), p = 1 + 4 (m - a) / (b - a), q = 6 - p                 (2)

    With t = sin(s)^2 the integral of f is that of sin(s)^(2p - 1) cos(s)^(2q - 1), smooth at both ends; it is summed
    over even cells of s and read backwards between them. No special functions are needed. Its own variance is
    (t - a)(b - t) / 7, which for an even curve is 1.29 times the usual ((b - a) / 6)^2: draws are a little wider.

    Parameters
    ----------
    least: a [h]. likely: m [h]. most: b [h].
    chance: from 0 to 1 [1], [...].

    Source: the usual beta curve of these estimates (read in public manuals of statistics packages).
    """
    share = array_of(chance)
    if most <= least:
        return np.full(share.shape, least)
    p = 1.0 + 4.0 * (likely - least) / (most - least)
    s = np.linspace(0.0, math.pi / 2.0, 2 * CELLS + 1)
    density = np.sin(s) ** (2.0 * p - 1.0) * np.cos(s) ** (2.0 * (6.0 - p) - 1.0)
    # Simpson over each pair of cells.
    sums = np.concatenate(([0.0], np.cumsum(density[:-2:2] + 4.0 * density[1:-1:2] + density[2::2])))
    at = np.interp(share, sums / sums[-1], s[::2])
    return np.asarray(least + (most - least) * np.sin(at) ** 2)


def chances(name: str, count: int, seed: int) -> Array:
    """Return `count` even chances [1], [count], above nought and up to one; the stream belongs to `name` and `seed`.

    Made from the raw bits of a generator whose stream is fixed, so that they are the same on every machine.
    """
    bits = np.random.PCG64([seed, zlib.crc32(name.encode())]).random_raw(count)
    return np.asarray(((bits >> np.uint64(11)).astype(np.float64) + 1.0) * 2.0**-53)
