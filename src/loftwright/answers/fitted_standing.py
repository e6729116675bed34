"""Room to stand: the height free over every place of the floor, open and closed, and who can stand upright there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.fitout.headroom import (
    Upright,
    Walk,
    ceiling,
    longest_walk,
    room_over,
    standing_area,
    who_stands,
)
from loftwright.fitout.headroom_rules import sits_up, stands, walks
from loftwright.plan.scout import Outline, Pose, clear_at
from loftwright.plan.scout import ceiling as ceiling_line
from loftwright.project.assemble_riding import lining_thickness
from loftwright.project.assemble_van import on_shell, roof_top, stands_out
from loftwright.project.assemble_walls import open_pose
from loftwright.project.plane import CROSSWISE
from loftwright.strength.on_van import overall_height

CELL: Final = 0.05
"""Side of a cell of the map [m], about: the floor is so divided evenly."""

WALLS_LEAN: Final = (
    "The ceiling is alike from side to side; the walls of cloth at both ends lean from the shell's rim to the opening."
)
WHOLE_BED: Final = "The bed board is taken as wide as the opening; cupboards are not known and take floor of their own."
NO_BED: Final = "No [bed] is written: the whole floor under the opening is taken as free."
BARE: Final = "Sitting up is judged on the bare board, where the ceiling over it is highest: a mattress takes its own."
SOLDIERS: Final = "Heights of people are those of soldiers: fitter and younger than others."
OVER_BED: Final = "under the open roof"


@dataclass(frozen=True, slots=True)
class StandingFound:
    """Room to stand, arrays [rows] unless said otherwise.

    `x` and `y` are the middles of cells on the van [m], x to the cab and y to the left; `opened` and `closed`: height
    over floor, or over the bed where it lies [m], [rows, ny, nx]; `bed` [ny, nx]: where the planned bed lies. `need`
    and `wanted` as asked [m], [m2]; `area`, `area_closed` to stand on [m2]; `walk` upright [m]; `highest` over free
    floor and `on_area`, the height free on all of the wanted area, [m]; `upright`: who stands there [1]; `over_bed`:
    greatest height over the board, None without one. `height_closed`, `height_open` of the van over the ground [m].
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    x: Array
    y: Array
    opened: Array
    closed: Array
    bed: Array
    need: Array
    wanted: Array
    area: Array
    area_closed: Array
    walk: Walk
    highest: Array
    on_area: Array
    upright: Upright
    over_bed: Array | None
    height_closed: Array
    height_open: Array


def room_to_stand(base: Basis) -> StandingFound:
    """Return the room to stand with its judgements."""
    project, at = base.project, base.at
    lined = _lined(base)
    across = base.plane is CROSSWISE
    size = [base.full(np.asarray(v, dtype=np.float64)) for v in (lined.opening_length, lined.opening_width)]
    long, wide = (float(v[0]) for v in size)
    u, du = _cells(long)
    v, dv = _cells(wide)
    v = v - wide / 2
    zero = np.zeros(base.rows)
    floor = base.full(-at("van.floor_to_roof"))
    on_bed = np.zeros((base.rows, 1, u.size), dtype=np.bool_)
    level = np.broadcast_to(floor[:, None, None], on_bed.shape)
    if project.bed is not None:
        begin, end, top = (base.full(at(f"bed.{name}"))[:, None, None] for name in ("from", "to", "height"))
        on_bed = np.asarray((u >= np.minimum(begin, end)) & (u <= np.maximum(begin, end)))
        level = np.where(on_bed, top, level)
    maps = []
    for pose in (Pose(*open_pose(base.roof)), Pose(zero, zero, zero)):
        under = _over(lined, pose, u)[:, None, :]
        beside = base.full(-at("van.roof_build"))[:, None, None]
        over = ceiling(u, v, under, beside, *size)
        maps.append(room_over(over, level))
    opened, closed = maps
    bed = np.broadcast_to(on_bed, opened.shape)
    free_open, free_closed = (np.where(bed, 0.0, one) for one in (opened, closed))
    need, wanted = base.full(at("standing.height")), base.full(at("standing.area"))
    area = standing_area(free_open, need, du, dv)
    walk = longest_walk(free_open, need, du, dv)
    on_area = _over_area(free_open, wanted, du * dv)
    over_bed = None if project.bed is None else np.where(bed, opened, 0.0).max(axis=(-2, -1))
    judged = [stands(area, wanted), walks(Walk(np.maximum(walk.along, walk.across), walk.across))]
    if over_bed is not None:
        judged.append(sits_up(over_bed, which=OVER_BED))
    top = roof_top(base.outline)
    ground = base.full(at("body.height"))
    if across:
        opened, closed = _on_van(opened), _on_van(closed)
        bed = _on_van(bed.astype(np.float64)) > 0.5
        walk = Walk(walk.across, walk.along)
        x, y = v + wide / 2, long / 2 - u[::-1]
    else:
        x, y = u, v
    return StandingFound(
        judged=tuple(judged),
        said=(WALLS_LEAN, *((NO_BED,) if over_bed is None else (WHOLE_BED, BARE)), SOLDIERS),
        x=x,
        y=y,
        opened=opened,
        closed=closed,
        bed=bed[0],
        need=need,
        wanted=wanted,
        area=area,
        area_closed=standing_area(free_closed, need, du, dv),
        walk=walk,
        highest=free_open.max(axis=(-2, -1)),
        on_area=on_area,
        upright=who_stands(on_area),
        over_bed=over_bed,
        height_closed=base.full(overall_height(ground, top, stands_out(project, at, base.outline))),
        height_open=height_open(base),
    )


