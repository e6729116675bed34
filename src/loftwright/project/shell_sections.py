"""Sections on the shell: its shape and weight, the weighing, and what rides on it."""

from __future__ import annotations

import math
from typing import Annotated, Literal

from loftwright.core.choices import ItemKind
from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension
from loftwright.project.keys import Choice, Key, Most, Section, Words, YesNo
from loftwright.project.points import x_key, z_key

_DEG = math.pi / 180.0

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


def _side_height(where: str) -> Key:
    along = "height_rear" if "left" in where else "height_front"
    return Key(
        Dimension.LENGTH,
        0.02,
        1.0,
        f"outer height of the shell above its rim {where} (only for a hinge at a side, in place of {along}; left out "
        "there: unknown)",
        unknown=(0.08, 0.35),
        unknown_reason="from a flat lid to a high shell",
    )


def _test_weight(meaning: str) -> Key:
    return Key(
        Dimension.MASS,
        0.2,
        150.0,
        meaning,
        unknown=(5.0, 20.0),
        unknown_reason="from a water can to two full ones",
    )


def _test_sinks(meaning: str) -> Key:
    return Key(
        Dimension.LENGTH,
        0.0002,
        0.3,
        meaning,
        unknown=(0.002, 0.03),
        unknown_reason="judgement: from a stiff box to a limber tray",
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
    height_left: Annotated[Uncertain | None, _side_height("near its left side")] = None
    height_right: Annotated[Uncertain | None, _side_height("near its right side")] = None
    overhang_left: Annotated[
        Uncertain | None,
        Key(
            Dimension.LENGTH,
            0.0,
            1.0,
            "how far the rim reaches beyond the left edge of the opening (only for a hinge at a side, in place of "
            "overhang_rear; left out there: unknown)",
            unknown=(0.0, 0.02),
            unknown_reason="half of what the shell is wider than the opening",
            per="opening.width",
        ),
    ] = None
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
        x_key(
            "x of the bare shell's centre of mass; left out: from the weighing, else the middle of its length",
            (0.4, 0.6),
            "near the middle of the opening",
        ),
    ] = None
    centre_height: Annotated[
        Uncertain | None,
        z_key(
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
            "moment that twists the shell by one degree from end to end; left out: from the weight on its corner, else "
            "twist is not judged",
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
            unknown=(0.003, 0.05),
            unknown_reason="from a bare skin to foam with lining",
        ),
    ] = None
    bend_weight: Annotated[
        Uncertain | None,
        _test_weight(
            "weight laid across the middle of the shell, which lies on two battens; left out: from what it is made of"
        ),
    ] = None
    bend_span: Annotated[
        Uncertain | None,
        Key(
            Dimension.LENGTH,
            0.3,
            5.0,
            "distance between the two battens under the shell for that weight",
            unknown=(0.7, 0.95),
            unknown_reason="near both ends of the shell",
            per="shell.length",
        ),
    ] = None
    bend_sinks: Annotated[Uncertain | None, _test_sinks("how much further the shell's middle sinks with it")] = None
    twist_weight: Annotated[
        Uncertain | None,
        _test_weight(
            "weight on one corner of the shell, the other three on blocks and the opposite one held down; left out: "
            "no such test"
        ),
    ] = None
    twist_sinks: Annotated[Uncertain | None, _test_sinks("how much further that corner sinks with it")] = None


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

    reading: Annotated[tuple[Reading, ...], Most(60)]
    tilt: Tilt | None = None


ItemState = Literal["add", "remove", "weighed"]


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
    x: Annotated[
        Uncertain, x_key("where its middle sits along the roof", (0.2, 0.8), "anywhere over the opening but its ends")
    ]
    z: Annotated[
        Uncertain, z_key("height of its middle above the roof", (0.0, 0.3), "between the rim and the top of the shell")
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
