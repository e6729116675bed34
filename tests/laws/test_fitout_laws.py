"""What holds for every seal, room and powered lift, whatever its numbers."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.fitout import actuator, headroom, seal

SEEDS = range(5)


@pytest.mark.parametrize("seed", SEEDS)
def test_water_is_the_same_from_whichever_station_one_counts(seed: int) -> None:
    heights = np.random.default_rng(seed).uniform(0.0, 0.02, (4, 12))
    wet = seal.standing_water(heights)
    np.testing.assert_array_equal(np.roll(wet, 5, axis=-1), seal.standing_water(np.roll(heights, 5, axis=-1)))
    np.testing.assert_array_equal(wet[:, ::-1], seal.standing_water(heights[:, ::-1]))
    # The lowest place of all is always wet, the highest never.
    rows = np.arange(4)
    assert wet[rows, heights.argmin(axis=-1)].all()
    assert not wet[rows, heights.argmax(axis=-1)].any()


@pytest.mark.parametrize("seed", SEEDS)
def test_the_seal_pushes_within_its_length_and_more_when_squeezed_more(seed: int) -> None:
    rng = np.random.default_rng(seed)
    curve = seal.curve_through(0.006, 100.0, 0.003, rng.uniform(10.0, 60.0))
    squeeze, x = rng.uniform(0.0, 0.006, 20), rng.uniform(0.0, 2.4, 20)
    first, more = (seal.push(curve, s, 0.4, x) for s in (squeeze, squeeze * 1.1))
    assert x.min() <= first.x <= x.max()
    assert more.force > first.force


@pytest.mark.parametrize("seed", SEEDS)
def test_higher_people_have_less_floor(seed: int) -> None:
    room = np.random.default_rng(seed).uniform(1.5, 2.2, (3, 12, 20))
    areas = [headroom.standing_area(room, need, 0.1, 0.1) for need in (1.5, 1.7, 1.9, 2.3)]
    assert np.all(np.diff(areas, axis=0) <= 0)
    np.testing.assert_allclose(areas[0], 2.4)
    np.testing.assert_allclose(areas[-1], 0.0)
    walk = headroom.longest_walk(room, 1.6, 0.1, 0.1, body_width=0.1)
    turned = headroom.longest_walk(np.swapaxes(room, -1, -2), 1.6, 0.1, 0.1, body_width=0.1)
    np.testing.assert_allclose(walk.along, turned.across)


@pytest.mark.parametrize("seed", SEEDS)
def test_two_actuators_need_half_of_one(seed: int) -> None:
    rng = np.random.default_rng(seed)
    load, lever = rng.uniform(-100.0, 400.0, (3, 15)), rng.uniform(0.05, 0.4, 15)
    one, two = (actuator.needed_force(load, lever, n) for n in (1, 2))
    np.testing.assert_allclose(one, 2 * two)
    stalled = actuator.edge_force(np.abs(two).max(axis=-1), lever, load, np.full(15, 2.0), 2, closing=False)
    assert np.all(stalled >= 0)
