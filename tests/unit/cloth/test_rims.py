"""Rims as closed curves. Exact constructed cases unless a source stands beside the check; laws hold for every rim."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import ellipe

from loftwright.cloth.rims import CORNERS, Heights, Loop, moved, reshaped, rounded, shell_rim

SQRT3 = np.sqrt(3.0)


@pytest.fixture(scope="module")
def crowned() -> Loop:
    surface = Heights(0.06, 0.02, 0.01, 0.004, 0.003, -0.005, 0.002)
    return rounded([0.1, 0.12], 2.0, [1.2, 1.18], 0.15, surface)


def test_flat_rim_is_as_long_as_its_straights_and_quarter_circles() -> None:
    length, width, radius = np.array([2.0, 2.1]), np.array([1.2, 1.1]), np.array([0.15, 0.3])
    rim = rounded(0.1, length, width, radius)
    np.testing.assert_allclose(rim.perimeter, 2.0 * (length + width) - (8.0 - 2.0 * np.pi) * radius, rtol=1e-14)
    assert rim.points.shape == (2, 400, 3)
    begin, end = rim.corner_arcs()
    np.testing.assert_allclose(end - begin, np.pi / 2 * radius[:, None] * np.ones(4), rtol=1e-12)


def test_an_oblique_cut_through_a_cylinder_is_an_ellipse() -> None:
    # Perimeter for a = 2, b = 1: 9.68844822054767619842850319639, read in a public reproduction (a calculator users'
    # page on the perimeter of an ellipse, exact formula 4 a E(1 - b^2 / a^2)).
    steep = rounded(0.0, 2.0, 2.0, 1.0, Heights(pitch=2.0 * SQRT3))
    assert steep.perimeter == pytest.approx(9.68844822054767619842850319639, rel=1e-13)
    # Radius 100, cut at 45 degrees: 764.0395578, standard parallel-line development, from memory; here also scipy's E.
    cut = rounded(-0.1, 0.2, 0.2, 0.1, Heights(pitch=0.2))
    assert cut.perimeter == pytest.approx(0.7640395578, abs=1e-10)
    assert cut.perimeter == pytest.approx(0.4 * np.sqrt(2.0) * ellipe(0.5), rel=1e-13)


def test_arc_of_a_parabola() -> None:
    # Sharp rectangle, camber f over length l: each long side is a parabola. Length by textbook,
    # s = l/2 sqrt(1 + q^2) + l / (2 q) asinh q, q = 4 f / l (from memory).
    length, fall = 2.0, 0.05
    q = 4.0 * fall / length
    side = length / 2.0 * np.sqrt(1.0 + q * q) + length / (2.0 * q) * np.arcsinh(q)
    rim = rounded(0.0, length, 1.0, 0.0, Heights(camber=fall))
    assert rim.perimeter == pytest.approx(2.0 * side + 2.0, rel=1e-12)


def test_points_run_counter_clockwise_from_the_middle_of_the_rear(crowned: Loop) -> None:
    np.testing.assert_allclose(crowned.points[:, 0, :2], [[0.1, 0.0], [0.12, 0.0]], atol=1e-15)
    assert crowned.points[0, 1, 1] < 0.0
    x, y = crowned.points[0, :, 0], crowned.points[0, :, 1]
    area = float(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)) / 2.0)
    assert area == pytest.approx(2.0 * 1.2 - (4.0 - np.pi) * 0.15**2, abs=3e-5)
    seen = [name for k, name in enumerate(crowned.places) if name != crowned.places[k - 1]]
    wanted = [CORNERS[0], "right", CORNERS[1], "front", CORNERS[2], "left", CORNERS[3], "rear"]
    assert seen == wanted
    assert [crowned.places[a] for a, _ in crowned.corners] == list(CORNERS)


def test_every_point_lies_on_outline_and_surface(crowned: Loop) -> None:
    p = crowned.points[0]
    x, y = np.abs(p[:, 0] - 1.1), np.abs(p[:, 1])
    in_corner = (x > 0.85) & (y > 0.45)
    np.testing.assert_allclose(np.hypot(x - 0.85, y - 0.45)[in_corner], 0.15, rtol=1e-13)
    np.testing.assert_allclose(np.maximum(x - 1.0, y - 0.6)[~in_corner], 0.0, atol=1e-14)
    front = p[[k for k, name in enumerate(crowned.places) if name == "front"]]
    middle = front[np.argmin(np.abs(front[:, 1]))]
    # Front middle: height - camber + pitch / 2; the crown does not count there.
    assert middle == pytest.approx((2.1, 0.0, 0.06 - 0.01 - 0.0025), abs=1e-14)


def test_middles_and_ends_of_corners_are_points(crowned: Loop) -> None:
    for place, wanted in (("right", (1.1, -0.6)), ("left", (1.1, 0.6)), ("front", (2.1, 0.0))):
        known = crowned.points[0, [k for k, name in enumerate(crowned.places) if name == place], :2]
        assert np.linalg.norm(known - wanted, axis=-1).min() < 1e-14
    ends = crowned.points[0, list(crowned.kinks), :2]
    np.testing.assert_allclose(ends[:2], [[0.1, -0.45], [0.25, -0.6]], atol=1e-14)


def test_sharp_corners_are_single_kinks() -> None:
    rim = rounded(0.0, 2.0, 1.0, (0.0, 0.1, 0.1, 0.0), per=100)
    assert len(rim.kinks) == 6
    assert rim.corners[0][0] == rim.corners[0][1]
    assert rim.points[rim.corners[0][0]] == pytest.approx((0.0, -0.5, 0.0), abs=1e-15)
    assert rim.perimeter == pytest.approx(6.0 - 4.0 * 0.1 + np.pi * 0.1, rel=1e-14)


@pytest.mark.parametrize(
    ("radius", "words"), [(-0.1, "between 0 and half"), (0.51, "between 0 and half"), ([0.0, 0.1], "either sharp")]
)
def test_impossible_corners_are_refused(radius: float | list[float], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        rounded(0.0, 2.0, 1.0, radius)


def test_a_shell_on_a_table_touches_it_with_its_corners_in_the_mean() -> None:
    rim = shell_rim(0.0, 2.0, 1.2, 0.0, 0.06, end_rise=0.004, side_rise=0.007, twist=0.006, taper=0.001)
    corners = rim.points[list(rim.kinks), 2]
    assert corners.mean() == pytest.approx(0.06, abs=1e-15)
    # One corner stands off the plane of the other three by the twist: a - b + c - d.
    assert corners[2] - corners[1] + corners[0] - corners[3] == pytest.approx(0.006, abs=1e-15)
    rear, front = rim.points[0, 2], rim.points[np.argmin(np.abs(rim.arc[:-1] - 3.2)), 2]
    # Middle of an end over the mean of its two corners.
    assert rear - (corners[0] + corners[3]) / 2.0 == pytest.approx(0.004 - 0.001, abs=1e-15)
    assert front - (corners[1] + corners[2]) / 2.0 == pytest.approx(0.004 + 0.001, abs=1e-15)


@pytest.mark.parametrize("plane", ["lengthwise", "crosswise"])
def test_moving_keeps_lengths_and_mirrors_across(crowned: Loop, plane: str) -> None:
    swung = moved(crowned, [-0.1, 0.2], [0.05, 0.1], [0.4, -0.3], plane, edge=0.6)  # type: ignore[arg-type]
    one, two = (p[..., ::37, :] for p in (crowned.points, swung.points))
    gaps = [np.linalg.norm(p[:, :, None] - p[:, None], axis=-1) for p in (one, two)]
    np.testing.assert_allclose(gaps[0], gaps[1], atol=1e-14)
    np.testing.assert_array_equal(swung.arc, crowned.arc)


def test_moving_follows_the_plane() -> None:
    rim = rounded(0.0, 2.0, 1.2, 0.1)
    # A quarter turn about the rear edge: the front end stands up straight over it.
    up = moved(rim, 0.0, 0.0, np.pi / 2)
    assert up.points[np.argmax(up.points[:, 2])] == pytest.approx(
        (0.0, up.points[:, 1][np.argmax(up.points[:, 2])], 2.0)
    )
    # About the left edge: u = edge - y runs to the right, so the right side stands up.
    over = moved(rim, 0.0, 0.0, np.pi / 2, "crosswise", edge=0.6)
    right = over.points[[k for k, name in enumerate(rim.places) if name == "right"]]
    np.testing.assert_allclose(right[:, 1:], [[0.6, 1.2]] * len(right), atol=1e-14)
    np.testing.assert_allclose(right[:, 0], rim.points[[k for k, n in enumerate(rim.places) if n == "right"], 0])


def test_rows_of_a_motion_make_rows_of_a_rim() -> None:
    rim = moved(rounded(0.0, 2.0, 1.2, 0.1), [0.0, 0.1, 0.2], 0.5, 0.0)
    assert rim.points.shape == (3, 400, 3)
    assert rim.arc.shape == (3, 401)
    np.testing.assert_allclose(rim.row(2).points - rim.row(0).points, np.tile([0.2, 0.0, 0.0], (400, 1)), atol=1e-15)


def test_a_rim_swollen_evenly_grows_evenly(crowned: Loop) -> None:
    np.testing.assert_allclose(reshaped(crowned, 1.01 * crowned.points).arc, 1.01 * crowned.arc, rtol=1e-13)


def test_laws_of_scale_datum_and_mirror() -> None:
    surface = (0.06, 0.02, 0.01, 0.004, 0.003, -0.005, 0.002)
    rim = rounded(0.1, 2.0, 1.2, 0.15, Heights(*surface))
    inches = rounded(*(v / 0.0254 for v in (0.1, 2.0, 1.2, 0.15)), Heights(*(v / 0.0254 for v in surface)))
    np.testing.assert_allclose(inches.points * 0.0254, rim.points, atol=1e-14)
    np.testing.assert_allclose(inches.arc * 0.0254, rim.arc, atol=1e-13)
    shifted = rounded(0.4, 2.0, 1.2, 0.15, Heights(surface[0] + 0.2, *surface[1:]), aside=-0.05)
    np.testing.assert_allclose(shifted.points - rim.points, np.tile([0.3, -0.05, 0.2], (400, 1)), atol=1e-14)
    # Left for right: twist and roll turn round, and so does the order of the points.
    other = rounded(0.1, 2.0, 1.2, 0.15, Heights(*surface[:3], -0.004, 0.003, -0.005, -0.002))
    back = np.roll(other.points[::-1], 1, axis=0) * [1.0, -1.0, 1.0]
    np.testing.assert_allclose(back, rim.points, atol=1e-14)
    assert other.perimeter == pytest.approx(rim.perimeter, rel=1e-14)
