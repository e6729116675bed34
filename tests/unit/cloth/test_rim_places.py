"""Places along a rim: exact constructed cases, computed here from first principles; no printed source."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from loftwright.cloth.rim_noise import perturbed
from loftwright.cloth.rim_places import between, insert, points_at, station, steady
from loftwright.cloth.rims import Heights, Loop, rounded

R = 0.15


@pytest.fixture(scope="module")
def flat() -> Loop:
    return rounded(0.0, 2.0, 1.2, R)


@pytest.fixture(scope="module")
def rows() -> Loop:
    return rounded([0.0, 0.01, -0.02], 2.0, [1.2, 1.21, 1.18], [R, 0.13, 0.18], Heights(0.0, 0.02, 0.01))


def on_corner(angle: float) -> tuple[float, float, float]:
    """Return the point at an angle round the rear right corner of `flat`."""
    return R - R * np.cos(angle), -0.45 - R * np.sin(angle), 0.0


def test_stations_on_straight_and_corner(flat: Loop) -> None:
    angles = np.array([0.3, 0.777, 1.2])
    found = station(flat, [0.123, *(0.45 + R * angles), 0.45 + R * np.pi / 2 + 0.4])
    np.testing.assert_allclose(found.points[0], (0.0, -0.123, 0.0), atol=1e-15)
    np.testing.assert_allclose(found.points[1:4], [on_corner(a) for a in angles], atol=5e-8)
    np.testing.assert_allclose(found.points[4], (R + 0.4, -0.6, 0.0), atol=1e-14)
    np.testing.assert_allclose(found.outward[0], (-1.0, 0.0, 0.0), atol=1e-12)
    np.testing.assert_allclose(found.outward[1:4, 0], -np.cos(angles), atol=1e-5)
    np.testing.assert_allclose(found.tangent[1:4, 0], np.sin(angles), atol=1e-5)
    np.testing.assert_allclose(found.outward[4], (0.0, -1.0, 0.0), atol=1e-12)


def test_the_way_at_a_sharp_corner_is_between_both() -> None:
    rim = rounded(0.0, 2.0, 1.2, 0.0)
    found = station(rim, [0.6])
    np.testing.assert_allclose(found.points[0], (0.0, -0.6, 0.0), atol=1e-14)
    np.testing.assert_allclose(found.outward[0], (-np.sqrt(0.5), -np.sqrt(0.5), 0.0), atol=1e-9)


def test_points_on_a_circle_come_with_the_fourth_order() -> None:
    # Second way: the exact circle. Halving the spacing makes the error sixteen times less.
    errors = []
    for per in (96, 192, 384):
        circle = rounded(-1.0, 2.0, 2.0, 1.0, per=per)
        arc = np.linspace(0.0, 2.0 * np.pi, 1001)[:-1] + 0.0007
        p = points_at(circle, arc)
        errors.append(np.abs(np.hypot(p[:, 0], p[:, 1]) - 1.0).max())
    assert errors[0] < (2.0 * np.pi / 96) ** 4 / 24
    assert errors[0] / errors[1] == pytest.approx(16.0, rel=0.15)
    assert errors[1] / errors[2] == pytest.approx(16.0, rel=0.15)


def test_a_length_over_the_perimeter_goes_round(flat: Loop) -> None:
    places = np.array([0.3, 2.2, 5.0])
    np.testing.assert_allclose(points_at(flat, places + flat.perimeter), points_at(flat, places), atol=1e-12)
    np.testing.assert_allclose(points_at(flat, places - 2 * flat.perimeter), points_at(flat, places), atol=1e-12)


def test_inserted_points_are_there_and_nothing_else_moves(flat: Loop) -> None:
    middle = float(flat.corner_middles()[0])
    arcs = [0.7001, middle, 3.33333]
    more = insert(flat, arcs)
    # The middle of a corner is a point already.
    assert len(more.places) == len(flat.places) + 2
    for arc in arcs:
        number = more.vertex(arc)
        assert more.arc[number] == pytest.approx(arc, abs=1e-12)
        np.testing.assert_allclose(more.points[number], points_at(flat, [arc])[0], atol=1e-14)
    assert more.places[more.vertex(0.7001)] == "right"
    assert insert(flat, [0.46]).places[insert(flat, [0.46]).vertex(0.46)] == "rear right corner"
    assert [more.places[a] for a, _ in more.corners] == [flat.places[a] for a, _ in flat.corners]
    kept = np.delete(more.points, [more.vertex(0.7001), more.vertex(3.33333)], axis=0)
    np.testing.assert_allclose(kept, flat.points, atol=1e-15)
    assert more.perimeter == flat.perimeter


def test_inserting_keeps_one_order_for_all_rows(rows: Loop) -> None:
    # A place that lies a few points further on in other rows.
    arcs = rows.corner_arcs()[1][:, :1] + np.array([[0.3], [0.35], [0.2]])
    more = insert(rows, arcs)
    assert np.all(np.diff(more.arc, axis=-1) > 0.0)
    number = more.vertex(float(arcs[0, 0]))
    np.testing.assert_allclose(more.points[:, number], points_at(rows, arcs)[:, 0], atol=1e-12)
    with pytest.raises(ValueError, match="passes a corner's end"):
        insert(rows, rows.corner_arcs()[1][:, :1] + np.array([[0.05], [-0.05], [0.05]]))


def test_a_stretch_keeps_ends_and_kinks(rows: Loop) -> None:
    middles = rows.corner_middles()
    part = between(rows, middles[:, 3], middles[:, 0], 120)
    assert abs(part.points.shape[1] - 120) <= 2
    np.testing.assert_allclose(part.points[:, 0], points_at(rows, middles[:, 3:])[:, 0], atol=1e-14)
    np.testing.assert_allclose(part.points[:, -1], points_at(rows, middles[:, :1])[:, 0], atol=1e-14)
    assert len(part.kinks) == 2
    np.testing.assert_allclose(part.points[:, part.kinks[0]], rows.points[:, rows.corners[3][1]], atol=1e-13)
    np.testing.assert_allclose(part.points[:, part.kinks[1]], rows.points[:, rows.corners[0][0]], atol=1e-13)
    # Over the start of the rim; as long as its arcs say, less what chords are shorter.
    chords = np.linalg.norm(np.diff(part.points, axis=1), axis=-1).sum(axis=-1)
    np.testing.assert_allclose(chords, part.arc[:, -1] - part.arc[:, 0], atol=1e-4)
    assert np.all(chords < part.arc[:, -1] - part.arc[:, 0])


def test_stretches_join_to_the_whole(flat: Loop) -> None:
    seams = [0.2, 1.4, 3.3, 5.1]
    parts = [between(flat, a, b, 80) for a, b in zip(seams, [*seams[1:], seams[0]], strict=True)]
    assert sum(float(p.arc[-1] - p.arc[0]) for p in parts) == pytest.approx(float(flat.perimeter), rel=1e-14)
    assert sum(len(p.kinks) for p in parts) == 8
    whole = between(flat, 0.2, 0.2, 300)
    np.testing.assert_allclose(whole.points[0], whole.points[-1], atol=1e-13)


def test_places_keep_their_share_between_kinks(rows: Loop) -> None:
    asked = np.array([0.1, 0.6, 1.5, 5.9])
    found = steady(rows, asked)
    np.testing.assert_allclose(found[0], asked, atol=1e-14)
    for row in range(3):
        between(rows, found[:, 1], found[:, 2], 50)
        assert np.all(np.diff(found[row]) > 0.0)
    # 1.5 m is on the right side: the same share of it in every row.
    begin, end = rows.corner_arcs()[1][:, 0], rows.corner_arcs()[0][:, 1]
    share = (found[:, 2] - begin) / (end - begin)
    np.testing.assert_allclose(share, share[0], rtol=1e-13)


def test_a_curve_without_kinks_is_smooth_all_round() -> None:
    circle = replace(rounded(-1.0, 2.0, 2.0, 1.0), kinks=(), corners=(), places=("round",) * 400)
    p = points_at(circle, [0.0031, 6.2803])
    np.testing.assert_allclose(np.hypot(p[:, 0], p[:, 1]), 1.0, atol=3e-9)
    part = between(circle, 6.0, 0.5, 40)
    assert part.kinks == ()
    assert part.points.shape == (40, 3)
    more = insert(circle, [0.0031])
    assert (len(more.places), more.places[1]) == (401, "round")
    np.testing.assert_allclose(steady(circle, [1.0]), [1.0], rtol=1e-14)


def test_random_rims_are_cut_in_the_same_numbers(flat: Loop) -> None:
    drawn = perturbed(flat, 0.003, 5, 20)
    middles = drawn.corner_middles()
    part = between(drawn, middles[:, 0], middles[:, 1], 100)
    lone = between(flat, flat.corner_middles()[0], flat.corner_middles()[1], 100)
    assert part.kinks == lone.kinks
    np.testing.assert_allclose(part.points[0], lone.points, atol=1e-12)


def test_a_sharp_corner_within_a_stretch_stays_a_point() -> None:
    rim = rounded(0.0, 2.0, 1.2, 0.0)
    part = between(rim, 0.3, 1.0, 30)
    assert part.points[part.kinks[0]] == pytest.approx((0.0, -0.6, 0.0), abs=1e-14)
    assert part.points[-1] == pytest.approx((0.4, -0.6, 0.0), abs=1e-14)


def test_an_end_that_passes_a_corner_in_one_row_is_refused(rows: Loop) -> None:
    ends = rows.corner_arcs()[1][:, 0] + np.array([0.01, -0.01, 0.01])
    with pytest.raises(ValueError, match="passes a corner's end"):
        between(rows, ends, 2.0, 50)
