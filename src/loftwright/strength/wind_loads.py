"""Wind on the raised roof: what pushes on each wall and on the shell, and the wrench that reaches the shell.

A wrench is (Fx, Fy, Fz, Mx, My, Mz) [N, N m] on the shell about the middle of the hinge line; axes x to the cab, y to
the left, z up. Rows come first, [...]; directions, walls and components last. Walls are taken as flat panels between
the rims of opening and shell (see `raised_shape`).
The force of a panel is -(cpe - cpi) q times its vector area, exact for an even pressure on any four corners.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array
from loftwright.reference.wind import EDGE, INSIDE, SIDE, SIDE_SMALL, WINDWARD_SMALL
from loftwright.strength.raised_shape import (
    DIRECTIONS,
    WALLS,
    Direction,
    RaisedShape,
    panel_centre,
    points,
    upper_edge_centre,
    vector_area,
)
from loftwright.strength.wind import velocity_pressure
from loftwright.strength.wind_coefficients import (
    Way,
    by_area,
    canopy_coefficient,
    inside_coefficient,
    leeward_coefficient,
    side_coefficient,
    windward_coefficient,
)

_OPPOSITE: Final[dict[Direction, Direction]] = {"front": "rear", "rear": "front", "left": "right", "right": "left"}
_OUTWARD: Final[dict[Direction, tuple[float, float, float]]] = {
    "front": (1.0, 0.0, 0.0),
    "rear": (-1.0, 0.0, 0.0),
    "left": (0.0, 1.0, 0.0),
    "right": (0.0, -1.0, 0.0),
}


@dataclass(frozen=True, slots=True)
class WindCase:
    """What is taken for a gust beside its speed; every number may be [...].

    `way` the wind takes the shell, `inside` pressure coefficient [1], `blockage` [1] 1 with the walls closed and 0 with
    them rolled up, `upper_share` [1] of a wall's load that goes up into the shell, `centre` [1] of the push on the
    shell as a share of its depth from the edge that the wind meets.
    """

    way: Way
    inside: Array | float
    blockage: Array | float = 1.0
    upper_share: Array | float = 0.5
    centre: Array | float = 0.25


UP: Final = WindCase("up", INSIDE[1])
DOWN: Final = WindCase("down", INSIDE[0])
CASES: Final = (UP, DOWN)
"""Both are to be borne: the standard gives a greatest and a least load for every direction."""


@dataclass(frozen=True, slots=True)
class PartLoad:
    """The wind on one part: net `coefficient` [1] and `area` [m2], [...]; `force` [N] at `centre` [m], [..., 3].

    `shell_force` [N] is what of it reaches the shell, at `shell_point` [m], [..., 3]; the rest goes into the ring.
    """

    name: str
    coefficient: Array
    area: Array
    force: Array
    centre: Array
    shell_force: Array
    shell_point: Array


def _facing(shape: RaisedShape, direction: Direction) -> tuple[Array, Array, Array]:
    """Return height above the ground, width across and depth along the wind [m]."""
    along = direction in ("front", "rear")
    height = shape.roof_height + shape.raised
    return (height, shape.width, shape.length) if along else (height, shape.length, shape.width)


def wall_coefficient(shape: RaisedShape, wall: Direction, direction: Direction) -> Array:
    """Return cpe,10 [1] of a wall, [...], for wind from a direction.

    h is the height of the raised roof's highest rim above the ground and d the depth of the raised part along the
    wind: van and raised part are one body to the wind. With `roof_height` nought the raised part stands alone, which
    reads up to a fifth less. Source: EN 1991-1-4:2005, Table 7.1.
    """
    height, width, depth = _facing(shape, direction)
    if wall == direction:
        return windward_coefficient(height / depth)
    if wall == _OPPOSITE[direction]:
        return leeward_coefficient(height / depth)
    return side_coefficient(height, width, depth)


def parts(
    shape: RaisedShape, gust: ArrayLike, direction: Direction, *, case: WindCase = UP, factor: ArrayLike = 1.0
) -> tuple[PartLoad, ...]:
    """Return the wind on each wall, on the shell's faces and on its own side.

    Walls: F = -(cpe - cpi) q A (4), cpe by `wall_coefficient`; a share acts on the shell at the wall's upper edge.
    Shell: F = -cf q A n (5), cf of a blocked canopy, square to it, at the centre of pressure. Side of the shell:
    F = 1.3 q A along the wind (6). `gust` [m/s] at roof height and `factor` [1] on all coefficients, each [...].
    Source: EN 1991-1-4:2005, Tables 7.1 and 7.6, Figure 7.16; (6) judgement.
    """
    q = velocity_pressure(gust) * np.asarray(factor, dtype=np.float64)
    share = np.asarray(case.upper_share, dtype=np.float64)
    found = []
    for wall in WALLS:
        corners = shape.corners(wall)
        net = (wall_coefficient(shape, wall, direction) - case.inside) * np.asarray(case.blockage)
        area = vector_area(corners)
        force = -(net * q)[..., None] * area
        onto = share[..., None] * force
        size = np.linalg.norm(area, axis=-1)
        found.append(
            PartLoad(f"{wall} wall", net, size, force, panel_centre(corners), onto, upper_edge_centre(corners))
        )
    return (*found, *_shell_parts(shape, q, direction, case))


def _shell_parts(shape: RaisedShape, q: Array, direction: Direction, case: WindCase) -> tuple[PartLoad, PartLoad]:
    cf = canopy_coefficient(shape.tilt, case.way, case.blockage)
    area = shape.shell_length * shape.shell_width
    normal = points(-np.sin(shape.tilt), 0.0, np.cos(shape.tilt))
    lift = -(cf * q * area)[..., None] * normal
    off = 0.5 - np.asarray(case.centre, dtype=np.float64)
    toward = _OUTWARD[direction]
    at = shape.on_shell(shape.shell_length * (0.5 + off * toward[0]), shape.shell_width * off * toward[1])
    across = shape.shell_width if direction in ("front", "rear") else shape.shell_length
    side = across * shape.shell_height
    push = -(EDGE * q * side)[..., None] * np.asarray(toward)
    middle = shape.on_shell(shape.shell_length / 2.0, 0.0, shape.shell_height / 2.0)
    edge = np.full(np.shape(side), EDGE)
    return (
        PartLoad("shell", cf, area, lift, at, lift, at),
        PartLoad("side of the shell", edge, side, push, middle, push, middle),
    )


def wrench_of(loads: tuple[PartLoad, ...], about: Array) -> Array:
    """Return the wrench on the shell about a point: sum F, sum (r - r0) x F (7).

    `about` r0 [m], [..., 3]; forces [N] and moments [N m], [..., 6]. Source: derivation, statics.
    """
    force: Array = sum((load.shell_force for load in loads), np.zeros(3))
    moment: Array = sum((np.cross(load.shell_point - about, load.shell_force) for load in loads), np.zeros(3))
    return np.concatenate(np.broadcast_arrays(force, moment), axis=-1)


def wrenches(
    shape: RaisedShape,
    gust: ArrayLike,
    directions: tuple[Direction, ...] = DIRECTIONS,
    factor: ArrayLike = 1.0,
    *,
    case: WindCase = UP,
) -> Array:
    """Return the wrench on the shell about the middle of the hinge line for each direction, by (4) to (7).

    `gust` [m/s] at roof height and `factor` [1] on all coefficients, each [...]; forces [N] and moments [N m],
    [..., directions, 6]. Proportional to the square of the gust.
    Source: EN 1991-1-4:2005; see `parts`.
    """
    found = [wrench_of(parts(shape, gust, d, case=case, factor=factor), shape.hinge) for d in directions]
    return np.stack(found, axis=-2)


def panel_coefficients(
    shape: RaisedShape,
    directions: tuple[Direction, ...] = DIRECTIONS,
    *,
    window: Direction | None = None,
    window_share: ArrayLike = 0.9,
) -> Array:
    """Return the worst net coefficient on a piece of each wall, for the cloth itself, [..., directions, walls].

    Outside cpe between cpe,1 and cpe,10 by the wall's area, the worst zone of walls along the wind; inside the worse of
    +0.2 and -0.3, or of these and the pressure through an open `window` in one wall with its `window_share` [1].
    Positive pushes the cloth in, negative blows it out [1]. Source: EN 1991-1-4:2005, Table 7.1, 7.2.1 and 7.2.9.
    """
    rows = []
    for direction in directions:
        height, _, depth = _facing(shape, direction)
        ends: dict[Direction, tuple[ArrayLike, Array]] = {
            direction: (WINDWARD_SMALL, windward_coefficient(height / depth))
        }
        lee = leeward_coefficient(height / depth)
        ends[_OPPOSITE[direction]] = (lee, lee)
        outside = {}
        for wall in WALLS:
            small, large = ends.get(wall, (SIDE_SMALL[0], np.full(np.shape(height), SIDE[0])))
            outside[wall] = by_area(small, large, np.linalg.norm(vector_area(shape.corners(wall)), axis=-1))
        inside = [np.asarray(v) for v in INSIDE]
        if window is not None:
            inside.append(inside_coefficient(outside[window], window_share))
        nets = [np.stack(np.broadcast_arrays(*(outside[wall] - i for i in inside)), axis=-1) for wall in WALLS]
        worst = [np.take_along_axis(n, np.abs(n).argmax(axis=-1)[..., None], axis=-1)[..., 0] for n in nets]
        rows.append(np.stack(np.broadcast_arrays(*worst), axis=-1))
    return np.stack(rows, axis=-2)
