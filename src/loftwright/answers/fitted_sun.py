"""What the panel yields by month, flat and raised, for every heading of the van and every row.

The sun is followed for a few latitudes and slopes only; rows lie between them.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from loftwright.core.motion import Array
from loftwright.fitout.sun_energy import OVERCAST

HEADINGS: Final = 16
NODES: Final = 5
"""Latitudes between which rows lie, at most [1]: with five of them 30 degrees are followed to a few in a thousand."""
TILTS: Final = 3
"""Slopes between which rows lie, at most [1]."""
SAME: Final = 1e-4
"""Angles that differ by less [rad] are the same."""
DULL: Final = (OVERCAST[0] + OVERCAST[1]) / 2.0
"""Light under a closed cover over that of a clear sky [1], the middle of `OVERCAST`."""


@dataclass(frozen=True, slots=True)
class Light:
    """Light that a panel can use a day of each month [W h/m2], [rows, 12, headings]: `clear` sky, under `cloud` cover.

    `cloud` is over the share of light that comes through the cover.
    """

    clear: Array
    cloud: Array

    def under(self, share: Array) -> Array:
        """Return the light where a month brings so much of the clear sky's [1], [rows]; [rows, 12, headings]."""
        dull = np.minimum(DULL, share)
        bright = ((share - dull) / (1.0 - dull))[:, None, None]
        return np.asarray(bright * self.clear + (1.0 - bright) * dull[:, None, None] * self.cloud)


def light(latitude: Array, pitch: Array, roll: Array) -> Light:
    """Return the light for rows of `latitude`, `pitch` and `roll` of the panel [rad], each [rows]."""
    nodes = nodes_of(latitude, NODES)
    tilted, along = (roll, False) if np.abs(roll).max() > np.abs(pitch).max() else (pitch, True)
    steps = nodes_of(tilted, TILTS)
    clear, cloud = _table(tuple(float(v) for v in nodes), tuple(float(v) for v in steps), along)
    return Light(*(_between(table, (nodes, latitude), (steps, tilted)) for table in (clear, cloud)))


def nodes_of(value: Array, most: int) -> Array:
    """Return places [rad] over the whole range of a `value` [rad], [rows]: one where it does not differ."""
    low, high = float(value.min()), float(value.max())
    return np.array([float(value[0])]) if high - low < SAME else np.linspace(low, high, most)


def _between(table: Array, first: tuple[Array, Array], second: tuple[Array, Array]) -> Array:
    """Return a table [first, second, 12, headings] at each row's two values, straight between its nodes."""
    (i, s), (j, t) = (_share(*one) for one in (first, second))
    s, t = s[:, None, None], t[:, None, None]
    i2, j2 = np.minimum(i + 1, table.shape[0] - 1), np.minimum(j + 1, table.shape[1] - 1)
    near = (1.0 - t) * table[i, j] + t * table[i, j2]
    far = (1.0 - t) * table[i2, j] + t * table[i2, j2]
    return np.asarray((1.0 - s) * near + s * far)


def _share(nodes: Array, value: Array) -> tuple[np.ndarray[tuple[int, ...], np.dtype[np.intp]], Array]:
    if nodes.size == 1:
        return np.zeros(value.size, dtype=np.intp), np.zeros(value.size)
    at = (value - nodes[0]) / (nodes[1] - nodes[0])
    index = np.clip(np.floor(at), 0, nodes.size - 2).astype(np.intp)
    return index, np.clip(at - index, 0.0, 1.0)


@lru_cache(maxsize=8)
def _table(latitudes: tuple[float, ...], tilts: tuple[float, ...], along: bool) -> tuple[Array, Array]:
    """Return clear and covered light [W h/m2], [latitudes, tilts, 12, headings]; `along` the van or across it."""
    from loftwright.fitout.clear_sky import clear_year
    from loftwright.fitout.sun import panel_face
    from loftwright.fitout.sun_energy import CLEAR, GROUND, Weather, headings, light_on

    days = clear_year(np.array(latitudes)[:, None])
    tilt = np.array(tilts)[None, :, None]
    zero = np.zeros_like(tilt)
    face = panel_face(headings(HEADINGS), tilt if along else zero, zero if along else tilt)
    every = len(latitudes), len(tilts), 12, HEADINGS
    covered = Weather(np.array(DULL), np.array(DULL), np.array(GROUND))
    clear, cloud = (np.broadcast_to(light_on(days, face, sky), every) for sky in (CLEAR, covered))
    return np.asarray(clear), np.asarray(cloud / DULL)
