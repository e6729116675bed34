"""What the builder decided and what is known of it: one frozen model, named as the project file names it.

Every quantity carries a `Key`: what it means, in which dimension, what is allowed, what is taken for
"unknown" and what is taken when it is left out. All points are given for the closed roof: x to the
cab, z up, from the middle of the rear edge of the opening at roof height.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Annotated, Any, Literal, get_args, get_origin

from pydantic import BaseModel, ConfigDict, Field, GetCoreSchemaHandler
from pydantic_core import CoreSchema, core_schema

from loftwright.core.errors import Bug
from loftwright.core.quantities import Dimension
from loftwright.core.uncertain import Uncertain

FORMAT = 1
"""The version of the project file that this version writes and reads."""

_DEG = math.pi / 180.0
_KG_FORCE = 9.80665
_ZERO_C = 273.15

HINGED_END = "hinged end"
"""Value of `Key.per` for an x that is unknown by shares of the opening's length from the hinged end."""


@dataclass(frozen=True, slots=True)
class Key:
    """A quantity in the project file.

    `low` and `high` bound what is allowed, in SI. `unknown` is the range taken for "unknown", in SI, or
    in shares of the key named by `per` ("opening.length", or "stroke" in the same table; `HINGED_END`
    counts shares of the opening's length from the hinged end). `default` is the text taken when the key
    is left out; `same_as` names another key whose value is then taken. A key with neither must be
    written unless its field allows None. `beside` names a key and shares of it: where that key is written
    and known, these shares are taken for "unknown" instead, so that the two fit each other.
    """

    dimension: Dimension
    low: float
    high: float
    meaning: str
    unknown: tuple[float, float]
    unknown_reason: str
    default: str | None = None
    default_reason: str = ""
    per: str = ""
    same_as: str = ""
    beside: tuple[str, float, float] | None = None

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        there = core_schema.is_instance_schema(Uncertain)
        return core_schema.nullable_schema(there) if type(None) in get_args(source) else there


@dataclass(frozen=True, slots=True)
class Spot:
    """A point in the side view, written as a two-element array [x, z]."""

    meaning: str
    x: Key
    z: Key
    needed: bool = True


@dataclass(frozen=True, slots=True)
class Choice:
    """One word of a closed list; `unknown` is the word taken for "unknown"."""

    meaning: str
    unknown: str
    unknown_reason: str
    default: str | None = None
    default_reason: str = ""


@dataclass(frozen=True, slots=True)
class Count:
    """A whole number written without a unit; `default` is also taken for "unknown"."""

    meaning: str
    low: int
    high: int
    default: int | None = None
    default_reason: str = ""


@dataclass(frozen=True, slots=True)
class YesNo:
    """true or false; `default` is also taken for "unknown"."""

    meaning: str
    default: bool
    default_reason: str


@dataclass(frozen=True, slots=True)
class Words:
    """Free text."""

    meaning: str
    default: str | None = None
    pattern: str = ""
    allowed: str = ""


