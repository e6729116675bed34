"""The nominal roof in three dimensions: the side view's shapes drawn out across the van.

What the side view does not know is taken simply and said: outlines run straight across, left is the mirror image of
right.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from loftwright.answers.draws import Nominal
from loftwright.answers.judged_roof import STATIONS, assembled, inputs_of, standing
from loftwright.answers.shown_roof import ShownRoof
from loftwright.answers.side_view import pose_table, scene
from loftwright.answers.solid_shapes import Sheet, bar, box, hollow, prism, slab
from loftwright.answers.trial import TriedRoof
from loftwright.core.choices import BodyName
from loftwright.core.outline import shell_outline
from loftwright.core.scene import Item, Pose, PoseTable, Scene, Spot
from loftwright.core.solid import Bar, Caption, Figure, Lifter, Loop, Part, Solid, Strap, Swing, Tone
from loftwright.mechanics.feel import feel
from loftwright.project.lifter_sections import Coil, Cord
from loftwright.project.model import Project
from loftwright.project.plane import CROSSWISE, plane_of, size

AROUND: Final = 0.16
"""How far the roof is drawn beyond the shell [m]."""
_UPSTAND, _BOARD = 0.012, 0.018
_ARM, _BESIDE = 0.010, 0.012
_KNUCKLE, _KNUCKLE_WIDE, _PIN, _HANDLE = 0.09, 0.022, 0.014, 0.12
_ASIDE, _THINNEST = 0.12, 0.003
_ITEM_HALF = {"panel": 0.45, "vent": 0.20, "lining": 0.40, "handle": 0.08, "other": 0.12}

NOTES: Final = (
    "An illustration: seen along the middle it is as the side view draws it; across it every outline runs straight.",
    "Left and right are alike. How far the van's roof reaches, the thickness of arms and how far things on the shell "
    "reach across are only drawn so.",
)


@dataclass(frozen=True, slots=True)
class _Across:
    """Half sizes across the plane [m], and where the planes of hinges or arms are."""

    opening: float
    shell: float
    roof: float
    planes: float


def solid(of: Project | ShownRoof) -> Solid:
    """Return the nominal roof in three dimensions; a project is put together for it without being judged.

    Raises ProjectFault or CannotAssemble when the nominal roof cannot be built at all.
    """
    found = _nominal(of) if isinstance(of, Project) else of
    return solid_of(found.project, scene(found), pose_table(found), thickness=float(found.around.thickness.flat[0]))


def solid_of(project: Project, seen: Scene, poses: PoseTable, *, thickness: float) -> Solid:
    """Return what a side view shows in three dimensions; `thickness` of the shell [m]."""
    plane = plane_of(project)
    opening, shell = size(project, plane.opening_across), size(project, plane.shell_across)
    across = _Across(opening / 2, shell / 2, max(opening, shell) / 2 + AROUND, project.linkage.spacing.nominal / 2)
    crosswise = plane is CROSSWISE
    swing = Swing(opening / 2, seen.opening[1] / 2, 0.0, -1.0) if crosswise else Swing(0.0, 0.0, 1.0, 0.0)
    ends = (seen.rim[0][0] - AROUND, seen.rim[1][0] + AROUND)

    def part(name: str, body: BodyName, tone: Tone, faces: Iterable[Sheet]) -> Part:
        return Part(name, body, tone, tuple(_loop(swing, face) for face in faces))

    parts = [
        part("floor", "van", "floor", [_level(ends, across.roof, seen.floor_z)]),
        *(part(name, "van", tone, faces) for name, tone, faces in _roof(seen, across, ends)),
        *(part("shell", "shell", tone, faces) for tone, faces in _shell(project, seen, across, thickness)),
    ]
    if seen.bed is not None:
        bed = seen.bed
        sheet = box((bed.x0, bed.x1), (-across.opening, across.opening), (bed.z - _BOARD, bed.z))
        parts.append(part("bed board", "van", "board", sheet))
    for item in seen.items:
        half = min(_ITEM_HALF[item.kind], 0.8 * across.shell)
        tone: Tone = "handle" if item.kind == "handle" else "item"
        parts.append(part(item.name, "shell", tone, prism(_seated(item, seen.shell), -half, half)))
    parts += [part(name, body, tone, faces) for name, body, tone, faces in _carried(seen, across)]
    handle = seen.handle
    straps: tuple[Strap, ...] = ()
    if handle is not None and seen.strap_length > 0:
        straps = (Strap("shell", swing.into(handle[0], 0.0, handle[1]), seen.strap_length),)
    return Solid(
        parts=tuple(parts),
        bars=tuple(_bars(seen, across, swing, ends)),
        lifters=tuple(_lifters(project, seen, across, swing)),
        straps=straps,
        figure=_figure(seen, poses, swing),
        captions=_captions(seen, poses, across, swing, ends, crosswise=crosswise),
        swing=swing,
        poses=poses,
        notes=NOTES,
    )


def _nominal(project: Project) -> TriedRoof:
    nominal = Nominal(inputs_of(project))
    planned = assembled(project, nominal, stations=STATIONS)
    return TriedRoof(project, planned.roof, feel(planned.roof), planned.around, standing(project, planned, nominal))


def _loop(swing: Swing, face: Sheet) -> Loop:
    return tuple(swing.into(*corner) for corner in face)


def _level(ends: Spot, half: float, z: float) -> Sheet:
    (u0, u1) = ends
    return (u0, -half, z), (u1, -half, z), (u1, half, z), (u0, half, z)


def _skin(seen: Scene, u: float) -> float:
    """Return the height of the van's roof at u [m], level beyond the ends of its profile."""
    xs, zs = (np.array(values) for values in zip(*seen.roof_profile, strict=True))
    return float(np.interp(u, xs, zs))


