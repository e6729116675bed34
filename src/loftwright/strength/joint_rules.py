"""What can go wrong where parts are bolted, riveted or glued together: every rule once.

None of it is an assessment of crash or roll-over: that is for local codes and licensed practice.
"""

from __future__ import annotations

from typing import Final

from loftwright.core.checks import Rule, Source

_EN: Final = "en-1993-1-8"
_AISI: Final = "aisi-s100"

SHEAR: Final = Rule(
    "JOINT-1201",
    "The bolts shear off",
    "The bolts bear the sideways load",
    "N",
    "at most",
    "The bolt furthest from the middle of its group takes most of a load that passes beside it.",
    "Take thicker bolts, more of them, or set them further apart.",
    Source(_EN, "Table 3.4, shear; read in a public reproduction", "standard"),
)
TENSION: Final = Rule(
    "JOINT-1202",
    "The bolts are pulled apart",
    "The bolts bear the pull",
    "N",
    "at most",
    "A plate that tilts about its edge pulls hardest on the bolts furthest from that edge.",
    "Take thicker or stronger bolts, or set them further from the pressed edge.",
    Source(_EN, "Table 3.4, tension; read in a public reproduction", "standard"),
)
TOGETHER: Final = Rule(
    "JOINT-1203",
    "Pull and sideways load together break the bolts",
    "The bolts bear pull and sideways load together",
    "1",
    "at most",
    "A bolt that is sheared has less left for pull.",
    "Take thicker bolts, more of them, or set them further apart.",
    Source(_EN, "Table 3.4, combined shear and tension; read in a public reproduction", "standard"),
)
TEARS: Final = Rule(
    "JOINT-1204",
    "The sheet tears at the bolts",
    "The sheet bears the bolts",
    "N",
    "at most",
    "A bolt in a thin sheet cuts its hole long, or out to the edge.",
    "Double the sheet round the holes, move them in from the edge, or take more bolts.",
    Source(_EN, "Table 3.4, bearing, and tear-out; laminate and wood by judgement", "standard"),
)
PULLS_THROUGH: Final = Rule(
    "JOINT-1205",
    "The bolt heads pull through the skin",
    "The skin holds the bolt heads",
    "N",
    "at most",
    "A thin skin dishes round a small head until the head slips through.",
    "Put a backing plate or wide washers behind the skin, or carry the bolts through to a stiff part.",
    Source(_AISI, "J4, pull-over; laminate and wood by shear on the rim (judgement)", "standard"),
)
PEELS: Final = Rule(
    "JOINT-1206",
    "The laminate bends and peels round the bolts",
    "The laminate holds flat round the bolts",
    "Pa",
    "at most",
    "A pull square to a thin laminate bends it sharply at the rim of the washer, and its layers part there.",
    "Take a larger or stiffer backing plate, laminate the skin thicker there, or bolt nearer to a rib.",
    Source("timoshenko-plates-and-shells", "art. 16-19; factor by judgement", "handbook"),
)
EDGE_NEAR: Final = Rule(
    "JOINT-1207",
    "A bolt hole is too near the edge",
    "The holes lie far enough from the edge",
    "short m",
    "at least",
    "The strip between hole and edge tears out.",
    "Move the hole in, or take a smaller bolt.",
    Source(_EN, "Table 3.3; laminate and wood by judgement", "standard"),
)
HOLES_CLOSE: Final = Rule(
    "JOINT-1208",
    "Bolt holes are too close to each other",
    "The holes lie far enough apart",
    "short m",
    "at least",
    "What is left between two holes tears, and their washers overlap.",
    "Set the holes further apart, or take smaller bolts.",
    Source(_EN, "Table 3.3; laminate and wood by judgement", "standard"),
)
UNLIKE: Final = Rule(
    "JOINT-1209",
    "Unlike metals touch and will corrode",
    "Unlike metals are kept apart",
    "yes or no",
    "at most",
    "Where two unlike metals touch and water stands between them, the less noble one is eaten away.",
    "Put tape, a plastic washer and a sleeve between them, bed it all in sealant and leave no bare edge.",
    Source("common-practice", "galvanic pairs in words", "common practice"),
)
RIVETS_FAR: Final = Rule(
    "JOINT-1210",
    "The rivets are too far apart",
    "The rivets are close enough",
    "short m",
    "at most",
    "Between rivets that stand far apart the seam gapes, lets water in, and each rivet carries too much.",
    "Set the rivets closer, or glue the seam as well.",
    Source("judgement", "longest gap that keeps a bedded seam shut, and the flow that one rivet bears", "judgement"),
)
RIVETS_GIVE: Final = Rule(
    "JOINT-1211",
    "The rivets of the seam give way",
    "The rivets of the seam hold",
    "1",
    "at most",
    "Each rivet carries the flow over one pitch, sideways and outwards at once.",
    "Set the rivets closer, take thicker ones, or use the stronger class.",
    Source("iso-15977", "least shear and pull loads (from memory); straight-line interaction by judgement", "standard"),
)
WORKS_LOOSE: Final = Rule(
    "JOINT-1212",
    "The joint cannot be tightened enough and works loose",
    "The joint stays shut under its load",
    "N",
    "at least",
    "A bolt must be tighter than the load pulls, but soft layers are crushed before it is.",
    "Put a spacer tube or solid insert in the soft layer, or wider washers and backing plates.",
    Source("derivation", "preload against pull; crushing stresses by judgement", "derivation"),
)
BOND: Final = Rule(
    "JOINT-1213",
    "The glued seam shears",
    "The glued seam holds",
    "Pa",
    "at most",
    "Glue ages in sun and water and is only as good as the cleaned metal under it.",
    "Make the glued strip wider, or rivet it as well.",
    Source("judgement", "strength from the builder's own test strip over a factor", "judgement"),
)
SKIN_TOGETHER: Final = Rule(
    "JOINT-1215",
    "Pull and sideways load together tear the skin off the bolts",
    "The skin bears pull and sideways load together",
    "1",
    "at most",
    "A sheet that is already cut by the shank slips over the head more easily.",
    "Put a backing plate behind the skin, double it, or take more bolts.",
    Source(_AISI, "J4.5, shear and pull-over at once; read in a public reproduction", "standard"),
)
NOT_WRITTEN: Final = Rule(
    "JOINT-1216",
    "Bolts are not written down and so not judged",
    "The bolts of every joint are written down",
    "count",
    "at most",
    "A roof is held by its weakest group of bolts, and those that are not in the file may be it.",
    "Add a joint for each: size, number and grade of its bolts and the sheet that they go through.",
    Source("judgement", "every joint that carries the roof is asked for", "judgement"),
)
