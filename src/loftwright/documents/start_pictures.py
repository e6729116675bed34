"""Pictures of the first questions: each way of lifting as a small sign, and the roof that the answers make."""

from __future__ import annotations

from functools import cache
from typing import Final

from loftwright.core.choices import Units
from loftwright.core.scene import PoseTable, Scene
from loftwright.core.units import size_of
from loftwright.core.wording import Wording
from loftwright.documents.ornaments import Ready
from loftwright.drawing.lifting_signs import lifting_sign
from loftwright.drawing.open_view import open_view
from loftwright.drawing.svg import ornament, svg

PX_PER_MM: Final = 5.0
"""CSS pixels for a millimetre of the drawing."""
NARROWEST_PX, WIDEST_PX = 240.0, 1200.0
_TALLEST = 100.0


@cache
def lifting_picture(way: str) -> Ready:
    """Return the small picture of a way of lifting; words stand beside it."""
    return Ready(ornament(lifting_sign(way), css="way-sign"))


def start_picture(scene: Scene, poses: PoseTable, units: Units, *, width_px: float) -> Ready:
    """Return the open roof to scale for a column of `width_px` CSS pixels."""
    width = min(max(width_px, NARROWEST_PX), WIDEST_PX) / PX_PER_MM
    bar = 1.0 if units == "metric" else 3 * size_of("ft")
    says = Wording(units)
    drawing = open_view(scene, poses, says, width=width, height=min(_TALLEST, 1.15 * width), bar=bar)
    return Ready(svg(drawing, ids="first-look", responsive=True))
