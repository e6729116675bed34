"""Where the springs go after readings: odds counted draw by draw, and what must be true of any answer.

Second way: the same odds from the exact windows, counted in plain loops. The other cases are constructed.
"""

from __future__ import annotations

import importlib.util
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from loftwright.choice.next_move import PRICE, Move, next_moves
from loftwright.choice.patterns import chance_of
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


@pytest.fixture(scope="module")
def lift() -> Any:
    return lifts.small_lift(40, stations=21)


@pytest.fixture(scope="module")
def springs() -> Any:
    return lifts.listed(strokes=range(250, 451, 50))


@pytest.fixture(scope="module")
def here(lift: Any, springs: Any) -> Fit:
    return search(lift, [lifts.pair()], springs, seed=1, budget=BUDGET).answers[0].fit


@pytest.fixture(scope="module")
def holes(here: Fit) -> list[Fit]:
    return [replace(here, head_x=here.head_x + step) for step in (-0.05, -0.025, 0.025)]


def delivered(lift: Any, chance: float) -> Any:
    """Return a lift whose springs came with one known force."""
    return replace(lift, chances=replace(lift.chances, delivered=np.full(lift.draws, chance)))


@pytest.fixture(scope="module")
def weak(lift: Any, springs: Any, here: Fit, holes: list[Fit]) -> tuple[Move, ...]:
    return next_moves(delivered(lift, -1.0), lift, lifts.pair(), springs, here, holes, seed=2)


def test_odds_are_those_counted_draw_by_draw(lift: Any, springs: Any, here: Fit, weak: Any) -> None:
    for move in weak:
        own = springs.pick(np.array([move.fit.entry]))
        window = bounds(lift, lifts.pair(), ends_of([move.fit]), own)
        if move.fit.entry == here.entry:
            factor = 1.0 - float(own.tolerance[0])
            fits = [
                window.fits[0, d] and window.low[0, d] <= factor <= window.high[0, d] and lift.holding[d]
                for d in range(lift.draws)
            ]
            assert move.odds == sum(fits) / lift.draws
        else:
            assert move.odds == pytest.approx(chance_of(lift, lifts.pair(), own, ends_of([move.fit])).mean())


def test_kinds_are_what_they_say(here: Fit, holes: list[Fit], weak: Any) -> None:
    found = {move.kind: move for move in weak}
    assert found["stay"].fit == here
    assert found["another hole"].fit in holes
    assert found["other springs"].fit.entry != here.entry
    assert replace(found["other springs"].fit, entry=here.entry) in [here, *holes]
    assert found["new hole"].fit.entry == here.entry
    assert [move.worth for move in weak] == sorted((move.worth for move in weak), reverse=True)
    assert PRICE["stay"] == 0.0


def test_weak_springs_are_moved_and_do_better_for_it(weak: Any) -> None:
    stay = next(move for move in weak if move.kind == "stay")
    assert weak[0].kind != "stay"
    assert weak[0].odds > stay.odds


def test_new_holes_lie_in_their_zones(weak: Any) -> None:
    pair = lifts.pair()
    for move in weak:
        assert pair.foot.x_low <= move.fit.foot_x <= pair.foot.x_high
        assert pair.foot.z_low <= move.fit.foot_z <= pair.foot.z_high
        assert pair.head.z_low <= move.fit.head_z <= pair.head.z_high


def test_where_nothing_can_hold_no_move_has_odds(lift: Any, springs: Any, here: Fit, holes: list[Fit]) -> None:
    none = replace(lift, holding=np.zeros(lift.draws, dtype=bool))
    assert {move.odds for move in next_moves(none, none, lifts.pair(), springs, here, holes, seed=2)} == {0.0}


def test_holes_belong_to_the_springs_that_are_fitted(lift: Any, springs: Any, here: Fit) -> None:
    with pytest.raises(Bug, match="fitted"):
        next_moves(lift, lift, lifts.pair(), springs, here, [replace(here, entry=here.entry + 1)], seed=1)
