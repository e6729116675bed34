"""The search for springs and mounts: against a general optimiser, alike for all workers, stoppable, within its zones.

The general optimiser is scipy.optimize.differential_evolution on odds worked out by the exact windows; evenness of the
points is measured by scipy.stats.qmc.discrepancy. The other cases are constructed.
"""

from __future__ import annotations

import importlib.util
import sys
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from dataclasses import replace
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy.optimize import differential_evolution
from scipy.stats import qmc

from loftwright.choice.moves import box_of, chances, steady_points
from loftwright.choice.odds import margin_of, odds_of
from loftwright.choice.search import Budget, Found, Level, judged, search, where_for
from loftwright.choice.stages import typical_row
from loftwright.choice.window import bounds, ends_from, ends_of
from loftwright.core.errors import Bug
from loftwright.core.lifting import Zone

_SPEC = importlib.util.spec_from_file_location("lifts", Path(__file__).with_name("lifts.py"))
assert _SPEC is not None
assert _SPEC.loader is not None
lifts = importlib.util.module_from_spec(_SPEC)
sys.modules["lifts"] = lifts
_SPEC.loader.exec_module(lifts)

LITTLE = Budget(
    mounts=2500, compared=200, few_draws=6, levels=(Level(30, 10, 8, 6, 0.15), Level(6, 10**6, 8, 6, 0.05)), judged=12
)
TINY = Budget(mounts=2200, compared=40, few_draws=4, levels=(Level(26, 6, 2, 3, 0.1),), judged=8)


@pytest.fixture(scope="module")
def lift() -> Any:
    return lifts.small_lift(30, stations=21)


@pytest.fixture(scope="module")
def springs() -> Any:
    return lifts.listed()


@pytest.fixture(scope="module")
def found(lift: Any, springs: Any) -> Found:
    return search(lift, [lifts.pair()], springs, seed=1, budget=LITTLE)


def test_it_does_no_worse_than_a_general_optimiser(lift: Any, springs: Any, found: Found) -> None:
    pair = lifts.pair()
    box, count = box_of(pair), springs.force_1.size

    def objective(points: Any) -> Any:
        points = np.atleast_2d(points.T)
        own = springs.pick(np.clip(points[:, 4].astype(int), 0, count - 1))
        window = bounds(lift, pair, ends_from(points[:, :4]), own)
        # A slope where odds are nought, and only the strokes that can work: the optimiser is lost without both.
        return -odds_of(lift, own, window) - 0.1 * margin_of(window)

    limits = [*zip(box.low, box.high, strict=True), (14.0, 56.0)]
    other = differential_evolution(
        objective, limits, vectorized=True, updating="deferred", popsize=12, maxiter=40, seed=1, tol=0.0, polish=False
    )
    own = springs.pick(np.array([int(other.x[4])]))
    odds = odds_of(lift, own, bounds(lift, pair, ends_from(other.x[None, :4]), own))[0]
    assert odds > 0.3, "the optimiser found nothing to compare with"
    assert found.answers[0].odds > odds - 0.01


def test_the_odds_told_are_the_exact_ones(lift: Any, springs: Any, found: Found) -> None:
    for answer in found.answers:
        own = springs.pick(np.array([answer.fit.entry]))
        assert answer.odds == odds_of(lift, own, bounds(lift, lifts.pair(), ends_of([answer.fit]), own))[0]
    assert judged(lift, [lifts.pair()], springs, [a.fit for a in found.answers]) == found.answers


def test_a_long_list_is_not_looked_at_on_every_mount(lift: Any, springs: Any, found: Found) -> None:
    few = search(lift, [lifts.pair()], springs, seed=1, budget=replace(LITTLE, looks=600))
    assert few.scored < found.scored - 600
    assert few.mounts == found.mounts
    assert few.answers[0].odds > found.answers[0].odds - 0.03


