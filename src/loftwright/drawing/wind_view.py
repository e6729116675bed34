"""The raised roof in the wind from one side, in space: its pushes as arrows, beside it how much each part bears."""

from __future__ import annotations

import math
from collections.abc import Sequence

from loftwright.core.hold_views import WindPlay
from loftwright.drawing.hatching import hatched
from loftwright.drawing.page import (
    XY,
    Drawing,
    Line,
    Placer,
    Polygon,
    Primitive,
    Rect,
    Text,
    shortened,
    text_box,
    text_width,
    unpatched,
)
from loftwright.drawing.tiles import pointer

_SIZE, _TITLE = 2.5, 2.9
_ACROSS = (0.46, 0.30)
"""How a metre to the left is drawn: to the right and up, in metres of the picture."""
_ALONG = (0.95, -0.12)
"""The same for a metre to the cab."""
Spot = tuple[float, float, float]


def flat(spot: Spot) -> XY:
    """Return a place in space in the picture's plane [m], up counted upwards: seen from the right, behind and above."""
    x, y, z = spot
    return _ALONG[0] * x + _ACROSS[0] * y, _ALONG[1] * x + _ACROSS[1] * y + z


def wanted_gust(play: WindPlay) -> int:
    """Return the number of the gust that is nearest to the one that is wanted."""
    return min(range(len(play.gusts)), key=lambda k: abs(play.gusts[k] - play.wanted))


def wind_view(play: WindPlay, direction: int, gust: int, *, width: float) -> Drawing:
    """Return the picture for one direction and gust of `play`, counted from 0, its parts beside it."""
    picture_wide = 0.52 * width
    picture_tall = 0.62 * picture_wide
    title = f"Wind {from_where(play.directions[direction])}, gust {play.gust_texts[gust]}"
    marks: list[Primitive] = [
        Text((0.0, 3.4), shortened(title, width, _TITLE, bold=True), _TITLE, "start", "ink", True),
    ]
    marks += _picture(play, direction, Rect(0.0, 5.5, picture_wide, 5.5 + picture_tall))
    rows, bottom = _parts(play, direction, gust, picture_wide + 5.0, width, 8.5)
    marks += rows
    sway = f"The free end sways {play.sway_texts[direction][gust]}"
    without = play.sway_without[direction][gust] if play.sway_without else ""
    said = f"{sway}; without the brace {without}." if without else f"{sway}."
    bottom = max(bottom, 5.5 + picture_tall)
    marks.append(Text((0.0, bottom + 4.0), shortened(said, width, _SIZE), _SIZE))
    bottom += 5.0
    return Drawing(width, bottom, title, _describe(play, direction, gust, said), tuple(marks))


def wind_scene(play: WindPlay, direction: int, *, width: float) -> Drawing:
    """Return the raised roof with the pushes of the wind from one side of `play` alone, without figures."""
    tall = 0.66 * width
    title = f"Wind {from_where(play.directions[direction])}"
    marks = _picture(play, direction, Rect(0.0, 0.0, width, tall))
    pushes = ", ".join(one.what for one in play.arrows[direction])
    return Drawing(
        width, tall, title, f"{title}: the raised roof with the pushes of the wind on {pushes}.", tuple(marks)
    )


def from_where(direction: str) -> str:
    """Return a direction as it is said of the wind: "left" is "from the left"."""
    return direction if direction.startswith(("from", "on")) else f"from the {direction}"


