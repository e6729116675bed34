"""Sections on the van's body: its skin and bows, the cut, the ring, joints, safety factors, and what a look found."""

from __future__ import annotations

from typing import Annotated

from loftwright.core.choices import JointPlace, LayerName, Lookup, MetalName, RingFixing, RingShape
from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension
from loftwright.project.keys import Choice, Count, Key, Section, Words, YesNo


def _length(
    meaning: str,
    low: float,
    high: float,
    unknown: tuple[float, float],
    reason: str,
    default: str | None = None,
    why: str = "",
    per: str = "",
) -> Key:
    return Key(
        Dimension.LENGTH,
        low,
        high,
        meaning,
        unknown=unknown,
        unknown_reason=reason,
        default=default,
        default_reason=why or (reason if default else ""),
        per=per,
    )


class Body(Section):
    """The van's body round the opening, and what it may carry."""

    skin: Annotated[
        Uncertain,
        _length(
            "thickness of the roof's skin",
            0.0004,
            0.006,
            (0.0006, 0.0012),
            "car sheet",
            "0.7 .. 1 mm, assumed",
            "car sheet; a cut-out tells it",
        ),
    ]
    skin_metal: Annotated[
        MetalName,
        Choice("what the skin is made of", "steel", "the usual skin", default="steel", default_reason="the usual skin"),
    ]
    edge_dip: Annotated[
        Uncertain,
        _length(
            "how far the whole roof dips where 20 kg stand on the planned cut, beside the middle of a long side and "
            "between two bows",
            0.0001,
            0.15,
            (0.001, 0.01),
            "judgement: from a roof with swages to a smooth, hardly crowned one",
            "unknown",
            "stand the weight on a board of a hand's size and read a straightedge laid from rail to rail",
        ),
    ]
    bow_dip: Annotated[
        Uncertain,
        _length(
            "how far the whole roof dips where 20 kg stand on the middle of a bow",
            0.0001,
            0.05,
            (0.0003, 0.003),
            "judgement: from a bow with skin and crown to a bow by itself",
            "unknown",
            "stand the weight over a bow and read a straightedge laid from rail to rail",
        ),
    ]
    roof_length: Annotated[
        Uncertain,
        _length(
            "length of the roof from windscreen to rear door",
            0.8,
            6.0,
            (1.2, 1.7),
            "a roof longer than its opening",
            "unknown",
            "measure it with a tape",
            per="opening.length",
        ),
    ]
    roof_width: Annotated[
        Uncertain,
        _length(
            "width of the roof between its gutters or rails",
            0.8,
            2.6,
            (1.1, 1.35),
            "a roof wider than its opening",
            "unknown",
            "measure it with a tape",
            per="opening.width",
        ),
    ]
    rear_edge: Annotated[
        Uncertain,
        _length(
            "from the rear end of the roof to the rear edge of the opening",
            0.02,
            4.0,
            (0.1, 0.3),
            "a strip of roof stays at the rear",
            "unknown",
            "measure it with a tape",
            per="opening.length",
        ),
    ]
    height: Annotated[
        Uncertain,
        _length(
            "height of the roof above the ground",
            1.2,
            3.4,
            (1.75, 2.6),
            "from a low van to a tall one",
            "unknown",
            "hang a tape from the roof's edge",
        ),
    ]
    mass: Annotated[
        Uncertain,
        Key(
            Dimension.MASS,
            400.0,
            9000.0,
            "weight of the van as it drives, before the roof",
            unknown=(1500.0, 3000.0),
            unknown_reason="from a small van to a large one, part loaded",
            default="unknown",
            default_reason="a weighbridge tells it",
        ),
    ]
    centre_height: Annotated[
        Uncertain,
        _length(
            "height of the van's centre of mass above the ground, before the roof",
            0.3,
            1.8,
            (0.6, 0.95),
            "judgement: a third of a van's height",
            "unknown",
            "rarely known; a workshop with a tilting bench measures it",
        ),
    ]
    track: Annotated[
        Uncertain,
        _length(
            "distance between left and right tyres' middles",
            1.0,
            2.3,
            (1.4, 1.75),
            "from a small van to a large one",
            "unknown",
            "measure it on the ground",
        ),
    ]
    side_area: Annotated[
        Uncertain,
        Key(
            Dimension.AREA,
            1.0,
            25.0,
            "area of the van's side below the roof",
            unknown=(6.0, 12.0),
            unknown_reason="from a small van to a large one",
            default="unknown",
            default_reason="length times height, less what is open under it",
        ),
    ]
    roof_load: Annotated[
        Uncertain | None,
        Key(
            Dimension.MASS,
            10.0,
            1000.0,
            "load that the van's handbook allows on the roof; left out: not judged",
            unknown=(75.0, 200.0),
            unknown_reason="common figures in handbooks",
        ),
    ] = None
    height_limit: Annotated[
        Uncertain | None,
        _length(
            "height that the van must pass under, closed; left out: not judged",
            1.5,
            4.5,
            (2.0, 2.6),
            "car parks, garages, ferries",
        ),
    ] = None
    snow: Annotated[
        Uncertain,
        _length(
            "snow on the closed roof",
            0.0,
            1.0,
            (0.0, 0.3),
            "from none to a snowy night",
            "100 mm",
            "judgement: brushed off beyond this",
        ),
    ]
    walked_on: Annotated[
        bool, YesNo("whether a person may ever lean or kneel on the closed shell", True, "someone will")
    ]