class Section(BaseModel):
    """A table of the project file."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True, populate_by_name=True)


def _c(celsius: float) -> float:
    return celsius + _ZERO_C


def _x(meaning: str, unknown: tuple[float, float] = (0.0, 1.0), reason: str = "", per: str = "opening.length") -> Key:
    return Key(
        Dimension.LENGTH,
        -3.0,
        6.0,
        meaning,
        unknown,
        reason or "anywhere over the opening",
        per=per,
    )


def _z(meaning: str, unknown: tuple[float, float] = (-0.1, 0.1), reason: str = "") -> Key:
    return Key(
        Dimension.LENGTH,
        -2.0,
        1.5,
        meaning,
        unknown,
        reason or "within a hand's width of the roof",
    )


class Point(Section):
    """A point of the closed roof in the side view."""

    x: Annotated[Uncertain, _x("distance towards the cab from the rear edge of the opening")]
    z: Annotated[Uncertain, _z("height above the roof at the opening")]


Units = Literal["metric", "imperial"]


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
            default_reason="any",
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
            unknown=(10 * _KG_FORCE, 20 * _KG_FORCE),
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
            x=_x("distance of a roof point from the rear edge of the opening"),
            z=_z(
                "height of a roof point above the roof at the origin",
                (-0.04, 0.01),
                "roofs fall by a few centimetres to their ends",
            ),
        ),
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
            "height of the edge standing up round the opening",
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
        Uncertain, _x("where the board begins", (0.3, 0.6), "over the cab end of the opening"), Field(alias="from")
    ]
    to: Annotated[Uncertain, _x("where the board ends", (1.0, 1.2), "near the front end of the opening")]
    height: Annotated[
        Uncertain,
        _z(
            "top of the board above the roof, negative when below it",
            (-0.25, -0.05),
            "below the roof by a cushion or more",
        ),
    ]


Material = Literal["foam-plywood", "glass-fibre", "aluminium-skin", "plywood", "unknown"]


def _shell_height(where: str) -> Key:
    return Key(
        Dimension.LENGTH,
        0.02,
        1.0,
        f"outer height of the shell above its rim {where}",
        unknown=(0.08, 0.35),
        unknown_reason="from a flat lid to a high shell",
        default="unknown",
        default_reason="lay a batten across the shell and measure down to the rim",
    )


class Shell(Section):
    """The rigid lid."""

    length: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.4,
            5.0,
            "outer length of the shell along its rim",
            unknown=(1.02, 1.1),
            unknown_reason="a rim that laps over the opening by a few centimetres",
            per="opening.length",
            default="unknown",
            default_reason="measure it along the rim",
        ),
    ]
    width: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.4,
            2.6,
            "outer width of the shell across its rim",
            unknown=(1.02, 1.15),
            unknown_reason="a rim that laps over the opening by a few centimetres",
            per="opening.width",
            default="unknown",
            default_reason="measure it across the rim",
        ),
    ]
    height_rear: Annotated[Uncertain, _shell_height("near its rear end")]
    height_middle: Annotated[Uncertain, _shell_height("at its middle")]
    height_front: Annotated[Uncertain, _shell_height("near its front end")]
    overhang_rear: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.0,
            1.0,
            "how far the rim reaches behind the rear edge of the opening",
            unknown=(0.0, 0.02),
            unknown_reason="half of what the shell is longer than the opening",
            per="opening.length",
            default="unknown",
            default_reason="lay the shell on the marked-out opening",
        ),
    ]
    rim_height: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            -0.15,
            0.15,
            "height of the rim above the roof when closed",
            unknown=(0.0, 0.03),
            unknown_reason="from a rim on the skin to one on a thick seal",
            default="10 mm, assumed",
            default_reason="a squeezed seal",
        ),
    ]
    made_of: Annotated[
        Material,
        Choice(
            "what the shell is built from",
            unknown="unknown",
            unknown_reason="the weight then covers every common lay-up",
            default="unknown",
            default_reason="the weight then covers every common lay-up",
        ),
    ]
    mass: Annotated[
        Uncertain | None,
        Key(
            Dimension.MASS,
            3.0,
            250.0,
            "weight of the bare shell; left out: from the weighing, else from its area",
            unknown=(20.0, 110.0),
            unknown_reason="from a short aluminium lid to a long lined shell",
        ),
    ] = None
    centre: Annotated[
        Uncertain | None,
        _x(
            "x of the bare shell's centre of mass; left out: from the weighing, else the middle of its length",
            (0.4, 0.6),
            "near the middle of the opening",
        ),
    ] = None
    centre_height: Annotated[
        Uncertain | None,
        _z(
            "z of the bare shell's centre of mass; left out: from its shape",
            (0.03, 0.3),
            "between the rim and the top of the shell",
        ),
    ] = None
    twist_moment: Annotated[
        Uncertain | None,
        Key(
            Dimension.MOMENT,
            0.5,
            5000.0,
            "moment that twists the shell by one degree from end to end; left out: twist is not judged",
            unknown=(10.0, 400.0),
            unknown_reason="from a limber skin to a stiff closed box",
        ),
    ] = None
    thickness: Annotated[
        Uncertain | None,
        Key(
            Dimension.LENGTH,
            0.0005,
            0.15,
            "thickness of the shell from outside to lining; left out: from what it is made of",
            unknown=(0.003, 0.04),
            unknown_reason="from a bare skin to foam with lining",
        ),
    ] = None


def _along(meaning: str, unknown: tuple[float, float]) -> Key:
    return Key(
        Dimension.LENGTH,
        -1.0,
        6.0,
        meaning,
        unknown=unknown,
        unknown_reason="somewhere along that part of the shell",
        per="shell.length",
    )


def _reads(meaning: str) -> Key:
    return Key(
        Dimension.MASS,
        0.0,
        300.0,
        meaning,
        unknown=(5.0, 100.0),
        unknown_reason="anything household scales show for a roof shell",
    )


class Reading(Section):
    """One weighing of the shell: on a line of scales, as a whole, or balanced over a pipe.

    Exactly one of three forms is filled: (at, other, reads), (whole), (balance). Places are measured
    along the shell from the rear edge of its rim.
    """

    at: Annotated[Uncertain | None, _along("place of the support that stands on the scales", (0.0, 0.3))] = None
    other: Annotated[Uncertain | None, _along("place of the other support", (0.7, 1.0))] = None
    reads: Annotated[Uncertain | None, _reads("what the scales show under that support")] = None
    whole: Annotated[Uncertain | None, _reads("what the scales show under the whole shell")] = None
    balance: Annotated[Uncertain | None, _along("where the shell balances over a pipe", (0.35, 0.65))] = None


class Tilt(Section):
    """One weighing with the shell tilted, for the height of its centre of mass."""

    angle: Annotated[
        Uncertain,
        Key(
            Dimension.ANGLE,
            5 * _DEG,
            60 * _DEG,
            "how steeply the shell stood",
            unknown=(15 * _DEG, 45 * _DEG),
            unknown_reason="from leaning on a low stool to leaning on a bench",
        ),
    ]
    at: Annotated[Uncertain, _along("place of the lower support, on the scales", (0.0, 0.3))]
    other: Annotated[Uncertain, _along("place of the raised support", (0.7, 1.0))]
    reads: Annotated[Uncertain, _reads("what the scales show under the lower support")]


class Weighing(Section):
    """What the scales said."""

    reading: tuple[Reading, ...]
    tilt: Tilt | None = None


ItemState = Literal["add", "remove", "weighed"]
ItemKind = Literal["panel", "vent", "lining", "handle", "other"]


class Item(Section):
    """Something that rides on the shell."""

    name: Annotated[str, Words("what it is")]
    mass: Annotated[
        Uncertain,
        Key(
            Dimension.MASS,
            0.0,
            80.0,
            "its weight",
            unknown=(0.5, 15.0),
            unknown_reason="from a handle to a large panel with its frame",
        ),
    ]
    x: Annotated[Uncertain, _x("where its middle sits along the roof", (0.2, 0.8))]
    z: Annotated[
        Uncertain, _z("height of its middle above the roof", (0.0, 0.3), "between the rim and the top of the shell")
    ]
    state: Annotated[
        ItemState,
        Choice(
            "add: fixed on after weighing; remove: was on when weighed, comes off; weighed: on when weighed, stays",
            unknown="add",
            unknown_reason="the heavier case",
            default="add",
            default_reason="the heavier case",
        ),
    ]
    removable: Annotated[bool, YesNo("whether the roof is also judged without it", False, "most things stay on")]
    kind: Annotated[
        ItemKind,
        Choice(
            "what sort of thing it is",
            unknown="other",
            unknown_reason="nothing hangs on it but the answer's wording",
            default="other",
            default_reason="nothing special",
        ),
    ]


Kind = Literal["hinge", "four-bar", "parallel arms"]
End = Literal["front", "rear"]


def _pivot(meaning: str, x: tuple[float, float], z: tuple[float, float]) -> Spot:
    return Spot(
        meaning,
        x=_x(f"{meaning}: x", x, "near the end that stays low", per=HINGED_END),
        z=_z(f"{meaning}: z", z, "within a hand's width of the roof, or inside it"),
    )


class Linkage(Section):
    """What carries the shell from closed to open."""

    kind: Annotated[
        Kind,
        Choice(
            "hinge: the shell turns about one axis; four-bar: two unlike arms a side; parallel arms: two equal ones",
            unknown="hinge",
            unknown_reason="the simplest linkage to build",
        ),
    ]
    end: Annotated[
        End,
        Choice(
            "the end of the shell that stays low: front is towards the cab",
            unknown="front",
            unknown_reason="the wind of driving then presses the closed roof down",
        ),
    ]
    opens: Annotated[
        Uncertain,
        Key(
            Dimension.ANGLE,
            3 * _DEG,
            175 * _DEG,
            "how far it opens: hinge: how far the shell turns; arms: how far arm a swings",
            unknown=(20 * _DEG, 35 * _DEG),
            unknown_reason="from a low wedge to a steep one",
        ),
    ]
    hinge: Annotated[
        Point | None,
        _pivot("axis of the hinges (hinge only)", (0.0, 0.04), (0.0, 0.05)),
    ] = None
    arm_a_van: Annotated[Point | None, _pivot("arm a's pivot on the van (arms only)", (0.04, 0.08), (-0.08, -0.03))] = (
        None
    )
    arm_a_shell: Annotated[
        Point | None, _pivot("arm a's pivot on the shell (arms only)", (0.30, 0.36), (0.0, 0.05))
    ] = None
    arm_b_van: Annotated[Point | None, _pivot("arm b's pivot on the van (arms only)", (0.18, 0.22), (-0.25, -0.20))] = (
        None
    )
    arm_b_shell: Annotated[
        Point | None, _pivot("arm b's pivot on the shell (arms only)", (0.44, 0.50), (-0.17, -0.12))
    ] = None
    spacing: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.2,
            2.4,
            "distance across between the left and the right hinge, or the planes of the left and right arms",
            unknown=(0.8, 0.98),
            unknown_reason="close to the sides of the opening",
            per="opening.width",
            default="unknown",
            default_reason="measure it across the van",
        ),
    ]
    play: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.0,
            0.005,
            "how far a pin can rattle sideways in its hole",
            unknown=(0.0001, 0.0006),
            unknown_reason="from a reamed bush to a drilled hole",
            default="unknown",
            default_reason="rattle the pin and judge by feeler or eye",
        ),
    ]
    plate_stiffness: Annotated[
        Uncertain,
        Key(
            Dimension.STIFFNESS,
            1.0e3,
            1.0e8,
            "sideways stiffness of a hinge or arm plate where it is bolted on",
            unknown=(1.0e5, 2.0e6),
            unknown_reason="from a plate on thin sheet to one on a frame",
            default="unknown",
            default_reason="hang a known weight from it sideways and measure the give",
        ),
    ]
    friction: Annotated[
        Uncertain,
        Key(
            Dimension.MOMENT,
            0.0,
            60.0,
            "friction of all hinges or pivots together, as a moment",
            unknown=(0.0, 8.0),
            unknown_reason="from oiled pins to tight ones",
            default="unknown",
            default_reason="swing the shell on a frame and feel it",
        ),
    ]
    arm_width: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.005,
            0.15,
            "width of an arm in the side view",
            unknown=(0.02, 0.04),
            unknown_reason="from flat bar to square tube",
            default="30 mm, assumed",
            default_reason="common flat bar",
        ),
    ]


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
    strap_length: Annotated[
        Uncertain | None,
        Key(
            Dimension.LENGTH,
            0.02,
            3.0,
            "length of the strap that stops the shell; left out: as long as the opening asks for",
            unknown=(0.3, 1.2),
            unknown_reason="from a strap near the hinge to one at the lip",
        ),
    ] = None


class Handle(Section):
    """Where the hand acts on the shell."""

    at: Annotated[
        Point,
        Spot(
            "place of the handle on the closed shell; left out: the lip",
            x=_x("handle: x", (0.9, 1.02), "near the lip", per=HINGED_END),
            z=_z("handle: z", (-0.05, 0.05), "at the rim"),
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
ForceIs = Literal["F1", "F3", "middle"]
FrictionIs = Literal["full loop", "half loop"]


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
    foot: Annotated[Point, _pivot("spring foot", (0.15, 0.25), (-0.12, -0.05))]
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
    head: Annotated[Point, _pivot("spring head", (0.35, 0.5), (0.0, 0.06))]
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
            1.2,
            "distance of the springs from the middle of the roof, left and right alike",
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
            unknown_reason="several per cent is common practice",
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
            unknown_reason="common practice for damped springs, no source",
            default="unknown",
            default_reason="let one extend by itself, pressed upright on the floor, and film it beside a tape",
        ),
    ]
    yearly_loss: Annotated[
        Uncertain | None,
        Key(
            Dimension.PERCENT,
            0.0,
            0.2,
            "gas lost in a year; left out: none is reckoned beyond the ageing by test",
            unknown=(0.0, 0.05),
            unknown_reason="no public figure is known to us",
        ),
    ] = None


def _temperature(meaning: str, default: str, reason: str, unknown: tuple[float, float]) -> Key:
    return Key(
        Dimension.TEMPERATURE,
        _c(-45.0),
        _c(100.0),
        meaning,
        unknown=(_c(unknown[0]), _c(unknown[1])),
        unknown_reason=reason,
        default=default,
        default_reason="judgement for a temperate climate",
    )


class Temperatures(Section):
    """How cold and how hot the springs get."""

    cold: Annotated[
        Uncertain,
        _temperature(
            "coldest air in which the roof is opened", "-5 C", "from a frosty night to a hard winter", (-15.0, 0.0)
        ),
    ]
    mild: Annotated[Uncertain, _temperature("air on a usual day", "15 C", "from spring to summer", (10.0, 20.0))]
    hot: Annotated[
        Uncertain,
        _temperature("warmest air in which the roof is closed", "30 C", "from a warm to a hot summer", (28.0, 40.0)),
    ]
    sun: Annotated[
        Uncertain,
        _temperature(
            "springs under the closed shell in the sun",
            "65 C",
            "from a pale shell to a dark one in full sun",
            (50.0, 80.0),
        ),
    ]


class Forces(Section):
    """Other forces on the shell."""

    seal_line: Annotated[
        Uncertain,
        Key(
            Dimension.LINE_FORCE,
            0.0,
            1000.0,
            "push of the squeezed seal per metre of rim when the shell lies on its stops",
            unknown=(30.0, 300.0),
            unknown_reason="from a soft sponge bulb to a dense lip",
            default="unknown",
            default_reason="squeeze a hand's length of it on kitchen scales",
        ),
    ]
    seal_height: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.0005,
            0.06,
            "how far the seal is squeezed when the shell lies on its stops",
            unknown=(0.004, 0.015),
            unknown_reason="a quarter to two fifths of a common seal's height",
            default="unknown",
            default_reason="measure the seal free and squeezed",
        ),
    ]
    cloth_mass: Annotated[
        Uncertain,
        Key(
            Dimension.MASS,
            0.0,
            40.0,
            "weight of the cloth walls",
            unknown=(2.0, 10.0),
            unknown_reason="from thin walls for a short wedge to canvas all round",
            default="unknown",
            default_reason="weigh the roll",
        ),
    ]
    cloth_tension: Annotated[
        Uncertain,
        Key(
            Dimension.LINE_FORCE,
            0.0,
            300.0,
            "pull of the taut cloth per metre of rim when open",
            unknown=(0.0, 40.0),
            unknown_reason="from slack cloth to cloth that is drum tight",
            default="unknown",
            default_reason="pull the hem with a luggage scale",
        ),
    ]
    fold_push: Annotated[
        Uncertain,
        Key(
            Dimension.LINE_FORCE,
            0.0,
            60.0,
            "push of the folded cloth per metre of rim just before closed",
            unknown=(0.0, 6.0),
            unknown_reason="from thin cloth to stiff canvas in a tight fold",
            default="unknown",
            default_reason="fold a metre of it and press it on kitchen scales",
        ),
    ]
    wet_extra: Annotated[
        Uncertain,
        Key(
            Dimension.MASS,
            0.0,
            40.0,
            "water held by wet cloth",
            unknown=(0.0, 6.0),
            unknown_reason="from proofed cloth to soaked canvas",
            default="unknown",
            default_reason="weigh a sample dry and wet",
        ),
    ]
    load_on_top: Annotated[
        Uncertain,
        Key(
            Dimension.MASS,
            0.0,
            200.0,
            "snow or water on the shell while it is opened",
            unknown=(0.0, 20.0),
            unknown_reason="from dry to a hand's breadth of fresh snow",
            default="0 kg",
            default_reason="snow is swept off first",
        ),
    ]
    trapped_air: Annotated[
        Uncertain,
        Key(
            Dimension.FORCE,
            0.0,
            400.0,
            "upward force of trapped air near closed while the roof is lowered with the doors shut",
            unknown=(0.0, 60.0),
            unknown_reason="from an open door to a tight van",
            default="unknown",
            default_reason="lower it once with the doors shut and once open",
        ),
    ]
    gust: Annotated[
        Uncertain,
        Key(
            Dimension.SPEED,
            0.0,
            45.0,
            "gust at roof height in which the roof still stands open; lower it in more",
            unknown=(8.0, 15.0),
            unknown_reason="from a breezy day to the start of a gale",
            default="10 m/s",
            default_reason="judgement: a fresh wind; beyond it people lower the roof anyway",
        ),
    ]


def _limit(meaning: str, kg: float, reason: str, default: str | None, same_as: str = "") -> Key:
    return Key(
        Dimension.FORCE,
        0.0,
        600.0,
        meaning,
        unknown=(0.7 * kg * _KG_FORCE, 1.3 * kg * _KG_FORCE),
        unknown_reason="what different people find acceptable",
        default=default,
        default_reason=reason,
        same_as=same_as,
    )


class Requirements(Section):
    """What you ask of the roof."""

    push_to_start: Annotated[
        Uncertain,
        _limit(
            "greatest push up at the handle to start the closed roof",
            15.0,
            "what the person pushes",
            None,
            "person.push_limit",
        ),
    ]
    push_on_the_way: Annotated[
        Uncertain,
        _limit(
            "greatest push up at the handle further on", 8.0, "judgement: arms above the shoulders are weaker", "8 kg"
        ),
    ]
    pull_to_start_down: Annotated[
        Uncertain,
        _limit(
            "greatest pull down at the handle to bring the roof down in the warmest air",
            15.0,
            "judgement: hanging on a strap with part of one's weight",
            "15 kg",
        ),
    ]
    pull_after_hot: Annotated[
        Uncertain,
        _limit(
            "greatest pull down straight after a hot opening",
            25.0,
            "judgement: rare, and waiting half an hour helps",
            "25 kg",
        ),
    ]
    stays_shut_margin: Annotated[
        Uncertain,
        _limit(
            "push up at the handle that a closed, unlatched roof must still need",
            2.0,
            "judgement: it must not rise by itself on a hot day",
            "20 N",
        ),
    ]
    stays_up_margin: Annotated[
        Uncertain,
        _limit(
            "pull down at the handle that an open roof must still need",
            2.0,
            "judgement: a bump or a hand must not start it down",
            "20 N",
        ),
    ]
    rises_from: Annotated[
        Uncertain,
        Key(
            Dimension.PERCENT,
            0.05,
            1.0,
            "from how far open on the roof rises by itself",
            unknown=(0.4, 0.8),
            unknown_reason="from barely pushed to pushed nearly all the way",
            default="75 %",
            default_reason="judgement: with cold and aged springs the arms follow no further",
        ),
    ]
    headroom_wanted: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.8,
            3.0,
            "standing height wanted inside under the open shell",
            unknown=(1.55, 1.95),
            unknown_reason="most grown people standing",
            default_reason="the person stands upright",
            same_as="person.height",
        ),
    ]
    spring_margin: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.0,
            0.1,
            "stroke that must be left at both ends of every spring",
            unknown=(0.005, 0.015),
            unknown_reason="from the least safety stroke to a generous one",
            default="10 mm",
            default_reason="twice the least safety stroke of the design standard",
        ),
    ]
    clearance: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.0,
            0.1,
            "gap that moving parts must keep from everything else",
            unknown=(0.005, 0.02),
            unknown_reason="from careful to generous",
            default="10 mm",
            default_reason="judgement: three tape readings' doubt",
        ),
    ]
    transmission_min: Annotated[
        Uncertain,
        Key(
            Dimension.ANGLE,
            5 * _DEG,
            85 * _DEG,
            "least angle between arm b and the line that drives it; below it the arms jam easily",
            unknown=(30 * _DEG, 45 * _DEG),
            unknown_reason="the range that textbooks of mechanisms give",
            default="40 deg",
            default_reason="common practice for four-bars",
        ),
    ]
    prop_fitted: Annotated[
        bool, YesNo("whether a positive prop or lock is fitted", False, "nothing is fitted until you say so")
    ]
    stop_speed: Annotated[
        Uncertain,
        Key(
            Dimension.SPEED,
            0.05,
            6.0,
            "greatest speed of the lip at the stop",
            unknown=(1.0, 3.0),
            unknown_reason="from gentle to a hard knock",
            default="2 m/s",
            default_reason="judgement: a strap or stop takes that knock",
        ),
    ]
    twist_limit: Annotated[
        Uncertain,
        Key(
            Dimension.ANGLE,
            0.1 * _DEG,
            20 * _DEG,
            "greatest twist of the shell when left and right push unequally",
            unknown=(1 * _DEG, 4 * _DEG),
            unknown_reason="from a stiff shell to a limber one",
            default="2 deg",
            default_reason="judgement: 35 mm across a metre, plain to see",
        ),
    ]


class Project(Section):
    """The whole project file."""

    format: Annotated[int, Count("version of the file's form", 1, FORMAT)]
    name: Annotated[str, Words("what you call the project")]
    settings: Settings
    person: Person
    van: Van
    roof: Roof
    opening: Opening
    bed: Bed | None = None
    shell: Shell
    weighing: Weighing | None = None
    item: tuple[Item, ...] = ()
    linkage: Linkage
    stop: Stop
    handle: Handle
    spring: tuple[Spring, ...] = ()
    temperatures: Temperatures
    forces: Forces
    requirements: Requirements
    taken: tuple[str, ...] = ()
    """Sentences: what was taken where a choice is unknown. Never a key of the file."""


@dataclass(frozen=True, slots=True)
class Member:
    """One key of a section, taken apart: its name in the file and in Python, its type and what is said of it.

    `about` is a Key, Spot, Choice, Count, YesNo or Words, or None where the key is a table or a list of
    tables of the class `table`.
    """

    key: str
    attribute: str
    about: Key | Spot | Choice | Count | YesNo | Words | None
    table: type[Section] | None
    many: bool
    optional: bool
    words: tuple[str, ...]

    @property
    def required(self) -> bool:
        """Whether a file must write this key."""
        about = self.about
        if self.optional or self.many or isinstance(about, YesNo):
            return False
        if isinstance(about, Key):
            return about.default is None and not about.same_as
        if isinstance(about, Spot):
            return about.needed
        return about is not None and about.default is None


@cache
def members(section: type[Section]) -> tuple[Member, ...]:
    """Return the keys of a section in the order of the file."""
    found: list[Member] = []
    for attribute, field in section.model_fields.items():
        if section is Project and attribute == "taken":
            continue
        kinds = (Key, Spot, Choice, Count, YesNo, Words)
        about = next((note for note in field.metadata if isinstance(note, kinds)), None)
        kind: Any = field.annotation
        optional = type(None) in get_args(kind)
        if optional:
            kind = next(part for part in get_args(kind) if part is not type(None))
        many = get_origin(kind) is tuple
        if many:
            kind = get_args(kind)[0]
        table = kind if isinstance(kind, type) and issubclass(kind, Section) else None
        words = tuple(str(word) for word in get_args(kind)) if get_origin(kind) is Literal else ()
        found.append(Member(field.alias or attribute, attribute, about, table, many, optional, words))
    return tuple(found)


def walk(project: Project) -> dict[str, Uncertain]:
    """Return every quantity of the project under its path in the file: "shell.mass", "spring.0.foot.x"."""
    return dict(_walk(project, ""))


def _walk(section: Section, prefix: str) -> Iterator[tuple[str, Uncertain]]:
    for member in members(type(section)):
        value = getattr(section, member.attribute)
        path = f"{prefix}{member.key}"
        if isinstance(value, Uncertain):
            yield path, value
        elif isinstance(value, Section):
            yield from _walk(value, f"{path}.")
        elif isinstance(value, tuple):
            for number, part in enumerate(value):
                yield from _walk(part, f"{path}.{number}.")


@cache
def key_of(path: str) -> Key:
    """Return what is allowed and meant at a path as `walk` writes it."""
    section: type[Section] | None = Project
    spot: Spot | None = None
    for step in path.split("."):
        if step.isdecimal():
            continue
        if spot is not None and step in ("x", "z"):
            return spot.x if step == "x" else spot.z
        member = next((m for m in members(section) if m.key == step), None) if section else None
        if member is None:
            break
        if isinstance(member.about, Key):
            return member.about
        spot = member.about if isinstance(member.about, Spot) else None
        section = member.table
    raise Bug(f"no quantity of the project is called {path}")