def _picture(play: WindPlay, direction: int, room: Rect) -> list[Primitive]:
    rim, opening = play.box[:4], play.box[4:]
    pushes = play.arrows[direction]
    size = max(math.dist(a, b) for a in play.box for b in play.box)
    most = max((math.hypot(*one.push) for one in pushes), default=0.0)
    longest = 0.24 * size
    arrows: list[tuple[str, Spot, Spot]] = []
    middle = tuple(sum(corner[k] for corner in play.box) / 8 for k in range(3))
    for one in pushes:
        force = math.hypot(*one.push)
        if most <= 0 or force < 0.02 * most:
            continue
        long = longest * max(0.45, force / most)
        step = tuple(long * part / force for part in one.push)
        outward = sum(step[k] * (one.at[k] - middle[k]) for k in range(3)) > 0
        # A push inwards ends at the face, a pull outwards begins there.
        a = one.at if outward else _plus(one.at, step, -1.0)
        arrows.append((one.what, a, _plus(a, step, 1.0)))
    blows = tuple(sum(one.push[k] for one in pushes) for k in range(2))
    strength = math.hypot(*blows)
    if most > 0 and strength > 0.02 * most:
        way = (blows[0] / strength, blows[1] / strength, 0.0)
        reach = [sum(way[k] * (corner[k] - middle[k]) for k in range(2)) for corner in play.box]
        tip = _plus((middle[0], middle[1], 0.6 * middle[2]), way, min(reach) - 0.24 * size)
        arrows.append(("wind", _plus(tip, way, -0.34 * size), tip))
    spots = [flat(s) for s in play.box] + [flat(s) for _, a, b in arrows for s in (a, b)]
    x0, x1 = min(x for x, _ in spots), max(x for x, _ in spots)
    y0, y1 = min(y for _, y in spots), max(y for _, y in spots)
    scale = min((room.x1 - room.x0 - 8.0) / max(x1 - x0, 1e-9), (room.y1 - room.y0 - 9.0) / max(y1 - y0, 1e-9))
    left = (room.x0 + room.x1 - scale * (x1 - x0)) / 2
    top = (room.y0 + room.y1 - scale * (y1 - y0)) / 2

    def at(spot: Spot) -> XY:
        x, y = flat(spot)
        return left + scale * (x - x0), top + scale * (y1 - y)

    marks: list[Primitive] = []
    low = [at(s) for s in opening]
    high = [at(s) for s in rim]
    marks += [Polygon(tuple(low), "steel")]
    # Cloth on the two sides that are seen.
    for i, j in ((0, 1), (1, 2)):
        marks += hatched([[low[i], low[j], high[j], high[i]]], gap=1.6, pen="grid")
    # The four corners, those behind first; the shell's rim lies over all.
    for k in (3, 2, 0, 1):
        marks.append(Line(low[k], high[k], "ghost" if k in (0, 3) else "ink"))
    marks.append(Polygon(tuple(high), "shell"))
    marks.append(Line(low[1], low[2], "rim"))
    placer = Placer(Rect(room.x0 + 0.3, room.y0 + 0.3, room.x1 - 0.3, room.y1 - 0.3), gap=0.5)
    for run in ([*low, low[0]], [*high, high[0]]):
        placer.avoid_line(run)
    labels: list[Primitive] = []
    for _, a, b in arrows:
        placer.avoid_line([at(a), at(b)], 0.5)
    for what, a, b in arrows:
        start, end = at(a), at(b)
        if math.dist(start, end) < 0.5:
            continue
        marks += pointer(start, end)
        if what == "wind":
            marks += _broad(start, end)
        half = text_width(what, _SIZE) / 2
        tries = []
        for away in (start, end):
            tries += [(away[0], away[1] - 1.6), (away[0], away[1] + 3.4)]
            tries += [(away[0] - half - 1.4, away[1] + 0.9), (away[0] + half + 1.4, away[1] + 0.9)]
        found = placer.place(Text((0.0, 0.0), what, _SIZE, "middle", "ink", halo=True), tries)
        if found is not None:
            labels.append(found)
            box = text_box(found)
            near = (min(max(start[0], box.x0), box.x1), min(max(start[1], box.y0), box.y1))
            if min(math.dist(near, start), math.dist(near, end)) > 4.0:
                marks.append(Line(near, start, "leader"))
    nose = ((low[2][0] + low[3][0]) / 2, (low[2][1] + low[3][1]) / 2)
    back = ((low[0][0] + low[1][0]) / 2, (low[0][1] + low[1][1]) / 2)
    for word, spot in (("to the cab", nose), ("rear", back)):
        half = text_width(word, _SIZE) / 2
        side = 1.0 if spot is nose else -1.0
        tries = [(spot[0] - side * (half + 4.0), spot[1] + 0.9), (spot[0] + side * (half + 3.0), spot[1] + 3.0)]
        found = placer.place(Text((0.0, 0.0), word, _SIZE, "middle", "note", halo=True), tries)
        if found is not None:
            labels.append(found)
    return [*marks, *unpatched(labels, marks)]