def _roof(seen: Scene, across: _Across, ends: Spot) -> list[tuple[str, Tone, tuple[Sheet, ...]]]:
    """Return the van's roof round its opening, and the upstand."""
    xs = [x for x, _ in seen.roof_profile]

    def skin(u: float) -> float:
        return _skin(seen, u)

    rear, front = seen.opening
    standing = seen.upstand > 0
    edge = _UPSTAND if standing else 0.0
    w, build = across.opening, max(seen.roof_build, 0.002)
    # The roof ends at the outside of the upstand, which stands in its hole.
    low, high = rear - edge, front + edge
    behind, before = [x for x in xs if ends[0] < x < low], [x for x in xs if high < x < ends[1]]
    over = [low, *(x for x in xs if low < x < high), high]
    hole = {(i, 1) for i in range(len(behind) + 1, len(behind) + len(over))}
    vs = (-across.roof, -w - edge, w + edge, across.roof)
    us = [ends[0], *behind, *over, *before, ends[1]]
    found: list[tuple[str, Tone, tuple[Sheet, ...]]] = [
        ("roof", "roof", slab(us, vs, hole, lambda u: skin(u) - build, skin))
    ]
    if standing:
        inner = [rear, *(x for x in xs if rear < x < front), front]
        hole = {(i, 1) for i in range(1, len(inner))}
        ring = slab(
            (low, *inner, high),
            (-w - edge, -w, w, w + edge),
            hole,
            lambda u: skin(u) - build,
            lambda u: skin(u) + seen.upstand,
        )
        found.append(("upstand", "upstand", ring))
    return found


def _shell(project: Project, seen: Scene, across: _Across, thickness: float) -> list[tuple[Tone, tuple[Sheet, ...]]]:
    """Return the shell as a hollow lid: outside, inside and rim."""
    (rear, rim), (front, _) = seen.rim
    heights = (size(project, path) for path in plane_of(project).heights)
    thickness = max(thickness, _THINNEST)
    x, z = shell_outline(rear, front, rim, *heights, thickness=thickness)
    inner = [(float(u), float(h)) for u, h in zip(x, z, strict=True)]
    outside, inside, edge = hollow(seen.shell, inner, across.shell, across.shell - thickness)
    return [("shell", outside), ("inside", inside), ("rim", edge)]


def _seated(item: Item, shell: tuple[Spot, ...]) -> tuple[Spot, ...]:
    """Return an item's outline; one that stands out of the shell's top ends at the skin under it."""
    us, zs = (np.array(values) for values in zip(*shell[1:-1], strict=True))
    corners = [item.x0, *(float(u) for u in us if item.x0 < u < item.x1), item.x1]
    skin = [float(np.interp(u, us, zs)) for u in corners]
    over = us[0] <= item.x0 and item.x1 <= us[-1]
    if not over or max(skin) > item.z1 - 0.002 or min(skin) < item.z0 - 0.05:
        return (item.x0, item.z0), (item.x1, item.z0), (item.x1, item.z1), (item.x0, item.z1)
    return (*zip(corners, skin, strict=True), (item.x1, item.z1), (item.x0, item.z1))


def _carried(seen: Scene, across: _Across) -> Iterable[tuple[str, BodyName, Tone, tuple[Sheet, ...]]]:
    """Return arms and rails, right and left."""
    # The pin in which crossing arms meet is on arm a.
    crossing = any(pivot.name == "crossing" for pivot in seen.pivots)
    for name, side in (("right", -1.0), ("left", 1.0)):
        for arm in seen.arms:
            v = side * (across.planes + (0.0 if not crossing else _ARM if arm.body == "arm a" else -_ARM))
            sheet = bar(arm.van_end, arm.shell_end, arm.width, v - _ARM / 2, v + _ARM / 2, beyond=arm.width / 2)
            yield f"{arm.body} {name}", arm.body, "arm", sheet
        for number, rail in enumerate(seen.rails):
            v, half = side * across.planes, rail.wide / 2
            yield f"rail {number} {name}", rail.body, "rail", bar(*rail.ends, rail.wide, v - half, v + half)


