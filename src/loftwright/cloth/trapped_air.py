"""Air under a shell that comes down with the doors shut: how hard it blows the cloth outward, and what to open.

Pressure inside over that outside [Pa], positive outward. Arrays are [...] and broadcast. Steady flow through openings
in turbulent flow; the air's own springiness and mass are left out, which at these speeds is nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.cloth.fold_rules import AIR
from loftwright.core.checks import Source
from loftwright.core.judged import Judged, against
from loftwright.core.motion import Array, array_of

DISCHARGE: Final = 0.6
"""Discharge coefficient of openings [1]: 0.6 to 0.65 for a sharp edge; the lower end gives the greater pressure."""
DENSITY: Final = 1.2
"""Air at 20 C [kg/m3]."""

LEAK_SOURCE: Final = Source(
    "bs-5588-4", "table 3, shut doors 0.01 to 0.06 m2 (read in a public reproduction)", "standard"
)
SHUT_LEAK: Final = (0.01, 0.06)
"""Free area round shut doors and through the body's own vents [m2], where it is not known: those of doors in houses."""


@dataclass(frozen=True, slots=True)
class Opening:
    """A way out for the air: a door ajar, a window, a vent; free `area` [m2], [...]."""

    name: str
    area: Array


@dataclass(frozen=True, slots=True)
class Opened:
    """What opening one thing does: its `pressure` [Pa] and whether that `is_enough`, [...]."""

    name: str
    area: Array
    pressure: Array
    is_enough: Array


def orifice_flow(area: ArrayLike, pressure: ArrayLike, coefficient: ArrayLike = DISCHARGE) -> Array:
    """Return the flow Q = C A sqrt(2 p / rho) (1) [m3/s] through an opening, with the sign of the pressure.

    `area` A [m2], `pressure` p across it [Pa], discharge `coefficient` C [1]; [...]; rho is `DENSITY`.
    Source: `fold_rules.ORIFICE_SOURCE`; 0.02 m2 at 50 Pa with 0.64: tables of pressurised stairs print 0.117 m3/s.

    >>> round(float(orifice_flow(0.02, 50.0, 0.64)), 3)
    0.117
    """
    p = array_of(pressure)
    return np.asarray(np.sign(p) * array_of(coefficient) * array_of(area) * np.sqrt(2 * np.abs(p) / DENSITY))


def pressure_of(swept: ArrayLike, area: ArrayLike, fan: ArrayLike = 0.0, coefficient: ArrayLike = DISCHARGE) -> Array:
    """Return the pressure [Pa] on the cloth, outward positive, p = rho / 2 |Q - q| (Q - q) / (C A)2 (1).

    `swept` Q: how fast the shell takes the room away [m3/s]; `fan` q: what a vent blows out [m3/s]; `area` A of all
    that is open [m2], door gaps counted; discharge `coefficient` C [1]; [...]. Where the fan takes more than the shell
    drives out, the cloth is drawn in: with the shell at rest p = -rho / 2 (q / (C A))2 (2).
    Validity: a fan that keeps its flow against the pressure. Source: `fold_rules.ORIFICE_SOURCE`, turned round.
    """
    net = array_of(swept) - array_of(fan)
    return np.asarray(DENSITY / 2 * np.abs(net) * net / (array_of(coefficient) * array_of(area)) ** 2)


def resisted_pressure(pulls: ArrayLike, length: ArrayLike) -> Array:
    """Return the pressure [Pa] that inward pulls just overcome, p = 4 / L sum of f min(s, 1 - s) (1).

    Both bend the strip between its clamps; where the bending moments of a string at mid-height, p L2 / 8 and
    f min(s, 1 - s) L / 2, are equal, neither wins. `pulls` [..., p, 2]: share s of the height [1] and pull f [N/m];
    `length` L of the strip [m], [...]. Validity: slack cloth, weight left out, which hangs either way alike.
    Source: statics of a string, derivation.
    """
    each = array_of(pulls)
    share, pull = each[..., 0], each[..., 1]
    return np.asarray(4 / array_of(length) * np.sum(pull * np.minimum(share, 1 - share), axis=-1))


