"""The section on lifting arms that are at hand: what they are, what is wanted of them and where they may be bolted."""

from __future__ import annotations

import math
from typing import Annotated, Literal

from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension
from loftwright.project.keys import Choice, Key, Section
from loftwright.project.points import Point, pivot

_DEG = math.pi / 180.0

Keep = Literal["nothing", "van pivots", "shell pivots"]


class Links(Section):
    """Lifting arms at hand, for which the command links looks for bolt points."""

    arm_a_length: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.08,
            1.5,
            "arm a, from the middle of one pivot hole to the middle of the other",
            unknown=(0.3, 0.4),
            unknown_reason="common lengths of lifting arms; no source",
        ),
    ]
    arm_b_length: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.08,
            1.5,
            "arm b, measured likewise",
            unknown=(0.3, 0.4),
            unknown_reason="common lengths of lifting arms; no source",
        ),
    ]
    van_plate: Annotated[
        Uncertain | None,
        Key(
            Dimension.LENGTH,
            0.02,
            1.5,
            "distance of both pivots on the van where one plate holds them; left out: each may go anywhere",
            unknown=(0.1, 0.2),
            unknown_reason="common plates; no source",
        ),
    ] = None
    shell_plate: Annotated[
        Uncertain | None,
        Key(
            Dimension.LENGTH,
            0.02,
            1.5,
            "distance of both pivots on the shell where one plate holds them; left out: each may go anywhere",
            unknown=(0.1, 0.2),
            unknown_reason="common plates; no source",
        ),
    ] = None
    rise: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.05,
            2.0,
            "how much higher the lip stands when the roof is open",
            unknown=(0.5, 0.9),
            unknown_reason="what most roofs win",
        ),
    ]
    low_end_rise: Annotated[
        Uncertain | None,
        Key(
            Dimension.LENGTH,
            -0.1,
            2.0,
            "how much higher the other end stands then; left out: tilt says it",
            unknown=(0.0, 0.3),
            unknown_reason="from a wedge to a sloping lift",
        ),
    ] = None
    tilt: Annotated[
        Uncertain | None,
        Key(
            Dimension.ANGLE,
            0.0,
            60 * _DEG,
            "how far the open shell may slope, lip higher; of a range any will do; left out: low_end_rise says it",
            unknown=(0.0, 25 * _DEG),
            unknown_reason="from level to steep",
        ),
    ] = None
    shift: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            -2.0,
            2.0,
            "how far the lip may go towards the cab as the roof opens, negative: to the rear; of a range any will do",
            unknown=(-0.6, 0.6),
            unknown_reason="whatever the arms do",
            default="unknown",
            default_reason="whatever the arms do",
        ),
    ]
    keep: Annotated[
        Keep,
        Choice(
            "which pivots of [linkage] stay where they are",
            unknown="nothing",
            unknown_reason="all four are then looked for",
            default="nothing",
            default_reason="all four are looked for",
        ),
    ]
    van_from: Annotated[
        Point | None,
        pivot(
            "one corner of where pivots may sit on the van; left out: at the low end, for a level lift all along",
            (0.0, 0.02),
            (-0.21, -0.19),
        ),
    ] = None
    van_to: Annotated[
        Point | None, pivot("the opposite corner on the van; left out: likewise", (0.34, 0.36), (-0.01, 0.01))
    ] = None
    shell_from: Annotated[
        Point | None,
        pivot(
            "one corner of where pivots may sit on the closed shell; left out: low half, for a level lift all",
            (0.0, 0.02),
            (-0.21, -0.19),
        ),
    ] = None
    shell_to: Annotated[
        Point | None, pivot("the opposite corner on the shell; left out: likewise", (0.59, 0.61), (0.09, 0.11))
    ] = None
