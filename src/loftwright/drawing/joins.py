"""How tiles of one sheet belong together: where they are cut and overlap, crosses, a map, the square to check by."""

from __future__ import annotations

import math
from collections.abc import Sequence

from loftwright.core.choices import Units
from loftwright.drawing.page import XY, Circle, Line, Polygon, Primitive, Rect, Text, text_box
from loftwright.drawing.tiles import CROSS, MARGIN, OVERLAP, SQUARE_MM, Tile


def check_square(window: Rect, units: Units) -> list[Primitive]:
    """Return the square to check the printer by, under the window."""
    square = SQUARE_MM[units]
    x0, y0 = MARGIN, window.y1 + 7.0
    name = "100 mm" if units == "metric" else "4 in"
    box = ((x0, y0), (x0 + square, y0), (x0 + square, y0 + square), (x0, y0 + square))
    return [
        Polygon(box, "outline"),
        Text((x0 + square / 2, y0 + 5.0), f"{name} wide and high", 3.4, "middle", "ink", True),
        Text((x0 + square / 2, y0 + 9.4), "Measure it before you trust this page.", 2.9, "middle", "ink"),
    ]


def _free(choices: Sequence[float], taken: Sequence[float]) -> tuple[float, float]:
    """Return the first and the last of `choices` that keep away from what is taken, or nearly so."""
    clear = [c for c in choices if all(abs(c - t) > CROSS + 5.0 for t in taken)] or list(choices)
    return clear[0], clear[-1]


def joins(tile: Tile, window: Rect, taken_x: Sequence[float], taken_y: Sequence[float]) -> list[Primitive]:
    """Return where tiles are cut and laid over each other, with crosses that must come to lie on one another.

    Crosses of a join keep off `taken_x` and `taken_y` [mm on the page], what both of its tiles show there.
    """
    found: list[Primitive] = []
    half = OVERLAP / 2
    ys = _free([window.y0 + 10.0 + 8.0 * k for k in range(int((window.y1 - window.y0 - 40.0) / 8.0))], taken_y)
    xs = _free([window.x0 + 50.0 + 8.0 * k for k in range(int((window.x1 - window.x0 - 62.0) / 8.0))], taken_x)

    def cross(x: float, y: float, letter: str) -> None:
        found.extend(
            [
                Line((x - 4.0, y), (x + 4.0, y), "fine"),
                Line((x, y - 4.0), (x, y + 4.0), "fine"),
                Circle((x, y), 1.6, "thin-outline"),
                Text((x + 2.4, y - 1.2), letter, 3.0, "start", "note", True, 0.0, True),
            ]
        )

    for step, is_right in ((-1, False), (1, True)):
        if not 0 <= tile.column + step < tile.columns:
            continue
        x = window.x1 - half if is_right else window.x0 + half
        first = min(tile.column, tile.column + step)
        for k, y in enumerate(ys):
            cross(x, y, f"{chr(ord('a') + 2 * (tile.row * tile.columns + first) + k)}")
        edge = window.x1 - OVERLAP if is_right else window.x0
        found.append(Line((edge, window.y0), (edge, window.y1), "ghost"))
        other = tile.number + step
        text = f"tile {other} goes on top of this strip" if is_right else "cut along this edge"
        at = (
            (window.x1 + 4.0, (window.y0 + window.y1) / 2)
            if is_right
            else (window.x0 - 1.6, (window.y0 + window.y1) / 2)
        )
        found.append(Text(at, text, 2.6, "middle", "note", False, -math.pi / 2))
    for step, is_low in ((-1, False), (1, True)):
        if not 0 <= tile.row + step < tile.rows:
            continue
        y = window.y1 - half if is_low else window.y0 + half
        first = min(tile.row, tile.row + step)
        for k, x in enumerate(xs):
            cross(x, y, f"{chr(ord('A') + 2 * (first * tile.columns + tile.column) + k)}")
        edge = window.y1 - OVERLAP if is_low else window.y0
        found.append(Line((window.x0, edge), (window.x1, edge), "ghost"))
        other = tile.number + step * tile.columns
        text = f"tile {other} goes on top of this strip" if is_low else "cut along this edge"
        at = ((window.x0 + window.x1) / 2, window.y1 + 3.2 if is_low else window.y0 - 0.8)
        found.append(Text(at, text, 2.6, "middle", "note"))
    return found


def tile_map(tile: Tile, at: XY) -> list[Primitive]:
    """Return how the tiles lie, with this one in a thick frame."""
    found: list[Primitive] = [Text((at[0], at[1] - 1.6), "how the tiles lie", 2.5, "start", "note")]
    for r in range(tile.rows):
        for c in range(tile.columns):
            x, y = at[0] + 13.0 * c, at[1] + 9.0 * r
            mine = (c, r) == (tile.column, tile.row)
            corners = ((x, y), (x + 12.4, y), (x + 12.4, y + 8.4), (x, y + 8.4))
            found.append(Polygon(corners, "outline" if mine else "thin-outline"))
            number = Text((x + 6.2, y + 5.6), str(r * tile.columns + c + 1), 3.6, "middle", "ink", mine)
            assert text_box(number).x1 < x + 12.4
            found.append(number)
    return found
