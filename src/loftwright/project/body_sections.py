"""Sections on the van's body: its sheet, sizes and weight, and the bows of its roof."""

from __future__ import annotations

from typing import Annotated

from loftwright.core.choices import MetalName
from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension
from loftwright.project.keys import Choice, Key, Section, YesNo


def length_key(
    meaning: str,
    low: float,
    high: float,
    unknown: tuple[float, float],
    reason: str,
    default: str | None = None,
    why: str = "",
    per: str = "",
) -> Key:
    """Return what a length of the file may be, in metres; `why` is said of its default, else the reason."""
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
        length_key(
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
        length_key(
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
        length_key(
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
        length_key(
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
        length_key(
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
        length_key(
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
        length_key(
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
        length_key(
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
        length_key(
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
    gross_mass: Annotated[
        Uncertain | None,
        Key(
            Dimension.MASS,
            500.0,
            12_000.0,
            "most that the van may weigh, by its plate; left out: not judged",
            unknown=(2000.0, 3500.0),
            unknown_reason="from a small van to a large one",
        ),
    ] = None
    height_limit: Annotated[
        Uncertain | None,
        length_key(
            "height that the van must pass under, closed; left out: not judged",
            1.5,
            4.5,
            (2.0, 2.6),
            "car parks, garages, ferries",
        ),
    ] = None
    snow: Annotated[
        Uncertain,
        length_key(
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
        length_key("its depth under the skin", 0.005, 0.12, (0.015, 0.035), "pressed bows", "25 mm, assumed"),
    ]
    width: Annotated[
        Uncertain,
        length_key("its width", 0.01, 0.2, (0.03, 0.07), "pressed bows", "50 mm, assumed"),
    ]
    sheet: Annotated[
        Uncertain,
        length_key("thickness of its sheet", 0.0004, 0.006, (0.0007, 0.0015), "pressed bows", "1 mm, assumed"),
    ]
