"""A piece at full size: a millimetre is a millimetre, dashes keep their length, words stand where there is room."""

from __future__ import annotations

import importlib.util
import math
from itertools import combinations, pairwise
from pathlib import Path
from typing import Any

import pytest

from loftwright.core.errors import Bug
from loftwright.core.pattern import Contour, PatternPiece
from loftwright.drawing.page import Line, Polygon, Polyline, text_box
from loftwright.drawing.pattern import page_mm, piece_drawing, sides_of
from loftwright.drawing.pattern_room import dashed, inside, readable, touches

_SPEC = importlib.util.spec_from_file_location("sample_pattern", Path(__file__).parent / "sample_pattern.py")
assert _SPEC is not None
assert _SPEC.loader is not None
sample: Any = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)


def test_the_cut_line_is_drawn_at_full_size() -> None:
    piece = sample.rear()
    drawn = piece_drawing(piece)
    (line,) = [m for m in drawn.lines if isinstance(m, Polyline) and m.pen == "rim"]
    xs, ys = [x for x, _ in line.points], [y for _, y in line.points]
    left, low, right, high = piece.box
    assert (min(xs), max(xs)) == pytest.approx((1000 * left, 1000 * right))
    assert (-max(ys), -min(ys)) == pytest.approx((1000 * low, 1000 * high))


def test_dashes_are_as_long_as_told_and_round_the_corner() -> None:
    """Constructed: 25 mm with a corner at 10, dashes of 9 and gaps of 2.5: 0-9, 11.5-20.5, 23-25."""
    found = dashed(((0.0, 0.0), (10.0, 0.0), (10.0, 15.0)), "ink")
    assert [round(sum(math.dist(a, b) for a, b in pairwise(d.points)), 9) for d in found] == [9.0, 9.0, 2.0]
    assert found[1].points[0] == pytest.approx((10.0, 1.5))
    assert found[2].points == ((10.0, pytest.approx(13.0)), (10.0, 15.0))


def test_sides_are_told_by_where_they_look() -> None:
    sides = sides_of(sample.side())
    assert sides["lower"][0] == pytest.approx((0.0, 0.0))
    assert sides["lower"][-1] == pytest.approx((2.0, 0.0))
    assert sides["right"][-1] == pytest.approx((2.0, 0.9))
    assert sides["upper"][-1] == pytest.approx((0.0, 0.1))
    assert sides["left"] == (pytest.approx((0.0, 0.1)), pytest.approx((0.0, 0.0)))
    turned_round = Contour("stitch", ((0, 0, 0.0), (0, 1, 0.0), (2, 1, 0.0), (2, 0, 0.0)))
    other = PatternPiece("X", "x", "c", 1, "", (turned_round,))
    assert sides_of(other)["upper"] == ((2, 1), (0, 1))


def test_match_marks_point_outwards_with_their_signs() -> None:
    piece = sample.rear()
    drawn = piece_drawing(piece)
    triangles = [m for m in drawn.lines if isinstance(m, Polygon) and m.pen == "outline"]
    assert len(triangles) == len(piece.notches)
    for triangle, notch in zip(triangles, piece.notches, strict=True):
        x, y = page_mm(notch.at)
        assert triangle.points[1] == pytest.approx((x + 5 * notch.out[0], y - 5 * notch.out[1]))
        sign = next(t for w in drawn.words for t in w.at(w.places[0]) if t.text == notch.sign)
        box = text_box(sign)
        middle = ((box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2)
        assert math.dist(middle, (x, y)) < 8.0
        # Within the piece, so that it stays on the cloth.
        assert (middle[0] - x) * notch.out[0] - (middle[1] - y) * notch.out[1] < 0.0


def test_ordinates_run_from_line_to_line() -> None:
    piece = sample.side()
    uprights = [m for m in piece_drawing(piece).lines if isinstance(m, Line) and m.pen == "leader"]
    assert len(uprights) == len(piece.ordinates)
    for line, (along, low, high) in zip(uprights, piece.ordinates, strict=True):
        assert line.a == pytest.approx((1000 * along, -1000 * low))
        assert line.b == pytest.approx((1000 * along, -1000 * high))


@pytest.mark.parametrize("make", ["rear", "side"])
def test_words_stand_in_the_piece_and_not_on_each_other(make: str) -> None:
    piece = getattr(sample, make)()
    figures = sample.REAR_FIGURES if make == "rear" else sample.SIDE_FIGURES
    drawn = piece_drawing(piece, figures)
    texts = [t for w in drawn.words for t in w.at(w.places[0])]
    said = {t.text for t in texts}
    assert {piece.number, piece.name, "grain", "nap", "window", "lower line, staple strip, 30 mm"} <= said
    for a, b in combinations(texts, 2):
        if all(math.isclose(math.sin(2 * t.turn), 0.0, abs_tol=1e-6) for t in (a, b)):
            assert not text_box(a).overlaps(text_box(b)), (a.text, b.text)
    assert all(inside(t.at, drawn.outline) for t in texts)


def test_a_nap_has_an_arrow_with_one_head() -> None:
    """The grain's arrow has two heads; with a nap there is a third head more, on an arrow of its own."""
    from dataclasses import replace

    def heads(piece: PatternPiece) -> int:
        return sum(isinstance(m, Polygon) and m.pen == "start-hole" for m in piece_drawing(piece).lines)

    assert heads(sample.rear()) == 3
    assert heads(replace(sample.rear(), nap=False)) == 2
    assert heads(replace(sample.rear(), grain=None)) == 0


def test_a_turned_text_is_touched_where_it_stands() -> None:
    from loftwright.drawing.page import Text

    text = Text((0.0, 0.0), "a long text", 3.0, "start", turn=math.pi / 4)
    assert touches(text, (5.0, 0.0), (0.0, 10.0))
    assert not touches(text, (10.0, 0.0), (12.0, 8.0))
    assert readable(math.pi) == pytest.approx(0.0)
    assert readable(-math.pi / 2) == pytest.approx(-math.pi / 2)


def test_a_piece_without_a_line_is_a_bug() -> None:
    with pytest.raises(Bug, match="no outline"):
        piece_drawing(PatternPiece("X", "x", "c", 1, "", ()))
