"""From the project file to the brace across the free end: its path over the travel, its bar, what it is to the wind.

In the plane of motion as in `assemble_wind`: y to the left of it. The pivot, or a strap's upper end, stands to the
left; the brace slants down or up to the right. Its end on the van stands over the edge of the opening at the free end.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.core.choices import BraceKind
from loftwright.core.motion import Array
from loftwright.mechanics.feel import Roof
from loftwright.project.assemble import thickness
from loftwright.project.assemble_wind import Bears, sound
from loftwright.project.brace_section import Brace
from loftwright.project.carrying import Values, lip_of
from loftwright.project.model import Project
from loftwright.project.plane import end_in_plane, plane_of
from loftwright.reference.metals import bar_metal
from loftwright.strength.brace import (
    ArmPath,
    BarPath,
    StrapPath,
    arm_path,
    bar_path,
    room_beside,
    room_between,
    rub_in_track,
    strap_path,
)
from loftwright.strength.brace_load import euler_load, strut_load
from loftwright.strength.raised_shape import points
from loftwright.strength.support_parts import bar_stiffness, crossed_straps, link
from loftwright.strength.supports import Support

RUB: Final = 0.3
"""Friction of the sliding end in its track [1]: judgement, metal on metal with some grease."""
ENDS: Final = 5.0e5
"""Stiffness of both end fittings together with what they are bolted to [N/m]: judgement, tabs on ring and laminate."""
CROOKED: Final = 1.0 / 500.0
"""How far a bar's middle is off the line between its pins, over its length [1]: judgement."""
BRACE: Final = "brace"


@dataclass(frozen=True, slots=True)
class Braced:
    """The brace of one project; arrays are [rows] or [rows, travel].

    `path` its way over the travel; `rub` [1], [rows, travel], and None without a track; `length` [m]; `area` [m2];
    `young` and `yields` [Pa]; `holds` [N] the push at which it bends out, `strength` [N] what its metal bears under
    pull, `fittings` [N] what its end fittings bear; `across` [1] the part of its direction along y when open; `play`
    and `slack` [m] along it when open; `stiffness` [N/m] along it; `room` [m] in the closed roof; `track` [m], the
    length of track that there is, nought without one. `van` and `shell` [m], [rows, 3]: its ends when open; `ends` y
    and z on the van, y and z on the shell, over the travel [m], each [rows, travel].
    """

    kind: BraceKind
    path: BarPath | StrapPath | ArmPath
    rub: Array | None
    length: Array
    area: Array
    young: float
    yields: float
    holds: Array
    strength: Array
    fittings: Array
    across: Array
    play: Array
    slack: Array
    stiffness: Array
    room: Array
    track: Array
    van: Array
    shell: Array
    ends: tuple[Array, Array, Array, Array]

    @property
    def parts(self) -> tuple[str, ...]:
        """Names of its parts among the supports."""
        return (f"{BRACE}, left foot", f"{BRACE}, right foot") if self.kind == "straps" else (BRACE,)


@dataclass(frozen=True, slots=True)
class _Way:
    """A brace's way: its far end's `far_y` [m] and `real` length [m] when open, `bent` [m] by its knee, [rows]."""

    path: BarPath | StrapPath | ArmPath
    far_y: Array
    across: Array
    real: Array
    rub: Array | None
    track: Array
    slack: Array
    bent: Array


def _on_van(brace: Brace) -> bool:
    """Whether the pivot stands on the van."""
    return brace.pivots_on == "van" and brace.kind == "bar"


def _way(brace: Brace, at: Values, rise: Array, shift: Array, heights: tuple[Array, Array]) -> _Way:
    """Return the way of a brace; `heights` [m] are those of its ends on shell and van when closed."""
    shell_up, van_up = heights
    start, length, pivot = at("brace.track_from"), at("brace.length"), at("brace.pivot")
    none = np.zeros_like(length)
    if brace.kind == "bar":
        stop, on_van = at("brace.track_to"), _on_van(brace)
        bar = bar_path(
            rise,
            pivot_y=pivot,
            pivot_z=van_up if on_van else shell_up,
            length=length,
            track_z=shell_up if on_van else van_up,
            track_from=-start,
            track_to=-stop,
            pivot_on="van" if on_van else "shell",
            leans="right",
            shift=shift,
        )
        rub = rub_in_track(bar.slope, np.full_like(length, RUB))
        return _Way(bar, bar.slider[..., -1], bar.across[..., -1], length, rub, np.abs(stop - start), none, none)
    if brace.kind == "straps":
        crossed = strap_path(rise, foot_y=-start, foot_z=van_up, head_y=pivot, head_z=shell_up, shift=shift)
        real = crossed.distance[..., -1]
        return _Way(crossed, -start, crossed.across, real, None, none, np.maximum(length - real, 0.0), none)
    half = length / 2.0
    folding = arm_path(
        rise, foot_y=-start, foot_z=van_up, head_y=pivot, head_z=shell_up, lower=half, upper=half, knee="left"
    )
    return _Way(folding, -start, folding.across, folding.distance[..., -1], None, none, none, folding.kink[..., -1])


