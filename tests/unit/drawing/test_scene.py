from __future__ import annotations

import math

import pytest

from loftwright.core.errors import Bug
from loftwright.core.scene import Pose, PoseTable, SpringShape
from loftwright.drawing.scene import at_fraction, check_table, placed, rod_starts, spring_ends


def quarter_turn_about(x: float, z: float, turn: float) -> Pose:
    c, s = math.cos(turn), math.sin(turn)
    return Pose(x - c * x + s * z, z - s * x - c * z, turn)


def test_a_quarter_turn_lifts_a_point_in_front_of_the_pivot() -> None:
    # x turns towards z: what lies 2 m in front of the pivot ends 2 m above it.
    pose = quarter_turn_about(1.0, 0.5, math.pi / 2)
    assert placed(pose, (3.0, 0.5)) == pytest.approx((1.0, 2.5))
    assert placed(pose, (1.0, 0.5)) == pytest.approx((1.0, 0.5))


def table() -> PoseTable:
    poses = tuple(Pose(0.0, 0.0, turn) for turn in (0.0, 0.4, 1.0))
    return PoseTable((0.0, 0.25, 1.0), (0.0, 0.4, 1.0), poses)


@pytest.mark.parametrize(("fraction", "turn"), [(0.0, 0.0), (0.125, 0.2), (0.25, 0.4), (0.625, 0.7), (1.0, 1.0)])
def test_between_stations_a_pose_is_straight(fraction: float, turn: float) -> None:
    state = at_fraction(table(), fraction)
    assert state.shell.phi == pytest.approx(turn)
    assert state.opening == pytest.approx(turn)
    assert state.body("arm a") == Pose(0.0, 0.0, 0.0)


def test_a_spring_keeps_its_foot_on_the_van_and_its_tube_long() -> None:
    spring = SpringShape("a", "van", (0.0, 0.0), "shell", (0.5, 0.0), 0.3)
    state = at_fraction(table(), 1.0)
    foot, head = spring_ends(spring, state)
    assert foot == (0.0, 0.0)
    assert head == pytest.approx((0.5 * math.cos(1), 0.5 * math.sin(1)))
    assert math.dist(rod_starts(spring, foot, head), head) == pytest.approx(0.3)


@pytest.mark.parametrize(
    "faulty",
    [
        PoseTable((0.0,), (0.0,), (Pose(0, 0, 0),)),
        PoseTable((0.0, 0.0), (0.0, 0.1), (Pose(0, 0, 0),) * 2),
        PoseTable((0.0, 1.0), (0.0, 0.1), (Pose(0, 0, 0),) * 3),
        PoseTable((0.0, 1.0), (0.0, 0.1), (Pose(0, 0, 0),) * 2, (Pose(0, 0, 0),)),
    ],
)
def test_a_table_that_cannot_be_drawn_is_refused(faulty: PoseTable) -> None:
    with pytest.raises(Bug):
        check_table(faulty)
