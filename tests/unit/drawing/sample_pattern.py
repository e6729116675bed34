"""Pieces of cloth made up for drawing: a tall rear wall with bowed edges and a window, a side wall that tapers."""

from __future__ import annotations

import math
from itertools import combinations

from loftwright.core.pattern import Contour, LaidPiece, Layout, Notch, PatternPiece, Vertex
from loftwright.drawing.page import Drawing, Group, Polygon, Polyline, Rect, pen, text_box, texts

EDGES = (
    ("lower line", "staple strip", "30 mm"),
    ("right seam", "flat-felled", "20 mm"),
    ("upper line", "track", "15 mm"),
    ("left seam", "flat-felled", "8 mm"),
)


def bulge(sag: float, chord: float) -> float:
    """Bulge of an arc from its sag: twice the sag over the chord; left turns positive."""
    return 2.0 * sag / chord


def rounded(x0: float, y0: float, x1: float, y1: float, r: float) -> tuple[Vertex, ...]:
    b = math.tan(math.pi / 8)
    return (
        (x0 + r, y0, 0.0), (x1 - r, y0, b), (x1, y0 + r, 0.0), (x1, y1 - r, b),
        (x1 - r, y1, 0.0), (x0 + r, y1, b), (x0, y1 - r, 0.0), (x0, y0 + r, b),
    )  # fmt: skip


def _figures(piece: PatternPiece) -> tuple[tuple[str, str, str], ...]:
    return tuple(tuple(f"{round(1000 * v)}".replace("-", "−") for v in row) for row in piece.ordinates)  # type: ignore[misc]


def rear() -> PatternPiece:
    lower, upper = bulge(0.018, 1.0), bulge(0.026, 1.04)

    def low(s: float) -> float:
        return -0.018 * 4 * s * (1 - s)

    def high(s: float) -> float:
        return 1.4 + 0.026 * 4 * s * (1 - s)

    stitch: tuple[Vertex, ...] = ((0.0, 0.0, lower), (1.0, 0.0, 0.0), (1.02, 1.4, upper), (-0.02, 1.4, 0.0))
    cut: tuple[Vertex, ...] = (
        (-0.0085, -0.031, bulge(0.0186, 1.029)), (1.0205, -0.031, 0.0), (1.0407, 1.416, bulge(0.0268, 1.069)),
        (-0.0283, 1.416, 0.0),
    )  # fmt: skip
    notches = tuple(Notch((k / 4 + 0.03, low(k / 4 + 0.03)), (0.0, -1.0), str(k), 0.25 * k) for k in (1, 2, 3)) + tuple(
        Notch((1.0 + 0.02 * y / 1.4, y), (1.0, 0.0), f"A{k}", y) for k, y in ((1, 0.4), (2, 0.9))
    )
    notches += tuple(Notch((-0.02 * y / 1.4, y), (-1.0, 0.0), f"B{k}", y) for k, y in ((1, 0.5), (2, 1.0)))
    ordinates = tuple((k / 10, low(k / 10), high(k / 10)) for k in range(11))
    return PatternPiece(
        "W1", "rear wall", "cotton canvas", 1, "right side out", (
            Contour("cut", cut), Contour("stitch", stitch),
            Contour("mark", rounded(0.28, 0.85, 0.74, 1.2, 0.06), name="window"),
            Contour("mark", rounded(0.24, 0.81, 0.78, 1.24, 0.1), name="curtain"),
        ), notches=notches, grain=((0.86, 0.25), (0.86, 0.75)), nap=True, ordinates=ordinates, edges=EDGES,
    )  # fmt: skip


def side() -> PatternPiece:
    def high(x: float) -> float:
        return 0.1 + 0.8 * x / 2.0

    stitch: tuple[Vertex, ...] = (
        (0.0, 0.0, bulge(0.01, 2.0)), (2.0, 0.0, 0.0), (2.0, 0.9, bulge(0.02, math.hypot(2.0, 0.8))), (0.0, 0.1, 0.0),
    )  # fmt: skip
    cut: tuple[Vertex, ...] = (
        (-0.008, -0.03, bulge(0.01, 2.028)), (2.02, -0.03, 0.0), (2.02, 0.925, bulge(0.02, 2.19)), (-0.008, 0.113, 0.0),
    )  # fmt: skip
    notches = tuple(Notch((0.25 * k, -0.04 * (0.125 * k) * (1 - 0.125 * k)), (0.0, -1.0), str(k), 0.25 * k)
                    for k in range(1, 8))  # fmt: skip
    notches += (Notch((2.0, 0.45), (1.0, 0.0), "C1", 0.45), Notch((0.0, 0.05), (-1.0, 0.0), "D1", 0.05))
    ordinates = tuple((k / 10, -0.04 * (k / 20) * (1 - k / 20), high(k / 10)) for k in range(21))
    return PatternPiece(
        "W2", "right wall", "cotton canvas", 1, "right side out", (
            Contour("cut", cut), Contour("stitch", stitch),
            Contour("mark", rounded(1.3, 0.2, 1.75, 0.5, 0.05), name="window"),
        ), notches=notches, grain=((0.6, 0.16), (1.1, 0.16)), nap=True, ordinates=ordinates, edges=EDGES,
    )  # fmt: skip


def turned(piece: PatternPiece, turn: float, dx: float, dy: float, *, mirrored: bool = False) -> LaidPiece:
    """The piece's cut line on the roll: mirrored first, then turned to the left, its box's corner at (dx, dy)."""
    sign = -1.0 if mirrored else 1.0
    cos, sin = math.cos(turn), math.sin(turn)
    spots = [(cos * sign * x - sin * y, sin * sign * x + cos * y) for x, y in piece.of("cut")[0].flattened(0.002)[:-1]]
    x0, y0 = min(x for x, _ in spots), min(y for _, y in spots)
    return LaidPiece(piece.number, tuple((x - x0 + dx, y - y0 + dy) for x, y in spots), turn, mirrored)


def layouts() -> tuple[Layout, ...]:
    one, two = rear(), side()
    canvas = (
        turned(one, math.pi / 2, 0.02, 0.02), turned(two, 0.0, 1.53, 0.02),
        turned(two, 0.0, 3.58, 0.02, mirrored=True),
    )  # fmt: skip
    return (
        Layout("cotton canvas", 1.47, 5.64, canvas, "laid by a search of 10 s"),
        Layout("fleece", 1.4, 1.53, (turned(one, math.pi / 2, 0.02, 0.02),), "laid by hand"),
    )


REAR_FIGURES, SIDE_FIGURES = _figures(rear()), _figures(side())


def tidy(drawing: Drawing) -> None:
    """Demand that every text lies on the paper, over no other text, and every pen is known."""
    paper = Rect(-0.1, -0.1, drawing.width + 0.1, drawing.height + 0.1)
    found = texts(drawing.marks)
    for text in found:
        assert text_box(text).within(paper), text
    straight = [t for t in found if math.isclose(math.sin(2 * t.turn), 0.0, abs_tol=1e-6)]
    for a, b in combinations(straight, 2):
        assert not text_box(a).overlaps(text_box(b)), (a.text, b.text)
    for mark in drawing.marks:
        if not isinstance(mark, Group):
            pen(mark.pen)
    for mark in drawing.marks:
        spots = mark.points if isinstance(mark, Polyline | Polygon) else ()
        assert all(paper.x0 <= x <= paper.x1 and paper.y0 <= y <= paper.y1 for x, y in spots), mark
