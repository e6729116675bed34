"""A bolted joint: a plate with holes, the layers that its bolts go through, and the load that it hands on.

The load acts on the plate at the origin of the plate's own axes: x and y in its plane, z square to it and away from
what it is bolted to. Rows come first in every array.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.motion import Array
from loftwright.reference.bolts import Bolt, BoltClass, proof_load
from loftwright.reference.sheets import Sheet
from loftwright.strength import bolts, thin_sheet
from loftwright.strength.bolt_groups import BoltForces, bolt_forces

METALS: Final = frozenset(("steel", "stainless steel", "aluminium"))
THIN: Final = 0.003
"""Metal below this is drawn over a head, above it is punched [m]; EN 1993-1-3 against EN 1993-1-8."""


@dataclass(frozen=True, slots=True)
class Factors:
    """Factors of safety [1], each one number or [rows]: settings, with their origin in `FACTOR_ORIGINS`.

    `bolt` and `action` go together on bolts and bearing in metal; the others stand alone on loads as they are.
    """

    bolt: float | Array = bolts.GAMMA_M2
    action: float | Array = bolts.GAMMA_ACTION
    pull: float | Array = thin_sheet.SAFETY
    both: float | Array = thin_sheet.SAFETY_BOTH
    laminate: float | Array = thin_sheet.LAMINATE_SAFETY
    wood: float | Array = thin_sheet.WOOD_SAFETY
    rivet: float | Array = 2.0


FACTOR_ORIGINS: Final[dict[str, Source]] = {
    "bolt": Source("en-1993-1-8", "Table 2.1, gamma M2, read in a public reproduction", "standard"),
    "action": Source("en-1990", "Table A1.2(B), leading changing load, from memory", "standard"),
    "pull": Source("aisi-s100", "J4, read in a public reproduction", "standard"),
    "both": Source("aisi-s100", "J4.5, read in a public reproduction", "standard"),
    "laminate": Source("judgement", "scatter of hand work, water, heat, long load", "judgement"),
    "wood": Source("judgement", "knots, wet, long load", "judgement"),
    "rivet": Source("judgement", "on the least tested load of the standard", "judgement"),
}


@dataclass(frozen=True, slots=True)
class Layer:
    """A layer that the bolts go through: its `thickness` and the least distance from a hole to its `edge` [m], [...].

    `share` is the part of the shear that it takes [1]: 0 for a core or a loose packer. `reach` is how far from the
    bolts the skin is held by a rib, ring or corner [m], None where nobody has measured. `spacer` says that tubes or
    solid inserts take the clamping. `fitting` says that it is the hinge, bracket or latch itself, whose own strength is
    judged elsewhere: here it only touches, clamps and sets the spacing.
    """

    sheet: Sheet
    thickness: ArrayLike
    edge: ArrayLike
    share: float = 1.0
    reach: ArrayLike | None = None
    spacer: bool = False
    fitting: bool = False


@dataclass(frozen=True, slots=True)
class Backing:
    """A backing plate under all nuts of a joint: `width` along x, `length` along y and `thickness` [m], [...]."""

    width: ArrayLike
    length: ArrayLike
    thickness: ArrayLike
    sheet: Sheet


@dataclass(frozen=True, slots=True)
class Joint:
    """A bolted joint: `points` of its holes [m], what it is bolted with, and its `layers` from head to nut.

    `points` are [bolts, 2] or [rows, bolts, 2]. `overhang` of the plate beyond its outer bolts [m], [...]; `washers`
    under head and nut [m], each [...]; `axes` are the plate's x, y
    and z as unit vectors of the van. `isolated` says that unlike metals are kept apart.
    """

    name: str
    points: tuple[tuple[float, float], ...] | Array
    bolt: Bolt
    grade: BoltClass
    layers: tuple[Layer, ...]
    overhang: ArrayLike = 0.0
    washers: tuple[ArrayLike, ArrayLike] | None = None
    backing: Backing | None = None
    isolated: bool = False
    axes: tuple[tuple[float, float, float], ...] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))

    @property
    def under(self) -> tuple[Array, Array]:
        """Diameters that bear under head and nut [m], each [...]; plain washers where none are given."""
        head, nut = self.washers or (self.bolt.washer, self.bolt.washer)
        return np.asarray(head, dtype=np.float64), np.asarray(nut, dtype=np.float64)

    @property
    def count(self) -> int:
        """How many bolts it has."""
        return int(np.asarray(self.points).shape[-2])

    @property
    def spacing(self) -> Array:
        """Least distance between two holes [m], [...]; infinite for one."""
        at = np.asarray(self.points, dtype=np.float64)
        one, other = np.triu_indices(self.count, 1)
        if one.size == 0:
            return np.asarray(np.inf)
        return np.asarray(np.linalg.norm(at[..., one, :] - at[..., other, :], axis=-1).min(axis=-1))

    @property
    def judged_layers(self) -> tuple[tuple[int, Layer], ...]:
        """The layers whose own strength is judged, each with its place from the head."""
        return tuple((i, layer) for i, layer in enumerate(self.layers) if not layer.fitting)

    @property
    def share_of_backing(self) -> Array:
        """Width of the backing plate that belongs to one bolt [m], [...]; infinite without a plate."""
        plate = self.backing
        if plate is None:
            return np.asarray(np.inf)
        width, length = (np.asarray(v, dtype=np.float64) for v in (plate.width, plate.length))
        return np.minimum(np.minimum(width, length), self.spacing)


def to_plate(joint: Joint, vector: ArrayLike) -> Array:
    """Return a force [N] or moment [N m], a `vector` of the van [..., 3], along the plate's axes."""
    return np.asarray(np.asarray(vector, dtype=np.float64) @ np.asarray(joint.axes, dtype=np.float64).T)


