"""Sections on the two lines along which the cloth walls are fastened, and on where their panels are sewn together."""

from __future__ import annotations

from typing import Annotated

from loftwright.core.choices import SeamRule
from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension
from loftwright.project.body_sections import length_key
from loftwright.project.keys import Choice, Key, Section, YesNo, offset


class Walls(Section):
    """The cloth's lower line on the ring and its upper line in the shell, and how the panels meet."""

    lower_outset: Annotated[
        Uncertain,
        offset(
            "how far outside the opening's edge the lower line runs, all round; negative is inside",
            -0.1,
            0.2,
            (0.0, 0.03),
            "from the cut edge to the outer face of a ring",
            "0 .. 15 mm, assumed",
        ),
    ]
    lower_height: Annotated[
        Uncertain,
        offset(
            "height of the lower line above the roof's skin beside it",
            0.0,
            0.3,
            (0.015, 0.05),
            "along the upper part of an upstand",
            "25 mm, assumed",
        ),
    ]
    lower_radius: Annotated[
        Uncertain | None,
        length_key(
            "corner radius of the lower line; left out: that of the cut and the outset",
            0.0,
            0.8,
            (0.03, 0.2),
            "from a hole saw's corner to a well rounded one",
        ),
    ] = None
    upper_inset: Annotated[
        Uncertain,
        offset(
            "how far inside the shell's rim the upper line runs, all round; negative is outside",
            -0.1,
            0.4,
            (0.01, 0.08),
            "from a strip along the rim to a batten inside the shell",
            "20 .. 50 mm, assumed",
        ),
    ]
    upper_height: Annotated[
        Uncertain,
        offset(
            "height of the upper line above the plane of the shell's rim",
            -0.05,
            0.4,
            (0.0, 0.06),
            "from the rim's edge to a batten inside the shell",
            "0 .. 40 mm, assumed",
        ),
    ]
    upper_radius: Annotated[
        Uncertain | None,
        length_key(
            "corner radius of the upper line; left out: that of the shell less the inset",
            0.0,
            0.8,
            (0.03, 0.25),
            "from nearly square to well rounded corners",
        ),
    ] = None
    rim_error: Annotated[
        Uncertain,
        length_key(
            "how far off each point of the two lines may lie from where it is written",
            0.0,
            0.03,
            (0.002, 0.006),
            "from a careful tape to a quick one",
            "3 mm, assumed",
            "measured by tape",
        ),
    ]
    error_limit: Annotated[
        Uncertain,
        length_key(
            "how far a panel's outline may be off",
            0.001,
            0.05,
            (0.005, 0.015),
            "judgement: from what shows in taut canvas to what an easy wall hides",
            "10 mm",
            "judgement: more shows as a wrinkle",
        ),
    ]
    seams: Annotated[
        SeamRule,
        Choice(
            "where the panels are sewn together",
            "past the corner",
            "keeps the seams' bulk out of the crowded corners",
            default="past the corner",
            default_reason="keeps the seams' bulk out of the crowded corners",
        ),
    ]
    seam_past: Annotated[
        Uncertain,
        length_key(
            "how far past the end of a corner's curve a seam runs, along the sides",
            0.0,
            0.6,
            (0.06, 0.1),
            "common practice, no source",
            "80 mm",
            "common practice, no source",
        ),
    ]
    split_sides: Annotated[bool, YesNo("whether each side wall is made of two halves", False, "fewer seams leak less")]
    ease: Annotated[
        Uncertain,
        length_key(
            "how much higher the cloth is cut than the gap between its lines",
            -0.03,
            0.1,
            (0.004, 0.012),
            "from drum-tight to easy",
            "8 mm",
            "judgement: springs and stop stay free of the cloth",
        ),
    ]


def _place(meaning: str, low: float, high: float, unknown: tuple[float, float], reason: str) -> Key:
    return Key(Dimension.LENGTH, low, high, meaning, unknown=unknown, unknown_reason=reason)


class LowerPoint(Section):
    """One measured point of the cloth's lower line."""

    x: Annotated[
        Uncertain,
        _place("distance from the rear edge of the opening towards the cab", -1.0, 6.0, (0.0, 2.0), "along the roof"),
    ]
    y: Annotated[Uncertain, _place("distance from the middle line, left is positive", -1.5, 1.5, (-0.6, 0.6), "across")]
    z: Annotated[Uncertain, _place("height above the roof at the origin", -0.3, 0.4, (-0.01, 0.05), "along an upstand")]


class UpperPoint(Section):
    """One measured point of the cloth's upper line, for the closed shell."""

    x: Annotated[
        Uncertain,
        _place("distance from the rear edge of the opening towards the cab", -1.0, 6.0, (0.0, 2.0), "along the shell"),
    ]
    y: Annotated[Uncertain, _place("distance from the middle line, left is positive", -1.5, 1.5, (-0.6, 0.6), "across")]
    z: Annotated[
        Uncertain, _place("height above the roof at the origin", -0.3, 0.6, (0.01, 0.08), "inside the shell's rim")
    ]


class SeamAt(Section):
    """One seam at a place of its own; where any is written, seams are where these stand."""

    at: Annotated[
        Uncertain,
        length_key(
            "where it stands: distance along the lower line from the middle of the rear end, over the right side",
            0.0,
            20.0,
            (0.0, 6.0),
            "anywhere round the opening",
        ),
    ]