class Bow(Section):
    """One cross member under the roof's skin."""

    at: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            -3.0,
            6.0,
            "its middle, from the rear edge of the opening towards the cab",
            unknown=(0.0, 1.0),
            unknown_reason="anywhere along the opening",
            per="opening.length",
        ),
    ]
    kept: Annotated[
        bool, YesNo("whether it stays whole across the opening, on a roof cut round it", False, "it is in the way")
    ]
    depth: Annotated[
        Uncertain,
        _length("its depth under the skin", 0.005, 0.12, (0.015, 0.035), "pressed bows", "25 mm, assumed"),
    ]
    width: Annotated[
        Uncertain,
        _length("its width", 0.01, 0.2, (0.03, 0.07), "pressed bows", "50 mm, assumed"),
    ]
    sheet: Annotated[
        Uncertain,
        _length("thickness of its sheet", 0.0004, 0.006, (0.0007, 0.0015), "pressed bows", "1 mm, assumed"),
    ]


class Cut(Section):
    """The line of the saw, and what a look behind the lining found."""

    corner_radius: Annotated[
        Uncertain | None,
        _length(
            "inner radius of the opening's corners, which are never cut square; left out: not decided yet",
            0.0,
            0.6,
            (0.02, 0.1),
            "from a hole saw's to a well rounded corner",
        ),
    ] = None
    cables: Annotated[
        Lookup,
        Choice(
            "cables and pipes over the cut line",
            "not looked yet",
            "look first",
            default="not looked yet",
            default_reason="look first",
        ),
    ]
    air_bags: Annotated[
        Lookup,
        Choice(
            "air bags and their gas canisters along the roof's edges",
            "not looked yet",
            "look first",
            default="not looked yet",
            default_reason="look first",
        ),
    ]
    lining: Annotated[
        Lookup,
        Choice(
            "linings, belts' upper anchors and speakers under the cut line",
            "not looked yet",
            "look first",
            default="not looked yet",
            default_reason="look first",
        ),
    ]
    door_before: Annotated[
        Uncertain | None,
        Key(
            Dimension.LENGTH,
            0.0,
            0.1,
            "how much the door's two diagonals differ with one wheel on a kerb, less what they differ on level "
            "ground, before the cut; left out: not measured",
            unknown=(0.001, 0.012),
            unknown_reason="bodies twist by some millimetres",
        ),
    ] = None
    door_cut: Annotated[
        Uncertain | None,
        Key(
            Dimension.LENGTH,
            0.0,
            0.2,
            "how much the door's diagonals differ in the same way after the cut; left out: not measured",
            unknown=(0.001, 0.02),
            unknown_reason="bodies twist by some millimetres",
        ),
    ] = None
    door_ring: Annotated[
        Uncertain | None,
        Key(
            Dimension.LENGTH,
            0.0,
            0.2,
            "how much the door's diagonals differ in the same way with the ring in; left out: not measured",
            unknown=(0.001, 0.015),
            unknown_reason="bodies twist by some millimetres",
        ),
    ] = None
    door_limit: Annotated[
        Uncertain,
        Key(
            Dimension.PLAIN,
            1.0,
            5.0,
            "how much more than before the doors' diagonals may differ, as a factor",
            unknown=(1.1, 1.5),
            unknown_reason="judgement: until doors rub and seals leak",
            default="1.25",
            default_reason="judgement: until doors rub and seals leak",
        ),
    ]


