"""Pieces of cloth at full size on paper: a page with the map, then tiles to tape together; or one long page.

Page millimetres are millimetres of cloth. Every tile has a bar to check the printer by, the map page a square.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from loftwright.core.book_views import PAPER_MM, Paper
from loftwright.core.choices import Units
from loftwright.core.pattern import PatternPiece
from loftwright.drawing.hatching import clipped, clipped_run
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
    crosses,
    shortened,
    text_box,
    text_width,
    unpatched,
)
from loftwright.drawing.pattern import PieceDrawing, piece_drawing
from loftwright.drawing.pattern_long import CHECK, check_square_at, page_head
from loftwright.drawing.pattern_room import Standing, inside
from loftwright.drawing.tiles import MARGIN, SQUARE_MM, wrapped

HEAD, FOOT = 9.0, 10.0
"""Height of the words over and under a tile's window [mm]."""
OVERLAP = 12.0
"""How far neighbouring tiles show the same [mm]: more than a match mark with its sign."""
AROUND = 4.0
"""Paper round the outermost line [mm]."""
_ARM, _RING = 5.0, 2.0


@dataclass(frozen=True, slots=True)
class PatternTile:
    """One sheet: its row and column from the top left, and the corner of its window [mm of cloth, y down]."""

    row: int
    column: int
    x0: float
    y0: float

    @property
    def name(self) -> str:
        """Row as a letter, column as a number: "B3"."""
        return f"{_letters(self.row)}{self.column + 1}"


@dataclass(frozen=True, slots=True)
class TileGrid:
    """All tiles of a piece; those on which nothing of it lies are not among `tiles`."""

    rows: int
    columns: int
    window: Rect
    tiles: tuple[PatternTile, ...]

    def at(self, row: int, column: int) -> PatternTile | None:
        """Return the tile at a place of the grid, or None where none is printed."""
        return next((tile for tile in self.tiles if (tile.row, tile.column) == (row, column)), None)


