"""Pieces of cloth as a DXF file in millimetres: layers for stitch, cut, marks and text, arcs as arcs.

The only place that knows DXF. Same pieces, same bytes.
"""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from threading import Lock
from typing import TYPE_CHECKING, Final

from loftwright.core.errors import Bug
from loftwright.core.pattern import ContourKind, PatternPiece
from loftwright.drawing.pattern import NOTCH
from loftwright.drawing.pattern_room import readable

if TYPE_CHECKING:
    from ezdxf.layouts.layout import Modelspace

LAYERS: Final[dict[ContourKind, str]] = {"stitch": "STITCH", "cut": "CUT", "mark": "MARKS"}
TEXT_LAYER: Final = "TEXT"
CHECK_MM: Final = 100.0
"""Side of the square to check by [mm]."""
_COLOURS: Final = {"STITCH": 5, "CUT": 1, "MARKS": 3, "TEXT": 7}
_BETWEEN = 100.0
_MARGIN = 30.0
_ONE_AT_A_TIME = Lock()


def pattern_dxf(pieces: Sequence[PatternPiece]) -> bytes:
    """Return one file with all `pieces` side by side, on the line y = 0 with their lowest points.

    The square to check by stands to the left of the first one. Errors: Bug where there is no piece.
    """
    from ezdxf import options  # type: ignore[attr-defined]
    from ezdxf.filemanagement import new

    if not pieces:
        raise Bug("a file of patterns needs a piece")
    # Dates and ids are left fixed while the file is made: the same pieces give the same bytes.
    with _ONE_AT_A_TIME:
        before = options.write_fixed_meta_data_for_testing
        options.write_fixed_meta_data_for_testing = True
        try:
            document = new("R2010", setup=False, units=4)
            for layer, colour in _COLOURS.items():
                document.layers.add(layer, color=colour)
            space = document.modelspace()
            _square(space)
            left = CHECK_MM + _BETWEEN
            for piece in pieces:
                x0, y0, x1, _ = piece.box
                _piece(space, piece, left - 1000.0 * x0, _MARGIN - 1000.0 * y0)
                left += 1000.0 * (x1 - x0) + _BETWEEN
            stream = io.StringIO()
            document.write(stream)
        finally:
            options.write_fixed_meta_data_for_testing = before
    return stream.getvalue().encode("utf-8")


def _square(space: Modelspace) -> None:
    side = CHECK_MM
    corners = ((0.0, _MARGIN), (side, _MARGIN), (side, _MARGIN + side), (0.0, _MARGIN + side))
    space.add_lwpolyline(corners, close=True, dxfattribs={"layer": LAYERS["mark"]})
    _text(space, "100 mm", side / 2, _MARGIN + side / 2, 8.0, 0.0)


def _text(space: Modelspace, text: str, x: float, y: float, high: float, turn: float) -> None:
    """Add a text with its middle at (x, y) [mm], never upside down; `turn` [rad] to the left."""
    from ezdxf.enums import TextEntityAlignment

    attributes = {"layer": TEXT_LAYER, "height": high, "rotation": -math.degrees(readable(-turn))}
    entity = space.add_text(text, dxfattribs=attributes)
    entity.set_placement((x, y), align=TextEntityAlignment.MIDDLE_CENTER)


def _piece(space: Modelspace, piece: PatternPiece, dx: float, dy: float) -> None:
    def at(spot: tuple[float, float]) -> tuple[float, float]:
        return 1000.0 * spot[0] + dx, 1000.0 * spot[1] + dy

    for contour in piece.contours:
        points = [(*at((x, y)), bulge) for x, y, bulge in contour.vertices]
        space.add_lwpolyline(points, format="xyb", close=contour.closed, dxfattribs={"layer": LAYERS[contour.kind]})
    for notch in piece.notches:
        (x, y), (ox, oy), half = at(notch.at), notch.out, NOTCH / 2
        triangle = ((x + oy * half, y - ox * half), (x + NOTCH * ox, y + NOTCH * oy), (x - oy * half, y + ox * half))
        space.add_lwpolyline(triangle, close=True, dxfattribs={"layer": LAYERS["mark"]})
        _text(space, notch.sign, x - 1.2 * NOTCH * ox, y - 1.2 * NOTCH * oy, 4.0, 0.0)
    if piece.grain is not None:
        a, b = at(piece.grain[0]), at(piece.grain[1])
        space.add_line(a, b, dxfattribs={"layer": LAYERS["mark"]})
        turn = math.atan2(b[1] - a[1], b[0] - a[0])
        for tip, way in ((b, turn), *(() if piece.nap else ((a, turn + math.pi),))):
            barbs = [(tip[0] - 8.0 * math.cos(way + side), tip[1] - 8.0 * math.sin(way + side)) for side in (0.4, -0.4)]
            space.add_lwpolyline((barbs[0], tip, barbs[1]), dxfattribs={"layer": LAYERS["mark"]})
    for word in piece.words:
        _text(space, word.text, *at(word.at), 1000.0 * word.size, word.turn)
    if not any(piece.number in word.text for word in piece.words):
        x0, y0, x1, _ = piece.box
        x, y = at(((x0 + x1) / 2, y0))
        _text(space, f"{piece.number} {piece.name}, cut {piece.count} of {piece.material}", x, y - 15.0, 10.0, 0.0)
