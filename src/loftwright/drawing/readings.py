"""Predicted against measured: what a scale read on the built roof, beside what it should have read."""

from __future__ import annotations

import math

from loftwright.core.choice_views import ReadingChart
from loftwright.core.errors import Bug
from loftwright.drawing.chart import steps
from loftwright.drawing.page import Circle, Drawing, Line, Primitive, Rect, Text, shortened, text_width

_TICK = 2.2
_LABEL = 2.5
_LEAST_STRIP = 9.0
_TITLE = "Predicted against measured"


def reading_chart(chart: ReadingChart, *, width: float = 186.0, height: float = 74.0) -> Drawing:
    """Return one strip for each reading: the range expected before, what is expected now, and what was measured.

    `width` and `height` [mm] are those of the whole. The three differ in shape as well as in colour: a bar, a tick
    across it, a ring.
    """
    _check(chart)
    count = len(chart.measured)
    low = min(0.0, *chart.before_low, *chart.measured, *chart.after)
    high = max(0.0, *chart.before_high, *chart.measured, *chart.after)
    axis = steps(low, high, 8) if high > low else [-1.0, 0.0, 1.0]
    left, right, top, bottom = 11.0, width - 1.0, 13.5, height - 11.5
    scale = (bottom - top) / (axis[-1] - axis[0])

    def y(force: float) -> float:
        return bottom - scale * (force - axis[0])

    marks: list[Primitive] = [
        Text((0.0, 3.2), _TITLE, 2.9, "start", "ink", True),
        Text((text_width(_TITLE, 2.9, bold=True) + 2.4, 3.2), f"at the handle, {chart.unit}", _LABEL, "start", "note"),
    ]
    marks += _legend(7.6)
    for tick in axis:
        marks.append(Line((left, y(tick)), (right, y(tick)), "grid"))
        marks.append(Text((left - 1.2, y(tick) + 0.8), _figure(tick, axis[1] - axis[0]), _TICK, "end", "note"))
    marks.append(Line((left, y(0.0)), (right, y(0.0)), "zero"))
    marks.append(Line((left, top), (left, bottom), "axis"))
    strip = (right - left) / count
    half = min(3.2, 0.3 * strip)
    for k in range(count):
        x = left + (k + 0.5) * strip
        marks += _bar(Rect(x - half, y(chart.before_high[k]), x + half, y(chart.before_low[k])))
        marks.append(Line((x - 1.35 * half, y(chart.after[k])), (x + 1.35 * half, y(chart.after[k])), "mild"))
        marks.append(Circle((x, y(chart.measured[k])), min(1.3, half), "pivot"))
        # Where strips are narrow only the reading's number is written.
        number, _, way = chart.labels[k].partition(" ")
        wide = strip >= _LEAST_STRIP
        lines = (number, way, f"{chart.percent[k]:.0f} %") if wide else (number,)
        for row, text in enumerate(lines):
            said = shortened(text, strip - 0.6, _TICK) if wide else text
            marks.append(Text((x, bottom + 3.2 + 2.9 * row), said, _TICK, "middle", "ink" if row == 0 else "note"))
    return Drawing(width, height, _TITLE, _describe(chart), tuple(marks))


def _bar(box: Rect) -> list[Primitive]:
    """Return the range expected before: two ends and a stem."""
    middle = (box.x0 + box.x1) / 2
    return [
        Line((box.x0, box.y0), (box.x1, box.y0), "cold-aged"),
        Line((box.x0, box.y1), (box.x1, box.y1), "cold-aged"),
        Line((middle, box.y0), (middle, box.y1), "cold-aged"),
    ]


def _legend(y: float) -> list[Primitive]:
    """Return what the three signs mean, in a row."""
    x, marks = 11.0, []
    for sign, words in (("bar", "expected before: 19 of 20 roofs"), ("tick", "expected now"), ("ring", "measured")):
        middle = x + 2.0
        if sign == "bar":
            marks += _bar(Rect(x + 0.6, y - 2.6, x + 3.4, y + 0.6))
        elif sign == "tick":
            marks.append(Line((x, y - 0.9), (x + 4.0, y - 0.9), "mild"))
        else:
            marks.append(Circle((middle, y - 0.9), 1.3, "pivot"))
        marks.append(Text((x + 5.4, y), words, _LABEL, "start", "ink"))
        x += 5.4 + text_width(words, _LABEL) + 7.0
    return marks


def _figure(value: float, step: float) -> str:
    places = max(0, -math.floor(math.log10(step) + 1e-9))
    text = f"{abs(value):.{places}f}"
    return text if value >= 0 or float(text) == 0 else "−" + text


def _check(chart: ReadingChart) -> None:
    rows = (chart.percent, chart.before_low, chart.before_high, chart.after, chart.measured)
    count = len(chart.labels)
    if not count or any(len(row) != count for row in rows):
        raise Bug("a chart of readings needs readings, each with its figures")
    if not all(math.isfinite(value) for row in rows for value in row):
        raise Bug("a chart of readings has a value that is no number")


def _describe(chart: ReadingChart) -> str:
    words = []
    for k, label in enumerate(chart.labels):
        low, high, now, read = (
            f"{v:.1f}".replace("-", "−")
            for v in (chart.before_low[k], chart.before_high[k], chart.after[k], chart.measured[k])
        )
        words.append(
            f"{label} at {chart.percent[k]:.0f} %: measured {read} {chart.unit}, expected before {low} to {high}, "
            f"now {now}."
        )
    return " ".join(words)
