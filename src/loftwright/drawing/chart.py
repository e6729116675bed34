"""Force curves over how far open: pushing up on the left, pulling down on the right.

Colour is never the only signal: every temperature and age has its own dashes, and every curve is
named at its end. What a limit forbids is hatched.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from loftwright.core.errors import Bug
from loftwright.core.views import Curve, ForceChart, LimitZone, Way
from loftwright.drawing.page import (
    XY,
    Drawing,
    Group,
    Line,
    Placer,
    Polygon,
    Polyline,
    Primitive,
    Rect,
    Text,
    shortened,
    spread,
    text_box,
    text_width,
)
from loftwright.drawing.plot import Plot

_TICK = 2.2
_LABEL = 2.3
# How far the title's baseline lies above the plot; the names of limits stand between them.
_TITLE_UP = 6.2
_WORDS: dict[Way, tuple[str, str, str]] = {
    "push": ("Raising it", "you push", "it rises by itself"),
    "pull": ("Lowering it", "you pull", "it falls by itself"),
}


@dataclass(frozen=True, slots=True)
class ChartDrawing:
    """A chart with its panels, so that a page can move a marker over it (groups "marker push", "marker pull")."""

    drawing: Drawing
    panels: tuple[Plot, ...]


def pen_of(curve: Curve) -> str:
    """Return the pen of a curve's temperature and age."""
    return curve.state if curve.age == "new" else f"{curve.state}-aged"


def steps(low: float, high: float, most: int) -> list[float]:
    """Return round values that cover low..high in at most `most` steps: 1, 2 or 5 times a power of ten apart."""
    if not high > low:
        raise Bug("an axis needs a range")
    raw = (high - low) / most
    power = 10.0 ** math.floor(math.log10(raw))
    step = next(m * power for m in (1, 2, 5, 10) if m * power >= raw * (1 - 1e-9))
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    if last - first > most:
        step = next(m * power for m in (2, 5, 10, 20, 50) if m * power > step * (1 + 1e-9))
        first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return [k * step for k in range(first, last + 1)]


def _figure(value: float, step: float) -> str:
    places = max(0, -math.floor(math.log10(step) + 1e-9))
    text = f"{abs(value):.{places}f}"
    return text if value >= 0 or float(text) == 0 else "−" + text


_STEEP = 3.0
"""Up to this per cent of opening the seal can push so hard that the rest of the curves would be flattened."""


def _range(chart: ForceChart) -> list[float]:
    """Return the axis values: of everything, or without the first steep stretch where that would flatten the rest."""
    from_first = [0.0, *(zone.y for zone in chart.limits)]
    rest = list(from_first)
    for curve in chart.curves:
        for row in (curve.y, curve.low or (), curve.high or ()):
            from_first += row
            rest += [v for x, v in zip(chart.x, row, strict=False) if x >= _STEEP]
    low, high = min(from_first), max(from_first)
    if high - low > 1.5 * (max(rest) - min(rest)) > 0:
        low, high = min(rest), max(rest)
        low -= 0.1 * (high - low)
    room = 0.06 * max(high - low, 1e-6)
    return steps(low - room if low < 0 else 0.0, high + room, 8) if high > low else [-1.0, 0.0, 1.0]


def _within(points: Sequence[XY], top: float, bottom: float) -> list[tuple[XY, ...]]:
    """Return the parts of a run of lines that lie between two heights."""
    runs: list[list[XY]] = []
    for a, b in pairwise(points):
        low, high = 0.0, 1.0
        rise = b[1] - a[1]
        if rise == 0:
            if not top <= a[1] <= bottom:
                continue
        else:
            near, far = sorted(((top - a[1]) / rise, (bottom - a[1]) / rise))
            low, high = max(0.0, near), min(1.0, far)
            if low > high:
                continue
        p, q = (a if low == 0 else (a[0] + low * (b[0] - a[0]), a[1] + low * rise)), b
        if high < 1:
            q = (a[0] + high * (b[0] - a[0]), a[1] + high * rise)
        if runs and runs[-1][-1] == p:
            runs[-1].append(q)
        else:
            runs.append([p, q])
    return [tuple(run) for run in runs]


