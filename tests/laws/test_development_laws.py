"""What holds for every wall rolled out flat: true lengths and areas, mirror images, second order, no zigzag.

Exact constructed cases: cylinder, obliquely cut cylinder, cone frustum and oblique cone with uneven points that do not
match between the edges; their developments from first principles (the oblique cone's by quadrature of its angle).
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest

from loftwright.cloth.develop import develop
from loftwright.cloth.triangulate import Measure, triangulate
from loftwright.cloth.unfold import creases, edge_length, misfit, outline, strip_area, unfold
from loftwright.core.motion import Array

SHAPES = ("cylinder", "cut cylinder", "cone frustum", "oblique cone")
Case = tuple[Array, Array, Array]


def uneven(points: int, phase: float) -> Array:
    s = np.linspace(0.0, 1.0, points)
    return math.pi * (s + 0.08 * (np.sin(2 * math.pi * s + phase) - math.sin(phase)))


def circle(radius: float, t: Array, z: Array | float) -> Array:
    return np.stack([radius * np.cos(t), radius * np.sin(t), np.broadcast_to(z, t.shape)], axis=-1)


def oblique(t: Array, apex: Array, radius: float) -> tuple[Array, Array]:
    """Distance from the apex and angle unrolled so far, by d theta = sqrt(|P'|^2 - r'^2) / r dt."""
    fine = np.linspace(0.0, math.pi, 20001)
    points = circle(radius, fine, 0.0) - apex
    far = np.linalg.norm(points, axis=-1)
    ahead = circle(radius, fine + math.pi / 2, 0.0)
    outward = np.sum(points * ahead, axis=-1) / far
    rate = np.sqrt(radius**2 - outward**2) / far
    angle = np.concatenate([[0.0], np.cumsum((rate[1:] + rate[:-1]) / 2 * np.diff(fine))])
    return np.interp(t, fine, far), np.interp(t, fine, angle)


@cache
def case(shape: str, m: int, k: int) -> Case:
    """Lower and upper edge in space, running to the right seen from outside, and the true flat outline."""
    t, s = uneven(m, 0.3), uneven(k, 1.7)
    radius, rise = 0.4, np.full(k, 0.5)
    if shape == "cut cylinder":
        rise = 0.5 + radius * math.tan(math.radians(25)) * np.cos(s)
    if shape in ("cylinder", "cut cylinder"):
        flat = outline(np.stack([radius * t, 0 * t], axis=-1), np.stack([radius * s, rise], axis=-1))
        return circle(radius, t, 0.0), circle(radius, s, rise), flat
    if shape == "cone frustum":
        wide, narrow = 0.45, 0.35
        sine = (wide - narrow) / math.hypot(wide - narrow, 0.5)
        polar = (wide / sine + 0 * t, sine * t), (narrow / sine + 0 * s, sine * s)
        low, high = circle(wide, t, 0.0), circle(narrow, s, 0.5)
    else:
        apex = np.array([0.15, 0.1, 2.0])
        polar = oblique(t, apex, radius), oblique(s, apex, radius)
        polar = polar[0], (0.75 * polar[1][0], polar[1][1])
        low, high = circle(radius, t, 0.0), apex + 0.75 * (circle(radius, s, 0.0) - apex)
    edges = [np.stack([far * np.sin(angle), -far * np.cos(angle)], axis=-1) for far, angle in polar]
    return low, high, outline(edges[0], edges[1])


@cache
def error(shape: str, m: int, k: int, measure: Measure) -> float:
    low, high, truth = case(shape, m, k)
    return float(misfit(outline(*unfold(low, high, triangulate(low, high, measure))), truth))


@pytest.mark.parametrize("measure", ["bending", "twist"])
@pytest.mark.parametrize("shape", SHAPES)
def test_second_order(shape: str, measure: Measure) -> None:
    """Within 0.2 mm at 200 points and a quarter of the error with twice as many."""
    coarse, fine = error(shape, 100, 90, measure), error(shape, 200, 180, measure)
    assert fine <= 0.0002
    assert coarse / fine >= 3.5


def test_four_hundred_points() -> None:
    assert error("cut cylinder", 400, 390, "bending") <= 0.00005


def test_least_area_does_not_get_better() -> None:
    """Why it is for comparison only: zigzag creases that stay, whatever the number of points."""
    coarse, fine = error("cut cylinder", 100, 90, "area"), error("cut cylinder", 200, 180, "area")
    assert fine > 0.9 * coarse
    assert fine > 10 * error("cut cylinder", 200, 180, "bending")
    low, high, _ = case("cut cylinder", 200, 180)
    sharp = [float(np.max(np.abs(creases(low, high, triangulate(low, high, m))))) for m in ("area", "bending")]
    assert sharp[0] > math.radians(15) > 5 * sharp[1]


@pytest.mark.parametrize("shape", SHAPES)
def test_nothing_is_stretched(shape: str) -> None:
    """Edges, seams and area are those in space; so are all distances to the last digits after a rigid motion."""
    low, high, _ = case(shape, 100, 90)
    word = triangulate(low, high)
    flat = unfold(low, high, word)
    for edge, rolled in zip((low, high), flat, strict=True):
        steps = [np.linalg.norm(np.diff(points, axis=0), axis=-1) for points in (edge, rolled)]
        assert steps[1] == pytest.approx(steps[0], abs=1e-12)
    for end in (0, -1):
        seams = float(np.linalg.norm(high[end] - low[end])), float(np.linalg.norm(flat[1][end] - flat[0][end]))
        assert seams[1] == pytest.approx(seams[0], abs=1e-9)
    assert float(strip_area(*flat, word)) == pytest.approx(float(strip_area(low, high, word)), rel=1e-12)
    turn = np.linalg.qr(np.random.default_rng(3).normal(size=(3, 3)))[0]
    turn *= np.sign(np.linalg.det(turn))
    moved = unfold(low @ turn.T + 2.0, high @ turn.T + 2.0, word)
    assert moved[1] == pytest.approx(flat[1], abs=1e-10)


def test_the_cloth_lies_above_a_level_chord() -> None:
    for shape in SHAPES:
        low, high, _ = case(shape, 100, 90)
        flat_low, flat_high = unfold(low, high, triangulate(low, high))
        assert flat_low[0] == pytest.approx([0.0, 0.0])
        assert flat_low[-1, 1] == pytest.approx(0.0, abs=1e-9)
        assert flat_low[-1, 0] > 0.0
        assert np.mean(flat_high[:, 1]) > np.mean(flat_low[:, 1])


@pytest.mark.parametrize("shape", ["cut cylinder", "oblique cone"])
def test_mirror_walls_are_mirror_pieces(shape: str) -> None:
    """Left wall against right wall: y turned over, and the edges run the other way."""
    low, high, _ = case(shape, 100, 90)
    one = develop(low, high)
    two = develop((low * [1, -1, 1])[::-1], (high * [1, -1, 1])[::-1])
    width = float(one.lower[-1, 0])
    assert two.upper[::-1] * [-1, 1] + [width, 0] == pytest.approx(one.upper, abs=1e-9)
    assert float(two.left_seam) == pytest.approx(float(one.right_seam), abs=1e-12)


def test_units_do_not_matter() -> None:
    low, high, _ = case("oblique cone", 100, 90)
    metres, millimetres = triangulate(low, high), triangulate(1000 * low, 1000 * high)
    assert metres.tolist() == millimetres.tolist()


def test_what_is_left_of_the_error_is_foretold() -> None:
    """Leaving out every other point moves the outline by about three times the error that is left."""
    for shape in SHAPES:
        low, high, _ = case(shape, 200, 180)
        assert develop(low, high).refined == pytest.approx(3 * error(shape, 200, 180, "bending"), rel=0.5)


def test_rows_are_the_same_as_one_by_one() -> None:
    low, high, _ = case("cone frustum", 100, 90)
    word = triangulate(low, high)
    draws = high + np.random.default_rng(1).normal(0, 0.001, (5, *high.shape))
    together = unfold(low, draws, word)
    for row, draw in enumerate(draws):
        alone = unfold(low, draw, word)
        assert together[1][row] == pytest.approx(alone[1], abs=1e-13)
    assert together[0].shape == (5, 100, 2)
    assert edge_length(together[1]) == pytest.approx(edge_length(draws), abs=1e-12)
