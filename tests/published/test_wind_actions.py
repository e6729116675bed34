"""Wind and snow by the European standards, with the American one as a cross check.

Sources, and how each was confirmed
-----------------------------------
[A] EN 1991-1-4:2005, 4.5, expression 4.10 and note 2: q = rho v^2 / 2 with 1.25 kg/m3. Read in a public reproduction.
[B] ASCE 7-16, equation 26.10-1: q = 0.00256 Kz Kzt Kd V^2 [psf, mph]; the figures 24.461 and 33.38 psf read in a public
    reproduction. One public example prints 37.55 for the second: it leaves out Kd.
[C] WMO-No. 8, equivalents of the Beaufort numbers: ranges read in two public reproductions.
[D] EN 1991-1-4:2005, Table 7.1, walls. Read in a public reproduction; forces computed here from first principles.
[E] EN 1991-1-4:2005, Table 7.2, flat roof with sharp eaves. Read in two public reproductions.
[F] EN 1991-1-4:2005, Table 7.6, overall coefficients of a mono-pitch canopy. Read in a public reproduction; forces
    computed here from first principles. Its local coefficients are not used; one of them was in doubt.
[G] EN 1991-1-4:2005, Figure 7.23, rectangular sections. Read in a public reproduction (a structural library's source).
[H] Flat plate square to the flow: 1.28 read in public teaching pages of NASA Glenn; 1.17 and 1.2 from memory.
[I] Velocity pressure of road speeds: computed here from first principles.
[J] Side wind on a parked van: computed here from first principles, with a force of [D].
[K] EN 1991-1-3, Annex E: 1, 2, 3.5 and 4 kN/m3 read in a public reproduction; 2.5 from memory.
[L] EN 1991-1-4:2005, 4.3.2, 4.4 and Table 4.1: log law, turbulence, terrain II. Read in public reproductions.
"""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest

from loftwright.core.units import STANDARD_GRAVITY
from loftwright.reference.wind import BEAUFORT, FLAT, PLATE, SIDE, SIDE_SMALL, SNOW, WINDWARD_SMALL
from loftwright.strength.raised_shape import RaisedShape
from loftwright.strength.snow import snow_load, snow_range
from loftwright.strength.wind import (
    gust_of_mean,
    gusts_of_beaufort,
    height_factor,
    peak_factor,
    righting_moment,
    roughness_factor,
    speed_for,
    tipping_moment,
    velocity_pressure,
)
from loftwright.strength.wind_coefficients import (
    by_area,
    canopy_coefficient,
    flat_roof_coefficient,
    leeward_coefficient,
    section_coefficient,
    side_coefficient,
    windward_coefficient,
)
from loftwright.strength.wind_loads import DOWN, UP, WindCase, parts

SHELL = 2.4 * 1.4
"""A shell of 2.4 by 1.4 m [m2]."""


@pytest.mark.parametrize(("speed", "pressure"), [(10, 62.5), (15, 140.625), (20, 250.0), (25, 390.625)])
def test_velocity_pressure_in_the_air_of_the_standard(speed: float, pressure: float) -> None:
    # [A]
    assert float(velocity_pressure(speed)) == pressure
    assert float(speed_for(pressure)) == speed


@pytest.mark.parametrize(("speed", "pressure"), [(10, 61.25), (15, 137.813), (20, 245.0), (25, 382.813)])
def test_velocity_pressure_in_standard_air(speed: float, pressure: float) -> None:
    # [A] with 1.225 kg/m3: printed to a thousandth.
    assert float(velocity_pressure(speed, 1.225)) == pytest.approx(pressure, abs=5.1e-4)


@pytest.mark.parametrize(
    ("kz", "kd", "mph", "psf"), [(0.85, 0.85, 115.0, 24.461), (1.16, 0.85, 115.0, 33.382), (1.0, 1.0, 90.0, 20.736)]
)
def test_the_american_equation_means_the_same_air(kz: float, kd: float, mph: float, psf: float) -> None:
    # [B] Its 0.00256 is half the density at 59 F in its own units, 0.0765 lb/ft3, rounded up by 0.1 %.
    pound_per_square_foot = 0.45359237 * STANDARD_GRAVITY / 0.3048**2
    density = 0.0765 * 0.45359237 / 0.3048**3
    ours = kz * kd * float(velocity_pressure(mph * 0.44704, density)) / pound_per_square_foot
    assert 0.00256 * kz * kd * mph**2 == pytest.approx(psf, abs=5.1e-4)
    assert ours == pytest.approx(psf, rel=1.2e-3)


