"""Flat patterns of sheet-metal work: cones, cut cylinders, square to round, pyramids.

E. M. Longfield, Sheet Metal Drafting, articles 37, 38, 43 and problem 30B: set-ups and the rule of the slant height
read in a public reproduction, the figures computed here from them (the printed result of 30B is lost there). The
sector of 126.4 degrees and that of 254.6 degrees were read on public class pages. All others: computed here from
first principles. Curves are given as 200 points and scaled to a radius of 400 mm; 0.2 mm is allowed.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from loftwright.cloth.triangulate import triangulate
from loftwright.cloth.unfold import arcs, bridges_of, creases, edge_length, misfit, outline, strip_area, unfold
from loftwright.core.motion import Array

ALLOWED = 0.0002
POINTS = 200


def ring(radius: float, height: float, turn: float = 2 * math.pi, points: int = POINTS) -> Array:
    t = np.linspace(0.0, turn, points)
    return np.stack([radius * np.cos(t), radius * np.sin(t), np.full(points, height)], axis=-1)


def sector(radius: float, angle: float, points: int = POINTS) -> Array:
    t = np.linspace(-angle / 2, angle / 2, points)
    return np.stack([radius * np.sin(t), -radius * np.cos(t)], axis=-1)


@pytest.mark.parametrize(
    ("wide", "narrow", "height", "inner", "outer", "degrees", "area"),
    [
        (8.0, 5.0, 4.0, 7.1200031, 11.3920050, 126.404439, 87.235783),
        (6.0, 3.0, 3.0, 3.3541020, 6.7082039, 160.9968944, 47.4174994),
    ],
)
def test_cone_frustum(
    wide: float, narrow: float, height: float, inner: float, outer: float, degrees: float, area: float
) -> None:
    scale = 0.4 / (wide / 2)
    low, high = ring(wide / 2 * scale, 0.0), ring(narrow / 2 * scale, height * scale)
    word = triangulate(low, high)
    flat = unfold(low, high, word)
    angle = math.radians(degrees)
    truth = outline(sector(outer * scale, angle), sector(inner * scale, angle))
    assert float(misfit(outline(*flat), truth)) <= ALLOWED
    assert float(strip_area(low, high, word)) / scale**2 == pytest.approx(area, rel=2e-4)
    # The chords of both arcs, as they are measured on the sheet.
    for edge, radius in ((flat[0], outer), (flat[1], inner)):
        across = float(np.linalg.norm(edge[-1] - edge[0])) / scale
        assert across == pytest.approx(2 * radius * math.sin(angle / 2), abs=ALLOWED / scale)


@pytest.mark.parametrize(
    ("base", "slant", "degrees"),
    [(4.0, 7.2801099, 98.8996060), (5.0, 12.0, 75.0), (2.0 * math.sin(math.pi / 4), 1.0, 254.558)],
)
def test_full_cone(base: float, slant: float, degrees: float) -> None:
    """The flower holder, the cone of 5 by 12, and one with a right angle at its apex: sector = sin of half of it."""
    low = ring(base / 2, 0.0)
    apex = np.array([[0.0, 0.0, math.sqrt(slant**2 - base**2 / 4)]])
    word = triangulate(low, apex)
    flat_low, flat_apex = unfold(low, apex, word)
    ends = flat_low[[0, -1]] - flat_apex[0]
    turned = math.atan2(*ends[1][::-1]) - math.atan2(*ends[0][::-1])
    assert math.degrees(turned % (2 * math.pi)) == pytest.approx(degrees, abs=0.02)
    assert float(strip_area(low, apex, word)) == pytest.approx(math.pi * base * slant / 2, rel=2e-4)


def test_cone_of_thirty_degrees_lacks_half_a_turn_at_its_apex() -> None:
    """Gauss-Bonnet: what is missing to a full turn at the apex of a cone with half-angle 30 degrees is pi."""
    low, apex = ring(0.5, 0.0, points=2001), np.array([[0.0, 0.0, 0.5 * math.sqrt(3.0)]])
    flat_low, flat_apex = unfold(low, apex, triangulate(low, apex))
    steps = flat_low - flat_apex
    turned = np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))
    assert 2 * math.pi - float(turned[-1] - turned[0]) == pytest.approx(math.pi, abs=2e-6)


@pytest.mark.parametrize(
    ("degrees", "ordinates", "length"),
    [
        (45.0, (300.0, 286.603, 250.0, 200.0, 150.0, 113.397, 100.0), 764.0395578),
        (30.0, (257.735, 250.0, 228.868, 200.0, 171.132, 150.0, 142.265), 677.7917613),
    ],
)
def test_obliquely_cut_cylinder(degrees: float, ordinates: tuple[float, ...], length: float) -> None:
    """y(x) = h + R tan b cos(x / R), R = 100, h = 200; stations every 30 degrees."""
    scale = 0.004
    t = np.linspace(0.0, 2 * math.pi, POINTS)
    low = ring(100 * scale, 0.0)
    high = low + np.stack([0 * t, 0 * t, (200 + 100 * math.tan(math.radians(degrees)) * np.cos(t)) * scale], axis=-1)
    word = triangulate(low, high)
    flat_low, flat_high = unfold(low, high, word)
    stations = [k * 52.3598776 for k in range(7)]
    # Half a chord's sag is lost along the edge: the stations are taken at shares of the whole.
    found = np.interp(np.array(stations) / (200 * math.pi), arcs(flat_low) / edge_length(flat_low), flat_high[:, 1])
    assert found / scale == pytest.approx(np.array(ordinates), abs=ALLOWED / scale)
    assert float(edge_length(flat_high)) / scale == pytest.approx(length, rel=1e-4)
    assert float(strip_area(low, high, word)) / scale**2 == pytest.approx(125663.706, rel=2e-4)
    assert float(np.ptp(flat_low[:, 1])) < 1e-6


def test_square_to_round_by_triangles() -> None:
    """Square of 400, circle of 250, height 300, twelve divisions; a quarter from mid-side to mid-side."""
    t = np.radians([0.0, 30.0, 60.0, 90.0])
    circle = np.stack([125 * np.cos(t), 125 * np.sin(t), np.full(4, 300.0)], axis=-1)
    square = np.array([[200.0, 0, 0], [200, 200, 0], [0, 200, 0]])
    word = triangulate(square, circle)
    assert word.tolist() == [0, 1, 1, 1, 0]
    flat_low, flat_high = unfold(square, circle, word)
    spokes = np.linalg.norm(flat_high - flat_low[1], axis=-1)
    assert spokes == pytest.approx([368.2729966, 342.5255170, 342.5255170, 368.2729966], abs=1e-6)
    assert float(np.linalg.norm(flat_high[0] - flat_low[0])) == pytest.approx(309.2329219, abs=1e-6)
    assert np.linalg.norm(np.diff(flat_high, axis=0), axis=-1) == pytest.approx([64.7047613] * 3, abs=1e-6)
    rays = flat_high - flat_low[1]
    cosine = float(rays[0] @ rays[-1]) / float(spokes[0] * spokes[-1])
    assert math.degrees(math.acos(cosine)) == pytest.approx(30.0144652, abs=1e-6)
    assert 4 * float(strip_area(square, circle, word)) == pytest.approx(375551.8226, abs=1e-3)
    assert 4 * float(strip_area(flat_low, flat_high, word)) == pytest.approx(375551.8226, abs=1e-3)


def test_square_to_round_with_a_smooth_circle() -> None:
    """With many divisions the fan tends to the oblique cone: 30.3403107 degrees, total 376045.5437.

    0.005 degrees are 0.03 mm at the end of a spoke.
    """
    t = np.linspace(0.0, math.pi / 2, POINTS)
    circle = np.stack([125 * np.cos(t), 125 * np.sin(t), np.full(POINTS, 300.0)], axis=-1)
    square = np.array([[200.0, 0, 0], [200, 200, 0], [0, 200, 0]])
    word = triangulate(square, circle)
    flat_low, flat_high = unfold(square, circle, word)
    rays = flat_high[[0, -1]] - flat_low[1]
    cosine = float(rays[0] @ rays[1]) / float(np.prod(np.linalg.norm(rays, axis=-1)))
    assert math.degrees(math.acos(cosine)) == pytest.approx(30.3403107, abs=0.005)
    assert 4 * float(strip_area(square, circle, word)) == pytest.approx(376045.5437, rel=1e-4)


def test_pyramid_frustum() -> None:
    """Base 400 by 300, top 200 by 150, height 250: all four faces as one strip, opened at a corner."""
    corners = np.array([[1.0, -1], [1, 1], [-1, 1], [-1, -1], [1, -1]])
    low = np.column_stack([corners * [200, 150], np.zeros(5)])
    high = np.column_stack([corners * [100, 75], np.full(5, 250.0)])
    word = triangulate(low, high)
    flat_low, flat_high = unfold(low, high, word)
    assert float(strip_area(flat_low, flat_high, word)) == pytest.approx(277770.8058, abs=1e-3)
    assert np.linalg.norm(flat_high - flat_low, axis=-1) == pytest.approx([279.5084972] * 5, abs=1e-6)
    for face, (area, degrees) in enumerate([(60583.1041, 74.4351933), (78302.2988, 69.0366391)]):
        side, seam = flat_low[face + 1] - flat_low[face], flat_high[face] - flat_low[face]
        cosine = float(side @ seam) / float(np.linalg.norm(side) * np.linalg.norm(seam))
        assert math.degrees(math.acos(cosine)) == pytest.approx(degrees, abs=1e-6)
        long, short = np.linalg.norm(side), np.linalg.norm(flat_high[face + 1] - flat_high[face])
        assert (long + short) / 2 * np.linalg.norm(seam) * math.sin(math.acos(cosine)) == pytest.approx(area, abs=1e-3)
    # The bridges that are edges of the pyramid: 180 degrees less the inner angle between neighbouring faces.
    i, j = bridges_of(word)
    edges = [place for place in range(1, len(i) - 1) if i[place] == j[place]]
    found = np.degrees(creases(low, high, word))[np.array(edges) - 1]
    assert found == pytest.approx([180 - 96.1261757] * 3, abs=1e-6)


@pytest.mark.parametrize(("steps", "area"), [(12, 69928.2626), (24, 70167.9705), (48, 70228.0902)])
def test_polygons_tend_to_the_cone(steps: int, area: float) -> None:
    """Radii 150 and 50, height 200, half a turn; the smooth half cone is 70248.1473."""
    low, high = ring(150.0, 0.0, math.pi, steps + 1), ring(50.0, 200.0, math.pi, steps + 1)
    assert float(strip_area(low, high, triangulate(low, high))) == pytest.approx(area, abs=1e-3)
