"""The cut from above: to one scale, cab to the right, left side above, kept and cut bows by line and by word."""

from __future__ import annotations

import importlib.util
import math
from dataclasses import replace
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest

from loftwright.core.hold_views import CutPlan
from loftwright.core.wording import Wording
from loftwright.drawing.page import Circle, Drawing, Line, Polygon, Rect, pen, text_box, texts
from loftwright.drawing.plan_view import bounds_of, cut_plan, rounded
from loftwright.drawing.sizes import sizes_round

_SPEC = importlib.util.spec_from_file_location(
    "sample_hold", Path(__file__).parents[1] / "documents" / "sample_hold.py"
)
assert _SPEC is not None
assert _SPEC.loader is not None
hold: Any = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(hold)

BARE = CutPlan(
    roof=(-0.4, 0.8, 2.6, 0.8), opening=(0.0, 0.55, 1.9, 0.55), shell=(-0.1, 0.65, 2.0, 0.65), radius=None, ring=0.0,
    bows=(), plates=(), starts=(), sizes=(), diagonal="2195 mm",
)  # fmt: skip
PLANS = {"full": hold.PLAN, "bare": BARE}


def drawn(plan: CutPlan, width: float = 178.0, height: float = 150.0) -> Drawing:
    return cut_plan(plan, Wording(), width=width, height=height)


def rim(drawing: Drawing) -> list[tuple[float, float]]:
    return list(next(m for m in drawing.marks if isinstance(m, Polygon) and m.pen == "rim").points)


@pytest.mark.parametrize("name", PLANS)
@pytest.mark.parametrize("width", [110.0, 178.0])
def test_words_stay_on_the_paper_and_upright_ones_apart(name: str, width: float) -> None:
    drawing = drawn(PLANS[name], width, 0.85 * width)
    paper = Rect(-0.1, -0.1, drawing.width + 0.1, drawing.height + 0.1)
    found = texts(drawing.marks)
    for text in found:
        assert text_box(text).within(paper), text
    # The words along a diagonal slant; their upright box is far larger than they are.
    straight = [t for t in found if math.isclose(math.sin(2 * t.turn), 0.0, abs_tol=1e-6)]
    for a, b in combinations(straight, 2):
        assert not text_box(a).overlaps(text_box(b)), (a.text, b.text)
    for mark in drawing.marks:
        pen(mark.pen)  # type: ignore[union-attr]


def test_it_is_drawn_to_the_scale_it_says() -> None:
    drawing = drawn(hold.PLAN)
    words = " ".join(t.text for t in texts(drawing.marks))
    scale = 1000 / int(words.split("Scale 1 : ")[1].split(";")[0])
    xs, ys = zip(*rim(drawing), strict=True)
    assert max(xs) - min(xs) == pytest.approx(2.0 * scale)
    assert max(ys) - min(ys) == pytest.approx(1.2 * scale)


def test_the_cab_is_to_the_right_and_the_left_side_above() -> None:
    found = {t.text: t.at for t in texts(drawn(hold.PLAN).marks)}
    assert found["latch, left"][0] < found["hinge, left"][0]
    assert found["left side"][1] < found["right side"][1]
    assert found["latch, left"][1] < found["latch, right"][1]


def test_kept_and_cut_bows_differ_by_word_and_by_line() -> None:
    drawing = drawn(hold.PLAN)
    words = [t.text for t in texts(drawing.marks)]
    assert {"bow 1: kept", "bow 2: cut", "bow 3: cut", "bow 4: kept"} <= set(words)
    solid = [m for m in drawing.marks if isinstance(m, Polygon) and m.pen == "steel"]
    # Two kept bows in one piece each, two cut ones with two stumps each.
    assert len(solid) == 2 + 2 * 2
    assert pen("ghost").dash
    assert not pen("steel").dash
    all_kept = replace(hold.PLAN, bows=tuple(replace(bow, kept=True) for bow in hold.PLAN.bows))
    assert len([m for m in drawn(all_kept).marks if isinstance(m, Polygon) and m.pen == "steel"]) == 4


def test_every_size_the_diagonal_and_the_radius_are_written() -> None:
    words = [t.text for t in texts(drawn(hold.PLAN).marks)]
    for _, _, text in hold.PLAN.sizes:
        assert text in words
    assert "both diagonals 2332 mm" in words
    assert "R 80 mm" in words
    assert "ring, 40 mm wide" in words
    assert "no corner radius yet" in [t.text for t in texts(drawn(BARE).marks)]


def test_the_saw_starts_inside_the_line() -> None:
    drawing = drawn(hold.PLAN)
    xs, ys = zip(*rim(drawing), strict=True)
    dots = [m.centre for m in drawing.marks if isinstance(m, Circle) and m.pen == "start-hole"]
    assert len(dots) == 2
    assert all(min(xs) < x < max(xs) and min(ys) < y < max(ys) for x, y in dots)


def test_round_corners_have_their_radius() -> None:
    """Exact: every point of a corner is as far from its centre as the radius says; the ring's as well."""
    for out in (0.0, 0.04):
        spots = rounded((0.0, 0.6, 2.0, 0.6), 0.08, out)
        corner = [(x, y) for x, y in spots if x > 1.92 - 1e-9 and y > 0.52 - 1e-9]
        assert len(corner) > 4
        for x, y in corner:
            assert math.hypot(x - 1.92, y - 0.52) == pytest.approx(0.08 + out)
    assert len(rounded((0.0, 0.6, 2.0, 0.6), 0.0)) == 4
    assert bounds_of((0.0, 0.6, 2.0, 0.5)) == bounds_of((0.0, -0.6, 2.0, 0.5)) == (0.0, -0.6, 2.0, 0.5)


def test_dimension_lines_do_not_lie_on_each_other() -> None:
    box = Rect(0.0, 0.0, 100.0, 50.0)
    measured = [
        ((0.0, 50.0), (100.0, 50.0), "all"),
        ((0.0, 50.0), (40.0, 50.0), "a"),
        ((40.0, 50.0), (100.0, 50.0), "b"),
    ]
    sizes = sizes_round(measured, box)
    levels = {
        (min(m.a[0], m.b[0]), max(m.a[0], m.b[0])): m.a[1]
        for m in sizes.lines
        if isinstance(m, Line) and m.a[1] == m.b[1]
    }
    assert levels[0.0, 100.0] > levels[0.0, 40.0] == levels[40.0, 100.0]
    assert all(y > 50.0 for y in levels.values())
    upright = sizes_round([((50.0, 10.0), (50.0, 40.0), "t")], box, inside=True)
    assert upright.reach == box
    assert sizes_round([((50.0, 10.0), (50.0, 40.0), "t")], box).reach.x1 > 100.0
