"""Tiles of a pattern: laid on each other by their crosses they show the whole line; bar and square are true."""

from __future__ import annotations

import importlib.util
import math
from itertools import combinations, pairwise
from pathlib import Path
from typing import Any

import pytest

from loftwright.core.book_views import PAPER_MM
from loftwright.core.errors import Bug
from loftwright.core.pattern import PatternPiece
from loftwright.drawing.page import Circle, Drawing, Group, Line, Polygon, Polyline, Rect, text_box, texts
from loftwright.drawing.pattern import page_mm, piece_drawing
from loftwright.drawing.pattern_long import long_page
from loftwright.drawing.pattern_tiles import OVERLAP, pattern_tiles, tile_grid, tile_window
from loftwright.drawing.svg import svg

_SPEC = importlib.util.spec_from_file_location("sample_pattern", Path(__file__).parent / "sample_pattern.py")
assert _SPEC is not None
assert _SPEC.loader is not None
sample: Any = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)


def pages(piece: PatternPiece, paper: str = "a4", units: str = "metric") -> tuple[Drawing, ...]:
    figures = sample.REAR_FIGURES if piece.number == "W1" else sample.SIDE_FIGURES
    return pattern_tiles(
        piece, units=units, paper=paper, use=("Cut it out.",), name="Heron", made_with="L", figures=figures  # type: ignore[arg-type]
    )  # fmt: skip


@pytest.fixture(scope="module")
def rear() -> tuple[Drawing, ...]:
    return pages(sample.rear())


@pytest.fixture(scope="module")
def side() -> tuple[Drawing, ...]:
    return pages(sample.side(), "letter", "imperial")


def squares(page: Drawing, length: float) -> int:
    def is_one(m: object) -> bool:
        if not isinstance(m, Polygon) or len(m.points) != 4:
            return False
        sides = [math.dist(a, b) for a, b in pairwise((*m.points, m.points[0]))]
        return (
            all(abs(s - length) < 0.1 for s in sides)
            and abs(math.dist(m.points[0], m.points[2]) - 1.414214 * length) < 0.1
        )

    return sum(is_one(m) for m in page.marks)


def test_square_and_bars_are_true(rear: tuple[Drawing, ...], side: tuple[Drawing, ...]) -> None:
    """100 mm and 4 in, an inch being 25.4 mm by definition; within 0.1 mm."""
    for made, length, text in ((rear, 100.0, "100 mm"), (side, 4 * 25.4, "4 in")):
        assert squares(made[0], length) == 1
        for page in made[1:]:
            assert any(text in t.text for t in texts(page.marks))
            bars = [m for m in page.marks if isinstance(m, Line) and m.pen == "outline" and m.a[1] == m.b[1]]
            assert any(abs(math.dist(m.a, m.b) - length) < 0.1 and m.a[1] > page.height - 25.0 for m in bars)


def test_words_are_on_the_paper_and_apart(rear: tuple[Drawing, ...], side: tuple[Drawing, ...]) -> None:
    for page in (*rear, *side):
        sample.tidy(page)
    assert {(p.width, p.height) for p in rear} == {PAPER_MM["a4"]}
    assert {(p.width, p.height) for p in side} == {PAPER_MM["letter"]}


def test_every_word_of_the_piece_is_whole_on_a_tile(rear: tuple[Drawing, ...], side: tuple[Drawing, ...]) -> None:
    for made, piece, figures, paper in (
        (rear, sample.rear(), sample.REAR_FIGURES, "a4"), (side, sample.side(), sample.SIDE_FIGURES, "letter"),
    ):  # fmt: skip
        window = tile_window(paper)  # type: ignore[arg-type]
        seen = {t.text for page in made[1:] for t in texts(page.marks) if text_box(t).within(window)}
        wanted = {t.text for word in piece_drawing(piece, figures).words for t in word.texts}
        assert wanted <= seen


