"""Sections on water at the lower edge, warmth, and where the cloth goes when the roof is closed."""

from __future__ import annotations

from typing import Annotated

from loftwright.core.choices import PullKind
from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension
from loftwright.project.body_sections import length_key
from loftwright.project.keys import Choice, Count, Key, Section, YesNo


class Water(Section):
    """What keeps rain out along the lower edge."""

    parked: Annotated[
        Uncertain,
        Key(
            Dimension.ANGLE,
            0.0,
            0.26,
            "how much the parked van may lean, any way",
            unknown=(0.0, 0.0873),
            unknown_reason="from level ground to a sloping meadow",
            default="2 deg",
            default_reason="judgement: more and one rolls out of bed",
        ),
    ]
    splash: Annotated[
        Uncertain,
        length_key(
            "how high drops splash over water that stands or runs on the roof",
            0.0,
            0.1,
            (0.01, 0.03),
            "judgement: from drizzle to a cloudburst on a wet sheet of metal",
            "10 .. 30 mm, assumed",
            "judgement: from drizzle to a cloudburst on a wet sheet of metal",
        ),
    ]
    lap: Annotated[
        Uncertain,
        length_key(
            "how far the cloth hangs on outside below its lower line",
            0.0,
            0.3,
            (0.0, 0.04),
            "from cut flush to a good lap",
            "unknown",
            "decide how far it laps over the upstand",
        ),
    ]
    end_lap: Annotated[
        Uncertain | None,
        length_key(
            "how far two ends of the cloth lap each other; left out: the panels are sewn into one loop",
            0.0,
            0.3,
            (0.0, 0.1),
            "from butted ends to a good lap",
        ),
    ] = None


class Warmth(Section):
    """A cold night."""

    inside: Annotated[
        Uncertain,
        Key(
            Dimension.TEMPERATURE,
            263.15,
            313.15,
            "air inside on a cold night",
            unknown=(283.15, 293.15),
            unknown_reason="from a warm sleeping bag to a heater",
            default="15 C",
            default_reason="judgement",
        ),
    ]
    outside: Annotated[
        Uncertain,
        Key(
            Dimension.TEMPERATURE,
            233.15,
            308.15,
            "air outside on a cold night",
            unknown=(268.15, 283.15),
            unknown_reason="spring and autumn nights",
            default="5 C",
            default_reason="judgement",
        ),
    ]
    humidity: Annotated[
        Uncertain,
        Key(
            Dimension.PERCENT,
            0.05,
            1.0,
            "relative humidity inside, with people asleep",
            unknown=(0.5, 0.9),
            unknown_reason="from a window open to all shut",
            default="60 .. 80 %, assumed",
            default_reason="judgement: people asleep, a window open a little",
        ),
    ]
    heater: Annotated[
        Uncertain | None,
        Key(
            Dimension.PLAIN,
            50.0,
            20_000.0,
            "heat that the heater gives, in watts; left out: no heater",
            unknown=(800.0, 2500.0),
            unknown_reason="from a small gas heater to a diesel one",
        ),
    ] = None