def test_beaufort_ranges() -> None:
    # [C]
    tops = [0.2, 1.5, 3.3, 5.4, 7.9, 10.7, 13.8, 17.1, 20.7, 24.4, 28.4, 32.6, None]
    assert [force.high for force in BEAUFORT] == tops
    # One number starts where the other ends, in steps of a tenth.
    for below, above in itertools.pairwise(BEAUFORT):
        assert below.high is not None
        assert above.low == pytest.approx(below.high + 0.1)
    pressures = {5: 71.6, 6: 119.0, 7: 182.8, 8: 267.8, 9: 372.1, 10: 504.1, 11: 664.2}
    for number, pressure in pressures.items():
        high = BEAUFORT[number].high
        assert high is not None
        assert float(velocity_pressure(high)) == pytest.approx(pressure, abs=0.051)


def test_the_old_law_of_the_scale() -> None:
    # [C] v = 0.836 B^1.5, from memory: in the middle of every number's range from 2 to 11.
    for force in BEAUFORT[2:12]:
        assert force.high is not None
        assert force.low - 0.1 <= 0.836 * force.number**1.5 <= force.high + 0.1


def test_log_law_in_open_country() -> None:
    # [L] k_r = 0.19 and z0 = 0.05 m in terrain II; even below 2 m.
    assert float(roughness_factor(10.0)) == pytest.approx(0.19 * math.log(200.0))
    assert float(roughness_factor(1.0)) == float(roughness_factor(2.0)) == pytest.approx(0.19 * math.log(40.0))
    assert float(height_factor(2.0)) == pytest.approx(math.log(40.0) / math.log(200.0))
    # q_p = (1 + 7 I_v) rho v_m^2 / 2 (4.8) is the velocity pressure of the gust.
    mean = float(height_factor(3.0)) * 15.0
    peak = (1 + 7 / math.log(60.0)) * 0.5 * 1.25 * mean**2
    assert float(velocity_pressure(gust_of_mean(15.0, 3.0, gust_factor=peak_factor(3.0)))) == pytest.approx(peak)


def test_beaufort_is_a_range_of_gusts_that_holds_the_standards_own() -> None:
    low, high = gusts_of_beaufort(7, 2.2)
    own = gust_of_mean(np.array([13.9, 17.1]), 2.2, gust_factor=peak_factor(2.2))
    assert low < own[0] < own[1] < high


def test_walls() -> None:
    # [D]
    assert windward_coefficient([0.1, 0.25, 1.0, 5.0, 9.0]).tolist() == [0.7, 0.7, 0.8, 0.8, 0.8]
    assert leeward_coefficient([0.1, 0.25, 1.0, 5.0, 9.0]).tolist() == [-0.3, -0.3, -0.5, -0.7, -0.7]
    assert (SIDE, SIDE_SMALL, WINDWARD_SMALL) == ((-1.2, -0.8, -0.5), (-1.4, -1.1, -0.5), 1.0)
    # e = min(1, 2) = 1 m: 0.2 m of A, 0.8 m of B and 1 m of C.
    assert float(side_coefficient(1.0, 1.0, 2.0)) == pytest.approx((0.2 * -1.2 + 0.8 * -0.8 + 1.0 * -0.5) / 2)
    assert by_area(1.0, 0.8, [0.5, 1.0, math.sqrt(10), 10.0, 20.0]) == pytest.approx([1.0, 1.0, 0.9, 0.8, 0.8])


@pytest.mark.parametrize(
    ("gust", "force", "moment"), [(17.1, 470.41, 211.69), (20.7, 689.33, 310.20), (24.4, 957.79, 431.00)]
)
def test_side_wind_on_a_raised_wall(gust: float, force: float, moment: float) -> None:
    # [D] A wall of 2.2 by 0.9 m, body as high as it is deep: windward 0.8 and leeward 0.5 together.
    depth = 1.4
    numbers = (0.0, 2.2, depth, 0.0, 0.9, 2.2, depth, 0.0, 0.0, 0.0, 0.9, depth - 0.9)
    shape = RaisedShape(*(np.array(v) for v in numbers))
    walls = [p for p in parts(shape, gust, "left") if p.name.endswith("wall")]
    across = sum(float(p.force[1]) for p in walls)
    base = sum(float(-p.centre[2] * p.force[1]) for p in walls)
    assert across == pytest.approx(-force, abs=0.0051)
    assert base == pytest.approx(moment, abs=0.0051)


def test_flat_roof() -> None:
    # [E]
    assert FLAT == {"F": (-1.8, -2.5), "G": (-1.2, -2.0), "H": (-0.7, -1.2), "I": (-0.2, -0.2)}
    # b = 1, h = 1, d = 2: e = 1; F 2 (0.25 x 0.1), G 0.5 x 0.1, H 1 x 0.4, I 1 x 1.5.
    mean = (0.05 * -1.8 + 0.05 * -1.2 + 0.4 * -0.7 + 1.5 * -0.2) / 2
    assert float(flat_roof_coefficient(1.0, 1.0, 2.0)) == pytest.approx(mean)


