"""What a panel on the roof yields by month, lying flat or raised with the shell, for every heading of the van.

What may not be concluded. The clear-sky figures are the most that a cloudless month could bring. Real months bring a
share of it that nobody knows beforehand: the range given for it is wide on purpose. Shade from a tree, a lamp post or
a roof bar on one corner can halve what the panel yields. Do not size a battery for something that must not fail, such
as a medical device, by these figures.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.motion import Array, Flags, array_of
from loftwright.fitout.clear_sky import ClearDay
from loftwright.fitout.sun import Face, SunPlace, incidence

ISOTROPIC: Final = Source("duffie-beckman", "equation 2.15.1, evenly bright sky", "handbook")

OVERCAST: Final = (0.15, 0.35)
"""Light on level ground under a closed cover over that of a clear sky [1]: judgement."""
GROUND: Final = 0.2
"""Share of the light that bare ground throws back [1]; usual value in Duffie and Beckman, fresh snow 0.7."""
GLASS: Final = 0.05
"""b0 of a single flat glass in equation (2) [1]: usual value, as in the library pvlib."""


@dataclass(frozen=True, slots=True)
class Weather:
    """Clouds and ground.

    `share` of the clear-sky light that a month brings on level ground and `overcast`, that share under a closed
    cover [1], each [...] or [..., 12]; `ground`, the share thrown back [1], [...].
    """

    share: Array
    overcast: Array
    ground: Array


CLEAR: Final = Weather(np.array(1.0), np.array(0.25), np.array(GROUND))
"""No cloud at all."""


def kept(*lost: ArrayLike) -> Array:
    """Return what is left after each loss in turn: product of (1 - l) (1); `lost` [1], each [...].

    Source: derivation.

    >>> round(float(kept(0.1, 0.2)), 2)
    0.72
    """
    left: Array = np.array(1.0)
    for share in lost:
        left = np.asarray(left * (1.0 - array_of(share)))
    return left


def through_glass(cosine: ArrayLike, glass: ArrayLike = GLASS) -> Array:
    """Return the share of the beam that gets through the panel's glass, against square on.

        K = 1 - b0 (1 / cos theta - 1), not under nought                                         (2)

    Parameters
    ----------
    cosine: cos theta of beam and the panel's normal [1], [...].
    glass: b0 [1], [...].

    Returns
    -------
    K [1], [...]; nought behind the panel. A low winter sun slides off a flat panel: that is in it.

    Source: Duffie and Beckman, section 5.4 (Souka and Safwat; ASHRAE 93), from memory; the library pvlib has the same.
    """
    c = array_of(cosine)
    ahead = c > 1e-6
    return np.asarray(np.where(ahead, np.maximum(0.0, 1.0 - array_of(glass) * (1.0 / np.where(ahead, c, 1.0) - 1)), 0))


def sky_view(tilt: ArrayLike, ground: ArrayLike) -> tuple[Array, Array]:
    """Return how much of an evenly bright sky, and of the lit ground, a tilted panel gets.

        (1 + cos tilt) / 2 and rho (1 - cos tilt) / 2                                            (3)

    `tilt` [rad] and `ground` rho [1] are [...], so are both shares [1]. Source: Duffie and Beckman, equation 2.15.1.
    """
    cos = np.cos(array_of(tilt))
    return np.asarray((1.0 + cos) / 2.0), np.asarray(array_of(ground) * (1.0 - cos) / 2.0)


def _moments(value: Array) -> Array:
    return value[..., None]


def _months(value: ArrayLike) -> Array:
    given = array_of(value)
    return given if given.ndim and given.shape[-1] == 12 else given[..., None]


def light_on(days: ClearDay, face: Face, weather: Weather = CLEAR, glass: ArrayLike = GLASS) -> Array:
    """Return the light that a panel can use, a day of each month.

        clear: H_c = sum over moments of [beam max(0, cos theta) K + scattered V + level W] hours   (4)
        covered: H_o = o V' H_level, V' = V + W                                                   (5)
        real: H = f H_c + (1 - f) H_o with f = (k - o) / (1 - o), o not over k                    (6)

    A month is so many parts clear and the rest covered; on level ground its light is the share k of the clear one.
    Under cloud there is no beam, so tilting then gains nothing: that keeps the gain of a raised panel honest. An
    evenly bright sky (V and W by (3)) is a cautious choice for a raised panel: others find some per cent more.

    Parameters
    ----------
    days: clear days of a year, arrays [..., 12, moments].
    face: tilt and direction [rad], each [..., headings].
    weather: k and o [1], [...] or [..., 12].
    glass: b0 of (2) [1], [...].

    Returns
    -------
    Light [W h/m2 a day], [..., 12, headings].

    Source: Duffie and Beckman, equation 2.15.1; (5) and (6) are judgement.
    """
    tilt, azimuth = np.broadcast_arrays(array_of(face.tilt), array_of(face.azimuth))
    turned = Face(tilt[..., None, :, None], azimuth[..., None, :, None])
    place = SunPlace(days.place.zenith[..., None, :], days.place.azimuth[..., None, :])
    cosine = incidence(place, turned)
    sees = array_of(glass)
    glazed = sees[..., None, None, None] if sees.ndim else sees
    used = np.maximum(cosine, 0.0) * through_glass(cosine, glazed)
    beam = np.sum(used * (days.beam * days.hours)[..., None, :], axis=-1)
    ground = weather.ground[..., None] if weather.ground.ndim else weather.ground
    sky, thrown = (part[..., None, :] for part in sky_view(tilt, ground))
    scattered, level = (np.sum(part * days.hours, axis=-1)[..., None] for part in (days.scattered, days.level))
    clear = beam + scattered * sky + level * thrown
    share = _moments(_months(weather.share))
    dull = np.minimum(_moments(_months(weather.overcast)), share)
    bright = (share - dull) / (1.0 - dull)
    return np.asarray(bright * clear + (1.0 - bright) * dull * level * (sky + thrown))


def energy(light: Array, peak: ArrayLike, left: ArrayLike) -> Array:
    """Return what the panel gives into the battery.

        E = H P / (1000 W/m2) x left                                                             (7)

    Parameters
    ----------
    light: H [W h/m2 a day], [..., 12, headings].
    peak: P, rated power at 1000 W/m2 [W], [...].
    left: what is left after the losses [1], [...].

    Returns
    -------
    Energy [W h a day], [..., 12, headings].

    Source: definition of rated power (IEC 60904-3, from memory).
    """
    scale = array_of(peak) * array_of(left) / 1000.0
    return np.asarray(light * (scale[..., None, None] if scale.ndim else scale))


def headings(count: int = 16) -> Array:
    """Return even compass directions from north over east [rad], [count]."""
    return np.asarray(2.0 * np.pi * np.arange(count) / count)


def winter(latitude: float) -> tuple[int, ...]:
    """Return the three darkest months, counted from nought for January: half a year apart north and south.

    `latitude` [rad], north positive. Source: common practice.

    >>> winter(0.8), winter(-0.8)
    ((10, 11, 0), (4, 5, 6))
    """
    return (10, 11, 0) if latitude >= 0 else (4, 5, 6)


def best_heading(given: Array, months: tuple[int, ...]) -> tuple[Array, Array]:
    """Return the heading that gives most over some months, and how much more than the worst one.

    Parameters
    ----------
    given: energy [W h a day] or light, [..., 12, headings].
    months: which ones, counted from nought.

    Returns
    -------
    Index of the heading [1] and best over worst [1] (one where the panel is level or gets nothing), each [...].

    Source: derivation.
    """
    summed = np.sum(given[..., list(months), :], axis=-2)
    best, worst = np.max(summed, axis=-1), np.min(summed, axis=-1)
    more = np.where(worst > 0, best / np.where(worst > 0, worst, 1.0), 1.0)
    return np.asarray(np.argmax(summed, axis=-1), dtype=np.float64), np.asarray(more)


def gain(raised: Array, flat: Array) -> Array:
    """Return raised over flat [1], less one; both are [..., 12, headings] of energy or light [1 for 1]; 0 in the dark.

    Source: derivation.
    """
    lit = flat > 0
    return np.asarray(np.where(lit, raised / np.where(lit, flat, 1.0) - 1.0, 0.0))


def uncovered(given: Array, use: ArrayLike) -> Flags:
    """Return the months in which the panel does not cover the use.

    `given` energy [W h a day] is [..., 12, headings], `use` the same in one day, [...] or [..., 12]; so the answer is
    [..., 12, headings] of yes or no [1]. A battery carries a few days, not a month. Source: derivation.
    """
    return np.asarray(given < _moments(_months(use)))
