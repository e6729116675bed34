"""Stiffness, strength and thickness of chopped strand mat in polyester by its glass mass fraction.

Source: ISO 12215-5:2008, Annex C; formulas from memory, figures computed. Second figures: Lloyd's Register Special
Service Craft Rules, Part 8, E = 15 psi + 2 GPa (from memory); BS 4994, 14 000 N/mm per kg/m2 of mat (from memory);
a public page of plastics data for chopped-glass polyester laminate: flexural modulus 7 GPa, density 1.4 g/cm3, tensile
strength 100 MPa (read in a public reproduction).
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.reference.laminate import MAT_DOUBT, mat_modulus, mat_shear_modulus
from loftwright.reference.layups import mat_laminate, mat_thickness
from loftwright.reference.sheets import mat_strength

ROWS = [
    # psi; tensile, compressive, flexural, shear, interlaminar, E, G [MPa]; from memory, figures computed
    (0.25, 67.00, 109.50, 138.38, 58.00, 18.125, 4500.0, 2665.0),
    (0.30, 85.00, 117.00, 152.18, 62.00, 17.25, 6400.0, 2750.0),
    (0.33, 97.72, 121.50, 161.67, 64.40, 16.725, 7540.0, 2801.0),
]


@pytest.mark.parametrize("row", ROWS)
def test_moduli_and_strengths(row: tuple[float, ...]) -> None:
    psi, *strengths, modulus, shear = row
    found = mat_strength(psi)
    got = [found.tensile, found.compressive, found.flexural, found.shear, found.interlaminar]
    assert [float(v) / 1e6 for v in got] == pytest.approx(strengths, rel=1e-4)
    assert mat_modulus(psi) / 1e6 == pytest.approx(modulus, rel=1e-4)
    assert mat_shear_modulus(psi) / 1e6 == pytest.approx(shear, rel=1e-4)


def test_thickness_weight_and_density_close() -> None:
    # Per kg/m2 of glass at 0.30 2.3351 mm; three mats of 450 g/m2 3.1523 mm and 4.500 kg/m2; 1427.5 kg/m3.
    # From memory; figures computed.
    glass = np.array([1.0, 3 * 0.450])
    thick, weight = mat_thickness(glass, 0.30), mat_laminate(glass, 0.30)
    # The printed constants 3.072, 2.56 and 1.36 are the densities 2560 and 1200 put together.
    assert thick * 1000 == pytest.approx(glass / 3.072 * (2.56 / 0.30 - 1.36), rel=1e-9)
    assert thick * 1000 == pytest.approx([2.3351, 3.1523], rel=1e-4)
    assert weight[1] == pytest.approx(4.500)
    assert weight / thick == pytest.approx([1427.5, 1427.5], rel=1e-4)


@pytest.mark.parametrize(
    "other",
    [
        15e9 * 0.30 + 2e9,  # a classification society, from memory
        14_000e3 / 2.3351e-3,  # BS 4994, from memory
        7e9,  # plastics data, read in a public reproduction
    ],
)
def test_other_figures_lie_within_the_doubt(other: float) -> None:
    assert abs(other / float(mat_modulus(0.30)) - 1) < MAT_DOUBT
