"""Sections on what lifts beside gas springs: coil springs, torsion springs and elastic cords."""

from __future__ import annotations

from typing import Annotated, Literal

from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension
from loftwright.project.keys import Choice, Count, Key, Most, Section, Words
from loftwright.project.motion_sections import HeadBody, SpringBody
from loftwright.project.points import Point, pivot

CoilKind = Literal["pulls", "pushes"]
TurnsAt = Literal["hinge", "arm a", "arm b"]

_FOOT_ON = Choice(
    "what its first end is bolted to",
    unknown="van",
    unknown_reason="the usual place",
    default="van",
    default_reason="the usual place",
)
_HEAD_ON = Choice(
    "what its other end is bolted to",
    unknown="shell",
    unknown_reason="the usual place",
    default="shell",
    default_reason="the usual place",
)
_SIDEWAYS = Key(
    Dimension.LENGTH,
    -0.5,
    0.5,
    "how far its other end sits sideways from the first",
    unknown=(0.0, 0.04),
    unknown_reason="from none to a bracket's width",
    default="0 mm",
    default_reason="both ends in one plane",
)


class Coil(Section):
    """One kind of coil spring that pulls or pushes between two points, as many a side as fitted at the same holes."""

    name: Annotated[str, Words("what you call it", default="coil spring")]
    per_side: Annotated[int, Count("how many on each side of the roof", 1, 4, default=1, default_reason="one a side")]
    kind: Annotated[
        CoilKind,
        Choice(
            "whether it pulls its ends together or pushes them apart",
            unknown="pulls",
            unknown_reason="a pulling spring cannot buckle",
            default="pulls",
            default_reason="a pulling spring cannot buckle",
        ),
    ]
    foot_on: Annotated[SpringBody, _FOOT_ON]
    foot: Annotated[Point, pivot("coil spring, first end", (0.3, 0.5), (-0.2, -0.1))]
    head_on: Annotated[HeadBody, _HEAD_ON]
    head: Annotated[Point, pivot("coil spring, other end", (0.0, 0.05), (-0.2, -0.1))]
    sideways: Annotated[Uncertain, _SIDEWAYS]
    rate: Annotated[
        Uncertain,
        Key(
            Dimension.STIFFNESS,
            10.0,
            1.0e5,
            "how much its force grows with every length it is drawn or squeezed",
            unknown=(500.0, 3000.0),
            unknown_reason="common practice, no source: from springs of a garden gate to those of a garage door",
        ),
    ]
    free_length: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.02,
            3.0,
            "length between its ends with no force on it",
            unknown=(0.2, 0.6),
            unknown_reason="common lengths; no source",
        ),
    ]
    initial: Annotated[
        Uncertain,
        Key(
            Dimension.FORCE,
            0.0,
            3000.0,
            "force at which the turns of a pulling spring begin to part",
            unknown=(0.0, 60.0),
            unknown_reason="common practice, no source: from none to a tightly wound spring",
            default="0 N",
            default_reason="hang a growing weight from it and see when it opens",
        ),
    ]
    limit_length: Annotated[
        Uncertain | None,
        Key(
            Dimension.LENGTH,
            0.02,
            5.0,
            "longest it may be drawn, or shortest it may be squeezed; left out: not judged",
            unknown=(0.3, 0.8),
            unknown_reason="common lengths; no source",
        ),
    ] = None


class Torsion(Section):
    """One kind of torsion spring round the hinge or a lifting arm's pivot on the van, as many a side as fitted."""

    name: Annotated[str, Words("what you call it", default="torsion spring")]
    per_side: Annotated[int, Count("how many on each side of the roof", 1, 4, default=1, default_reason="one a side")]
    at: Annotated[
        TurnsAt,
        Choice(
            "what it turns: the shell about its hinge, or an arm about its pivot on the van",
            unknown="hinge",
            unknown_reason="the usual place",
            default="hinge",
            default_reason="the usual place",
        ),
    ]
    moment: Annotated[
        Uncertain,
        Key(
            Dimension.MOMENT,
            0.1,
            2000.0,
            "lifting moment of one spring with the roof closed",
            unknown=(20.0, 150.0),
            unknown_reason="from a trunk lid's bar to what carries a light shell",
        ),
    ]
    per_degree: Annotated[
        Uncertain,
        Key(
            Dimension.MOMENT,
            0.0,
            100.0,
            "how much of that moment goes with every degree it turns; it ends at nought",
            unknown=(0.1, 2.0),
            unknown_reason="from a long bar to a short coil",
        ),
    ]


class CordPoint(Section):
    """How hard a cord pulls at one length, drawn out slowly."""

    length: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.02,
            6.0,
            "length between its ends",
            unknown=(0.5, 0.7),
            unknown_reason="a common length, drawn by a half",
        ),
    ]
    force: Annotated[
        Uncertain,
        Key(
            Dimension.FORCE,
            0.1,
            5000.0,
            "its pull at that length, by a luggage scale",
            unknown=(30.0, 150.0),
            unknown_reason="common cords of 8 to 12 mm; no source",
        ),
    ]


class Cord(Section):
    """One kind of elastic cord between two points, as many a side as fitted at the same holes."""

    name: Annotated[str, Words("what you call it", default="elastic cord")]
    per_side: Annotated[int, Count("how many on each side of the roof", 1, 4, default=1, default_reason="one a side")]
    foot_on: Annotated[SpringBody, _FOOT_ON]
    foot: Annotated[Point, pivot("cord, first end", (0.3, 0.5), (-0.2, -0.1))]
    head_on: Annotated[HeadBody, _HEAD_ON]
    head: Annotated[Point, pivot("cord, other end", (0.0, 0.05), (-0.2, -0.1))]
    sideways: Annotated[Uncertain, _SIDEWAYS]
    slack_length: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.02,
            5.0,
            "length between its ends at which it begins to pull",
            unknown=(0.3, 0.5),
            unknown_reason="common lengths; no source",
        ),
    ]
    point: Annotated[tuple[CordPoint, ...], Most(6)] = ()
    lost: Annotated[
        Uncertain,
        Key(
            Dimension.PERCENT,
            0.0,
            0.8,
            "share of the pull that is missing when the cord goes back",
            unknown=(0.05, 0.25),
            unknown_reason="judgement: from fresh rubber to old",
            default="unknown",
            default_reason="read the scale both drawing it out and letting it back",
        ),
    ]
