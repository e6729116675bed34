"""The best seat: exact constructed cases, computed here from first principles; no printed source.

Each optimum is certain by its certificate: weights of sum 0 and moments 0 on the stations of largest and smallest gap.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.strength.fit_rim import rim_stations, shell_rim
from loftwright.strength.fit_seat import best_seat, closest_plane, gap_at, roof_under, seat, seat_at
from loftwright.strength.fit_surfaces import Points, measured_surface

BOX = rim_stations(0.0, 2.0, 1.2, 0.0)


def test_parallel_planes_touch_all_round() -> None:
    rim = 0.3 + 0.01 * BOX.x - 0.02 * BOX.y
    roof = -0.1 + 0.03 * BOX.x + 0.005 * BOX.y
    found = seat(BOX.x, BOX.y, rim, roof)
    np.testing.assert_allclose(found.gap, 0.0, atol=1e-15)
    assert (float(found.pitch), float(found.roll)) == pytest.approx((0.02, 0.025), abs=1e-14)
    assert float(found.height) == pytest.approx(-0.4 + 0.02 * 1.0, abs=1e-14)


@pytest.mark.parametrize(("crown", "camber"), [(0.04, 0.0), (0.04, 0.015), (0.01, 0.03), (0.02, 0.02)])
def test_flat_rim_on_a_dome(crown: float, camber: float) -> None:
    # The corners hang highest, the middles of the ends (or sides) touch: weights 1 on corners, -2 on middles.
    roof = measured_surface(crown=crown, width=1.2, camber=camber, length=2.0, middle=1.0)
    found = seat(BOX.x, BOX.y, np.zeros(96), roof.height(BOX.x, BOX.y))
    assert float(found.largest) == pytest.approx(max(crown, camber), abs=1e-12)
    assert (float(found.pitch), float(found.roll)) == pytest.approx((0.0, 0.0), abs=1e-9)
    assert found.gap.min() == 0.0


def test_rim_of_the_roofs_own_shape_sits_without_gap() -> None:
    roof = measured_surface(crown=0.05, width=1.6, camber=0.02, length=2.4, middle=1.3)
    share_across, share_along = (1.2 / 1.6) ** 2, (2.0 / 2.4) ** 2
    rim = shell_rim(
        rear=0.0, length=2.0, width=1.2, radius=0.1, end_rise=0.05 * share_across, side_rise=0.02 * share_along
    )
    found = seat_at(rim, roof, 0.0)
    np.testing.assert_allclose(found.gap, 0.0, atol=1e-15)
    # The roof's top is 0.3 m before the rim's middle: the shell pitches up to the cab.
    assert float(found.pitch) == pytest.approx(8 * 0.02 / 2.4**2 * 0.3, abs=1e-14)


@pytest.mark.parametrize("twist", [0.008, -0.008])
def test_twisted_rim_on_a_flat_roof_hangs_at_two_corners_by_half_its_twist(twist: float) -> None:
    rim = shell_rim(rear=0.0, length=2.0, width=1.2, radius=0.0, twist=twist)
    flat = measured_surface(width=1.6, length=2.4, middle=1.0)
    found = seat_at(rim, flat, 0.0)
    assert float(found.largest) == pytest.approx(0.004, abs=1e-14)
    assert (float(found.pitch), float(found.roll)) == pytest.approx((0.0, 0.0), abs=1e-12)


def test_three_points_of_contact_with_the_largest_gap_between_them() -> None:
    x = np.array([0.0, 2.0, 1.0, 1.0, 0.7, 1.2])
    y = np.array([0.0, 0.0, 1.5, 0.5, 0.2, 0.6])
    apart = np.array([0.0, 0.0, 0.0, 0.006, 0.002, 0.004])
    found = seat(x, y, apart, 0.0)
    np.testing.assert_allclose(found.gap, apart, atol=1e-14)


def test_four_corners_with_one_off() -> None:
    found = seat([0, 2, 2, 0], [-0.6, -0.6, 0.6, 0.6], [0, 0, 0.004, 0], 0.0)
    assert sorted(found.gap.round(12).tolist()) == [0.0, 0.0, 0.002, 0.002]


def test_rows_are_seated_each_by_itself() -> None:
    rng = np.random.default_rng(8)
    apart = rng.normal(0, 0.01, (7, 96))
    together = seat(BOX.x, BOX.y, apart, 0.0)
    alone = [seat(BOX.x, BOX.y, row, 0.0) for row in apart]
    np.testing.assert_allclose(together.largest, [float(one.largest) for one in alone], atol=1e-14)
    np.testing.assert_allclose(together.gap, [one.gap for one in alone], atol=1e-13)


def test_shift_is_left_alone_where_it_gains_nothing() -> None:
    rim = shell_rim(rear=0.0, length=2.0, width=1.2, radius=0.1)
    roof = measured_surface(crown=0.04, width=1.5, camber=0.02, length=2.4, middle=1.4)
    found = best_seat(rim, roof, furthest_back=-0.05, furthest_forward=0.08)
    assert float(found.shift) == 0.0
    moved = seat_at(rim, roof, 0.05)
    np.testing.assert_allclose(moved.gap, found.gap, atol=1e-14)
    forced = best_seat(rim, roof, furthest_back=0.02, furthest_forward=0.08)
    assert float(forced.shift) == 0.02


def wavy() -> tuple[np.ndarray, Points]:
    """Return the middle of a roof whose bend along grows to the cab (a cubic), as points."""
    x = np.tile(np.linspace(-0.4, 2.6, 6), 3)
    y = np.repeat([-0.7, 0.0, 0.7], 6)
    return np.array(1.1), Points(x, y, 0.02 * (x - 1.1) ** 3 - 0.02 * y**2)


def test_shift_finds_the_place_whose_bend_is_the_rims() -> None:
    # z = k (x - m)^3 has the bend 6 k (x - m): shifting the rim by s adds 3 k s (x - m)^2, so a rim of the roof's own
    # shape at a shift of 0.06 fits there without a gap and nowhere else.
    middle, points = wavy()
    roof = measured_surface(width=1.4, length=3.0, middle=middle, points=points)
    stations = rim_stations(0.1, 2.0, 1.2, 0.1)
    own = Points(stations.x, stations.y, roof.height(stations.x + 0.06, stations.y))
    rim = shell_rim(rear=0.1, length=2.0, width=1.2, radius=0.1, points=own)
    stay = seat_at(rim, roof, 0.0)
    found = best_seat(rim, roof, furthest_back=-0.08, furthest_forward=0.08)
    assert float(stay.largest) > 0.002
    assert float(found.shift) == pytest.approx(0.06, abs=0.002)
    assert float(found.largest) < 2e-4


def test_rows_take_their_own_shift() -> None:
    middle, points = wavy()
    rows = Points(points.x, points.y, points.z * np.array([[1.0], [0.0]]))
    roof = measured_surface(width=1.4, length=3.0, middle=middle, points=rows)
    rim = shell_rim(rear=0.1, length=2.0, width=1.2, radius=0.1, side_rise=0.0072, end_rise=np.array([0.02, 0.0]))
    found = best_seat(rim, roof, furthest_back=0.0, furthest_forward=0.1)
    assert found.shift.shape == (2,)
    assert float(found.shift[1]) == 0.0


def test_no_room_to_shift_is_a_seat_in_place() -> None:
    middle, points = wavy()
    roof = measured_surface(width=1.4, length=3.0, middle=middle, points=points)
    rim = shell_rim(rear=0.1, length=2.0, width=1.2, radius=0.1)
    found = best_seat(rim, roof, furthest_back=0.01, furthest_forward=0.01)
    np.testing.assert_array_equal(found.gap, seat_at(rim, roof, 0.01).gap)
    with pytest.raises(ValueError, match="behind"):
        best_seat(rim, roof, furthest_back=0.01, furthest_forward=0.0)


def test_gap_between_stations_is_that_of_the_stations_at_them() -> None:
    middle, points = wavy()
    roof = measured_surface(width=1.4, length=3.0, middle=middle, points=points)
    rim = shell_rim(rear=0.1, length=2.0, width=1.2, radius=0.1, twist=0.004)
    found = seat_at(rim, roof, 0.03)
    stations = rim.stations()
    np.testing.assert_allclose(gap_at(rim, roof, found, stations.x, stations.y), found.gap, atol=1e-14)
    expected = roof.height(stations.x + 0.03, stations.y)
    np.testing.assert_array_equal(roof_under(stations, roof, 0.03), expected)


def test_many_like_stations_end() -> None:
    # Whole millimetres on a coarse grid: many ties, three in line, the same place twice.
    rng = np.random.default_rng(11)
    x, y = np.round(rng.uniform(0, 4, (40, 60))) / 2, np.round(rng.uniform(-2, 2, (40, 60))) / 2
    z = np.round(rng.uniform(0, 3, (40, 60))) * 1e-3
    a, b, c, e = closest_plane(x, y, z)
    off = np.abs(z - a[:, None] - b[:, None] * x - c[:, None] * y).max(axis=1)
    np.testing.assert_allclose(off, e, atol=1e-14)


@pytest.mark.parametrize(
    ("x", "y", "match"),
    [
        ([0, 1, 2], [0, 1, 0], "four stations"),
        ([1, 1, 1, 1], [0, 0, 0, 0], "one place"),
        ([0, 1, 2, 3],) * 2 + ("line",),
    ],
)
def test_too_few_stations_are_refused(x: list[float], y: list[float], match: str) -> None:
    with pytest.raises(ValueError, match=match):
        closest_plane(x, y, np.zeros(len(x)))
