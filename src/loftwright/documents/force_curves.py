"""The force curves alone, as one SVG file."""

from __future__ import annotations

from loftwright.core.views import ForceChart
from loftwright.drawing.chart import force_chart
from loftwright.drawing.svg import svg


def force_curves_svg(chart: ForceChart) -> str:
    """Return push and pull over how far open, with their limits, as an SVG text that stands alone."""
    return svg(force_chart(chart, width=186.0, height=80.0).drawing, ids="forces")
