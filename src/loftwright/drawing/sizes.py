"""Dimension lines round a flat shape: level ones above and below it, upright ones at its sides, short ones inmost."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from loftwright.drawing.page import XY, Line, Primitive, Rect, Text, text_width
from loftwright.drawing.parts import dimension

SIZE = 2.5
"""Size of the figures [mm]."""
FIRST, STEP = 6.0, 5.0
"""How far the inmost line lies off the shape, and how far apart lines are [mm]."""

Measured = tuple[XY, XY, str]
"""From, to [mm on the page], and the figure."""


@dataclass(frozen=True, slots=True)
class Sizes:
    """Lines and their figures apart, so that figures can be drawn over everything; `reach` holds all of them."""

    lines: tuple[Primitive, ...]
    figures: tuple[Text, ...]
    reach: Rect


def _lanes(spans: Sequence[tuple[float, float, float]]) -> list[int]:
    """Return a lane for each span (from, to, room for its figure), so that none overlap in a lane."""
    taken: list[list[tuple[float, float]]] = []
    found = [0] * len(spans)
    for i in sorted(range(len(spans)), key=lambda i: (round(spans[i][1] - spans[i][0], 3), spans[i][0], i)):
        low, high, room = spans[i]
        short = 4.0 if high - low < 4.0 else 0.0
        half = max((high - low) / 2 + short, room / 2)
        middle = (low + high) / 2
        wide = (middle - half, middle + half)
        lane = next(
            (k for k, others in enumerate(taken) if all(wide[1] <= a + 1e-6 or b <= wide[0] + 1e-6 for a, b in others)),
            len(taken),
        )
        if lane == len(taken):
            taken.append([])
        taken[lane].append(wide)
        found[i] = lane
    return found


def sizes_round(sizes: Sequence[Measured], box: Rect, *, inside: bool = False, size: float = SIZE) -> Sizes:
    """Return the dimension lines of `sizes` round `box`, which holds the shape.

    Slanting ones stay where they are; upright ones far from both sides too, where `inside` is set.
    """
    lines: list[Primitive] = []
    figures: list[Text] = []
    groups: dict[str, list[tuple[XY, XY, str]]] = {"top": [], "bottom": [], "left": [], "right": []}
    for a, b, text in sizes:
        level, upright = abs(a[1] - b[1]) < 0.3, abs(a[0] - b[0]) < 0.3
        x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
        edge = min(x - box.x0, box.x1 - x)
        if level:
            groups["bottom" if y >= (box.y0 + box.y1) / 2 - 0.3 else "top"].append((a, b, text))
        elif upright and not (inside and edge > 0.12 * (box.x1 - box.x0)):
            groups["right" if x >= (box.x0 + box.x1) / 2 else "left"].append((a, b, text))
        else:
            lines += dimension(a, b)
            figures.append(_beside(a, b, text, size, upright=upright))
    reach = [box.x0, box.y0, box.x1, box.y1]
    for side, group in groups.items():
        if not group:
            continue
        upright = side in ("left", "right")
        along = [(min(a[upright], b[upright]), max(a[upright], b[upright])) for a, b, _ in group]
        room = [text_width(text, size) + 1.0 for _, _, text in group]
        for (a, b, text), (low, high), wide, lane in zip(
            group,
            along,
            room,
            _lanes([(low, high, wide) for (low, high), wide in zip(along, room, strict=True)]),
            strict=True,
        ):
            off = FIRST + STEP * lane
            sign = 1.0 if side in ("bottom", "right") else -1.0
            edge = {"top": box.y0, "bottom": box.y1, "left": box.x0, "right": box.x1}[side] + sign * off
            for spot in (a, b):
                start, end = spot[not upright] + sign * 0.8, edge + sign * 1.0
                lines.append(
                    Line((start, spot[1]), (end, spot[1]), "dim")
                    if upright
                    else Line((spot[0], start), (spot[0], end), "dim")
                )
            middle = (low + high) / 2
            if upright:
                lines += dimension((edge, low), (edge, high))
                figures.append(Text((edge - 0.8, middle), text, size, "middle", "ink", False, -math.pi / 2, True))
                reach[0], reach[2] = min(reach[0], edge - size - 1.0), max(reach[2], edge + 1.5)
                reach[1], reach[3] = min(reach[1], middle - wide / 2), max(reach[3], middle + wide / 2)
            else:
                lines += dimension((low, edge), (high, edge))
                figures.append(Text((middle, edge - 0.8), text, size, "middle", "ink", halo=True))
                reach[1], reach[3] = min(reach[1], edge - size - 1.0), max(reach[3], edge + 1.5)
                reach[0], reach[2] = min(reach[0], middle - wide / 2), max(reach[2], middle + wide / 2)
    return Sizes(tuple(lines), tuple(figures), Rect(*reach))


def _beside(a: XY, b: XY, text: str, size: float, *, upright: bool) -> Text:
    x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    if upright:
        return Text((x + 1.2, y + 0.35 * size), text, size, "start", "ink", halo=True)
    turn = math.atan2(b[1] - a[1], b[0] - a[0])
    turn = turn - math.pi if turn > math.pi / 2 else turn + math.pi if turn <= -math.pi / 2 else turn
    return Text((x + 0.9 * math.sin(turn), y - 0.9 * math.cos(turn)), text, size, "middle", "ink", False, turn, True)
