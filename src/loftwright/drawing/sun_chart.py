"""What a panel gives by the month, roof flat against raised, and by which way the van stands."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from loftwright.core.errors import Bug
from loftwright.drawing.legend import Sign, legend, sentences
from loftwright.drawing.page import (
    XY,
    Circle,
    Drawing,
    Line,
    Polygon,
    Primitive,
    Text,
    text_width,
    unpatched,
)
from loftwright.drawing.shadings import box, shaded, triangle
from loftwright.drawing.tiles import pointer, wrapped

_SIZE, _SMALL, _TITLE = 2.3, 2.0, 2.9
_HEAD, _RIGHT, _LINE = 9.0, 1.0, 3.0


@dataclass(frozen=True, slots=True)
class MonthSun:
    """One month: its name, what the panel gives a day with the roof flat and raised, and both as text.

    Values are in the chart's own unit; `short`: even the better of the two does not cover the use.
    """

    name: str
    flat: float
    raised: float
    flat_text: str = ""
    raised_text: str = ""
    short: bool = False


@dataclass(frozen=True, slots=True)
class SunYear:
    """Twelve months, or fewer; `ticks` are values with their text, `use` what is used a day with its text."""

    title: str
    unit: str
    months: tuple[MonthSun, ...]
    ticks: tuple[tuple[float, str], ...]
    use: float | None = None
    use_text: str = ""
    said: tuple[str, ...] = ()


def sun_chart(year: SunYear, *, width: float, height: float = 66.0) -> Drawing:
    """Return two bars a month, plain for flat and hatched for raised, a line for the use; the axis `height` [mm] high.

    Figures stand over the bars where all of them fit. Errors: Bug without months or ticks.
    """
    if not year.months or not year.ticks:
        raise Bug("a chart of the sun needs months and ticks")
    left = max(text_width(text, _SMALL) for _, text in year.ticks) + 2.2
    right = width - _RIGHT
    unit = wrapped(year.unit, width - 0.6, _SIZE)
    more = _LINE * (len(unit) - 1)
    top, base = _HEAD + more, height + more
    most = max(year.ticks[-1][0], year.use or 0.0, *(max(m.flat, m.raised) for m in year.months)) * 1.04
    each = (right - left) / len(year.months)
    bar = 0.38 * each

    def y(value: float) -> float:
        return base - (base - top) * value / most

    marks: list[Primitive] = [Text((0.3, 3.6), year.title, _TITLE, "start", "ink", True)]
    marks += [Text((0.3, 7.0 + _LINE * k), line, _SIZE, "start", "note") for k, line in enumerate(unit)]
    for value, text in year.ticks:
        marks += [
            Line((left, y(value)), (right, y(value)), "grid"),
            Text((left - 1.2, y(value) + 0.8), text, _SMALL, "end", "note"),
        ]
    figures = [text for m in year.months for text in (m.flat_text, m.raised_text)]
    level = all(text_width(text, _SMALL) <= bar - 0.3 for text in figures)
    labels: list[Text] = []
    for k, month in enumerate(year.months):
        x = left + each * k + (each - 2 * bar) / 2
        for j, (value, text) in enumerate(((month.flat, month.flat_text), (month.raised, month.raised_text))):
            shape = box(x + j * bar, y(value), x + (j + 1) * bar, base)
            marks.append(Polygon(shape, "paper"))
            marks += shaded(shape, "rising", gap=1.1) if j else []
            marks.append(Polygon(shape, "outline"))
            middle = x + (j + 0.5) * bar
            long = text_width(text, _SMALL)
            if text and level:
                labels.append(Text((middle, y(value) - 0.7), text, _SMALL, "middle", "ink", halo=True))
            elif text and bar > 2.6:
                # Upright: over the bar, or inside it where it is tall.
                inside = base - y(value) > long + 2.0
                at = y(value) + 1.0 + long / 2 if inside else y(value) - 1.0 - long / 2
                labels.append(Text((middle + 0.7, at), text, _SMALL, "middle", "ink", False, -math.pi / 2, True))
        middle = left + each * (k + 0.5)
        name = month.name if text_width(month.name, _SIZE) < each - 0.4 else month.name[:1]
        marks.append(Text((middle, base + 3.2), name, _SIZE, "middle", "ink", month.short))
        if month.short:
            marks.append(triangle(middle, base + 6.2, 1.9))
    marks.append(Line((left, base), (right, base), "axis"))
    if year.use is not None:
        marks.append(Line((left, y(year.use)), (right, y(year.use)), "limit"))
    marks += unpatched(labels, marks)
    bottom = base + (7.0 if any(m.short for m in year.months) else 4.4)
    sample = box(0.0, -2.4, 5.0, 0.0)
    signs = [
        Sign((Polygon(sample, "outline"),), 5.0, "roof closed, panel flat"),
        Sign((*shaded(sample, "rising", gap=1.1), Polygon(sample, "outline")), 5.0, "roof open, panel raised"),
    ]
    if year.use is not None:
        signs.append(Sign((Line((0.0, -1.2), (6.0, -1.2), "limit"),), 6.0, year.use_text))
    if any(m.short for m in year.months):
        signs.append(Sign((triangle(1.0, -0.2, 1.9),), 2.2, "less than is used"))
    under, end = legend(signs, 0.0, bottom, width)
    said, end = sentences(year.said, 0.3, end, width - 0.6)
    return Drawing(width, end + 0.6, year.title, _told(year), (*marks, *under, *said))


def _told(year: SunYear) -> str:
    rows = [
        f"{m.name}: flat {m.flat_text or round(m.flat)}, raised {m.raised_text or round(m.raised)}."
        for m in year.months
    ]
    return " ".join([year.unit, *rows, year.use_text])


@dataclass(frozen=True, slots=True)
class Ray:
    """What the panel gives when the van's nose points to `heading`, from north over east [rad]."""

    heading: float
    value: float


