"""Beams and a portal against handbook formulas.

Beams: AISC Manual Table 3-23 and Roark, standard formulas from memory. Portal on pinned feet under an even load:
Kleinlogel, Rigid Frame Formulas, from memory; the figures are computed from the formulas. E 70 000 MPa,
I 16 345.33 mm4.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.strength.frame import Frame, Solved, Stiffness, solve

E_I = 70e9 * 16345.33e-12
SPAN = 1.4


def stiffness(bars: int, *, axial: float = 1e8, lift: float = E_I) -> Stiffness:
    one = np.ones(bars)
    return Stiffness(axial * one, lift * one, lift * one, 0 * one, E_I * one)


def beam(ends: str, *, line: float = 0.0, middle: float = 0.0, tip: float = 0.0, span: float = SPAN) -> Solved:
    """Solve a beam of two bars along x; `ends` says pinned, fixed or free for left and right."""
    frame = Frame(
        np.array([[0.0, 0, 0], [span / 2, 0, 0], [span, 0, 0]]),
        np.array([[0, 1], [1, 2]]),
        np.tile([0.0, 0, 1], (2, 1)),
    )
    held = np.zeros((3, 6), dtype=np.bool_)
    for joint, kind in ((0, ends[0]), (2, ends[1])):
        held[joint, :4] = kind in "pf"
        held[joint] |= kind == "f"
    held[:, 5] |= held[:, 4]
    loads = np.zeros((1, 3, 6))
    loads[0, 1, 2], loads[0, 2, 2] = -middle, -tip
    even = np.zeros((1, 2, 3))
    even[..., 2] = -line
    return solve(frame, stiffness(2), loads, held, line=even)


def test_simply_supported() -> None:
    found = beam("pp", line=500.0)
    assert -found.moved[0, 1, 2] == pytest.approx(0.02185894, rel=1e-6)
    assert abs(found.ends[0, 0, 10]) == pytest.approx(122.5, rel=1e-9)
    assert -beam("pp", middle=100.0).moved[0, 1, 2] == pytest.approx(0.00499633, rel=1e-5)


def test_built_in() -> None:
    assert -beam("ff", line=500.0).moved[0, 1, 2] == pytest.approx(0.00437179, rel=1e-5)


def test_propped() -> None:
    """w L^4 / (185 E I) is the greatest deflection; at mid-span it is w L^4 / (192 E I)."""
    found = -beam("fp", line=500.0).moved[0, 1, 2]
    assert found == pytest.approx(500 * SPAN**4 / (192 * E_I), rel=1e-9)
    assert found < 0.0090744


def test_cantilever() -> None:
    assert -beam("fn", tip=100.0, span=0.4).moved[0, 2, 2] == pytest.approx(0.00186452, rel=1e-5)


def portal(span: float, height: float, columns: float, girder: float, line: float) -> Solved:
    """Solve a portal in the x-z plane: feet 0 and 4 pinned, knees 1 and 3, middle 2."""
    joints = np.array(
        [[0, 0, 0], [0, 0, height], [span / 2, 0, height], [span, 0, height], [span, 0, 0]], dtype=np.float64
    )
    up = np.array([[-1.0, 0, 0], [0, 0, 1], [0, 0, 1], [1, 0, 0]])
    frame = Frame(joints, np.array([[0, 1], [1, 2], [2, 3], [3, 4]]), up)
    lift = np.array([columns, girder, girder, columns])
    one = np.ones(4)
    held = np.zeros((5, 6), dtype=np.bool_)
    held[:, [1, 3, 5]] = True
    held[[0, 4], :3] = True
    even = np.zeros((1, 4, 3))
    even[0, 1:3, 2] = -line
    # Bars that hardly stretch: the formula leaves their length out.
    bars = Stiffness(1e9 * columns * one, lift, lift, 0 * one, one)
    return solve(frame, bars, np.zeros((1, 5, 6)), held, line=even)


def test_portal_under_an_even_load() -> None:
    found = portal(1.4, 0.8, E_I, E_I, 1000.0)
    assert abs(found.reactions[0, 0, 0]) == pytest.approx(147.8448, rel=1e-6)
    assert abs(found.ends[0, 0, 10]) == pytest.approx(118.27586, rel=1e-6)
    assert abs(found.ends[0, 1, 10]) == pytest.approx(126.72414, rel=1e-6)


def test_portal_in_feet_and_kips() -> None:
    """Knee 136.110 kip ft and thrust 8.507 kip by the formula; an example found on the web prints others, by a slip."""
    found = portal(40.0, 16.0, 171.0, 301.0, 1.5)
    assert abs(found.ends[0, 0, 10]) == pytest.approx(136.110, rel=1e-5)
    assert abs(found.reactions[0, 0, 0]) == pytest.approx(8.507, rel=1e-4)
