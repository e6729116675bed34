"""The lower edge of the walls in section: roof, upstand, cloth lapping over it, drip hem, staples, and the water."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from loftwright.core.errors import Bug
from loftwright.drawing.hatching import hatched
from loftwright.drawing.page import XY, Drawing, Line, Polygon, Polyline, Primitive, Text, text_width, unpatched
from loftwright.drawing.parts import dimension
from loftwright.drawing.pattern_room import dashed

_SIZE, _HEAD, _UNDER = 2.4, 9.0, 6.0
_SCALES = (2.0, 1.5, 1.0, 0.75, 0.5, 0.4, 0.25)
_ROOF, _RING = 1.6, 6.0


@dataclass(frozen=True, slots=True)
class Measure:
    """A height or length [mm] and its text, without its name."""

    mm: float
    text: str


@dataclass(frozen=True, slots=True)
class WaterSection:
    """The lower edge at one place. Heights are over the roof's skin there.

    `upstand` is the ring's upper edge, `staples` the line of staples, `water` how high water can stand, `hem_gap` the
    air under the hem, `lap` how far the outer cloth hangs from where it leaves the wall down to its hem; `end_lap`,
    where two lengths of cloth meet, how far they lie over one another.
    """

    place: str
    upstand: Measure
    staples: Measure
    water: Measure
    lap: Measure
    hem_gap: Measure
    end_lap: Measure | None = None


def water_sections(sections: Sequence[WaterSection], *, width: float) -> Drawing:
    """Return sections side by side at one scale, `width` [mm] wide, outside to the left; end laps beneath.

    A staple line that water can reach is drawn hatched. Errors: Bug without a section.
    """
    if not sections:
        raise Bug("the lower edge needs a section")
    each = (width - 6.0 * (len(sections) - 1)) / len(sections)
    tallest = max(max(s.upstand.mm, s.staples.mm, s.water.mm, s.hem_gap.mm + s.lap.mm) for s in sections)
    scale = next((s for s in _SCALES if s * tallest <= min(70.0, 1.1 * each)), _SCALES[-1])
    base = _HEAD + scale * tallest + 18.0
    marks: list[Primitive] = []
    for k, section in enumerate(sections):
        marks += _section(section, k * (each + 6.0), each, base, scale)
    bottom = base + _UNDER + 6.0
    laps = [(k, s) for k, s in enumerate(sections) if s.end_lap is not None]
    for k, section in laps:
        marks += _end_lap(section, k * (each + 6.0), each, bottom)
    bottom += 23.0 if laps else 0.0
    ratio = f"1 : {1 / scale:.3g}" if scale <= 1 else f"{scale:.3g} : 1"
    said = [f"{ratio} at 100 %; outside is to the left; cloth and skin are drawn thicker than they are"]
    if text_width(said[0], 2.2) > width:
        said = [f"{ratio} at 100 %; outside is to the left;", "cloth and skin are drawn thicker than they are"]
    height = bottom + 1.8 + 3.2 * len(said)
    marks += [Text((0.0, bottom + 3.8 + 3.2 * k), text, 2.2, "start", "note") for k, text in enumerate(said)]
    told = " ".join(
        f"{s.place}: upstand {s.upstand.text}, staples {s.staples.text}, water {s.water.text}, lap {s.lap.text}."
        for s in sections
    )
    return Drawing(width, height, "The lower edge against water", told, tuple(marks))


def _section(section: WaterSection, left: float, wide: float, base: float, scale: float) -> list[Primitive]:
    """Return one section: from left to right dimensions of the lap, cloth, ring, dimensions of heights."""

    def y(mm: float) -> float:
        return base - scale * mm

    ring_x = left + 0.48 * wide
    ring = (
        (ring_x, base),
        (ring_x, y(section.upstand.mm)),
        (ring_x + _RING, y(section.upstand.mm)),
        (ring_x + _RING, base),
    )
    roof = ((left + 1.0, base), (ring_x + _RING, base), (ring_x + _RING, base + _ROOF), (left + 1.0, base + _ROOF))
    marks: list[Primitive] = [
        Polygon(ring, "outline"),
        *hatched([ring], gap=1.3, pen="fine"),
        Polygon(roof, "upstand"),
    ]
    # Cloth: stapled to the ring's outer face, then down outside of it to the hem; above, up the wall.
    hem = section.hem_gap.mm
    leaves = hem + section.lap.mm
    out = ring_x - 3.2
    top = y(max(section.upstand.mm, leaves)) - 11.0
    cloth: list[XY] = [(ring_x - 0.5, y(section.staples.mm) + 1.4), (ring_x - 0.5, y(section.upstand.mm) - 3.0)]
    cloth += [(ring_x - 0.5, top)]
    marks.append(Polyline(tuple(cloth), "rim"))
    flap: list[XY] = [(ring_x - 0.5, y(leaves) - 3.0), (out, y(leaves) - 0.5), (out, y(hem) - 1.2)]
    # The hem stands off, so that water drips.
    flap += [(out - 0.6, y(hem)), (out - 1.8, y(hem)), (out - 2.2, y(hem) - 1.8), (out - 0.8, y(hem) - 2.6)]
    marks.append(Polyline(tuple(flap), "rim"))
    marks += dashed(((ring_x - 0.5, top), (ring_x - 0.5, top - 3.0)), "fine", dash=0.9, gap=0.6)
    sy = y(section.staples.mm)
    reached = section.water.mm >= section.staples.mm
    marks += [
        Line((ring_x - 1.4, sy), (ring_x + 3.0, sy), "sign"),
        Line((ring_x - 1.4, sy - 0.9), (ring_x - 1.4, sy + 0.9), "sign"),
    ]
    wy = y(section.water.mm)
    shore = left + 1.0
    marks += dashed(((shore, wy), (ring_x, wy)), "ink", dash=3.0, gap=1.0)
    mark_x = shore + 2.0
    marks.append(Polygon(((mark_x, wy), (mark_x - 1.3, wy - 2.2), (mark_x + 1.3, wy - 2.2)), "outline"))
    for k in range(1, 4):
        half = 2.2 - 0.5 * k
        if wy + 0.9 * k < base - 0.4:
            marks.append(Line((mark_x - half, wy + 0.9 * k), (mark_x + half, wy + 0.9 * k), "fine"))
    if reached:
        marks += hatched([((out, wy), (ring_x, wy), (ring_x, sy), (out, sy))], gap=0.9)
    labels: list[Text] = []
    marks += _heights(section, ring_x + _RING, left + wide, base, scale, labels)
    marks += _laps(section, out - 2.2, base, scale, labels)
    marks += unpatched(labels, marks)
    title = f"{section.place}: water reaches the staples" if reached else section.place
    marks.insert(0, Text((left, 3.6), title, 3.0, "start", "limit" if reached else "ink", True))
    return marks


def _heights(
    section: WaterSection, start: float, right: float, base: float, scale: float, labels: list[Text]
) -> list[Primitive]:
    """Return the dimension chain of heights over the roof: the lowest inmost, each with its name and figure."""
    named = sorted(
        (("water", section.water), ("staples", section.staples), ("upstand", section.upstand)), key=lambda m: m[1].mm
    )
    marks: list[Primitive] = []
    step = (right - start - 4.0) / 3.0
    for k, (name, measure) in enumerate(named):
        x = start + 5.0 + k * step
        level = base - scale * measure.mm
        marks.append(Line((start + 0.8, level), (x + 1.0, level), "dim"))
        marks += dimension((x, base), (x, level))
        text = f"{name} {measure.text}"
        long = text_width(text, _SIZE)
        # Along its line where that is long enough, else over it.
        middle = (base + level) / 2 if scale * measure.mm > long else base - long / 2
        labels.append(Text((x + 3.2, middle), text, _SIZE, "middle", "ink", False, -math.pi / 2, True))
    marks.append(Line((start + 0.8, base), (start + 6.0 + 2 * step, base), "dim"))
    return marks


def _laps(section: WaterSection, start: float, base: float, scale: float, labels: list[Text]) -> list[Primitive]:
    """Return, outside of the cloth, how far it laps and the air under its hem, one over the other."""
    hem = base - scale * section.hem_gap.mm
    top = hem - scale * section.lap.mm
    x = start - 4.0
    marks: list[Primitive] = [Line((x - 1.0, level), (start - 0.6, level), "dim") for level in (top, hem)]
    marks += dimension((x, hem), (x, top))
    measured = [("lap", section.lap, hem, top)]
    if section.hem_gap.mm > 0.0:
        # A hem that lies on the roof has no air under it.
        marks += dimension((x, base), (x, hem))
        measured.append(("gap", section.hem_gap, base, hem))
    for name, measure, low, high in measured:
        text = f"{name} {measure.text}"
        long = text_width(text, _SIZE)
        if low - high > long + 1.0:
            labels.append(Text((x - 1.0, (low + high) / 2), text, _SIZE, "middle", "ink", False, -math.pi / 2, True))
        else:
            labels.append(Text((x - 1.6, (low + high) / 2 + 0.35 * _SIZE), text, _SIZE, "end", "ink", halo=True))
    return marks


def _end_lap(section: WaterSection, left: float, wide: float, top: float) -> list[Primitive]:
    """Return two ends of cloth that lie over one another, seen from outside, not to scale."""
    assert section.end_lap is not None
    a, b = left + 0.36 * wide, left + 0.60 * wide
    y0, y1 = top + 2.0, top + 11.0
    marks: list[Primitive] = [
        Polyline(((left + 2.0, y0), (b, y0), (b, y1), (left + 2.0, y1)), "outline"),
        Line((b, y0), (left + 0.94 * wide, y0), "outline"),
        Line((b, y1), (left + 0.94 * wide, y1), "outline"),
        *dashed(((a, y0), (a, y1)), "fine", dash=1.4, gap=0.8),
        *hatched([((a, y0), (b, y0), (b, y1), (a, y1))], gap=1.6, pen="leader"),
        Line((a, y1 + 0.8), (a, y1 + 4.4), "dim"),
        Line((b, y1 + 0.8), (b, y1 + 4.4), "dim"),
        *dimension((a, y1 + 3.4), (b, y1 + 3.4)),
    ]
    text = f"end lap {section.end_lap.text}, from outside, not to scale"
    half = text_width(text, _SIZE) / 2
    middle = min(max((a + b) / 2, left + half), left + wide - half)
    marks.append(Text((middle, y1 + 7.6), text, _SIZE, "middle", "ink"))
    return marks