def _closed_note(chart: ForceChart, curves: Sequence[Curve], low: float, high: float) -> str:
    """Return the forces closed, where they lie outside low..high; else nothing."""
    first = sorted(curve.y[0] for curve in curves)
    if not first or low <= first[0] <= first[-1] <= high:
        return ""
    ends = [f"{v:.{chart.decimals}f}".replace("-", "−") for v in (first[0], first[-1])]
    return f"closed: {ends[0] if ends[0] == ends[1] else ' to '.join(ends)} {chart.unit}"


def _check(chart: ForceChart) -> None:
    n = len(chart.x)
    if n < 2 or len(chart.degrees) != n:
        raise Bug("a chart needs at least two stations, each with its angle")
    for curve in chart.curves:
        if any(len(y) != n for y in (curve.y, curve.low or curve.y, curve.high or curve.y)):
            raise Bug(f"the curve {curve.label!r} has another number of stations than the chart")
        if not all(math.isfinite(v) for v in curve.y):
            raise Bug(f"the curve {curve.label!r} has a value that is no number")


def _hatched(box: Rect, pitch: float = 1.8) -> list[Primitive]:
    """Return slanting lines that fill `box` and do not leave it."""
    out: list[Primitive] = []
    w, h = box.x1 - box.x0, box.y1 - box.y0
    k = pitch / 2
    while k < w + h:
        ax, ay = (k, 0.0) if k <= w else (w, k - w)
        bx, by = (0.0, k) if k <= h else (k - h, h)
        out.append(Line((box.x0 + ax, box.y0 + ay), (box.x0 + bx, box.y0 + by), "hatch"))
        k += pitch
    return out


def _limit_box(zone: LimitZone, panel: Plot) -> Rect:
    y = min(max(panel.y(zone.y), panel.top), panel.bottom)
    x0, x1 = panel.x(zone.x0), panel.x(zone.x1)
    return Rect(x0, panel.top, x1, y) if zone.sense == "at most" else Rect(x0, y, x1, panel.bottom)


def _wrapped(text: str, width: float) -> list[str] | None:
    """Return `text` in lines no wider than `width`, or None when a word alone is wider."""
    lines: list[str] = []
    # A figure stays with its unit.
    for word in re.sub(r"(?<=\d) (?=\S{1,2}(?: |$))", "\u00a0", text).split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, _LABEL) <= width:
            lines[-1] = longer
        elif text_width(word, _LABEL) <= width:
            lines.append(word)
        else:
            return None
    return lines


def _inside(zone: LimitZone, box: Rect, placer: Placer, care: int) -> list[Text]:
    """Return the label in lines inside its own zone, or nothing when there is no room."""
    lines = _wrapped(zone.label, box.x1 - box.x0 - 1.2)
    if not lines or len(lines) > 4:
        return []
    pitch = _LABEL * 1.15
    tall = pitch * (len(lines) - 1) + _LABEL
    wide = max(text_width(line, _LABEL) for line in lines)
    spare = (box.y1 - box.y0) - tall - 1.2
    if spare < 0:
        return []
    cx0, cx1 = box.x0 + 0.6 + wide / 2, box.x1 - 0.6 - wide / 2
    near, far = box.y0 + 0.6, box.y0 + 0.6 + spare
    for down in (0.0, 0.25, 0.5, 0.75, 1.0):
        for along in (0.5, 0.75, 1.0, 0.25, 0.0):
            cx, y = cx0 + along * (cx1 - cx0), near + down * (far - near)
            if placer.fits(Rect(cx - wide / 2, y, cx + wide / 2, y + tall), care=care):
                placer.taken.append(Rect(cx - wide / 2, y, cx + wide / 2, y + tall))
                at = [(cx, y + 0.78 * _LABEL + i * pitch) for i in range(len(lines))]
                return [
                    Text(p, line.replace("\u00a0", " "), _LABEL, "middle", "limit")
                    for p, line in zip(at, lines, strict=True)
                ]
    return []


def _names_above(zones: Sequence[LimitZone], panel: Plot, right: float) -> list[Primitive]:
    """Return the names of zones that reach the top of the plot, in a row above it, clear of all curves."""
    zones = sorted(zones, key=lambda z: z.x0 + z.x1)
    gap = 2.0
    room = right - panel.x0 - gap * max(0, len(zones) - 1)
    if sum(text_width(z.label, _LABEL) for z in zones) <= room:
        names = [z.label for z in zones]
    else:
        names = [shortened(z.label, room / len(zones), _LABEL) for z in zones]
    wishes = [(panel.x(z.x0) + panel.x(z.x1)) / 2 for z in zones]
    centres = spread(wishes, [text_width(name, _LABEL) for name in names], panel.x0, right, gap)
    marks: list[Primitive] = []
    for name, wish, centre in zip(names, wishes, centres, strict=True):
        half = text_width(name, _LABEL) / 2
        near = min(max(wish, centre - half + 0.3), centre + half - 0.3)
        marks.append(Text((centre, panel.top - 1.7), name, _LABEL, "middle", "limit"))
        marks.append(Line((near, panel.top - 1.0), (wish, panel.top), "limit"))
    return marks


