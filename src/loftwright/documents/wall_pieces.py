"""Pieces of cloth made ready for paper: ordinates as text, straight lengths, and which ones are rectangles."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from loftwright.core.book_views import Paper
from loftwright.core.choices import Units
from loftwright.core.errors import Bug
from loftwright.core.pattern import XY, PatternPiece
from loftwright.core.quantity_text import inch_text
from loftwright.core.wall_views import WallPage
from loftwright.core.wording import Wording
from loftwright.drawing.page import Drawing
from loftwright.drawing.pattern import outer_contour, sides_of
from loftwright.drawing.pattern_sheet import SheetWords, panel_sheet

_SQUARE = 1e-4
"""A corner that is off by less than this is square [m]."""
_INCH = 0.0254
Row = tuple[str, str, str]
"""An ordinate as texts without their unit: along, low, high."""


@dataclass(frozen=True, slots=True)
class PanelSheet:
    """The sheet of one piece, and its whole table where the sheet has room for a part of it only."""

    piece: PatternPiece
    drawing: Drawing
    rest: tuple[Row, ...] = ()


def plain_rectangle(piece: PatternPiece) -> bool:
    """Return whether a piece is cut as a rectangle and carries no windows: its size says all of it."""
    line = outer_contour(piece)
    if len(line.vertices) != 4 or any(bulge != 0.0 for *_, bulge in line.vertices) or piece.ordinates:
        return False
    left, bottom, right, top = piece.box
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    spots = [(x, y) for x, y, _ in line.vertices]
    return not piece.of("mark") and all(min(math.dist(c, s) for s in spots) < _SQUARE for c in corners)


def cut_size(piece: PatternPiece, say: Wording) -> str:
    """Return width and height of the cut line, as text."""
    spots = outer_contour(piece).flattened()
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    return f"{say.short_length(max(xs) - min(xs))} x {say.short_length(max(ys) - min(ys))}"


def ordinate_unit(units: Units) -> str:
    """Return the unit of the ordinates on paper."""
    return "mm" if units == "metric" else "in"


def bare(metres: float, units: Units) -> str:
    """Return a length [m] without its unit: tenths of a millimetre, or 1/32 inch."""
    if units == "metric":
        text = f"{1000.0 * metres:.1f}"
        text = text.removesuffix(".0") if text != "-0.0" else "0"
        return text.replace("-", "\u2212")
    return inch_text(round(metres / _INCH * 32), 32, feet=False).removesuffix(" in").replace("-", "\u2212")


def figures_of(piece: PatternPiece, units: Units) -> tuple[Row, ...]:
    """Return the ordinates of a piece as texts."""
    return tuple((bare(along, units), bare(low, units), bare(high, units)) for along, low, high in piece.ordinates)


def _straight(piece: PatternPiece, say: Wording) -> tuple[tuple[tuple[XY, XY, str], ...], tuple[str, ...]]:
    """Return the straight lengths from corner to corner of what is sewn, and both diagonals in a sentence."""
    sides = sides_of(piece)
    if len(sides) < 4:
        return _rounded(piece, say)
    sizes = []
    for side in ("lower", "right", "upper", "left"):
        run = sides[side]
        if math.dist(run[0], run[-1]) > _SQUARE:
            sizes.append((run[0], run[-1], say.short_length(math.dist(run[0], run[-1]))))
    (a, b), (c, d) = (sides["lower"][0], sides["lower"][-1]), (sides["upper"][0], sides["upper"][-1])
    up, down = say.short_length(math.dist(a, c)), say.short_length(math.dist(b, d))
    return tuple(sizes), (
        f"Lengths at the edges are straight from corner to corner of what is sewn. Diagonals: {up} from lower left to "
        f"upper right, {down} from lower right to upper left.",
    )


def _rounded(piece: PatternPiece, say: Wording) -> tuple[tuple[tuple[XY, XY, str], ...], tuple[str, ...]]:
    """Return width and height of the cut line of a piece without corners, and in a sentence its arcs' radius."""
    line = outer_contour(piece)
    spots = line.flattened()
    (left, right), (bottom, top) = ((min(axis), max(axis)) for axis in zip(*spots, strict=True))
    sizes = (
        ((left, bottom), (right, bottom), say.short_length(right - left)),
        ((right, bottom), (right, top), say.short_length(top - bottom)),
    )
    following = (*line.vertices[1:], line.vertices[0])
    radii = {
        say.short_length(math.dist((x, y), (u, v)) / (2.0 * abs(math.sin(2.0 * math.atan(bulge)))))
        for (x, y, bulge), (u, v, _) in zip(line.vertices, following, strict=True)
        if bulge != 0.0
    }
    round_it = f" Corners: radius {radii.pop()}." if len(radii) == 1 else ""
    return sizes, (f"Width and height are those of the cut line.{round_it}",)


def panel_sheets(page: WallPage, paper: Paper) -> list[PanelSheet]:
    """Return one numbered sheet for every piece that is not given by its size alone."""
    pieces = [piece for piece in page.pieces if not plain_rectangle(piece)]
    return [_sheet(page, piece, paper, k, len(pieces)) for k, piece in enumerate(pieces, 1)]


def _sheet(page: WallPage, piece: PatternPiece, paper: Paper, number: int, count: int) -> PanelSheet:
    say = Wording(page.units)
    sizes, notes = _straight(piece, say)
    every = figures_of(piece, page.units)
    # A long piece has more ordinates than stand beside each other: every second, third... of them then.
    for step in (1, 2, 3, 4, 5, 8):
        kept = _thinned(piece.ordinates, step)
        shown = replace(piece, ordinates=tuple(piece.ordinates[k] for k in kept))
        more = () if step == 1 else ("All ordinates stand in the table behind these sheets.",)
        words = SheetWords(
            page.name,
            page.made_with,
            ordinate_unit(page.units),
            tuple(every[k] for k in kept),
            sizes,
            (*notes, *more),
        )
        try:
            drawing = panel_sheet(shown, words, paper=paper, number=number, count=count)
        except Bug:
            continue
        return PanelSheet(piece, drawing, () if step == 1 else every)
    raise Bug(f"piece {piece.number!r} fits no sheet")


def _thinned(ordinates: Sequence[object], step: int) -> list[int]:
    """Return the numbers of every `step`-th ordinate, the last one always among them."""
    last = len(ordinates) - 1
    return [k for k in range(last + 1) if k % step == 0 or k == last]


def edge_rows(pieces: Sequence[PatternPiece]) -> tuple[tuple[str, ...], ...]:
    """Return the table of edges: edge, how it is finished, allowance, and the pieces that have it so."""
    found: dict[tuple[str, str, str], list[str]] = {}
    for piece in pieces:
        for edge in piece.edges:
            found.setdefault(edge, []).append(piece.number)
    return tuple((*edge, ", ".join(dict.fromkeys(numbers))) for edge, numbers in found.items())
