"""A neutral stream of drawing primitives in millimetres on paper, x to the right, y down.

A primitive names its pen; what a pen looks like is written once, in `PENS`. Writers turn the
stream into a file format.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Literal

from loftwright.core.errors import Bug

XY = tuple[float, float]
"""A place on the page [mm]."""

Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True)
class Pen:
    """How a line is drawn on white paper: width [mm], colour, dash lengths [mm], and the filling of closed shapes."""

    width: float
    colour: str
    dash: tuple[float, ...] = ()
    fill: str = "none"
    round: bool = False


_INK, _SOFT, _FAINT, _PAPER = "#1b1f24", "#4a4f57", "#8b9098", "#ffffff"
_STEEL, _COLD, _HOT, _GOLD, _BAD = "#33475b", "#0b4f8a", "#9c2f0e", "#6b4e00", "#8c1d2f"

PENS: dict[str, Pen] = {
    "ink": Pen(0.25, _INK),
    "fine": Pen(0.15, _SOFT),
    "note": Pen(0.15, _SOFT),
    "paper": Pen(0.0, "none", fill=_PAPER),
    "steel": Pen(0.18, _STEEL, fill="#c9d2da"),
    "upstand": Pen(0.18, _STEEL, fill=_STEEL),
    "floor": Pen(0.35, _STEEL),
    "board": Pen(0.18, _GOLD, fill="#e6d8b0"),
    "shell": Pen(0.40, _INK, fill="#f1ede2"),
    "ghost": Pen(0.18, _FAINT, (1.6, 0.9)),
    "rim": Pen(0.55, _INK),
    "item": Pen(0.22, _INK, fill="#d9dde2"),
    "arm": Pen(0.25, _INK, fill="#ffffff"),
    "pivot": Pen(0.30, _INK, fill="#ffffff"),
    "tube": Pen(1.10, _STEEL),
    "rod": Pen(0.45, _STEEL),
    "strap": Pen(0.45, _GOLD, (0.9, 0.6)),
    "person": Pen(0.30, _SOFT, fill="#e9ebee"),
    "dim": Pen(0.13, _SOFT),
    "arrow": Pen(0.10, _SOFT, fill=_SOFT),
    "leader": Pen(0.13, _FAINT),
    "grid": Pen(0.10, "#c3c7cc"),
    "axis": Pen(0.25, _INK),
    "zero": Pen(0.40, _INK),
    "limit": Pen(0.35, _BAD),
    "hatch": Pen(0.13, _BAD),
    "failed": Pen(0.4, _BAD, fill=_BAD),
    "cross": Pen(0.6, _PAPER),
    "sign": Pen(0.4, _INK),
    "outline": Pen(0.30, _INK),
    "thin-outline": Pen(0.15, _SOFT),
    "sign-plate": Pen(0.40, _INK, fill=_PAPER),
    "start-hole": Pen(0.40, _INK, fill=_INK),
    "on-black": Pen(0.0, _PAPER),
    "timber": Pen(0.22, _INK, fill="#f1ede2"),
    "timber-end": Pen(0.22, _INK, fill="#e6d8b0"),
    "marker": Pen(0.40, _INK),
    "cold": Pen(0.60, _COLD, (2.6, 1.0)),
    "cold-aged": Pen(0.35, _COLD, (2.6, 0.8, 0.5, 0.8)),
    "mild": Pen(0.70, _INK),
    "mild-aged": Pen(0.40, _INK, (1.1, 0.7)),
    "hot": Pen(0.70, _HOT, (0.05, 1.15), round=True),
    "hot-aged": Pen(0.40, _HOT, (0.05, 0.8, 1.6, 0.8), round=True),
    "sun": Pen(0.60, _GOLD, (4.2, 0.8)),
    "sun-aged": Pen(0.35, _GOLD, (4.2, 0.8, 0.4, 0.6)),
    "band-cold": Pen(0.0, "none", fill="#dbe8f4"),
    "band-mild": Pen(0.0, "none", fill="#e4e5e7"),
    "band-hot": Pen(0.0, "none", fill="#f6e1d9"),
    "band-sun": Pen(0.0, "none", fill="#efe6cf"),
}


def pen(name: str) -> Pen:
    """Return a pen by its name."""
    if name not in PENS:
        raise Bug(f"no pen is called {name!r}")
    return PENS[name]


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    a: XY
    b: XY
    pen: str


@dataclass(frozen=True, slots=True)
class Polyline:
    """An open run of straight lines, never filled."""

    points: tuple[XY, ...]
    pen: str


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed shape."""

    points: tuple[XY, ...]
    pen: str


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle of radius `r`."""

    centre: XY
    r: float
    pen: str


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text on its baseline. `turn` [rad] turns it from x towards y about `at`."""

    at: XY
    text: str
    size: float = 2.5
    anchor: Anchor = "start"
    pen: str = "ink"
    bold: bool = False
    turn: float = 0.0
    halo: bool = False
    """Whether a patch of paper keeps it readable over lines."""


