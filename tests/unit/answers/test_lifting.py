"""What a roof asks of its springs, as bounds on their drive, against the judgement of the same roof with its springs.

Second way: the demos' own springs put into the bounds must be judged, draw by draw and rule by rule, as the whole
roof is. The distribution of a chance is held against scipy's. The rest are exact constructed cases.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy.stats import norm

from loftwright.answers.choose_roofs import own_entry
from loftwright.answers.judged_roof import RoofNumbers, judged_roof
from loftwright.answers.lifting import all_hold, at_state, lift_of, margin_of, normal_spread, thinned_bound
from loftwright.answers.roof_odds import factor_window
from loftwright.choice.window import Ends, Window, bounds
from loftwright.core.judged import Judged
from loftwright.core.lifting import Lift, Pair, Zone
from loftwright.mechanics import rules
from loftwright.mechanics.hand_rules import hand_forces, judge_feel
from loftwright.project.demos import demo

LENGTHS = {"LIFT-201": "closed_spare", "LIFT-202": "open_spare"}
CEILINGS = ("LIFT-212", "LIFT-213", "LIFT-211")
NAMES = ("fennimoor", "ottergate", "quellmere")


@cache
def found(name: str) -> RoofNumbers:
    return judged_roof(demo(name)).numbers


def lift(name: str, step: int) -> Lift:
    one = found(name)
    return lift_of(
        one.project, one.rows, one.roof, one.felt, one.roof.possible, seed=one.project.settings.seed, step=step
    )


def window(name: str, step: int) -> Window:
    """Return the window of the file's own springs in their own holes."""
    spring = found(name).project.spring[0]
    zones = [
        Zone("", on, 0.0, 0.0, 0.0, 0.0, spring.place.nominal + off)
        for on, off in ((spring.foot_on, 0.0), (spring.head_on, spring.sideways.nominal))
    ]
    ends = Ends(*(np.array([v.nominal]) for v in (spring.foot.x, spring.foot.z, spring.head.x, spring.head.z)))
    pair = Pair(zones[0], zones[1], spring.per_side)
    return bounds(lift(name, step), pair, ends, own_entry(found(name).project))


def verdicts(name: str) -> dict[str, np.ndarray]:
    """Return by rule in which joint draws the whole roof holds."""
    one = found(name)
    holds: dict[str, np.ndarray] = defaultdict(lambda: np.ones(one.rows.draws.stop - one.rows.draws.start, bool))
    for judged in judge_feel(one.roof, one.felt):
        margin = margin_of(judged, one.rows.count)
        if margin is not None:
            holds[judged.rule.id] &= margin[one.rows.draws] >= 0
    return holds


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("step", [1, 4])
def test_the_files_own_springs_are_judged_alike_rule_by_rule(name: str, step: int) -> None:
    whole, own, asked = verdicts(name), window(name, step), lift(name, step)
    factor = 1.0 + own_entry(found(name).project).tolerance[0] * asked.chances.delivered
    seen = []
    for place, demand in enumerate(asked.demands):
        holds = (own.lows[place, 0] <= factor) & (factor <= own.highs[place, 0])
        assert (holds == whole[demand.rule.id]).all(), demand.rule.id
        seen.append(demand.rule.id)
    for place, rule in enumerate(CEILINGS):
        if rule in whole:
            assert ((factor <= own.highs[len(asked.demands) + place, 0]) == whole[rule]).all()
    for rule, spare in LENGTHS.items():
        assert ((getattr(own, spare)[0] >= 0) == whole[rule]).all()
    hand = {one.asked.rule.id for one in hand_forces(found(name).roof, found(name).felt)}
    assert set(seen) == hand
    # Some rules hold and some fail, so that agreement says something.
    share = [whole[rule].mean() for rule in seen]
    assert min(share) < 1.0
    assert max(share) == 1.0


