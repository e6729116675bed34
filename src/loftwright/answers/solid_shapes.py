"""Closed bodies of flat faces, in the plane in which the roof moves: u along it, v to its left, z up [m].

Faces run anticlockwise as seen from outside. Every edge of a closed body belongs to exactly two of its faces.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Sequence
from itertools import pairwise

from loftwright.core.scene import Spot

Corner = tuple[float, float, float]
"""A point (u, v, z) [m]."""
Sheet = tuple[Corner, ...]
"""Corners of one face."""


def turned_left(outline: Sequence[Spot]) -> tuple[Spot, ...]:
    """Return a closed outline in (u, z) so that it runs anticlockwise."""
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise((*outline, outline[0])))
    return tuple(outline) if area > 0 else tuple(reversed(outline))


def prism(outline: Sequence[Spot], v0: float, v1: float) -> tuple[Sheet, ...]:
    """Return the closed body of an outline (u, z) drawn out across from v0 to v1 > v0: two ends, then the sides."""
    ring = turned_left(outline)
    near = tuple((u, v0, z) for u, z in ring)
    far = tuple((u, v1, z) for u, z in reversed(ring))
    sides = (
        ((a[0], v0, a[1]), (a[0], v1, a[1]), (b[0], v1, b[1]), (b[0], v0, b[1])) for a, b in pairwise((*ring, ring[0]))
    )
    return near, far, *sides


def box(u: Spot, v: Spot, z: Spot) -> tuple[Sheet, ...]:
    """Return an upright box from its ranges along u, v and z."""
    return prism(((u[0], z[0]), (u[1], z[0]), (u[1], z[1]), (u[0], z[1])), v[0], v[1])


def bar(a: Spot, b: Spot, wide: float, v0: float, v1: float, *, beyond: float = 0.0) -> tuple[Sheet, ...]:
    """Return a flat bar from a to b (u, z), `wide` in the plane, `beyond` its ends, from v0 to v1 across."""
    length = max(math.dist(a, b), 1e-9)
    eu, ez = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    h = wide / 2
    outline = tuple(
        (p[0] + along * beyond * eu - side * h * ez, p[1] + along * beyond * ez + side * h * eu)
        for p, along, side in ((a, -1, -1), (b, 1, -1), (b, 1, 1), (a, -1, 1))
    )
    return prism(outline, v0, v1)


def hollow(
    outer: Sequence[Spot], inner: Sequence[Spot], half: float, inner_half: float
) -> tuple[tuple[Sheet, ...], tuple[Sheet, ...], tuple[Sheet, ...]]:
    """Return outside, inside and rim of a lid that is open below: together they close a body.

    Both outlines run rear rim, over the top, front rim; `half` and `inner_half` are half the widths across.
    """

    def open_below(outline: Sequence[Spot], h: float) -> tuple[Sheet, ...]:
        first, last = (outline[0][0], outline[0][1]), (outline[-1][0], outline[-1][1])
        below = {(u, v, z) for u, z in (first, last) for v in (-h, h)}
        return tuple(face for face in prism(outline, -h, h) if set(face) != below)

    inside = tuple(tuple(reversed(face)) for face in open_below(inner, inner_half))

    def corners(outline: Sequence[Spot], h: float) -> tuple[Corner, ...]:
        (u0, z0), (u1, z1) = outline[0], outline[-1]
        return (u0, -h, z0), (u0, h, z0), (u1, h, z1), (u1, -h, z1)

    big, small = corners(outer, half), corners(inner, inner_half)
    rim = tuple(
        (a, b, d, c) for (a, b), (c, d) in zip(pairwise((*big, big[0])), pairwise((*small, small[0])), strict=True)
    )
    return open_below(outer, half), inside, rim


def slab(
    us: Sequence[float],
    vs: Sequence[float],
    holes: Collection[tuple[int, int]],
    low: Callable[[float], float],
    high: Callable[[float], float],
) -> tuple[Sheet, ...]:
    """Return a plate between two heights over a grid of cells, but for its holes; cells are (i along u, j across)."""
    there = {(i, j) for i in range(len(us) - 1) for j in range(len(vs) - 1)} - set(holes)
    faces: list[Sheet] = []
    for i, j in sorted(there):
        (u0, u1), (v0, v1) = us[i : i + 2], vs[j : j + 2]
        faces.append(tuple((u, v, high(u)) for u, v in ((u0, v0), (u1, v0), (u1, v1), (u0, v1))))
        faces.append(tuple((u, v, low(u)) for u, v in ((u0, v0), (u0, v1), (u1, v1), (u1, v0))))
        # Walls where no cell follows, each run through so that the body lies to its left.
        for step, a, b in (
            ((0, -1), (u0, v0), (u1, v0)),
            ((1, 0), (u1, v0), (u1, v1)),
            ((0, 1), (u1, v1), (u0, v1)),
            ((-1, 0), (u0, v1), (u0, v0)),
        ):
            if (i + step[0], j + step[1]) not in there:
                faces.append(((*a, low(a[0])), (*b, low(b[0])), (*b, high(b[0])), (*a, high(a[0]))))
    return tuple(faces)