def test_canopy_table() -> None:
    # [F]
    pitch = np.radians([0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0])
    assert canopy_coefficient(pitch, "down") == pytest.approx([0.2, 0.4, 0.5, 0.7, 0.8, 1.0, 1.2])
    assert canopy_coefficient(pitch, "up", 0.0) == pytest.approx([-0.5, -0.7, -0.9, -1.1, -1.3, -1.6, -1.8])
    assert canopy_coefficient(pitch, "up", 1.0) == pytest.approx([-1.3, -1.4, -1.4, -1.4, -1.4, -1.4, -1.4])
    assert float(canopy_coefficient(math.radians(10.0), "up", 0.5)) == pytest.approx(-1.15)
    assert float(canopy_coefficient(math.radians(7.5), "up", 0.0)) == pytest.approx(-0.80)
    # A worked value of a structural library's own tests: 20 degrees, half blocked.
    assert float(canopy_coefficient(math.radians(20.0), "up", 0.5)) == pytest.approx((-1.3 - 1.4) / 2)


@pytest.mark.parametrize(("case", "force"), [(DOWN, 449.9), (WindCase("up", 0.2, blockage=0.0), -809.8), (UP, -1259.8)])
def test_a_gust_on_a_shell_as_a_canopy(case: WindCase, force: float) -> None:
    # [F] 2.4 x 1.4 m at 10 degrees, 20.7 m/s: printed to a tenth of a newton; downward positive.
    assert float(velocity_pressure(20.7)) == pytest.approx(267.806, abs=5.1e-4)
    numbers = (0.0, 2.4, 1.4, 0.0, 0.0, 2.4, 1.4, 0.0, math.radians(10.0), 0.0, 0.0, 2.0)
    shell = next(
        p for p in parts(RaisedShape(*(np.array(v) for v in numbers)), 20.7, "front", case=case) if p.name == "shell"
    )
    assert float(shell.area) == pytest.approx(SHELL)
    normal = np.array([-math.sin(math.radians(10.0)), 0.0, math.cos(math.radians(10.0))])
    assert -float(shell.force @ normal) == pytest.approx(force, abs=0.051)


def test_sections() -> None:
    # [G] Between the places straight over the logarithm: the middle of 2 and 5 is at sqrt(10).
    places = [0.05, 0.1, 0.2, 0.6, 0.7, 1.0, 2.0, 5.0, 10.0, 50.0]
    values = [2.0, 2.0, 2.0, 2.35, 2.4, 2.1, 1.65, 1.0, 0.9, 0.9]
    assert section_coefficient(places) == pytest.approx(values)
    assert float(section_coefficient(math.sqrt(10.0))) == pytest.approx((1.65 + 1.0) / 2)


def test_flat_plates() -> None:
    # [H] The band round 1.2 holds both the teaching figure and that of square plates.
    low, middle, high = PLATE
    assert low <= 1.17 <= middle <= 1.28 <= high
    assert 1.28 * float(velocity_pressure(20.0, 1.225)) == pytest.approx(313.60, abs=0.0051)


@pytest.mark.parametrize(
    ("kmh", "cold", "standard"),
    [
        (80, 308.642, 302.469),
        (100, 482.253, 472.608),
        (110, 583.526, 571.856),
        (120, 694.444, 680.556),
        (130, 815.008, 798.708),
    ],
)
def test_road_speeds(kmh: float, cold: float, standard: float) -> None:
    # [I]
    assert float(velocity_pressure(kmh / 3.6)) == pytest.approx(cold, rel=1e-5)
    assert float(velocity_pressure(kmh / 3.6, 1.225)) == pytest.approx(standard, rel=1e-5)


def test_road_and_side_wind_together() -> None:
    # [I] 120 km/h with 15 m/s abeam.
    assert float(velocity_pressure(math.hypot(120 / 3.6, 15.0), 1.225)) == pytest.approx(818.368, rel=1e-6)


def test_side_wind_on_a_parked_van() -> None:
    # [J]
    tipping = float(tipping_moment(np.array([689.33]), np.array([2.5])))
    righting = float(righting_moment(2160.0, 1.63))
    assert tipping == pytest.approx(1723.3, abs=0.051)
    assert righting == pytest.approx(17263.6, abs=0.051)
    assert righting / tipping == pytest.approx(10.018, abs=5.1e-4)


def test_snow() -> None:
    # [K] 0.2 m on the shell.
    assert SNOW == {"fresh": (1e3, 1e3), "settled": (2e3, 2e3), "old": (2.5e3, 3.5e3), "wet": (4e3, 4e3)}
    assert [float(snow_range(0.2, SHELL, kind)[0]) for kind in SNOW] == pytest.approx([672, 1344, 1680, 2688])
    assert float(snow_range(0.2, SHELL, "old")[1]) == pytest.approx(2352)
    assert float(snow_load(0.2, SHELL, 4e3)) / STANDARD_GRAVITY == pytest.approx(274.1, abs=0.051)
