"""Words under a drawing: a row of signs with what they mean, and sentences in as many lines as they need."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from loftwright.drawing.page import Group, Primitive, Text, text_width
from loftwright.drawing.tiles import wrapped

SIZE = 2.2
"""Size of the words [mm]."""
ROW = 4.4
"""Height of a row of signs [mm]."""
_BETWEEN, _BESIDE, _LINE = 5.0, 1.4, 3.1


@dataclass(frozen=True, slots=True)
class Sign:
    """A sign, drawn from x = 0 to `wide` and from y = -2.4 to 0 [mm], and what it means."""

    marks: tuple[Primitive, ...]
    wide: float
    text: str


def legend(signs: Sequence[Sign], left: float, top: float, width: float) -> tuple[list[Primitive], float]:
    """Return the signs in rows no wider than `width` from `left` [mm] on, and where the next thing may begin [mm]."""
    marks: list[Primitive] = []
    left, width = left + 0.2, width - 0.2
    x, y = left, top + 3.0
    for sign in signs:
        lines = wrapped(sign.text, width - sign.wide - _BESIDE, SIZE)
        wide = sign.wide + _BESIDE + max(text_width(line, SIZE) for line in lines)
        if x > left and x + wide > left + width:
            x, y = left, y + ROW
        marks.append(Group("sign", sign.marks, (x, y)))
        for k, line in enumerate(lines):
            marks.append(Text((x + sign.wide + _BESIDE, y + _LINE * k - 0.4), line, SIZE, "start", "note"))
        y += _LINE * (len(lines) - 1)
        x += wide + _BETWEEN
    return marks, (y + 1.6 if signs else top)


def sentences(
    said: Sequence[str], left: float, top: float, width: float, *, size: float = SIZE, pen: str = "note"
) -> tuple[list[Primitive], float]:
    """Return each of `said` on lines of its own, and where the next thing may begin [mm]."""
    marks: list[Primitive] = []
    y = top
    for one in said:
        for line in wrapped(one, width, size):
            y += 1.4 * size
            marks.append(Text((left, y - 0.25 * size), line, size, "start", pen))
    return marks, y
