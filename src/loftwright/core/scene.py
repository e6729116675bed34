"""What a side view shows: one roof as shapes, and the table of its poses.

Metres and radians in the van's frame: x to the cab (drawn to the right), z up, origin at the rear
edge of the roof opening at roof height. A roof hinged at a side is seen from behind: x to the right of
the van, origin at the left edge, and "rear" and "front" below read "left" and "right". Everything that
moves is given where it lies when the roof is CLOSED, with the name of the body that carries it;
`PoseTable` says where the bodies go.
"""

from __future__ import annotations

from dataclasses import dataclass

from loftwright.core.choices import ArmName, BodyName, Edge, ItemKind

Spot = tuple[float, float]
"""A point (x, z) [m]."""


@dataclass(frozen=True, slots=True)
class Pose:
    """Displacement of one body: a point at p0 when closed lies at (x, z) + R(phi) p0; phi [rad] turns x towards z."""

    x: float
    z: float
    phi: float


AT_REST = Pose(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class PoseTable:
    """Poses from closed (fraction 0) to open (fraction 1), all tuples equally long; the first pose is at rest.

    `opening` [rad] is how far open, never negative: the shell's turn for a hinge, the driven arm's swing for arms;
    where the shell `slides` in guides, how far it has slid [m]. `arm_a` and `arm_b` stay empty when there are no arms.
    """

    fraction: tuple[float, ...]
    opening: tuple[float, ...]
    shell: tuple[Pose, ...]
    arm_a: tuple[Pose, ...] = ()
    arm_b: tuple[Pose, ...] = ()
    slides: bool = False


@dataclass(frozen=True, slots=True)
class Pivot:
    """A hinge or a lifting arm's pin; `name` is short, as printed ("hinge", "arm a, van")."""

    name: str
    body: BodyName
    at: Spot


@dataclass(frozen=True, slots=True)
class Arm:
    """A lifting arm from its pin on the van to its pin on the shell, `width` [m]."""

    body: ArmName
    van_end: Spot
    shell_end: Spot
    width: float


@dataclass(frozen=True, slots=True)
class Rail:
    """What something slides along: a slide under the ends of crossing arms, a post or a shoe; `wide` [m]."""

    body: BodyName
    ends: tuple[Spot, Spot]
    wide: float


@dataclass(frozen=True, slots=True)
class SpringShape:
    """A gas spring between its end fittings; the tube, `tube_length` [m], sits at the head."""

    name: str
    foot_on: BodyName
    foot: Spot
    head_on: BodyName
    head: Spot
    tube_length: float
    tube_diameter: float = 0.020


@dataclass(frozen=True, slots=True)
class Item:
    """A thing that rides on the shell, as an upright box x0..x1, z0..z1 [m] when closed."""

    name: str
    kind: ItemKind
    x0: float
    x1: float
    z0: float
    z1: float


@dataclass(frozen=True, slots=True)
class Person:
    """Someone standing at x with the feet at `stands_z`, `height` tall [m]."""

    height: float
    x: float
    stands_z: float


@dataclass(frozen=True, slots=True)
class Board:
    """The bed board: its top runs from x0 to x1 at height z [m]."""

    x0: float
    x1: float
    z: float


@dataclass(frozen=True, slots=True)
class Measured:
    """Figures of the open roof [m] that the drawing shows as they were worked out; it measures none of them itself.

    `rise` of the lip, `headroom` at the highest place above the floor, `handle_height` above the feet.
    """

    rise: float
    headroom: float
    handle_height: float


@dataclass(frozen=True, slots=True)
class Scene:
    """One roof, closed, as the side view draws it."""

    roof_profile: tuple[Spot, ...]
    """Outer roof skin along the middle, x rising; it should reach a little beyond the shell at both ends."""
    roof_build: float
    """Skin and lining together [m]."""
    opening: tuple[float, float]
    """Rear and front edge of the opening, x [m]."""
    upstand: float
    """Height of the upstand round the opening [m]; 0 draws none."""
    floor_z: float
    """Inside floor, negative [m]."""
    shell: tuple[Spot, ...]
    """Outline of the shell as a closed polygon, the last point not repeated."""
    rim: tuple[Spot, Spot]
    """Rim of the shell, rear end first."""
    lip: Spot
    """Free edge furthest from the hinge, on the shell; the rise is won here."""
    measured: Measured
    pivots: tuple[Pivot, ...]
    """The hinge alone, the pins of the arms, or the ends of the shoes."""
    arms: tuple[Arm, ...] = ()
    rails: tuple[Rail, ...] = ()
    springs: tuple[SpringShape, ...] = ()
    handle: Spot | None = None
    strap_length: float = 0.0
    items: tuple[Item, ...] = ()
    bed: Board | None = None
    person: Person | None = None
    headroom_at: Spot | None = None
    """Inside of the shell (or its lining) under which the open headroom is measured, where it lies when closed."""
    edges: tuple[Edge, Edge] = ("rear", "front")
    """What the edges at the lesser and the greater x are called; left and right: seen from behind."""

    @property
    def seen(self) -> str:
        """From where it is looked at, as a caption says it; nothing for the usual view with the cab to the right."""
        return "seen from behind" if self.edges[0] == "left" else ""
