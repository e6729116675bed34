"""Coil springs, torsion springs and cords: exact constructed cases from first principles.

The lid is that of a hinged shell in `LID`: 40 kg with its centre 0.9 m from the hinge. Gravity moments of that lid and
crank torques of the parallelogram are derived (m g r cos of the opening), standard gravity.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from loftwright.core.motion import Travel
from loftwright.mechanics.balance import Drive, balance
from loftwright.mechanics.four_bar import FourBar, four_bar_travel
from loftwright.mechanics.hinge import hinge_travel
from loftwright.mechanics.lifters import Between, Coil, Cord, Torsion, coil_push, cord_pull, lifters, torsion_moment
from loftwright.mechanics.masses import Body
from loftwright.mechanics.reactions import Pins, reactions

G = 9.80665
ONE, NONE = np.ones(1), np.zeros(1)
LID = Body(40.0 * ONE, 0.9 * ONE, NONE, ONE)


def lid(opens: float = 60.0, stations: int = 241) -> Travel:
    """Return a lid on a hinge at the origin, its shell along x."""
    return hinge_travel(0.0 * ONE, 0.0 * ONE, np.radians(opens) * ONE, end="rear", stations=stations)


def between(foot: tuple[float, float], head: tuple[float, float], head_on: str = "shell") -> Between:
    return Between("van", head_on, *(np.array([v]) for v in (*foot, *head, 0.0)))


def coil(ends: Between, rate: float, free: float, initial: float = 0.0, *, pulls: bool = True, count: int = 2) -> Coil:
    return Coil("coil", count, ends, pulls, rate * ONE, free * ONE, initial * ONE, None)


def drive(travel: Travel, gear: Any, body: Body = LID, handle: tuple[float, float] = (1.8, 0.0)) -> Drive:
    return balance(travel, body, [], [], NONE, (handle[0] * ONE, handle[1] * ONE), lifters([gear], travel))


def work(values: np.ndarray, travel: Travel) -> float:
    """Return the integral of a generalised force over the travel [J]."""
    return float((0.5 * (values[..., 1:] + values[..., :-1]) * np.diff(travel.q)).sum())


@pytest.mark.parametrize(("pulls", "free"), [(True, 0.30), (False, 1.2)])
def test_a_coil_spring_gives_half_k_x_squared(pulls: bool, free: float) -> None:
    # Head 0.5 m along the lid, foot 0.4 m along and 0.5 m above or below the hinge.
    travel = lid(stations=2001)
    ends = between((0.4, 0.5 if pulls else -0.5), (0.5, 0.0))
    found = drive(travel, coil(ends, 800.0, free, pulls=pulls))
    length = lifters([coil(ends, 800.0, free, pulls=pulls)], travel)[0].length
    assert length is not None
    x = np.maximum(length - free if pulls else free - length, 0.0)[0]
    stored = 2 * 0.5 * 800.0 * x**2
    assert work(found.lifters_raising[0], travel) == pytest.approx(stored[0] - stored[-1], rel=1e-5)
    assert np.array_equal(found.lifters_raising[0], found.lifters_lowering[0])


def test_a_spring_of_no_free_length_balances_a_lid_everywhere() -> None:
    """Foot straight above the hinge by a, head b along the lid: k a b = m g r holds it at every angle.

    Moment of the spring about the hinge: k L times its lever a b cos(t) / L = k a b cos(t). First principles.
    """
    a, b = 0.6, 0.5
    rate = 40.0 * G * 0.9 / (a * b) / 2
    free = 0.08
    # Wound with k times its free length it behaves as if it had none.
    zero = coil(between((0.0, a), (b, 0.0)), rate, free, rate * free)
    found = drive(lid(80.0), zero)
    assert np.abs(found.push_up).max() < 1e-9
    assert np.abs(found.pull_down).max() < 1e-9
    assert np.abs(drive(lid(80.0), coil(between((0.0, a), (b, 0.0)), rate, free, 0.9 * rate * free)).push_up).max() > 1


@pytest.mark.parametrize(
    ("degrees", "gravity"), [(0, 353.039), (10, 347.676), (20, 331.749), (30, 305.741), (60, 176.520)]
)
def test_a_torsion_spring_takes_its_moment_off_the_lid(degrees: int, gravity: float) -> None:
    """Two springs of 150 N m, 2 N m less for each degree, on the lid whose gravity moment is tabled."""
    bar = Torsion("bar", 2, "shell", 150.0 * ONE, 2.0 / np.radians(1.0) * ONE)
    travel = lid(float(degrees) if degrees else 1e-9)
    found = drive(travel, bar)
    lifted = 2 * max(150.0 - 2.0 * degrees, 0.0)
    assert -float(found.rising[0, -1]) == pytest.approx(gravity - lifted, abs=1e-3)
    # Straight up at the lip 1.8 m out, closed.
    assert float(found.push_up[0, 0]) * 1.8 == pytest.approx(353.039 - 300.0, abs=1e-3)


def test_a_torsion_spring_ends_at_nought() -> None:
    bar = Torsion("bar", 1, "shell", 10.0 * ONE, 20.0 * ONE)
    assert torsion_moment(bar, np.array([0.0, 0.25, 0.5, 2.0])).tolist() == [[10.0, 5.0, 0.0, 0.0]]


@pytest.mark.parametrize(("degrees", "torque"), [(10.0, 193.153), (45.0, 138.687), (80.0, 34.058)])
def test_a_torsion_spring_on_an_arm_carries_a_parallelogram(degrees: float, torque: float) -> None:
    """Arms of 0.5 m, 40 kg anywhere on the shell: m g a cos(theta) on the arms, derived, wherever the centre is."""
    theta = np.radians(degrees)
    tip = 0.5 * np.cos(theta), 0.5 * np.sin(theta)
    bar = FourBar(*(np.array([v]) for v in (0.0, 0.0, *tip, 1.2, 0.0, 1.2 + tip[0], tip[1])))
    travel = four_bar_travel(bar, np.radians([5.0]), stations=21).travel
    for at in (0.3, 1.1):
        body = Body(40.0 * ONE, at * ONE, 0.4 * ONE, ONE)
        for arm in ("arm a", "arm b"):
            spring = Torsion("spring", 2, arm, torque / 2 * ONE, NONE)
            found = balance(travel, body, [], [], NONE, (0.5 * ONE, 0.3 * ONE), lifters([spring], travel))
            assert abs(float(found.rising[0, 0])) < 2e-3


def test_slack_and_solid_springs_push_nothing() -> None:
    ends = between((0.0, 0.5), (0.5, 0.0))
    lengths = np.array([[0.1, 0.3, 0.5]])
    assert coil_push(coil(ends, 100.0, 0.3, 7.0), lengths).round(9).tolist() == [[0.0, 0.0, -27.0]]
    assert coil_push(coil(ends, 100.0, 0.3, pulls=False), lengths).round(9).tolist() == [[20.0, 0.0, 0.0]]


def cord(lost: float = 0.2, ends: Between | None = None) -> Cord:
    where = between((0.4, 0.6), (0.5, 0.0)) if ends is None else ends
    return Cord("cord", 2, where, np.array([[0.3, 0.5, 0.8]]), np.array([[0.0, 40.0, 70.0]]), lost * ONE)


def test_a_cord_follows_its_points_and_goes_on() -> None:
    lengths = np.array([[0.2, 0.3, 0.4, 0.5, 0.65, 0.8, 0.9]])
    # 200 N/m up to half a metre, 100 N/m from there on, beyond the last point too.
    assert cord_pull(cord(), lengths).round(9).tolist() == [[0.0, 0.0, 20.0, 40.0, 55.0, 70.0, 80.0]]


def test_a_cycle_loses_the_share_of_what_the_cord_took() -> None:
    travel = lid(40.0, 4001)
    found = drive(travel, cord(0.25))
    length = lifters([cord()], travel)[0].length
    assert length is not None
    # The lid opens under a foot above it: the cord shortens all the way.
    assert (np.diff(length[0]) < 0).all()
    taken = 2 * np.trapezoid(cord_pull(cord(), length)[0][::-1], length[0][::-1])
    given = work(found.lifters_raising[0], travel)
    held = work(found.lifters_lowering[0], travel)
    assert held == pytest.approx(taken, rel=1e-6)
    assert held - given == pytest.approx(0.25 * taken, rel=1e-6)
    # At rest, friction shaken off, it pulls with the middle of the two.
    middle = found.weight + (found.lifters_raising[0] + found.lifters_lowering[0]) / 2
    assert np.allclose(found.at_rest, middle, atol=1e-12)


@pytest.mark.parametrize("going", ["up", "down"])
def test_equilibrium_gives_the_same_hand_force_on_arms(going: str) -> None:
    bar = FourBar(*(np.array([v]) for v in (0.0, 0.0, 0.38, 0.06, 0.12, -0.09, 0.5, -0.12)))
    found = four_bar_travel(bar, np.radians([40.0]), stations=41)
    travel = found.travel
    pins = Pins(((NONE, NONE), (0.12 * ONE, -0.09 * ONE)), ((0.38 * ONE, 0.06 * ONE), (0.5 * ONE, -0.12 * ONE)))
    gear = [
        coil(Between("arm a", "arm b", *(np.array([v]) for v in (0.2, 0.1, 0.3, -0.1, 0.03))), 900.0, 0.1, 5.0),
        cord(0.3, Between("arm b", "shell", *(np.array([v]) for v in (0.3, -0.2, 0.9, 0.2, 0.0)))),
        Torsion("spring", 2, "arm b", 30.0 * ONE, 10.0 * ONE),
    ]
    lifted = lifters(gear, travel)
    handle = (1.6 * ONE, 0.05 * ONE)
    by_work = balance(travel, LID, [], [], 3.0 * ONE, handle, lifted)
    by_forces = reactions(travel, LID, [], [], 3.0 * ONE, handle, pins, going=going, lifters=lifted)  # type: ignore[arg-type]
    wanted = by_work.push_up if going == "up" else -by_work.pull_down
    assert by_forces.bounded.all()
    assert np.allclose(by_forces.hand, wanted, rtol=1e-9, atol=1e-9)


def test_one_of_a_lifter_gone() -> None:
    travel = lid()
    found = drive(travel, Torsion("bar", 2, "shell", 150.0 * ONE, NONE))
    left = found.without_one_lifter(2, 0)
    assert np.allclose(left.lifters_raising[0], found.lifters_raising[0] / 2)
    assert np.allclose(found.rising - left.rising, 150.0)


def test_room_left_to_the_longest_and_the_shortest() -> None:
    travel = lid(60.0)
    ends = between((0.4, 0.6), (0.5, 0.0))
    length = lifters([coil(ends, 1.0, 0.1)], travel)[0].length
    assert length is not None
    limits = {True: 0.7, False: 0.2}
    for pulls, limit in limits.items():
        one = Coil("c", 2, ends, pulls, ONE, 0.3 * ONE, NONE, limit * ONE)
        room = lifters([one], travel)[0].room
        assert room is not None
        assert float(room[0]) == pytest.approx(limit - length.max() if pulls else length.min() - limit)
    drawn = lifters([cord()], travel)[0].room
    assert drawn is not None
    assert float(drawn[0]) == pytest.approx(0.8 - length.max())
