"""The cable's free loop from the van to the shell over the travel: clips, chord and hanging loop, pose by pose."""

from __future__ import annotations

import math
from dataclasses import dataclass

from loftwright.core.errors import Bug
from loftwright.drawing.hatching import clipped_run
from loftwright.drawing.legend import Sign, legend, sentences
from loftwright.drawing.page import (
    XY,
    Circle,
    Drawing,
    Line,
    Placer,
    Polyline,
    Primitive,
    Rect,
    Text,
    text_box,
    text_width,
    unpatched,
)

_SIZE, _TITLE, _SIDE, _HEAD = 2.4, 2.9, 5.0, 8.0
_AROUND = 0.35
"""How much of van and shell is shown round the loop, as a share of its free length."""
_NARROW = 40.0
"""Poses stand side by side while each has this much [mm]."""


@dataclass(frozen=True, slots=True)
class LoopPose:
    """One pose: its name, where the shell's clip is and lines of the shell, x to the cab and z up [mm]."""

    name: str
    shell_clip: XY
    shell: tuple[tuple[XY, ...], ...] = ()
    text: str = ""
    """What is said of the loop in this pose, such as how far apart the clips are."""


@dataclass(frozen=True, slots=True)
class LoopView:
    """A loop of `free` length [mm] between two clips; `van` are lines of the van that stand still [mm].

    `least_radius` [mm] is drawn as a circle of the tightest bend allowed, with its text.
    """

    title: str
    free: float
    free_text: str
    van_clip: XY
    poses: tuple[LoopPose, ...]
    van: tuple[tuple[XY, ...], ...] = ()
    least_radius: float = 0.0
    least_text: str = ""
    van_name: str = "clip on the van"
    shell_name: str = "clip on the shell"
    said: tuple[str, ...] = ()


def hanging(a: XY, b: XY, length: float, pieces: int = 32) -> tuple[XY, ...]:
    """Return an even arc of `length` from a to b, z up, that hangs below or beside the straight line [mm].

    Straight where the length does not reach further than the line.
    """
    chord = math.dist(a, b)
    if chord < 1e-9 or length <= chord * 1.0001:
        return a, b
    # sin(h) / h = chord / length, h half the arc's angle, by halving.
    low, high = 1e-6, math.pi
    for _ in range(60):
        h = (low + high) / 2
        low, high = (h, high) if math.sin(h) / h > chord / length else (low, h)
    h = (low + high) / 2
    r = length / (2 * h)
    ux, uz = (b[0] - a[0]) / chord, (b[1] - a[1]) / chord
    # The side on which the middle hangs lower; beside an upright line to the rear.
    nx, nz = (uz, -ux) if ux > 0 else (-uz, ux)
    if abs(ux) < 1e-9:
        nx, nz = -1.0, 0.0
    cx = (a[0] + b[0]) / 2 - nx * r * math.cos(h)
    cz = (a[1] + b[1]) / 2 - nz * r * math.cos(h)
    turns = [h * (2 * k / pieces - 1) for k in range(1, pieces)]
    inner = [
        (cx + r * (math.cos(t) * nx + math.sin(t) * ux), cz + r * (math.cos(t) * nz + math.sin(t) * uz)) for t in turns
    ]
    return (a, *inner, b)


