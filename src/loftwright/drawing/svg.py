"""The SVG writer: the only place that knows SVG.

Same drawing, same text: fixed decimals, fixed order. Each mark carries its pen as a class
(`pen-shell`), so that a page can restyle it; the looks written into the marks are those for white paper.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from html import escape
from itertools import groupby

from loftwright.drawing.page import (
    XY,
    Circle,
    Drawing,
    Group,
    Line,
    Polygon,
    Polyline,
    Primitive,
    Text,
    pen,
    text_box,
)

FONTS = "'Liberation Sans', Arial, Helvetica, sans-serif"


def number(value: float) -> str:
    """Return a coordinate with at most three decimals and no negative zero."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _points(points: tuple[XY, ...]) -> str:
    return " ".join(f"{number(x)},{number(y)}" for x, y in points)


def _looks(name: str, *, filled: bool) -> str:
    p = pen(name)
    parts = [f'class="pen-{name}"', f'fill="{p.fill if filled else "none"}"']
    if p.width > 0:
        parts.append(f'stroke="{p.colour}" stroke-width="{number(p.width)}"')
        parts.append('stroke-linecap="round"' if p.round else 'stroke-linejoin="round"')
        if p.dash:
            parts.append(f'stroke-dasharray="{" ".join(number(d) for d in p.dash)}"')
    return " ".join(parts)


def _patch(mark: Text) -> str:
    """Return a patch of paper under a text.

    A stroke round the letters would not do: where glyphs are painted one by one, each eats its neighbour.
    """
    box = text_box(replace(mark, turn=0.0))
    turned = f' transform="rotate({number(math.degrees(mark.turn))} {number(mark.at[0])} {number(mark.at[1])})"'
    return (
        f'<rect class="halo" x="{number(box.x0 - 0.25)}" y="{number(box.y0 - 0.1)}" rx="0.4" fill="#ffffff"'
        f' width="{number(box.x1 - box.x0 + 0.5)}" height="{number(box.y1 - box.y0 + 0.2)}"'
        f"{turned if mark.turn else ''}/>"
    )


def _text(mark: Text) -> str:
    x, y = mark.at
    ink = pen(mark.pen).colour
    # The quotes of the family names are single, those of the attribute double.
    attributes = [
        f'class="text pen-{mark.pen}"',
        f'x="{number(x)}" y="{number(y)}"',
        f'font-family="{FONTS}" font-size="{number(mark.size)}"',
    ]
    if mark.bold:
        attributes.append('font-weight="700"')
    if mark.anchor != "start":
        attributes.append(f'text-anchor="{mark.anchor}"')
    if mark.turn:
        attributes.append(f'transform="rotate({number(math.degrees(mark.turn))} {number(x)} {number(y)})"')
    body = escape(mark.text, quote=False)
    return (_patch(mark) if mark.halo else "") + f'<text {" ".join(attributes)} fill="{ink}">{body}</text>'


def mark_svg(mark: Primitive) -> str:
    """Return one mark as SVG text."""
    match mark:
        case Line((ax, ay), (bx, by), name):
            looks = _looks(name, filled=False)
            return f'<line x1="{number(ax)}" y1="{number(ay)}" x2="{number(bx)}" y2="{number(by)}" {looks}/>'
        case Polyline(points, name):
            return f'<polyline points="{_points(points)}" {_looks(name, filled=False)}/>'
        case Polygon(points, name):
            return f'<polygon points="{_points(points)}" {_looks(name, filled=True)}/>'
        case Circle((cx, cy), r, name):
            return f'<circle cx="{number(cx)}" cy="{number(cy)}" r="{number(r)}" {_looks(name, filled=True)}/>'
        case Group(name, marks, (dx, dy)):
            move = f' transform="translate({number(dx)} {number(dy)})"' if dx or dy else ""
            inner = "\n".join(mark_svg(m) for m in marks)
            return f'<g data-part="{escape(name)}"{move}>\n{inner}\n</g>'
        case _:
            return _text(mark)


def ornament(drawing: Drawing, *, css: str) -> str:
    """Return the drawing as an SVG element of class `css` that says nothing of its own: words stand beside it."""
    marks = "".join(mark_svg(m) for m in drawing.marks)
    box = f"0 0 {number(drawing.width)} {number(drawing.height)}"
    return f'<svg xmlns="http://www.w3.org/2000/svg" class="{css}" viewBox="{box}" aria-hidden="true">{marks}</svg>'


def _joined(marks: Sequence[Primitive]) -> list[str]:
    """Return marks as SVG text, where lines of one pen that follow each other, such as hatching, are one path."""
    found = []
    for name, run in groupby(marks, lambda mark: mark.pen if isinstance(mark, Line) else ""):
        here = list(run)
        ways = [
            f"M{number(ax)} {number(ay)}L{number(bx)} {number(by)}"
            for line in here
            if isinstance(line, Line)
            for (ax, ay), (bx, by) in [(line.a, line.b)]
        ]
        if len(ways) > 1:
            found.append(f'<path d="{"".join(ways)}" {_looks(name, filled=False)}/>')
        else:
            found += [mark_svg(mark) for mark in here]
    return found


def svg(drawing: Drawing, *, ids: str = "drawing", responsive: bool = False, joined: bool = False) -> str:
    """Return the drawing as one SVG element.

    `ids` starts the ids of title and description, so that several drawings can share a page. With `responsive` the
    size is left to the page; else it is fixed in millimetres. With `joined`, lines of one pen that follow each other
    outside groups are one element: the same picture, half as long, for pages that get it many times a second.
    """
    w, h = number(drawing.width), number(drawing.height)
    size = "" if responsive else f' width="{w}mm" height="{h}mm"'
    title, description = escape(drawing.title, quote=False), escape(drawing.description, quote=False)
    marks = "\n".join(_joined(drawing.marks) if joined else map(mark_svg, drawing.marks))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg"{size} viewBox="0 0 {w} {h}" role="img"'
        f' aria-labelledby="{ids}-title {ids}-text">\n'
        f'<title id="{ids}-title">{title}</title>\n<desc id="{ids}-text">{description}</desc>\n{marks}\n</svg>\n'
    )
