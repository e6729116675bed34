"""How the cloth between two edges rolls out: the strip of triangles that bends least.

Both edges are polylines that run the same way. A bridge joins a point of the lower edge to a point of the upper one;
each move steps one of the two edges forward and closes one triangle. The word is the list of moves: 0 where the lower
edge steps, 1 where the upper one does. A strip has no inner point, so every word unfolds exactly; the best word is the
one whose creases look most like smooth cloth.
"""

from __future__ import annotations

from typing import Final, Literal, get_args

import numpy as np
from numpy.typing import NDArray

from loftwright.core.checks import Source
from loftwright.core.motion import Array

Word = NDArray[np.intp]
"""Moves of a strip: 0 the lower edge steps forward, 1 the upper one."""

Measure = Literal["bending", "twist", "crease", "area"]
"""What is made least. The first two make patterns; the last two are for comparison."""

WANG_TANG: Final = Source("wang-tang-2005", "abstract: least total over a layered graph of bridges", "paper")

_FLAT = 1e-12
"""Area over the square of the longest side below which three points count as one line [1]."""


def checked(lower: Array, upper: Array) -> tuple[Array, Array]:
    """Return both edges [..., points, 3] in [m] as arrays of floats.

    ValueError: not three coordinates, fewer than three points in all, a number that is not finite, or two
    neighbouring points in one place. `lower` and `upper` [m].
    """
    low, high = np.asarray(lower, dtype=np.float64), np.asarray(upper, dtype=np.float64)
    for name, edge in (("lower", low), ("upper", high)):
        if edge.ndim < 2 or edge.shape[-1] != 3 or edge.shape[-2] < 1:
            raise ValueError(f"the {name} edge must be points in space, [..., points, 3], not {edge.shape}")
        if not np.all(np.isfinite(edge)):
            raise ValueError(f"the {name} edge has a number that is not finite")
        if np.any(np.all(np.diff(edge, axis=-2) == 0.0, axis=-1)):
            raise ValueError(f"the {name} edge has two neighbouring points in one place")
    if low.shape[-2] + high.shape[-2] < 3:
        raise ValueError("a strip needs at least three points")
    return low, high


def triangulate(lower: Array, upper: Array, measure: Measure = "bending") -> Word:
    """Return the word [moves] of the strip between `lower` [m, shape m by 3] and `upper` [m, shape k by 3].

    Dynamic programming over bridges: state = bridge and which edge stepped last, so that the angle of the crease at
    every bridge is known. The least total of

        bending  theta^2 L^2 / (A1 + A2)   over creases (1): the bending energy of a smooth sheet, up to its stiffness
        twist    asin(t . n)^2 b           over triangles (2): how far the far edge leaves the triangle's plane
        crease   theta^2 L                 over creases (3)
        area     A                         over triangles (4)

    theta is the angle between the normals of the triangles beside a bridge [rad], L its length [m], A the area of a
    triangle [m2], n its unit normal, b its side along an edge [m], t the unit tangent of the other edge at its apex.
    Least area makes zigzag creases that do not die away with more points: for comparison only.
    Time and memory grow as m k. ValueError as `checked`, or for a measure that is not named above.
    Validity: edges given as points close enough that the curves between them are nearly straight.
    Source: `WANG_TANG` for the shortest path over bridges; (1) from the energy of a cylinder rolled over the width
    (A1 + A2) / L of one crease.

    >>> lower = np.array([[0.0, 0, 0], [1, 0, 0], [2, 0, 0], [3, 0, 0]])
    >>> upper = np.array([[0.2, 1, 0], [0.8, 1.1, 0.5], [1.9, 1.2, 0.6], [3.2, 1, 0.1]])
    >>> "".join("PQ"[move] for move in triangulate(lower, upper, "crease"))
    'QQPPPQ'
    """
    low, high = checked(lower, upper)
    if low.ndim != 2 or high.ndim != 2:
        raise ValueError("one pair of edges at a time: [points, 3]")
    if measure not in get_args(Measure):
        raise ValueError(f"no measure is called {measure}")
    m, k = len(low), len(high)
    if m == 1 or k == 1:
        return np.full(m + k - 2, 1 if m == 1 else 0, dtype=np.intp)
    return _shortest(m, k, *_costs(low, high, measure))


def _costs(low: Array, high: Array, measure: Measure) -> tuple[Array, Array]:
    """Return the cost of the triangle of each move, [2, m, k], and of the creases, [came by, goes by, m, k].

    At index [i, j] stands the bridge that is left.
    """
    m, k = len(low), len(high)
    bridges = high - low[:, None]
    steps = np.diff(low, axis=0), np.diff(high, axis=0)
    # The normal of a triangle as twice its area: towards the viewer from whom the edges run to the right.
    normals = (
        np.cross(steps[0][:, None], bridges[:-1]),
        np.cross(steps[1][None], bridges[:, :-1]),
    )
    sizes = [np.linalg.norm(normal, axis=-1) for normal in normals]
    triangles = np.zeros((2, m, k))
    creases = np.zeros((2, 2, m, k))
    leaves = (np.s_[: m - 1, :], np.s_[:, : k - 1])
    if measure == "area":
        for side in (0, 1):
            triangles[side][leaves[side]] = sizes[side] / 2.0
    elif measure == "twist":
        tangents = _tangents(high)[None], _tangents(low)[:, None]
        for side in (0, 1):
            base = np.linalg.norm(steps[side], axis=-1)
            base = base[:, None] if side == 0 else base[None]
            with np.errstate(invalid="ignore", divide="ignore"):
                out = np.sum(normals[side] * tangents[side], axis=-1) / sizes[side]
            angle = np.arcsin(np.clip(np.where(_thin(sizes[side], bridges, side), 1.0, out), -1.0, 1.0))
            triangles[side][leaves[side]] = angle**2 * base
    else:
        _fill_creases(creases, normals, sizes, bridges, measure)
    return triangles, creases


