"""How a spring's force is taken at home: a plank as lever on bathroom scales, both ends of the spring captured."""

from __future__ import annotations

import math

from loftwright.drawing.page import XY, Circle, Drawing, Line, Polygon, Primitive, Text
from loftwright.drawing.parts import arrow, dimension


def _bar(a: XY, b: XY, half: float, pen: str) -> Polygon:
    length = math.dist(a, b)
    nx, ny = -(b[1] - a[1]) / length * half, (b[0] - a[0]) / length * half
    return Polygon(
        ((a[0] + nx, a[1] + ny), (b[0] + nx, b[1] + ny), (b[0] - nx, b[1] - ny), (a[0] - nx, a[1] - ny)), pen
    )


def home_test_picture(*, width: float = 186.0) -> Drawing:
    """Return the set-up from the side, not to scale: two planks, channel, scales, who stands where."""
    ground = 84.0
    marks: list[Primitive] = [Line((2.0, ground), (width - 2.0, ground), "floor")]
    x = 4.0
    while x < width - 2.0:
        marks.append(Line((x, ground), (x - 1.0, ground + 1.2), "fine"))
        x += 3.0
    # The wall with its hinge, at the left.
    marks += [
        Polygon(((8.0, 20.0), (12.0, 20.0), (12.0, ground), (8.0, ground)), "steel"),
        Text((10.0, 17.6), "wall", 2.9, "middle", "note"),
    ]
    edge, spring, scales = 30.0, 70.0, 118.0
    plank_y = 76.0
    # Lower plank: edge and scales.
    marks += [
        Polygon(((edge, plank_y + 2.0), (edge - 3.0, ground), (edge + 3.0, ground)), "steel"),
        Polygon(
            (
                (scales - 12.0, ground - 3.4),
                (scales + 12.0, ground - 3.4),
                (scales + 13.0, ground),
                (scales - 13.0, ground),
            ),
            "item",
        ),
        Polygon(
            (
                (scales - 1.2, plank_y + 2.0),
                (scales + 1.2, plank_y + 2.0),
                (scales + 1.2, ground - 3.4),
                (scales - 1.2, ground - 3.4),
            ),
            "board",
        ),
        _bar((edge - 5.0, plank_y), (scales + 5.0, plank_y), 2.0, "board"),
    ]
    # The upper plank, hinged at the wall, blocks that capture, and the spring between.
    top_y = 37.0
    marks += [
        _bar((12.0, top_y - 4.0), (150.0, top_y + 1.0), 2.0, "board"),
        Circle((12.6, top_y - 4.0), 1.6, "pivot"),
        Polygon(
            (
                (spring - 4.0, plank_y - 2.0),
                (spring - 4.0, plank_y - 12.0),
                (spring - 2.6, plank_y - 12.0),
                (spring - 2.6, plank_y - 3.4),
                (spring + 2.6, plank_y - 3.4),
                (spring + 2.6, plank_y - 12.0),
                (spring + 4.0, plank_y - 12.0),
                (spring + 4.0, plank_y - 2.0),
            ),
            "upstand",
        ),
        Polygon(
            (
                (spring - 5.0, top_y + 0.3),
                (spring + 5.0, top_y + 0.6),
                (spring + 5.0, top_y + 8.0),
                (spring - 5.0, top_y + 8.0),
            ),
            "item",
        ),
        Line((spring, plank_y - 4.2), (spring, 56.0), "tube"),
        Line((spring, 56.0), (spring, top_y + 4.0), "rod"),
        Circle((spring, plank_y - 4.2), 0.9, "pivot"),
        Circle((spring, top_y + 4.6), 0.9, "pivot"),
    ]
    # The hand, from the side.
    hx = 150.0
    marks += [
        Line((hx - 4.0, top_y - 15.0), (hx - 4.0, top_y - 3.0), "marker"),
        arrow((hx - 4.0, top_y - 2.0), 0.0, 1.0, 4.0),
        Text((hx - 7.0, top_y - 12.0), "press slowly, standing beside it:", 2.9, "end", "ink"),
        Text((hx - 7.0, top_y - 8.0), "20 mm (3/4 in) at the rod, no more", 2.9, "end", "ink", True),
    ]
    # The 20 mm on the rod.
    marks += [
        Line((spring + 1.5, top_y + 8.0), (spring + 11.0, top_y + 8.0), "dim"),
        Line((spring + 1.5, top_y + 13.5), (spring + 11.0, top_y + 13.5), "dim"),
        *dimension((spring + 9.5, top_y + 8.0), (spring + 9.5, top_y + 13.5)),
        Text((spring + 13.0, top_y + 11.8), "the first 20 mm only", 2.9, "start", "ink"),
    ]
    # Nobody in line with the rod.
    for y0, y1, label_y in ((4.0, top_y - 6.0, 8.0),):
        marks += [
            Line((spring - 8.0, y0), (spring - 8.0, y1), "hatch"),
            Line((spring + 8.0, y0), (spring + 8.0, y1), "hatch"),
        ]
        y = y0
        while y < y1 - 2.0:
            marks.append(Line((spring - 8.0, y + 3.0), (spring + 8.0, y), "hatch"))
            y += 5.0
        marks.append(
            Text(
                (spring + 10.0, label_y),
                "keep clear: nobody in line with the rod, at either end",
                2.9,
                "start",
                "limit",
                True,
            )
        )
    # Words.
    marks += [
        Text((spring + 6.5, plank_y - 7.0), "tube in a channel", 2.9, "start", "ink"),
        Text((spring - 6.5, top_y + 6.4), "rod's end in a drilled block", 2.9, "end", "ink"),
        Text((edge - 4.6, plank_y - 3.6), "edge", 2.9, "middle", "ink"),
        Text((scales + 15.0, ground - 6.0), "bathroom scales; the second", 2.9, "start", "ink"),
        Text((scales + 15.0, ground - 2.2), "person reads from this side", 2.9, "start", "ink"),
        Text((16.0, top_y - 7.6), "hinge", 2.9, "start", "note"),
        Line((edge, ground), (edge, ground + 13.0), "dim"),
        Line((spring, plank_y), (spring, ground + 6.0), "dim"),
        Line((scales, ground), (scales, ground + 13.0), "dim"),
        *dimension((edge, ground + 5.0), (spring, ground + 5.0)),
        Text(((edge + spring) / 2, ground + 4.0), "a", 3.6, "middle", "ink", True),
        *dimension((edge, ground + 12.0), (scales, ground + 12.0)),
        Text(((edge + scales) / 2, ground + 11.0), "p", 3.6, "middle", "ink", True),
    ]
    words = (
        "A plank lies with one end on an edge and the other on bathroom scales; the spring stands on it in a channel "
        "and is "
        "pressed in by a second plank hinged at a wall, 20 mm at most; nobody stands in line with the rod."
    )
    return Drawing(width, ground + 16.0, "A spring's force at home", words, tuple(marks))
