"""Sections on how to answer, on the person, and on the van: its roof, the opening and the bed."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from loftwright.core.choices import Spelling, Units
from loftwright.core.uncertain import Uncertain
from loftwright.core.units import STANDARD_GRAVITY, Dimension
from loftwright.project.keys import Choice, Count, Key, Most, Section, Spot, Words
from loftwright.project.points import Point, x_key, z_key


class Settings(Section):
    """How answers are written and how many chances are drawn."""

    units: Annotated[
        Units,
        Choice(
            "units in which answers are written; any unit may be written in this file",
            unknown="metric",
            unknown_reason="the units of the trade's data",
            default="metric",
            default_reason="the units of the trade's data",
        ),
    ]
    words: Annotated[
        Spelling,
        Choice(
            "British or American spelling on faces and paper: kerb, aluminium and metre, or curb, aluminum and meter; "
            "names that you give stay as you write them",
            unknown="kerb",
            unknown_reason="the spelling that the program is written in",
            default="kerb",
            default_reason="the spelling that the program is written in",
        ),
    ]
    currency: Annotated[
        str,
        Words(
            "three letters of the currency of prices",
            default="EUR",
            pattern=r"[A-Z]{3}",
            allowed='three capital letters such as "EUR"',
        ),
    ]
    draws: Annotated[
        int,
        Count(
            "how many roofs like yours are drawn for the odds",
            50,
            2000,
            default=200,
            default_reason="odds to about 3 %",
        ),
    ]
    seed: Annotated[
        int,
        Count(
            "starting number of the draws; the same seed gives the same odds",
            0,
            2**31 - 1,
            default=1,
            default_reason="it only picks one of many equal sets of draws",
        ),
    ]
    mounting_tolerance: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.0,
            0.03,
            "how far a bracket may sit from where it was planned; two standard deviations of every spring end",
            unknown=(0.002, 0.008),
            unknown_reason="from careful marking out to drilling by eye",
            default="3 mm",
            default_reason="a hole marked with a tape",
        ),
    ]


class Person(Section):
    """Who opens and closes the roof."""

    height: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            1.2,
            2.2,
            "body height of the person who handles the roof, in shoes",
            unknown=(1.55, 1.9),
            unknown_reason="most grown people",
            default="unknown",
            default_reason="measure it against a door frame",
            beside=("person.reach", 0.81, 0.88),
        ),
    ]
    reach: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            1.4,
            2.8,
            "height of the fist above the floor with the arm stretched up",
            unknown=(1.9, 2.2),
            unknown_reason="about 1.2 times body height for most grown people",
            beside=("person.height", 1.14, 1.24),
            default="unknown",
            default_reason="measure it against a wall",
        ),
    ]
    stands_on_height: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            -1.5,
            1.0,
            "height above the van's floor of what the person stands on while handling the roof",
            unknown=(0.0, 0.1),
            unknown_reason="the bare floor or a floor built up on battens",
            default="0 mm",
            default_reason="the roof is handled from the van's floor",
        ),
    ]
    push_limit: Annotated[
        Uncertain,
        Key(
            Dimension.FORCE,
            20.0,
            400.0,
            "the most this person is willing to push upwards to start the closed roof",
            unknown=(10 * STANDARD_GRAVITY, 20 * STANDARD_GRAVITY),
            unknown_reason="from a light person bent under a low roof to a strong one driving from the legs",
            default="15 kg",
            default_reason="judgement: a low roof is started from the legs with both hands",
        ),
    ]


class Van(Section):
    """The vehicle under the roof."""

    floor_to_roof: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.9,
            2.2,
            "from the inside floor to the outer roof skin at the opening",
            unknown=(1.2, 1.8),
            unknown_reason="from a low delivery van to a mid-height one",
            default="unknown",
            default_reason="measure it with a tape beside the planned opening",
        ),
    ]
    roof_build: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.0,
            0.15,
            "thickness of roof skin with its lining, to be taken off the headroom",
            unknown=(0.005, 0.06),
            unknown_reason="from a bare skin to bows with insulation",
            default="25 mm, assumed",
            default_reason="a lined roof with thin insulation",
        ),
    ]


class Roof(Section):
    """The van's roof skin round the opening."""

    profile: Annotated[
        tuple[Point, ...],
        Spot(
            "points of the roof skin along the middle, x rising; left out: a flat roof",
            x=x_key(
                "distance of a roof point from the rear edge of the opening",
                (0.0, 1.0),
                "anywhere over the opening; the point is left out",
            ),
            z=z_key(
                "height of a roof point above the roof at the origin",
                (-0.04, 0.01),
                "roofs fall by a few centimetres to their ends",
            ),
        ),
        Most(60),
    ]
    crown: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.0,
            0.15,
            "how much the roof's middle stands above its sides, over the width of the opening",
            unknown=(0.005, 0.05),
            unknown_reason="from a nearly flat roof to a rounded one",
            default="unknown",
            default_reason="lay a straightedge across",
        ),
    ]
    camber: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.0,
            0.10,
            "how much the roof's middle stands above a straight line along it, over the length of the opening",
            unknown=(0.0, 0.04),
            unknown_reason="from a straight roof to a bowed one",
            default="unknown",
            default_reason="stretch a string along",
        ),
    ]
    upstand: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.0,
            0.20,
            "height of the kerb, the edge (upstand) that stands up round the opening",
            unknown=(0.02, 0.06),
            unknown_reason="from a low angle to a tall channel",
            default="40 mm, assumed",
            default_reason="a common angle section",
        ),
    ]


class Opening(Section):
    """The hole in the roof."""

    length: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.4,
            4.0,
            "length of the hole cut in the roof",
            unknown=(1.2, 2.4),
            unknown_reason="from a standing place to a bed's length",
            beside=("shell.length", 0.90, 0.96),
        ),
    ]
    width: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.4,
            2.2,
            "width of the hole cut in the roof",
            unknown=(0.9, 1.4),
            unknown_reason="what is left between the roof's gutters",
            beside=("shell.width", 0.88, 0.96),
        ),
    ]


class Bed(Section):
    """A board that the closed shell must clear."""

    from_: Annotated[
        Uncertain, x_key("where the board begins", (0.3, 0.6), "over the cab end of the opening"), Field(alias="from")
    ]
    to: Annotated[Uncertain, x_key("where the board ends", (1.0, 1.2), "near the front end of the opening")]
    height: Annotated[
        Uncertain,
        z_key(
            "top of the board above the roof, negative when below it",
            (-0.25, -0.05),
            "below the roof by a cushion or more",
        ),
    ]
