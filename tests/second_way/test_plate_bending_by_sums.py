"""Bending of a round skin under a round patch a second way: its equilibrium integrated in small rings."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.strength.thin_sheet import POISSON, backing_radius, skin_bending


@pytest.mark.parametrize(("patch", "thick"), [(0.01, 0.003), (0.03, 0.004), (0.1, 0.003)])
def test_stress_in_the_middle(patch: float, thick: float) -> None:
    """d/dr (1/r d(r phi)/dr) = -Q / D, with phi(0) = 0 and no moment at the rim, D = 1."""
    reach, load, steps = 0.15, 300.0, 40_000
    r = (np.arange(steps) + 0.5) * reach / steps
    width = reach / steps
    shear = np.where(r < patch, load * r / (2 * np.pi * patch**2), load / (2 * np.pi * r))
    inner = np.cumsum(shear) * width - 0.5 * shear * width
    part = -np.cumsum(inner * r) * width / r
    slope = np.gradient(part, r, edge_order=2)
    at_rim = slope[-1] + POISSON * part[-1] / r[-1]
    half = -at_rim / (1 + POISSON)
    # In the middle phi = c r: radial and ring moment are alike, (1 + nu) c.
    moment = (1 + POISSON) * (half + part[0] / r[0])
    assert skin_bending(load, patch, reach, thick) == pytest.approx(6 * moment / thick**2, rel=2e-3)


def test_least_plate_is_just_enough() -> None:
    allowed = skin_bending(300.0, 0.04, 0.15, 0.003)
    assert backing_radius(300.0, 0.15, 0.003, allowed) == pytest.approx(0.04, rel=1e-6)
    assert np.isinf(backing_radius(300.0, 0.15, 0.003, 1.0))
