"""Sections on what moves the shell: stop, handle and springs."""

from __future__ import annotations

from typing import Annotated, Literal

from loftwright.core.choices import ForceIs, FrictionIs
from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension
from loftwright.project.keys import HINGED_END, Choice, Count, Key, Most, Section, Spot, Words
from loftwright.project.points import Point, pivot, x_key, z_key

StopKind = Literal["strap", "link", "spring end", "cloth"]


class Stop(Section):
    """What ends the opening."""

    kind: Annotated[
        StopKind,
        Choice(
            "what stops the shell when it is open",
            unknown="strap",
            unknown_reason="the stop that is easiest to add",
            default="strap",
            default_reason="the stop that is easiest to add",
        ),
    ]


class Handle(Section):
    """Where the hand acts on the shell."""

    at: Annotated[
        Point,
        Spot(
            "place of the handle on the closed shell; left out: the lip",
            x=x_key("handle: x", (0.9, 1.02), "near the lip", per=HINGED_END),
            z=z_key("handle: z", (-0.05, 0.05), "at the rim"),
            needed=False,
        ),
    ]
    strap_length: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.0,
            2.0,
            "length of the pull strap that hangs from the handle; 0 for none",
            unknown=(0.0, 0.5),
            unknown_reason="from none to an arm's length",
            default="0 mm",
            default_reason="no strap",
        ),
    ]


SpringBody = Literal["van", "arm a", "arm b"]
HeadBody = Literal["shell", "arm a", "arm b"]


