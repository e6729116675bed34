"""Sizes and strengths of bolts against the tables of their standards.

Sources, each read in a public reproduction: ISO 898-1:2013 Tables 3 to 6 (stress areas, proof and least breaking loads
of class 8.8; stresses of all classes), ISO 3506-1 (A2-70, A4-80), SAE J429 Table 1 (grade 5), stress areas of unified
threads in public torque tables after ASME B1.1, ISO 273 medium series, ISO 7089. The printed loads of 8.8 are no plain
roundings of stress times area (up to 0.6 %), and the printed areas are rounded themselves: 0.7 %.
"""

from __future__ import annotations

import pytest

from loftwright.reference.bolts import BOLTS, CLASSES, least_tensile_load, proof_load
from loftwright.strength.bolts import preload, torque

INCH, POUND = 0.0254, 4.4482216
PER_SQUARE_INCH = POUND / INCH**2


@pytest.mark.parametrize(
    ("name", "area"), [("M4", 8.78), ("M5", 14.2), ("M6", 20.1), ("M8", 36.6), ("M10", 58.0), ("M12", 84.3)]
)
def test_stress_area_of_coarse_threads(name: str, area: float) -> None:
    assert BOLTS[name].stress_area * 1e6 == pytest.approx(area, abs=0.5 * 0.1 if area > 10 else 0.005)


@pytest.mark.parametrize(
    ("name", "proof", "breaking"),
    [("M5", 8230, 11350), ("M6", 11600, 16100), ("M8", 21200, 29200), ("M10", 33700, 46400)],
)
def test_loads_of_class_8_8(name: str, proof: float, breaking: float) -> None:
    assert proof_load(BOLTS[name], CLASSES["8.8"]) == pytest.approx(proof, rel=0.007)
    assert least_tensile_load(BOLTS[name], CLASSES["8.8"]) == pytest.approx(breaking, rel=0.007)


@pytest.mark.parametrize(
    ("name", "breaking", "yielding"),
    [("M5", 9940, 6390), ("M6", 14070, 9045), ("M8", 25620, 16470), ("M10", 40600, 26100)],
)
def test_loads_of_stainless_class_70(name: str, breaking: float, yielding: float) -> None:
    """Stresses read in a public reproduction; loads computed here from them and the nominal areas."""
    assert least_tensile_load(BOLTS[name], CLASSES["A2-70"]) == pytest.approx(breaking, rel=0.003)
    assert proof_load(BOLTS[name], CLASSES["A2-70"]) == pytest.approx(yielding, rel=0.003)


@pytest.mark.parametrize(
    ("name", "tensile", "proof"),
    [("5.8", 500, 380), ("8.8", 800, 580), ("10.9", 1000, 830), ("A2-70", 700, 450), ("A4-80", 800, 600)],
)
def test_stresses_of_the_classes(name: str, tensile: float, proof: float) -> None:
    assert (CLASSES[name].tensile / 1e6, CLASSES[name].proof / 1e6) == (tensile, proof)


def test_stresses_of_grade_5() -> None:
    grade = CLASSES["grade 5"]
    found = [stress / PER_SQUARE_INCH / 1000 for stress in (grade.proof, grade.yields, grade.tensile)]
    assert found == pytest.approx([85, 92, 120], rel=1e-6)


@pytest.mark.parametrize(
    ("name", "area"),
    [("#8-32", 0.0140), ("#10-24", 0.0175), ("1/4-20", 0.0318), ("5/16-18", 0.0524), ("3/8-16", 0.0775)],
)
def test_stress_area_of_unified_threads(name: str, area: float) -> None:
    assert BOLTS[name].stress_area / INCH**2 == pytest.approx(area, abs=5.1e-5)


@pytest.mark.parametrize(
    ("name", "clamp", "greased", "dry"),
    [("1/4-20", 2029, 76, 101), ("5/16-18", 3342, 157, 209), ("3/8-16", 4940, 23 * 12, 31 * 12)],
)
def test_torque_of_grade_5(name: str, clamp: float, greased: float, dry: float) -> None:
    """Public torque table: clamp load 75 % of proof [lbf], torque at K 0.15 and 0.20 [lbf in], rounded."""
    bolt = BOLTS[name]
    pull = preload(proof_load(bolt, CLASSES["grade 5"]))
    assert pull / POUND == pytest.approx(clamp, rel=0.002)
    for k, printed in ((0.15, greased), (0.20, dry)):
        assert torque(bolt.diameter, pull, k) / (POUND * INCH) == pytest.approx(printed, rel=0.01)


@pytest.mark.parametrize(
    ("name", "hole", "washer"),
    [("M4", 4.5, 9), ("M5", 5.5, 10), ("M6", 6.6, 12), ("M8", 9, 16), ("M10", 11, 20), ("M12", 13.5, 24)],
)
def test_holes_and_washers(name: str, hole: float, washer: float) -> None:
    assert BOLTS[name].hole * 1000 == pytest.approx(hole)
    assert BOLTS[name].washer * 1000 == pytest.approx(washer)
