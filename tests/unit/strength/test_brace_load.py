"""Buckling, stiffness and play of braces: exact cases."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.strength.brace_load import (
    diagonal_stiffness,
    euler_load,
    force_along,
    free_play,
    round_section,
    strut_load,
)

TUBE = round_section(0.020, 0.017)


def test_straight_bar_takes_the_lesser_of_bending_and_crushing() -> None:
    for length in (0.02, 0.2, 2.0):
        euler = euler_load(70e9, TUBE.inertia, length)
        least = min(float(euler), 160e6 * float(TUBE.area))
        assert strut_load(euler, 160e6, TUBE.area, TUBE.inertia, TUBE.edge) == pytest.approx(least, rel=1e-9)


def test_crooked_bar_just_yields_at_its_edge() -> None:
    # Exact for a bar bowed as a half sine: its middle moves out to e / (1 - P / P_E).
    euler = float(euler_load(70e9, TUBE.inertia, 1.3))
    load = float(strut_load(euler, 160e6, TUBE.area, TUBE.inertia, TUBE.edge, 0.004))
    bent = 0.004 / (1 - load / euler)
    stress = load / TUBE.area + load * bent * TUBE.edge / TUBE.inertia
    assert stress == pytest.approx(160e6, rel=1e-9)


def test_force_balances_at_the_free_end() -> None:
    assert force_along(300.0, 0.6) * 0.6 == pytest.approx(300.0)


def test_play_by_moving_the_end() -> None:
    # The free end moved by the play lengthens the bar by its clearances, to first order.
    play = float(free_play([0.0004, 0.0006], 0.8))
    assert np.hypot(0.8 + play, 0.6) - 1.0 == pytest.approx(0.001, rel=1e-3)


def test_diagonal_by_moving_the_end() -> None:
    # 0.01 mm sideways stretches a bar of 1 m at (0.8, 0.6) by 0.8 of it, and the pull acts with 0.8 again.
    d = 1e-5
    pull = 70e9 * 1e-4 * (np.hypot(0.8 + d, 0.6) - 1.0)
    assert diagonal_stiffness(70e9, 1e-4, 1.0, 0.8) * d == pytest.approx(0.8 * pull, rel=1e-4)
