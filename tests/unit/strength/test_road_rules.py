"""The latched roof at speed: forces, speeds and every rule on both sides of its limit."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from loftwright.core.checks import Rule, Verdict
from loftwright.core.judged import Judged
from loftwright.strength import road_rules as rules
from loftwright.strength.latch_bar import Bar
from loftwright.strength.latched import Held, Lines
from loftwright.strength.road import Cap, RoadAir, push_at
from loftwright.strength.road_forces import (
    Catch,
    Drive,
    Rated,
    RoadForces,
    Shut,
    held_road,
    hinged_cases,
)

ROWS = 3


def rows(value: float) -> np.ndarray:
    return np.full(ROWS, value)


def shut(preload: float = 400.0, springs: float = 250.0) -> Shut:
    cap = Cap(*(rows(value) for value in (-0.1, 2.4, 1.4, 0.03, 0.2)))
    air = RoadAir(*(rows(value) for value in (-0.6, -1.2, 0.3, 0.45, 1.0, 0.0, 0.0)))
    push = push_at(0.4, 0.1, forward=rows(80.0), up=rows(springs))
    return Shut(
        cap,
        air,
        mass=rows(55.0),
        x=rows(1.1),
        z=rows(0.12),
        seal_line=rows(60.0),
        springs=push,
        preload=rows(preload),
        stop=rows(4e6),
        side=rows(1.3),
    )


def drive(speed: float = 30.0, cross: float = 0.0) -> Drive:
    return Drive(rows(speed), rows(3.0), rows(cross), rows(1.25), rows(1.0))


def forces(speed: float = 30.0, *, bending: float = 4000.0, preload: float = 400.0, catch: bool = True) -> RoadForces:
    lines = Lines(rows(0.0), rows(0.02), rows(2.25))
    bar = Bar((-0.5, 0.5), rows(1.4), rows(bending), rows(1e6), rows(2e4))
    rated = Rated(rows(1500.0), rows(1500.0), rows(20.0))
    stop = Catch(rows(0.01), rows(3e5)) if catch else None
    closed, going = shut(preload), drive(speed)
    return held_road(closed, hinged_cases(closed, lines, going), bar, rows(1.1), going, rated, stop)


def limits() -> rules.RoadLimits:
    return rules.RoadLimits(
        latch=rows(3000.0),
        hinge=rows(3000.0),
        catch=rows(60000.0),
        safety=rows(2.0),
        stop=rows(20.0),
        follow=rows(0.004),
    )


def judged(found: RoadForces, bounds: rules.RoadLimits, rule: Rule, *, catch: bool = True, which: str = "") -> Judged:
    every = rules.judge_road(found, bounds, hinged=True, opens_into_wind=True, has_catch=catch)
    return next(each for each in every if each.rule is rule and which in each.which)


@pytest.mark.parametrize(
    ("rule", "which", "good", "bad"),
    [
        (rules.LATCH_WEAK, "", {}, {"speed": 90.0}),
        (rules.HINGE_WEAK, "", {}, {"speed": 110.0}),
        (rules.STOPS_FREE, "", {"preload": 900.0}, {"preload": 100.0}),
        (rules.SEAL_CARRIES, "", {}, {"preload": 0.0}),
        (rules.ONE_LATCH_LOST, "latches", {}, {"speed": 60.0}),
        (rules.ONE_LATCH_LOST, "hinges", {}, {"speed": 70.0}),
        (rules.CATCH_WEAK, "", {}, {"speed": 250.0}),
        (rules.LIP_GAPES, "", {}, {"bending": 5.0}),
    ],
)
def test_each_rule_on_both_sides(rule: Rule, which: str, good: dict[str, Any], bad: dict[str, Any]) -> None:
    for how, verdict in ((good, Verdict.HOLDS), (bad, Verdict.FAILS)):
        found = judged(forces(**how), limits(), rule, which=which)
        assert found.value is not None
        assert found.limit is not None
        assert found.value.shape == found.limit.shape == (ROWS,)
        assert rule.judge(float(found.value[0]), float(found.limit[0])).verdict is verdict


def test_a_shell_that_opens_into_the_wind_wants_a_catch() -> None:
    for has, verdict in ((True, Verdict.HOLDS), (False, Verdict.FAILS)):
        found = judged(forces(catch=has), limits(), rules.CATCH_MISSING, catch=has)
        assert found.value is not None
        assert found.limit is not None
        assert rules.CATCH_MISSING.judge(float(found.value[0]), float(found.limit[0])).verdict is verdict
    every = rules.judge_road(forces(), limits(), hinged=True, opens_into_wind=False, has_catch=False)
    assert {each.rule for each in every}.isdisjoint({rules.CATCH_MISSING, rules.CATCH_WEAK})


def test_an_unknown_strength_is_to_be_measured() -> None:
    found = judged(forces(), replace(limits(), hinge=None), rules.HINGE_WEAK)
    assert (found.limit, found.missing) == (None, "hinge_limit")
    assert "hinge" in found.unknown


@pytest.mark.parametrize("cross", [0.0, 12.0])
def test_at_its_speed_each_part_is_at_its_limit(cross: float) -> None:
    lines, bar = Lines(rows(0.0), rows(0.02), rows(2.25)), Bar((-0.5, 0.1, 0.5), *map(rows, (1.4, 900.0, 1e6, 2e4)))
    rated = Rated(rows(700.0), rows(900.0), rows(20.0))

    def at(speed: float) -> RoadForces:
        going = drive(speed, cross)
        return held_road(shut(), hinged_cases(shut(), lines, going), bar, rows(1.1), going, rated, None)

    first = at(30.0)
    assert at(float(first.latch_speed[0])).latch.max() == pytest.approx(700.0)
    assert at(float(first.hinge_speed[0])).hinge == pytest.approx(900.0)
    assert at(float(first.stop_speed[0])).stop.min() == pytest.approx(20.0)


def test_doubling_the_pressure_doubles_the_part_of_the_air() -> None:
    lines, bar = Lines(rows(0.0), rows(0.02), rows(2.25)), Bar((-0.5, 0.5), *map(rows, (1.4, 900.0, 1e6, 2e4)))
    rated = Rated(rows(700.0), rows(900.0), rows(20.0))
    loose = shut(preload=0.0)
    calm = [replace(drive(speed), head=rows(0.0)) for speed in (0.0, 60.0, 60.0 * 2**0.5)]
    none, once, twice = (
        held_road(loose, hinged_cases(loose, lines, each), bar, rows(1.1), each, rated, None).latch for each in calm
    )
    air_once = once - none
    assert air_once.min() > 100.0
    assert twice - none == pytest.approx(2 * air_once)


def test_a_shell_without_hinges_is_judged_by_its_latches() -> None:
    every = rules.judge_road(forces(), limits(), hinged=False, opens_into_wind=False, has_catch=False)
    assert {each.rule.id for each in every} == {"ROAD-901", "ROAD-903", "ROAD-904", "ROAD-905"}


def test_once_a_latch_is_lost_the_rarer_safety_counts() -> None:
    rare = replace(limits(), rare=rows(1.25))
    for rule, which in ((rules.ONE_LATCH_LOST, "latches"), (rules.ONE_LATCH_LOST, "hinges"), (rules.CATCH_WEAK, "")):
        often, seldom = (judged(forces(), bounds, rule, which=which).limit for bounds in (limits(), rare))
        assert often is not None
        assert seldom is not None
        assert seldom == pytest.approx(often * 2.0 / 1.25)
    assert judged(forces(), rare, rules.LATCH_WEAK).limit == pytest.approx(1500.0)


def test_pairs_of_pins_are_each_looked_at() -> None:
    # Exact: the hinge's own case laid beside a pair that carries nothing changes nothing.
    lines, bar = Lines(rows(0.0), rows(0.02), rows(2.25)), Bar((-0.5, 0.5), *map(rows, (1.4, 900.0, 1e6, 2e4)))
    rated = Rated(rows(700.0), rows(900.0), rows(20.0))
    cases = hinged_cases(shut(), lines, drive())

    def with_idle(held: Held) -> Held:
        idle = np.zeros_like(held.hinge_up)
        return Held(
            held.latch_line,
            np.concatenate([idle, held.hinge_forward], axis=-1),
            np.concatenate([idle, held.hinge_up], axis=-1),
        )

    idle_too = replace(
        cases,
        rest=with_idle(cases.rest),
        up=with_idle(cases.up),
        down=with_idle(cases.down),
        air=with_idle(cases.air),
    )
    one, both = (held_road(shut(), each, bar, rows(1.1), drive(), rated, None) for each in (cases, idle_too))
    assert both.hinge == pytest.approx(one.hinge)
    assert both.hinge_speed == pytest.approx(one.hinge_speed)
    assert np.linalg.norm(both.hinge_parts, axis=-1) == pytest.approx(both.hinge)
    assert np.all(one.hinge > 100.0)
