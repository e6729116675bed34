"""From the linkage of the project file to how the shell moves and where it is held."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from loftwright.core.errors import CannotAssemble
from loftwright.core.motion import Array, Flags, Travel
from loftwright.mechanics.feel import NEVER
from loftwright.mechanics.four_bar import FourBar, dead_points, four_bar_travel, require_possible
from loftwright.mechanics.guides import Shoes, guides_travel
from loftwright.mechanics.hinge import hinge_travel
from loftwright.mechanics.reactions import Pins
from loftwright.mechanics.scissor import crossing_ends, scissor_travel
from loftwright.project.linkage_section import ARM_PINS
from loftwright.project.model import Project
from loftwright.project.plane import end_in_plane, plane_of

Values = Callable[[str], Array]
"""Gives the value at a path for every row, [rows]."""


@dataclass(frozen=True, slots=True)
class Moved:
    """The travel, which rows can be assembled, and for arms what `Roof` says of them, with arm a's turning sense."""

    travel: Travel
    possible: Flags
    transmission: Array | None
    lines_up: Array | None
    sense: Array
    stands: Array | None = None


def travel(project: Project, at: Values, stations: int, sense: Array | None = None) -> Moved:
    """Return how the shell moves, for every row.

    Raises CannotAssemble when there is one row only and its arms do not reach.
    """
    link = project.linkage
    if link.kind == "hinge":
        found = hinge_travel(*_place(at, "hinge"), at("linkage.opens"), end=end_in_plane(project), stations=stations)
        return _free(found)
    if link.kind == "guides":
        rise = at("linkage.rise")
        return _free(
            guides_travel(rise, np.zeros_like(rise) if link.leans is None else at("linkage.leans"), stations=stations)
        )
    if link.kind == "scissor":
        crossing = scissor_travel(
            *_place(at, "arm_a_van"), *_place(at, "arm_a_shell"), at("linkage.opens"), stations=stations
        )
        if crossing.possible.size == 1 and not crossing.possible.all():
            raise CannotAssemble(
                "The crossing arms lie flat or stand upright within the travel; open less or raise an end."
            )
        rows = crossing.possible.size
        return Moved(crossing.travel, crossing.possible, None, None, np.ones(rows), crossing.angle)
    bar = FourBar(*(at(f"linkage.{pin}.{axis}") for pin in ARM_PINS for axis in ("x", "z")))
    lip = lip_of(project, at)
    moved = four_bar_travel(bar, at("linkage.opens"), stations=stations, raises=lip, sense=sense)
    if moved.possible.size == 1:
        require_possible(moved)
    dead = dead_points(moved)
    first = np.minimum(dead.arm_a.fraction, dead.arm_b.fraction)
    lines_up = np.where(dead.change, first, NEVER)
    return Moved(moved.travel, moved.possible, moved.transmission, lines_up, moved.sense)


def _free(found: Travel) -> Moved:
    """Return a travel that no row can fail to make."""
    rows = found.q.shape[0]
    return Moved(found, np.ones(rows, dtype=np.bool_), None, None, np.ones(rows))


def _place(at: Values, name: str) -> tuple[Array, Array]:
    """Return a point of the linkage, closed (x, z) [m]."""
    return at(f"linkage.{name}.x"), at(f"linkage.{name}.z")


def lip_of(project: Project, at: Values) -> tuple[Array, Array]:
    """Return the free edge furthest from the hinged end, closed (x, z) [m]."""
    plane = plane_of(project)
    behind, length, z = at(plane.overhang), at(plane.shell), at("shell.rim_height")
    return (-behind, z) if end_in_plane(project) == "front" else (length - behind, z)


def shoes(project: Project, at: Values) -> Shoes | None:
    """Return the shoes of straight guides, those of two pairs taken together; None where there are none."""
    link = project.linkage
    if link.kind != "guides":
        return None
    pairs = [_place(at, "guide")]
    if link.guide_far is not None:
        pairs.append(_place(at, "guide_far"))
    x, z = (np.mean([pair[axis] for pair in pairs], axis=0) for axis in (0, 1))
    return Shoes(x, z, at("linkage.guide_length"), at("linkage.guide_friction"), tuple(pairs))


def pins(project: Project, at: Values) -> Pins:
    """Return where the shell is held, closed; of shoes their upper and lower ends."""
    kind = project.linkage.kind
    if kind == "hinge":
        hinge = _place(at, "hinge")
        return Pins((hinge,), (hinge,))
    held = shoes(project, at)
    if held is not None:
        lean = 0.0 if project.linkage.leans is None else at("linkage.leans")
        ends = tuple(
            (held.x + side * held.length / 2 * np.sin(lean), held.z + side * held.length / 2 * np.cos(lean))
            for side in (1.0, -1.0)
        )
        return Pins(ends, ends)
    if kind == "scissor":
        low, high = _place(at, "arm_a_van"), _place(at, "arm_a_shell")
        slides, fixed = crossing_ends(*low, *high)
        return Pins((low, slides), (high, fixed), crossing=True)
    van = tuple(_place(at, p) for p in ("arm_a_van", "arm_b_van"))
    shell = tuple(_place(at, p) for p in ("arm_a_shell", "arm_b_shell"))
    return Pins(van, shell)
