"""Hinge, pin and hand forces by equilibrium on cases that balance on paper.

Numbers: computed here from first principles.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from loftwright.core.motion import Travel, Wrench
from loftwright.mechanics.balance import Load, Mount, lever, push_of
from loftwright.mechanics.four_bar import FourBar, four_bar_travel
from loftwright.mechanics.gas_spring import GasSpring
from loftwright.mechanics.hinge import hinge_travel
from loftwright.mechanics.masses import body
from loftwright.mechanics.reactions import Pins, Reactions, reactions

G = 9.80665
ZERO = np.zeros(())
HAND = (np.asarray(2.0), ZERO)
HINGE = Pins(((ZERO, ZERO),), ((ZERO, ZERO),))


def lid(stations: int = 7) -> Travel:
    return hinge_travel(0.0, 0.0, math.radians(60), end="rear", stations=stations)


def solved(travel: Travel, *, mass: float = 30.0, going: str = "up", **given: object) -> Reactions:
    return reactions(
        travel,
        body(mass, given.pop("centre", 1.0), 0.0),
        given.pop("pushes", ()),
        given.pop("loads", ()),
        np.asarray(given.pop("friction", 0.0)),
        given.pop("handle", HAND),
        given.pop("pins", HINGE),
        going=going,
    )


def reach(travel: Travel) -> np.ndarray:
    """Return what the hand, 2 m from the hinge, moves on along its push: upright up to 45 degrees, then no less."""
    return 2.0 * np.maximum(np.cos(travel.q), math.sqrt(0.5))


def test_hand_and_hinge_share_the_weight_of_a_closed_lid() -> None:
    # Centre half way to the hand: each carries half, straight up.
    found = solved(lid())
    assert found.hand[0] == pytest.approx(15 * G)
    ((rx, rz),) = found.on_shell
    assert (rx[0], rz[0]) == pytest.approx((0.0, 15 * G))


def test_an_open_lid_leans_on_its_hinge() -> None:
    # At 60 degrees the hand pushes 15 degrees off the upright, 45 off its path; the hinge carries the rest.
    found = solved(lid())
    hand = 30 * G * math.cos(math.radians(60)) / (2 * math.cos(math.radians(45)))
    assert found.hand[-1] == pytest.approx(hand)
    ((rx, rz),) = found.on_shell
    assert rx[-1] == pytest.approx(hand * math.sin(math.radians(15)))
    assert rz[-1] == pytest.approx(30 * G - hand * math.cos(math.radians(15)))


def test_pushed_straight_up_a_half_open_lid_does_not_press_on_its_hinge_sideways() -> None:
    # Up to 45 degrees weight and hand are both upright and share as in the closed lid.
    found = solved(lid())
    ((rx, rz),) = found.on_shell
    for station in np.flatnonzero(lid().q <= math.radians(45)):
        assert found.hand[station] == pytest.approx(15 * G)
        assert (rx[station], rz[station]) == pytest.approx((0.0, 15 * G), abs=1e-9)


def test_a_hinge_has_no_dead_point() -> None:
    assert solved(lid()).bounded.all()


@pytest.mark.parametrize(("going", "sign"), [("up", 1), ("down", -1)])
def test_friction_of_the_hinge_turns_with_the_movement(going: str, sign: int) -> None:
    free, stiff = solved(lid(), going=going), solved(lid(), going=going, friction=8.0)
    np.testing.assert_allclose(stiff.hand - free.hand, sign * 8.0 / reach(lid()))


def test_a_front_hinge_is_the_mirror() -> None:
    front = hinge_travel(2.0, 0.0, math.radians(60), end="front", stations=7)
    pins = Pins(((np.asarray(2.0), ZERO),), ((np.asarray(2.0), ZERO),))
    found = solved(front, handle=(ZERO, ZERO), pins=pins, friction=8.0)
    rear = solved(lid(), friction=8.0)
    np.testing.assert_allclose(found.hand, rear.hand)
    np.testing.assert_allclose(found.on_shell[0][0], -rear.on_shell[0][0], atol=1e-12)
    np.testing.assert_allclose(found.on_shell[0][1], rear.on_shell[0][1])


def test_an_upright_spring_lifts_what_it_pushes() -> None:
    # Even springs of 2 x 100 N straight under the hand: the hand has 200 N less to do, the hinge as before.
    gas = GasSpring(*(np.asarray(v) for v in (100.0, 1.0000001, 0.0, 0.4, 1.0, 0.010)))
    one = Mount(gas, 2, "van", "shell", *(np.asarray(v) for v in (2.0, -0.8, 2.0, 0.0, 0.0)))
    travel = lid()
    bare, sprung = solved(travel), solved(travel, pushes=[push_of(one, lever(one, travel))])
    assert bare.hand[0] - sprung.hand[0] == pytest.approx(200.0, rel=1e-6)
    assert sprung.on_shell[0][1][0] == pytest.approx(bare.on_shell[0][1][0])


def test_one_way_loads_count_on_their_way_only() -> None:
    none = Wrench(np.zeros(7), np.zeros(7), np.zeros(7))
    moment = Wrench(np.zeros(7), np.zeros(7), np.full(7, 20.0))
    air = [Load("air", none, moment)]
    np.testing.assert_allclose(solved(lid(), loads=air).hand, solved(lid()).hand)
    down, bare = (solved(lid(), loads=given, going="down") for given in (air, ()))
    np.testing.assert_allclose(bare.hand - down.hand, 20.0 / reach(lid()))


# --- arms ---------------------------------------------------------------------------------------------

# Upright arms of 0.5 m under both ends of a beam of 2 m, swung to the front by 30 degrees: parallel.
UPRIGHT = FourBar(0.0, -0.5, 0.0, 0.0, 2.0, -0.5, 2.0, 0.0)
ARM_PINS = Pins(
    ((ZERO, np.asarray(-0.5)), (np.asarray(2.0), np.asarray(-0.5))), ((ZERO, ZERO), (np.asarray(2.0), ZERO))
)


def on_arms(**given: object) -> Reactions:
    travel = four_bar_travel(UPRIGHT, math.radians(30), stations=7, sense=-1.0).travel
    return solved(travel, handle=(np.asarray(1.0), ZERO), pins=ARM_PINS, **given)


def test_upright_arms_carry_a_beam_half_and_half() -> None:
    found = on_arms()
    for x, z in (*found.on_shell, *found.at_van):
        assert (x[0], z[0]) == pytest.approx((0.0, 15 * G), abs=1e-9)
    assert found.hand[0] == pytest.approx(0.0, abs=1e-9)


def test_leaning_arms_push_along_themselves() -> None:
    # Swung by 30 degrees the beam wants on, by m g sin 30 square to the arms. The way goes forwards and down, so the
    # hand's line lies half a right angle below it; holding back along it, it lifts the arms by as much as it holds.
    found = on_arms()
    assert found.hand[-1] == pytest.approx(-30 * G * 0.5 / math.sqrt(0.5))
    for x, z in found.on_shell:
        # Along the arm, which leans 30 degrees to the front.
        assert x[-1] / z[-1] == pytest.approx(math.tan(math.radians(30)))
    total = sum(np.hypot(x[-1], z[-1]) for x, z in found.on_shell)
    assert total == pytest.approx(30 * G * (math.cos(math.radians(30)) - 0.5))
    assert found.bounded.all()


@pytest.mark.parametrize(("going", "sign"), [("up", 1), ("down", -1)])
def test_friction_of_four_pins(going: str, sign: int) -> None:
    # Four pins share 8 N m and each turns as the arms do; the hand moves on 0.5 m, half a right angle off its push.
    free, stiff = on_arms(going=going), on_arms(going=going, friction=8.0)
    np.testing.assert_allclose(stiff.hand - free.hand, sign * 8.0 / (0.5 * math.sqrt(0.5)), atol=1e-9)


def test_a_spring_on_an_arm_loads_the_arm_s_foot() -> None:
    # A level push of 2 x 100 N half way up arm a: the hand at the top needs half of it less along the level path, on a
    # line half a right angle above it; the foot takes the rest.
    gas = GasSpring(*(np.asarray(v) for v in (100.0, 1.0000001, 0.0, 0.4, 1.0, 0.010)))
    one = Mount(gas, 2, "van", "arm a", *(np.asarray(v) for v in (-0.8, -0.25, 0.0, -0.25, 0.0)))
    travel = four_bar_travel(UPRIGHT, math.radians(30), stations=7, sense=-1.0).travel
    bare, sprung = on_arms(), on_arms(pushes=[push_of(one, lever(one, travel))])
    assert sprung.hand[0] - bare.hand[0] == pytest.approx(-100.0 / math.sqrt(0.5), rel=1e-6)
    feet = sum(x[0] for x, _ in sprung.at_van)
    assert feet == pytest.approx(-100.0, rel=1e-6)
    # All that acts along on all that moves: spring 200, hand -100, feet -100.
    assert 200.0 + sprung.hand[0] * math.sqrt(0.5) + feet == pytest.approx(0.0, abs=1e-4)


# Level arms of 0.5 m whose four pins lie in one line when closed.
FLAT = FourBar(0.0, 0.0, 0.5, 0.0, 1.0, 0.0, 1.5, 0.0)
FLAT_PINS = Pins(((ZERO, ZERO), (np.asarray(1.0), ZERO)), ((np.asarray(0.5), ZERO), (np.asarray(1.5), ZERO)))


def test_a_dead_point_is_marked_and_carries_no_numbers() -> None:
    travel = four_bar_travel(FLAT, math.radians(60), stations=121, sense=1.0).travel
    found = solved(travel, pins=FLAT_PINS)
    assert not found.bounded[0]
    assert found.bounded[-1]
    # Marked from closed up to one place and not again.
    assert np.count_nonzero(np.diff(found.bounded.astype(int))) == 1
    for x, z in (*found.on_shell, *found.at_van):
        assert np.isfinite([x, z]).all()
        assert not np.any(x[~found.bounded])
        assert not np.any(z[~found.bounded])
    # Elsewhere the hand's force is that of virtual work: the weight, for it pushes upright; 45 degrees off beyond.
    hand = 30 * G * np.cos(travel.q) / np.maximum(np.cos(travel.q), math.sqrt(0.5))
    np.testing.assert_allclose(found.hand[found.bounded], hand[found.bounded], rtol=1e-8)
    # Pushed under its middle of mass the arms carry nothing; pushed 1 m off, a couple of m g times 1 m over their
    # distance of 1 m sin q. That is what grows without bound.
    couple = 30 * G * 1.0 / (1.0 * np.sin(travel.q[found.bounded]))
    largest = np.max([np.hypot(x, z)[found.bounded] for x, z in found.on_shell], axis=0)
    below = travel.q[found.bounded] < math.radians(45)
    np.testing.assert_allclose(largest[below], couple[below], rtol=1e-8)
