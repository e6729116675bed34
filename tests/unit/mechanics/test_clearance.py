"""Clearance: exact constructed cases, and dense sampling of both bodies as the second way.

Computed here from first principles; no printed source.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from loftwright.core.motion import PointPath, still
from loftwright.core.outline import shell_outline
from loftwright.mechanics.clearance import (
    Capsule,
    Gap,
    Line,
    capsule_between,
    capsule_clearance,
    carried_line,
    fixed_line,
    line_height,
    line_over_profile,
    nearest,
    over_board,
    past_head,
    past_opening_edges,
    point_segment_distance,
    rim_over_roof,
    segments_cross,
    shell_over_board,
    shell_past_upstand,
    spring_bodies,
    under_shell,
)
from loftwright.mechanics.four_bar import FourBar, four_bar_travel
from loftwright.mechanics.hinge import hinge_travel


def capsule(ax: float, az: float, bx: float, bz: float, radius: float = 0.0) -> Capsule:
    return Capsule(*(np.array([float(v)]) for v in (ax, az, bx, bz)), np.array(radius))


def fixed_path(x: float, z: float) -> PointPath:
    return still(1).point(x, z)


def along(points: np.ndarray, count: int) -> np.ndarray:
    """Return `count` points a segment along the bent line `points` [k, 2]."""
    t = np.linspace(0, 1, count)[:, None]
    return np.concatenate([a + t * (b - a) for a, b in pairwise(points)])


def sampled_distance(first: np.ndarray, second: np.ndarray) -> float:
    return float(np.hypot(*(first[:, None, :] - second[None, :, :]).transpose(2, 0, 1)).min())


# Primitives


@pytest.mark.parametrize(
    ("point", "expected"),
    [((1, 1), (1, 1, 0)), ((-3, 4), (5, 0, 0)), ((7, 4), (5, 4, 0)), ((2, 0), (0, 2, 0))],
)
def test_point_to_segment(point: tuple[float, float], expected: tuple[float, float, float]) -> None:
    assert [float(v) for v in point_segment_distance(*point, 0, 0, 4, 0)] == pytest.approx(expected)


def test_segment_without_length_is_a_point() -> None:
    assert float(point_segment_distance(3, 4, 0, 0, 0, 0)[0]) == pytest.approx(5)


def test_only_a_passage_counts_as_crossing() -> None:
    assert segments_cross(0, 0, 4, 0, 2, -1, 2, 1)
    assert not segments_cross(0, 0, 4, 0, 2, 0, 2, 1)
    assert not segments_cross(0, 0, 4, 0, 5, -1, 5, 1)


def test_height_of_a_line_follows_straight_interpolation() -> None:
    rng = np.random.default_rng(6)
    x, z = np.sort(rng.uniform(0, 3, (4, 6)), axis=1), rng.uniform(-0.1, 0.1, (4, 6))
    at = rng.uniform(-1, 4, (4, 9))
    expected = np.array([np.interp(a, xs, zs) for a, xs, zs in zip(at, x, z, strict=True)])
    np.testing.assert_allclose(line_height(at, fixed_line(x, z)), expected, atol=1e-14)


# Capsules


def test_capsule_beside_a_wall() -> None:
    gap = capsule_clearance(capsule(0, 0, 0, 1, 0.02), fixed_line([0.1, 0.1], [-1, 2]), line_radius=0.01)
    assert gap.distance[0] == pytest.approx(0.07)
    assert gap.x[0] == pytest.approx(0.1)


def test_end_of_a_capsule_through_a_wall_is_as_deep_as_it_sticks_through() -> None:
    gap = capsule_clearance(capsule(0, 0.5, 1.03, 0.5, 0.01), fixed_line([1, 1], [-5, 5]))
    assert gap.distance[0] == pytest.approx(-0.04)
    assert (gap.x[0], gap.z[0]) == pytest.approx((1, 0.5))


def test_edge_through_a_capsule_is_as_deep_as_it_sticks_through() -> None:
    gap = capsule_clearance(capsule(-2, 0.5, 2, 0.5, 0.01), fixed_line([0, 0], [0, 0.53]))
    assert gap.distance[0] == pytest.approx(-0.04)
    assert (gap.x[0], gap.z[0]) == pytest.approx((0, 0.53))


def test_ridge_through_a_capsule_is_as_deep_as_it_sticks_through() -> None:
    gap = capsule_clearance(capsule(-2, 0.5, 2, 0.5, 0.01), fixed_line([-1, 0, 1], [0, 0.53, 0]))
    assert gap.distance[0] == pytest.approx(-0.04)
    assert (gap.x[0], gap.z[0]) == pytest.approx((0, 0.53))


def test_capsule_against_dense_sampling() -> None:
    rng = np.random.default_rng(7)
    body = rng.uniform(-1, 1, (80, 2, 2))
    line = np.cumsum(rng.uniform(-0.6, 0.9, (80, 4, 2)), axis=1) - 0.5
    (ax, az), (bx, bz) = body[:, 0].T, body[:, 1].T
    gap = capsule_clearance(
        Capsule(ax[:, None], az[:, None], bx[:, None], bz[:, None], np.array(0.05)),
        fixed_line(line[:, :, 0], line[:, :, 1]),
    )
    assert gap.distance.shape == (80, 1)
    apart = 0
    for i in range(80):
        sampled = sampled_distance(along(body[i], 400), along(line[i], 400))
        if sampled > 8e-3:
            apart += 1
            assert gap.distance[i, 0] + 0.05 == pytest.approx(sampled, abs=8e-3)
            assert gap.distance[i, 0] + 0.05 <= sampled + 1e-12
        else:
            assert gap.distance[i, 0] + 0.05 < 8e-3
    assert 20 < apart < 75


def test_pushing_a_capsule_through_a_line_never_makes_the_distance_jump() -> None:
    """A body moved by a small step changes its distance by no more than the step."""
    rng = np.random.default_rng(8)
    line = np.cumsum(rng.uniform(-0.5, 0.9, (60, 5, 2)), axis=1) - 0.8
    body = rng.uniform(-1, 1, (60, 2, 2, 1))
    way = rng.uniform(-1, 1, (60, 1, 2, 1))
    moved = body + way * np.linspace(-2, 2, 4001)
    (ax, az), (bx, bz) = moved[:, 0].transpose(1, 0, 2), moved[:, 1].transpose(1, 0, 2)
    gap = capsule_clearance(Capsule(ax, az, bx, bz, np.array(0.0)), fixed_line(line[:, :, 0], line[:, :, 1]))
    step = np.linalg.norm(way, axis=2)[:, 0] * 1e-3
    assert (gap.distance < -0.05).any(axis=1).sum() > 20
    assert np.all(np.abs(np.diff(gap.distance, axis=1)) <= step + 1e-12)


def test_nearest_and_least() -> None:
    first = Gap(np.array([3.0, 1.0]), np.zeros(2), np.zeros(2))
    second = Gap(np.array([2.0, 4.0]), np.ones(2), np.ones(2))
    both = nearest(first, second)
    assert both.distance.tolist() == [2, 1]
    assert both.x.tolist() == [1, 0]
    assert [float(v) for v in both.least()] == [1, 1]


# A line over the roof


def test_line_over_profile_against_dense_sampling() -> None:
    rng = np.random.default_rng(9)
    roof_x, roof_z = np.linspace(0, 2, 5), rng.uniform(0, 0.1, 5)
    roof = along(np.array([np.r_[-1, roof_x, 3], np.r_[roof_z[0], roof_z, roof_z[-1]]]).T, 500)
    x = np.sort(rng.uniform(-0.3, 2.3, (40, 3)), axis=1)
    z = rng.uniform(0.05, 0.25, (40, 3))
    gap = line_over_profile(fixed_line(x, z), roof_x, roof_z)
    over = under = 0
    for i in range(40):
        points = along(np.array([x[i], z[i]]).T, 300)
        height = points[:, 1] - np.interp(points[:, 0], roof_x, roof_z)
        if height.min() > 0.01:
            over += 1
            assert gap.distance[i, 0] == pytest.approx(sampled_distance(points, roof), abs=3e-3)
        elif height.min() < -0.01:
            under += 1
            assert gap.distance[i, 0] < 0
    assert over > 5
    assert under > 5


def test_rim_beyond_the_hinge_goes_down_by_the_turned_overhang() -> None:
    """Hinge 10 mm above the roof, rim 60 mm beyond it: depth 60 sin q - 10 at the corner."""
    travel = hinge_travel(2.0, 0.010, np.radians(30), end="front", stations=31)
    gap = rim_over_roof(travel.shell, [-0.05, 2.06], [0.010, 0.010], [0.0, 2.0], [0.0, 0.0])
    np.testing.assert_allclose(gap.distance, 0.010 - 0.060 * np.sin(travel.q), atol=1e-12)
    np.testing.assert_allclose(gap.x[1:], 2.0 + 0.060 * np.cos(travel.q[1:]), atol=1e-12)
    touch = int(np.flatnonzero(gap.distance < 0)[0])
    assert np.degrees(np.arcsin(1 / 6)) < np.degrees(travel.q[touch]) < np.degrees(np.arcsin(1 / 6)) + 1


def test_rim_behind_a_rear_hinge_mirrors_the_front_one() -> None:
    front = hinge_travel(2.0, 0.01, 0.5, end="front")
    rear = hinge_travel(0.0, 0.01, 0.5, end="rear")
    at_front = rim_over_roof(front.shell, [-0.05, 2.06], [0.01, 0.01], [0.0, 1.0, 2.0], [0.0, 0.01, 0.02])
    at_rear = rim_over_roof(rear.shell, [-0.06, 2.05], [0.01, 0.01], [0.0, 1.0, 2.0], [0.02, 0.01, 0.0])
    np.testing.assert_allclose(at_front.distance, at_rear.distance, atol=1e-12)


def test_a_crowned_roof_touches_the_rim_between_its_ends() -> None:
    gap = line_over_profile(fixed_line([0.0, 2.0], [0.03, 0.03]), [0.0, 1.0, 2.0], [0.0, 0.04, 0.0])
    assert gap.distance[0] == pytest.approx(-0.01)
    assert gap.x[0] == pytest.approx(1.0)


def test_rim_draws() -> None:
    travel = hinge_travel(np.array([2.0, 2.1]), 0.01, 0.5, end="front")
    rim_x = np.stack([np.array([-0.05, -0.04]), np.array([2.06, 2.3])], axis=-1)
    gap = rim_over_roof(travel.shell, rim_x, np.full((2, 2), 0.01), np.array([0.0, 2.0]), np.zeros(2))
    assert gap.distance.shape == (2, 121)
    for i in range(2):
        alone = hinge_travel([2.0, 2.1][i], 0.01, 0.5, end="front")
        single = rim_over_roof(alone.shell, rim_x[i], [0.01, 0.01], [0.0, 2.0], [0.0, 0.0])
        np.testing.assert_allclose(gap.distance[i], single.distance, atol=1e-14)


# The shell


OUTLINE = shell_outline(-0.05, 2.06, 0.01, 0.20, 0.26, 0.22, thickness=0.02)


def test_rim_corner_swings_towards_the_foot_of_the_upstand() -> None:
    """Hinge on the rim line, 10 mm above the skin, right over the upstand; inner face of the wall 40 mm beyond it.

    The corner swings on 40 mm about the hinge. A place t below the hinge is nearest at t = 40 sin q, down to the
    foot at t = 10 mm.
    """
    travel = hinge_travel(2.0, 0.01, np.radians(60), end="front", stations=61)
    gap = shell_past_upstand(travel.shell, *OUTLINE, 2.0, 0.0, 0.04)
    sin, cos = np.sin(travel.q), np.cos(travel.q)
    expected = np.where(0.04 * sin <= 0.01, 0.04 * cos, np.hypot(0.04 - 0.01 * sin, 0.01 * cos))
    np.testing.assert_allclose(gap.distance, expected, atol=1e-12)


@pytest.mark.parametrize("stations", [3, 5, 41, 401])
def test_wall_that_swings_through_the_upstand_is_seen_at_any_step(stations: int) -> None:
    """A wall 20 mm beyond the upstand, its hinge 300 mm above the rim: the corner swings back through the upstand."""
    travel = hinge_travel(2.12, 0.3, np.radians(40), end="front", stations=stations)
    gap = shell_past_upstand(travel.shell, [0.0, 0.0, 2.02, 2.02], [0.0, 0.2, 0.2, 0.0], 2.0, 0.0, 0.04)
    assert gap.distance.min() < 0


def test_upstand_that_leaves_through_the_open_rim_touches_nothing() -> None:
    travel = hinge_travel(2.0, 0.01, np.radians(30), end="front", stations=31)
    gap = shell_past_upstand(travel.shell, *OUTLINE, 0.0, 0.0, 0.04)
    assert gap.distance[0] == pytest.approx(0.03)
    assert np.all(gap.distance > 0.02)
    assert gap.distance[-1] > 0.5


def test_shell_over_a_board_when_closed() -> None:
    gap = shell_over_board(still(1), *OUTLINE, 0.3, 1.7, 0.15)
    x, z = OUTLINE
    slope = (z[2] - z[1]) / (x[2] - x[1])
    left = (np.interp(0.3, x[1:4], z[1:4]) - 0.15) / np.hypot(1, slope)
    other = (z[3] - z[2]) / (x[3] - x[2])
    right = (np.interp(1.7, x[1:4], z[1:4]) - 0.15) / np.hypot(1, other)
    assert gap.distance[0] == pytest.approx(min(left, right), abs=1e-12)
    assert shell_over_board(still(1), *OUTLINE, 0.3, 1.7, 0.23).distance[0] < 0


# Springs and arms


def test_tube_keeps_its_length_and_rod_shows_the_rest() -> None:
    tube, rod = spring_bodies(fixed_path(0, 0), fixed_path(0.6, 0.8), 0.4, 0.011, 0.005)
    assert (float(tube.bx[0]), float(tube.bz[0])) == pytest.approx((0.6, 0.8))
    assert np.hypot(tube.bx - tube.ax, tube.bz - tube.az)[0] == pytest.approx(0.4)
    assert np.hypot(rod.bx - rod.ax, rod.bz - rod.az)[0] == pytest.approx(0.6)
    assert (float(rod.radius), float(tube.radius)) == (0.005, 0.011)
    tube, rod = spring_bodies(fixed_path(0, 0), fixed_path(0.06, 0.08), 0.4, 0.011, 0.005)
    assert np.hypot(rod.bx - rod.ax, rod.bz - rod.az)[0] == pytest.approx(0)


ROOF = {"roof_x": [0.0, 2.0], "roof_z": [0.0, 0.0], "roof_build": 0.025, "upstand": 0.04}


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        (capsule(1.95, -0.3, 1.95, 0.2, 0.01), 0.04),  # upright inside the opening, 50 mm from its front edge
        (capsule(0.05, -0.3, 0.05, 0.2, 0.01), 0.04),  # the same at the rear
        (capsule(-0.3, 0.1, 0.5, 0.1, 0.01), 0.05),  # lying over the upstand
        (capsule(-0.3, -0.1, 0.5, -0.1, 0.01), 0.065),  # under the lining
        (capsule(0.5, 0.01, -0.02, 0.01, 0.01), -0.03),  # 20 mm through the edge
        (
            capsule(2.5, -0.5, 2.5, 0.03, 0.01),
            -0.065,
        ),  # far from the edge, 55 mm through the lining and on through the skin
    ],
)
def test_past_the_edges_of_the_opening(body: Capsule, expected: float) -> None:
    assert past_opening_edges(body, 2.0, **ROOF).distance[0] == pytest.approx(expected)


def test_edges_follow_the_roof_profile_and_draws() -> None:
    roof_z = np.array([[0.0, 0.03], [0.0, 0.05]])
    gap = past_opening_edges(
        capsule(1.5, 0.12, 2.5, 0.12),
        2.0,
        np.array([0.0, 2.0]),
        roof_z,
        roof_build=0.025,
        upstand=np.array([0.04, 0.06]),
    )
    np.testing.assert_allclose(gap.distance[:, 0], [0.05, 0.01])


def test_spring_under_the_shell_over_the_board_and_past_a_head() -> None:
    body = capsule(0.5, 0.1, 1.5, 0.1, 0.012)
    x, z = [-0.03, -0.03, 2.04, 2.04], [0.01, 0.21, 0.21, 0.01]
    assert under_shell(body, still(1), x, z).distance[0] == pytest.approx(0.098)
    assert under_shell(capsule(0.5, 0.1, 0.5, 0.24, 0.012), still(1), x, z).distance[0] == pytest.approx(-0.042)
    assert over_board(body, 0.2, 1.2, 0.05).distance[0] == pytest.approx(0.038)
    rising = capsule(0.5, 0.0, 1.5, 0.06, 0.012)
    square = np.hypot(1, 0.06)
    assert over_board(rising, 0.2, 1.2, 0.05).distance[0] == pytest.approx(0.008 / square - 0.012)
    assert over_board(rising, 0.2, 1.45, 0.05).distance[0] == pytest.approx(-0.007 / square - 0.012)
    assert past_head(body, 1.0, -0.2, 0.11).distance[0] == pytest.approx(0.178)
    assert past_head(body, 1.0, 0.15, 0.11).distance[0] == pytest.approx(-0.072)


def test_distances_in_the_shells_frame_do_not_change_as_it_turns() -> None:
    travel = hinge_travel(2.0, 0.01, np.radians(35), end="front")
    foot, head = travel.shell.point(0.6, 0.05), travel.shell.point(1.2, 0.1)
    gap = under_shell(capsule_between(foot, head, 0.01), travel.shell, *OUTLINE)
    np.testing.assert_allclose(gap.distance, gap.distance[0], atol=1e-12)


def test_swept_spring_against_dense_sampling() -> None:
    """Foot on the van below the front edge, head on a shell carried by arms; least of all stations."""
    found = four_bar_travel(FourBar(1.7, -0.05, 1.3, 0.05, 1.9, -0.05, 1.6, 0.06), np.radians(50), stations=25)
    shell = found.travel.shell
    foot, head = still(25).point(1.55, -0.15), shell.point(1.0, 0.12)
    gap = under_shell(capsule_between(foot, head, 0.011), shell, *OUTLINE)
    line = carried_line(shell, *OUTLINE)
    for i in range(25):
        body = np.array([[foot.x[i], foot.z[i]], [head.x[i], head.z[i]]])
        sampled = sampled_distance(along(body, 300), along(np.array([line.x[i], line.z[i]]).T, 300))
        if gap.distance[i] > 0:
            assert gap.distance[i] == pytest.approx(sampled - 0.011, abs=6e-3)


def test_gaps_of_draws_equal_those_of_each_alone() -> None:
    rng = np.random.default_rng(11)
    z = rng.normal(0.05, 0.005, 7)
    shell = four_bar_travel(FourBar(1.7, -0.05, 1.3, z, 1.9, -0.05, 1.6, 0.06), np.radians(50)).travel.shell
    head_z = rng.normal(0.12, 0.003, 7)
    body = capsule_between(still(121).point(1.55, -0.15), shell.point(1.0, head_z), np.linspace(0.01, 0.016, 7))
    edges = past_opening_edges(body, 2.0, **ROOF)
    inner = under_shell(body, shell, *OUTLINE)
    assert edges.distance.shape == inner.distance.shape == (7, 121)
    for i in (0, 6):
        one = four_bar_travel(FourBar(1.7, -0.05, 1.3, z[i], 1.9, -0.05, 1.6, 0.06), np.radians(50)).travel.shell
        alone = capsule_between(still(121).point(1.55, -0.15), one.point(1.0, head_z[i]), 0.010 + 0.001 * i)
        np.testing.assert_allclose(edges.distance[i], past_opening_edges(alone, 2.0, **ROOF).distance, atol=1e-12)
        np.testing.assert_allclose(inner.distance[i], under_shell(alone, one, *OUTLINE).distance, atol=1e-12)


def test_a_line_may_be_a_single_point() -> None:
    gap = capsule_clearance(capsule(0, 0, 1, 0), Line(np.array([[0.5]]), np.array([[0.3]])), line_radius=0.1)
    assert gap.distance[0] == pytest.approx(0.2)
