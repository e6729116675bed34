"""Panels of a raised roof whose areas and middles are known by hand. Computed here from first principles."""

from __future__ import annotations

import math

import numpy as np
import pytest

from loftwright.strength.raised_shape import (
    WALLS,
    Direction,
    RaisedShape,
    panel_centre,
    upper_edge_centre,
    vector_area,
)


def shape(rear_z: float, tilt_deg: float, *, shell_width: float = 1.0) -> RaisedShape:
    numbers = (0.0, 2.0, 1.0, 0.0, rear_z, 2.0, shell_width, 0.1, math.radians(tilt_deg), 0.0, 0.0, 2.0)
    return RaisedShape(*(np.array(v) for v in numbers))


@pytest.mark.parametrize(
    ("wall", "area", "middle"),
    [
        ("front", (0.5, 0.0, 0.0), (2.0, 0.0, 0.25)),
        ("rear", (-0.5, 0.0, 0.0), (0.0, 0.0, 0.25)),
        ("left", (0.0, 1.0, 0.0), (1.0, 0.5, 0.25)),
        ("right", (0.0, -1.0, 0.0), (1.0, -0.5, 0.25)),
    ],
)
def test_a_box(wall: Direction, area: tuple[float, ...], middle: tuple[float, ...]) -> None:
    corners = shape(0.5, 0.0).corners(wall)
    assert vector_area(corners) == pytest.approx(np.array(area))
    assert panel_centre(corners) == pytest.approx(np.array(middle))


def test_a_triangular_side() -> None:
    wedge = shape(0.0, 30.0)
    corners = wedge.corners("left")
    # Corners (0, 0), (2 cos 30, 1) and (2, 0) in the side view.
    assert float(vector_area(corners)[1]) == pytest.approx(1.0)
    assert panel_centre(corners)[[0, 2]] == pytest.approx([(0 + math.sqrt(3) + 2) / 3, 1 / 3])
    # No cloth at the hinge: the push grows along the edge, its middle lies at two thirds.
    assert upper_edge_centre(corners)[[0, 2]] == pytest.approx([2 * math.sqrt(3) / 3, 2 / 3])
    assert float(np.linalg.norm(vector_area(wedge.corners("rear")))) == 0.0
    assert float(wedge.raised) == pytest.approx(1.0)


def test_an_edge_of_unlike_heights_is_pushed_where_a_fine_sum_says() -> None:
    corners = shape(0.3, 15.0).corners("left")
    a, b, c, d = corners
    s = (np.arange(20000) + 0.5) / 20000
    tall = np.linalg.norm(b - a) * (1 - s) + np.linalg.norm(c - d) * s
    middle = (tall[:, None] * (b + s[:, None] * (c - b))).sum(axis=0) / tall.sum()
    assert upper_edge_centre(corners) == pytest.approx(middle, abs=1e-8)


def test_a_closed_roof_has_no_walls() -> None:
    closed = shape(0.0, 0.0)
    assert all(float(np.linalg.norm(vector_area(closed.corners(wall)))) == 0.0 for wall in WALLS)
    assert panel_centre(closed.corners("front")) == pytest.approx([2.0, 0.0, 0.0])
    assert upper_edge_centre(closed.corners("front")) == pytest.approx([2.0, 0.0, 0.0])


@pytest.mark.parametrize(("rear_z", "tilt_deg", "shell_width"), [(0.5, 0.0, 1.2), (0.0, 25.0, 1.0), (0.9, -20.0, 0.9)])
def test_walls_close_the_space_between_opening_and_shell(rear_z: float, tilt_deg: float, shell_width: float) -> None:
    # Outward areas of a closed surface add up to nought: walls, floor and shell.
    whole = shape(rear_z, tilt_deg, shell_width=shell_width)
    walls: np.ndarray = sum((vector_area(whole.corners(wall)) for wall in WALLS), np.zeros(3))
    tilt = math.radians(tilt_deg)
    lid = 2.0 * shell_width * np.array([-math.sin(tilt), 0.0, math.cos(tilt)])
    assert walls + lid + np.array([0.0, 0.0, -2.0]) == pytest.approx(np.zeros(3), abs=1e-12)


def test_points_of_the_shell_turn_with_it() -> None:
    up = shape(0.0, 90.0)
    assert up.on_shell(1.5, 0.2, 0.1) == pytest.approx([-0.1, 0.2, 1.5])
    assert float(up.front_x) == pytest.approx(0.0, abs=1e-12)
