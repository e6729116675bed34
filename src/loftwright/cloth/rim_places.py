"""Places along a rim by arc length: points, ways, stretches between seams. No point is moved to a neighbour.

Lengths along the rim [m] count from its first point, the middle of the rear end, and go round: a length over the
perimeter is taken less the perimeter.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from loftwright.cloth.rims import CORNERS, SIDES, TURN_SHARE, Loop
from loftwright.core.motion import Array, array_of, column

Whole = NDArray[np.int_]
"""Numbers of points."""

_NEAR = 1e-9
# Share of the perimeter within which two places are one.


@dataclass(frozen=True, slots=True)
class Station:
    """Places on a rim: `points` [m], unit `tangent` along the rim and level unit `outward` [1], each [..., k, 3]."""

    points: Array
    tangent: Array
    outward: Array


@dataclass(frozen=True, slots=True)
class Stretch:
    """Part of a rim: `points` [m], [..., m, 3], at `arc` [m], [..., m], which grows over the rim's start.

    `kinks`: numbers of its points where the rim's curvature or way jumps, its ends left out.
    """

    points: Array
    arc: Array
    kinks: tuple[int, ...]


def station(loop: Loop, arc: ArrayLike) -> Station:
    """Return the places at `arc` [m], [..., k], along a loop.

    Between two kinks the curve is the cubic through the four nearest points by arc length (1): on a circle off by less
    than r d^4 / 24 at a turn d [rad] from point to point. At a kink the way is the mean of those before and behind.
    Outward is tangent x up, made level and of unit length (2). Source: derivation.
    """
    s = array_of(arc)
    points, _ = _curve(loop, s)
    near = column(loop.perimeter) * _NEAR
    ways = [
        way / np.linalg.norm(way, axis=-1, keepdims=True) for way in (_curve(loop, s + e)[1] for e in (near, -near))
    ]
    tangent = ways[0] + ways[1]
    tangent = tangent / np.linalg.norm(tangent, axis=-1, keepdims=True)
    outward = np.stack([tangent[..., 1], -tangent[..., 0], np.zeros_like(tangent[..., 0])], axis=-1)
    return Station(points, tangent, outward / np.linalg.norm(outward, axis=-1, keepdims=True))


def points_at(loop: Loop, arc: ArrayLike) -> Array:
    """Return the points [m], [..., k, 3], at `arc` [m], [..., k], by (1) of `station`."""
    return _curve(loop, array_of(arc))[0]


def steady(loop: Loop, arc: ArrayLike) -> Array:
    """Return the places of every row that match `arc` [m], [k], of row 0, [..., k].

    Each keeps its share between the two kinks around it (1), so that no place passes a corner's end in any row.
    """
    wanted, first = array_of(arc), loop.row()
    if not loop.kinks:
        return np.asarray(column(loop.perimeter) * wanted / first.perimeter)
    kinks = np.array(loop.kinks)
    lap = np.floor(wanted / first.perimeter)
    place = wanted - lap * first.perimeter
    # Around each place: the kink before (perhaps of the lap before) and the one behind.
    after = np.searchsorted(first.arc[kinks], place * (1.0 + 1e-15) + _NEAR * first.perimeter, side="right")
    before = (after - 1) % kinks.size, np.where(after == 0, -1.0, 0.0)
    behind = after % kinks.size, np.where(after == kinks.size, 1.0, 0.0)

    def at(known: Loop, which: tuple[Whole, Array]) -> Array:
        return np.asarray(known.arc[..., kinks[which[0]]] + which[1] * column(known.perimeter))

    share = (place - at(first, before)) / (at(first, behind) - at(first, before))
    low = at(loop, before)
    return np.asarray(low + share * (at(loop, behind) - low) + lap * column(loop.perimeter))


def insert(loop: Loop, arcs: ArrayLike) -> Loop:
    """Return the loop with points added at `arcs` [m], [..., k], where it has none yet.

    Order and neighbours are those of row 0. Where other rows would break that order, the points between two kinks or
    added points are spaced anew in these rows as in row 0. ValueError where an added point would pass a kink.
    """
    first = loop.row()
    asked = np.broadcast_to(array_of(arcs), (*loop.arc.shape[:-1], np.shape(arcs)[-1]))
    asked = asked - np.floor(asked.reshape(-1, asked.shape[-1])[0] / first.perimeter) * column(loop.perimeter)
    row = asked.reshape(-1, asked.shape[-1])[0]
    near = _NEAR * float(first.perimeter)
    gaps = np.abs(row[:, None] - first.arc)
    fresh = [int(k) for k in np.argsort(row) if gaps[k].min() > near]
    fresh = [k for place, k in enumerate(fresh) if place == 0 or row[k] - row[fresh[place - 1]] > near]
    old = loop.arc[..., :-1]
    whole = np.concatenate([old, asked[..., fresh]], axis=-1)
    order = np.argsort(np.concatenate([first.arc[:-1], row[fresh]]), kind="stable")
    count = old.shape[-1]
    number = {int(k): place for place, k in enumerate(order)}
    added = [number[count + k] for k in range(len(fresh))]
    kinks = tuple(number[k] for k in loop.kinks)
    arc = np.concatenate([whole[..., order], loop.arc[..., -1:]], axis=-1)
    if np.any(np.diff(arc, axis=-1) <= 0.0):
        held = np.array(sorted({0, *kinks, *added, arc.shape[-1] - 1}))
        if np.any(np.diff(arc[..., held], axis=-1) <= 0.0):
            raise ValueError("an added point passes a corner's end in some rows")
        base = arc.reshape(-1, arc.shape[-1])[0]
        part = np.clip(np.searchsorted(held, np.arange(base.size), side="right") - 1, 0, held.size - 2)
        low, high = held[part], held[part + 1]
        arc = arc[..., low] + (base - base[low]) / (base[high] - base[low]) * (arc[..., high] - arc[..., low])
    places = [*loop.places, *(_place(loop, first, float(row[k])) for k in fresh)]
    return replace(
        loop,
        points=points_at(loop, arc[..., :-1]),
        arc=arc,
        kinks=kinks,
        places=tuple(places[k] for k in order),
        corners=tuple((number[a], number[b]) for a, b in loop.corners),
    )


def between(loop: Loop, a: ArrayLike, b: ArrayLike, count: int) -> Stretch:
    """Return the part of a loop from `a` to `b` [m], each [...], as a polyline of about `count` points [1].

    Both ends and the kinks between are points of it exactly. The others are spaced by length and, for `TURN_SHARE`, by
    turn between these, with the numbers of row 0 for every row. Where b is not beyond a it goes over the rim's start,
    so that a = b goes all round. ValueError where a kink would pass an end in some rows.
    """
    first = loop.row()
    around = float(first.perimeter)
    shape = np.broadcast_shapes(loop.arc.shape[:-1], np.shape(a), np.shape(b))
    ends = [np.broadcast_to(array_of(v), shape) for v in (a, b)]
    starts = [float(np.ravel(v)[0]) for v in ends]
    if starts[1] <= starts[0] + _NEAR * around:
        ends[1], starts[1] = ends[1] + loop.perimeter, starts[1] + around
    near = _NEAR * around
    laps = range(int(np.floor(starts[0] / around)) - 1, int(np.floor(starts[1] / around)) + 2)
    every = sorted((float(first.arc[k]) + lap * around, k, lap) for lap in laps for k in loop.kinks)
    inner = [kink for kink in every if starts[0] + near < kink[0] < starts[1] - near]

    def at(kink: tuple[float, int, int]) -> Array:
        return np.asarray(np.broadcast_to(loop.arc[..., kink[1]] + kink[2] * loop.perimeter, shape))

    held = np.stack([ends[0], *(at(kink) for kink in inner), ends[1]], axis=-1)
    before = [at(kink) for kink in every if kink[0] <= starts[0] + near][-1:]
    behind = [at(kink) for kink in every if kink[0] >= starts[1] - near][:1]
    passed = any(bool(np.any(kink > ends[0] + near)) for kink in before)
    passed = passed or any(bool(np.any(kink < ends[1] - near)) for kink in behind)
    if passed or np.any(np.diff(held, axis=-1) <= 0.0):
        raise ValueError("a seam passes a corner's end in some rows")
    row = np.array([starts[0], *(place for place, _, _ in inner), starts[1]])
    shares = _shares(loop, first, row)
    parts = [max(1, round((count - 1) * share)) for share in shares]
    arcs = [held[..., k, None] + np.diff(held, axis=-1)[..., k, None] * np.arange(n) / n for k, n in enumerate(parts)]
    arc = np.concatenate([*arcs, held[..., -1:]], axis=-1)
    kinks = tuple(int(k) for k in np.cumsum(parts)[:-1])
    return Stretch(points_at(loop, arc), arc, kinks)


def _shares(loop: Loop, first: Loop, row: Array) -> Array:
    """Return which share of the points goes between neighbouring places `row` [m]."""
    chords = np.roll(first.points, -1, axis=0) - first.points
    chords = chords / np.linalg.norm(chords, axis=-1, keepdims=True)
    before = np.roll(chords, 1, axis=0)
    turn = 2.0 * np.arcsin(np.clip(np.linalg.norm(chords - before, axis=-1) / 2.0, 0.0, 1.0))
    for begin, end in loop.corners:
        if begin == end:
            turn[begin] = 0.0
    # Half of the turn at a point belongs to each of the segments beside it.
    each = (turn + np.roll(turn, -1)) / 2.0
    summed = np.concatenate([[0.0], np.cumsum(each)])
    lap = np.floor(row / first.perimeter)
    turned = np.diff(np.interp(row - lap * first.perimeter, first.arc, summed) + lap * summed[-1])
    along = np.diff(row) / (row[-1] - row[0])
    bent = float(turned.sum())
    return np.asarray(along if bent < 1e-6 else (1.0 - TURN_SHARE) * along + TURN_SHARE * turned / bent)


def _place(loop: Loop, first: Loop, arc: float) -> str:
    """Return the name of the part of the rim at an arc [m] of row 0 that is no point of it."""
    before = int(np.searchsorted(first.arc, arc)) - 1
    if not loop.corners:
        return loop.places[before]
    ends = [end or len(loop.places) for _, end in loop.corners]
    for name, (begin, _), end in zip(CORNERS, loop.corners, ends, strict=True):
        if begin <= before < end:
            return name
    return SIDES[sum(end <= before for end in ends) % len(SIDES)]


def _pieces(loop: Loop) -> tuple[Whole, Whole]:
    """Return for each segment the numbers of the kinks around it, [n], before 0 and over n where they go round."""
    count = len(loop.places)
    if not loop.kinks:
        numbers = np.arange(count)
        return numbers - count, numbers + count
    kinks = np.array(loop.kinks)
    after = np.searchsorted(kinks, np.arange(count), side="right")
    low = np.where(after == 0, kinks[-1] - count, kinks[np.maximum(after - 1, 0)])
    high = np.where(after == kinks.size, kinks[0] + count, kinks[np.minimum(after, kinks.size - 1)])
    return low, high


def _curve(loop: Loop, s: Array) -> tuple[Array, Array]:
    """Return point [m] and derivative by arc [1], each [..., k, 3], at arc lengths [..., k]."""
    count = len(loop.places)
    around = loop.perimeter[..., None]
    s = np.asarray(s - np.floor(s / around) * around)
    rows = s.shape[:-1]
    arc = np.broadcast_to(loop.arc, (*rows, count + 1))
    points = np.broadcast_to(loop.points, (*rows, count, 3))
    # One search for all rows: each counts its laps from its own number.
    row = np.arange(int(np.prod(rows)), dtype=np.float64).reshape(*rows, 1)
    lapped = (row + arc[..., :-1] / around).ravel()
    found = np.searchsorted(lapped, (row + s / around).ravel(), side="right").reshape(s.shape)
    j = np.clip(found - 1 - row.astype(np.int_) * count, 0, count - 1)
    low, high = (side[j] for side in _pieces(loop))
    begin = np.clip(j - 1, low, np.maximum(high - 3, low))
    numbers = begin[..., None] + np.arange(4)
    counts = numbers <= high[..., None]
    lap, inside = numbers // count, numbers % count
    wide = inside.reshape(*rows, -1)
    knots = np.take_along_axis(arc, wide, axis=-1).reshape(inside.shape) + lap * around[..., None]
    taken = np.take_along_axis(points, wide[..., None], axis=-2).reshape(*inside.shape, 3)
    value, slope = np.zeros_like(knots), np.zeros_like(knots)
    for i in range(4):
        # Lagrange's polynomial of knot i and its derivative, by the product rule.
        product, rate = np.ones_like(s), np.zeros_like(s)
        for m in range(4):
            if m == i:
                continue
            gap = knots[..., i] - knots[..., m]
            used = counts[..., m]
            factor = np.where(used, (s - knots[..., m]) / np.where(used, gap, 1.0), 1.0)
            step = np.where(used, 1.0 / np.where(used & (gap != 0.0), gap, 1.0), 0.0)
            product, rate = product * factor, rate * factor + product * step
        value[..., i], slope[..., i] = np.where(counts[..., i], product, 0.0), np.where(counts[..., i], rate, 0.0)
    return np.einsum("...i,...ic->...c", value, taken), np.einsum("...i,...ic->...c", slope, taken)
