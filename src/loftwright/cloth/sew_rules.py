"""What can go wrong with seams and windows: every rule once."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.cloth.film import tip_radius
from loftwright.core.checks import Rule, Source
from loftwright.core.judged import Judged, against
from loftwright.core.motion import array_of
from loftwright.reference.sewing import CUT_RADIUS, FROST_MARGIN, TAPE_RADIUS

FLAT: Final = 0.5
"""Radius that stands for sheet that lies flat between the creases [m]."""

_PRACTICE: Final = Source("common-practice", "canvas work, no source", "common practice")
_FOLD: Final = Source("derivation", "weightless sheet folded between two faces, loftwright.cloth.film", "derivation")

ALLOWANCE: Final = Rule(
    "SEW-1501",
    "An edge has too little cloth for its finish: it frays out of the stitches",
    "Every edge has cloth enough for its finish",
    "short m",
    "at least",
    "The turned part must reach under the needle all along, or the edge slips out and frays.",
    "Give this edge a wider allowance, or take a finish that needs less.",
    Source("us-fm-10-16", "ch. 8; least widths by common practice", "handbook"),
)
NEAR_EDGE: Final = Rule(
    "WINDOW-1601",
    "A window's largest layer runs into a seam or the edge of its panel",
    "Every window's largest layer stays clear of seams and edges",
    "m",
    "at least",
    "Curtain, tape and seam would be sewn over one another, and the bulk does not go under the machine.",
    "Make the window smaller, move it towards the middle of the panel, or move the seam.",
    _PRACTICE,
)
IN_CREASE: Final = Rule(
    "WINDOW-1602",
    "A window lies in the crease of the folded wall",
    "Every window stays out of the crease of the folded wall",
    "m",
    "at least",
    "The clear sheet is bent at the same line every day and turns white, stiff and at last brittle there.",
    "Put the window wholly above or below the crease, or fold the wall at other heights.",
    _FOLD,
)
SHARP_CORNER: Final = Rule(
    "WINDOW-1603",
    "A window's corners are too sharp for tape and turned cloth",
    "Every window's corners are round enough for tape and turned cloth",
    "short m",
    "at least",
    "A tape laid round a sharp corner puckers, and a turned corner of small radius tears at its cuts.",
    "Round the corners more.",
    _PRACTICE,
)
BENT_SHEET: Final = Rule(
    "WINDOW-1604",
    "The clear sheet is bent too tightly in the fold",
    "The clear sheet keeps its least radius in the fold",
    "short m",
    "at least",
    "Between two faces the sheet bends tightest at its tip, to the gap over 2.4.",
    "Leave the fold a wider gap, take thinner sheet, keep windows out of the fold, or roll them up first.",
    _FOLD,
)
FROST: Final = Rule(
    "WINDOW-1605",
    "The clear sheet can crack when it is folded in frost",
    "The clear sheet is not folded near the cold at which it cracks",
    "yes or no",
    "at most",
    "Soft clear sheet goes stiff in the cold and breaks like glass when it is bent then.",
    "Warm the inside before closing, or take sheet rated for more cold; store it rolled, not folded.",
    Source("common-practice", "cold-crack ratings from memory; margin by judgement", "common practice"),
)


def judge_allowances(edges: Mapping[str, tuple[ArrayLike, ArrayLike]]) -> tuple[Judged, ...]:
    """Return for each of the `edges` by its name whether its cloth [m] is what its finish needs at least [m], [...]."""
    return tuple(against(ALLOWANCE, given, needs, name) for name, (given, needs) in edges.items())


def judge_place(name: str, clear: ArrayLike, crease: ArrayLike, keep: ArrayLike) -> tuple[Judged, Judged]:
    """Return whether a window's largest layer stays where it may, in [m], [...] each.

    `clear` from seams, edges and other windows, and `crease` from the nearest crease, negative across; `keep` is what
    both are to be at least.
    """
    return against(NEAR_EDGE, clear, keep, name), against(IN_CREASE, crease, keep, name)


def judge_corners(name: str, radius: ArrayLike, turn: ArrayLike, *, taped: bool) -> tuple[Judged, ...]:
    """Return whether a window has corners round enough for its turned cloth and, where it is `taped`, for its tape.

    `radius` [m] is that of the sight line, round which tape must go, and `turn` [m] how far the outer cloth falls
    short of it, so that its own corner is radius - turn; [...] each.
    """
    own = array_of(radius)
    turned = against(SHARP_CORNER, own - array_of(turn), CUT_RADIUS, f"{name}, turned cloth")
    return (turned, against(SHARP_CORNER, own, TAPE_RADIUS, f"{name}, tape")) if taped else (turned,)


def judge_sheet(name: str, thickness: ArrayLike, gap: ArrayLike, least: ArrayLike, bent: ArrayLike) -> Judged:
    """Return whether clear sheet of a `thickness` [m] keeps its `least` radius [m] in a fold of a `gap` [m], [...].

    Only where it is `bent`; elsewhere it lies flat.
    """
    return against(BENT_SHEET, np.where(bent, tip_radius(gap, thickness), FLAT), least, name)


def judge_frost(name: str, coldest: ArrayLike, cracks: ArrayLike, bent: ArrayLike) -> Judged:
    """Return whether sheet may be folded at the `coldest` it is moved at [K] when it cracks at `cracks` [K], [...].

    Value 1 where it is `bent` and coldest < cracks + FROST_MARGIN [K], else 0.
    """
    risky = np.asarray(bent) & (array_of(coldest) < array_of(cracks) + FROST_MARGIN)
    return against(FROST, np.where(risky, 1.0, 0.0), 0.0, name)
