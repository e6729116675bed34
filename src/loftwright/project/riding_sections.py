"""Sections on what rides on the roof and goes into it: panel and wire, powered lift, seal, lining, room to stand."""

from __future__ import annotations

from typing import Annotated

from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension
from loftwright.project.body_sections import length_key
from loftwright.project.keys import Choice, Count, Key, Section, Spot, YesNo, force_limit
from loftwright.project.motion_sections import HeadBody, SpringBody
from loftwright.project.points import Point, x_key, z_key


def plain(
    meaning: str,
    low: float,
    high: float,
    unknown: tuple[float, float],
    reason: str,
    default: str | None = None,
    why: str = "",
) -> Key:
    """Return what is said of a bare number whose unit its meaning names; `why` is said of its default."""
    return Key(
        Dimension.PLAIN,
        low,
        high,
        meaning,
        unknown=unknown,
        unknown_reason=reason,
        default=default,
        default_reason=why or (reason if default else ""),
    )


def share(
    meaning: str, low: float, high: float, unknown: tuple[float, float], reason: str, default: str, why: str = ""
) -> Key:
    """Return what is said of a share; `why` is said of its default."""
    return Key(
        Dimension.PERCENT,
        low,
        high,
        meaning,
        unknown=unknown,
        unknown_reason=reason,
        default=default,
        default_reason=why or reason,
    )


class Panel(Section):
    """A solar panel on the shell and its cable; its weight stands as an [[item]] of kind panel."""

    power: Annotated[
        Uncertain, plain("its power in full sun, in watts", 5.0, 1500.0, (50.0, 200.0), "common panels for a van")
    ]
    length: Annotated[
        Uncertain, length_key("its length fore and aft", 0.1, 3.0, (0.6, 1.6), "common panels", "1 m, assumed")
    ]
    width: Annotated[Uncertain, length_key("its width across", 0.1, 2.2, (0.5, 1.1), "common panels", "0.6 m, assumed")]
    gap: Annotated[
        Uncertain,
        length_key(
            "gap between panel and shell; 0 mm where it is bonded on",
            0.0,
            0.2,
            (0.0, 0.06),
            "from bonded on to raised on feet",
            "20 mm, assumed",
        ),
    ]
    fixings: Annotated[int, Count("how many feet or bolts hold it", 1, 24, default=4, default_reason="one a corner")]
    fixing_limit: Annotated[
        Uncertain,
        force_limit(
            "pull that one foot or bolt bears in the shell",
            (150.0, 1500.0),
            "judgement: from a screw in thin laminate to a bolt with a plate",
            "pull a scrap with a luggage scale",
        ),
    ]
    volts: Annotated[
        Uncertain,
        plain("voltage at which it works, in volts", 5.0, 150.0, (17.0, 40.0), "common panels", "18 .. 20, assumed"),
    ]
    short_circuit: Annotated[
        Uncertain,
        plain(
            "its short-circuit current, in amperes",
            0.2,
            40.0,
            (3.0, 12.0),
            "common panels",
            "unknown",
            "its label says it",
        ),
    ]
    latitude: Annotated[
        Uncertain,
        Key(
            Dimension.ANGLE,
            -1.15,
            1.15,
            "latitude at which the van stands; south is negative",
            unknown=(0.6981, 0.9599),
            unknown_reason="from 40 to 55 degrees north",
            default="50 deg, assumed",
            default_reason="a place in the middle of the north",
        ),
    ]
    cloud: Annotated[
        Uncertain,
        share(
            "share of the days' light that clouds take away, over the months that count",
            0.0,
            0.95,
            (0.2, 0.8),
            "from a dry to a dull country",
            "30 .. 70 %, assumed",
        ),
    ]
    losses: Annotated[
        Uncertain,
        share(
            "share lost in heat, dirt, wire and controller",
            0.0,
            0.8,
            (0.15, 0.35),
            "judgement: from clean and cool to dusty and hot",
            "15 .. 35 %, assumed",
        ),
    ]
    use: Annotated[
        Uncertain,
        plain(
            "energy used each day, in watt-hours",
            0.0,
            20_000.0,
            (150.0, 800.0),
            "from lamps and telephones to a fridge",
            "unknown",
            "add up watts times hours of what you run",
        ),
    ]
    first_month: Annotated[
        int, Count("first month in which the use must be covered", 1, 12, default=4, default_reason="April")
    ]
    last_month: Annotated[
        int, Count("last month in which the use must be covered", 1, 12, default=9, default_reason="September")
    ]
    wire_length: Annotated[
        Uncertain,
        length_key(
            "length of the cable, one way, panel to controller", 0.2, 30.0, (2.0, 6.0), "common runs", "4 m, assumed"
        ),
    ]
    wire_area: Annotated[
        Uncertain,
        plain(
            "cross-section of each core, in square millimetres",
            0.5,
            50.0,
            (2.5, 6.0),
            "common cables",
            "4, assumed",
            "a common cable",
        ),
    ]
    cable: Annotated[
        Uncertain,
        length_key("outer diameter of the cable", 0.002, 0.04, (0.005, 0.012), "common cables", "6 mm, assumed"),
    ]
    fuse: Annotated[
        Uncertain | None,
        plain("fuse at the battery's end, in amperes; left out: not chosen", 0.5, 200.0, (10.0, 30.0), "common fuses"),
    ] = None
    drop_limit: Annotated[
        Uncertain,
        share(
            "how much voltage may be lost in the cable",
            0.002,
            0.2,
            (0.02, 0.05),
            "common practice, no source",
            "3 %",
        ),
    ]
    loop_van: Annotated[
        Point | None,
        Spot(
            "last clip of the cable on the van; left out: not placed yet",
            x_key("last clip of the cable on the van", (0.0, 1.0), "near the hinge or an arm"),
            z_key("height of that clip", (-0.2, 0.0), "inside the ring"),
            needed=False,
        ),
    ] = None
    loop_shell: Annotated[
        Point | None,
        Spot(
            "first clip of the cable on the shell; left out: not placed yet",
            x_key("first clip of the cable on the shell", (0.0, 1.0), "near the hinge or an arm"),
            z_key("height of that clip", (0.0, 0.2), "inside the shell"),
            needed=False,
        ),
    ] = None
    loop_length: Annotated[
        Uncertain | None,
        length_key(
            "length of cable between these two clips; left out: to be found", 0.02, 5.0, (0.3, 1.5), "a free loop"
        ),
    ] = None


