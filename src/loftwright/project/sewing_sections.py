"""Sections on cloth and sewing: what is bought from the roll, windows, allowances."""

from __future__ import annotations

from typing import Annotated

from loftwright.core.choices import ClothRole, Edge, EdgeFinish, Grain, SeamKind, WindowOpens
from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension
from loftwright.project.body_sections import length_key
from loftwright.project.keys import Choice, Key, Section, Words, YesNo


def _shrinks(way: str) -> Key:
    return Key(
        Dimension.PERCENT,
        0.0,
        0.2,
        f"how much shorter the cloth grows {way} when it gets wet and dries",
        unknown=(0.0, 0.08),
        unknown_reason="from coated polyester to untreated cotton",
        default="unknown",
        default_reason="mark 500 mm both ways on a piece, wet it, dry it and measure again",
    )


class Layer(Section):
    """One cloth from the roll, and what it is in the wall."""

    name: Annotated[str, Words("what you call it", default="cloth")]
    role: Annotated[
        ClothRole,
        Choice("which layer of the wall it is", "outer", "every wall has one", default="outer", default_reason="usual"),
    ]
    mass: Annotated[
        Uncertain,
        Key(
            Dimension.AREAL_MASS,
            0.02,
            2.0,
            "weight per area",
            unknown=(0.2, 0.5),
            unknown_reason="from light coated cloth to heavy canvas",
            default="unknown",
            default_reason="weigh a piece of known size",
        ),
    ]
    thickness: Annotated[
        Uncertain,
        length_key(
            "thickness",
            0.0001,
            0.05,
            (0.0004, 0.001),
            "from light coated cloth to heavy canvas",
            "unknown",
            "lay ten layers on each other and measure the pile",
        ),
    ]
    bends: Annotated[
        Uncertain,
        length_key(
            "bending length: half the length of a strip that hangs over a table's edge until its end dips by 41.5 "
            "degrees",
            0.01,
            0.15,
            (0.025, 0.06),
            "from limp to stiff canvas",
            "unknown",
            "push a strip over a table's edge",
        ),
    ]
    roll_width: Annotated[
        Uncertain,
        length_key(
            "width of the roll",
            0.3,
            4.0,
            (1.37, 1.60),
            "common rolls",
            "1.50 m, assumed",
            "a common roll",
        ),
    ]
    selvedge: Annotated[
        Uncertain,
        length_key(
            "what of each edge of the roll cannot be used",
            0.0,
            0.1,
            (0.01, 0.02),
            "a woven edge",
            "15 mm, assumed",
            "a woven edge",
        ),
    ]
    shrink_along: Annotated[Uncertain, _shrinks("along the roll")]
    shrink_across: Annotated[Uncertain, _shrinks("across the roll")]
    price: Annotated[
        Uncertain | None,
        Key(
            Dimension.PLAIN,
            0.0,
            10_000.0,
            "price of a metre of the roll, as a bare number in the project's currency; left out: no price",
            unknown=(8.0, 40.0),
            unknown_reason="from a market stall to coated cloth for tents",
        ),
    ] = None
    conductivity: Annotated[
        Uncertain,
        Key(
            Dimension.PLAIN,
            0.01,
            1.0,
            "heat that goes through it, in watts for each metre and kelvin",
            unknown=(0.03, 0.2),
            unknown_reason="from fleece to coated cloth",
            default="unknown",
            default_reason="0.06 for canvas and 0.035 to 0.045 for fleece are common; from memory",
        ),
    ]
    grain: Annotated[
        Grain,
        Choice(
            "which way the roll runs in the wall",
            "along the wall",
            "long panels need no cross seam",
            default="along the wall",
            default_reason="long panels need no cross seam",
        ),
    ]
    nap: Annotated[
        bool, YesNo("whether the cloth has a way up, so that no piece may be turned", False, "most have not")
    ]
    stops_short: Annotated[
        Uncertain,
        length_key(
            "how far before the corners the layer ends",
            0.0,
            0.6,
            (0.0, 0.2),
            "from all round to clear of the crowded corners",
            "0 mm",
            "goes all round",
        ),
    ]
    removable: Annotated[bool, YesNo("whether it is taken down before the roof is closed", False, "it stays in")]


