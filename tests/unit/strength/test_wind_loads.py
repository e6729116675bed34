"""Wrenches of the wind on roofs simple enough to add up by hand. Computed here from first principles."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from loftwright.strength.raised_shape import DIRECTIONS, RaisedShape
from loftwright.strength.wind import velocity_pressure
from loftwright.strength.wind_coefficients import leeward_coefficient, windward_coefficient
from loftwright.strength.wind_loads import (
    CASES,
    DOWN,
    UP,
    WindCase,
    panel_coefficients,
    parts,
    wall_coefficient,
    wrench_of,
    wrenches,
)

LENGTH, WIDTH = 2.2, 1.4


def box(height: float = 0.9, edge: float = 0.1, roof: float = 2.0) -> RaisedShape:
    numbers = (0.0, LENGTH, WIDTH, 0.0, height, LENGTH, WIDTH, edge, 0.0, 0.0, 0.0, roof)
    return RaisedShape(*(np.array(v) for v in numbers))


def wedge(degrees: float, end: str = "rear") -> RaisedShape:
    angle = math.radians(degrees)
    start, tilt, hinge = (0.0, 0.0), angle, 0.0
    if end == "front":
        start, tilt, hinge = (LENGTH * (1 - math.cos(angle)), LENGTH * math.sin(angle)), -angle, LENGTH
    numbers = (0.0, LENGTH, WIDTH, *start, LENGTH, WIDTH, 0.1, tilt, hinge, 0.0, 2.0)
    return RaisedShape(*(np.array(v) for v in numbers))


def test_side_wind_on_a_box_by_hand() -> None:
    q = float(velocity_pressure(20.0))
    ratio = 2.9 / WIDTH
    both = float(windward_coefficient(ratio) - leeward_coefficient(ratio))
    wall = 0.5 * both * q * LENGTH * 0.9
    side = 1.3 * q * LENGTH * 0.1
    lift = 1.3 * q * LENGTH * WIDTH
    found = wrenches(box(), 20.0, ("left",))[0]
    assert found[:3] == pytest.approx([0.0, -(wall + side), lift])
    # About the middle of the rear edge: walls at the rim, the side at half its height, lift a quarter in from the left.
    arm = LENGTH / 2
    expected = [wall * 0.9 + side * 0.95 + lift * WIDTH / 4, -lift * arm, -(wall + side) * arm]
    assert found[3:] == pytest.approx(expected)


def test_the_shell_takes_its_share_of_the_walls() -> None:
    for share in (0.4, 0.6):
        case = replace(UP, upper_share=share)
        for part in parts(box(), 18.0, "front", case=case):
            kept = share if part.name.endswith("wall") else 1.0
            assert part.shell_force == pytest.approx(kept * part.force)


def test_parts_are_named_and_the_wind_side_is_pushed_in() -> None:
    found = {part.name: part for part in parts(box(), 20.0, "front")}
    assert set(found) == {"front wall", "rear wall", "left wall", "right wall", "shell", "side of the shell"}
    assert found["front wall"].force[0] < 0
    assert found["rear wall"].force[0] < 0
    assert found["left wall"].force[1] > 0 > found["right wall"].force[1]
    assert found["side of the shell"].force[0] < 0


def test_walls_rolled_up_carry_nothing() -> None:
    case = WindCase("up", 0.0, blockage=0.0)
    walls = [part for part in parts(wedge(20.0), 20.0, "front", case=case) if part.name.endswith("wall")]
    assert len(walls) == 4
    assert all(np.all(part.force == 0.0) for part in walls)


def test_the_van_counts_to_the_height_of_the_body() -> None:
    tall, alone = (wall_coefficient(box(roof=roof), "left", "left") for roof in (2.0, 0.0))
    low_lee, high_lee = (wall_coefficient(box(roof=roof), "right", "left") for roof in (0.0, 2.0))
    assert tall > alone
    assert high_lee < low_lee
    assert wall_coefficient(box(), "front", "left") == wall_coefficient(box(), "rear", "left")


def test_front_wind_lifts_a_roof_hinged_at_the_rear_more_than_rear_wind() -> None:
    openings = (5.0, 15.0, 25.0)
    front, rear = ([-float(wrenches(wedge(deg), 15.0, (d,))[0, 4]) for deg in openings] for d in ("front", "rear"))
    assert all(f > r for f, r in zip(front, rear, strict=True))
    assert front == sorted(front)
    # Either hinge: the same roof the other way round.
    turned = float(wrenches(wedge(15.0, "front"), 15.0, ("rear",))[0, 4])
    assert turned == pytest.approx(front[1])


def test_pressing_wind_slams() -> None:
    assert float(wrenches(wedge(10.0), 15.0, ("rear",), case=DOWN)[0, 4]) > 0


def test_rows_come_first_and_directions_before_the_wrench() -> None:
    shape = replace(box(), shell_z=np.array([0.5, 0.7, 0.9]))
    gust, factor = np.array([10.0, 15.0, 20.0]), np.array([0.8, 1.0, 1.3])
    case = WindCase("up", np.array([0.2, 0.0, -0.3]), upper_share=np.array([0.4, 0.5, 0.6]))
    every = wrenches(shape, gust, factor=factor, case=case)
    assert every.shape == (3, 4, 6)
    one = replace(box(), shell_z=np.array(0.7))
    alone = wrenches(one, 15.0, case=WindCase("up", 0.0, upper_share=0.5))
    assert every[1] == pytest.approx(alone)
    # Gusts over an axis of their own, before the rows.
    assert wrenches(shape, gust[:, None], ("left", "front")).shape == (3, 3, 2, 6)


def test_every_case_and_direction_is_finite() -> None:
    for case in CASES:
        assert np.isfinite(wrenches(wedge(25.0), 20.0, case=case)).all()


def test_wrench_about_another_point() -> None:
    loads = parts(wedge(20.0), 15.0, "left")
    here, there = np.zeros(3), np.array([0.3, -0.2, 0.5])
    a, b = wrench_of(loads, here), wrench_of(loads, there)
    assert b[:3] == pytest.approx(a[:3])
    assert b[3:] == pytest.approx(a[3:] - np.cross(there, a[:3]))


def test_cloth_panels_closed_and_with_a_window_open() -> None:
    shape = box(height=0.4, roof=2.0)
    closed = panel_coefficients(shape, DIRECTIONS)
    assert closed.shape == (4, 4)
    # Small front wall: windward +1.0 outside and -0.3 inside; side walls -1.4 outside and +0.2 inside.
    front = closed[0]
    assert front[0] == pytest.approx(1.3)
    assert front[2] == front[3] == pytest.approx(-1.6)
    opened = panel_coefficients(shape, DIRECTIONS, window="front", window_share=0.9)
    # Through a window in the windward wall 0.9 of +1.0 gets in and blows the side walls out.
    assert opened[0][2] == pytest.approx(-1.4 - 0.9)
    assert np.all(np.abs(opened) >= np.abs(closed) - 1e-12)
