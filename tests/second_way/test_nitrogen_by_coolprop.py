"""Closed forms for nitrogen against CoolProp, a general-purpose property library.

CoolProp evaluates the reference equation of state of Span, Lemmon, Jacobsen, Wagner and Yokozeki,
J. Phys. Chem. Ref. Data 29 (2000) 1361 (reference: from memory). Tables: computed here from first
principles with that equation.
"""

from __future__ import annotations

from dataclasses import replace

import CoolProp
import numpy as np
import pytest

from loftwright.mechanics.gas_spring import (
    GasSpring,
    at_temperature,
    moving_in,
    moving_out,
    pressure_ratio,
    quick_exponent,
    quick_in,
    quick_out,
    rod_area,
    slow_force,
    temperature_factor,
)
from loftwright.reference.nitrogen import AIR_PRESSURE, EXPONENT_ERROR, HEATING_ERROR

T20 = 293.15
GAS = CoolProp.AbstractState("HEOS", "Nitrogen")


def density(pressure: float, kelvin: float = T20) -> float:
    GAS.update(CoolProp.PT_INPUTS, pressure, kelvin)
    return GAS.rhomass()


def pressure(density_: float, kelvin: float) -> float:
    GAS.update(CoolProp.DmassT_INPUTS, density_, kelvin)
    return GAS.p()


def entropy(density_: float, kelvin: float) -> float:
    GAS.update(CoolProp.DmassT_INPUTS, density_, kelvin)
    return GAS.smass()


def pressure_without_heat(density_: float, entropy_: float) -> float:
    GAS.update(CoolProp.DmassSmass_INPUTS, density_, entropy_)
    return GAS.p()


def test_heating_over_the_whole_range():
    pressures, kelvins = np.linspace(2e6, 20e6, 10), np.linspace(243.0, 363.0, 13)
    true = np.array([[pressure(density(p), t) / p for t in kelvins] for p in pressures])
    error = np.abs(pressure_ratio(pressures[:, None], kelvins) / true - 1)
    assert 1e-6 < error.max() < HEATING_ERROR


def test_force_factor_from_gauge_pressure():
    for gauge in (3e6, 8e6, 12e6):
        for kelvin in (253.15, 338.15):
            true = (pressure(density(gauge + AIR_PRESSURE), kelvin) - AIR_PRESSURE) / gauge
            assert temperature_factor(gauge, kelvin) == pytest.approx(true, rel=2e-4)


# Charge [MPa absolute at 20 C], then p(T)/p(20 C) at -20, 0, 10, 30, 40, 60, 80 C.
HEATING_TABLE = (
    (5, 0.8468, 0.9235, 0.9618, 1.0382, 1.0763, 1.1525, 1.2285),
    (8, 0.8372, 0.9188, 0.9594, 1.0405, 1.0810, 1.1617, 1.2423),
    (10, 0.8312, 0.9158, 0.9579, 1.0420, 1.0839, 1.1676, 1.2509),
    (13, 0.8227, 0.9116, 0.9558, 1.0441, 1.0880, 1.1757, 1.2631),
    (15, 0.8176, 0.9090, 0.9546, 1.0453, 1.0905, 1.1807, 1.2705),
)


@pytest.mark.parametrize("row", HEATING_TABLE)
def test_heating_table(row):
    kelvins = np.array([-20, 0, 10, 30, 40, 60, 80]) + 273.15
    assert pressure_ratio(row[0] * 1e6, kelvins) == pytest.approx(row[1:], abs=2e-4)


# Charge [MPa absolute at 20 C], pressure ratio on compression to V/1.30 slowly (isothermal) and quickly (isentropic).
COMPRESSION_TABLE = (
    (5, 1.3009, 1.4855),
    (8, 1.3073, 1.5198),
    (10, 1.3142, 1.5466),
    (13, 1.3287, 1.5926),
    (15, 1.3409, 1.6268),
)


@pytest.mark.parametrize(("charge", "slow", "quick"), COMPRESSION_TABLE)
def test_compression_table(charge, slow, quick):
    rho = density(charge * 1e6)
    assert pressure(1.3 * rho, T20) / (charge * 1e6) == pytest.approx(slow, abs=1e-4)
    # An exponent within 0.01 puts the ratio within 0.01 ln(1.34) = 0.3 %.
    assert slow ** quick_exponent(charge * 1e6, T20, "in") == pytest.approx(quick, rel=3e-3)