def _bars(seen: Scene, across: _Across, swing: Swing, ends: Spot) -> Iterable[Bar]:
    """Return knuckles of hinges, pins of arms, the handle, and thin traces from the floor's corners to the roof."""

    def between(name: str, body: BodyName, tone: Tone, at: Spot, v: float, half: float, wide: float) -> Bar:
        a, b = (swing.into(at[0], v + w, at[1]) for w in (-half, half))
        return Bar(name, body, tone, a, b, wide)

    for side in (-1.0, 1.0):
        for pivot in seen.pivots:
            v = side * across.planes
            if pivot.name == "hinge":
                yield between(pivot.name, pivot.body, "hinge", pivot.at, v, _KNUCKLE / 2, _KNUCKLE_WIDE)
            elif seen.arms:
                yield between(pivot.name, pivot.body, "pin", pivot.at, v, 1.6 * _ARM, _PIN)
    if seen.handle is not None and not any(item.kind == "handle" for item in seen.items):
        yield between("handle", "shell", "handle", seen.handle, 0.0, _HANDLE / 2, _PIN)
    below = seen.roof_build
    for u in ends:
        for v in (-across.roof, across.roof):
            top = _skin(seen, u) - below
            yield Bar("trace", "van", "trace", swing.into(u, v, seen.floor_z), swing.into(u, v, top), 0.0)


def _lifters(project: Project, seen: Scene, across: _Across, swing: Swing) -> Iterable[Lifter]:
    """Return every gas spring, coil spring and cord, right and left, those of one mount side by side."""
    places = [(s.per_side, s.place.nominal, s.sideways.nominal) for s in project.spring]
    between: tuple[Coil | Cord, ...] = (*project.coil, *project.cord)
    places += [(s.per_side, across.planes, s.sideways.nominal) for s in between]
    for shape, (many, place, sideways) in zip(seen.springs, places, strict=True):
        pitch = shape.tube_diameter + _BESIDE
        for side in (-1.0, 1.0):
            for k in range(many):
                v = place + (k - (many - 1) / 2) * pitch
                foot = swing.into(shape.foot[0], side * v, shape.foot[1])
                head = swing.into(shape.head[0], side * (v + sideways), shape.head[1])
                yield Lifter(
                    shape.name, shape.foot_on, foot, shape.head_on, head, shape.tube_length, shape.tube_diameter
                )


def _figure(seen: Scene, poses: PoseTable, swing: Swing) -> Figure | None:
    person = seen.person
    if person is None:
        return None
    top = person.stands_z + person.height
    fits: float | None = None
    for fraction, pose in zip(reversed(poses.fraction), reversed(poses.shell), strict=True):
        if not _is_below(seen.shell, pose, person.x, top):
            break
        fits = fraction
    return Figure(swing.into(person.x, 0.0, person.stands_z), person.height, fits)


def _is_below(outline: tuple[Spot, ...], pose: Pose, u: float, z: float) -> bool:
    """Whether the shell's outside, from rim over the top to rim, is nowhere at or below (u, z) on the upright at u."""
    cos, sin = np.cos(pose.phi), np.sin(pose.phi)
    placed = [(pose.x + cos * a - sin * b, pose.z + sin * a + cos * b) for a, b in outline]
    for (ax, az), (bx, bz) in pairwise(placed):
        if min(ax, bx) <= u <= max(ax, bx) and ax != bx and az + (bz - az) * (u - ax) / (bx - ax) <= z:
            return False
    return True


def _captions(
    seen: Scene, poses: PoseTable, across: _Across, swing: Swing, ends: Spot, *, crosswise: bool
) -> tuple[Caption, ...]:
    """Return words for the two ends of the van, beside the roof wherever the shell goes."""
    if crosswise:
        middle = (ends[0] + ends[1]) / 2
        rear, cab = (middle, -across.roof - _ASIDE, 0.0), (middle, across.roof + _ASIDE, 0.0)
    else:
        us = [*ends, *(p.x + np.cos(p.phi) * u - np.sin(p.phi) * z for p in poses.shell for u, z in seen.shell)]
        rear, cab = (float(min(us)) - _ASIDE, 0.0, 0.0), (float(max(us)) + _ASIDE, 0.0, 0.0)
    return Caption("rear end", swing.into(*rear)), Caption("cab end", swing.into(*cab))
