"""The best seat a second way: a general-purpose library (SciPy's linprog, HiGHS) on the primal linear programme.

Also against chance planes, and the shift against trying one every 5 mm. No printed source.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import linprog

from loftwright.strength.fit_rim import Rim, shell_rim
from loftwright.strength.fit_seat import best_seat, closest_plane, seat
from loftwright.strength.fit_surfaces import Points, Surface, measured_surface


def largest_gap(x: np.ndarray, y: np.ndarray, apart: np.ndarray) -> float:
    """Return the smallest largest gap [m]: height, pitch, roll and t, every gap between 0 and t."""
    place = np.stack([np.ones_like(x), x, y], axis=1)
    above = np.c_[place, -np.ones(x.size)]
    below = np.c_[-place, np.zeros(x.size)]
    found = linprog(
        [0, 0, 0, 1], A_ub=np.r_[above, below], b_ub=np.r_[-apart, apart], bounds=[(None, None)] * 4, method="highs"
    )
    assert found.success
    return float(found.fun)


@pytest.mark.parametrize("seed", range(25))
def test_chance_stations(seed: int) -> None:
    rng = np.random.default_rng(seed)
    n = int(rng.integers(4, 90))
    x, y, apart = rng.uniform(0, 2.2, n), rng.uniform(-0.6, 0.6, n), rng.normal(0, 0.01, n)
    found = seat(x, y, apart, 0.0)
    assert float(found.largest) == pytest.approx(largest_gap(x, y, apart), abs=1e-9)
    assert found.gap.min() == 0.0


@pytest.mark.parametrize("seed", range(10))
def test_stations_on_a_grid_with_ties(seed: int) -> None:
    rng = np.random.default_rng(100 + seed)
    x, y = np.round(rng.uniform(0, 4, 40)) / 2, np.round(rng.uniform(-2, 2, 40)) / 2
    apart = np.round(rng.uniform(0, 4, 40)) * 1e-3
    assert float(seat(x, y, apart, 0.0).largest) == pytest.approx(largest_gap(x, y, apart), abs=1e-9)


def shell_and_roof() -> tuple[Rim, Surface]:
    """Return a flat shell and a roof that bends more to the cab, so that its place matters."""
    x, y = np.tile(np.linspace(-0.3, 2.5, 6), 3), np.repeat([-0.7, 0.0, 0.7], 6)
    points = Points(x, y, 0.012 * (x - 1.1) ** 3 - 0.012 * (x - 1.1) ** 2 - 0.02 * y**2 + 0.002 * x * y)
    roof = measured_surface(crown=0.02, width=1.4, length=2.8, middle=1.1, points=points)
    return shell_rim(rear=0.05, length=2.0, width=1.2, radius=0.1, end_rise=0.016, side_rise=0.003), roof


def test_shift_is_no_worse_than_trying_every_five_millimetres() -> None:
    rim, roof = shell_and_roof()
    stations = rim.stations()
    rim_z = rim.surface.height(stations.x, stations.y)
    tried = [
        largest_gap(stations.x, stations.y, rim_z - roof.height(stations.x + s, stations.y))
        for s in np.linspace(-0.06, 0.06, 25)
    ]
    found = best_seat(rim, roof, furthest_back=-0.06, furthest_forward=0.06)
    assert max(tried) > min(tried) + 5e-4
    assert float(found.largest) <= min(tried) + 1e-4


def test_no_other_plane_comes_closer() -> None:
    rng = np.random.default_rng(3)
    x, y, z = rng.uniform(0, 2, 50), rng.uniform(-0.6, 0.6, 50), rng.normal(0, 0.004, 50)
    a, b, c, e = closest_plane(x, y, z)
    others = np.array([a, b, c]) + rng.normal(0, 1e-3, (2000, 3))
    off = np.abs(z - others[:, :1] - others[:, 1:2] * x - others[:, 2:] * y).max(axis=1)
    assert off.min() > float(e)
    assert np.abs(z - a - b * x - c * y).max() == pytest.approx(float(e), abs=1e-14)