class Ring(Section):
    """The frame round the opening."""

    shape: Annotated[
        RingShape,
        Choice("its cross-section", "angle", "the usual ring", default="angle", default_reason="the usual ring"),
    ]
    metal: Annotated[
        MetalName,
        Choice(
            "what it is made of", "aluminium", "the weaker one", default="aluminium", default_reason="the usual ring"
        ),
    ]
    upright: Annotated[
        Uncertain,
        _length(
            "its height; of a flat its thickness counts instead",
            0.003,
            0.15,
            (0.02, 0.05),
            "stock angles and tubes",
            "40 mm, assumed",
        ),
    ]
    flat: Annotated[
        Uncertain,
        _length("its width along the roof", 0.003, 0.15, (0.02, 0.05), "stock angles and tubes", "40 mm, assumed"),
    ]
    wall: Annotated[
        Uncertain,
        _length("its thickness", 0.001, 0.02, (0.002, 0.005), "stock angles and tubes", "3 mm, assumed"),
    ]
    channel: Annotated[
        Uncertain,
        _length(
            "length of an inner channel under each hinge that carries its force to the bows; nought: none",
            0.0,
            2.5,
            (0.0, 0.6),
            "from none to one that reaches over two bows",
            "0 mm",
            "none is the worse case",
        ),
    ]
    fixing: Annotated[
        RingFixing,
        Choice(
            "what joins it to the roof's skin",
            "rivets",
            "the usual way",
            default="rivets",
            default_reason="the usual way",
        ),
    ]
    pitch: Annotated[
        Uncertain,
        _length("distance between rivets or bolts", 0.01, 0.4, (0.03, 0.08), "from close to wide", "50 mm, assumed"),
    ]
    rivet: Annotated[
        Uncertain,
        _length(
            "diameter of rivets or bolts", 0.002, 0.012, (0.0032, 0.005), "blind rivets", "4.8 mm", "a stout rivet"
        ),
    ]
    sag_limit: Annotated[
        Uncertain,
        _length(
            "how far the ring may give under hinges, stops and a person",
            0.0005,
            0.05,
            (0.002, 0.006),
            "judgement: less than the seal's range",
            "4 mm",
            "judgement: less than the seal's range",
        ),
    ]
    gain_wanted: Annotated[
        Uncertain,
        Key(
            Dimension.PLAIN,
            1.0,
            50.0,
            "how many times the cut skin's stiffness against racking the ring must give",
            unknown=(1.2, 3.0),
            unknown_reason="judgement: no published limit",
            default="1.5",
            default_reason="judgement: less is hardly worth its weight",
        ),
    ]


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
        _length(
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
        _length(
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
        _length(
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
        _length("thickness of that layer", 0.0004, 0.06, (0.0007, 0.006), "from sheet to laminate"),
    ]
    washer: Annotated[
        Uncertain,
        _length(
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
        _length(
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
