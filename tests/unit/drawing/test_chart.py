from __future__ import annotations

import importlib.util
import math
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loftwright.core.errors import Bug
from loftwright.core.views import Curve, LimitZone
from loftwright.drawing.chart import force_chart, pen_of, steps
from loftwright.drawing.page import Drawing, Group, Line, Polyline, Primitive, Rect, text_box, texts

_SPEC = importlib.util.spec_from_file_location(
    "sample_page", Path(__file__).parents[1] / "documents" / "sample_page.py"
)
assert _SPEC is not None
assert _SPEC.loader is not None
sample = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)


def lines_of(marks: tuple[Primitive, ...], pen: str) -> list[Line]:
    return [m for m in marks if isinstance(m, Line) and m.pen == pen]


def assert_labels_are_clear(drawing: Drawing) -> None:
    page = Rect(-0.01, -0.01, drawing.width + 0.01, drawing.height + 0.01)
    boxes = [(text.text, text_box(text)) for text in texts(drawing.marks)]
    for text, box in boxes:
        assert box.within(page), f"{text!r} is clipped"
    for (a, box_a), (b, box_b) in combinations(boxes, 2):
        assert not box_a.overlaps(box_b), f"{a!r} lies on {b!r}"


@given(st.floats(-1e4, 1e4), st.floats(1e-3, 1e4), st.integers(4, 10))
def test_axis_values_are_round_and_cover_the_range(low: float, width: float, most: int) -> None:
    high = low + width
    found = steps(low, high, most)
    step = found[1] - found[0]
    assert found[0] <= low + 1e-6 * step
    assert found[-1] >= high - 1e-6 * step
    assert 2 <= len(found) <= most + 1
    lead = step / 10 ** math.floor(math.log10(step) + 1e-9)
    assert min(abs(lead - m) for m in (1, 2, 5, 10)) < 1e-6


@pytest.mark.parametrize(
    ("width", "height", "stacked"), [(186.0, 56.0, False), (186.0, 74.0, False), (66.0, 124.0, True)]
)
def test_labels_are_clear_at_every_size_used(width: float, height: float, stacked: bool) -> None:
    assert_labels_are_clear(force_chart(sample.chart(), width=width, height=height, stacked=stacked).drawing)


@given(st.lists(st.floats(-80, 80), min_size=12, max_size=12), st.floats(0, 40))
def test_end_labels_stay_apart_wherever_the_curves_end(ends: list[float], limit: float) -> None:
    base = sample.chart()
    curves = tuple(
        replace(curve, y=tuple(end * v / 100 for v in base.x), low=None, high=None)
        for curve, end in zip(base.curves, ends, strict=True)
    )
    zone = LimitZone("most you want to push at the start", "push", 0, 15, limit, "at most")
    assert_labels_are_clear(force_chart(replace(base, curves=curves, limits=(zone,))).drawing)


def test_a_curve_runs_through_its_values() -> None:
    chart = sample.chart()
    found = force_chart(chart)
    panel = next(p for p in found.panels if p.kind == "push")
    group = next(m for m in found.drawing.marks if isinstance(m, Group) and m.name == "curve 0")
    line = group.marks[0]
    assert isinstance(line, Polyline)
    for (x, y), percent, value in zip(line.points, chart.x, chart.curves[0].y, strict=True):
        assert (x - panel.x0) / (panel.x1 - panel.x0) * 100 == pytest.approx(percent)
        assert (panel.y_zero - y) / panel.y_scale == pytest.approx(value)


def test_words_stand_on_their_side_of_nought() -> None:
    found = force_chart(sample.chart())
    for panel, above, below in zip(
        found.panels, ("you push", "you pull"), ("rises by itself", "falls by itself"), strict=True
    ):
        written = texts(found.drawing.marks)
        assert next(t for t in written if above in t.text).at[1] < panel.y_zero
        assert next(t for t in written if below in t.text).at[1] > panel.y_zero


