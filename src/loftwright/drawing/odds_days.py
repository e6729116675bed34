"""When the work will be finished: how many of 100 plans end on each day, as a strip of columns with words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from loftwright.core.errors import Bug
from loftwright.drawing.legend import sentences
from loftwright.drawing.page import Drawing, Line, Polygon, Primitive, Text, spread, text_width, unpatched
from loftwright.drawing.shadings import box, shaded
from loftwright.drawing.weeks import day_text, monday

_SIZE, _TITLE = 2.3, 2.9
_TOP, _HIGH = 18.0, 22.0
_LEVELS = (8.4, 12.0, 15.6)
"""Where rows of words stand [mm]."""


@dataclass(frozen=True, slots=True)
class FinishDays:
    """`shares` are days with how many of all plans end on them [1]; `named` are days with words over them.

    `wanted` is the day by which it should be done; columns after it are hatched, and `wanted_text` says so.
    """

    title: str
    shares: tuple[tuple[date, float], ...]
    named: tuple[tuple[date, str], ...] = ()
    wanted: date | None = None
    wanted_text: str = ""
    said: tuple[str, ...] = ()


def finish_strip(finish: FinishDays, *, width: float) -> Drawing:
    """Return a column a day, words for named days above, Mondays beneath. Errors: Bug without days."""
    if not finish.shares:
        raise Bug("odds of a finish need days")
    days = [day for day, _ in finish.shares] + [day for day, _ in finish.named]
    if finish.wanted is not None:
        days.append(finish.wanted)
    first, last = min(days) - timedelta(days=1), max(days) + timedelta(days=2)
    each = (width - 1.0) / (last - first).days
    base = _TOP + _HIGH
    most = max(share for _, share in finish.shares) or 1.0

    def x(day: date) -> float:
        return 0.5 + each * (day - first).days

    marks: list[Primitive] = [Text((0.3, 3.6), finish.title, _TITLE, "start", "ink", True)]
    for day, share in finish.shares:
        gap = min(0.2, 0.1 * each)
        shape = box(x(day) + gap, base - _HIGH * share / most, x(day) + each - gap, base)
        late = finish.wanted is not None and day > finish.wanted
        marks += [*shaded(shape, "rising", gap=0.9), Polygon(shape, "outline")] if late else [Polygon(shape, "item")]
    marks.append(Line((0.5, base), (width - 0.5, base), "axis"))
    marks += _mondays(first, last, each, base, width)
    named = [(x(day) + each / 2, text, "ink") for day, text in finish.named]
    if finish.wanted is not None:
        named.append((x(finish.wanted) + each, finish.wanted_text, "limit"))
    words = _named(named, _LEVELS, base, width)
    marks += unpatched(words, [*marks, *words])
    under, end = sentences(finish.said, 0.3, base + 4.4, width - 0.6)
    told = " ".join([*(f"{text}." for _, text in finish.named), finish.wanted_text, *finish.said])
    return Drawing(width, end + 0.8, finish.title, told, (*marks, *under))


def _mondays(first: date, last: date, each: float, base: float, width: float) -> list[Primitive]:
    marks: list[Primitive] = []
    day, written = monday(first) + timedelta(days=7), -1e9
    while day < last:
        at = 0.5 + each * (day - first).days
        marks.append(Line((at, base), (at, base + 1.2), "fine"))
        half = text_width(day_text(day), _SIZE) / 2
        if at - half > max(written + 1.5, 0.0) and at + half < width:
            marks.append(Text((at, base + 3.8), day_text(day), _SIZE, "middle", "note"))
            written = at + half
        day += timedelta(days=7)
    return marks


def _named(
    named: Sequence[tuple[float, str, str]], levels: Sequence[float], base: float, width: float
) -> list[Primitive]:
    """Return words over their days, as many to a row as fit, with thin lines down to the axis."""
    marks: list[Primitive] = []
    said: list[Primitive] = []
    rows: list[list[tuple[float, str, str]]] = [[] for _ in levels]
    for k, one in enumerate(sorted(named)):
        wides = [[text_width(t, _SIZE, bold=True) for _, t, _ in (*row, one)] for row in rows]
        fit = [r for r, wide in enumerate(wides) if sum(wide) + 3.0 * len(wide) <= width]
        # Turn by turn, so that neighbours stand on different rows.
        row = next((r for r in fit if r == k % len(levels)), fit[0] if fit else 0)
        rows[row].append(one)
    for level, row_ in zip(levels, rows, strict=True):
        wide_ = [text_width(text, _SIZE, bold=True) for _, text, _ in row_]
        for (at, text, pen), middle in zip(
            row_, spread([a for a, _, _ in row_], wide_, 0.3, width - 0.3, 2.0), strict=True
        ):
            said.append(Text((middle, level), text, _SIZE, "middle", pen, pen == "limit", halo=True))
            foot = min(max(at, middle - 2.0), middle + 2.0)
            line = "limit" if pen == "limit" else "fine"
            marks += [Line((foot, level + 0.7), (at, level + 1.6), "fine"), Line((at, level + 1.6), (at, base), line)]
    return [*marks, *said]