@dataclass(frozen=True, slots=True)
class Group:
    """Primitives that move or are styled together; `name` becomes their mark in the file."""

    name: str
    marks: tuple[Primitive, ...]
    shift: XY = (0.0, 0.0)


Primitive = Line | Polyline | Polygon | Circle | Text | Group


@dataclass(frozen=True, slots=True)
class Drawing:
    """A finished drawing: its size [mm], a title and a description for those who cannot see it, and its marks."""

    width: float
    height: float
    title: str
    description: str
    marks: tuple[Primitive, ...]


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle on the page, y down."""

    x0: float
    y0: float
    x1: float
    y1: float

    def overlaps(self, other: Rect, gap: float = 0.0) -> bool:
        """Return whether the two come closer than `gap` [mm]."""
        return (
            self.x0 < other.x1 + gap
            and other.x0 < self.x1 + gap
            and self.y0 < other.y1 + gap
            and other.y0 < self.y1 + gap
        )

    def overlaps_any(self, others: Iterable[Rect], gap: float = 0.0) -> bool:
        """Return whether one of `others` comes closer than `gap` [mm]; a drawing asks this ten thousand times."""
        x0, y0, x1, y1 = self.x0, self.y0, self.x1 + gap, self.y1 + gap
        for other in others:  # noqa: SIM110 - a generator would take twice as long
            if x0 < other.x1 + gap and other.x0 < x1 and y0 < other.y1 + gap and other.y0 < y1:
                return True
        return False

    def within(self, other: Rect) -> bool:
        """Return whether this one lies wholly inside `other`."""
        return other.x0 <= self.x0 and other.y0 <= self.y0 and self.x1 <= other.x1 and self.y1 <= other.y1


# Advance widths of printable ASCII, thousandths of the size, read from the shipped font's tables.
_REGULAR = (
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556, 556, 556,
    556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833,
    722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556,
    556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334,
    260, 334, 584,
)  # fmt: skip
_BOLD = (
    278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556, 556, 556,
    556, 556, 556, 333, 333, 584, 584, 584, 611, 975, 722, 722, 722, 722, 667, 611, 778, 722, 278, 556, 722, 611, 833,
    722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333, 278, 333, 584, 556, 333, 556, 611, 556, 611,
    556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611, 611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389,
    280, 389, 584,
)  # fmt: skip
_OTHER = {
    "\u00a0": 278,
    "−": 584,
    "°": 400,
    "±": 549,
    "×": 584,
    "–": 556,
    "·": 333,
    "′": 240,
    "″": 479,
    "’": 278,
    "½": 834,
    "¼": 834,
}


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Return how wide `text` is at `size` [mm], never too little: unlisted characters count as full width."""
    table = _BOLD if bold else _REGULAR
    return size / 1000 * sum(table[ord(c) - 32] if " " <= c <= "~" else _OTHER.get(c, 1000) for c in text)


