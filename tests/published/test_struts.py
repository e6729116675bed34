"""Slender struts on pinned ends.

Source: L. Euler's column, as in S. P. Timoshenko and J. M. Gere, Theory of Elastic Stability, 2nd ed. 1961, section
2.1 (from memory). The figures are computed here from first principles: pi^3 E d^4 / (64 L^2) with E = 206 GPa.
"""

from __future__ import annotations

import pytest

from loftwright.strength.brace_load import euler_load, round_section, strut_load

RODS = [
    # diameter [mm], length [mm], load [N]; computed here from first principles
    (6.0, 200.0, 3233.6),
    (8.0, 300.0, 4542.1),
    (8.0, 400.0, 2554.9),
    (10.0, 500.0, 3992.1),
]


@pytest.mark.parametrize("rod", RODS)
def test_solid_rods(rod: tuple[float, float, float]) -> None:
    diameter, length, load = rod
    section = round_section(diameter / 1000)
    found = euler_load(206e9, section.inertia, length / 1000)
    assert found == pytest.approx(load, rel=1e-4)
    # A strong straight bar is not held back by yield.
    assert strut_load(found, 2000e6, section.area, section.inertia, section.edge) == pytest.approx(load, rel=1e-4)


def test_tube_against_section_properties() -> None:
    # Round 25 x 2 mm: A 144.5133 mm2, I 9628.196 mm4. Computed here from first principles.
    tube = round_section(0.025, 0.021)
    assert tube.area * 1e6 == pytest.approx(144.5133, rel=1e-5)
    assert tube.inertia * 1e12 == pytest.approx(9628.196, rel=1e-5)
