"""The shapes of a scene on paper: roof, shell, arms, springs, person, dimension lines."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from loftwright.core.scene import AT_REST, Pose, Scene, Spot, SpringShape
from loftwright.drawing.page import XY, Circle, Line, Polygon, Polyline, Primitive, Text
from loftwright.drawing.scene import State, placed, rod_starts, spring_ends


@dataclass(frozen=True, slots=True)
class View:
    """From the van's metres to the page: the origin's place [mm] and the scale [mm per m]."""

    x: float
    y: float
    scale: float

    def at(self, spot: Spot) -> XY:
        """Return a point's place on the page."""
        return self.x + self.scale * spot[0], self.y - self.scale * spot[1]

    def all(self, spots: Sequence[Spot]) -> tuple[XY, ...]:
        """Return many points' places on the page."""
        return tuple(self.at(spot) for spot in spots)


def height_of(profile: Sequence[Spot], x: float) -> float:
    """Return the roof's height at x, level beyond its ends."""
    if x <= profile[0][0]:
        return profile[0][1]
    for (ax, az), (bx, bz) in pairwise(profile):
        if x <= bx:
            return az + (bz - az) * (x - ax) / (bx - ax)
    return profile[-1][1]


def stretch(profile: Sequence[Spot], x0: float, x1: float) -> tuple[Spot, ...]:
    """Return the profile between x0 and x1."""
    inner = [spot for spot in profile if x0 < spot[0] < x1]
    return ((x0, height_of(profile, x0)), *inner, (x1, height_of(profile, x1)))


def van(scene: Scene, view: View, x0: float, x1: float, *, floor: bool = False) -> list[Primitive]:
    """Return roof on both sides of the opening, upstands, bed board, and the floor if asked, from x0 to x1 [m]."""
    marks: list[Primitive] = []
    rear, front = scene.opening
    for a, b in ((x0, rear), (front, x1)):
        if b > a:
            top = stretch(scene.roof_profile, a, b)
            # Thin sheet must stay visible at any scale.
            build = max(scene.roof_build, 0.7 / view.scale)
            marks.append(Polygon(view.all([*top, *((x, z - build) for x, z in reversed(top))]), "steel"))
    if scene.upstand > 0:
        wide = max(0.012, 0.55 / view.scale)
        for edge, side in ((rear, -1.0), (front, 1.0)):
            z = height_of(scene.roof_profile, edge)
            corners = [
                (edge, z),
                (edge, z + scene.upstand),
                (edge + side * wide, z + scene.upstand),
                (edge + side * wide, z),
            ]
            marks.append(Polygon(view.all(corners), "upstand"))
    if scene.bed is not None:
        bed = scene.bed
        thick = max(0.018, 0.6 / view.scale)
        marks.append(
            Polygon(
                view.all([(bed.x0, bed.z), (bed.x1, bed.z), (bed.x1, bed.z - thick), (bed.x0, bed.z - thick)]), "board"
            )
        )
    if floor:
        (ax, y), (bx, _) = view.at((x0, scene.floor_z)), view.at((x1, scene.floor_z))
        marks.append(Line((ax, y), (bx, y), "floor"))
        x = ax + 1.0
        while x < bx:
            marks.append(Line((x, y), (x - 1.0, y + 1.2), "fine"))
            x += 2.4
    return marks


_BODY = (
    (-0.030, 0.000), (0.100, 0.000), (0.090, 0.020), (0.030, 0.045), (0.036, 0.160), (0.043, 0.280), (0.058, 0.430),
    (0.064, 0.540), (0.066, 0.640), (0.070, 0.720), (0.052, 0.790), (0.028, 0.825), (0.022, 0.860), (-0.028, 0.860),
    (-0.034, 0.825), (-0.058, 0.790), (-0.072, 0.720), (-0.056, 0.620), (-0.058, 0.560), (-0.074, 0.500),
    (-0.064, 0.420), (-0.036, 0.290), (-0.046, 0.210), (-0.036, 0.100), (-0.034, 0.030),
)  # fmt: skip


# An arm that hangs.
_ARM = ((-0.006, 0.775), (-0.014, 0.700), (-0.016, 0.620), (-0.008, 0.540), (0.004, 0.470), (0.010, 0.430))


def _rounded(spots: Sequence[Spot], *, closed: bool = False) -> list[Spot]:
    """Return a smooth run through all `spots` (a Catmull-Rom curve, four pieces between neighbours)."""
    n = len(spots)
    out: list[Spot] = []
    for i in range(n if closed else n - 1):
        a, b, c, d = (spots[k % n if closed else min(max(k, 0), n - 1)] for k in (i - 1, i, i + 1, i + 2))
        for t in (0.0, 0.25, 0.5, 0.75):
            w = (t * (-1 + t * (2 - t)), 2 + t * t * (3 * t - 5), t * (1 + t * (4 - 3 * t)), t * t * (t - 1))
            out.append(
                (
                    sum(k * p[0] for k, p in zip(w, (a, b, c, d), strict=True)) / 2,
                    sum(k * p[1] for k, p in zip(w, (a, b, c, d), strict=True)) / 2,
                )
            )
    return out if closed else [*out, spots[-1]]


_SMOOTH_BODY, _SMOOTH_ARM = tuple(_rounded(_BODY, closed=True)), tuple(_rounded(_ARM))


def person(scene: Scene, view: View) -> list[Primitive]:
    """Return the standing person."""
    if scene.person is None:
        return []
    p = scene.person
    h = p.height

    def there(spots: Sequence[Spot]) -> tuple[XY, ...]:
        return view.all([(p.x + x * h, p.stands_z + max(0.0, z) * h) for x, z in spots])

    return [
        Polygon(there(_SMOOTH_BODY), "person"),
        Circle(view.at((p.x + 0.004 * h, p.stands_z + 0.928 * h)), 0.072 * h * view.scale, "person"),
        Polyline(there(_SMOOTH_ARM), "note"),
    ]


