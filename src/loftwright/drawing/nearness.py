"""In which order flat things in space are drawn so that what is near hides what is far."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from loftwright.drawing.page import XY

Seen = tuple[float, float, float]
"""A point as it is seen: right, up, and how near [m]."""

_SAME = 1e-6
_INWARD = 0.02


def far_to_near(things: Sequence[Sequence[Seen]]) -> list[int]:
    """Return the numbers of `things`, flat faces or lines of two points, in the order of drawing.

    Two that cover each other are compared where they do; those that do not are left in the order of their middles.
    """
    n = len(things)
    behind: list[set[int]] = [set() for _ in range(n)]
    boxes = [_box(thing) for thing in things]
    for i in range(n):
        for j in range(i + 1, n):
            a, b = boxes[i], boxes[j]
            if a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]:
                continue
            lead = _lead(things[i], things[j])
            if lead > _SAME:
                behind[i].add(j)
            elif lead < -_SAME:
                behind[j].add(i)
    middles = [sum(p[2] for p in thing) / len(thing) for thing in things]
    left = set(range(n))
    found: list[int] = []
    while left:
        # The farthest of those with nothing left behind them; where all wait for each other, the farthest of all.
        free = [k for k in left if not behind[k] & left] or list(left)
        k = min(free, key=lambda i: (middles[i], i))
        found.append(k)
        left.discard(k)
    return found


def _box(thing: Sequence[Seen]) -> tuple[float, float, float, float]:
    xs, ys = [p[0] for p in thing], [p[1] for p in thing]
    # A level or upright line has no area of its own.
    return min(xs) - _SAME, min(ys) - _SAME, max(xs) + _SAME, max(ys) + _SAME


def _lead(a: Sequence[Seen], b: Sequence[Seen]) -> float:
    """Return by how much a is nearer than b where they cover each other, the greatest difference; 0 where nowhere."""
    spots = [p for p in _probes(a) if _covers(b, p)] + [p for p in _probes(b) if _covers(a, p)] + _crossings(a, b)
    most = 0.0
    for spot in spots:
        gap = _depth(a, spot) - _depth(b, spot)
        if abs(gap) > abs(most):
            most = gap
    return most


def _probes(thing: Sequence[Seen]) -> list[XY]:
    """Return points of a thing a little inside its corners, along its edges, and its middle."""
    mx = sum(p[0] for p in thing) / len(thing)
    my = sum(p[1] for p in thing) / len(thing)
    edge = [(p[0], p[1]) for p in thing]
    edge += [((p[0] + q[0]) / 2, (p[1] + q[1]) / 2) for p, q in pairwise((*thing, thing[0]))]
    return [(mx, my), *((x + _INWARD * (mx - x), y + _INWARD * (my - y)) for x, y in edge)]


def _covers(thing: Sequence[Seen], spot: XY) -> bool:
    """Return whether a face lies over a point; a line lies over none."""
    if len(thing) < 3:
        return False
    x, y = spot
    odd = False
    for a, b in pairwise((*thing, thing[0])):
        if (a[1] > y) != (b[1] > y) and x < a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]):
            odd = not odd
    return odd


def _crossings(a: Sequence[Seen], b: Sequence[Seen]) -> list[XY]:
    found = []
    for p, q in pairwise(a if len(a) == 2 else (*a, a[0])):
        for r, s in pairwise(b if len(b) == 2 else (*b, b[0])):
            d = (q[0] - p[0]) * (s[1] - r[1]) - (q[1] - p[1]) * (s[0] - r[0])
            if abs(d) < 1e-12:
                continue
            t = ((r[0] - p[0]) * (s[1] - r[1]) - (r[1] - p[1]) * (s[0] - r[0])) / d
            u = ((r[0] - p[0]) * (q[1] - p[1]) - (r[1] - p[1]) * (q[0] - p[0])) / d
            if 0.01 < t < 0.99 and 0.01 < u < 0.99:
                found.append((p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])))
    return found


def _depth(thing: Sequence[Seen], spot: XY) -> float:
    """Return how near a face or line is at a point of it."""
    if len(thing) == 2:
        (ax, ay, az), (bx, by, bz) = thing
        long = (bx - ax) ** 2 + (by - ay) ** 2
        if long < 1e-12:
            return max(az, bz)
        t = ((spot[0] - ax) * (bx - ax) + (spot[1] - ay) * (by - ay)) / long
        return az + t * (bz - az)
    a, best, most = thing[0], (thing[1], thing[2]), 0.0
    for k in range(1, len(thing) - 1):
        b, c = thing[k], thing[k + 1]
        area = abs((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))
        if area > most:
            most, best = area, (b, c)
    b, c = best
    d = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    if abs(d) < 1e-12:
        return max(p[2] for p in thing)
    u = ((spot[0] - a[0]) * (c[1] - a[1]) - (spot[1] - a[1]) * (c[0] - a[0])) / d
    v = ((b[0] - a[0]) * (spot[1] - a[1]) - (b[1] - a[1]) * (spot[0] - a[0])) / d
    return a[2] + u * (b[2] - a[2]) + v * (c[2] - a[2])
