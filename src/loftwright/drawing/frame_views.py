"""The timber frame to scale: from the side, from the end and from above, with dimension lines."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence

from loftwright.core.errors import Bug
from loftwright.core.trial_frame import Box, Brace, Place, TrialFrame
from loftwright.core.wording import Wording
from loftwright.drawing.elevation import SCALES
from loftwright.drawing.page import (
    XY,
    Circle,
    Drawing,
    Line,
    Placer,
    Polygon,
    Polyline,
    Primitive,
    Rect,
    Text,
    spread,
    text_box,
    text_width,
    unpatched,
)
from loftwright.drawing.parts import dimension
from loftwright.drawing.tiles import wrapped

_SIZE = 2.5
_LEFT, _GAP, _CAPTION, _UNDER = 11.0, 12.0, 9.0, 21.0
"""Room at the left, between the two upper views, for a caption and for stations under the upper views [mm]."""
_Flat = Callable[[Place], XY]


def _rect(low: XY, high: XY, pen: str) -> Polygon:
    (ax, ay), (bx, by) = low, high
    return Polygon(((ax, ay), (bx, ay), (bx, by), (ax, by)), pen)


def _box(box: Box, flat: _Flat, pen: str) -> Polygon:
    return _rect(flat(box.low), flat(box.high), pen)


def _brace(brace: Brace, flat: _Flat, scale: float, *, inside: bool) -> Polygon:
    """Return a brace in its own plane as a sloping board, else as the box round it."""
    a, b = flat(brace.a), flat(brace.b)
    if not inside:
        half = brace.thick * scale / 2
        across = (half, 0.0) if abs(a[0] - b[0]) < abs(a[1] - b[1]) else (0.0, half)
        return _rect(
            (min(a[0], b[0]) - across[0], min(a[1], b[1]) - across[1]),
            (max(a[0], b[0]) + across[0], max(a[1], b[1]) + across[1]),
            "timber",
        )
    length = math.dist(a, b)
    half = brace.wide * scale / 2
    nx, ny = -(b[1] - a[1]) / length * half, (b[0] - a[0]) / length * half
    return Polygon(
        ((a[0] + nx, a[1] + ny), (b[0] + nx, b[1] + ny), (b[0] - nx, b[1] - ny), (a[0] - nx, a[1] - ny)), "timber"
    )


def _dim(a: XY, b: XY, text: str) -> list[Primitive]:
    """Return a level or upright dimension with its words above or beside it."""
    x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    if abs(a[1] - b[1]) < 1e-9:
        label = Text((x, y - 0.9), text, _SIZE, "middle", "ink", halo=True)
    else:
        label = Text((x - 0.9, y), text, _SIZE, "middle", "ink", False, -math.pi / 2, True)
    return [*dimension(a, b), label]


def _reach(points: Iterable[XY]) -> list[Primitive]:
    """Return thin lines from what is measured to its dimension line: pairs of points."""
    pairs = list(points)
    return [Line(a, b, "dim") for a, b in zip(pairs[::2], pairs[1::2], strict=True)]


def _letters(frame: TrialFrame, spots: Sequence[tuple[str, XY]], placer: Placer) -> list[Primitive]:
    """Return the letter of each member in a ring at or near its spot."""
    found: list[Primitive] = []
    for mark, (x, y) in spots:
        tries = [(x, y), (x, y - 4.0), (x, y + 4.0), (x + 4.0, y), (x - 4.0, y)]
        placed = placer.place(Text((0.0, 0.0), f" {mark} ", 2.6, "middle", "ink", True), tries, near=True)
        if placed is not None:
            if math.dist(placed.at, (x, y)) > 2.2:
                found.append(Line(placed.at, (x, y - 0.9), "leader"))
            found += [
                Circle((placed.at[0], placed.at[1] - 0.9), 1.9, "pivot"),
                Text(placed.at, mark, 2.6, "middle", "ink", True),
            ]
    return found


def frame_views(frame: TrialFrame, says: Wording, *, width: float, height: float) -> Drawing:
    """Return side view, end view and plan at one scale in at most `width` x `height` [mm]."""
    first, last = frame.sides
    outer = max(box.high[1] for box in frame.boxes) + max((b.thick for b in frame.braces), default=0.0)
    tops = max(box.high[2] for box in frame.boxes)
    long, wide, tall = last - first, 2 * outer, tops - frame.ground
    for ratio in SCALES:
        s = 1000 / ratio
        rows = _CAPTION + s * tall + _UNDER + _CAPTION + s * wide + 14.0
        beside = _LEFT + s * long + _GAP + s * wide + 2.0
        below = _LEFT + s * long + 6.0 + 6.0 * len({round(h.place, 4) for h in frame.held})
        if max(beside, below) <= width and rows <= height:
            return _drawn(frame, says, s, ratio, (width, rows), outer, tops)
    raise Bug("the frame fits the drawing at no scale")


def _drawn(frame: TrialFrame, says: Wording, s: float, ratio: int, size: XY, outer: float, tops: float) -> Drawing:
    width, height = size
    first, last = frame.sides
    long = s * (last - first)
    left, gap, caption = _LEFT, _GAP, _CAPTION
    ground_y = caption + s * (tops - frame.ground)

    def side(p: Place) -> XY:
        return left + s * (p[0] - first), ground_y - s * (p[2] - frame.ground)

    end_x = left + long + gap + s * outer

    def end(p: Place) -> XY:
        # Seen from the rear: left is left.
        return end_x - s * p[1], ground_y - s * (p[2] - frame.ground)

    plan_y = ground_y + _UNDER + caption + s * outer

    def plan(p: Place) -> XY:
        return left + s * (p[0] - first), plan_y - s * p[1]

    marks: list[Primitive] = [
        Text((0.0, 3.4), "From the side", 2.9, "start", "ink", True),
        Text((left + long + gap - 2.0, 3.4), "From the rear", 2.9, "start", "ink", True),
        Text((0.0, plan_y - s * outer - 3.0), "From above", 2.9, "start", "ink", True),
    ]
    marks += _side(frame, says, side, s)
    marks += _end(frame, says, end, s)
    marks += _plan(frame, says, plan, s)
    note_x = left + long + 10.0 + 6.0 * len({round(h.place, 4) for h in frame.held})
    notes = (
        f"1 : {ratio} when printed at 100 %. The cab is to the right. Up and down count from the upper edge of the "
        "sides, along from the opening's rear edge. Dotted lines are the diagonals that must be alike."
    )
    for i, line in enumerate(wrapped(notes, width - note_x, 2.4)):
        marks.append(Text((note_x, plan_y - s * outer + 4.0 + 3.5 * i), line, 2.4, "start", "note"))
    return Drawing(width, height, "The timber frame", _describe(frame, says), tuple(marks))


def _order(frame: TrialFrame, axis: int) -> list[Box]:
    """Return the boxes from the furthest to the nearest as seen against `axis`."""
    return sorted(frame.boxes, key=lambda b: (b.low[axis] + b.high[axis]) / 2)


def _side(frame: TrialFrame, says: Wording, flat: _Flat, s: float) -> list[Primitive]:
    """Return the left side seen from outside, turned so that the cab is to the right: as if looked through."""
    near = [b for b in frame.boxes if (b.low[1] + b.high[1]) / 2 > 0 and b.mark not in ("B", "E")]
    held = {chr(ord("F") + i) for i in range(len(frame.held))}
    marks: list[Primitive] = [_box(b, flat, "timber") for b in near if b.mark in ("A", "D")]
    marks += [_box(b, flat, "timber-end") for b in frame.boxes if b.mark in ("B", "E")]
    marks += [_box(b, flat, "timber") for b in near if b.mark == "A"]
    marks += [_box(b, flat, "timber") for b in near if b.mark in held]
    marks += [_box(b, flat, "timber") for b in near if b.mark == "C"]
    marks += [_brace(b, flat, s, inside=True) for b in frame.braces if b.plane == "side" and b.a[1] > 0]
    ground = flat((0.0, 0.0, frame.ground))[1]
    (ax, _), (bx, _) = flat((frame.sides[0], 0, 0)), flat((frame.sides[1], 0, 0))
    marks.append(Line((ax - 3, ground), (bx + 3, ground), "floor"))
    top = flat((0.0, 0.0, frame.top))[1]
    points: list[Primitive] = [Circle(flat((h.x, 0.0, h.z)), 0.8, "pivot") for h in frame.held]
    labels: list[Primitive] = []
    # Stations along under the ground line, each with its own leader.
    stations = [(0.0, "opening, rear"), *((h.x, h.name) for h in frame.held), (frame.opening[0], "opening, front")]
    stations += [(x, "leg") for x in frame.legs]
    rows = [(x, f"{says.short_length(x).replace('-', '−')}", name) for x, name in sorted(stations)]
    y = ground + 4.0
    size = 2.1
    widths = [max(text_width(t, size), text_width(n, size)) + 0.6 for _, t, n in rows]
    total = sum(widths) + 1.0 * (len(rows) - 1)
    low, high = ax - _LEFT, bx + _GAP - 3.0
    step = 1 if total < high - low else 2
    for k in range(step):
        chosen, sizes = rows[k::step], widths[k::step]
        centres = spread([flat((x, 0, 0))[0] for x, _, _ in chosen], sizes, low, high, 1.0)
        for (x, text, name), cx in zip(chosen, centres, strict=True):
            px = flat((x, 0.0, 0.0))[0]
            base = y + 7.0 * k
            labels += [
                Polyline(((px, ground), (px, y - 1.0), (cx, base + 0.2)), "leader"),
                Text((cx, base + 2.4), text, size, "middle", "ink", True, 0.0, True),
                Text((cx, base + 4.9), name, size, "middle", "note", False, 0.0, True),
            ]
    dims = [
        *_reach([(ax, top), (ax - 8.0, top), (ax, ground), (ax - 8.0, ground)]),
        *_dim((ax - 7.0, top), (ax - 7.0, ground), says.length(frame.top - frame.ground)),
    ]
    placer = Placer(Rect(ax - 2.0, 4.6, bx + _GAP, ground + 1.0))
    for h in frame.held:
        px, py = flat((h.x, 0.0, h.z))
        placer.taken.append(Rect(px - 1, py - 1, px + 1, py + 1))
    for h in frame.held:
        px, py = flat((h.x, 0.0, h.z))
        rise = h.z - frame.top
        text = f"{says.short_length(abs(rise))} {'up' if rise >= 0 else 'down'}"
        half = text_width(text, 2.3) / 2
        tries = [(px, py - 2.2), (px + half + 2, py + 0.8), (px - half - 2, py + 0.8), (px, py + 4.4)]
        placed = placer.place(Text((0, 0), text, 2.3, "middle", "ink", halo=True), tries)
        if placed is not None:
            labels.append(placed)
    seen: dict[str, XY] = {}
    for b in near:
        x, y_ = flat(_middle(b))
        if b.mark == "A":
            x = flat((frame.sides[0] + 0.30 * (frame.sides[1] - frame.sides[0]), 0, 0))[0]
        if b.mark == "D":
            x = flat((frame.sides[0] + 0.72 * (frame.sides[1] - frame.sides[0]), 0, 0))[0]
        seen.setdefault(b.mark, (x, y_ + 0.9))
    for brace in frame.braces:
        if brace.plane == "side":
            a, b2 = flat(brace.a), flat(brace.b)
            seen.setdefault(brace.mark, (a[0] + 0.4 * (b2[0] - a[0]), a[1] + 0.4 * (b2[1] - a[1]) + 0.9))
    labels += _letters(frame, list(seen.items()), placer)
    return [*marks, *points, *dims, *unpatched(labels, marks)]


def _middle(box: Box) -> Place:
    a, b = box.low, box.high
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2


def _end(frame: TrialFrame, says: Wording, flat: _Flat, s: float) -> list[Primitive]:
    marks: list[Primitive] = []
    rear = frame.legs[0]
    for b in frame.boxes:
        if b.mark in ("B", "E") and b.low[0] < 0.5 * frame.opening[0]:
            marks.append(_box(b, flat, "timber"))
        elif b.mark in ("A", "D"):
            marks.append(_box(b, flat, "timber-end"))
        elif b.mark == "C" and b.low[0] < rear + 1e-6:
            marks.append(_box(b, flat, "timber"))
    marks += [
        _brace(b, flat, s, inside=True) for b in frame.braces if b.plane == "end" and b.a[0] < 0.5 * frame.opening[0]
    ]
    crown = [flat((0.0, y, frame.top + z)) for y, z in frame.crown]
    marks.append(Polyline(tuple(crown), "rim"))
    ground = flat((0.0, 0.0, frame.ground))[1]
    half = frame.opening[1] / 2
    outer = max(b.high[1] for b in frame.boxes)
    (lx, _), (rx, _) = flat((0, outer, 0)), flat((0, -outer, 0))
    marks.append(Line((lx - 3, ground), (rx + 3, ground), "floor"))
    (ax, _), (bx, _) = flat((0, half, 0)), flat((0, -half, 0))
    y = ground + 5.5
    dims = [
        *_reach([(ax, ground), (ax, y + 1), (bx, ground), (bx, y + 1)]),
        *_dim((ax, y), (bx, y), says.length(frame.opening[1])),
        *_reach([(lx, ground), (lx, y + 6.5), (rx, ground), (rx, y + 6.5)]),
        *_dim((lx, y + 5.5), (rx, y + 5.5), says.length(2 * outer)),
    ]
    top_x, top_y = flat((0.0, 0.0, frame.top + max(z for _, z in frame.crown)))
    words = Text((top_x, top_y - 1.6), "roof curve: table", 2.3, "middle", "note")
    placer = Placer(Rect(lx - 8, 4.6, rx + 8, ground + 1.0))
    placer.taken.append(text_box(words))
    spots: dict[str, XY] = {}
    for b in frame.boxes:
        if b.mark in ("B", "E"):
            x, z = flat(_middle(b))
            spots.setdefault(b.mark, (x, z + 0.9))
    for brace in frame.braces:
        if brace.plane == "end":
            a, c = flat(brace.a), flat(brace.b)
            spots.setdefault(brace.mark, (a[0] + 0.4 * (c[0] - a[0]), a[1] + 0.4 * (c[1] - a[1]) + 0.9))
    return [*marks, *dims, words, *_letters(frame, list(spots.items()), placer)]


def _plan(frame: TrialFrame, says: Wording, flat: _Flat, s: float) -> list[Primitive]:
    held = {chr(ord("F") + i) for i in range(len(frame.held))}
    marks: list[Primitive] = [_box(b, flat, "timber-end") for b in frame.boxes if b.mark == "E"]
    marks += [_box(b, flat, "timber") for b in frame.boxes if b.mark in ("A", "B")]
    marks += [_box(b, flat, "timber-end") for b in frame.boxes if b.mark == "C"]
    marks += [_box(b, flat, "timber-end") for b in frame.boxes if b.mark in held]
    marks += [_brace(b, flat, s, inside=False) for b in frame.braces if b.plane == "side"]
    length, wide = frame.opening
    half = wide / 2
    corners = [flat(p) for p in ((0.0, half, 0.0), (length, -half, 0.0), (0.0, -half, 0.0), (length, half, 0.0))]
    marks += [Line(corners[0], corners[1], "ghost"), Line(corners[2], corners[3], "ghost")]
    diagonal = says.length(math.hypot(length, wide))
    mx, my = (corners[0][0] + corners[1][0]) / 2, (corners[0][1] + corners[1][1]) / 2
    labels: list[Primitive] = [
        Text((mx, my - 3.0), f"both diagonals {diagonal}", _SIZE, "middle", "ink", halo=True),
        Text((mx, my + 5.0), "the opening stays free", 2.3, "middle", "note", halo=True),
    ]
    low = max(b.high[1] for b in frame.boxes)
    y = flat((0.0, -low, 0.0))[1] + 6.5
    (ax, ay), (bx, _) = flat((0.0, -half, 0.0)), flat((length, -half, 0.0))
    (fx, _), (lx, _) = flat((frame.sides[0], 0.0, 0.0)), flat((frame.sides[1], 0.0, 0.0))
    dims = [
        *_reach([(ax, ay), (ax, y + 1), (bx, ay), (bx, y + 1)]),
        *_dim((ax, y), (bx, y), says.length(length)),
        *_reach([(fx, ay), (fx, y + 6.5), (lx, ay), (lx, y + 6.5)]),
        *_dim((fx, y + 5.5), (lx, y + 5.5), says.length(frame.sides[1] - frame.sides[0])),
    ]
    x = fx - 4.5
    (_, ty), (_, by) = flat((0.0, half, 0.0)), flat((0.0, -half, 0.0))
    dims += [*_reach([(ax, ty), (x - 1, ty), (ax, by), (x - 1, by)]), *_dim((x, ty), (x, by), says.length(wide))]
    # Where brackets' faces lie, at the right: each place once.
    places = sorted({round(h.place, 4): h.name for h in frame.held}.items())
    for i, (place, name) in enumerate(places):
        px = lx + 5.0 + 6.0 * i
        (_, ay2), (_, by2) = flat((0.0, place, 0.0)), flat((0.0, -place, 0.0))
        dims += [
            *_reach([(lx, ay2), (px + 1, ay2), (lx, by2), (px + 1, by2)]),
            *_dim((px, ay2), (px, by2), f"faces of {name}: {says.length(2 * place)}"),
        ]
    return [*marks, *dims, *unpatched(labels, marks)]


def _describe(frame: TrialFrame, says: Wording) -> str:
    length, wide = frame.opening
    return (
        f"The frame copies an opening of {says.length(length)} by {says.length(wide)}; the upper edge of its sides is "
        f"{says.length(frame.top - frame.ground)} above the ground. "
        + " ".join(f"{h.name.capitalize()}: {says.short_length(h.x)} along." for h in frame.held)
    )
