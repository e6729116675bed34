"""What forms call the keys on fit, wind, road, opening and joints, and how each is found out."""

from __future__ import annotations

from typing import Final

HOLD_WORDS: Final[dict[str, str]] = {
    "fit.rim_front": "rim's front end, middle off a flat floor",
    "fit.rim_rear": "rim's rear end, middle off a flat floor",
    "fit.rim_sides": "rim's long sides, middle off a flat floor",
    "fit.rim_twist": "rim's fourth corner off the floor",
    "fit.corner_radius": "corner radius of the shell",
    "fit.slide": "may be shifted to front or rear by",
    "fit.seal_least": "seal, squeezed as far as it likes",
    "fit.seal_most": "greatest gap that the seal fills",
    "fit.trim_allowance": "may be trimmed off the rim",
    "fit.plate_length": "hinge plate, fore and aft",
    "fit.plate_width": "hinge plate, across",
    "fit.axis_height": "hinge axis above its plate's underside",
    "fit.packer_least": "thinnest edge of a packer",
    "fit.packer": "packers as made, at their middle",
    "roof_point.x": "along the roof",
    "roof_point.y": "left of the middle",
    "roof_point.height": "height above the roof at the origin",
    "rim_point.x": "along the rim",
    "rim_point.y": "left of the middle",
    "rim_point.gap": "gap between floor and rim",
    "candidate.name": "what you call it",
    "candidate.length": "length",
    "candidate.width": "width",
    "candidate.rim_front": "rim's front end, middle off a flat floor",
    "candidate.rim_rear": "rim's rear end, middle off a flat floor",
    "candidate.rim_sides": "rim's long sides, middle off a flat floor",
    "candidate.rim_twist": "rim's fourth corner off the floor",
    "wind.gust": "gust in which it must stand open",
    "wind.coefficient": "real wind force over the tables'",
    "wind.window_open": "may a window stand open in a gust?",
    "wind.cloth_share": "cloth's wind that goes up to the shell",
    "wind.sway_limit": "most sway of the free end",
    "wind.cloth_strength": "strength of the cloth, per width",
    "wind.cloth_stretch": "pull that would double the cloth's length, per width",
    "wind.cloth_sag": "give of a wall's middle under a finger",
    "wind.seam_share": "strength of a seam over the cloth's",
    "wind.staple_pitch": "distance between staples",
    "wind.staple_limit": "pull at which one staple comes out",
    "wind.window_strength": "strength of the windows' clear sheet, per width",
    "hinges.upright": "stiffness of one hinge, up and along",
    "hinges.turning": "moment that turns one hinge by one degree",
    "hinges.pull_limit": "one hinge bears",
    "hinges.moment_limit": "one hinge bears, turning",
    "brace.kind": "kind of brace",
    "brace.pivots_on": "its pivot is on",
    "brace.inset": "from the lip to the brace",
    "brace.pivot": "middle line to the pivot",
    "brace.pivot_height": "height of the pivot",
    "brace.foot_height": "height of the track or lower end",
    "brace.track_from": "middle line to where the track begins",
    "brace.track_to": "middle line to where the track ends",
    "brace.length": "length of bar, strap or stretched arm",
    "brace.metal": "made of",
    "brace.size": "width of tube or strap",
    "brace.wall": "wall of the tube, or strap's thickness",
    "brace.play": "play along it",
    "brace.limit": "end fittings bear",
    "latches.count": "how many latches",
    "latches.spread": "distance between the outer latches",
    "latches.inset": "from the lip to the latches",
    "latches.stiffness": "stiffness of one latch",
    "latches.limit": "one latch bears",
    "latches.preload": "one closed latch pulls",
    "latches.bar_size": "tube across the lip, height and width",
    "latches.bar_wall": "tube across the lip, wall",
    "latches.bar_metal": "tube across the lip is made of",
    "latches.stops": "are there solid stops?",
    "latches.catch_width": "a latch catches sideways within",
    "latches.catch": "is there a safety catch of its own?",
    "latches.catch_limit": "the safety catch bears",
    "road.speed": "fastest speed",
    "road.head_wind": "head wind and lorries on top",
    "road.suction": "suction over the shell, share of ram pressure",
    "road.drag": "drag of its front face, share of ram pressure",
    "road.under": "ram pressure that gets under its front",
    "road.bump": "bad road: throws it by, times its weight",
    "body.skin": "thickness of the roof's skin",
    "body.skin_metal": "roof's skin is made of",
    "body.edge_dip": "roof's dip under 20 kg on the planned cut",
    "body.bow_dip": "roof's dip under 20 kg over a bow",
    "body.roof_length": "length of the whole roof",
    "body.roof_width": "width of the whole roof",
    "body.rear_edge": "roof's rear end to the opening",
    "body.height": "roof above the ground",
    "body.mass": "weight of the van",
    "body.centre_height": "van's centre of mass above the ground",
    "body.track": "between left and right tyres",
    "body.side_area": "area of the van's side",
    "body.roof_load": "roof load that the handbook allows",
    "body.height_limit": "must pass under",
    "body.snow": "snow on the closed roof",
    "body.walked_on": "may someone lean or kneel on it?",
    "bow.at": "along the roof",
    "bow.kept": "does it stay whole?",
    "bow.depth": "depth",
    "bow.width": "width",
    "bow.sheet": "thickness of its sheet",
    "cut.corner_radius": "corner radius of the opening",
    "cut.cables": "cables and pipes on the cut line",
    "cut.air_bags": "air bags along the roof's edges",
    "cut.lining": "linings, belt anchors, speakers",
    "cut.door_before": "door's diagonals differ, before the cut",
    "cut.door_cut": "door's diagonals differ, after the cut",
    "cut.door_ring": "door's diagonals differ, with the ring in",
    "cut.door_limit": "may differ more than before by a factor of",
    "ring.shape": "cross-section",
    "ring.metal": "made of",
    "ring.upright": "height",
    "ring.flat": "width along the roof",
    "ring.wall": "thickness",
    "ring.channel": "inner channel under each hinge",
    "ring.fixing": "joined to the skin by",
    "ring.pitch": "distance between rivets or bolts",
    "ring.rivet": "diameter of rivets or bolts",
    "ring.sag_limit": "most give of the ring",
    "ring.gain_wanted": "ring must multiply the cut skin's stiffness by",
    "joint.at": "what it holds",
    "joint.bolt": "size of its bolts",
    "joint.grade": "strength of its bolts",
    "joint.count": "how many bolts",
    "joint.along": "between outer bolts, along",
    "joint.across": "between outer bolts, across",
    "joint.edge": "bolt's middle to the layer's edge",
    "joint.layer": "weakest layer is",
    "joint.thickness": "thickness of that layer",
    "joint.washer": "washers, diameter",
    "joint.plate": "one backing plate under all bolts?",
    "joint.arm": "force acts off the face by",
    "joint.plate_metal": "hinge, bracket or latch is made of",
    "joint.isolated": "are unlike metals kept apart?",
    "safety.metal": "on yielding of metal",
    "safety.bolts": "on bolts and sheet at bolts",
    "safety.pull_over": "on heads pulling through sheet",
    "safety.laminate": "on laminate and plywood at bolts",
    "safety.cloth": "on cloth, seams and staples",
    "safety.parts": "on hinges, latches, brackets, braces",
    "safety.load": "on wind and road forces",
}
"""What forms call each key."""

