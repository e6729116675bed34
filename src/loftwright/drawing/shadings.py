"""Ways of hatching that can be told apart without colour, and signs that stand before a word."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from loftwright.drawing.hatching import hatched
from loftwright.drawing.page import XY, Line, Polygon, Polyline, Primitive

Shading = Literal["none", "rising", "falling", "crossed", "upright", "level", "dense"]


def box(x0: float, y0: float, x1: float, y1: float) -> tuple[XY, ...]:
    """Return the corners of an upright rectangle [mm]."""
    return (x0, y0), (x1, y0), (x1, y1), (x0, y1)


def shaded(outline: Sequence[XY], how: Shading, *, gap: float = 1.4, pen: str = "fine") -> list[Primitive]:
    """Return the lines that hatch a closed shape on the page [mm], `gap` apart; "dense" is crossed and twice as close.

    The lines of shapes that touch run on into each other.
    """
    if how == "none":
        return []
    if how in ("dense", "crossed"):
        close = gap / 2 if how == "dense" else gap
        return [*shaded(outline, "rising", gap=close, pen=pen), *shaded(outline, "falling", gap=close, pen=pen)]
    if how == "rising":
        return hatched([outline], gap=gap, pen=pen)
    if how == "falling":
        return _back(hatched([[(-x, y) for x, y in outline]], gap=gap, pen=pen))
    # Upright and level lines: those that rise to the right, seen in turned axes.
    upright = how == "upright"
    turned = [(x - y, y) if upright else (x, y - x) for x, y in outline]
    found: list[Primitive] = []
    for line in hatched([turned], gap=gap / 2**0.5, pen=pen):
        if isinstance(line, Line):
            a, b = ((p[0] + p[1], p[1]) if upright else (p[0], p[1] + p[0]) for p in (line.a, line.b))
            found.append(Line(a, b, line.pen))
    return found


def _back(lines: Sequence[Primitive]) -> list[Primitive]:
    """Return lines mirrored from left to right."""
    return [Line((-m.a[0], m.a[1]), (-m.b[0], m.b[1]), m.pen) for m in lines if isinstance(m, Line)]


def tick(x: float, y: float, size: float = 2.0, pen: str = "marker") -> Polyline:
    """Return a tick whose box has its left lower corner at x, y [mm]."""
    return Polyline(((x, y - 0.45 * size), (x + 0.35 * size, y - 0.05 * size), (x + 0.9 * size, y - 0.9 * size)), pen)


def diamond(x: float, y: float, size: float = 1.7, pen: str = "start-hole") -> Polygon:
    """Return a diamond about x, y [mm]."""
    r = size / 2
    return Polygon(((x, y - r), (x + r, y), (x, y + r), (x - r, y)), pen)


def triangle(x: float, y: float, size: float = 1.8, pen: str = "start-hole") -> Polygon:
    """Return a triangle that stands on its tip at x, y [mm]."""
    return Polygon(((x, y), (x - size / 2, y - size), (x + size / 2, y - size)), pen)
