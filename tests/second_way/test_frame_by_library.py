"""The frame solver against PyNite, a general-purpose library for frames, and a ring against Castigliano's theorem."""

from __future__ import annotations

import warnings
from typing import Any

import numpy as np
import pytest

from loftwright.core.motion import Array
from loftwright.strength.frame import Frame, Stiffness, bar_axes, solve
from loftwright.strength.sections import angle, tube

E, G = 210e9, 81e9


def library_model() -> Any:
    """Return an empty model of the library, whose import may warn."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from Pynite import FEModel3D  # type: ignore[import-untyped]
    return FEModel3D()


def rectangle(length: float, width: float, members: int) -> Frame:
    """Return a rectangular ring with so many bars on each side."""
    corners = np.array([[0, 0, 0], [length, 0, 0], [length, width, 0], [0, width, 0]], dtype=np.float64)
    steps = np.arange(members) / members
    joints = np.concatenate(
        [a + steps[:, None] * (b - a) for a, b in zip(corners, np.roll(corners, -1, 0), strict=True)]
    )
    n = len(joints)
    return Frame(joints, np.array([(i, (i + 1) % n) for i in range(n)]), np.tile([0.0, 0, 1], (n, 1)))


def three_corners_held(members: int, i: float, j: float) -> float:
    frame = rectangle(2.0, 1.2, members)
    n = len(frame.joints)
    one = np.ones(n)
    held = np.zeros((n, 6), dtype=np.bool_)
    held[[0, members, 2 * members], 2] = True
    held[0, [0, 1, 5]] = True
    loads = np.zeros((1, n, 6))
    loads[0, 3 * members, 2] = -100.0
    solved = solve(frame, Stiffness(1e7 * one, E * i * one, E * i * one, 0 * one, G * j * one), loads, held)
    return float(-solved.moved[0, 3 * members, 2])


@pytest.mark.parametrize("members", [1, 3, 10])
def test_ring_on_three_corners_by_castigliano(members: int) -> None:
    """Shear Va and Vb in the sides, bending Va s about mid-side, torsion of a side = end bending of the next.

    U = 2 (Va^2 A + Vb^2 B), A = a^3/(24 EI) + a^2 b/(8 GJ), Va + Vb = P: the corner goes down 4 P A B / (A + B).
    """
    section = tube(0.025, 0.025, 0.002)
    i, j, a, b = section.ix, section.torsion, 2.0, 1.2
    along = a**3 / (24 * E * i) + a**2 * b / (8 * G * j)
    across = b**3 / (24 * E * i) + b**2 * a / (8 * G * j)
    by_hand = 4 * 100.0 * along * across / (along + across)
    assert three_corners_held(members, i, j) == pytest.approx(by_hand, rel=1e-8)


def by_library(frame: Frame, section: tuple[float, float, float, float], loads: Array, turned: float) -> Array:
    """Return the library's displacements [joints, 6]; `section` is A, Iy, Iz (principal) and J."""
    model = library_model()
    model.add_material("metal", E, G, 0.3, 0.0)
    area, iy, iz, j = section
    model.add_section("bar", area, iy, iz, j)
    for k, (x, y, z) in enumerate(frame.joints):
        model.add_node(f"{k}", x, y, z)
    for k, (first, second) in enumerate(frame.bars):
        model.add_member(f"M{k}", f"{first}", f"{second}", "metal", "bar", rotation=turned)
    model.def_support("0", True, True, True, True, True, True)
    names = ("FX", "FY", "FZ", "MX", "MY", "MZ")
    for k, row in enumerate(loads):
        for name, value in zip(names, row, strict=True):
            model.add_node_load(f"{k}", name, value)
    model.analyze_linear(check_stability=False)
    fields = ("DX", "DY", "DZ", "RX", "RY", "RZ")
    return np.array([[getattr(model.nodes[f"{k}"], f)["Combo 1"] for f in fields] for k in range(len(frame.joints))])


@pytest.mark.parametrize("kind", ["tube", "angle"])
def test_crooked_ring_by_library(kind: str) -> None:
    """A ring out of flat and square, clamped at one joint, all joints loaded; an angle bends aslant."""
    random = np.random.default_rng(4)
    flat_ring = rectangle(2.0, 1.2, 2)
    joints = flat_ring.joints + random.normal(0.0, 0.06, flat_ring.joints.shape)
    bars, turned = flat_ring.bars, 0.0
    part = tube(0.03, 0.05, 0.003) if kind == "tube" else angle(0.04, 0.04, 0.003)
    # The library's own z axis of a bar; ours is told to follow it.
    library_axes = np.array([library_rotation(joints[a], joints[b]) for a, b in bars])
    frame = Frame(joints, bars, library_axes[:, 2])
    if kind == "angle":
        # Equal legs: turned by 45 degrees, z' = (z - y)/sqrt(2) runs from tip to tip, along the greatest second moment.
        turned = 45.0
    great, least = part.principal
    one = np.ones(len(bars))
    if kind == "tube":
        bend = Stiffness(E * part.area * one, E * part.ix * one, E * part.iy * one, 0 * one, G * part.torsion * one)
        principal = (part.area, part.ix, part.iy, part.torsion)
    else:
        bend = Stiffness(
            E * part.area * one, E * part.ix * one, E * part.iy * one, E * part.ixy * one, G * part.torsion * one
        )
        principal = (part.area, great, least, part.torsion)
    loads = random.normal(0.0, 50.0, (len(joints), 6))
    held = np.zeros((len(joints), 6), dtype=np.bool_)
    held[0] = True
    found = solve(frame, bend, loads[None], held).moved[0]
    other = by_library(frame, principal, loads, turned)
    assert np.abs(found - other).max() < 1e-8 * np.abs(other).max()


def library_rotation(first: Array, second: Array) -> Array:
    """Return the library's own axes of a bar that is not vertical: z level, y up (its manual)."""
    x = (second - first) / np.linalg.norm(second - first)
    z = np.cross(x, np.array([0.0, 1.0, 0.0]))
    z = z / np.linalg.norm(z)
    return np.array([x, np.cross(z, x), z])


def test_own_axes_are_right_handed() -> None:
    _, axes = bar_axes(rectangle(2.0, 1.2, 2))
    assert np.linalg.det(axes) == pytest.approx(np.ones(8), abs=1e-12)
