"""Hatching of any closed shapes, and the part of a run of lines that lies in a window."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from loftwright.drawing.page import XY, Line, Primitive, Rect


def hatched(outlines: Sequence[Sequence[XY]], *, gap: float = 1.8, pen: str = "hatch") -> list[Primitive]:
    """Return lines that rise to the right, `gap` [mm] apart, wherever an odd number of `outlines` lies round them."""
    edges = [(a, b) for outline in outlines for a, b in pairwise([*outline, outline[0]])]
    sums = [x + y for outline in outlines for x, y in outline]
    step = gap * math.sqrt(2)
    found: list[Primitive] = []
    for k in range(math.ceil(min(sums) / step), math.floor(max(sums) / step) + 1):
        # A line of one x + y; a place on it is told by x - y.
        level = k * step
        cuts = []
        for (ax, ay), (bx, by) in edges:
            low, high = ax + ay - level, bx + by - level
            if (low <= 0) != (high <= 0):
                share = low / (low - high)
                cuts.append((ax - ay) + share * ((bx - by) - (ax - ay)))
        cuts.sort()
        found += [
            Line(((level + a) / 2, (level - a) / 2), ((level + b) / 2, (level - b) / 2), pen)
            for a, b in zip(cuts[::2], cuts[1::2], strict=False)
            if b - a > 1e-6
        ]
    return found


def clipped(a: XY, b: XY, window: Rect) -> tuple[XY, XY] | None:
    """Return the part of the straight line from a to b inside `window`; None where there is none."""
    low, high = 0.0, 1.0
    dx, dy = b[0] - a[0], b[1] - a[1]
    for start, way, least, most in ((a[0], dx, window.x0, window.x1), (a[1], dy, window.y0, window.y1)):
        if way == 0:
            if not least <= start <= most:
                return None
            continue
        near, far = sorted(((least - start) / way, (most - start) / way))
        low, high = max(low, near), min(high, far)
    if low >= high:
        return None
    ends = [(a[0] + t * dx, a[1] + t * dy) for t in (low, high)]
    return (a if low == 0 else ends[0]), (b if high == 1 else ends[1])


def clipped_run(points: Sequence[XY], window: Rect) -> list[tuple[XY, ...]]:
    """Return the parts of a run of lines inside `window`."""
    runs: list[list[XY]] = []
    for a, b in pairwise(points):
        part = clipped(a, b, window)
        if part is None:
            continue
        if runs and runs[-1][-1] == part[0]:
            runs[-1].append(part[1])
        else:
            runs.append(list(part))
    return [tuple(run) for run in runs]