class Window(Section):
    """One window in a wall, given by the line to which one sees through it."""

    name: Annotated[str, Words("what you call it", default="window")]
    wall: Annotated[Edge, Choice("in which wall it is", "left", "any side", default="left", default_reason="a side")]
    along: Annotated[
        Uncertain,
        length_key(
            "distance of its middle from the middle of the wall's lower line, to the right seen from outside",
            -3.0,
            3.0,
            (-0.2, 0.2),
            "near the middle",
            "0 mm",
            "in the middle",
        ),
    ]
    bottom: Annotated[
        Uncertain,
        length_key(
            "height of its lower edge over the wall's lower line",
            0.0,
            2.0,
            (0.1, 0.3),
            "above the hem",
            "120 mm",
            "above the hem",
        ),
    ]
    width: Annotated[Uncertain, length_key("width to see through", 0.05, 3.0, (0.3, 0.7), "common windows")]
    height: Annotated[Uncertain, length_key("height to see through", 0.05, 2.0, (0.15, 0.3), "common windows")]
    corner_radius: Annotated[
        Uncertain,
        length_key(
            "radius of its corners", 0.0, 0.5, (0.03, 0.08), "tape goes round it", "40 mm", "tape goes round it"
        ),
    ]
    clear: Annotated[bool, YesNo("whether it has a clear sheet", True, "keeps the rain out")]
    screen: Annotated[bool, YesNo("whether it has an insect screen", True, "it stands open on warm nights")]
    curtain: Annotated[bool, YesNo("whether it has a curtain or flap", True, "keeps the light out")]
    film: Annotated[
        Uncertain,
        length_key(
            "thickness of the clear sheet",
            0.0002,
            0.003,
            (0.0005, 0.001),
            "common clear sheets: 20, 30 and 40 thousandths of an inch",
            "0.5 .. 0.8 mm, assumed",
            "common clear sheets",
        ),
    ]
    film_bends: Annotated[
        Uncertain,
        length_key(
            "tightest radius to which the clear sheet may be bent",
            0.002,
            0.3,
            (0.010, 0.040),
            "judgement: from soft to stiff sheet in the cold",
            "unknown",
            "bend a sample on a cold morning until it whitens",
        ),
    ]
    opens: Annotated[
        WindowOpens,
        Choice("how its layers open", "zip", "the usual way", default="zip", default_reason="the usual way"),
    ]


class Sewing(Section):
    """Seams, edges and marks."""

    seam: Annotated[
        SeamKind,
        Choice(
            "how panels are joined",
            "felled",
            "two rows of stitches and no raw edge",
            default="felled",
            default_reason="two rows of stitches and no raw edge",
        ),
    ]
    seam_allowance: Annotated[
        Uncertain,
        length_key(
            "cloth beyond the stitch line at a seam; the wider one of a felled seam",
            0.003,
            0.08,
            (0.012, 0.025),
            "common practice, no source",
            "20 mm",
            "common practice, no source",
        ),
    ]
    lower_edge: Annotated[
        EdgeFinish,
        Choice(
            "how the lower edge ends",
            "drip hem",
            "it is stapled and hangs on over the upstand",
            default="drip hem",
            default_reason="it is stapled and hangs on over the upstand",
        ),
    ]
    lower_allowance: Annotated[
        Uncertain,
        length_key(
            "cloth turned in at the lower edge",
            0.0,
            0.15,
            (0.02, 0.04),
            "a hem turned twice",
            "35 mm",
            "a hem turned twice",
        ),
    ]
    upper_edge: Annotated[
        EdgeFinish,
        Choice(
            "how the upper edge ends",
            "staple strip",
            "stapled to a batten in the shell",
            default="staple strip",
            default_reason="stapled to a batten in the shell",
        ),
    ]
    upper_allowance: Annotated[
        Uncertain,
        length_key(
            "cloth beyond the upper line",
            0.0,
            0.15,
            (0.02, 0.05),
            "enough to turn over and staple twice",
            "40 mm",
            "enough to turn over and staple twice",
        ),
    ]
    window_turn: Annotated[
        Uncertain,
        length_key(
            "cloth turned in round a window",
            0.004,
            0.05,
            (0.008, 0.015),
            "common practice, no source",
            "10 mm",
            "common practice, no source",
        ),
    ]
    keep_out: Annotated[
        Uncertain,
        length_key(
            "least distance between a window's largest layer and a seam, an edge or a crease",
            0.0,
            0.4,
            (0.03, 0.08),
            "judgement: room for the foot of the machine and a second row",
            "40 mm",
            "judgement: room for the foot of the machine and a second row",
        ),
    ]
    marks: Annotated[
        Uncertain,
        length_key(
            "distance between match marks along the edges", 0.05, 1.0, (0.2, 0.4), "judgement", "300 mm", "judgement"
        ),
    ]
    stitch: Annotated[
        Uncertain,
        length_key(
            "length of a stitch",
            0.002,
            0.010,
            (0.0036, 0.0051),
            "5 to 7 stitches to the inch on tents",
            "4 mm",
            "5 to 7 stitches to the inch on tents",
        ),
    ]
    spare: Annotated[
        Uncertain,
        length_key(
            "cloth bought beyond what the pieces need, of each roll",
            0.0,
            5.0,
            (0.3, 0.6),
            "a test strip and a crooked end",
            "0.5 m",
            "a test strip and a crooked end",
        ),
    ]