def test_answers_are_sorted_unlike_and_within_the_zones(springs: Any, found: Found) -> None:
    assert len(found.answers) > 3
    assert (
        len(search(lifts.small_lift(4, stations=5), [lifts.pair()], springs, seed=1, budget=TINY, wanted=2).answers)
        == 2
    )
    assert [a.odds for a in found.answers] == sorted((a.odds for a in found.answers), reverse=True)
    table = ends_of([a.fit for a in found.answers]).table
    body = springs.body[[a.fit.entry for a in found.answers]]
    for i in range(len(table)):
        for j in range(i):
            assert body[i] != body[j] or np.abs(table[i] - table[j]).max() >= 0.03
    box = box_of(lifts.pair())
    assert (table >= box.low).all()
    assert (table <= box.high).all()


def test_what_is_in_the_way_belongs_to_the_best_answer(found: Found) -> None:
    assert found.in_the_way
    assert all(share.fails <= 1 - found.answers[0].odds + 1e-9 for share in found.in_the_way)
    assert sum(share.fails for share in found.in_the_way) >= 1 - found.answers[0].odds - 1e-3


def test_a_seed_has_one_answer_whoever_does_the_work(lift: Any, springs: Any) -> None:
    def ask(executor: Any, seed: int = 4) -> Found:
        pairs = [lifts.pair(), lifts.pair(per_side=2)]
        return search(lift, pairs, springs, seed=seed, budget=TINY, executor=executor)

    alone = ask(None)
    with ThreadPoolExecutor(2) as threads:
        assert ask(threads) == alone
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as processes:
        assert ask(processes) == alone
    assert ask(None, seed=5) != alone


def test_known_fits_are_never_lost(lift: Any, springs: Any, found: Found) -> None:
    known = [a.fit for a in found.answers[:2]]
    again = search(lift, [lifts.pair()], springs, seed=9, budget=replace(TINY, mounts=10), known=known)
    assert again.answers[0].odds >= found.answers[0].odds
    # But only if they may be taken and lie in the zones.
    heavy = replace(known[0], entry=springs.force_1.size - 1)
    capped = replace(lift, top_pressure=13.0e6)
    assert all(
        a.fit != heavy for a in search(capped, [lifts.pair()], springs, seed=9, budget=TINY, known=[heavy]).answers
    )
    with pytest.raises(Bug, match="outside"):
        search(lift, [lifts.pair()], springs, seed=9, budget=TINY, known=[replace(known[0], foot_x=0.0)])


def test_it_can_be_watched_and_stopped(lift: Any, springs: Any) -> None:
    told: list[tuple[float, str]] = []
    search(lift, [lifts.pair()], springs, seed=1, budget=TINY, progress=lambda share, text: told.append((share, text)))
    assert [share for share, _ in told] == sorted(share for share, _ in told)
    assert told[-1][0] == 1.0
    assert len({text for _, text in told}) > 3

    for after in (0, 1, 2, 3, 4):
        asked = iter(range(100))
        stopped = search(
            lift,
            [lifts.pair()],
            springs,
            seed=1,
            budget=TINY,
            cancelled=lambda asked=asked, after=after: next(asked) >= after,
        )
        assert stopped.stopped
        assert bool(stopped.answers) == (stopped.mounts > 0)
    with ThreadPoolExecutor(1) as threads:
        asked = iter(range(100))
        halted = search(
            lift, [lifts.pair()], springs, seed=1, budget=TINY, executor=threads, cancelled=lambda: next(asked) >= 2
        )
    assert halted.stopped


