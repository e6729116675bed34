"""Air and other loads on the closed shell."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.strength.road import (
    Cap,
    RoadAir,
    air_per_pressure,
    apparent_wind,
    road_speed,
    seal_push,
    tossed_up,
    weight,
)
from loftwright.strength.wind import velocity_pressure


def cap() -> Cap:
    return Cap(*(np.array(value) for value in (-0.1, 2.4, 1.4, 0.05, 0.2)))


def air(**changes: float) -> RoadAir:
    values = {"mean": -0.6, "strip": -1.2, "strip_length": 0.3, "centre": 0.5, "drag": 1.0}
    values |= {"under": 0.0, "under_share": 0.0, **changes}
    return RoadAir(**{name: np.array(value) for name, value in values.items()})


def test_uplift_drag_and_where_they_act() -> None:
    # Constructed: 0.6 x 2.1 x 1.4 + 1.2 x 0.3 x 1.4 m2 up; 1.0 x 1.4 x 0.2 m2 back, at 0.05 + 0.1 m.
    push = air_per_pressure(cap(), air())
    assert float(push.up) == pytest.approx(0.6 * 2.1 * 1.4 + 1.2 * 0.3 * 1.4)
    assert float(push.forward) == pytest.approx(-0.28)
    moment = 0.6 * 2.1 * 1.4 * (-0.1 + 1.05) + 1.2 * 0.3 * 1.4 * (2.3 - 0.15) + 0.28 * 0.15
    assert float(push.moment) == pytest.approx(moment)


def test_air_under_the_front_lip_lifts_ahead_of_the_middle() -> None:
    more = air_per_pressure(cap(), air(under=0.8, under_share=0.5))
    less = air_per_pressure(cap(), air())
    assert float(more.up - less.up) == pytest.approx(0.8 * 1.2 * 1.4)
    assert float((more.moment - less.moment) / (more.up - less.up)) == pytest.approx(2.3 - 0.6)


def test_a_short_shell_is_strip_all_over() -> None:
    assert float(air_per_pressure(cap(), air(strip_length=5.0)).up) == pytest.approx(1.2 * 2.4 * 1.4)


def test_road_speed_turns_the_pressure_round() -> None:
    q = velocity_pressure(apparent_wind(30.0, 5.0, 12.0).speed, 1.2)
    assert float(road_speed(q, 1.2, 5.0, 12.0)) == pytest.approx(30.0)
    assert float(road_speed(10.0, 1.2, 5.0, 12.0)) == 0.0
    assert float(road_speed(np.inf, 1.2, 5.0, 12.0)) == np.inf


def test_a_road_tosses_up_by_no_more_than_a_fall_and_a_fifth() -> None:
    # 49 CFR 393.102 (b), read in a public reproduction: loads are held down with a fifth of their weight.
    net = weight(60.0, 1.0, 0.1, -tossed_up(np.array([0.0, 1.0, 3.0]))).up / (60.0 * 9.80665)
    assert net == pytest.approx([-1.0, 0.0, 0.2])


def test_seal_and_weight() -> None:
    assert float(seal_push(cap(), 100.0).up) == pytest.approx(760.0)
    assert float(seal_push(cap(), 100.0).about(1.1, 0.0)) == pytest.approx(0.0, abs=1e-9)
    tossed = weight(60.0, 1.0, 0.1, np.array([0.0, -1.0, -2.0, 1.0])).up / (60.0 * 9.80665)
    assert tossed == pytest.approx([-1.0, 0.0, 1.0, -2.0])
