"""Hems, stitches and shrinkage against manuals of government bodies.

Seams and hems: US Army FM 10-16, General Fabric Repair (2000), ch. 8, figs 8-2, 8-3; stitches: TM 10-8340-224-13,
para. 5-6 (both read in a public reproduction). Finished sizes: computed here from first principles with the inch of
25.4 mm.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.cloth.allowances import hem, plain_seam
from loftwright.cloth.cut_lines import cut_line, net_of
from loftwright.cloth.pieces import before_shrinking
from loftwright.reference.sewing import (
    CLEAR_SHEETS,
    OVERSTITCH,
    ROLL_WIDTHS,
    STITCH_PITCH,
    THREADS,
    threads_for,
)

INCH = 0.0254


def test_hem_and_seams_of_the_manual() -> None:
    """A panel 1800 by 600 mm: plain seams of 1/2 in, the manual's single-edge hem below, 1 in at the top."""
    lower, upper = np.array([[0.0, 0.0], [1.8, 0.0]]), np.array([[0.0, 0.6], [1.8, 0.6]])
    side = plain_seam(INCH / 2)
    ends = {"bottom": hem(INCH, INCH / 2), "top": plain_seam(INCH)}
    cut = cut_line(net_of(lower, upper), {"right seam": side, "left seam": side, **ends})
    assert np.ptp(cut.outline, axis=0) * 1000 == pytest.approx([1825.4, 663.5], abs=1e-6)


@pytest.mark.parametrize(("shrinks", "mm"), [(0.03, 2061.856), (0.08, 2173.913), (0.12, 2272.727), (0.0, 2000.0)])
def test_shrinkage_is_divided(shrinks: float, mm: float) -> None:
    """Exact: what is left of the cut length is the finished one; adding the share instead falls short."""
    cut = before_shrinking(2.0, shrinks)
    assert cut * 1000 == pytest.approx(mm, abs=5e-4)
    assert cut * (1 - shrinks) == pytest.approx(2.0, rel=1e-14)


@pytest.mark.parametrize("shrinks", [-0.01, 0.5, 3.0])
def test_shrinkage_in_per_cent_is_refused(shrinks: float) -> None:
    with pytest.raises(ValueError, match="share of the length"):
        before_shrinking(2.0, shrinks)


def test_stitches_and_sheet() -> None:
    """5 to 7 stitches an inch are 5.1 to 3.6 mm; breaks overstitched an inch; 20, 30, 40 mil sheet (as above)."""
    assert [round(pitch * 1000, 1) for pitch in STITCH_PITCH] == [3.6, 5.1]
    assert pytest.approx(INCH) == OVERSTITCH
    assert [round(sheet.thickness * 1000, 3) for sheet in CLEAR_SHEETS] == [0.508, 0.762, 1.016]
    # From memory: cold-crack ratings of -29 to -34 degrees C.
    assert [round(CLEAR_SHEETS[0].cracks_from - 273.15), round(CLEAR_SHEETS[0].cracks_to - 273.15)] == [-29, -34]


def test_rolls_and_threads_from_memory() -> None:
    assert [round(width * 1000, 1) for width in ROLL_WIDTHS[:4]] == [914.4, 1168.4, 1371.6, 1524.0]
    assert [thread.tex for thread in threads_for(0.4)] == [90, 135]
    assert threads_for(0.01) == (THREADS[0],)
    assert threads_for(2.0) == (THREADS[-1],)