class Spring(Section):
    """One kind of gas spring, as many a side as fitted at the same holes."""

    name: Annotated[str, Words("what you call it", default="gas spring")]
    per_side: Annotated[int, Count("how many on each side of the roof", 1, 4, default=1, default_reason="one a side")]
    foot_on: Annotated[
        SpringBody,
        Choice(
            "what the foot is bolted to",
            unknown="van",
            unknown_reason="the usual place",
            default="van",
            default_reason="the usual place",
        ),
    ]
    foot: Annotated[Point, pivot("spring foot", (0.15, 0.25), (-0.12, -0.05))]
    head_on: Annotated[
        HeadBody,
        Choice(
            "what the head is bolted to",
            unknown="shell",
            unknown_reason="the usual place",
            default="shell",
            default_reason="the usual place",
        ),
    ]
    head: Annotated[Point, pivot("spring head", (0.35, 0.5), (0.0, 0.06))]
    sideways: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            -0.5,
            0.5,
            "how far the head sits sideways from the foot",
            unknown=(0.0, 0.04),
            unknown_reason="from none to a bracket's width",
            default="0 mm",
            default_reason="foot and head in one plane",
        ),
    ]
    place: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.05,
            2.0,
            "distance of springs from the middle of the roof, left and right alike; hinged at a side: rear and front",
            unknown=(0.4, 0.5),
            unknown_reason="close to the sides of the opening",
            per="opening.width",
            default="unknown",
            default_reason="measure it across the van",
        ),
    ]
    force: Annotated[
        Uncertain,
        Key(
            Dimension.FORCE,
            20.0,
            5000.0,
            "force of one spring as listed or measured",
            unknown=(300.0, 900.0),
            unknown_reason="springs that suit shells of 30 to 80 kg, one a side",
        ),
    ]
    force_is: Annotated[
        ForceIs,
        Choice(
            "which force that is: F1 moving out near full extension, F3 moving in there, or the middle of the two",
            unknown="middle",
            unknown_reason="the force is then taken wider by half the friction loop",
            default="F1",
            default_reason="the force that lifts, and the usual meaning of a single number",
        ),
    ]
    ratio: Annotated[
        Uncertain,
        Key(
            Dimension.PLAIN,
            1.02,
            2.0,
            "force when pushed in (F2) over force when out (F1)",
            unknown=(1.2, 1.4),
            unknown_reason="the range common in trade data",
            default="unknown",
            default_reason="ask for the ratio F2/F1",
        ),
    ]
    friction: Annotated[
        Uncertain,
        Key(
            Dimension.FORCE,
            0.0,
            500.0,
            "friction of one spring: the difference between moving in and moving out, or half of it",
            unknown=(20.0, 100.0),
            unknown_reason="from good springs to the greatest friction allowed for new springs of 1000 N",
            default="unknown",
            default_reason="push it on bathroom scales, in and out",
        ),
    ]
    friction_is: Annotated[
        FrictionIs,
        Choice(
            "full loop: friction is F3 - F1; half loop: friction is half of that",
            unknown="full loop",
            unknown_reason="the friction is then taken up to twice as large",
            default="full loop",
            default_reason="F3 - F1 can be measured on scales",
        ),
    ]
    stroke: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.02,
            1.0,
            "how far the rod travels between its two ends",
            unknown=(0.25, 0.4),
            unknown_reason="strokes that suit a shell of about two metres",
            beside=("extended_length", 0.40, 0.46),
        ),
    ]
    extended_length: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.08,
            2.4,
            "length between the middles of the end fittings with the rod fully out",
            unknown=(2.2, 2.5),
            unknown_reason="twice the stroke with room for the end fittings and the piston",
            per="stroke",
        ),
    ]
    rod_diameter: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.003,
            0.03,
            "diameter of the rod",
            unknown=(0.008, 0.010),
            unknown_reason="rods of springs of 200 to 850 N",
            default="unknown",
            default_reason="measure it with a caliper",
        ),
    ]
    tube_diameter: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.008,
            0.08,
            "outer diameter of the tube",
            unknown=(0.018, 0.028),
            unknown_reason="tubes of springs of 200 to 850 N",
            default="unknown",
            default_reason="measure it with a caliper",
        ),
    ]
    tolerance: Annotated[
        Uncertain,
        Key(
            Dimension.PERCENT,
            0.0,
            0.30,
            "how far a delivered spring's force may lie from the listed one, up or down",
            unknown=(0.03, 0.08),
            unknown_reason="common practice, no source: from springs filled to order to those off the shelf",
            default="unknown",
            default_reason="ask for the delivered tolerance",
        ),
    ]
    end_margin: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.0,
            0.1,
            "stroke that must be left at both ends of the travel",
            unknown=(0.005, 0.015),
            unknown_reason="from the least safety stroke to a generous one",
            same_as="requirements.spring_margin",
        ),
    ]
    end_limit: Annotated[
        Uncertain,
        Key(
            Dimension.FORCE,
            100.0,
            20000.0,
            "force that an end fitting or its ball stud carries",
            unknown=(800.0, 2500.0),
            unknown_reason="from a small stud in a plastic socket to a steel one",
            default="unknown",
            default_reason="ask for the fitting's load",
        ),
    ]
    bracket_limit: Annotated[
        Uncertain | None,
        Key(
            Dimension.FORCE,
            50.0,
            20000.0,
            "force that the bracket and its fixing carry; left out: not judged",
            unknown=(400.0, 2500.0),
            unknown_reason="from rivets in thin sheet to bolts through a backing plate",
        ),
    ] = None
    own_speed: Annotated[
        Uncertain,
        Key(
            Dimension.SPEED,
            0.02,
            2.0,
            "how fast the spring extends at most by itself, held back by its own damping",
            unknown=(0.1, 0.3),
            unknown_reason="common practice, no source: a stroke of 300 mm then takes three seconds to one",
            default="unknown",
            default_reason="let one extend by itself, pressed upright on the floor, and film it beside a tape",
        ),
    ]
    feet: Annotated[
        tuple[Point, ...],
        pivot("a hole that is drilled for the foot", (0.15, 0.25), (-0.12, -0.05)),
        Most(5),
    ] = ()
    heads: Annotated[
        tuple[Point, ...],
        pivot("a hole that is drilled for the head", (0.35, 0.5), (0.0, 0.06)),
        Most(5),
    ] = ()
    yearly_loss: Annotated[
        Uncertain | None,
        Key(
            Dimension.PERCENT,
            0.0,
            0.2,
            "gas lost in a year; left out: none is reckoned beyond the ageing by test",
            unknown=(0.0, 0.05),
            unknown_reason="judgement, no public figure known to us: from a tight seal to a fifth lost in four years",
        ),
    ] = None
