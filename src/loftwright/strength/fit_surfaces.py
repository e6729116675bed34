"""A curved surface as measured, roof or rim: two parabolas, a twist, and points that correct them.

Axes: x to the cab, y left, z up, origin in the middle of the rear edge of the opening. Numbers are
shaped [...] (rows); stations and points come last. A rim is measured upside down on, or standing
on, a flat table; the roof under a string along and a straightedge across.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, column

PLANE_FROM = 3
"""Points from which a correction may lean; fewer only lift."""
QUADRATIC_FROM = 6
"""Points from which a correction may bend and twist."""
CUBIC_FROM = 14
"""Points from which a correction may change its bend along the way: four to spare."""
OPEN = 0.02
"""A term is left out where less than this share of it [1], over the points, is its own and not of lower terms."""
_POWERS = ((0, 0), (1, 0), (0, 1), (2, 0), (1, 1), (0, 2), (3, 0), (2, 1), (1, 2), (0, 3))


@dataclass(frozen=True, slots=True)
class Points:
    """Measured offset points: places `x`, `y` and heights `z` [m], each [..., points]."""

    x: Array
    y: Array
    z: Array

    def __post_init__(self) -> None:
        if not self.x.shape[-1:] == self.y.shape[-1:] == self.z.shape[-1:] or self.x.ndim == 0:
            raise ValueError("points need one x, one y and one height each")
        if self.x.size == 0:
            raise ValueError("there must be at least one point")

    def nominal(self) -> Points:
        """Return row 0, the nominal one, with one row left."""
        return Points(*(np.atleast_2d(part)[:1] for part in (self.x, self.y, self.z)))

    @property
    def terms(self) -> int:
        """How many terms of the correcting polynomial so many points bear [1]."""
        count = self.x.shape[-1]
        return 10 if count >= CUBIC_FROM else 6 if count >= QUADRATIC_FROM else 3 if count >= PLANE_FROM else 1


@dataclass(frozen=True, slots=True)
class Surface:
    """A surface curved both ways; all fields [m], each [...].

    `crown`: middle above both edges over `width`; `camber`: middle above both ends of a string over `length`;
    `twist`: how far one corner of the rectangle `length` x `width` stands off when the other three lie true
    (positive: front left or rear right stands up); `middle`: x of the middle of the string; `points`: offsets
    that correct it. Heights count from the middle of the surface, or from the datum of the points if there are any:
    level is then what is level to them. `taper`: by how much the crown is more at the front end than half-way, and
    less at the rear end; `known` [..., terms]: coefficients of the correction where they were worked out before.
    """

    crown: Array
    width: Array
    camber: Array
    length: Array
    twist: Array
    middle: Array
    points: Points | None = None
    taper: Array | float = 0.0
    known: Array | None = None

    def settled(self) -> Surface:
        """Return the same surface with its correction worked out once and for all."""
        return self if self.points is None else replace(self, known=self.correction())

    def nominal(self) -> Surface:
        """Return row 0, the nominal one, with one row left."""
        names = ("crown", "width", "camber", "length", "twist", "middle", "taper")
        points = None if self.points is None else self.points.nominal()
        return measured_surface(**{name: np.atleast_1d(getattr(self, name))[:1] for name in names}, points=points)

    def height(self, x: Array, y: Array) -> Array:
        """Return the height [m] at `x`, `y` [m], each [..., n].

        z = -(crown + taper u) v^2 - camber u^2, u = 2 (x - middle) / length, v = 2 y / width
            + twist (x - middle) y / (length width) + correction (1).
        A parabola has its middle above its ends by the offset measured (exact); the taper gives both ends a crown of
        their own; the product is the one twist that leaves straight edges straight, and lifts the corners by
        +- twist / 4 off the mean plane, so one corner by twist off the other three. The correction is that of
        `correction`. Source: derivation.
        """
        return np.asarray(self._plain(x, y) + _polynomial(self.correction(), self._u(x), self._v(y)))

    def slopes(self, x: Array, y: Array) -> tuple[Array, Array]:
        """Return dz/dx and dz/dy [1] at `x`, `y` [m], each [..., n]: the exact derivatives of (1)."""
        along, half = x - column(self.middle), column(self.length) / 2.0
        wide = column(self.width) / 2.0
        shear = column(self.twist) / (4.0 * half * wide)
        terms = self.correction()
        u, v = self._u(x), self._v(y)
        taper = column(self.taper)
        zx = -2.0 * column(self.camber) * along / half**2 + shear * y + _polynomial(terms, u, v, (1, 0)) / half
        zx = zx - taper * v * v / half
        zy = -2.0 * column(self.crown) * y / wide**2 + shear * along + _polynomial(terms, u, v, (0, 1)) / wide
        zy = zy - 2.0 * taper * u * v / wide
        return np.asarray(zx), np.asarray(zy)

    def correction(self) -> Array:
        """Return the coefficients [m], [..., terms], of the polynomial that carries (1) to the points.

        Least squares (2) on what the points differ from the parabolas, in u = 2 (x - middle) / length and
        v = 2 y / width; constant below `PLANE_FROM` points, then a plane, full second order from `QUADRATIC_FROM`,
        third from `CUBIC_FROM`. A term that the places of the points cannot tell from lower ones is left out (v^2
        where all lie on two lines, v^3 where they lie on three): see `OPEN`. Source: derivation.
        """
        if self.known is not None:
            return self.known
        if self.points is None:
            return np.zeros(1)
        x, y, terms = self.points.x, self.points.y, self.points.terms
        u, v = self._u(x), self._v(y)
        matrix = np.stack(np.broadcast_arrays(*(u**i * v**j for i, j in _POWERS[:terms])), axis=-1)
        told = _told_apart(matrix.reshape(-1, x.shape[-1], terms)[0])
        wanted = self.points.z - self._plain(x, y)
        found = (np.linalg.pinv(matrix[..., told]) @ wanted[..., None])[..., 0]
        whole = np.zeros((*found.shape[:-1], terms))
        whole[..., told] = found
        return whole

    def residuals(self) -> Array:
        """Return by how much [m], [..., points], the points stand above the surface; empty without points."""
        if self.points is None:
            return np.zeros(0)
        return np.asarray(self.points.z - self.height(self.points.x, self.points.y))

    def _plain(self, x: Array, y: Array) -> Array:
        u, v = self._u(x), self._v(y)
        crown = column(self.crown) + column(self.taper) * u
        return np.asarray(column(self.twist) * u * v / 4.0 - crown * v * v - column(self.camber) * u * u)

    def _u(self, x: Array) -> Array:
        return np.asarray(2.0 * (x - column(self.middle)) / column(self.length))

    def _v(self, y: Array) -> Array:
        return np.asarray(2.0 * y / column(self.width))


def _told_apart(matrix: Array) -> list[int]:
    """Return which columns of `matrix` [points, terms] stand clear of those before them (Gram and Schmidt)."""
    kept: list[int] = []
    basis: list[Array] = []
    for place, term in enumerate(matrix.T):
        own = term.copy()
        for other in basis:
            own = own - (other @ own) * other
        size = float(np.linalg.norm(own))
        if size > OPEN * float(np.linalg.norm(term)):
            kept.append(place)
            basis.append(own / size)
    return kept


def _polynomial(terms: Array, u: Array, v: Array, order: tuple[int, int] = (0, 0)) -> Array:
    """Return the polynomial, or its first derivative by u (1, 0) or v (0, 1), at u, v [..., n]."""
    a, b = order
    total = np.zeros(np.broadcast_shapes(u.shape, v.shape))
    for place, (i, j) in enumerate(_POWERS[: terms.shape[-1]]):
        factor = (i if a else 1) * (j if b else 1)
        if factor:
            total = total + terms[..., place, None] * factor * u ** (i - a) * v ** (j - b)
    return total


def measured_surface(
    *,
    crown: ArrayLike = 0.0,
    width: ArrayLike,
    camber: ArrayLike = 0.0,
    length: ArrayLike,
    twist: ArrayLike = 0.0,
    middle: ArrayLike,
    points: Points | None = None,
    taper: ArrayLike = 0.0,
) -> Surface:
    """Return a `Surface` from `crown`, `width`, `camber`, `length`, `twist`, `middle` and `taper` [m], each [...].

    ValueError unless width and length are above 0.

    >>> roof = measured_surface(crown=0.04, width=1.6, length=2.0, middle=1.0)
    >>> roof.height(np.array([1.0]), np.array([0.8])).round(4).tolist()
    [-0.04]
    """
    c, w, a, n, t, m = (np.asarray(value, dtype=np.float64) for value in (crown, width, camber, length, twist, middle))
    if not (np.all(w > 0.0) and np.all(n > 0.0)):
        raise ValueError("width and length must be above 0")
    return Surface(c, w, a, n, t, m, points, np.asarray(taper, dtype=np.float64))


def at_origin(surface: Surface) -> Array:
    """Return the height [m], [...], of a surface at the origin: the roof there is the zero of the whole frame."""
    return np.asarray(surface.height(np.zeros(1), np.zeros(1))[..., 0])
