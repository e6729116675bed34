"""Section properties against handbook tables, in inches and in millimetres.

Rolled angles: AISC Shapes Database and Steel Construction Manual Part 1, read in a public reproduction; the tables
count fillets, which sharp corners leave out. Inch angle below 2 in and all tubes: computed here from first principles.
Torsion of flats: Timoshenko and Goodier, Theory of Elasticity, table of rectangular bars, from memory.
"""

from __future__ import annotations

import pytest

from loftwright.strength.sections import angle, flat, round_tube, tube


@pytest.mark.parametrize(
    ("thick", "area", "centre", "ix", "least", "torsion", "torsion_off"),
    [(0.25, 0.944, 0.586, 0.346, 0.142, 0.0209, 0.07), (0.125, 0.491, 0.534, 0.189, 0.0756, 0.00293, 0.15)],
)
def test_rolled_angle_2x2(
    thick: float, area: float, centre: float, ix: float, least: float, torsion: float, torsion_off: float
) -> None:
    found = angle(2.0, 2.0, thick)
    assert found.area == pytest.approx(area, rel=0.015)
    assert (found.x, found.y) == pytest.approx((centre, centre), rel=0.024)
    assert (found.ix, found.iy) == pytest.approx((ix, ix), rel=0.015)
    assert found.principal[1] == pytest.approx(least, rel=0.015)
    assert found.torsion == pytest.approx(torsion, rel=torsion_off)


def test_rolled_angle_2x2_by_a_quarter() -> None:
    found = angle(2.0, 2.0, 0.25)
    assert found.principal[0] == pytest.approx(0.551, rel=0.015)
    assert sum(found.principal) == pytest.approx(found.ix + found.iy, rel=1e-12)
    assert found.ixy == pytest.approx(-(0.551 - 0.142) / 2, rel=0.015)
    assert found.moduli[0] == pytest.approx(0.244, rel=0.015)
    assert found.radii[::2] == pytest.approx((0.605, 0.387), rel=0.015)
    assert abs(found.tilt) == pytest.approx(0.7853982, rel=1e-6)


def test_the_same_angle_with_sharp_corners() -> None:
    """Sharp corners by two rectangles, computed here."""
    found = angle(2.0, 2.0, 0.25)
    assert (found.area, found.x, found.ix, found.ixy) == pytest.approx((0.9375, 0.59167, 0.34759, -0.20417), rel=2e-5)
    assert (*found.principal, found.torsion) == pytest.approx((0.55176, 0.14342, 0.01953), rel=1e-4)
    thin = angle(2.0, 2.0, 0.125)
    expected = (0.48438, 0.54637, 0.18996, 0.07655, 0.00252)
    assert (thin.area, thin.x, thin.ix, thin.principal[1], thin.torsion) == pytest.approx(expected, abs=6e-6)


def test_small_inch_angle() -> None:
    found = angle(1.5, 1.5, 0.125)
    assert (found.area, found.x, found.ix) == pytest.approx((0.359375, 0.421196, 0.0777650), rel=1e-5)
    assert (found.ixy, found.principal[1]) == pytest.approx((-0.0462381, 0.0315269), rel=1e-5)
    assert (found.radii[2], found.torsion) == pytest.approx((0.296187, 0.00187174), rel=1e-5)


def test_inch_square_tube() -> None:
    found = tube(1.0, 1.0, 0.065)
    assert (found.area, found.ix, found.torsion) == pytest.approx((0.243100, 0.0355921, 0.0531306), rel=1e-5)
    assert (found.moduli[0], found.radii[0]) == pytest.approx((0.0711842, 0.382633), rel=1e-5)


def test_metric_square_tube() -> None:
    found = tube(25.0, 25.0, 2.0)
    assert (found.area, found.ix, found.moduli[1]) == pytest.approx((184.0, 16345.33, 1307.627), rel=1e-6)
    assert found.torsion == pytest.approx(24334.0, rel=1e-6)


def test_metric_rectangular_tube() -> None:
    found = tube(30.0, 50.0, 3.0)
    assert (found.area, found.ix, found.iy) == pytest.approx((444.0, 142132.0, 61812.0), rel=1e-6)
    assert found.torsion == pytest.approx(130569.8, rel=1e-6)


def test_round_tubes() -> None:
    found = round_tube(25.0, 2.0)
    assert (found.area, found.ix, found.torsion) == pytest.approx((144.5133, 9628.196, 19256.39), rel=1e-6)
    assert found.moduli[0] == pytest.approx(770.2557, rel=1e-6)
    inch = round_tube(1.0, 0.065)
    assert (inch.area, inch.ix, inch.torsion) == pytest.approx((0.190930, 0.0209654, 0.0419309), rel=1e-5)


@pytest.mark.parametrize(
    ("ratio", "factor"), [(1, 0.1406), (1.5, 0.196), (2, 0.229), (3, 0.263), (5, 0.291), (10, 0.312)]
)
def test_torsion_of_rectangular_bars(ratio: float, factor: float) -> None:
    assert flat(ratio, 1.0).torsion == pytest.approx(factor * ratio, rel=0.005)
