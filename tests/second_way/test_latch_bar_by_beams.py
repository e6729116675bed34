"""How latches share a second way: the bar cut into short cubic beams, the hinges' hold against rolling on its slope."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.motion import Array
from loftwright.strength.latch_bar import Bar, bar_shares

PIECES = 60


def by_beams(at: Array, width: float, bending: float, latch: float, roll: float, lost: int | None) -> Array:
    """Return the pull of each latch under one newton spread over the bar [1].

    Textbook beam elements with consistent loads. What resists rolling is spread linearly over the bar, so that it turns
    with the mean slope against which such a load does its work.
    """
    y = np.unique(np.round(np.concatenate([np.linspace(-width / 2, width / 2, PIECES + 1), at]), 12))
    count = 2 * y.size
    stiffness, even, leaning = np.zeros((count, count)), np.zeros(count), np.zeros(count)
    gauss, weights = np.polynomial.legendre.leggauss(4)
    for i, h in enumerate(np.diff(y)):
        own = slice(2 * i, 2 * i + 4)
        cubic = np.array(
            [[12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h], [0, 0, 0, 0], [0, 0, 0, 4 * h * h]]
        )
        cubic[2] = -cubic[0]
        cubic[3, :3] = [6 * h, 2 * h * h, -6 * h]
        stiffness[own, own] += bending / h**3 * cubic
        for place, weight in zip((gauss + 1) / 2, weights * h / 2, strict=True):
            t = place
            shape = np.array(
                [1 - 3 * t**2 + 2 * t**3, h * (t - 2 * t**2 + t**3), 3 * t**2 - 2 * t**3, h * (t**3 - t**2)]
            )
            even[own] += shape * weight / width
            leaning[own] += shape * weight * 12 * (y[i] + t * h) / width**3
    held = [2 * int(np.abs(y - place).argmin()) for place in at]
    for number, unknown in enumerate(held):
        stiffness[unknown, unknown] += 0.0 if number == lost else latch
    moved = np.linalg.solve(stiffness + roll * np.outer(leaning, leaning), even)
    return np.array([0.0 if number == lost else latch * moved[unknown] for number, unknown in enumerate(held)])


@pytest.mark.parametrize("lost", [None, 0, 1])
@pytest.mark.parametrize(("bending", "roll"), [(120.0, 2e6), (1144.0, 9e5), (7137.0, 1e5)])
@pytest.mark.parametrize("at", [(-0.55, -0.18, 0.18, 0.55), (-0.4, 0.0, 0.4), (-0.5, 0.2, 0.6)])
def test_latches_share_as_a_bar_of_short_beams(
    at: tuple[float, ...], bending: float, roll: float, lost: int | None
) -> None:
    width, latch = 1.48, 5e5
    found = bar_shares(Bar(at, *(np.array(v) for v in (width, bending, latch, roll))), lost=lost)
    assert found.share == pytest.approx(by_beams(np.array(at), width, bending, latch, roll, lost), abs=1e-3)
