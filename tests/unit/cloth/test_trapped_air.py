"""Air under a closing shell: the inverse functions undo the pressure, each checked by putting it back (exact)."""

from __future__ import annotations

import math

import numpy as np
import pytest

from loftwright.cloth import trapped_air as air
from loftwright.core.checks import Check, Verdict
from loftwright.core.judged import Judged

# A lid of 2.4 m2 that comes down at 0.15 m/s.
SWEPT = np.array(2.4 * 0.15)


def judged(said: Judged) -> Check:
    """Return the judgement of the first row."""
    assert said.value is not None
    assert said.limit is not None
    return said.rule.judge(float(said.value.flat[0]), float(said.limit.flat[0]))


def test_bernoulli_with_nothing_lost() -> None:
    """A hole without losses (C = 1): 15 Pa makes air of 1.2 kg/m3 flow at 5 m/s, rho v2 / 2 = 15."""
    assert float(air.orifice_flow(1.0, 15.0, 1.0)) == pytest.approx(5.0)
    assert float(air.orifice_flow(1.0, -15.0, 1.0)) == pytest.approx(-5.0)
    assert float(air.pressure_of(5.0, 1.0, 0.0, 1.0)) == pytest.approx(15.0)


def test_a_fan_alone_draws_the_cloth_in() -> None:
    assert float(air.pressure_of(0.0, 0.02, 0.05)) == pytest.approx(-0.6 * (0.05 / (0.6 * 0.02)) ** 2)
    assert float(air.pressure_of(0.05, 0.02, 0.05)) == 0.0


def test_needed_area_fan_and_time_put_back_give_the_allowed_pressure() -> None:
    area = air.needed_area(SWEPT, 12.0, 0.02)
    assert float(air.pressure_of(SWEPT, area, 0.02)) == pytest.approx(12.0)
    fan = air.needed_fan(SWEPT, 0.05, 12.0)
    assert float(air.pressure_of(SWEPT, 0.05, fan)) == pytest.approx(12.0)
    inward = air.needed_fan(SWEPT, 0.05, -3.0)
    assert float(air.pressure_of(SWEPT, 0.05, inward)) == pytest.approx(-3.0)
    seconds = air.least_seconds(1.1, 0.05, 12.0, 0.02, peak=1.2)
    assert float(air.pressure_of(1.2 * 1.1 / seconds, 0.05, 0.02)) == pytest.approx(12.0)
    assert float(air.needed_area(0.01, 12.0, 0.02)) == 0.0
    assert float(air.needed_fan(0.001, 0.05, 12.0)) == 0.0


def test_pressures_that_are_none_are_refused() -> None:
    with pytest.raises(ValueError, match="positive"):
        air.needed_area(SWEPT, 0.0)


def test_pulls_against_pressure_by_the_string_itself() -> None:
    """Second way: a taut string of 400 pieces, T w'' = p - f, solved; its middle stays put at the pressure found."""
    length, n = 0.5, 400
    pulls = np.array([(0.25, 1.5), (0.5, 1.0), (0.75, 1.5)])
    step = length / n
    load = np.full(n - 1, -float(air.resisted_pressure(pulls, length)))
    for share, pull in pulls:
        load[round(share * n) - 1] += pull / step
    matrix = (2 * np.eye(n - 1) - np.eye(n - 1, k=1) - np.eye(n - 1, k=-1)) / step**2
    bend = np.linalg.solve(matrix, load)
    assert abs(bend[n // 2 - 1]) < 1e-6 * np.max(np.abs(bend))
    assert float(air.resisted_pressure([(0.5, 3.0)], 0.5)) == pytest.approx(12.0)


def test_which_door_is_least_trouble() -> None:
    openings = (
        air.Opening("the sliding door", np.array(0.3)),
        air.Opening("the roof vent", np.array(0.02)),
        air.Opening("the driver's window", np.array(0.12)),
    )
    found = air.which_door(openings, 0.01, SWEPT, 12.0)
    assert [one.name for one in found] == ["the roof vent", "the driver's window", "the sliding door"]
    assert [bool(one.is_enough) for one in found] == [False, False, True]


def test_doors_shut_and_open_on_both_sides_of_what_cords_bear() -> None:
    allowed = air.resisted_pressure([(0.5, 3.0)], 0.5)
    assert judged(air.air_judged(air.pressure_of(SWEPT, 0.02), allowed)).verdict is Verdict.FAILS
    assert judged(air.air_judged(air.pressure_of(SWEPT, 0.3), allowed)).verdict is Verdict.HOLDS


def test_push_on_the_shell() -> None:
    assert float(air.lift_of(12.0, 2.4)) == pytest.approx(28.8)
    assert math.isclose(float(air.lift_of(-1.0, 2.0)), -2.0)
