"""Certified regressions, and spreading of ranges by draws.

NIST Statistical Reference Datasets: Norris (linear, lower difficulty), Misra1a (non-linear, lower difficulty); data
and certified values read in a public reproduction. JCGM 101:2008 (GUM Supplement 1), 9.2, tables 2 and 3: read in two
public reproductions; the printed half-widths of 9.2.4 from memory; NPL report DEM-ES-011, 9.2: read in a public
reproduction; exact values computed here from first principles.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.answers.draws import joint
from loftwright.answers.proof import middle_and_sd
from loftwright.choice.contradiction import Cause, contradiction
from loftwright.choice.update import independent, learn
from loftwright.core.motion import Array
from loftwright.core.uncertain import even, normal

NORRIS = np.array(
    """0.1,0.2 338.8,337.4 118.1,118.2 888.0,884.6 9.2,10.1 228.1,226.5 668.5,666.3 998.5,996.3 449.1,448.6 778.9,777.0
    559.2,558.2 0.3,0.4 0.1,0.6 778.1,775.5 668.8,666.9 339.3,338.0 448.9,447.5 10.8,11.6 557.7,556.0 228.3,228.1
    998.0,995.8 888.8,887.6 119.6,120.2 0.3,0.3 0.6,0.3 557.6,556.8 339.3,339.1 888.0,887.2 998.5,999.0 778.9,779.0
    10.2,11.1 117.6,118.3 228.9,229.2 668.4,669.1 449.2,448.9 0.2,0.5""".replace(",", " ").split(),
    dtype=np.float64,
).reshape(-1, 2)

MISRA_X = np.array([77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0])
MISRA_Y = np.array([10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78])


def test_norris_as_the_limit_of_knowing_nothing() -> None:
    y, x = NORRIS.T
    slope = np.stack([np.ones_like(x), x], axis=1)
    nothing = independent([0.0, 0.0], [np.inf, np.inf])
    after = learn(nothing, y, slope, np.ones_like(y))
    np.testing.assert_allclose(after.mean, [-0.262323073774029, 1.00211681802045], rtol=1e-9)
    left = y - slope @ after.mean
    residual = np.sqrt((left**2).sum() / 34)
    assert (left**2).sum() == pytest.approx(26.6173985294224, rel=1e-9)
    assert residual == pytest.approx(0.884796396144373, rel=1e-9)
    certified = [0.232818234301152, 0.000429796848199937]
    np.testing.assert_allclose(residual * after.sd, certified, rtol=1e-9)
    # Readings one after the other come to the same.
    known = learn(nothing, y[:2], slope[:2], np.ones(2))
    for k in range(2, len(y)):
        known = learn(known, y[[k]] - slope[[k]] @ known.mean, slope[[k]], [1.0])
    np.testing.assert_allclose(known.mean, after.mean, rtol=1e-9)
    # A wide belief comes close to none at all.
    wide = learn(independent([5.0, -3.0], [1e6, 1e6]), y - slope @ [5.0, -3.0], slope, np.ones_like(y))
    np.testing.assert_allclose(wide.mean, after.mean, rtol=1e-6)


@pytest.mark.parametrize("start", [(500.0, 1e-4), (250.0, 5e-4)])
def test_misra_by_repeated_steps(start: tuple[float, float]) -> None:
    nothing = independent(start, [np.inf, np.inf])
    point = np.array(start)
    for _ in range(25):
        fade = np.exp(-point[1] * MISRA_X)
        slope = np.stack([1 - fade, point[0] * MISRA_X * fade], axis=1)
        after = learn(nothing, MISRA_Y - point[0] * (1 - fade), slope, np.ones(14), at=point)
        point = after.mean
    left = MISRA_Y - point[0] * (1 - np.exp(-point[1] * MISRA_X))
    np.testing.assert_allclose(point, [238.94212918, 5.5015643181e-4], rtol=1e-6)
    assert (left**2).sum() == pytest.approx(0.12455138894, rel=1e-6)
    residual = np.sqrt((left**2).sum() / 12)
    assert residual == pytest.approx(0.10187876330, rel=1e-6)
    np.testing.assert_allclose(residual * after.sd, [2.7070075241, 7.2668688436e-6], rtol=1e-3)


DRAWS = 100_000


def summed(sds: list[float], *, shape: str) -> Array:
    """Return draws of a sum of inputs of these standard deviations, each from its own stream."""
    found = np.zeros(DRAWS)
    for k, sd in enumerate(sds):
        half = sd * np.sqrt(3.0)
        value = even(-half, half) if shape == "even" else normal(0.0, 2 * sd)
        assert middle_and_sd(value) == pytest.approx((0.0, sd))
        found += joint(value, f"x{k}", DRAWS, 1)
    return found


@pytest.mark.parametrize(("shape", "half"), [("normal", 3.92), ("even", 3.88)])
def test_sum_of_four(shape: str, half: float) -> None:
    found = summed([1.0] * 4, shape=shape)
    assert found.std() == pytest.approx(2.00, abs=0.02)
    low, high = np.quantile(found, [0.025, 0.975])
    assert (low, high) == pytest.approx((-half, half), abs=0.05)
    # The same limit is what readings are held against: 95 % of sound roofs lie within it.
    cause = [Cause("off", np.ones(1), -np.inf)]
    threshold = contradiction([0.0], found[:20_000, None], [1e-6], cause, alarms=0.05).threshold
    assert 2.0 * threshold == pytest.approx(half, abs=0.05)


def test_sum_with_one_much_wider() -> None:
    found = summed([1.0, 1.0, 1.0, 10.0], shape="even")
    assert found.std() == pytest.approx(10.149, abs=0.05)
    assert np.quantile(np.abs(found), 0.95) == pytest.approx(17.02, abs=0.08)


def test_logarithm_of_an_even_range() -> None:
    x = even(0.1, 1.1)
    found = np.log(joint(x, "x", DRAWS, 1))
    assert found.mean() == pytest.approx(-0.664900, abs=0.006)
    assert found.std() == pytest.approx(0.606227, abs=0.006)
    # First order, as the guide's own example has it beside: the middle, and the slope there times one sd.
    middle, sd = middle_and_sd(x)
    assert np.log(middle) == pytest.approx(-0.510826, abs=1e-6)
    assert sd / middle == pytest.approx(0.481125, abs=1e-6)
