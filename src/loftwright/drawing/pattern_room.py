"""Room for words on a piece of cloth: texts with all places where they may stand, and dashes of a fixed length."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from loftwright.drawing.page import XY, Polyline, Rect, Text, crosses, text_box

DASH, GAP = 9.0, 2.5
"""Long dashes of the stitch line and the gaps between them [mm]."""
_ENOUGH = 120
"""How many places for one text are enough."""

Place = tuple[XY, float]
"""Where a text stands, and its turn [rad]."""


@dataclass(frozen=True, slots=True)
class Standing:
    """Texts that stand together about a place of their own, and where that place may be, the best first."""

    texts: tuple[Text, ...]
    places: tuple[Place, ...]

    def at(self, place: Place) -> tuple[Text, ...]:
        """Return the texts at a place."""
        (x, y), turn = place
        cos, sin = math.cos(turn), math.sin(turn)
        return tuple(
            replace(
                text,
                at=(x + cos * text.at[0] - sin * text.at[1], y + sin * text.at[0] + cos * text.at[1]),
                turn=text.turn + turn,
            )
            for text in self.texts
        )


def readable(turn: float) -> float:
    """Return `turn` or its opposite [rad], whichever is not upside down."""
    turn = math.remainder(turn, 2.0 * math.pi)
    if turn > math.pi / 2 - 1e-9:
        return turn - math.pi
    return turn + math.pi if turn < -math.pi / 2 - 1e-9 else turn


def dashed(points: Sequence[XY], pen: str, *, dash: float = DASH, gap: float = GAP) -> list[Polyline]:
    """Return a run of lines in dashes of its own, which go on over the joins of tiles."""
    found: list[Polyline] = []
    here: list[XY] = [points[0]]
    drawn, left = True, dash
    for a, b in pairwise(points):
        length = math.dist(a, b)
        done = 0.0
        while length - done > left:
            done += left
            spot = (a[0] + (b[0] - a[0]) * done / length, a[1] + (b[1] - a[1]) * done / length)
            if drawn:
                found.append(Polyline((*here, spot), pen))
            drawn, left, here = not drawn, gap if drawn else dash, [spot]
        left -= length - done
        if length > 0:
            here.append(b)
    if drawn and len(here) > 1:
        found.append(Polyline(tuple(here), pen))
    return found


def inside(spot: XY, outline: Sequence[XY]) -> bool:
    """Return whether a point lies inside a closed line."""
    x, y = spot
    found = False
    for (ax, ay), (bx, by) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if (ay > y) != (by > y) and x < ax + (bx - ax) * (y - ay) / (by - ay):
            found = not found
    return found


def _spot_along(run: Sequence[XY], along: float) -> XY:
    for a, b in pairwise(run):
        length = math.dist(a, b)
        if along <= length and length > 0:
            return a[0] + (b[0] - a[0]) * along / length, a[1] + (b[1] - a[1]) * along / length
        along -= length
    return run[-1]


def touches(text: Text, a: XY, b: XY) -> bool:
    """Return whether the straight line from a to b touches a text, turned as it is."""
    cos, sin = math.cos(text.turn), math.sin(text.turn)

    def back(spot: XY) -> XY:
        x, y = spot[0] - text.at[0], spot[1] - text.at[1]
        return text.at[0] + cos * x + sin * y, text.at[1] - sin * x + cos * y

    return crosses(text_box(replace(text, turn=0.0)), back(a), back(b))


def places_along(run: Sequence[XY], width: float, size: float, *, inset: float, every: float = 12.0) -> list[Place]:
    """Return places for a text of `width` along a run [mm, y down] whose piece lies to the right on the page.

    The middle of the run comes first; the text stands `inset` off the line at its nearest, readable.
    """
    whole = sum(math.dist(a, b) for a, b in pairwise(run))
    room = whole - width
    if room <= 0:
        return []
    steps = max(0, math.floor(room / 2 / every))
    found: list[Place] = []
    for k in sorted(range(-steps, steps + 1), key=lambda k: (abs(k), k)):
        middle = whole / 2 + k * every
        a, b = _spot_along(run, middle - width / 2), _spot_along(run, middle + width / 2)
        length = math.dist(a, b) or 1.0
        ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        # Inwards: a counter-clockwise line in axes with y up keeps its piece on this side with y down.
        nx, ny = uy, -ux
        between = [_spot_along(run, middle - width / 2 + width * j / 8) for j in range(1, 8)]
        sag = max(0.0, *((x - a[0]) * nx + (y - a[1]) * ny for x, y in between))
        off = inset + size / 2 + sag
        turn = readable(math.atan2(uy, ux))
        cx, cy = (a[0] + b[0]) / 2 + off * nx, (a[1] + b[1]) / 2 + off * ny
        found.append(((cx - 0.35 * size * math.sin(turn), cy + 0.35 * size * math.cos(turn)), turn))
    return found


def rect_round(boxes: Sequence[Rect]) -> Rect:
    """Return the rectangle round all of `boxes`."""
    return Rect(min(b.x0 for b in boxes), min(b.y0 for b in boxes), max(b.x1 for b in boxes), max(b.y1 for b in boxes))


def boxes_of(texts: Iterable[Text]) -> list[Rect]:
    """Return the upright rectangle round each text."""
    return [text_box(text) for text in texts]


def inner_places(
    texts: tuple[Text, ...] | Rect,
    outline: Sequence[XY],
    runs: Sequence[tuple[XY, XY]],
    taken: Sequence[Rect],
    *,
    gap: float,
    step: float,
    most: int = _ENOUGH,
    holes: Sequence[Sequence[XY]] = (),
) -> list[Place]:
    """Return where texts (or a rectangle) about (0, 0) stand inside `outline`, off `runs` and `taken`.

    The most central place comes first, and no more than `most` are returned, none of them inside one of `holes`.
    """
    size = texts if isinstance(texts, Rect) else rect_round(boxes_of(texts))
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    nx, ny = math.ceil((max(xs) - min(xs)) / 2 / step), math.ceil((max(ys) - min(ys)) / 2 / step)
    spots = [(middle[0] + i * step, middle[1] + j * step) for i in range(-nx, nx + 1) for j in range(-ny, ny + 1)]
    found: list[Place] = []
    for x, y in sorted(spots, key=lambda spot: (round(math.dist(spot, middle), 3), spot)):
        box = Rect(size.x0 + x - gap, size.y0 + y - gap, size.x1 + x + gap, size.y1 + y + gap)
        if not (min(xs) <= box.x0 and box.x1 <= max(xs) and min(ys) <= box.y0 and box.y1 <= max(ys)):
            continue
        if box.overlaps_any(taken) or not inside((x, y), outline) or any(inside((x, y), hole) for hole in holes):
            continue
        if not any(crosses(box, a, b) for a, b in runs):
            found.append(((x, y), 0.0))
            if len(found) == most:
                break
    return found
