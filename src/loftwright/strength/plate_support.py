"""A field of the closed roof between its stiffeners under snow or a foot: a flat plate on simply supported edges.

Thin plate, small deflection: a skin that sags by more than half its thickness, or is curved, carries part of the load
by tension, so that these figures lie on the safe side there. They are no licence to walk on the roof.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.motion import Array

ROARK: Final = Source("roark-formulas", "7th ed., Table 11.4, case 1b (read in a public reproduction)", "handbook")
FOOT_SOURCE: Final = Source("en-1991-1-1", "6.3.4.2(4) (read in a public reproduction)", "standard")
POISSON: Final = 0.3
"""Poisson's ratio [1] for which the table holds."""
_TERMS = 2.0 * np.arange(12) + 1.0

_SHORT_OVER_LONG = np.array([0.0, 1 / 2.0, 1 / 1.8, 1 / 1.6, 1 / 1.4, 1 / 1.2, 1.0])
_BETA = np.array([1.000, 0.958, 0.927, 0.875, 0.789, 0.650, 0.435])
_ALPHA = np.array([0.1851, 0.1805, 0.1770, 0.1715, 0.1621, 0.1478, 0.1267])

FOOT: Final = (1500.0, 0.05)
"""Force [N] and side of a square [m] for roofs that are not sheeting, someone who mends them. Source: `FOOT_SOURCE`."""
PERSON: Final = (1000.0, 0.1)
"""Someone's weight on one foot, force [N] and side of a square [m]: judgement, and Q_k of category H of EN 1991-1-1,
Table 6.10, from memory."""


@dataclass(frozen=True, slots=True)
class Field:
    """A field of the roof between stiffeners, each [...].

    Sides `short` and `long` [m], `rigidity` D [N m], `modulus`, section modulus per width [m2], whole `thickness` [m].
    """

    short: Array
    long: Array
    rigidity: Array
    modulus: Array
    thickness: Array


@dataclass(frozen=True, slots=True)
class Bent:
    """Greatest `moment` per width [N], `stress` in the skin [Pa] and `sag` in the middle [m], each [...]."""

    moment: Array
    stress: Array
    sag: Array


def solid_field(short: ArrayLike, long: ArrayLike, thickness: ArrayLike, modulus: ArrayLike) -> Field:
    """Return a field of one solid laminate: D = E t^3 / (12 (1 - nu^2)) (1), W = t^2 / 6 (2), [...].

    `short` and `long` sides, `thickness` t [m]; `modulus` of elasticity E [Pa].
    Source: timoshenko-plates-and-shells, ch. 1.
    """
    t = np.asarray(thickness, dtype=np.float64)
    rigidity = np.asarray(modulus) * t**3 / (12 * (1 - POISSON**2))
    return Field(np.asarray(short), np.asarray(long), np.asarray(rigidity), t**2 / 6, t)


def sandwich_field(short: ArrayLike, long: ArrayLike, core: ArrayLike, skin: ArrayLike, modulus: ArrayLike) -> Field:
    """Return a field of two like skins on a core: D = E s d^2 / (2 (1 - nu^2)) (3), W = s d (4), d = c + s, [...].

    `short` and `long` sides, `core` c and `skin` s [m]; `modulus` of elasticity E of a skin [Pa]. Thin skins; the
    core's give in shear is left out, so that a soft core sags more. Source: derivation.
    """
    s, apart = np.asarray(skin, dtype=np.float64), np.asarray(core) + np.asarray(skin)
    rigidity = np.asarray(modulus) * s * apart**2 / (2 * (1 - POISSON**2))
    return Field(np.asarray(short), np.asarray(long), np.asarray(rigidity), np.asarray(s * apart), apart + s)


def under_even_load(field: Field, pressure: ArrayLike) -> Bent:
    """Return what an even `pressure` p [Pa] does to a field, [...].

    w = 4 p a^4 / (pi^5 D) sum_m s_m / m^5 (1 - (A tanh A + 2) / (2 cosh A)) (5), A = m pi b / (2 a), m odd, s_m its
    sign; M = 4 p a^2 / pi^3 sum_m s_m / m^3 (Y + nu U) (6) across the short side a, Y as in (5) and
    U = A tanh A / (2 cosh A). Stress M / W (7).
    Source: timoshenko-plates-and-shells, art. 30 (from memory), Table 8: 0.00406 and 0.0479 for a
    square, verified by the series.
    """
    a, load = field.short, np.asarray(pressure, dtype=np.float64)
    m = _TERMS
    arm = np.minimum(np.asarray(m * np.pi / 2 * (field.long / a)[..., None]), 300.0)
    turned = arm * np.tanh(arm) / (2 * np.cosh(arm))
    shape = 1 - turned - 1 / np.cosh(arm)
    sign = (-1.0) ** ((m - 1) / 2)
    sag = 4 / np.pi**5 * (sign / m**5 * shape).sum(axis=-1) * load * a**4 / field.rigidity
    moment = 4 / np.pi**3 * (sign / m**3 * (shape + POISSON * turned)).sum(axis=-1) * load * a**2
    return Bent(np.asarray(moment), np.asarray(moment / field.modulus), np.asarray(sag))


def under_foot(field: Field, force: ArrayLike, side: ArrayLike) -> Bent:
    """Return what a `force` P [N] on a small square of `side` [m] in the middle of a field does, [...].

    M = P / (4 pi) ((1 + nu) ln(2 a / (pi r)) + beta) (8), w = alpha P a^2 / (12 (1 - nu^2) D) (9), with a the short
    side and r the radius of a circle as large as the square, at least that of a point force,
    sqrt(1.6 r^2 + t^2) - 0.675 t for r under t / 2 (10). alpha and beta by the sides, straight in short over long.
    Source: `ROARK`, for nu 0.3.
    """
    load, t = np.asarray(force, dtype=np.float64), field.thickness
    radius = np.asarray(side, dtype=np.float64) / np.sqrt(np.pi)
    radius = np.where(radius < t / 2, np.sqrt(1.6 * radius**2 + t**2) - 0.675 * t, radius)
    ratio = field.short / field.long
    beta, alpha = np.interp(ratio, _SHORT_OVER_LONG, _BETA), np.interp(ratio, _SHORT_OVER_LONG, _ALPHA)
    moment = load / (4 * np.pi) * ((1 + POISSON) * np.log(2 * field.short / (np.pi * radius)) + beta)
    sag = alpha * load * field.short**2 / (12 * (1 - POISSON**2) * field.rigidity)
    return Bent(np.asarray(moment), np.asarray(moment / field.modulus), np.asarray(sag))