def braced(project: Project, at: Values, roof: Roof) -> Braced | None:
    """Return the brace of a project, None where there is none."""
    brace = project.brace
    if brace is None:
        return None
    plane, low_end = plane_of(project), end_in_plane(project)
    to_hinge = 1.0 if low_end == "front" else -1.0
    lip_x, rim = lip_of(project, at)
    inset, pivot, pivot_up, foot_up = (at(f"brace.{k}") for k in ("inset", "pivot", "pivot_height", "foot_height"))
    length = at("brace.length")
    on_van = _on_van(brace)
    closed_x = lip_x + to_hinge * inset
    van_x = at(plane.opening) if to_hinge < 0 else np.zeros_like(lip_x)
    shell_up, van_up = rim + (foot_up if on_van else pivot_up), pivot_up if on_van else foot_up
    path = roof.travel.shell.point(closed_x, shell_up)
    x, z = sound(path.x, roof), sound(path.z, roof)
    rise, shift = z - shell_up[:, None], x - van_x[:, None]
    metal = bar_metal(brace.metal)
    size, wall = at("brace.size"), at("brace.wall")
    if brace.kind == "straps":
        area, inertia = size * wall, size * wall**3 / 12.0
    else:
        inner = np.maximum(size - 2.0 * wall, 0.0)
        area, inertia = size**2 - inner**2, (size**4 - inner**4) / 12.0
    yields = area * metal.yielding
    way = _way(brace, at, rise, shift, (shell_up, van_up))
    found, far_y, across, real = way.path, way.far_y, way.across, np.maximum(way.real, 0.05)
    holds = strut_load(
        euler_load(metal.young, inertia, length), metal.yielding, area, inertia, size / 2.0, CROOKED * length + way.bent
    )
    van_y, shell_y = (pivot, far_y) if on_van else (far_y, pivot)
    still = np.zeros_like(z)
    here, there = pivot[:, None] + still, found.slider if isinstance(found, BarPath) else far_y[:, None] + still
    y_van, y_shell = (here, there) if on_van else (there, here)
    return Braced(
        kind=brace.kind,
        path=found,
        rub=way.rub,
        length=length,
        area=area,
        young=metal.young,
        yields=metal.yielding,
        holds=holds,
        strength=yields,
        fittings=at("brace.limit"),
        across=np.asarray(across),
        play=at("brace.play"),
        slack=way.slack,
        stiffness=bar_stiffness(area=area, length=real, modulus=metal.young, ends=ENDS),
        room=_room(project, at, size, (van_up, shell_up), closed_x),
        track=way.track,
        van=points(van_x, van_y, van_up),
        shell=points(x[:, -1], shell_y, z[:, -1]),
        ends=(y_van, van_up[:, None] + still, y_shell, z),
    )


def _room(project: Project, at: Values, size: Array, heights: tuple[Array, Array], closed_x: Array) -> Array:
    """Return the room of the closed brace under the shell's lining and beside the latch bar [m], [rows].

    The latch bar is taken to lie on the rim. Under the brace is the opening.
    """
    plane = plane_of(project)
    low, high = np.minimum(*heights), np.maximum(*heights)
    near, middle, far = (at(path) for path in plane.heights)
    share = np.clip((closed_x + at(plane.overhang)) / at(plane.shell), 0.0, 1.0)
    rim, thick = at("shell.rim_height"), thickness(project, at)
    outer = np.where(share < 0.5, near + (middle - near) * 2.0 * share, middle + (far - middle) * (2.0 * share - 1.0))
    under = room_between(low, high, size, floor=low - 1.0, ceiling=rim + outer - thick)
    lip_x, _ = lip_of(project, at)
    to_hinge = 1.0 if end_in_plane(project) == "front" else -1.0
    bar = at("latches.bar_size")
    beside = room_beside(
        closed_x,
        (low + high) / 2.0,
        size,
        bar_x=lip_x + to_hinge * at("latches.inset"),
        bar_z=rim + bar / 2.0,
        bar_wide=bar,
        bar_high=bar + high - low,
    )
    return np.asarray(np.minimum(under, beside))


def supports_of(brace: Braced) -> list[Support]:
    """Return what the brace is to the wind; a bar's sliding end is taken to be pinned when the roof is open."""
    free = brace.play / 2.0
    if brace.kind != "straps":
        return list(link(BRACE, brace.van, brace.shell, stiffness=brace.stiffness, play=free))
    mirror = np.array([1.0, -1.0, 1.0])
    # The given strap runs from the right foot to the left head.
    van, shell = (brace.van * mirror, brace.van), (brace.shell, brace.shell * mirror)
    return list(crossed_straps(BRACE, van, shell, stiffness=brace.stiffness, slack=brace.slack + free))


def bears_of(brace: Braced, metal_safety: Array, part_safety: Array) -> list[Bears]:
    """Return what the brace bears: its ends, or its metal and its straightness, `metal_safety` over `part_safety` [1].

    The metal has its own factor; what is handed on is meant to be divided by that of parts.
    """
    own = brace.strength if brace.kind == "straps" else np.minimum(brace.strength, brace.holds)
    most = np.minimum(brace.fittings, own * part_safety / metal_safety)
    return [Bears(part, "brace", most) for part in brace.parts]
