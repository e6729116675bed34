"""Sections on the choice of springs: what is tried where, springs at hand, and readings of the built roof."""

from __future__ import annotations

from typing import Annotated, Literal, cast

from pydantic import Field

from loftwright.core.choices import BodyName, ForceIs, FrictionIs
from loftwright.core.uncertain import Uncertain
from loftwright.core.units import STANDARD_GRAVITY, Dimension
from loftwright.project.keys import HINGED_END, Count, Key, Section, Spot, Words, members
from loftwright.project.keys import Choice as OneOf
from loftwright.project.motion_sections import Spring
from loftwright.project.points import Point, pivot, x_key, z_key

_ZERO_C = 273.15

HandWay = Literal["push up", "pull down"]
"""Which way the hand moved the roof while the scale was read."""

Scale = Literal["luggage scale", "bathroom scales"]

Step = Literal["hinges", "springs", "latches"]
"""A step of building after which the tape is read."""

TapeOf = Literal["lip height", "spring length", "diagonal"]


class Choice(Section):
    """How springs are chosen: from which list, how many, with how many forces and holes."""

    catalogue: Annotated[
        str | None,
        Words(
            "list of springs (CSV) beside this file; left out: the invented list that comes along",
            example="springs.csv",
        ),
    ] = None
    per_side_most: Annotated[
        int,
        Count("most springs on each side that are tried", 1, 3, default=1, default_reason="one a side is least work"),
    ]
    ratings: Annotated[
        int,
        Count("how many forces to order together", 2, 4, default=3, default_reason="judgement: one to each side"),
    ]
    holes: Annotated[
        int,
        Count(
            "most holes in rows, in one bracket or shared by both",
            2,
            5,
            default=5,
            default_reason="a strip of 150 mm takes five",
        ),
    ]
    hole_spacing: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.01,
            0.1,
            "least distance between two holes of a row",
            unknown=(0.02, 0.03),
            unknown_reason="two to three diameters of a ball stud's thread, with room for its flange",
            default="25 mm",
            default_reason="judgement: three diameters of an 8 mm stud",
        ),
    ]


class Zone(Section):
    """Where brackets of springs may sit: a rectangle in the side view, closed, left and right alike."""

    name: Annotated[str, Words("what you call it", default="zone")]
    on: Annotated[
        BodyName,
        OneOf(
            "what the bracket is bolted to: feet of springs go on van or arms, heads on shell or arms",
            unknown="van",
            unknown_reason="the usual place of a foot",
        ),
    ]
    from_: Annotated[
        Point,
        Spot(
            "one corner",
            x=x_key("one corner: x", (0.15, 0.2), "judgement: a foot's nearest place to the hinge", per=HINGED_END),
            z=z_key("one corner: z", (-0.12, -0.08), "judgement: low on a frame round the opening"),
        ),
        Field(alias="from"),
    ]
    to: Annotated[
        Point,
        Spot(
            "the opposite corner; the same as the first for a single place",
            x=x_key("opposite corner: x", (0.3, 0.35), "judgement: a foot's furthest place", per=HINGED_END),
            z=z_key("opposite corner: z", (-0.04, 0.0), "judgement: the top of a frame round the opening"),
        ),
    ]
    place: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.05,
            2.0,
            "distance of brackets from the middle of the roof, left and right alike; hinged at a side: rear and front",
            unknown=(0.4, 0.5),
            unknown_reason="close to the sides of the opening",
            per="opening.width",
            default="unknown",
            default_reason="measure it across the van",
        ),
    ]


_OF_SPRING = {member.key: member.about for member in members(Spring)}


def _same(name: str) -> Key:
    """Return what [[spring]] says of a quantity: springs at hand are described by the same keys."""
    return cast(Key, _OF_SPRING[name])


class HomeTest(Section):
    """One spring pressed in at home with a plank on bathroom scales, the first 20 mm only.

    The plank lies with one end on an edge, with the other on the scales; the spring stands on it in between.
    """

    reads_in: Annotated[
        Uncertain,
        Key(
            Dimension.FORCE,
            5.0,
            2000.0,
            "what the scales read while the spring is pressed in slowly, the plank's own weight taken off",
            unknown=(100.0, 600.0),
            unknown_reason="springs that suit shells of 30 to 80 kg, by a lever of one to three",
        ),
    ]
    reads_out: Annotated[
        Uncertain,
        Key(
            Dimension.FORCE,
            5.0,
            2000.0,
            "what the scales read while it is let out slowly, the plank's own weight taken off",
            unknown=(90.0, 550.0),
            unknown_reason="as reads_in, less the friction",
        ),
    ]
    plank: Annotated[
        Uncertain | None,
        Key(
            Dimension.LENGTH,
            0.2,
            4.0,
            "from the edge that the plank lies on to its line on the scales; "
            "left out with spring_at: the spring stands on the scales",
            unknown=(0.8, 1.6),
            unknown_reason="a plank of about a metre",
        ),
    ] = None
    spring_at: Annotated[
        Uncertain | None,
        Key(
            Dimension.LENGTH,
            0.05,
            4.0,
            "from the edge that the plank lies on to the spring; left out with plank: the spring stands on the scales",
            unknown=(0.3, 0.6),
            unknown_reason="about a third of a plank",
        ),
    ] = None


