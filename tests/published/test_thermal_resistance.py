"""Thermal resistance of layers in series.

Source: ISO 6946, R = Rsi + sum d/lambda + Rse, wall Rsi 0.13, Rse 0.04 (read in public reproductions). The masonry
wall: Chudley and Greeno, Building Construction Handbook, U-value calculations (read in a public reproduction). The
cloth walls are the same formula on typical conductivities (from memory), computed here from first principles.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.cloth.warmth import heat_lost, resistance, surface_temperature, transmittance
from loftwright.reference.warmth import CANVAS, CLEAR_SHEET, FLEECE, FOAM, INSIDE_UP, LAMINATE


def test_the_handbook_wall() -> None:
    found = resistance([0.215, 0.013], [0.84, 0.50], inside=0.123, outside=0.055)
    assert found == pytest.approx(0.45995, abs=1e-4)
    # Printed 2.17.
    assert transmittance(found) == pytest.approx(2.17, abs=0.005)


def test_the_handbook_leaf() -> None:
    # Printed 0.121.
    assert resistance([0.102], [0.84], inside=0.0, outside=0.0) == pytest.approx(0.121, abs=0.0005)


@pytest.mark.parametrize(
    ("thickness", "conductivity", "inside", "r", "u"),
    [
        pytest.param([0.0008, 0.010], [CANVAS, FLEECE], 0.13, 0.433333, 2.307692, id="canvas and fleece"),
        pytest.param([0.0008], [CANVAS], 0.13, 0.183333, 5.454545, id="canvas"),
        pytest.param([0.0006], [CLEAR_SHEET], 0.13, 0.173529, 5.762712, id="clear sheet"),
        pytest.param([0.003, 0.020], [LAMINATE, FOAM], INSIDE_UP, 0.726429, 1.376598, id="roof"),
    ],
)
def test_cloth_walls(thickness: list[float], conductivity: list[float], inside: float, r: float, u: float) -> None:
    found = resistance(thickness, conductivity, inside=inside)
    assert found == pytest.approx(r, abs=1e-6)
    assert transmittance(found) == pytest.approx(u, abs=1e-6)


def test_the_face_lies_where_the_resistances_divide_the_fall() -> None:
    """A second way: the temperatures of a chain of resistances, from the same heat through each."""
    layers = np.array([0.13, 0.0008 / CANVAS, 0.010 / FLEECE, 0.04])
    flow = 20.0 / layers.sum()
    assert surface_temperature(1.0 / layers.sum(), 288.15, 268.15) == pytest.approx(288.15 - flow * 0.13)
    assert heat_lost([1.0 / layers.sum()], [4.0], 288.15, 268.15) == pytest.approx(4.0 * flow)
