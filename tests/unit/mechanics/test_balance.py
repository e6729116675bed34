"""Virtual work on single cases: leverage, both directions of friction, arms' pins, springs taken away.

Numbers: computed here from first principles.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from loftwright.core.motion import PointPath, Travel, Wrench, still
from loftwright.mechanics.balance import (
    G0,
    Drive,
    Load,
    Mount,
    balance,
    hand_direction,
    lever,
    pin_friction,
    push_of,
    weight_share,
)
from loftwright.mechanics.four_bar import FourBar, four_bar_travel, require_possible
from loftwright.mechanics.gas_spring import GasSpring
from loftwright.mechanics.hinge import hinge_travel
from loftwright.mechanics.masses import body

OPEN = math.radians(60)
ZERO = np.zeros(())


def spring(first: float = 400.0, loop: float = 0.0) -> GasSpring:
    return GasSpring(*(np.asarray(v) for v in (first, 1.25, loop, 0.4, 1.0, 0.010)))


def mount(
    foot: tuple[float, float],
    head: tuple[float, float],
    *,
    on: tuple[str, str] = ("van", "shell"),
    count: int = 2,
    sideways: float = 0.0,
    **gas: float,
) -> Mount:
    return Mount(spring(**gas), count, *on, *(np.asarray(v) for v in (*foot, *head, sideways)))


def rear_hinge(stations: int = 13) -> Travel:
    return hinge_travel(0.0, 0.0, OPEN, end="rear", stations=stations)


def parallel_arms(stations: int = 13) -> Travel:
    """Return two arms of 0.5 m, level when closed, pointing to the front."""
    bar = FourBar(0.0, 0.0, 0.5, 0.0, -0.2, -0.6, 0.3, -0.6)
    return four_bar_travel(bar, OPEN, stations=stations, sense=1.0).travel


def test_leverage_of_an_upright_spring_is_its_distance_from_the_hinge() -> None:
    line = lever(mount((0.5, -0.6), (0.5, 0.0)), rear_hinge())
    assert float(line.length[0]) == pytest.approx(0.6)
    assert float(line.rate[0]) == pytest.approx(0.5)
    assert (float(line.along_x[0]), float(line.along_z[0]), float(line.along_y[0])) == pytest.approx((0, 1, 0))


def test_a_sideways_offset_lengthens_the_spring_and_lessens_its_leverage() -> None:
    line = lever(mount((0.5, -0.6), (0.5, 0.0), sideways=0.8), rear_hinge())
    # 3-4-5: 0.6 up and 0.8 aside make 1.0.
    assert float(line.length[0]) == pytest.approx(1.0)
    assert float(line.rate[0]) == pytest.approx(0.5 * 0.6)
    assert float(line.along_y[0]) == pytest.approx(0.8)


def test_rate_is_the_slope_of_the_length() -> None:
    travel = rear_hinge(2001)
    line = lever(mount((0.3, -0.4), (0.7, 0.1), sideways=0.05), travel)
    slope = np.gradient(line.length, travel.q)
    np.testing.assert_allclose(line.rate[1:-1], slope[1:-1], atol=1e-6)


def test_the_push_follows_the_way_the_spring_goes() -> None:
    # Past the straight line foot, hinge, head a spring shortens as the roof opens.
    travel = rear_hinge(121)
    one = mount((-0.5, -0.1), (0.4, 0.05), loop=50.0)
    line = lever(one, travel)
    got = push_of(one, line)
    growing = np.diff(line.length) > 0
    assert growing.any()
    assert (~growing).any()
    squeezed = 1.0 - line.length
    gas = 400.0 / (1 - 0.2 * squeezed / 0.4)
    np.testing.assert_allclose(got.raising, np.where(line.rate > 0, gas, gas + 50.0))
    np.testing.assert_allclose(got.lowering, np.where(line.rate > 0, gas + 50.0, gas))


def test_factor_scales_the_gas_and_not_the_friction() -> None:
    one = mount((0.5, -0.6), (0.5, 0.0), loop=50.0)
    line = lever(one, rear_hinge())
    whole, less = push_of(one, line), push_of(one, line, factor=0.9)
    np.testing.assert_allclose(less.raising, 0.9 * whole.raising)
    np.testing.assert_allclose(less.lowering - 50.0, 0.9 * (whole.lowering - 50.0))


def test_weight_of_a_lid_and_of_a_shell_on_arms() -> None:
    lid = rear_hinge()
    np.testing.assert_allclose(weight_share(body(30, 0.8, 0.0), lid), -30 * G0 * 0.8 * np.cos(lid.q))
    # On parallel arms only the mass counts, wherever its centre is.
    arms = parallel_arms()
    for centre in ((0.2, 0.3), (1.4, -0.1)):
        np.testing.assert_allclose(weight_share(body(30, *centre), arms), -30 * G0 * 0.5 * np.cos(arms.q), atol=1e-9)


def test_friction_of_pins() -> None:
    assert pin_friction(np.asarray(6.0), rear_hinge()) == pytest.approx(np.full(13, 6.0))
    # Parallel arms: each of four pins turns as far as the arm, a quarter of the moment each.
    assert pin_friction(np.asarray(6.0), parallel_arms()) == pytest.approx(np.full(13, 6.0))


def test_friction_of_pins_that_turn_by_the_difference_of_two_links() -> None:
    bar = FourBar(0.0, 0.0, 0.5, 0.0, -0.2, -0.6, 0.35, -0.5)
    travel = require_possible(four_bar_travel(bar, math.radians(30), stations=2001, sense=1.0)).travel
    turned = [
        np.gradient(v, travel.q)
        for v in (
            travel.arms[0].phi,
            travel.arms[0].phi - travel.shell.phi,
            travel.arms[1].phi,
            travel.arms[1].phi - travel.shell.phi,
        )
    ]
    expected = 6.0 / 4 * sum(np.abs(v) for v in turned)
    np.testing.assert_allclose(pin_friction(np.asarray(6.0), travel)[1:-1], expected[1:-1], atol=1e-5)


def heading(degrees: np.ndarray, rate: float = 1.7) -> PointPath:
    """Return a point that moves at these angles from level, x towards z."""
    angle = np.radians(degrees)
    return PointPath(0 * angle, 0 * angle, rate * np.cos(angle), rate * np.sin(angle), still(angle.size))


def test_a_hand_pushes_straight_up_while_the_path_leans_little() -> None:
    for way, up in ((90.0, 1.0), (-90.0, -1.0)):
        ux, uz = hand_direction(heading(way + np.linspace(-44.9, 44.9, 41)))
        np.testing.assert_allclose(ux, 0.0, atol=1e-15)
        np.testing.assert_allclose(uz, up)


@pytest.mark.parametrize("lean", [46.0, 60.0, 89.0])
@pytest.mark.parametrize("side", [1, -1])
@pytest.mark.parametrize("up", [1, -1])
def test_beyond_that_it_follows_the_path_by_half_a_right_angle(lean: float, side: int, up: int) -> None:
    # A path that leans 60 degrees from the upright to the front is pushed at 15 degrees from the upright, to the front.
    path = np.array([90.0 * up - side * up * lean])
    ux, uz = hand_direction(heading(path))
    assert float(uz[0]) == pytest.approx(up * math.cos(math.radians(lean - 45)))
    assert float(ux[0]) == pytest.approx(side * math.sin(math.radians(lean - 45)))


def test_the_hand_s_direction_is_one_long_and_never_square_to_the_path() -> None:
    degrees = np.linspace(-180.0, 180.0, 3601)
    for rate in (1e-3, 1.0, 50.0):
        path = heading(degrees, rate)
        ux, uz = hand_direction(path)
        np.testing.assert_allclose(np.hypot(ux, uz), 1.0, rtol=1e-9)
        along = (ux * path.dx + uz * path.dz) / rate
        assert along.min() >= math.sqrt(0.5) - 1e-9


def test_the_hand_s_direction_does_not_jump_where_it_begins_to_lean() -> None:
    for corner in (45.0, 135.0, -45.0, -135.0):
        ux, uz = hand_direction(heading(np.array([corner - 1e-6, corner + 1e-6])))
        assert abs(float(ux[1] - ux[0])) < 1e-7
        assert abs(float(uz[1] - uz[0])) < 1e-7
    # What it moves on does not jump where a level path turns from rising to falling either.
    path = heading(np.array([-1e-6, 1e-6]))
    ux, uz = hand_direction(path)
    along = ux * path.dx + uz * path.dz
    assert along[0] == pytest.approx(along[1])


def test_a_hand_that_stands_still_has_a_direction() -> None:
    ux, uz = hand_direction(heading(np.array([30.0]), 0.0))
    assert np.isfinite([ux, uz]).all()


def reach(travel: Travel, from_hinge: float) -> np.ndarray:
    """Return what a point of a lid moves on along a hand's push [m/rad]: upright up to 45 degrees, then no less."""
    return from_hinge * np.maximum(np.cos(travel.q), math.sqrt(0.5))


