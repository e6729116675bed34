"""Heavy and weightless elasticas, and the elastic chain against them.

Sources
- Peirce, The handle of cloth as a measurable quantity, J. Text. Inst. 21 (1930): bending length, overhang test; formula
  B = w c3 derived. The 41.5 degree line: IS 6490:1971 as described publicly, confirmed; its exact value computed here
  from first principles.
- Szablewski and Kobza, Numerical analysis of Peirce's cantilever test for the bending rigidity of textiles: the closed
  form and its factor at 43 degrees, read in a public reproduction. That it is good for small weight only: abstract of
  Plaut, Text. Res. J. (2015), read in a public reproduction.
- Bisshopp and Drucker, Large deflection of cantilever beams, Q. Appl. Math. 3 (1945): the case; the paper has a
  graph, the numbers were computed from first principles.
- Hanging loops: constants 0.3183, 0.4243, 0.1337 from memory; all figures computed from first principles by a
  boundary-value solver.
- Overhangs in the table: the same solver, computed from first principles.
- Push of a weightless fold between two plates, 2.870 B / D2: computed from first principles.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.cloth.chain_check import Loop, between_plates, chord_angle, end_loaded, loop, overhang
from loftwright.cloth.chain_march import STILL
from loftwright.cloth.chain_parts import Strand
from loftwright.cloth.fold import stiffness_of
from loftwright.cloth.heavy import bending_length, peirce_length

G = 9.80665
MASS, BENDING = 0.35, 0.040
# overhang over bending length: dip of the chord [degrees]
CHORDS = {1.0: 7.100, 1.5: 22.18, 2.0: 41.487, 2.5: 56.89, 3.0: 66.959, 4.0: 77.19}
# weight over stiffness, w L3 / B: dip of the chord [degrees]
HEAVY = {0.5: 3.573, 1: 7.100, 2: 13.857, 4: 25.531, 8: 41.487, 10: 46.851, 16: 57.386, 27: 66.959, 50: 74.898}
# weight over stiffness: heart, pear, ring; height over length
LOOPS = {10: (0.13954, 0.42511, 0.32126), 100: (0.18404, 0.43131, 0.34395), 500: (0.29407, 0.44651, 0.39608)}


def strip(length: float, bending: float = BENDING, thickness: float = 0.002) -> Strand:
    return Strand(length, MASS, float(stiffness_of(MASS, bending)), thickness)


def test_stiffness_from_bending_length() -> None:
    assert stiffness_of(0.5, 0.045) == pytest.approx(4.46815e-4, rel=2e-6)
    assert stiffness_of(0.5, 0.045) == pytest.approx(4556.25 * 9.80665e-8, rel=1e-6)


@pytest.mark.parametrize(("weight", "dip"), HEAVY.items())
def test_exact_overhang(weight: float, dip: float) -> None:
    """Half a unit of the last digit of the dip, on the bending length."""
    length = weight ** (1 / 3)
    assert bending_length(length, np.deg2rad(dip)) == pytest.approx(1.0, rel=1e-4 + 5e-4 / dip)


def test_line_of_the_test() -> None:
    assert bending_length(2.00035, np.deg2rad(41.5)) == pytest.approx(1.0, rel=3e-5)
    assert bending_length(0.1) == pytest.approx(0.05, rel=3e-4)


def test_closed_form() -> None:
    assert peirce_length(1.0, np.deg2rad(43.0)) == pytest.approx(0.499625, abs=1e-6)
    assert peirce_length(1.0, np.deg2rad(41.5)) == pytest.approx(0.509321, abs=1e-6)


@pytest.mark.parametrize(("weight", "excess"), [(1, 0.0016), (4, 0.021), (8, 0.057), (16, 0.123), (50, 0.34)])
def test_error_of_the_closed_form(weight: float, excess: float) -> None:
    stiffness = peirce_length(weight ** (1 / 3), np.deg2rad(HEAVY[weight])) ** 3
    assert stiffness - 1 == pytest.approx(excess, rel=0.04)


@pytest.mark.parametrize("dip", [0.5, 85.0])
def test_dips_that_tell_nothing(dip: float) -> None:
    with pytest.raises(ValueError, match="dip"):
        bending_length(0.1, np.deg2rad(dip))


@pytest.mark.parametrize(("ratio", "dip"), CHORDS.items())
def test_chain_hangs_as_the_heavy_strip(ratio: float, dip: float) -> None:
    points, ended = overhang(strip(ratio * BENDING), node=0.005)
    assert abs(np.rad2deg(chord_angle(points)) - dip) < 0.2
    assert ended.rest < STILL


@pytest.mark.parametrize(("ratio", "dip"), [(2.0, 41.487), (3.0, 66.959)])
def test_chain_comes_closer_with_finer_nodes(ratio: float, dip: float) -> None:
    """Second order: halving the distance leaves a quarter of the error."""
    coarse, fine = (
        np.rad2deg(chord_angle(overhang(strip(ratio * BENDING), node=node)[0])) - dip for node in (0.010, 0.005)
    )
    assert coarse / fine == pytest.approx(4.0, rel=0.2)


@pytest.mark.parametrize(("length", "end"), [(0.060, (0.0572878, 0.0166652)), (0.150, (0.0447413, 0.1334154))])
def test_chain_in_millimetres(length: float, end: tuple[float, float]) -> None:
    points, _ = overhang(strip(length, 0.045), node=0.003)
    assert points[-1, 0] == pytest.approx(end[0], abs=0.0004)
    assert -points[-1, 1] == pytest.approx(end[1], abs=0.0004)


@pytest.mark.parametrize(
    ("load", "along", "across", "slope"),
    [(1, 0.94357, 0.30172, 26.4335), (5, 0.61237, 0.71379, 69.6355), (10, 0.44500, 0.81061, 81.9493)],
)
def test_chain_with_a_load_at_its_end(load: float, along: float, across: float, slope: float) -> None:
    length, stiffness = 0.2, 1e-3
    points, ended = end_loaded(Strand(length, MASS, stiffness, 0.002), load * stiffness / length**2, node=0.008)
    assert points[-1, 1] / length == pytest.approx(along, rel=0.01)
    assert points[-1, 0] / length == pytest.approx(across, rel=0.01)
    last = points[-1] - points[-2]
    assert np.rad2deg(np.arctan2(last[0], last[1])) == pytest.approx(slope, abs=0.5)
    assert ended.rest < STILL


@pytest.mark.parametrize(("kind", "height"), [("ring", 0.318310), ("pear", 0.424308), ("heart", 0.133860)])
def test_chain_as_a_weightless_loop(kind: Loop, height: float) -> None:
    points, ended = loop(strip(0.3), kind, weight=False, node=0.005)
    assert -np.min(points[:, 1]) / 0.3 == pytest.approx(height, rel=0.01)
    assert ended.rest < STILL


@pytest.mark.parametrize("place", range(3))
@pytest.mark.parametrize("weight", LOOPS)
def test_chain_as_a_heavy_loop(weight: int, place: int) -> None:
    kind: Loop = ("heart", "pear", "ring")[place]
    length = BENDING * weight ** (1 / 3)
    points, ended = loop(strip(length), kind, node=length / (100 if weight > 100 else 50))
    assert -np.min(points[:, 1]) / length == pytest.approx(LOOPS[weight][place], rel=0.01)
    assert ended.rest < STILL


def test_loop_hangs_half_from_each_end() -> None:
    """By symmetry; an exact constructed case for the push on the shell."""
    _, ended = loop(strip(0.25), "pear")
    assert ended.lift == pytest.approx(-MASS * G * 0.25 / 2, rel=1e-3)


@pytest.mark.parametrize(("gap", "length"), [(0.030, 0.20), (0.050, 0.30)])
def test_chain_between_two_plates(gap: float, length: float) -> None:
    sheet = strip(length)
    _, ended = between_plates(sheet, gap, node=0.004)
    assert ended.lift == pytest.approx(2.870 * sheet.stiffness / gap**2, rel=0.05)
    assert ended.rest < STILL
