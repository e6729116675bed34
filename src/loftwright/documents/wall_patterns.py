"""Patterns of the cloth walls at full size: tiles to tape together, long pages, SVG and DXF files."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from loftwright.core.book_views import PAPER_MM, Paper
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.pattern import PatternPiece
from loftwright.core.spelling import own_words
from loftwright.core.wall_views import WallPage
from loftwright.core.wording import Wording
from loftwright.documents.chapters import paper_for
from loftwright.documents.hold_pieces import cautions
from loftwright.documents.respelled import respelled_page
from loftwright.documents.roof_sheet import cut
from loftwright.documents.typeset import pdf, printable
from loftwright.documents.wall_lists import FIRST_PAGE, TILES_USE
from loftwright.documents.wall_pieces import cut_size, figures_of, plain_rectangle
from loftwright.drawing.dxf import pattern_dxf
from loftwright.drawing.page import Drawing
from loftwright.drawing.pattern import piece_drawing
from loftwright.drawing.pattern_long import check_square_at, long_page
from loftwright.drawing.pattern_tiles import pattern_tiles
from loftwright.drawing.svg import svg
from loftwright.drawing.tiles import SQUARE_MM

LONGEST_PAGE: Final = 5000.0
"""Longest page that every program shows: 14 400 points are 5080 mm [mm]."""
_BETWEEN, _BESIDE = 20.0, 144.0
"""Between pieces on a long page, and what square and margins take of it [mm]."""
_LONGEST_NAME = 160


def tiles_pdf(page: WallPage, paper: Paper | None = None) -> bytes:
    """Return all pieces at full size on sheets of `paper`: a first page that lists them, then map and tiles of each.

    `paper` left out is that of the page's units. Plain rectangles stand on the first page by their sizes alone. Errors:
    ProjectFault where there is no piece.
    """
    chosen = paper or paper_for(page.units)
    say = Wording(page.units)
    name = cut(page.name, _LONGEST_NAME)
    rows, sheets = [], []
    at = 2
    for piece in _there(page):
        if plain_rectangle(piece):
            continue
        made = pattern_tiles(
            piece,
            units=page.units,
            paper=chosen,
            use=TILES_USE,
            name=name,
            made_with=page.made_with,
            figures=figures_of(piece, page.units),
        )
        rows.append(
            {
                "number": piece.number,
                "name": piece.name,
                "cut": f"{piece.count} of {piece.material}",
                "map": str(at),
                "tiles": f"{len(made) - 1}",
                "pages": f"{at + 1} to {at + len(made) - 1}" if len(made) > 2 else f"{at + 1}",
            }
        )
        at += len(made)
        sheets += [_sheet(one) for one in made]
    side = SQUARE_MM[page.units]
    square = Drawing(
        side + 2.0, side + 2.0, "Check square", "To check the printer by.", tuple(check_square_at(1.0, 1.0, page.units))
    )
    sizes = [
        {
            "number": piece.number,
            "name": piece.name,
            "cut": f"{piece.count} of {piece.material}",
            "size": cut_size(piece, say),
        }
        for piece in page.pieces
        if plain_rectangle(piece)
    ]
    first: dict[str, object] = {
        "title": "Patterns, full size",
        "count": f"{at - 1} pages with this one",
        "square": svg(square),
        "use": list(FIRST_PAGE),
        "rows": rows,
        "sizes": sizes,
        "cautions": cautions(page),
    }
    return _printed(page, chosen, first, sheets)


def long_pdf(page: WallPage) -> bytes:
    """Return all pieces at full size on long pages, side by side as far as a page may be long.

    A piece that is longer than that has a page of its own, which some programs do not show. Errors: ProjectFault where
    there is no piece.
    """
    sheets = [_sheet(_long(page, pieces)) for pieces in _runs(_there(page))]
    return _printed(page, "a4", None, sheets)


def dxf(page: WallPage) -> bytes:
    """Return all pieces as one DXF drawing in millimetres. Errors: ProjectFault where there is no piece."""
    return pattern_dxf(_there(page))


def svgs(page: WallPage) -> dict[str, bytes]:
    """Return each piece at full size as an SVG, by file name. Errors: ProjectFault where there is no piece."""
    found: dict[str, bytes] = {}
    own = _own(page)
    for piece in _there(page):
        made = respelled_page(str(printable(svg(_long(page, (piece,))).replace("\n", " "))), page.words, own)
        found[f"{re.sub(r'[^A-Za-z0-9-]+', '-', piece.number)}.svg"] = made.encode("utf-8")
    return found


def _there(page: WallPage) -> tuple[PatternPiece, ...]:
    if not page.pieces:
        raise ProjectFault(
            [
                Fault(
                    "patterns", "not there", "no piece of cloth is known", "run loftwright walls to see what is missing"
                )
            ]
        )
    return page.pieces


def _own(page: WallPage) -> tuple[str, ...]:
    return own_words([page.name, *(piece.material for piece in page.pieces)])


def _sheet(drawing: Drawing) -> dict[str, str | float]:
    return {"width": drawing.width, "height": drawing.height, "picture": svg(drawing)}


def _long(page: WallPage, pieces: Sequence[PatternPiece]) -> Drawing:
    return long_page(
        pieces,
        units=page.units,
        name=cut(page.name, _LONGEST_NAME),
        made_with=page.made_with,
        figures=[figures_of(piece, page.units) for piece in pieces],
    )


def _runs(pieces: Sequence[PatternPiece]) -> list[list[PatternPiece]]:
    """Return pieces in their order, as many to a page as its length allows."""
    runs: list[list[PatternPiece]] = []
    length = 0.0
    for piece in pieces:
        reach = piece_drawing(piece).reach
        wide = reach.x1 - reach.x0 + _BETWEEN
        if runs and length + wide <= LONGEST_PAGE:
            runs[-1].append(piece)
            length += wide
        else:
            runs.append([piece])
            length = _BESIDE + wide
    return runs


def _printed(
    page: WallPage, paper: Paper, first: dict[str, object] | None, sheets: Sequence[dict[str, str | float]]
) -> bytes:
    return pdf(
        "patterns.typ",
        {
            "paper": "a4" if paper == "a4" else "us-letter",
            "margin": 12.0 if PAPER_MM[paper][0] < 215.0 else 14.95,
            "name": cut(page.name, _LONGEST_NAME),
            "made_with": page.made_with,
            "first": first,
            "sheets": list(sheets),
        },
        page.words,
        _own(page),
    )
