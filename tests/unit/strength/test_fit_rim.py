"""Rim and its stations: exact constructed cases, computed here from first principles; no printed source."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.strength.fit import outside
from loftwright.strength.fit_rim import PLACES, STATIONS, rim_stations, shell_rim


def test_stations_lie_on_the_rim_in_order() -> None:
    length, width, radius = np.array([2.1, 2.0]), np.array([1.2, 1.25]), np.array([0.15, 0.1])
    stations = rim_stations(0.1, length, width, radius)
    assert stations.x.shape == stations.y.shape == stations.arc.shape == (2, STATIONS)
    middle = (0.1 + length / 2)[:, None]
    np.testing.assert_allclose(outside(stations.x - middle, stations.y, length, width, radius), 0.0, atol=1e-14)
    assert np.all(np.diff(stations.arc) > 0)
    # Shoelace: counter-clockwise, and the area of the rounded rectangle less what chords cut off the corners.
    x, y = stations.x, stations.y
    area = (x * np.roll(y, -1, axis=-1) - y * np.roll(x, -1, axis=-1)).sum(axis=-1) / 2
    fan = 4 * radius**2 * np.sin(np.pi / 8) * 2
    np.testing.assert_allclose(area, length * width - 4 * radius**2 + fan, rtol=1e-12)


def test_arc_is_the_length_of_straights_and_quarter_circles() -> None:
    stations = rim_stations(0.0, 2.0, 1.2, 0.2)
    assert (stations.x[0], stations.y[0], stations.arc[0]) == pytest.approx((0.0, 0.0, 0.0), abs=1e-15)
    front = next(k for k in stations.at("front") if abs(stations.y[k]) < 1e-12)
    assert stations.arc[front] == pytest.approx(0.8 + 1.6 + np.pi * 0.2, abs=1e-12)
    to_start = np.hypot(stations.x[-1] - stations.x[0], stations.y[-1] - stations.y[0])
    assert stations.arc[-1] + to_start == pytest.approx(1.6 + 3.2 + 2 * np.pi * 0.2, abs=1e-12)


def test_places_follow_one_another() -> None:
    stations = rim_stations(0.0, 2.0, 1.2, 0.2)
    assert set(stations.places) == set(PLACES)
    assert np.all(stations.x[stations.at("rear")] == 0.0)
    assert np.all(stations.y[stations.at("left")] > 0.59)
    assert np.all(stations.y[stations.at("right")] < -0.59)
    assert np.all(stations.x[stations.at("front")] == pytest.approx(2.0))


def test_rim_stands_off_the_table_by_its_rises() -> None:
    rim = shell_rim(rear=0.1, length=2.0, width=1.2, radius=0.0, end_rise=0.03, side_rise=0.012)
    surface = rim.surface
    ends = surface.height(np.array([0.1, 0.1, 0.1]), np.array([-0.6, 0.0, 0.6]))
    sides = surface.height(np.array([0.1, 1.1, 2.1]), np.array([0.6, 0.6, 0.6]))
    assert ends[1] - ends[0] == pytest.approx(0.03)
    assert sides[1] - (sides[0] + sides[2]) / 2 == pytest.approx(0.012)


@pytest.mark.parametrize("radius", [-0.01, 0.61])
def test_a_corner_that_cannot_be_is_refused(radius: float) -> None:
    with pytest.raises(ValueError, match="corner radius"):
        rim_stations(0.0, 2.0, 1.2, radius)