def _letters(row: int) -> str:
    """Return "A" to "Z", then "AA" and on."""
    return ("" if row < 26 else _letters(row // 26 - 1)) + chr(ord("A") + row % 26)


def tile_window(paper: Paper) -> Rect:
    """Return where on a tile the cloth is shown [mm]."""
    width, height = PAPER_MM[paper]
    return Rect(MARGIN, MARGIN + HEAD, width - MARGIN, height - MARGIN - FOOT)


def tile_grid(drawn: PieceDrawing, paper: Paper) -> TileGrid:
    """Return the tiles that show all of a piece."""
    window = tile_window(paper)
    wide, tall = window.x1 - window.x0, window.y1 - window.y0
    reach = drawn.reach
    columns = _count(reach.x1 - reach.x0 + 2 * AROUND, wide)
    rows = _count(reach.y1 - reach.y0 + 2 * AROUND, tall)
    x0 = (reach.x0 + reach.x1 - columns * (wide - OVERLAP) - OVERLAP) / 2
    y0 = (reach.y0 + reach.y1 - rows * (tall - OVERLAP) - OVERLAP) / 2
    every = (
        PatternTile(r, c, x0 + c * (wide - OVERLAP), y0 + r * (tall - OVERLAP))
        for r in range(rows)
        for c in range(columns)
    )
    sides = [*pairwise((*drawn.outline, drawn.outline[0]))]
    marks = [
        run for mark in drawn.lines if isinstance(mark, Polygon) for run in pairwise((*mark.points, mark.points[0]))
    ]
    half = OVERLAP / 2

    def shows(tile: PatternTile) -> bool:
        # What lies in an overlap's outer half is whole on the neighbour.
        core = Rect(tile.x0 + half, tile.y0 + half, tile.x0 + wide - half, tile.y0 + tall - half)
        middle = ((core.x0 + core.x1) / 2, (core.y0 + core.y1) / 2)
        return inside(middle, drawn.outline) or any(crosses(core, a, b) for a, b in (*sides, *marks))

    return TileGrid(rows, columns, window, tuple(tile for tile in every if shows(tile)))


def _count(extent: float, window: float) -> int:
    return max(1, math.ceil((extent - OVERLAP) / (window - OVERLAP) - 1e-9))


def pattern_tiles(
    piece: PatternPiece,
    *,
    units: Units,
    paper: Paper,
    use: Sequence[str],
    name: str,
    made_with: str,
    figures: Sequence[tuple[str, str, str]] = (),
) -> tuple[Drawing, ...]:
    """Return the pages of one piece as large as the paper: the map with the check square first, then the tiles.

    `use` says what to do with them, `name` whose they are; `figures` are the ordinates as texts.
    """
    drawn = piece_drawing(piece, figures)
    grid = tile_grid(drawn, paper)
    placed = _settled(drawn, grid)
    sheets = [_map_page(piece, drawn, grid, units, paper, use, name, made_with)]
    for number, tile in enumerate(grid.tiles, 1):
        sheets.append(_tile_page(piece, drawn, placed[tile], grid, tile, number, units, paper, name))
    return tuple(sheets)


def _settled(drawn: PieceDrawing, grid: TileGrid) -> dict[PatternTile, list[Text]]:
    """Return for each tile the texts that are whole on it, each text on at least one tile."""
    wide, tall = grid.window.x1 - grid.window.x0, grid.window.y1 - grid.window.y0
    inner = {
        tile: Rect(tile.x0 + 1.5, tile.y0 + 1.5, tile.x0 + wide - 1.5, tile.y0 + tall - 1.5) for tile in grid.tiles
    }
    # Where the strips are that neighbours cover, and the crosses in them.
    taken: dict[PatternTile, list[Rect]] = {
        tile: [Rect(x - _ARM, y - _ARM, x + _ARM + 3.0, y + _ARM) for x, y, _ in _crosses_of(grid, tile)]
        for tile in grid.tiles
    }
    found: dict[PatternTile, list[Text]] = {tile: [] for tile in grid.tiles}
    for word in drawn.words:
        _stand(word, inner, taken, found)
    return found


def _stand(
    word: Standing,
    inner: dict[PatternTile, Rect],
    taken: dict[PatternTile, list[Rect]],
    found: dict[PatternTile, list[Text]],
) -> None:
    for clear in (True, False):
        for place in word.places:
            texts = word.at(place)
            boxes = [text_box(text) for text in texts]
            homes = [
                tile
                for tile, box in inner.items()
                if all(one.within(box) for one in boxes)
                and not (clear and any(one.overlaps_any(taken[tile], 0.5) for one in boxes))
            ]
            if homes:
                for tile in homes:
                    found[tile] += texts
                    taken[tile] += boxes
                return
    # Nowhere whole: moved, and made smaller if need be, into the tile on which it begins.
    texts = word.at(word.places[0])
    x, y = word.places[0][0]

    def off(tile: PatternTile) -> float:
        box = inner[tile]
        return math.dist((x, y), (_clamp(x, box.x0, box.x1), _clamp(y, box.y0, box.y1)))

    tile = min(inner, key=off)
    box = inner[tile]
    while True:
        boxes = [text_box(text) for text in texts]
        x0, y0 = min(b.x0 for b in boxes), min(b.y0 for b in boxes)
        x1, y1 = max(b.x1 for b in boxes), max(b.y1 for b in boxes)
        if x1 - x0 <= box.x1 - box.x0 and y1 - y0 <= box.y1 - box.y0:
            break
        texts = tuple(
            replace(t, at=(x + 0.8 * (t.at[0] - x), y + 0.8 * (t.at[1] - y)), size=0.8 * t.size) for t in texts
        )
    dx, dy = _clamp(x0, box.x0, box.x1 - (x1 - x0)) - x0, _clamp(y0, box.y0, box.y1 - (y1 - y0)) - y0
    moved = [replace(t, at=(t.at[0] + dx, t.at[1] + dy)) for t in texts]
    found[tile] += moved
    taken[tile] += [text_box(t) for t in moved]


def _clamp(value: float, low: float, high: float) -> float:
    return min(max(value, low), high)


def _crosses_of(grid: TileGrid, tile: PatternTile) -> list[tuple[float, float, int]]:
    """Return the crosses at a tile's corners [mm of cloth] with their numbers, where another tile has the same."""
    wide, tall = grid.window.x1 - grid.window.x0, grid.window.y1 - grid.window.y0
    found = []
    for dr in (0, 1):
        for dc in (0, 1):
            r, c = tile.row + dr, tile.column + dc
            sharing = [grid.at(r + a, c + b) for a in (-1, 0) for b in (-1, 0)]
            if sum(one is not None for one in sharing) > 1:
                x, y = tile.x0 + dc * (wide - OVERLAP), tile.y0 + dr * (tall - OVERLAP)
                found.append((x + OVERLAP / 2, y + OVERLAP / 2, r * (grid.columns + 1) + c + 1))
    return found


def _cut_out(drawn: PieceDrawing, tile: PatternTile, window: Rect) -> list[Primitive]:
    """Return what a tile shows of the piece's lines, at its place on the page."""
    dx, dy = window.x0 - tile.x0, window.y0 - tile.y0

    def at(spot: XY) -> XY:
        return spot[0] + dx, spot[1] + dy

    found: list[Primitive] = []
    for mark in drawn.lines:
        if isinstance(mark, Line):
            part = clipped(at(mark.a), at(mark.b), window)
            if part is not None:
                found.append(Line(*part, mark.pen))
        elif isinstance(mark, Polyline):
            found += [Polyline(run, mark.pen) for run in clipped_run([at(s) for s in mark.points], window)]
        elif isinstance(mark, Polygon):
            points = tuple(at(spot) for spot in mark.points)
            if all(window.x0 <= x <= window.x1 and window.y0 <= y <= window.y1 for x, y in points):
                found.append(Polygon(points, mark.pen))
    return found


def _check_bar(x0: float, y: float, units: Units) -> list[Primitive]:
    """Return a bar as long as the check square's side, with end strokes and its length."""
    x1 = x0 + SQUARE_MM[units]
    return [
        Line((x0, y), (x1, y), "outline"),
        Line((x0, y - 2.0), (x0, y + 2.0), "outline"),
        Line((x1, y - 2.0), (x1, y + 2.0), "outline"),
        Text((x1 + 2.0, y + 0.9), f"{CHECK[units]} when printed at 100 %", 2.6, "start", "ink"),
    ]


def _tile_page(
    piece: PatternPiece,
    drawn: PieceDrawing,
    words: Sequence[Text],
    grid: TileGrid,
    tile: PatternTile,
    number: int,
    units: Units,
    paper: Paper,
    name: str,
) -> Drawing:
    width, height = PAPER_MM[paper]
    window = grid.window
    dx, dy = window.x0 - tile.x0, window.y0 - tile.y0
    lines = _cut_out(drawn, tile, window)
    corners = ((window.x0, window.y0), (window.x1, window.y0), (window.x1, window.y1), (window.x0, window.y1))
    joins = _joins(grid, tile)
    texts = [replace(text, at=(text.at[0] + dx, text.at[1] + dy)) for text in words]
    title = f"{tile.name}"
    said = f"{piece.number} {piece.name}"
    count = f"tile {number} of {len(grid.tiles)}"
    x0, x1, y = window.x0, window.x1, MARGIN + 5.0
    room = x1 - x0 - text_width(title, 6.0, bold=True) - text_width(count, 2.9) - 12.0
    half = room / 2
    head: list[Primitive] = [
        Text((x0, y), title, 6.0, "start", "ink", True),
        Text((x0 + 20.0, y), shortened(said, half, 3.6, bold=True), 3.6, "start", "ink", True),
        Text((x1, y), count, 2.9, "end", "ink"),
    ]
    after = 20.0 + text_width(shortened(said, half, 3.6, bold=True), 3.6, bold=True) + 5.0
    rest = x1 - x0 - after - text_width(count, 2.9) - 5.0
    head.append(Text((x0 + after, y), shortened(name, rest, 2.6), 2.6, "start", "note"))
    marks = [
        Polygon(corners, "thin-outline"),
        *lines,
        *joins,
        *unpatched(texts, [*lines, *joins]),
        *head,
        *_check_bar(x0, window.y1 + 7.0, units),
    ]
    description = f"Row {_letters(tile.row)}, column {tile.column + 1} of piece {said}, full size."
    return Drawing(width, height, f"{said}, tile {tile.name}", description, tuple(marks))


def _joins(grid: TileGrid, tile: PatternTile) -> list[Primitive]:
    """Return crosses at the corners, the strips that neighbours cover, and the edges to cut along."""
    window = grid.window
    found: list[Primitive] = []
    for mx, my, number in _crosses_of(grid, tile):
        x, y = window.x0 + mx - tile.x0, window.y0 + my - tile.y0
        found += [
            Line((x - _ARM, y), (x + _ARM, y), "fine"),
            Line((x, y - _ARM), (x, y + _ARM), "fine"),
            Circle((x, y), _RING, "thin-outline"),
            Text((x + 2.2, y - 1.4), str(number), 2.4, "start", "note", True),
        ]
    middle_x, middle_y = (window.x0 + window.x1) / 2, (window.y0 + window.y1) / 2
    turn = -math.pi / 2
    if grid.at(tile.row, tile.column - 1) is not None:
        found.append(Text((window.x0 - 1.6, middle_y), "cut along this edge", 2.4, "middle", "note", False, turn))
    right = grid.at(tile.row, tile.column + 1)
    if right is not None:
        edge = window.x1 - OVERLAP
        found.append(Line((edge, window.y0), (edge, window.y1), "ghost"))
        text = f"{right.name} goes on top of this strip"
        found.append(Text((window.x1 + 3.6, middle_y), text, 2.4, "middle", "note", False, turn))
    if grid.at(tile.row - 1, tile.column) is not None:
        found.append(Text((middle_x, window.y0 - 1.0), "cut along this edge", 2.4, "middle", "note"))
    below = grid.at(tile.row + 1, tile.column)
    if below is not None:
        edge = window.y1 - OVERLAP
        found.append(Line((window.x0, edge), (window.x1, edge), "ghost"))
        found.append(
            Text((middle_x, window.y1 + 3.2), f"{below.name} goes on top of this strip", 2.4, "middle", "note")
        )
    return found


def _map_page(
    piece: PatternPiece,
    drawn: PieceDrawing,
    grid: TileGrid,
    units: Units,
    paper: Paper,
    use: Sequence[str],
    name: str,
    made_with: str,
) -> Drawing:
    width, height = PAPER_MM[paper]
    cut = f"{piece.number} {piece.name}: cut {piece.count} of {piece.material}"
    lines = [", ".join(filter(None, (cut, piece.side))) + ".", name]
    count = f"{len(grid.tiles)} tiles" if len(grid.tiles) > 1 else "1 tile"
    marks = page_head(f"Piece {piece.number}, full size", count, lines, width, made_with)
    side = SQUARE_MM[units]
    square_y = height - MARGIN - side
    marks += check_square_at(MARGIN, square_y, units)
    x, y, room = MARGIN + side + 6.0, square_y + 3.0, width - 2 * MARGIN - side - 6.0
    said = [("How to use it", True), *((text, False) for text in use)]
    if len(grid.tiles) > 1:
        said += [
            ("Cut each tile along its left and upper edge where it says so.", False),
            ("Lay crosses with one number on each other, row by row, then tape.", False),
        ]
    if len(grid.tiles) < grid.rows * grid.columns:
        said.append(("A tile that is missing from the map would be empty.", False))
    for text, bold in said:
        for line in wrapped(text, room, 2.9, bold=bold):
            if y < height - MARGIN:
                marks.append(Text((x, y), line, 2.9, "start", "ink", bold))
            y += 3.8
        y += 0.8
    top = MARGIN + 10.4 + 4.0 * len(lines) + 8.0
    marks += _map(drawn, grid, Rect(MARGIN, top, width - MARGIN, square_y - 6.0))
    description = f"How {count} of piece {piece.number} lie, and a square of {CHECK[units]} to check the printer by."
    return Drawing(width, height, f"Piece {piece.number}: map of its tiles", description, tuple(marks))


def _map(drawn: PieceDrawing, grid: TileGrid, room: Rect) -> list[Primitive]:
    """Return the tiles, each with its name, over the reduced piece."""
    pitch_x = grid.window.x1 - grid.window.x0 - OVERLAP
    pitch_y = grid.window.y1 - grid.window.y0 - OVERLAP
    scale = min((room.x1 - room.x0) / (grid.columns * pitch_x), (room.y1 - room.y0) / (grid.rows * pitch_y), 0.22)
    first = grid.tiles[0]
    x0, y0 = first.x0 - first.column * pitch_x + OVERLAP / 2, first.y0 - first.row * pitch_y + OVERLAP / 2
    left = (room.x0 + room.x1 - scale * grid.columns * pitch_x) / 2
    w, h = scale * pitch_x, scale * pitch_y
    size = min(3.6, 0.3 * min(w, h))
    marks: list[Primitive] = []
    labels: list[Primitive] = []
    for tile in grid.tiles:
        x, y = left + tile.column * w, room.y0 + tile.row * h
        marks.append(Polygon(((x, y), (x + w, y), (x + w, y + h), (x, y + h)), "thin-outline"))
        labels.append(Text((x + 1.0, y + 0.9 * size + 0.6), tile.name, size, "start", "ink", True, halo=True))
    outline = [(left + scale * (x - x0), room.y0 + scale * (y - y0)) for x, y in drawn.outline]
    marks.append(Polyline((*outline, outline[0]), "outline"))
    return [*marks, *unpatched(labels, marks)]
