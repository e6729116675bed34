"""Rules on cloth from the roll."""

from __future__ import annotations

from typing import Final

from loftwright.core.checks import Rule, Source

WIDE: Final = Rule(
    "ROLL-1701",
    "A piece is wider than the roll",
    "Every piece fits across the roll",
    "m",
    "at most",
    "A piece that lies across the roll in no allowed turn must be joined out of two.",
    "Let the wall's length run along the roll, split the piece with one more seam, or buy a wider roll.",
    Source("derivation", "width of the cut line in its allowed turns", "derivation"),
)
LEFT_OVER: Final = Rule(
    "ROLL-1703",
    "Half of the roll or more ends in no piece",
    "Less than half of the roll ends in no piece",
    "fraction",
    "at most",
    "Tall or long panels on an unlucky width leave strips too narrow for anything.",
    "Try another width of roll, allow quarter turns, or split the longest wall with one more seam.",
    Source("judgement", "waste of 50 per cent: laying by hand commonly stays below it", "judgement"),
)
MOST_LEFT: Final = 0.5
"""Waste above which it is worth looking for another way [1]: judgement."""
