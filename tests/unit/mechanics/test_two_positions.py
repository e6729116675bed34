"""Closed form of two positions: exact constructed cases and a second way by solving the closed pose."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import fsolve

from loftwright.mechanics.two_positions import Displacement, opened, other_pivot, seat_doubt, swing

RNG = np.random.default_rng(5)
MOVE = Displacement(RNG.uniform(-0.3, 0.3, 50), RNG.uniform(0.2, 0.6, 50), RNG.uniform(-0.5, 0.5, 50))
PX, PZ = RNG.uniform(0.5, 1.5, 50), RNG.uniform(-0.2, 0.1, 50)


def test_both_choices_are_as_far_from_closed_and_open() -> None:
    qx, qz = MOVE.apply(PX, PZ)
    for side in (1.0, -1.0):
        ax, az, reach = other_pivot(PX, PZ, MOVE, np.array(0.3), np.array(side))
        assert reach.any()
        assert not reach.all()
        for x, z in ((PX, PZ), (qx, qz)):
            assert np.allclose(np.hypot(x - ax, z - az)[reach], 0.3, atol=1e-12)
        assert (np.hypot(qx - PX, qz - PZ)[~reach] > 0.6).all()


def test_seen_from_the_shell_the_van_pivot_gives_the_shell_pivot_back() -> None:
    ax, az, reach = other_pivot(PX, PZ, MOVE, np.array(0.3), np.array(1.0))
    back = [other_pivot(ax, az, MOVE.inverse(), np.array(0.3), np.array(side)) for side in (1.0, -1.0)]
    miss = np.min([np.hypot(x - PX, z - PZ) for x, z, _ in back], axis=0)
    assert (miss[reach] < 1e-12).all()


def test_a_pin_that_does_not_move_has_no_answer() -> None:
    still = Displacement(np.array(0.0), np.array(0.0), np.array(0.0))
    assert not bool(other_pivot(np.array(1.0), np.array(0.0), still, np.array(0.4), np.array(1.0))[2])


def test_inverse_brings_every_point_back() -> None:
    x, z = MOVE.inverse().apply(*MOVE.apply(PX, PZ))
    assert np.allclose(x, PX, atol=1e-14)
    assert np.allclose(z, PZ, atol=1e-14)


@pytest.mark.parametrize("end", ["front", "rear"])
def test_open_pose_lifts_the_lip_and_tilts_it_up(end: str) -> None:
    lip, low = ((0.0, 0.01), (2.0, 0.01)) if end == "front" else ((2.0, 0.01), (0.0, 0.01))
    place = [np.array(v) for v in (*lip, 0.7, 0.1, 0.2)]
    up = opened((place[0], place[1]), *place[2:], end=end)  # type: ignore[arg-type]
    assert up.apply(place[0], place[1]) == pytest.approx((lip[0] + 0.1, lip[1] + 0.7))
    # The low end stands lower than the lip by length x sin(tilt).
    assert float(up.apply(np.array(low[0]), np.array(low[1]))[1]) == pytest.approx(0.71 - 2.0 * np.sin(0.2))


def test_swing_has_the_sense_from_x_towards_z() -> None:
    quarter = Displacement(np.array(0.0), np.array(0.0), np.array(np.pi / 2))
    assert float(swing(*(np.array(v) for v in (0.0, 0.0, 1.0, 0.0)), quarter)) == pytest.approx(np.pi / 2)


def test_seat_doubt_is_what_solving_the_closed_pose_gives() -> None:
    pins = (1.71, -0.02, 1.38, 0.04, 1.59, -0.07, 1.28, -0.12)
    lip, low = (-0.05, 0.01), (1.77, 0.01)
    arms = [np.hypot(pins[4 * i + 2] - pins[4 * i], pins[4 * i + 3] - pins[4 * i + 1]) for i in range(2)]

    def low_end(stretch: tuple[float, float]) -> float:
        def misses(v: np.ndarray) -> list[float]:
            x, z, phi = v
            cos, sin = np.cos(phi), np.sin(phi)

            def at(px: float, pz: float) -> tuple[float, float]:
                return x + cos * px - sin * pz, z + sin * px + cos * pz

            found = [at(*lip)[1] - lip[1]]
            for i in range(2):
                ax, az, px, pz = pins[4 * i : 4 * i + 4]
                qx, qz = at(px, pz)
                found.append(np.hypot(qx - ax, qz - az) - arms[i] - stretch[i])
            return found

        _, z, phi = fsolve(misses, np.zeros(3))
        return float(z + np.sin(phi) * low[0] + np.cos(phi) * low[1] - low[1])

    d = 1e-4
    each = [(low_end(s) - low_end((-s[0], -s[1]))) / (2 * d) for s in ((d, 0.0), (0.0, d))]
    arrays = tuple(np.array(v) for v in pins)
    places = [(np.array(a), np.array(b)) for a, b in (lip, low)]
    for doubts, expected in (((0.004, 0.0), each[0] * 0.004), ((0.0, 0.003), each[1] * 0.003)):
        found = seat_doubt(arrays, *places, *(np.array(v) for v in doubts))
        assert float(found) == pytest.approx(abs(expected), rel=1e-4)
    both = seat_doubt(arrays, *places, np.array(0.004), np.array(0.003))
    assert float(both) == pytest.approx(np.hypot(each[0] * 0.004, each[1] * 0.003), rel=1e-4)


def test_arms_in_line_with_the_lip_cannot_hold_the_low_end() -> None:
    # Both arms upright: pushing the shell fore and aft, nothing holds it; the seat is lost.
    pins = tuple(np.array(v) for v in (1.0, -0.3, 1.0, 0.0, 1.5, -0.3, 1.5, 0.0))
    doubt = seat_doubt(
        pins, (np.array(0.0), np.array(0.0)), (np.array(2.0), np.array(0.0)), np.array(1e-3), np.array(1e-3)
    )
    assert np.isinf(doubt)
