"""A clear day's sun on level ground, month by month: beam and scattered light.

"Clear sky" is a day without a cloud; few months have many. What a year really brings is a share of it (`sun_energy`).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.motion import Array, array_of
from loftwright.fitout.sun import MEAN_DAYS, SunPlace, declination, sun_place, sunset_angle

INEICHEN: Final = Source("ineichen-perez-2002", "clear-sky model with Linke's turbidity", "paper")
KLEIN: Final = Source("klein-1977", "mean days of the months", "paper")

SOLAR_CONSTANT: Final = 1367.0
"""Sun's power square to the beam outside the air [W/m2]; Duffie and Beckman, section 1.2."""
STEPS: Final = 48
"""Moments between sunrise and sunset."""


@dataclass(frozen=True, slots=True)
class ClearDay:
    """A clear day in moments between sunrise and sunset, each [..., moments].

    `place` of the sun; `beam` square to itself, `scattered` and `level` (all light) on level ground, and `outside` the
    air square to the beam [W/m2]; `hours` that each moment stands for [h].
    """

    place: SunPlace
    beam: Array
    scattered: Array
    level: Array
    outside: Array
    hours: Array


def outside_air(day: ArrayLike) -> Array:
    """Return the sun's power square to its beam outside the air.

        G = 1367 W/m2 (1 + 0.033 cos(2 pi n / 365))                                              (1)

    `day` n [1] is the day of the year, [...]; the power per area [W/m2] is [...]. Source: Duffie and Beckman,
    equation 1.4.1a.
    """
    return np.asarray(SOLAR_CONSTANT * (1.0 + 0.033 * np.cos(2.0 * np.pi * array_of(day) / 365.0)))


def clear_day(
    latitude: ArrayLike,
    leaning: ArrayLike,
    outside: ArrayLike,
    *,
    altitude: ArrayLike = 0.0,
    turbidity: ArrayLike = 3.0,
    steps: int = STEPS,
) -> ClearDay:
    """Return a clear day.

    Moments stand in the middle of even parts of the day, omega = omega_s (2 (i + 1/2) / N - 1) (2). Light by Ineichen
    and Perez from the air's thickness (Kasten and Young) and turbidity. Free horizon; the bending of light near it is
    left out.

    Parameters
    ----------
    latitude: north positive [rad], [...].
    leaning: declination of the sun [rad], [...].
    outside: power square to the beam outside the air [W/m2], [...].
    altitude: over the sea [m], [...].
    turbidity: Linke's turbidity for air mass 2 [1], [...].
    steps: N, number of moments [1].

    Returns
    -------
    The day; its arrays are [..., N]. Where the sun stays down the hours are nought.

    Source: `INEICHEN`, through the library pvlib. A clear-sky model is good to about
    5 to 10 % where the turbidity is known.
    """
    from pvlib import atmosphere, clearsky

    names = (latitude, leaning, outside, altitude, turbidity)
    phi, delta, power, high, haze = (value[..., None] for value in np.broadcast_arrays(*map(array_of, names)))
    end = sunset_angle(phi, delta)
    omega = end * (2.0 * (np.arange(steps) + 0.5) / steps - 1.0)
    place = sun_place(phi, delta, omega)
    zenith = np.rad2deg(place.zenith)
    mass = atmosphere.get_absolute_airmass(atmosphere.get_relative_airmass(zenith), atmosphere.alt2pres(high))
    with np.errstate(divide="ignore", invalid="ignore"):  # a sun that stays down
        light = clearsky.ineichen(zenith, mass, haze, altitude=high, dni_extra=power)
    hours = np.broadcast_to(24.0 * end / np.pi / steps, zenith.shape)
    beam, scattered, level = (np.asarray(np.nan_to_num(light[name])) for name in ("dni", "dhi", "ghi"))
    return ClearDay(place, beam, scattered, level, np.asarray(np.broadcast_to(power, zenith.shape)), np.asarray(hours))


def clear_year(
    latitude: ArrayLike, *, altitude: ArrayLike = 0.0, turbidity: ArrayLike = 3.0, steps: int = STEPS
) -> ClearDay:
    """Return one clear day for each month, on the day that stands for it.

    Parameters
    ----------
    latitude: north positive [rad], [...].
    altitude: over the sea [m], [...].
    turbidity: Linke's turbidity [1], [...] or [..., 12] by month.
    steps: number of moments [1].

    Returns
    -------
    The days; their arrays are [..., 12, steps].

    Source: `KLEIN` for the days; see `clear_day`.
    """
    day = np.array(MEAN_DAYS, dtype=np.float64)
    haze = array_of(turbidity)
    by_month = haze if haze.ndim and haze.shape[-1] == 12 else haze[..., None]
    return clear_day(
        array_of(latitude)[..., None],
        declination(day),
        outside_air(day),
        altitude=array_of(altitude)[..., None],
        turbidity=by_month,
        steps=steps,
    )
