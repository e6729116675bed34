"""A piece of cloth reduced onto one sheet, with its ordinates in a table, for those who draw it with a batten."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from loftwright.core.book_views import PAPER_MM, Paper
from loftwright.core.errors import Bug
from loftwright.core.pattern import XY as Flat
from loftwright.core.pattern import PatternPiece
from loftwright.drawing.page import (
    XY,
    Drawing,
    Line,
    Polygon,
    Polyline,
    Primitive,
    Rect,
    Text,
    shortened,
    spread,
    text_box,
    text_width,
    unpatched,
)
from loftwright.drawing.parts import dimension
from loftwright.drawing.pattern import edge_runs, head_at, notch_marks, ordinate_ends, outer_contour
from loftwright.drawing.pattern_room import Standing, dashed, inner_places, inside, places_along, readable, touches
from loftwright.drawing.sizes import Sizes, sizes_round
from loftwright.drawing.tiles import MARGIN, wrapped

_CHORD = 0.0005
_OFF = 7.0
"""How far a slanting dimension line lies off its edge [mm]."""
_SIGN, _EDGE, _FIGURE = 2.2, 2.5, 2.3
_ROWS = ("along", "low", "high")
_DENOMINATORS = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 11.0, 12.0, 13.0, 14.0, 15.0, 16.0, 18.0,
                 20.0, 22.0, 25.0, 28.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 80.0, 100.0)  # fmt: skip


@dataclass(frozen=True, slots=True)
class SheetWords:
    """What is written on the sheet of a piece: all that has numbers with units in it comes ready.

    `figures` are the ordinates (along, low, high) in the unit `unit`; `sizes` are overall dimensions [m]: from, to,
    text; `notes` stand at the foot.
    """

    name: str
    made_with: str
    unit: str
    figures: tuple[tuple[str, str, str], ...] = ()
    sizes: tuple[tuple[Flat, Flat, str], ...] = ()
    notes: tuple[str, ...] = ()


def panel_sheet(piece: PatternPiece, words: SheetWords, *, paper: Paper, number: int, count: int) -> Drawing:
    """Return the sheet of one piece, `number` of `count`. Errors: Bug where figures and ordinates differ in number."""
    if len(words.figures) != len(piece.ordinates):
        raise Bug(f"piece {piece.number!r} has {len(piece.ordinates)} ordinates and {len(words.figures)} rows of text")
    width, height = PAPER_MM[paper]
    x0, x1 = MARGIN, width - MARGIN
    head = _head(piece, words, width, number, count)
    top = max(text_box(text).y1 for text in head if isinstance(text, Text)) + 6.0
    foot = _foot(piece, words, width, height)
    foot_y = min((text_box(t).y0 for t in foot), default=height - MARGIN)
    table = _table_height(words)
    room = Rect(x0, top, x1, foot_y - 5.0 - table)
    denominator = next((d for d in _DENOMINATORS if _fits(piece, words, d, room)), None)
    if denominator is None:
        raise Bug(f"piece {piece.number!r} fits its sheet at no scale")
    marks, reach, ends = _reduced(piece, words, denominator, room)
    said = f"drawn 1 : {denominator:g} when printed at 100 %"
    note = Text((x1, top - 1.4), said, 2.3, "end", "note")
    rows = _table(words, ends, reach.y1 + 3.0, x0, x1)
    description = f"Piece {piece.number}, {piece.name}, reduced, with {len(piece.ordinates)} ordinates in a table."
    title = f"Piece {piece.number}: {piece.name}, by ordinates"
    return Drawing(width, height, title, description, (*head, note, *marks, *rows, *foot))


def _head(piece: PatternPiece, words: SheetWords, width: float, number: int, count: int) -> list[Primitive]:
    x0, x1, y = MARGIN, width - MARGIN, MARGIN
    right = f"Sheet {number} of {count}"
    room = x1 - x0 - text_width(right, 4.0, bold=True) - 6.0
    cut = ", ".join(filter(None, (f"Cut {piece.count} of {piece.material}", piece.side)))
    title = shortened(f"{piece.number} {piece.name}", room, 6.0, bold=True)
    return [
        Text((x0, y + 6.0), title, 6.0, "start", "ink", True),
        Text((x1, y + 6.0), right, 4.0, "end", "ink", True),
        Text((x0, y + 12.0), shortened(f"{cut}.", x1 - x0 - 64.0, 2.9), 2.9, "start", "ink"),
        Text((x1, y + 12.0), shortened(words.made_with, 60.0, 2.2), 2.2, "end", "note"),
        Text((x0, y + 16.2), shortened(words.name, x1 - x0, 2.9), 2.9, "start", "note"),
        Line((x0, y + 18.6), (x1, y + 18.6), "ink"),
    ]


def _foot(piece: PatternPiece, words: SheetWords, width: float, height: float) -> list[Text]:
    x0, x1 = MARGIN, width - MARGIN
    lines = [
        "Long dashes: where it is sewn. Solid line: where it is cut. Ordinates run to the line that is sewn.",
        "Draw the base line through the lower ends, set off the ordinates, bend a batten through the points.",
        "Edges: " + "; ".join(", ".join(filter(None, edge)) for edge in piece.edges) + "." if piece.edges else "",
        *words.notes,
    ]
    said = [line for text in lines for line in wrapped(text, x1 - x0, 2.6)]
    y = height - MARGIN - 3.6 * len(said)
    return [Text((x0, y + 3.6 * (k + 1) - 0.8), line, 2.6, "start", "ink") for k, line in enumerate(said)]


def _transform(piece: PatternPiece, denominator: float) -> tuple[float, Rect]:
    scale = 1.0 / denominator
    left, low, right, high = (1000.0 * scale * v for v in piece.box)
    return scale, Rect(left, -high, right, -low)


def _fits(piece: PatternPiece, words: SheetWords, denominator: float, room: Rect) -> bool:
    scale, box = _transform(piece, denominator)
    reach = _sizes(words, scale, box).reach
    label = max(text_width(f"{row}, {words.unit}", _FIGURE) for row in _ROWS) + 3.0 if words.figures else 0.0
    left = max(box.x0 - reach.x0, label, 4.0)
    return (
        reach.x1 - box.x0 + left + 4.0 <= room.x1 - room.x0
        and reach.y1 - reach.y0 + 2 * 3.0 <= room.y1 - room.y0
        and (not words.figures or _across(words) * len(words.figures) <= room.x1 - room.x0 - label)
    )


def _sizes(words: SheetWords, scale: float, box: Rect) -> Sizes:
    """Return the dimensions round the piece; slanting ones lie along their edge, outside of the piece."""
    around = Rect(box.x0 - 1.5, box.y0 - 1.5, box.x1 + 1.5, box.y1 + 1.5)
    measured = [
        ((1000 * scale * a[0], -1000 * scale * a[1]), (1000 * scale * b[0], -1000 * scale * b[1]), text)
        for a, b, text in words.sizes
    ]
    straight = [m for m in measured if abs(m[0][0] - m[1][0]) < 0.3 or abs(m[0][1] - m[1][1]) < 0.3]
    slanting = [m for m in measured if m not in straight]
    found = sizes_round(straight, around, size=_FIGURE)
    if not slanting:
        return found
    lines, figures = list(found.lines), list(found.figures)
    middle = ((box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2)
    for a, b, text in slanting:
        length = math.dist(a, b)
        nx, ny = (b[1] - a[1]) / length, -(b[0] - a[0]) / length
        if (a[0] + b[0] - 2 * middle[0]) * nx + (a[1] + b[1] - 2 * middle[1]) * ny < 0:
            nx, ny = -nx, -ny
        c, d = ((p[0] + _OFF * nx, p[1] + _OFF * ny) for p in (a, b))
        lines += [Line((p[0] + 2.0 * nx, p[1] + 2.0 * ny), (p[0] + (_OFF + 1) * nx, p[1] + (_OFF + 1) * ny), "dim")
                  for p in (a, b)]  # fmt: skip
        lines += dimension(c, d)
        turn = readable(math.atan2(d[1] - c[1], d[0] - c[0]))
        at = ((c[0] + d[0]) / 2 + 0.9 * math.sin(turn), (c[1] + d[1]) / 2 - 0.9 * math.cos(turn))
        figures.append(Text(at, text, _FIGURE, "middle", "ink", False, turn, True))
    boxes = [found.reach, *(text_box(text) for text in figures)]
    spots = [spot for mark in lines if isinstance(mark, Line) for spot in (mark.a, mark.b)]
    return Sizes(
        tuple(lines),
        tuple(figures),
        Rect(
            min(*(b.x0 for b in boxes), *(x for x, _ in spots)),
            min(*(b.y0 for b in boxes), *(y for _, y in spots)),
            max(*(b.x1 for b in boxes), *(x for x, _ in spots)),
            max(*(b.y1 for b in boxes), *(y for _, y in spots)),
        ),
    )


def _across(words: SheetWords) -> float:
    """Return how wide a column of the table is at least: its figures are turned."""
    return 1.25 * _FIGURE


def _table_height(words: SheetWords) -> float:
    return 3 * _row_height(words) + 6.0 if words.figures else 0.0


def _row_height(words: SheetWords) -> float:
    return max(text_width(text, _FIGURE) for row in words.figures for text in row) + 2.4


def _moved(mark: Primitive, dx: float, dy: float) -> Primitive:
    def at(spot: XY) -> XY:
        return spot[0] + dx, spot[1] + dy

    match mark:
        case Line(a, b, pen):
            return Line(at(a), at(b), pen)
        case Polyline(points, pen):
            return Polyline(tuple(at(p) for p in points), pen)
        case Text():
            return replace(mark, at=at(mark.at))
        case Polygon(points, pen):
            return Polygon(tuple(at(p) for p in points), pen)
        case _:
            raise Bug(f"a sheet of a piece has no {type(mark).__name__}")


def _reduced(
    piece: PatternPiece, words: SheetWords, denominator: float, room: Rect
) -> tuple[list[Primitive], Rect, list[float]]:
    """Return the reduced piece at its place, what holds it, and where its ordinates stand across the page."""
    scale, box = _transform(piece, denominator)
    k = 1000.0 * scale

    def at(spot: Flat) -> XY:
        return k * spot[0], -k * spot[1]

    lines: list[Primitive] = []
    ends = [((scale * a[0], scale * a[1]), (scale * b[0], scale * b[1])) for a, b in ordinate_ends(piece)]
    lines += [Line(a, b, "leader") for a, b in ends]
    runs: list[tuple[XY, XY]] = []
    for contour in piece.contours:
        points = [at(spot) for spot in contour.flattened(_CHORD)]
        runs += pairwise(points)
        if contour.kind == "stitch":
            lines += dashed(points, "ink", dash=4.0, gap=1.1)
        else:
            lines.append(Polyline(tuple(points), "outline" if contour.kind == "cut" else "fine"))
    sizes = _sizes(words, scale, box)
    whole = [at(spot) for spot in outer_contour(piece).flattened(_CHORD)]
    closed = [[at(spot) for spot in contour.flattened(_CHORD)] for contour in piece.of("mark") if contour.closed]
    taken: list[Rect] = [text_box(text) for text in sizes.figures]
    texts: list[Text] = []

    def stand(standing: Standing, *, clear: bool = False) -> bool:
        """Take the first place that is free, and off all contours if `clear`."""
        for place in standing.places:
            found = standing.at(place)
            boxes = [text_box(text) for text in found]
            if any(one.overlaps_any(taken, 0.6) for one in boxes):
                continue
            if clear and any(touches(text, a, b) for text in found for a, b in runs):
                continue
            texts.extend(found)
            taken.extend(boxes)
            return True
        return False

    for notch in piece.notches:
        triangle, _ = notch_marks(notch, high=1.8, scale=k)
        lines.append(triangle)
        (x, y), out = at(notch.at), (notch.out[0], -notch.out[1])
        half = text_width(notch.sign, _SIGN, bold=True) / 2
        places = []
        for off in (1.2, 2.4, 3.6):
            away = off + abs(out[0]) * half + abs(out[1]) * _SIGN / 2
            places.append(((x - out[0] * away, y - out[1] * away + 0.35 * _SIGN), 0.0))
        stand(Standing((Text((0.0, 0.0), notch.sign, _SIGN, "middle", "ink", True, halo=True),), tuple(places)))
    if piece.grain is not None:
        a, b = at(piece.grain[0]), at(piece.grain[1])
        length = math.dist(a, b) or 1.0
        ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        lines += [Line(a, b, "ink"), head_at(b, ux, uy, 2.6)]
        if not piece.nap:
            lines.append(head_at(a, -ux, -uy, 2.6))
        runs.append((a, b))
        word = "grain and nap" if piece.nap else "grain"
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        wide = text_width(word, _EDGE) / 2 + 1.4
        beside = [(middle[0] + s * wide, middle[1] + 0.35 * _EDGE) for s in (1, -1)]
        above = [(middle[0], middle[1] - 1.2), (middle[0], middle[1] + 1.2 + 0.75 * _EDGE)]
        spots = beside if abs(uy) > abs(ux) else above
        label = Text((0.0, 0.0), word, _EDGE, "middle", "note", halo=True)
        told = Standing((label,), tuple((spot, 0.0) for spot in spots))
        if not stand(told, clear=True):
            stand(told)
    for (name, finish, allowance), run in zip(piece.edges, edge_runs(piece), strict=True):
        way = [at(spot) for spot in run]
        full = ", ".join(filter(None, (name, finish, allowance)))
        for text, size in ((full, _EDGE), (full, 0.85 * _EDGE), (name, 0.85 * _EDGE), (name, 0.65 * _EDGE)):
            if not way:
                break
            label = Text((0.0, 0.0), text, size, "middle", "ink", halo=True)
            places = [
                p for d in (1.2, 4.4) for p in places_along(way, text_width(text, size), size, inset=d, every=3.0)
            ]
            if stand(Standing((label,), tuple(places)), clear=True):
                break
        else:
            # A short edge: its name stands level beside it.
            label = Text((0.0, 0.0), name, 0.75 * _EDGE, "middle", "ink", halo=True)
            x, y = way[len(way) // 2] if len(way) > 2 else ((way[0][0] + way[1][0]) / 2, (way[0][1] + way[1][1]) / 2)
            half = text_width(name, 0.75 * _EDGE) / 2
            ups = (0.0, 2.6, -2.6, 5.2, -5.2)
            aside = [(sign * (half + d), up) for d in (1.2, 3.0, 6.0, 9.0) for up in ups for sign in (1.0, -1.0)]
            level = [((x + dx, y + up + 0.26 * _EDGE), 0.0) for dx, up in aside]
            within = [place for place in level if inside(place[0], whole)]
            if not stand(Standing((label,), tuple(within)), clear=True):
                stand(Standing((label,), tuple(level)))
    for contour in piece.of("mark"):
        if contour.closed and contour.name:
            outline = [at(spot) for spot in contour.flattened(_CHORD)]
            label = Text((0.0, 0.35 * _EDGE), contour.name, _EDGE, "middle", "ink", halo=True)
            holes = [one for one in closed if one != outline and inside(one[0], outline)]
            places = inner_places((label,), outline, runs, taken, gap=0.3, step=1.0, most=1, holes=holes)
            if not stand(Standing((label,), tuple(places))):
                # No room inside: beneath it.
                x, y = sum(p[0] for p in outline) / len(outline), max(p[1] for p in outline)
                under = Standing((label,), tuple(((x, y + d), 0.0) for d in (2.2, 4.4, 6.6)))
                stand(under)
    for size in (9.0, 7.0, 5.0, 3.6):
        label = Text((0.0, 0.35 * size), piece.number, size, "middle", "ink", True, halo=True)
        places = inner_places((label,), whole, runs, taken, gap=1.2, step=4.0)
        if stand(Standing((label,), tuple(places))):
            break
    label_room = max(text_width(f"{row}, {words.unit}", _FIGURE) for row in _ROWS) + 3.0 if words.figures else 0.0
    left = max(box.x0 - sizes.reach.x0, label_room, 4.0)
    free = (room.x1 - room.x0) - (sizes.reach.x1 - box.x0 + left)
    dx, dy = room.x0 + left + free / 2 - box.x0, room.y0 + 3.0 - sizes.reach.y0
    drawn = [*lines, *sizes.lines]
    every = [*drawn, *unpatched([*texts, *sizes.figures], drawn)]
    reach = Rect(sizes.reach.x0 + dx, sizes.reach.y0 + dy, sizes.reach.x1 + dx, sizes.reach.y1 + dy)
    return [_moved(mark, dx, dy) for mark in every], reach, [a[0] + dx for a, _ in ends]


def _table(words: SheetWords, ends: Sequence[float], top: float, x0: float, x1: float) -> list[Primitive]:
    """Return the figures of the ordinates in three rows, each column under its ordinate where there is room."""
    if not words.figures:
        return []
    label = max(text_width(f"{row}, {words.unit}", _FIGURE) for row in _ROWS) + 3.0
    across, row = _across(words), _row_height(words)
    xs = spread(ends, [across] * len(ends), x0 + label, x1, 0.0)
    first, last = min(xs) - across / 2 - 1.0, max(xs) + across / 2 + 1.0
    marks: list[Primitive] = []
    y = top + 4.0
    for x, end in zip(xs, ends, strict=True):
        marks.append(Line((end, top), (x, y), "leader"))
    for k, name in enumerate(_ROWS):
        upper = y + k * row
        marks.append(Line((first - label + 1.0, upper), (last, upper), "fine"))
        marks.append(
            Text((first - 1.6, upper + row / 2 + 0.35 * _FIGURE), f"{name}, {words.unit}", _FIGURE, "end", "note")
        )
        for x, figures in zip(xs, words.figures, strict=True):
            place = (x + 0.35 * _FIGURE, upper + row - 1.2)
            marks.append(Text(place, figures[k], _FIGURE, "start", "ink", k == 0, -math.pi / 2))
    marks.append(Line((first - label + 1.0, y + 3 * row), (last, y + 3 * row), "fine"))
    return marks
