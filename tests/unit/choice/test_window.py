"""Windows of the delivered force against the whole balance, root finding, and exact constructed cases.

Everything here is computed from first principles: the balance of the mechanics is asked, at many delivered forces, for
the hand's forces, which the closed form never works out; roots come from scipy's brentq, probabilities from its stats.
"""

from __future__ import annotations

import importlib.util
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.stats import norm

from loftwright.choice.moves import box_of
from loftwright.choice.odds import CLOSED_LENGTH, holds, margin_of, odds_of, probability, shares
from loftwright.choice.scoring import bodies_of, score, stock
from loftwright.choice.window import CEILINGS, NOTHING, Ends, bounds, drawn, ends_from, reach
from loftwright.core.lifting import Entries, Lift, Pair
from loftwright.mechanics.balance import Drive, Mount, balance, lever, push_of
from loftwright.mechanics.feel import END_FITTING_LENGTH, TUBE_WALL
from loftwright.mechanics.gas_spring import GasSpring, at_temperature, compression, moving_in
from loftwright.mechanics.masses import Body
from loftwright.mechanics.strut import CAUTION_FACTOR, spring_critical_load

_SPEC = importlib.util.spec_from_file_location("lifts", Path(__file__).with_name("lifts.py"))
assert _SPEC is not None
assert _SPEC.loader is not None
lifts = importlib.util.module_from_spec(_SPEC)
sys.modules["lifts"] = lifts
_SPEC.loader.exec_module(lifts)

DRAWS, SEED, MOUNTS = 8, 3, 10
SHUT, START, RISES, STAYS_UP, PULL, LOST = range(6)


def some_ends(pair: Pair, count: int, seed: int = 0) -> Ends:
    """Return ends by chance in the zones of a pair."""
    box = box_of(pair)
    return ends_from(np.random.default_rng(seed).uniform(box.low, box.high, (count, 4)))


class Whole:
    """The whole balance of a roof with springs, for any delivered factors."""

    def __init__(self, lift: Lift, pair: Pair, ends: Ends, entries: Entries, *, weight: Any) -> None:
        self.lift, self.pair, self.roof = lift, pair, weight
        chances, springs = lift.chances, drawn(lift, entries)
        column = (ends.foot_x, ends.foot_z, ends.head_x, ends.head_z)
        off = (chances.foot_x, chances.foot_z, chances.head_x, chances.head_z)
        places = [at[:, None] + by for at, by in zip(column, off, strict=True)]
        spring = GasSpring(
            entries.force_1[:, None] + 0 * springs.ratio,
            springs.ratio,
            springs.loop,
            springs.stroke,
            springs.extended,
            entries.rod_diameter[:, None],
        )
        self.mount = Mount(spring, pair.count, "van", "shell", *places, np.full(lift.draws, pair.sideways))
        self.line = lever(self.mount, lift.travel)

    def drive(self, state: int, factor: Any) -> Drive:
        """Return the balance in one state with the delivered `factor`, [..., mounts, draws]."""
        at = self.lift.states[state]
        push = push_of(self.mount, self.line, kelvin=at.kelvin, factor=at.age * factor)
        body = Body(self.roof.mass, self.roof.x, self.roof.z, self.roof.mass)
        handle = (self.roof.handle, 0 * self.roof.handle)
        return balance(self.lift.travel, body, [push], [], self.roof.friction, handle)

    def met(self, rule: int, factor: Any) -> Any:
        """Return whether a rule is met, from the hand's forces, [..., mounts, draws]."""
        share, limits = self.lift.travel.fraction, lifts.LIMITS
        drive = self.drive({SHUT: lifts.HOT, RISES: lifts.MILD, PULL: lifts.HOT}.get(rule, lifts.COLD), factor)
        still = drive.at_rest / drive.hand_path
        lost = drive.without_one_spring(self.pair.count, 0)
        asked = {
            SHUT: (share <= 0.05, limits["shut"] + still),
            START: (share <= 0.1, drive.push_up - limits["start"]),
            RISES: (share >= limits["rises"], drive.push_up),
            STAYS_UP: (share >= 0.95, limits["stays up"] - still),
            PULL: (share >= 0.0, drive.pull_down - limits["pull"]),
            LOST: (share >= 0.95, -lost.at_rest / lost.hand_path),
        }
        where, over = asked[rule]
        return (over[..., where] <= 0).all(axis=-1)


