"""A section through the folded wall: cloth, ring, shell, latch bar, bed board, and how deep and high the bundle is."""

from __future__ import annotations

import math
from dataclasses import dataclass

from loftwright.core.errors import Bug
from loftwright.drawing.hatching import clipped_run, hatched
from loftwright.drawing.page import (
    XY,
    Drawing,
    Line,
    Placer,
    Polygon,
    Polyline,
    Primitive,
    Rect,
    Text,
    text_box,
    text_width,
    unpatched,
)
from loftwright.drawing.parts import dimension
from loftwright.drawing.pattern_room import dashed

_SIZE, _SIDE, _HEAD, _UNDER, _RIGHT = 2.5, 4.0, 7.0, 11.0, 13.0
_SCALES = (2.0, 1.0, 0.5, 0.4, 0.25, 0.2, 0.1)


@dataclass(frozen=True, slots=True)
class FoldSection:
    """One station in its own plane [mm]: u into the van, z up, from where the cloth is fastened below.

    `frames` are poses of the cloth from open to closed, the last one closed; `shell` is a line, the others are closed
    shapes and may be empty. `tip` and `bundle` are the two dimensions as text; `high` is from where to where the
    bundle reaches [z], the closed cloth's own where it is left out.
    """

    station: str
    frames: tuple[tuple[XY, ...], ...]
    ring: tuple[XY, ...]
    shell: tuple[XY, ...]
    tip: str
    bundle: str
    bar: tuple[XY, ...] = ()
    board: tuple[XY, ...] = ()
    cavity: tuple[XY, ...] = ()
    high: tuple[float, float] | None = None

    @property
    def closed(self) -> tuple[XY, ...]:
        """The cloth in the closed pose."""
        return self.frames[-1]


@dataclass(frozen=True, slots=True)
class _Frame:
    """Where a point of the section lies on the page."""

    x: float
    y: float
    scale: float

    def at(self, spot: XY) -> XY:
        return self.x + self.scale * spot[0], self.y - self.scale * spot[1]

    def all(self, spots: tuple[XY, ...]) -> tuple[XY, ...]:
        return tuple(self.at(spot) for spot in spots)


def fold_section(section: FoldSection, *, width: float, height: float) -> Drawing:
    """Return the closed pose within `width` and `height` [mm], inwards to the right, earlier poses as ghost lines.

    Errors: Bug where there is no closed pose.
    """
    if not section.frames or len(section.closed) < 3:
        raise Bug("a fold needs its closed pose")
    frame = _frame(section, width, height)
    marks: list[Primitive] = []
    window = Rect(0.0, _HEAD, width, height - _UNDER + 4.0)
    for pose in section.frames[:-1]:
        marks += [Polyline(run, "ghost") for run in clipped_run(frame.all(pose), window)]
    if section.cavity:
        room = frame.all(section.cavity)
        marks += dashed((*room, room[0]), "fine", dash=2.4, gap=1.2)
    cloth = frame.all(section.closed)
    marks += hatched([cloth], gap=1.5, pen="leader")
    for shape, gap in ((section.ring, 0.9), (section.bar, 0.9), (section.board, 1.6)):
        if shape:
            marks += [Polygon(frame.all(shape), "sign-plate"), *hatched([frame.all(shape)], gap=gap, pen="fine")]
    if section.shell:
        marks.append(Polyline(frame.all(section.shell), "rim"))
    marks.append(Polyline(cloth, "rim"))
    placer = _kept_free(section, frame, Rect(0.0, _HEAD, width, height))
    labels: list[Primitive] = []
    marks += _dimensions(section, frame, width, height, placer, labels)
    named = (
        ("ring", section.ring),
        ("latch bar", section.bar),
        ("bed board", section.board),
        ("shell", section.shell),
        ("cloth", section.closed),
        ("room for the bundle", section.cavity),
    )
    for name, shape in named:
        if shape:
            _name(name, frame.all(shape), placer, marks, labels)
    if len(section.frames) > 1:
        _name("on its way", max((frame.all(f) for f in section.frames[:-1]), key=len), placer, marks, labels)
    ratio = f"1 : {1 / frame.scale:.3g}" if frame.scale <= 1 else f"{frame.scale:.3g} : 1"
    head: list[Primitive] = [
        Text((0.0, 3.4), section.station, 3.0, "start", "ink", True),
        Text((width, 3.4), f"{ratio} at 100 %; outside is to the left", 2.3, "end", "note"),
    ]
    description = f"The wall folded in, {section.station}. {section.tip}; {section.bundle}."
    every = (*head, *marks, *unpatched(labels, marks))
    return Drawing(width, height, f"Fold, {section.station}", description, every)


