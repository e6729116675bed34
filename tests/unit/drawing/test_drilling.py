"""Drilling sheets as drawings: every hole whole on some tile, in its place, on both sides; the square to check by."""

from __future__ import annotations

import importlib.util
import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from loftwright.core.book_views import PAPER_MM, DrillMark, DrillPlan, RefLine
from loftwright.core.wording import Wording
from loftwright.drawing.drilling import drilling_sheets
from loftwright.drawing.page import Circle, Drawing, Line, Polygon, Rect, Text, text_box, texts
from loftwright.drawing.tiles import CROSS, HOLE, OVERLAP, SQUARE_MM, on_side, tiles_of, window_of, wrapped

_SPEC = importlib.util.spec_from_file_location(
    "sample_book", Path(__file__).parents[1] / "documents" / "sample_book.py"
)
assert _SPEC is not None
assert _SPEC.loader is not None
book: Any = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(book)

PLANS = {"one tile": book.VAN, "many tiles": book.WIDE}
CASES = [(name, side, paper) for name in PLANS for side in ("left", "right") for paper in ("a4", "letter")]


def sheets(name: str, side: str, paper: str, units: str = "metric") -> tuple[Drawing, ...]:
    plan = PLANS[name]
    return drilling_sheets(plan, side, Wording(units), paper=paper, name="Heron", made_with="L")  # type: ignore[arg-type]


def rings(drawing: Drawing) -> list[tuple[float, float]]:
    return [m.centre for m in drawing.marks if isinstance(m, Circle) and m.r == HOLE]


@pytest.mark.parametrize(("name", "side", "paper"), CASES)
def test_every_mark_is_whole_on_some_tile_and_in_its_place(name: str, side: str, paper: str) -> None:
    plan = PLANS[name]
    tiles = tiles_of(plan, side, paper, "metric")
    window = window_of(paper, "metric")
    pages = sheets(name, side, paper)
    assert len(pages) == len(tiles)
    for mark in on_side(plan, side):
        whole = 0
        for tile, page in zip(tiles, pages, strict=True):
            x, y = window.x0 + mark.x_mm - tile.x0, window.y0 - mark.z_mm - tile.y0
            near = [c for c in rings(page) if math.dist(c, (x, y)) < 1e-6]
            inside = window.x0 + CROSS <= x <= window.x1 - CROSS and window.y0 + CROSS <= y <= window.y1 - CROSS
            assert not inside or near
            whole += inside and bool(near)
        assert whole >= 1, mark


def test_sides_are_mirror_images() -> None:
    left = rings(sheets("one tile", "left", "a4")[0])
    right = rings(sheets("one tile", "right", "a4")[0])
    wide = PAPER_MM["a4"][0]
    assert sorted((round(wide - x, 6), round(y, 6)) for x, y in right) == sorted(
        (round(x, 6), round(y, 6)) for x, y in left
    )
    words = {
        side: " ".join(t.text for t in texts(sheets("one tile", side, "a4")[0].marks)) for side in ("left", "right")
    }
    assert "LEFT SIDE" in words["left"]
    assert "cab is to the right" in words["left"]
    assert "RIGHT SIDE" in words["right"]
    assert "cab is to the left" in words["right"]
    assert "Mirror image" in words["right"]
    assert "Mirror image" not in words["left"]


def test_the_arrow_to_the_cab_points_with_the_holes() -> None:
    """The hole nearest to the cab lies on the side to which the arrow points."""
    for side, sign in (("left", 1), ("right", -1)):
        page = sheets("one tile", side, "a4")[0]
        heads = [m.points for m in page.marks if isinstance(m, Polygon) and m.pen == "start-hole"]
        level = next(p for p in heads if abs(p[0][1] - (p[1][1] + p[2][1]) / 2) < 1e-9)
        assert math.copysign(1, level[0][0] - level[1][0]) == sign
        names = {t.text: t.at[0] for t in texts(page.marks) if t.text.startswith("hole") and t.bold and t.size > 3}
        assert math.copysign(1, names["hole 3"] - names["hole 1"]) == sign


