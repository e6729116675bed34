"""What a page of a PDF really draws: circles, boxes and lines in millimetres from its top left corner.

A small reader of content streams: it follows the transformations, opens forms, and gathers every painted path.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

import pypdf

MM = 25.4 / 72.0
"""One point in millimetres: 72 to the inch, 25.4 mm exactly."""

Matrix = tuple[float, float, float, float, float, float]


@dataclass(frozen=True)
class Shape:
    """One painted path, by the box round it [mm, y down]; `curves` and `lines` count its pieces."""

    x0: float
    y0: float
    x1: float
    y1: float
    curves: int
    lines: int

    @property
    def middle(self) -> tuple[float, float]:
        return (self.x0 + self.x1) / 2, (self.y0 + self.y1) / 2

    @property
    def size(self) -> tuple[float, float]:
        return self.x1 - self.x0, self.y1 - self.y0


def times(a: Matrix, b: Matrix) -> Matrix:
    """Return a, then b."""
    return (
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    )


STRINGS = re.compile(rb"\((?:\\.|[^\\()])*\)|<[0-9A-Fa-f]*>", re.DOTALL)
TOKENS = re.compile(rb"/[^\s/<>\[\]()]+|[-+]?[0-9.]+|[A-Za-z]+[0-9]*\*?")
PAINTS = (b"S", b"s", b"f", b"f*", b"B", b"B*", b"b", b"b*", b"n")


def shapes(page: pypdf.PageObject) -> list[Shape]:
    """Return every path that a page paints."""
    found: list[Shape] = []
    tall = float(page.mediabox.height)

    def run(data: bytes, resources: Any, start: Matrix) -> None:
        matrix, kept, stack = start, [], []
        points: list[tuple[float, float]] = []
        curves = lines = 0
        for token in TOKENS.findall(STRINGS.sub(b" ", data)):
            if token[:1] in b"-.0123456789":
                stack.append(float(token))
                continue
            if token[:1] == b"/":
                stack = [token.decode()]
                continue
            if token == b"q":
                kept.append(matrix)
            elif token == b"Q":
                matrix = kept.pop()
            elif token == b"cm":
                matrix = times(tuple(stack[-6:]), matrix)
            elif token in (b"m", b"l", b"c"):
                points.append((stack[-2], stack[-1]))
                lines += token == b"l"
                curves += token == b"c"
            elif token == b"re":
                x, y, w, h = stack[-4:]
                points += [(x, y), (x + w, y + h)]
                lines += 4
            elif token in PAINTS:
                if points and token != b"n":
                    placed = [
                        (matrix[0] * x + matrix[2] * y + matrix[4], matrix[1] * x + matrix[3] * y + matrix[5])
                        for x, y in points
                    ]
                    xs, ys = [MM * x for x, _ in placed], [MM * (tall - y) for _, y in placed]
                    found.append(Shape(min(xs), min(ys), max(xs), max(ys), curves, lines))
                points, curves, lines = [], 0, 0
            elif token == b"Do":
                form = resources["/XObject"][stack[-1]].get_object()
                if form["/Subtype"] == "/Form":
                    own = tuple(float(v) for v in form.get("/Matrix", (1, 0, 0, 1, 0, 0)))
                    run(form.get_data(), form.get("/Resources", resources), times(own, matrix))
            stack = []

    run(page.get_contents().get_data(), page["/Resources"], (1.0, 0.0, 0.0, 1.0, 0.0, 0.0))
    return found


def circles(found: list[Shape], radius: float) -> list[tuple[float, float]]:
    """Return the middles of all circles of a radius [mm]."""
    return [
        s.middle
        for s in found
        if s.curves == 4 and abs(s.size[0] - 2 * radius) < 0.02 and abs(s.size[1] - 2 * radius) < 0.02
    ]


def long_lines(every: list[Shape], *, upright: bool) -> list[float]:
    """Return where straight lines of 80 mm or more stand along (upright) or down (level) [mm]."""
    found = []
    for s in every:
        if s.lines == 1 and s.curves == 0:
            wide, tall = s.size
            if upright and wide < 0.01 and tall > 80:
                found.append(s.x0)
            if not upright and tall < 0.01 and wide > 80:
                found.append(s.y0)
    return found
