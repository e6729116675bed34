"""Walls of a leaning, larger shell rolled out a second way: convex hull (SciPy) and conformal and rigid maps (libigl).

Second way by general-purpose libraries: ConvexHull for the area between two flat rims; least squares conformal and
as-rigid-as-possible maps of the ruled surface for the outline.
"""

from __future__ import annotations

import math
from functools import cache

import igl  # type: ignore[import-untyped]
import numpy as np
import pytest
from scipy.spatial import ConvexHull

from loftwright.cloth.develop import Panel, develop
from loftwright.cloth.unfold import arcs, misfit, outline
from loftwright.core.motion import Array

ACROSS, UP = 121, 25


def rim(wall: str, grown: float, points: int) -> Array:
    """A quarter of a rim 2000 by 1200 with corners of 150, `grown` all round, from mid-corner to mid-corner."""
    x, y, r = 0.85, 0.45, 0.15 + grown
    middle = {"rear": math.pi, "right": 1.5 * math.pi, "front": 2 * math.pi, "left": 2.5 * math.pi}[wall]
    ends = []
    for begin in (middle - math.pi / 4, middle):
        t = np.linspace(begin, begin + math.pi / 4, points // 8)
        side = begin + math.pi / 8
        centre = np.array([x * np.sign(math.cos(side)), y * np.sign(math.sin(side))])
        ends.append(centre + r * np.stack([np.cos(t), np.sin(t)], axis=-1))
    between = np.linspace(0.0, 1.0, points - 2 * (points // 8) + 2)[1:-1, None]
    return np.concatenate([ends[0], ends[0][-1] * (1 - between) + ends[1][0] * between, ends[1]])


def edges(wall: str, grown: float, tilted: bool, points: int = 200) -> tuple[Array, Array]:
    """Level: 500 mm above. Tilted: by 25 degrees about a line 100 ahead and 30 up; 60 above the roof when closed."""
    low, high = (np.column_stack([rim(wall, by, points), np.zeros(points)]) for by in (0.0, grown))
    if not tilted:
        return low, high + np.array([0, 0, 0.5])
    turn = math.radians(25)
    x, z = high[:, 0] - 1.1, 0.06 - 0.03
    high[:, 0], high[:, 2] = (
        1.1 + x * math.cos(turn) + z * math.sin(turn),
        0.03 - x * math.sin(turn) + z * math.cos(turn),
    )
    return low, high


@cache
def panel(wall: str, grown: float, tilted: bool) -> Panel:
    return develop(*edges(wall, grown, tilted))


@pytest.mark.parametrize(("grown", "tilted"), [(0.0, False), (0.03, False), (0.0, True), (0.03, True)])
def test_area_is_that_of_the_convex_hull(grown: float, tilted: bool) -> None:
    walls = ("rear", "right", "front", "left")
    parts = [edges(wall, grown, tilted) for wall in walls]
    hull = ConvexHull(np.concatenate([edge for part in parts for edge in part]))
    # Its lateral faces: all but those of the two flat lids.
    lids = 0.0
    for which in (0, 1):
        lid = np.concatenate([part[which] for part in parts])
        _, _, axes = np.linalg.svd(lid - lid.mean(axis=0), full_matrices=False)
        lids += float(ConvexHull((lid - lid.mean(axis=0)) @ axes[:2].T).volume)
    found = sum(float(panel(wall, grown, tilted).area) for wall in walls)
    assert found == pytest.approx(float(hull.area) - lids, rel=0.001)


def at_equal_arcs(edge: Array, points: int) -> Array:
    along = arcs(edge)
    wanted = np.linspace(0.0, along[-1], points)
    return np.stack([np.interp(wanted, along, edge[:, axis]) for axis in range(edge.shape[1])], axis=-1)


def ruled(low: Array, high: Array) -> tuple[Array, Array]:
    """The ruled surface between points at equal arc lengths, as a grid of triangles."""
    share = np.linspace(0.0, 1.0, UP)[:, None, None]
    grid = at_equal_arcs(low, ACROSS) * (1 - share) + at_equal_arcs(high, ACROSS) * share
    place = np.arange(ACROSS * UP).reshape(UP, ACROSS)
    a, b, c, d = (part.ravel() for part in (place[:-1, :-1], place[:-1, 1:], place[1:, 1:], place[1:, :-1]))
    return grid.reshape(-1, 3), np.concatenate([np.stack([a, b, c], axis=-1), np.stack([a, c, d], axis=-1)])


def area(points: Array, faces: Array) -> float:
    one, two = points[faces[:, 1]] - points[faces[:, 0]], points[faces[:, 2]] - points[faces[:, 0]]
    if points.shape[-1] == 3:
        return float(np.sum(np.linalg.norm(np.cross(one, two), axis=-1)) / 2)
    return float(np.sum(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]) / 2)


@pytest.mark.parametrize(
    ("wall", "grown", "tilted"),
    [
        ("rear", 0.03, False),
        ("right", 0.03, False),
        ("rear", 0.03, True),
        ("right", 0.0, True),
        ("right", 0.03, True),
    ],
)
def test_outline_by_conformal_and_rigid_maps(wall: str, grown: float, tilted: bool) -> None:
    points, faces = ruled(*edges(wall, grown, tilted))
    own = panel(wall, grown, tilted)
    pinned = np.array([0, ACROSS - 1])
    conformal, _ = igl.lscm(points, faces, pinned, own.lower[[0, -1]])
    conformal = conformal * math.sqrt(area(points, faces) / area(conformal, faces))
    data = igl.ARAPData()
    data.max_iter = 30
    igl.arap_precomputation(points, faces, 2, np.array([0], dtype=np.int32), data)
    rigid = igl.arap_solve(np.zeros((1, 2)), data, conformal - conformal[0])
    sides = np.unique(np.sort(np.concatenate([faces[:, :2], faces[:, 1:], faces[:, ::2]]), axis=1), axis=0)
    true = np.linalg.norm(points[sides[:, 0]] - points[sides[:, 1]], axis=-1)
    rolled = outline(at_equal_arcs(own.lower, ACROSS), at_equal_arcs(own.upper, ACROSS))
    for flat in (conformal, rigid):
        assert float(misfit(rolled, outline(flat[:ACROSS], flat[-ACROSS:]))) <= 0.0003
        stretch = np.linalg.norm(flat[sides[:, 0]] - flat[sides[:, 1]], axis=-1) / true - 1.0
        assert math.sqrt(float(np.mean(stretch**2))) < 0.0001


def test_the_ways_part_when_the_shell_is_much_larger() -> None:
    """Askew edges let cloth bend two ways: alike for a shell 30 mm larger, apart for one 150 mm larger all round."""
    assert panel("right", 0.03, True).two_ways < 0.002 < panel("right", 0.15, True).two_ways


def test_twice_the_points() -> None:
    """Exact seams: 100 against 200 points, within 0.1 mm."""
    for wall in ("rear", "right", "front"):
        assert panel(wall, 0.03, True).refined <= 0.0001