@pytest.mark.parametrize("units", ["metric", "imperial"])
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_every_page_has_the_square_and_stays_on_the_paper(units: str, paper: str) -> None:
    for page in sheets("many tiles", "left", paper, units):
        assert (page.width, page.height) == PAPER_MM[paper]
        side = SQUARE_MM[units]
        squares = [
            m for m in page.marks if isinstance(m, Polygon) and len(m.points) == 4
            and m.points[1][0] - m.points[0][0] == pytest.approx(side)
            and m.points[2][1] - m.points[1][1] == pytest.approx(side)
        ]  # fmt: skip
        assert len(squares) == 1
        paper_box = Rect(4.0, 4.0, page.width - 4.0, page.height - 4.0)
        for text in texts(page.marks):
            assert text_box(text).within(paper_box), text
        for mark in page.marks:
            if isinstance(mark, Line):
                assert all(4 < p[0] < page.width - 4 and 4 < p[1] < page.height - 4 for p in (mark.a, mark.b))


def test_four_inches_are_101_6_millimetres() -> None:
    # The inch is 25.4 mm exactly (international yard and pound agreement, 1959).
    assert SQUARE_MM["imperial"] == pytest.approx(4 * 25.4)
    assert SQUARE_MM["metric"] == 100.0


def test_neighbours_overlap_by_more_than_a_mark() -> None:
    assert OVERLAP > 2 * CROSS
    tiles = tiles_of(book.WIDE, "left", "a4", "metric")
    window = window_of("a4", "metric")
    first, second = tiles[0], next(t for t in tiles if t.column == 1)
    assert first.x0 + (window.x1 - window.x0) - second.x0 == pytest.approx(OVERLAP)
    assert [t.number for t in tiles] == list(range(1, len(tiles) + 1))


def test_reference_lines_run_over_all_tiles() -> None:
    tiles = tiles_of(book.WIDE, "left", "a4", "metric")
    window = window_of("a4", "metric")
    for tile, page in zip(tiles, sheets("many tiles", "left", "a4"), strict=True):
        lines = [m for m in page.marks if isinstance(m, Line) and m.pen == "rim"]
        y = window.y0 - tile.y0
        if window.y0 <= y <= window.y1:
            assert any(ln.a == (window.x0, y) and ln.b == (window.x1, y) for ln in lines)
        x = window.x0 - tile.x0
        if window.x0 <= x <= window.x1:
            assert any(ln.a == (x, window.y0) and ln.b == (x, window.y1) for ln in lines)


def test_crosses_of_a_join_are_the_same_place_on_both_tiles() -> None:
    tiles = tiles_of(book.WIDE, "left", "letter", "metric")
    window = window_of("letter", "metric")
    places: dict[str, list[tuple[float, float]]] = {}
    for tile, page in zip(tiles, sheets("many tiles", "left", "letter"), strict=True):
        crosses = [m.centre for m in page.marks if isinstance(m, Circle) and m.pen == "thin-outline"]
        for x, y in crosses:
            name = next(t.text for t in page.marks if isinstance(t, Text) and t.at == (x + 2.4, y - 1.2))
            places.setdefault(name, []).append((x - window.x0 + tile.x0, y - window.y0 + tile.y0))
    assert len(places) >= 2
    for name, spots in places.items():
        assert len(spots) == 2, name
        assert math.dist(*spots) < 1e-6, name


def test_holes_by_numbers_count_from_the_lines() -> None:
    words = [t.text for t in texts(sheets("one tile", "left", "a4")[0].marks)]
    assert "46 mm to the cab" in words
    assert words.count("36 mm below") == 3
    at_line = replace(book.VAN, marks=(DrillMark("foot", 1450.0, 0.0),))
    page = drilling_sheets(at_line, "left", Wording(), paper="a4", name="H", made_with="L")[0]
    assert [t.text for t in texts(page.marks)].count("on it") == 2


def test_a_single_hole_far_from_its_line_takes_several_tiles() -> None:
    plan = DrillPlan(
        "x", (DrillMark("a", 900.0, 0.0),), (RefLine("upright", 0.0, "edge"), RefLine("level", 0.0, "z")), (), ""
    )
    tiles = tiles_of(plan, "left", "a4", "metric")
    window = window_of("a4", "metric")
    assert tiles[0].x0 <= 0
    assert tiles[-1].x0 + window.x1 - window.x0 >= 900
    assert len(tiles) == math.ceil((900 + 44 - OVERLAP) / (window.x1 - window.x0 - OVERLAP))


def test_words_are_wrapped_to_a_width() -> None:
    assert wrapped("one two three", 12.0, 2.9) == ["one two", "three"]
    assert wrapped("", 12.0, 2.9) == []
    assert wrapped("extraordinarily", 12.0, 2.9)[0].endswith("...")
