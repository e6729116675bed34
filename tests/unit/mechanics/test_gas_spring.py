"""The gas spring's functions: shapes, derivatives, the far ends and refusals."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.errors import Bug
from loftwright.mechanics.gas_spring import (
    GasSpring,
    at_temperature,
    compression,
    first_force,
    full_loop,
    moving_in,
    moving_out,
    quick_exponent,
    quick_in,
    quick_out,
    slow_force,
    temperature_factor,
    tube_length,
)

FIELDS = {"force_1": 500.0, "ratio": 1.3, "loop": 60.0, "stroke": 0.2, "extended": 0.5, "rod_diameter": 0.010}


def spring(**changed) -> GasSpring:
    return GasSpring(**{name: np.asarray(value, dtype=float) for name, value in (FIELDS | changed).items()})


def test_beyond_the_stroke_everything_stays_finite_and_consistent():
    case, c = spring(ratio=2.0), np.array([-0.3, -0.01, 0.21, 0.35, 0.37, 0.4, 5.0])
    force = slow_force(case, c)
    assert np.all(np.isfinite(force))
    assert np.all(np.diff(force) >= 0)
    assert force[-1] == pytest.approx(5000.0)


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
    }
    for i in range(draws):
        one = at_temperature(spring(force_1=many.force_1[i], ratio=many.ratio[i]), kelvin[i])
        alone = {
            "out": moving_out(one, c, factor[i]),
            "in": moving_in(one, c, factor[i]),
            "quick out": quick_out(one, c, 0.2, factor[i], kelvin[i]),
            "quick in": quick_in(one, c, 0.0, factor[i], kelvin[i]),
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


def test_moved_quickly_the_friction_stands_on_either_side_of_the_gas():
    # The middle of out and in is that of a spring without friction whose two forces are the middles.
    c = np.linspace(0.0, 0.2, 5)
    gas = spring(force_1=530.0, ratio=680 / 530, loop=0.0)
    for ends in (0.0, 0.2):
        at = np.array([ends])
        assert quick_out(spring(), at, 0.2) == pytest.approx(quick_out(gas, at, 0.2) - 30.0)
        assert quick_in(spring(), at, 0.0) == pytest.approx(quick_in(gas, at, 0.0) + 30.0)
    assert np.all(quick_out(spring(), c, 0.2) < quick_out(gas, c, 0.2))


def test_twenty_degrees_changes_nothing():
    same = at_temperature(spring(), 293.15)
    assert (float(same.force_1), float(same.ratio)) == pytest.approx((500.0, 1.3), rel=1e-12)
    assert temperature_factor(8e6, 293.15) == pytest.approx(1.0, rel=1e-12)


def test_heat_stiffens_the_compressed_end_more():
    free = spring(loop=0.0)
    assert at_temperature(free, 338.15).ratio > 1.3 > at_temperature(free, 263.15).ratio


@pytest.mark.parametrize("kelvin", [263.15, 338.15])
def test_heat_acts_on_the_gas_and_not_on_the_friction(kelvin):
    # The gas of a spring of 500 N and a loop of 60 N pushes with 530 N, and with 680 N where F2 is 650 N.
    warm, gas = (
        at_temperature(spring(), kelvin),
        at_temperature(spring(force_1=530.0, ratio=680 / 530, loop=0.0), kelvin),
    )
    first, second = float(gas.force_1), float(gas.force_1 * gas.ratio)
    assert float(warm.force_1) == pytest.approx(first - 30.0)
    assert float(warm.force_1 * warm.ratio) == pytest.approx(second - 30.0)
    assert float(warm.loop) == 60.0
    ends = np.array([0.0, 0.2])
    assert moving_in(warm, ends) == pytest.approx([first + 30.0, second + 30.0])


def test_a_spring_that_its_friction_holds_in_the_cold_still_is_one():
    # 20 N of 500 N left when moving out at 20 C; in the cold the gas loses more than that.
    cold = at_temperature(spring(force_1=20.0, loop=960.0, ratio=1.05), 263.15)
    assert 0.0 < float(cold.force_1) < 20.0
    assert float(cold.force_1 * cold.ratio) >= float(cold.force_1)


def test_compression_is_what_the_ends_have_come_together():
    squeezed = compression(spring(extended=[0.5, 0.7]), np.array([[0.5, 0.3], [0.6, 0.7]]))
    np.testing.assert_allclose(squeezed, [[0.0, 0.2], [0.1, 0.0]], atol=1e-15)


def test_the_tube_is_what_the_stroke_leaves():
    # Never shorter than 20 mm, however wrong the stroke may be written.
    np.testing.assert_allclose(tube_length(0.5, [0.2, 0.495]), [0.3, 0.02], rtol=1e-12)


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
