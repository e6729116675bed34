"""From the linkage to the strip's own plane: exact constructed cases, computed here from first principles."""

from __future__ import annotations

import math

import numpy as np
import pytest

from loftwright.cloth import fold_stations as stations
from loftwright.core.motion import Array, Motion, fractions, turning

SHARE = fractions(201)
ZERO = np.zeros_like(SHARE)
HINGE = (2.1, 0.03)
TURN = math.radians(25.0)


def oval(length: float, width: float, z: float, over: float = 0.0) -> Array:
    """Return a rectangle as a closed curve from the rear middle, counter-clockwise from above."""
    x0, x1, y = -over, length + over, width / 2 + over
    return np.array([(x0, 0.0, z), (x0, -y, z), (x1, -y, z), (x1, 0.0, z), (x1, y, z), (x0, y, z)])


LOWER, UPPER = oval(2.0, 1.2, 0.0), oval(2.0, 1.2, 0.06, 0.03)
REAR, RIGHT, FRONT, LEFT = PLACES = stations.places_of(LOWER, UPPER)
TILT = turning(HINGE[0], HINGE[1], -TURN * SHARE, ZERO - TURN, ZERO)


def arms(length: float, start: float, end: float) -> Motion:
    """Return a shell carried by parallel arms from one angle to another, never turning."""
    q = start + (end - start) * SHARE
    x, z = length * (np.cos(q) - math.cos(start)), length * (np.sin(q) - math.sin(start))
    return Motion(x, z, ZERO, ZERO, ZERO, ZERO, ZERO, ZERO, ZERO)


def test_places_run_with_the_rim() -> None:
    assert [place.name for place in PLACES] == ["mid rear", "mid right", "mid front", "mid left"]
    assert pytest.approx([0, -1]) == REAR.along
    assert pytest.approx([0, 0, 0]) == REAR.lower
    assert pytest.approx([-0.03, 0, 0.06]) == REAR.upper
    assert pytest.approx([1, -0.6, 0]) == RIGHT.lower
    assert pytest.approx([2.03, 0, 0.06]) == FRONT.upper
    assert pytest.approx([1, 0.63, 0.06]) == LEFT.upper


def test_a_place_anywhere_on_a_side_is_cut_square_to_it() -> None:
    one = stations.place_at(LOWER, UPPER, 1, 0.4)
    assert pytest.approx([0.4, -0.6, 0]) == one.lower
    assert pytest.approx([0.4, -0.63, 0.06]) == one.upper
    rear = stations.place_at(LOWER, UPPER, 0, 0.2)
    assert pytest.approx([0, 0.2, 0]) == rear.lower
    with pytest.raises(ValueError, match="do not go round"):
        stations.place_at(LOWER, UPPER, 1, 2.5)


def test_heights_over_places_are_square_to_the_rim() -> None:
    """An upper line that rises by 0.1 m a metre to the rear and lies 30 mm outside."""
    leaning = UPPER + np.stack([0 * UPPER[:, 0], 0 * UPPER[:, 0], 0.1 * (2.0 - UPPER[:, 0])], axis=-1)
    at = np.array([0.5, 1.0, 1.5])
    assert stations.heights_over(LOWER, leaning, 1, at) == pytest.approx(np.hypot(0.03, 0.06 + 0.1 * (2.0 - at)))
    # Where the open line has run along and does not reach that far, its end counts.
    short = leaning + np.array([1.0, 0.0, 0.0])
    end = float(stations.heights_over(LOWER, short, 1, np.array([0.5]))[0])
    assert end == pytest.approx(math.hypot(0.03, 0.263), abs=1e-3)
    with pytest.raises(ValueError, match="do not go round"):
        stations.heights_over(LOWER, np.tile([0.0, 0.0, 1.0], (4, 1)), 1, at)


def test_rims_that_miss_the_middle_are_refused() -> None:
    with pytest.raises(ValueError, match="do not go round"):
        stations.places_of(LOWER, UPPER + np.array([5.0, 0.0, 0.0]))


def test_hinged_in_front_the_rear_point_runs_on_a_circle() -> None:
    section = stations.section_of(REAR, TILT, SHARE, 6.0)
    drive = section.drive
    reach = np.hypot(drive.u - HINGE[0], drive.z - HINGE[1])
    # Between stations straight: short of the circle by R dphi2 / 8 at most, 4 um with 201 of them.
    assert reach == pytest.approx(math.hypot(2.13, 0.03), abs=4.2e-6)
    assert drive.lean == pytest.approx(-TURN * section.share, abs=1e-12)
    assert np.max(np.abs(section.drift)) < 1e-12
    assert (drive.seconds, section.gap, section.over) == pytest.approx((6.0, 0.06, 0.03))


