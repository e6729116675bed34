"""The ring by itself: closed forms of frames and bars, exact constructed cases."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.strength.racking import cut_skin, racking
from loftwright.strength.racking_edges import Sheet
from loftwright.strength.racking_ring import frame_stiffness, ring_matrices


def rectangle(a: float, b: float, n: int) -> tuple[np.ndarray, np.ndarray]:
    """Nodes round a rectangle, n bars to a side, and which are corners."""
    s = np.arange(n) / n
    sides = ((a * s, 0 * s), (a + 0 * s, b * s), (a * (1 - s), b + 0 * s), (0 * s, b * (1 - s)))
    return np.hstack([np.array(side) for side in sides]), np.tile(np.r_[1.0, np.zeros(n - 1)], 4)


def flow_load(points: np.ndarray) -> np.ndarray:
    """Forces of an even unit shear flow: to +x on the far side, to +y on the front side, and back."""
    n = points.shape[1]
    load = np.zeros(2 * n)
    for i in range(n):
        j = (i + 1) % n
        step = points[:, j] - points[:, i]
        sign = 1.0 if (step[1] > 0 or step[0] < 0) else -1.0
        for k in (i, j):
            load[2 * k : 2 * k + 2] += 0.5 * sign * np.abs(step)
    return load


def stiffness(a: float, b: float, n: int, area: float, inertia: float, corners: str = "rigid") -> float:
    points, corner = rectangle(a, b, n)
    load = flow_load(points)
    # Work of the load on a unit shear angle: the area enclosed.
    assert load[0::2] @ points[1] == pytest.approx(a * b)
    axial, bending = ring_matrices(points, corner, corners)
    whole = area * axial + inertia * bending
    # Pseudo-inverse: moving as a whole costs nothing and the load does no work on it.
    return a * b / float(load @ np.linalg.pinv(whole, rcond=1e-11, hermitian=True) @ load)


def test_bare_frame_bends_as_the_closed_form():
    # Axial stiffness made very large: only bending is left, exact with any number of bars.
    for n in (1, 2, 5):
        assert stiffness(0.9, 0.6, n, 1e6, 1.0) == pytest.approx(
            float(frame_stiffness(0.9, 0.6, 1.0, 1e6, 1.0)), rel=1e-4
        )


def test_bare_frame_stretches_as_the_closed_form():
    # The axial part is met as the shear flow is spread over more bars: error by the square of their number.
    exact = float(frame_stiffness(0.9, 0.6, 1.0, 1.0, 0.05))
    errors = [stiffness(0.9, 0.6, n, 1.0, 0.05) / exact - 1.0 for n in (4, 8)]
    assert abs(errors[1]) < 0.005
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=0.1)


def test_frame_of_equal_sides():
    # Equal sides: k = 24 E I / (2 a^3) with stiff bars, as two portals of double curvature back to back.
    assert float(frame_stiffness(2.0, 2.0, 1.0, 1e12, 1.0)) == pytest.approx(24.0 / 16.0)


def test_one_side_with_pinned_corners_is_a_simple_beam():
    # A unit force at the middle of a side of length l: l^3 / (48 E I) with pins, between that and clamped when stiff.
    points, corner = rectangle(2.0, 2.0, 2)
    middle = 3
    for corners, low, high in (("pinned", 6.0, 6.0), ("rigid", 6.0, 24.0)):
        _, bending = ring_matrices(points, corner, corners)
        assert low - 1e-9 <= bending[middle, middle] <= high + 1e-9
        assert np.linalg.eigvalsh(bending).min() > -1e-9


def test_pinned_corners_carry_no_racking_by_themselves():
    points, corner = rectangle(0.9, 0.6, 3)
    _, bending = ring_matrices(points, corner, "pinned")
    sheared = np.zeros(2 * points.shape[1])
    sheared[0::2] = points[1]
    assert np.abs(bending @ sheared).max() < 1e-6
    _, rigid = ring_matrices(points, corner)
    assert sheared @ rigid @ sheared > 1.0


def test_ring_alone_when_hardly_any_skin_is_left():
    # 4 mm of skin round a stout ring: what is left is the bare frame.
    a, b = 1.2, 0.8
    skin = cut_skin(Sheet(a + 0.008, b + 0.008, 0.004, 0.004, a, b), fineness=4)
    area, inertia = 2e-3, 1e-6
    found = racking(skin, thickness=0.5e-3, modulus=200e9, ring_modulus=200e9, ring_area=area, ring_inertia=inertia)
    assert float(found[0].ring) == pytest.approx(float(frame_stiffness(a, b, 200e9, area, inertia)), rel=0.03)
    assert float(found[0].cut) < 0.02 * float(found[0].ring)


def test_no_ring_leaves_the_cut_skin():
    skin = cut_skin(Sheet(2.0, 1.2, 0.5, 0.3, 0.8, 0.6), fineness=3)
    for part in racking(skin, thickness=1e-3, modulus=2e11, ring_modulus=2e11, ring_area=0.0, ring_inertia=0.0):
        assert part.ring == pytest.approx(float(part.cut), rel=1e-9)
        assert part.given_back == pytest.approx(0.0, abs=1e-9)
