"""Order of sewing and amounts. Exact constructed cases."""

from __future__ import annotations

from dataclasses import replace

import pytest

from loftwright.cloth.allowances import felled_seam, hem, lapped_seam, plain_seam, staple_strip, track, zip_edge
from loftwright.cloth.sewing_order import Edge, Window, Work, amounts, order, staples, thread_length

WORK = Work(
    panels=("rear wall", "right wall"),
    seams=(Edge("S1, rear wall to right wall", felled_seam()[1], 0.5), Edge("S2", plain_seam(), 0.6)),
    ends=(Edge("the lower edge", hem(), 6.0), Edge("the upper edge", staple_strip(), 6.2)),
    windows=(Window("window 1", "right wall", ("clear sheet", "curtain"), 2.1, 3.0),),
    lining=True,
    insulation=True,
)


def test_windows_before_seams_before_edges() -> None:
    said = [step.do for step in order(WORK)]
    at = [
        next(k for k, do in enumerate(said) if words in do) for words in ("window 1", "insulation", "S1", "lower edge")
    ]
    assert at == sorted(at)
    assert "right sides together" in said[at[2]]
    assert any("at least 25 mm back" in do for do in said)
    assert any("Tex 90" in do and "3.6 to 5.1 mm" in do for do in said)
    assert any("rolled, not folded" in step.look for step in order(WORK))
    assert sum("Hang the lining" in do for do in said) == 1


def test_nothing_is_said_of_what_is_not_there() -> None:
    bare = Work(
        ("wall",), (Edge("S1", lapped_seam(), 0.5), Edge("S2", zip_edge(), 0.5)), (Edge("the top", track(), 1.0),)
    )
    said = " ".join(step.do for step in order(bare))
    assert "lining" not in said
    assert "insulation" not in said
    assert "window" not in said
    assert "lap the two pieces" in said
    assert "Set the zip of S2" in said
    assert "round the cord" in said


def test_cloth_that_shrinks_is_wetted_before_sheet_is_sewn_in() -> None:
    """Sheet and tape do not shrink: sewn in first, the cloth puckers round them."""
    two = replace(WORK, shrinks=True, windows=(*WORK.windows, replace(WORK.windows[0], name="window 2")))
    said = [step.do for step in order(two)]
    wet = [k for k, do in enumerate(said) if do.startswith("Wet and dry the right wall before")]
    assert len(wet) == 1
    assert "window 1 and window 2 are sewn in" in said[wet[0]]
    assert wet[0] < min(k for k, do in enumerate(said) if do.startswith("Sew window"))
    assert not any("Wet and dry" in step.do for step in order(WORK))


def test_amounts() -> None:
    """Felled 2 x 0.5, plain 0.6, hem 6.0, window 3.0 m of stitching; 6.2 m of staples at 50 and 25 mm."""
    found = amounts(WORK, 0.0025)
    assert (found.seams, found.stitched, found.tape) == pytest.approx((1.1, 10.6, 2.1))
    assert found.staples == (125, 249)
    assert (found.track, found.zip) == (0, 0)
    assert found.thread == pytest.approx(thread_length(10.6, 0.0025, 0.0254 / 7))


def test_thread_counted_stitch_by_stitch() -> None:
    """1000 stitches of 4 mm through 2 mm: each thread goes 4 mm along and twice 1 mm into the cloth; a quarter more."""
    assert thread_length(4.0, 0.002, 0.004) == pytest.approx(1000 * 2 * (0.004 + 2 * 0.001) * 1.25)
    with pytest.raises(ValueError, match="has a length"):
        thread_length(1.0, 0.002, 0.0)


def test_staples_at_both_ends() -> None:
    assert [staples(1.0, 0.05), staples(1.01, 0.05), staples(0.05, 0.05)] == [21, 22, 2]
