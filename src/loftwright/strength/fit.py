"""What the best seat means: gap against the seal, stops, trim line, cover of the hole, one shell or another."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.judged import Judged
from loftwright.core.motion import Array, array_of, column
from loftwright.strength.fit_rim import PLACES, Rim, Stations, Whole, rim_stations
from loftwright.strength.fit_rules import GAP_RANGE, LAP, POINTS, RIM_HEIGHT, SEAL_CRUSHED, SEAL_LOOSE, TRIM
from loftwright.strength.fit_seat import Seat, gap_at, roof_under
from loftwright.strength.fit_surfaces import Surface

LEAST_LAP = 0.03
"""Least reach of the shell past the hole [m], upstand and seal: judgement."""
POINT_OFF = 0.005
"""A measured point may stand this far [m] off the smooth surface through all: judgement."""
RIM_OFF = 0.005
"""The file's rim height may differ by this much [m] from that of the fit: judgement."""


def stand_height(largest: ArrayLike, seal_least: ArrayLike, seal_most: ArrayLike) -> Array:
    """Return how far [m], [...], stops should hold the rim above its lowest seat.

    (1) s = (seal_least + seal_most - largest) / 2: what the seal has left is shared between its
    narrowest and its widest place. `largest`: largest gap of the seat; `seal_least`, `seal_most`: height of the seal
    squeezed most and squeezed least [m]; each [...]. Never below 0. Source: derivation.

    >>> float(stand_height(0.004, 0.008, 0.016))
    0.01
    """
    return np.asarray(np.maximum((array_of(seal_least) + array_of(seal_most) - array_of(largest)) / 2.0, 0.0))


def seal_heights(seated: Seat, stand: ArrayLike) -> Array:
    """Return the height [m] that the seal has at each station, [..., stations]: gap + `stand` [m], [...] (2)."""
    return np.asarray(seated.gap + column(stand))


def stop_heights(rim: Rim, roof: Surface, seated: Seat, stand: ArrayLike, x: ArrayLike, y: ArrayLike) -> Array:
    """Return the height [m], [..., n], of solid stops at `x`, `y` [m] of the closed rim before its shift, [..., n].

    They bear together when the rim is `stand` [m], [...], above its lowest seat: gap there + stand (2).
    Source: derivation.
    """
    return np.asarray(gap_at(rim, roof, seated, x, y) + column(stand))


