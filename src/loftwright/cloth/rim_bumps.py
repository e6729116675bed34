"""What many measured points show beyond a fitted rim: real bumps are followed, noise is not."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loftwright.cloth.rim_places import station
from loftwright.cloth.rims import Loop, reshaped
from loftwright.core.motion import Array

CAUTION = 1.4
"""How much dearer each followed term is than plain cross-validation has it [1], so that noise is not followed.

Usual value against undersmoothing (Kim and Gu, 2004; from memory).
"""
_STIFFNESS = np.logspace(-4.0, 8.0, 61)


@dataclass(frozen=True, slots=True)
class Bumps:
    """Waves along a rim: `out` and `up` [m], [2 waves], first all cosines, then all sines, of m = 1, 2, ...

    `terms`: how many of them count, outwards and upwards [1]; `noise`: by how much what noise is left in them
    lengthens the rim on average [m].
    """

    out: Array
    up: Array
    terms: tuple[float, float]
    noise: float


def bumps_of(arc: Array, out: Array, up: Array, perimeter: float, *, spent: int = 0) -> Bumps:
    """Return the waves that k residuals show.

    `arc` [m], [k]: where along a `perimeter` [m]; `out`, `up` [m], [k]: residuals; `spent`: terms that the fit before
    took [1]. Least squares of waves m = 1 to (k - 1) / 2, at most 16, with the penalty stiffness m^4 (1), that is, on
    the square of the second derivative. Stiffness by least k S / (k - c t)^2 (2), generalized cross-validation: S sum
    of squares left, t terms that count (trace of the smoother) with half of `spent`, c = `CAUTION`; no waves at all is
    among the choices. Sources: (2) with c = 1 read in public documentation of statistics libraries, c from memory;
    otherwise derivation.
    """
    count = arc.size
    waves = max(1, min((count - 1) // 2, 16))
    basis = _basis(arc, perimeter, waves)
    # In coordinates where the penalty is one: basis = left diag(size) right, every stiffness at once.
    scale = np.tile(np.arange(1.0, waves + 1) ** -2, 2)
    left_side, size, right_side = np.linalg.svd(basis * scale, full_matrices=False)
    shares = np.concatenate([size**2 / (size**2 + _STIFFNESS[:, None]), np.zeros((1, size.size))])
    kept, terms, noise = [], [], 0.0
    rates = np.tile(2.0 * np.pi * np.arange(1, waves + 1) / perimeter, 2)
    for values in (out, up):
        part = left_side.T @ values
        squares = max(float(values @ values - part @ part), 0.0) + ((1.0 - shares) ** 2) @ part**2
        spares = count - CAUTION * (shares.sum(axis=1) + spent / 2.0)
        scores = np.where(spares > 1.0, squares / np.maximum(spares, 1.0) ** 2, np.inf)
        # Among equals the stiffest, at last no waves at all.
        share = shares[::-1][int(np.argmin(scores[::-1]))]
        trace = float(share.sum())
        solver = scale[:, None] * (right_side.T * (share / size)) @ left_side.T
        kept.append(solver @ values)
        terms.append(trace)
        left = values - basis @ kept[-1]
        spare = max(count - trace - spent / 2.0, 1.0)
        variances = float(left @ left) / spare * np.sum(solver**2, axis=1)
        # Mean of half the squared slope of what noise puts into each wave.
        noise += perimeter * float(np.sum(rates**2 * variances)) / 4.0
    return Bumps(kept[0], kept[1], (terms[0], terms[1]), noise)


def with_bumps(loop: Loop, bumps: Bumps) -> Loop:
    """Return a loop moved outwards and up by bumps, in every row at the same share of its length."""
    first = loop.row()
    basis = _basis(first.arc[:-1], float(first.perimeter), bumps.out.size // 2)
    outward = station(loop, loop.arc[..., :-1]).outward
    up = np.array([0.0, 0.0, 1.0])
    return reshaped(loop, loop.points + (basis @ bumps.out)[:, None] * outward + (basis @ bumps.up)[:, None] * up)


def _basis(arc: Array, perimeter: float, waves: int) -> Array:
    angle = 2.0 * np.pi * arc[:, None] / perimeter * np.arange(1, waves + 1)
    return np.concatenate([np.cos(angle), np.sin(angle)], axis=1)
