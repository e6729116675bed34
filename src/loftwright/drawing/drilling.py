"""Bracket holes at full size on sheets of paper: tiles that overlap, each with a square to check the printer by.

Page millimetres are millimetres on the metal. The left side is seen from the middle of the van, cab to the right;
the right side is its mirror image.
"""

from __future__ import annotations

import math

from loftwright.core.book_views import PAPER_MM, DrillMark, DrillPlan, Paper, Side
from loftwright.core.choices import Units
from loftwright.core.wording import Wording
from loftwright.drawing.joins import check_square, joins, tile_map
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
    shortened,
    text_width,
)
from loftwright.drawing.tiles import (
    CROSS,
    HOLE,
    MARGIN,
    SQUARE_MM,
    Tile,
    on_side,
    pointer,
    tiles_of,
    window_of,
    wrapped,
)

_TICKS_MM: dict[Units, tuple[float, int]] = {"metric": (10.0, 5), "imperial": (6.35, 4)}


def drilling_sheets(
    plan: DrillPlan, side: Side, says: Wording, *, paper: Paper, name: str, made_with: str
) -> tuple[Drawing, ...]:
    """Return one page for each tile of a plan, as large as the paper."""
    tiles = tiles_of(plan, side, paper, says.units)
    return tuple(_sheet(plan, side, tile, says, paper, name, made_with) for tile in tiles)


def _sheet(plan: DrillPlan, side: Side, tile: Tile, says: Wording, paper: Paper, name: str, made_with: str) -> Drawing:
    width, height = PAPER_MM[paper]
    window = window_of(paper, says.units)
    marks = _head(plan, side, tile, width, name, made_with)
    marks += _metal(plan, side, tile, window, says)
    taken_x = [window.x0 + m.x_mm - tile.x0 for m in on_side(plan, side)]
    taken_y = [window.y0 - m.z_mm - tile.y0 for m in plan.marks]
    taken_y += [window.y0 - line.at_mm - tile.y0 for line in plan.lines if line.way == "level"]
    marks += joins(tile, window, taken_x, taken_y)
    marks += _foot(plan, side, tile, window, says, width)
    words = f"Tile {tile.number} of {tile.columns * tile.rows}, {side} side, full size."
    return Drawing(width, height, plan.title, words, tuple(marks))


def _head(plan: DrillPlan, side: Side, tile: Tile, width: float, name: str, made_with: str) -> list[Primitive]:
    x0, x1, y = MARGIN, width - MARGIN, MARGIN
    count = tile.columns * tile.rows
    right = f"Tile {tile.number} of {count}" if count > 1 else "One tile"
    said = f"{side.upper()} SIDE"
    room = x1 - x0 - text_width(said, 6.4, bold=True) - 6.0
    seen = f"Seen from the middle of the van: the cab is to the {'right' if side == 'left' else 'left'}."
    if side == "right":
        seen += " Mirror image of the left side's sheet."
    outside = "Lay it on a face that looks inwards; on a face that looks outwards lay the other side's sheet."
    return [
        Text((x0, y + 5.0), shortened(plan.title, room, 5.0, bold=True), 5.0, "start", "ink", True),
        Text((x1, y + 5.6), said, 6.4, "end", "ink", True),
        Text((x0, y + 10.2), shortened(f"{name}. {plan.place}", x1 - x0 - 34.0, 2.9), 2.9, "start", "note"),
        Text((x1, y + 11.4), right, 4.0, "end", "ink", True),
        Text((x0, y + 14.6), seen, 2.9, "start", "ink", True),
        Text((x0, y + 18.6), outside, 2.9, "start", "ink"),
        Text((x1, y + 18.6), shortened(made_with, 60.0, 2.2), 2.2, "end", "note"),
        Line((x0, y + 21.0), (x1, y + 21.0), "ink"),
        Text((x0, y + 24.6), "Full size: print at 100 %, without fitting to the page.", 2.9, "start", "ink", True),
    ]