def rim_height(
    stations: Stations, roof: Surface, seated: Seat, stand: ArrayLike, origin: ArrayLike, ends: tuple[str, str]
) -> Array:
    """Return the height [m], [...], of the closed rim over the roof at the origin, mean of the middles of two ends.

    `stand` [m], [...]: how far stops hold it above its lowest seat; `origin` [m], [...]: height of the roof's surface
    at the origin; `ends`: two of `PLACES`. By (2), roof + gap + stand. Source: derivation.
    """
    heights = roof_under(stations, roof, seated.shift) + seated.gap
    # Stations count from the middle of the rear end.
    middles = [0 if end == "rear" else int(stations.at(end)[stations.at(end).size // 2]) for end in ends]
    return np.asarray(heights[..., middles].mean(axis=-1) + array_of(stand) - array_of(origin))


def judge_rim_height(found: Array, written: ArrayLike, most: ArrayLike = RIM_OFF) -> Judged:
    """Return how far the rim height `written` in the file is off the one `found` [m], judged against `most` [m]."""
    off = np.abs(found - array_of(written))
    return Judged(RIM_HEIGHT, off, np.broadcast_to(array_of(most), off.shape))


def by_place(stations: Stations, values: Array) -> dict[str, tuple[Array, Array]]:
    """Return the least and the largest of `values` [m], [..., stations], at each place of the rim, each [...]."""
    return {
        place: (values[..., stations.at(place)].min(axis=-1), values[..., stations.at(place)].max(axis=-1))
        for place in PLACES
    }


def judge_gap(
    seated: Seat,
    stations: Stations,
    *,
    seal_least: ArrayLike | None,
    seal_most: ArrayLike | None,
    stand: ArrayLike | None = None,
) -> tuple[Judged, ...]:
    """Return the gap judged against the seal: its spread (FIT-501), then each place (FIT-502, FIT-503).

    `seal_least`, `seal_most`: height of the seal squeezed most and least [m], [...], None where not known; `stand`: how
    far stops hold the rim above its lowest seat [m], [...], by `stand_height` where None.
    """
    if seal_least is None or seal_most is None:
        wanting = "how high the seal stands squeezed most and squeezed least"
        return (Judged(GAP_RANGE, seated.largest, None, unknown=f"measure {wanting}", missing="seal_range"),)
    low, high = np.broadcast_to(array_of(seal_least), seated.largest.shape), array_of(seal_most)
    high = np.broadcast_to(high, seated.largest.shape)
    held = stand_height(seated.largest, low, high) if stand is None else array_of(stand)
    found = [Judged(GAP_RANGE, seated.largest, high - low)]
    for place, (least, most) in by_place(stations, seal_heights(seated, held)).items():
        found += [Judged(SEAL_LOOSE, most, high, place), Judged(SEAL_CRUSHED, least, low, place)]
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Trim:
    """What to take off the rim: `cut` at each station [m], [..., stations]; the rest [m], [...].

    `largest` cut; `left`: largest gap that remains; `drop`: how much lower the shell then sits.
    """

    cut: Array
    largest: Array
    left: Array
    drop: Array


def trim_line(seated: Seat, leave: ArrayLike = 0.0) -> Trim:
    """Return the `Trim` after which no gap is more than `leave` [m], [...]; 0 scribes the rim to the roof.

    (3) cut = max(0, largest - leave - gap): where the rim is deepest most comes off; then the shell drops by
    largest - leave on all sides. No plane needs a smaller largest cut than that of the smallest largest
    gap, so the best seat is also the best start for scribing. Cuts are along z, never below 0. Source: derivation.

    >>> trim_line(Seat(*np.zeros((4, 1)), np.array([[0.0, 0.003, 0.005]])), 0.001).cut.round(4).tolist()
    [[0.004, 0.001, 0.0]]
    """
    drop = np.maximum(seated.largest - array_of(leave), 0.0)
    cut = np.maximum(column(drop) - seated.gap, 0.0)
    after = seated.gap + cut - column(drop)
    return Trim(cut, cut.max(axis=-1), after.max(axis=-1), drop)


def judge_trim(trim: Trim, allowance: ArrayLike | None) -> Judged:
    """Return the largest cut judged against what the rim can spare, `allowance` [m], [...]; None where not known."""
    if allowance is None:
        wanting = "measure how much may come off the rim"
        return Judged(TRIM, trim.largest, None, unknown=wanting, missing="trim_allowance")
    return Judged(TRIM, trim.largest, np.broadcast_to(array_of(allowance), trim.largest.shape))


def outside(x: Array, y: Array, length: ArrayLike, width: ArrayLike, radius: ArrayLike) -> Array:
    """Return how far [m], [..., n], points lie outside a rectangle with round corners; inside counts below 0.

    The rectangle lies about the origin.
    `x`, `y` [m], [..., n]; `length`, `width`, corner `radius` [m], [...]. With q = |p| - half size + radius,
    (4) |max(q, 0)| + min(max(qx, qy), 0) - radius, exact. Source: derivation.
    """
    r = column(radius)
    qx = np.abs(x) - column(length) / 2.0 + r
    qy = np.abs(y) - column(width) / 2.0 + r
    return np.asarray(np.hypot(np.maximum(qx, 0.0), np.maximum(qy, 0.0)) + np.minimum(np.maximum(qx, qy), 0.0) - r)


def lap(rim: Rim, shift: ArrayLike, length: ArrayLike, width: ArrayLike, radius: ArrayLike) -> Array:
    """Return the least reach [m], [...], of the shell past the hole: negative where the hole shows.

    The least of (4) inside the rim over stations round the hole, `length`, `width`, corner `radius` [m], [...], from
    x = 0; the rim is moved to the cab by `shift` [m], [...]. Corners count: a round rim over a sharper hole.
    """
    hole = rim_stations(0.0, length, width, radius)
    x = hole.x - column(rim.middle + array_of(shift))
    return np.asarray(-outside(x, hole.y, rim.length, rim.width, rim.radius).max(axis=-1))


def judge_lap(found: Array, least: ArrayLike = LEAST_LAP) -> Judged:
    """Return the reach past the hole `found` [m], [...], judged against the `least` [m], [...]."""
    return Judged(LAP, found, np.broadcast_to(array_of(least), found.shape))


def judge_points(surface: Surface, which: str, most: ArrayLike = POINT_OFF) -> Judged | None:
    """Return the largest residual of measured points judged against `most` [m], [...]; None without points.

    `which`: "roof" or "rim".
    """
    if surface.points is None:
        return None
    worst = np.abs(surface.residuals()).max(axis=-1)
    return Judged(POINTS, worst, np.broadcast_to(array_of(most), worst.shape), which)


@dataclass(frozen=True, slots=True)
class Candidate:
    """A shell that might do: its name, `largest` gap of its best seat and `lap` past the hole [m], each [...]."""

    name: str
    largest: Array
    lap: Array


@dataclass(frozen=True, slots=True)
class Ranking:
    """Shells in order, best first in row 0, with which of them cover the hole, and the best of every row [rows].

    `order` and `covers` run alike; `best` counts candidates as they were given.
    """

    order: tuple[str, ...]
    covers: tuple[bool, ...]
    best: Whole


def rank(candidates: tuple[Candidate, ...], least_lap: ArrayLike = LEAST_LAP) -> Ranking:
    """Return the shells ranked: those that reach `least_lap` [m], [...], past the hole first, then by largest gap.

    Each row is ranked by itself for `best`. ValueError without candidates.
    """
    if not candidates:
        raise ValueError("there is no shell to rank")
    gaps = np.stack(np.broadcast_arrays(*(np.atleast_1d(c.largest) for c in candidates)))
    laps = np.stack(np.broadcast_arrays(*(np.atleast_1d(c.lap) for c in candidates)))
    gaps, laps = np.broadcast_arrays(gaps, laps)
    short = laps < array_of(least_lap)
    order = np.lexsort((gaps, short), axis=0)
    first = order[:, 0]
    return Ranking(
        tuple(candidates[k].name for k in first),
        tuple(not bool(short[k, 0]) for k in first),
        order[0],
    )