def test_the_open_rear_wall_leans_forward_as_the_hinge_says() -> None:
    """x' = 2.1 - 2.13 cos 25 + 0.03 sin 25, z' = 0.03 + 2.13 sin 25 + 0.03 cos 25."""
    section = stations.section_of(REAR, TILT, SHARE, 6.0)
    u = 2.1 - 2.13 * math.cos(TURN) + 0.03 * math.sin(TURN)
    z = 0.03 + 2.13 * math.sin(TURN) + 0.03 * math.cos(TURN)
    assert (section.drive.u[0], section.drive.z[0]) == pytest.approx((u, z))
    assert section.height == pytest.approx(math.hypot(u, z))
    assert 0.17 < u < 0.19
    assert 0.95 < section.height < 1.02


def test_side_walls_do_not_lean_and_run_along_the_rim() -> None:
    right, left = (stations.section_of(place, TILT, SHARE, 6.0) for place in (RIGHT, LEFT))
    assert np.max(np.abs(right.drive.lean)) == 0.0
    assert right.drive.u == pytest.approx(-0.03)
    # The middle of the side lies 1.1 m from the hinge; towards the rear it runs back by what a turn gives.
    back = 1.1 * (1 - math.cos(TURN)) + 0.03 * math.sin(TURN)
    assert right.drift[-1] == pytest.approx(-back, abs=1e-9)
    assert left.drift == pytest.approx(-right.drift)
    assert left.drive.z == pytest.approx(right.drive.z)


def test_parallel_arms_keep_every_wall_upright_and_shift_the_ends() -> None:
    swing = arms(0.6, math.radians(5.0), math.radians(80.0))
    rear, right, front, _ = (stations.section_of(place, swing, SHARE, 5.0) for place in PLACES)
    shift = 0.6 * (math.cos(math.radians(80.0)) - math.cos(math.radians(5.0)))
    for section in (rear, right, front):
        assert np.max(np.abs(section.drive.lean)) == 0.0
    assert rear.drive.u[0] - rear.drive.u[-1] == pytest.approx(shift)
    assert front.drive.u[0] - front.drive.u[-1] == pytest.approx(-shift)
    assert right.drift[-1] == pytest.approx(-shift)


def test_a_wall_at_an_angle_takes_part_of_the_turn() -> None:
    """Seen along the rim, a turn phi shows as atan(c tan(phi)), c the cosine between inward and the plane of motion."""
    place = stations.Place("corner", np.zeros(3), np.array([0.0, 0.0, 0.06]), np.array([-0.6, -0.8]))
    section = stations.section_of(place, TILT, SHARE, 6.0)
    assert section.tilt == pytest.approx(np.arctan(-0.6 * np.tan(TURN * section.share)))


def test_hinged_at_the_right_is_hinged_in_front_seen_crosswise() -> None:
    """The motion's x then runs from the left edge, 1 m from the middle, to the right."""
    lower, upper = oval(1.2, 2.0, 0.0), oval(1.2, 2.0, 0.06, 0.03)
    left = stations.places_of(lower, upper)[3]
    turned = stations.section_of(left, TILT, SHARE, 6.0, plane="crosswise", half_width=1.0)
    rear = stations.section_of(REAR, TILT, SHARE, 6.0)
    for name in ("u", "z", "lean"):
        assert getattr(turned.drive, name) == pytest.approx(getattr(rear.drive, name), abs=1e-12)
    assert np.max(np.abs(turned.drift)) < 1e-12


def test_swept_room_of_a_turn_is_the_tent_by_its_faces() -> None:
    """Second way: mass of a turned rectangle, volume of revolution by Pappus, V = A R phi, R square to the lid."""
    rim = oval(2.0, 1.2, 0.03)
    room = stations.swept(rim, TILT)
    assert room[-1] == pytest.approx(2.4 * 1.1 * TURN, rel=1e-5)
    assert room[0] == 0.0
    assert np.all(np.diff(room) > 0)


def test_swept_room_of_a_level_lift_is_area_times_rise() -> None:
    swing = arms(0.6, math.radians(5.0), math.radians(80.0))
    assert stations.swept(oval(2.0, 1.2, 0.06), swing)[-1] == pytest.approx(2.4 * swing.z[-1])


def test_pace_adds_up_to_the_whole_room() -> None:
    room = stations.swept(oval(2.0, 1.2, 0.03), TILT)
    flow, share = stations.pace(SHARE, room, 6.0)
    assert (share[0], share[-1]) == (1.0, 0.0)
    assert float(np.trapezoid(flow, dx=6.0 / (flow.size - 1))) == pytest.approx(float(room[-1]), rel=1e-3)


def test_nothing_is_lowered_in_no_time() -> None:
    with pytest.raises(ValueError, match="some time"):
        stations.section_of(REAR, TILT, SHARE, 0.0)


def test_an_empty_room_has_empty_parts() -> None:
    section = stations.section_of(REAR, TILT, SHARE, 6.0)
    room = stations.room_of(section, 0.1, pulls=[(0.5, 3.0)])
    assert (room.boxes.shape, room.bars.shape, room.pulls.shape, room.holds.shape) == ((0, 4), (0, 3), (1, 2), (0, 3))
    assert np.array_equal(room.tilt, section.tilt)
    with pytest.raises(ValueError, match="points of the drive"):
        stations.room_of(section, 0.1, pressure=np.zeros(3))
