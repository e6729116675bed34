"""The roof in three dimensions as plain data for the drawing board: whole millimetres, poses, finished words."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from loftwright.core.scene import Pose
from loftwright.core.solid import Point, Solid
from loftwright.core.wording import Wording


def solid_picture(solid: Solid, says: Wording, *, name: str) -> dict[str, Any]:
    """Return a solid ready for JSON: places in whole millimetres, the poses' shifts to a tenth, turns in radians.

    Corners are written once in `points` [x, y, z]; faces are their numbers. `opening` says at every whole per cent
    how far open the roof is. `box` holds everything that is drawn, closed to open: the least and the greatest
    [x, y, z]. `name` is the roof's, for the description.
    """
    points: dict[tuple[int, int, int], int] = {}

    def number(point: Point) -> int:
        return points.setdefault(_mm(point), len(points))

    parts = [
        {
            "name": part.name,
            "body": part.body,
            "tone": part.tone,
            "faces": [[number(corner) for corner in face] for face in part.faces],
        }
        for part in solid.parts
    ]
    poses = solid.poses
    bodies = {"shell": poses.shell, "arm a": poses.arm_a, "arm b": poses.arm_b}
    low, high = _reach(solid)
    figure = solid.figure
    return {
        "name": name,
        "points": [list(point) for point in points],
        "parts": parts,
        "bars": [
            {"body": b.body, "tone": b.tone, "a": _mm(b.a), "b": _mm(b.b), "wide": _whole(b.wide)} for b in solid.bars
        ],
        "lifters": [
            {
                "foot_on": s.foot_on,
                "foot": _mm(s.foot),
                "head_on": s.head_on,
                "head": _mm(s.head),
                "tube": _whole(s.tube_length),
                "wide": _whole(s.tube_wide),
            }
            for s in solid.lifters
        ],
        "straps": [{"body": s.body, "at": _mm(s.at), "length": _whole(s.length)} for s in solid.straps],
        "figure": None
        if figure is None
        else {
            "at": _mm(figure.at),
            "height": _whole(figure.height),
            "from": None if figure.fits_from is None else round(figure.fits_from, 4),
        },
        "captions": [{"text": c.text, "at": _mm(c.at)} for c in solid.captions],
        "swing": [_whole(solid.swing.x), _whole(solid.swing.y), solid.swing.ex, solid.swing.ey],
        "fraction": [round(f, 5) for f in poses.fraction],
        "poses": {body: _poses(table) for body, table in bodies.items() if table},
        "opening": _how_far_open(solid, says),
        "box": [_mm(low), _mm(high)],
        "notes": list(solid.notes),
    }


def _whole(metres: float) -> int:
    return round(1000.0 * metres)


def _mm(point: Point) -> tuple[int, int, int]:
    return _whole(point[0]), _whole(point[1]), _whole(point[2])


def _poses(poses: Iterable[Pose]) -> list[list[float]]:
    return [[round(1000.0 * p.x, 1), round(1000.0 * p.z, 1), round(p.phi, 6)] for p in poses]


def _how_far_open(solid: Solid, says: Wording) -> list[str]:
    """Return how far open the roof is at 0 to 100 per cent of its travel, straight between the stations."""
    poses, texts, i = solid.poses, [], 0
    for percent in range(101):
        fraction = percent / 100
        while i < len(poses.fraction) - 2 and poses.fraction[i + 1] < fraction:
            i += 1
        (f0, f1), (a, b) = poses.fraction[i : i + 2], poses.opening[i : i + 2]
        value = a + (b - a) * (fraction - f0) / (f1 - f0)
        texts.append(says.length(value) if poses.slides else says.angle(value))
    return texts


def _reach(solid: Solid) -> tuple[Point, Point]:
    """Return the corners [m] of the upright box round everything, closed, open and between."""
    tables = {"shell": solid.poses.shell, "arm a": solid.poses.arm_a, "arm b": solid.poses.arm_b}
    spots: list[Point] = []
    for part in solid.parts:
        corners = {corner for face in part.faces for corner in face}
        for pose in tables.get(part.body, ()):
            spots += [solid.swing.moved(corner, pose) for corner in corners]
        spots += corners
    lows, highs = zip(*((min(axis), max(axis)) for axis in zip(*spots, strict=True)), strict=True)
    return (lows[0], lows[1], lows[2]), (highs[0], highs[1], highs[2])
