"""Bolts in a plate against EN 1993-1-8 Tables 3.3 and 3.4.

Sources: a worked sheet (M20 4.6, 8 mm S235) and design tables (class 4.6 hexagon bolts in S355 and S460), both read in
public reproductions; the M8 case computed here from the table's formulas (bearing, 0.6 and 0.9 read in a public
reproduction). The worked sheet puts the bolt's strength where the table has the plate's in bearing, so of its bearing
only the edge factors are used.
"""

from __future__ import annotations

import pytest

from loftwright.strength import bolts

MM, MPA = 1e-3, 1e6


def test_m20_in_eight_millimetres() -> None:
    hole = 22 * MM
    assert bolts.shear_resistance(245e-6, 400 * MPA, 0.6) / 1000 == pytest.approx(47.04, abs=0.005)
    assert bolts.tension_resistance(245e-6, 400 * MPA) / 1000 == pytest.approx(70.56, abs=0.005)
    assert bolts.punching_resistance(30 * MM, 8 * MM, 360 * MPA) / 1000 == pytest.approx(130.288, abs=0.0005)
    edge = bolts.EDGE * hole, bolts.EDGE * hole
    assert bolts.edge_factors(hole, *edge)[0] == pytest.approx(0.4)
    inner, k1 = bolts.edge_factors(hole, float("inf"), edge[1], bolts.SPACING * hole, 2.4 * hole)
    assert inner == pytest.approx(0.483, abs=0.0005)
    assert k1 == pytest.approx(1.66)


@pytest.mark.parametrize(
    ("size", "hole", "distances", "tensile", "bearing", "printed"),
    [
        (12, 14, (25, 20, 35, 40), 470, 5, 30.3),
        (12, 14, (25, 20, 35, 40), 470, 10, 60.5),
        (16, 18, (35, 25, 50, 50), 470, 5, 42.7),
        (12, 14, (25, 20, 35, 40), 540, 5, 34.8),
    ],
)
def test_bearing_in_design_tables(
    size: float, hole: float, distances: tuple[float, ...], tensile: float, bearing: float, printed: float
) -> None:
    alpha, k1 = bolts.edge_factors(hole, *distances)
    # Class 4.6 is weaker than these plates, which the tables leave out of bearing: the plate's own strength counts.
    found = bolts.bearing_resistance(size * MM, bearing * MM, tensile * MPA, 2 * tensile * MPA, alpha, k1)
    assert found / 1000 == pytest.approx(printed, abs=0.05)


@pytest.mark.parametrize(("area", "pull", "shear"), [(84.3, 24.3, 16.2), (157, 45.2, 30.1), (245, 70.6, 47.0)])
def test_class_4_6_in_design_tables(area: float, pull: float, shear: float) -> None:
    assert bolts.tension_resistance(area / 1e6, 400 * MPA) / 1000 == pytest.approx(pull, abs=0.05)
    assert bolts.shear_resistance(area / 1e6, 400 * MPA, 0.6) / 1000 == pytest.approx(shear, abs=0.05)


def test_m8_in_two_millimetres() -> None:
    """Computed here from the formulas of the table."""
    end, k1 = bolts.edge_factors(9.0, 18.0, 13.5)
    inner, _ = bolts.edge_factors(9.0, float("inf"), 13.5, 30.0)
    assert (end, inner, k1) == pytest.approx((0.66667, 0.86111, 2.5), abs=1e-5)
    for alpha, bearing in ((end, 7680.0), (inner, 9920.0)):
        found = bolts.bearing_resistance(8 * MM, 2 * MM, 360 * MPA, 800 * MPA, alpha, k1)
        assert found == pytest.approx(bearing, rel=1e-4)
    assert bolts.shear_resistance(36.6e-6, 800 * MPA, 0.6) == pytest.approx(14054.4, rel=1e-4)
    assert bolts.tension_resistance(36.6e-6, 800 * MPA) == pytest.approx(21081.6, rel=1e-4)
    assert bolts.punching_resistance(13.9 * MM, 2 * MM, 360 * MPA) == pytest.approx(15091.7, rel=1e-4)


@pytest.mark.parametrize(("thick", "kt"), [(0.75, 0.84), (1.0, 0.92), (1.25, 1.0), (2.0, 1.0)])
def test_thin_sheet_bears_less(thick: float, kt: float) -> None:
    """EN 1993-1-3 Table 8.4, k_t read in a public reproduction; values computed here."""
    found = bolts.thin_bearing_resistance(8 * MM, thick * MM, 270 * MPA, 24 * MM, 1.0)
    assert found == pytest.approx(2.5 * kt * 270 * 8 * thick, rel=1e-9)