@dataclass(frozen=True, slots=True)
class HeadingsRose:
    """What every heading gives; `best` and `worst` are words for the two, `flat` the value with the roof closed."""

    title: str
    rays: tuple[Ray, ...]
    best: str
    worst: str
    flat: float | None = None
    flat_text: str = ""
    said: tuple[str, ...] = ()


def headings_rose(rose: HeadingsRose, *, width: float, radius: float = 26.0) -> Drawing:
    """Return a rose of `radius` [mm]: a ray for each heading, as long as what it gives; words beside or under it.

    Errors: Bug with fewer than four headings, or none that gives anything.
    """
    most = max((ray.value for ray in rose.rays), default=0.0)
    if len(rose.rays) < 4 or most <= 0.0:
        raise Bug("a rose needs four headings and some light")
    most = max(most, rose.flat or 0.0)
    radius = min(radius, width / 2 - 8.0)
    beside = width >= 2 * radius + 16.0 + 40.0
    cx = radius + 8.0 if beside else width / 2
    cy = 6.0 + 4.4 + radius

    def at(heading: float, value: float) -> XY:
        r = radius * value / most
        return cx + r * math.sin(heading), cy - r * math.cos(heading)

    marks: list[Primitive] = [Text((0.3, 3.6), rose.title, _TITLE, "start", "ink", True)]
    marks += [Circle((cx, cy), radius * k / 4, "grid") for k in (1, 2, 3, 4)]
    for k, name in enumerate("NESW"):
        x, y = cx + (radius + 2.6) * math.sin(k * math.pi / 2), cy - (radius + 2.6) * math.cos(k * math.pi / 2)
        marks.append(Text((x, y + 0.9), name, 2.6, "middle", "ink", True))
        marks.append(Line((cx, cy), at(k * math.pi / 2, most), "grid"))
    ring = tuple(at(ray.heading, ray.value) for ray in sorted(rose.rays, key=lambda ray: ray.heading))
    marks += [*shaded(ring, "rising", gap=1.6, pen="leader"), Polygon(ring, "outline")]
    marks += [Line((cx, cy), at(ray.heading, ray.value), "fine") for ray in rose.rays]
    if rose.flat is not None:
        marks += _ring(cx, cy, radius * rose.flat / most)
    best = max(rose.rays, key=lambda ray: ray.value)
    worst = min(rose.rays, key=lambda ray: ray.value)
    marks += pointer((cx, cy), at(best.heading, best.value))
    marks.append(Line((cx, cy), at(worst.heading, worst.value), "marker"))
    signs = [
        Sign(tuple(pointer((0.0, -1.2), (7.0, -1.2))), 7.0, rose.best),
        Sign((Line((0.0, -1.2), (7.0, -1.2), "marker"),), 7.0, rose.worst),
    ]
    if rose.flat is not None:
        signs.append(Sign((Line((0.0, -1.2), (7.0, -1.2), "ghost"),), 7.0, rose.flat_text))
    left = 2 * radius + 18.0 if beside else 0.0
    top = cy - radius if beside else cy + radius + 5.0
    y = top
    words: list[Primitive] = []
    for sign in signs:
        row, y = legend([sign], left, y, width - left)
        words += row
    said, y = sentences(rose.said, left + 0.3, y + 0.6, width - left - 0.6)
    end = max(y, cy + radius + 5.0)
    told = " ".join(filter(None, (rose.best, rose.worst, rose.flat_text)))
    return Drawing(width, end + 0.6, rose.title, told, (*marks, *words, *said))


def _ring(cx: float, cy: float, r: float) -> list[Primitive]:
    spots: Sequence[XY] = [
        (cx + r * math.cos(k * math.pi / 36), cy + r * math.sin(k * math.pi / 36)) for k in range(73)
    ]
    return [Polygon(tuple(spots[:-1]), "ghost")]
