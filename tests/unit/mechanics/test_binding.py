"""Binding: the formulas against exact rotation in space and a general-purpose library (scipy's Rotation).

Second way and exact constructed cases, computed here from first principles; no printed source.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from loftwright.mechanics.binding import (
    arm_reading,
    hinge_axis_misfit,
    hinge_reading,
    lean_misfit,
    side_force,
    toe_misfit,
)
from loftwright.mechanics.four_bar import FourBar, four_bar_travel

LENGTH = 0.62
THETA = np.radians(np.linspace(0, 75, 16))


def tips(length: float, theta: np.ndarray, error: Rotation) -> np.ndarray:
    """Return the tips [n, 3] of an arm that turns about a pin along y, the whole set out by `error`."""
    swing = Rotation.from_euler("y", -theta[:, None])
    return error.apply(swing.apply([length, 0, 0]))


def misfit(length: float, theta: np.ndarray, left: Rotation, right: Rotation) -> np.ndarray:
    """Return the change [n, 3], from the first station, of the vector between the tips."""
    apart = tips(length, theta, left) - tips(length, theta, right)
    return apart - apart[0]


@pytest.mark.parametrize(("axis", "formula"), [("x", lean_misfit), ("z", toe_misfit)])
@pytest.mark.parametrize("closed_deg", [-8.0, 0.0, 15.0])
@pytest.mark.parametrize("angle_deg", [0.2, 1.0, 4.0])
def test_one_arm_out_matches_exact_rotation(axis: str, formula, closed_deg: float, angle_deg: float) -> None:
    theta, angle = THETA + np.radians(closed_deg), np.radians(angle_deg)
    exact = misfit(LENGTH, theta, Rotation.from_euler(axis, angle), Rotation.identity())
    by_formula = formula(LENGTH, theta, angle, closed=np.radians(closed_deg))
    np.testing.assert_allclose(by_formula, np.abs(exact[:, 1]), atol=1e-15)


@pytest.mark.parametrize(("axis", "formula"), [("x", lean_misfit), ("z", toe_misfit)])
def test_both_arms_out_differ_from_the_formula_by_the_third_power_of_the_angle(axis: str, formula) -> None:
    errors = []
    for angle in np.radians([4.0, 2.0, 1.0]):
        half = Rotation.from_euler(axis, angle / 2)
        exact = misfit(LENGTH, THETA, half, half.inv())
        errors.append(np.abs(formula(LENGTH, THETA, angle) - np.abs(exact[:, 1])).max())
    np.testing.assert_allclose(np.log2(np.array(errors[:-1]) / errors[1:]), 3, atol=0.01)


@pytest.mark.parametrize("axis", ["x", "z"])
def test_misfit_along_and_up_is_of_second_order(axis: str) -> None:
    errors = []
    for angle in np.radians([4.0, 2.0, 1.0]):
        exact = misfit(LENGTH, THETA, Rotation.from_euler(axis, angle), Rotation.identity())
        errors.append(np.abs(exact[:, [0, 2]]).max())
        assert errors[-1] <= LENGTH * (1 - np.cos(angle)) + 1e-15
    np.testing.assert_allclose(np.log2(np.array(errors[:-1]) / errors[1:]), 2, atol=0.01)


def test_figure_in_the_heading() -> None:
    assert 0.5 * (1 - np.cos(np.radians(1.5))) * 1000 == pytest.approx(0.2, abs=0.05)


@pytest.mark.parametrize("skew_deg", [0.0, 30.0, 90.0])
def test_leaning_or_toed_hinge_axis_matches_exact_rotation(skew_deg: float) -> None:
    """The half length of the pin, tipped by `angle` in a plane between toe (0) and lean (90 degrees)."""
    angle, knuckle, skew = np.radians(1.5), 0.06, np.radians(skew_deg)
    axis = np.array([np.sin(angle) * np.cos(skew), np.cos(angle), np.sin(angle) * np.sin(skew)])
    end = axis * knuckle / 2
    moved = Rotation.from_euler("y", -THETA[:, None]).apply(end) - end
    np.testing.assert_allclose(hinge_axis_misfit(THETA, angle, knuckle), np.linalg.norm(moved, axis=1), atol=1e-15)


def test_arm_reading_uses_up_exactly_the_play() -> None:
    play = 0.0009
    reading = arm_reading(LENGTH, THETA, play)
    angle = np.arcsin(reading / LENGTH)
    worst = max(lean_misfit(LENGTH, THETA, angle).max(), toe_misfit(LENGTH, THETA, angle).max())
    assert worst == pytest.approx(play, rel=1e-12)
    # Leaning is worse than toe up to 90 degrees, and worst where the sine is greatest.
    assert reading == pytest.approx(play / np.sin(THETA[-1]), rel=1e-12)


def test_reading_does_not_depend_on_the_arms_length() -> None:
    short, long = (arm_reading(length, THETA, 0.001) for length in (0.3, 0.9))
    assert short == pytest.approx(float(long), rel=1e-12)


def test_toe_governs_an_arm_that_swings_past_upright() -> None:
    reading = arm_reading(LENGTH, np.radians(np.linspace(0, 130, 27)), 0.001)
    assert reading == pytest.approx(0.001 / (1 - np.cos(np.radians(130))), rel=1e-12)


def test_arm_starting_steep_is_judged_from_where_it_is_closed() -> None:
    assert arm_reading(LENGTH, np.radians(np.linspace(60, 90, 4)), 0.0005) == pytest.approx(0.0005 / 0.5, rel=1e-12)


def test_readings_of_draws_and_of_a_four_bar() -> None:
    found = four_bar_travel(FourBar(1.7, -0.05, 1.3, np.array([0.05, 0.07]), 1.9, -0.05, 1.6, 0.06), np.radians(50))
    closed = np.arctan2(np.array([0.10, 0.12]), -0.4)
    arm_a = closed[:, None] + found.travel.arms[0].phi
    _, length, _, _ = found.bar.lengths()
    reading = arm_reading(length, arm_a, np.array([0.0004, 0.0008]))
    assert reading.shape == (2,)
    assert 0 < reading[0] < reading[1]


def test_arm_that_hardly_moves_is_free() -> None:
    assert arm_reading(LENGTH, np.zeros(3), 0.001) == pytest.approx(LENGTH)


@pytest.mark.parametrize("degrees", [5.0, 28.0, 90.0])
def test_hinge_reading_uses_up_exactly_the_play(degrees: float) -> None:
    opens, play, spacing, knuckle = np.radians(degrees), 0.0006, 1.1, 0.06
    reading = hinge_reading(opens, play, spacing, knuckle)
    angle = np.arcsin(reading / spacing)
    assert hinge_axis_misfit(opens, angle, knuckle)[0] == pytest.approx(play, rel=1e-12)


def test_side_force_starts_where_the_play_ends() -> None:
    force = side_force(np.array([0.0002, 0.0008, 0.0018]), 0.0008, 400e3)
    np.testing.assert_allclose(force, [0, 0, 200], atol=1e-9)
