"""One roof in three dimensions as it is seen straight from a side, from behind or from above, in metres."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from loftwright.core.choices import BodyName
from loftwright.core.scene import AT_REST, Pose
from loftwright.core.solid import Point, Solid, Tone
from loftwright.drawing.nearness import Seen
from loftwright.drawing.page import XY
from loftwright.drawing.scene import State, at_fraction

_PENS: dict[Tone, str] = {
    "floor": "floor", "roof": "band-mild", "upstand": "upstand", "shell": "shell", "inside": "timber-end", "rim": "rim",
    "arm": "arm", "rail": "arm", "board": "board", "item": "item", "hinge": "pivot", "pin": "pivot", "handle": "item",
    "tube": "tube", "rod": "rod", "strap": "strap", "trace": "leader",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Way:
    """A direction to look in: page axes and the axis towards the eye, each as a vector of the van."""

    name: str
    right: Point
    up: Point
    eye: Point

    def flat(self, spot: Point) -> XY:
        """Return where a point is seen [m]: right, up."""
        return _dot(self.right, spot), _dot(self.up, spot)


SIDE = Way("Side view", (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0))
PLAN = Way("From above", (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
REAR = Way("From behind", (0.0, -1.0, 0.0), (0.0, 0.0, 1.0), (-1.0, 0.0, 0.0))


def _dot(a: Point, b: Point) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _normal(face: Sequence[Point]) -> Point:
    """Return the normal of a flat face, as long as twice its area."""
    total = [0.0, 0.0, 0.0]
    for a, b in zip(face, (*face[1:], face[0]), strict=True):
        total[0] += a[1] * b[2] - a[2] * b[1]
        total[1] += a[2] * b[0] - a[0] * b[2]
        total[2] += a[0] * b[1] - a[1] * b[0]
    return total[0], total[1], total[2]


@dataclass(slots=True)
class Shown:
    """What one view shows, in metres on the page: things with their pens, and the outline of the closed shell."""

    way: Way
    things: list[tuple[str, tuple[Seen, ...]]] = field(default_factory=list)
    closed: list[XY] = field(default_factory=list)
    opened: list[XY] = field(default_factory=list)

    def add(self, pen: str, spots: Sequence[Point]) -> None:
        """Add a face or a line of the van."""
        self.things.append((pen, tuple((*self.way.flat(spot), _dot(self.way.eye, spot)) for spot in spots)))

    def box(self) -> tuple[float, float, float, float]:
        """Return least x and y, greatest x and y [m]."""
        return bounds([*((x, y) for _, spots in self.things for x, y, _ in spots), *self.closed])


def bounds(spots: Sequence[XY]) -> tuple[float, float, float, float]:
    """Return least x and y, greatest x and y."""
    return min(x for x, _ in spots), min(y for _, y in spots), max(x for x, _ in spots), max(y for _, y in spots)


def shown_of(solid: Solid, way: Way) -> Shown:
    """Return what is seen of the open roof, and where the closed shell was; floor and bed are left out."""
    shown = Shown(way)
    state = at_fraction(solid.poses, 1.0)
    for part in solid.parts:
        if part.tone in ("floor", "board"):
            continue
        if part.tone == "shell":
            shown.closed += [way.flat(spot) for face in part.faces for spot in face]
        faces = [[_moved(solid, state, part.body, spot) for spot in face] for face in part.faces]
        seen = [face for face in faces if _dot(_normal(face), way.eye) > 1e-9]
        if part.tone == "shell":
            shown.opened += [way.flat(spot) for face in faces for spot in face]
        for face in seen:
            shown.add(_PENS[part.tone], face)
        if part.tone == "roof":
            for a, b in _borders(seen):
                shown.add("outline", (a, b))
    for bar in solid.bars:
        if bar.tone != "trace":
            a, b = (_moved(solid, state, bar.body, spot) for spot in (bar.a, bar.b))
            flat = _wide([way.flat(a), way.flat(b)], bar.wide)
            near = [_dot(way.eye, spot) + bar.wide / 2 for spot in (a, b, b, a)]
            shown.things.append((_PENS[bar.tone], tuple((x, y, z) for (x, y), z in zip(flat, near, strict=True))))
    for lifter in solid.lifters:
        foot, head = (
            _moved(solid, state, lifter.foot_on, lifter.foot),
            _moved(solid, state, lifter.head_on, lifter.head),
        )
        long = math.dist(foot, head)
        t = 1.0 - min(1.0, lifter.tube_length / long) if long > 0 else 0.0
        x, y, z = (f + t * (h - f) for f, h in zip(foot, head, strict=True))
        shown.add("rod", (foot, (x, y, z)))
        shown.add("tube", ((x, y, z), head))
    return shown


def _borders(faces: Sequence[Sequence[Point]]) -> list[tuple[Point, Point]]:
    """Return the edges that belong to one of `faces` only."""
    count: dict[tuple[Point, Point], int] = {}
    for face in faces:
        for a, b in zip(face, (*face[1:], face[0]), strict=True):
            key = (min(a, b), max(a, b))
            count[key] = count.get(key, 0) + 1
    return [edge for edge, many in count.items() if many == 1]


def _moved(solid: Solid, state: State, body: BodyName, spot: Point) -> Point:
    pose: Pose = AT_REST if body == "van" else state.body(body)
    return solid.swing.moved(spot, pose)


def _wide(ends: Sequence[XY], wide: float) -> tuple[XY, ...]:
    """Return a bar seen from the side as a box, end on as a square [m]."""
    (ax, ay), (bx, by) = ends
    long = math.dist((ax, ay), (bx, by))
    h = wide / 2
    if long < 1e-6:
        return (ax - h, ay - h), (ax + h, ay - h), (ax + h, ay + h), (ax - h, ay + h)
    nx, ny = -(by - ay) / long * h, (bx - ax) / long * h
    return (ax + nx, ay + ny), (bx + nx, by + ny), (bx - nx, by - ny), (ax - nx, ay - ny)


def hull(spots: Sequence[XY]) -> list[XY]:
    """Return the hull of points: from outside a closed shell has no more than its outline."""
    ordered = sorted({(round(x, 5), round(y, 5)) for x, y in spots})

    def half(points: Sequence[XY]) -> list[XY]:
        chain: list[XY] = []
        for p in points:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], p) <= 0:
                chain.pop()
            chain.append(p)
        return chain[:-1]

    return [*half(ordered), *half(ordered[::-1])]


def _turn(a: XY, b: XY, c: XY) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