def _broad(a: XY, b: XY) -> list[Primitive]:
    """Return two lines beside an arrow: the wind is broader than one push."""
    long = math.dist(a, b)
    nx, ny = -(b[1] - a[1]) / long * 2.2, (b[0] - a[0]) / long * 2.2
    ends = [(a[0] + 0.8 * (b[0] - a[0]), a[1] + 0.8 * (b[1] - a[1]))]
    return [Line((a[0] + k * nx, a[1] + k * ny), (x + k * nx, y + k * ny), "fine") for k in (-1, 1) for x, y in ends]


def _plus(a: Spot, step: Sequence[float], times: float) -> Spot:
    return a[0] + times * step[0], a[1] + times * step[1], a[2] + times * step[2]


def _parts(
    play: WindPlay, direction: int, gust: int, left: float, right: float, top: float
) -> tuple[list[Primitive], float]:
    """Return for each part, the most used first, its words and its bar, hatched past the limit; and where they end."""
    marks: list[Primitive] = [
        Text((left, top), "Each part, of its limit", _SIZE, "start", "ink", True),
    ]
    order = sorted(play.parts, key=lambda part: -part.used[direction][gust])
    figure = text_width("999 %", _SIZE, bold=True) + 1.5
    bar0, bar1 = left, right - figure
    limit = bar0 + (bar1 - bar0) / 1.5
    y = top + 4.4
    for part in order:
        used = part.used[direction][gust]
        first = part.first[direction]
        words = f"{part.name}: {part.limit}" + (f"; at its limit {_at(first)}" if first else "")
        lines = [words]
        if text_width(words, _SIZE, bold=used >= 1) > right - left:
            lines = [f"{part.name}: {part.limit}", *([f"at its limit {_at(first)}"] if first else [])]
        for line in lines:
            said = shortened(line, right - left, _SIZE, bold=used >= 1)
            marks.append(Text((left, y), said, _SIZE, "start", "ink", used >= 1))
            y += 3.3
        end = bar0 + (limit - bar0) * min(used, 1.5)
        y -= 1.9
        if end > bar0:
            full = min(end, limit)
            marks.append(Polygon(((bar0, y), (full, y), (full, y + 2.0), (bar0, y + 2.0)), "item"))
        if end > limit:
            past = [(limit, y), (end, y), (end, y + 2.0), (limit, y + 2.0)]
            marks += [Polygon(tuple(past), "outline"), *hatched([past], gap=1.0)]
        marks += [
            Line((bar0, y + 2.0), (bar1, y + 2.0), "grid"),
            Line((limit, y), (limit, y + 2.4), "limit"),
            Text((right, y + 1.8), f"{min(100 * used, 999):.0f} %", _SIZE, "end", "ink", True),
        ]
        y += 6.0
    return marks, y - 3.0


def _at(first: str) -> str:
    return first if first.startswith(("above", "at", "never", "not")) else f"at {first}"


def _describe(play: WindPlay, direction: int, gust: int, said: str) -> str:
    parts = "; ".join(f"{part.name} {100 * part.used[direction][gust]:.0f} % of {part.limit}" for part in play.parts)
    return f"Wind {from_where(play.directions[direction])}, gust {play.gust_texts[gust]}. {parts}. {said}"
