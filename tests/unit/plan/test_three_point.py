"""Draws of three-point estimates against exact cases, computed here from first principles."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from loftwright.core.work import After, Hours, Task
from loftwright.plan.calendar_days import WorkCalendar, weekdays
from loftwright.plan.dated import Job
from loftwright.plan.finish_odds import drawn
from loftwright.plan.three_point import chances, pert_mean, pert_quantile

T = np.linspace(0.02, 0.98, 49)


@pytest.mark.parametrize(
    ("likely", "share"),
    [
        # p = 1, q = 5; p = 3, q = 3; p = 5, q = 1: the integral of the curve is a polynomial.
        (0.0, 1.0 - (1.0 - T) ** 5),
        (0.5, T**3 * (10.0 - 15.0 * T + 6.0 * T**2)),
        (1.0, T**5),
    ],
)
def test_quantiles_where_the_curve_has_a_closed_integral(likely: float, share: np.ndarray) -> None:
    assert pert_quantile(0.0, likely, 1.0, share) == pytest.approx(T, abs=1e-4)


def test_draws_have_the_mean_as_published_and_the_variance_of_the_curve() -> None:
    got = pert_quantile(2.0, 5.0, 14.0, chances("any", 40_000, 1))
    mean = float(pert_mean(2.0, 5.0, 14.0))
    variance = (mean - 2.0) * (14.0 - mean) / 7.0
    assert float(got.mean()) == pytest.approx(mean, abs=4 * (variance / 40_000) ** 0.5)
    assert float(got.var()) == pytest.approx(variance, rel=0.03)
    assert 2.0 <= got.min() <= got.max() <= 14.0


def test_the_same_seed_gives_the_same_chances_and_each_name_its_own() -> None:
    # From the raw bits of the generator: 53 of 64.
    assert chances("cut", 3, 7).tolist() == chances("cut", 3, 7).tolist()
    assert chances("cut", 3, 7).tolist() != chances("cut", 3, 8).tolist()
    assert chances("cut", 3, 7).tolist() != chances("ring", 3, 7).tolist()
    assert chances("cut", 2, 7).tolist() == chances("cut", 3, 7).tolist()[:2]


def test_one_value_is_no_range() -> None:
    assert pert_quantile(3.0, 3.0, 3.0, np.array([0.1, 0.9])).tolist() == [3.0, 3.0]


def test_two_paths_side_by_side_multiply() -> None:
    # P(both done by t) = F1(t) F2(t), with F1 = 1 - (1 - t/10)^5 and F2 = (t/10)^5: exact.
    always = WorkCalendar(date(2026, 3, 2), weekdays(7), hours=24.0, begins=0.0)
    two = (
        Task("a", "a", Hours(0, 0, 10)),
        Task("b", "b", Hours(0, 10, 10)),
        Task("c", "c", Hours(0, 0, 0), (After("a"), After("b"))),
    )
    count = 20_000
    finish = drawn(Job(two, always, always.first, alone=False), count, 3).times.finish[1:]
    for t in (6.0, 8.0, 9.5):
        exact = (1.0 - (1.0 - t / 10) ** 5) * (t / 10) ** 5
        assert float(np.mean(finish <= t)) == pytest.approx(exact, abs=4 * (exact * (1 - exact) / count) ** 0.5)
