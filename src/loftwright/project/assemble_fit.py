"""From the file's keys on the fit to roof, rim, hole, seal and hinge plates, for every row.

Roof and rim lie in the frame of the van: x to the cab, y left, origin in the middle of the rear edge of the opening.
Hinge plates and the roof under them lie in the plane in which the shell moves: for a hinge along a side x counts from
the left edge to the right, y to the cab.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loftwright.core.motion import Array
from loftwright.core.uncertain import Provenance
from loftwright.project.carrying import Values
from loftwright.project.model import Project
from loftwright.project.plane import CROSSWISE, plane_of
from loftwright.strength.fit_rim import Rim, shell_rim
from loftwright.strength.fit_surfaces import Points, Surface, measured_surface
from loftwright.strength.packers import Plates, plates

BENDS_FROM = 3
"""Points of the roof's profile from which it tells the roof's bend, where nobody stretched a string: a parabola."""


@dataclass(frozen=True, slots=True)
class Hole:
    """The opening: `length`, `width` and corner `radius` [m], each [rows]; `sharp`: the radius is not written."""

    length: Array
    width: Array
    radius: Array
    sharp: bool


@dataclass(frozen=True, slots=True)
class Hinged:
    """What packers are made for: `plates` and `roof` in the plane of motion, heights [m], each [rows].

    `height` of the pins over the roof at the origin; `least`: thinnest edge; `play`: of a pin in its bearing;
    `made`: thickness of the packers there are, None where there are none yet; `opens` [rad].
    """

    plates: Plates
    height: Array
    least: Array
    play: Array
    opens: Array
    made: Array | None


@dataclass(frozen=True, slots=True)
class Shapes:
    """All that the fit needs, for every row; lengths [m], each [rows].

    `roof` in the frame of the van, `under` the same roof in the plane of motion (the very same for a roof that moves
    along the van); `slide`: how far the shell may be moved either way.
    """

    roof: Surface
    under: Surface
    rim: Rim
    hole: Hole
    slide: Array
    seal_least: Array
    seal_most: Array
    trim_allowance: Array


def shapes(project: Project, at: Values) -> Shapes:
    """Return roof, rim, hole and seal for every row."""
    length, width = at("opening.length"), at("opening.width")
    radius = np.zeros_like(length) if project.cut.corner_radius is None else at("cut.corner_radius")
    hole = Hole(length, width, _rounded(radius, length, width), project.cut.corner_radius is None)
    roof, under = _roofs(project, at)
    fit = tuple(at(f"fit.{name}") for name in ("slide", "seal_least", "seal_most", "trim_allowance"))
    return Shapes(roof, under, _rim(project, at), hole, *fit)


def _rounded(radius: Array, length: Array, width: Array) -> Array:
    """Return a corner radius that fits its rectangle in every row [m]."""
    return np.minimum(radius, np.minimum(length, width) / 2.0)


def _roofs(project: Project, at: Values) -> tuple[Surface, Surface]:
    """Return the roof in the frame of the van and in the plane of motion."""
    length, width = at("opening.length"), at("opening.width")
    across = plane_of(project) is CROSSWISE
    spots = range(len(project.roof.profile))
    along = [at(f"roof.profile.{i}.x") for i in spots]
    heights = [at(f"roof.profile.{i}.z") for i in spots]
    told = _bend(along, heights, width if across else length)
    crown = at("roof.crown") if told is None or not across or _written(project, "crown") else told
    camber = at("roof.camber") if told is None or across or _written(project, "camber") else told
    middle = np.zeros_like(length)
    x, y, z = ([at(f"roof_point.{i}.{axis}") for i in range(len(project.roof_point))] for axis in ("x", "y", "height"))
    x += [length / 2.0] * len(along) if across else along
    y += [width / 2.0 - place for place in along] if across else [middle] * len(along)
    points = _points(x, y, [*z, *heights])
    roof = measured_surface(
        crown=crown, width=width, camber=camber, length=length, middle=length / 2.0, points=points
    ).settled()
    if not across:
        return roof, roof
    turned = (
        None if points is None else Points(width[:, None] / 2.0 - points.y, points.x - length[:, None] / 2.0, points.z)
    )
    return roof, measured_surface(
        crown=camber, width=length, camber=crown, length=width, middle=width / 2.0, points=turned
    ).settled()


def _written(project: Project, name: str) -> bool:
    return getattr(project.roof, name).provenance is not Provenance.UNKNOWN


def _points(x: list[Array], y: list[Array], z: list[Array]) -> Points | None:
    return Points(*(np.stack(part, axis=-1) for part in (x, y, z))) if z else None


def _bend(along: list[Array], heights: list[Array], over: Array) -> Array | None:
    """Return how far the parabola through a profile rises over a straight line `over` so long [m]; None if too few."""
    if len(along) < BENDS_FROM:
        return None
    u = 2.0 * np.stack(along, axis=-1) / over[:, None]
    matrix = np.stack([np.ones_like(u), u, u * u], axis=-1)
    return np.asarray(-(np.linalg.pinv(matrix) @ np.stack(heights, axis=-1)[..., None])[..., 2, 0])


def _rim(project: Project, at: Values) -> Rim:
    """Return the rim of the shell; hinged at a side, it lies in the middle along the van."""
    length, width = at("shell.length"), at("shell.width")
    middle = plane_of(project) is CROSSWISE
    rear = (at("opening.length") - length) / 2.0 if middle else -at("shell.overhang_rear")
    x, y, gap = ([at(f"rim_point.{i}.{axis}") for i in range(len(project.rim_point))] for axis in ("x", "y", "gap"))
    return _bowed(at, "fit", rear, length, width, _points(x, y, gap))


def _bowed(at: Values, section: str, rear: Array, length: Array, width: Array, points: Points | None = None) -> Rim:
    front, back = at(f"{section}.rim_front"), at(f"{section}.rim_rear")
    return shell_rim(
        rear=rear,
        length=length,
        width=width,
        radius=_rounded(at("fit.corner_radius"), length, width),
        end_rise=(front + back) / 2.0,
        taper=(front - back) / 2.0,
        side_rise=at(f"{section}.rim_sides"),
        twist=at(f"{section}.rim_twist"),
        points=points,
    )


def other_rims(project: Project, at: Values) -> tuple[tuple[str, Rim], ...]:
    """Return the other shells that could be had, each with its name, laid in the middle of the opening."""
    found = []
    for i, shell in enumerate(project.candidate):
        section = f"candidate.{i}"
        length, width = at(f"{section}.length"), at(f"{section}.width")
        found.append((shell.name, _bowed(at, section, (at("opening.length") - length) / 2.0, length, width)))
    return tuple(found)


def laid_in_plane(project: Project, at: Values, rim: Rim, hole: Hole) -> tuple[Rim, Hole]:
    """Return rim and hole as they lie in the plane of motion, for how far the one reaches past the other."""
    if plane_of(project) is not CROSSWISE:
        return rim, hole
    lies = shell_rim(rear=-at("shell.overhang_left"), length=rim.width, width=rim.length, radius=rim.radius)
    return lies, Hole(hole.width, hole.length, hole.radius, hole.sharp)


def hinged(project: Project, at: Values) -> Hinged | None:
    """Return hinge plates and pins; None for a roof that turns on no hinge."""
    if project.linkage.kind != "hinge":
        return None
    long, wide = at("fit.plate_length"), at("fit.plate_width")
    if plane_of(project) is CROSSWISE:
        long, wide = wide, long
    return Hinged(
        plates(
            x=at("linkage.hinge.x"),
            spacing=at("linkage.spacing"),
            length=long,
            width=wide,
            pin=at("fit.axis_height"),
        ),
        height=at("linkage.hinge.z"),
        least=at("fit.packer_least"),
        play=at("linkage.play"),
        opens=at("linkage.opens"),
        made=None if project.fit.packer is None else at("fit.packer"),
    )