def needed_area(
    swept: ArrayLike, allowed: ArrayLike, fan: ArrayLike = 0.0, coefficient: ArrayLike = DISCHARGE
) -> Array:
    """Return the free area [m2] that keeps the pressure at what is `allowed` [Pa], (Q - q) / (C sqrt(2 p / rho)) (1).

    `swept` Q and `fan` q [m3/s], discharge `coefficient` C [1]; [...]. Nought where the fan takes all. ValueError for
    an allowed pressure that is not positive.
    Source: `fold_rules.ORIFICE_SOURCE`, turned round.
    """
    net = np.maximum(array_of(swept) - array_of(fan), 0.0)
    return np.asarray(net / _speed(allowed, coefficient))


def least_seconds(
    volume: ArrayLike,
    area: ArrayLike,
    allowed: ArrayLike,
    fan: ArrayLike = 0.0,
    coefficient: ArrayLike = DISCHARGE,
    peak: ArrayLike = 1.0,
) -> Array:
    """Return how long the lowering must take [s], T = peak V / (C A sqrt(2 p / rho) + q) (1).

    `volume` V swept in all [m3]; `area` A open [m2]; `allowed` pressure p [Pa]; `fan` q [m3/s]; discharge
    `coefficient` C [1]; `peak`: greatest over mean flow of the lowering [1]; [...]. ValueError for an allowed pressure
    that is not positive. Source: `fold_rules.ORIFICE_SOURCE`, turned round.
    """
    out = array_of(area) * _speed(allowed, coefficient) + array_of(fan)
    return np.asarray(array_of(peak) * array_of(volume) / out)


def needed_fan(swept: ArrayLike, area: ArrayLike, allowed: ArrayLike, coefficient: ArrayLike = DISCHARGE) -> Array:
    """Return what a vent must blow out [m3/s] to keep the pressure at `allowed` [Pa], negative to draw the cloth in.

    q = Q - C A sqrt(2 |p| / rho) sign(p) (1), never below nought. `swept` Q [m3/s], `area` A open [m2], discharge
    `coefficient` C [1]; [...]. Source: `fold_rules.ORIFICE_SOURCE`, turned round.
    """
    return np.asarray(np.maximum(array_of(swept) - orifice_flow(area, allowed, coefficient), 0.0))


def which_door(
    openings: tuple[Opening, ...], leak: ArrayLike, swept: ArrayLike, allowed: ArrayLike, fan: ArrayLike = 0.0
) -> tuple[Opened, ...]:
    """Return what each of the `openings` does by itself, the smallest first.

    `leak`: area that is always open [m2]; `swept` and `fan` [m3/s]; `allowed` pressure [Pa]; [...]. The first that is
    enough is the least trouble. Source: `fold_rules.ORIFICE_SOURCE`.
    """
    found = []
    for opening in sorted(openings, key=lambda one: float(np.ravel(one.area)[0])):
        pressure = pressure_of(swept, array_of(leak) + opening.area, fan)
        found.append(Opened(opening.name, opening.area, pressure, np.asarray(pressure <= array_of(allowed))))
    return tuple(found)


def lift_of(pressure: ArrayLike, rim_area: ArrayLike) -> Array:
    """Return the push on the shell [N], upward positive, pressure times `rim_area` (1); [Pa], [m2], [...].

    Source: definition of pressure.
    """
    return np.asarray(array_of(pressure) * array_of(rim_area))


def _speed(allowed: ArrayLike, coefficient: ArrayLike) -> Array:
    """Return the flow per area of opening [m/s] at the allowed pressure."""
    pressure = array_of(allowed)
    if np.any(pressure <= 0):
        raise ValueError("the allowed pressure must be positive")
    return np.asarray(array_of(coefficient) * np.sqrt(2 * pressure / DENSITY))


def air_judged(pressure: ArrayLike, allowed: ArrayLike, place: str = "") -> Judged:
    """Return the greatest `pressure` of a lowering against what is `allowed` by the inward pulls, [Pa], [...]."""
    return against(AIR, pressure, allowed, place)
