"""Value of readings against the textbook problem with a closed answer.

Two actions, loss linear in a normal unknown: EVPI = s L(|m| / s), and EVSI the same with the standard deviation of
the posterior mean in place of s, where L(z) = phi(z) - z (1 - Phi(z)) is the unit normal loss integral. H. Raiffa and
R. Schlaifer, Applied Statistical Decision Theory, 1961: attribution from memory; the formulas were read in public
reproductions.
"""

from __future__ import annotations

import time

import numpy as np
import pytest
from scipy import stats

from loftwright.choice.worth import groups_of, groups_of_set, learning, learning_of_sets
from loftwright.core.motion import Array


def loss(z: float) -> float:
    return float(stats.norm.pdf(z) - z * stats.norm.sf(z))


def two_actions(mean: float, deviation: float, draws: int, seed: int = 1) -> tuple[Array, Array]:
    """Odds of a known design, 0.5, and of one whose odds are normal about 0.5 + mean; with the unknown itself."""
    unknown = np.random.default_rng(seed).normal(mean, deviation, draws)
    return np.stack([np.full(draws, 0.5), 0.5 + unknown]), unknown


@pytest.mark.parametrize("mean", [0.0, 0.03, -0.06])
@pytest.mark.parametrize("noise", [0.0, 0.05, 0.15])
def test_normal_linear_loss(mean: float, noise: float) -> None:
    deviation, draws = 0.08, 40_000
    chance, unknown = two_actions(mean, deviation, draws)
    reading = unknown + noise * np.random.default_rng(2).standard_normal(draws)
    before_posterior = deviation**2 / np.hypot(deviation, noise)
    got = learning(chance, reading[None])
    expected = before_posterior * loss(abs(mean) / before_posterior)
    assert got.gain[0] == pytest.approx(expected, abs=4e-4 + 3 * got.error[0])
    assert got.gain[0] == pytest.approx(expected, abs=2e-3)
    assert got.plug_in[0] - got.now == pytest.approx(expected, abs=2e-3)
    assert got.all_known - got.now == pytest.approx(deviation * loss(abs(mean) / deviation), abs=1.5e-3)


def test_two_readings_of_one_unknown() -> None:
    """Their mean has an error smaller by sqrt 2: same closed form."""
    chance, unknown = two_actions(0.02, 0.08, 40_000)
    noise = np.random.default_rng(3).normal(0, 0.1, (2, 40_000))
    got = learning_of_sets(chance, unknown + noise, ((0,), (1,), (0, 1)))
    one, both = (0.08**2 / np.hypot(0.08, 0.1 / np.sqrt(n)) for n in (1, 2))
    assert got.gain == pytest.approx([one * loss(0.02 / one)] * 2 + [both * loss(0.02 / both)], abs=2e-3)


def test_yes_or_no_is_bayes_rule() -> None:
    """Known design 0.6; another sure to work in 60 of 100; a test right in 80 of 100 of both kinds: by hand.

    Yes in 0.6 x 0.8 + 0.4 x 0.2 = 0.56, then 0.48 / 0.56 beats 0.6; no in 0.44, then 0.6 stays. After: 0.48 + 0.264.
    """
    works = np.repeat([1.0, 1.0, 0.0, 0.0], [480, 120, 80, 320])
    yes = np.repeat([1.0, 0.0, 1.0, 0.0], [480, 120, 80, 320])
    got = learning(np.stack([np.full(1000, 0.6), works]), yes[None], count=5)
    assert got.now == pytest.approx(0.6)
    assert got.plug_in[0] == pytest.approx(0.744)
    assert got.after[0] == pytest.approx(0.744, abs=2e-3)


def test_noise_is_not_sold_as_gain() -> None:
    """Designs all alike and readings of nothing: the plug-in figure promises, the fair one does not."""
    rng = np.random.default_rng(4)
    got = learning((rng.random((40, 200)) < 0.5).astype(float), rng.standard_normal((60, 200)))
    assert (got.plug_in - got.now).mean() > 0.08
    assert got.gain.mean() < 0.03
    assert np.median(got.gain) < got.error.mean()


def test_error_tells_how_far_the_gain_wanders() -> None:
    rng = np.random.default_rng(5)
    chance = np.linspace(-2, 2, 30)[:, None]
    found = []
    for _ in range(30):
        unknown = rng.standard_normal(300)
        got = learning(np.exp(-((chance - unknown) ** 2) / 0.3), (unknown + 0.5 * rng.standard_normal(300))[None])
        found.append((got.gain[0], got.error[0]))
    gains, errors = np.array(found).T
    assert 0.6 < gains.std() / errors.mean() < 1.6


def test_ranked_by_gain_per_minute() -> None:
    rng = np.random.default_rng(6)
    unknown = rng.standard_normal(2000)
    chance = np.exp(-((np.linspace(-2, 2, 30)[:, None] - unknown) ** 2) / 0.3)
    readings = unknown + np.array([[0.1], [0.4], [1e6], [0.1], [1e6]]) * rng.standard_normal((5, 2000))
    got = learning(chance, readings)
    assert list(got.ranked(np.array([20.0, 5.0, 9.0, 90.0, 3.0]))) == [1, 0, 3, 4, 2]


def test_groups_are_even_and_equal_readings_share_one() -> None:
    rng = np.random.default_rng(7)
    assert np.bincount(groups_of(rng.random((1, 600)), 6)[0]).tolist() == [100] * 6
    mixed = np.concatenate([np.zeros(450), np.ones(50), np.full(100, np.nan)])[rng.permutation(600)]
    found = groups_of(mixed[None], 6)[0]
    for kind in (mixed == 0, mixed == 1, np.isnan(mixed)):
        assert len(set(found[kind])) == 1
    assert len(set(found)) == 3


def test_groups_of_two_readings_split_like_a_tree() -> None:
    rng = np.random.default_rng(8)
    one = rng.random(900)
    found = groups_of_set(np.stack([one, one + 0.1 * rng.random(900)]), 3)
    assert np.bincount(found).tolist() == [100] * 9
    assert [one[found // 3 == i].max() < one[found // 3 == i + 1].min() for i in (0, 1)] == [True, True]


def test_quick_enough_for_every_check() -> None:
    rng = np.random.default_rng(9)

    def least(designs: int, draws: int, times: int) -> float:
        chance, readings = rng.random((designs, draws)), rng.random((40, draws))
        taken = []
        for _ in range(times):
            begin = time.process_time()
            learning(chance, readings)
            taken.append(time.process_time() - begin)
        return min(taken)

    assert least(40, 200, 5) < 0.02
    assert least(200, 2000, 1) < 1.0
