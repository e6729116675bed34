"""Where words and the grain's arrow go on a piece: clear of its windows, as large as there is room for."""

from __future__ import annotations

from typing import Final

import numpy as np

from loftwright.cloth.cut_lines import Net
from loftwright.cloth.windows import Box
from loftwright.core.motion import Array
from loftwright.core.pattern import XY, Words

TRIM: Final = "trim what lies inside this line"
"""How the name of a line ends along which a piece is trimmed for a window."""
SIZES: Final = (0.02, 0.016, 0.012, 0.009, 0.007, 0.005, 0.0035)
"""Heights of letters that are tried [m], the largest first."""
LINE: Final = 1.6
"""From line to line over the height of a letter [1]."""
LETTER: Final = 0.6
"""Width of a letter over its height [1]."""


def around(net: Net) -> Box:
    """Return the upright rectangle round the stitch line of a panel."""
    low, high = net.outline.min(axis=0), net.outline.max(axis=0)
    return Box(float(low[0]), float(low[1]), float(high[0]), float(high[1]), 0.0)


def written(
    words: list[str], net: Net, holes: tuple[Box, ...], *, along: bool
) -> tuple[tuple[Words, ...], tuple[XY, XY]]:
    """Return what is written on a piece and its grain's arrow below it, or beside it where it runs up the piece."""
    size, x, y = _place(max(len(text) for text in words), len(words) + 1, net, holes)
    step, wide = LINE * size, size * LETTER * max(len(text) for text in words)
    first = y + 0.5 * len(words) * step
    lines = tuple(Words((x, first - k * step), text, size) for k, text in enumerate(words))
    if along:
        at = first - len(words) * step
        return lines, ((x - 0.5 * wide, at), (x + 0.5 * wide, at))
    aside, tall = x + 0.5 * wide, 0.5 * len(words) * step
    return lines, ((aside, y - tall), (aside, y + tall))


def _place(letters: int, count: int, net: Net, holes: tuple[Box, ...]) -> tuple[float, float, float]:
    """Return the height of letters and the middle of so many lines of so many letters, clear of edges and holes [m]."""
    box = around(net)
    middle = (float(net.outline[:, 0].mean()) - box.left) / (box.right - box.left)
    for size in SIZES:
        wide, tall = size * LETTER * letters / 2.0, size * LINE * count / 2.0
        for share in (middle, 0.5, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9):
            x = box.left + share * (box.right - box.left)
            ends = [x + part * wide for part in (-1.0, -0.5, 0.0, 0.5, 1.0)]
            low, high = max(_at(net.bottom, end) for end in ends), min(_at(net.top[::-1], end) for end in ends)
            if ends[0] < box.left or ends[-1] > box.right or high - low < 2.0 * tall:
                continue
            for up in (0.5, 0.25, 0.75):
                y = low + tall + up * (high - low - 2.0 * tall)
                own = Box(x - wide, y - tall, x + wide, y + tall, 0.0)
                if not any(_meet(own, hole) for hole in holes):
                    return size, x, y
    x = box.left + middle * (box.right - box.left)
    return SIZES[-1], x, (_at(net.bottom, x) + _at(net.top[::-1], x)) / 2.0


def _meet(one: Box, other: Box) -> bool:
    across = one.right > other.left and other.right > one.left
    return across and one.top > other.bottom and other.top > one.bottom


def _at(line: Array, x: float) -> float:
    order = np.argsort(line[:, 0])
    return float(np.interp(x, line[order, 0], line[order, 1]))
