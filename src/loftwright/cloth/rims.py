"""The two rims between which the walls hang: closed curves in space, as built, moved and with their sizes uncertain.

Axes: x to the cab, y left, z up, origin in the middle of the rear edge of the opening, at roof height. A rim runs
counter-clockwise from above, from the middle of the rear end over the right side, the front end and the left side.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, array_of, column

CORNERS = ("rear right corner", "front right corner", "front left corner", "rear left corner")
"""The corners in the order of the rim."""
SIDES = ("rear", "right", "front", "left")
"""The straights in the order of the rim."""
TURN_SHARE = 0.3
"""Share of the points that goes by how much the rim turns [1], the rest goes by its length: judgement."""
_ALONG = ((0.0, -1.0), (1.0, 0.0), (0.0, 1.0), (-1.0, 0.0))
_OUT = ((-1.0, 0.0), (0.0, -1.0), (1.0, 0.0), (0.0, 1.0))
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(5)


@dataclass(frozen=True, slots=True)
class Loop:
    """A closed curve in space.

    `points` [m], [..., n, 3], the last not repeated; `arc` [m], [..., n + 1], length along the curve from the first
    point, at last its perimeter; `kinks`: numbers of the points where its curvature or its way jumps, which stay
    points of every polyline taken from it; `places`: what each point is part of, one of `SIDES` or `CORNERS`;
    `corners`: numbers of the first and last point of each of `CORNERS`, twice the same where it is sharp.
    """

    points: Array
    arc: Array
    kinks: tuple[int, ...]
    places: tuple[str, ...]
    corners: tuple[tuple[int, int], ...]

    @property
    def perimeter(self) -> Array:
        """Length all round [m], [...]."""
        return np.asarray(self.arc[..., -1])

    def row(self, number: int = 0) -> Loop:
        """Return one row of it, without the axis of rows."""
        points, arc = (np.asarray(v) for v in (self.points, self.arc))
        one = points.reshape(-1, *points.shape[-2:]), arc.reshape(-1, arc.shape[-1])
        return replace(self, points=one[0][min(number, len(one[0]) - 1)], arc=one[1][min(number, len(one[1]) - 1)])

    def vertex(self, arc: float) -> int:
        """Return the number of the point of row 0 nearest to an `arc` [m] along it."""
        known = self.row()
        gap = (known.arc[:-1] - arc) / known.arc[-1]
        return int(np.argmin(np.abs(gap - np.round(gap))))

    def corner_arcs(self) -> tuple[Array, Array]:
        """Return where each of `CORNERS` begins and ends [m], [..., 4]; an end beyond the start adds the perimeter."""
        first, last = (np.array(side) for side in zip(*self.corners, strict=True))
        begin, end = self.arc[..., first], self.arc[..., last]
        return np.asarray(begin), np.asarray(np.where(last < first, end + column(self.perimeter), end))

    def corner_middles(self) -> Array:
        """Return the arc half-way round each of `CORNERS` [m], [..., 4]."""
        begin, end = self.corner_arcs()
        return np.asarray((begin + end) / 2.0)


@dataclass(frozen=True, slots=True)
class Heights:
    """The surface on which a rim lies, over u = 2 (x - middle) / length and v = 2 y / width; all [m], each [...].

    `height`: of its middle; `crown`: by how much the middle stands above both sides; `camber`: above both ends;
    `twist`: how far one corner stands off the other three (positive: front left, rear right up); `taper`: by how much
    the crown is more at the front end, and less at the rear; `pitch`: front end over rear end; `roll`: left over right.
    """

    height: ArrayLike = 0.0
    crown: ArrayLike = 0.0
    camber: ArrayLike = 0.0
    twist: ArrayLike = 0.0
    taper: ArrayLike = 0.0
    pitch: ArrayLike = 0.0
    roll: ArrayLike = 0.0

    def at(self, u: Array, v: Array) -> tuple[Array, Array, Array]:
        """Return z [m] and its slopes by u and v [m], each [..., n], at `u`, `v` [1], each [..., n].

        z = height - (crown + taper u) v^2 - camber u^2 + twist u v / 4 + pitch u / 2 + roll v / 2 (1). A parabola has
        its middle above its ends by the offset measured (exact). Source: derivation.
        """
        h, c, b, t, g, p, r = (
            column(value)
            for value in (self.height, self.crown, self.camber, self.twist, self.taper, self.pitch, self.roll)
        )
        z = h - (c + g * u) * v * v - b * u * u + t * u * v / 4.0 + p * u / 2.0 + r * v / 2.0
        by_u = -g * v * v - 2.0 * b * u + t * v / 4.0 + p / 2.0
        by_v = -2.0 * (c + g * u) * v + t * u / 4.0 + r / 2.0
        return np.asarray(z), np.asarray(by_u), np.asarray(by_v)


def rounded(
    rear: ArrayLike,
    length: ArrayLike,
    width: ArrayLike,
    radius: ArrayLike | tuple[ArrayLike, ArrayLike, ArrayLike, ArrayLike],
    heights: Heights | None = None,
    *,
    aside: ArrayLike = 0.0,
    per: int = 400,
) -> Loop:
    """Return a rectangle with round corners, seen from above, laid on a curved surface.

    `rear`: x of its rear end [m], `length`, `width` [m], corner `radius` [m], each [...], or a tuple of four radii in
    the order of `CORNERS`; `heights`: the surface; `aside`: y of its middle line [m], [...]; `per`: about how many
    points all round [1]. Points are spaced by length and, for `TURN_SHARE`, by turn, in the numbers of row 0, and the
    middles of the four sides are among them; a corner of no radius is one point. Arc length from
    ds = sqrt(x'^2 + y'^2 + z'^2) dt (1) by five Gauss points between neighbours: exact for lines and arcs in a level
    plane, to 1e-9 of it on the surfaces of `Heights`. ValueError for a radius below 0 or above half the shorter side,
    and where a corner is sharp in some rows only. Source: derivation.
    """
    on = heights or Heights()
    four = radius if isinstance(radius, tuple) else (radius,) * 4
    surface = (on.height, on.crown, on.camber, on.twist, on.taper, on.pitch, on.roll)
    shape = np.broadcast_shapes(*(np.shape(v) for v in (rear, length, width, aside, *four, *surface)))
    x0, whole, wide, side, *bends = (np.broadcast_to(array_of(v), shape) for v in (rear, length, width, aside, *four))
    if any(bool(np.any(r < 0.0) or np.any(2.0 * r > np.minimum(whole, wide) * (1.0 + 1e-12))) for r in bends):
        raise ValueError("the corner radius must lie between 0 and half the shorter side")
    if any(bool(np.any(r == 0.0) and np.any(r > 0.0)) for r in bends):
        raise ValueError("a corner is either sharp in every row or round in every row")
    middle = column(x0 + whole / 2.0), column(side)
    half = column(whole / 2.0), column(wide / 2.0)
    pieces = _pieces([column(r) for r in bends], half)
    counts = _counts(pieces, per)
    u_of, v_of = 1.0 / half[0], 1.0 / half[1]

    def at(piece: _Piece, t: Array) -> tuple[Array, Array]:
        """Return places and speeds, each [..., t, 3], of one piece."""
        x, y, dx, dy = piece.run(t)
        z, by_u, by_v = on.at(x * u_of, y * v_of)
        dz = by_u * dx * u_of + by_v * dy * v_of
        place = np.broadcast_arrays(middle[0] + x, middle[1] + y, z)
        return np.stack(place, axis=-1), np.stack(np.broadcast_arrays(dx, dy, dz), axis=-1)

    places: list[str] = []
    points, lengths, kinks, corners = [], [], [], []
    for piece, count in zip(pieces, counts, strict=True):
        number = len(places)
        if piece.corner:
            corners.append((number, number + count))
            kinks += [number, number + count]
            places += [piece.name] * count
        if not count:
            continue
        if not piece.corner:
            # The first point of a straight after a corner still is that corner's.
            places += [piece.name] * count
        points.append(at(piece, np.arange(count) / count)[0])
        nodes = (np.arange(count)[:, None] + (_NODES + 1.0) / 2.0).ravel() / count
        speed = np.sqrt(np.sum(at(piece, nodes)[1] ** 2, axis=-1)).reshape(*shape, count, _NODES.size)
        lengths.append(speed @ (_WEIGHTS / 2.0) / count)
    total = len(places)
    for name, (_, last) in zip(CORNERS, corners, strict=True):
        if last < total:
            places[last] = name
    arc = np.concatenate([np.zeros((*shape, 1)), np.cumsum(np.concatenate(lengths, axis=-1), axis=-1)], axis=-1)
    return Loop(
        np.concatenate(points, axis=-2),
        arc,
        tuple(sorted({kink % total for kink in kinks})),
        tuple(places),
        tuple((first % total, last % total) for first, last in corners),
    )


def shell_rim(
    rear: ArrayLike,
    length: ArrayLike,
    width: ArrayLike,
    radius: ArrayLike,
    table: ArrayLike,
    *,
    end_rise: ArrayLike = 0.0,
    side_rise: ArrayLike = 0.0,
    twist: ArrayLike = 0.0,
    taper: ArrayLike = 0.0,
    aside: ArrayLike = 0.0,
    per: int = 400,
) -> Loop:
    """Return the rim of a shell from its offsets when it stands upright on a flat table.

    `rear`: x of its rear end, `length`, `width`, corner `radius`; `table`: height of the plane through the mean of the
    four corners of the rectangle round it; `end_rise`: how far the middle of an end stands off, mean of both ends,
    `taper`: by how much the front end's rises more than that and the rear end's less; `side_rise`: the middle of a long
    side; `twist`: one corner; `aside`: y of its middle line; all [m], each [...]; `per`: about how many points [1].
    The middle of its surface then lies at z = table + end_rise + side_rise (1). Source: derivation.
    """
    height = array_of(table) + array_of(end_rise) + array_of(side_rise)
    surface = Heights(height, end_rise, side_rise, twist, taper)
    return rounded(rear, length, width, radius, surface, aside=aside, per=per)


Plane = Literal["lengthwise", "crosswise"]


def moved(
    loop: Loop, dx: ArrayLike, dz: ArrayLike, phi: ArrayLike, plane: Plane = "lengthwise", *, edge: ArrayLike = 0.0
) -> Loop:
    """Return a loop that moves with the shell.

    p = t + R(phi) p0 (1) in the upright plane of the motion, t = (`dx`, `dz`) [m], `phi` [rad], each [...].
    "lengthwise": the plane of x and z. "crosswise": its first axis runs from the left edge of the opening to the right,
    u = edge - y, with `edge` the y of that left edge [m], [...]. All lengths stay as they are. Source: derivation.
    """
    x, y, z = (loop.points[..., k] for k in range(3))
    cos, sin = np.cos(column(phi)), np.sin(column(phi))
    u = x if plane == "lengthwise" else column(edge) - y
    along, up = column(dx) + cos * u - sin * z, column(dz) + sin * u + cos * z
    parts = (along, y, up) if plane == "lengthwise" else (x, column(edge) - along, up)
    points = np.stack(np.broadcast_arrays(*parts), axis=-1)
    return replace(loop, points=points, arc=np.broadcast_to(loop.arc, (*points.shape[:-2], loop.arc.shape[-1])).copy())


def reshaped(loop: Loop, points: Array) -> Loop:
    """Return a loop through other `points` [m], [..., n, 3], near its own.

    Each arc length changes as its chord does (1), so that round corners keep what their arcs are longer than their
    chords. Source: derivation.
    """
    old, new = (np.linalg.norm(np.roll(p, -1, axis=-2) - p, axis=-1) for p in (loop.points, points))
    parts = np.diff(loop.arc, axis=-1) * new / old
    arc = np.concatenate([np.zeros((*parts.shape[:-1], 1)), np.cumsum(parts, axis=-1)], axis=-1)
    return replace(loop, points=points, arc=arc)


@dataclass(frozen=True, slots=True)
class _Piece:
    """A straight or a corner, from its start over `size` [..., 1] along `side`, about the middle of the rectangle."""

    name: str
    side: int
    start: tuple[Array, Array]
    size: Array
    corner: bool

    def run(self, t: Array) -> tuple[Array, Array, Array, Array]:
        """Return x, y and their derivatives by t, each [..., t]."""
        (ax, ay), (ox, oy) = _ALONG[self.side], _OUT[self.side]
        x, y = self.start
        if not self.corner:
            one = np.ones_like(t)
            return x + ax * self.size * t, y + ay * self.size * t, ax * self.size * one, ay * self.size * one
        turn = np.pi / 2.0
        sin, cos = self.size * np.sin(turn * t), self.size * np.cos(turn * t)
        back = cos - self.size
        speeds = turn * (ax * cos - ox * sin), turn * (ay * cos - oy * sin)
        return x + ax * sin + ox * back, y + ay * sin + oy * back, *speeds


def _pieces(bends: list[Array], half: tuple[Array, Array]) -> list[_Piece]:
    """Return the halves of the straights and the corners in the order of the rim."""
    found = []
    for number in range(9):
        side = number // 2 % 4
        (ax, ay), (ox, oy) = _ALONG[side], _OUT[side]
        reach, off = (half[1], half[0]) if side % 2 == 0 else (half[0], half[1])
        if number % 2 == 0:
            # From the corner before (or the middle of the rear end) to the corner behind (or that middle).
            before, behind = bends[side - 1], bends[side]
            halves = ((before - reach, 0.0 * reach), (0.0 * reach, reach - behind))
            for begin, end in halves[1:] if number == 0 else halves[:1] if number == 8 else halves:
                start = ax * begin + ox * off, ay * begin + oy * off
                found.append(_Piece(SIDES[side], side, start, end - begin, False))
            continue
        bend = bends[side]
        start = ax * (reach - bend) + ox * off, ay * (reach - bend) + oy * off
        found.append(_Piece(CORNERS[side], side, start, bend, True))
    return found


def _counts(pieces: list[_Piece], per: int) -> list[int]:
    """Return how many segments each piece has, by row 0; none where it has no length in any row."""
    sizes = [float(np.ravel(piece.size)[0]) * (np.pi / 2.0 if piece.corner else 1.0) for piece in pieces]
    whole, round_ones = sum(sizes), sum(1 for piece, size in zip(pieces, sizes, strict=True) if piece.corner and size)
    counts = []
    for piece, size in zip(pieces, sizes, strict=True):
        if bool(np.all(piece.size <= 1e-12 * whole)):
            counts.append(0)
            continue
        share = (1.0 - TURN_SHARE if round_ones else 1.0) * size / whole
        if piece.corner:
            counts.append(max(4, 2 * round(per * (share + TURN_SHARE / round_ones) / 2.0)))
        else:
            counts.append(max(2, round(per * share)))
    return counts
