"""Slender rods by Euler's load, computed here from first principles."""

from __future__ import annotations

import pytest

from loftwright.fitout.actuator import rod_bends_at


@pytest.mark.parametrize(
    ("diameter", "length", "load"),
    [(0.006, 0.200, 3233.6), (0.008, 0.300, 4542.1), (0.008, 0.400, 2554.9), (0.010, 0.500, 3992.1)],
)
def test_slender_rods(diameter: float, length: float, load: float) -> None:
    assert rod_bends_at(diameter, length) == pytest.approx(load, rel=1e-4)
