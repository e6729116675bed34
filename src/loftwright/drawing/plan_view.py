"""The roof from above with the cut line, the ring round it, bows, plates and dimensions; the cab to the right."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Protocol

from loftwright.core.hold_views import CutPlan, Flat, PlanBow
from loftwright.core.wording import Wording
from loftwright.drawing.elevation import SCALES
from loftwright.drawing.hatching import hatched
from loftwright.drawing.page import (
    XY,
    Circle,
    Drawing,
    Line,
    Placer,
    Polygon,
    Primitive,
    Rect,
    Text,
    text_box,
    text_width,
    unpatched,
)
from loftwright.drawing.parts import View
from loftwright.drawing.sizes import sizes_round
from loftwright.drawing.tiles import pointer

_SIZE = 2.5
_ROOMY = 110.0
"""From this width on words on the scale stand beside the arrow [mm]."""
Sides = tuple[float, float, float, float]


def bounds_of(sides: Sides) -> tuple[float, float, float, float]:
    """Return x of the rear, y of the right, x of the front, y of the left side [m]."""
    rear, right, front, left = sides
    return rear, -abs(right), front, abs(left)


def rounded(sides: Sides, radius: float, out: float = 0.0, pieces: int = 8) -> tuple[Flat, ...]:
    """Return a rectangle with round corners of `radius` [m], `out` [m] larger; it begins at the rear right corner."""
    x0, y0, x1, y1 = bounds_of(sides)
    x0, y0, x1, y1 = x0 - out, y0 - out, x1 + out, y1 + out
    r = min(radius + out if radius > 0 else 0.0, (x1 - x0) / 2, (y1 - y0) / 2)
    if r <= 0:
        return (x0, y0), (x1, y0), (x1, y1), (x0, y1)
    found = []
    centres = ((x0 + r, y0 + r), (x1 - r, y0 + r), (x1 - r, y1 - r), (x0 + r, y1 - r))
    for k, (cx, cy) in enumerate(centres):
        first = math.pi + k * math.pi / 2
        found += [
            (cx + r * math.cos(first + j * math.pi / 2 / pieces), cy + r * math.sin(first + j * math.pi / 2 / pieces))
            for j in range(pieces + 1)
        ]
    return tuple(found)


def cut_plan(plan: CutPlan, says: Wording, *, width: float, height: float) -> Drawing:
    """Return the plan at the largest usual scale that fits `width` x `height` [mm]."""
    for ratio in SCALES:
        drawing = _drawn(plan, says, 1000.0 / ratio, f"1 : {ratio}", width, height)
        if drawing is not None:
            return drawing
    # A roof that fits at no usual scale, or a very small picture: as large as it can be.
    scale = 1000.0 / SCALES[-1]
    while True:
        scale *= 0.9
        drawing = _drawn(plan, says, scale, "", width, height)
        if drawing is not None or scale < 1.0:
            break
    return drawing or Drawing(width, height, "The cut from above", _describe(plan), ())


def _drawn(plan: CutPlan, says: Wording, scale: float, ratio: str, width: float, height: float) -> Drawing | None:
    rear, right, front, left = bounds_of(plan.roof)
    sr, sright, sf, sl = bounds_of(plan.shell)
    rear, right, front, left = min(rear, sr), min(right, sright), max(front, sf), max(left, sl)
    foot = 9.0
    view = View(0.0, 0.0, scale)

    def box_of(v: View) -> Rect:
        (x0, y0), (x1, y1) = v.at((rear, left)), v.at((front, right))
        return Rect(x0, y0, x1, y1)

    measured = [(view.at(a), view.at(b), text) for a, b, text in plan.sizes]
    reach = sizes_round(measured, box_of(view), size=_SIZE).reach
    wide, tall = reach.x1 - reach.x0, reach.y1 - reach.y0
    if wide > width - 1.0 or tall + foot > height - 1.0:
        return None
    view = View((width - wide) / 2 - reach.x0, 0.5 - reach.y0, scale)
    sizes = sizes_round([(view.at(a), view.at(b), text) for a, b, text in plan.sizes], box_of(view), size=_SIZE)
    marks = _body(plan, view)
    placer = Placer(Rect(0.5, 0.5, width - 0.5, tall + 1.0), gap=0.7)
    placer.taken += [text_box(figure) for figure in sizes.figures]
    for line in sizes.lines:
        if isinstance(line, Line):
            placer.avoid_line([line.a, line.b], 0.3)
    labels = _words(plan, says, view, placer, marks)
    bottom = tall + 1.0
    arrow_y = bottom + 4.6
    marks += [
        *pointer((width - 24.0, arrow_y), (width - 8.0, arrow_y)),
        Text((width - 26.0, arrow_y + 0.9), "to the cab", 2.9, "end", "ink", True),
        Text((0.5, arrow_y + 0.9), f"Seen from above.{_scale_words(ratio, width)}", _SIZE),
    ]
    over = [*sizes.lines, *unpatched([*sizes.figures, *labels], [*marks, *sizes.lines])]
    return Drawing(width, bottom + foot - 1.0, "The cut from above", _describe(plan), (*marks, *over))


def _scale_words(ratio: str, width: float) -> str:
    """Return the scale in words where there is room for them beside the arrow."""
    return f" Scale {ratio}; the figures count." if ratio and width >= _ROOMY else ""


def _rect(view: View, x0: float, y0: float, x1: float, y1: float, pen: str) -> Polygon:
    return Polygon(view.all([(x0, y0), (x1, y0), (x1, y1), (x0, y1)]), pen)


def _body(plan: CutPlan, view: View) -> list[Primitive]:
    x0, y0, x1, y1 = bounds_of(plan.roof)
    radius = plan.radius or 0.0
    cut = view.all(rounded(plan.opening, radius))
    marks: list[Primitive] = [_rect(view, x0, y0, x1, y1, "outline")]
    for bow in plan.bows:
        marks += _bow(bow, plan, view)
    if plan.ring > 0:
        outer = view.all(rounded(plan.opening, radius, plan.ring))
        marks += [Polygon(outer, "thin-outline"), *hatched([outer, cut], gap=1.3, pen="fine")]
    sx0, sy0, sx1, sy1 = bounds_of(plan.shell)
    ghost = view.all([(sx0, sy0), (sx1, sy0), (sx1, sy1), (sx0, sy1)])
    marks += [Line(a, b, "ghost") for a, b in zip(ghost, (*ghost[1:], ghost[0]), strict=True)]
    ox0, oy0, ox1, oy1 = bounds_of(plan.opening)
    marks += [
        Line(view.at((ox0, oy0)), view.at((ox1, oy1)), "dim"),
        Line(view.at((ox0, oy1)), view.at((ox1, oy0)), "dim"),
    ]
    for _, x, y, long, wide in plan.plates:
        marks.append(_rect(view, x - long / 2, y - wide / 2, x + long / 2, y + wide / 2, "item"))
    marks.append(Polygon(cut, "rim"))
    if radius > 0:
        for cx in (ox0 + radius, ox1 - radius):
            for cy in (oy0 + radius, oy1 - radius):
                px, py = view.at((cx, cy))
                marks += [Line((px - 1.3, py), (px + 1.3, py), "fine"), Line((px, py - 1.3), (px, py + 1.3), "fine")]
    marks += [Circle(view.at(spot), 0.8, "start-hole") for spot in plan.starts]
    return marks


def _bow(bow: PlanBow, plan: CutPlan, view: View) -> list[Primitive]:
    """Return a bow: whole where it is kept; what is cut out of it dashed and crossed."""
    _, right, _, left = bounds_of(plan.roof)
    ox0, oright, ox1, oleft = bounds_of(plan.opening)
    a, b = bow.at - bow.half, bow.at + bow.half
    if bow.kept or not (a < ox1 and b > ox0):
        return [_rect(view, a, right, b, left, "steel")]
    marks: list[Primitive] = [_rect(view, a, right, b, oright, "steel"), _rect(view, a, oleft, b, left, "steel")]
    corners = view.all([(a, oright), (b, oright), (b, oleft), (a, oleft)])
    marks += [Line(corners[0], corners[3], "ghost"), Line(corners[1], corners[2], "ghost")]
    return marks


class _Put(Protocol):
    """Puts a text at the first of some places that is free, with a leader to what it names."""

    def __call__(
        self, text: str, places: Sequence[XY], to: XY | None = None, *, turn: float = 0.0, bold: bool = False
    ) -> None: ...


def _keep_clear(plan: CutPlan, view: View, placer: Placer) -> None:
    """Keep words off plates, first holes and lines."""
    ox0, oy0, ox1, oy1 = bounds_of(plan.opening)
    rx0, ry0, rx1, ry1 = bounds_of(plan.roof)
    for _, x, y, long, wide in plan.plates:
        (a, c), (b, d) = view.at((x - long / 2, y + wide / 2)), view.at((x + long / 2, y - wide / 2))
        placer.avoided.append(Rect(a, c, b, d))
    for spot in plan.starts:
        px, py = view.at(spot)
        placer.taken.append(Rect(px - 1.2, py - 1.2, px + 1.2, py + 1.2))
    cut = view.all(rounded(plan.opening, plan.radius or 0.0))
    placer.avoid_line([*cut, cut[0]], 0.6)
    placer.avoid_line(view.all([(rx0, ry0), (rx1, ry0), (rx1, ry1), (rx0, ry1), (rx0, ry0)]), 0.4)
    sx0, sy0, sx1, sy1 = bounds_of(plan.shell)
    placer.avoid_line(view.all([(sx0, sy0), (sx1, sy0), (sx1, sy1), (sx0, sy1), (sx0, sy0)]), 0.2, faint=True)
    for bow in plan.bows:
        placer.avoid_line(view.all([(bow.at, ry0), (bow.at, ry1)]), bow.half * view.scale + 0.2)
    placer.avoid_line(view.all([(ox0, oy0), (ox1, oy1)]), 0.2)
    placer.avoid_line(view.all([(ox0, oy1), (ox1, oy0)]), 0.2)


def _bows_and_plates(plan: CutPlan, view: View, put: _Put) -> None:
    ox0, oy0, ox1, oy1 = bounds_of(plan.opening)
    (_, y1), (_, y0) = view.at((ox0, oy0)), view.at((ox1, oy1))
    tall = y1 - y0
    for bow in plan.bows:
        words = f"{bow.name}: {'kept' if bow.kept else 'cut'}"
        px = view.at((bow.at, 0.0))[0]
        side = bow.half * view.scale
        places = [
            (px + dx, y0 + tall * share) for share in (0.5, 0.3, 0.7, 0.2, 0.8) for dx in (-side - 0.9, side + 2.8)
        ]
        put(words, places, turn=-math.pi / 2)
    for name, x, y, long, deep in plan.plates:
        px, py = view.at((x, y))
        half, up = text_width(name, _SIZE) / 2 + long * view.scale / 2 + 1.2, deep * view.scale / 2
        places = [(px, py - up - 1.0), (px, py + up + 2.6), (px + half, py + 0.9), (px - half, py + 0.9)]
        put(name, places, (px, py))


def _corner_words(plan: CutPlan, says: Wording, view: View, put: _Put) -> None:
    _, _, ox1, oy1 = bounds_of(plan.opening)
    x1, y0 = view.at((ox1, oy1))
    if plan.radius is None:
        put("no corner radius yet", [(x1 - 18.0, y0 + 5.0), (x1 - 18.0, y0 + 9.0)], (x1 - 0.5, y0 + 0.5), bold=True)
    elif plan.radius > 0:
        k = plan.radius * (1 - math.sqrt(0.5))
        spot = view.at((ox1 - k, oy1 - k))
        words = f"R {says.short_length(plan.radius)}"
        half = text_width(words, _SIZE) / 2
        put(words, [(spot[0] - 4.0 - half, spot[1] + d) for d in (4.0, 6.5, 9.0)], spot)
    if plan.starts:
        spot = view.at(plan.starts[0])
        half = text_width("the saw starts here", _SIZE) / 2 + 2.0
        put(
            "the saw starts here",
            [(spot[0] + half, spot[1] - 2.5), (spot[0] + half, spot[1] + 4.0), (spot[0] - half, spot[1] + 4.0)],
            spot,
        )


def _words(plan: CutPlan, says: Wording, view: View, placer: Placer, marks: list[Primitive]) -> list[Primitive]:
    """Return the words beside what they name; leaders go into `marks`."""
    labels: list[Primitive] = []
    ox0, oy0, ox1, oy1 = bounds_of(plan.opening)
    rx0, ry0, rx1, ry1 = bounds_of(plan.roof)
    _, _, _, sy1 = bounds_of(plan.shell)
    _keep_clear(plan, view, placer)

    def put(text: str, places: Sequence[XY], to: XY | None = None, *, turn: float = 0.0, bold: bool = False) -> None:
        found = placer.place(Text((0.0, 0.0), text, _SIZE, "middle", "ink", bold, turn, halo=True), places)
        if found is None:
            return
        labels.append(found)
        if to is not None:
            box = text_box(found)
            near = (min(max(to[0], box.x0), box.x1), min(max(to[1], box.y0), box.y1))
            if math.dist(near, to) > 1.5:
                marks.append(Line(near, to, "leader"))

    (x0, y1), (x1, y0) = view.at((ox0, oy0)), view.at((ox1, oy1))
    wide, tall = x1 - x0, y1 - y0
    # Words along one diagonal, where the other one is far away.
    turn = -math.atan2(tall, wide)
    spots = [
        (x0 + k * wide + 0.9 * math.sin(turn), y1 - k * tall - 0.9 * math.cos(turn))
        for k in (0.72, 0.28, 0.78, 0.22, 0.66)
    ]
    put(plan.diagonal if "diagonal" in plan.diagonal else f"both diagonals {plan.diagonal}", spots, turn=turn)
    _bows_and_plates(plan, view, put)
    inner = (x0 + x1) / 2
    put("cut line", [(inner + k * wide, y1 - 1.4) for k in (-0.3, 0.3, -0.15, 0.15, -0.4, 0.4)], bold=True)
    if plan.ring > 0:
        ring = view.at((ox0 + 0.35 * (ox1 - ox0), oy1 + plan.ring / 2))
        places = [
            (x0 + k * wide, y0 + dy) for dy in (4.4, 7.0, -plan.ring * view.scale - 3.0) for k in (0.35, 0.2, 0.6, 0.8)
        ]
        put(f"ring, {says.short_length(plan.ring)} wide", places, ring)
    edge = view.at((ox0, sy1))
    put(
        "rim of the shell",
        [(x0 + k * wide, edge[1] - 0.9) for k in (0.75, 0.5, 0.25, 0.9, 0.1)],
        (x0 + 0.7 * wide, edge[1]),
    )
    _corner_words(plan, says, view, put)
    ends = view.at(((rx0 + rx1) / 2, ry1)), view.at(((rx0 + rx1) / 2, ry0))
    put("left side", [(inner + k * wide, ends[0][1] + 3.2) for k in (0.0, -0.2, 0.2, -0.4, 0.4)])
    put("right side", [(inner + k * wide, ends[1][1] - 1.6) for k in (0.0, -0.2, 0.2, -0.4, 0.4)])
    return labels


def _describe(plan: CutPlan) -> str:
    kept = sum(bow.kept for bow in plan.bows)
    said = [f"The roof from above, cab to the right, with the opening and {len(plan.bows)} bows, {kept} of them kept."]
    said += [f"{bow.name}: {'kept' if bow.kept else 'cut'}." for bow in plan.bows]
    said += [f"{text}." for _, _, text in plan.sizes]
    return " ".join([*said, f"Diagonals: {plan.diagonal}."])
