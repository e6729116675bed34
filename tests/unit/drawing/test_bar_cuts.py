"""Bars to cut: lengths to scale from the bar's end with the saw's kerf, every piece named, nothing lost over pages."""

from __future__ import annotations

import importlib.util
import math
from pathlib import Path
from typing import Any

import pytest

from loftwright.core.errors import Bug
from loftwright.core.fitting_views import CutBar, CutPiece, CutPlan, StockBar
from loftwright.drawing.bar_cuts import BarWords, bar_cuts
from loftwright.drawing.page import Drawing, Polygon, texts

_SPEC = importlib.util.spec_from_file_location("sample_work", Path(__file__).parent / "sample_work.py")
assert _SPEC is not None
assert _SPEC.loader is not None
sample: Any = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)

KERF = 0.01


def plan(*bars: tuple[float, tuple[tuple[str, float], ...]]) -> CutPlan:
    made = []
    for length, pieces in bars:
        cut = tuple(CutPiece(name, long) for name, long in pieces)
        made.append(CutBar(StockBar(length), cut, length - sum(p.length + KERF for p in cut)))
    return CutPlan(tuple(made), KERF, "metres", 1.0, 1.0, True, "")


def words(cut: CutPlan) -> list[BarWords]:
    return [
        BarWords(f"Bar {k + 1}", tuple(f"{1000 * p.length:.0f} mm" for p in b.pieces), f"rest {1000 * b.offcut:.0f} mm")
        for k, b in enumerate(cut.bars)
    ]


def pieces(page: Drawing) -> list[Polygon]:
    return [m for m in page.marks if isinstance(m, Polygon) and m.pen == "timber"]


def test_pieces_lie_where_they_are_cut() -> None:
    """Constructed: 6 m on 181 mm is 30 mm a metre; middles lie at half their length past what was cut before."""
    cut = plan((6.0, (("A", 2.0), ("B", 1.5), ("C", 1.0))), (3.0, (("D", 2.0),)))
    (page,) = bar_cuts(cut, words(cut), width=181.0)
    sample.tidy(page)
    middles = [(p.points[0][0] + p.points[1][0]) / 2 for p in pieces(page)]
    assert middles == pytest.approx([0.5 + 30.0, 0.5 + 60.3 + 22.5, 0.5 + 60.3 + 45.3 + 15.0, 0.5 + 30.0])
    rests = [m for m in page.marks if isinstance(m, Polygon) and m.pen == "thin-outline"]
    assert [r.points[1][0] - r.points[0][0] for r in rests] == pytest.approx([30 * b.offcut for b in cut.bars])
    assert {"A", "2000 mm", "rest 1470 mm"} <= {t.text for t in texts(page.marks)}


@pytest.mark.parametrize("width", [84.0, 180.0])
def test_short_pieces_are_named_beneath(width: float) -> None:
    cut = plan((6.0, (*((f"plate{k % 2}", 0.08) for k in range(14)), *(("foot", 0.03) for _ in range(8)), ("R", 3.9))))
    (page,) = bar_cuts(cut, words(cut), width=width, said=("Clean the ends.",))
    sample.tidy(page)
    said = " ".join(t.text for t in texts(page.marks))
    for text in ("a: plate0 80 mm", "b: plate1 80 mm", "c: foot 30 mm", "R", "3900 mm", "Clean the ends."):
        assert text in said
    assert len(pieces(page)) == 23


def test_an_end_that_is_not_square_slants() -> None:
    slanted = CutBar(StockBar(2.0), (CutPiece("A", 1.0, (math.pi / 4, 0.0)),), 0.99)
    cut = CutPlan((slanted,), KERF, "metres", 2.0, 2.0, True, "")
    (page,) = bar_cuts(cut, words(cut), width=100.0)
    (left, right, low_right, low_left) = pieces(page)[0].points
    assert left[0] > low_left[0] + 0.5
    assert right[0] == low_right[0]
    assert any("not square" in t.text for t in texts(page.marks))


def test_many_bars_fill_pages() -> None:
    cut = plan(*((3.0, ((f"P{k}", 1.2), (f"Q{k}", 0.9))) for k in range(12)))
    pages = bar_cuts(cut, words(cut), width=180.0, height=70.0)
    assert len(pages) > 1
    assert all(page.height <= 70.0 for page in pages)
    names = [t.text for page in pages for t in texts(page.marks) if t.text[0] in "PQ"]
    assert sorted(names) == sorted(f"{c}{k}" for c in "PQ" for k in range(12))
    for page in pages:
        sample.tidy(page)


def test_words_are_wanted_for_every_piece() -> None:
    cut = plan((6.0, (("A", 2.0),)))
    with pytest.raises(Bug, match="their words"):
        bar_cuts(cut, [BarWords("Bar 1", ())], width=180.0)
