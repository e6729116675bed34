"""Where to bolt lifting arms that are at hand, as plain text and as a picture."""

from __future__ import annotations

from loftwright.core.link_views import LinksPage
from loftwright.documents.plain_text import Look, as_text, caution_lines, fact_lines, heading, points
from loftwright.drawing.bolting import bolting
from loftwright.drawing.svg import svg


def links_text(page: LinksPage, look: Look) -> str:
    """Return the ways to bolt the arms, best first, or why there is none."""
    lines = [look.bold(page.name), *look.wrapped(page.subtitle)]
    lines += heading(look, "Asked") + fact_lines(page.asked, look)
    for answer in page.answers:
        lines += heading(look, f"{answer.number}.") + fact_lines((*answer.pivots, *answer.figures), look)
    if page.none:
        lines += heading(look, "No answer") + look.wrapped(page.none)
    lines += heading(look, "How they were found") + points(page.sifted, look)
    lines += heading(look, "Assumed") + points(page.assumptions, look)
    lines += caution_lines(page.cautions, look)
    return as_text(lines)


def links_svg(page: LinksPage) -> str:
    """Return a picture of every answer as an SVG text that stands alone."""
    return svg(bolting([(f"{answer.number}.", answer.picture) for answer in page.answers]), ids="links")
