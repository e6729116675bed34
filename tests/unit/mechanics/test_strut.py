"""Slender struts: Euler's load, the stepped strut, and the same by finite differences."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.linalg import eigh_tridiagonal

from loftwright.mechanics.strut import (
    STEEL_MODULUS,
    second_moment,
    spring_critical_load,
    stepped_load,
)


def euler_load(diameter: float, length: float) -> float:
    """Return pi^2 E I / L^2 [N] of a solid rod on pinned ends."""
    return float(np.pi**2 * STEEL_MODULUS * np.pi / 64 * diameter**4 / length**2)


# Rod and length [mm], load [N]; E = 206 000 MPa, pinned. Computed here from first principles.
@pytest.mark.parametrize(
    ("rod_mm", "length_mm", "load"), [(6, 200, 3233.6), (8, 300, 4542.1), (8, 400, 2554.9), (10, 500, 3992.1)]
)
def test_solid_rod(rod_mm, length_mm, load):
    # Rod and "tube" alike, in halves.
    half = length_mm / 2000
    found = spring_critical_load(
        rod_diameter=rod_mm / 1000, tube_diameter=rod_mm / 1000, tube_wall=rod_mm / 2000, length=2 * half, rod_out=half
    )
    assert found == pytest.approx(load, rel=1e-4)


def by_finite_differences(rod: float, tube: float, rod_length: float, tube_length: float, parts: int) -> float:
    """Least P of E I(x) y'' + P y = 0, y = 0 at both ends, on an even grid with the step on a node."""
    n = round((rod_length + tube_length) / (rod_length / parts))
    h = (rod_length + tube_length) / n
    # On the step node the flexibility is the mean of both sides.
    flexibility = np.where(np.arange(1, n) < parts, 1 / rod, 1 / tube)
    flexibility[parts - 1] = (1 / rod + 1 / tube) / 2
    root = np.sqrt(flexibility)
    diagonal = 2 / h**2 / flexibility
    off = -1 / h**2 / (root[:-1] * root[1:])
    return float(eigh_tridiagonal(diagonal, off, select="i", select_range=(0, 0))[0][0])


@pytest.mark.parametrize(
    ("rod_mm", "tube_mm", "wall_mm", "rod_length", "tube_length"),
    [(8, 18, 1.5, 0.3, 0.3), (10, 22, 1.5, 0.25, 0.5), (6, 15, 1.0, 0.5, 0.1), (14, 14, 2.0, 0.2, 0.4)],
)
def test_stepped_strut_by_finite_differences(rod_mm, tube_mm, wall_mm, rod_length, tube_length):
    tube_inner = (tube_mm - 2 * wall_mm) / 1000
    found = stepped_load(rod_mm / 1000, rod_length, tube_mm / 1000, tube_inner, tube_length)
    rod = STEEL_MODULUS * second_moment(rod_mm / 1000)
    tube = STEEL_MODULUS * second_moment(tube_mm / 1000, tube_inner)
    coarse, fine = (by_finite_differences(rod, tube, rod_length, tube_length, parts) for parts in (200, 400))
    assert found == pytest.approx(fine + (fine - coarse) / 3, rel=1e-6)


def test_stepped_load_solves_its_equation():
    rod, tube, l1, l2 = 0.008, 0.018, np.linspace(0.1, 0.5, 9), 0.3
    load = stepped_load(rod, l1, tube, 0.015, l2)
    k1 = np.sqrt(load / (STEEL_MODULUS * second_moment(rod)))
    k2 = np.sqrt(load / (STEEL_MODULUS * second_moment(tube, 0.015)))
    np.testing.assert_allclose(
        k2 * np.sin(k1 * l1) * np.cos(k2 * l2) + k1 * np.cos(k1 * l1) * np.sin(k2 * l2), 0, atol=1e-9
    )


def test_even_strut_is_eulers():
    load = stepped_load(0.010, np.array([0.1, 0.25, 0.4]), 0.010, 0.0, np.array([0.4, 0.25, 0.1]))
    np.testing.assert_allclose(load, euler_load(0.010, 0.5), rtol=1e-12)


def test_rigid_tube_keeps_a_rigid_end():
    # A tube that cannot bend: tan(k L1) = -k L2, first root by its own search.
    from scipy.optimize import brentq

    l1, l2 = 0.3, 0.4
    k = brentq(lambda k: np.sin(k * l1) + k * l2 * np.cos(k * l1), 0.5 * np.pi / l1, np.pi / l1)
    load = stepped_load(0.008, l1, 0.8, 0.0, l2)
    assert load == pytest.approx(STEEL_MODULUS * float(second_moment(0.008)) * k**2, rel=1e-5)


def test_the_free_rod_alone_flatters():
    assert stepped_load(0.008, 0.3, 0.018, 0.015, 0.3) < euler_load(0.008, 0.3)


def test_shapes_broadcast():
    load = stepped_load(np.full((4, 1), 0.008), np.linspace(0.2, 0.4, 3), 0.018, 0.015, 0.3)
    assert load.shape == (4, 3)
    assert np.all(np.diff(load, axis=-1) < 0)


def test_spring_is_the_stepped_strut_of_its_parts():
    out, whole = np.array([0.0, 0.1, 0.3]), np.array([0.3, 0.4, 0.6])
    found = spring_critical_load(rod_diameter=0.008, tube_diameter=0.018, tube_wall=0.0015, length=whole, rod_out=out)
    np.testing.assert_allclose(found[1:], stepped_load(0.008, out[1:], 0.018, 0.015, 0.3), rtol=1e-12)
    # No bare rod: the tube alone.
    assert found[0] == pytest.approx(np.pi**2 * STEEL_MODULUS * float(second_moment(0.018, 0.015)) / 0.3**2, rel=1e-12)
