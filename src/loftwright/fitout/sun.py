"""Where the sun stands, and how squarely its beam meets a panel on the roof.

Angles in radians. Compass directions run from north over east, clockwise, as on a compass. Time of day is solar
time unless said otherwise: at solar noon the sun stands highest, wherever the van is.

What may not be concluded: nothing here knows of trees, houses, hills, bars on the roof or snow on the panel, each of
which can take more than any choice of tilt or heading brings.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.motion import Array, array_of

BOOK: Final = "duffie-beckman"
ANGLES: Final = Source(BOOK, "sections 1.5 and 1.6", "handbook")

SPA: Final = Source("reda-andreas-2008", "solar position algorithm, through the library pvlib", "paper")

DAY: Final = 24 * 3600.0
"""A day [s]."""
MONTHS: Final = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
MEAN_DAYS: Final = (17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344)
"""Day of the year that stands for each month (Klein 1977); Duffie and Beckman, Table 1.6.1, read in public
reproductions."""


@dataclass(frozen=True, slots=True)
class SunPlace:
    """Where the sun stands: `zenith`, its angle from straight up, and `azimuth`, its compass direction [rad], [...]."""

    zenith: Array
    azimuth: Array


@dataclass(frozen=True, slots=True)
class Face:
    """How a panel lies: `tilt` from level and `azimuth`, the compass direction it leans towards [rad], each [...]."""

    tilt: Array
    azimuth: Array


def _year_angle(day: ArrayLike) -> Array:
    return np.asarray(2.0 * np.pi * (array_of(day) - 1.0) / 365.0)


def declination(day: ArrayLike) -> Array:
    """Return how far north of the equator the sun stands.

        delta = 0.006918 - 0.399912 cos B + 0.070257 sin B - 0.006758 cos 2B + 0.000907 sin 2B
                - 0.002697 cos 3B + 0.00148 sin 3B,  B = 2 pi (n - 1) / 365                      (1)

    Parameters
    ----------
    day: n, day of the year, 1 to 365 [1], [...].

    Returns
    -------
    Declination [rad], north positive, [...]; good to a few tenths of a degree over the years.

    Source: Duffie and Beckman, equation 1.6.1b (Spencer). The shorter equation 1.6.1a, from which their Table 1.6.1 and
    its examples are worked, is off by more than a degree in autumn.

    >>> round(float(np.rad2deg(declination(172))), 1)
    23.5
    """
    b = _year_angle(day)
    return np.asarray(
        0.006918
        - 0.399912 * np.cos(b)
        + 0.070257 * np.sin(b)
        - 0.006758 * np.cos(2 * b)
        + 0.000907 * np.sin(2 * b)
        - 0.002697 * np.cos(3 * b)
        + 0.00148 * np.sin(3 * b)
    )


def equation_of_time(day: ArrayLike) -> Array:
    """Return by how much the sun runs ahead of an even clock.

        E = 229.2 min (0.000075 + 0.001868 cos B - 0.032077 sin B - 0.014615 cos 2B - 0.04089 sin 2B),
        B = 2 pi (n - 1) / 365                                                                   (2)

    Parameters
    ----------
    day: n, day of the year [1], [...].

    Returns
    -------
    E [s], [...].

    Source: Duffie and Beckman, equation 1.5.3 (Spencer); Example 1.5.1 prints -13.5 minutes for 3 February.

    >>> round(float(equation_of_time(34)) / 60.0, 1)
    -13.5
    """
    b = _year_angle(day)
    minutes = 229.2 * (
        0.000075 + 0.001868 * np.cos(b) - 0.032077 * np.sin(b) - 0.014615 * np.cos(2 * b) - 0.04089 * np.sin(2 * b)
    )
    return np.asarray(60.0 * minutes)


def solar_time(clock: ArrayLike, meridian: ArrayLike, longitude: ArrayLike, day: ArrayLike) -> Array:
    """Return the solar time of a clock reading.

        t = clock + (longitude - meridian) 24 h / 2 pi + E                                       (3)

    Parameters
    ----------
    clock: standard time, without summer time, after midnight [s], [...].
    meridian: longitude to which the clock is set, east positive [rad], [...].
    longitude: where the van stands, east positive [rad], [...].
    day: day of the year [1], [...].

    Returns
    -------
    Solar time after midnight [s], [...].

    Source: Duffie and Beckman, equation 1.5.2, there with west positive. Example 1.5.1: 10:30 is 10:19.

    >>> seconds = float(solar_time(10.5 * 3600, np.deg2rad(-90.0), np.deg2rad(-89.4), 34))
    >>> round(seconds / 60.0) - 10 * 60
    19
    """
    ahead = DAY * (array_of(longitude) - array_of(meridian)) / (2.0 * np.pi)
    return np.asarray(array_of(clock) + ahead + equation_of_time(day))


def hour_angle(time: ArrayLike) -> Array:
    """Return omega = 2 pi (t / 24 h - 1/2) (4), nought at noon, negative before it.

    `time` t [s] is solar time, [...]; the angle [rad] is [...]. Source: Duffie and Beckman, section 1.6.
    """
    return np.asarray(2.0 * np.pi * (array_of(time) / DAY - 0.5))


def sunset_angle(latitude: ArrayLike, leaning: ArrayLike) -> Array:
    """Return the hour angle at which the sun's middle goes under a free horizon.

        cos omega_s = -tan phi tan delta, held to -1 .. 1                                        (5)

    Parameters
    ----------
    latitude: phi, north positive [rad], [...].
    leaning: delta, the sun's declination [rad], [...].

    Returns
    -------
    Hour angle [rad], [...]: nought where the sun stays down all day, pi where it stays up.

    Source: Duffie and Beckman, equation 1.6.10.
    """
    return np.asarray(np.arccos(np.clip(-np.tan(array_of(latitude)) * np.tan(array_of(leaning)), -1.0, 1.0)))


def sun_place(latitude: ArrayLike, leaning: ArrayLike, hour: ArrayLike) -> SunPlace:
    """Return where the sun stands.

        cos zenith = cos phi cos delta cos omega + sin phi sin delta                             (6)
        azimuth = pi + atan2(cos delta sin omega, cos delta cos omega sin phi - sin delta cos phi)   (7)

    Parameters
    ----------
    latitude: phi, north positive [rad], [...].
    leaning: delta, the sun's declination [rad], [...].
    hour: omega, hour angle [rad], [...].

    Returns
    -------
    Zenith angle, without the bending of light in air, and compass direction [rad], each [...].

    Source: Duffie and Beckman, equations 1.6.5 and 1.6.6, there with the azimuth from south. Example 1.6.2 prints
    79.6 degrees, and 112.0 west of south, for 43 N at 18:30 on 1 July.

    >>> place = sun_place(np.deg2rad(43.0), np.deg2rad(23.1), np.deg2rad(97.5))
    >>> [round(float(np.rad2deg(angle)), 1) for angle in (place.zenith, place.azimuth - np.pi)]
    [79.6, 112.0]
    """
    phi, delta, omega = array_of(latitude), array_of(leaning), array_of(hour)
    up = np.cos(phi) * np.cos(delta) * np.cos(omega) + np.sin(phi) * np.sin(delta)
    west = np.cos(delta) * np.sin(omega)
    south = np.cos(delta) * np.cos(omega) * np.sin(phi) - np.sin(delta) * np.cos(phi)
    return SunPlace(np.asarray(np.arccos(np.clip(up, -1.0, 1.0))), np.asarray(np.pi + np.arctan2(west, south)))


def incidence(place: SunPlace, face: Face) -> Array:
    """Return the cosine of the angle between beam and the panel's normal; below nought the sun is behind it.

        cos theta = cos zenith cos tilt + sin zenith sin tilt cos(azimuth_sun - azimuth_face)    (8)

    `place` and `face` hold angles [rad], [...]; the cosine [1] is [...]. Source: Duffie and Beckman, equation 1.6.3.
    Example 1.6.1 prints 0.817 at 43 N, declination -14, 10:30, slope 45, facing 15 degrees west of south.

    >>> place = sun_place(np.deg2rad(43.0), np.deg2rad(-14.0), np.deg2rad(-22.5))
    >>> round(float(incidence(place, Face(np.deg2rad(45.0), np.deg2rad(195.0)))), 3)
    0.817
    """
    level = np.cos(place.zenith) * np.cos(face.tilt)
    return np.asarray(
        level + np.sin(place.zenith) * np.sin(face.tilt) * np.cos(array_of(place.azimuth) - array_of(face.azimuth))
    )


def panel_face(heading: ArrayLike, pitch: ArrayLike, roll: ArrayLike = 0.0) -> Face:
    """Return how a panel on the shell faces, from the van's heading and the shell's slopes.

        tan^2 tilt = tan^2 pitch + tan^2 roll,  azimuth = heading - atan2(-tan roll, -tan pitch)   (9)

    A shell raised at the cab end (hinge at the rear) has a positive pitch and faces backward; raised at the rear end
    it faces forward; raised on the left it has a positive roll and faces right. The van stands level: a slope of the
    ground is added by the caller.

    Parameters
    ----------
    heading: compass direction of the cab [rad], [...].
    pitch: slope of the shell along the van, cab end up positive [rad], under a right angle, [...].
    roll: slope across the van, left side up positive [rad], [...].

    Returns
    -------
    Tilt and compass direction [rad], each [...]; the direction of a level panel means nothing.

    Source: derivation, normal (-tan pitch, -tan roll, 1) of a plane with these slopes.
    """
    along, across = np.tan(array_of(pitch)), np.tan(array_of(roll))
    tilt = np.arctan(np.hypot(along, across))
    azimuth = np.mod(array_of(heading) - np.arctan2(-across, -along), 2.0 * np.pi)
    wide = np.broadcast_shapes(tilt.shape, azimuth.shape)
    return Face(np.asarray(np.broadcast_to(tilt, wide)), np.asarray(np.broadcast_to(azimuth, wide)))


def sun_at(
    when: datetime,
    latitude: float,
    longitude: float,
    *,
    altitude: float = 0.0,
    pressure: float = 101325.0,
    temperature: float = 285.15,
    clock_error: float | None = 67.0,
) -> SunPlace:
    """Return where the sun stood at one moment, to a thousandth of a degree.

    For a reading of the built panel. The year's energy uses the short formulas (1) to (7) instead.

    Parameters
    ----------
    when: moment with its time zone.
    latitude: north positive [rad].
    longitude: east positive [rad].
    altitude: over the sea [m].
    pressure: of the air [Pa].
    temperature: of the air [K].
    clock_error: terrestrial less universal time [s]; None lets the library work it out.

    Returns
    -------
    Zenith angle as seen, bent by the air, and compass direction [rad], each [].

    ValueError without a time zone. Source: `SPA`.
    """
    if when.tzinfo is None:
        raise ValueError("a moment needs its time zone")
    import pandas as pd
    from pvlib import solarposition

    found = solarposition.spa_python(
        pd.DatetimeIndex([when]),
        float(np.rad2deg(latitude)),
        float(np.rad2deg(longitude)),
        altitude=altitude,
        pressure=pressure,
        temperature=temperature - 273.15,
        delta_t=clock_error,
    )
    zenith, azimuth = (np.deg2rad(float(found[name].iloc[0])) for name in ("apparent_zenith", "azimuth"))
    return SunPlace(np.asarray(zenith), np.asarray(azimuth))
