"""Cutting layout: the roll to scale, every piece in it, and the arrow of the threads turned with its piece."""

from __future__ import annotations

import importlib.util
import math
from pathlib import Path
from typing import Any

import pytest

from loftwright.core.errors import Bug
from loftwright.drawing.layout_view import RollWords, cutting_layout
from loftwright.drawing.page import Line, Polygon, texts

_SPEC = importlib.util.spec_from_file_location("sample_pattern", Path(__file__).parent / "sample_pattern.py")
assert _SPEC is not None
assert _SPEC.loader is not None
sample: Any = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)


TICKS = tuple((0.5 * k, f"{0.5 * k:g} m") for k in range(12))
WORDS = (
    RollWords("5.64 m", "1.47 m", "45 % left over", TICKS),
    RollWords("1.53 m", "1.40 m", "31 % left over", TICKS[:4]),
)


def test_rolls_are_drawn_to_one_scale() -> None:
    page = cutting_layout(sample.layouts(), WORDS, (sample.rear(), sample.side()), width=186.0)
    sample.tidy(page)
    outlines = [m for m in page.marks if isinstance(m, Polygon) and m.pen == "outline"]
    laid = [piece for layout in sample.layouts() for piece in layout.pieces]
    assert len(outlines) == len(laid)
    ticks = sorted(t.at[0] for t in texts(page.marks) if t.text in ("1 m", "1.5 m"))
    scale = (max(ticks) - min(ticks)) / 0.5
    for outline, piece in zip(outlines, laid, strict=True):
        for axis in (0, 1):
            drawn, real = [p[axis] for p in outline.points], [p[axis] for p in piece.outline]
            assert max(drawn) - min(drawn) == pytest.approx(scale * (max(real) - min(real)))
    said = [t.text for t in texts(page.marks)]
    assert said.count("W1") == 2
    assert {"W2", "W2 face down", "5.64 m", "1.53 m", "cotton canvas", "fleece"} <= set(said)


def test_arrows_lie_along_the_threads() -> None:
    """Constructed: the rear wall's threads run up; turned a quarter to the left they point back along the roll."""
    page = cutting_layout(sample.layouts()[1:], WORDS[1:], (sample.rear(),), width=120.0)
    (arrow,) = [m for m in page.marks if isinstance(m, Line) and m.pen == "ink" and math.dist(m.a, m.b) > 3.0]
    assert arrow.a[1] == pytest.approx(arrow.b[1])
    heads = [m for m in page.marks if isinstance(m, Polygon) and m.pen == "start-hole"]
    # With a nap one head, at the end to the left.
    assert len(heads) == 1
    assert heads[0].points[0] == pytest.approx(arrow.b)
    assert arrow.b[0] < arrow.a[0]
    mirrored = cutting_layout(sample.layouts()[:1], WORDS[:1], (sample.side(),), width=186.0)
    # The side wall's threads run to the right; face down they run to the left.
    ways = [
        m.b[0] > m.a[0] for m in mirrored.marks if isinstance(m, Line) and m.pen == "ink" and math.dist(m.a, m.b) > 3
    ]
    assert ways == [True, False]


def test_words_are_wanted_for_every_roll() -> None:
    with pytest.raises(Bug, match="its words"):
        cutting_layout(sample.layouts(), WORDS[:1], (), width=186.0)
