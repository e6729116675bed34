"""Sections on what must hold: wind and cloth, the hinges' own strength, the brace, the latches, the road."""

from __future__ import annotations

from typing import Annotated

from loftwright.core.choices import BodyName, BraceKind, MetalName
from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension
from loftwright.project.keys import Choice, Count, Key, Section, YesNo

KMH = 1 / 3.6


def force_limit(meaning: str, unknown: tuple[float, float], reason: str, how: str, default: str = "unknown") -> Key:
    """Return what is said of a force that a part bears [N]."""
    return Key(
        Dimension.FORCE,
        5.0,
        50_000.0,
        meaning,
        unknown=unknown,
        unknown_reason=reason,
        default=default,
        default_reason=how,
    )


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


def _offset(meaning: str, low: float, high: float, unknown: tuple[float, float], reason: str, default: str) -> Key:
    return Key(
        Dimension.LENGTH,
        low,
        high,
        meaning,
        unknown=unknown,
        unknown_reason=reason,
        default=default,
        default_reason=reason,
    )


class Brace(Section):
    """What keeps the free end from swaying."""

    kind: Annotated[
        BraceKind,
        Choice(
            "bar: across the free end, one end sliding in a track; straps: two crossed; arm: folding in the middle",
            unknown="bar",
            unknown_reason="the usual one",
        ),
    ]
    pivots_on: Annotated[
        BodyName,
        Choice(
            "which part carries the bar's pivot; the track is on the other",
            unknown="shell",
            unknown_reason="the bar then lies under the shell",
            default="shell",
            default_reason="the bar then lies under the shell",
        ),
    ]
    inset: Annotated[
        Uncertain,
        _offset(
            "distance of the brace from the lip towards the hinge",
            0.0,
            2.0,
            (0.02, 0.15),
            "close to the free end",
            "60 mm, assumed",
        ),
    ]
    pivot: Annotated[
        Uncertain,
        _offset(
            "distance of the pivot, or of a strap's upper end, from the middle line",
            0.0,
            1.3,
            (0.4, 0.65),
            "near the side of the shell",
            "0.5 m, assumed",
        ),
    ]
    pivot_height: Annotated[
        Uncertain,
        _offset(
            "height of the pivot above the rim, on the shell, or above the roof, on the van",
            -0.3,
            0.5,
            (0.0, 0.08),
            "just inside the shell or the ring",
            "30 mm, assumed",
        ),
    ]
    foot_height: Annotated[
        Uncertain,
        _offset(
            "height above the roof of the track or of the lower ends of straps or arm; above the rim where the pivot "
            "is on the van",
            -0.3,
            0.5,
            (-0.05, 0.02),
            "on the ring",
            "-20 mm, assumed",
        ),
    ]
    track_from: Annotated[
        Uncertain,
        _offset(
            "start of the track, or the straps' or arm's lower end, as distance beyond the middle line on the other "
            "side from the pivot; negative: on the pivot's side",
            -1.3,
            1.3,
            (-0.2, 0.5),
            "anywhere across the free end",
            "0.05 m, assumed",
        ),
    ]
    track_to: Annotated[
        Uncertain,
        _offset(
            "end of the track, counted the same way; for straps and arm the same as its start",
            -1.3,
            1.3,
            (0.3, 0.65),
            "near the other side",
            "0.6 m, assumed",
        ),
    ]
    length: Annotated[
        Uncertain,
        _offset(
            "length between the ends of the bar, the stretched arm or a strap",
            0.1,
            3.0,
            (0.6, 1.2),
            "as long as the free end is wide",
            "1.05 m, assumed",
        ),
    ]
    metal: Annotated[
        MetalName,
        Choice("what it is made of", "steel", "the usual bar", default="steel", default_reason="the usual bar"),
    ]
    size: Annotated[
        Uncertain,
        _offset(
            "outer width of the bar's square tube, or of a strap",
            0.003,
            0.12,
            (0.012, 0.03),
            "common bars",
            "20 mm, assumed",
        ),
    ]
    wall: Annotated[
        Uncertain,
        _offset(
            "wall of the bar's tube, or thickness of a strap", 0.0005, 0.02, (0.001, 0.003), "common bars", "1.5 mm"
        ),
    ]
    play: Annotated[
        Uncertain,
        _offset(
            "play at both ends of the brace together, along it",
            0.0,
            0.03,
            (0.0005, 0.004),
            "from reamed pins to a loose track",
            "0.5 .. 2 mm, assumed",
        ),
    ]
    limit: Annotated[
        Uncertain,
        force_limit(
            "force along the brace that its end fittings bear",
            (400.0, 3000.0),
            "judgement: from a riveted tab to a bolted fork",
            "its label says it, or judge its bolts as a joint",
        ),
    ]


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
        _offset(
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
        _offset(
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
        _offset("wall of that tube", 0.0005, 0.02, (0.001, 0.003), "common tubes", "2 mm, assumed"),
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
        _offset(
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
