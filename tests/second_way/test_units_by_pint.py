"""Every factor of the unit table against pint, a general-purpose library of units."""

from __future__ import annotations

from typing import Any

import pint
import pytest

from loftwright.core.units import UNITS, Dimension, Unit, from_unit

SI = {
    Dimension.LENGTH: "m",
    Dimension.MASS: "kg",
    Dimension.FORCE: "N",
    Dimension.ANGLE: "rad",
    Dimension.TEMPERATURE: "kelvin",
    Dimension.AREA: "m^2",
    Dimension.SPEED: "m/s",
    Dimension.MOMENT: "N*m",
    Dimension.STIFFNESS: "N/m",
    Dimension.LINE_FORCE: "N/m",
    Dimension.PRESSURE: "Pa",
    Dimension.PERCENT: "dimensionless",
    Dimension.TIME: "s",
    Dimension.AREAL_MASS: "kg/m^2",
    Dimension.DENSITY: "kg/m^3",
}

# What pint calls our units, where that is not the same word.
PINT_NAMES = {
    "in": "inch",
    "lb": "pound",
    "daN": "decanewton",
    "C": "degC",
    "F": "degF",
    "K": "kelvin",
    "m2": "m^2",
    "cm2": "cm^2",
    "mm2": "mm^2",
    "in2": "inch^2",
    "ft2": "ft^2",
    "km/h": "km/hour",
    "kn": "knot",
    "N m": "N*m",
    "kN m": "kN*m",
    "N mm": "N*mm",
    "kg m": "kgf*m",
    "lb ft": "lbf*ft",
    "lb in": "lbf*inch",
    "kg/mm": "kgf/mm",
    "kg/cm": "kgf/cm",
    "kg/m": "kgf/m",
    "lb/in": "lbf/inch",
    "lb/ft": "lbf/ft",
    "N/100mm": "N/(100 mm)",
    "h": "hour",
    "d": "day",
    "%": "percent",
    "kg/m2": "kg/m^2",
    "g/m2": "g/m^2",
    "lb/ft2": "lb/ft^2",
    "oz/yd2": "oz/yard^2",
    "oz/ft2": "oz/ft^2",
    "kg/m3": "kg/m^3",
    "g/cm3": "g/cm^3",
    "lb/ft3": "lb/ft^3",
}
# Masses that a force field takes as their weight.
WEIGHTS = {"kg": "kgf", "g": "kgf/1000", "lb": "lbf", "oz": "ozf"}

CASES = [(dimension, unit) for dimension in SI for unit in UNITS[dimension]]


@pytest.fixture(scope="module")
def registry() -> Any:
    found: Any = pint.UnitRegistry()
    found.define("ozf = pound_force / 16")
    return found


def test_every_dimension_with_units_has_a_second_opinion() -> None:
    assert set(UNITS) - set(SI) == {Dimension.MONEY, Dimension.PLAIN}


@pytest.mark.parametrize(("dimension", "unit"), CASES, ids=lambda case: getattr(case, "name", str(case)))
def test_unit_means_the_same_to_pint(registry: Any, dimension: Dimension, unit: Unit) -> None:
    name = WEIGHTS.get(unit.name) if dimension is Dimension.FORCE else None
    expression = name or PINT_NAMES.get(unit.name, unit.name)
    for number in (1.0, 37.5, -12.0):
        if dimension is Dimension.TEMPERATURE:
            theirs = registry.Quantity(number, expression).to(SI[dimension]).magnitude
        else:
            theirs = (number * registry.parse_expression(expression)).to(SI[dimension]).magnitude
        assert from_unit(number, unit.name, dimension) == pytest.approx(theirs, rel=1e-12)
