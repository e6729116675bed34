"""Drawings of the build book: timber frame to scale, row of holes, home test; nothing leaves its paper."""

from __future__ import annotations

import importlib.util
import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from loftwright.core.wording import Wording
from loftwright.drawing.frame_views import frame_views
from loftwright.drawing.home_test import home_test_picture
from loftwright.drawing.page import Circle, Drawing, Polygon, Rect, pen, text_box, texts
from loftwright.drawing.tuning import hole_row

_SPEC = importlib.util.spec_from_file_location(
    "sample_book", Path(__file__).parents[1] / "documents" / "sample_book.py"
)
assert _SPEC is not None
assert _SPEC.loader is not None
book: Any = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(book)


def on_paper(drawing: Drawing) -> None:
    paper = Rect(-0.1, -0.1, drawing.width + 0.1, drawing.height + 0.1)
    for text in texts(drawing.marks):
        assert text_box(text).within(paper), text
    for mark in drawing.marks:
        pen(mark.pen)  # type: ignore[union-attr]


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_the_frame_is_drawn_to_its_scale(units: str) -> None:
    frame = book.frame_page(units).frame
    drawing = frame_views(frame, Wording(units), width=178.0, height=170.0)  # type: ignore[arg-type]
    on_paper(drawing)
    note = " ".join(t.text for t in texts(drawing.marks))
    ratio = int(note.split("1 : ")[1].split()[0])
    scale = 1000 / ratio
    spans = [list(zip(*m.points, strict=True)) for m in drawing.marks if isinstance(m, Polygon) and m.pen == "timber"]
    rects = [(max(xs) - min(xs), max(ys) - min(ys)) for xs, ys in spans]
    side = next(m for m in frame.members if m.mark == "A")
    leg = next(m for m in frame.members if m.mark == "C")
    assert any(w == pytest.approx(scale * side.length) and h == pytest.approx(scale * side.deep) for w, h in rects)
    assert any(h == pytest.approx(scale * leg.length) and w == pytest.approx(scale * leg.deep) for w, h in rects)
    # Every letter of the cutting list is found in the drawing.
    letters = {t.text for t in texts(drawing.marks) if len(t.text) == 1}
    assert {m.mark for m in frame.members} <= letters


def test_the_row_is_drawn_in_its_order_with_its_distances() -> None:
    drawing = hole_row(book.ROW, Wording(), width=178.0)
    on_paper(drawing)
    numbers = {t.text: t.at[0] for t in texts(drawing.marks) if t.text in "123"}
    assert numbers["1"] < numbers["2"] < numbers["3"]
    assert (numbers["3"] - numbers["2"]) / (numbers["2"] - numbers["1"]) == pytest.approx(35 / 25)
    words = [t.text for t in texts(drawing.marks)]
    assert "25 mm" in words
    assert "35 mm" in words
    # Black and white: the start hole is filled, the others are rings.
    filled = [m for m in drawing.marks if isinstance(m, Circle) and m.pen == "start-hole"]
    assert [m.centre[0] for m in filled] == [numbers["2"]]
    assert pen("start-hole").fill == pen("start-hole").colour
    assert pen("marker").fill == "none"


@pytest.mark.parametrize("count", [1, 2, 5])
def test_any_number_of_holes_keeps_its_rings_apart(count: int) -> None:
    holes = tuple(
        replace(book.HOLES[0], name=str(i + 1), x_mm=1500.0 + 80.0 * i, z_mm=-30.0 - 6 * i, start=i == 0)
        for i in range(count)
    )
    drawing = hole_row(replace(book.ROW, feet=holes), Wording("imperial"), width=178.0)
    on_paper(drawing)
    rings = [m for m in drawing.marks if isinstance(m, Circle)]
    assert len(rings) == count
    for a in rings:
        assert all(b is a or abs(a.centre[0] - b.centre[0]) >= a.r + b.r for b in rings)


@pytest.mark.parametrize("rise", [0.0, 10.0, 40.0])
@pytest.mark.parametrize("height", [92.8, 130.0])
def test_two_rows_stand_one_above_the_other(rise: float, height: float) -> None:
    """Feet above heads, all rings apart, one start in each: also where a row is steep."""
    heads = tuple(replace(h, x_mm=1000.0 + 25 * i, z_mm=60.0 + rise * i) for i, h in enumerate(book.HEADS))
    drawing = hole_row(replace(book.BOTH, heads=heads), Wording(), width=178.0, height=height)
    on_paper(drawing)
    at = {t.text: t.at for t in texts(drawing.marks) if t.text in ("1", "2", "3", "A", "B")}
    assert max(at[n][1] for n in "123") < min(at[n][1] for n in "AB")
    rings = [m for m in drawing.marks if isinstance(m, Circle)]
    assert len(rings) == 5
    for a in rings:
        assert all(b is a or math.dist(a.centre, b.centre) >= a.r + b.r for b in rings)
    assert len([m for m in rings if m.pen == "start-hole"]) == 2
    assert f"{math.hypot(25, rise):.0f} mm" in [t.text for t in texts(drawing.marks)]


def test_the_home_test_says_who_stands_where() -> None:
    drawing = home_test_picture(width=178.0)
    on_paper(drawing)
    words = " ".join(t.text for t in texts(drawing.marks))
    for said in ("nobody in line with the rod", "20 mm", "channel", "drilled block", "bathroom scales"):
        assert said in words