def one_lid(friction: float = 0.0, loop: float = 0.0) -> tuple[Travel, Drive]:
    travel = rear_hinge()
    one = mount((0.5, -0.6), (0.5, 0.0), loop=loop)
    drive = balance(
        travel,
        body(30, 0.8, 0.0),
        [push_of(one, lever(one, travel))],
        (),
        np.asarray(friction),
        (np.asarray(1.6), ZERO),
    )
    return travel, drive


def test_hand_forces_of_a_lid() -> None:
    # Closed: two springs, all the way in, on 0.5 m; weight of 30 kg on 0.8 m; hand on 1.6 m.
    _, drive = one_lid(friction=8.0, loop=40.0)
    out = 400.0 / (1 - 0.2 * 0.4 / 0.4)
    weight = 30 * 9.80665 * 0.8
    assert drive.push_up[0] == pytest.approx((weight + 8.0 - 2 * out * 0.5) / 1.6)
    assert drive.pull_down[0] == pytest.approx((2 * (out + 40.0) * 0.5 + 8.0 - weight) / 1.6)


def test_hand_forces_of_an_open_lid() -> None:
    # Open by 60 degrees: weight 0.4 m beside the hinge; the hand 45 degrees off its path, on 1.6 m cos 45.
    travel, drive = one_lid(friction=8.0, loop=40.0)
    line = lever(mount((0.5, -0.6), (0.5, 0.0)), travel)
    length, arm = float(line.length[-1]), float(line.rate[-1])
    out = 400.0 / (1 - 0.2 * (1.0 - length) / 0.4)
    weight = 30 * 9.80665 * 0.4
    hand = 1.6 * math.sqrt(0.5)
    assert drive.push_up[-1] == pytest.approx((weight + 8.0 - 2 * out * arm) / hand)
    assert drive.pull_down[-1] == pytest.approx((2 * (out + 40.0) * arm + 8.0 - weight) / hand)


