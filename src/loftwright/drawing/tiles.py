"""Sheets of paper that overlap and show one part of the metal at full size: which tile shows what."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from loftwright.core.book_views import PAPER_MM, DrillMark, DrillPlan, Paper, Side
from loftwright.core.choices import Units
from loftwright.drawing.page import XY, Line, Polygon, Primitive, Rect, shortened, text_width

MARGIN = 12.0
"""Paper kept free all round, which no printer leaves out [mm]."""
HEAD = 26.0
"""Height of the words over the window [mm]."""
OVERLAP = 20.0
"""How far neighbouring tiles show the same [mm]; more than a whole mark, so that each mark is whole on one of them."""
AROUND = 22.0
"""Paper round the outermost mark or line [mm]."""
HOLE, CROSS = 2.5, 9.0
"""Radius of a hole's ring and half the length of its cross [mm]."""
SQUARE_MM: dict[Units, float] = {"metric": 100.0, "imperial": 101.6}
"""Side of the square to check by: 100 mm or 4 in."""


@dataclass(frozen=True, slots=True)
class Tile:
    """One sheet: its place in the grid of tiles, and the corner of its window [mm on the metal, y down]."""

    column: int
    row: int
    columns: int
    rows: int
    x0: float
    y0: float

    @property
    def number(self) -> int:
        """Number on paper, row by row from the top left."""
        return self.row * self.columns + self.column + 1


def window_of(paper: Paper, units: Units) -> Rect:
    """Return where on the page the metal is shown [mm]."""
    width, height = PAPER_MM[paper]
    return Rect(MARGIN, MARGIN + HEAD, width - MARGIN, height - MARGIN - SQUARE_MM[units] - 9.0)


def on_side(plan: DrillPlan, side: Side) -> tuple[DrillMark, ...]:
    """Return the marks as that side shows them: the right side is the mirror image of the left."""
    sign = 1.0 if side == "left" else -1.0
    return tuple(replace(mark, x_mm=sign * mark.x_mm) for mark in plan.marks)


def tiles_of(plan: DrillPlan, side: Side, paper: Paper, units: Units) -> tuple[Tile, ...]:
    """Return the tiles that show all marks and reference lines of a plan."""
    sign = 1.0 if side == "left" else -1.0
    xs = [m.x_mm for m in on_side(plan, side)]
    ys = [-m.z_mm for m in plan.marks]
    lines_x = [sign * line.at_mm for line in plan.lines if line.way == "upright"]
    lines_y = [-line.at_mm for line in plan.lines if line.way == "level"]
    return tiles_round([*xs, *lines_x], [*ys, *lines_y], xs, ys, paper, units)


def tiles_round(
    xs: Sequence[float],
    ys: Sequence[float],
    keep_x: Sequence[float],
    keep_y: Sequence[float],
    paper: Paper,
    units: Units,
) -> tuple[Tile, ...]:
    """Return the tiles that show all of `xs`, `ys` [mm, y down]; joins keep off `keep_x`, `keep_y` where they can."""
    window = window_of(paper, units)
    wide, tall = window.x1 - window.x0, window.y1 - window.y0
    columns = _count(max(xs) - min(xs) + 2 * AROUND, wide)
    rows = _count(max(ys) - min(ys) + 2 * AROUND, tall)
    x0 = _start(xs, keep_x, columns, wide)
    y0 = _start(ys, keep_y, rows, tall)
    return tuple(
        Tile(c, r, columns, rows, x0 + c * (wide - OVERLAP), y0 + r * (tall - OVERLAP))
        for r in range(rows)
        for c in range(columns)
    )


def _start(ends: Sequence[float], marks: Sequence[float], count: int, window: float) -> float:
    """Return where the first tile begins: in the middle, or moved so that joins keep away from marks."""
    low, high = min(ends), max(ends)
    middle = (low + high) / 2 - (count * (window - OVERLAP) + OVERLAP) / 2
    slack = (count * (window - OVERLAP) + OVERLAP - (high - low + 2 * AROUND)) / 2
    tries = [middle + slack * share for share in (0.0, 0.25, -0.25, 0.5, -0.5, 0.75, -0.75, 1.0, -1.0)]

    def clear(start: float) -> float:
        joins = [start + (k + 1) * (window - OVERLAP) + OVERLAP / 2 for k in range(count - 1)]
        return min((min(abs(j - m), 2 * CROSS) for j in joins for m in marks), default=0.0)

    return max(tries, key=clear)


def _count(extent: float, window: float) -> int:
    return max(1, math.ceil((extent - OVERLAP) / (window - OVERLAP) - 1e-9))


def wrapped(text: str, width: float, size: float, *, bold: bool = False) -> list[str]:
    """Return `text` in lines no wider than `width` [mm]."""
    lines: list[str] = []
    for word in text.split():
        if lines and text_width(f"{lines[-1]} {word}", size, bold=bold) <= width:
            lines[-1] += f" {word}"
        else:
            lines.append(shortened(word, width, size, bold=bold))
    return lines


def pointer(a: XY, b: XY) -> list[Primitive]:
    """Return a bold arrow from a to b."""
    length = math.dist(a, b)
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    back = (b[0] - 3.4 * ux, b[1] - 3.4 * uy)
    head = (b, (back[0] - 1.3 * uy, back[1] + 1.3 * ux), (back[0] + 1.3 * uy, back[1] - 1.3 * ux))
    return [Line(a, back, "marker"), Polygon(head, "start-hole")]
