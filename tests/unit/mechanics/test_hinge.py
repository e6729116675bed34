"""The hinged shell, and a strut on it.

The strut table is an exact constructed case, computed here from first principles.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.motion import opening_of
from loftwright.mechanics.hinge import hinge_travel


def test_front_hinge_turns_clockwise_and_rear_hinge_the_other_way() -> None:
    front = hinge_travel(2.0, 0.05, 0.5, end="front")
    rear = hinge_travel(0.0, 0.05, 0.5, end="rear")
    assert front.shell.phi[-1] == -0.5
    assert rear.shell.phi[-1] == 0.5
    assert front.arms == ()
    for travel, lip in ((front, 0.0), (rear, 2.0)):
        path = travel.shell.point(lip, 0.05)
        assert np.all(path.dz >= 0)
        assert path.z[-1] == pytest.approx(0.05 + 2.0 * np.sin(0.5))
        np.testing.assert_array_equal(opening_of(travel), travel.q)


def test_hinge_draws_lead_and_travel_comes_last() -> None:
    travel = hinge_travel(np.array([[2.0], [2.1], [2.2]]), 0.0, np.array([0.4, 0.5]), end="front", stations=7)
    assert travel.shell.z.shape == (3, 2, 7)
    assert travel.q[0, 1, -1] == 0.5
    np.testing.assert_array_equal(travel.shell.point(2.1, 0.0).x[1], np.full((2, 7), 2.1))


STRUT = [
    # open [deg], strut length [m], arm [m], gravity moment [N m], total strut force [N]
    (0, 0.29155, 0.180074, 353.039, 1960.53),
    (10, 0.33108, 0.266306, 347.676, 1305.55),
    (20, 0.38241, 0.316824, 331.749, 1047.11),
    (30, 0.44019, 0.341819, 305.741, 894.45),
    (40, 0.50075, 0.349878, 270.444, 772.97),
    (50, 0.56166, 0.346500, 226.929, 654.92),
    (60, 0.62123, 0.335003, 176.520, 526.92),
]


def test_strut_on_a_hinged_shell() -> None:
    # One roof for each opening, looked at where it is open; the first column, closed, is the same for all.
    opens = np.array([degrees for degrees, *_ in STRUT[1:]])
    travel = hinge_travel(0.0, 0.0, np.radians(opens), end="rear", stations=2)
    top, mass = travel.shell.point(0.35, 0.0), travel.shell.point(0.90, 0.0)
    rx, rz = top.x - 0.60, top.z + 0.15
    length = np.hypot(rx, rz)
    by_rate = (rx * top.dx + rz * top.dz) / length
    by_cross = np.abs(top.x * -0.15 - top.z * 0.60) / length
    moment = 40 * 9.80665 * mass.dz
    length, by_rate, by_cross, moment = (
        np.concatenate([v[:1, 0], v[:, -1]]) for v in (length, by_rate, by_cross, moment)
    )
    np.testing.assert_allclose(by_rate, by_cross, atol=1e-12)
    for i, (_, strut, arm, gravity, force) in enumerate(STRUT):
        assert length[i] == pytest.approx(strut, abs=5e-6)
        assert by_rate[i] == pytest.approx(arm, abs=1e-6)
        assert moment[i] == pytest.approx(gravity, abs=6e-4)
        assert moment[i] / by_rate[i] == pytest.approx(force, abs=6e-3)


def test_strut_goes_over_centre_where_hinge_top_and_foot_are_in_line() -> None:
    below = np.radians(30)
    travel = hinge_travel(0.0, 0.0, below, end="rear", stations=3001)
    top = travel.shell.point(0.35 * np.cos(below), -0.35 * np.sin(below))
    rate = (top.x - 0.60) * top.dx + (top.z + 0.15) * top.dz
    i = int(np.flatnonzero(rate[:-1] * rate[1:] < 0)[0])
    q = travel.q[i] + (travel.q[i + 1] - travel.q[i]) * rate[i] / (rate[i] - rate[i + 1])
    assert np.degrees(q - below) == pytest.approx(-14.0362, abs=1e-4)
    assert np.hypot(top.x[i] - 0.60, top.z[i] + 0.15) == pytest.approx(0.26847, abs=1e-5)
