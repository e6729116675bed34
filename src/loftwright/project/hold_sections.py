"""Sections on what must hold: wind and cloth, the hinges' own strength."""

from __future__ import annotations

from typing import Annotated

from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension
from loftwright.project.keys import Key, Section, YesNo, force_limit


class Wind(Section):
    """What the raised roof must stand, and the cloth that stands in the wind with it."""

    gust: Annotated[
        Uncertain,
        Key(
            Dimension.SPEED,
            2.0,
            45.0,
            "gust at roof height in which the raised roof must stand, from any side",
            unknown=(12.0, 20.0),
            unknown_reason="from a fresh breeze with its gusts to a near gale",
            default="18 m/s",
            default_reason="common practice, no source: well braced roofs stand still up to about here",
        ),
    ]
    coefficient: Annotated[
        Uncertain,
        Key(
            Dimension.PLAIN,
            0.3,
            3.0,
            "real wind force over the one from tables for buildings",
            unknown=(0.7, 1.5),
            unknown_reason="no table is made for a van",
            default="0.8 .. 1.3, assumed",
            default_reason="judgement: tables for buildings, a van between other vans",
        ),
    ]
    window_open: Annotated[
        bool, YesNo("whether a window of the cloth may stand open in a gust", True, "the harder case")
    ]
    cloth_share: Annotated[
        Uncertain,
        Key(
            Dimension.PERCENT,
            0.0,
            1.0,
            "part of the wind on the cloth that its upper edge takes to the shell; the rest goes into the ring",
            unknown=(0.4, 0.6),
            unknown_reason="half, if the cloth hangs evenly",
            default="40 .. 60 %, assumed",
            default_reason="half, if the cloth hangs evenly",
        ),
    ]
    sway_limit: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.002,
            0.3,
            "how far the free end may sway sideways in that gust",
            unknown=(0.02, 0.05),
            unknown_reason="judgement: what sleepers put up with",
            default="30 mm",
            default_reason="judgement: more pulls at staples and seams",
        ),
    ]
    cloth_strength: Annotated[
        Uncertain,
        Key(
            Dimension.LINE_FORCE,
            500.0,
            200_000.0,
            "strength of the cloth as a strip, per width",
            unknown=(8_000.0, 30_000.0),
            unknown_reason="judgement: from light cotton canvas to coated polyester",
            default="unknown",
            default_reason="its label says it, often for a strip of 50 mm",
        ),
    ]
    cloth_stretch: Annotated[
        Uncertain,
        Key(
            Dimension.LINE_FORCE,
            5_000.0,
            5_000_000.0,
            "pull per width that would double the cloth's length at its first rate",
            unknown=(50_000.0, 400_000.0),
            unknown_reason="judgement: from canvas to coated polyester",
            default="unknown",
            default_reason="hang a weight on a strip and measure how much longer it grows",
        ),
    ]
    cloth_sag: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.0,
            0.15,
            "how far the middle of a cloth wall can be pushed out of its plane with a finger",
            unknown=(0.005, 0.04),
            unknown_reason="from drum-tight to easy",
            default="unknown",
            default_reason="push the raised wall's middle with a finger beside a rule",
        ),
    ]
    seam_share: Annotated[
        Uncertain,
        Key(
            Dimension.PERCENT,
            0.1,
            1.0,
            "strength of a sewn seam over that of the cloth",
            unknown=(0.5, 0.85),
            unknown_reason="common practice, no source: one row to two rows with strong thread",
            default="50 .. 85 %, assumed",
            default_reason="common practice, no source",
        ),
    ]
    staple_pitch: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.005,
            0.3,
            "distance between staples or screws along the cloth's edge",
            unknown=(0.015, 0.04),
            unknown_reason="from close to wide stapling",
            default="20 mm",
            default_reason="common practice, no source",
        ),
    ]
    staple_limit: Annotated[
        Uncertain,
        force_limit(
            "pull at which one staple or screw of the cloth's edge comes out",
            (30.0, 150.0),
            "judgement: from softwood to hardwood or plastic strip",
            "pull a stapled scrap off the strip with a luggage scale",
        ),
    ]
    window_strength: Annotated[
        Uncertain | None,
        Key(
            Dimension.LINE_FORCE,
            200.0,
            100_000.0,
            "strength of the clear sheet of windows, per width; left out: no such window",
            unknown=(4_000.0, 12_000.0),
            unknown_reason="judgement: clear sheet of 0.3 to 0.8 mm",
        ),
    ] = None
    screw_pitch: Annotated[
        Uncertain | None,
        Key(
            Dimension.LENGTH,
            0.02,
            1.0,
            "distance between the screws that hold the cloth's strip to ring and shell; left out: no strip on screws",
            unknown=(0.1, 0.3),
            unknown_reason="common practice, no source: from close to wide",
        ),
    ] = None
    screw_limit: Annotated[
        Uncertain | None,
        Key(
            Dimension.FORCE,
            5.0,
            50_000.0,
            "pull at which one screw of the strip gives way; left out: the strip's screws are not judged",
            unknown=(200.0, 1500.0),
            unknown_reason="judgement: from a short screw in thin plywood to one through metal",
        ),
    ] = None
    cloth_steadies: Annotated[
        bool,
        YesNo(
            "whether the taut cloth may be counted on to steady the roof",
            False,
            "on the safe side: cloth slackens with rain and age",
        ),
    ]


class HingeParts(Section):
    """What the hinges, or the pins of the arms, bear, and how stiff they are upright and turning."""

    upright: Annotated[
        Uncertain,
        Key(
            Dimension.STIFFNESS,
            1.0e3,
            1.0e8,
            "stiffness of one hinge or arm pin up and down and fore and aft where it is bolted on",
            unknown=(5.0e4, 3.0e6),
            unknown_reason="judgement: from a plate on thin sheet to one on a frame",
            default="unknown",
            default_reason="hang a known weight from it and measure the give",
        ),
    ]
    turning: Annotated[
        Uncertain,
        Key(
            Dimension.MOMENT,
            0.1,
            5000.0,
            "moment that turns one hinge or arm by one degree about the upright and the lengthwise axis",
            unknown=(2.0, 60.0),
            unknown_reason="from a narrow leaf to a wide plate on a frame",
            default="unknown",
            default_reason="clamp a lath to the hinge, hang a weight from its end and measure the turn",
        ),
    ]
    pull_limit: Annotated[
        Uncertain,
        force_limit(
            "force that one hinge or arm pin bears in any direction",
            (800.0, 6000.0),
            "judgement: from a cabinet hinge to a bolted block",
            "its label says it; bolts and sheet are judged apart",
        ),
    ]
    moment_limit: Annotated[
        Uncertain,
        Key(
            Dimension.MOMENT,
            1.0,
            5000.0,
            "moment that one hinge or arm bears about the upright and the lengthwise axis",
            unknown=(20.0, 250.0),
            unknown_reason="judgement: from a thin leaf to a wide bolted block",
            default="unknown",
            default_reason="width of the plate times what one of its bolts bears",
        ),
    ]