def _extent(text: Text) -> tuple[float, float, float, float]:
    """Return how far a text reaches from its place: left, up, right, down [mm], turned or not."""
    width = text_width(text.text, text.size, bold=text.bold)
    x0 = {"start": 0.0, "middle": -width / 2, "end": -width}[text.anchor]
    y0, y1 = -0.76 * text.size, 0.22 * text.size
    cos, sin = math.cos(text.turn), math.sin(text.turn)
    corners = [(cos * x - sin * y, sin * x + cos * y) for x in (x0, x0 + width) for y in (y0, y1)]
    xs, ys = [c[0] for c in corners], [c[1] for c in corners]
    return min(xs), min(ys), max(xs), max(ys)


def text_box(text: Text) -> Rect:
    """Return the upright rectangle round a text, turned or not."""
    x0, y0, x1, y1 = _extent(text)
    x, y = text.at
    return Rect(x0 + x, y0 + y, x1 + x, y1 + y)


def texts(marks: Iterable[Primitive], shift: XY = (0.0, 0.0)) -> list[Text]:
    """Return every text of a stream, groups opened and shifts applied."""
    found: list[Text] = []
    for mark in marks:
        if isinstance(mark, Text):
            found.append(replace(mark, at=(mark.at[0] + shift[0], mark.at[1] + shift[1])))
        elif isinstance(mark, Group):
            found += texts(mark.marks, (shift[0] + mark.shift[0], shift[1] + mark.shift[1]))
    return found


def shortened(text: str, width: float, size: float, *, bold: bool = False) -> str:
    """Return `text`, cut with "..." where it would be wider than `width` [mm]."""
    if text_width(text, size, bold=bold) <= width:
        return text
    while text and text_width(text + "...", size, bold=bold) > width:
        text = text[:-1]
    return text.rstrip() + "..."


def crosses(box: Rect, a: XY, b: XY) -> bool:
    """Return whether the straight line from a to b touches `box`."""
    low, high = 0.0, 1.0
    for start, way, least, most in ((a[0], b[0] - a[0], box.x0, box.x1), (a[1], b[1] - a[1], box.y0, box.y1)):
        if way == 0:
            if not least <= start <= most:
                return False
            continue
        near, far = sorted(((least - start) / way, (most - start) / way))
        low, high = max(low, near), min(high, far)
    return low <= high


def _runs(marks: Iterable[Primitive]) -> list[tuple[XY, XY]]:
    """Return every straight line of a stream, closed shapes by their sides, circles by the square round them."""
    found: list[tuple[XY, XY]] = []
    for mark in marks:
        match mark:
            case Line(a, b, _):
                found.append((a, b))
            case Polyline(points, _):
                found += pairwise(points)
            case Polygon(points, _):
                found += pairwise((*points, points[0]))
            case Circle((x, y), r, _):
                corners = ((x - r, y - r), (x + r, y - r), (x + r, y + r), (x - r, y + r))
                found += pairwise((*corners, corners[0]))
            case _:
                pass
    return found


def unpatched(labels: Iterable[Primitive], marks: Iterable[Primitive]) -> list[Primitive]:
    """Return `labels`, without the patch of paper where no line of `marks` runs under a text."""
    lines = _runs(marks)

    def freed(label: Primitive) -> Primitive:
        if isinstance(label, Text) and label.halo and not any(crosses(text_box(label), a, b) for a, b in lines):
            return replace(label, halo=False)
        return label

    return [freed(label) for label in labels]


_REACH = tuple(
    (r * math.cos(k * math.pi / 8), r * math.sin(k * math.pi / 8))
    for r in (1.5, 3.0, 4.5, 6.0, 8.0, 10.0, 13.0, 16.0, 20.0, 25.0)
    for k in range(16)
)
"""Where else a label may stand, from its first place [mm], nearest first."""