def _lined(base: Basis) -> Outline:
    """Return opening and shell with the lining under it."""
    one = base.outline
    thick = np.asarray(one.thickness) + lining_thickness(base.project, base.at)
    return Outline(
        one.opening_length,
        one.opening_width,
        one.shell_length,
        one.overhang,
        one.rim,
        one.rear,
        one.middle,
        one.front,
        thick,
    )


def _cells(length: float) -> tuple[Array, float]:
    """Return the middles of even cells over a `length` [m] and the size of one [m]."""
    count = max(round(length / CELL), 1)
    size = length / count
    return np.asarray((np.arange(count) + 0.5) * size), size


def _over(outline: Outline, pose: Pose, u: Array) -> Array:
    """Return the lowest ceiling over places `u` [m], [nx], above the roof [m], [rows, nx]; the roof where none is."""
    x, z = ceiling_line(outline, pose)
    found = clear_at((x[..., None, :], z[..., None, :]), u)
    return np.asarray(np.where(np.isfinite(found), found, 0.0))


def _over_area(room: Array, wanted: Array, cell: float) -> Array:
    """Return the height [m], [rows], that is free on an area `wanted` [m2], [rows], of cells of `cell` [m2]."""
    flat = -np.sort(-room.reshape(room.shape[0], -1), axis=-1)
    last = np.clip(np.ceil(wanted / cell - 1e-9).astype(int) - 1, 0, flat.shape[-1] - 1)
    found = np.take_along_axis(flat, last[:, None], axis=-1)[:, 0]
    return np.asarray(np.where(wanted <= cell * flat.shape[-1] + 1e-9, found, 0.0))


def _on_van(value: Array) -> Array:
    """Return a map of the plane across the van, [..., across it, along it], as the van's own [..., y, x]."""
    return np.asarray(np.swapaxes(value, -1, -2)[..., ::-1, :])


def height_open(base: Basis) -> Array:
    """Return how high the van stands with its roof open, over the ground [m], [rows]: the shell and what lies on it."""
    one = base.outline
    rear = -np.asarray(one.overhang)
    ends = (rear, rear + np.asarray(one.shell_length) / 2, rear + np.asarray(one.shell_length))
    _, dz, phi = open_pose(base.roof)
    rim = np.asarray(one.rim)
    places = [(x, rim + np.asarray(high)) for x, high in zip(ends, (one.rear, one.middle, one.front), strict=True)]
    places += on_shell(base.project, base.at, one)
    tops = [dz + np.sin(phi) * x + np.cos(phi) * z for x, z in places]
    highest = np.max(np.stack(np.broadcast_arrays(*tops), axis=-1), axis=-1)
    return base.full(np.asarray(base.at("body.height") + highest))
