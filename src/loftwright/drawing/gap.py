"""The gap between rim and roof round the rim, against what the seal can fill: too wide and too narrow are hatched."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from loftwright.core.errors import Bug
from loftwright.core.hold_views import GapChart
from loftwright.drawing.chart import steps
from loftwright.drawing.hatching import clipped_run, hatched
from loftwright.drawing.page import (
    XY,
    Circle,
    Drawing,
    Line,
    Placer,
    Polygon,
    Polyline,
    Primitive,
    Rect,
    Text,
    spread,
    text_box,
    text_width,
    unpatched,
)

_SIZE, _TITLE = 2.4, 2.9
_LEFT, _RIGHT, _TOP, _BOTTOM = 11.0, 3.0, 9.5, 17.0


def gap_chart(chart: GapChart, *, width: float, height: float) -> Drawing:
    """Return the chart, `width` x `height` [mm]: the gap as a line in its band, the seal's range left clear."""
    n = len(chart.along)
    if n < 2 or len(chart.gap) != n or not chart.along[-1] > chart.along[0]:
        raise Bug("a gap round the rim needs at least two stations")
    low, high = (chart.low, chart.high) if len(chart.low) == n == len(chart.high) else (chart.gap, chart.gap)
    top_value = max(*high, *chart.gap, chart.most)
    ticks = steps(min(0.0, *low), top_value + 0.22 * max(chart.most - chart.least, 0.1 * top_value, 1e-9), 7)
    plot = Rect(_LEFT, _TOP, width - _RIGHT, height - _BOTTOM)

    def x(along: float) -> float:
        share = (along - chart.along[0]) / (chart.along[-1] - chart.along[0])
        return plot.x0 + share * (plot.x1 - plot.x0)

    def y(gap: float) -> float:
        return plot.y1 - (gap - ticks[0]) / (ticks[-1] - ticks[0]) * (plot.y1 - plot.y0)

    placer = Placer(Rect(plot.x0 + 0.6, plot.y0 + 0.4, plot.x1 - 0.6, plot.y1 - 0.4))
    marks = _ground(chart, (low, high), ticks, plot, width, x, y)
    run = [(x(s), y(v)) for s, v in zip(chart.along, chart.gap, strict=True)]
    for part in clipped_run(run, plot):
        marks.append(Polyline(part, "mild"))
    marks += [
        Line((plot.x0, plot.y0), (plot.x0, plot.y1), "axis"),
        Line((plot.x0, plot.y1), (plot.x1, plot.y1), "axis"),
    ]
    marks += _places(chart, plot, x)
    placer.avoid_line(run, 0.6)
    places = (2 + _decimals(ticks)) if chart.unit == "in" else 1
    labels = _limit_words(chart, placer, plot, (y(chart.most), y(chart.least)), places)
    labels += _extremes(chart, placer, run, marks, places)
    return Drawing(width, height, "Gap round the rim", _describe(chart, places), (*marks, *unpatched(labels, marks)))


def _decimals(ticks: Sequence[float]) -> int:
    return max(0, -math.floor(math.log10(ticks[1] - ticks[0]) + 1e-9))


def _ground(
    chart: GapChart,
    band: tuple[Sequence[float], Sequence[float]],
    ticks: Sequence[float],
    plot: Rect,
    width: float,
    x: Callable[[float], float],
    y: Callable[[float], float],
) -> list[Primitive]:
    """Return what lies under the gap's line: title, grid, the band of roofs like this one, and what no seal fills."""
    low, high = band
    title = f"Gap between rim and roof, {chart.unit}"
    marks: list[Primitive] = [Text((0.0, 3.2), title, _TITLE, "start", "ink", True)]
    if low is not chart.gap:
        said = "shaded: roofs like this one"
        if text_width(said, _SIZE) + text_width(title, _TITLE, bold=True) + 4.0 < width:
            marks.append(Text((width, 3.2), said, _SIZE, "end", "note"))
        else:
            marks.append(Text((0.0, 7.0), said, _SIZE, "start", "note"))
    decimals = _decimals(ticks)
    for tick in ticks:
        marks.append(Line((plot.x0, y(tick)), (plot.x1, y(tick)), "grid"))
        figure = f"{tick:.{decimals}f}".replace("-", "−")
        marks.append(Text((plot.x0 - 1.2, y(tick) + 0.34 * _SIZE), figure, _SIZE, "end", "note"))
    box = [(x(s), v) for s, v in zip(chart.along, high, strict=True)]
    box += [(x(s), v) for s, v in reversed(list(zip(chart.along, low, strict=True)))]
    if low is not chart.gap:
        marks.append(Polygon(tuple((a, y(v)) for a, v in box), "band-mild"))
    for bounds in ((plot.y0, y(chart.most)), (y(chart.least), plot.y1)):
        if bounds[1] - bounds[0] > 0.2:
            corners = [(plot.x0, bounds[0]), (plot.x1, bounds[0]), (plot.x1, bounds[1]), (plot.x0, bounds[1])]
            marks += hatched([corners], gap=2.2)
    for value in (chart.least, chart.most):
        marks.append(Line((plot.x0, y(value)), (plot.x1, y(value)), "limit"))
    return marks


