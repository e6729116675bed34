"""What the sheets and patterns of cloth walls say of every roof: how to use them, what to check, what is not said.

Common practice of the trade, no source.
"""

from __future__ import annotations

from typing import Final

TILES_USE: Final = (
    "Check the square with a steel rule. If it is not true, print again at 100 %.",
    "Cut the cloth along the solid line; sew along the long dashes.",
    "Carry every match mark over before the paper is taken off: equal signs meet.",
    "Grain arrow along the length of the roll; one head only: nap, never turn the piece round.",
)
FIRST_PAGE: Final = (
    "Print this page alone and measure the square with a steel rule, both ways.",
    "If it is off: print at 100 %, actual size, no fitting to the page. A long wall is off twenty times as much.",
    "Print one piece at a time: its map first, then its tiles. The bar on every tile is measured like the square.",
    "Tape the tiles, then measure the straight lengths and both diagonals on the sheet by ordinates: they must agree.",
    "Cut one panel in paper and hang it in the open roof before cloth is cut.",
)
BATTEN: Final = (
    "Strike the base line, step off the distances along it, set off low and high square to it.",
    "Bend a batten fair through the points; a point that stands out is measured again, not bent to.",
    "Straight lengths and both diagonals must agree with the sheet before anything is cut.",
    "Add the allowances of the table of edges outside of the line that is sewn.",
)
HAND_OVER: Final = "Full-size patterns are files of their own: loftwright walls --patterns, --long, --svg or --dxf."
NO_LICENCE: Final = "Results aid judgement. They are no licence and no approval."
BEFORE_CLOTH: Final = (
    "Square on the paper measured, both ways.",
    "Straight lengths and diagonals agree with the sheet.",
    "The paper panel hangs from end to end without a fold that pulls.",
    "Match marks on paper and ring lie on each other.",
    "Roof closed slowly over the paper: it goes in, nothing is trapped.",
)