_PLACE = "Counts from the rear edge of the opening towards the cab."
HOLD_HELP: Final[dict[str, str]] = {
    "fit.rim_front": "Lay the shell rim down on a flat floor and measure the gap under the middle of its front end. "
    "A middle that stands above the floor counts as positive.",
    "fit.rim_rear": "The same under the middle of its rear end.",
    "fit.rim_sides": "The same under the middle of its long sides.",
    "fit.rim_twist": "The gap under the front left corner when the other three touch the floor.",
    "fit.packer": "Only when they are there already: the height of the hinge axis is then checked against them.",
    "brace.pivot_height": "Above the shell's rim for a pivot on the shell, above the roof for one on the van.",
    "brace.foot_height": "Above the roof for a track or lower end on the van, above the shell's rim for one on it.",
    "brace.track_from": "Counted across to the other side from the pivot; negative on the pivot's own side.",
    "brace.track_to": "Counted in the same way. For straps and a folding arm the same as where it begins.",
    "roof_point.x": _PLACE,
    "rim_point.x": _PLACE,
    "bow.at": f"Middle of the bow. {_PLACE}",
    "cut.door_before": "One wheel on a kerb, door open: measure both diagonals of the doorway. Their difference, less "
    "what it is on level ground.",
    "cut.door_cut": "The same wheel on the same kerb after the cut.",
    "cut.door_ring": "The same wheel on the same kerb with the ring in.",
}
"""What is said of a key where its meaning speaks of other keys."""

