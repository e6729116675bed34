"""Placing the parts of a scene: poses between the stations of a table, points carried by a body."""

from __future__ import annotations

import math
from bisect import bisect_right
from dataclasses import dataclass
from itertools import pairwise

from loftwright.core.choices import BodyName
from loftwright.core.errors import Bug
from loftwright.core.scene import AT_REST, Pose, PoseTable, Spot, SpringShape
from loftwright.core.wording import Wording


@dataclass(frozen=True, slots=True)
class State:
    """Poses of all bodies at one opening."""

    fraction: float
    opening: float
    shell: Pose
    arm_a: Pose = AT_REST
    arm_b: Pose = AT_REST
    slides: bool = False

    def body(self, name: BodyName) -> Pose:
        """Return the pose of one body."""
        if name == "van":
            return AT_REST
        return {"shell": self.shell, "arm a": self.arm_a, "arm b": self.arm_b}[name]


def far(state: State, says: Wording) -> str:
    """Return how far open a state is: an angle, or of a shell that slides a length."""
    return says.length(state.opening) if state.slides else says.angle(state.opening)


def placed(pose: Pose, spot: Spot) -> Spot:
    """Return where the point that lies at `spot` [m] when closed lies in `pose`."""
    cos, sin = math.cos(pose.phi), math.sin(pose.phi)
    return pose.x + cos * spot[0] - sin * spot[1], pose.z + sin * spot[0] + cos * spot[1]


def spring_ends(spring: SpringShape, state: State) -> tuple[Spot, Spot]:
    """Return foot and head [m] of a spring."""
    return placed(state.body(spring.foot_on), spring.foot), placed(state.body(spring.head_on), spring.head)


def rod_starts(spring: SpringShape, foot: Spot, head: Spot) -> Spot:
    """Return where the rod leaves the tube, for ends placed by `spring_ends`."""
    length = math.dist(foot, head)
    share = 1.0 - min(1.0, spring.tube_length / length) if length > 0 else 0.0
    return foot[0] + share * (head[0] - foot[0]), foot[1] + share * (head[1] - foot[1])


def at_fraction(table: PoseTable, fraction: float) -> State:
    """Return the poses at `fraction` (0 closed, 1 open), straight between the stations of the table."""
    check_table(table)
    stations = table.fraction
    i = min(max(bisect_right(stations, fraction) - 1, 0), len(stations) - 2)
    t = min(max((fraction - stations[i]) / (stations[i + 1] - stations[i]), 0.0), 1.0)

    def between(poses: tuple[Pose, ...]) -> Pose:
        if not poses:
            return AT_REST
        a, b = poses[i], poses[i + 1]
        return Pose(a.x + t * (b.x - a.x), a.z + t * (b.z - a.z), a.phi + t * (b.phi - a.phi))

    opening = table.opening[i] + t * (table.opening[i + 1] - table.opening[i])
    return State(fraction, opening, between(table.shell), between(table.arm_a), between(table.arm_b), table.slides)


def check_table(table: PoseTable) -> None:
    """Raise Bug for a table that cannot be drawn."""
    n = len(table.fraction)
    if n < 2 or any(b <= a for a, b in pairwise(table.fraction)):
        raise Bug("a table of poses needs at least two rising stations")
    if (
        len(table.opening) != n
        or len(table.shell) != n
        or any(len(arm) not in (0, n) for arm in (table.arm_a, table.arm_b))
    ):
        raise Bug("the columns of a table of poses differ in length")
