"""Laws of the choice of springs over random mounts, exact on the same draws; computed here from first principles."""

from __future__ import annotations

import importlib.util
import sys
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from loftwright.choice.moves import box_of
from loftwright.choice.odds import holds, odds_of
from loftwright.choice.search import Budget, Level, search
from loftwright.choice.window import Ends, Window, bounds, ends_from
from loftwright.core.lifting import Lift
from loftwright.core.motion import Motion

_SPEC = importlib.util.spec_from_file_location("lifts", Path(__file__).parents[1] / "unit" / "choice" / "lifts.py")
assert _SPEC is not None
assert _SPEC.loader is not None
lifts = importlib.util.module_from_spec(_SPEC)
sys.modules["lifts"] = lifts
_SPEC.loader.exec_module(lifts)

MOUNTS, DRAWS, STATIONS = 60, 20, 21
ROOF = lifts.roof(DRAWS, 2, STATIONS)
LIFT = lifts.lift_of(ROOF, 2)
PAIR = lifts.pair(wider=0.05)
SPRINGS = lifts.listed()
LOOSER = {"shut": -5.0, "start": 30.0, "rises": 0.1, "stays up": -10.0, "pull": 40.0}
TINY = Budget(mounts=400, compared=40, few_draws=4, levels=(Level(12, 8, 3, 4, 0.1),), judged=8)


def mounts() -> tuple[Ends, Any]:
    """Return mounts near good ones, so that odds differ, each with a spring."""
    random = np.random.default_rng(8)
    box = box_of(PAIR)
    table = np.array([1.70, -0.06, 1.45, 0.02]) + random.uniform(-0.06, 0.06, (MOUNTS, 4))
    near = [SPRINGS.names.index(f"2-{force}") for force in (600, 650, 700, 750)]
    return ends_from(np.clip(table, box.low, box.high)), SPRINGS.pick(random.choice(near, MOUNTS))


def close(one: Window, other: Window) -> None:
    """Assert that two windows are the same but for rounding."""
    for field in fields(Window):
        np.testing.assert_allclose(getattr(one, field.name), getattr(other, field.name), rtol=1e-9, atol=1e-12)


@pytest.mark.parametrize("limit", list(LOOSER))
def test_asking_less_never_lowers_the_odds(limit: str) -> None:
    ends, own = mounts()
    easier = lifts.lift_of(ROOF, 2, limits={**lifts.LIMITS, limit: lifts.LIMITS[limit] + LOOSER[limit]})
    before, after = (bounds(lift, PAIR, ends, own) for lift in (LIFT, easier))
    assert (odds_of(easier, own, after) >= odds_of(LIFT, own, before)).all()
    assert (holds(easier, own, after) >= holds(LIFT, own, before)).all()
    assert (after.low <= before.low).all()
    assert (after.high >= before.high).all()
    assert (after.lows < before.lows).any() or (after.highs > before.highs).any()


def test_dropping_a_demand_never_lowers_the_odds() -> None:
    ends, own = mounts()
    before = odds_of(LIFT, own, bounds(LIFT, PAIR, ends, own))
    assert before.max() > 0.2
    for gone in LIFT.demands:
        fewer = replace(LIFT, demands=tuple(d for d in LIFT.demands if d is not gone))
        assert (odds_of(fewer, own, bounds(fewer, PAIR, ends, own)) >= before).all()


def test_a_wider_zone_never_lowers_the_best_odds() -> None:
    lift, best, known = lifts.small_lift(DRAWS, stations=STATIONS), [], []
    for wider in (-0.02, 0.0, 0.02, 0.05):
        found = search(lift, [lifts.pair(wider=wider)], SPRINGS, seed=1, budget=TINY, known=known)
        best.append(found.answers[0].odds)
        known = [found.answers[0].fit]
    assert best == sorted(best)
    assert best[-1] > best[0]


