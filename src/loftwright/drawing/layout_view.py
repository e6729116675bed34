"""How the pieces of cloth lie on their rolls, to scale: numbers, grain, nap, and the length that is needed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from loftwright.core.errors import Bug
from loftwright.core.pattern import LaidPiece, Layout, PatternPiece
from loftwright.drawing.page import (
    XY,
    Drawing,
    Line,
    Polygon,
    Polyline,
    Primitive,
    Rect,
    Text,
    shortened,
    text_box,
    text_width,
    unpatched,
)
from loftwright.drawing.parts import dimension
from loftwright.drawing.pattern import head_at
from loftwright.drawing.pattern_room import Standing, dashed, inner_places

_TITLE, _NOTE, _FIGURE = 3.2, 2.5, 2.3
_LEFT, _BETWEEN = 9.0, 8.0


@dataclass(frozen=True, slots=True)
class RollWords:
    """What is written at one roll, ready: the length needed, its width, what is left over, and marks along it.

    `ticks` are places along the roll [m] with their figures.
    """

    needed: str
    width: str
    said: str
    ticks: tuple[tuple[float, str], ...]


def cutting_layout(
    layouts: Sequence[Layout], words: Sequence[RollWords], pieces: Sequence[PatternPiece], *, width: float
) -> Drawing:
    """Return all rolls beneath each other at one scale, `width` [mm] wide; `pieces` tell of grain and nap.

    Errors: Bug without a layout, or where words are missing.
    """
    if not layouts or len(layouts) != len(words):
        raise Bug("every cloth of a cutting layout needs its words")
    longest = max(max(layout.length, *(t for t, _ in w.ticks)) if w.ticks else layout.length
                  for layout, w in zip(layouts, words, strict=True))  # fmt: skip
    scale = (width - _LEFT - 6.0) / longest
    marks: list[Primitive] = []
    y = 0.0
    for layout, said in zip(layouts, words, strict=True):
        drawn, y = _roll(layout, said, {piece.number: piece for piece in pieces}, scale, y, width)
        marks += drawn
        y += _BETWEEN
    told = "; ".join(f"{layout.material}: {said.needed}" for layout, said in zip(layouts, words, strict=True))
    return Drawing(width, y - _BETWEEN, "Cutting layout", f"Length of each cloth. {told}.", tuple(marks))


def _roll(
    layout: Layout, words: RollWords, pieces: dict[str, PatternPiece], scale: float, top: float, width: float
) -> tuple[list[Primitive], float]:
    x0, y0 = _LEFT, top + 14.0
    x1, y1 = x0 + scale * layout.length, y0 + scale * layout.width
    said = ", ".join(filter(None, (words.said, layout.how)))
    marks: list[Primitive] = [
        Text((0.0, top + 3.2), layout.material, _TITLE, "start", "ink", True),
        Text((0.0, top + 7.4), shortened(said, width, _NOTE), _NOTE, "start", "note"),
    ]

    def at(spot: XY) -> XY:
        return x0 + scale * spot[0], y1 - scale * spot[1]

    # The roll goes on beyond what is needed: a torn edge.
    torn = [(x1 + 3.0 + (1.0 if k % 2 else -0.6), y0 + (y1 - y0) * k / 8) for k in range(9)]
    marks += [
        Line((x0, y0), torn[0], "outline"),
        Line((x0, y1), torn[-1], "outline"),
        Line((x0, y0), (x0, y1), "outline"),
        Polyline(tuple(torn), "fine"),
        *dashed(((x1, y0), (x1, y1)), "ink", dash=3.0, gap=1.2),
    ]
    labels: list[Primitive] = []
    for laid in layout.pieces:
        outline = tuple(at(spot) for spot in laid.outline)
        marks.append(Polygon(outline, "outline"))
        drawn, texts = _signs(laid, outline, pieces.get(laid.number))
        marks += drawn
        labels += texts
    # Width at the left, length above, marks beneath.
    marks += [*dimension((x0 - 3.0, y0), (x0 - 3.0, y1))]
    labels.append(Text((x0 - 3.8, (y0 + y1) / 2), words.width, _FIGURE, "middle", "ink", turn=-math.pi / 2))
    marks += [
        Line((x0, y0 - 0.8), (x0, y0 - 4.0), "dim"),
        Line((x1, y0 - 0.8), (x1, y0 - 4.0), "dim"),
        *dimension((x0, y0 - 3.0), (x1, y0 - 3.0)),
    ]
    labels.append(Text(((x0 + x1) / 2, y0 - 3.8), words.needed, _FIGURE, "middle", "ink", True))
    last = -math.inf
    for along, figure in words.ticks:
        x = x0 + scale * along
        marks.append(Line((x, y1 + 0.8), (x, y1 + 2.4), "ink"))
        half = text_width(figure, _FIGURE) / 2
        if x - half > last + 1.0:
            labels.append(Text((x, y1 + 5.0), figure, _FIGURE, "middle", "note"))
            last = x + half
    if words.ticks:
        marks.append(Line((x0, y1 + 0.8), (x0 + scale * words.ticks[-1][0], y1 + 0.8), "fine"))
    return [*marks, *unpatched(labels, marks)], y1 + 6.0


def _signs(laid: LaidPiece, outline: tuple[XY, ...], piece: PatternPiece | None) -> tuple[list[Primitive], list[Text]]:
    """Return number and grain arrow of a laid piece; the arrow has one head where the cloth has a nap."""
    runs = list(pairwise((*outline, outline[0])))
    marks: list[Primitive] = []
    taken: list[Rect] = []
    number = laid.number + (" face down" if laid.mirrored else "")
    texts: list[Text] = []
    for text, size in ((number, 4.0), (number, 3.0), (number, 2.2), (laid.number, 2.2), (laid.number, 1.6)):
        label = Text((0.0, 0.35 * size), text, size, "middle", "ink", True)
        places = inner_places((label,), outline, runs, taken, gap=0.8, step=2.0)
        if places:
            texts += Standing((label,), ()).at(places[0])
            taken.append(text_box(texts[-1]))
            break
    if piece is None or piece.grain is None:
        return marks, texts
    (ax, ay), (bx, by) = piece.grain
    sign = -1.0 if laid.mirrored else 1.0
    gx, gy = sign * (bx - ax), by - ay
    length = math.hypot(gx, gy) or 1.0
    cos, sin = math.cos(laid.turned), math.sin(laid.turned)
    ux, uy = (cos * gx - sin * gy) / length, -(sin * gx + cos * gy) / length
    for half in (8.0, 5.0, 3.0, 2.0):
        ends = (abs(half * ux) + 0.9, abs(half * uy) + 0.9)
        room = Rect(-ends[0], -ends[1], ends[0], ends[1])
        spot = _room_for(room, outline, runs, taken)
        if spot is not None:
            a, b = (spot[0] - half * ux, spot[1] - half * uy), (spot[0] + half * ux, spot[1] + half * uy)
            marks += [Line(a, b, "ink"), head_at(b, ux, uy, 1.8)]
            if not piece.nap:
                marks.append(head_at(a, -ux, -uy, 1.8))
            break
    return marks, texts


def _room_for(room: Rect, outline: Sequence[XY], runs: Sequence[tuple[XY, XY]], taken: Sequence[Rect]) -> XY | None:
    """Return where a rectangle about (0, 0) lies inside `outline`, off all `runs` and `taken`, nearest its middle."""
    return next((place[0] for place in inner_places(room, outline, runs, taken, gap=0.4, step=1.5)), None)
