"""Sections on how the shell sits: its rim, the seal, the packers under its hinges, other shells, measured offsets."""

from __future__ import annotations

from typing import Annotated

from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension
from loftwright.project.keys import Key, Section, Words

_ON_FLOOR = "lay the shell rim down on a flat floor and measure the gap"


def _bow(meaning: str) -> Key:
    return Key(
        Dimension.LENGTH,
        -0.08,
        0.12,
        f"how far the middle of {meaning} stands off a line between its corners, rim downwards; up is positive",
        unknown=(-0.003, 0.020),
        unknown_reason="from a rim that sags a little to one moulded for a rounded roof",
        default="unknown",
        default_reason=_ON_FLOOR,
    )


def _twist() -> Key:
    return Key(
        Dimension.LENGTH,
        -0.06,
        0.06,
        "how far the front left corner of the rim stands off the plane of the other three corners; up is positive",
        unknown=(-0.008, 0.008),
        unknown_reason="shells twist a little as they cure",
        default="unknown",
        default_reason=f"{_ON_FLOOR} under the corner that does not touch",
    )


RimFront = Annotated[Uncertain, _bow("the front end of the rim")]
RimRear = Annotated[Uncertain, _bow("the rear end of the rim")]
RimSides = Annotated[Uncertain, _bow("the long sides of the rim")]
RimTwist = Annotated[Uncertain, _twist()]


class Fit(Section):
    """How the rim meets the roof, and what stands between them."""

    rim_front: RimFront
    rim_rear: RimRear
    rim_sides: RimSides
    rim_twist: RimTwist
    corner_radius: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.0,
            0.6,
            "radius of the shell's corners seen from above",
            unknown=(0.03, 0.2),
            unknown_reason="from nearly square to well rounded corners",
            default="100 mm, assumed",
            default_reason="a common moulding",
        ),
    ]
    slide: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.0,
            0.3,
            "how far the shell may be shifted to front or rear to sit better",
            unknown=(0.0, 0.02),
            unknown_reason="as much as the lap round the opening allows",
            default="20 mm",
            default_reason="judgement: a lap of 50 mm keeps 30 mm",
        ),
    ]
    seal_least: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.001,
            0.08,
            "height of the seal when it is squeezed as far as it likes",
            unknown=(0.004, 0.010),
            unknown_reason="from a small foam strip to a large bulb",
            default="unknown",
            default_reason="squeeze a sample in a vice until it grows hard",
        ),
    ]
    seal_most: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.002,
            0.12,
            "greatest gap that the seal still fills with a little squeeze",
            unknown=(0.012, 0.022),
            unknown_reason="from a small foam strip to a large bulb",
            default="unknown",
            default_reason="measure a free sample and take off a tenth",
        ),
    ]
    trim_allowance: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.0,
            0.15,
            "how much may be trimmed off the rim anywhere",
            unknown=(0.0, 0.02),
            unknown_reason="from a rim with a flange that must stay to one with spare height",
            default="0 mm",
            default_reason="the rim stays as it is",
        ),
    ]
    plate_length: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.02,
            0.4,
            "length of a hinge plate fore and aft",
            unknown=(0.05, 0.12),
            unknown_reason="from a door hinge to a wide strap",
            default="80 mm, assumed",
            default_reason="a common hinge plate",
        ),
    ]
    plate_width: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.02,
            0.4,
            "width of a hinge plate across the van",
            unknown=(0.04, 0.12),
            unknown_reason="from a door hinge to a wide strap",
            default="60 mm, assumed",
            default_reason="a common hinge plate",
        ),
    ]
    axis_height: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.0,
            0.2,
            "height of the hinge axis above the underside of its plate",
            unknown=(0.008, 0.030),
            unknown_reason="from a flat hinge to one with a raised barrel",
            default="unknown",
            default_reason="lay the hinge down and measure to the middle of its pin",
        ),
    ]
    packer_least: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.0,
            0.05,
            "thinnest edge of a packer under a hinge that can be made",
            unknown=(0.001, 0.004),
            unknown_reason="from hard plastic sheet to wood",
            default="3 mm",
            default_reason="judgement: thinner wedges split",
        ),
    ]
    packer: Annotated[
        Uncertain | None,
        Key(
            Dimension.LENGTH,
            0.0,
            0.3,
            "thickness of the packers under the hinges as made, at their middle; left out: as the hinge's height asks",
            unknown=(0.005, 0.06),
            unknown_reason="from a shim to a tall block",
        ),
    ] = None


def _across(meaning: str) -> Key:
    return Key(
        Dimension.LENGTH,
        -1.5,
        1.5,
        f"{meaning}: distance to the left of the middle, negative to the right",
        unknown=(-0.5, 0.5),
        unknown_reason="anywhere across the roof",
        per="opening.width",
    )


def _along(meaning: str) -> Key:
    return Key(
        Dimension.LENGTH,
        -3.0,
        6.0,
        f"{meaning}: distance from the rear edge of the opening towards the cab",
        unknown=(0.0, 1.0),
        unknown_reason="anywhere along the opening",
        per="opening.length",
    )


class RoofPoint(Section):
    """One measured height of the van's roof beside its middle line."""

    x: Annotated[Uncertain, _along("place along the roof")]
    y: Annotated[Uncertain, _across("place across the roof")]
    height: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            -0.3,
            0.3,
            "height of the roof skin there above the roof at the origin",
            unknown=(-0.05, 0.0),
            unknown_reason="roofs fall by a few centimetres to their sides",
        ),
    ]


class RimPoint(Section):
    """One measured height of the rim off the flat floor on which it lies."""

    x: Annotated[Uncertain, _along("place along the rim")]
    y: Annotated[Uncertain, _across("place across the rim")]
    gap: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            -0.05,
            0.15,
            "gap there between the floor and the rim",
            unknown=(0.0, 0.02),
            unknown_reason="from touching to a clear gap",
        ),
    ]


class Candidate(Section):
    """Another shell that could be had, to be ranked beside the one of `[shell]`."""

    name: Annotated[str, Words("what you call it", default="another shell")]
    length: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.4,
            5.0,
            "outer length of the other shell along its rim",
            unknown=(1.0, 1.1),
            unknown_reason="a rim that laps over the opening by a few centimetres",
            per="opening.length",
        ),
    ]
    width: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.4,
            2.6,
            "outer width of the other shell across its rim",
            unknown=(1.0, 1.15),
            unknown_reason="a rim that laps over the opening by a few centimetres",
            per="opening.width",
        ),
    ]
    rim_front: RimFront
    rim_rear: RimRear
    rim_sides: RimSides
    rim_twist: RimTwist
