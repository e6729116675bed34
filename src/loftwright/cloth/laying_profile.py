"""Laying by our own rule: each piece goes where its end comes to lie furthest back, piece by piece.

The roll is cut into narrow bands along its length. For each band it is known how far it is taken; a piece, known by
its first and last x in each band, is pushed back until it meets what lies there. Afterwards every piece is pushed
back and down by exact distances between the outlines. Many orders are tried, always the same ones: the result is the
same on every machine.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loftwright.cloth.laying_shapes import RollPiece, grown, lies, turned
from loftwright.core.motion import Array

_STILL = 1e-9
"""Pushes below this are none [m]."""
_TOUCH = 1e-7
"""Pieces that lie this far in each other count as touching [m]."""


@dataclass(frozen=True, slots=True)
class Lie:
    """One turn of a piece, its corner at the origin: outline [m], and its first and last x in each band [m]."""

    piece: int
    angle: float
    points: Array
    corner: Array
    first: Array
    last: Array


@dataclass(frozen=True, slots=True)
class Found:
    """A layout: for each piece laid its lie and its shift [m], and the length taken [m]."""

    lies: tuple[Lie, ...]
    shifts: tuple[Array, ...]
    length: float


def _bands(points: Array, step: float) -> tuple[Array, Array]:
    """Return the least and greatest x of an outline in each band of height `step`."""
    count = max(1, int(np.ceil(points[:, 1].max() / step - 1e-6)))
    low, high = np.full(count, np.inf), np.full(count, -np.inf)
    ends = np.roll(points, -1, axis=0)
    edges = np.arange(count + 1) * step
    for (x0, y0), (x1, y1) in zip(points, ends, strict=True):
        if y0 == y1:
            # A level edge is held by the ends of its neighbours.
            continue
        if y0 > y1:
            x0, y0, x1, y1 = x1, y1, x0, y0
        begin = min(int(y0 / step + 1e-6), count - 1)
        stop = min(max(int(np.ceil(y1 / step - 1e-6)), begin + 1), count)
        x = x0 + (np.clip(edges[begin : stop + 1], y0, y1) - y0) * ((x1 - x0) / (y1 - y0))
        low[begin:stop] = np.minimum(low[begin:stop], np.minimum(x[:-1], x[1:]))
        high[begin:stop] = np.maximum(high[begin:stop], np.maximum(x[:-1], x[1:]))
    return low, high


def _place(order: list[list[Lie]], bands: int, step: float, room: float) -> Found:
    """Lay the pieces in one order; of each the lie whose end comes to lie furthest back, then the lowest place."""
    taken = np.zeros(bands)
    chosen: list[Lie] = []
    shifts: list[Array] = []
    for choices in order:
        best: tuple[float, float, int, Lie] | None = None
        for lie in choices:
            height = len(lie.first)
            if height > bands:
                continue
            windows = np.lib.stride_tricks.sliding_window_view(taken, height)
            x = np.max(windows - lie.first, axis=1)
            lowest = int(np.argmin(x))
            end = float(x[lowest]) + float(lie.points[:, 0].max())
            if best is None or end < best[0] - _STILL:
                best = (end, float(x[lowest]), lowest, lie)
        if best is None:
            raise ValueError("a piece is wider than the roll")
        _, x_at, row, lie = best
        span = slice(row, row + len(lie.first))
        taken[span] = np.maximum(taken[span], x_at + lie.last)
        y_at = min(row * step, room - float(lie.points[:, 1].max()))
        chosen.append(lie)
        shifts.append(np.array([x_at, max(y_at, 0.0)]))
    return Found(tuple(chosen), tuple(shifts), float(taken.max()))


def _room(moving: Array, still: Array, axis: int) -> float:
    """Return how far `moving` can go back along `axis` before it meets `still` [m]; outlines turning left, [k, 2].

    A meeting is an edge that faces back against one that faces forward, over a common stretch across `axis` (1); the
    gap between them is linear, so it is least at an end of that stretch (2). Sliding past along an edge is no meeting.
    """
    other, facing = 1 - axis, (-1.0, 1.0)[axis]
    sides = []
    for points, sign in ((moving, facing), (still, -facing)):
        ends = np.roll(points, -1, axis=0)
        kept = sign * (ends[:, other] - points[:, other]) > _STILL
        begin, end = points[kept], ends[kept]
        slope = (end[:, axis] - begin[:, axis]) / (end[:, other] - begin[:, other])
        low = np.minimum(begin[:, other], end[:, other])
        high = np.maximum(begin[:, other], end[:, other])
        sides.append((low, high, slope, begin[:, axis] - slope * begin[:, other]))
    (low_a, high_a, slope_a, base_a), (low_b, high_b, slope_b, base_b) = sides
    low = np.maximum(low_a[:, None], low_b)
    high = np.minimum(high_a[:, None], high_b)
    slope, base = slope_a[:, None] - slope_b, base_a[:, None] - base_b
    at_low, at_high = slope * low + base, slope * high + base
    meets = (high - low > _STILL) & (at_low + at_high > -_TOUCH)
    return float(np.min(np.where(meets, np.maximum(np.minimum(at_low, at_high), 0.0), np.inf), initial=np.inf))


def _pushed(found: Found, rounds: int) -> Found:
    """Push every piece down and back as far as it goes, the nearest to the beginning first."""
    shifts = [shift.copy() for shift in found.shifts]
    laid = [lie.points + shift for lie, shift in zip(found.lies, shifts, strict=True)]
    for _ in range(rounds):
        for axis in (1, 0):
            for index in sorted(range(len(laid)), key=lambda i: (float(laid[i][:, axis].min()), i)):
                mine = laid[index]
                go = float(mine[:, axis].min())
                for other, theirs in enumerate(laid):
                    if other != index and float(theirs[:, axis].min()) < float(mine[:, axis].max()):
                        go = min(go, _room(mine, theirs, axis))
                if go > _STILL:
                    shifts[index][axis] -= go
                    laid[index] = found.lies[index].points + shifts[index]
    return Found(found.lies, tuple(shifts), max(float(points[:, 0].max()) for points in laid))


def laid_by_profile(
    pieces: tuple[RollPiece, ...], width: float, *, gap: float, step: float, tries: int, seed: int, rounds: int = 2
) -> Found:
    """Return the shortest layout of `tries` orders on a strip of `width` [m].

    gap: room between two pieces [m]; step: width of a band [m]; rounds: how often all is pushed together.
    Repeatable: the same `seed` gives the same layout everywhere. ValueError where a piece is wider than the roll.
    """
    room = width + gap
    bands = max(1, int(np.floor(room / step + 1e-6)))
    step = room / bands
    every: list[list[Lie]] = []
    for index, piece in enumerate(pieces):
        outline = grown(piece.points, gap / 2.0)
        choices = []
        for angle in lies(piece):
            points = turned(outline, angle)
            corner = points.min(axis=0)
            points = points - corner
            if float(points[:, 1].max()) <= room + _STILL:
                choices.append(Lie(index, angle, points, corner, *_bands(points, step)))
        every += [choices] * piece.count

    def reach(choices: list[Lie], axis: int) -> float:
        return max((float(lie.points[:, axis].max()) for lie in choices), default=0.0)

    areas = [reach(choices, 0) * reach(choices, 1) for choices in every]
    orders = [
        sorted(range(len(every)), key=lambda i: (-areas[i], i)),
        sorted(range(len(every)), key=lambda i: (-reach(every[i], 0), i)),
        sorted(range(len(every)), key=lambda i: (-reach(every[i], 1), i)),
    ]
    best: tuple[float, list[int], Found] | None = None
    for order in orders[: max(tries, 1)]:
        found = _place([every[i] for i in order], bands, step, room)
        if best is None or found.length < best[0] - _STILL:
            best = (found.length, order, found)
    assert best is not None
    chance = np.random.default_rng(seed)
    for _ in range(tries - len(orders)):
        order = list(best[1])
        for _ in range(int(chance.integers(1, 4))):
            a, b = (int(i) for i in chance.integers(0, len(order), 2))
            order.insert(a, order.pop(b))
        found = _place([every[i] for i in order], bands, step, room)
        if found.length <= best[0] + _STILL:
            best = (min(found.length, best[0]), order, found)
    return _pushed(best[2], rounds)
