"""Flat shapes at full size on paper: small ones side by side, large ones on tiles that overlap.

Page millimetres are millimetres of the part. Every page carries a square to check the printer by.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from loftwright.core.book_views import PAPER_MM, Paper
from loftwright.core.choices import Units
from loftwright.core.errors import Bug
from loftwright.core.hold_views import Flat, Template
from loftwright.drawing.hatching import clipped, clipped_run
from loftwright.drawing.joins import check_square, joins, tile_map
from loftwright.drawing.page import (
    XY,
    Circle,
    Drawing,
    Line,
    Polygon,
    Polyline,
    Primitive,
    Rect,
    Text,
    shortened,
    text_box,
    text_width,
    unpatched,
)
from loftwright.drawing.sizes import Sizes, sizes_round
from loftwright.drawing.tiles import MARGIN, SQUARE_MM, Tile, tiles_round, window_of, wrapped

_NAME, _NOTE, _LINE = 3.2, 2.6, 3.5
_GAP = 7.0
_CROSS = 4.0


@dataclass(frozen=True, slots=True)
class _Shape:
    """One template laid out by itself: sizes and words round it, all from its own origin [mm, y down]."""

    template: Template
    sizes: Sizes
    words: tuple[Text, ...]
    reach: Rect


def _mm(spot: Flat) -> XY:
    return 1000.0 * spot[0], -1000.0 * spot[1]


def _box(template: Template) -> Rect:
    spots = [_mm(spot) for spot in template.outline]
    spots += [_mm(end) for mark in template.marks for end in mark]
    for x, y, d in template.holes:
        spots += [_mm((x - d / 2, y - d / 2)), _mm((x + d / 2, y + d / 2))]
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    return Rect(min(xs), min(ys), max(xs), max(ys))


def _shape(template: Template, most: float) -> _Shape:
    if len(template.outline) < 3:
        raise Bug(f"template {template.name!r} has no outline")
    box = _box(template)
    sizes = sizes_round([(_mm(a), _mm(b), text) for a, b, text in template.sizes], box, inside=True)
    reach = sizes.reach
    room = min(most, max(reach.x1 - reach.x0, 62.0))
    y = reach.y1 + 5.0
    words = []
    for text, size, bold in ((template.name, _NAME, True), (template.note, _NOTE, False)):
        for line in wrapped(text, room, size, bold=bold):
            words.append(Text((reach.x0, y), line, size, "start", "ink", bold))
            y += _LINE + (0.6 if bold else 0.0)
    boxes = [text_box(word) for word in words]
    right = max([reach.x1, *(b.x1 for b in boxes)])
    return _Shape(
        template, sizes, tuple(words), Rect(reach.x0, reach.y0, right, max([reach.y1, *(b.y1 for b in boxes)]))
    )


def template_sheets(
    templates: Sequence[Template],
    *,
    units: Units,
    paper: Paper,
    title: str,
    use: Sequence[str],
    name: str,
    made_with: str,
) -> tuple[Drawing, ...]:
    """Return pages as large as the paper with all `templates` at full size; `use` says what to do with them."""
    window = window_of(paper, units)
    wide, tall = window.x1 - window.x0 - 4.0, window.y1 - window.y0 - 4.0
    small: list[_Shape] = []
    large: list[_Shape] = []
    for template in templates:
        shape = _shape(template, wide)
        fits = shape.reach.x1 - shape.reach.x0 <= wide and shape.reach.y1 - shape.reach.y0 <= tall
        (small if fits else large).append(shape)
    pages = _shelves(small, window)
    sheets = [[mark for shape, shift in page for mark in _placed(shape, shift)] for page in pages]
    tiled: list[tuple[_Shape, Tile]] = []
    for shape in large:
        box = _box(shape.template)
        xs, ys = [box.x0, box.x1], [box.y0, box.y1]
        # The figures round the shape count as well as the shape.
        reach = shape.sizes.reach
        keep_x = [_mm((x, y))[0] for x, y, _ in shape.template.holes]
        keep_y = [_mm((x, y))[1] for x, y, _ in shape.template.holes]
        xs, ys = [*xs, reach.x0 + 10.0, reach.x1 - 10.0], [*ys, reach.y0 + 10.0, reach.y1 - 10.0]
        tiled += [(shape, tile) for tile in tiles_round(xs, ys, keep_x, keep_y, paper, units)]
    count = len(sheets) + len(tiled)
    made = []
    for number, marks in enumerate(sheets, 1):
        made.append(_page(marks, title, number, count, use, units, paper, name, made_with, None))
    for number, (shape, tile) in enumerate(tiled, len(sheets) + 1):
        marks = _tile(shape, tile, window)
        made.append(_page(marks, title, number, count, use, units, paper, name, made_with, (shape, tile)))
    return tuple(made)


def _shelves(shapes: Sequence[_Shape], window: Rect) -> list[list[tuple[_Shape, XY]]]:
    """Return pages of shapes with the shift of each: rows from the top, as many as fit."""
    pages: list[list[tuple[_Shape, XY]]] = []
    x = y = deep = 0.0
    left, top = window.x0 + 2.0, window.y0 + 2.0
    for shape in shapes:
        reach = shape.reach
        wide, tall = reach.x1 - reach.x0, reach.y1 - reach.y0
        if pages and x > left and x + wide > window.x1 - 2.0:
            x, y, deep = left, y + deep + _GAP, 0.0
        if not pages or y + tall > window.y1 - 2.0:
            pages.append([])
            x, y, deep = left, top, 0.0
        pages[-1].append((shape, (x - reach.x0, y - reach.y0)))
        x, deep = x + wide + _GAP, max(deep, tall)
    return pages


def _lines(template: Template, shift: XY) -> list[tuple[tuple[XY, ...], str]]:
    """Return every line of a template as a run with its pen; holes apart."""

    def at(spot: Flat) -> XY:
        x, y = _mm(spot)
        return x + shift[0], y + shift[1]

    outline = [at(spot) for spot in template.outline]
    runs: list[tuple[tuple[XY, ...], str]] = [((*outline, outline[0]), "rim")]
    runs += [((at(a), at(b)), "ghost") for a, b in template.marks]
    for x, y, _ in template.holes:
        cx, cy = at((x, y))
        runs.append((((cx - _CROSS, cy), (cx + _CROSS, cy)), "ink"))
        runs.append((((cx, cy - _CROSS), (cx, cy + _CROSS)), "ink"))
    return runs


def _moved(text: Text, shift: XY) -> Text:
    x, y = text.at[0] + shift[0], text.at[1] + shift[1]
    return Text((x, y), text.text, text.size, text.anchor, text.pen, text.bold, text.turn, text.halo)


def _placed(shape: _Shape, shift: XY) -> list[Primitive]:
    marks: list[Primitive] = [Polyline(run, pen) for run, pen in _lines(shape.template, shift)]
    for x, y, d in shape.template.holes:
        cx, cy = _mm((x, y))
        marks.append(Circle((cx + shift[0], cy + shift[1]), 500.0 * d, "outline"))
    marks += [_shifted(mark, shift) for mark in shape.sizes.lines]
    figures = [_moved(text, shift) for text in shape.sizes.figures]
    return [*marks, *unpatched(figures, marks), *(_moved(text, shift) for text in shape.words)]


def _shifted(mark: Primitive, shift: XY) -> Line | Polygon:
    def at(spot: XY) -> XY:
        return spot[0] + shift[0], spot[1] + shift[1]

    if isinstance(mark, Line):
        return Line(at(mark.a), at(mark.b), mark.pen)
    assert isinstance(mark, Polygon)
    return Polygon(tuple(at(spot) for spot in mark.points), mark.pen)


def _tile(shape: _Shape, tile: Tile, window: Rect) -> list[Primitive]:
    """Return what one tile shows of a large template, cut at the window's edge, with the frame and the joins."""
    shift = (window.x0 - tile.x0, window.y0 - tile.y0)
    inner = Rect(window.x0 + 1.0, window.y0 + 1.0, window.x1 - 1.0, window.y1 - 1.0)
    frame = ((window.x0, window.y0), (window.x1, window.y0), (window.x1, window.y1), (window.x0, window.y1))
    marks: list[Primitive] = [Polyline((*frame, frame[0]), "outline")]
    for run, pen in _lines(shape.template, shift):
        marks += [Polyline(part, pen) for part in clipped_run(run, window)]
    for x, y, d in shape.template.holes:
        cx, cy = _mm((x, y))
        cx, cy, r = cx + shift[0], cy + shift[1], 500.0 * d
        if Rect(cx - r, cy - r, cx + r, cy + r).within(window):
            marks.append(Circle((cx, cy), r, "outline"))
    for mark in shape.sizes.lines:
        moved = _shifted(mark, shift)
        if isinstance(moved, Line):
            part = clipped(moved.a, moved.b, window)
            if part is not None:
                marks.append(Line(*part, moved.pen))
        elif all(window.x0 <= x <= window.x1 and window.y0 <= y <= window.y1 for x, y in moved.points):
            marks.append(moved)
    figures = [_moved(text, shift) for text in shape.sizes.figures]
    seen = [text for text in figures if text_box(text).within(inner)]
    box = _box(shape.template)
    taken_x = [x + shift[0] for x in (box.x0, box.x1)]
    taken_y = [y + shift[1] for y in (box.y0, box.y1)]
    return [*marks, *unpatched(seen, marks), *joins(tile, window, taken_x, taken_y)]