def _metal(plan: DrillPlan, side: Side, tile: Tile, window: Rect, says: Wording) -> list[Primitive]:
    sign = 1.0 if side == "left" else -1.0

    def at(x_mm: float, z_mm: float) -> XY:
        return window.x0 + x_mm - tile.x0, window.y0 - z_mm - tile.y0

    lines: list[Primitive] = []
    labels: list[Text] = []
    placer = Placer(Rect(window.x0 + 0.5, window.y0 + 0.5, window.x1 - 0.5, window.y1 - 0.5), gap=0.8)
    # A place for the two arrows that say where cab and sky are.
    corner = (window.x0 + 16.0, window.y1 - 7.0)
    placer.taken.append(Rect(window.x0, window.y1 - 22.0, window.x0 + 34.0, window.y1))
    for line in plan.lines:
        if line.way == "upright":
            x, _ = at(sign * line.at_mm, 0.0)
            if window.x0 - 1e-9 <= x <= window.x1 + 1e-9:
                lines.append(Line((x, window.y0), (x, window.y1), "rim"))
                placer.taken.append(Rect(x - 0.6, window.y0, x + 0.6, window.y1))
        else:
            _, y = at(0.0, line.at_mm)
            if window.y0 - 1e-9 <= y <= window.y1 + 1e-9:
                lines.append(Line((window.x0, y), (window.x1, y), "rim"))
                placer.taken.append(Rect(window.x0, y - 0.6, window.x1, y + 0.6))
                lines += _ticks(plan, sign, y, tile, window, says.units)
    seen = [m for m in on_side(plan, side) if _near(at(m.x_mm, m.z_mm), window)]
    for mark in seen:
        lines += _hole(at(mark.x_mm, mark.z_mm), window, pivot=mark.pivot, start=mark.start)
        x, y = at(mark.x_mm, mark.z_mm)
        r = HOLE + 1.6
        placer.taken += [Rect(x - r, y - r, x + r, y + r)]
        placer.taken += [Rect(x - CROSS, y - 0.4, x + CROSS, y + 0.4), Rect(x - 0.4, y - CROSS, x + 0.4, y + CROSS)]
    for mark in seen:
        x, y = at(mark.x_mm, mark.z_mm)
        if not (window.x0 + HOLE <= x <= window.x1 - HOLE and window.y0 + HOLE <= y <= window.y1 - HOLE):
            continue
        text = f"{mark.name}: START" if mark.start else mark.name
        size = 4.0 if mark.start else 3.4
        half = text_width(text, size, bold=True) / 2
        sides = [(x + half + 2.0, y - 4.4), (x - half - 2.0, y - 4.4), (x + half + 2.0, y + 6.4)]
        # Neighbours stand close together: names go above and below, further away where they must.
        away = [(x, y + d) for d in (-11.5, 14.0, -17.5, 20.0, -23.5)]
        placed = placer.place(Text((0.0, 0.0), text, size, "middle", "ink", True), [*away[:2], *sides, *away[2:]])
        if placed is not None:
            labels.append(placed)
    for line in plan.lines:
        labels += _line_words(line.way, line.words, at(sign * line.at_mm, line.at_mm), window, placer)
    way = 1.0 if side == "left" else -1.0
    cx, cy = corner
    lines += [
        *pointer((cx - way * 7.0, cy), (cx + way * 8.0, cy)),
        *pointer((cx - way * 12.5, cy + 2.0), (cx - way * 12.5, cy - 9.0)),
        Text((cx, cy - 2.4), "to the cab", 2.9, "middle", "ink", True),
        Text((cx - way * 12.5 + 2.0, cy - 8.0), "up", 2.9, "start", "ink", True),
    ]
    box = ((window.x0, window.y0), (window.x1, window.y0), (window.x1, window.y1), (window.x0, window.y1))
    return [Polygon(box, "outline"), *lines, *labels]


def _near(at: XY, window: Rect) -> bool:
    return window.x0 - CROSS < at[0] < window.x1 + CROSS and window.y0 - CROSS < at[1] < window.y1 + CROSS


def _ticks(plan: DrillPlan, sign: float, y: float, tile: Tile, window: Rect, units: Units) -> list[Primitive]:
    """Return the marks of a rule along a level line, counted from the first upright line."""
    start = next((sign * line.at_mm for line in plan.lines if line.way == "upright"), 0.0)
    step, long = _TICKS_MM[units]
    first = math.ceil((tile.x0 - start) / step)
    last = math.floor((tile.x0 + window.x1 - window.x0 - start) / step)
    found: list[Primitive] = []
    for k in range(first, last + 1):
        x = window.x0 + start + k * step - tile.x0
        found.append(Line((x, y), (x, y + (3.0 if k % long == 0 else 1.6)), "fine"))
    return found


def _hole(at: XY, window: Rect, *, pivot: bool, start: bool) -> list[Primitive]:
    """Return ring and cross of a hole, cut at the window's edge; a start hole has a second ring, a pivot a square."""
    x, y = at
    found: list[Primitive] = []
    for a, b in (((x - CROSS, y), (x + CROSS, y)), ((x, y - CROSS), (x, y + CROSS))):
        ax, bx = max(a[0], window.x0), min(b[0], window.x1)
        ay, by = max(a[1], window.y0), min(b[1], window.y1)
        if (ax < bx and window.y0 <= y <= window.y1) or (ay < by and window.x0 <= x <= window.x1):
            found.append(Line((ax, ay), (bx, by), "ink"))
    r = HOLE + (1.4 if start else 0.0)
    if window.x0 + r <= x <= window.x1 - r and window.y0 + r <= y <= window.y1 - r:
        found.append(Circle(at, HOLE, "outline"))
        if start:
            found.append(Circle(at, HOLE + 1.4, "outline"))
        if pivot:
            q = HOLE + 1.4
            found.append(Polygon(((x - q, y - q), (x + q, y - q), (x + q, y + q), (x - q, y + q)), "outline"))
    return found