def _limit_words(
    chart: GapChart, placer: Placer, plot: Rect, limits: tuple[float, float], places: int
) -> list[Primitive]:
    """Return the words at the seal's two `limits`, the upper and the lower one on the paper [mm]."""
    labels: list[Primitive] = []
    tries = [plot.x0 + 1.5 + (plot.x1 - plot.x0) * k / 12 for k in range(12)]
    top, bottom = limits
    for said, heights in (
        (
            f"wider than the seal fills ({_figure(chart.most, places)} {chart.unit})",
            (top - 1.2, top - 4.6, plot.y0 + 3.0),
        ),
        (
            f"narrower than the seal bears ({_figure(chart.least, places)} {chart.unit})",
            (bottom + 3.2, bottom + 6.6, bottom + 10.0, plot.y1 - 1.4),
        ),
    ):
        text = Text((0.0, 0.0), said, _SIZE, "start", "limit", halo=True)
        found = placer.place(text, [(a, at) for at in heights for a in tries], near=False)
        if found is not None:
            labels.append(found)
    return labels


def _extremes(
    chart: GapChart, placer: Placer, run: Sequence[XY], marks: list[Primitive], places: int
) -> list[Primitive]:
    """Return the words at the widest and the narrowest place; their dots and leaders go into `marks`."""
    labels: list[Primitive] = []
    for word, index in (
        ("widest", max(range(len(run)), key=chart.gap.__getitem__)),
        ("narrowest", min(range(len(run)), key=chart.gap.__getitem__)),
    ):
        spot = run[index]
        marks.append(Circle(spot, 0.7, "pivot"))
        text = Text(
            (0.0, 0.0), f"{word} {_figure(chart.gap[index], places)} {chart.unit}", _SIZE, "middle", "ink", True
        )
        half = text_width(text.text, _SIZE, bold=True) / 2
        up = [
            (spot[0] + dx, spot[1] + dy)
            for dy in (-2.0, 3.8, -5.0, 7.0)
            for dx in (0.0, half, -half, half + 3, -half - 3)
        ]
        found = placer.place(Text(text.at, text.text, _SIZE, "middle", "ink", True, halo=True), up)
        if found is not None:
            labels.append(found)
            marks += _leader(found, spot)
    return labels


def _leader(text: Text, spot: XY) -> list[Primitive]:
    box = text_box(text)
    near = (min(max(spot[0], box.x0), box.x1), min(max(spot[1], box.y0), box.y1))
    return [Line(near, spot, "leader")] if math.dist(near, spot) > 2.0 else []


def _places(chart: GapChart, plot: Rect, at: Callable[[float], float]) -> list[Primitive]:
    """Return the names of the stretches under the axis: in a row where they fit, short stretches one row lower."""
    marks: list[Primitive] = []
    if not chart.places:
        return _axis_words(chart, plot)
    ends = [*(start for start, _ in chart.places[1:]), chart.along[-1]]
    inner: list[tuple[str, float, float]] = []
    lower: list[tuple[str, float, float]] = []
    for (start, name), end in zip(chart.places, ends, strict=True):
        a, b = at(start), at(end)
        (inner if text_width(name, _SIZE) + 1.0 <= b - a else lower).append((name, a, b))
        marks.append(Line((a, plot.y1), (a, plot.y1 + 2.0), "axis"))
    marks.append(Line((plot.x1, plot.y1), (plot.x1, plot.y1 + 2.0), "axis"))
    for name, a, b in inner:
        marks.append(Text(((a + b) / 2, plot.y1 + 4.4), name, _SIZE, "middle", "ink"))
    wide = [text_width(name, _SIZE) for name, _, _ in lower]
    if lower and sum(wide) + 2.0 * len(lower) < plot.x1 - 1.0:
        middles = [(a + b) / 2 for _, a, b in lower]
        moved = spread(middles, wide, 0.5, plot.x1, 2.0)
        for (name, _, _), middle, centre in zip(lower, middles, moved, strict=True):
            marks += [
                Line((middle, plot.y1 + 1.0), (centre, plot.y1 + 6.0), "leader"),
                Text((centre, plot.y1 + 8.6), name, _SIZE, "middle", "ink"),
            ]
    return [*marks, *_axis_words(chart, plot)]


def _axis_words(chart: GapChart, plot: Rect) -> list[Primitive]:
    said = f"along the rim, {chart.along_unit}; from the rear left corner, clockwise from above"
    low, high = chart.along[0], chart.along[-1]
    size = _SIZE if text_width(said, _SIZE) < plot.x1 - plot.x0 - 26.0 else 2.0
    first, last = f"{low:g}", f"{high:.{0 if high >= 100 else 1}f}"
    return [
        Text((plot.x0, plot.y1 + 13.0), first, _SIZE, "start", "note"),
        Text((plot.x1, plot.y1 + 13.0), last, _SIZE, "end", "note"),
        Text(((plot.x0 + plot.x1) / 2, plot.y1 + 13.0), said, size, "middle", "note"),
    ]


def _figure(value: float, places: int) -> str:
    return f"{value:.{places}f}".replace("-", "−")


def _describe(chart: GapChart, places: int) -> str:
    least, most = (_figure(f(chart.gap), places) for f in (min, max))
    a, b = _figure(chart.least, places), _figure(chart.most, places)
    return (
        f"The gap lies between {least} and {most} {chart.unit} round the rim; the seal fills {a} to {b} {chart.unit}. "
        f"Places in order: {', '.join(name for _, name in chart.places)}."
    )
