"""The fold by quick estimates, for every row: how deep, how thick, how it pushes, whether its way is sure."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.fold_air import Air
from loftwright.answers.fold_places import Standing
from loftwright.answers.held_basis import Basis
from loftwright.answers.walled_lines import LinesFound
from loftwright.cloth.bundle import Cavity
from loftwright.cloth.fold import (
    G0,
    TIP_WIDE,
    hang_bound,
    plate_push,
    quick_bundle,
    quick_depth,
    straight_layers,
)
from loftwright.cloth.fold_corners import Corner, corner_bundle, crowded_past
from loftwright.cloth.made_up import MadeUp
from loftwright.core.motion import Array
from loftwright.project.assemble_stow import FoldLayers, cavity, fold_count, may_hang

PUSHED: Final = (0.1, 0.6)
"""Share of the push of a fold between two plates that a squeezed wall pushed in trials of an elastic chain [1]."""
SURE_PULL: Final = 0.35
"""Pull over the wall's own weight from which every trial with cords half-way up folded inward [1]."""
LEAST_GAP: Final = 0.004
"""Least room that a push is reckoned for [m]: below it the cloth is crushed."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """The fold at one place: ends of what is reckoned, each [rows].

    `depth`, `hang` below the ring, `bundle` above it [m] and `push` [N/m]; the `room` above the bundle and the `tip` of
    a fold that lies all on one level, by rule of thumb [m]. `sure`: in every row the pull surely draws the wall in, by
    the trials.
    """

    depth: tuple[Array, Array]
    hang: tuple[Array, Array]
    bundle: tuple[Array, Array]
    push: tuple[Array, Array]
    room: Array
    tip: Array
    sure: bool

    @property
    def thick(self) -> Array:
        """Middle of the bundle's height [m]."""
        return np.asarray((self.bundle[0] + self.bundle[1]) / 2.0)


@dataclass(frozen=True, slots=True)
class CornerFound:
    """The worst corner: `depth` of the fold, `radius` [m], ends `low` and `high` of its bundle's height and its `room`.

    Each [rows] [m]. `wall` whose fold is the deepest; `planned` is it as the remedies take it, under `cavity`.
    """

    wall: str
    depth: Array
    radius: Array
    low: Array
    high: Array
    room: Array
    planned: Corner
    cavity: Cavity


def rule_of_thumb(base: Basis, one: Standing) -> Array:
    """Return the depth of a fold that lies all on one level at a place [m], [rows]."""
    low, high = quick_depth(one.cloth, np.maximum(one.gap, 0.0), fold_count(base.project))
    return np.asarray((low + high) / 2.0)


def depth_of(base: Basis, one: Standing, loop: Array) -> tuple[Array, Array]:
    """Return least and greatest depth of the fold at a place [m], [rows]; `loop`: height of its free bundle [m].

    Wide enough for every build of the trials. Where it can hang into the van it need reach in no further than the
    ring's top. Where the shell runs along the wall, the greatest is that of the cloth along its own slanted line.
    """
    gap, folds = np.maximum(one.gap, 0.0), fold_count(base.project)
    low, high = quick_depth(one.cloth, gap, folds, TIP_WIDE)
    low = np.where(may_hang(base.at, loop), np.minimum(low, base.at("stow.ledge")), low)
    if one.sheared:
        high = np.maximum(high, quick_depth(one.slant, gap, folds, TIP_WIDE)[1])
    return np.asarray(low), np.asarray(high)


def hang_of(base: Basis, one: Standing, loop: Array) -> tuple[Array, Array]:
    """Return least and greatest reach of the fold below the ring at a place [m], [rows]; `loop` as for `depth_of`.

    Nought where all of it lies on the ring; at most drawn taut by its own weight over the edge of the ring's top.
    """
    length = one.slant if one.sheared else one.cloth
    taut = hang_bound(length, np.maximum(one.gap, 0.0), base.at("stow.ledge"), fold_count(base.project))
    most = base.full(np.where(may_hang(base.at, loop), taut, 0.0))
    return np.zeros_like(most), most


