"""The folded corner, by geometry: how much cloth is too much, how thick it piles up, and what helps.

Thicknesses are an order of magnitude, told as ranges: a fold's corner crumples, and no sum says how. Lengths [m],
arrays [...] over draws.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.cloth.bundle import Cavity
from loftwright.cloth.fold import LOOP, quick_depth, straight_layers
from loftwright.cloth.fold_rules import CORNER
from loftwright.core.judged import Judged
from loftwright.core.motion import Array, Flags, array_of

CROWDING: Final = (1.8, 2.8)
"""How much higher the cloth piles up at a corner than along a wall [1]: from trials in three dimensions."""
TRIED_EXCESS: Final = 0.396
"""Excess cloth per corner in those trials [m]: fold 230 mm deep, corner radius 150 mm."""
FELLED: Final = 4
"""Layers in a flat-felled seam, where the wall beside it has one."""
PAST: Final = (0.060, 0.100)
"""Where seams may stand past the corner's round [m]."""
MEASURE: Final = "fold one corner in scrap cloth with all its layers and measure how high it stands"


@dataclass(frozen=True, slots=True)
class Corner:
    """What decides how a corner stows, each [m], [...].

    `height` of the wall's cloth and `gap` between the rims when closed, `radius` of the corner; thickness of the
    `outer` cloth, the `insulation` and the `lining`; `bending_length` of the wall made up and of the `outer_bending`
    cloth alone.
    """

    height: Array
    gap: Array
    radius: Array
    outer: Array
    insulation: Array
    lining: Array
    bending_length: Array
    outer_bending: Array

    @property
    def thickness(self) -> Array:
        """All layers together."""
        return self.outer + self.insulation + self.lining


@dataclass(frozen=True, slots=True)
class Seam:
    """A seam `past` the corner's round [m], 0 at mid-corner: whether `crowded`; its height, `low` to `high` [m]."""

    past: float
    crowded: Flags
    low: Array
    high: Array


@dataclass(frozen=True, slots=True)
class Remedy:
    """One way to stow the corner: what it is, and what it gains over leaving all as it is, each [m], [...].

    `low` and `high` ends of the bundle's height; `depth` of the tip; `room` above the bundle. `gain` of height left
    over it (room less middle of the bundle) and `depth_gain`, both positive where it helps. `words` say how.
    """

    name: str
    words: str
    low: Array
    high: Array
    depth: Array
    room: Array
    gain: Array
    depth_gain: Array


def excess_cloth(depth: ArrayLike, radius: ArrayLike) -> Array:
    """Return the cloth too much at one corner, along the tip of the fold [m], pi/2 min(d, r) + 2 max(0, d - r) (1).

    The tip runs beside the rim, `depth` d further in [m]. Round a corner of `radius` r [m] it is shorter than the rim
    by a quarter turn of d as long as the radius lasts, and by two straight ends beyond; [...].
    Validity: square corners. Source: length of a curve offset inward, derivation.

    >>> [round(float(excess_cloth(d, r)) * 1000) for d, r in ((0.23, 0.15), (0.23, 0.3), (0.116, 0.15))]
    [396, 361, 182]
    """
    d, r = array_of(depth), array_of(radius)
    return np.asarray(np.pi / 2 * np.minimum(d, r) + 2 * np.maximum(d - r, 0.0))


def corner_layers(depth: ArrayLike, radius: ArrayLike, folds: int = 1) -> tuple[Array, Array]:
    """Return least and greatest number of layers on one another at a corner [1], an order of magnitude.

    n (1 + (k - 1) e / e0) (1): n of a straight wall with that many `folds`, crowding k between the ends `CROWDING`
    found by trial at the excess e0 `TRIED_EXCESS`, here scaled by the excess e of this `depth` and `radius` [m], [...].
    Source: trials in three dimensions, scaled by the excess cloth; derivation and judgement.
    """
    share = excess_cloth(depth, radius) / TRIED_EXCESS
    low, high = (straight_layers(folds) * (1 + (k - 1) * share) for k in CROWDING)
    return np.asarray(low), np.asarray(high)


def corner_bundle(
    depth: ArrayLike, radius: ArrayLike, thickness: ArrayLike, bending_length: ArrayLike, folds: int = 1
) -> tuple[Array, Array]:
    """Return least and greatest height of a corner's bundle [m]: layers times thickness, not less than its loops.

    `depth` of the tip, `radius` of the corner, `thickness` of all layers and `bending_length` [m], [...]; loops as in
    `fold.quick_bundle`. Not pressed together. Source: as `corner_layers`.
    """
    few, many = corner_layers(depth, radius, folds)
    loops = array_of(bending_length) * (1 + 0.5 * (folds - 1))
    thick = array_of(thickness)
    return np.asarray(np.maximum(few * thick, LOOP[0] * loops)), np.asarray(np.maximum(many * thick, LOOP[1] * loops))


def crowded_past(depth: ArrayLike, radius: ArrayLike) -> Array:
    """Return how far past the corner's round the folds of both walls lie on one another, max(0, d - r) (1) [m].

    `depth` d of the fold and `radius` r of the corner [m], [...]: each wall's fold covers a band d wide along its edge,
    and the round ends r from the other edge. Source: two crossing bands, derivation.
    """
    return np.asarray(np.maximum(array_of(depth) - array_of(radius), 0.0))


