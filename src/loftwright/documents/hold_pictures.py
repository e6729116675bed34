"""The gap round the rim for the drawing board: SVG whose looks are the pens of the page's style sheet."""

from __future__ import annotations

from loftwright.core.hold_views import HoldPage
from loftwright.core.spelling import own_words
from loftwright.documents.respelled import respelled_page
from loftwright.documents.typeset import printable
from loftwright.drawing.gap import gap_chart
from loftwright.drawing.svg import svg

WIDTH_MM = 178.0
"""Width of the picture unless another is asked for [mm]; a page shows it as wide as its column."""


def gap_svg(page: HoldPage, *, width: float = WIDTH_MM) -> str:
    """Return the gap round the rim, `width` [mm] wide; nothing where it is not known."""
    if page.gap is None:
        return ""
    drawing = gap_chart(page.gap, width=width, height=max(64.0, 0.42 * width))
    made = svg(drawing, ids="gap", responsive=True, joined=True)
    return respelled_page(str(printable(made.replace("\n", " "))), page.words, own_words([page.name]))
