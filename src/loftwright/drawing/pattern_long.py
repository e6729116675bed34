"""The head and the check square of a page with patterns at full size, and one long page with all of them."""

from __future__ import annotations

from collections.abc import Sequence

from loftwright.core.choices import Units
from loftwright.core.errors import Bug
from loftwright.core.pattern import PatternPiece
from loftwright.drawing.page import Drawing, Group, Line, Polygon, Primitive, Text, shortened, text_width, unpatched
from loftwright.drawing.pattern import piece_drawing
from loftwright.drawing.tiles import MARGIN, SQUARE_MM

CHECK: dict[Units, str] = {"metric": "100 mm", "imperial": "4 in"}
"""How long the side of the square to check by is."""


def page_head(title: str, right: str, lines: Sequence[str], width: float, made_with: str) -> list[Primitive]:
    """Return title, what stands at the right, lines beneath and how to print it, over a rule."""
    x0, x1, y = MARGIN, width - MARGIN, MARGIN
    room = x1 - x0 - text_width(right, 4.0, bold=True) - 6.0
    marks: list[Primitive] = [
        Text((x0, y + 5.0), shortened(title, room, 5.0, bold=True), 5.0, "start", "ink", True),
        Text((x1, y + 5.0), right, 4.0, "end", "ink", True),
    ]
    for k, line in enumerate(lines):
        marks.append(Text((x0, y + 10.4 + 4.0 * k), shortened(line, x1 - x0, 2.9), 2.9, "start", "note"))
    y += 10.4 + 4.0 * len(lines)
    marks += [
        Text((x0, y), "Full size: print at 100 %, without fitting to the page.", 2.9, "start", "ink", True),
        Text((x1, y), shortened(made_with, 60.0, 2.2), 2.2, "end", "note"),
        Line((x0, y + 2.6), (x1, y + 2.6), "ink"),
    ]
    return marks


def check_square_at(x0: float, y0: float, units: Units) -> list[Primitive]:
    """Return the square to check the printer by, its upper left corner at (x0, y0)."""
    side = SQUARE_MM[units]
    box = ((x0, y0), (x0 + side, y0), (x0 + side, y0 + side), (x0, y0 + side))
    return [
        Polygon(box, "outline"),
        Text((x0 + side / 2, y0 + 6.0), f"{CHECK[units]} wide and high", 3.4, "middle", "ink", True),
        Text((x0 + side / 2, y0 + 10.6), "Measure it before you trust this paper.", 2.9, "middle", "ink"),
    ]


def long_page(
    pieces: Sequence[PatternPiece],
    *,
    units: Units,
    name: str,
    made_with: str,
    figures: Sequence[Sequence[tuple[str, str, str]]] = (),
) -> Drawing:
    """Return one page with all `pieces` side by side at full size and the check square, as large as it needs to be.

    As SVG it keeps its millimetres. `figures` are the ordinates of each piece as texts. Errors: Bug without a piece.
    """
    if not pieces:
        raise Bug("a long page needs a piece")
    made = [piece_drawing(piece, figures[k] if k < len(figures) else ()) for k, piece in enumerate(pieces)]
    side = SQUARE_MM[units]
    left, top = MARGIN + side + 20.0, MARGIN + 30.0
    tall = max(side, *(one.reach.y1 - one.reach.y0 for one in made))
    marks: list[Primitive] = check_square_at(MARGIN, top, units)
    for piece, one in zip(pieces, made, strict=True):
        reach = one.reach
        lines = [mark for mark in one.lines if not isinstance(mark, Text)]
        texts = [text for word in one.words for text in word.at(word.places[0])]
        shift = (left - reach.x0, top + tall - reach.y1)
        marks.append(Group(f"piece {piece.number}", (*lines, *unpatched(texts, lines)), shift))
        left += reach.x1 - reach.x0 + 20.0
    width, height = left - 20.0 + MARGIN, top + tall + MARGIN
    numbers = ", ".join(piece.number for piece in pieces)
    head = page_head(f"Pieces {numbers}" if len(pieces) > 1 else f"Piece {numbers}", "", [name], width, made_with)
    description = f"Full size, with a square of {CHECK[units]} to check the printer by."
    return Drawing(width, height, f"Patterns {numbers}, full size", description, (*head, *marks))
