"""Pictures of fit and strength for the drawing board: SVG whose looks are the pens of the page's style sheet."""

from __future__ import annotations

from loftwright.core.hold_views import HoldPage
from loftwright.core.spelling import own_words
from loftwright.core.wording import Wording
from loftwright.documents.respelled import respelled_page
from loftwright.documents.typeset import printable
from loftwright.drawing.gap import gap_chart
from loftwright.drawing.page import Drawing
from loftwright.drawing.plan_view import cut_plan
from loftwright.drawing.svg import svg
from loftwright.drawing.wind_view import wanted_gust, wind_view

WIDTH_MM = 178.0
"""Width of a picture unless another is asked for [mm]; a page shows it as wide as its column."""
NARROW_MM = 110.0
"""Below this width what stands side by side stands one below the other."""


def _shown(drawing: Drawing, page: HoldPage, ids: str) -> str:
    made = svg(drawing, ids=ids, responsive=True, joined=True)
    return respelled_page(str(printable(made.replace("\n", " "))), page.words, own_words([page.name]))


def gap_svg(page: HoldPage, *, width: float = WIDTH_MM) -> str:
    """Return the gap round the rim, `width` [mm] wide; nothing where it is not known."""
    if page.gap is None:
        return ""
    return _shown(gap_chart(page.gap, width=width, height=max(64.0, 0.42 * width)), page, "gap")


def plan_svg(page: HoldPage, *, width: float = WIDTH_MM) -> str:
    """Return the roof from above with the cut, `width` [mm] wide."""
    return _shown(cut_plan(page.plan, Wording(page.units), width=width, height=0.75 * width), page, "plan")


def wind_svg(page: HoldPage, *, direction: int = 0, gust: int | None = None, width: float = WIDTH_MM) -> str:
    """Return the raised roof in the wind from one side, `width` [mm] wide; nothing where it is not judged.

    `direction` and `gust` count those of the page's wind; `gust` left out is the one wanted.
    """
    play = page.wind
    if play is None or not play.directions or not play.gusts:
        return ""
    at = wanted_gust(play) if gust is None else gust
    drawing = wind_view(play, direction, at, width=width, stacked=width < NARROW_MM)
    return _shown(drawing, page, f"wind-{direction}")
