"""Springs chosen together with their holes, and springs ordered together: odds counted one draw at a time, and laws.

Second way: the same odds from the exact windows, counted draw by draw in plain loops. The other cases are
constructed.
"""

from __future__ import annotations

import importlib.util
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from loftwright.choice.odds import odds_of
from loftwright.choice.patterns import (
    QUANTILES,
    Shape,
    chance_of,
    choose_pattern,
    choose_together,
    delivered_quantiles,
    works_in,
)
from loftwright.choice.search import Budget, Level, search
from loftwright.choice.window import bounds, ends_of
from loftwright.core.errors import Bug
from loftwright.core.lifting import Fit

_SPEC = importlib.util.spec_from_file_location("lifts", Path(__file__).with_name("lifts.py"))
assert _SPEC is not None
assert _SPEC.loader is not None
lifts = importlib.util.module_from_spec(_SPEC)
sys.modules["lifts"] = lifts
_SPEC.loader.exec_module(lifts)

BUDGET = Budget(mounts=2500, compared=120, few_draws=6, levels=(Level(24, 10, 5, 5, 0.15),), judged=8)
EFFORT = (Level(30, 10, 1, 1, 0.05), Level(4, 40, 3, 4, 0.05))
SPACING = 0.02


@pytest.fixture(scope="module")
def lift() -> Any:
    return lifts.small_lift(40, stations=21)


@pytest.fixture(scope="module")
def springs() -> Any:
    return lifts.listed(strokes=range(250, 451, 50))


@pytest.fixture(scope="module")
def starts(lift: Any, springs: Any) -> list[Fit]:
    return [answer.fit for answer in search(lift, [lifts.pair()], springs, seed=1, budget=BUDGET).answers]


@pytest.mark.parametrize("shape", [Shape(5, 1), Shape(1, 4), Shape(2, 3)])
def test_holes_lie_in_their_zones_on_a_line_and_apart(lift: Any, springs: Any, starts: Any, shape: Shape) -> None:
    got = choose_pattern(lift, [lifts.pair()], springs, starts, [shape], SPACING, seed=3, effort=EFFORT)
    pair = lifts.pair()
    assert got.feet.shape == (shape.feet, 2)
    assert got.heads.shape == (shape.heads, 2)
    for holes, zone in ((got.feet, pair.foot), (got.heads, pair.head)):
        assert (holes >= np.array([zone.x_low, zone.z_low]) - 1e-9).all()
        assert (holes <= np.array([zone.x_high, zone.z_high]) + 1e-9).all()
        steps = np.diff(holes, axis=0)
        assert np.allclose(steps, steps[:1])
        assert (np.hypot(*steps.T) >= SPACING - 1e-9).all()


def test_odds_are_those_counted_draw_by_draw(lift: Any, springs: Any, starts: Any) -> None:
    got = choose_pattern(lift, [lifts.pair()], springs, starts, [Shape(2, 2)], SPACING, seed=3, effort=EFFORT)
    own = springs.pick(np.array([got.entry]))
    window = bounds(lift, lifts.pair(), got.ends, own)
    share = (np.arange(QUANTILES) + 0.5) / QUANTILES
    chance = np.interp(share, lift.chances.spread.cumulative, lift.chances.spread.x)
    count = 0
    for draw in range(lift.draws):
        for factor in 1.0 + float(own.tolerance[0]) * chance:
            count += any(
                window.fits[hole, draw] and window.low[hole, draw] <= factor <= window.high[hole, draw]
                for hole in range(got.ends.count)
            )
    assert got.learned == pytest.approx(count / (lift.draws * QUANTILES), abs=1e-12)
    works = works_in(lift, lifts.pair(), own, got.ends, delivered_quantiles(lift, own.tolerance[0]))
    assert works.any(axis=0).mean() == pytest.approx(got.learned, abs=1e-12)
    # Every foot with every head, heads of the first foot first.
    assert got.ends.table[1].tolist() == [*got.feet[0], *got.heads[1]]


def test_a_row_helps_where_one_hole_fails_often(lift: Any, springs: Any, starts: Any) -> None:
    best = starts[0]
    own = springs.pick(np.array([best.entry]))
    alone = odds_of(lift, own, bounds(lift, lifts.pair(), ends_of([best]), own))
    got = choose_pattern(lift, [lifts.pair()], springs, starts, [Shape(2, 3)], SPACING, seed=3, effort=EFFORT)
    assert 0.2 < alone[0] < 0.97
    assert got.learned > alone[0] + 0.02


def test_more_effort_from_the_same_first_rows_is_never_worse(lift: Any, springs: Any, starts: Any) -> None:
    args = (lift, [lifts.pair()], springs, starts, [Shape(1, 3)], SPACING)
    first = Level(20, 40, 1, 1, 0.05)
    looked, moved = (choose_pattern(*args, seed=2, effort=e) for e in ((first,), (first, Level(4, 40, 3, 3, 0.05))))
    again = choose_pattern(*args, seed=2, effort=(first, Level(4, 40, 3, 3, 0.05)))
    assert moved.learned >= looked.learned
    assert (again.entry, again.learned, again.feet.tolist()) == (moved.entry, moved.learned, moved.feet.tolist())


def test_springs_ordered_together_count_as_chances_of_their_own(lift: Any, springs: Any, starts: Any) -> None:
    pairs = [lifts.pair()]
    got = choose_together(lift, pairs, springs, starts, 3, seed=1, effort=(Level(5, 40, 2, 4, 0.05),))
    entries = [fit.entry for fit in got.fits]
    assert len(set(entries)) == 3
    chance = chance_of(lift, pairs[0], springs.pick(np.array(entries)), ends_of(got.fits))
    missed = 0.0
    for draw in range(lift.draws):
        missed += (1 - chance[0, draw]) * (1 - chance[1, draw]) * (1 - chance[2, draw])
    assert got.learned == pytest.approx(1 - missed / lift.draws, abs=1e-12)
    assert got.learned >= chance.mean(axis=1).max()
    assert chance.mean(axis=1).tolist() == sorted(chance.mean(axis=1).tolist(), reverse=True)


def test_what_cannot_hold_holds_in_no_hole(lift: Any, springs: Any, starts: Any) -> None:
    none = replace(lift, holding=np.zeros(lift.draws, dtype=bool))
    got = choose_pattern(none, [lifts.pair()], springs, starts, [Shape(1, 2)], SPACING, seed=3, effort=EFFORT[:1])
    assert got.learned == 0.0


def test_nothing_to_start_from_is_a_bug(lift: Any, springs: Any) -> None:
    with pytest.raises(Bug, match="somewhere to start"):
        choose_pattern(lift, [lifts.pair()], springs, [], [Shape(1, 2)], SPACING, seed=1)
    with pytest.raises(Bug, match="somewhere to start"):
        choose_together(lift, [lifts.pair()], springs, [], 2, seed=1)