@pytest.mark.parametrize(("sense", "above"), [("at most", True), ("at least", False)])
def test_what_a_limit_forbids_is_hatched(sense: str, above: bool) -> None:
    zone = LimitZone("limit", "push", 20, 60, 5.0, sense)  # type: ignore[arg-type]
    found = force_chart(replace(sample.chart(), limits=(zone,)))
    panel = found.panels[0]
    hatch = lines_of(found.drawing.marks, "hatch")
    assert len(hatch) > 10
    for line in hatch:
        for x, y in (line.a, line.b):
            assert panel.x(20) - 1e-6 <= x <= panel.x(60) + 1e-6
            assert panel.top - 1e-6 <= y <= panel.bottom + 1e-6
            assert (y <= panel.y(5.0) + 1e-6) if above else (y >= panel.y(5.0) - 1e-6)


def test_names_of_upper_limits_stand_above_the_plot_in_their_order() -> None:
    base = sample.chart()
    zones = tuple(
        LimitZone(f"too hard, part {i}", "push", a, b, 12.0, "at most") for i, (a, b) in enumerate(((0, 10), (10, 90)))
    )
    for size in ({"width": 186.0}, {"width": 66.0, "height": 124.0, "stacked": True}):
        found = force_chart(replace(base, limits=zones), **size)
        names = [t for t in texts(found.drawing.marks) if t.text.startswith("too hard")]
        boxes = [text_box(t) for t in names]
        assert [t.text for t in names] == [z.label for z in zones]
        assert boxes[0].x1 < boxes[1].x0
        assert all(box.y1 < found.panels[0].top for box in boxes)


def test_a_steep_start_does_not_flatten_the_rest_but_is_said() -> None:
    base = sample.chart()
    curves = tuple(replace(c, y=(-900.0, *c.y[1:]), low=None, high=None) for c in base.curves)
    found = force_chart(replace(base, curves=curves, limits=()))
    assert_labels_are_clear(found.drawing)
    plain = force_chart(replace(base, limits=()))
    assert found.panels[0].y_scale > 0.5 * plain.panels[0].y_scale
    assert sum(t.text == "closed: −900.0 kg" for t in texts(found.drawing.marks)) == 2
    for panel in found.panels:
        groups = [m for m in found.drawing.marks if isinstance(m, Group) and m.name.startswith("curve")]
        points = [p for g in groups for m in g.marks if isinstance(m, Polyline) for p in m.points]
        assert points
        assert all(panel.top - 1e-6 <= y <= panel.bottom + 1e-6 for _, y in points)


def test_a_curve_with_a_gap_is_refused() -> None:
    chart = sample.chart()
    with pytest.raises(Bug, match="no number"):
        force_chart(replace(chart, curves=(replace(chart.curves[0], y=(math.nan,) * len(chart.x)),)))
    with pytest.raises(Bug, match="stations"):
        force_chart(replace(chart, curves=(replace(chart.curves[0], y=(1.0,)),)))


def test_each_temperature_and_age_has_its_own_pen() -> None:
    pens = {
        pen_of(Curve("", "push", state, age, ())) for state in ("cold", "mild", "hot", "sun") for age in ("new", "aged")
    }
    assert len(pens) == 8


def test_a_flat_chart_can_be_drawn() -> None:
    chart = sample.chart()
    flat = replace(chart.curves[0], y=(0.0,) * len(chart.x), low=None, high=None)
    assert_labels_are_clear(force_chart(replace(chart, curves=(flat,), limits=())).drawing)


def test_names_that_find_no_room_leave_out_what_all_of_them_are_of() -> None:
    names = {"mild": "mild, new", "cold": "cold, aged", "hot": "hot, new"}
    chart = sample.chart()
    chart = replace(
        chart, curves=tuple(replace(c, label=f"{names[c.state]} springs") for c in chart.curves if c.state in names)
    )
    wide, narrow = ({t.text for t in texts(force_chart(chart, width=width).drawing.marks)} for width in (186.0, 112.0))
    assert {f"{name} springs" for name in names.values()} <= wide
    assert {*names.values()} <= narrow
    assert not any("…" in text for text in narrow)


def test_the_marker_lies_over_the_curves_and_under_the_words() -> None:
    marks = force_chart(sample.chart(), marker=True).drawing.marks
    names = [mark.name if isinstance(mark, Group) else getattr(mark, "text", "") for mark in marks]
    for kind, word in (("push", "▲ you push"), ("pull", "▲ you pull")):
        marker = names.index(f"marker {kind}")
        assert "curve" in names[marker - 1]
        assert marker < names.index(word)