@pytest.mark.parametrize("which", ["rear", "side"])
def test_laid_on_each_other_they_show_the_whole_line(which: str, request: pytest.FixtureRequest) -> None:
    """Second way: the shift of each tile is found from its numbered crosses alone, as a builder does it."""
    made = request.getfixturevalue(which)[1:]
    piece = getattr(sample, which)()
    crosses: dict[str, list[tuple[int, tuple[float, float]]]] = {}
    for k, page in enumerate(made):
        numbers = {t.at: t.text for t in texts(page.marks) if t.pen == "note" and t.bold}
        for m in page.marks:
            if isinstance(m, Circle):
                number = numbers[m.centre[0] + 2.2, m.centre[1] - 1.4]
                crosses.setdefault(number, []).append((k, m.centre))
    assert all(2 <= len(found) <= 4 for found in crosses.values())
    shift = {0: (0.0, 0.0)}
    for _ in made:
        for found in crosses.values():
            for (one, at), (other, there) in [*combinations(found, 2), *combinations(found[::-1], 2)]:
                if one in shift and other not in shift:
                    shift[other] = (shift[one][0] + at[0] - there[0], shift[one][1] + at[1] - there[1])
    assert len(shift) == len(made)
    for found in crosses.values():
        for (a, p), (b, q) in combinations(found, 2):
            assert (p[0] + shift[a][0], p[1] + shift[a][1]) == pytest.approx((q[0] + shift[b][0], q[1] + shift[b][1]))
    # Every corner of the cut line is drawn, and the pieces of line together are no shorter than the line.
    runs = [
        [(x + shift[k][0], y + shift[k][1]) for x, y in m.points]
        for k, page in enumerate(made)
        for m in page.marks
        if isinstance(m, Polyline) and m.pen == "rim"
    ]
    spots = [spot for run in runs for spot in run]
    wide, tall = (max(v) - min(v) for v in zip(*spots, strict=True))
    cut = [page_mm(spot) for spot in piece.of("cut")[0].flattened()]
    xs, ys = zip(*cut, strict=True)
    assert (wide, tall) == pytest.approx((max(xs) - min(xs), max(ys) - min(ys)))
    dx, dy = min(x for x, _ in spots) - min(xs), min(y for _, y in spots) - min(ys)
    for x, y in cut:
        assert min(math.dist((x + dx, y + dy), spot) for spot in spots) < 1e-6
    assert sum(math.dist(a, b) for run in runs for a, b in pairwise(run)) >= sum(
        math.dist(a, b) for a, b in pairwise(cut)
    )


def test_an_empty_tile_is_left_out() -> None:
    """The side wall tapers: about half of the rectangle round it is empty, and so are tiles far from its corner."""
    drawn = piece_drawing(sample.side())
    grid = tile_grid(drawn, "a4")
    assert grid.at(0, 0) is None
    assert grid.at(grid.rows - 1, 0) is not None
    assert len(grid.tiles) < 0.8 * grid.rows * grid.columns
    wide, tall = grid.window.x1 - grid.window.x0, grid.window.y1 - grid.window.y0
    # Every point of the line lies in the inner part of a tile that is printed.
    for x, y in drawn.outline:
        assert any(t.x0 + 1 < x < t.x0 + wide - 1 and t.y0 + 1 < y < t.y0 + tall - 1 for t in grid.tiles)
    full = tile_grid(piece_drawing(sample.rear()), "a4")
    assert len(full.tiles) == full.rows * full.columns
    assert full.tiles[1].x0 - full.tiles[0].x0 == pytest.approx(wide - OVERLAP)


def test_rows_have_letters_and_columns_numbers(side: tuple[Drawing, ...]) -> None:
    names = [page.title.rsplit(" ", 1)[1] for page in side[1:]]
    assert len(set(names)) == len(names)
    on_map = {t.text for t in texts(side[0].marks)}
    assert set(names) <= on_map
    assert "A1" not in names


def test_one_long_page_keeps_its_millimetres() -> None:
    page = long_page((sample.side(), sample.rear()), units="metric", name="Heron", made_with="L")
    assert squares(page, 100.0) == 1
    text = svg(page)
    width = float(text.split(' width="')[1].split("mm")[0])
    assert width == pytest.approx(page.width, abs=1e-3)
    assert f'viewBox="0 0 {width:g} ' in text
    groups = [m for m in page.marks if isinstance(m, Group)]
    paper = Rect(0.0, 0.0, page.width, page.height)
    lows = []
    for group in groups:
        (line,) = [m for m in group.marks if isinstance(m, Polyline) and m.pen == "rim"]
        spots = [(x + group.shift[0], y + group.shift[1]) for x, y in line.points]
        assert all(paper.x0 < x < paper.x1 and paper.y0 < y < paper.y1 for x, y in spots)
        lows.append((min(x for x, _ in spots), max(x for x, _ in spots)))
    assert lows[0][1] < lows[1][0]
    sample.tidy(page)
    with pytest.raises(Bug, match="needs a piece"):
        long_page((), units="metric", name="", made_with="")
