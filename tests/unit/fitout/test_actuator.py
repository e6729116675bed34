"""Powered lift: exact constructed cases, each rule on both sides of its limit."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from loftwright.core.checks import Check, Verdict
from loftwright.core.judged import Judged
from loftwright.fitout import actuator
from loftwright.fitout import actuator_rules as rules
from loftwright.fitout.actuator_power import (
    Motor,
    current,
    hand_without,
    run,
    speed,
)

# 1500 N rated, 12 mm/s free and 8 mm/s loaded, 1 A free and 5 A loaded, 12 V.
MOTOR = Motor(*(np.array([v, v]) for v in (1500.0, 0.012, 0.008, 1.0, 5.0, 12.0)))
# A shell of 40 kg with its centre 1 m from the hinge; the actuator is pinned 0.4 m out and 0.3 m below the hinge.
Q = np.linspace(0.0, 0.5, 201)
OUT, DOWN = 0.4, 0.3
LENGTH = np.hypot(OUT * np.cos(Q), OUT * np.sin(Q) + DOWN)
LEVER = OUT * DOWN * np.cos(Q) / LENGTH
LOAD = 40.0 * 9.80665 * 1.0 * np.cos(Q)


def checked(found: Judged) -> list[Check]:
    assert found.value is not None
    assert found.limit is not None
    pairs = zip(np.atleast_1d(found.value), np.atleast_1d(found.limit), strict=True)
    return [found.rule.judge(float(value), float(limit)) for value, limit in pairs]


def test_work_of_the_actuators_is_the_work_of_lifting() -> None:
    """A second way: the sum of F dL over the travel is the weight times its rise."""
    force = actuator.needed_force(LOAD, LEVER, 2)
    work = 2 * np.sum((force[1:] + force[:-1]) / 2 * np.diff(LENGTH))
    assert work == pytest.approx(40.0 * 9.80665 * np.sin(0.5), rel=1e-4)
    np.testing.assert_allclose(np.gradient(LENGTH, Q)[1:-1], LEVER[1:-1], rtol=1e-4)


def test_push_and_pull_apart() -> None:
    worst = actuator.hardest([[100.0, -50.0, 20.0], [-10.0, -300.0, -5.0]])
    np.testing.assert_allclose(worst.push, [100.0, 0.0])
    np.testing.assert_allclose(worst.pull, [50.0, 300.0])
    np.testing.assert_allclose(worst.most, [100.0, 300.0])
    np.testing.assert_allclose(worst.station, [0.0, 1.0])
    # Mounted so that it shortens, it pulls.
    assert actuator.hardest(actuator.needed_force(LOAD, -LEVER, 2)).push == 0
    with pytest.raises(ValueError, match="actuator"):
        actuator.needed_force(LOAD, LEVER, 0)


def test_a_dead_point_gives_a_great_number_and_no_fault() -> None:
    found = actuator.needed_force([300.0, 300.0], [0.0, -1e-9], 1)
    np.testing.assert_allclose(found, [3e5, -3e5])


def test_current_and_speed_pass_through_the_list() -> None:
    forces = np.array([[0.0, 750.0, 1500.0], [-200.0, 1500.0, 1e6]])
    np.testing.assert_allclose(current(MOTOR, forces[:1])[0], [1.0, 3.0, 5.0])
    np.testing.assert_allclose(speed(MOTOR, forces), [[0.012, 0.010, 0.008], [0.012, 0.008, 0.0006]])


def test_a_run_against_an_even_force() -> None:
    """Exact: 0.2 m at 10 mm/s is 20 s; 3 A at 12 V for that time, twice over, is 0.4 W h."""
    found = run(MOTOR, np.linspace(0.3, 0.5, 11), np.full((2, 11), 750.0), 2)
    np.testing.assert_allclose(found.time, 20.0)
    np.testing.assert_allclose(found.current, 6.0)
    np.testing.assert_allclose(found.energy, 0.4)
    down = run(MOTOR, np.linspace(0.5, 0.3, 11), np.full((2, 11), -750.0), 2)
    np.testing.assert_allclose(down.time, 0.2 / 0.012)
    np.testing.assert_allclose(down.energy, 2 * 12 * 0.2 / 0.012 / 3600)


def test_energy_is_more_than_the_lift() -> None:
    """A law: no motor gives more than it takes."""
    force = actuator.needed_force(LOAD, LEVER, 2)
    found = run(MOTOR, LENGTH, force, 2)
    assert np.all(found.energy * 3600 > 40.0 * 9.80665 * np.sin(0.5))


def test_two_apart() -> None:
    """A second way: when the faster one has run 0.2 m, the slower one has run 0.2 x 0.9 / 1.1."""
    assert actuator.apart(0.2, 0.1) == pytest.approx(0.2 - 0.2 * 0.9 / 1.1)


def test_a_hand_takes_what_the_actuators_let_go() -> None:
    np.testing.assert_allclose(hand_without([300.0, -100.0], [2.0, 2.0]), [150.0, -50.0])


def test_edge_force_by_hand() -> None:
    """Closing at 0.3 m of leverage: two of 200 N and 300 N m of roof over an edge 2 m out."""
    down = actuator.edge_force(np.array(200.0), [0.3], [300.0], [2.0], 2)
    up = actuator.edge_force(np.array(200.0), [0.3], [300.0], [2.0], 2, closing=False)
    np.testing.assert_allclose(down, [210.0])
    np.testing.assert_allclose(up, [0.0])


def test_strength_on_cold_and_hot_days() -> None:
    worst = actuator.hardest(actuator.needed_force(np.stack([LOAD, 2.5 * LOAD]), LEVER, 2))
    assert [one.verdict for one in checked(rules.strong_enough(worst, MOTOR.rated_force, "snow on top"))] == [
        Verdict.HOLDS,
        Verdict.FAILS,
    ]
    assert rules.strong_enough(worst, 1500.0, "cold").which == "cold"


def test_time_to_open() -> None:
    slow = replace(MOTOR, free_speed=np.array([0.012, 0.002]), rated_speed=np.array([0.008, 0.001]))
    found = run(slow, LENGTH, actuator.needed_force(LOAD, LEVER, 2) * np.ones((2, 1)), 2)
    assert [one.verdict for one in checked(rules.quick_enough(found.time))] == [Verdict.HOLDS, Verdict.FAILS]


def test_holding() -> None:
    worst = actuator.hardest(actuator.needed_force(LOAD, LEVER, 2))
    assert [one.verdict for one in checked(rules.stays_up([2500.0, 900.0], worst))] == [Verdict.HOLDS, Verdict.FAILS]
    assert rules.stays_up(None, worst).missing == "holding_force"


def test_stroke_at_both_ends() -> None:
    spare = actuator.spare_stroke(LENGTH, np.array([0.45, 0.45, 0.495]), np.array([0.25, 0.14, 0.3]))
    np.testing.assert_allclose(spare.used, LENGTH[-1] - LENGTH[0])
    inward, outward = rules.stroke_fits(spare)
    assert [one.verdict for one in checked(inward)] == [Verdict.HOLDS, Verdict.HOLDS, Verdict.HOLDS]
    assert [one.verdict for one in checked(outward)] == [Verdict.HOLDS, Verdict.FAILS, Verdict.HOLDS]
    long = rules.stroke_fits(actuator.spare_stroke(LENGTH, 0.51, 0.3))[0]
    assert [one.verdict for one in checked(long)] == [Verdict.FAILS]


def test_pinching() -> None:
    forces = np.array([75.0, 1500.0])
    # Springs carry nearly all of the roof.
    edge = actuator.edge_force(forces, LEVER, 0.05 * LOAD, np.full(Q.size, 2.1), 2)
    assert [one.verdict for one in checked(rules.pinches(edge, which="closing"))] == [Verdict.HOLDS, Verdict.FAILS]


def test_out_of_step() -> None:
    twisted = actuator.twist(actuator.apart(0.2, np.array([0.01, 0.1])), 8.0, 1.4)
    assert [one.verdict for one in checked(rules.in_step(twisted, 0.05))] == [Verdict.HOLDS, Verdict.FAILS]
    assert "tape" in rules.in_step(twisted, None).unknown


def test_rod() -> None:
    worst = actuator.hardest(actuator.needed_force(LOAD, LEVER, 2))
    bends_at = actuator.rod_bends_at([0.012, 0.006], 0.65)
    assert [one.verdict for one in checked(rules.rod_straight(worst, bends_at))] == [Verdict.HOLDS, Verdict.FAILS]
