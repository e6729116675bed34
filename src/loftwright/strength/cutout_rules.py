"""What can go wrong with the hole in the roof, in its plane: every rule once.

None of it is a crash or roll-over assessment; a local inspector or engineer decides.
"""

from __future__ import annotations

from typing import Final

from loftwright.core.checks import Rule, Source

LEAST_RADIUS: Final = 0.05
"""Least corner radius of the hole [m]. Common practice, no source: what a jigsaw follows in thin skin."""

RING_GAIN: Final = 1.5
"""Least that the ring should multiply the cut skin's stiffness by [1]. Judgement: less is hardly worth its weight."""

ENOUGH_KEPT: Final = 0.8
"""Share of the whole skin's stiffness that is enough, whatever the ring adds [1]. Judgement, as the body's twist."""

TWIST_GROWTH: Final = 1.25
"""Most that the body may twist, over what it did before the cut [1]. Judgement: a quarter is clear of tape error."""

CORNER_RADIUS: Final = Rule(
    "CUT-1101",
    "The corners of the hole are too sharp",
    "The corners of the hole are round enough",
    "short m",
    "at least",
    "A sharp inner corner gathers stress without end, and a crack starts from it on the road.",
    "Drill or saw the corners to a larger radius before the straight cuts, and file them smooth.",
    Source("common-practice", "least radius that a jigsaw follows cleanly in roof skin", "common practice"),
)
CORNER_STRESS: Final = Rule(
    "CUT-1102",
    "The skin cracks at a corner of the hole",
    "The skin at the corners of the hole stays within its limit",
    "Pa",
    "at most",
    "Stress flowing round the hole crowds at its corners, several times what the plain skin carries.",
    "Take a larger corner radius, a smaller hole, or back the corners with a plate.",
    Source("roark-formulas", "Table 17.1, rectangular hole with round corners", "handbook"),
)
RING_STIFFENS: Final = Rule(
    "CUT-1103",
    "The ring hardly stiffens the cut roof",
    "The ring stiffens the cut roof",
    "1",
    "at least",
    "A whole skin keeps the roof square; round a hole only a ring's bending in that plane and its stiff corners do.",
    "Take a section that is deep in the plane of the roof, and join its corners stiffly with gussets.",
    Source("derivation", "plane stress with a ring of bars, docs/theory-strength.md; limit by judgement", "derivation"),
)
BODY_TWIST: Final = Rule(
    "CUT-1104",
    "The body twists clearly more than before",
    "The body twists about as little as before",
    "1",
    "at most",
    "Doors then stick, glass works loose and seams crack, even where nothing breaks.",
    "Stiffen the ring and its corners, and measure again before driving on.",
    Source("derivation", "door diagonals by tape, docs/theory-strength.md; limit by judgement", "derivation"),
)
SAW_MEETS: Final = Rule(
    "CUT-1105",
    "The saw may meet what lies behind the lining",
    "Nothing lies in the saw's way behind the lining",
    "yes or no",
    "at least",
    "Cables, gas canisters of air bags and belt anchors run along roof edges, hidden until the lining is down.",
    "Take the lining down, look along the whole line with a lamp, and move what is there or move the line.",
    Source("common-practice", "look before you cut", "common practice"),
)
