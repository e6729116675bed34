"""Exact definitions of units and their published factors.

Sources
-------
[A] L. V. Judson, Calibration of Line Standards of Length and Measuring Tapes at the National Bureau of Standards,
    NBS Circular 572, addendum of January 1960, section 2: international yard and pound agreement, in force
    1 July 1959: 1 yard = 0.9144 m exactly, hence 1 inch = 25.4 mm. Read in a public reproduction.
[B] The same agreement: 1 avoirdupois pound = 0.45359237 kg exactly. Read in a public reproduction (encyclopaedia).
[C] Comptes rendus de la 3e CGPM (1901), p. 70: standard acceleration of free fall 980.665 cm/s2. Read in a public
    reproduction (BIPM).
[D] A. Thompson, B. N. Taylor, Guide for the Use of the International System of Units, NIST Special Publication 811,
    2008 edition, appendix B.8: factors to seven figures. Pound-force read in a public reproduction; the others
    from memory. Bold (exact) factors are compared exactly, the others to half of their last printed digit.
[E] 13th CGPM (1967), resolutions 3 and 4, and the degree Celsius as t = T - 273.15 K: BIPM, SI Brochure, 9th
    edition (2019), section 2.3.1. From memory. Degree Fahrenheit: [D], B.8, T = (t + 459.67) / 1.8. From memory.
"""

from __future__ import annotations

import pytest

from loftwright.core.quantities import parse
from loftwright.core.units import STANDARD_GRAVITY, UNITS, Dimension, from_unit, size_of


def test_inch_foot_and_yard_are_those_of_the_1959_agreement() -> None:
    # [A]
    assert size_of("in") == 0.0254
    assert parse("36 in", Dimension.LENGTH, unknown=None).nominal == 0.9144
    assert parse("3 ft", Dimension.LENGTH, unknown=None).nominal == 0.9144


def test_pound_and_ounce_are_those_of_the_1959_agreement() -> None:
    # [B]
    assert size_of("lb") == 0.45359237
    assert parse("16 oz", Dimension.MASS, unknown=None).nominal == 0.45359237


def test_standard_gravity_is_that_of_1901() -> None:
    # [C]
    assert STANDARD_GRAVITY == 9.80665
    assert size_of("kgf", Dimension.FORCE) == 9.80665
    assert parse("1 kg", Dimension.FORCE, unknown=None).nominal == 9.80665


# [D]: dimension, unit, digits as printed, exponent.
FACTORS = [
    (Dimension.FORCE, "lbf", "4.448222", 0),
    (Dimension.FORCE, "oz", "2.780139", -1),
    (Dimension.MASS, "oz", "2.834952", -2),
    (Dimension.ANGLE, "deg", "1.745329", -2),
    (Dimension.MOMENT, "lb ft", "1.355818", 0),
    (Dimension.MOMENT, "lb in", "1.129848", -1),
    (Dimension.STIFFNESS, "lb/in", "1.751268", 2),
    (Dimension.STIFFNESS, "lb/ft", "1.459390", 1),
    (Dimension.LINE_FORCE, "lb/in", "1.751268", 2),
    (Dimension.LINE_FORCE, "lb/ft", "1.459390", 1),
    (Dimension.PRESSURE, "psi", "6.894757", 3),
    (Dimension.AREAL_MASS, "lb/ft2", "4.882428", 0),
    (Dimension.AREAL_MASS, "oz/ft2", "3.051517", -1),
    (Dimension.AREAL_MASS, "oz/yd2", "3.390575", -2),
    (Dimension.DENSITY, "lb/ft3", "1.601846", 1),
    (Dimension.SPEED, "km/h", "2.777778", -1),
    (Dimension.SPEED, "kn", "5.144444", -1),
]


@pytest.mark.parametrize(("dimension", "unit", "digits", "exponent"), FACTORS)
def test_factor_to_its_printed_digits(dimension: Dimension, unit: str, digits: str, exponent: int) -> None:
    half_a_digit = 0.5 * 10.0 ** (exponent - 6)
    assert size_of(unit, dimension) == pytest.approx(float(digits) * 10.0**exponent, rel=0, abs=half_a_digit)


# [D]: factors printed bold.
EXACT = [
    (Dimension.SPEED, "mph", 0.44704),
    (Dimension.SPEED, "ft/s", 0.3048),
    (Dimension.AREA, "ft2", 0.09290304),
    (Dimension.AREA, "in2", 6.4516e-4),
    (Dimension.PRESSURE, "bar", 1e5),
    (Dimension.MOMENT, "kg m", 9.80665),
    (Dimension.TIME, "d", 86400.0),
]


@pytest.mark.parametrize(("dimension", "unit", "factor"), EXACT)
def test_exact_factor(dimension: Dimension, unit: str, factor: float) -> None:
    assert size_of(unit, dimension) == factor


@pytest.mark.parametrize(
    ("number", "unit", "kelvin"),
    [(0, "C", 273.15), (100, "C", 373.15), (32, "F", 273.15), (212, "F", 373.15), (-459.67, "F", 0.0), (1, "K", 1.0)],
)
def test_temperature_scales(number: float, unit: str, kelvin: float) -> None:
    # [E]
    assert from_unit(number, unit) == pytest.approx(kelvin, rel=1e-15, abs=1e-12)


def test_every_unit_has_a_positive_size_and_only_temperatures_have_another_zero() -> None:
    for dimension, units in UNITS.items():
        for unit in units:
            assert unit.size > 0, unit
            assert unit.zero == 0 or dimension is Dimension.TEMPERATURE, unit
