"""The row of holes as a picture for the tuning card: which hole is which, and with which one to start."""

from __future__ import annotations

from itertools import pairwise

from loftwright.core.choice_views import HoleRow
from loftwright.core.wording import Wording
from loftwright.drawing.page import XY, Circle, Drawing, Line, Polygon, Primitive, Text
from loftwright.drawing.parts import dimension
from loftwright.drawing.tiles import pointer


def hole_row(row: HoleRow, says: Wording, *, width: float, height: float = 62.0) -> Drawing:
    """Return the holes of a bracket side by side, as large as `width` x `height` [mm] lets them be.

    The start hole is filled black with its number in white; the others are rings: both read in black and white. Rows
    that climb keep their slope. Distances between neighbours stand below.
    """
    xs, zs = [h.x_mm for h in row.holes], [h.z_mm for h in row.holes]
    span = max(max(xs) - min(xs), 1.0)
    top, low = 17.0, height - 19.0
    radius = 5.4
    scale = (width - 2 * 24.0) / span
    rise = max(zs) - min(zs)
    if rise > 0:
        scale = min(scale, (low - top - 2 * radius) / rise)
    # Neighbours must not touch each other, nor fly apart where there are only two.
    scale = min(scale, 2.4)
    mid_x, mid_z = (max(xs) + min(xs)) / 2, (max(zs) + min(zs)) / 2
    cx, cy = width / 2, (top + low) / 2

    def at(x: float, z: float) -> XY:
        return cx + scale * (x - mid_x), cy - scale * (z - mid_z)

    spots = [at(h.x_mm, h.z_mm) for h in row.holes]
    gap = min((abs(a[0] - b[0]) for a, b in pairwise(spots)), default=2 * radius)
    radius = min(radius, max(2.6, 0.42 * gap))
    half_x, half_y = (max(p[0] for p in spots) - cx) + 14.0, (max(p[1] for p in spots) - cy) + radius + 4.5
    plate = (
        (cx - half_x, cy - half_y),
        (cx + half_x, cy - half_y),
        (cx + half_x, cy + half_y),
        (cx - half_x, cy + half_y),
    )
    marks: list[Primitive] = [Polygon(plate, "sign-plate")]
    base = cy + half_y + 5.0
    ordered = sorted(zip(row.holes, spots, strict=True), key=lambda pair: pair[1][0])
    for (a, pa), (b, pb) in pairwise(ordered):
        marks += [
            Line((pa[0], cy + half_y), (pa[0], base + 1.0), "dim"),
            Line((pb[0], cy + half_y), (pb[0], base + 1.0), "dim"),
        ]
        marks += dimension((pa[0], base), (pb[0], base))
        words = says.short_length(abs(b.x_mm - a.x_mm) / 1000)
        marks.append(Text(((pa[0] + pb[0]) / 2, base + 4.2), words, 3.2, "middle", "ink"))
    for hole, (x, y) in zip(row.holes, spots, strict=True):
        size = 1.25 * radius
        marks.append(Circle((x, y), radius, "start-hole" if hole.start else "marker"))
        marks.append(
            Text((x, y + 0.36 * size), str(hole.number), size, "middle", "on-black" if hole.start else "ink", True)
        )
        if hole.start:
            marks.append(Text((x, cy - half_y - 5.4), "START HERE", 4.6, "middle", "ink", True))
            marks += pointer((x, cy - half_y - 4.4), (x, y - radius - 0.5))
    x1 = width - 2.0
    marks += [
        *pointer((x1 - 18.0, 4.0), (x1, 4.0)),
        Text((x1 - 19.5, 5.1), "to the cab", 3.2, "end", "ink", True),
    ]
    start = next((h for h in row.holes if h.start), row.holes[0])
    part = f"the {start.body}" if start.body in ("van", "shell") else start.body
    where = f"Holes in {part}, seen with the cab to the right; the spring's other end stays where it is."
    marks.append(Text((cx, height - 1.6), where, 3.4, "middle", "ink"))
    said = f"{len(row.holes)} holes; start with number {start.number}."
    return Drawing(width, height, "The row of holes", said, tuple(marks))
