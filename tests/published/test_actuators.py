"""Power screws and slender rods.

Sources: Shigley's Mechanical Engineering Design, Example 8-1 (the question read in a public reproduction, the printed
results from memory; they follow from the formulas to the last digit). Mott, Machine Elements in Mechanical Design, 4th
edition, Example Problem 17-1 (read in a public reproduction). Rods: Euler's load, computed here from first principles.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.fitout.actuator import rod_bends_at
from loftwright.fitout.actuator_power import Screw, efficiency, lowering_torque, raising_torque, square_screw

INCH, POUND = 0.0254, 4.4482216


def test_the_double_square_thread() -> None:
    """32 mm major diameter, 4 mm pitch, double thread, collar 40 mm, friction 0.08, 6.4 kN."""
    screw = Screw(*(np.asarray(v) for v in (0.030, 0.008, 0.08, 0.0, 0.08, 0.040)))
    assert raising_torque(screw, 6400.0) == pytest.approx(26.18, abs=0.005)
    assert lowering_torque(screw, 6400.0) == pytest.approx(9.77, abs=0.005)
    assert efficiency(screw) == pytest.approx(0.311, abs=0.0005)


def test_its_thread_alone_runs_back() -> None:
    """The same example: without the collar's friction the thread overhauls, -0.466 N m."""
    assert lowering_torque(square_screw(0.030, 0.008, 0.08), 6400.0) == pytest.approx(-0.466, abs=0.0005)


def test_the_trapezoidal_thread_of_the_hatch() -> None:
    """12 500 lb on each screw, pitch diameter 1.3429 in, lead 1/4 in, 14.5 degrees, friction 0.15.

    Printed: 1809 lb in. The lead angle is rounded there to 3.39 degrees, which gives 3 parts in 1000.
    """
    screw = square_screw(1.3429 * INCH, 0.25 * INCH, 0.15, np.radians(14.5))
    torque = float(raising_torque(screw, 12500.0 * POUND)) / (POUND * INCH)
    assert torque == pytest.approx(1809.0, rel=0.004)
    # 12 500 x 0.25 / (2 pi 1809), as printed there.
    assert efficiency(screw) == pytest.approx(12500.0 * 0.25 / (2 * np.pi * 1809.0), rel=0.004)
    assert lowering_torque(screw, 1.0) > 0


def test_a_screw_that_just_locks_gives_back_just_under_half() -> None:
    """Exact: friction equal to the tangent of the lead angle lowers with no torque, at (1 - tan^2) / 2."""
    slope = np.array([0.05, 0.10, 0.20])
    screw = square_screw(0.02, np.pi * 0.02 * slope, slope)
    np.testing.assert_allclose(lowering_torque(screw, 1000.0), 0.0, atol=1e-12)
    np.testing.assert_allclose(efficiency(screw), (1 - slope**2) / 2, rtol=1e-12)


@pytest.mark.parametrize(
    ("diameter", "length", "load"),
    [(0.006, 0.200, 3233.6), (0.008, 0.300, 4542.1), (0.008, 0.400, 2554.9), (0.010, 0.500, 3992.1)],
)
def test_slender_rods(diameter: float, length: float, load: float) -> None:
    assert rod_bends_at(diameter, length) == pytest.approx(load, rel=1e-4)