def shell(scene: Scene, view: View, pose: Pose = AT_REST, *, ghost: bool = False) -> list[Primitive]:
    """Return the shell with its rim and what rides on it, in `pose`."""

    def there(spots: Sequence[Spot]) -> tuple[XY, ...]:
        return view.all([placed(pose, spot) for spot in spots])

    if ghost:
        outline = there(scene.shell)
        return [Polyline((*outline, outline[0]), "ghost")]
    marks: list[Primitive] = [
        Polygon(there([(i.x0, i.z0), (i.x1, i.z0), (i.x1, i.z1), (i.x0, i.z1)]), "item") for i in scene.items
    ]
    marks.insert(0, Polygon(there(scene.shell), "shell"))
    a, b = there(scene.rim)
    marks.append(Line(a, b, "rim"))
    return marks


def handle(scene: Scene, view: View, pose: Pose = AT_REST) -> list[Primitive]:
    """Return the handle with its strap hanging straight down."""
    if scene.handle is None:
        return []
    x, z = placed(pose, scene.handle)
    marks: list[Primitive] = []
    if scene.strap_length > 0:
        marks.append(Line(view.at((x, z)), view.at((x, z - scene.strap_length)), "strap"))
    return [*marks, Circle(view.at((x, z)), 0.6, "pivot")]


def arms(scene: Scene, view: View, state: State) -> list[Primitive]:
    """Return the lifting arms as bars with round ends."""
    marks: list[Primitive] = []
    for arm in scene.arms:
        pose = state.body(arm.body)
        (ax, ay), (bx, by) = view.at(placed(pose, arm.van_end)), view.at(placed(pose, arm.shell_end))
        r = max(arm.width * view.scale / 2, 0.45)
        along = math.atan2(by - ay, bx - ax)
        ring = [
            (cx + r * math.cos(along + side + k * math.pi / 8), cy + r * math.sin(along + side + k * math.pi / 8))
            for cx, cy, side in ((bx, by, -math.pi / 2), (ax, ay, math.pi / 2))
            for k in range(9)
        ]
        marks.append(Polygon(tuple(ring), "arm"))
    return marks


def rails(scene: Scene, view: View, state: State) -> list[Primitive]:
    """Return slides, posts and shoes as bars with square ends."""
    marks: list[Primitive] = []
    for rail in scene.rails:
        pose = state.body(rail.body)
        (ax, ay), (bx, by) = (view.at(placed(pose, end)) for end in rail.ends)
        length = max(math.dist((ax, ay), (bx, by)), 1e-9)
        half = max(rail.wide * view.scale, 0.5) / 2
        nx, ny = -(by - ay) / length * half, (bx - ax) / length * half
        marks.append(Polygon(((ax + nx, ay + ny), (bx + nx, by + ny), (bx - nx, by - ny), (ax - nx, ay - ny)), "arm"))
    return marks


def pivots(scene: Scene, view: View, state: State) -> list[Primitive]:
    """Return hinge and pins."""
    return [Circle(view.at(placed(state.body(p.body), p.at)), 0.75, "pivot") for p in scene.pivots]


def spring_lines(spring: SpringShape, state: State) -> tuple[tuple[Spot, Spot], tuple[Spot, Spot]]:
    """Return tube and rod of a spring, each as two points [m]."""
    foot, head = spring_ends(spring, state)
    joint = rod_starts(spring, foot, head)
    return (joint, head), (foot, joint)


def springs(scene: Scene, view: View, state: State) -> list[Primitive]:
    """Return the gas springs: tube, rod and end fittings."""
    marks: list[Primitive] = []
    for spring in scene.springs:
        tube, rod = spring_lines(spring, state)
        marks += [Line(view.at(rod[0]), view.at(rod[1]), "rod"), Line(view.at(tube[0]), view.at(tube[1]), "tube")]
        marks += [Circle(view.at(end), 0.5, "pivot") for end in spring_ends(spring, state)]
    return marks


def arrow(tip: XY, dx: float, dy: float, size: float = 1.3) -> Polygon:
    """Return an arrow head at `tip` that points along (dx, dy), a unit vector."""
    bx, by = tip[0] - size * dx, tip[1] - size * dy
    w = size * 0.16
    return Polygon((tip, (bx - w * dy, by + w * dx), (bx + w * dy, by - w * dx)), "arrow")


def dimension(a: XY, b: XY) -> list[Primitive]:
    """Return a dimension line from a to b, arrows inside, or outside where it is short."""
    length = math.dist(a, b)
    if length < 1e-6:
        return []
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    if length >= 4:
        return [Line(a, b, "dim"), arrow(a, -ux, -uy), arrow(b, ux, uy)]
    return [
        Line((a[0] - 3 * ux, a[1] - 3 * uy), (b[0] + 3 * ux, b[1] + 3 * uy), "dim"),
        arrow(a, ux, uy),
        arrow(b, -ux, -uy),
    ]


def scale_bar(view: View, at: XY, length: float, text: str) -> list[Primitive]:
    """Return a bar of `length` [m] in two halves with its length written beside it."""
    w = length * view.scale
    x, y = at
    return [
        Polygon(((x, y), (x + w / 2, y), (x + w / 2, y + 0.9), (x, y + 0.9)), "upstand"),
        Polyline(((x + w / 2, y), (x + w, y), (x + w, y + 0.9), (x + w / 2, y + 0.9)), "dim"),
        Text((x + w + 1.2, y + 1.1), text, 2.3, "start", "note"),
    ]
