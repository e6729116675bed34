"""The section on what carries the shell from closed to open."""

from __future__ import annotations

import math
from typing import Annotated, Final

from loftwright.core.choices import Edge, LinkageKind
from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension
from loftwright.project.keys import Choice, Key, Section
from loftwright.project.points import Point, pivot

_DEG = math.pi / 180.0

ARM_PINS: Final = ("arm_a_van", "arm_a_shell", "arm_b_van", "arm_b_shell")
"""Keys of the pivots of two arms a side."""

PIVOTS: Final[dict[LinkageKind, tuple[str, ...]]] = {
    "hinge": ("hinge",),
    "four-bar": ARM_PINS,
    "parallel arms": ARM_PINS,
    "scissor": ARM_PINS[:2],
    "guides": ("guide",),
}
"""Keys of the points that must be written for each kind; of crossing arms, arm b follows from arm a."""


class Linkage(Section):
    """What carries the shell from closed to open."""

    kind: Annotated[
        LinkageKind,
        Choice(
            "hinge: the shell turns about one axis; four-bar: two unlike arms a side; parallel arms: two equal ones; "
            "scissor: two crossing ones; guides: posts that slide straight",
            unknown="hinge",
            unknown_reason="the simplest linkage to build",
        ),
    ]
    end: Annotated[
        Edge,
        Choice(
            "the end or side of the shell that stays low: front is towards the cab, left and right are for a hinge "
            "along a side of the van; where the shell rises level: the end at which arms or guides stand",
            unknown="front",
            unknown_reason="the wind of driving then presses the closed roof down",
        ),
    ]
    opens: Annotated[
        Uncertain | None,
        Key(
            Dimension.ANGLE,
            3 * _DEG,
            175 * _DEG,
            "how far it opens: hinge: how far the shell turns; arms: how far arm a swings",
            unknown=(20 * _DEG, 35 * _DEG),
            unknown_reason="from a low wedge to a steep one",
        ),
    ] = None
    rise: Annotated[
        Uncertain | None,
        Key(
            Dimension.LENGTH,
            0.05,
            1.5,
            "how far the shell slides along its guides (guides only)",
            unknown=(0.3, 0.6),
            unknown_reason="from sitting room to standing room",
        ),
    ] = None
    hinge: Annotated[
        Point | None,
        pivot("axis of the hinges (hinge only)", (0.0, 0.04), (0.0, 0.05)),
    ] = None
    arm_a_van: Annotated[Point | None, pivot("arm a's pivot on the van (arms only)", (0.04, 0.08), (-0.08, -0.03))] = (
        None
    )
    arm_a_shell: Annotated[Point | None, pivot("arm a's pivot on the shell (arms only)", (0.30, 0.36), (0.0, 0.05))] = (
        None
    )
    arm_b_van: Annotated[Point | None, pivot("arm b's pivot on the van (arms only)", (0.18, 0.22), (-0.25, -0.20))] = (
        None
    )
    arm_b_shell: Annotated[
        Point | None, pivot("arm b's pivot on the shell (arms only)", (0.44, 0.50), (-0.17, -0.12))
    ] = None
    guide: Annotated[
        Point | None,
        pivot("middle of the shoes on the van in which the posts slide (guides only)", (0.0, 0.1), (-0.25, -0.15)),
    ] = None
    guide_far: Annotated[
        Point | None,
        pivot("middle of a second pair of shoes (guides only); left out: one pair", (0.9, 1.0), (-0.25, -0.15)),
    ] = None
    guide_length: Annotated[
        Uncertain | None,
        Key(
            Dimension.LENGTH,
            0.03,
            1.5,
            "length of post that a shoe holds, between its upper and lower end (guides only)",
            unknown=(0.15, 0.35),
            unknown_reason="judgement: from a block on the frame to a rail down the wall",
        ),
    ] = None
    guide_friction: Annotated[
        Uncertain | None,
        Key(
            Dimension.PLAIN,
            0.0,
            1.0,
            "friction of post in shoe: force along over force across (guides only)",
            unknown=(0.1, 0.4),
            unknown_reason="common practice, no source: from plastic on polished steel to bare metal on metal",
        ),
    ] = None
    leans: Annotated[
        Uncertain | None,
        Key(
            Dimension.ANGLE,
            -45 * _DEG,
            45 * _DEG,
            "how far the guides lean from upright, towards the cab as they rise (guides only); left out: upright",
            unknown=(-2 * _DEG, 2 * _DEG),
            unknown_reason="as true as a spirit level and a van on uneven ground allow",
        ),
    ] = None
    spacing: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.2,
            4.0,
            "distance across between the left and the right hinge, or the planes of the left and right arms or guides; "
            "of hinges along a side: between the rear one and the front one",
            unknown=(0.8, 0.98),
            unknown_reason="close to the sides of the opening",
            per="opening.width",
            default="unknown",
            default_reason="measure it across the van",
        ),
    ]
    play: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.0,
            0.005,
            "how far a pin can rattle sideways in its hole",
            unknown=(0.0001, 0.0006),
            unknown_reason="from a reamed bush to a drilled hole",
            default="unknown",
            default_reason="rattle the pin and judge by feeler or eye",
        ),
    ]
    plate_stiffness: Annotated[
        Uncertain,
        Key(
            Dimension.STIFFNESS,
            1.0e3,
            1.0e8,
            "sideways stiffness of a hinge or arm plate where it is bolted on",
            unknown=(1.0e5, 2.0e6),
            unknown_reason="from a plate on thin sheet to one on a frame",
            default="unknown",
            default_reason="hang a known weight from it sideways and measure the give",
        ),
    ]
    friction: Annotated[
        Uncertain,
        Key(
            Dimension.MOMENT,
            0.0,
            60.0,
            "friction of all hinges or pivots together, as a moment (no part of guides)",
            unknown=(0.0, 8.0),
            unknown_reason="from oiled pins to tight ones",
            default="unknown",
            default_reason="swing the shell on a frame and feel it",
        ),
    ]
    arm_width: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.005,
            0.15,
            "width of an arm in the side view",
            unknown=(0.02, 0.04),
            unknown_reason="from flat bar to square tube",
            default="30 mm, assumed",
            default_reason="common flat bar",
        ),
    ]
