"""Predicted against measured alone, as one SVG file."""

from __future__ import annotations

from loftwright.core.choice_views import ReadingChart
from loftwright.drawing.readings import reading_chart
from loftwright.drawing.svg import svg


def reading_chart_svg(chart: ReadingChart) -> str:
    """Return what was measured on the built roof beside what was expected, as an SVG text that stands alone."""
    return svg(reading_chart(chart), ids="readings")
