"""Each rule on wind seen from both sides, on values that wind brings. Computed here from first principles."""

from __future__ import annotations

import math

import numpy as np
import pytest

from loftwright.core.checks import Check, Verdict
from loftwright.core.judged import Judged
from loftwright.strength import cloth_rules as rules
from loftwright.strength.cloth_tension import Holding, Panel, gusts_at_limit
from loftwright.strength.raised_shape import RaisedShape
from loftwright.strength.wind import righting_moment, side_force, tipping_moment, velocity_pressure
from loftwright.strength.wind_loads import DOWN, UP, wrenches

PANEL = Panel(np.array([0.9]), np.array([0.01]), np.array([1e5]))
HOLDING = Holding(
    cloth=np.array([20e3]),
    seam=np.array([0.7]),
    staple=np.array([90.0]),
    staple_pitch=np.array([0.05]),
    screw=np.array([500.0]),
    screw_pitch=np.array([0.15]),
    film=np.array([8e3]),
)
BY_PART = {
    "cloth": rules.CLOTH_TEARS,
    "seam": rules.SEAM_OPENS,
    "staples": rules.STAPLES_PULL,
    "strip screws": rules.SCREWS_PULL,
    "window film": rules.FILM_TEARS,
}


def check(judged: Judged) -> Check:
    """Return the first row as one check."""
    assert judged.value is not None
    assert judged.limit is not None
    return judged.rule.judge(float(judged.value[0]), float(judged.limit[0]), part=judged.which)


@pytest.mark.parametrize("name", BY_PART)
def test_each_part_of_the_cloth_on_both_sides_of_its_gust(name: str) -> None:
    gust = gusts_at_limit(PANEL, HOLDING, 1.3)[name]
    for factor, expected in ((0.99, Verdict.HOLDS), (1.01, Verdict.FAILS)):
        pressure = 1.3 * velocity_pressure(factor * gust)
        found = {j.rule.id: j for j in rules.judge_cloth(PANEL, pressure, HOLDING, "front wall")}
        assert len(found) == 5
        seen = check(found[BY_PART[name].id])
        assert seen.verdict is expected
        assert seen.part == "front wall"


def test_staples_are_judged_by_the_piece() -> None:
    found = {j.rule.id: j for j in rules.judge_cloth(PANEL, 200.0, HOLDING)}[rules.STAPLES_PULL.id]
    assert found.limit is not None
    assert float(found.limit[0]) == pytest.approx(90.0 / 2)


def test_an_edge_of_unknown_hold_asks_for_a_reading() -> None:
    found = rules.judge_cloth(PANEL, 200.0, Holding(np.array([20e3])))
    asked = found[-1]
    assert [j.rule for j in found] == [rules.CLOTH_TEARS, rules.STAPLES_PULL]
    assert asked.value is None
    assert "scale" in asked.unknown
    assert asked.rule.not_known(asked.unknown).verdict is Verdict.NOT_KNOWN


def wedge(degrees: float) -> RaisedShape:
    numbers = (0.0, 2.2, 1.4, 0.0, 0.0, 2.2, 1.4, 0.1, math.radians(degrees), 0.0, 0.0, 2.0)
    return RaisedShape(*(np.array([v]) for v in numbers))


@pytest.mark.parametrize(("gust", "verdict"), [(5.0, Verdict.HOLDS), (15.0, Verdict.FAILS)])
def test_front_wind_throws_a_light_shell_up(gust: float, verdict: Verdict) -> None:
    moment = -wrenches(wedge(20.0), gust, ("front",), case=UP)[..., 0, 4]
    assert check(rules.judge_lift(moment, 400.0)).verdict is verdict


@pytest.mark.parametrize(("gust", "verdict"), [(5.0, Verdict.HOLDS), (20.0, Verdict.FAILS)])
def test_wind_on_top_slams(gust: float, verdict: Verdict) -> None:
    moment = -wrenches(wedge(5.0), gust, ("rear",), case=DOWN)[..., 0, 4]
    assert float(moment[0]) < 0
    assert check(rules.judge_slam(moment, 60.0)).verdict is verdict
    # What slams does not lift.
    assert check(rules.judge_lift(moment, 0.0)).verdict is Verdict.HOLDS


@pytest.mark.parametrize(("gust", "verdict"), [(0.0, Verdict.HOLDS), (20.0, Verdict.HOLDS), (40.0, Verdict.FAILS)])
def test_footing(gust: float, verdict: Verdict) -> None:
    force = np.stack([side_force(gust, 9.0), side_force(gust, 2.0)], axis=-1)
    tipping = np.atleast_1d(tipping_moment(force, np.array([1.2, 2.5])))
    found = rules.judge_footing(tipping, righting_moment(2160.0, 1.63))
    assert check(found).verdict is verdict