def shared(joint: Joint, force: ArrayLike, moment: ArrayLike) -> BoltForces:
    """Return what each bolt of a joint carries under `force` [N] and `moment` [N m] along its axes, each [..., 3]."""
    return bolt_forces(joint.points, force, moment, edge=joint.overhang)


def safety_of(sheet: Sheet, factors: Factors) -> float | Array:
    """Return the factor on bearing and tear-out of a sheet [1], one number or [rows]."""
    if sheet.family in METALS:
        return factors.bolt * factors.action
    return factors.laminate if sheet.family == "laminate" else factors.wood


def bearing_limit(joint: Joint, layer: Layer, factors: Factors) -> Array:
    """Return the shear that one bolt may put on a layer [N], [...]: bearing and tear-out, whichever is less.

    Metal: EN 1993-1-8 Table 3.4 with the edge taken as near both ways, its limit for one row, and below 3 mm
    EN 1993-1-3 Table 8.4. Other sheets: d t f, and tear-out.
    """
    bolt, sheet = joint.bolt, layer.sheet
    t, edge = np.asarray(layer.thickness, dtype=np.float64), np.asarray(layer.edge, dtype=np.float64)
    torn = thin_sheet.tear_out(edge, bolt.hole, t, sheet.shear)
    if sheet.family in METALS:
        alpha, k1 = bolts.edge_factors(bolt.hole, edge, edge, joint.spacing, joint.spacing)
        borne = np.minimum(
            bolts.bearing_resistance(bolt.diameter, t, sheet.tensile, joint.grade.tensile, alpha, k1, 1.0),
            bolts.one_row_resistance(bolt.diameter, t, sheet.tensile, 1.0),
        )
        thin = bolts.thin_bearing_resistance(bolt.diameter, t, sheet.tensile, edge, 1.0)
        borne = np.where(t < THIN, np.minimum(borne, thin), borne)
    else:
        borne = bolt.diameter * t * sheet.bearing
    return np.asarray(np.minimum(borne, torn) / safety_of(sheet, factors))


def held_diameter(joint: Joint, layer: Layer, side: int) -> Array:
    """Return the diameter that holds an end layer at one bolt [m], [...]: its washer or what the backing plate spreads.

    `side` is 0 for the head's end and 1 for the nut's, where the backing plate lies.
    """
    washer, plate = joint.under[side], joint.backing
    if plate is None or side == 0:
        return np.asarray(washer, dtype=np.float64)
    line = np.asarray(layer.thickness, dtype=np.float64) * layer.sheet.through
    return thin_sheet.spread_diameter(washer, joint.share_of_backing, plate.thickness, plate.sheet.yields, line)


def pull_limit(joint: Joint, layer: Layer, side: int, factors: Factors) -> Array:
    """Return the pull at which one bolt's head or nut (`side` 0 or 1) goes through an end layer [N], [...], made safe.

    Thin metal by pull-over (the cap on washers does not count for a backing plate: judgement), thick metal by
    punching, other sheets by shear on the rim.
    """
    sheet, t = layer.sheet, np.asarray(layer.thickness, dtype=np.float64)
    wide = held_diameter(joint, layer, side)
    if sheet.family not in METALS:
        return np.asarray(thin_sheet.pull_through(wide, t, sheet.through) / safety_of(sheet, factors))
    cap = np.inf if joint.backing is not None and side == 1 else thin_sheet.WASHER_CAP
    drawn = thin_sheet.pull_over(wide, t, sheet.tensile, cap) / factors.pull
    punched = bolts.punching_resistance(joint.bolt.mean_head, t, sheet.tensile, factors.bolt * factors.action)
    return np.where(t < THIN, drawn, punched)


def clamp_limit(joint: Joint, factors: Factors) -> Array:
    """Return the pull to which the bolts may be tightened before a layer is crushed [N], [...]; metal sets none.

    Inner layers are pressed over a cone from the outer ones, taken as the washer alone: on the safe side. A fitting at
    the head's end is stiff and spreads the head's pressure: judgement.
    """
    most: Array = np.asarray(np.inf)
    head, nut = joint.under
    if joint.layers[0].fitting:
        head = np.asarray(np.inf)
    wide = np.minimum(head, nut if joint.backing is None else joint.share_of_backing)
    for layer in joint.layers:
        if layer.sheet.family in METALS or layer.spacer:
            continue
        safety = safety_of(layer.sheet, factors)
        most = np.minimum(most, thin_sheet.crush_limit(wide, joint.bolt.hole, layer.sheet.crush, safety))
    return most


def tightened(joint: Joint, factors: Factors) -> Array:
    """Return the pull to which each bolt is tightened [N], [...]: a share of its proof load, less where it crushes."""
    soft = any(layer.sheet.family not in METALS for layer in joint.layers)
    share = bolts.SOFT_SHARE if soft else bolts.PRELOAD_SHARE
    return bolts.preload(proof_load(joint.bolt, joint.grade), share, clamp_limit(joint, factors))
