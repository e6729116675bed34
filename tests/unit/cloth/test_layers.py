"""Lining and insulation. Exact constructed cases; offsets a second way by shapely."""

from __future__ import annotations

import math

import numpy as np
import pytest
from shapely.geometry import Polygon

from loftwright.cloth.layers import moved_inward, part_of_panel, stretches_between


def rounded_rim(points: int) -> np.ndarray:
    """A rim 2000 by 1200 with corners of 150, counter-clockwise, level."""
    shape = Polygon([(-0.85, -0.45), (0.85, -0.45), (0.85, 0.45), (-0.85, 0.45)]).buffer(0.15, quad_segs=points)
    line = np.array(shape.exterior.coords)[:-1][::-1]
    return np.column_stack([line, np.zeros(len(line))])


def perimeter(loop: np.ndarray) -> float:
    return float(np.linalg.norm(np.roll(loop, -1, axis=-2) - loop, axis=-1).sum(axis=-1))


def test_a_circle_gets_its_own_radius() -> None:
    angle = np.linspace(0.0, 2 * math.pi, 360, endpoint=False)
    loop = np.stack([np.cos(angle), np.sin(angle), np.full_like(angle, 0.3)], axis=-1)
    inner = moved_inward(loop, 0.0039)
    assert np.hypot(inner[:, 0], inner[:, 1]) == pytest.approx(1 - 0.0039, abs=1e-6)
    assert inner[:, 2] == pytest.approx(0.3)


def test_lining_is_shorter_by_two_pi_its_depth() -> None:
    """3.9 mm of build make the loop 2 pi 3.9 = 24.5 mm shorter; by shapely's own offset too."""
    rim = rounded_rim(64)
    inner = moved_inward(rim, 0.0039)
    assert perimeter(rim) - perimeter(inner) == pytest.approx(2 * math.pi * 0.0039, abs=2e-5)
    other = Polygon(rim[:, :2]).buffer(-0.0039, quad_segs=64)
    assert Polygon(inner[:, :2]).symmetric_difference(other).area < 1e-6


def test_rows_at_once() -> None:
    rim = rounded_rim(16)
    both = moved_inward(np.stack([rim, rim]), np.array([0.003, 0.005]))
    assert both[0] == pytest.approx(moved_inward(rim, 0.003))
    assert both[1] == pytest.approx(moved_inward(rim, 0.005))


def test_square_to_a_leaning_wall() -> None:
    """A wall that leans inward by 30 degrees: the inside is also lower there, by t sin 30."""
    angle = np.linspace(0.0, 2 * math.pi, 720, endpoint=False)
    loop = np.stack([np.cos(angle), np.sin(angle), 0 * angle], axis=-1)
    lean = math.radians(30.0)
    wall = np.stack(
        [-math.sin(lean) * np.cos(angle), -math.sin(lean) * np.sin(angle), math.cos(lean) + 0 * angle], axis=-1
    )
    inner = moved_inward(loop, 0.01, wall)
    assert np.hypot(inner[:, 0], inner[:, 1]) == pytest.approx(1 - 0.01 * math.cos(lean), abs=1e-6)
    assert inner[:, 2] == pytest.approx(-0.01 * math.sin(lean), abs=1e-6)


def test_two_points_are_no_rim() -> None:
    with pytest.raises(ValueError, match="at least three points"):
        moved_inward(np.zeros((2, 3)), 0.01)


def test_insulation_stops_short_of_corners() -> None:
    corners = [(0.5, 0.7), (2.0, 2.2), (3.0, 3.2), (4.6, 4.8)]
    found = stretches_between(corners, 5.0, 0.15)
    assert np.array(found) == pytest.approx(np.array([[0.85, 1.85], [2.35, 2.85], [3.35, 4.45], [4.95, 5.35]]))
    assert stretches_between([], 5.0, 0.15) == ((0.0, 5.0),)
    assert stretches_between([(0.1, 0.2), (0.3, 0.4)], 5.0, 0.15) == ((0.55, pytest.approx(4.95)),)


def test_part_of_a_panel() -> None:
    lower, upper = np.array([[0.0, 0.0], [1.0, 0.0], [2.0, 0.0]]), np.array([[0.0, 0.5], [2.2, 0.5]])
    low, high = part_of_panel(lower, upper, np.array([3.0, 4.0, 5.0]), np.array([3.1, 5.3]), (3.5, 4.5), (0.0, 1.0))
    assert low.tolist() == [[0.5, 0.0], [1.0, 0.0], [1.5, 0.0]]
    assert high == pytest.approx(np.array([[0.55, 0.5], [1.1, 0.5], [1.65, 0.5]]))
    half, _ = part_of_panel(lower, upper, np.array([3.0, 4.0, 5.0]), np.array([3.1, 5.3]), (3.5, 4.5), (0.5, 1.0))
    assert half[:, 1] == pytest.approx(0.25)
    with pytest.raises(ValueError, match="must lie within"):
        part_of_panel(lower, upper, np.array([3.0, 4.0, 5.0]), np.array([3.1, 5.3]), (2.5, 4.5), (0.0, 1.0))
