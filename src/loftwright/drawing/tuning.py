"""The row of holes as a picture for the tuning card: which hole is which, and with which one to start."""

from __future__ import annotations

import math
from itertools import pairwise

from loftwright.core.choice_views import Hole, HoleRow
from loftwright.core.wording import Wording
from loftwright.drawing.page import XY, Circle, Drawing, Line, Polygon, Primitive, Text
from loftwright.drawing.parts import dimension
from loftwright.drawing.tiles import pointer

STEEP = 0.5
"""A row that rises by more than this share of its length has its distances at its side."""
SMALL = 54.0
"""On less height than this, holes are drawn smaller [mm]."""


def hole_row(row: HoleRow, says: Wording, *, width: float, height: float = 62.0) -> Drawing:
    """Return the holes of each bracket side by side, as large as `width` x `height` [mm] lets them be.

    Start holes are filled black with their number in white; the others are rings: both read in black and white. Rows
    that climb keep their slope. Distances between neighbours, middle to middle, stand beside them.
    """
    rows, each = row.rows, height / len(row.rows)
    marks: list[Primitive] = []
    for number, holes in enumerate(rows):
        part = holes[0].body if holes[0].body.startswith("the ") or "arm" in holes[0].body else f"the {holes[0].body}"
        if row.both:
            where = f"{'Foot' if holes is row.feet else 'Head'} holes in {part}, seen with the cab to the right."
        else:
            where = f"Holes in {part}, seen with the cab to the right; the spring's other end stays where it is."
        marks += _bracket(holes, says, where, width, number * each, each)
    x1 = width - 2.0
    marks += [
        *pointer((x1 - 18.0, 4.0), (x1, 4.0)),
        Text((x1 - 19.5, 5.1), "to the cab", 3.2, "end", "ink", True),
    ]
    count = sum(len(holes) for holes in rows)
    if row.both:
        start = row.start
        said = (
            f"{count} holes; start with foot hole {row.feet[start.foot].name}, head hole {row.heads[start.head].name}."
        )
        title = "The two rows of holes"
    else:
        said, title = f"{count} holes; start with number {row.start.number}.", "The row of holes"
    return Drawing(width, height, title, said, tuple(marks))


def _bracket(
    holes: tuple[Hole, ...], says: Wording, where: str, width: float, y0: float, height: float
) -> list[Primitive]:
    """Return the plate of one bracket with its holes, drawn from `y0` [mm] down."""
    xs, zs = [h.x_mm for h in holes], [h.z_mm for h in holes]
    span, rise = max(max(xs) - min(xs), 1.0), max(zs) - min(zs)
    # A steep row has its distances at its side, else below.
    steep, small = rise > STEEP * span, height < SMALL
    radius, pad = (4.0, 2.5) if small else (5.4, 4.5)
    top, low = (y0 + 17.0, y0 + height - 19.0) if not small else (y0 + 11.0, y0 + height - 17.5)
    if steep:
        top, low = y0 + 3.0 + pad, y0 + height - 6.0 - pad
    scale = (width - 2 * (60.0 if steep else 24.0)) / span
    if rise > 0:
        scale = min(scale, (low - top - 2 * radius) / rise)
    # Neighbours must not touch each other, nor fly apart where there are only two.
    scale = min(scale, 2.4)
    mid_x, mid_z = (max(xs) + min(xs)) / 2, (max(zs) + min(zs)) / 2
    cx, cy = width / 2, (top + low) / 2

    def at(x: float, z: float) -> XY:
        return cx + scale * (x - mid_x), cy - scale * (z - mid_z)

    spots = [at(h.x_mm, h.z_mm) for h in holes]
    ordered = sorted(zip(holes, spots, strict=True), key=lambda pair: pair[1][1 if steep else 0])
    gap = min((math.dist(a[1], b[1]) for a, b in pairwise(ordered)), default=2 * radius)
    radius = min(radius, max(1.6, 0.42 * gap))
    half_x, half_y = (max(p[0] for p in spots) - cx) + 14.0, (max(p[1] for p in spots) - cy) + radius + pad
    plate = (
        (cx - half_x, cy - half_y),
        (cx + half_x, cy - half_y),
        (cx + half_x, cy + half_y),
        (cx - half_x, cy + half_y),
    )
    marks: list[Primitive] = [Polygon(plate, "sign-plate")]
    base = cx + half_x + 5.0 if steep else cy + half_y + 5.0
    for (a, pa), (b, pb) in pairwise(ordered):
        words = says.short_length(math.hypot(b.x_mm - a.x_mm, b.z_mm - a.z_mm) / 1000)
        if steep:
            marks += [Line((cx + half_x, y), (base + 1.0, y), "dim") for y in (pa[1], pb[1])]
            marks += dimension((base, pa[1]), (base, pb[1]))
            marks.append(Text((base + 3.0, (pa[1] + pb[1]) / 2 + 1.1), words, 3.2, "start", "ink"))
        else:
            marks += [Line((x, cy + half_y), (x, base + 1.0), "dim") for x in (pa[0], pb[0])]
            marks += dimension((pa[0], base), (pb[0], base))
            marks.append(Text(((pa[0] + pb[0]) / 2, base + 4.2), words, 3.2, "middle", "ink"))
    for hole, (x, y) in zip(holes, spots, strict=True):
        size = 1.25 * radius
        marks.append(Circle((x, y), radius, "start-hole" if hole.start else "marker"))
        marks.append(Text((x, y + 0.36 * size), hole.name, size, "middle", "on-black" if hole.start else "ink", True))
        if hole.start and steep:
            marks.append(Text((cx - half_x - 6.0, y + 1.6), "START HERE", 4.6, "end", "ink", True))
            marks += pointer((cx - half_x - 5.0, y), (x - radius - 0.5, y))
        elif hole.start:
            marks.append(Text((x, cy - half_y - 5.4), "START HERE", 4.6, "middle", "ink", True))
            marks += pointer((x, cy - half_y - 4.4), (x, y - radius - 0.5))
    marks.append(Text((cx, y0 + height - 1.6), where, 3.4, "middle", "ink"))
    return marks
