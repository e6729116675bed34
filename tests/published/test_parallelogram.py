"""Parallel arms: an exact constructed case, no printed source.

Opposite links equal (500 and 1200 mm). Computed here from first principles: the shell keeps level, each
of its points moves on an arc of the arm's length, the torque on the arms is m g a cos(theta) wherever the
mass lies along the shell, and at 0 and 180 degrees two branches meet.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.motion import opening_of, push_at
from loftwright.mechanics.balance import Mount, lever
from loftwright.mechanics.four_bar import FourBar, dead_points, four_bar_travel
from loftwright.mechanics.gas_spring import GasSpring

ARM, BASE = 0.5, 1.2
GRAVITY = 9.80665


def parallel_arms(theta: float) -> FourBar:
    x, z = ARM * np.cos(theta), ARM * np.sin(theta)
    return FourBar(0, 0, x, z, BASE, 0, BASE + x, z)


@pytest.mark.parametrize("sense", [1.0, -1.0])
def test_angles_at_every_position_off_the_change_points(sense: float) -> None:
    found = four_bar_travel(parallel_arms(sense * np.radians(1)), np.radians(178), stations=179, sense=sense)
    theta2 = sense * np.radians(1 + 178 * found.travel.fraction)
    for arm in found.travel.arms:
        np.testing.assert_allclose(theta2[0] + arm.phi, theta2, atol=1e-9)
    np.testing.assert_allclose(found.travel.shell.phi, 0, atol=1e-9)


def test_every_point_moves_on_an_arc_of_the_arm() -> None:
    start = np.radians(5)
    found = four_bar_travel(parallel_arms(start), np.radians(80))
    assert found.possible
    assert found.parallel
    assert np.all(opening_of(found.travel) == 0)
    px, pz = np.array([-0.4, 0.3, 1.9]), np.array([0.0, 0.25, -0.1])
    path = found.travel.shell.point(px, pz)
    centre_x, centre_z = px - ARM * np.cos(start), pz - ARM * np.sin(start)
    np.testing.assert_allclose(np.hypot(path.x - centre_x[:, None], path.z - centre_z[:, None]), ARM, atol=1e-12)
    np.testing.assert_allclose(path.x - px[:, None], (path.x - px[:, None])[:1].repeat(3, 0), atol=1e-12)


@pytest.mark.parametrize(("degrees", "torque"), [(10, 193.153), (45, 138.687), (80, 34.058)])
@pytest.mark.parametrize("along", [-0.3, 0.6, 2.0])
def test_torque_does_not_depend_on_where_the_mass_lies(degrees: float, torque: float, along: float) -> None:
    found = four_bar_travel(parallel_arms(np.radians(degrees)), np.radians(1))
    weight = push_at(found.travel.shell.point(along, 0.2), 0.0, -40 * GRAVITY)
    assert -weight.work_rate(found.travel.shell)[0] == pytest.approx(torque, abs=5e-4)


@pytest.mark.parametrize(
    ("foot_on", "foot", "head_on", "head"),
    [
        ("van", (0.3, -0.2), "arm a", (0.32, 0.21)),
        ("van", (0.9, -0.1), "arm b", (1.5, 0.1)),
        ("arm a", (0.2, 0.1), "arm b", (1.4, 0.05)),
        ("arm b", (1.4, 0.2), "shell", (0.2, 0.35)),
    ],
)
def test_a_spring_on_an_arm_turns_it_by_its_push_times_its_distance_from_the_pivot(
    foot_on: str, foot: tuple[float, float], head_on: str, head: tuple[float, float]
) -> None:
    """Moments about each arm's own pivot; a force on the level shell turns an arm as if at its upper pin."""
    travel = four_bar_travel(parallel_arms(np.radians(25)), np.radians(40)).travel
    one = np.ones(1)
    ends = (np.array([v]) for v in (*foot, *head))
    line = lever(Mount(GasSpring(one, one, one, one, one, one), 2, foot_on, head_on, *ends, 0 * one), travel)
    moment = np.zeros(1)
    for name, path, sign in ((foot_on, line.foot, -1.0), (head_on, line.head, 1.0)):
        if name == "van":
            continue
        theta = np.radians(25) + travel.q
        x, z = (
            (ARM * np.cos(theta), ARM * np.sin(theta))
            if name == "shell"
            else (path.x - (BASE if name == "arm b" else 0.0), path.z)
        )
        moment = moment + sign * (x * line.along_z - z * line.along_x)
    np.testing.assert_allclose(line.rate, moment, rtol=1e-12, atol=1e-14)


@pytest.mark.parametrize("start", [-20.0, 0.0])
def test_change_point_is_flagged_and_the_shell_goes_on_level(start: float) -> None:
    found = four_bar_travel(parallel_arms(np.radians(start)), np.radians(60))
    dead = dead_points(found)
    assert dead.change
    assert dead.arm_a.fraction * 60 + start == pytest.approx(0, abs=1e-3)
    assert found.possible
    assert np.all(found.travel.shell.phi == 0)
    assert found.transmission.min() < np.radians(0.5)


def test_far_change_point() -> None:
    found = four_bar_travel(parallel_arms(np.radians(100)), np.radians(90), sense=1.0)
    dead = dead_points(found)
    assert dead.change
    assert 100 + dead.arm_b.fraction * 90 == pytest.approx(180, abs=1e-3)


def test_no_flag_where_the_arms_stay_off_the_line() -> None:
    assert not dead_points(four_bar_travel(parallel_arms(np.radians(5)), np.radians(80))).change


def test_nearly_equal_arms_approach_the_parallel_case() -> None:
    exact = four_bar_travel(parallel_arms(np.radians(20)), np.radians(60)).travel.shell
    x, z = ARM * np.cos(np.radians(20)), ARM * np.sin(np.radians(20))
    near = four_bar_travel(FourBar(0, 0, x, z, BASE, 0, BASE + x + 1e-6, z), np.radians(60)).travel.shell
    np.testing.assert_allclose(near.phi, exact.phi, atol=1e-5)
    np.testing.assert_allclose(near.dphi, exact.dphi, atol=1e-5)
    np.testing.assert_allclose(near.ddphi, exact.ddphi, atol=1e-5)
