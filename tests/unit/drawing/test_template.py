"""Templates on paper: a millimetre is a millimetre, small ones share a sheet, large ones are tiled without a gap."""

from __future__ import annotations

import importlib.util
import math
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest

from loftwright.core.book_views import PAPER_MM
from loftwright.core.errors import Bug
from loftwright.core.hold_views import Template
from loftwright.drawing.page import Circle, Drawing, Polygon, Polyline, Rect, text_box, texts
from loftwright.drawing.stock_signs import stock_sign
from loftwright.drawing.template import template_sheets
from loftwright.drawing.tiles import SQUARE_MM, window_of

_SPEC = importlib.util.spec_from_file_location(
    "sample_hold", Path(__file__).parents[1] / "documents" / "sample_hold.py"
)
assert _SPEC is not None
assert _SPEC.loader is not None
hold: Any = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(hold)


def sheets(templates: tuple[Template, ...], units: str = "metric", paper: str = "a4") -> tuple[Drawing, ...]:
    return template_sheets(
        templates, units=units, paper=paper, title="Packers", use=("Cut it out.",), name="Heron", made_with="L",  # type: ignore[arg-type]
    )  # fmt: skip


def outlines(drawing: Drawing) -> list[tuple[tuple[float, float], ...]]:
    return [m.points for m in drawing.marks if isinstance(m, Polyline) and m.pen == "rim"]


def test_small_ones_share_a_sheet_at_full_size() -> None:
    (page,) = sheets(hold.PACKERS)
    drawn = outlines(page)
    assert len(drawn) == len(hold.PACKERS)
    for points, template in zip(drawn, hold.PACKERS, strict=True):
        ends = [*template.outline, template.outline[0]]
        for (ax, ay), (bx, by), (px, py), (qx, qy) in zip(ends, ends[1:], points, points[1:], strict=False):
            # x to the right, the shape's y upwards on the page.
            assert qx - px == pytest.approx(1000 * (bx - ax), abs=1e-9)
            assert qy - py == pytest.approx(-1000 * (by - ay), abs=1e-9)
    (hole,) = [m for m in page.marks if isinstance(m, Circle) and m.pen == "outline"]
    assert hole.r == pytest.approx(3.25)


@pytest.mark.parametrize("units", ["metric", "imperial"])
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_every_page_has_the_square_and_words_on_the_paper(units: str, paper: str) -> None:
    pages = sheets((*hold.PACKERS, *hold.CORNERS), units, paper)
    side = SQUARE_MM[units]  # type: ignore[index]
    for page in pages:
        assert (page.width, page.height) == PAPER_MM[paper]  # type: ignore[index]
        squares = [
            m for m in page.marks if isinstance(m, Polygon) and len(m.points) == 4
            and m.points[1][0] - m.points[0][0] == pytest.approx(side)
            and m.points[2][1] - m.points[1][1] == pytest.approx(side)
        ]  # fmt: skip
        assert len(squares) == 1
        paper_box = Rect(4.0, 4.0, page.width - 4.0, page.height - 4.0)
        found = texts(page.marks)
        for text in found:
            assert text_box(text).within(paper_box), text
        straight = [t for t in found if math.isclose(math.sin(2 * t.turn), 0.0, abs_tol=1e-6)]
        for a, b in combinations(straight, 2):
            assert not text_box(a).overlaps(text_box(b)), (a.text, b.text)


def test_shapes_on_one_sheet_do_not_touch() -> None:
    many = tuple(hold.packer(f"no. {k}", 0.010 + 0.001 * k, 0.008) for k in range(9))
    pages = sheets(many)
    assert sum(len(outlines(page)) for page in pages) == 9
    window = window_of("a4", "metric")
    for page in pages:
        boxes = [
            Rect(min(x for x, _ in run), min(y for _, y in run), max(x for x, _ in run), max(y for _, y in run))
            for run in outlines(page)
        ]
        assert all(box.within(window) for box in boxes)
        for a, b in combinations(boxes, 2):
            assert not a.overlaps(b, 2.0)


def test_a_large_one_is_tiled_without_a_gap() -> None:
    """Second way: the tiles, laid on each other by their crosses, show the whole outline, each part at full size."""
    large = hold.corner("Front corners", 0.15, 0.25)
    pages = sheets((large,))
    assert len(pages) > 1
    crosses: dict[str, list[tuple[int, tuple[float, float]]]] = {}
    for k, page in enumerate(pages):
        letters = {t.at: t.text for t in texts(page.marks) if len(t.text) == 1 and t.bold}
        for m in page.marks:
            if isinstance(m, Circle) and m.pen == "thin-outline":
                letter = letters[m.centre[0] + 2.4, m.centre[1] - 1.2]
                crosses.setdefault(letter, []).append((k, m.centre))
    # Every join has its crosses on exactly two tiles; from them the shift of each tile against the first.
    shift = {0: (0.0, 0.0)}
    for _ in pages:
        for (a, p), (b, q) in crosses.values():
            for one, other, at, there in ((a, b, p, q), (b, a, q, p)):
                if one in shift and other not in shift:
                    shift[other] = (shift[one][0] + at[0] - there[0], shift[one][1] + at[1] - there[1])
    assert len(shift) == len(pages)
    for (a, p), (b, q) in crosses.values():
        assert p[0] + shift[a][0] == pytest.approx(q[0] + shift[b][0])
        assert p[1] + shift[a][1] == pytest.approx(q[1] + shift[b][1])
    spots = [
        (round(x + shift[k][0], 6), round(y + shift[k][1], 6))
        for k, page in enumerate(pages)
        for run in outlines(page)
        for x, y in run
    ]
    wide, tall = (max(v) - min(v) for v in zip(*spots, strict=True))
    assert wide == pytest.approx(250.0)
    assert tall == pytest.approx(250.0)
    x0, y1 = min(x for x, _ in spots), max(y for _, y in spots)
    for x, y in large.outline:
        wanted = (x0 + 1000 * x, y1 - 1000 * y)
        assert any(math.dist(spot, wanted) < 1e-5 for spot in spots), (x, y)


def test_a_shape_needs_an_outline() -> None:
    with pytest.raises(Bug):
        sheets((Template("x", "", ((0.0, 0.0), (1.0, 0.0))),))
    assert sheets(()) == ()


@pytest.mark.parametrize(
    ("name", "known"),
    [("angle 40 x 40 x 4", True), ("Square tube 30 x 30", True), ("round tube 30", True), ("plank", False)],
)
def test_a_section_is_recognised_by_its_name(name: str, known: bool) -> None:
    sign = stock_sign(name)
    assert (sign is not None) == known
    if sign is not None:
        for mark in sign.marks:
            spots = mark.points if isinstance(mark, Polygon) else [mark.centre]  # type: ignore[union-attr]
            assert all(0 <= x <= sign.width and 0 <= y <= sign.height for x, y in spots)
