"""Small signs for pages: one for each verdict, told apart by shape first, and a sample of a curve's line."""

from __future__ import annotations

from loftwright.core.checks import Verdict
from loftwright.core.views import Curve
from loftwright.drawing.chart import pen_of
from loftwright.drawing.page import Circle, Drawing, Line, Polygon, Primitive, Text

_SIZE = 6.0


def verdict_mark(verdict: Verdict) -> Drawing:
    """Return a full square with a cross (fails), a square with a question mark (not known yet), or a ring (holds)."""
    low, high = 0.6, _SIZE - 0.6
    square = ((low, low), (high, low), (high, high), (low, high))
    marks: dict[Verdict, tuple[Primitive, ...]] = {
        Verdict.FAILS: (
            Polygon(square, "failed"),
            Line((1.8, 1.8), (4.2, 4.2), "cross"),
            Line((4.2, 1.8), (1.8, 4.2), "cross"),
        ),
        Verdict.NOT_KNOWN: (Polygon(square, "sign"), Text((3.0, 4.25), "?", 3.6, "middle", "ink", True)),
        Verdict.HOLDS: (Circle((3.0, 3.0), 2.2, "sign"),),
    }
    return Drawing(_SIZE, _SIZE, verdict.value, "", marks[verdict])


def curve_sample(curve: Curve) -> Drawing:
    """Return a short piece of a curve's line."""
    return Drawing(13.0, 3.0, curve.label, "", (Line((0.3, 1.5), (12.7, 1.5), pen_of(curve)),))
