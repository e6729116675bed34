"""The two lines between which the cloth walls hang, in every row: fitted or built up, closed and open, with seams."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from loftwright.answers.draws import Rows
from loftwright.answers.held_basis import Basis
from loftwright.cloth.rim_fit import RimFit
from loftwright.cloth.rim_places import points_at
from loftwright.cloth.rim_rules import Overhang, judge_fit, overhang
from loftwright.cloth.rim_seams import SeamPlaces
from loftwright.cloth.rims import SIDES, Loop
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.core.wording import Wording
from loftwright.project.assemble_cloth import LEAST_WALL
from loftwright.project.assemble_walls import (
    ClothLine,
    Shaken,
    lower_line,
    open_pose,
    opened,
    seams,
    shaken,
    upper_line,
)

ONLY_RIMS: Final = 48
"""Draws in which nothing but the two lines is unsure: enough to tell its share from that of other inputs."""
OPEN_POSE = "The walls are cut for the roof open on its stop."


@dataclass(frozen=True, slots=True)
class RimsOnly:
    """Both lines, roof open, [draws, n, 3] [m], where nothing but their own points is unsure; row 0 is planned.

    `size` [rows] [m]: how unsure these points are; the draws are made for that of row 0. `seams` as for the others.
    """

    lower: Loop
    upper: Loop
    seams: SeamPlaces
    size: Array


@dataclass(frozen=True, slots=True)
class LinesFound:
    """Both lines, for every row; lengths [m].

    `lower`: the line on the ring, points [rows, n, 3] and arc [rows, n + 1]; `skin`: height of the roof's skin below
    each of its points over the roof at the origin [rows, n]; `closed`: the line in the shell, roof closed, and `upper`:
    the same open on its stop, both [rows, k, 3], point for point the same. A loop's `row(0)` is the planned one; see
    `rim_places.station`, `points_at` and `steady` for places by arc. `seams`: names and matching arcs on both lines
    [rows, seams], and the panels between them. `heights`: of the open wall [rows, 4], least distance from the middle of
    each of `rims.SIDES` on the lower line to the like place of the upper one; `square`: the same square to the rim,
    along which the upper line may have run. `over`: how far the closed upper line lies outside the lower one.
    `lower_fit`, `upper_fit`: where a line is fitted to measured points, else None.
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    lower: Loop
    skin: Array
    closed: Loop
    upper: Loop
    seams: SeamPlaces
    heights: Array
    square: Array
    over: Overhang
    lower_fit: RimFit | None
    upper_fit: RimFit | None
    rims_only: RimsOnly


def the_lines(base: Basis) -> LinesFound:
    """Return the cloth's lower and upper line."""
    project, at = base.project, base.at
    size = base.full(at("walls.rim_error"))
    low, skin = lower_line(project, at)
    up = upper_line(project, at)
    draws = at.draws if isinstance(at, Rows) else slice(base.rows, base.rows)
    errors = Shaken(base.rows, draws, size, project.settings.seed)
    lower, closed = shaken(low, errors, "lower"), shaken(up, errors, "upper")
    upper = opened(project, at, closed, open_pose(base.roof))
    places, said = seams(project, at, lower, upper)
    heights, square = _heights(lower, upper)
    over = overhang(low.loop.row(), up.loop.row())
    judged: list[Judged] = []
    for line, name in ((low, "lower line"), (up, "upper line")):
        if line.fit is not None:
            judged += judge_fit(line.fit, name)
    return LinesFound(
        judged=tuple(judged),
        said=(OPEN_POSE, *low.said, *up.said, *said, *_low_walls(base, square), *_cross(base, over)),
        lower=lower,
        skin=np.broadcast_to(skin, lower.points.shape[:-1]),
        closed=closed,
        upper=upper,
        seams=places,
        heights=heights,
        square=square,
        over=over,
        lower_fit=low.fit,
        upper_fit=up.fit,
        rims_only=_rims_only(base, low, up, size),
    )


def _rims_only(base: Basis, low: ClothLine, up: ClothLine, size: Array) -> RimsOnly:
    """Return the planned roof with nothing but the points of its lines unsure."""
    project, count = base.project, ONLY_RIMS + 1
    errors = Shaken(count, slice(1, count), np.full(count, size[0]), project.settings.seed)

    def planned(path: str) -> Array:
        return np.asarray(base.at(path)[:1])

    lower = shaken(replace(low, loop=_planned(low.loop)), errors, "lower")
    closed = shaken(replace(up, loop=_planned(up.loop)), errors, "upper")
    dx, dz, phi = (part[:1] for part in open_pose(base.roof))
    upper = opened(project, planned, closed, (dx, dz, phi))
    return RimsOnly(lower, upper, seams(project, planned, lower, upper)[0], size)


def _planned(loop: Loop) -> Loop:
    """Return the planned row of a loop as its only one."""
    one = loop.row()
    return replace(one, points=one.points[None], arc=one.arc[None])


def _heights(lower: Loop, upper: Loop) -> tuple[Array, Array]:
    """Return how high the wall stands in the middle of each of `SIDES` [m], [rows, 4]: from place to place, and square.

    Square to the rim leaves out how far the upper line has run along it: y at the ends, x at the sides.
    """
    low, high = (points_at(loop, side_middles(loop)) for loop in (lower, upper))
    apart = high - low
    level = np.stack([apart[..., k, k % 2] for k in range(len(SIDES))], axis=-1)
    return np.asarray(np.linalg.norm(apart, axis=-1)), np.asarray(np.hypot(level, apart[..., 2]))


def side_middles(loop: Loop) -> Array:
    """Return the arc half-way between the corners of each of `SIDES` [m], [rows, 4]."""
    begin, end = loop.corner_arcs()
    before = np.concatenate([end[..., 3:] - loop.perimeter[..., None], end[..., :3]], axis=-1)
    return np.asarray((before + begin) / 2.0)


def _cross(base: Basis, over: Overhang) -> tuple[str, ...]:
    """Return what a builder should know where the closed lines cross, seen from above."""
    found, say = over.crossing(), Wording(base.project.settings.units)
    if found is None:
        return ()
    out, inside = (say.short_length(one) for one in found)
    return (
        f"Seen from above the two lines cross: the upper one lies {out} outside at the {over.most_at} and {inside} "
        f"inside at the {over.least_at}. Where it lies inside, rain runs down the cloth onto the lower line.",
    )


def _low_walls(base: Basis, heights: Array) -> tuple[str, ...]:
    say = Wording(base.project.settings.units)
    return tuple(
        f"The {side} wall is only {say.short_length(float(height))} high in its middle with the roof open: a strip "
        "of cloth rather than a wall."
        for side, height in zip(SIDES, heights[0], strict=True)
        if height < LEAST_WALL
    )