class Lift(Section):
    """Actuators that lift the roof by current, alone or beside springs."""

    per_side: Annotated[int, Count("how many on each side of the roof", 1, 2, default=1, default_reason="one a side")]
    foot_on: Annotated[
        SpringBody,
        Choice(
            "what its foot is bolted to", unknown="van", unknown_reason="usual", default="van", default_reason="usual"
        ),
    ]
    foot: Annotated[
        Point,
        Spot(
            "foot of the actuator",
            x_key("foot of the actuator", (0.3, 0.7), "over the middle of the opening"),
            z_key("height of the actuator's foot", (-0.3, -0.05), "inside the ring"),
        ),
    ]
    head_on: Annotated[
        HeadBody,
        Choice(
            "what its head is bolted to",
            unknown="shell",
            unknown_reason="usual",
            default="shell",
            default_reason="usual",
        ),
    ]
    head: Annotated[
        Point,
        Spot(
            "head of the actuator",
            x_key("head of the actuator", (0.3, 0.7), "over the middle of the opening"),
            z_key("height of the actuator's head", (0.0, 0.2), "inside the shell"),
        ),
    ]
    force: Annotated[
        Uncertain, force_limit("push of one at full load", (500.0, 2500.0), "common ones", "its label says it")
    ]
    holds: Annotated[
        Uncertain,
        force_limit("load that one holds without current", (500.0, 3000.0), "common ones", "its label says it"),
    ]
    stroke: Annotated[
        Uncertain,
        length_key("how far it extends", 0.02, 2.0, (0.2, 0.6), "common ones", "unknown", "its label says it"),
    ]
    shortest: Annotated[
        Uncertain,
        length_key(
            "length between its ends when drawn in",
            0.05,
            2.5,
            (0.3, 0.75),
            "stroke and some more",
            "unknown",
            "its label says it",
        ),
    ]
    rod: Annotated[
        Uncertain, length_key("diameter of its rod", 0.004, 0.06, (0.012, 0.025), "common ones", "16 .. 22 mm, assumed")
    ]
    speed: Annotated[
        Uncertain,
        Key(
            Dimension.SPEED,
            0.001,
            0.2,
            "how fast it extends at full load",
            unknown=(0.005, 0.03),
            unknown_reason="from strong and slow to quick ones",
            default="unknown",
            default_reason="its label says it",
        ),
    ]
    amps: Annotated[
        Uncertain,
        plain(
            "current of one at full load, in amperes",
            0.2,
            60.0,
            (3.0, 12.0),
            "common ones",
            "unknown",
            "its label says it",
        ),
    ]
    idle: Annotated[
        Uncertain,
        plain("current of one without load, in amperes", 0.05, 20.0, (0.5, 2.0), "common ones", "0.5 .. 2, assumed"),
    ]
    volts: Annotated[
        Uncertain, plain("voltage of its supply, in volts", 6.0, 60.0, (11.0, 14.0), "a car battery", "12")
    ]
    seconds: Annotated[
        Uncertain,
        Key(
            Dimension.TIME,
            2.0,
            600.0,
            "how long opening may take",
            unknown=(15.0, 60.0),
            unknown_reason="judgement",
            default="60 s",
            default_reason="judgement: who stands in the rain",
        ),
    ]
    pinch: Annotated[
        Uncertain,
        force_limit(
            "force at the lip at which it must have stopped",
            (50.0, 150.0),
            "judgement: from a child's hand to a grown person's arm",
            "what a rule for powered roof panels of new cars allows",
            "100 N",
        ),
    ]
    cut_off: Annotated[
        bool, YesNo("whether a current limit stops it when something is in the way", False, "few come with one")
    ]
    by_hand: Annotated[
        bool, YesNo("whether it can be undone or cranked by hand without current", False, "to be thought of before")
    ]


