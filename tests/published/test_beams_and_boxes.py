"""Beams, thin closed and open sections, shear panels, diagonals and flat panels.

Sources
- AISC Manual, Table 3-23, and Roark's Formulas: beam deflections. From memory; figures computed.
- Bredt's formulas: Megson, Aircraft Structures, Example 18.1; Johnson, Advanced Structural Mechanics, eqs 2.38-2.40;
  Hartsuijker, Engineering Mechanics vol. 2, section 6.3. Formulas read in public reproductions; data of the examples
  from memory; figures computed.
- Beer and Johnston, Mechanics of Materials, thin-walled tube of 4 x 2.5 in: from memory.
- Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, Table 8 (simply supported square, nu 0.3): source from
  memory, constant verified by series.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.strength.brace_load import diagonal_stiffness
from loftwright.strength.racking import panel_stiffness
from loftwright.strength.shell_hung import Ends, lip_droop, panel_bulge, plate_rigidity, side_rise, twist_angle
from loftwright.strength.shell_stiffness import bending_from_test, closed_constant, open_constant, shear_flow

BENDING = 70e9 * 16345.33e-12
SPAN = 1.4


@pytest.mark.parametrize(
    ("ends", "millimetres", "tolerance"),
    [("pinned", 21.85894, 1e-5), ("fixed", 4.37179, 1e-5), ("one fixed", 9.0744, 2e-3)],
)
def test_even_load_of_500_n_per_m(ends: Ends, millimetres: float, tolerance: float) -> None:
    # From memory; figures computed.
    assert side_rise(500.0, SPAN, BENDING, ends=ends) * 1000 == pytest.approx(millimetres, rel=tolerance)


def test_100_n_at_mid_span_gives_the_stiffness_back() -> None:
    # 4.99633 mm. From memory; figure computed.
    assert bending_from_test(100.0, SPAN, 4.99633e-3) == pytest.approx(BENDING, rel=1e-5)


def test_cantilever_as_an_overhang_of_a_vanishing_span() -> None:
    # 400 mm, 100 N at the end: 1.86452 mm. From memory; figure computed.
    assert lip_droop(0.0, 100.0, 1e-9, 0.4, BENDING) * 1000 == pytest.approx(1.86452, rel=1e-5)


def test_overhang_without_a_free_part_turns_as_a_simple_beam_does() -> None:
    # A simple beam's end turns by w a^3 / (24 EI): a short overhang goes up by that times its length. From memory.
    turn = 500.0 * SPAN**3 / (24 * BENDING)
    assert lip_droop(500.0, 0.0, SPAN, 1e-4, BENDING) == pytest.approx(-turn * 1e-4, rel=1e-3)


def test_aluminium_tube_of_even_and_uneven_walls() -> None:
    # 4 x 2.5 in outside, t 0.160 in, 24 kip in: A 8.9856 in2, q 1.3355 kip/in, tau 8.347 ksi; walls of 0.120 and
    # 0.200 in: 11.13 and 6.68 ksi. From memory; inches and kips as printed.
    enclosed = (4 - 0.160) * (2.5 - 0.160)
    assert enclosed == pytest.approx(8.9856, abs=5e-5)
    q = shear_flow(24.0, enclosed)
    assert q == pytest.approx(1.3355, abs=5e-5)
    assert q / 0.160 == pytest.approx(8.347, abs=5e-4)
    assert q / 0.120 == pytest.approx(11.13, abs=5e-3)
    assert q / 0.200 == pytest.approx(6.68, abs=5e-3)


def test_round_tube_by_stress_and_by_twist() -> None:
    # 200 mm, 2 m built in at both ends, 30 kN m in the middle, 200 MPa, 2 degrees, G 25 GPa: 1.194 and 2.736 mm.
    # Data from memory, formulas read in a public reproduction.
    enclosed, around = np.pi * 0.1**2, 2 * np.pi * 0.1
    assert shear_flow(15e3, enclosed) / 200e6 * 1000 == pytest.approx(1.194, abs=5e-4)
    constant = closed_constant(enclosed, [(around, 2.736e-3)])
    assert np.degrees(twist_angle(15e3, 1.0, 25e9 * constant)) == pytest.approx(2.0, rel=2e-4)


def test_box_like_a_lined_shell_and_the_same_slit() -> None:
    # 1000 x 60 x 2.5 mm, 100 N m, G 2750 MPa. Formulas read in public reproductions; figures computed.
    walls = [(1.0, 0.0025), (0.06, 0.0025)] * 2
    q = shear_flow(100.0, 0.06)
    assert q / 1000 == pytest.approx(0.83333, rel=1e-4)
    assert q / 0.0025 / 1e6 == pytest.approx(0.33333, rel=1e-4)
    closed, slit = closed_constant(0.06, walls), open_constant(walls)
    assert closed * 1e12 == pytest.approx(16_981_132, rel=1e-4)
    assert slit * 1e12 == pytest.approx(11_041.67, rel=1e-4)
    assert closed / slit == pytest.approx(1538, abs=0.5)
    assert twist_angle(100.0, 1.0, 2750e6 * closed) == pytest.approx(0.00214141, rel=1e-4)


def test_shear_panel_and_diagonal() -> None:
    # G 2750 MPa, 2.5 x 1400 x 600 mm: 16 041.67 N/mm, 300 N moves it 0.018701 mm. Bar of 10 mm2, 1 m, 45 degrees:
    # 1000 N/mm. Computed here from first principles.
    panel = panel_stiffness(2750e6, 0.0025, 1.4, 0.6)
    assert panel / 1000 == pytest.approx(16_041.67, rel=1e-6)
    assert 300.0 / panel * 1000 == pytest.approx(0.018701, abs=5e-7)
    assert diagonal_stiffness(200e9, 10e-6, 1.0, np.cos(np.pi / 4)) / 1000 == pytest.approx(1000.0, rel=1e-6)


def test_square_panel() -> None:
    # 400 mm, 3.15 mm, 6400 MPa, 250 Pa: D 18 318.46 N mm, 1.4185 mm with the printed 0.00406; series 0.0040624.
    # Source from memory, constant verified by series.
    rigidity = plate_rigidity(6400e6, 0.00315, 0.3)
    assert rigidity * 1000 == pytest.approx(18_318.46, rel=1e-6)
    bulge = float(panel_bulge(250.0, 0.4, 0.4, rigidity))
    assert bulge * 1000 == pytest.approx(1.4185, rel=1e-3)
    assert bulge * float(rigidity) / (250.0 * 0.4**4) == pytest.approx(0.0040624, abs=5e-8)
