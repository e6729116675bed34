"""What a roof does when let go: cases with time and speed in closed form.

Numbers: computed here from first principles (constant acceleration, a spring's half swing, energy).
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from loftwright.core.motion import Travel
from loftwright.mechanics.balance import Drive
from loftwright.mechanics.four_bar import FourBar, four_bar_travel
from loftwright.mechanics.hinge import hinge_travel
from loftwright.mechanics.masses import Body, body
from loftwright.mechanics.release import behaviour, effective_inertia, fall, fastest_arrival, rise

ZERO = np.zeros(())


def lid(stations: int = 121, opens: float = 0.5) -> Travel:
    return hinge_travel(0.0, 0.0, opens, end="rear", stations=stations)


def driven(travel: Travel, rising: object, friction: float = 0.0) -> Drive:
    """Return a balance whose generalised force, friction apart, is `rising` [N m/rad] over the travel."""
    force = np.broadcast_to(np.asarray(rising, dtype=float), travel.fraction.shape)
    none = np.zeros_like(force)
    return Drive(force, (), (), none, none, np.full_like(force, friction), np.ones_like(force))


BEAM = Body(*(np.asarray(v) for v in (30.0, 1.0, 0.0, 6.0)))
"""About the hinge: 6 + 30 x 1 = 36 kg m2."""


def test_inertia_about_a_hinge_and_on_parallel_arms() -> None:
    assert effective_inertia(BEAM, lid()) == pytest.approx(np.full(121, 36.0))
    arms = four_bar_travel(FourBar(0.0, 0.0, 0.4, 0.0, -0.3, -0.6, 0.1, -0.6), 0.5, stations=5, sense=1.0)
    # Not turning: mass times the arm's length squared, whatever the inertia.
    assert effective_inertia(BEAM, arms.travel) == pytest.approx(np.full(5, 30 * 0.4**2))


def test_a_steady_push_makes_a_steady_acceleration() -> None:
    # 18 N m on 36 kg m2: 0.5 rad/s2 over 0.5 rad.
    travel = lid()
    found = rise(driven(travel, 18.0), BEAM, travel, travel.shell.point(2.0, 0.0))
    assert found.moves
    assert found.time == pytest.approx(math.sqrt(2 * 0.5 / 0.5), rel=2e-6)
    assert found.speed == pytest.approx(2 * math.sqrt(2 * 0.5 * 0.5), rel=1e-12)
    assert found.reached == 1.0


def test_falling_is_rising_upside_down() -> None:
    travel = lid()
    tip = travel.shell.point(2.0, 0.0)
    up, down = rise(driven(travel, 18.0), BEAM, travel, tip), fall(driven(travel, -18.0), BEAM, travel, tip)
    assert (down.time, down.speed) == (pytest.approx(float(up.time)), pytest.approx(float(up.speed)))
    assert down.reached == 0.0


@pytest.mark.parametrize("friction", [6.0, 17.9])
def test_friction_slows_and_a_little_more_holds(friction: float) -> None:
    travel = lid()
    tip = travel.shell.point(2.0, 0.0)
    slowed = rise(driven(travel, 18.0, friction), BEAM, travel, tip)
    assert slowed.speed == pytest.approx(2 * math.sqrt(2 * 0.5 * (18.0 - friction) / 36.0))
    held = rise(driven(travel, 18.0, 18.1), BEAM, travel, tip)
    assert (bool(held.moves), float(held.speed), float(held.time), float(held.reached)) == (False, 0.0, 0.0, 0.0)


def test_a_quarter_swing_takes_a_quarter_of_the_period() -> None:
    # Drive falling straight to nothing at the stop: k = 40 N m/rad, M = 36 kg m2.
    travel = lid()
    found = rise(driven(travel, 40.0 * (0.5 - travel.q)), BEAM, travel, travel.shell.point(2.0, 0.0))
    rate = math.sqrt(40.0 / 36.0)
    assert found.time == pytest.approx(math.pi / 2 / rate, rel=1e-4)
    assert found.speed == pytest.approx(2 * 0.5 * rate, rel=1e-9)


@pytest.mark.parametrize("start", [1e-2, 1e-4])
def test_a_start_close_to_balance_takes_its_time(start: float) -> None:
    # q'' = k/M (q + e): from rest at q = 0, q = e (cosh(w t) - 1).
    travel = lid()
    found = rise(driven(travel, 40.0 * (travel.q + start)), BEAM, travel, travel.shell.point(2.0, 0.0))
    rate = math.sqrt(40.0 / 36.0)
    assert found.time == pytest.approx(math.acosh(0.5 / start + 1) / rate, rel=5e-3)


def test_it_comes_to_rest_where_its_energy_is_used_up() -> None:
    # Drive 20 (0.2 - q) N m: up to 0.2 rad it gains what it has lost again at 0.4.
    travel = lid(501)
    found = rise(driven(travel, 20.0 * (0.2 - travel.q)), BEAM, travel, travel.shell.point(2.0, 0.0))
    assert found.moves
    assert found.speed == 0.0
    assert found.reached == pytest.approx(0.4 / 0.5, abs=2 / 500)
    assert found.time == pytest.approx(math.pi / math.sqrt(20.0 / 36.0), rel=0.05)


def test_let_go_on_the_way() -> None:
    travel = lid()
    found = rise(driven(travel, 18.0), BEAM, travel, travel.shell.point(2.0, 0.0), start=60)
    assert found.speed == pytest.approx(2 * math.sqrt(2 * 0.25 * 0.5))
    assert found.time == pytest.approx(math.sqrt(2 * 0.25 / 0.5), rel=2e-6)


def test_the_worst_place_to_let_go() -> None:
    # Held back up to 0.2 rad and driven from there on: the worst start is 0.2 rad.
    travel = lid(501)
    drive = driven(travel, 40.0 * (travel.q - 0.2))
    tip = travel.shell.point(2.0, 0.0)
    worst = fastest_arrival(drive, BEAM, travel, tip)
    assert worst == pytest.approx(2 * math.sqrt(40.0 * 0.3**2 / 36.0), rel=1e-4)
    assert rise(drive, BEAM, travel, tip).speed == 0.0
    assert fastest_arrival(driven(travel, -5.0), BEAM, travel, tip) == 0.0


def test_which_way_it_goes() -> None:
    travel = lid(5)
    assert behaviour(driven(travel, [9.0, 6.1, 5.9, -5.9, -6.1], 6.0)).tolist() == [1, 1, 0, 0, -1]


def test_draws_run_side_by_side() -> None:
    travel = hinge_travel(np.zeros(3), np.zeros(3), np.full(3, 0.5), end="rear", stations=61)
    force = np.array([18.0, -18.0, 9.0])[:, None] * np.ones(61)
    none = np.zeros((3, 61))
    drive = Drive(force, (), (), none, none, none, np.ones((3, 61)))
    bodies = body(np.full(3, 30.0), np.full(3, 1.0), np.zeros(3), np.full(3, 6.0))
    found = rise(drive, bodies, travel, travel.shell.point(np.full(3, 2.0), np.zeros(3)))
    assert found.moves.tolist() == [True, False, True]
    np.testing.assert_allclose(found.speed, [2 * math.sqrt(0.5), 0.0, 1.0])
    np.testing.assert_allclose(found.time, [math.sqrt(2), 0.0, 2.0], rtol=5e-6)
