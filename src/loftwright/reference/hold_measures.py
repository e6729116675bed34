"""How the keys on fit, wind, road, opening and joints are found out, and how many minutes that takes."""

from __future__ import annotations

from typing import Final

_RIM: Final = (
    "Measure the rim's shape",
    30,
    "Lay the shell rim down on a flat floor. Feel with wedges for the gaps under the middle of each end and side and "
    "under the corner that does not touch.",
)
_SEAL: Final = (
    "Squeeze a piece of seal",
    10,
    "Measure its height free and squeezed in a vice between two boards until it grows hard.",
)
_PULL: Final = (
    "Find out what the fitting bears",
    10,
    "Read its label or ask who sells it; else take the weakest of its bolts, tabs and welds.",
)
_GIVE: Final = (
    "Measure the give of a hinge",
    20,
    "Hang a known weight from it and read a rule against a fixed point; the same sideways over a pulley.",
)
_BODY: Final = ("Measure the van's roof", 15, "Tape along and across the roof and down its side to the ground.")
_CLOTH: Final = (
    "Test a strip of the cloth",
    20,
    "Cut a strip 50 mm wide, hang weights from it by a roller, note how much longer it grows and where it tears.",
)
_DOOR: Final = (
    "Measure the door's diagonals on a kerb",
    20,
    "One wheel on a kerb, door open: both diagonals of the doorway by tape; the same on level ground.",
)
_LATCH: Final = ("Measure a latch", 10, "Close it over a luggage scale; hang a known weight from it and read its give.")
_STRIP: Final = (
    "Look at the strip's screws",
    10,
    "Tape between two screws; pull one that is set in an offcut of the same stuff with a luggage scale.",
)
_BEND: Final = (
    "Bend the shell with a known weight",
    30,
    "Lay it on two battens across, near its ends, and stretch a string over both. Read its middle against the string, "
    "lay a known weight on a third batten across the middle, and read again. The difference counts, at least 10 mm if "
    "it can be.",
)
_TWIST: Final = (
    "Twist the shell with a known weight",
    30,
    "Lay three corners on blocks and hold down the corner opposite to the free one. Read the free corner's height by "
    "tape, hang a known weight from it, and read again. The difference counts, at least 10 mm if it can be.",
)
_BOW: Final = ("Look at the bows", 20, "Take the lining down and measure depth, width and sheet of each bow.")

HOLD_MEASURES: Final[dict[str, tuple[str, int, str]]] = {
    **dict.fromkeys(
        (
            *(f"fit.{key}" for key in ("rim_front", "rim_rear", "rim_sides", "rim_twist", "corner_radius")),
            *(f"candidate.{key}" for key in ("rim_front", "rim_rear", "rim_sides", "rim_twist", "length", "width")),
            "rim_point.gap",
        ),
        _RIM,
    ),
    **dict.fromkeys(("fit.seal_least", "fit.seal_most"), _SEAL),
    "fit.axis_height": (
        "Measure the hinge",
        5,
        "Lay the hinge on a table and measure from the table to the middle of its pin.",
    ),
    "roof_point.height": (
        "Measure the roof's heights",
        30,
        "Straightedge across, string along; note the gap at each marked place.",
    ),
    **dict.fromkeys(("hinges.pull_limit", "hinges.moment_limit", "latches.limit", "brace.limit"), _PULL),
    **dict.fromkeys(("hinges.upright", "hinges.turning", "linkage.plate_stiffness"), _GIVE),
    **dict.fromkeys(("latches.preload", "latches.stiffness", "latches.spread", "latches.catch_width"), _LATCH),
    **dict.fromkeys(
        (f"body.{key}" for key in ("roof_length", "roof_width", "rear_edge", "height", "track", "side_area")), _BODY
    ),
    **dict.fromkeys(("wind.screw_pitch", "wind.screw_limit"), _STRIP),
    **dict.fromkeys((f"shell.{key}" for key in ("bend_weight", "bend_span", "bend_sinks")), _BEND),
    **dict.fromkeys((f"shell.{key}" for key in ("twist_weight", "twist_sinks")), _TWIST),
    "body.gross_mass": ("Read the van's plate", 5, "The greatest mass allowed, on the plate or in the papers."),
    "body.mass": ("Weigh the van", 60, "A weighbridge; full tank, usual load."),
    "body.skin": ("Measure the skin", 10, "Calipers on the first piece that a hole saw takes out."),
    "body.edge_dip": (
        "Stand 20 kg beside the planned cut",
        10,
        "Before the cut: on a board of a hand's size, on the line of the cut beside the middle of a long side, between "
        "two bows. Read the dip from a straightedge laid from rail to rail.",
    ),
    "body.bow_dip": (
        "Stand 20 kg over a bow",
        10,
        "Before the cut: over the middle of the whole bow next to the opening's front or rear edge. Read the dip from "
        "a straightedge laid from rail to rail.",
    ),
    **dict.fromkeys(("wind.cloth_strength", "wind.cloth_stretch", "wind.window_strength"), _CLOTH),
    "wind.cloth_sag": ("Push a wall with a finger", 5, "Roof raised: push the middle of a wall and read a rule."),
    "wind.staple_limit": ("Pull a staple", 10, "Staple a scrap to the strip and pull it off with a luggage scale."),
    **dict.fromkeys(("cut.door_before", "cut.door_cut", "cut.door_ring"), _DOOR),
    **dict.fromkeys(("bow.depth", "bow.width", "bow.sheet", "bow.at"), _BOW),
    "road.under": (
        "Look at the seal's front",
        15,
        "Shut a strip of paper in the seal along the front: where it pulls out easily, air gets in.",
    ),
}
"""How a key is found out: what to do, minutes, how."""