def test_a_zone_may_be_a_point(lift: Any, springs: Any) -> None:
    pair = replace(
        lifts.pair(),
        foot=Zone("hole", "van", 1.705, 1.705, -0.055, -0.055, 0.6),
        head=Zone("hole", "shell", 1.458, 1.458, 0.035, 0.035, 0.6),
    )
    found = search(lift, [pair], springs, seed=1, budget=TINY)
    best = found.answers[0].fit
    assert (best.foot_x, best.foot_z, best.head_x, best.head_z) == (1.705, -0.055, 1.458, 0.035)
    ends = ends_from(np.tile([1.705, -0.055, 1.458, 0.035], (springs.force_1.size, 1)))
    assert found.answers[0].odds == odds_of(lift, springs, bounds(lift, pair, ends, springs)).max()


def test_springs_over_the_highest_pressure_are_not_taken(lift: Any, springs: Any) -> None:
    low = replace(lift, top_pressure=9.0e6)
    found = search(low, [lifts.pair()], springs, seed=1, budget=TINY)
    for answer in found.answers:
        entry = answer.fit.entry
        force = springs.force_1[entry] * springs.ratio[entry] + springs.loop[entry] / 2
        assert force / (np.pi / 4 * 0.010**2) <= 9.0e6
    assert found.springs < springs.force_1.size
    assert search(replace(lift, top_pressure=1.0), [lifts.pair()], springs, seed=1, budget=TINY).answers == ()


def test_springs_at_hand_are_mounted_as_far_as_they_go(lift: Any, springs: Any) -> None:
    own = springs.pick(np.array([springs.names.index("2-700"), springs.names.index("2-150")]))
    pairs = [lifts.pair(), lifts.pair(per_side=2)]
    found = where_for(lift, pairs, own, [2, 4], seed=1, budget=TINY)
    assert found.answers[0].odds > 0.2
    assert found.answers[0].fit.entry == 0
    assert all(pairs[a.fit.pair].count <= (2, 4)[a.fit.entry] for a in found.answers)
    # The weak ones alone never hold it up, and it is said which demand that is.
    weak = where_for(lift, pairs, own, [1, 4], seed=1, budget=TINY)
    assert {a.fit.entry for a in weak.answers} == {1}
    assert weak.answers[0].odds < 1e-3
    assert weak.in_the_way[0].rule in {"start", "rises", "stays up"}
    assert weak.in_the_way[0].fails > 0.99
    assert where_for(lift, pairs, own, [1, 1], seed=1, budget=TINY).answers == ()
    # Four of half the force would do as well, but there are three.
    half = springs.pick(np.array([springs.names.index("2-350"), springs.names.index("2-150")]))
    assert where_for(lift, pairs, half, [4, 4], seed=1, budget=TINY).answers[0].odds > 0.1
    assert where_for(lift, pairs, half, [3, 4], seed=1, budget=TINY).answers[0].odds < 1e-3
    with pytest.raises(Bug):
        where_for(lift, pairs, own, [2], seed=1)
    with pytest.raises(Bug):
        search(lift, [], own, seed=1)


def test_springs_that_fit_nowhere_are_told_by_their_length(lift: Any) -> None:
    """Constructed: springs no shorter than 0.9 m, for places 0.8 m apart at most."""
    long = lifts.listed(strokes=[900])
    found = search(lift, [lifts.pair()], long, seed=1, budget=TINY)
    assert found.answers[0].odds == 0.0
    assert found.in_the_way[0].rule == "closed length"
    assert found.in_the_way[0].fails == 1.0


def test_points_are_spread_more_evenly_than_by_chance() -> None:
    even = steady_points(0, 512, chances((4,), (3,)))
    by_chance = chances((512, 4), (3, 1))
    assert qmc.discrepancy(even) < 0.5 * qmc.discrepancy(by_chance)
    assert (steady_points(100, 50, np.zeros(4)) == steady_points(0, 200, np.zeros(4))[100:150]).all()
    assert by_chance.min() >= 0
    assert by_chance.max() < 1


def test_the_nominal_row_is_the_typical_one() -> None:
    lift = lifts.small_lift(50)
    assert typical_row(lift).tolist() == [0]
    assert typical_row(replace(lift, holding=np.arange(50) == 7)).tolist() == [7]
