"""Cotton duck numbers, ounces, hems, stitches and shrinkage against manuals and standards of government bodies.

Cotton duck: US National Bureau of Standards, standard numbered cotton duck: number = 19 - ounces in 36 in by 22 in
(read in a public reproduction). Seams and hems: US Army FM 10-16, General Fabric Repair (2000), ch. 8, figs 8-2, 8-3;
stitches: TM 10-8340-224-13, para. 5-6 (both read in a public reproduction). Grams and finished sizes: computed here
from first principles with the pound of 0.45359237 kg and the inch of 25.4 mm.
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
    cloth_weight,
    threads_for,
)

INCH = 0.0254


@pytest.mark.parametrize(
    ("number", "grams"), [(1, 998.7), (2, 943.2), (4, 832.2), (6, 721.3), (8, 610.3), (10, 499.3), (12, 388.4)]
)
def test_numbered_duck(number: int, grams: float) -> None:
    assert cloth_weight(f"No. {number} duck") * 1000 == pytest.approx(grams, abs=0.1)
    assert cloth_weight(f"#{number}") == cloth_weight(f"number {number} cotton duck")


@pytest.mark.parametrize(("noughts", "ounces"), [("1/0", 19), ("2/0", 20), ("3/0", 21), ("6/0", 24)])
def test_nought_duck(noughts: str, ounces: int) -> None:
    by_area = ounces * 0.45359237 / 16 / (36 * 22 * INCH**2)
    assert cloth_weight(f"{noughts} duck") == pytest.approx(by_area, rel=1e-12)


@pytest.mark.parametrize(
    ("ounces", "grams"), [(9, 305.152), (9.25, 313.628), (10, 339.057), (12, 406.869), (15, 508.586), (18, 610.303)]
)
def test_ounces_a_square_yard(ounces: float, grams: float) -> None:
    assert cloth_weight(f"{ounces} oz/yd2") * 1000 == pytest.approx(grams, abs=0.001)
    assert cloth_weight(f"{grams} g/m2") * 1000 == pytest.approx(grams)
    assert cloth_weight(f"{grams} gsm") * 1000 == pytest.approx(grams)


@pytest.mark.parametrize("words", ["10", "10 oz", "10oz duck", "duck", "10 g", "-10 oz/yd2", "10 oz/m", ""])
def test_a_weight_that_may_mean_two_things_is_refused(words: str) -> None:
    with pytest.raises(ValueError, match="does not say which weight is meant"):
        cloth_weight(words)


@pytest.mark.parametrize("words", ["No. 13 duck", "No. 0 duck", "#40"])
def test_numbers_that_no_duck_has(words: str) -> None:
    with pytest.raises(ValueError, match="cotton duck is numbered"):
        cloth_weight(words)


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
