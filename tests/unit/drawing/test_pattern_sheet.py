"""A piece by ordinates: to scale, every figure under its ordinate, nothing over anything else."""

from __future__ import annotations

import importlib.util
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from loftwright.core.book_views import PAPER_MM
from loftwright.core.errors import Bug
from loftwright.drawing.page import Polyline, texts
from loftwright.drawing.pattern_sheet import SheetWords, panel_sheet

_SPEC = importlib.util.spec_from_file_location("sample_pattern", Path(__file__).parent / "sample_pattern.py")
assert _SPEC is not None
assert _SPEC.loader is not None
sample: Any = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)


REAR_SIZES = (
    ((0.0, 0.0), (1.0, 0.0), "1000 mm"), ((-0.02, 1.4), (1.02, 1.4), "1040 mm"),
    ((0.0, 0.0), (-0.02, 1.4), "1400 mm along the seam"), ((1.02, 0.0), (1.02, 1.4), "1400 mm"),
)  # fmt: skip
SIDE_SIZES = (
    ((0.0, 0.0), (2.0, 0.0), "2000 mm"),
    ((0.0, 0.0), (0.0, 0.1), "100 mm"),
    ((2.0, 0.0), (2.0, 0.9), "900 mm"),
)


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("which", ["rear", "side"])
def test_the_sheet_is_to_scale_and_tidy(which: str, paper: str) -> None:
    piece = getattr(sample, which)()
    figures, sizes = (sample.REAR_FIGURES, REAR_SIZES) if which == "rear" else (sample.SIDE_FIGURES, SIDE_SIZES)
    words = SheetWords("Heron", "L", "mm", figures, sizes, ("Figures hold within 3 mm.",))
    page = panel_sheet(piece, words, paper=paper, number=1, count=4)  # type: ignore[arg-type]
    assert (page.width, page.height) == PAPER_MM[paper]  # type: ignore[index]
    sample.tidy(page)
    found = texts(page.marks)
    ratio = float(next(t.text for t in found if "1 : " in t.text).split("1 : ")[1].split()[0])
    cut = max((m for m in page.marks if isinstance(m, Polyline) and m.pen == "outline"), key=lambda m: len(m.points))
    xs, ys = zip(*cut.points, strict=True)
    left, low, right, high = piece.box
    # Arcs are flattened to half a millimetre of cloth at each end.
    assert max(xs) - min(xs) == pytest.approx(1000 * (right - left) / ratio, abs=1.0 / ratio)
    assert max(ys) - min(ys) == pytest.approx(1000 * (high - low) / ratio, abs=1.0 / ratio)
    # As large as the paper allows: more than half of its width or of its height is taken.
    assert max(xs) - min(xs) > 0.5 * page.width or max(ys) - min(ys) > 0.5 * page.height
    # The column of each ordinate stands under it: 100 mm apart at the sheet's scale.
    heads = sorted((t.at[0], t.text) for t in found if t.bold and t.turn and t.text in {f[0] for f in figures})
    assert [text for _, text in heads] == [f[0] for f in figures]
    for (a, _), (b, _) in pairwise(heads):
        assert b - a == pytest.approx(100.0 / ratio)
    said = [t.text for t in found]
    for row in figures:
        assert all(figure in said for figure in row)
    for _, _, text in sizes:
        assert text in said
    assert "window" in said
    assert any(text.startswith("left seam") for text in said)


def test_figures_must_match_the_ordinates() -> None:
    words = SheetWords("Heron", "L", "mm", sample.REAR_FIGURES[:3])
    with pytest.raises(Bug, match="11 ordinates and 3"):
        panel_sheet(sample.rear(), words, paper="a4", number=1, count=1)


def test_a_piece_without_ordinates_has_no_table() -> None:
    piece = replace(sample.rear(), ordinates=(), notches=(), grain=None, edges=())
    page = panel_sheet(piece, SheetWords("Heron", "L", "mm"), paper="a4", number=1, count=1)
    sample.tidy(page)
    assert not any(t.text.startswith("along") for t in texts(page.marks))
