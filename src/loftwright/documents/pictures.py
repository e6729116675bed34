"""The side views in the page's units."""

from __future__ import annotations

from loftwright.core.views import RoofPage
from loftwright.core.wording import Wording
from loftwright.drawing.elevation import side_views
from loftwright.drawing.page import Drawing

TEXT_WIDTH = 186.0
"""Width of the printed area of an A4 page [mm]."""

_METRE, _YARD = 1.0, 0.9144


def side_views_of(page: RoofPage, *, height: float = 92.0) -> Drawing:
    """Return open, half open and closed, at most `height` [mm] high, with dimensions in the page's units."""
    bar = _METRE if page.units == "metric" else _YARD
    return side_views(page.scene, page.poses, Wording(page.units), width=TEXT_WIDTH, height=height, bar=bar)