def _frame(section: FoldSection, width: float, height: float) -> _Frame:
    spots = (*section.ring, *section.shell, *section.bar, *section.board, *section.cavity, *section.closed)
    us, zs = [u for u, _ in spots], [z for _, z in spots]
    room = Rect(_SIDE, _HEAD + 4.0, width - _RIGHT - _SIDE, height - _UNDER)
    wide, tall = max(us) - min(us), max(zs) - min(zs)
    most = min((room.x1 - room.x0) / wide, (room.y1 - room.y0) / tall)
    scale = next((s for s in _SCALES if s <= most), most)
    left = (room.x0 + room.x1 - scale * wide) / 2 - scale * min(us)
    return _Frame(left, (room.y0 + room.y1 + scale * tall) / 2 + scale * min(zs), scale)


def _kept_free(section: FoldSection, frame: _Frame, bounds: Rect) -> Placer:
    placer = Placer(bounds, gap=0.6)
    for shape in (section.ring, section.bar, section.board):
        if shape:
            xs, ys = zip(*frame.all(shape), strict=True)
            placer.taken.append(Rect(min(xs), min(ys), max(xs), max(ys)))
    cloth = frame.all(section.closed)
    xs, ys = zip(*cloth, strict=True)
    placer.avoided.append(Rect(min(xs), min(ys), max(xs), max(ys)))
    for line in (cloth, frame.all(section.shell)):
        placer.avoid_line(line, 0.6)
    for pose in section.frames[:-1]:
        placer.avoid_line(frame.all(pose), 0.3, faint=True)
    if section.cavity:
        room = frame.all(section.cavity)
        placer.avoid_line((*room, room[0]), 0.4)
    return placer


def _dimensions(
    section: FoldSection, frame: _Frame, width: float, height: float, placer: Placer, labels: list[Primitive]
) -> list[Primitive]:
    """Return how deep the tip lies, beneath everything, and how high the bundle is, at the right."""
    cloth = section.closed
    tip = max(cloth, key=lambda spot: abs(spot[0]))
    low, high = section.high or (min(z for _, z in cloth), max(z for _, z in cloth))
    (ax, ay), (bx, by) = frame.at((0.0, 0.0)), frame.at(tip)
    y = height - 5.5
    marks: list[Primitive] = [Line((ax, ay + 0.8), (ax, y + 1.0), "dim"), Line((bx, by + 0.8), (bx, y + 1.0), "dim")]
    marks += dimension((min(ax, bx), y), (max(ax, bx), y))
    half = text_width(section.tip, _SIZE) / 2
    middle = min(max((ax + bx) / 2, half + 1.0), width - half - 1.0)
    labels.append(Text((middle, y + 3.6), section.tip, _SIZE, "middle", "ink"))
    placer.taken.append(Rect(0.0, y - 1.0, width, height))
    x = width - _RIGHT + 6.0
    for z in (low, high):
        start = max((u for u, w in cloth if abs(w - z) <= 0.05 * (high - low) + 0.5), default=tip[0])
        sx, sy = frame.at((start, z))
        marks.append(Line((sx + 0.8, sy), (x + 1.0, sy), "dim"))
        placer.avoid_line(((sx, sy), (x, sy)), 0.4)
    (_, top), (_, bottom) = frame.at((0.0, high)), frame.at((0.0, low))
    marks += dimension((x, bottom), (x, top))
    long = text_width(section.bundle, _SIZE) / 2
    middle = min(max((top + bottom) / 2, _HEAD + long), y - 2.0 - long)
    label = Text((x + 3.6, middle), section.bundle, _SIZE, "middle", "ink", False, -math.pi / 2)
    labels.append(label)
    placer.taken += [text_box(label), Rect(x - 1.0, top - 4.0, x + 1.0, bottom + 4.0)]
    return marks


def _name(name: str, points: tuple[XY, ...], placer: Placer, marks: list[Primitive], labels: list[Primitive]) -> None:
    """Write a name near a shape, with a thin line to it."""
    half = text_width(name, _SIZE) / 2 + 1.0
    step = max(1, len(points) // 12)
    spots = [points[k] for k in sorted(range(0, len(points), step), key=lambda k: abs(k - len(points) // 2))]
    if len(points) == 2:
        spots.insert(0, ((points[0][0] + points[1][0]) / 2, (points[0][1] + points[1][1]) / 2))
    for care in (2, 1):
        for off in (2.2, 3.6, 5.5, 8.0):
            for x, y in spots:
                around = [(x, y - off + 0.6), (x, y + off + 1.6), (x + half + off, y + 0.8), (x - half - off, y + 0.8)]
                around += [(x + half + off, y - off), (x - half - off, y - off)]
                around += [(x + half + off, y + off + 1.6), (x - half - off, y + off + 1.6)]
                placed = placer.place(
                    Text((0.0, 0.0), name, _SIZE, "middle", "note", halo=True), around, near=False, care=care
                )
                if placed is not None:
                    box = text_box(placed)
                    near = (min(max(x, box.x0), box.x1), box.y0 if y < box.y0 else box.y1)
                    if not box.y0 - 0.2 <= y <= box.y1 + 0.2:
                        marks.append(Line((x, y), near, "leader"))
                    else:
                        marks.append(Line((x, y), (box.x0 if x < box.x0 else box.x1, (box.y0 + box.y1) / 2), "leader"))
                    labels.append(placed)
                    return
