"""Which forces to order together: independence in closed form, and all sets there are."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
from scipy import stats

from loftwright.choice import ratings
from loftwright.choice.ratings import choose_ratings, compare, odds_of
from loftwright.core.errors import Bug
from loftwright.core.motion import Array


def bumps(seed: int, forces: int, draws: int) -> Array:
    """Chances that a force works, highest where the roof wants it."""
    rng = np.random.default_rng(seed)
    want = rng.normal(400, 60, draws)
    force = np.linspace(200, 600, forces)[:, None]
    return np.asarray(stats.norm.cdf((want + 35 - force) / 20) - stats.norm.cdf((want - 35 - force) / 20))


@pytest.mark.parametrize("count", [1, 2, 3, 4])
def test_equal_chances_are_binomial(count: int) -> None:
    """At least one of n independent trials: 1 - binomial pmf at 0."""
    order = choose_ratings(np.full((6, 50), 0.3), count)
    assert order.odds == pytest.approx(1 - stats.binom.pmf(0, count, 0.3))
    assert len(order.forces) == count


def test_forces_that_work_together_insure_nothing() -> None:
    chance = np.zeros((3, 100))
    chance[0, :60] = chance[1, :59] = 1.0
    chance[2, 60:90] = 1.0
    order = choose_ratings(chance, 2)
    assert (order.forces, order.first, order.odds) == ((0, 2), 0, pytest.approx(0.9))
    assert order.each == pytest.approx((0.6, 0.3))


@pytest.mark.parametrize("count", [1, 2, 3, 4])
@pytest.mark.parametrize("seed", range(3))
def test_best_of_all_sets(seed: int, count: int) -> None:
    chance = bumps(seed, 11, 200)
    best = max(combinations(range(11), count), key=lambda s: 1 - np.prod(1 - chance[list(s)], axis=0).mean())
    order = choose_ratings(chance, count)
    assert order.forces == best
    assert order.proven
    assert order.odds == pytest.approx(odds_of(chance, best))


def test_long_lists_are_searched_step_by_step(monkeypatch: pytest.MonkeyPatch) -> None:
    chance = bumps(5, 30, 400)
    every = choose_ratings(chance, 3)
    monkeypatch.setattr(ratings, "EXHAUSTIVE", 10)
    step = choose_ratings(chance, 3)
    assert every.proven
    assert not step.proven
    assert every.odds >= step.odds >= 0.995 * every.odds


def test_judged_on_fresh_draws() -> None:
    order = choose_ratings(bumps(1, 9, 30), 2, claim=np.full((9, 500), 0.4))
    assert order.odds == pytest.approx(1 - 0.6**2)


def test_fewer_forces_than_wanted() -> None:
    assert choose_ratings(np.full((2, 10), 0.5), 4).forces == (0, 1)
    with pytest.raises(Bug):
        choose_ratings(np.full((2, 10), 0.5), 0)


def test_two_plans_are_compared_pair_by_pair() -> None:
    """Standard error of paired differences: that of a one-sample mean (scipy.stats.sem)."""
    rng = np.random.default_rng(0)
    one, two = rng.random(4000) < 0.8, rng.random(4000) < 0.7
    versus = compare(one, two)
    assert versus.gain == pytest.approx(one.mean() - two.mean())
    assert versus.error == pytest.approx(stats.sem(one.astype(float) - two, ddof=0))
    assert versus.clear
    assert not compare(one, one).clear