def _line_words(way: str, words: str, at: XY, window: Rect, placer: Placer) -> list[Text]:
    """Return what a reference line is, along it; nothing where it does not pass or there is no room at all."""
    size = 2.9
    if way == "level":
        if not window.y0 < at[1] < window.y1:
            return []
        text = shortened(words, window.x1 - window.x0 - 6.0, size)
        half = text_width(text, size) / 2
        xs = [window.x0 + 2.0 + half, window.x1 - 2.0 - half, (window.x0 + window.x1) / 2]
        places = [(x, at[1] + dy) for dy in (-1.8, 6.6, -6.0, 10.6) for x in xs]
        placed = placer.place(Text((0.0, 0.0), text, size, "middle", "ink"), places, near=False)
        return [] if placed is None else [placed]
    if not window.x0 < at[0] < window.x1:
        return []
    text = shortened(words, window.y1 - window.y0 - 6.0, size)
    half = text_width(text, size) / 2
    room = window.y1 - window.y0 - 4.0 - 2 * half
    ys = [window.y0 + 2.0 + half + room * k / 16 for k in range(17)]
    places = [(at[0] + dx, y) for dx in (-1.8, 4.0, -6.0) for y in ys]
    placed = placer.place(Text((0.0, 0.0), text, size, "middle", "ink", turn=-math.pi / 2), places, near=False)
    return [] if placed is None else [placed]


def _foot(plan: DrillPlan, side: Side, tile: Tile, window: Rect, says: Wording, width: float) -> list[Primitive]:
    """Return the square to check by, and beside it how to use the sheet and the holes by numbers."""
    square = SQUARE_MM[says.units]
    x0, y0 = MARGIN, window.y1 + 7.0
    marks = check_square(window, says.units)
    x, room, y = x0 + square + 6.0, width - MARGIN - x0 - square - 6.0, y0 + 3.0
    pilot = "3 mm" if says.units == "metric" else "1/8 in"
    said: list[tuple[str, bool]] = [("How to use it", True)]
    upright = [line.words for line in plan.lines if line.way == "upright"]
    level = [line.words for line in plan.lines if line.way == "level"]
    outside = any("roof height" in words for words in level)
    carried = " Carry it inside with a hose of water or a line laser." if outside else ""
    said += [
        (f"1. Pencil an upright line: {'; '.join(upright)}.", False),
        (f"2. Pencil a level line: {'; '.join(level)}.{carried}", False),
        ("3. Lay the thick lines of the paper on them, tape it, punch through the crosses.", False),
        (f"4. Check with the tape, both sides, before you drill. Pilot {pilot}, then the bolt's size.", False),
        ("Know what lies behind: wiring, hoses, air bags, belt mounts. Depth stop, eye protection.", False),
    ]
    if tile.columns * tile.rows > 1:
        said.append(("Tiles: cut where it says so, lay crosses with one letter on each other, tape.", False))
    for text, bold in said:
        for line in wrapped(text, room, 2.9, bold=bold):
            marks.append(Text((x, y), line, 2.9, "start", "ink", bold))
            y += 3.8
        y += 0.6
    y += 1.4
    marks.append(Text((x, y), "Holes by numbers", 2.9, "start", "ink", True))
    y += 4.2
    bottom = y0 + square - 1.0
    unit_x, unit_z = x + room - 27.0, x + room
    head = [
        Text((unit_x, y), "from the upright line", 2.3, "end", "note"),
        Text((unit_z, y), "from the level line", 2.3, "end", "note"),
    ]
    marks += head
    y += 3.9
    for mark in plan.marks:
        if y > bottom:
            break
        along, up = _from_lines(plan, mark, says)
        marks += [
            Text((x, y), shortened(mark.name, room - 56.0, 2.7, bold=mark.start), 2.7, "start", "ink", mark.start),
            Text((unit_x, y), along, 2.7, "end", "ink"),
            Text((unit_z, y), up, 2.7, "end", "ink"),
        ]
        y += 3.9
    if plan.checks and y + 5.0 < bottom:
        y += 1.6
        marks.append(Text((x, y), "Check with the tape", 2.9, "start", "ink", True))
        y += 4.2
        for check in plan.checks:
            if y > bottom:
                break
            marks += [
                Text((x, y), shortened(check.label, room - 20.0, 2.9), 2.9, "start", "ink"),
                Text((unit_z, y), check.value, 2.9, "end", "ink"),
            ]
            y += 3.9
    if tile.columns * tile.rows > 1:
        marks += tile_map(tile, (x0 + 4.0, y0 + square - 6.0 - 9.0 * tile.rows))
    return marks


def _from_lines(plan: DrillPlan, mark: DrillMark, says: Wording) -> tuple[str, str]:
    """Return how far a mark lies from the first upright and the first level line, with the way, in words."""
    x0 = next((line.at_mm for line in plan.lines if line.way == "upright"), 0.0)
    z0 = next((line.at_mm for line in plan.lines if line.way == "level"), 0.0)
    dx, dz = (mark.x_mm - x0) / 1000, (mark.z_mm - z0) / 1000
    along = f"{says.short_length(abs(dx))} to the {'cab' if dx > 0 else 'rear'}" if round(abs(dx), 4) else "on it"
    up = f"{says.short_length(abs(dz))} {'above' if dz > 0 else 'below'}" if round(abs(dz), 4) else "on it"
    return along, up
