"""Random errors of a measured rim, smooth along it and closed, and how much they lengthen it."""

from __future__ import annotations

import numpy as np

from loftwright.cloth.rims import Loop, reshaped
from loftwright.core.motion import Array

CORRELATION = 0.3
"""Correlation length of the error along a rim [m]: tape, straightedge or lath bridge shorter waves; judgement."""


def normals(seed: int, rows: int, size: int) -> Array:
    """Return normal chances of mean 0 and deviation 1, [rows, size] [1], that depend on `seed` alone.

    Row k is the same however many `rows` are asked for. Two even chances make a normal one (Box and Muller, 1958), so
    that no generator's own transformation can change them.
    """
    bits = np.random.PCG64(seed).random_raw(2 * rows * size)
    first, second = (
        np.moveaxis(((bits >> np.uint64(11)).astype(np.float64) + 1.0).reshape(rows, size, 2), -1, 0) * 2.0**-53
    )
    return np.asarray(np.sqrt(-2.0 * np.log(first)) * np.cos(2.0 * np.pi * second))


def spectrum(perimeter: float, length: float) -> Array:
    """Return the share of the variance of each wave round a rim [1], [waves], the constant one first.

    For a `perimeter` and a correlation `length` [m]: c(d) = exp(-d^2 / (2 length^2)), made periodic, has waves
    cos(2 pi m s / perimeter) with variances in the ratio exp(-(2 pi m length / perimeter)^2 / 2), the constant one
    half of that (1); all together 1. Waves under 1e-8 of it are left out. ValueError for a length not above 0.
    Source: derivation, Fourier transform of a Gaussian function.
    """
    if length <= 0.0 or perimeter <= 0.0:
        raise ValueError("perimeter and correlation length must be above nought")
    rate = 2.0 * np.pi * length / perimeter
    waves = np.arange(int(np.sqrt(2.0 * 8.0 * np.log(10.0)) / rate) + 1)
    power = np.exp(-((rate * waves) ** 2) / 2.0)
    power[0] /= 2.0
    return np.asarray(power / power.sum())


def perturbed(loop: Loop, sd: float, seed: int, rows: int, *, length: float = CORRELATION) -> Loop:
    """Return `rows` rims that differ from row 0 of `loop` by a smooth random error; row 0 has none.

    `sd`: standard deviation of every point on each axis [m]; `length`: its correlation length along the rim [m];
    `seed`: the same one gives the same rims. The error on each axis is the sum over the waves m of `spectrum` of
    sd sqrt(p_m) (a cos + b sin)(2 pi m s / perimeter) (1), a and b normal, so that it closes. Where the loop has rows
    of its own, there must be as many, and each row is moved. Arc lengths follow the points (`reshaped`). ValueError for
    rows that do not match. Source: derivation.
    """
    own = loop.points.shape[:-2]
    if own and own != (1,) and own != (rows,):
        raise ValueError("a loop with rows of its own needs as many rows of error")
    first = loop.row()
    power = spectrum(float(first.perimeter), length)
    angle = 2.0 * np.pi * np.arange(power.size)[:, None] * first.arc[:-1] / first.perimeter
    basis = np.concatenate([np.cos(angle), np.sin(angle)]) * np.sqrt(np.tile(power, 2))[:, None]
    chance = normals(seed, rows, 6 * power.size).reshape(rows, 3, -1)
    chance[:1] = 0.0
    # The constant wave has no sine: its cosine carries its whole variance.
    return reshaped(loop, loop.points + sd * np.moveaxis(chance @ basis, -2, -1))


def lengthening(sd: float, perimeter: float, *, length: float = CORRELATION) -> float:
    """Return by how much an error lengthens a rim on average [m].

    Of an error of `sd` [m] on each axis with correlation `length` [m] along a `perimeter` [m], the two directions
    square to the rim count: 1/2 (e'^2) each (1), mean of e'^2 = sd^2 sum p_m (2 pi m / perimeter)^2 (2), which is
    (sd / length)^2 where the rim is long; so about perimeter (sd / length)^2 (3). Small slopes; the curvature of
    corners is left out. Source: derivation.
    """
    power = spectrum(perimeter, length)
    return float(perimeter * sd**2 * np.sum(power * (2.0 * np.pi * np.arange(power.size) / perimeter) ** 2))
