"""Where the fold is looked at, and how the shell moves there: from the linkage to the strip's own plane.

Van's frame: x to the cab, y left, z up. Plane of a station: u inward, z up, origin at its lower point. Of the draws
the nominal row is taken: the fold is a stored answer and does not follow every draw.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from loftwright.cloth.chain import Drive, Room
from loftwright.core.motion import Array, Motion, first_row

PlaneOfMotion = Literal["lengthwise", "crosswise"]

LEAST_HEIGHT = 0.08
"""Walls lower than this hardly fold [m]: judgement."""
DRIFT_SHARE = 0.25
"""A run along the rim of more than this share of the wall's height is told [1]: judgement."""
SHEAR_SHARE = 0.3
"""From this share on the wall does not fold along the rim as reckoned [1]: woven cloth shears by 17 degrees. Judgement;
a hinged roof that opens by 30 degrees stays a little below it, parallel arms are far beyond."""
DRIVE_POINTS = 121
"""Points of a drive over the lowering."""

_SIDES = (("mid rear", 0, -1.0), ("mid right", 1, -1.0), ("mid front", 0, 1.0), ("mid left", 1, 1.0))


@dataclass(frozen=True, slots=True)
class Place:
    """A place of the rim: `lower` [3] on the ring, `upper` [3] in the closed shell [m]; `outward` [2] level, long 1."""

    name: str
    lower: Array
    upper: Array
    outward: Array

    @property
    def along(self) -> Array:
        """Direction along the rim, counter-clockwise from above, [2] [1]."""
        return np.array([-self.outward[1], self.outward[0]])


@dataclass(frozen=True, slots=True)
class Section:
    """How the shell moves at one place, from open to closed.

    `drive`; `share` [k] of the opening, from 1 open to 0 closed [1]; `tilt` [k] the shell's turn in this plane [rad],
    from u towards z; `drift` [k] how far the upper point has run along the rim since open [m], counter-clockwise
    positive; `height` [m] from lower to upper point when open; `gap` [m] between them, upright, when closed; `over`
    [m] by which the closed upper point lies outside the lower one.
    """

    name: str
    drive: Drive
    share: Array
    tilt: Array
    drift: Array
    height: float
    gap: float
    over: float


def _crossings(curve: Array, axis: int, at: float) -> Array:
    """Return the points [c, 3] at which a closed polyline [n, 3] crosses `at` on an axis."""
    following = np.roll(curve, -1, axis=0)
    before, after = curve[:, axis] - at, following[:, axis] - at
    hit = (before <= 0) != (after <= 0)
    share = (before[hit] / (before[hit] - after[hit]))[:, None]
    return np.asarray(curve[hit] + share * (following[hit] - curve[hit]))


def places_of(lower: Array, upper: Array) -> tuple[Place, ...]:
    """Return the places at the middle of rear, right, front and left, in the order in which the rims run.

    `lower` [m, 3] and `upper` [n, 3], the latter with the shell closed, are closed curves as points [m]. Each is cut
    by the upright plane through the middle of the lower one's length or width; between points straight. ValueError
    where a curve does not cross that plane on both sides.
    """
    middle = (lower.max(axis=0) + lower.min(axis=0)) / 2
    return tuple(place_at(lower, upper, side, float(middle[1 - axis])) for side, (_, axis, _) in enumerate(_SIDES))


def place_at(lower: Array, upper: Array, side: int, at: float) -> Place:
    """Return the place on one side of the rims, cut by the upright plane square to it `at` [m] along the van or across.

    `side` counts rear, right, front, left from nought; `lower` [m, 3] and `upper` [n, 3] as for `places_of` [m].
    ValueError where a curve does not cross that plane on both sides.
    """
    name, axis, sign = _SIDES[side]
    ends = []
    for curve in (lower, upper):
        points = _crossings(curve, 1 - axis, at)
        if len(points) < 2:
            raise ValueError(f"the rims do not go round the middle of the opening ({name})")
        ends.append(points[int(np.argmax(sign * points[:, axis]))])
    outward = np.zeros(2)
    outward[axis] = sign
    return Place(name, ends[0], ends[1], outward)


def heights_over(lower: Array, upper: Array, side: int, at: Array) -> Array:
    """Return how high the open wall stands [m], square to its rim, over places `at` [k] [m] of one side, [k].

    `side` and `at` as for `place_at`; `lower` and `upper` [n, 3] [m], the latter with the roof open, which may have run
    along: where it does not reach that far its nearest end counts. ValueError as there.
    """
    name, axis, sign = _SIDES[side]
    found = []
    for spot in at:
        ends = []
        for curve in (lower, upper):
            least, most = curve[:, 1 - axis].min(), curve[:, 1 - axis].max()
            points = _crossings(curve, 1 - axis, float(np.clip(spot, least + 1e-3, most - 1e-3)))
            if len(points) < 2:
                raise ValueError(f"the rims do not go round the middle of the opening ({name})")
            ends.append(points[int(np.argmax(sign * points[:, axis]))])
        apart = ends[1] - ends[0]
        found.append(float(np.hypot(apart[axis], apart[2])))
    return np.array(found)


def _plane(plane: PlaneOfMotion, half_width: float) -> tuple[Array, Array]:
    """Return origin [2] and direction [2] of the plane of motion's x in the van's frame."""
    if plane == "lengthwise":
        return np.zeros(2), np.array([1.0, 0.0])
    return np.array([0.0, half_width]), np.array([0.0, -1.0])