def test_at_rest_with_its_friction_shaken_off() -> None:
    # Half the loop of each spring, nothing of the hinge's 8 N m, and no load that acts on the way down only.
    travel = rear_hinge()
    one = mount((0.5, -0.6), (0.5, 0.0), loop=40.0)
    none, air, snow = (Wrench(np.zeros(13), np.zeros(13), np.full(13, m)) for m in (0.0, 30.0, -25.0))
    loads = (Load("air", none, air), Load("snow", snow, snow))
    pushes = [push_of(one, lever(one, travel))]
    drive = balance(travel, body(30, 0.8, 0.0), pushes, loads, np.asarray(8.0), (np.asarray(1.6), ZERO))
    out = 400.0 / (1 - 0.2 * 0.4 / 0.4)
    assert drive.at_rest[0] == pytest.approx(2 * (out + 20.0) * 0.5 - 30 * 9.80665 * 0.8 - 25.0)
    # It lies between what drives it up and what holds it from below, less the air's share.
    assert (drive.rising < drive.at_rest).all()
    assert (drive.at_rest < drive.falling - 30.0).all()


def test_loads_that_act_one_way_only() -> None:
    travel = rear_hinge()
    up = Wrench(np.zeros(13), np.full(13, 100.0), np.full(13, 0.0))
    moment = Wrench(np.zeros(13), np.zeros(13), np.full(13, 32.0))
    none = Wrench(np.zeros(13), np.zeros(13), np.zeros(13))
    hand = (np.asarray(1.6), ZERO)
    bare, one_way, both = (
        balance(travel, body(30, 0.8, 0.0), (), loads, ZERO, hand)
        for loads in ((), (Load("air", none, moment),), (Load("air", none, moment), Load("up", up, up)))
    )
    np.testing.assert_allclose(one_way.push_up, bare.push_up)
    np.testing.assert_allclose(one_way.pull_down - bare.pull_down, 32.0 / reach(travel, 1.6))
    # A force through the hinge does no work.
    np.testing.assert_allclose(both.pull_down, one_way.pull_down)


@pytest.mark.parametrize(("count", "left"), [(2, 0.5), (4, 0.75), (6, 5 / 6)])
def test_one_spring_gone(count: int, left: float) -> None:
    _, drive = one_lid()
    fewer = drive.without_one_spring(count, 0)
    np.testing.assert_allclose(fewer.springs_raising[0], left * drive.springs_raising[0])
    np.testing.assert_allclose(fewer.springs_lowering[0], left * drive.springs_lowering[0])
    assert fewer.weight is drive.weight


def test_springs_on_an_arm_work_by_the_arm_s_turn() -> None:
    # Head 0.3 m out on arm a, foot straight below it when closed: leverage 0.3 m at the start, as on a lid.
    travel = parallel_arms()
    line = lever(mount((0.3, -0.6), (0.3, 0.0), on=("van", "arm a")), travel)
    assert float(line.rate[0]) == pytest.approx(0.3)
    # Between the two arms that turn alike nothing is pushed apart, but the distance changes with their swing.
    between = lever(mount((0.25, 0.0), (0.05, -0.6), on=("arm a", "arm b")), travel)
    np.testing.assert_allclose(np.gradient(between.length, travel.q), between.rate, atol=1e-2)


def test_draws_and_states_broadcast() -> None:
    travel = hinge_travel(np.zeros(5), np.zeros(5), np.full(5, OPEN), end="rear", stations=7)
    gas = GasSpring(*(np.full(5, v) for v in (400.0, 1.25, 0.0, 0.4, 1.0, 0.010)))
    one = Mount(gas, 2, "van", "shell", *(np.full(5, v) for v in (0.5, -0.6, 0.5, 0.0, 0.0)))
    push = push_of(one, lever(one, travel), kelvin=np.full((3, 5), 293.15), factor=np.array([[1.0], [0.9], [0.8]]))
    assert push.raising.shape == (3, 5, 7)
    np.testing.assert_allclose(push.at(1).raising, 0.9 * push.at(0).raising)
    drive = balance(travel, body(30, 0.8, 0.0), [push], (), np.zeros(5), (np.full(5, 1.6), np.zeros(5)))
    assert drive.push_up.shape == (3, 5, 7)
    assert drive.at(2).push_up.shape == (5, 7)
