"""The gas spring's functions: shapes, derivatives, the far ends and refusals."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.errors import Bug
from loftwright.core.motion import still
from loftwright.mechanics.gas_spring import (
    GasSpring,
    at_temperature,
    compression,
    first_force,
    full_loop,
    length,
    moving_in,
    moving_out,
    quick_exponent,
    quick_in,
    quick_out,
    slow_force,
    stiffness,
    stored_work,
    temperature_factor,
)

FIELDS = {"force_1": 500.0, "ratio": 1.3, "loop": 60.0, "stroke": 0.2, "extended": 0.5, "rod_diameter": 0.010}


def spring(**changed) -> GasSpring:
    return GasSpring(**{name: np.asarray(value, dtype=float) for name, value in (FIELDS | changed).items()})


@pytest.mark.parametrize("ratio", [1.02, 1.3, 2.0])
def test_stiffness_is_the_slope_of_the_force(ratio):
    case, c, h = spring(ratio=ratio), np.linspace(0.005, 0.195, 9), 1e-6
    slope = (slow_force(case, c + h, 1.1) - slow_force(case, c - h, 1.1)) / (2 * h)
    assert stiffness(case, c, 1.1) == pytest.approx(slope, rel=1e-6)


@pytest.mark.parametrize("ratio", [1.0, 1.0 + 1e-9, 1.02, 1.3, 2.0])
def test_work_is_the_integral_of_the_force(ratio):
    case = spring(ratio=ratio)
    nodes, weights = np.polynomial.legendre.leggauss(20)
    for top in (0.05, 0.2):
        integral = np.sum(weights * slow_force(case, top * (nodes + 1) / 2, 0.9)) * top / 2
        assert stored_work(case, np.array([0.0, top]), 0.9) == pytest.approx([0.0, integral], rel=1e-9)


def test_beyond_the_stroke_everything_stays_finite_and_consistent():
    case, c, h = spring(ratio=2.0), np.array([-0.3, -0.01, 0.21, 0.35, 0.37, 0.4, 5.0]), 1e-6
    force = slow_force(case, c)
    assert np.all(np.isfinite(force))
    assert np.all(np.diff(force) >= 0)
    assert force[-1] == pytest.approx(5000.0)
    slope = (stored_work(case, c + h) - stored_work(case, c - h)) / (2 * h)
    assert slope == pytest.approx(force, rel=1e-6)
    assert stiffness(case, c)[-1] == 0.0


def test_draws_come_first_and_travel_last():
    draws, c = 5, np.linspace(0.0, 0.2, 7)
    many = spring(force_1=np.linspace(400, 600, draws), ratio=np.linspace(1.2, 1.4, draws))
    kelvin = np.linspace(260.0, 330.0, draws)
    warm = at_temperature(many, kelvin)
    factor = np.linspace(0.9, 1.1, draws)
    table = {
        "out": moving_out(warm, c, factor),
        "in": moving_in(warm, c, factor),
        "quick out": quick_out(warm, c, np.full(draws, 0.2), factor, kelvin),
        "quick in": quick_in(warm, c, 0.0, factor, kelvin),
        "work": stored_work(warm, c, factor),
        "stiffness": stiffness(warm, c, factor),
    }
    for i in range(draws):
        one = at_temperature(spring(force_1=many.force_1[i], ratio=many.ratio[i]), kelvin[i])
        alone = {
            "out": moving_out(one, c, factor[i]),
            "in": moving_in(one, c, factor[i]),
            "quick out": quick_out(one, c, 0.2, factor[i], kelvin[i]),
            "quick in": quick_in(one, c, 0.0, factor[i], kelvin[i]),
            "work": stored_work(one, c, factor[i]),
            "stiffness": stiffness(one, c, factor[i]),
        }
        for name, values in alone.items():
            assert table[name].shape == (draws, 7), name
            np.testing.assert_allclose(table[name][i], values, rtol=1e-12, err_msg=name)


def test_quick_movement_bounds_the_slow_one():
    case, c = spring(), np.linspace(0.0, 0.2, 9)
    out, pushed = quick_out(case, c, 0.2), quick_in(case, c, 0.0)
    assert out[-1] == pytest.approx(moving_out(case, c)[-1])
    assert pushed[0] == pytest.approx(moving_in(case, c)[0])
    assert np.all(out[:-1] < moving_out(case, c)[:-1])
    assert np.all(pushed[1:] > moving_in(case, c)[1:])


def test_a_factor_and_a_stronger_spring_are_the_same():
    c = np.linspace(0.0, 0.2, 5)
    assert slow_force(spring(), c, 1.2) == pytest.approx(slow_force(spring(force_1=600.0), c))
    assert quick_in(spring(), c, 0.0, 1.2) == pytest.approx(quick_in(spring(force_1=600.0), c, 0.0))


def test_twenty_degrees_changes_nothing():
    same = at_temperature(spring(), 293.15)
    assert (float(same.force_1), float(same.ratio)) == pytest.approx((500.0, 1.3), rel=1e-12)
    assert temperature_factor(8e6, 293.15) == pytest.approx(1.0, rel=1e-12)


def test_heat_stiffens_the_compressed_end_more():
    assert at_temperature(spring(), 338.15).ratio > 1.3 > at_temperature(spring(), 263.15).ratio


def test_length_counts_the_sideways_offset():
    foot, head = still(4).point(0.0, 0.0), still(4).point(np.array([0.3, 0.6]), 0.0)
    lengths = length(foot, head, np.array([0.4, 0.0]))
    np.testing.assert_allclose(lengths, [[0.5] * 4, [0.6] * 4])
    np.testing.assert_allclose(compression(spring(extended=[0.5, 0.7]), lengths), [[0.0] * 4, [0.1] * 4], atol=1e-15)


@pytest.mark.parametrize(
    "changed",
    [
        {"force_1": 0.0},
        {"ratio": -1.0},
        {"loop": -1.0},
        {"stroke": 0.0},
        {"extended": float("nan")},
        {"rod_diameter": 0.0},
    ],
)
def test_impossible_springs_are_refused(changed):
    with pytest.raises(Bug):
        spring(**changed)


def test_unknown_words_are_refused():
    with pytest.raises(Bug):
        first_force(500.0, 60.0, "F2")  # type: ignore[arg-type]
    with pytest.raises(Bug):
        full_loop(60.0, "quarter loop")  # type: ignore[arg-type]
    with pytest.raises(Bug):
        quick_exponent(1e7, 293.15, "up")  # type: ignore[arg-type]
