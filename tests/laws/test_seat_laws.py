"""What holds for every seat: it knows no datum, no unit, no left or right, and nothing overlaps."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.strength.fit import lap, trim_line
from loftwright.strength.fit_rim import rim_stations, shell_rim
from loftwright.strength.fit_seat import seat
from loftwright.strength.fit_surfaces import Points, measured_surface
from loftwright.strength.packers import packers, plates

BOX = rim_stations(0.1, 2.0, 1.2, 0.12)
SEEDS = range(6)


def surfaces(seed: int) -> tuple[np.ndarray, np.ndarray]:
    """Return heights of a rim and a roof, [3, 96], of chance and smooth parts."""
    rng = np.random.default_rng(seed)
    x, y = BOX.x - 1.1, BOX.y
    smooth = np.stack([x * x, y * y, x * y, x**3, x * x * y])
    rim = rng.normal(0, 0.01, (3, 5)) @ smooth + rng.normal(0, 0.0005, (3, 96))
    roof = rng.normal(0, 0.02, (3, 5)) @ smooth
    return rim, roof


@pytest.mark.parametrize("seed", SEEDS)
def test_the_datum_of_either_surface_does_not_matter(seed: int) -> None:
    rim, roof = surfaces(seed)
    plain = seat(BOX.x, BOX.y, rim, roof)
    moved = seat(BOX.x, BOX.y, rim + 0.3 - 0.02 * BOX.x + 0.03 * BOX.y, roof - 0.1 + 0.01 * BOX.x + 0.02 * BOX.y)
    np.testing.assert_allclose(moved.gap, plain.gap, atol=1e-12)
    np.testing.assert_allclose(moved.pitch - plain.pitch, 0.03, atol=1e-11)
    np.testing.assert_allclose(moved.roll - plain.roll, -0.01, atol=1e-11)
    np.testing.assert_allclose(moved.height - plain.height, -0.4 + 0.03 * 1.1, atol=1e-11)


def test_the_datum_does_not_matter_where_many_seats_serve_equally() -> None:
    # A barrel touches along the middles of both ends: the roll is free within a range, the pitch too.
    roof = -0.04 * BOX.y**2 - 0.002 * (BOX.x - 1.1) ** 2
    plain = seat(BOX.x, BOX.y, 0.0 * roof, roof)
    moved = seat(BOX.x, BOX.y, 0.05 * BOX.y - 0.01 * BOX.x, roof + 0.02 * BOX.x)
    np.testing.assert_allclose(moved.gap, plain.gap, atol=1e-12)
    assert float(plain.roll) == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("seed", SEEDS)
def test_millimetres_give_a_thousand_times_the_gap(seed: int) -> None:
    rim, roof = surfaces(seed)
    metres = seat(BOX.x, BOX.y, rim, roof)
    millimetres = seat(1e3 * BOX.x, 1e3 * BOX.y, 1e3 * rim, 1e3 * roof)
    np.testing.assert_allclose(millimetres.gap, 1e3 * metres.gap, atol=1e-9)
    np.testing.assert_allclose(millimetres.pitch, metres.pitch, atol=1e-12)


@pytest.mark.parametrize("seed", SEEDS)
def test_left_and_right_may_be_changed(seed: int) -> None:
    rim, roof = surfaces(seed)
    plain, mirrored = seat(BOX.x, BOX.y, rim, roof), seat(BOX.x, -BOX.y, rim, roof)
    np.testing.assert_allclose(mirrored.largest, plain.largest, atol=1e-13)
    np.testing.assert_allclose(mirrored.roll, -plain.roll, atol=1e-11)


@pytest.mark.parametrize("seed", SEEDS)
def test_upside_down_roof_and_rim_change_places(seed: int) -> None:
    rim, roof = surfaces(seed)
    np.testing.assert_allclose(
        seat(BOX.x, BOX.y, -roof, -rim).largest, seat(BOX.x, BOX.y, rim, roof).largest, atol=1e-13
    )


@pytest.mark.parametrize("seed", SEEDS)
def test_nothing_overlaps_and_no_other_seat_is_better(seed: int) -> None:
    rim, roof = surfaces(seed)
    found = seat(BOX.x, BOX.y, rim, roof)
    assert np.all(found.gap >= 0.0)
    rng = np.random.default_rng(seed)
    for pitch, roll in rng.normal(0, 0.01, (200, 2)):
        other = found.gap + pitch * BOX.x + roll * BOX.y
        assert np.all(np.ptp(other, axis=-1) >= found.largest - 1e-13)


@pytest.mark.parametrize("seed", SEEDS)
def test_trimming_never_adds_and_leaves_what_was_asked(seed: int) -> None:
    rim, roof = surfaces(seed)
    found = seat(BOX.x, BOX.y, rim, roof)
    trim = trim_line(found, found.largest / 3)
    assert np.all(trim.cut >= 0.0)
    again = seat(BOX.x, BOX.y, rim + trim.cut, roof)
    assert np.all(again.largest <= found.largest / 3 + 1e-12)


def test_a_longer_way_over_the_hole_never_shows_more_of_it() -> None:
    grown = [
        float(lap(shell_rim(rear=-g, length=2 + 2 * g, width=1 + 2 * g, radius=0.1), 0, 2, 1, 0.1)) for g in GROWTH
    ]
    np.testing.assert_allclose(grown, GROWTH, atol=1e-12)


GROWTH = np.linspace(0.0, 0.1, 6)


def test_tilting_the_datum_wedges_both_packers_by_the_tilt() -> None:
    x, y = np.tile(np.linspace(-0.2, 2, 5), 3), np.repeat([-0.7, 0.0, 0.7], 5)
    z = -0.04 * y**2 - 0.01 * x**2
    hinge = plates(x=-0.05, spacing=1.0, length=0.1, width=0.06, pin=0.01)
    rows = Points(x, y, np.stack([z, z + 0.3 + 0.02 * x - 0.01 * y]))
    made = packers(measured_surface(width=1.5, length=2.2, middle=0.9, points=rows), hinge, 0.06)
    np.testing.assert_allclose(made.slope_along[1] - made.slope_along[0], 0.02, atol=1e-12)
    np.testing.assert_allclose(made.slope_across[1] - made.slope_across[0], -0.01, atol=1e-12)
    np.testing.assert_allclose(made.rock[1], made.rock[0], atol=1e-12)
    # Raising the datum changes nothing: heights count from the roof at the origin.
    np.testing.assert_allclose(made.middle[1] - made.middle[0], [0.02 * 0.05 - 0.005, 0.02 * 0.05 + 0.005], atol=1e-12)