def _page(
    body: Sequence[Primitive],
    title: str,
    number: int,
    count: int,
    use: Sequence[str],
    units: Units,
    paper: Paper,
    name: str,
    made_with: str,
    tiled: tuple[_Shape, Tile] | None,
) -> Drawing:
    width, height = PAPER_MM[paper]
    window = window_of(paper, units)
    x0, x1, y = MARGIN, width - MARGIN, MARGIN
    right = f"Sheet {number} of {count}" if count > 1 else "One sheet"
    below = name
    if tiled is not None:
        shape, tile = tiled
        right = f"Tile {tile.number} of {tile.columns * tile.rows}"
        below = f"{shape.template.name}. {shape.template.note}"
    room = x1 - x0 - text_width(right, 5.0, bold=True) - 6.0
    marks: list[Primitive] = [
        Text((x0, y + 5.0), shortened(title, room, 5.0, bold=True), 5.0, "start", "ink", True),
        Text((x1, y + 5.0), right, 5.0, "end", "ink", True),
    ]
    for k, line in enumerate(wrapped(below, x1 - x0, 2.9)[:2]):
        marks.append(Text((x0, y + 10.2 + 3.8 * k), line, 2.9, "start", "note"))
    marks += [
        Text((x0, y + 18.6), "Full size: print at 100 %, without fitting to the page.", 2.9, "start", "ink", True),
        Text((x1, y + 18.6), shortened(made_with, 60.0, 2.2), 2.2, "end", "note"),
        Line((x0, y + 21.0), (x1, y + 21.0), "ink"),
        *body,
        *check_square(window, units),
    ]
    square = SQUARE_MM[units]
    x, y, room = x0 + square + 6.0, window.y1 + 10.0, x1 - x0 - square - 6.0
    said: list[tuple[str, bool]] = [("How to use it", True), *((text, False) for text in use)]
    if tiled is not None and tiled[1].columns * tiled[1].rows > 1:
        said.append(("Tiles: cut where it says so, lay crosses with one letter on each other, tape.", False))
    for text, bold in said:
        for line in wrapped(text, room, 2.9, bold=bold):
            if y < window.y1 + 7.0 + square:
                marks.append(Text((x, y), line, 2.9, "start", "ink", bold))
            y += 3.8
        y += 0.8
    if tiled is not None and tiled[1].columns * tiled[1].rows > 1:
        tile = tiled[1]
        marks += tile_map(tile, (x0 + 4.0, window.y1 + 7.0 + square - 6.0 - 9.0 * tile.rows))
    words = f"{right}, full size: {', '.join(t.text for t in body if isinstance(t, Text) and t.bold)}"
    return Drawing(width, height, title, words, tuple(marks))