def seam_at(
    past: float, depth: ArrayLike, radius: ArrayLike, thickness: ArrayLike, outer: ArrayLike, folds: int = 1
) -> Seam:
    """Return how thick the cloth lies where a flat-felled seam stands `past` the corner's round [m], 0 at mid-corner.

    Layers there, those of a corner where folds cross and of a straight wall beyond, times `thickness`, plus the seam's
    own `FELLED` - 1 more of the `outer` cloth in every layer of a straight wall (1): a seam runs up the wall and so
    lies on itself wherever the wall does. `depth` and `radius` as for `corner_layers`, all [m], [...]. Loops are not
    counted.
    Source: counting layers, derivation.
    """
    few, many = corner_layers(depth, radius, folds)
    crowded = np.asarray(past < crowded_past(depth, radius) - 1e-6) | (past <= 0)
    straight = float(straight_layers(folds))
    own = (FELLED - 1) * straight * array_of(outer)
    thick = array_of(thickness)
    low, high = (np.where(crowded, layers, straight) * thick + own for layers in (few, many))
    return Seam(past, crowded, np.asarray(low), np.asarray(high))


def seams_compared(
    depth: ArrayLike, radius: ArrayLike, thickness: ArrayLike, outer: ArrayLike, folds: int = 1
) -> tuple[Seam, ...]:
    """Return the seam at mid-corner and at both ends of `PAST`, to be set side by side.

    `depth`, `radius`, `thickness`, `outer` [m], [...], and `folds` as for `seam_at`. Source: as there.
    """
    return tuple(seam_at(past, depth, radius, thickness, outer, folds) for past in (0.0, *PAST))


def seam_default(depth: ArrayLike, radius: ArrayLike) -> float:
    """Return where seams go by default: how far past the corner's round [m], 0 for mid-corner.

    The nearest place within `PAST` that lies clear of the crossing folds of `depth` at a corner of `radius` [m] (first
    row of [...]); where none does, mid-corner, which at least keeps the panels alike. Source: `crowded_past`.

    >>> seam_default(0.23, 0.15), seam_default(0.47, 0.15)
    (0.08, 0.0)
    """
    clear = float(np.ravel(crowded_past(depth, radius))[0])
    if clear > PAST[1]:
        return 0.0
    # To whole millimetres, upward.
    return max(ceil(clear * 1000 - 1e-3) / 1000, PAST[0])


def corner_judged(low: ArrayLike, high: ArrayLike, room: ArrayLike, place: str = "corners") -> Judged:
    """Return the corner's bundle, between `low` and `high`, against the `room` above it, all [m], [...].

    Judged at its middle; not known while the room of the first row lies within the range.
    """
    least, most, allowed = np.broadcast_arrays(array_of(low), array_of(high), array_of(room))
    first = [float(np.ravel(one)[0]) for one in (least, most, allowed)]
    unknown = MEASURE if first[0] <= first[2] < first[1] else ""
    return Judged(CORNER, np.asarray((least + most) / 2), np.asarray(allowed), place, unknown)


def remedies(corner: Corner, cavity: Cavity, *, stop: float = 0.175, bar_moved: float = 0.05) -> tuple[Remedy, ...]:
    """Return what each remedy would give at a corner of `corner` under `cavity`, first the wall left as it is.

    Insulation ends `stop` [m] past the corner's round, which helps only beyond the crossing folds
    (`crowded_past`, 1); the latch bar goes back by `bar_moved` [m]. Depth by `fold.quick_depth`, its middle; bundles by
    `corner_bundle`; room by `Cavity.height_at`. Source: as there.
    """
    two = _wide(corner, 2)
    one = _wide(corner, 1)
    clear = np.asarray(stop >= crowded_past(one, corner.radius) - 1e-6)
    bare = corner.outer + corner.lining
    stopped = np.where(clear, bare, corner.thickness)
    limp = np.where(clear, corner.outer_bending, corner.bending_length)
    back = Cavity(cavity.lining, cavity.bar_back + bar_moved, cavity.bar_under)
    made = (
        (
            "as it is",
            "All layers go round the corner, one fold.",
            one,
            corner.thickness,
            corner.bending_length,
            1,
            cavity,
        ),
        (
            "insulation stopped short",
            f"End the insulation {stop * 1000:.0f} mm past each corner's round, outer cloth and lining go on.",
            one,
            stopped,
            limp,
            1,
            cavity,
        ),
        (
            "plain corner gussets",
            "Make each corner a gusset of the outer cloth alone.",
            one,
            corner.outer,
            corner.outer_bending,
            1,
            cavity,
        ),
        (
            "removable lining",
            "Hang insulation and lining on hooks or zips and take them down before lowering.",
            one,
            corner.outer,
            corner.outer_bending,
            1,
            cavity,
        ),
        (
            "two folds",
            "Hold the cloth at mid-height near the rim: half the depth, but more layers on one another.",
            two,
            corner.thickness,
            corner.bending_length,
            2,
            cavity,
        ),
        (
            "short cords at the corners' ends",
            "Pull each wall inward by short cords near both its ends: sets the direction, not the thickness.",
            one,
            corner.thickness,
            corner.bending_length,
            1,
            cavity,
        ),
        (
            "latch bar further back",
            f"Move the latch bar {bar_moved * 1000:.0f} mm inward.",
            one,
            corner.thickness,
            corner.bending_length,
            1,
            back,
        ),
    )
    found: list[Remedy] = []
    for name, words, depth, thick, bending, folds, room in made:
        low, high = corner_bundle(depth, corner.radius, thick, bending, folds)
        above = room.height_at(depth)
        left = above - (low + high) / 2
        if not found:
            base_left, base_depth = left, depth
        found.append(Remedy(name, words, low, high, depth, above, left - base_left, base_depth - depth))
    return tuple(found)


def _wide(corner: Corner, folds: int) -> Array:
    """Return the middle of the quick estimate of the tip's depth [m]."""
    low, high = quick_depth(corner.height, corner.gap, folds)
    return np.asarray((low + high) / 2)
