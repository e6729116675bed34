from __future__ import annotations

from loftwright.core.checks import Verdict
from loftwright.core.views import Curve
from loftwright.drawing.marks import curve_sample, verdict_mark
from loftwright.drawing.page import Line


def test_verdicts_are_told_apart_by_shape_alone() -> None:
    shapes = {tuple(type(mark).__name__ for mark in verdict_mark(verdict).marks) for verdict in Verdict}
    assert len(shapes) == len(Verdict)


def test_a_sample_is_drawn_with_the_curves_own_pen() -> None:
    mark = curve_sample(Curve("cold, aged", "push", "cold", "aged", ())).marks[0]
    assert isinstance(mark, Line)
    assert mark.pen == "cold-aged"
