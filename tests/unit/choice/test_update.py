"""The linear update, by textbook formulas, by general least squares, and by its laws."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import lsq_linear

from loftwright.choice.update import Beliefs, draws_after, gain_of, independent, learn, spread_of
from loftwright.core.errors import Bug
from loftwright.core.motion import Array


def case(seed: int, inputs: int = 4, readings: int = 3) -> tuple[Array, Array, Array, Array, Array]:
    """Return mean, sd, Jacobian, noise and readings less prediction of a random linear case (constructed)."""
    rng = np.random.default_rng(seed)
    return (
        rng.normal(size=inputs),
        rng.uniform(0.2, 3.0, inputs),
        rng.normal(size=(readings, inputs)),
        rng.uniform(0.1, 2.0, readings),
        rng.normal(size=readings),
    )


def test_as_the_textbook_gain() -> None:
    # Jazwinski (1970), 7.3, written out here from memory with explicit inverses.
    mean, sd, slope, noise, off = case(1)
    prior, r = np.diag(sd**2), np.diag(noise**2)
    gain = prior @ slope.T @ np.linalg.inv(slope @ prior @ slope.T + r)
    after = learn(independent(mean, sd), off, slope, noise)
    np.testing.assert_allclose(after.mean, mean + gain @ off, rtol=1e-10)
    np.testing.assert_allclose(after.covariance, (np.eye(4) - gain @ slope) @ prior, atol=1e-12)
    np.testing.assert_allclose(gain_of(sd, slope, noise), gain, rtol=1e-10)
    np.testing.assert_allclose(spread_of(sd, slope, noise), slope @ prior @ slope.T + r, rtol=1e-12)


def test_as_general_least_squares() -> None:
    # Second way: numpy's lstsq on readings and prior values together, each over its own standard deviation.
    mean, sd, slope, noise, off = case(2, 5, 7)
    rows = np.vstack([np.diag(1 / sd), slope / noise[:, None]])
    wanted = np.concatenate([mean / sd, (off + slope @ mean) / noise])
    after = learn(independent(mean, sd), off, slope, noise)
    np.testing.assert_allclose(after.mean, np.linalg.lstsq(rows, wanted, rcond=None)[0], rtol=1e-9)
    np.testing.assert_allclose(after.covariance, np.linalg.inv(rows.T @ rows), rtol=1e-9)


def test_one_scale_read_twice() -> None:
    # Exact constructed case: prior 10 +- 2 and two readings of it, 13 +- 1 each: weights 1/4, 1, 1.
    after = learn(independent([10.0], [2.0]), [3.0, 3.0], [[1.0], [1.0]], [1.0, 1.0])
    assert after.mean[0] == pytest.approx((10 / 4 + 13 + 13) / 2.25)
    assert after.sd[0] == pytest.approx(1 / 1.5)


@given(st.integers(0, 10_000))
@settings(max_examples=25)
def test_a_reading_never_widens(seed: int) -> None:
    mean, sd, slope, noise, off = case(seed)
    before = independent(mean, sd)
    after = learn(before, off, slope, noise)
    # Loewner order: what is taken away is positive semidefinite.
    assert np.linalg.eigvalsh(before.covariance - after.covariance).min() > -1e-9


@given(st.integers(0, 10_000))
@settings(max_examples=25)
def test_the_order_of_readings_does_not_matter(seed: int) -> None:
    mean, sd, slope, noise, off = case(seed)
    wanted = off + slope @ mean

    def one_by_one(order: list[int]) -> Beliefs:
        known = independent(mean, sd)
        for k in order:
            known = learn(known, wanted[[k]] - slope[[k]] @ known.mean, slope[[k]], noise[[k]])
        return known

    together = learn(independent(mean, sd), off, slope, noise)
    for order in ([0, 1, 2], [2, 0, 1]):
        found = one_by_one(order)
        np.testing.assert_allclose(found.mean, together.mean, rtol=1e-7, atol=1e-9)
        np.testing.assert_allclose(found.covariance, together.covariance, rtol=1e-7, atol=1e-9)


def test_draws_agree_with_the_formulas() -> None:
    # Matheron's rule is exact here: normal, linear, no bounds. Four standard errors of 40 000 draws.
    mean, sd, slope, noise, off = case(3)
    rng = np.random.default_rng(1)
    draws = mean + sd * rng.standard_normal((40_000, 4))
    wanted = off + slope @ mean + noise * rng.standard_normal((40_000, 3))
    found = draws_after(draws, wanted - draws @ slope.T, sd, slope, noise)
    after = learn(independent(mean, sd), off, slope, noise)
    error = 4 * after.sd / 200
    assert np.all(np.abs(found.mean(axis=0) - after.mean) < error)
    np.testing.assert_allclose(found.std(axis=0), after.sd, rtol=0.02)


def test_bounds_as_by_bounded_least_squares() -> None:
    # Second way: scipy's lsq_linear finds the least squares within bounds for each draw by itself.
    _, sd, slope, noise, _ = case(4)
    rng = np.random.default_rng(2)
    draws = rng.uniform(-1.7, 1.7, (60, 4)) * sd
    wanted = rng.normal(0.0, 4.0, (60, 3))
    low, high = -1.8 * sd, 1.8 * sd
    found = draws_after(draws, wanted - draws @ slope.T, sd, slope, noise, low=low, high=high)
    assert np.all((found >= low) & (found <= high))
    rows = np.vstack([np.diag(1 / sd), slope / noise[:, None]])

    def cost(x: Array, k: int) -> float:
        return float(((rows @ x - np.concatenate([draws[k] / sd, wanted[k] / noise])) ** 2).sum())

    exact = [
        lsq_linear(rows, np.concatenate([x / sd, y / noise]), (low, high)).x for x, y in zip(draws, wanted, strict=True)
    ]
    met = np.array([cost(x, k) for k, x in enumerate(found)])
    best = np.array([cost(x, k) for k, x in enumerate(exact)])
    stopped = np.any((np.isclose(found, low)) | (np.isclose(found, high)), axis=1)
    assert stopped.sum() > 15
    # An input once stopped is not let go again: that costs little, and in most draws nothing.
    assert np.mean(np.isclose(met, best, rtol=1e-6)) > 0.9
    assert np.all(met <= 1.05 * best)


def test_a_curved_reading_settles_by_a_second_step() -> None:
    # Exact constructed case: y = x^2 = 9 read well, believed 2 +- 1: the root is 3, the first step overshoots.
    before, noise = independent([2.0], [1.0]), [1e-4]
    first = learn(before, [9.0 - 4.0], [[4.0]], noise)
    x = first.mean[0]
    second = learn(before, [9.0 - x**2], [[2 * x]], noise, at=[x])
    assert first.mean[0] == pytest.approx(3.25, abs=1e-6)
    assert second.mean[0] == pytest.approx(3.25 - (3.25**2 - 9) / 6.5, abs=1e-6)
    draws = np.array([[2.0]])
    moved = draws_after(draws, [[5.0]], [1.0], [[4.0]], noise)
    again = draws_after(draws, 9.0 - moved**2, [1.0], [[2 * x]], noise, at=moved)
    assert abs(again[0, 0] - 3.0) < 0.02 < abs(moved[0, 0] - 3.0)


def test_what_cannot_be_learnt_is_refused() -> None:
    with pytest.raises(Bug):
        independent([1.0], [0.0])
    with pytest.raises(Bug):
        independent([1.0], [np.inf]).covariance  # noqa: B018
    with pytest.raises(Bug):
        learn(independent([1.0, 1.0], [np.inf, np.inf]), [1.0], [[1.0, 1.0]], [1.0])