def _limits(
    zones: Sequence[LimitZone], panel: Plot, placer: Placer, right: float
) -> tuple[list[Primitive], list[Primitive]]:
    """Return hatching and edges, and apart from them the labels."""
    marks: list[Primitive] = []
    labels: list[Primitive] = []
    boxes = [_limit_box(zone, panel) for zone in zones]
    for zone, box in zip(zones, boxes, strict=True):
        y = box.y1 if zone.sense == "at most" else box.y0
        marks += [*_hatched(box), Line((box.x0, y), (box.x1, y), "limit")]
        # Where the next step of the same limit begins, only the step itself is drawn.
        before = [
            b.y1 if z.sense == "at most" else b.y0
            for z, b in zip(zones, boxes, strict=True)
            if z.x1 == zone.x0 and z.sense == zone.sense
        ]
        after = [b for z, b in zip(zones, boxes, strict=True) if z.x0 == zone.x1 and z.sense == zone.sense]
        if zone.x0 > 0:
            end = before[0] if before else (panel.top if zone.sense == "at most" else panel.bottom)
            marks.append(Line((box.x0, y), (box.x0, end), "limit"))
        if zone.x1 < 100 and not after:
            marks.append(Line((box.x1, box.y0), (box.x1, box.y1), "limit"))
    labels += _names_above([zone for zone in zones if zone.sense == "at most" and zone.label], panel, right)
    for zone, box in zip(zones, boxes, strict=True):
        if zone.sense == "at most" or not zone.label:
            continue
        found = _inside(zone, box, placer, 1)
        if not found:
            text = shortened(zone.label, panel.x1 - panel.x0 - 3.0, _LABEL)
            half = text_width(text, _LABEL) / 2
            columns = [panel.x0 + half + 1 + f * (panel.x1 - panel.x0 - 2 * half - 2) for f in (0, 0.25, 0.5, 0.75, 1)]
            lines = [panel.top + 3.0 + 1.5 * k for k in range(int((panel.bottom - panel.top - 3.5) / 1.5))]
            middle = ((box.x0 + box.x1) / 2, box.y0)
            places = sorted(((x, y) for x in columns for y in lines), key=lambda p, m=middle: math.dist(p, m))  # type: ignore[misc]
            kept = len(placer.avoided)
            placer.avoided += [other for other in boxes if other is not box]
            one = placer.place(Text(places[0], text, _LABEL, "middle", "limit"), places, near=False, care=1)
            del placer.avoided[kept:]
            if one is not None:
                found = [one]
                tb = text_box(one)
                a = (min(max((box.x0 + box.x1) / 2, tb.x0), tb.x1), min(max((box.y0 + box.y1) / 2, tb.y0), tb.y1))
                b = (min(max(a[0], box.x0 + 0.5), box.x1 - 0.5), min(max(a[1], box.y0 + 0.5), box.y1 - 0.5))
                marks.append(Line(a, b, "hatch"))
        found = found or _inside(zone, box, placer, 0)
        for line in found:
            tb = text_box(line)
            sides = (tb.x0 - 0.4, tb.x1 + 0.4)
            labels.append(
                Polygon(
                    tuple((x, y) for x, y in zip((*sides, *sides[::-1]), (tb.y0, tb.y0, tb.y1, tb.y1), strict=True)),
                    "paper",
                )
            )
        labels += found
    return marks, labels


_OF_ALL = " springs"


def _names(curves: Sequence[Curve], room: float) -> list[str]:
    """Return the names of curves; without what all of them are of, where that is too much for `room` [mm]."""
    names = [curve.label for curve in curves]
    if max((text_width(name, _LABEL) for name in names), default=0.0) <= room:
        return names
    return [name.removesuffix(_OF_ALL) for name in names]


