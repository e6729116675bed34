"""The cloth walls in space, roof open: an illustration from the rear, a little from one side and from above."""

from __future__ import annotations

import math
from collections.abc import Sequence

from loftwright.core.errors import Bug
from loftwright.drawing.page import XY, Drawing, Polygon, Polyline, Primitive, Text, text_width, unpatched

Spot = tuple[float, float, float]
"""A point in the van [m]: x to the cab, y left, z up."""

_TURN, _TILT = math.radians(-32.0), math.radians(24.0)
"""How far the eye stands to the right of straight behind, and above."""
_END = 0.03
"""What is nearer than this to the end of a line belongs to that end [m]."""
_SIZE, _SIDE, _TOP, _FOOT = 2.5, 10.0, 7.0, 8.0
_TOWARD = (-math.cos(_TURN) * math.cos(_TILT), math.sin(_TURN) * math.cos(_TILT), math.sin(_TILT))


def _seen(spot: Spot) -> XY:
    """Return where a point is seen: right and down."""
    x, y, z = spot
    right = -y * math.cos(_TURN) - x * math.sin(_TURN)
    away = x * math.cos(_TURN) - y * math.sin(_TURN)
    return right, -(z * math.cos(_TILT) + away * math.sin(_TILT))


def _near(spot: Spot) -> float:
    return sum(a * b for a, b in zip(spot, _TOWARD, strict=True))


def _middle(line: Sequence[Spot], x: float) -> Spot:
    """Return the middle of those points of a line that lie at an end of it [m]."""
    there = [spot for spot in line if abs(spot[0] - x) < _END]
    return (x, sum(spot[1] for spot in there) / len(there), sum(spot[2] for spot in there) / len(there))


def walls_in_space(
    lower: Sequence[Spot], upper: Sequence[Spot], rulings: Sequence[tuple[Spot, Spot]], *, width: float, height: float
) -> Drawing:
    """Return both lines and the straight lines of the cloth between them within `width` and `height` [mm].

    What is near hides what is far. `rulings` go round in their order. Errors: Bug without lines.
    """
    if len(lower) < 3 or len(upper) < 3 or len(rulings) < 3:
        raise Bug("walls in space need their lines")
    flat = [_seen(spot) for spot in (*lower, *upper)]
    us, vs = [u for u, _ in flat], [v for _, v in flat]
    scale = min((width - 2 * _SIDE) / (max(us) - min(us)), (height - _TOP - _FOOT) / (max(vs) - min(vs)))
    tall = _TOP + scale * (max(vs) - min(vs)) + _FOOT
    left = (width - scale * (max(us) - min(us))) / 2 - scale * min(us)

    def at(spot: Spot) -> XY:
        u, v = _seen(spot)
        return left + scale * u, _TOP + scale * (v - min(vs))

    marks: list[Primitive] = []
    fields = list(zip(rulings, (*rulings[1:], rulings[0]), strict=True))
    for (a, b), (c, d) in sorted(fields, key=lambda pair: sum(_near(spot) for ruling in pair for spot in ruling)):
        quad = (at(a), at(c), at(d), at(b))
        marks += [
            Polygon(quad, "paper"),
            Polyline((at(a), at(b)), "fine"),
            Polyline((at(c), at(d)), "fine"),
            Polyline((at(a), at(c)), "outline"),
            Polyline((at(b), at(d)), "outline"),
        ]
    # The upper line is seen all round: the shell is left out.
    above = tuple(at(spot) for spot in upper)
    marks.append(Polyline((*above, above[0]), "outline"))
    labels: list[Primitive] = []
    # Both ends slope down to the right: words stand clear of them, above at the front and below at the rear.
    x, y = at(_middle(upper, max(spot[0] for spot in upper)))
    word = "front, to the cab"
    labels.append(Text((min(x + 2.0, width - text_width(word, _SIZE) - 1.0), y - 2.0), word, _SIZE, "start", "note"))
    x, y = at(_middle(lower, min(spot[0] for spot in lower)))
    labels.append(Text((max(x - 2.0, text_width("rear", _SIZE) + 1.0), y + 3.6), "rear", _SIZE, "end", "note"))
    said = "Illustration, roof open, shell left out: thin lines are where the rolled-out cloth is straight."
    marks += unpatched(labels, marks)
    marks.append(Text((0.0, tall - 1.0), said, 2.2, "start", "note"))
    description = "An illustration of the walls between the ring and the open shell, seen from behind and above."
    return Drawing(width, tall, "The cloth walls, an illustration", description, tuple(marks))
