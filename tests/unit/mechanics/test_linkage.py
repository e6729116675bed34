"""Linkages: refusals, sense, jams, dead points and the hinged shell with a strut.

The strut table is an exact constructed case, computed here from first principles.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.errors import CannotAssemble
from loftwright.mechanics.linkage import (
    FourBar,
    dead_points,
    four_bar_travel,
    hinge_travel,
    opening_of,
    require_possible,
    solve_four_bar,
    transmission_limits,
)


def four_bar(d: float, a: float, b: float, c: float, theta2_deg: float, crossed: bool = False) -> FourBar:
    theta2 = np.radians(theta2_deg)
    _, theta4 = solve_four_bar(d, a, b, c, theta2, crossed)
    return FourBar(
        0, 0, a * np.cos(theta2), a * np.sin(theta2), d, 0, float(d + c * np.cos(theta4)), float(c * np.sin(theta4))
    )


# Hinged shell


def test_front_hinge_turns_clockwise_and_rear_hinge_the_other_way() -> None:
    front = hinge_travel(2.0, 0.05, 0.5, end="front")
    rear = hinge_travel(0.0, 0.05, 0.5, end="rear")
    assert front.shell.phi[-1] == -0.5
    assert rear.shell.phi[-1] == 0.5
    assert front.arms == ()
    for travel, lip in ((front, 0.0), (rear, 2.0)):
        path = travel.shell.point(lip, 0.05)
        assert np.all(path.dz >= 0)
        assert path.z[-1] == pytest.approx(0.05 + 2.0 * np.sin(0.5))
        np.testing.assert_array_equal(opening_of(travel), travel.q)


def test_hinge_draws_lead_and_travel_comes_last() -> None:
    travel = hinge_travel(np.array([[2.0], [2.1], [2.2]]), 0.0, np.array([0.4, 0.5]), end="front", stations=7)
    assert travel.shell.z.shape == (3, 2, 7)
    assert travel.q[0, 1, -1] == 0.5
    np.testing.assert_array_equal(travel.shell.point(2.1, 0.0).x[1], np.full((2, 7), 2.1))


STRUT = [
    # open [deg], strut length [m], arm [m], gravity moment [N m], total strut force [N]
    (0, 0.29155, 0.180074, 353.039, 1960.53),
    (10, 0.33108, 0.266306, 347.676, 1305.55),
    (20, 0.38241, 0.316824, 331.749, 1047.11),
    (30, 0.44019, 0.341819, 305.741, 894.45),
    (40, 0.50075, 0.349878, 270.444, 772.97),
    (50, 0.56166, 0.346500, 226.929, 654.92),
    (60, 0.62123, 0.335003, 176.520, 526.92),
]


def test_strut_on_a_hinged_shell() -> None:
    travel = hinge_travel(0.0, 0.0, np.radians(60), end="rear", stations=7)
    top, mass = travel.shell.point(0.35, 0.0), travel.shell.point(0.90, 0.0)
    rx, rz = top.x - 0.60, top.z + 0.15
    length = np.hypot(rx, rz)
    by_rate = (rx * top.dx + rz * top.dz) / length
    by_cross = np.abs(top.x * -0.15 - top.z * 0.60) / length
    moment = 40 * 9.80665 * mass.dz
    np.testing.assert_allclose(by_rate, by_cross, atol=1e-12)
    for i, (_, strut, arm, gravity, force) in enumerate(STRUT):
        assert length[i] == pytest.approx(strut, abs=5e-6)
        assert by_rate[i] == pytest.approx(arm, abs=1e-6)
        assert moment[i] == pytest.approx(gravity, abs=6e-4)
        assert moment[i] / by_rate[i] == pytest.approx(force, abs=6e-3)


def test_strut_goes_over_centre_where_hinge_top_and_foot_are_in_line() -> None:
    below = np.radians(30)
    travel = hinge_travel(0.0, 0.0, below, end="rear", stations=3001)
    top = travel.shell.point(0.35 * np.cos(below), -0.35 * np.sin(below))
    rate = (top.x - 0.60) * top.dx + (top.z + 0.15) * top.dz
    i = int(np.flatnonzero(rate[:-1] * rate[1:] < 0)[0])
    q = travel.q[i] + (travel.q[i + 1] - travel.q[i]) * rate[i] / (rate[i] - rate[i + 1])
    assert np.degrees(q - below) == pytest.approx(-14.0362, abs=1e-4)
    assert np.hypot(top.x[i] - 0.60, top.z[i] + 0.15) == pytest.approx(0.26847, abs=1e-5)


# Refusals


def test_links_too_short_to_meet_are_refused() -> None:
    with pytest.raises(CannotAssemble, match="further apart than both links are long"):
        solve_four_bar(500, 300, 100, 150, np.radians(120))


def test_link_too_long_to_fold_back_is_refused() -> None:
    with pytest.raises(CannotAssemble, match="too long to fold back"):
        solve_four_bar(0.5, 0.3, 1.5, 0.15, np.radians(20))


def test_crank_that_cannot_reach_its_extreme_is_refused() -> None:
    with pytest.raises(CannotAssemble):
        transmission_limits(0.5, 0.3, 0.3, 0.15)


# Jamming: with d 0.5, a 0.3, b 0.3, c 0.15 the links are stretched at cos(theta2) = (0.09 + 0.25 - 0.2025) / 0.3.
JAM_DEG = float(np.degrees(np.arccos((0.09 + 0.25 - 0.45**2) / 0.3)))


def test_a_jam_is_said_in_one_sentence() -> None:
    found = four_bar_travel(four_bar(0.5, 0.3, 0.3, 0.15, 20), np.radians(60), sense=1.0)
    assert not found.possible
    assert np.degrees(found.jams_at) == pytest.approx(JAM_DEG - 20, abs=1e-9)
    with pytest.raises(CannotAssemble) as caught:
        require_possible(found)
    assert str(caught.value) == (
        "The lifting arms jam after 42.7 of the 60.0 degrees asked for: there arm b and the shell's two pins lie in "
        "one line and reach no further; open less, or change a pin."
    )


def test_an_opening_just_short_of_the_jam_is_possible_and_just_beyond_is_not() -> None:
    bar = four_bar(0.5, 0.3, 0.3, 0.15, 20)
    room = np.radians(JAM_DEG - 20)
    found = four_bar_travel(bar, np.array([room - 1e-6, room + 1e-6]), sense=1.0)
    assert found.possible.tolist() == [True, False]
    assert require_possible(four_bar_travel(bar, room - 1e-6, sense=1.0)).possible


def test_a_jam_between_two_stations_is_seen() -> None:
    reach = 1.3999
    bar = four_bar(1.0, 0.4, 0.5, reach - 0.5, 150)
    ends = four_bar_travel(bar, np.radians(60), stations=2, sense=1.0)
    assert np.sin(ends.transmission).min() > 0.05
    assert not ends.possible
    limit = np.degrees(np.arccos((0.16 + 1.0 - reach**2) / 0.8))
    assert np.degrees(ends.jams_at) == pytest.approx(limit - 150, abs=1e-9)
    assert four_bar_travel(four_bar(1.0, 0.4, 0.5, 0.9001, 150), np.radians(60), stations=2, sense=1.0).possible


def test_draws_that_jam_stay_finite() -> None:
    x = np.linspace(0.2, 1.4, 60)
    found = four_bar_travel(FourBar(0, 0, 0.3, 0.1, 0.5, 0, x, 0.12), np.radians(170))
    assert 0 < found.possible.sum() < 60
    shell = found.travel.shell
    for array in (shell.x, shell.z, shell.phi, shell.dx, shell.dz, shell.dphi, shell.ddx, shell.ddz, shell.ddphi):
        assert array.shape == (60, 121)
        assert np.all(np.isfinite(array))
    assert np.all(np.isfinite(found.jams_at))
    with pytest.raises(CannotAssemble):
        require_possible(found)


@pytest.mark.parametrize(
    ("bar", "name"),
    [
        (FourBar(0, 0, 0, 0, 1, 0, 1, 0.4), "arm a"),
        (FourBar(0, 0, 0.4, 0.1, 1, 0, 0.4, 0.1), "the shell pins"),
        (FourBar(0, 0, 0.4, 0.1, 1, 0, 1, 0), "arm b"),
        (FourBar(0, 0, 0.4, 0.1, 0, 0, 0.6, 0.2), "the van pins"),
    ],
)
def test_two_pins_on_one_spot_are_refused(bar: FourBar, name: str) -> None:
    found = four_bar_travel(bar, 0.5)
    assert np.all(np.isfinite(found.travel.shell.ddphi))
    with pytest.raises(CannotAssemble, match=f"The two ends of {name} lie on one spot"):
        require_possible(found)


def test_a_closed_roof_whose_fold_cannot_be_told_is_refused() -> None:
    found = four_bar_travel(FourBar(0, 0, 0.4, 0.3, 1.0, 0, 0.7, 0.15), 0.3)
    assert found.jams_at == 0
    with pytest.raises(CannotAssemble, match="which way they fold"):
        require_possible(found)


# Which way arm a turns


def test_arms_lying_forward_or_rearward_both_raise_the_shell() -> None:
    rearward = four_bar_travel(FourBar(1.7, -0.05, 1.3, 0.05, 1.9, -0.05, 1.6, 0.06), np.radians(50))
    forward = four_bar_travel(FourBar(-1.7, -0.05, -1.3, 0.05, -1.9, -0.05, -1.6, 0.06), np.radians(50))
    assert rearward.sense == -1
    assert forward.sense == 1
    for found, middle in ((rearward, 1.45), (forward, -1.45)):
        assert found.travel.shell.point(middle, 0.055).dz[0] > 0
        assert np.all(found.travel.q >= 0)


def test_the_point_to_be_raised_settles_the_sense() -> None:
    """With a short shell link the lip at the far end starts the other way from the pins."""
    bar = FourBar(1.7, -0.05, 1.5, 0.02, 2.0, -0.05, 1.9, 0.1)
    lip, front = (four_bar_travel(bar, 0.3, raises=(x, 0.0)) for x in (0.0, 3.0))
    assert lip.sense != front.sense
    assert lip.travel.shell.point(0.0, 0.0).dz[0] > 0
    assert front.travel.shell.point(3.0, 0.0).dz[0] > 0


def test_upright_arm_takes_the_positive_sense() -> None:
    found = four_bar_travel(FourBar(0, 0, 0, 0.4, 1.2, 0, 1.2, 0.4), 0.3)
    assert found.sense == 1


def test_sense_given_for_the_nominal_roof_holds_for_all_draws() -> None:
    x = np.array([-0.01, 0.01])
    bar = FourBar(0, 0, x, 0.4, 1.2, 0, 1.2, 0.4)
    assert set(four_bar_travel(bar, 0.3).sense.tolist()) == {-1.0, 1.0}
    assert four_bar_travel(bar, 0.3, sense=-1.0).sense.tolist() == [-1.0, -1.0]


# Dead points. Arm a and the shell stretch in line where cos(theta2) = ((a + b)2 + d2 - c2) / (2 (a + b) d).


def test_arm_a_in_line_with_the_shell_is_found() -> None:
    d, a, b, c = 1.0, 0.4, 1.2, 0.8
    toggle = np.degrees(np.arccos(((a + b) ** 2 + d**2 - c**2) / (2 * (a + b) * d)))
    found = four_bar_travel(four_bar(d, a, b, c, 40), np.radians(25), sense=-1.0)
    dead = dead_points(found)
    assert dead.arm_a.found
    assert 40 - 25 * dead.arm_a.fraction == pytest.approx(toggle, abs=1e-3)
    assert not dead.arm_b.found
    assert dead.arm_b.fraction == 1
    assert not dead.change


def test_no_dead_point_is_reported_short_of_it() -> None:
    dead = dead_points(four_bar_travel(four_bar(1.0, 0.4, 1.2, 0.8, 40), np.radians(15), sense=-1.0))
    assert not dead.arm_a.found
    assert not dead.arm_b.found


def test_a_jam_is_a_dead_point_at_its_place() -> None:
    dead = dead_points(four_bar_travel(four_bar(0.5, 0.3, 0.3, 0.15, 20), np.radians(60), sense=1.0))
    assert dead.arm_b.found
    assert dead.arm_b.fraction == pytest.approx((JAM_DEG - 20) / 60, abs=1e-9)


def test_dead_points_of_draws_are_each_their_own() -> None:
    starts = [30.0, 40.0, 50.0]
    bars = [four_bar(1.0, 0.4, 1.2, 0.8, s) for s in starts]
    fields = [np.array([getattr(bar, name) for bar in bars]) for name in FourBar.__slots__]
    dead = dead_points(four_bar_travel(FourBar(*fields), np.radians(20), sense=-1.0))
    toggle = np.degrees(np.arccos((1.6**2 + 1.0 - 0.64) / 3.2))
    assert dead.arm_a.found.tolist() == [True, True, False]
    assert 30 - 20 * dead.arm_a.fraction[0] == pytest.approx(toggle, abs=1e-3)
    assert 40 - 20 * dead.arm_a.fraction[1] == pytest.approx(toggle, abs=1e-3)


def test_arm_angles_are_measured_from_level() -> None:
    found = four_bar_travel(FourBar(0, 0, 0.3, 0.3, 1.2, 0, 1.5, 0.3), np.radians(20))
    arm_a, arm_b = found.arm_angles()
    assert np.degrees(arm_a[0]) == pytest.approx(45)
    assert np.degrees(arm_a[-1]) == pytest.approx(65)
    np.testing.assert_allclose(arm_a, arm_b)


def test_bodies_are_found_by_name() -> None:
    travel = four_bar_travel(FourBar(0, 0, 0.3, 0.1, 1.2, 0, 1.4, 0.15), 0.4).travel
    assert travel.body("arm b") is travel.arms[1]
    assert np.all(travel.body("van").phi == 0)