_LOOK: Final[dict[str, str]] = {
    "none there": "looked: none there",
    "out of the way": "looked: moved out of the way",
} | {"in the way": "looked: still in the way"}
_JOINTS: Final[dict[str, str]] = {
    "hinge on shell": "hinge or arm to the shell",
    "hinge on van": "hinge or arm to the van",
    "spring on shell": "spring's bracket to the shell",
    "spring on van": "spring's bracket to the van",
    "latch on shell": "latch to the shell",
    "latch on van": "latch to the van",
    "brace on shell": "brace to the shell",
    "brace on van": "brace to the van",
}
HOLD_CHOICES: Final[dict[str, dict[str, str]]] = {
    "brace.kind": {
        "bar": "a bar whose end slides in a track",
        "straps": "two crossed straps",
        "arm": "an arm that folds in the middle",
    },
    "cut.cables": _LOOK,
    "cut.air_bags": _LOOK,
    "cut.lining": _LOOK,
    "joint.at": _JOINTS,
}
"""What people read for a word of the file."""

HOLD_SELDOM: Final[frozenset[str]] = frozenset(
    {
        "fit.slide",
        "fit.packer_least",
        "wind.coefficient",
        "wind.cloth_share",
        "wind.seam_share",
        "road.drag",
        "road.bump",
        "body.side_area",
        "cut.door_limit",
        "joint.arm",
        "latches.inset",
        "brace.inset",
        *(f"safety.{key}" for key in ("metal", "bolts", "pull_over", "laminate", "cloth", "parts", "load")),
    }
)
"""Keys that few people change."""

HOLD_SECTIONS: Final[dict[str, tuple[str, ...]]] = {
    "fit": ("Fit", "How it sits", "The rim on the roof, the seal between them, the packers under the hinges."),
    "roof_point": (
        "Roof height",
        "Heights of the roof beside its middle",
        "Where the roof is no even bow: heights measured from a straightedge or a string.",
        "Add a height of the roof",
        "Take this height out",
    ),
    "rim_point": (
        "Rim gap",
        "Gaps under the rim",
        "Where the rim is no even bow: gaps measured with the shell rim down on a flat floor.",
        "Add a gap under the rim",
        "Take this gap out",
    ),
    "candidate": (
        "Other shell",
        "Other shells that could be had",
        "They are ranked by how well they sit on this roof.",
        "Add another shell",
        "Take this shell out",
    ),
    "wind": ("Wind", "Wind on the raised roof", "The gust that it must stand, and the cloth that stands in it."),
    "hinges": ("Hinges", "What the hinges or arm pins bear", "Their strength and their give."),
    "brace": (
        "Brace",
        "Brace at the free end",
        "A bar, straps or a folding arm that keep the free end from swaying.",
        "Add a brace",
        "Take the brace out",
    ),
    "latches": ("Latches", "Latches and stops", "What holds the closed shell down on the road."),
    "road": ("Road", "Road", "What the closed roof meets on the road."),
    "body": ("Body", "The van's body", "Roof skin, weight and height of the van."),
    "bow": (
        "Roof bow",
        "Roof bows",
        "Cross members under the skin, one entry for each.",
        "Add a bow",
        "Take this bow out",
    ),
    "cut": ("Cut", "The cut", "The line of the saw, and what a look behind the lining found."),
    "ring": ("Ring", "The ring round the opening", "The frame that stiffens the cut edge."),
    "joint": (
        "Joint",
        "Joints",
        "Groups of bolts: where, how many, through what.",
        "Add a joint",
        "Take this joint out",
    ),
    "safety": ("Safety factors", "Safety factors", "By how much what a part bears is cut before it is compared."),
}
"""One of it, heading, note, and the words of the buttons."""

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