def _end_labels(curves: Sequence[Curve], panel: Plot, x1: float, top: float, bottom: float) -> list[Primitive]:
    """Return the names at the curves' ends, moved apart, with leaders."""
    room = x1 - panel.x1 - 4.4
    names = [shortened(name, room, _LABEL) for name in _names(curves, room)]
    wishes = [min(max(panel.y(c.y[-1]), top), bottom) for c in curves]
    pitch = min(_LABEL * 1.12, (bottom - top) / max(1, len(curves)) * 0.999)
    centres = spread(wishes, [pitch] * len(curves), top, bottom, 0.0)
    marks: list[Primitive] = []
    for curve, name, y in zip(curves, names, centres, strict=True):
        ends = (panel.x1, panel.y(curve.y[-1])), (panel.x1 + 3.4, y)
        marks.append(Line(*ends, "leader"))
        size = min(_LABEL, pitch / 1.05)
        marks.append(Text((panel.x1 + 4.0, y + 0.34 * size), name, size, "start", _ink_of(curve)))
    return marks


def _ink_of(curve: Curve) -> str:
    return "ink" if curve.state == "mild" else curve.state


def _crossings(panel: Plot, curve: Curve, x: Sequence[float]) -> tuple[XY, ...]:
    return tuple((panel.x(a), panel.y(b)) for a, b in zip(x, curve.y, strict=True))


def _panel(
    chart: ForceChart,
    kind: Way,
    left: float,
    right: float,
    top: float,
    bottom: float,
    ticks: list[float],
    *,
    marker: bool,
) -> tuple[Plot, list[Primitive]]:
    curves = [c for c in chart.curves if c.kind == kind]
    most = 0.30 * (right - left)
    names = _names(curves, most)
    names_wide = min(max(text_width(name, _LABEL) for name in (chart.x_label, *names)), most)
    x0, x1 = left + 8.0, right - names_wide - 5.4
    y_scale = (bottom - top) / (ticks[-1] - ticks[0])
    panel = Plot(kind, x0, x1, top, bottom, bottom + y_scale * ticks[0], y_scale)
    title, above, below = _WORDS[kind]
    marks: list[Primitive] = [Text((left, top - _TITLE_UP), title, 2.9, "start", "ink", True)]
    room = x1 - left - text_width(title, 2.9, bold=True) - 3
    whole = f"{chart.y_label}, {chart.unit}"
    y_label = whole if text_width(whole, _LABEL) <= room else shortened(chart.unit, room, _LABEL)
    marks.append(
        Text((left + text_width(title, 2.9, bold=True) + 2.4, top - _TITLE_UP), y_label, _LABEL, "start", "note")
    )

    for tick in ticks:
        y = panel.y(tick)
        marks.append(Line((x0, y), (x1, y), "grid"))
        marks.append(Text((x0 - 1.2, y + 0.8), _figure(tick, ticks[1] - ticks[0]), _TICK, "end", "note"))
    for percent in (0, 25, 50, 75, 100):
        x = panel.x(percent)
        marks.append(Line((x, top), (x, bottom), "grid"))
        marks.append(Text((x, bottom + 3.0), f"{percent} %", _TICK, "middle", "note"))
        marks.append(
            Text((x, bottom + 5.9), f"{_degrees_at(chart, percent):.0f}{chart.beside}", _TICK, "middle", "note")
        )
    beside = x1 + text_width("100 %", _TICK) / 2 + 2.0
    x_label = shortened(chart.x_label, right - beside, _LABEL)
    marks.append(Text((beside, bottom + 3.0), x_label, _LABEL, "start", "note"))

    placer = Placer(Rect(x0 + 0.6, top + 0.4, x1 - 0.6, bottom - 0.4), gap=0.5)
    for curve in curves:
        placer.avoid_line(_crossings(panel, curve, chart.x), 0.4)
    zero = panel.y(0.0)
    placer.avoid_line([(x0, zero), (x1, zero)], 0.2)
    zones = [z for z in chart.limits if z.kind == kind]
    kept = len(placer.avoided)
    placer.avoided += [_limit_box(zone, panel) for zone in zones]
    words: list[Primitive] = []
    for text, side, wanted in ((f"▲ {above}", -1, ticks[-1] > 0), (f"▼ {below}", 1, ticks[0] < 0)):
        if wanted:
            half = text_width(text, _LABEL, bold=True) / 2
            rows = [zero + (1.1 + 2.0 * k + 1.9 if side > 0 else -1.1 - 2.0 * k) for k in range(8)]
            spots = [(x0 + half + 1 + f * (x1 - x0 - 2 * half - 2), y) for y in rows for f in (0.5, 0.25, 0.75, 0, 1)]
            found = placer.place(Text(spots[0], text, _LABEL, "middle", "ink", True, 0.0, True), spots, near=False)
            if found is not None:
                words.append(found)
    note = _closed_note(chart, curves, ticks[0], ticks[-1])
    if note:
        half = text_width(note, _LABEL) / 2
        spots = [(x0 + half + k, y) for y in (bottom - 1.2, top + 2.6) for k in (1.5, 4.0, 8.0)]
        if min(c.y[0] for c in curves) >= ticks[0]:
            spots = spots[3:] + spots[:3]
        found = placer.place(Text(spots[0], note, _LABEL, "middle", "note", halo=True), spots, near=False)
        if found is not None:
            words.append(found)
    del placer.avoided[kept:]
    limits, limit_words = _limits(zones, panel, placer, right)
    for curve in curves:
        if curve.low is not None and curve.high is not None:
            upper, lower = (
                [(panel.x(a), min(max(panel.y(b), top), bottom)) for a, b in zip(chart.x, edge, strict=True)]
                for edge in (curve.high, curve.low)
            )
            marks.append(Polygon((*upper, *reversed(lower)), f"band-{curve.state}"))
    marks += limits
    marks += [Line((x0, zero), (x1, zero), "zero"), Line((x0, top), (x0, bottom), "axis")]
    marks += [
        Group(
            f"curve {chart.curves.index(c)}",
            tuple(Polyline(run, pen_of(c)) for run in _within(_crossings(panel, c, chart.x), top, bottom)),
        )
        for c in curves
    ]
    if marker:
        # Under the words: they stay readable where it crosses them.
        marks.append(Group(f"marker {kind}", (Line((0.0, top), (0.0, bottom), "marker"),), (x0, 0.0)))
    marks += words + limit_words
    marks += _end_labels(curves, panel, right, top, bottom + 0.6)
    return panel, marks


