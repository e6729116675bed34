"""Gas springs against the standards that describe them.

GB/T 39433-2020, Gas spring design calculation: clause 7.3.2, Annexes B, C and I.
    Tables B.1, B.2, C.1 and the lengths of Annex I: read in a public reproduction.
Chinese standard for compression gas springs, terms and symbols F0 to F4 (taken to be GB/T 25751-2010).
    Meaning of the forces: read in a public reproduction; number of the standard: from memory.
Chinese automotive gas spring standard (QC/T 207): force change after the durability test.
    Figure: read in a public reproduction; number of the standard: from memory.
Gas laws: computed here from first principles.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.mechanics.gas_spring import (
    AGED_FACTOR,
    GasSpring,
    charge_pressure,
    compression,
    first_force,
    full_loop,
    moving_in,
    moving_out,
    pressure_ratio,
    quick_exponent,
    rod_area,
    slow_force,
    temperature_factor,
)
from loftwright.reference.rods import TOP_PRESSURE, greatest_friction


def spring(force_1=500.0, ratio=1.3, loop=60.0, stroke=0.2, extended=0.5, rod=0.010) -> GasSpring:
    return GasSpring(*(np.asarray(v, dtype=float) for v in (force_1, ratio, loop, stroke, extended, rod)))


# Rod [mm], section [mm2], force [N] at 10 and at 13 MPa.
# F + p (A - a) - p A = 0, so F = p a: read in a public reproduction; figures: computed here from first principles.
ROD_FORCES = (
    (6, 28.2743, 282.74, 367.57),
    (8, 50.2655, 502.65, 653.45),
    (10, 78.5398, 785.40, 1021.02),
    (12, 113.0973, 1130.97, 1470.27),
    (14, 153.9380, 1539.38, 2001.19),
    (16, 201.0619, 2010.62, 2613.81),
    (18, 254.4690, 2544.69, 3308.10),
    (20, 314.1593, 3141.59, 4084.07),
)


@pytest.mark.parametrize(("rod_mm", "section_mm2", "at_10", "at_13"), ROD_FORCES)
def test_force_is_pressure_times_rod_section(rod_mm, section_mm2, at_10, at_13):
    assert rod_area(rod_mm / 1000) * 1e6 == pytest.approx(section_mm2, abs=1e-4)
    assert charge_pressure(at_10, rod_mm / 1000) == pytest.approx(10e6, rel=1e-4)
    assert charge_pressure(at_13, rod_mm / 1000) == pytest.approx(13e6, rel=1e-4)


# Table C.1: rod, nominal force from .. to, stroke up to, bore from .. to [mm, N]. Read in a public reproduction.
TABLE_C1 = (
    (6, 50, 300, 150, 12, 14),
    (8, 200, 550, 200, 16, 20),
    (10, 300, 850, 300, 20, 24),
    (12, 450, 1200, 400, 22, 26),
    (14, 600, 1600, 450, 24, 28),
    (16, 800, 2100, 500, 28, 32),
    (18, 1000, 2700, 600, 32, 36),
    (20, 1250, 3300, 800, 36, 40),
)


def test_recommended_pressure_leaves_room_for_the_rise_on_compression():
    # Computed here from Table C.1: the greatest nominal force asks for 10.39 to 10.94 MPa, 13 MPa being the most.
    pressures = np.array([float(charge_pressure(most, rod_mm / 1000)) for rod_mm, _, most, *_ in TABLE_C1])
    assert pressures.min() == pytest.approx(10.39e6, abs=5e3)
    assert pressures.max() == pytest.approx(10.94e6, abs=5e3)
    room = TOP_PRESSURE / pressures
    assert (room.min(), room.max()) == pytest.approx((1.19, 1.25), abs=5e-3)


# Table B.1 and Table B.2: one force inside each band, and its upper end. Read in a public reproduction.
@pytest.mark.parametrize(
    ("force", "plain"),
    [
        (60, 25),
        (100, 25),
        (101, 30),
        (200, 30),
        (400, 40),
        (401, 60),
        (600, 60),
        (800, 80),
        (1000, 100),
        (1200, 130),
        (1201, 150),
    ],
)
def test_friction_bands_of_plain_springs(force, plain):
    assert greatest_friction(force) == plain


def test_four_forces():
    # F1, F2 moving out; F3, F4 moving in; both at full extension and full compression.
    # Constructed: F1 500 N, loop 60 N, F2/F1 1.30.
    ends = np.array([0.0, 0.2])
    assert moving_out(spring(), ends) == pytest.approx([500.0, 650.0])
    assert moving_in(spring(), ends) == pytest.approx([560.0, 710.0])


def test_one_listed_number_three_meanings():
    loop = full_loop(30.0, "half loop")
    assert loop == full_loop(60.0, "full loop") == 60.0
    assert (
        first_force(500.0, loop, "F1") == first_force(560.0, loop, "F3") == first_force(530.0, loop, "middle") == 500.0
    )


# Gas 60 000 mm3 with the rod out, rod 10 mm, stroke 200 mm: displaced 15 707.96 mm3.
# Force over F1 at a quarter, half, three quarters and the whole stroke. Computed here from first principles.
VOLUME_RATIOS = (1.07003, 1.15062, 1.24432, 1.35465)
QUICK_RATIOS = (1.09940, 1.21703, 1.35802, 1.52952)


def test_slow_progression_follows_the_volume():
    volume, displaced = 60_000.0, float(rod_area(0.010)) * 0.2 * 1e9
    assert displaced == pytest.approx(15_707.96, abs=5e-3)
    case = spring(force_1=1.0, ratio=volume / (volume - displaced))
    assert slow_force(case, 0.2 * np.array([0.25, 0.5, 0.75, 1.0])) == pytest.approx(VOLUME_RATIOS, abs=1e-5)


def test_thin_gas_stiffens_by_the_power_of_seven_fifths():
    for way in ("out", "in"):
        assert np.array(VOLUME_RATIOS) ** quick_exponent(0.0, 293.15, way) == pytest.approx(QUICK_RATIOS, abs=2e-5)


@pytest.mark.parametrize(
    ("celsius", "ratio"),
    [
        (-20, 0.863551),
        (-10, 0.897663),
        (0, 0.931776),
        (10, 0.965888),
        (20, 1.0),
        (30, 1.034112),
        (40, 1.068224),
        (50, 1.102337),
        (60, 1.136449),
        (80, 1.204673),
    ],
)
def test_thin_gas_follows_the_absolute_temperature(celsius, ratio):
    # Ideal gas shut in, 20 C as datum. Computed here from first principles.
    assert pressure_ratio(0.0, celsius + 273.15) == pytest.approx(ratio, abs=1e-6)


def test_force_grows_by_the_absolute_pressure():
    # Ideal gas at 10 MPa on the gauge: 1.068916 for the force, 1.068224 for the pressure at 40 C, 0.931084 and
    # 0.931776 at 0 C. Computed here from first principles; the share between the two holds for any gas.
    for celsius, force, pressure in ((40.0, 1.068916, 1.068224), (0.0, 0.931084, 0.931776)):
        kelvin = celsius + 273.15
        share = (temperature_factor(10e6, kelvin) - 1) / (pressure_ratio(10.101325e6, kelvin) - 1)
        assert share == pytest.approx((force - 1) / (pressure - 1), rel=2e-5)


def test_aged_spring_has_lost_at_most_eight_per_cent():
    assert pytest.approx(0.92) == AGED_FACTOR


def test_lengths_and_stroke_in_hand():
    # Annex I: extended length 334 mm, working stroke 55 mm, stroke in hand 5 mm, design stroke 60 mm.
    case = spring(stroke=0.060, extended=0.334)
    c = compression(case, np.array([0.334, 0.334 - 0.055, 0.334 - 0.0551, 0.334 - 0.060]))
    assert c == pytest.approx([0.0, 0.055, 0.0551, 0.060])
