"""What holds the closed roof on the road, and the road: these sections of the file."""

from __future__ import annotations

from typing import Annotated

from loftwright.core.choices import MetalName
from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension
from loftwright.project.keys import Choice, Count, Key, Section, YesNo, force_limit, offset

KMH = 1 / 3.6


class Latches(Section):
    """What holds the closed shell down: latches and their bar, solid stops, a catch."""

    count: Annotated[int, Count("how many latches hold the lip", 1, 6, default=2, default_reason="one a side")]
    spread: Annotated[
        Uncertain,
        Key(
            Dimension.LENGTH,
            0.0,
            2.4,
            "distance between the outer latches",
            unknown=(0.5, 0.9),
            unknown_reason="near the corners of the lip",
            per="opening.width",
            default="unknown",
            default_reason="measure it across the lip",
        ),
    ]
    inset: Annotated[
        Uncertain,
        offset(
            "distance of the latches from the lip towards the hinge",
            0.0,
            2.0,
            (0.0, 0.12),
            "near the lip",
            "50 mm, assumed",
        ),
    ]
    stiffness: Annotated[
        Uncertain,
        Key(
            Dimension.STIFFNESS,
            1.0e3,
            1.0e8,
            "stiffness of one latch with what it is bolted to",
            unknown=(1.0e5, 2.0e6),
            unknown_reason="from a spring catch to a clamped hook on a frame",
            default="unknown",
            default_reason="pull it with a known weight and measure the give",
        ),
    ]
    limit: Annotated[
        Uncertain,
        force_limit(
            "pull that one latch bears",
            (300.0, 3000.0),
            "judgement: from a toggle of sheet to a forged hook",
            "its label says it",
        ),
    ]
    preload: Annotated[
        Uncertain,
        force_limit(
            "pull with which one closed latch holds the shell on its stops",
            (50.0, 400.0),
            "from hand-tight to a hard toggle",
            "close it over a luggage scale",
        ),
    ]
    bar_size: Annotated[
        Uncertain,
        offset(
            "height and width of the square tube across the lip that carries the latches",
            0.003,
            0.12,
            (0.015, 0.04),
            "common tubes, or a stiffened rim",
            "25 mm, assumed",
        ),
    ]
    bar_wall: Annotated[
        Uncertain,
        offset("wall of that tube", 0.0005, 0.02, (0.001, 0.003), "common tubes", "2 mm, assumed"),
    ]
    bar_metal: Annotated[
        MetalName,
        Choice(
            "what that tube is made of",
            "aluminium",
            "the usual bar",
            default="aluminium",
            default_reason="the usual bar",
        ),
    ]
    stops: Annotated[
        bool,
        YesNo(
            "whether solid stops take the latches' pull before the seal is squeezed out",
            False,
            "stops are often forgotten",
        ),
    ]
    catch_width: Annotated[
        Uncertain,
        offset(
            "how far to each side the shell may lie and the latch still catches",
            0.0005,
            0.1,
            (0.003, 0.015),
            "from a snug keeper to a wide one",
            "3 .. 15 mm, assumed",
        ),
    ]
    catch: Annotated[
        bool,
        YesNo(
            "whether a safety catch of its own holds the shell when the latches fail", False, "none is the worse case"
        ),
    ]
    catch_limit: Annotated[
        Uncertain | None,
        Key(
            Dimension.FORCE,
            5.0,
            50_000.0,
            "pull that the safety catch bears; left out: as one latch",
            unknown=(300.0, 3000.0),
            unknown_reason="judgement: from a webbing loop on a screw to a bolted one",
        ),
    ] = None


class Road(Section):
    """What the closed roof meets on the road."""

    speed: Annotated[
        Uncertain,
        Key(
            Dimension.SPEED,
            30 * KMH,
            200 * KMH,
            "fastest speed of the van",
            unknown=(100 * KMH, 130 * KMH),
            unknown_reason="from country roads to fast ones",
            default="110 km/h",
            default_reason="judgement: a loaded van on a fast road",
        ),
    ]
    head_wind: Annotated[
        Uncertain,
        Key(
            Dimension.SPEED,
            0.0,
            35.0,
            "head wind, gusts and lorries in the way that come on top",
            unknown=(5.0, 15.0),
            unknown_reason="from a breeze to a windy day behind lorries",
            default="10 m/s",
            default_reason="judgement: a windy day",
        ),
    ]
    suction: Annotated[
        Uncertain,
        Key(
            Dimension.PLAIN,
            0.05,
            2.5,
            "mean suction over the closed shell's top, in shares of the ram pressure",
            unknown=(0.3, 0.9),
            unknown_reason="no published figure for a shell on a van's roof",
            default="0.3 .. 0.9, assumed",
            default_reason="judgement: no published figure for a shell on a van's roof",
        ),
    ]
    drag: Annotated[
        Uncertain,
        Key(
            Dimension.PLAIN,
            0.1,
            2.5,
            "drag of the shell's front face, in shares of the ram pressure",
            unknown=(0.6, 1.2),
            unknown_reason="from a sloped face to a blunt one",
            default="0.6 .. 1.2, assumed",
            default_reason="from a sloped face to a blunt one",
        ),
    ]
    under: Annotated[
        Uncertain,
        Key(
            Dimension.PERCENT,
            0.0,
            1.0,
            "part of the ram pressure that gets under the shell at its front and pushes it up",
            unknown=(0.0, 0.5),
            unknown_reason="from a tight seal to a gap at the front",
            default="unknown",
            default_reason="feel for air inside at speed along the front of the seal",
        ),
    ]
    bump: Annotated[
        Uncertain,
        Key(
            Dimension.PLAIN,
            0.0,
            6.0,
            "how many times its weight a bad road presses the shell down on top of its weight; up it throws it by as "
            "much, but at most 1.2 times: a van that loses the road only falls",
            unknown=(1.0, 3.0),
            unknown_reason="from a pothole to a bad track",
            default="2",
            default_reason="judgement: a pothole taken fast",
        ),
    ]
