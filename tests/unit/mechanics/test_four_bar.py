"""Lifting arms: refusals, sense, jams and dead points."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.errors import CannotAssemble
from loftwright.mechanics.four_bar import (
    FourBar,
    dead_points,
    four_bar_travel,
    require_possible,
)


def four_bar(d: float, a: float, b: float, c: float, theta2_deg: float) -> FourBar:
    """Return the open circuit with ground d along x and crank a at theta2: two circles meet."""
    crank = a * np.exp(1j * np.radians(theta2_deg))
    span = abs(d - crank)
    corner = np.arccos((span**2 + b**2 - c**2) / (2 * span * b))
    joint = crank + b * np.exp(1j * (np.angle(d - crank) + corner))
    return FourBar(0, 0, crank.real, crank.imag, d, 0, joint.real, joint.imag)


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


def test_bodies_are_found_by_name() -> None:
    travel = four_bar_travel(FourBar(0, 0, 0.3, 0.1, 1.2, 0, 1.4, 0.15), 0.4).travel
    assert travel.body("arm b") is travel.arms[1]
    assert np.all(travel.body("van").phi == 0)