@pytest.fixture(scope="module")
def case() -> Any:
    """Return lift, pair, ends, entries and the whole balance; the zones are wide enough for springs that shrink."""
    roof = lifts.roof(DRAWS, SEED)
    lift = lifts.lift_of(roof, SEED, lost=True)
    pair = lifts.pair(wider=0.15, sideways=0.03)
    ends = some_ends(pair, MOUNTS)
    springs = lifts.listed()
    entries = springs.pick(np.arange(0, springs.force_1.size, springs.force_1.size // MOUNTS)[:MOUNTS])
    return lift, pair, ends, entries, Whole(lift, pair, ends, entries, weight=roof)


@pytest.mark.parametrize("rule", range(6))
def test_bounds_agree_with_the_whole_balance(case: Any, rule: int) -> None:
    lift, pair, ends, entries, whole = case
    window = bounds(lift, pair, ends, entries)
    factor = np.linspace(0.05, 6.0, 60)[:, None, None]
    inside = (window.lows[rule] <= factor) & (factor <= window.highs[rule])
    met = whole.met(rule, factor)
    assert met.any(), "the grid never meets it"
    assert not met.all(), "the grid never breaks it"
    assert (inside == met).all()


def test_springs_that_shrink_and_grow_are_both_among_the_mounts(case: Any) -> None:
    lift, pair, ends, _, _ = case
    rate = reach(lift, pair, ends).rate
    assert (rate[0] < 0).any()
    assert (rate[0] > 0).any()
    assert ((rate.min(axis=0) < 0) & (rate.max(axis=0) > 0)).any()


@pytest.mark.parametrize(("rule", "side"), [(STAYS_UP, "lows"), (PULL, "highs"), (SHUT, "highs"), (START, "lows")])
def test_bounds_are_the_roots_of_the_margin(case: Any, rule: int, side: str) -> None:
    """The margin that Whole.met compares with nought, zeroed by scipy.optimize.brentq."""
    lift, pair, ends, entries, whole = case
    found = getattr(bounds(lift, pair, ends, entries), side)[rule]
    mount, draw = np.argwhere(np.isfinite(found) & (found > 0.1) & (found < 20))[0]
    share, limits = lift.travel.fraction, lifts.LIMITS

    def margin(factor: float) -> float:
        drive = whole.drive(lifts.HOT if rule in (PULL, SHUT) else lifts.COLD, factor)
        still = (drive.at_rest / drive.hand_path)[mount, draw]
        return float(
            {
                SHUT: -still[share <= 0.05].max() - limits["shut"],
                START: limits["start"] - drive.push_up[mount, draw][share <= 0.1].max(),
                STAYS_UP: still[share >= 0.95].min() - limits["stays up"],
                PULL: limits["pull"] - drive.pull_down[mount, draw].max(),
            }[rule]
        )

    root = brentq(margin, found[mount, draw] - 0.09, found[mount, draw] + 0.2, xtol=1e-13)
    assert found[mount, draw] == pytest.approx(root, rel=1e-9)


@pytest.mark.parametrize("cause", CEILINGS)
def test_the_greatest_push_reaches_its_limit_at_the_bound(case: Any, cause: str) -> None:
    lift, pair, ends, entries, whole = case
    low = replace(entries, end_limit=np.full(MOUNTS, 500.0))
    high = bounds(lift, pair, ends, low).highs[len(lift.demands) + CEILINGS.index(cause)]
    hot = lift.states[lift.hottest]
    spring = at_temperature(whole.mount.spring, hot.kelvin)
    squeezed = compression(whole.mount.spring, whole.line.length)
    push = moving_in(spring, squeezed, hot.age * high).max(axis=-1)
    bends = spring_critical_load(
        rod_diameter=entries.rod_diameter[:, None],
        tube_diameter=entries.tube_diameter[:, None],
        tube_wall=TUBE_WALL,
        length=whole.line.length.max(axis=-1),
        rod_out=np.maximum(entries.stroke[:, None] - squeezed.min(axis=-1), 0.0) + END_FITTING_LENGTH,
    )
    limit = {"end fitting": 500.0, "bracket": 1500.0, "rod bends": bends / CAUTION_FACTOR}[cause]
    assert push == pytest.approx(np.broadcast_to(limit, push.shape), rel=1e-9)


def test_spare_stroke_is_what_the_lengths_leave(case: Any) -> None:
    lift, pair, ends, entries, whole = case
    window = bounds(lift, pair, ends, entries)
    extended = entries.extended[:, None] + entries.length_doubt[:, None] * lift.chances.length
    squeezed = extended[..., None] - whole.line.length
    left = entries.stroke[:, None] - squeezed.max(axis=-1) - 0.005
    assert window.closed_spare == pytest.approx(left, abs=1e-12)
    assert window.open_spare == pytest.approx(squeezed.min(axis=-1) - 0.005, abs=1e-12)
    assert (window.fits == ((left >= 0) & (squeezed.min(axis=-1) >= 0.005))).all()


def test_a_spring_without_leverage_meets_nothing_that_is_asked() -> None:
    """Constructed: the head sits on the hinge's axis, so that the length never changes."""
    lift = lifts.small_lift(1)
    ends = Ends(*(np.array([v]) for v in (1.6, -0.1, lifts.HINGE_X, lifts.HINGE_Z)))
    window = bounds(lift, lifts.pair(), ends, lifts.listed().pick(np.array([40])))
    assert np.abs(reach(lift, lifts.pair(), ends).rate).max() < 1e-12
    assert window.lows[[START, RISES, STAYS_UP]].tolist() == [[[np.inf]]] * 3
    # The heavy roof stays shut, and is pulled down, without any help.
    assert window.highs[[SHUT, PULL]].tolist() == [[[np.inf]]] * 2
    assert window.below.tolist() in ([[START]], [[RISES]], [[STAYS_UP]])


def test_a_spring_that_is_all_there_is_holds_nothing_once_lost() -> None:
    """Constructed: two springs of two are gone."""
    roof = lifts.roof(2, 1)
    lift = lifts.lift_of(roof, 1, lost=True)
    gone = replace(lift, demands=(replace(lift.demands[LOST], lost=2),))
    window = bounds(gone, lifts.pair(), some_ends(lifts.pair(), 3), lifts.listed().pick(np.arange(3)))
    assert np.isposinf(window.lows[0]).all()
    assert (window.below == 0).all()


def test_nothing_asked_leaves_every_force_and_binds_nowhere() -> None:
    lift = replace(lifts.small_lift(4), demands=(), bracket_limit=None, bending_factor=1e-9)
    entries = lifts.listed().pick(np.array([3]))
    window = bounds(lift, lifts.pair(), some_ends(lifts.pair(), 5), replace(entries, end_limit=np.array([np.inf])))
    assert np.isneginf(window.low).all()
    assert (window.below == NOTHING).all()
    none = bounds(lift, lifts.pair(), some_ends(lifts.pair(), 0), entries.pick(np.zeros(0, dtype=np.intp)))
    assert none.low.shape == (0, 4)


def tightened(lift: Lift, how: str) -> Lift:
    """Return a lift with one more thing asked."""
    if how == "bracket":
        return replace(lift, bracket_limit=np.full(lift.draws, 850.0))
    if how == "rods":
        return replace(lift, bending_factor=6.0)
    if how == "more of the same":
        # 6 N m/rad tighter, once before and once after the demand itself.
        pull, up = lift.demands[PULL], lift.demands[STAYS_UP]
        less, more = replace(pull, bound=pull.bound - 6.0), replace(up, bound=up.bound + 6.0)
        return replace(lift, demands=(less, *lift.demands, more))
    return lift


@pytest.mark.parametrize("how", ["", "bracket", "rods", "more of the same"])
def test_quick_scores_are_near_the_exact_ones(how: str) -> None:
    """The quick score takes one force ratio in heat for a body; how far off that is, is measured here."""
    plain, pair, springs = lifts.small_lift(40), lifts.pair(), lifts.listed(strokes=[150, 200, 250, 300])
    lift = tightened(plain, how)
    bodies = bodies_of(springs)
    shelf = stock(lift, springs, bodies, np.full(springs.force_1.size, 2))
    ends = some_ends(pair, 200)
    middle = np.array([body[body.size // 2] for body in bodies])[np.arange(200) % len(bodies)]
    first = score(shelf, pair, ends, middle)
    again = score(shelf, pair, ends, first.entry)
    for found, most in ((first, 0.02), (again, 0.002)):
        own = springs.pick(found.entry)
        window = bounds(lift, pair, ends, own)
        assert np.abs(found.odds - odds_of(lift, own, window)).max() < most
        assert np.abs(found.margin - margin_of(window)).max() < most
    assert again.odds.max() > 0.1, "a case with something at stake"
    if how:
        without = odds_of(plain, own, bounds(plain, pair, ends, own))
        assert np.abs(again.odds - without).max() > 0.05, "what is asked more does not matter here"


def test_quick_scores_name_the_best_force_of_a_body() -> None:
    lift, pair, springs = lifts.small_lift(30), lifts.pair(), lifts.listed(strokes=[200])
    shelf = stock(lift, springs, bodies_of(springs), np.full(springs.force_1.size, 2))
    ends = Ends(*(np.array([v]) for v in (1.705, -0.055, 1.458, 0.035)))
    found = score(shelf, pair, ends, np.array([5]))
    every = bounds(lift, pair, Ends(*(np.repeat(v, springs.force_1.size) for v in ends.table[0])), springs)
    assert found.entry[0] == odds_of(lift, springs, every).argmax()


# --- odds ----------------------------------------------------------------------------------------------


def test_odds_are_the_mean_of_yes_and_no() -> None:
    """Monte Carlo: with the drawn delivered factor counted, within 4 standard errors of the difference."""
    lift, pair = lifts.small_lift(3000, stations=11), lifts.pair()
    entries = lifts.listed(strokes=[200], forces=[700])
    window = bounds(lift, pair, Ends(*(np.array([v]) for v in (1.705, -0.055, 1.458, 0.035))), entries)
    yes = holds(lift, entries, window)[0]
    odds = odds_of(lift, entries, window)[0]
    assert 0.2 < odds < 0.8
    assert abs(yes.mean() - odds) < 4 * np.sqrt(odds * (1 - odds) / yes.size)


def test_the_delivered_chance_is_averaged_by_its_distribution() -> None:
    """Against the normal distribution of scipy.stats; two standard deviations are the tolerance."""
    spread = lifts.small_lift(1).chances.spread
    found = probability(spread, np.array([0.05]), np.array([0.97]), np.array([1.02]))
    assert found == pytest.approx(norm.cdf(0.02 / 0.025) - norm.cdf(-0.03 / 0.025), abs=1e-4)
    sure = probability(spread, np.zeros(3), np.array([0.9, 1.1, 1.0]), np.array([1.1, 1.2, 1.0]))
    assert sure.tolist() == [1.0, 0.0, 1.0]
    assert probability(spread, np.array([0.05]), np.array([1.2]), np.array([0.9])) == 0.0


def test_shares_tell_what_fails() -> None:
    """Constructed: in two of four roofs everything else fails; one spring is too weak, one too long when closed."""
    lift = lifts.small_lift(4)
    lift = replace(lift, holding=np.array([True, False, False, True]))
    entries = replace(lifts.listed(strokes=[200], forces=[100, 700]), tolerance=np.zeros(2))
    ends = Ends(*(np.array([v, v]) for v in (1.705, -0.055, 1.458, 0.035)))
    weak = {s.rule: s.fails for s in shares(lift, entries, bounds(lift, lifts.pair(), ends, entries))[0]}
    assert weak["rises"] == weak["stays up"] == 1.0
    assert weak["other"] == 0.5
    assert "pull" not in weak
    long = replace(entries, extended=entries.extended + 0.3)
    every = shares(lift, long, bounds(lift, lifts.pair(), ends, long))[0]
    assert next(s.fails for s in every if s.rule == CLOSED_LENGTH) == 1.0
    assert [s.fails for s in every] == sorted((s.fails for s in every), reverse=True)


def test_the_margin_is_the_room_of_the_listed_spring() -> None:
    """Constructed: a window from 0.9 to 1.2 and 30 mm of spare stroke leave log(1/0.9)."""
    window = bounds(lifts.small_lift(2), lifts.pair(), some_ends(lifts.pair(), 1), lifts.listed().pick(np.array([3])))
    shape = window.lows.shape
    window = replace(
        window,
        lows=np.full(shape, 0.9),
        highs=np.full(shape, 1.2),
        closed_spare=np.full((1, 2), 0.03),
        open_spare=np.full((1, 2), 0.05),
    )
    assert margin_of(window) == pytest.approx(np.log(1 / 0.9))
    assert margin_of(replace(window, open_spare=np.full((1, 2), -0.02))) == pytest.approx(-1.0)