@pytest.mark.parametrize("name", NAMES)
def test_the_bounds_on_the_delivered_force_are_those_of_the_hand_forces(name: str) -> None:
    # One way from the drive that is asked for, the other from hand forces and their slope.
    one, asked, own = found(name), lift(name, 1), window(name, 1)
    hand = [h for h in hand_forces(one.roof, one.felt) if h.asked.rule is not rules.TAKES_OVER]
    low, high, _ = factor_window(one.rows, one.roof, one.felt, hand, ())
    delivered = one.roof.fitted[0].delivered[one.rows.draws]
    places = [i for i, demand in enumerate(asked.demands) if demand.rule is not rules.TAKES_OVER]
    np.testing.assert_allclose(own.lows[places, 0].max(axis=0), low * delivered, rtol=0, atol=1e-9)
    np.testing.assert_allclose(own.highs[places, 0].min(axis=0), high * delivered, rtol=0, atol=1e-9)


def test_chances_are_those_of_every_other_answer() -> None:
    one, asked = found("fennimoor"), lift("fennimoor", 4)
    fitted, spring = one.roof.fitted[0], one.project.spring[0]
    draws = one.rows.draws
    np.testing.assert_allclose(1.0 + 0.05 * asked.chances.delivered, fitted.delivered[draws], rtol=1e-12)
    np.testing.assert_allclose(60.0 + 15.0 * asked.chances.loop, fitted.mount.spring.loop[draws], rtol=1e-12)
    np.testing.assert_allclose(
        spring.head.x.nominal + asked.chances.head_x, np.asarray(fitted.mount.head_x)[draws], rtol=1e-12
    )


def test_springs_that_stay_are_part_of_the_bounds() -> None:
    one = found("quellmere")
    spring = one.project.spring[0]
    twin = spring.model_copy(update={"name": "twin"})
    both = judged_roof(one.project.model_copy(update={"spring": (spring, twin)})).numbers
    kept = lift_of(both.project, both.rows, both.roof, both.felt, both.roof.possible, seed=1, tried=(0,))
    alone = {demand.rule.id: demand for demand in lift("quellmere", 1).demands}
    pushes = {"raising": both.felt.drive.springs_raising, "lowering": both.felt.drive.springs_lowering}
    for demand in kept.demands:
        # What is asked between two stations follows how the tried springs run there.
        if demand.rule.id not in ("LIFT-206", "LIFT-214") and demand.moving in pushes:
            # The drive that is still asked for is less by what the twin pushes.
            there = np.isfinite(demand.bound)
            twins = pushes[demand.moving][1][at_state(demand.state)][both.rows.draws]
            np.testing.assert_allclose(
                (demand.bound + twins)[there], alone[demand.rule.id].bound[there], rtol=1e-9, atol=1e-6
            )
    lost = [demand.lost for demand in kept.demands if demand.rule.id == "LIFT-214"]
    # One of the tried springs may go, or one of the twins.
    assert sorted(lost) == [0, 1]


def test_the_spread_of_a_chance_is_normal() -> None:
    x = np.linspace(-2.0, 2.0, 41)
    # Two standard deviations are one unit; linear between points 1/80 apart.
    np.testing.assert_allclose(normal_spread().below(x), norm.cdf(x, scale=0.5), atol=5e-5)


def test_a_thinned_bound_asks_for_the_most_around_each_station() -> None:
    bound = np.array([[1.0, 2.0, -np.inf, 5.0, 4.0, 3.0, 9.0, 0.0, 1.0]])
    assert thinned_bound(bound, None, 4, at_least=True).tolist() == [[2.0, 5.0, 9.0]]
    assert thinned_bound(np.full((1, 9), np.inf), None, 4, at_least=False).tolist() == [[np.inf] * 3]
    # A drive twice as large at the station as beside it makes what is asked beside it twice as large.
    shape = np.array([[1.0, 1.0, 1.0, 1.0, 1.9, 1.0, 1.0, 1.0, 1.0]])
    assert thinned_bound(bound, shape, 4, at_least=True)[0, 1] == pytest.approx(5.0 * 1.9)


def test_holding_needs_every_judgement() -> None:
    value, limit = np.array([1.0, 3.0, 1.0]), np.full(3, 2.0)
    judged = [Judged(rules.START, value, limit), Judged(rules.BRACKET, None, None)]
    assert all_hold(judged, np.array([True, True, False])).tolist() == [True, False, False]


def test_picking_rows_picks_them_everywhere() -> None:
    whole = lift("fennimoor", 4)
    few = whole.only(np.array([3, 5]))
    assert few.draws == 2
    np.testing.assert_array_equal(few.demands[0].bound, whole.demands[0].bound[[3, 5]])
    assert replace(few).travel.fraction.size == 31