class Stow(Section):
    """Room for the folded cloth, and what draws it in."""

    cavity: Annotated[
        Uncertain,
        length_key(
            "height free for the folded cloth between the ring and the closed shell's inside",
            0.005,
            0.5,
            (0.03, 0.1),
            "from a flat lid to a deep shell",
            "unknown",
            "lay lumps of clay on the ring, close the shell, open it and measure them",
        ),
    ]
    depth: Annotated[
        Uncertain,
        length_key(
            "clear depth inward from the lower line, before bed board, cupboards or lining",
            0.0,
            1.5,
            (0.05, 0.5),
            "from a bed right below to an open middle",
            "unknown",
            "measure inward from the ring at the height of the fold",
        ),
    ]
    drop: Annotated[
        Uncertain,
        length_key(
            "clear depth down below the lower line inside the ring, before bed board or lining",
            0.0,
            1.5,
            (0.02, 0.4),
            "from a lining flush with the ring to an open van",
            "unknown",
            "measure down from the ring",
        ),
    ]
    ledge: Annotated[
        Uncertain,
        length_key(
            "width of the ring's top, inward from the lower line, on which the fold can lie",
            0.0,
            0.4,
            (0.0, 0.06),
            "from a bare edge to a broad ring",
            "0 .. 40 mm, assumed",
            "measure the ring",
        ),
    ]
    bar_in: Annotated[
        Uncertain | None,
        length_key(
            "how far inward of the upper line the latches' bar runs; left out: no bar in the fold's way",
            0.0,
            1.0,
            (0.03, 0.2),
            "near the lip",
        ),
    ] = None
    bar_below: Annotated[
        Uncertain,
        length_key(
            "how far the bar's underside lies below the upper line",
            -0.1,
            0.2,
            (0.0, 0.03),
            "a tube under the shell",
            "10 mm, assumed",
            "a tube under the shell",
        ),
    ]
    pull: Annotated[
        PullKind,
        Choice(
            "what draws the cloth inward as it comes down",
            "none",
            "nothing is there",
            default="none",
            default_reason="nothing is there",
        ),
    ]
    pull_force: Annotated[
        Uncertain,
        Key(
            Dimension.LINE_FORCE,
            0.0,
            50.0,
            "how hard it draws, for each metre of the wall",
            unknown=(0.3, 3.0),
            unknown_reason="from a thin elastic to several cords",
            default="0.5 .. 3 N/m, assumed",
            default_reason="judgement: several short cords to points inboard",
        ),
    ]
    pull_at: Annotated[
        Uncertain,
        Key(
            Dimension.PERCENT,
            0.1,
            0.9,
            "where it draws, as a share of the wall's height",
            unknown=(0.4, 0.6),
            unknown_reason="half-way up",
            default="50 %",
            default_reason="half-way up makes one fold",
        ),
    ]
    hold_middle: Annotated[
        bool,
        YesNo(
            "whether the middle is held near the ring, so that the cloth makes two folds", False, "one fold is easier"
        ),
    ]
    quilted: Annotated[bool, YesNo("whether the layers are sewn together all over", False, "layers slip on each other")]
    friction: Annotated[
        Uncertain,
        Key(
            Dimension.PLAIN,
            0.0,
            1.5,
            "friction of cloth on cloth and lining, as a ratio",
            unknown=(0.2, 0.6),
            unknown_reason="from coated cloth to canvas",
            default="0.2 .. 0.6, assumed",
            default_reason="from coated cloth to canvas",
        ),
    ]
    seconds: Annotated[
        Uncertain,
        Key(
            Dimension.TIME,
            1.0,
            120.0,
            "how long the roof takes to come down",
            unknown=(4.0, 15.0),
            unknown_reason="from dropped to lowered with care",
            default="8 s",
            default_reason="lowered by hand with care",
        ),
    ]
    vent: Annotated[
        Uncertain,
        Key(
            Dimension.AREA,
            0.0,
            4.0,
            "open area through which air leaves while the roof comes down: door, window, vent",
            unknown=(0.0, 1.0),
            unknown_reason="from all shut to a door open",
            default="unknown",
            default_reason="decide which door stands open",
        ),
    ]
    fan: Annotated[
        Uncertain,
        Key(
            Dimension.PLAIN,
            0.0,
            3000.0,
            "air that a roof vent blows out while the roof comes down, in cubic metres an hour",
            unknown=(0.0, 300.0),
            unknown_reason="from none to a strong fan",
            default="0",
            default_reason="no fan runs",
        ),
    ]
    push_limit: Annotated[
        Uncertain,
        Key(
            Dimension.LINE_FORCE,
            0.0,
            200.0,
            "how hard the folded cloth may push the closed shell up, for each metre of the rim",
            unknown=(1.0, 10.0),
            unknown_reason="judgement",
            default="5 N/m",
            default_reason="judgement: 3 kg round the rim, which latches draw down with ease",
        ),
    ]
    starts: Annotated[
        int,
        Count(
            "how many ways of hanging are tried at each place",
            20,
            200,
            default=24,
            default_reason="fewer than 20 cannot tell a habit from a chance",
        ),
    ]
