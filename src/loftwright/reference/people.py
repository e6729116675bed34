"""How tall people are: a survey of soldiers, allowances for shoes and hat."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from statistics import NormalDist
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.motion import Array, array_of

ANSUR: Final = Source(
    "gordon-ansur-2012",
    "public data files, percentiles by straight interpolation between ranks. Soldiers: fitter and younger than others",
    "paper",
)
ALLOWANCES: Final = Source(
    "pheasant-bodyspace", "25 mm for shoes, 25 mm for a hat; read in a public anthropometry table", "handbook"
)

LEVELS: Final = (0.01, 0.05, 0.10, 0.25, 0.50, 0.75, 0.90, 0.95, 0.99)
"""Shares of people below each tabulated figure [1]."""

SHOES: Final = 0.025
"""What shoes add to a person's height [m]; `ALLOWANCES`."""
HAT: Final = 0.025
"""What a hat adds [m]; `ALLOWANCES`."""


@dataclass(frozen=True, slots=True)
class Measure:
    """One measure of `count` people: `mean`, standard deviation `spread`, and `table` at `LEVELS`, all [m]."""

    name: str
    count: int
    mean: float
    spread: float
    table: tuple[float, ...]


def _mm(name: str, count: int, mean: float, spread: float, *table: float) -> Measure:
    return Measure(name, count, mean / 1e3, spread / 1e3, tuple(value / 1e3 for value in table))


STATURE: Final[Mapping[str, Measure]] = {
    "men": _mm("men's height", 4082, 1756.21, 68.55, 1601.6, 1648, 1669, 1710, 1755, 1802, 1844, 1870, 1927),
    "women": _mm("women's height", 1986, 1628.47, 64.20, 1482.6, 1525, 1547, 1586.3, 1626, 1672, 1713, 1740, 1777.6),
}
"""Standing height without shoes; `ANSUR`."""
SITTING: Final[Mapping[str, Measure]] = {
    "men": _mm("men's sitting height", 4082, 918.29, 35.70, 835.8, 860, 873, 894.3, 918, 943, 964, 977, 1001.2),
    "women": _mm("women's sitting height", 1986, 856.63, 33.05, 784, 803, 813, 834, 857, 879, 900, 912, 932.2),
}
"""From the seat to the top of the head, sitting upright; `ANSUR`."""
SHOULDERS: Final[Mapping[str, Measure]] = {
    "men": _mm("men's shoulder breadth", 4082, 510.42, 32.51, 439, 459, 470, 489, 509, 531, 553, 567, 593),
    "women": _mm("women's shoulder breadth", 1986, 450.32, 28.69, 388, 406, 415, 430, 450, 469, 488, 499, 522),
}
"""Over both upper arms; `ANSUR`."""

_SCORES = np.array([NormalDist().inv_cdf(level) for level in LEVELS])
_ERF = (0.254829592, -0.284496736, 1.421413741, -1.453152027, 1.061405429)


def normal_share(score: ArrayLike) -> Array:
    """Return the share of a normal distribution below a `score` of so many standard deviations [1], [...].

    Phi(z) = (1 + erf(z / sqrt 2)) / 2 (1), erf(x) = 1 - (a1 t + ... + a5 t^5) exp(-x^2), t = 1 / (1 + 0.3275911 x) (2).
    Validity: error below 1e-7. Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 7.1.26.

    >>> round(float(normal_share(1.645)), 4)
    0.95
    """
    z = array_of(score)
    x = np.abs(z) / np.sqrt(2.0)
    t = 1.0 / (1.0 + 0.3275911 * x)
    tail = 0.5 * sum(a * t ** (i + 1) for i, a in enumerate(_ERF)) * np.exp(-(x**2))
    return np.asarray(np.where(z < 0, tail, 1.0 - tail))


def share_below(measure: Measure, value: ArrayLike) -> Array:
    """Return the share of people [1], [...], whose `measure` is below `value` [m], [...].

    Between tabulated percentiles straight in the normal score; beyond the first and the last one the score goes on at
    one standard deviation each (3). Source: `ANSUR`.
    """
    at = array_of(value)
    table = np.array(measure.table)
    inside = np.interp(at, table, _SCORES)
    beyond = (np.minimum(at - table[0], 0.0) + np.maximum(at - table[-1], 0.0)) / measure.spread
    return normal_share(inside + beyond)


def height_of(measure: Measure, level: float) -> float:
    """Return the `measure` [m] that a share `level` [1] of people stays below; the inverse of `share_below`.

    ValueError for a level that does not lie between 0 and 1.

    >>> height_of(STATURE["men"], 0.95)
    1.87
    """
    if not 0.0 < level < 1.0:
        raise ValueError("a share of people lies between 0 and 1")
    score = NormalDist().inv_cdf(level)
    beyond = min(score - _SCORES[0], 0.0) + max(score - _SCORES[-1], 0.0)
    return float(np.interp(score, _SCORES, measure.table) + beyond * measure.spread)
