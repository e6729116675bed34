"""How long each gas spring is over the travel, against what it can be: a small chart a spring."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from loftwright.core.board_views import LengthStrip
from loftwright.core.errors import Bug
from loftwright.drawing.page import Drawing, Group, Line, Polygon, Polyline, Primitive, Text, shortened, text_width
from loftwright.drawing.plot import Plot

_SIZE = 2.3
_TITLE, _TOP, _UNDER, _LEFT, _RIGHT = 2.9, 6.0, 4.6, 1.0, 3.0

# Under a wider panel quarters are named, too [mm].
_ROOMY = 45.0


@dataclass(frozen=True, slots=True)
class StripDrawing:
    """All strips with their panels; group "marker length 0" and so on is moved by the page that shows them."""

    drawing: Drawing
    panels: tuple[Plot, ...]


def length_strips(strips: Sequence[LengthStrip], *, width: float, height: float = 30.0) -> StripDrawing:
    """Return one panel a spring, `height` [mm] each, two side by side where `width` [mm] allows it."""
    if not strips:
        raise Bug("a chart of spring lengths needs a spring")
    columns = 2 if width >= 110.0 else 1
    gap = 4.0
    each = (width - gap * (columns - 1)) / columns
    marks: list[Primitive] = []
    panels = []
    for i, strip in enumerate(strips):
        left, top = (i % columns) * (each + gap), (i // columns) * height
        panel, drawn = _panel(strip, f"length {i}", left, left + each, top, top + height)
        panels.append(panel)
        marks += drawn
    rows = math.ceil(len(strips) / columns)
    drawing = Drawing(width, rows * height, "Spring lengths over how far open", _describe(strips), tuple(marks))
    return StripDrawing(drawing, tuple(panels))


def _figure(value: float, strip: LengthStrip) -> str:
    return f"{value:.{strip.decimals}f}".replace("-", "−")


def _panel(
    strip: LengthStrip, name: str, left: float, right: float, top: float, bottom: float
) -> tuple[Plot, list[Primitive]]:
    n = len(strip.x)
    if n < 2 or len(strip.y) != n or not strip.low < strip.high:
        raise Bug(f"the lengths of {strip.name!r} cannot be drawn")
    most, least = (
        f"{word} {_figure(end, strip)}" for word, end in (("pulled out", strip.high), ("pushed in", strip.low))
    )
    words = max(text_width(word, _SIZE) for word in (most, least))
    x0, x1 = left + _LEFT, right - words - _RIGHT
    y0, y1 = top + _TOP, bottom - _UNDER
    low, high = min(strip.low, *strip.y), max(strip.high, *strip.y)
    room = 0.08 * (high - low)
    low, high = low - room, high + room
    scale = (y1 - y0) / (high - low)
    panel = Plot(name, x0, x1, y0, y1, y1 + scale * low, scale)
    title = shortened(f"{strip.name}: how long, {strip.unit}", right - left, _TITLE, bold=True)
    marks: list[Primitive] = [Text((left, top + 3.4), title, _TITLE, "start", "ink", True)]
    for end, margin in ((strip.low, strip.margin_low), (strip.high, strip.margin_high)):
        corners = ((x0, panel.y(end)), (x1, panel.y(end)), (x1, panel.y(margin)), (x0, panel.y(margin)))
        marks.append(Polygon(corners, "band-hot"))
    for percent in (0, 25, 50, 75, 100) if x1 - x0 > _ROOMY else (0, 50, 100):
        x = panel.x(percent)
        marks.append(Line((x, y0), (x, y1), "grid"))
        anchor = "start" if percent == 0 else "end" if percent == 100 else "middle"
        marks.append(Text((x, y1 + 3.2), f"{percent} %", _SIZE, anchor, "note"))  # type: ignore[arg-type]
    marks.append(Line((x0, y0), (x0, y1), "axis"))
    for end, word in ((strip.high, most), (strip.low, least)):
        y = panel.y(end)
        marks.append(Line((x0, y), (x1, y), "limit"))
        marks.append(Text((x1 + 1.2, y + 0.34 * _SIZE), word, _SIZE, "start", "limit"))
    run = tuple((panel.x(a), panel.y(b)) for a, b in zip(strip.x, strip.y, strict=True))
    marks.append(Polyline(run, "mild"))
    marks.append(Group(f"marker {name}", (Line((0.0, y0), (0.0, y1), "marker"),), (x0, 0.0)))
    return panel, marks


def _describe(strips: Sequence[LengthStrip]) -> str:
    words = []
    for strip in strips:
        first, last, low, high = (_figure(v, strip) for v in (strip.y[0], strip.y[-1], strip.low, strip.high))
        words.append(
            f"{strip.name}: {first} {strip.unit} closed, {last} {strip.unit} open; pushed in {low}, pulled out {high}."
        )
    return " ".join(words)
