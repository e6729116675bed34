"""Lights under the shell: current, energy of an evening, strip and cable lengths."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, array_of

SPARE: Final = 0.10
"""Cable bought over its route: ends, bends and a second try [1]. Judgement."""


def route_length(points: ArrayLike, spare: ArrayLike = SPARE) -> Array:
    """Return the length of cable along a route [m], [...].

    s = (1 + e) sum |p_{i+1} - p_i| (1), `points` [m], [..., k, 3] in order, `spare` e [1], [...]. What bridges the
    moving gap is a flex loop of its own and is not in here.

    >>> round(float(route_length([[0, 0, 0], [3, 0, 0], [3, 4, 0]], 0.0)), 6)
    7.0
    """
    legs = np.linalg.norm(np.diff(array_of(points), axis=-2), axis=-1)
    return np.asarray((1.0 + array_of(spare)) * legs.sum(axis=-1))


def strip_length(length: ArrayLike, width: ArrayLike, inset: ArrayLike, cut: ArrayLike = 0.0) -> Array:
    """Return the length of a light strip round a rectangle [m], [...], cut only at its marks.

    s = p floor(2 (a - 2 i + b - 2 i) / p) (2), `length` a, `width` b, `inset` i from the edge and the `cut` p between
    two marks [m], each [...]; a cut of 0 for a strip that is cut anywhere. Nought where the inset leaves nothing.
    """
    a, b, i, p = (array_of(v) for v in (length, width, inset, cut))
    round_it = 2.0 * (np.maximum(a - 2 * i, 0.0) + np.maximum(b - 2 * i, 0.0))
    return np.asarray(np.where(p > 0, p * np.floor(round_it / np.where(p > 0, p, 1.0) + 1e-9), round_it))


@dataclass(frozen=True, slots=True)
class Lights:
    """What the lights draw: `power` [W], `current` [A], `energy` an evening [W h], [...]."""

    power: Array
    current: Array
    energy: Array


def lights(
    lamps: ArrayLike,
    lamp_power: ArrayLike,
    strip: ArrayLike,
    strip_power: ArrayLike,
    voltage: ArrayLike,
    hours: ArrayLike,
) -> Lights:
    """Return what lamps and strip draw together.

    P = n p + l w (3), I = P / U (4), E = P h (5)

    Parameters
    ----------
    lamps: how many [1], [...]. lamp_power: p of one [W], [...].
    strip: l [m], [...]. strip_power: w of a metre [W/m], [...].
    voltage: U of the battery [V], [...]. hours: h an evening [h], [...].

    Validity: lamps that take what their label says; a dimmer takes less.
    """
    power = array_of(lamps) * array_of(lamp_power) + array_of(strip) * array_of(strip_power)
    return Lights(np.asarray(power), np.asarray(power / array_of(voltage)), np.asarray(power * array_of(hours)))
