"""Lifting arms between van and shell, closed and open, one small picture for each way to bolt them."""

from __future__ import annotations

from collections.abc import Sequence

from loftwright.core.link_views import LinkPicture
from loftwright.drawing.page import Circle, Drawing, Line, Polygon, Polyline, Primitive, Text
from loftwright.drawing.parts import View, stretch

MARGIN, TITLE, BETWEEN = 4.0, 6.0, 5.0
"""Round the drawing, above a picture for its title, and between two pictures [mm]."""
LETTERS = ("a", "b")


def _extent(pictures: Sequence[LinkPicture]) -> tuple[float, float, float, float]:
    spots = [
        spot
        for one in pictures
        for group in (one.shell, one.shell_open, *one.arms, *one.arms_open, *one.zones)
        for spot in group
    ]
    xs, zs = [s[0] for s in spots], [s[1] for s in spots]
    return min(xs) - 0.1, max(xs) + 0.1, min(zs) - 0.05, max(zs) + 0.05


def _marks(one: LinkPicture, view: View, x0: float, x1: float) -> list[Primitive]:
    marks: list[Primitive] = [Polygon(view.all([a, (b[0], a[1]), b, (a[0], b[1])]), "ghost") for a, b in one.zones]
    marks.append(Polyline(view.all(one.shell), "ghost"))
    for a, b in ((x0, one.opening[0]), (one.opening[1], x1)):
        if b > a:
            marks.append(Polyline(view.all(stretch(one.roof, a, b)), "zero"))
    marks.append(Polyline(view.all(one.shell_open), "ink"))
    for (van, top), (_, top_open), letter in zip(one.arms, one.arms_open, LETTERS, strict=True):
        marks.append(Line(view.at(van), view.at(top), "ghost"))
        marks.append(Line(view.at(van), view.at(top_open), "rim"))
        marks += [Circle(view.at(spot), 0.8, "pivot") for spot in (van, top, top_open)]
        cx, cy = view.at(((van[0] + top_open[0]) / 2, (van[1] + top_open[1]) / 2))
        marks.append(Text((cx + 1.2, cy), letter, 2.6, halo=True))
    return marks


def bolting(pictures: Sequence[tuple[str, LinkPicture]], *, width: float = 180.0) -> Drawing:
    """Return titled pictures below each other, all at one scale; `width` [mm]."""
    x0, x1, z0, z1 = _extent([one for _, one in pictures])
    scale = (width - 2 * MARGIN) / (x1 - x0)
    tall = scale * (z1 - z0)
    marks: list[Primitive] = []
    y = MARGIN
    for title, one in pictures:
        marks.append(Text((MARGIN, y + 4.0), title, 3.0, bold=True))
        marks += _marks(one, View(MARGIN - scale * x0, y + TITLE + scale * z1, scale), x0, x1)
        y += TITLE + tall + BETWEEN
    return Drawing(
        width,
        y,
        "Where to bolt the arms",
        "Closed roof dashed, open roof drawn out; dashed boxes: where pivots may sit.",
        tuple(marks),
    )
