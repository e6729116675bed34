"""Thermal resistance of layers in series.

Source: ISO 6946, R = Rsi + sum d/lambda + Rse, wall Rsi 0.13, Rse 0.04 (read in public reproductions). The masonry
wall: Chudley and Greeno, Building Construction Handbook, U-value calculations (read in a public reproduction).
"""

from __future__ import annotations

import pytest

from loftwright.cloth.warmth import resistance, transmittance


def test_the_handbook_wall() -> None:
    found = resistance([0.215, 0.013], [0.84, 0.50], inside=0.123, outside=0.055)
    assert found == pytest.approx(0.45995, abs=1e-4)
    # Printed 2.17.
    assert transmittance(found) == pytest.approx(2.17, abs=0.005)


def test_the_handbook_leaf() -> None:
    # Printed 0.121.
    assert resistance([0.102], [0.84], inside=0.0, outside=0.0) == pytest.approx(0.121, abs=0.0005)
