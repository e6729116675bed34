"""Dew point and vapour pressure.

Sources, each read in a public reproduction: a sensor maker's note on Sonntag's 1990 parameters with two worked
examples; ASHRAE Handbook Fundamentals 2017, chapter 1, table 3, saturated vapour (as quoted in a public test suite); a
dew point table printed to whole degrees, of which the columns from 40 per cent up are used: at 30 per cent it prints 5
for air of 25 C, where ASHRAE's vapour pressures give 6.2.
"""

from __future__ import annotations

import pytest

from loftwright.cloth.warmth import dew_point, vapour_density, vapour_pressure

ZERO = 273.15


@pytest.mark.parametrize(("humidity", "air", "dew"), [(0.10, 25.0, -8.77), (0.90, 50.0, 47.90)])
def test_worked_examples(humidity: float, air: float, dew: float) -> None:
    assert dew_point(air + ZERO, humidity) - ZERO == pytest.approx(dew, abs=0.006)


@pytest.mark.parametrize(("air", "pressure"), [(5.0, 872.6), (25.0, 3169.7), (50.0, 12351.3)])
def test_saturated_vapour(air: float, pressure: float) -> None:
    assert vapour_pressure(air + ZERO) == pytest.approx(pressure, rel=0.004)


# Air; dew points at 40, 50, 60, 70, 80, 90 per cent, printed to whole degrees.
TABLE = [
    (30.0, (14, 18, 21, 24, 26, 28)),
    (25.0, (10, 13, 16, 19, 21, 23)),
    (20.0, (5, 9, 12, 14, 16, 18)),
    (15.0, (1, 4, 7, 9, 11, 13)),
]


@pytest.mark.parametrize(("air", "row"), TABLE)
def test_printed_table(air: float, row: tuple[int, ...]) -> None:
    found = dew_point(air + ZERO, [0.40, 0.50, 0.60, 0.70, 0.80, 0.90]) - ZERO
    # Whole degrees, some cut and some rounded.
    assert found == pytest.approx(row, abs=1.0)


@pytest.mark.parametrize(("air", "grams"), [(0.0, 4.8), (10.0, 9.4), (20.0, 17.3), (30.0, 30.4)])
def test_vapour_in_saturated_air(air: float, grams: float) -> None:
    """Printed in the same table and on a school's page on the humidity of air, grams in a cubic metre."""
    # Half of the last digit, and the 0.4 per cent by which the formula may be off.
    assert vapour_density(air + ZERO, 1.0) * 1000.0 == pytest.approx(grams, abs=0.05 + 0.004 * grams)