class Lining(Section):
    """What lines the shell inside, and its lamps."""

    insulation: Annotated[
        Uncertain,
        length_key("thickness of the insulation", 0.0, 0.15, (0.0, 0.04), "from none to thick foam", "20 mm, assumed"),
    ]
    board: Annotated[
        Uncertain,
        length_key(
            "thickness of the inner board or felt", 0.0, 0.03, (0.0, 0.006), "from none to plywood", "3 mm, assumed"
        ),
    ]
    density: Annotated[
        Uncertain,
        Key(
            Dimension.DENSITY,
            5.0,
            300.0,
            "weight of the insulation by volume",
            unknown=(20.0, 60.0),
            unknown_reason="common foams",
            default="30 .. 45 kg/m3, assumed",
            default_reason="common foams",
        ),
    ]
    board_mass: Annotated[
        Uncertain,
        Key(
            Dimension.AREAL_MASS,
            0.0,
            15.0,
            "weight of the inner board with its cover, per area",
            unknown=(0.5, 3.0),
            unknown_reason="from felt to covered plywood",
            default="1 .. 2.5 kg/m2, assumed",
            default_reason="from felt to covered plywood",
        ),
    ]
    conductivity: Annotated[
        Uncertain,
        plain(
            "heat that goes through the insulation, in watts for each metre and kelvin",
            0.015,
            0.2,
            (0.025, 0.045),
            "common foams",
            "0.03 .. 0.04, assumed",
        ),
    ]
    lights: Annotated[
        Uncertain,
        plain("power of all lamps, in watts", 0.0, 200.0, (2.0, 15.0), "strips and spots", "5 .. 10, assumed"),
    ]
    there: Annotated[
        bool, YesNo("whether the shell was weighed with it, so that it adds nothing", False, "it comes last")
    ]


class SealStrip(Section):
    """The seal that is bought: a sample of it weighed, and how tight a corner it goes round."""

    bend: Annotated[
        Uncertain,
        length_key(
            "tightest radius round which it lies without a crease",
            0.0,
            0.5,
            (0.03, 0.12),
            "from a foam strip to a large bulb",
            "unknown",
            "lay a sample round cups of smaller and smaller size",
        ),
    ]
    sample: Annotated[
        Uncertain | None,
        length_key(
            "length of a sample that was squeezed on scales; left out: none was",
            0.02,
            1.0,
            (0.1, 0.3),
            "a hand's length",
        ),
    ] = None
    height: Annotated[
        Uncertain | None,
        length_key(
            "height of that sample, free; left out: none was squeezed", 0.002, 0.12, (0.008, 0.03), "common seals"
        ),
    ] = None
    squeezed: Annotated[
        Uncertain | None,
        length_key("height to which it was squeezed; left out: none was", 0.001, 0.1, (0.004, 0.02), "common seals"),
    ] = None
    pressed: Annotated[
        Uncertain | None,
        Key(
            Dimension.FORCE,
            0.1,
            2000.0,
            "what the scales read then; left out: none was squeezed",
            unknown=(2.0, 40.0),
            unknown_reason="from foam to a stiff bulb",
        ),
    ] = None


class Standing(Section):
    """Room to stand and to move."""

    height: Annotated[
        Uncertain,
        length_key(
            "height for which the floor area is wanted; left out: the tallest person's and an inch",
            0.8,
            2.4,
            (1.6, 1.95),
            "people's heights",
            "1.80 m, assumed",
            "most people",
        ),
    ]
    area: Annotated[
        Uncertain,
        Key(
            Dimension.AREA,
            0.0,
            6.0,
            "floor on which one wants to stand upright",
            unknown=(0.3, 1.0),
            unknown_reason="from a place to dress to a walk",
            default="0.4 m2",
            default_reason="judgement: enough to dress",
        ),
    ]
