"""How hard the wind pushes, and what a speed means: gust at roof height, Beaufort's scale, the parked van's footing.

Every speed [m/s] judged in this package is the gust at roof height: a few seconds, where the raised roof stands.
Beaufort's numbers are means over ten minutes at 10 m, so a number stands for a wide range of gusts and a gust for
several numbers. Arguments broadcast, [...].
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array
from loftwright.core.units import STANDARD_GRAVITY
from loftwright.reference.wind import AIR_DENSITY, BEAUFORT, BEAUFORT_HEIGHT, GUST_FACTOR, OPEN, Terrain

_REFERENCE_ROUGHNESS = 0.05
"""Roughness length of terrain II [m], to which the terrain factor refers."""
_MEETS = 1e-12


def velocity_pressure(speed: ArrayLike, density: ArrayLike = AIR_DENSITY) -> Array:
    """Return the pressure of air brought to rest.

        q = rho v^2 / 2                                                                          (1)

    `speed` [m/s] is the gust at roof height, `density` [kg/m3], each [...]; the pressure [Pa] is [...].
    Source: EN 1991-1-4:2005, 4.5, expression 4.10, there with the mean speed.

    >>> float(velocity_pressure(20.0))
    250.0
    """
    v = np.asarray(speed, dtype=np.float64)
    return np.asarray(0.5 * np.asarray(density, dtype=np.float64) * v**2)


def speed_for(pressure: ArrayLike, density: ArrayLike = AIR_DENSITY) -> Array:
    """Return the speed that brings a velocity pressure: v = sqrt(2 q / rho) (2), from (1).

    `pressure` [Pa], `density` [kg/m3], each [...]; nought for a negative pressure. The speed [m/s] is [...].
    Source: derivation.
    """
    q = np.maximum(np.asarray(pressure, dtype=np.float64), 0.0)
    return np.asarray(np.sqrt(2.0 * q / np.asarray(density, dtype=np.float64)))


def roughness_factor(height: ArrayLike, terrain: Terrain = OPEN) -> Array:
    """Return the ten-minute mean at a height over that at 10 m in open country.

        c_r = k_r ln(max(z, z_min) / z0),   k_r = 0.19 (z0 / 0.05)^0.07                           (3)

    `height` [m] above the ground, [...]; `terrain` gives z0 and z_min [m]. Valid up to 200 m.
    Source: EN 1991-1-4:2005, 4.3.2, expressions 4.4 and 4.5; read in a public reproduction.
    """
    z = np.maximum(np.asarray(height, dtype=np.float64), terrain.least_height)
    k = 0.19 * (terrain.roughness / _REFERENCE_ROUGHNESS) ** 0.07
    return np.asarray(k * np.log(z / terrain.roughness))


def peak_factor(height: ArrayLike, terrain: Terrain = OPEN) -> Array:
    """Return gust over mean speed as the standard's peak pressure implies it.

        G = sqrt(1 + 7 I_v),   I_v = 1 / ln(max(z, z_min) / z0)                                  (4)

    `height` [m] above the ground, [...]; `terrain` gives z0 and z_min [m]. A comparison for the stated gust factor.
    Source: EN 1991-1-4:2005, 4.4 and 4.5, expressions 4.7 and 4.8; read in a public reproduction.

    >>> round(float(peak_factor(2.2)), 2)
    1.69
    """
    z = np.maximum(np.asarray(height, dtype=np.float64), terrain.least_height)
    return np.asarray(np.sqrt(1.0 + 7.0 / np.log(z / terrain.roughness)))


def height_factor(height: ArrayLike, terrain: Terrain = OPEN) -> Array:
    """Return the mean wind at a height over that at 10 m in the same country, c_r(z) / c_r(10 m) (5).

    `height` [m] above the ground, [...]; [1], [...].
    Source: EN 1991-1-4:2005, 4.3.2.
    """
    return np.asarray(roughness_factor(height, terrain) / roughness_factor(BEAUFORT_HEIGHT, terrain))


def gust_of_mean(
    mean: ArrayLike, height: ArrayLike, *, gust_factor: ArrayLike = GUST_FACTOR[1], terrain: Terrain = OPEN
) -> Array:
    """Return the gust at a height from the ten-minute mean at 10 m: v = G c_r(z) / c_r(10 m) v_10 (6).

    `mean` [m/s] at 10 m, `height` [m] above the ground, `gust_factor` [1] over the mean at that height, each [...].
    Validity: country without shelter. Between trees and houses the mean is lower and the gusts are stronger.
    Source: EN 1991-1-4:2005, 4.3.2; the gust factor is a judgement.
    """
    return np.asarray(np.asarray(gust_factor) * height_factor(height, terrain) * np.asarray(mean))


def gusts_of_beaufort(number: int, height: ArrayLike, terrain: Terrain = OPEN) -> tuple[Array, Array]:
    """Return the weakest and the strongest gust [m/s] at a height that a Beaufort number may bring, by (6).

    The low end of the number with the low gust factor, the high end with the high one. `number` 0 to 12 (beyond 12
    there is no upper end: infinite), `height` [m] above the ground, [...]. ValueError for another number.
    Source: WMO-No. 8; the gust factor is a judgement.

    >>> low, high = gusts_of_beaufort(6, 2.4)
    >>> round(float(low), 1), round(float(high), 1)
    (10.3, 17.1)
    """
    if not 0 <= number < len(BEAUFORT):
        raise ValueError(f"Beaufort's scale goes from 0 to 12, not {number}")
    force = BEAUFORT[number]
    top = np.inf if force.high is None else force.high
    low, high = GUST_FACTOR
    return (
        gust_of_mean(force.low, height, gust_factor=low, terrain=terrain),
        gust_of_mean(top, height, gust_factor=high, terrain=terrain),
    )


def beauforts_of_gust(gust: float, height: float, terrain: Terrain = OPEN) -> tuple[int, int]:
    """Return the lowest and the highest Beaufort number whose wind may hold such a gust.

    From the mean with the high gust factor to that with the low one, by (6) turned round. `gust` [m/s] at `height` [m]
    above the ground. Said as "about Beaufort 6 to 7, which is not exact".
    Source: WMO-No. 8; the gust factor is a judgement.

    >>> beauforts_of_gust(18.0, 2.4)
    (7, 8)
    """
    near = float(height_factor(height, terrain))
    means = gust / (GUST_FACTOR[1] * near), gust / (GUST_FACTOR[0] * near)
    # The scale leaves gaps of 0.1 m/s: a number reaches up to where the next one starts.
    low, high = (max(force.number for force in BEAUFORT if force.low <= mean + _MEETS) for mean in means)
    return low, high


def tipping_moment(force: ArrayLike, height: ArrayLike) -> Array:
    """Return what side winds on several parts do about the line under the leeward wheels.

        M = sum F z                                                                              (7)

    `force` [N] across the van and `height` [m] of its line of action above the ground, each [..., parts]; [N m], [...].
    Source: derivation, statics.
    """
    product = np.asarray(force, dtype=np.float64) * np.asarray(height, dtype=np.float64)
    return np.asarray(product.sum(axis=-1))


def righting_moment(mass: ArrayLike, track: ArrayLike, *, lift: ArrayLike = 0.0) -> Array:
    """Return what holds the van down about the same line: M = (m g - lift) T / 2 (8).

    `mass` [kg] of the van as parked, `track` [m] between the wheels, `lift` [N] of the wind on the roof, each [...].
    Stiff tyres and springs on level ground: a van that leans gives way a little earlier.
    Source: derivation, statics.

    >>> round(float(righting_moment(2160.0, 1.63)), 1)
    17263.6
    """
    weight = np.asarray(mass, dtype=np.float64) * STANDARD_GRAVITY - np.asarray(lift, dtype=np.float64)
    return np.asarray(weight * np.asarray(track, dtype=np.float64) / 2.0)


def side_force(gust: ArrayLike, area: ArrayLike, coefficient: ArrayLike = 1.3) -> Array:
    """Return the side wind on the van's own body: F = q c A (9), with q by (1).

    `gust` [m/s], `area` [m2] of the side as seen, `coefficient` [1], each [...]; [N], [...]. 1.3 is windward and
    leeward wall of a closed body as high as it is deep (EN 1991-1-4:2005, Table 7.1, 0.8 + 0.5).
    """
    return np.asarray(velocity_pressure(gust) * np.asarray(coefficient) * np.asarray(area))
