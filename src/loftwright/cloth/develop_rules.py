"""What can go wrong with a flat pattern: every rule once, with reason, remedy and source."""

from __future__ import annotations

from typing import Final

from loftwright.core.checks import Rule, Source

_TWO_WAYS: Final = Source(
    "derivation", "bending and twist as two measures, docs/theory-walls.md; limit by judgement", "derivation"
)
_SPREAD: Final = Source(
    "derivation", "outlines of disturbed rims, docs/theory-walls.md; limit by judgement", "derivation"
)
_WIDTH: Final = Source("derivation", "breadth of the flat piece across the grain", "derivation")
_CREASE: Final = Source("derivation", "angle between neighbouring triangles; limit by judgement", "derivation")
_PULL: Final = Source("derivation", "strain of the cloth on the top stop, docs/theory-walls.md", "derivation")

TWO_WAYS_LIMIT: Final = 0.002
"""Difference of two ways of rolling out that does not matter [m]. Judgement: about the width of a chalk line."""

SPREAD_LIMIT: Final = 0.005
"""Error of the outline that a wall forgives [m]. Judgement: 1 % of half a metre, about what canvas takes unseen."""

CREASE_LIMIT: Final = 0.26
"""Angle of one crease that still stands for smooth cloth [rad], 15 degrees. Judgement: a corner of 150 mm radius with
a point every 10 mm turns 4 degrees at each."""

TWO_WAYS: Final = Rule(
    "WALL-1301",
    "Two ways of rolling out this wall disagree",
    "Two ways of rolling out this wall agree",
    "short m",
    "at most",
    "Where the edges of roof and shell are askew, cloth can bend either way, and the two pieces differ.",
    "Put a seam where the two edges turn away from each other, or try this wall in paper before cutting cloth.",
    _TWO_WAYS,
)
TOO_WIDE: Final = Rule(
    "WALL-1302",
    "A wall is wider than the roll of cloth",
    "Every wall fits across the roll of cloth",
    "m",
    "at most",
    "A piece with its allowances must lie between the two selvedges in the chosen direction of the threads.",
    "Put one more seam into this wall, turn the threads, or take wider cloth.",
    _WIDTH,
)
RIMS_UNSURE: Final = Rule(
    "WALL-1303",
    "The rims are not measured well enough for this wall",
    "The rims are measured well enough for this wall",
    "short m",
    "at most",
    "Errors of the rims and of the opening angle go straight into the outline of the cloth.",
    "Measure again what is named first beside this, or fit a paper trial of this wall on the open roof.",
    _SPREAD,
)
SHARP: Final = Rule(
    "WALL-1304",
    "The cloth would have to fold sharply in the middle of a wall",
    "The cloth bends gently everywhere",
    "rad",
    "at most",
    "A sharp corner of a rim inside a wall makes a crease that cloth does not follow without a pucker.",
    "Put a seam at the sharp corner, round it, or give more points along it.",
    _CREASE,
)
TOO_TIGHT: Final = Rule(
    "WALL-1305",
    "The open roof pulls the cloth too tight",
    "The open roof does not pull the cloth too tight",
    "N/m",
    "at most",
    "Springs and top stop stretch the cloth, and wet cloth shrinks: seams, staples and the closing hand then suffer.",
    "Cut the wall higher by its shrinkage, lower the top stop with a strap, or take weaker springs.",
    _PULL,
)