def _fill_creases(
    creases: Array, normals: tuple[Array, Array], sizes: list[Array], bridges: Array, measure: Measure
) -> None:
    """Write the cost of every crease between the triangle that ends at a bridge and the one that starts there."""
    m, k = bridges.shape[:2]
    length = np.linalg.norm(bridges, axis=-1)
    thin = [_thin(sizes[side], bridges, side) for side in (0, 1)]
    # Inner part of the table in which bridge [i, j] was reached by `came` and is left by `goes`.
    for came in (0, 1):
        for goes in (0, 1):
            first = (1 if came == 0 else 0, 1 if came == 1 else 0)
            last = (m - 1 if goes == 0 else m, k - 1 if goes == 1 else k)
            here = np.s_[first[0] : last[0], first[1] : last[1]]
            back = (
                np.s_[0 : last[0] - 1, first[1] : last[1]] if came == 0 else np.s_[first[0] : last[0], 0 : last[1] - 1]
            )
            one, two = normals[came][back], normals[goes][here]
            turn = np.linalg.norm(np.cross(one, two), axis=-1)
            theta = np.arctan2(turn, np.sum(one * two, axis=-1))
            theta = np.where(thin[came][back] | thin[goes][here], np.pi, theta)
            cost = theta**2 * length[here]
            if measure == "bending":
                # Twice both areas over two; a width of nothing is no fold but a fault, hence the floor.
                both = np.maximum((sizes[came][back] + sizes[goes][here]) / 2.0, _FLAT * length[here] ** 2)
                cost = cost * length[here] / both
            creases[came, goes][here] = cost


def _thin(size: Array, bridges: Array, side: int) -> NDArray[np.bool_]:
    """Whether a triangle is a line: twice its area against the square of its longest bridge."""
    squares = np.sum(bridges**2, axis=-1)
    longest = np.maximum(squares[:-1], squares[1:]) if side == 0 else np.maximum(squares[:, :-1], squares[:, 1:])
    return np.asarray(size <= _FLAT * longest)


def _tangents(edge: Array) -> Array:
    """Return the unit tangent at each point of an edge [points, 3]: of the parabola through three neighbours."""
    steps = np.diff(edge, axis=0)
    lengths = np.linalg.norm(steps, axis=-1)[:, None]
    slopes = steps / lengths
    if len(edge) == 2:
        return np.concatenate([slopes, slopes])
    inner = (slopes[:-1] * lengths[1:] + slopes[1:] * lengths[:-1]) / (lengths[:-1] + lengths[1:])
    ends = 2.0 * slopes[:1] - inner[:1], 2.0 * slopes[-1:] - inner[-1:]
    found = np.concatenate([ends[0], inner, ends[1]])
    return np.asarray(found / np.linalg.norm(found, axis=-1, keepdims=True))


def _shortest(m: int, k: int, triangles: Array, creases: Array) -> Word:
    """Return the cheapest word through the table of bridges, one anti-diagonal after the other.

    On an anti-diagonal i + j = d the flat index i k + j is d + i (k - 1): a plain slice.
    """
    flat_triangles = triangles.reshape(2, -1)
    flat_creases = creases.reshape(2, 2, -1)
    best = np.full((2, m * k), np.inf)
    came_by = np.zeros((2, m * k), dtype=np.int8)
    best[:, 0] = 0.0
    for d in range(m + k - 2):
        for move in (0, 1):
            first = max(0, d - (k - 1 if move == 0 else k - 2))
            last = min(d, m - 2 if move == 0 else m - 1)
            if last < first:
                continue
            here = slice(d + first * (k - 1), d + last * (k - 1) + 1, k - 1)
            ahead = k if move == 0 else 1
            there = slice(here.start + ahead, here.stop + ahead, k - 1)
            by_lower = best[0, here] + flat_creases[0, move, here]
            by_upper = best[1, here] + flat_creases[1, move, here]
            came_by[move, there] = by_upper < by_lower
            best[move, there] = np.minimum(by_lower, by_upper) + flat_triangles[move, here]
    word = np.empty(m + k - 2, dtype=np.intp)
    at, move = m * k - 1, int(best[1, -1] < best[0, -1])
    for place in range(m + k - 3, -1, -1):
        word[place] = move
        move, at = int(came_by[move, at]), at - (k if move == 0 else 1)
    return word
