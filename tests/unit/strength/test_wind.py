"""Speeds, gusts and Beaufort's numbers beyond what the standards print. Computed here from first principles."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.reference.wind import BEAUFORT, GUST_FACTOR, TERRAINS
from loftwright.strength.wind import (
    beauforts_of_gust,
    gust_of_mean,
    gusts_of_beaufort,
    height_factor,
    righting_moment,
    side_force,
    speed_for,
    tipping_moment,
)


def test_a_negative_pressure_has_no_speed() -> None:
    assert speed_for([-5.0, 0.0]).tolist() == [0.0, 0.0]


@pytest.mark.parametrize("number", [-1, 13])
def test_the_scale_ends(number: int) -> None:
    with pytest.raises(ValueError, match="0 to 12"):
        gusts_of_beaufort(number, 2.0)


def test_the_last_number_has_no_upper_end() -> None:
    low, high = gusts_of_beaufort(12, 2.0)
    assert np.isfinite(low)
    assert np.isinf(high)


@pytest.mark.parametrize("number", [2, 5, 8, 11])
def test_numbers_of_a_gust_hold_the_number_that_brought_it(number: int) -> None:
    force = BEAUFORT[number]
    assert force.high is not None
    for mean in (force.low, force.high):
        for factor in GUST_FACTOR:
            gust = float(gust_of_mean(mean, 2.4, gust_factor=factor))
            low, high = beauforts_of_gust(gust, 2.4)
            assert low <= number <= high


def test_a_still_day_is_nought() -> None:
    assert beauforts_of_gust(0.0, 2.4) == (0, 0)


def test_no_country_brings_more_wind_down_low_than_high_up() -> None:
    assert all(float(height_factor(2.5, terrain)) <= 1.0 for terrain in TERRAINS.values())
    # Rougher country slows the wind near the ground more, down to where it is held even.
    assert float(height_factor(5.0, TERRAINS["village"])) < float(height_factor(5.0, TERRAINS["sea"]))


def test_several_parts_tip_together_and_lift_takes_footing_away() -> None:
    rows = tipping_moment(np.array([[100.0, 50.0], [200.0, 0.0]]), np.array([2.0, 1.0]))
    assert rows.tolist() == [250.0, 400.0]
    assert float(righting_moment(100.0, 2.0, lift=80.665)) == pytest.approx(900.0)
    assert float(side_force(20.0, 2.0)) == pytest.approx(650.0)
