"""Odds out of 100 as a bar: what is sure is black, what a measurement adds is hatched."""

from __future__ import annotations

from loftwright.drawing.page import Drawing, Line, Polygon, Primitive

WIDE, HIGH = 52.0, 3.6
_EDGE, _TOP, _FOOT = 0.3, 0.3, 2.6
_PER_100 = (WIDE - 2 * _EDGE) / 100
_STEP = 3
"""Distance of the hatching, in parts of 100."""


def odds_bar(odds: int, after: int | None = None) -> Drawing:
    """Return a bar with a tick at every ten; `odds` of 100 are black, from there to `after` it is hatched."""
    marks: list[Primitive] = []
    if odds > 0:
        marks.append(Polygon(_box(0, odds), "start-hole"))
    if after is not None and after > odds:
        marks += [Line((_at(n), _FOOT), (_at(min(n + 1, after)), _TOP), "marker") for n in range(odds, after, _STEP)]
        marks.append(Polygon(_box(odds, after), "marker"))
    marks.append(Polygon(_box(0, 100), "outline"))
    marks += [
        Line((_at(n), _FOOT), (_at(n), HIGH - (0.0 if n % 50 == 0 else 0.4)), "outline") for n in range(0, 101, 10)
    ]
    said = f"{odds} of 100" if after is None else f"{odds} to {after} of 100"
    return Drawing(WIDE, HIGH, said, "", tuple(marks))


def _at(count: int) -> float:
    return _EDGE + _PER_100 * count


def _box(low: int, high: int) -> tuple[tuple[float, float], ...]:
    return (_at(low), _TOP), (_at(high), _TOP), (_at(high), _FOOT), (_at(low), _FOOT)
