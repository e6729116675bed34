"""Small signs beside words on a page, as SVG text: a verdict's shape, a sample of a curve."""

from __future__ import annotations

from functools import cache

from loftwright.core.checks import Verdict
from loftwright.core.views import Curve
from loftwright.drawing.marks import curve_sample, verdict_mark
from loftwright.drawing.svg import ornament


class Ready(str):
    """Text that is HTML already and is not escaped again."""

    def __html__(self) -> str:
        """Return the text as it is."""
        return str(self)


@cache
def verdict_sign(verdict: Verdict) -> Ready:
    """Return the sign of a verdict: told apart by its shape; words stand beside it."""
    return Ready(ornament(verdict_mark(verdict), css="mark"))


def curve_sign(curve: Curve) -> Ready:
    """Return a short piece of a curve's line."""
    return Ready(ornament(curve_sample(curve), css="sample"))