class AtHand(Section):
    """Springs that are there already, so many of one kind; described as in [[spring]]."""

    name: Annotated[str, Words("what you call them", default="springs at hand")]
    pieces: Annotated[
        int, Count("how many there are", 1, 12, default=2, default_reason="a pair, one for each side of the roof")
    ]
    force: Annotated[Uncertain, _same("force")]
    force_is: Annotated[ForceIs, _OF_SPRING["force_is"]]
    ratio: Annotated[Uncertain, _same("ratio")]
    friction: Annotated[Uncertain, _same("friction")]
    friction_is: Annotated[FrictionIs, _OF_SPRING["friction_is"]]
    stroke: Annotated[Uncertain, _same("stroke")]
    extended_length: Annotated[Uncertain, _same("extended_length")]
    rod_diameter: Annotated[Uncertain, _same("rod_diameter")]
    tube_diameter: Annotated[Uncertain, _same("tube_diameter")]
    tolerance: Annotated[Uncertain, _same("tolerance")]
    end_limit: Annotated[Uncertain, _same("end_limit")]
    home_test: HomeTest | None = None


class HandReading(Section):
    """One reading of a scale on the built roof."""

    after: Annotated[
        int,
        Count(
            "which set of readings it belongs to: 1 for the first, 2 for those after a change, and so on",
            1,
            20,
            default=1,
            default_reason="the first set",
        ),
    ]
    how_open: Annotated[
        Uncertain,
        Key(
            Dimension.PERCENT,
            0.0,
            1.0,
            "how far open the roof was, as a share of its whole travel",
            unknown=(0.0, 1.0),
            unknown_reason="anywhere on the way",
        ),
    ]
    way: Annotated[
        HandWay,
        OneOf(
            "push up: the hand raised the roof slowly; pull down: it drew it down slowly",
            unknown="push up",
            unknown_reason="the way that is read first",
        ),
    ]
    force: Annotated[
        Uncertain,
        Key(
            Dimension.FORCE,
            0.0,
            1500.0,
            "what the scale read at the handle while the roof moved slowly",
            unknown=(0.0, 30 * STANDARD_GRAVITY),
            unknown_reason="from nothing to all that two hands can do",
        ),
    ]
    scale: Annotated[
        Scale,
        OneOf(
            "what was read",
            unknown="luggage scale",
            unknown_reason="the scale that hangs on a strap",
            default="luggage scale",
            default_reason="the scale that hangs on a strap",
        ),
    ]
    temperature: Annotated[
        Uncertain,
        Key(
            Dimension.TEMPERATURE,
            _ZERO_C - 45.0,
            _ZERO_C + 100.0,
            "temperature of the springs when it was read",
            unknown=(_ZERO_C + 5.0, _ZERO_C + 30.0),
            unknown_reason="from a cool workshop to a warm day",
            same_as="temperatures.mild",
        ),
    ]
    spring: Annotated[
        str | None, Words("name of the [[spring]] that was moved or swapped; left out: the springs as in the file")
    ] = None
    foot: Annotated[
        Point | None,
        pivot("hole of that spring's foot when it was read; left out: as in the file", (0.15, 0.25), (-0.12, -0.05)),
    ] = None
    head: Annotated[
        Point | None,
        pivot("hole of that spring's head when it was read; left out: as in the file", (0.35, 0.5), (0.0, 0.06)),
    ] = None


class Tape(Section):
    """One reading of the tape after a step of building."""

    step: Annotated[
        Step,
        OneOf(
            "the step that was just done",
            unknown="hinges",
            unknown_reason="the first step",
        ),
    ]
    what: Annotated[
        TapeOf,
        OneOf(
            "lip height: from the roof at the edge of the opening under the lip straight up to the lip; spring "
            "length: between the middles of the end fittings; diagonal: from a hinge, or the front arm's pin on the "
            "van, to the lip's corner on the other side, once from each side",
            unknown="lip height",
            unknown_reason="the reading that every step has",
        ),
    ]
    how_open: Annotated[
        Uncertain,
        Key(
            Dimension.PERCENT,
            0.0,
            1.0,
            "how far open the roof was, as a share of its whole travel",
            unknown=(0.0, 1.0),
            unknown_reason="anywhere on the way",
            default="100 %",
            default_reason="against its stop",
        ),
    ]
    reads: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            -0.5,
            6.0,
            "what the tape reads",
            unknown=(0.0, 3.0),
            unknown_reason="anything on a roof of common size",
        ),
    ]
