"""Distances of points from a rim with round corners on a curved surface, and how they change with its sizes."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from loftwright.cloth.rims import Heights
from loftwright.core.motion import Array

SHAPE = ("height", "pitch", "crown", "camber", "roll", "twist", "taper")
"""The terms of the surface, those that matter most first: a term is fitted where earlier ones leave it free."""
_SIGNS = np.array([(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)])
# Where the corners lie from the middle, in the order of the rim.


def radii_of(names: tuple[str, ...], values: Array, radius: float | None) -> tuple[ArrayLike, ...]:
    """Return the four corner radii [m] of `values` [m], [..., p], called `names`; `radius` [m] if it was given."""
    if radius is not None:
        return (radius,) * 4
    found = [values[..., k] for k, name in enumerate(names) if "radius" in name]
    if len(found) == 2:
        return found[0], found[1], found[1], found[0]
    return tuple(found) if len(found) == 4 else (found[0],) * 4


def heights_of(names: tuple[str, ...], values: Array) -> Heights:
    """Return the surface of `values` [m], [..., p], called `names`; terms that are not among them are nought."""
    return Heights(**{name: values[..., k] for k, name in enumerate(names) if name in SHAPE})


def shape_basis(points: Array, rear: float, front: float, right: float, left: float) -> Array:
    """Return the terms of `SHAPE` [1], [k, 7], at `points` [m], [k, 3].

    The rim lies between its `rear` and `front`, its `right` and `left` side [m].
    1, u/2, -v^2, -u^2, v/2, uv/4, -u v^2 (1), u = (2 x - rear - front) / (front - rear), v likewise; see `Heights`.
    """
    u = (2.0 * points[:, 0] - rear - front) / (front - rear)
    v = (2.0 * points[:, 1] - right - left) / (left - right)
    terms = (np.ones_like(u), u / 2.0, -v * v, -u * u, v / 2.0, u * v / 4.0, -u * v * v)
    return np.stack(terms, axis=-1)


def outline_distance(points: Array, box: Array, radii: Array) -> tuple[Array, Array, Array]:
    """Return how far points lie outside an outline in plan, the way out there, and whose corner it is.

    `points` [m], [k, 2 or 3]; `box`: rear, front, right, left [m], [4]; `radii` [m], [4]. Distance [m], [k], along
    the unit normal [1], [k, 2]; number of the corner, -1 on a straight. Beyond both tangent points of a corner:
    |p - centre| - r (1), else the greatest of the distances from the four straights (2). Source: derivation.
    """
    rear, front, right, left = box
    p = points[:, :2]
    corner = np.array([(rear, right), (front, right), (front, left), (rear, left)])
    gap = p[:, None, :] - (corner - _SIGNS * radii[:, None])
    inside = np.all(gap * _SIGNS > 0.0, axis=-1)
    which = np.where(inside.any(axis=-1), np.argmax(inside, axis=-1), -1)
    own = gap[np.arange(p.shape[0]), which]
    away = np.linalg.norm(own, axis=-1)
    straight = np.stack([rear - p[:, 0], p[:, 0] - front, right - p[:, 1], p[:, 1] - left], axis=-1)
    side = np.argmax(straight, axis=-1)
    out = np.array([(-1.0, 0.0), (1.0, 0.0), (0.0, -1.0), (0.0, 1.0)])[side]
    in_corner = which >= 0
    way = np.where(in_corner[:, None], own / np.where(in_corner, away, 1.0)[:, None], out)
    distance = np.where(in_corner, away - radii[which], straight.max(axis=-1))
    return distance, way, which


def errors(points: Array, names: tuple[str, ...], values: Array, radius: float | None) -> tuple[Array, Array]:
    """Return how far `points` [m], [k, 3], lie outside and above a rim [m], each [k].

    `values` [m], [p], called `names`; `radius` [m] if it was given.
    """
    both = linear(points, names, values, radius)[0]
    return both[: points.shape[0]], both[points.shape[0] :]


def linear(points: Array, names: tuple[str, ...], values: Array, radius: float | None) -> tuple[Array, Array]:
    """Return the errors of k `points` [m], [k, 3], outside and then above, [2 k], and their slopes [1], [2 k, p].

    `values` [m], [p], called `names`; `radius` [m] if it was given. Outside: moving a side out by 1 takes from the
    distance the part of the normal that points there; a radius greater by 1 adds |nx| + |ny| - 1 in its corner (1).
    Above: the terms of `shape_basis`, and through u and v the sides (2). Source: derivation.
    """
    count = points.shape[0]
    radii = np.array([float(np.asarray(r)) for r in radii_of(names, values, radius)])
    distance, way, which = outline_distance(points, values[:4], radii)
    rear, front, right, left = (float(v) for v in values[:4])
    length, width = front - rear, left - right
    u = (2.0 * points[:, 0] - rear - front) / length
    v = (2.0 * points[:, 1] - right - left) / width
    z, by_u, by_v = heights_of(names, values).at(u, v)
    jacobian = np.zeros((2 * count, len(names)))
    nx, ny = way[:, 0], way[:, 1]
    outside = (np.maximum(-nx, 0.0), -np.maximum(nx, 0.0), np.maximum(-ny, 0.0), -np.maximum(ny, 0.0))
    above = (-by_u * (u - 1.0) / length, by_u * (u + 1.0) / length, -by_v * (v - 1.0) / width, by_v * (v + 1.0) / width)
    for k in range(4):
        jacobian[:count, k], jacobian[count:, k] = outside[k], above[k]
    basis = shape_basis(points, rear, front, right, left)
    bent = [k for k, name in enumerate(names) if "radius" in name]
    for number, k in enumerate(bent):
        corners = {1: (0, 1, 2, 3), 2: ((0, 3), (1, 2))[number % 2], 4: (number,)}[len(bent)]
        jacobian[:count, k] = np.where(np.isin(which, corners), np.abs(nx) + np.abs(ny) - 1.0, 0.0)
    for k, name in enumerate(names):
        if name in SHAPE:
            jacobian[count:, k] = -basis[:, SHAPE.index(name)]
    return np.concatenate([distance, points[:, 2] - z]), jacobian