def section_of(
    place: Place,
    motion: Motion,
    share: Array,
    seconds: float,
    *,
    plane: PlaneOfMotion = "lengthwise",
    half_width: float = 0.0,
    points: int = DRIVE_POINTS,
    upper_lean: float = 0.0,
    foot_lean: float = 0.0,
) -> Section:
    """Return how the shell moves at `place` over the lowering, in the strip's own plane.

    The upper point follows `motion` (nominal row): u = (P - L) . i and z = (P - L)_z (1) with the inward direction i,
    drift = (P - P_open) . s (2) along the rim s. The shell's turn phi seen in this plane is
    tilt = atan2(c sin phi, cos phi), c = i . a (3), a the direction of the plane of motion's x: full where the wall is
    square to it, nought where it is along it. `share` [n] of the opening [1] goes with the stations of the motion;
    the lowering takes `seconds` [s] at an even rate of it and is cut into `points`. `plane` "crosswise": the motion's x
    runs from the left edge of the opening, `half_width` [m] from the middle, to the right. The track holds the cloth
    by `upper_lean` in the shell and `foot_lean` on the ring, inward positive [rad]. ValueError for fewer than two
    points or a time that is not positive.
    Source: planar rigid-body kinematics, derivation.
    """
    if points < 2 or seconds <= 0:
        raise ValueError("a lowering needs two points and some time")
    origin, axis = _plane(plane, half_width)
    inward = -place.outward
    even = np.linspace(1.0, 0.0, points)
    x, z, phi = (np.interp(even, share, first_row(v)) for v in (motion.x, motion.z, motion.phi))
    px, pz = float((place.upper[:2] - origin) @ axis), float(place.upper[2])
    cos, sin = np.cos(phi), np.sin(phi)
    qx, qz = x + cos * px - sin * pz, z + sin * px + cos * pz
    level = place.upper[:2] + (qx - px)[:, None] * axis
    u, up = (level - place.lower[:2]) @ inward, qz - place.lower[2]
    drift = (level - level[0]) @ place.along
    tilt = np.arctan2(float(inward @ axis) * sin, cos)
    height = float(np.hypot(u[0], up[0]))
    drive = Drive(u, up, tilt + upper_lean, seconds, foot_lean)
    return Section(place.name, drive, even, tilt, drift, height, float(up[-1]), float(-u[-1]))


def swept(rim: Array, motion: Motion, *, plane: PlaneOfMotion = "lengthwise", half_width: float = 0.0) -> Array:
    """Return the room that opens under the shell's rim [m3], [..., n], at every station of `motion`, 0 when closed.

    A flat face of area A sweeps dV = A n . dc (1), n square to it and c the path of its middle; summed over the
    stations with n half-way, which is exact for a turn at even steps up to the chord's shortening. `rim` [m, 3]:
    closed curve of the upper edge with the shell closed [m], nearly flat and level. `plane` and `half_width` [m] as
    for `section_of`.
    Source: volume swept by a moving flat face, derivation.
    """
    origin, axis = _plane(plane, half_width)
    along = (rim[:, :2] - origin) @ axis
    across = rim[:, :2] @ np.array([-axis[1], axis[0]])
    following, beside = np.roll(along, -1), np.roll(across, -1)
    cross = along * beside - following * across
    area = float(np.sum(cross)) / 2
    middle = float(np.sum((along + following) * cross)) / (6 * area)
    path = motion.point(middle, float(np.mean(rim[:, 2])))
    phi = (motion.phi[..., 1:] + motion.phi[..., :-1]) / 2
    steps = abs(area) * (-np.sin(phi) * np.diff(path.x, axis=-1) + np.cos(phi) * np.diff(path.z, axis=-1))
    total = np.cumsum(steps, axis=-1)
    return np.asarray(np.concatenate([np.zeros_like(total[..., :1]), total], axis=-1))


def pace(share: ArrayLike, volume: Array, seconds: float, points: int = DRIVE_POINTS) -> tuple[Array, Array]:
    """Return how fast the room shrinks [m3/s] over the lowering, and the share [1] at which, each [points].

    `share` [n] of the opening and `volume` [n] there [m3]; lowered at an even rate of the share in `seconds` [s],
    cut into `points`.
    """
    even = np.linspace(1.0, 0.0, points)
    room = np.interp(even, np.asarray(share, dtype=np.float64), first_row(volume))
    return np.asarray(-np.gradient(room, seconds / (points - 1))), even


def room_of(
    section: Section,
    ceiling: float,
    *,
    boxes: ArrayLike = (),
    bars: ArrayLike = (),
    pulls: ArrayLike = (),
    holds: ArrayLike = (),
    friction: float = 0.4,
    pressure: Array | None = None,
) -> Room:
    """Return what the strip of a `section` meets, with empty parts where nothing is given.

    `ceiling` [m], `boxes` [b, 4] [m], `bars` [c, 3] [m], `pulls` [p, 2] [1] and [N/m], `holds` [h, 3] [1] and [m],
    `friction` [1] of cloth on cloth as in `chain.Room`; `pressure` [k] at the points of the drive [Pa], or none.
    The friction is judgement. ValueError where the pressure is of another length.
    """
    blowing = np.zeros_like(section.share) if pressure is None else pressure
    if blowing.shape != section.share.shape:
        raise ValueError("the pressure must stand at the points of the drive")
    b, c, p, h = (
        np.asarray(v, dtype=np.float64).reshape(-1, n) for v, n in ((boxes, 4), (bars, 3), (pulls, 2), (holds, 3))
    )
    return Room(b, ceiling, section.tilt, c, friction, p, h, blowing)
