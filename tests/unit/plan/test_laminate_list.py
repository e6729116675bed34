"""Mat and resin by area. Laminate figures computed here from first principles; formula of thickness from memory."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.errors import Bug
from loftwright.plan.laminate_list import Patch, batch, bonding_area, laminate_parts, lapped_area
from loftwright.plan.parts import line_of
from loftwright.reference.consumables import RESIN_PACKS

# psi; resin over glass, laminate g/m2, thickness mm of one mat of 450 g/m2.
ROWS = [
    (0.25, 3.000, 1800.0, 1.3008),
    (0.28, 2.571, 1607.1, 1.1401),
    (0.30, 2.333, 1500.0, 1.0508),
    (0.33, 2.030, 1363.6, 0.9371),
    (0.35, 1.857, 1285.7, 0.8722),
]


def test_one_mat_by_glass_fraction() -> None:
    psi = np.array([row[0] for row in ROWS])
    found = batch(1.0, 0.450, psi)
    assert found.resin / found.glass == pytest.approx([row[1] for row in ROWS], rel=3e-4)
    assert found.laminate * 1000 == pytest.approx([row[2] for row in ROWS], abs=0.05)
    assert found.thick * 1000 == pytest.approx([row[3] for row in ROWS], rel=1e-4)
    assert found.thick * 1000 == pytest.approx(0.450 / 3.072 * (2.56 / psi - 1.36), rel=1e-9)


def test_three_mats() -> None:
    found = batch(1.0, 3 * 0.450, 0.30)
    got = [float(v) for v in (found.glass, found.resin, found.laminate, found.thick * 1000)]
    assert got == pytest.approx([1.35, 3.15, 4.50, 3.1524], rel=1e-4)


def test_the_rule_of_a_millimetre_a_mat() -> None:
    # The trade's 1 mm for each mat of 450 g/m2 holds within ten per cent between 0.29 and 0.34.
    assert batch(1.0, 0.450, [0.29, 0.34]).thick * 1000 == pytest.approx([1.094, 0.904], abs=0.001)


@pytest.mark.parametrize(
    ("width", "area"),
    [
        (0.95, 0.95),  # one strip
        (0.951, 1.001),  # just over: one lap of 50 mm
        (1.85, 1.90),  # two strips exactly
        (1.8501, 1.9501),
    ],
)
def test_laps_between_strips(width: float, area: float) -> None:
    assert float(lapped_area(1.0, width)) == pytest.approx(area)


def test_a_strip_of_wood_is_bonded_fifty_millimetres_each_side() -> None:
    assert float(bonding_area(2.0, 0.12)) == pytest.approx(2.0 * 0.22)
    with pytest.raises(Bug):
        lapped_area(1.0, 1.0, roll=0.05)


def test_a_list_for_two_patches() -> None:
    patches = [Patch("corners", 2.0, 0.3, 2, 0.450), Patch("flange", 3.0, 0.2, 3, 0.300)]
    parts = {part.id: part for part in laminate_parts(patches, "laminate", filler=0.0005)}
    assert parts["mat-450"].quantity == pytest.approx(1.2)
    assert parts["mat-300"].quantity == pytest.approx(1.8)
    glass = 1.2 * 0.450 + 1.8 * 0.300
    assert parts["resin"].quantity == pytest.approx(glass * 7 / 3)
    assert parts["catalyst"].quantity == pytest.approx(0.02 * glass * 7 / 3 / 1.15)
    assert parts["resin"].pack in RESIN_PACKS
    assert parts["filler"].quantity == pytest.approx(0.9)
    assert line_of(parts["resin"]).amount >= 1.15 * glass * 7 / 3
    assert laminate_parts([], "laminate") == ()
