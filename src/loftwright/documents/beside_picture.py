"""Two roofs side by side as data for a page: both drawings at one scale, both charts on one axis."""

from __future__ import annotations

from typing import Any

from loftwright.core.board_views import Trial
from loftwright.core.views import RoofPage
from loftwright.documents.board_picture import picture


def pictures_beside(here: RoofPage, there: RoofPage, *, width_px: float) -> tuple[dict[str, Any], dict[str, Any]]:
    """Return the drawings of two roofs, each for a column of `width_px` CSS pixels, ready for JSON.

    Both show the same piece of the van, so that a length is as long in the one as in the other.
    """
    one, two = (Trial(page.scene, page.poses, page.chart, (), (), ()) for page in (here, there))
    units = here.units
    # The window of the first is made larger where the second needs it, and then holds both.
    first = picture(one, width_px=width_px, units=units)["side"]["window"]
    right = picture(two, width_px=width_px, window=tuple(first), units=units, ids="there-", also=here.chart)
    both = tuple(right["side"]["window"])
    return picture(one, width_px=width_px, window=both, units=units, ids="here-", also=there.chart), right
