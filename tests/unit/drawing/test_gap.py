"""The gap round the rim: drawn to its scale, hatched outside the seal's range, every word on the paper and apart."""

from __future__ import annotations

import importlib.util
from dataclasses import replace
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest

from loftwright.core.errors import Bug
from loftwright.drawing.gap import gap_chart
from loftwright.drawing.hatching import clipped, clipped_run, hatched
from loftwright.drawing.page import Circle, Drawing, Line, Polyline, Rect, pen, text_box, texts

_SPEC = importlib.util.spec_from_file_location(
    "sample_hold", Path(__file__).parents[1] / "documents" / "sample_hold.py"
)
assert _SPEC is not None
assert _SPEC.loader is not None
hold: Any = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(hold)

WIDTHS = (90.0, 140.0, 178.0)


def whole(drawing: Drawing) -> None:
    """All texts on the paper, none over another."""
    paper = Rect(-0.1, -0.1, drawing.width + 0.1, drawing.height + 0.1)
    found = texts(drawing.marks)
    for text in found:
        assert text_box(text).within(paper), text
    for a, b in combinations(found, 2):
        assert not text_box(a).overlaps(text_box(b), -0.15), (a.text, b.text)
    for mark in drawing.marks:
        pen(mark.pen)  # type: ignore[union-attr]


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("width", WIDTHS)
def test_words_stay_on_the_paper_and_apart(unit: str, width: float) -> None:
    drawing = gap_chart(hold.gap(unit), width=width, height=76.0)
    whole(drawing)
    words = " ".join(t.text for t in texts(drawing.marks))
    assert "left side" in words
    assert ("14.0 mm" if unit == "mm" else "0.55") in words


def test_the_curve_is_to_scale_between_the_seals_limits() -> None:
    """Two limits give the scale; the curve's ends must lie on it (a second way through the axis)."""
    chart = hold.gap()
    drawing = gap_chart(chart, width=178.0, height=76.0)
    low, high = sorted((m.a[1] for m in drawing.marks if isinstance(m, Line) and m.pen == "limit"), reverse=True)
    per = (low - high) / (chart.most - chart.least)
    run = next(m for m in drawing.marks if isinstance(m, Polyline) and m.pen == "mild")
    assert len(run.points) == len(chart.gap)
    for (_, y), gap in zip(run.points, chart.gap, strict=True):
        assert y == pytest.approx(low - per * (gap - chart.least), abs=1e-6)
    rings = [m.centre[1] for m in drawing.marks if isinstance(m, Circle)]
    assert min(rings) == pytest.approx(min(y for _, y in run.points))
    assert max(rings) == pytest.approx(max(y for _, y in run.points))


def test_what_the_seal_fills_is_not_hatched() -> None:
    chart = hold.gap()
    drawing = gap_chart(chart, width=178.0, height=76.0)
    low, high = sorted((m.a[1] for m in drawing.marks if isinstance(m, Line) and m.pen == "limit"), reverse=True)
    lines = [m for m in drawing.marks if isinstance(m, Line) and m.pen == "hatch"]
    assert any(max(m.a[1], m.b[1]) <= high + 1e-6 for m in lines)
    assert any(min(m.a[1], m.b[1]) >= low - 1e-6 for m in lines)
    assert not any(high + 1e-6 < (m.a[1] + m.b[1]) / 2 < low - 1e-6 for m in lines)


def test_a_band_is_named_only_where_there_is_one() -> None:
    bare = replace(hold.gap(), low=(), high=())
    words = [t.text for t in texts(gap_chart(bare, width=178.0, height=76.0).marks)]
    assert "shaded: roofs like this one" not in words
    no_names = gap_chart(replace(hold.gap(), places=()), width=178.0, height=76.0)
    whole(no_names)
    assert "left side" not in [t.text for t in texts(no_names.marks)]
    with pytest.raises(Bug):
        gap_chart(replace(hold.gap(), along=(0.0,)), width=178.0, height=76.0)


def test_hatching_leaves_a_hole_free() -> None:
    """Exact: lines of a square with a square hole cover its area, times their spacing."""
    outer = [(0.0, 0.0), (20.0, 0.0), (20.0, 20.0), (0.0, 20.0)]
    inner = [(5.0, 5.0), (15.0, 5.0), (15.0, 15.0), (5.0, 15.0)]
    lines = [m for m in hatched([outer, inner], gap=0.05) if isinstance(m, Line)]
    length = sum(((m.a[0] - m.b[0]) ** 2 + (m.a[1] - m.b[1]) ** 2) ** 0.5 for m in lines)
    assert 0.05 * length == pytest.approx(300.0, rel=0.01)
    for m in lines:
        x, y = (m.a[0] + m.b[0]) / 2, (m.a[1] + m.b[1]) / 2
        assert not (5.01 < x < 14.99 and 5.01 < y < 14.99)


def test_lines_are_cut_at_the_window() -> None:
    window = Rect(0.0, 0.0, 10.0, 10.0)
    assert clipped((-5.0, 5.0), (5.0, 5.0), window) == ((0.0, 5.0), (5.0, 5.0))
    assert clipped((-5.0, -1.0), (5.0, -1.0), window) is None
    assert clipped((-5.0, 0.0), (0.0, -5.0), window) is None
    runs = clipped_run([(1.0, 1.0), (20.0, 1.0), (20.0, 5.0), (1.0, 5.0)], window)
    assert runs == [((1.0, 1.0), (10.0, 1.0)), ((10.0, 5.0), (1.0, 5.0))]