@pytest.mark.parametrize(("way", "swell"), [("in", 1 / 1.3), ("out", 1.3)])
def test_exponents_over_the_whole_range(way, swell):
    pressures, kelvins = np.linspace(2e6, 20e6, 7), np.linspace(243.0, 363.0, 7)
    true = np.empty((7, 7))
    for i, p in enumerate(pressures):
        for j, t in enumerate(kelvins):
            rho = density(p, t)
            without_heat = pressure_without_heat(rho / swell, entropy(rho, t))
            true[i, j] = np.log(without_heat / p) / np.log(pressure(rho / swell, t) / p)
    error = np.abs(quick_exponent(pressures[:, None], kelvins, way) - true)
    assert 1e-4 < error.max() < EXPONENT_ERROR


class TestWholeSpring:
    """A cylinder of real nitrogen, rod 10 mm, stroke 0.3 m, against the law through its two measured forces.

    Measured moving out, each force is half of the friction loop less than that of the gas.
    """

    rod, stroke, loop = 0.010, 0.3, 50.0
    area = float(rod_area(0.010))
    c = np.linspace(0.0, 0.3, 13)

    def filled(self, charge: float) -> tuple[np.ndarray, GasSpring]:
        volume = 4.3 * self.area * self.stroke
        densities = density(charge) * volume / (volume - self.area * self.c)
        f1, f2 = (self.force(d, T20) - self.loop / 2 for d in densities[[0, -1]])
        values = (f1, f2 / f1, self.loop, self.stroke, 0.7, self.rod)
        return densities, GasSpring(*(np.asarray(v) for v in values))

    def force(self, density_: float, kelvin: float) -> float:
        return (pressure(density_, kelvin) - AIR_PRESSURE) * self.area

    @pytest.mark.parametrize("charge", [5e6, 10e6])
    def test_slow(self, charge):
        densities, spring = self.filled(charge)
        true = np.array([self.force(d, T20) for d in densities])
        assert moving_out(spring, self.c) + self.loop / 2 == pytest.approx(true, rel=1.5e-3)
        assert moving_in(spring, self.c) - self.loop / 2 == pytest.approx(true, rel=1.5e-3)

    @pytest.mark.parametrize("kelvin", [268.15, 338.15])
    def test_hot_and_cold(self, kelvin):
        densities, spring = self.filled(10e6)
        true = np.array([self.force(d, kelvin) for d in densities])
        warm = at_temperature(spring, kelvin)
        assert moving_out(warm, self.c) + self.loop / 2 == pytest.approx(true, rel=1e-3)
        assert moving_in(warm, self.c) - self.loop / 2 == pytest.approx(true, rel=1e-3)
        # At the ends only the fit errs.
        assert moving_out(warm, self.c)[[0, -1]] + self.loop / 2 == pytest.approx(true[[0, -1]], rel=2e-4)
        # One factor for the whole spring, or one that heats the friction too, would be worse.
        gas = spring.force_1 + self.loop / 2
        one_factor = (slow_force(spring, self.c) + self.loop / 2) * temperature_factor(gas / self.area, kelvin)
        assert one_factor[0] == pytest.approx(true[0], rel=2e-4)
        assert one_factor == pytest.approx(true, rel=1e-2)
        assert one_factor != pytest.approx(true, rel=1e-3)

    @pytest.mark.parametrize("kelvin", [268.15, 338.15])
    @pytest.mark.parametrize("loop", [0.0, 50.0, 150.0])
    def test_heated_friction_would_show(self, kelvin, loop):
        # The gas alone gains with heat, whatever rubs. Were F1 heated as a whole, any loop would show.
        densities, spring = self.filled(10e6)
        f1, f2 = (self.force(d, T20) - loop / 2 for d in densities[[0, -1]])
        rubbing = replace(spring, force_1=np.asarray(f1), ratio=np.asarray(f2 / f1), loop=np.asarray(loop))
        hot = at_temperature(rubbing, kelvin)
        for at, f, got in ((0, f1, hot.force_1), (-1, f2, hot.force_1 * hot.ratio)):
            true = self.force(densities[at], kelvin)
            assert float(got) + loop / 2 == pytest.approx(true, rel=2e-4)
            heated = f * float(temperature_factor((f + loop / 2) / self.area, kelvin))
            assert (heated + loop / 2 == pytest.approx(true, rel=2e-3)) == (loop == 0.0)

    @pytest.mark.parametrize("kelvin", [268.15, 293.15, 338.15])
    def test_quick(self, kelvin):
        densities, spring = self.filled(9e6)
        warm = at_temperature(spring, kelvin)
        for start, force in ((0, quick_in), (-1, quick_out)):
            s = entropy(densities[start], kelvin)
            true = np.array([(pressure_without_heat(d, s) - AIR_PRESSURE) * self.area for d in densities])
            half = self.loop / 2 if force is quick_in else -self.loop / 2
            assert force(warm, self.c, self.c[start], 1.0, kelvin) - half == pytest.approx(true, rel=5e-3)