def loop_view(view: LoopView, *, width: float, height: float = math.inf) -> Drawing:
    """Return the poses side by side at one scale, or one under the other where the page is narrow.

    Errors: Bug without poses.
    """
    if not view.poses:
        raise Bug("a loop needs its poses")
    n = len(view.poses)
    columns = max(1, min(n, int(width / _NARROW)))
    rows = math.ceil(n / columns)
    spots = [spot for pose in view.poses for spot in hanging(view.van_clip, pose.shell_clip, view.free)]
    # Only what is round the loop is shown of van and shell.
    air = _AROUND * view.free
    x0, x1 = min(x for x, _ in spots) - air, max(x for x, _ in spots) + air
    z0, z1 = min(z for _, z in spots) - 0.15 * air, max(z for _, z in spots) + 0.5 * air
    each = width / columns
    s = (each - 2 * _SIDE) / max(x1 - x0, 1.0)
    if math.isfinite(height):
        s = min(s, ((height - 14.0) / rows - _HEAD - 10.0) / max(z1 - z0, 1.0))
    tall = _HEAD + s * (z1 - z0) + 9.0
    marks: list[Primitive] = [Text((0.3, 3.6), view.title, _TITLE, "start", "ink", True)]
    for k, pose in enumerate(view.poses):
        left, top = (k % columns) * each, 5.0 + (k // columns) * tall
        spare = (each - s * (x1 - x0)) / 2
        origin = (left + spare - s * x0, top + _HEAD + s * z1)
        window = Rect(left + spare, top + _HEAD - 1.0, left + each - spare, top + _HEAD + s * (z1 - z0) + 1.0)
        marks += _pose(view, pose, s, origin, window, Rect(left, top, left + each, top + tall))
    y = 5.0 + rows * tall
    signs = [
        Sign(
            (Polyline(((0.0, -1.6), (1.6, -0.5), (3.5, -0.1), (5.4, -0.5), (7.0, -1.6)), "rim"),), 7.0, view.free_text
        ),
        Sign((Circle((1.0, -1.1), 0.8, "start-hole"),), 2.0, view.van_name),
        Sign((Circle((1.0, -1.1), 0.8, "pivot"),), 2.0, view.shell_name),
    ]
    if view.least_radius > 0:
        signs.append(Sign((Circle((1.2, -1.2), 1.1, "ghost"),), 2.4, view.least_text))
    under, y = legend(signs, 0.0, y, width)
    said, y = sentences(view.said, 0.3, y, width - 0.6)
    told = " ".join(f"{pose.name}: {pose.text}." for pose in view.poses)
    return Drawing(width, y + 0.6, view.title, f"{view.free_text}. {told}", (*marks, *under, *said))


def _pose(view: LoopView, pose: LoopPose, s: float, origin: XY, window: Rect, room: Rect) -> list[Primitive]:
    def at(spot: XY) -> XY:
        return origin[0] + s * spot[0], origin[1] - s * spot[1]

    marks: list[Primitive] = []
    for line in view.van:
        marks += [Polyline(run, "floor") for run in clipped_run([at(p) for p in line], window)]
    for line in pose.shell:
        marks += [Polyline(run, "outline") for run in clipped_run([at(p) for p in line], window)]
    a, b = at(view.van_clip), at(pose.shell_clip)
    cable = [at(p) for p in hanging(view.van_clip, pose.shell_clip, view.free)]
    if view.least_radius > 0:
        # Inside the loop, at its lowest place.
        lx, ly = max(cable, key=lambda p: p[1])
        r = s * view.least_radius
        marks.append(Circle((min(max(lx, room.x0 + r), room.x1 - r), ly - r), r, "ghost"))
    marks += [Line(a, b, "leader"), Polyline(tuple(cable), "rim")]
    marks += [Circle(a, 0.9, "start-hole"), Circle(b, 0.9, "pivot")]
    labels: list[Primitive] = [Text((room.x0 + 1.0, room.y0 + 3.4), pose.name, _SIZE, "start", "ink", True)]
    if pose.text:
        placer = Placer(Rect(room.x0 + 0.5, room.y0 + 4.0, room.x1 - 0.5, room.y1), gap=0.5)
        placer.taken += [text_box(t) for t in labels if isinstance(t, Text)]
        for run in ([a, b], cable, *(m.points for m in marks if isinstance(m, Polyline))):
            placer.avoid_line(run, 0.5)
        half = text_width(pose.text, _SIZE) / 2
        x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
        low = max(p[1] for p in cable)
        middle = min(max(x, room.x0 + half + 1.0), room.x1 - half - 1.0)
        places = [(middle, low + 3.6), (x + half + 2.0, y), (x - half - 2.0, y), (middle, low + 6.0)]
        found = placer.place(Text(places[0], pose.text, _SIZE, "middle", "ink", halo=True), places)
        labels += [found] if found is not None else []
    return [*marks, *unpatched(labels, marks)]
