"""Sections on joints, and the safety factors of all that holds."""

from __future__ import annotations

from typing import Annotated

from loftwright.core.choices import JointPlace, LayerName, MetalName
from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension
from loftwright.project.body_sections import length_key
from loftwright.project.keys import Choice, Count, Key, Section, Words, YesNo


class Joint(Section):
    """One group of bolts: where, how many, of which kind, through what."""

    at: Annotated[JointPlace, Choice("what it holds on to what", "hinge on van", "the hardest worked one")]
    bolt: Annotated[
        str,
        Words(
            "size of its bolts",
            default="M6",
            pattern=r"M(4|5|6|8|10|12)|#8|#10|1/4|5/16|3/8",
            allowed='a size such as "M6", "M8", "#10", "1/4" or "5/16"',
            example="M6",
        ),
    ]
    grade: Annotated[
        str,
        Words(
            "strength of its bolts",
            default="A2-70",
            pattern=r"5\.8|8\.8|10\.9|A2-70|A4-80|grade 5",
            allowed='a grade: "5.8", "8.8", "10.9", "A2-70", "A4-80" or "grade 5"',
            example="A2-70",
        ),
    ]
    count: Annotated[int, Count("how many bolts in one group", 1, 12, default=4, default_reason="a plate of four")]
    along: Annotated[
        Uncertain,
        length_key(
            "distance between the outer bolts along the plate",
            0.0,
            0.5,
            (0.03, 0.08),
            "common plates",
            "50 mm, assumed",
        ),
    ]
    across: Annotated[
        Uncertain,
        length_key(
            "distance between the outer bolts across the plate",
            0.0,
            0.5,
            (0.02, 0.06),
            "common plates",
            "40 mm, assumed",
        ),
    ]
    edge: Annotated[
        Uncertain,
        length_key(
            "least distance from a bolt's middle to the edge of the layer it goes through",
            0.002,
            0.3,
            (0.010, 0.025),
            "common plates",
            "15 mm, assumed",
        ),
    ]
    layer: Annotated[
        LayerName,
        Choice("what the weakest layer is made of", "steel sheet", "a bolt through the roof's skin"),
    ]
    thickness: Annotated[
        Uncertain,
        length_key("thickness of that layer", 0.0004, 0.06, (0.0007, 0.006), "from sheet to laminate"),
    ]
    washer: Annotated[
        Uncertain,
        length_key(
            "diameter of washers, or least width of a backing plate's share for one bolt",
            0.004,
            0.2,
            (0.012, 0.03),
            "from a plain washer to a wide one",
            "18 mm, assumed",
        ),
    ]
    plate: Annotated[
        bool,
        YesNo("whether one backing plate lies under all its bolts on the far side", False, "washers alone are worse"),
    ]
    arm: Annotated[
        Uncertain,
        length_key(
            "how far from the bolted face the force acts",
            0.0,
            0.5,
            (0.01, 0.06),
            "from a flat hinge to a standing bracket",
            "30 mm, assumed",
        ),
    ]
    plate_metal: Annotated[
        MetalName,
        Choice(
            "what the hinge, bracket or latch itself is made of",
            "steel",
            "the usual part",
            default="steel",
            default_reason="the usual part",
        ),
    ]
    isolated: Annotated[
        bool, YesNo("whether unlike metals are kept apart by paint, tape or sealant", False, "the worse case")
    ]


def _factor(meaning: str, default: str, reason: str) -> Key:
    return Key(
        Dimension.PLAIN,
        1.0,
        10.0,
        meaning,
        unknown=(1.0, 5.0),
        unknown_reason="the range that such factors have",
        default=default,
        default_reason=reason,
    )


class Safety(Section):
    """By how much what a part bears is cut before it is compared with what it gets."""

    metal: Annotated[
        Uncertain,
        _factor("on yielding of metal bars, ring and plates", "1.5", "judgement: between service load and yield"),
    ]
    bolts: Annotated[Uncertain, _factor("on bolts, bearing and tearing", "1.25", "EN 1993-1-8, partial factor M2")]
    pull_over: Annotated[
        Uncertain, _factor("on heads that pull through thin sheet", "3", "AISI S100, screws in thin sheet")
    ]
    laminate: Annotated[
        Uncertain, _factor("on laminate and plywood under bolts", "3", "judgement: hand-laid work varies")
    ]
    cloth: Annotated[Uncertain, _factor("on cloth, seams and staples", "2.5", "judgement: cloth ages in the sun")]
    parts: Annotated[
        Uncertain, _factor("on what hinges, latches, brackets and braces bear", "1.5", "judgement: labels and guesses")
    ]
    load: Annotated[
        Uncertain, _factor("on wind and road forces", "1.5", "EN 1990, partial factor for a variable action")
    ]
