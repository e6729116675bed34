"""Best rigid seat of a rim on a roof: height, pitch, roll and shift for the smallest largest gap.

Set down with height h, pitch p and roll r, the rim stands above the roof by

    g = h + p (x - middle) + r y + d,  d = rim - roof  (1)

at each station; g may nowhere be negative. For any p and r the lowest h makes the smallest gap 0, so the
largest gap is the whole spread of d + p x + r y, twice the largest error of the plane that comes
closest to d (discrete Chebyshev fit). That linear programme is solved by exchanging one of four stations
at a time, for all rows together. A plane added to either surface changes p, r and h, never g.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.errors import Bug
from loftwright.core.motion import Array, column
from loftwright.strength.fit_rim import Rim, Stations, Whole
from loftwright.strength.fit_surfaces import Surface

QUICK_ROUNDS = 60
"""Rounds in which the station with the largest error comes in; after that the first one, which cannot go in circles."""
MOST_ROUNDS = 2000
"""Rounds after which something is wrong."""
TOLERANCE = 1e-12
"""Error beyond the four stations that still counts as none [m]."""

AS_GOOD = 1e-9
"""Of two seats whose largest gaps differ by less [m], the more even one is taken."""

SHIFTS = 9
"""Shifts tried at once, in each of three ever finer rounds."""
WORTH_SHIFTING = 1e-4
"""Less gap than this [m] is not worth shifting the shell for: judgement."""


@dataclass(frozen=True, slots=True)
class Seat:
    """How the rim sits, and what gap that leaves.

    `height` [m] of the rim's datum at its middle over z = 0 of the roof's surface, `pitch` (positive: front up) and
    `roll` (positive: left up) [rad, small], `shift` to the cab [m], each [...]; `gap` [m], [..., stations].
    """

    height: Array
    pitch: Array
    roll: Array
    shift: Array
    gap: Array

    @property
    def largest(self) -> Array:
        """Largest gap all round [m], [...]."""
        return np.asarray(self.gap.max(axis=-1))


def closest_plane(x: ArrayLike, y: ArrayLike, z: ArrayLike) -> tuple[Array, Array, Array, Array]:
    """Return (a, b, c, e): the plane a + b x + c y whose largest distance e [m] from `z` is smallest, each [...].

    `x`, `y`, `z` [m], each [..., n]. a in m, b and c without unit. Maximise sum(l z) under
    sum(l) = sum(l x) = sum(l y) = 0 and sum|l| = 1 (2), the dual linear programme: a basis of four stations with
    signs, priced against all others, the worst taken in and one let go until none lies further off than e. The first
    basis are four stations far apart with the signs of their Radon partition, always feasible. Ends at the exact
    optimum; where several planes serve equally, one of them. ValueError for fewer than four stations or all on one
    line. Source: derivation; the exchange of single points is Stiefel's.

    >>> a, b, c, e = closest_plane([0.0, 1.0, 1.0, 0.0], [0.0, 0.0, 1.0, 1.0], [0.0, 0.0, 0.004, 0.0])
    >>> round(float(e), 6)
    0.001
    """
    xs, ys, zs = np.broadcast_arrays(*(np.asarray(v, dtype=np.float64) for v in (x, y, z)))
    shape, n = zs.shape[:-1], zs.shape[-1]
    xs, ys, zs = xs.reshape(-1, n), ys.reshape(-1, n), zs.reshape(-1, n)
    # Scaled so that places are of order one: keeps the four equations well conditioned.
    x0, y0 = xs.mean(axis=1, keepdims=True), ys.mean(axis=1, keepdims=True)
    size = np.maximum(np.abs(xs - x0).max(axis=1), np.abs(ys - y0).max(axis=1))[:, None]
    if n < 4 or np.any(size == 0.0):
        raise ValueError("a seat needs at least four stations, not all in one place")
    places = np.stack([np.ones_like(xs), (xs - x0) / size, (ys - y0) / size], axis=1)
    plane = _exchange(places, zs)
    error = plane[:, 3]
    b, c = plane[:, 1] / size[:, 0], plane[:, 2] / size[:, 0]
    a = plane[:, 0] - b * x0[:, 0] - c * y0[:, 0]
    return a.reshape(shape), b.reshape(shape), c.reshape(shape), error.reshape(shape)


def _four_apart(places: Array) -> Whole:
    """Return four stations that span the plane, [rows, 4]: far from each other, in turn."""
    u, v = places[:, 1], places[:, 2]
    row = np.arange(u.shape[0])
    first = np.argmin(u + v, axis=1)
    du, dv = u - u[row, first][:, None], v - v[row, first][:, None]
    second = np.argmax(du**2 + dv**2, axis=1)
    aside = np.abs(du * dv[row, second][:, None] - dv * du[row, second][:, None])
    third = np.argmax(aside, axis=1)
    if np.any(aside[row, third] < 1e-9):
        raise ValueError("the stations of a seat must not lie on one line")
    far = (u - u[row, third][:, None]) ** 2 + (v - v[row, third][:, None]) ** 2
    for taken in (first, second, third):
        far[row, taken] = -1.0
    return np.stack([first, second, third, np.argmax(far, axis=1)], axis=1)


def _exchange(places: Array, z: Array) -> Array:
    """Return (a, b, c, e), [rows, 4], by primal simplex on (2); `places` [rows, 3, n] are 1, u, v."""
    rows, n = z.shape
    basis = _four_apart(places)
    at = np.take_along_axis(places, basis[:, None, :], axis=2)
    # Null vector of the 3 x 4 matrix by cofactors: the weights of Radon's partition.
    weights = np.stack(
        [(-1.0) ** k * np.linalg.det(np.delete(at, k, axis=2)) for k in range(4)],
        axis=1,
    )
    signs = np.where(weights < 0.0, -1.0, 1.0)
    result = np.empty((rows, 4))
    live = np.arange(rows)
    target = np.array([0.0, 0.0, 0.0, 1.0])
    for turn in range(MOST_ROUNDS):
        here, zl = places[live], z[live]
        matrix = np.ones((live.size, 4, 4))
        matrix[:, :3] = np.take_along_axis(here, basis[:, None, :], axis=2) * signs[:, None, :]
        cost = np.take_along_axis(zl, basis, axis=1) * signs
        plane = np.linalg.solve(matrix.transpose(0, 2, 1), cost[..., None])[..., 0]
        error = zl - np.einsum("rk,rkn->rn", plane[:, :3], here)
        over = np.abs(error) - plane[:, 3:]
        limit = TOLERANCE + 1e-13 * np.abs(zl).max(axis=1)
        enter = np.argmax(over, axis=1) if turn < QUICK_ROUNDS else np.argmax(over > limit[:, None], axis=1)
        row = np.arange(live.size)
        done = over[row, enter] <= limit
        result[live[done]] = plane[done]
        if np.all(done):
            return result
        go = ~done
        live, basis, signs, matrix, enter = live[go], basis[go], signs[go], matrix[go], enter[go]
        row = np.arange(live.size)
        sign = np.where(error[go][row, enter] < 0.0, -1.0, 1.0)
        incoming = np.ones((live.size, 4))
        incoming[:, :3] = places[live, :, enter] * sign[:, None]
        both = np.linalg.solve(matrix, np.stack([np.broadcast_to(target, incoming.shape), incoming], axis=-1))
        share, change = np.maximum(both[..., 0], 0.0), both[..., 1]
        ratio = np.where(change > 1e-11, share / np.where(change > 1e-11, change, 1.0), np.inf)
        least = ratio.min(axis=1, keepdims=True)
        # Of several that may go, the one first in number: with the first coming in (Bland) no circle can form.
        order = np.where(ratio <= least + 1e-14, 2 * basis + (signs < 0.0), 2 * n)
        leave = np.argmin(order, axis=1)
        basis[row, leave], signs[row, leave] = enter, sign
    raise Bug("the exchange of stations did not end")


def seat(x: ArrayLike, y: ArrayLike, rim: ArrayLike, roof: ArrayLike, *, shift: ArrayLike = 0.0) -> Seat:
    """Return the best `Seat` of a rim on a roof, both given as heights at the same stations.

    `x`, `y`, `rim` and `roof` [m], each [..., stations]; `shift` [m], [...], is handed through. Height, pitch and roll
    by (1) and (2); height counts at the mean of x's ends and at y = 0. The gap is worked out anew from them, lowest
    station at 0, so no rounding makes an overlap. Where several pitches or rolls serve equally, that of the mean
    (least-squares) plane is taken: a roof with two like halves gets no roll, whatever the datum. Small angles: the
    rim's own heights times pitch are left out (5 mm at 1 degree: 0.1 mm sideways). Source: derivation.

    >>> float(seat([0, 2, 2, 0], [-0.6, -0.6, 0.6, 0.6], 0.0, [0, 0, 0.004, 0]).largest.round(6))
    0.002
    """
    xs, ys, apart = np.broadcast_arrays(
        np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64), np.asarray(rim) - np.asarray(roof)
    )
    _, b, c, _ = closest_plane(xs, ys, apart)
    middle = (xs.min(axis=-1) + xs.max(axis=-1)) / 2.0
    along = xs - column(middle)
    even_b, even_c = _mean_slopes(along, ys, apart)
    least = _spread(apart - column(b) * along - column(c) * ys)
    for slopes in ((even_b, c), (b, even_c), (even_b, even_c)):
        as_good = _spread(apart - column(slopes[0]) * along - column(slopes[1]) * ys) <= least + AS_GOOD
        b, c = np.where(as_good, slopes[0], b), np.where(as_good, slopes[1], c)
    raised = apart - column(b) * along - column(c) * ys
    lowest = raised.min(axis=-1)
    return Seat(-lowest, -b, -c, np.broadcast_to(shift, lowest.shape).astype(np.float64), raised - column(lowest))


def _spread(values: Array) -> Array:
    return np.asarray(values.max(axis=-1) - values.min(axis=-1))


def _mean_slopes(x: Array, y: Array, z: Array) -> tuple[Array, Array]:
    """Return the slopes [...] by x and y [m] of the least-squares plane through z [m], each [..., n]."""
    u, v, w = (values - values.mean(axis=-1, keepdims=True) for values in (x, y, z))
    uu, uv, vv = (u * u).sum(axis=-1), (u * v).sum(axis=-1), (v * v).sum(axis=-1)
    uw, vw = (u * w).sum(axis=-1), (v * w).sum(axis=-1)
    whole = uu * vv - uv * uv
    return np.asarray((uw * vv - vw * uv) / whole), np.asarray((vw * uu - uw * uv) / whole)


def seat_at(rim: Rim, roof: Surface, shift: ArrayLike) -> Seat:
    """Return the best `Seat` of `rim` on `roof` with the shell moved to the cab by `shift` [m], [...]."""
    stations = rim.stations()
    moved = np.asarray(shift, dtype=np.float64)
    x = stations.x + column(moved)
    return seat(x, stations.y, rim.surface.height(stations.x, stations.y), roof.height(x, stations.y), shift=moved)


def best_seat(rim: Rim, roof: Surface, *, furthest_back: ArrayLike, furthest_forward: ArrayLike) -> Seat:
    """Return the best `Seat` of `rim` on `roof` over shifts from `furthest_back` to `furthest_forward` [m], each [...].

    The largest gap at `SHIFTS` evenly spaced shifts, then twice more round the best; each by linear programme.
    No shift is taken, or the smallest allowed, unless another lowers the largest gap by `WORTH_SHIFTING`: on plain
    parabolas the shift adds only a plane to the roof, hence changes nothing. The search can miss a narrow dip
    between its shifts. ValueError where forward lies behind back.
    """
    low, high = (np.asarray(v, dtype=np.float64) for v in (furthest_back, furthest_forward))
    if np.any(high < low):
        raise ValueError("the furthest shift forward must not lie behind the furthest back")
    least = np.clip(0.0, low, high)
    stay = seat_at(rim, roof, least)
    least, low, high = (np.broadcast_to(v, stay.largest.shape) for v in (least, low, high))
    if np.all(high - low == 0.0):
        return stay
    stations = rim.stations()
    heights = rim.surface.height(stations.x, stations.y)
    below, above, best = low, high, least
    for _ in range(3):
        tried = np.linspace(below, above, SHIFTS)
        x = stations.x + tried[..., None]
        spread = 2.0 * closest_plane(x, stations.y, heights - roof.height(x, stations.y))[3]
        best = np.take_along_axis(tried, np.argmin(spread, axis=0)[None], axis=0)[0]
        step = (above - below) / (SHIFTS - 1)
        below, above = np.maximum(best - step, low), np.minimum(best + step, high)
    moved = seat_at(rim, roof, best)
    better = moved.largest < stay.largest - WORTH_SHIFTING
    if not np.any(better):
        return stay
    return seat_at(rim, roof, np.where(better, best, least))


def gap_at(rim: Rim, roof: Surface, seated: Seat, x: ArrayLike, y: ArrayLike) -> Array:
    """Return the gap [m], [..., n], under the seated rim at `x`, `y` [m] of the rim before its shift, each [..., n].

    By (1), for places between the stations: stops, latches. Slightly negative where two stations bridge a hump.
    """
    px, py = np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64)
    plane = column(seated.height) + column(seated.pitch) * (px - column(rim.middle)) + column(seated.roll) * py
    return np.asarray(plane + rim.surface.height(px, py) - roof.height(px + column(seated.shift), py))


def roof_under(stations: Stations, roof: Surface, shift: ArrayLike = 0.0) -> Array:
    """Return the roof's height [m], [..., stations], under `stations` moved to the cab by `shift` [m], [...]."""
    return roof.height(stations.x + column(shift), stations.y)
