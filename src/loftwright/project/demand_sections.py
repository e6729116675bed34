"""Sections on what the roof must stand and what is asked of it: temperatures, other forces, requirements."""

from __future__ import annotations

import math
from typing import Annotated

from loftwright.core.uncertain import Uncertain
from loftwright.core.units import STANDARD_GRAVITY, Dimension
from loftwright.project.keys import Key, Section, YesNo

_DEG = math.pi / 180.0
_ZERO_C = 273.15


def _c(celsius: float) -> float:
    return celsius + _ZERO_C


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


def _limit(
    meaning: str,
    unknown_kg: tuple[float, float],
    unknown_reason: str,
    default: str | None,
    reason: str,
    same_as: str = "",
) -> Key:
    """Return what is said of a force of the hand; `unknown_kg` is in kilograms as scales read them."""
    return Key(
        Dimension.FORCE,
        0.0,
        600.0,
        meaning,
        unknown=(unknown_kg[0] * STANDARD_GRAVITY, unknown_kg[1] * STANDARD_GRAVITY),
        unknown_reason=unknown_reason,
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
            (10.0, 20.0),
            "judgement: from a light person bent under a low roof to a strong one driving from the legs",
            None,
            "what the person pushes",
            "person.push_limit",
        ),
    ]
    push_on_the_way: Annotated[
        Uncertain,
        _limit(
            "greatest push up at the handle further on",
            (5.0, 11.0),
            "judgement: from a light person's stretched arms to a strong one's",
            "8 kg",
            "judgement: arms above the shoulders are weaker",
        ),
    ]
    pull_to_start_down: Annotated[
        Uncertain,
        _limit(
            "greatest pull down at the handle to bring the roof down in the warmest air",
            (10.0, 20.0),
            "judgement: a quarter of the weight of a person of 40 kg to that of one of 80 kg",
            "15 kg",
            "judgement: hanging on a strap with part of one's weight",
        ),
    ]
    pull_after_hot: Annotated[
        Uncertain,
        _limit(
            "greatest pull down straight after a hot opening",
            (15.0, 32.0),
            "judgement: from no more than on any day to two fifths of the weight of a person of 80 kg",
            "25 kg",
            "judgement: rare, and waiting half an hour helps",
        ),
    ]
    pull_to_latch: Annotated[
        Uncertain,
        _limit(
            "greatest pull down at the handle to squeeze the roof shut onto its latches in the warmest air",
            (15.0, 30.0),
            "judgement: from what a light person hangs on a strap to what two people do",
            "20 kg",
            "judgement: a short hard pull, hanging on a strap",
        ),
    ]
    stays_shut_margin: Annotated[
        Uncertain,
        _limit(
            "push up at the handle that a closed, unlatched roof must still need",
            (1.0, 3.0),
            "judgement: from a roof that is always latched to one that is left unlatched",
            "20 N",
            "judgement: it must not rise by itself on a hot day",
        ),
    ]
    stays_up_margin: Annotated[
        Uncertain,
        _limit(
            "pull down at the handle that an open roof must still need",
            (1.0, 3.0),
            "judgement: from a roof that nobody touches to one that heads and elbows knock against",
            "20 N",
            "judgement: a bump or a hand must not start it down",
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
            unknown_reason="judgement: from hardly pushed to pushed most of the way",
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
