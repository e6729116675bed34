"""Sections on the hole in the roof: the cut and what a look behind the lining found, and the ring."""

from __future__ import annotations

from typing import Annotated

from loftwright.core.choices import Lookup, MetalName, RingFixing, RingShape
from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension
from loftwright.project.body_sections import length_key
from loftwright.project.keys import Choice, Key, Section


class Cut(Section):
    """The line of the saw, and what a look behind the lining found."""

    corner_radius: Annotated[
        Uncertain | None,
        length_key(
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
        length_key(
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
        length_key("its width along the roof", 0.003, 0.15, (0.02, 0.05), "stock angles and tubes", "40 mm, assumed"),
    ]
    wall: Annotated[
        Uncertain,
        length_key("its thickness", 0.001, 0.02, (0.002, 0.005), "stock angles and tubes", "3 mm, assumed"),
    ]
    channel: Annotated[
        Uncertain,
        length_key(
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
        length_key("distance between rivets or bolts", 0.01, 0.4, (0.03, 0.08), "from close to wide", "50 mm, assumed"),
    ]
    rivet: Annotated[
        Uncertain,
        length_key(
            "diameter of rivets or bolts", 0.002, 0.012, (0.0032, 0.005), "blind rivets", "4.8 mm", "a stout rivet"
        ),
    ]
    sag_limit: Annotated[
        Uncertain,
        length_key(
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
            "how many times as stiff as the cut roof alone the ring must make it against going out of square",
            unknown=(1.2, 3.0),
            unknown_reason="judgement: no published limit",
            default="1.5",
            default_reason="judgement: less is hardly worth its weight",
        ),
    ]
