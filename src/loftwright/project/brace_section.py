"""The brace across the free end of the open roof: its section of the file."""

from __future__ import annotations

from typing import Annotated

from loftwright.core.choices import BodyName, BraceKind, MetalName
from loftwright.core.uncertain import Uncertain
from loftwright.project.keys import Choice, Section, force_limit, offset


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
        offset(
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
        offset(
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
        offset(
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
        offset(
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
        offset(
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
        offset(
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
        offset(
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
        offset(
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
        offset(
            "wall of the bar's tube, or thickness of a strap", 0.0005, 0.02, (0.001, 0.003), "common bars", "1.5 mm"
        ),
    ]
    play: Annotated[
        Uncertain,
        offset(
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
