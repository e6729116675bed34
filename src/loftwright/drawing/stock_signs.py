"""A small outline of a stock bar's section, to be recognised in a list; not to scale."""

from __future__ import annotations

from loftwright.drawing.page import XY, Circle, Drawing, Polygon, Primitive

_SHAPES: dict[str, tuple[XY, ...]] = {
    "angle": ((1.5, 1), (2.6, 1), (2.6, 6.4), (8, 6.4), (8, 7.5), (1.5, 7.5)),
    "channel": ((1, 2), (8, 2), (8, 7), (6.9, 7), (6.9, 3.1), (2.1, 3.1), (2.1, 7), (1, 7)),
    "flat": ((0.8, 4), (8.2, 4), (8.2, 5.2), (0.8, 5.2)),
    "hat": (
        (0.4, 6.9), (0.4, 5.9), (2, 5.9), (2, 2), (7, 2), (7, 5.9), (8.6, 5.9), (8.6, 6.9), (6, 6.9), (6, 3), (3, 3),
        (3, 6.9),
    ),
    "bar": ((2, 2), (7, 2), (7, 7), (2, 7)),
}  # fmt: skip
_OUTER, _INNER = ((1, 1), (8, 1), (8, 8), (1, 8)), ((2.1, 2.1), (6.9, 2.1), (6.9, 6.9), (2.1, 6.9))


def stock_sign(name: str) -> Drawing | None:
    """Return the outline of the section that a name tells of, such as "angle 40 x 40 x 4"; None where it tells none."""
    words = name.lower()
    marks: tuple[Primitive, ...] = ()
    if "tube" in words or "hollow" in words or "pipe" in words:
        if "round" in words or "pipe" in words:
            marks = (Circle((4.5, 4.5), 3.6, "item"), Circle((4.5, 4.5), 2.5, "arm"))
        else:
            marks = (Polygon(_OUTER, "item"), Polygon(_INNER, "arm"))
    else:
        found = next((shape for word, shape in _SHAPES.items() if word in words), None)
        if found is None:
            return None
        marks = (Polygon(found, "item"),)
    return Drawing(9.0, 9.0, name, f"Section: {name}", marks)
