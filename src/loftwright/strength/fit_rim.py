"""The rim of a shell: a rectangle with round corners, its offsets from a flat table, and stations round it.

Axes: x to the cab, y left, z up, origin in the middle of the rear edge of the opening.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from loftwright.core.motion import Array, column
from loftwright.strength.fit_surfaces import Points, Surface

Whole = NDArray[np.int_]
"""Whole numbers: which station, which shell."""

END_STATIONS = 13
"""Stations along one end of the rim, its tangent points left out."""
SIDE_STATIONS = 25
"""Stations along one long side of the rim, its tangent points left out."""
CORNER_STATIONS = 5
"""Stations round one corner, both tangent points counted."""
STATIONS = 2 * (END_STATIONS + SIDE_STATIONS) + 4 * CORNER_STATIONS
"""Stations round the whole rim."""

PLACES = ("rear", "right", "front", "left", "corners")
"""Where a station can stand, in the order of the rim, the four corners as one."""


@dataclass(frozen=True, slots=True)
class Stations:
    """Places round the rim, counter-clockwise from above, from the middle of the rear end over right, front, left.

    `x`, `y`, `arc` [m], each [..., STATIONS], arc along the rim from the first; `places`: which of `PLACES` each is.
    """

    x: Array
    y: Array
    arc: Array
    places: tuple[str, ...]

    def at(self, place: str) -> Whole:
        """Return the numbers of the stations at a place of `PLACES`, [k]."""
        return np.array([k for k, name in enumerate(self.places) if name == place])


def rim_stations(rear: ArrayLike, length: ArrayLike, width: ArrayLike, radius: ArrayLike) -> Stations:
    """Return the stations round a rectangle with round corners.

    `rear`: x of its rear end [m], `length`, `width`, corner `radius` [m], each [...]. Evenly spaced along each
    straight and each corner, so that a station keeps its place when sizes differ between rows; arc from the lengths of
    the straights and r x angle of the corners (exact). ValueError for a radius below 0 or above half the
    shorter side.
    """
    x0, whole, wide, r = np.broadcast_arrays(*(np.asarray(v, dtype=np.float64) for v in (rear, length, width, radius)))
    if np.any(r < 0.0) or np.any(2.0 * r > np.minimum(whole, wide)):
        raise ValueError("the corner radius must lie between 0 and half the shorter side")
    middle = column(x0 + whole / 2.0)
    half, across, bend = column(whole / 2.0 - r), column(wide / 2.0 - r), column(r)
    turn = np.linspace(0.0, np.pi / 2.0, CORNER_STATIONS)
    ends, sides = (np.arange(1, n + 1) / (n + 1) * 2.0 - 1.0 for n in (END_STATIONS, SIDE_STATIONS))
    # Each straight runs from its first to its last tangent point, each corner turns a quarter to the left.
    xs, ys, arcs, places = [], [], [], []
    start = np.zeros_like(half)
    for quarter, (name, share, reach, off) in enumerate(
        (
            ("rear", ends, across, half),
            ("right", sides, half, across),
            ("front", ends, across, half),
            ("left", sides, half, across),
        )
    ):
        # In the frame of this piece: u along the way of travel, w outwards.
        u = np.concatenate([reach * share, reach + bend * np.sin(turn)], axis=-1)
        w = np.concatenate([(off + bend) * np.ones_like(share), off + bend * np.cos(turn)], axis=-1)
        along, out = _WAYS[quarter]
        xs.append(middle + along[0] * u + out[0] * w)
        ys.append(along[1] * u + out[1] * w)
        arcs.append(start + np.concatenate([reach * (1.0 + share), 2.0 * reach + bend * turn], axis=-1))
        start = start + 2.0 * reach + bend * np.pi / 2.0
        places += [name] * share.size + ["corners"] * CORNER_STATIONS
    first = END_STATIONS // 2
    arc = np.concatenate(arcs, axis=-1) - across
    arc = np.where(arc < -1e-12 * start, arc + start, np.maximum(arc, 0.0))
    x, y, arc = (np.roll(v, -first, axis=-1) for v in (np.concatenate(xs, -1), np.concatenate(ys, -1), arc))
    return Stations(x, y, arc, tuple(places[first:] + places[:first]))


_WAYS = (((0.0, -1.0), (-1.0, 0.0)), ((1.0, 0.0), (0.0, -1.0)), ((0.0, 1.0), (1.0, 0.0)), ((-1.0, 0.0), (0.0, 1.0)))
"""Way of travel and way outwards along rear, right, front and left."""


@dataclass(frozen=True, slots=True)
class Rim:
    """The lower edge of a shell, as it would lie at no shift; all [m], each [...].

    `rear`: x of its rear end; `length`, `width`, corner `radius`; set on a flat table, `end_rise`: how far the middle
    of an end stands off, mean of both ends, `side_rise`: the middle of a long side, `twist`: one corner; `points`:
    heights over the table; `taper`: by how much the front end rises more than that mean, and the rear end less.
    """

    rear: Array
    length: Array
    width: Array
    radius: Array
    end_rise: Array
    side_rise: Array
    twist: Array
    points: Points | None = None
    taper: Array | float = 0.0

    @property
    def middle(self) -> Array:
        """The x of the middle of the rim [m], [...]."""
        return np.asarray(self.rear + self.length / 2.0)

    @property
    def surface(self) -> Surface:
        """The surface in which the rim lies: `end_rise` is its crown, `side_rise` its camber."""
        size = (self.length, self.twist, self.middle)
        return Surface(self.end_rise, self.width, self.side_rise, *size, self.points, self.taper).settled()

    def nominal(self) -> Rim:
        """Return row 0, the nominal one, with one row left."""
        names = ("rear", "length", "width", "radius", "end_rise", "side_rise", "twist", "taper")
        points = None if self.points is None else self.points.nominal()
        return shell_rim(**{name: np.atleast_1d(getattr(self, name))[:1] for name in names}, points=points)

    def stations(self) -> Stations:
        """Return the stations round the rim."""
        return rim_stations(self.rear, self.length, self.width, self.radius)


def shell_rim(
    *,
    rear: ArrayLike,
    length: ArrayLike,
    width: ArrayLike,
    radius: ArrayLike,
    end_rise: ArrayLike = 0.0,
    side_rise: ArrayLike = 0.0,
    twist: ArrayLike = 0.0,
    points: Points | None = None,
    taper: ArrayLike = 0.0,
) -> Rim:
    """Return a `Rim` from `rear`, `length`, `width`, `radius`, `end_rise`, `side_rise`, `twist`, `taper` [m], [...]."""
    x, n, w, r, end, side, t = (
        np.asarray(v, dtype=np.float64) for v in (rear, length, width, radius, end_rise, side_rise, twist)
    )
    return Rim(x, n, w, r, end, side, t, points, np.asarray(taper, dtype=np.float64))