def test_a_longer_list_never_lowers_the_best_odds() -> None:
    lift, best, known = lifts.small_lift(DRAWS, stations=STATIONS), [], []
    for count in (30, 42, SPRINGS.force_1.size):
        found = search(lift, [PAIR], SPRINGS.pick(np.arange(count)), seed=1, budget=TINY, known=known)
        best.append(found.answers[0].odds)
        known = [found.answers[0].fit]
    assert best == sorted(best)


def mirrored(lift: Lift) -> Lift:
    """Return the same roof seen from the other side: x becomes -x and turning goes the other way."""

    def seen(motion: Motion) -> Motion:
        turned = ("x", "phi", "dx", "dphi", "ddx", "ddphi")
        return Motion(
            *(-getattr(motion, f.name) if f.name in turned else getattr(motion, f.name) for f in fields(motion))
        )

    chances = replace(lift.chances, foot_x=-lift.chances.foot_x, head_x=-lift.chances.head_x)
    return replace(lift, travel=replace(lift.travel, shell=seen(lift.travel.shell)), chances=chances)


def test_front_and_rear_are_alike() -> None:
    ends, own = mounts()
    other = Ends(-ends.foot_x, ends.foot_z, -ends.head_x, ends.head_z)
    close(bounds(mirrored(LIFT), PAIR, other, own), bounds(LIFT, PAIR, ends, own))


def test_twice_as_many_springs_half_as_strong_do_the_same() -> None:
    """Rods of half the section hold the same pressure, so that heat acts alike; limits on the push are left out."""
    ends, own = mounts()
    lift = replace(LIFT, bracket_limit=None, bending_factor=1e-9)
    one = replace(own, end_limit=np.full(MOUNTS, 1e9))
    half = replace(
        one,
        force_1=one.force_1 / 2,
        loop=one.loop / 2,
        loop_doubt=one.loop_doubt / 2,
        end_limit=one.end_limit / 2,
        rod_diameter=one.rod_diameter / 2**0.5,
    )
    single, double = (
        bounds(lift, pair, ends, springs) for pair, springs in ((PAIR, one), (replace(PAIR, per_side=2), half))
    )
    demands = slice(0, 5)
    np.testing.assert_allclose(double.lows[demands], single.lows[demands], rtol=1e-9)
    np.testing.assert_allclose(double.highs[demands], single.highs[demands], rtol=1e-9)


def test_forces_and_demands_grow_together() -> None:
    """Three times the load, three times the gas on three times the rod: the same delivered factors."""
    ends, own = mounts()
    heavier = replace(LIFT, demands=tuple(replace(d, bound=3 * d.bound) for d in LIFT.demands), bending_factor=1e-9)
    stronger = replace(
        own,
        force_1=3 * own.force_1,
        loop=3 * own.loop,
        loop_doubt=3 * own.loop_doubt,
        rod_diameter=own.rod_diameter * 3**0.5,
    )
    demands = slice(0, len(LIFT.demands))
    one, three = bounds(LIFT, PAIR, ends, own), bounds(heavier, PAIR, ends, stronger)
    np.testing.assert_allclose(three.lows[demands], one.lows[demands], rtol=1e-9)
    np.testing.assert_allclose(three.highs[demands], one.highs[demands], rtol=1e-9)


def test_a_mount_is_judged_alike_alone_and_in_company() -> None:
    ends, own = mounts()
    every = odds_of(LIFT, own, bounds(LIFT, PAIR, ends, own))
    for at in (0, 17, MOUNTS - 1):
        single = own.pick(np.array([at]))
        assert odds_of(LIFT, single, bounds(LIFT, PAIR, ends.pick(slice(at, at + 1)), single))[0] == every[at]


def test_draws_may_stand_in_any_order() -> None:
    ends, own = mounts()
    order = np.random.default_rng(1).permutation(DRAWS)
    shuffled = LIFT.only(order)
    before, after = bounds(LIFT, PAIR, ends, own), bounds(shuffled, PAIR, ends, own)
    assert (after.low == before.low[:, order]).all()
    assert odds_of(shuffled, own, after) == pytest.approx(odds_of(LIFT, own, before), rel=1e-12)