def free_height(base: Basis, made: MadeUp) -> Array:
    """Return the greatest height of the free bundle [m], [rows]."""
    return quick_bundle(made.loop, made.thickness, fold_count(base.project))[1]


def room_for(base: Basis, one: Standing, made: MadeUp) -> Cavity:
    """Return the room for the bundle above the ring at a place [m], [rows]."""
    return cavity(base.project, base.at, one.gap, one.over, free_height(base, made))


def estimated(base: Basis, one: Standing, made: MadeUp, drawn: Array, air: Air) -> Estimate:
    """Return the quick estimate at one place; `drawn` [rows, pulls, 2]: share of the height [1] and pull [N/m].

    Where the fold can hang into the van, no more than its flat layers need lie on the ring. A bundle pushes where its
    greatest height is above its room: `PUSHED` times the push of a fold pressed between two plates (1), the least only
    where its least height is above it too. Its way is sure where the pulls are at least `SURE_PULL` of the wall's
    weight and bear the trapped air, in every row (2).
    """
    folds = fold_count(base.project)
    low, high = quick_bundle(made.loop, made.thickness, folds)
    flat = np.where(may_hang(base.at, high), straight_layers(folds) * made.thickness, low)
    bundle = np.asarray(np.minimum(flat, low)), high
    tip = rule_of_thumb(base, one)
    room = room_for(base, one, made).height_at(tip)
    gap = np.maximum(room - made.thickness, LEAST_GAP)
    plates = folds * plate_push(made.stiffness, gap)
    push = tuple(np.where(high > room, share * plates, 0.0) for share, high in zip(PUSHED, bundle, strict=True))
    weight = made.mass * G0 * one.cloth
    pull = np.sum(drawn[..., 1], axis=-1)
    sure = bool(np.all((pull >= SURE_PULL * weight) & (air.pressure <= air.allowed)))
    pushes = np.asarray(push[0]), np.asarray(push[1])
    return Estimate(depth_of(base, one, high), hang_of(base, one, high), bundle, pushes, np.asarray(room), tip, sure)


def cornered(
    base: Basis, lines: LinesFound, deepest: Standing, tip: Array, layers: FoldLayers, made: MadeUp
) -> CornerFound:
    """Return the worst corner: the tightest of the lower line, at the depth `tip` [rows] [m] of the deepest fold.

    Layers that end so far off the corners that the folds do not cross there are left out.
    """
    folds = fold_count(base.project)
    radius = base.full(np.min(_radii(lines), axis=-1))
    past = crowded_past(tip, radius)
    there = layers.made(past)
    low, high = corner_bundle(tip, radius, there.thickness, there.loop, folds)
    above = room_for(base, deepest, made)
    planned = Corner(
        height=np.asarray(deepest.cloth[0]),
        gap=np.asarray(max(float(deepest.gap[0]), 0.0)),
        radius=np.asarray(radius[0]),
        outer=np.asarray(layers.thick("outer")),
        insulation=np.asarray(layers.thick("insulation")),
        lining=np.asarray(layers.thick("lining")),
        bending_length=np.asarray(made.loop[0]),
        outer_bending=np.asarray(layers.bends[0, layers.outer]),
    )
    one = Cavity(*(np.ravel(v)[0] for v in (above.lining, above.bar_back, above.bar_under)))
    return CornerFound(deepest.name, tip, radius, low, high, above.height_at(tip), planned, one)


def _radii(lines: LinesFound) -> Array:
    """Return the radius of each corner of the lower line [m], [rows, corners]: its arc over a quarter turn."""
    if not lines.lower.corners:
        return np.asarray(lines.lower.perimeter[..., None] / (2.0 * np.pi))
    begin, end = lines.lower.corner_arcs()
    return np.asarray((end - begin) / (np.pi / 2.0))
