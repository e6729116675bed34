"""Measured surfaces: exact constructed cases, computed here from first principles; no printed source."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.strength.fit_surfaces import Points, at_origin, measured_surface


def test_middles_stand_above_their_edges_by_crown_and_camber() -> None:
    roof = measured_surface(crown=0.04, width=1.6, camber=0.02, length=2.4, middle=1.1)
    across = roof.height(np.full(3, 1.1), np.array([-0.8, 0.0, 0.8]))
    along = roof.height(np.array([-0.1, 1.1, 2.3]), np.zeros(3))
    np.testing.assert_allclose(across, [-0.04, 0.0, -0.04], atol=1e-15)
    np.testing.assert_allclose(along, [-0.02, 0.0, -0.02], atol=1e-15)


def test_the_roof_at_the_origin_is_the_zero_of_the_frame() -> None:
    roof = measured_surface(width=1.6, camber=np.array([0.02, 0.03]), length=2.0, middle=1.0)
    np.testing.assert_allclose(at_origin(roof), [-0.02, -0.03], atol=1e-15)


def test_one_corner_stands_off_the_plane_of_the_other_three_by_the_twist() -> None:
    rim = measured_surface(width=1.2, length=2.0, twist=0.008, middle=1.0)
    x, y = np.array([0.0, 2.0, 2.0, 0.0]), np.array([-0.6, -0.6, 0.6, 0.6])
    z = rim.height(x, y)
    plane = np.linalg.solve(np.stack([np.ones(3), x[[0, 1, 3]], y[[0, 1, 3]]], axis=1), z[[0, 1, 3]])
    assert z[2] - plane @ [1.0, x[2], y[2]] == pytest.approx(0.008, abs=1e-15)


@pytest.mark.parametrize(("count", "power"), [(7, 2), (14, 3)])
def test_points_on_a_polynomial_are_met_everywhere(count: int, power: int) -> None:
    rng = np.random.default_rng(5)
    x, y = rng.uniform(0, 2.2, count), rng.uniform(-0.7, 0.7, count)

    def truth(x: np.ndarray, y: np.ndarray) -> np.ndarray:
        return 0.01 + 0.004 * x - 0.03 * y**2 + 0.006 * x * y + 0.002 * x**power

    roof = measured_surface(crown=0.02, width=1.5, length=2.2, middle=1.1, points=Points(x, y, truth(x, y)))
    xs, ys = rng.uniform(0, 2.2, 30), rng.uniform(-0.7, 0.7, 30)
    np.testing.assert_allclose(roof.height(xs, ys), truth(xs, ys), atol=1e-12)
    np.testing.assert_allclose(roof.residuals(), 0.0, atol=1e-12)


def test_a_point_that_stands_out_shows_in_the_residuals() -> None:
    x = np.tile(np.linspace(0, 2, 5), 3)
    y = np.repeat([-0.6, 0.0, 0.6], 5)
    z = np.zeros(15)
    z[7] = 0.012
    roof = measured_surface(width=1.4, length=2.0, middle=1.0, points=Points(x, y, z))
    assert int(np.argmax(np.abs(roof.residuals()))) == 7
    assert roof.residuals().sum() == pytest.approx(0.0, abs=1e-12)


def test_two_points_only_lift_and_points_on_one_line_lean_nothing_aside() -> None:
    two = Points(np.array([0.0, 1.0]), np.array([0.0, 0.3]), np.array([0.004, 0.006]))
    lifted = measured_surface(width=1.4, length=2.0, middle=1.0, points=two)
    np.testing.assert_allclose(lifted.height(np.array([0.2, 1.9]), np.array([0.5, -0.5])), 0.005, atol=1e-14)
    line = Points(np.linspace(0, 2, 7), np.zeros(7), 0.003 * np.linspace(0, 2, 7))
    leaning = measured_surface(width=1.4, length=2.0, middle=1.0, points=line)
    zx, zy = leaning.slopes(np.array([0.4]), np.array([0.5]))
    assert (zx[0], zy[0]) == pytest.approx((0.003, 0.0), abs=1e-12)


def test_three_rows_of_points_do_not_tell_a_third_power_across() -> None:
    # On y = -0.7, 0, 0.7 a cubic across looks like a slope; the slope is what is taken.
    x, y = np.tile(np.linspace(0, 2, 5), 3), np.repeat([-0.7, 0.0, 0.7], 5)
    roof = measured_surface(width=1.4, length=2.0, middle=1.0, points=Points(x, y, 0.01 * y - 0.02 * y**2))
    ys = np.array([-0.6, -0.2, 0.4])
    np.testing.assert_allclose(roof.height(np.ones(3), ys), 0.01 * ys - 0.02 * ys**2, atol=1e-14)


def test_two_rows_of_points_leave_the_crown_as_it_was_measured() -> None:
    x, y = np.tile(np.linspace(0, 2, 4), 2), np.repeat([-0.5, 0.5], 4)
    crowned = measured_surface(crown=0.04, width=1.4, length=2.0, middle=1.0, points=Points(x, y, np.zeros(8)))
    assert crowned.height(np.ones(1), np.zeros(1))[0] == pytest.approx(0.04 * (0.5 / 0.7) ** 2, abs=1e-14)


def test_slopes_are_the_derivatives_of_the_height() -> None:
    rng = np.random.default_rng(2)
    points = Points(rng.uniform(0, 2, 16), rng.uniform(-0.6, 0.6, 16), rng.normal(0, 0.005, (3, 16)))
    crown = np.array([0.03, 0.04, 0.05])
    roof = measured_surface(
        crown=crown, width=1.5, camber=0.02, length=2.1, twist=0.006, middle=np.array([0.9, 1.0, 1.1]), points=points
    )
    x, y, step = rng.uniform(0, 2, 8), rng.uniform(-0.6, 0.6, 8), 1e-5
    zx, zy = roof.slopes(x, y)
    assert zx.shape == zy.shape == (3, 8)
    np.testing.assert_allclose(zx, (roof.height(x + step, y) - roof.height(x - step, y)) / 2 / step, atol=1e-9)
    np.testing.assert_allclose(zy, (roof.height(x, y + step) - roof.height(x, y - step)) / 2 / step, atol=1e-9)


def test_sizes_and_points_that_cannot_be_are_refused() -> None:
    with pytest.raises(ValueError, match="above 0"):
        measured_surface(width=0.0, length=2.0, middle=1.0)
    with pytest.raises(ValueError, match="one x"):
        Points(np.zeros(2), np.zeros(3), np.zeros(2))
    with pytest.raises(ValueError, match="at least one"):
        Points(np.zeros(0), np.zeros(0), np.zeros(0))


def test_each_end_has_the_crown_that_the_taper_gives_it() -> None:
    """Middle of an end over the line between its corners: crown + taper in front, crown - taper at the rear."""
    rim = measured_surface(crown=0.01, taper=0.004, width=1.2, camber=0.003, length=2.0, middle=1.0)
    for x, rise in ((2.0, 0.014), (0.0, 0.006)):
        right, middle, left = rim.height(np.full(3, x), np.array([-0.6, 0.0, 0.6]))
        assert middle - (right + left) / 2 == pytest.approx(rise, abs=1e-15)
    side = rim.height(np.array([0.0, 1.0, 2.0]), np.full(3, 0.6))
    assert side[1] - (side[0] + side[2]) / 2 == pytest.approx(0.003, abs=1e-15)


def test_slopes_with_a_taper_agree_with_small_steps() -> None:
    rim = measured_surface(crown=0.01, taper=0.004, width=1.2, camber=0.003, length=2.0, middle=1.0)
    x, y, step = np.array([0.3, 1.7]), np.array([-0.4, 0.5]), 1e-6
    along, across = rim.slopes(x, y)
    np.testing.assert_allclose(along, (rim.height(x + step, y) - rim.height(x - step, y)) / (2 * step), atol=1e-9)
    np.testing.assert_allclose(across, (rim.height(x, y + step) - rim.height(x, y - step)) / (2 * step), atol=1e-9)


def test_points_may_lie_elsewhere_in_every_row() -> None:
    """Two rows whose points were marked at other places: each row is fitted by itself, as if it were alone."""
    x = np.array([[0.0, 1.0, 2.0, 1.0], [0.1, 1.1, 1.9, 0.9]])
    y = np.array([[-0.5, 0.5, -0.4, 0.0], [-0.4, 0.5, -0.5, 0.1]])
    z = 0.01 + 0.02 * x - 0.01 * y
    both = measured_surface(width=1.2, length=2.0, middle=1.0, points=Points(x, y, z))
    at = np.array([0.4]), np.array([0.2])
    np.testing.assert_allclose(both.height(*at), 0.01 + 0.02 * 0.4 - 0.01 * 0.2, atol=1e-12)
    np.testing.assert_allclose(both.settled().height(*at), both.height(*at), atol=0)
    np.testing.assert_allclose(both.nominal().height(*at), both.height(*at)[:1], atol=1e-15)
