"""Laying the pieces of one cloth on its roll: the shortest length that was found, checked before it is believed."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from typing import Final

import numpy as np

from loftwright.cloth.laying_library import Tell, laid_by_library
from loftwright.cloth.laying_profile import Found, laid_by_profile
from loftwright.cloth.laying_shapes import TURNS, RollPiece, narrowest, turned
from loftwright.core.motion import Array
from loftwright.core.pattern import LaidPiece, Layout

OVERLAP: Final = 1e-8
"""Common area of two pieces that is not seen [m2]."""
SLIP: Final = 1e-5
"""How far a laid piece may stand out of the roll, or be nearer to its neighbour than asked [m]."""
BY_LIBRARY: Final = "true shapes, by a library's search"
BY_RULE: Final = "true shapes, by our own rule"
QUICK: Final = "true shapes, a first quick try: the search can only be shorter"

_STEP, _QUICK_STEP = 0.004, 0.008
_TRIES, _QUICK_TRIES = 150, 12


def too_wide(pieces: tuple[RollPiece, ...], width: float) -> tuple[str, ...]:
    """Return the numbers of the pieces that lie in no allowed turn on a roll of usable `width` [m]."""
    return tuple(piece.number for piece in pieces if narrowest(piece) > width + SLIP)


def _layout(
    pieces: tuple[RollPiece, ...],
    laid: tuple[tuple[int, float, Array], ...],
    material: str,
    width: float,
    how: str,
) -> Layout:
    first = min((float(points[:, 0].min()) for _, _, points in laid), default=0.0)
    length = max((float(points[:, 0].max()) for _, _, points in laid), default=0.0) - first
    made = tuple(
        LaidPiece(pieces[index].number, tuple((float(x) - first, float(y)) for x, y in points), angle)
        for index, angle, points in sorted(laid, key=lambda one: (one[0], float(one[2][:, 0].min())))
    )
    return Layout(material, width, length, made, how)


def _by_rule(pieces: tuple[RollPiece, ...], found: Found, gap: float) -> tuple[tuple[int, float, Array], ...]:
    half = gap / 2.0
    return tuple(
        (lie.piece, lie.angle, turned(pieces[lie.piece].points, lie.angle) - lie.corner + shift - half)
        for lie, shift in zip(found.lies, found.shifts, strict=True)
    )


def quick_layout(
    pieces: tuple[RollPiece, ...], width: float, *, clearance: float = 0.002, material: str = ""
) -> Layout:
    """Return a layout on usable `width` [m] in a fraction of a second, repeatable; `clearance` between pieces [m].

    ValueError where a piece is wider than the roll.
    """
    found = laid_by_profile(pieces, width, gap=clearance, step=_QUICK_STEP, tries=_QUICK_TRIES, seed=0, rounds=1)
    return _layout(pieces, _by_rule(pieces, found, clearance), material, width, QUICK)


def quick_length(pieces: tuple[RollPiece, ...], width: float, *, clearance: float = 0.002) -> float:
    """Return a length [m] that certainly suffices on usable `width` [m] with `clearance` between pieces [m].

    For while the true answer is not there. ValueError where a piece is wider than the roll.
    """
    return quick_layout(pieces, width, clearance=clearance).length


def lay(
    pieces: tuple[RollPiece, ...],
    width: float,
    *,
    seed: int = 0,
    seconds: float = 10.0,
    library: bool = True,
    tell: Tell | None = None,
    clearance: float = 0.002,
    material: str = "",
) -> Layout:
    """Return the shortest layout found of `pieces` on a roll of usable `width` [m].

    seed: of every random choice; seconds: time of the library's search [s]; clearance: between two pieces [m].
    Our own rule is always worked out, and is the same on every machine. The library works in a process of its own
    until `seconds` are over; its answer counts where it passes `faults` and is shorter. The library may differ
    between machines even with the same seed: whoever needs the same layout again keeps it.
    Curved cut lines are laid by a simpler line outside them, within `laying_shapes.OUTWARD`; the layout holds the true
    ones. ValueError where a piece is wider than the roll in every allowed turn.
    """
    if not pieces:
        return Layout(material, width, 0.0, (), BY_RULE)
    wide = too_wide(pieces, width)
    if wide:
        raise ValueError(f"wider than the roll in every allowed turn: {', '.join(wide)}")
    found = laid_by_profile(pieces, width, gap=clearance, step=_STEP, tries=_TRIES, seed=seed)
    best = _layout(pieces, _by_rule(pieces, found, clearance), material, width, BY_RULE)
    quick = quick_layout(pieces, width, clearance=clearance, material=material)
    if quick.length < best.length:
        best = replace(quick, how=BY_RULE)
    if library:
        laid = laid_by_library(pieces, width, gap=clearance, seed=seed, seconds=seconds, tell=tell)
        if laid is not None:
            other = _layout(pieces, laid, material, width, BY_LIBRARY)
            if other.length < best.length and not faults(other, pieces, clearance=clearance):
                best = other
    return checked(best, pieces, clearance=clearance)


def _allowed(piece: RollPiece, angle: float) -> bool:
    if piece.turns == "free":
        return True
    return any(abs(math.remainder(angle - one, 2.0 * math.pi)) < 1e-6 for one in TURNS[piece.turns])


def faults(layout: Layout, pieces: tuple[RollPiece, ...], *, clearance: float = 0.0) -> tuple[str, ...]:
    """Return what is wrong with a layout, in words; nothing where it can be cut.

    Every piece there as often as asked, unchanged and in an allowed turn; all on the roll; no two overlapping by more
    than `OVERLAP` or nearer than `clearance` [m] less `SLIP`.
    """
    from shapely import STRtree
    from shapely.geometry import Polygon

    named = {piece.number: piece for piece in pieces}
    asked = Counter({piece.number: piece.count for piece in pieces})
    have = Counter(piece.number for piece in layout.pieces)
    found = [
        f"{number}: {have[number]} laid, {asked[number]} asked"
        for number in sorted(have.keys() | asked.keys())
        if have[number] != asked[number]
    ]
    shapes = []
    for laid in layout.pieces:
        points = np.asarray(laid.outline, dtype=np.float64)
        shape = Polygon(points)
        shapes.append(shape)
        piece = named.get(laid.number)
        if piece is not None:
            if laid.mirrored or not _allowed(piece, laid.turned):
                found.append(f"{laid.number}: turned as it must not be")
            true = turned(piece.points, laid.turned)
            if len(true) != len(points) or np.ptp(points - true, axis=0).max() > SLIP:
                found.append(f"{laid.number}: not the piece that was asked")
        low, high = points.min(axis=0), points.max(axis=0)
        if min(low) < -SLIP or high[0] > layout.length + SLIP or high[1] > layout.width + SLIP:
            found.append(f"{laid.number}: off the roll")
    tree = STRtree(shapes)
    for a, shape in enumerate(shapes):
        for b in (int(other) for other in tree.query(shape, predicate="dwithin", distance=max(clearance, SLIP))):
            if b <= a:
                continue
            names = f"{layout.pieces[a].number} and {layout.pieces[b].number}"
            if shape.intersection(shapes[b]).area > OVERLAP:
                found.append(f"{names}: overlap")
            elif shape.distance(shapes[b]) < clearance - SLIP:
                found.append(f"{names}: nearer than asked")
    return tuple(found)


def checked(layout: Layout, pieces: tuple[RollPiece, ...], *, clearance: float = 0.0) -> Layout:
    """Return the layout where it has no `faults` with `clearance` [m]; else ValueError with all of them."""
    found = faults(layout, pieces, clearance=clearance)
    if found:
        raise ValueError("; ".join(found))
    return layout
