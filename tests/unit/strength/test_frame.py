"""The frame solver: what it refuses, batches, springs."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.strength.frame import Frame, Stiffness, bar_axes, solve, unit_loads

BAR = Frame(np.array([[0.0, 0, 0], [2, 0, 0]]), np.array([[0, 1]]), np.array([[0.0, 0, 1]]))
ONE = np.ones(1)
SAME = Stiffness(5 * ONE, 2 * ONE, 3 * ONE, 0 * ONE, 7 * ONE)
CLAMP = np.array([[True] * 6, [False] * 6])


def test_one_bar_by_hand() -> None:
    """Clamped at one end: L/EA, L^3/3EI, L/GJ, L/EI."""
    moved = solve(BAR, SAME, unit_loads(2, np.array([1])), CLAMP).moved[:, 1]
    assert np.diag(moved) == pytest.approx([2 / 5, 8 / 9, 8 / 6, 2 / 7, 2 / 2, 2 / 3])


def test_several_sections_at_once() -> None:
    many = Stiffness(*(np.array([[1.0], [2.0]]) * v for v in (5.0, 2.0, 3.0, 0.0, 7.0)))
    loads = unit_loads(2, np.array([1]))
    moved = solve(BAR, many, loads, CLAMP).moved
    assert moved.shape == (2, 6, 2, 6)
    assert moved[0] == pytest.approx(2 * moved[1])
    assert moved[0] == pytest.approx(solve(BAR, SAME, loads, CLAMP).moved)


def test_a_free_frame_is_refused() -> None:
    nothing = np.zeros((2, 6), dtype=np.bool_)
    with pytest.raises(ValueError, match="not held"):
        solve(BAR, SAME, unit_loads(2, np.array([1])), nothing)


def test_bad_bars_are_refused() -> None:
    with pytest.raises(ValueError, match="no length"):
        bar_axes(Frame(np.zeros((2, 3)), BAR.bars, BAR.up))
    with pytest.raises(ValueError, match="upward axis"):
        bar_axes(Frame(BAR.joints, BAR.bars, np.array([[1.0, 0, 0]])))


def test_springs_bear_all_of_it() -> None:
    springs = np.array([[10.0] * 6, [30.0] * 6])
    loads = np.zeros((1, 2, 6))
    loads[0, :, 2] = 4.0
    found = solve(BAR, SAME, loads, np.zeros((2, 6), dtype=np.bool_), springs=springs)
    assert found.reactions[0, :, 2].sum() == pytest.approx(-8.0)
    assert found.reactions[0, :, 2] == pytest.approx(-springs[:, 2] * found.moved[0, :, 2])


def test_a_line_load_is_many_small_ones() -> None:
    """End moment of a cantilever w L^2 / 2, either across or up."""
    line = np.array([[[0.0, 3.0, 0.0]], [[0.0, 0.0, 3.0]]])
    found = solve(BAR, SAME, np.zeros((2, 2, 6)), CLAMP, line=line)
    assert found.reactions[0, 0, 5] == pytest.approx(-6.0)
    assert found.reactions[1, 0, 4] == pytest.approx(6.0)
    assert found.moved[0, 1, 1] == pytest.approx(3 * 2**4 / (8 * 3))
    assert found.moved[1, 1, 2] == pytest.approx(3 * 2**4 / (8 * 2))