@dataclass(slots=True)
class Placer:
    """Finds room for labels: keeps what is taken, and offers each label its wished places in turn."""

    bounds: Rect
    gap: float = 0.5
    taken: list[Rect] = field(default_factory=list)
    avoided: list[Rect] = field(default_factory=list)
    """Places worth avoiding, such as the lines of the roof."""
    faint: list[Rect] = field(default_factory=list)
    """Places worth avoiding where that costs nothing, such as ghost lines."""

    def fits(self, box: Rect, *, care: int = 0) -> bool:
        """Return whether `box` is free; `care` 1 keeps clear of what is worth avoiding, 2 of faint things too."""
        if not box.within(self.bounds) or box.overlaps_any(self.taken, self.gap):
            return False
        if care >= 1 and box.overlaps_any(self.avoided):
            return False
        return care < 2 or not box.overlaps_any(self.faint)

    def place(self, text: Text, places: Sequence[XY], *, near: bool = True, care: int = 0) -> Text | None:
        """Return `text` at the first free place, else near the first one (if `near`), else None; and take the place.

        The most careful placing is tried first, down to `care` (see `fits`).
        """
        tries = list(places)
        if near:
            tries += ((places[0][0] + dx, places[0][1] + dy) for dx, dy in _REACH)
        x0, y0, x1, y1 = _extent(text)
        for level in range(2, care - 1, -1):
            for x, y in tries:
                box = Rect(x0 + x, y0 + y, x1 + x, y1 + y)
                if self.fits(box, care=level):
                    self.taken.append(box)
                    return replace(text, at=(x, y))
        return None

    def avoid_line(self, points: Sequence[XY], width: float = 0.3, *, faint: bool = False) -> None:
        """Keep labels off a run of lines where there is room elsewhere."""
        into = self.faint if faint else self.avoided
        for (ax, ay), (bx, by) in pairwise(points):
            n = max(1, round(math.hypot(bx - ax, by - ay) / 1.5))
            x0, y0 = ax, ay
            for i in range(1, n + 1):
                x1, y1 = ax + (bx - ax) * i / n, ay + (by - ay) * i / n
                left, right = (x0, x1) if x0 < x1 else (x1, x0)
                top, bottom = (y0, y1) if y0 < y1 else (y1, y0)
                into.append(Rect(left - width, top - width, right + width, bottom + width))
                x0, y0 = x1, y1


def spread(centres: Sequence[float], sizes: Sequence[float], low: float, high: float, gap: float) -> list[float]:
    """Return centres moved as little as is needed so that intervals of `sizes` do not touch within low..high.

    The order is kept. Neighbours that collide are merged into a block that sits at its members' mean wish; a block is
    then pushed inside the ends. Raises Bug when they cannot all fit.
    """
    total = sum(sizes) + gap * max(0, len(sizes) - 1)
    if total > high - low + 1e-9:
        raise Bug(f"labels {total:.1f} mm long do not fit into {high - low:.1f} mm")
    order = sorted(range(len(centres)), key=lambda i: (centres[i], i))
    blocks: list[tuple[float, float, list[int]]] = []  # start, length, members
    for i in order:
        start, length, members = centres[i] - sizes[i] / 2, sizes[i], [i]
        start = min(max(start, low), high - length)
        while blocks and blocks[-1][0] + blocks[-1][1] + gap > start:
            _, before, others = blocks.pop()
            members, length = others + members, before + gap + length
            wish, offset = 0.0, 0.0
            for j in members:
                wish += centres[j] - sizes[j] / 2 - offset
                offset += sizes[j] + gap
            start = min(max(wish / len(members), low), high - length)
        blocks.append((start, length, members))
    out = [0.0] * len(centres)
    for start, _, members in blocks:
        for j in members:
            out[j] = start + sizes[j] / 2
            start += sizes[j] + gap
    return out
