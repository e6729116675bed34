"""What comes near what on the way from closed to open, in the side view.

Springs and arms are capsules (a line with a radius), the shell, roof, edges and boards are bent
lines, a head is a circle. Everything is worked out at every station of the travel and for every draw
at once. A distance is negative where things overlap; its size is then the shortest way out.

Shapes: a capsule's ends are [..., n]; a line's points are [..., n, k], or [..., 1, k] where it stands
still; the result is [..., n].
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, Motion, PointPath, column

_TINY = 1e-12
_PASSED = 0.001
"""Least overlap of two thin things that passed through each other between two stations [m]."""
_FAR = 10.0
"""How far a roof profile is carried on level beyond its measured ends [m]."""


@dataclass(frozen=True, slots=True)
class Line:
    """A bent line through points (x, z) [m], each [..., n, k], or [..., 1, k] where it stands still."""

    x: Array
    z: Array


@dataclass(frozen=True, slots=True)
class Capsule:
    """A straight body between (ax, az) and (bx, bz) [m], each [..., n], thick by `radius` [m, ...]."""

    ax: Array
    az: Array
    bx: Array
    bz: Array
    radius: Array


@dataclass(frozen=True, slots=True)
class Gap:
    """Distance [m] over the travel, negative for overlap, and where on the obstacle; each [..., n]."""

    distance: Array
    x: Array
    z: Array

    def least(self) -> tuple[Array, Array]:
        """Return the least distance [m] and the index of its station, each [...]."""
        return np.asarray(self.distance.min(axis=-1)), np.asarray(self.distance.argmin(axis=-1))


def nearest(*gaps: Gap) -> Gap:
    """Return at every station the gap that is least."""
    best = gaps[0]
    for gap in gaps[1:]:
        closer = gap.distance < best.distance
        best = Gap(
            np.where(closer, gap.distance, best.distance),
            np.where(closer, gap.x, best.x),
            np.where(closer, gap.z, best.z),
        )
    return best


def fixed_line(x: ArrayLike, z: ArrayLike) -> Line:
    """Return a line that stands still; x and z [m], each [..., k]."""
    px, pz = np.broadcast_arrays(np.asarray(x, dtype=np.float64), np.asarray(z, dtype=np.float64))
    return Line(px[..., None, :], pz[..., None, :])


def carried_line(body: Motion, x: ArrayLike, z: ArrayLike) -> Line:
    """Return a line fixed to a moving body; x and z [m] where it lies closed, each [..., k]."""
    still = fixed_line(x, z)
    cos, sin = np.cos(body.phi)[..., None], np.sin(body.phi)[..., None]
    return Line(
        body.x[..., None] + cos * still.x - sin * still.z,
        body.z[..., None] + sin * still.x + cos * still.z,
    )


def capsule_between(foot: PointPath, head: PointPath, radius: ArrayLike) -> Capsule:
    """Return the body between two moving points; `radius` [m], [...]."""
    ax, az, bx, bz = np.broadcast_arrays(foot.x, foot.z, head.x, head.z)
    return Capsule(ax, az, bx, bz, np.asarray(radius, dtype=np.float64))


def _points(*values: ArrayLike) -> list[Array]:
    return [np.asarray(value, dtype=np.float64) for value in values]


def point_segment_distance(
    px: ArrayLike, pz: ArrayLike, ax: ArrayLike, az: ArrayLike, bx: ArrayLike, bz: ArrayLike
) -> tuple[Array, Array, Array]:
    """Return the distance [m] from P to the segment AB and the nearest place (x, z) on it.

    (1) t = clip((P - A) . (B - A) / |B - A|2, 0, 1). All arguments [m] broadcast. A segment without
    length counts as a point. Source: derivation.

    >>> [float(v) for v in point_segment_distance(1, 1, 0, 0, 4, 0)]
    [1.0, 1.0, 0.0]
    """
    x, z, x0, z0, x1, z1 = _points(px, pz, ax, az, bx, bz)
    ux, uz = x1 - x0, z1 - z0
    t = np.clip(((x - x0) * ux + (z - z0) * uz) / np.maximum(ux**2 + uz**2, _TINY**2), 0.0, 1.0)
    nx, nz = x0 + t * ux, z0 + t * uz
    return np.hypot(x - nx, z - nz), nx, nz


def segments_cross(
    ax: ArrayLike,
    az: ArrayLike,
    bx: ArrayLike,
    bz: ArrayLike,
    cx: ArrayLike,
    cz: ArrayLike,
    dx: ArrayLike,
    dz: ArrayLike,
) -> np.ndarray:
    """Return whether the segments AB and CD pass through each other; touching does not count.

    Ends A (ax, az), B (bx, bz), C (cx, cz), D (dx, dz) [m]; all broadcast.
    """
    across = _side(ax, az, bx, bz, cx, cz) * _side(ax, az, bx, bz, dx, dz)
    along = _side(cx, cz, dx, dz, ax, az) * _side(cx, cz, dx, dz, bx, bz)
    return np.asarray((across < 0.0) & (along < 0.0))


def _side(ax: ArrayLike, az: ArrayLike, bx: ArrayLike, bz: ArrayLike, px: ArrayLike, pz: ArrayLike) -> Array:
    """Return a number [m2] that is positive where P lies to the left of the way from A to B."""
    x0, z0, x1, z1, x, z = _points(ax, az, bx, bz, px, pz)
    turn: Array = (x1 - x0) * (z - z0) - (z1 - z0) * (x - x0)
    return turn


def line_height(px: ArrayLike, line: Line) -> Array:
    """Return the height [m] of a line at px [..., n]; level beyond its ends.

    Valid where the line's x never falls from point to point. Source: straight interpolation.
    """
    x = np.asarray(px, dtype=np.float64)[..., None]
    run, rise = np.diff(line.x, axis=-1), np.diff(line.z, axis=-1)
    share = np.clip((x - line.x[..., :-1]) / np.maximum(run, _TINY), 0.0, 1.0)
    height: Array = line.z[..., 0] + (share * rise).sum(axis=-1)
    return height


def _joined(parts: list[Array]) -> Array:
    lead = np.broadcast_shapes(*(part.shape[:-1] for part in parts))
    return np.concatenate([np.broadcast_to(part, lead + part.shape[-1:]) for part in parts], axis=-1)


def _least_of(distance: Array, x: Array, z: Array) -> tuple[Array, Array, Array]:
    index = distance.argmin(axis=-1)[..., None]
    x, z = np.broadcast_to(x, distance.shape), np.broadcast_to(z, distance.shape)
    picked = [np.take_along_axis(array, index, axis=-1)[..., 0] for array in (distance, x, z)]
    return picked[0], picked[1], picked[2]


def capsule_clearance(body: Capsule, line: Line, *, line_radius: ArrayLike = 0.0) -> Gap:
    """Return the distance between a capsule and a bent line (or a single point, k = 1).

    (2) distance = axis to line - radius - line_radius. Where the axis passes through the line its part
    is taken negative: the least of the ways from an end of the axis to the line and from an end of the
    line to the axis, by which the one would have to be drawn back past the other, or the depth by which
    the line sticks through the axis and back. It is continuous in the poses.

    line_radius [m], [...]: half the thickness of the line, or the radius of a circle round a point.
    Source: derivation.
    """
    ax, az, bx, bz = (end[..., None] for end in (body.ax, body.az, body.bx, body.bz))
    x0, z0, x1, z1 = line.x[..., :-1], line.z[..., :-1], line.x[..., 1:], line.z[..., 1:]
    # A corner of the line exactly on the axis counts with one side, so that a passage through it counts once.
    left = _side(ax, az, bx, bz, line.x, line.z) >= 0.0
    passes = (left[..., :-1] != left[..., 1:]) & (_side(x0, z0, x1, z1, ax, az) * _side(x0, z0, x1, z1, bx, bz) < 0.0)
    count = passes.sum(axis=-1)[..., None]
    crossed = np.asarray(count[..., 0] > 0)
    from_a = point_segment_distance(ax, az, x0, z0, x1, z1)
    from_b = point_segment_distance(bx, bz, x0, z0, x1, z1)
    corners = point_segment_distance(line.x, line.z, ax, az, bx, bz)[0]
    if line.x.shape[-1] > 2:
        # Where the line comes back through the axis, its corners beyond it stick through; the furthest counts.
        inner = corners[..., 1:-1]
        stuck = np.where((np.cumsum(passes, axis=-1)[..., :-1] % 2 == 1) & (count % 2 == 0), inner, -1.0)
        deepest = (stuck >= 0.0) & (stuck == stuck.max(axis=-1, keepdims=True))
        inner = np.where((count > 0) & ~deepest, np.inf, inner)
        corners = np.concatenate([corners[..., :1], inner, corners[..., -1:]], axis=-1)
    distance = _joined([from_a[0], from_b[0], corners])
    x, z = _joined([from_a[1], from_b[1], line.x]), _joined([from_a[2], from_b[2], line.z])
    apart, at_x, at_z = _least_of(distance, x, z)
    thick = column(body.radius) + column(line_radius)
    return Gap(np.where(crossed, -apart, apart) - thick, at_x, at_z)


def _extended(x: ArrayLike, z: ArrayLike) -> tuple[Array, Array]:
    px, pz = np.broadcast_arrays(*_points(x, z))
    return (
        np.concatenate([px[..., :1] - _FAR, px, px[..., -1:] + _FAR], axis=-1),
        np.concatenate([pz[..., :1], pz, pz[..., -1:]], axis=-1),
    )


def line_over_profile(line: Line, profile_x: ArrayLike, profile_z: ArrayLike) -> Gap:
    """Return how far a line stays above a solid profile; negative is depth below its surface.

    (3) Two bent lines that do not cross are nearest at a corner of one of them; each corner counts with
    the side on which it lies.

    profile_x, profile_z [m], [..., m], x never falling; carried on level beyond its ends. Valid while
    the line's x rises, that is while its body has turned by less than a right angle.
    Source: derivation.
    """
    px, pz = _extended(profile_x, profile_z)
    still = fixed_line(px, pz)
    # Corners [..., n, k] of the line against the segments [..., 1, 1, m] of the profile.
    d, x, z = point_segment_distance(
        line.x[..., None],
        line.z[..., None],
        px[..., None, None, :-1],
        pz[..., None, None, :-1],
        px[..., None, None, 1:],
        pz[..., None, None, 1:],
    )
    d, x, z = _least_of(d, x, z)
    profile = Line(still.x[..., None, :], still.z[..., None, :])
    below = line.z < line_height(line.x, profile)
    first = _least_of(np.where(below, -d, d), x, z)
    # Corners of the profile against the line.
    cx, cz = still.x[..., :, :, None], still.z[..., :, :, None]
    x0, z0 = line.x[..., None, :-1], line.z[..., None, :-1]
    d = point_segment_distance(cx, cz, x0, z0, line.x[..., None, 1:], line.z[..., None, 1:])[0].min(axis=-1)
    surface = line_height(np.broadcast_to(still.x, d.shape), Line(line.x[..., None, :], line.z[..., None, :]))
    covered = (still.x >= line.x[..., :1]) & (still.x <= line.x[..., -1:])
    second = _least_of(np.where(covered & (surface < still.z), -d, d), still.x, still.z)
    return nearest(Gap(*first), Gap(*second))


def spring_bodies(
    foot: PointPath, head: PointPath, tube_length: ArrayLike, tube_radius: ArrayLike, rod_radius: ArrayLike
) -> tuple[Capsule, Capsule]:
    """Return (tube, rod) of a gas spring; the tube at the head keeps its length, the rod shows what is left.

    foot, head: paths of the end fittings; tube_length (fitting included), tube_radius, rod_radius [m],
    [...]. A spring pressed shorter than its tube is all tube.
    """
    full = capsule_between(foot, head, tube_radius)
    length = np.maximum(np.hypot(full.bx - full.ax, full.bz - full.az), _TINY)
    bare = 1.0 - np.minimum(column(tube_length) / length, 1.0)
    sx, sz = full.ax + bare * (full.bx - full.ax), full.az + bare * (full.bz - full.az)
    rod = Capsule(full.ax, full.az, sx, sz, np.asarray(rod_radius, dtype=np.float64))
    return Capsule(sx, sz, full.bx, full.bz, full.radius), rod


def rim_over_roof(shell: Motion, rim_x: ArrayLike, rim_z: ArrayLike, roof_x: ArrayLike, roof_z: ArrayLike) -> Gap:
    """Return how far the shell's rim stays above the roof skin.

    The part of the rim beyond a hinge goes down as the rest goes up.
    rim_x, rim_z [m], closed, [..., k], x rising; roof profile [m], [..., m].
    """
    return line_over_profile(carried_line(shell, rim_x, rim_z), roof_x, roof_z)


def shell_past_upstand(
    shell: Motion, outline_x: ArrayLike, outline_z: ArrayLike, edge_x: ArrayLike, skin_z: ArrayLike, upstand: ArrayLike
) -> Gap:
    """Return the distance between the shell's inner face and the upstand at one edge of the opening.

    outline: [m], closed, [..., k], as from `shell_outline`; edge_x, skin_z: foot of the upstand;
    upstand: its height; [m], [...]. The place returned lies on the shell. Where the wall passes through
    the upstand between two stations, both count as overlapping by at least a millimetre.
    """
    x, z, top = (column(v) + np.zeros_like(shell.phi) for v in np.broadcast_arrays(*_points(edge_x, skin_z, upstand)))
    gap = capsule_clearance(Capsule(x, z, x, z + top, np.zeros(())), carried_line(shell, outline_x, outline_z))
    # Both are thin, so one can be past the other from one station to the next: seen from the shell, the way
    # of the upstand's top then leads through the outline.
    cos, sin = np.cos(shell.phi), np.sin(shell.phi)
    across, up = x - shell.x, z + top - shell.z
    top_x, top_z = (cos * across + sin * up)[..., None], (cos * up - sin * across)[..., None]
    closed = fixed_line(outline_x, outline_z)
    passed = segments_cross(
        top_x[..., :-1, :],
        top_z[..., :-1, :],
        top_x[..., 1:, :],
        top_z[..., 1:, :],
        closed.x[..., :-1],
        closed.z[..., :-1],
        closed.x[..., 1:],
        closed.z[..., 1:],
    )
    leaps = np.asarray(passed.any(axis=-1))
    none = np.zeros_like(leaps[..., :1])
    hit = np.concatenate([leaps, none], axis=-1) | np.concatenate([none, leaps], axis=-1)
    return Gap(np.where(hit, np.minimum(gap.distance, -_PASSED), gap.distance), gap.x, gap.z)


def past_opening_edges(
    body: Capsule,
    opening_length: ArrayLike,
    roof_x: ArrayLike,
    roof_z: ArrayLike,
    *,
    roof_build: ArrayLike,
    upstand: ArrayLike,
) -> Gap:
    """Return the distance between a spring or arm and what is left of the roof at both ends of the opening.

    At x = 0 and x = opening_length stand the cut edge, from the lining up to the top of the upstand; from
    there outwards run the skin and, roof_build below it, the lining.
    opening_length, roof_build, upstand [m], [...]; roof profile [m], [..., m].
    """
    length, build, top = _points(opening_length, roof_build, upstand)
    px, pz = _extended(roof_x, roof_z)
    profile = fixed_line(px, pz)
    gaps: list[Gap] = []
    for edge, outside in ((np.zeros_like(length), np.minimum), (length, np.maximum)):
        z = line_height(edge[..., None], profile)[..., 0]
        x, lower, upper = np.broadcast_arrays(edge, z - build, z + top)
        gaps.append(capsule_clearance(body, fixed_line(np.stack([x, x], -1), np.stack([lower, upper], -1))))
        # Profile points inside the opening move to its edge and leave no length behind.
        skin_x = outside(px, edge[..., None])
        skin_z = line_height(skin_x, profile)
        skin_x, skin_z = np.broadcast_arrays(skin_x, skin_z)
        gaps.append(capsule_clearance(body, fixed_line(skin_x, skin_z)))
        gaps.append(capsule_clearance(body, fixed_line(skin_x, skin_z - build[..., None])))
    return nearest(*gaps)


def under_shell(body: Capsule, shell: Motion, outline_x: ArrayLike, outline_z: ArrayLike) -> Gap:
    """Return the distance between a spring or arm and the shell's inner face; negative: it pokes through.

    outline [m], closed, [..., k], as from `shell_outline` with the shell's thickness.
    """
    return capsule_clearance(body, carried_line(shell, outline_x, outline_z))


def _board(start: ArrayLike, end: ArrayLike, height: ArrayLike) -> Line:
    x0, x1, z = np.broadcast_arrays(*_points(start, end, height))
    return fixed_line(np.stack([x0, x1], axis=-1), np.stack([z, z], axis=-1))


def over_board(body: Capsule, start: ArrayLike, end: ArrayLike, height: ArrayLike) -> Gap:
    """Return the distance between a spring or arm and a bed board from `start` to `end` at `height` [m], [...]."""
    return capsule_clearance(body, _board(start, end, height))


def shell_over_board(
    shell: Motion,
    outline_x: ArrayLike,
    outline_z: ArrayLike,
    start: ArrayLike,
    end: ArrayLike,
    height: ArrayLike,
) -> Gap:
    """Return the distance between the shell's inner face and a bed board, closed and on the way.

    outline_x, outline_z [m], closed, [..., k]; the board from `start` to `end` at `height` [m], [...].
    """
    board = _board(start, end, height)
    x, z = board.x + np.zeros_like(shell.phi)[..., None], board.z + np.zeros_like(shell.phi)[..., None]
    body = Capsule(x[..., 0], z[..., 0], x[..., 1], z[..., 1], np.zeros(()))
    return capsule_clearance(body, carried_line(shell, outline_x, outline_z))


def past_head(body: Capsule, head_x: ArrayLike, head_z: ArrayLike, head_radius: ArrayLike) -> Gap:
    """Return the distance between a spring or arm and a head, a circle round (head_x, head_z) [m], [...]."""
    x, z = np.broadcast_arrays(*_points(head_x, head_z))
    return capsule_clearance(body, fixed_line(x[..., None], z[..., None]), line_radius=head_radius)
