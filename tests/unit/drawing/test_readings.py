"""Predicted against measured as a drawing: everything on the page, nothing on top of each other. Constructed cases."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest

from loftwright.core.choice_views import ReadingChart
from loftwright.core.errors import Bug
from loftwright.documents.reading_chart import reading_chart_svg
from loftwright.drawing.page import Circle, Line, Rect, text_box, texts
from loftwright.drawing.readings import reading_chart


def chart(count: int) -> ReadingChart:
    measured = tuple(12.0 - 5.0 * (k % 4) for k in range(count))
    return ReadingChart(
        unit="kg",
        percent=tuple(10.0 * (k % 10) for k in range(count)),
        measured=measured,
        before_low=tuple(v - 3.0 for v in measured),
        before_high=tuple(v + 2.0 for v in measured),
        after=tuple(v + 0.2 for v in measured),
        labels=tuple(f"{k + 1} {'push up' if k % 2 else 'pull down'}" for k in range(count)),
    )


@pytest.mark.parametrize("count", [1, 4, 12, 60])
def test_everything_fits(count: int) -> None:
    drawing = reading_chart(chart(count))
    page = Rect(-0.01, -0.01, drawing.width + 0.01, drawing.height + 0.01)
    boxes = [text_box(text) for text in texts(drawing.marks)]
    assert all(box.within(page) for box in boxes)
    assert not any(a.overlaps(b) for a, b in combinations(boxes, 2))
    # One ring for each reading, and one in the legend.
    rings = [mark for mark in drawing.marks if isinstance(mark, Circle)]
    assert len(rings) == count + 1


def test_rings_stand_where_the_axis_says() -> None:
    one = chart(1)
    drawing = reading_chart(one)
    (zero,) = [mark for mark in drawing.marks if isinstance(mark, Line) and mark.pen == "zero"]
    figures = {t.text: t.at[1] - 0.8 for t in texts(drawing.marks) if t.anchor == "end"}
    ring = [mark for mark in drawing.marks if isinstance(mark, Circle)][-1]
    per_kg = (figures["0"] - figures["10"]) / 10
    assert zero.a[1] == pytest.approx(figures["0"])
    assert (zero.a[1] - ring.centre[1]) / per_kg == pytest.approx(one.measured[0])


def test_words_for_those_who_cannot_see_it() -> None:
    said = reading_chart_svg(chart(2))
    assert "1 pull down at 0 %: measured 12.0 kg, expected before 9.0 to 14.0, now 12.2." in said
    assert "2 push up at 10 %: measured 7.0 kg" in said


def test_uneven_or_empty_charts_are_bugs() -> None:
    with pytest.raises(Bug):
        reading_chart(replace(chart(2), after=(1.0,)))
    with pytest.raises(Bug):
        reading_chart(chart(0))
    with pytest.raises(Bug):
        reading_chart(replace(chart(1), measured=(float("nan"),)))