def _degrees_at(chart: ForceChart, percent: float) -> float:
    for i in range(len(chart.x) - 1):
        if chart.x[i] <= percent <= chart.x[i + 1]:
            t = (percent - chart.x[i]) / (chart.x[i + 1] - chart.x[i])
            return chart.degrees[i] + t * (chart.degrees[i + 1] - chart.degrees[i])
    return chart.degrees[-1]


def force_chart(
    chart: ForceChart,
    *,
    width: float = 186.0,
    height: float = 62.0,
    stacked: bool = False,
    marker: bool = False,
    also: ForceChart | None = None,
) -> ChartDrawing:
    """Return the chart, both ways side by side or `stacked`; `height` [mm] is that of the whole.

    With `also`, a chart of the same unit that is shown beside it, the axis is long enough for both.
    With `marker` each panel gets a group "marker push" or "marker pull" with an upright line at the page's x = 0,
    to be moved by the page that shows it.
    """
    _check(chart)
    both = chart
    if also is not None:
        both = replace(chart, curves=(*chart.curves, *also.curves), limits=(*chart.limits, *also.limits))
    ticks = _range(both)
    top, under = 9.4, 7.0
    panels: list[Plot] = []
    marks: list[Primitive] = []
    ways: tuple[Way, Way] = ("push", "pull")
    for i, kind in enumerate(ways):
        if stacked:
            left, right, y0, y1 = 0.0, width, i * height / 2, (i + 1) * height / 2
        else:
            left, right, y0, y1 = (i * (width / 2 + 2), (width / 2 - 2) + i * (width / 2 + 2), 0.0, height)
        panel, drawn = _panel(chart, kind, left, right, y0 + top, y1 - under, ticks, marker=marker)
        panels.append(panel)
        marks += drawn
    drawing = Drawing(width, height, "Hand force over how far open", _describe(chart), tuple(marks))
    return ChartDrawing(drawing, tuple(panels))


def _describe(chart: ForceChart) -> str:
    words = []
    for curve in chart.curves:
        first, last, most = curve.y[0], curve.y[-1], max(curve.y)
        way = _WORDS[curve.kind][0].lower()
        figures = [f"{v:.{chart.decimals}f} {chart.unit}".replace("-", "−") for v in (first, last, most)]
        words.append(f"{way}, {curve.label}: {figures[0]} closed, {figures[1]} open, at most {figures[2]}.")
    return " ".join(words)
