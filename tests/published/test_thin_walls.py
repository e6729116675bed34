"""Twist of thin tubes and shear wrinkling of thin skin.

F. P. Beer and E. R. Johnston, Mechanics of Materials, thin-walled tube of 4 x 2.5 in under 24 kip in: from memory.
E. R. Johnson, Advanced Structural Mechanics, eqs 2.38 to 2.40; C. Hartsuijker and H. Welleman, Engineering Mechanics
    vol. 2, section 6.3. Formulas: read in a public reproduction.
T. H. G. Megson, Aircraft Structures, tube of 200 mm diameter: formulas read in a public reproduction, data from memory.
Shell-like box: computed here from first principles.
EN 1993-1-5:2006 Annex A; S. P. Timoshenko and J. M. Gere, Theory of Elastic Stability, section 9.7.
    Factor 5.34 + 4 (b/a)^2: read in a public reproduction.
    Worked figure 65.65 MPa (web 10 x 1400 mm, stiffeners at 2100 mm): read in a public
    collection of worked checks.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.strength.torsion import closed_constant, open_constant, wall_flow, wrinkling_stress


def test_rectangular_tube():
    # 4 x 2.5 in outside, walls 0.160 in: area inside the middle line 8.9856 in2; kip and inches throughout.
    area = (4.0 - 0.16) * (2.5 - 0.16)
    assert area == pytest.approx(8.9856, abs=5e-5)
    flow = float(wall_flow(24.0, area))
    assert flow == pytest.approx(1.3355, abs=5e-5)
    assert flow / 0.160 == pytest.approx(8.347, abs=5e-4)
    assert (flow / 0.120, flow / 0.200) == pytest.approx((11.13, 6.68), abs=5e-3)


def test_round_tube_sized_for_stress_and_twist():
    # 30 kN m at mid length of 2 m held at both ends: 15 kN m over 1 m. 200 MPa and 2 degrees at G 25 GPa.
    area = np.pi * 0.1**2
    for_stress = float(wall_flow(15e3, area)) / 200e6
    assert for_stress == pytest.approx(1.194e-3, abs=5e-7)
    per_metre = float(closed_constant(area, [np.pi * 0.2], [1.0]))
    for_twist = 15e3 * 1.0 / (25e9 * per_metre * np.radians(2.0))
    assert for_twist == pytest.approx(2.736e-3, abs=5e-7)


def test_box_like_a_shell_with_and_without_its_liner():
    lengths, walls = [1.0, 0.06, 1.0, 0.06], [0.0025] * 4
    closed, slit = float(closed_constant(0.06, lengths, walls)), float(open_constant(lengths, walls))
    flow = float(wall_flow(100.0, 0.06))
    assert flow == pytest.approx(0.83333e3, abs=5e-3)
    assert flow / 0.0025 == pytest.approx(0.33333e6, abs=5)
    assert closed == pytest.approx(16_981_132e-12, rel=1e-7)
    assert 100.0 / (2750e6 * closed) == pytest.approx(0.00214141, rel=1e-5)
    assert slit == pytest.approx(11_041.67e-12, rel=1e-6)
    assert closed / slit == pytest.approx(1538, abs=0.5)


def test_shear_wrinkling_of_a_web():
    assert float(wrinkling_stress(200e9, 0.3, 0.010, 1.4, 2.1)) == pytest.approx(65.65e6, rel=1e-3)


def test_shear_wrinkling_of_square_and_endless_fields():
    # Factors 9.34 for a square and 5.34 for a long strip; the unit of stress is 190 000 (t/b)^2 MPa for steel, as in
    # EN 1993-1-5, A.1, with E 210 000 MPa.
    unit = 190_000e6 * 0.001**2
    assert float(wrinkling_stress(210e9, 0.3, 0.001, 1.0, 1.0)) == pytest.approx(9.34 * unit, rel=2e-3)
    assert float(wrinkling_stress(210e9, 0.3, 0.001, 1e4, 1.0)) == pytest.approx(5.34 * unit, rel=2e-3)
