"""Least strengths and moduli of metals against their product and design standards.

S235: EN 10025-2 Table 7, read in a public reproduction. 6061-T6: ASTM B221, 35 and 38 ksi, read in a public listing.
6082-T6: EN 1999-1-1 Table 3.2b, E, density and yield read in public reproductions, tensile from memory.
1.4301: EN 1993-1-4, from memory.
"""

from __future__ import annotations

import pytest

from loftwright.reference.metals import METALS

KSI = 6.894757e6


def test_structural_steel() -> None:
    steel = METALS["S235"]
    assert (steel.yielding, steel.tensile, steel.young, steel.density) == (235e6, 360e6, 210e9, 7850.0)


def test_6061() -> None:
    alloy = METALS["6061-T6"]
    assert alloy.yielding == pytest.approx(35 * KSI, rel=2e-3)
    assert alloy.tensile == pytest.approx(38 * KSI, rel=2e-3)
    assert alloy.young == pytest.approx(10100 * KSI, rel=1e-3)


def test_6082() -> None:
    alloy = METALS["6082-T6"]
    assert (alloy.yielding, alloy.tensile, alloy.young, alloy.density) == (250e6, 290e6, 70e9, 2700.0)


def test_stainless() -> None:
    assert (METALS["1.4301"].yielding, METALS["1.4301"].tensile) == (210e6, 520e6)


@pytest.mark.parametrize("key", sorted(METALS))
def test_moduli_agree_within_rounding(key: str) -> None:
    """G = E / (2 (1 + nu)), for isotropic metals: a second way; the tables round to 1 %."""
    metal = METALS[key]
    assert metal.shear == pytest.approx(metal.young / (2 * (1 + metal.poisson)), rel=0.01)
