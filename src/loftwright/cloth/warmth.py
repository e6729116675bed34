"""Warmth of the walls: layers in series, what they lose, when water settles on them, what people breathe out.

Temperatures in kelvin. Dry layers at rest: pressed, wet or wind-blown cloth warms less.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.cloth.warm_rules import DRIPS, HEATER
from loftwright.core.judged import Judged, against
from loftwright.core.motion import Array, array_of
from loftwright.reference.warmth import (
    BREATHED,
    FREEZING,
    INSIDE,
    MAGNUS_FACTOR,
    MAGNUS_PRESSURE,
    MAGNUS_TEMPERATURE,
    OUTSIDE,
    VAPOUR_GAS,
)

HOUR: Final = 3600.0
"""Seconds of an hour [s]."""


def resistance(
    thickness: ArrayLike, conductivity: ArrayLike, *, inside: ArrayLike = INSIDE, outside: ArrayLike = OUTSIDE
) -> Array:
    """Return the resistance of a wall of layers [m2 K/W], [...].

    (1) R = Rsi + sum of d / lambda + Rse. thickness: d of each layer [m] and conductivity: lambda [W/(m K)], both
    [..., layers]; inside and outside: of the air at its faces [m2 K/W], [...].
    Validity: plane layers that fill the wall; no draught through it.
    Source: ISO 6946; Chudley and Greeno, Building Construction Handbook, U-value calculations.

    >>> round(float(resistance([0.215, 0.013], [0.84, 0.50], inside=0.123, outside=0.055)), 5)
    0.45995
    """
    d, conducts = np.broadcast_arrays(array_of(thickness), array_of(conductivity))
    return np.asarray(array_of(inside) + np.sum(d / conducts, axis=-1) + array_of(outside))


def transmittance(resistances: ArrayLike) -> Array:
    """Return U = 1 / R [W/(m2 K)] of `resistances` R [m2 K/W, shaped ...], with the air at both faces [1].

    Source: ISO 6946.
    """
    return np.asarray(1.0 / array_of(resistances))


def heat_lost(transmits: ArrayLike, area: ArrayLike, inside: ArrayLike, outside: ArrayLike) -> Array:
    """Return the heat lost through the walls [J/s], [...].

    (1) P = sum of U A (Ti - Te). transmits: U of each part [W/(m2 K)] and area: A [m2], both [..., parts]; inside and
    outside: temperature of the air [K], [...]. Air that is exchanged is not in it.
    Source: definition of U, ISO 6946.
    """
    through = np.sum(np.multiply(array_of(transmits), array_of(area)), axis=-1)
    return np.asarray(through * (array_of(inside) - array_of(outside)))


def surface_temperature(
    transmits: ArrayLike, inside: ArrayLike, outside: ArrayLike, surface: ArrayLike = INSIDE
) -> Array:
    """Return the temperature of the wall's inner face [K], [...].

    (1) Tsi = Ti - (Ti - Te) U Rsi. transmits: U [W/(m2 K)]; inside and outside: Ti and Te [K]; surface: Rsi
    [m2 K/W]; each [...].
    Source: derivation, the same flow through the air at the face as through the wall (ISO 6946).
    """
    within, without = array_of(inside), array_of(outside)
    return np.asarray(within - (within - without) * array_of(transmits) * array_of(surface))


def vapour_pressure(temperature: ArrayLike) -> Array:
    """Return the pressure of saturated vapour over water [Pa] at a `temperature` [K], [...].

    (1) e = 611.2 exp(17.62 t / (243.12 + t)), t in degrees Celsius. Validity: -45 to 60 C.
    Source: Sonntag, Z. Meteorol. 70 (1990), 340.
    """
    t = array_of(temperature) - FREEZING
    return np.asarray(MAGNUS_PRESSURE * np.exp(MAGNUS_FACTOR * t / (MAGNUS_TEMPERATURE + t)))


def dew_point(temperature: ArrayLike, humidity: ArrayLike) -> Array:
    """Return the temperature at which the air's vapour begins to settle as water [K], [...].

    (1) Td = 243.12 H / (17.62 - H) in degrees Celsius, H = ln(humidity) + 17.62 t / (243.12 + t).
    temperature: of the air [K]; humidity: vapour over saturated vapour [1], above 0; each [...].
    Validity: as `vapour_pressure`. Source: Sonntag, Z. Meteorol. 70 (1990), 340.

    >>> [round(float(dew_point(273.15 + t, rh)) - 273.15, 1) for t, rh in ((25.0, 0.10), (50.0, 0.90))]
    [-8.8, 47.9]
    """
    t = array_of(temperature) - FREEZING
    h = np.log(array_of(humidity)) + MAGNUS_FACTOR * t / (MAGNUS_TEMPERATURE + t)
    return np.asarray(FREEZING + MAGNUS_TEMPERATURE * h / (MAGNUS_FACTOR - h))


def dripping_humidity(
    transmits: ArrayLike, inside: ArrayLike, outside: ArrayLike, surface: ArrayLike = INSIDE
) -> Array:
    """Return the humidity of the air inside at which water settles on the wall's inner face [1], [...].

    (1) e(Tsi) / e(Ti), Tsi by `surface_temperature`. transmits: U [W/(m2 K)]; inside and outside: Ti and Te [K];
    surface: Rsi [m2 K/W]; each [...].
    Validity: a lining that lets no vapour through; vapour that passes settles behind it, on the outer cloth.
    Source: derivation from `vapour_pressure`.
    """
    face = surface_temperature(transmits, inside, outside, surface)
    return np.asarray(vapour_pressure(face) / vapour_pressure(inside))


def vapour_density(temperature: ArrayLike, humidity: ArrayLike) -> Array:
    """Return the vapour in a cubic metre of air [kg/m3] from temperature [K] and humidity [1], [...].

    (1) humidity e(T) / (461.5 T). Source: ideal gas law, derivation.
    """
    return np.asarray(array_of(humidity) * vapour_pressure(temperature) / (VAPOUR_GAS * array_of(temperature)))


def water_breathed(people: ArrayLike, hours: ArrayLike) -> tuple[Array, Array]:
    """Return the least and most water that sleeping `people` [1] give off to the air in so many `hours` [h], in kg.

    (1) people x hours x 0.03 to 0.05 kg/h. Source: `reference.warmth.BREATHED_SOURCE`.
    """
    both = array_of(people) * array_of(hours)
    return np.asarray(both * BREATHED[0]), np.asarray(both * BREATHED[1])


def fresh_air(
    people: ArrayLike, inside: ArrayLike, highest: ArrayLike, outside: ArrayLike, humidity: ArrayLike
) -> Array:
    """Return the air that must be exchanged so that no water settles, [m3/s], [...].

    (1) V = g / (rho_i - rho_e): water given off over what a cubic metre takes along, in steady state, with the most
    that sleeping `people` [1] give off. inside and outside: temperatures [K]; highest: humidity allowed inside [1],
    as `dripping_humidity`; humidity: of the air outside [1]; each [...]. Infinite where the outer air is no drier.
    Source: derivation, balance of vapour.
    """
    given = array_of(people) * BREATHED[1] / HOUR
    takes = vapour_density(inside, highest) - vapour_density(outside, humidity)
    return np.asarray(np.where(takes > 0.0, given / np.where(takes > 0.0, takes, 1.0), np.inf))


@dataclass(frozen=True, slots=True)
class WarmPart:
    """One part of the walls: its area [m2] and its U [W/(m2 K)], each [rows]."""

    name: str
    area: Array
    transmits: Array


def judge_drips(
    parts: tuple[WarmPart, ...], inside: ArrayLike, outside: ArrayLike, humidity: ArrayLike
) -> list[Judged]:
    """Return whether water settles on each part: humidity inside [1] against `dripping_humidity`.

    inside and outside: temperatures [K], [rows].
    """
    return [against(DRIPS, humidity, dripping_humidity(part.transmits, inside, outside), part.name) for part in parts]


def judge_heater(
    parts: tuple[WarmPart, ...], inside: ArrayLike, outside: ArrayLike, heater: ArrayLike | None
) -> Judged:
    """Return the heat lost through all parts over the `heater`'s output [W], against 1; [rows].

    inside and outside: temperatures [K]. Without a heater's output the answer waits for it.
    """
    lost = sum(
        (heat_lost(part.transmits[..., None], part.area[..., None], inside, outside) for part in parts), np.zeros(1)
    )
    if heater is None:
        return Judged(HEATER, None, np.ones_like(lost), unknown="read the output of your heater off its plate")
    return against(HEATER, lost / array_of(heater), 1.0)
