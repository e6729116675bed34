"""The hole in the roof, in its plane: corners, what a look behind the lining found, racking, twist, the cut plan."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.answers.held_cut_line import CutPlan, corners, cut_plan, survey, tape
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.project.assemble_opening import (
    GEOMETRY,
    Bows,
    Parts,
    cut_sheet,
    ring_metal,
    skin_metal,
)
from loftwright.reference.metals import METALS
from loftwright.reference.sections import STOCK_SECTIONS, StockSection
from loftwright.strength.cutout import HoleFactor
from loftwright.strength.racking import CutSkin, Racking, cut_skin, judge_racking, racking
from loftwright.strength.racking_edges import Sheet
from loftwright.strength.sections import section_of
from loftwright.strength.torsion import BodyWall, TorsionRange, torsion_range

FINE: Final = 5
"""Elements over each margin for the nominal roof: within 1 % of the limit of finer ones."""
COARSE: Final = 2
"""The same for how sizes that are not known shift it: only its ratio to a roof solved alike is used."""
SAME: Final = 0.001
"""Sizes that differ by less than this [m] are not solved apart."""

SIDES_LEFT: Final = (0.05, 0.5)
"""Share of its stiffness in shear that a side wall with doors and windows keeps [1]: judgement."""
FLOOR_LEFT: Final = (0.5, 1.0)
"""The same of the floor [1]: judgement."""
FLOOR_HEIGHT: Final = 0.45
"""Height of a van's floor over the ground [m]: judgement; only the ratio of wall lengths counts."""
LEAST_WALL: Final = 0.5


@dataclass(frozen=True, slots=True)
class CutFound:
    """What the hole does to the roof in its plane.

    `along` and `across`: peak stress over even stress at the corners for a pull along and across the van, [rows], None
    without a radius. `racking`: stiffness [N/m], [rows], for edges free to stretch and for edges that keep their
    length, between which a body lies. `rigid_frame_kept` [1] is what a rigid frame would make one believe, a warning.
    `torsion`: range [rows] with reasons. `tape_cut`, `tape_ring`: share of stiffness against twist kept by the tape
    [1], [rows]. `mass` of what is sawn out [kg], [rows]. `skin` is ready for further rings.
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    plan: CutPlan
    along: HoleFactor | None
    across: HoleFactor | None
    racking: tuple[Racking, Racking]
    rigid_frame_kept: float
    torsion: TorsionRange
    tape_cut: Array | None
    tape_ring: Array | None
    mass: Array
    skin: CutSkin


@lru_cache(maxsize=96)
def solved(sheet: Sheet, poisson: float, fineness: int) -> CutSkin:
    """Return a cut skin, solved once; `poisson` [1]."""
    return cut_skin(sheet, poisson=poisson, fineness=fineness)


def cut_found(base: Basis, bows: Bows, ring: Parts) -> CutFound:
    """Return what the hole does to the roof in its plane, with this `ring` round it."""
    at, project = base.at, base.project
    found, skin = _racking(base, ring)
    torsion = _torsion(base, found)
    round_corners, along, across = corners(base)
    taped, tape_cut, tape_ring = tape(base)
    judged = (
        *round_corners,
        *judge_racking(found, least_gain=base.full(at("ring.gain_wanted"))),
        *taped,
        *survey(project.cut.cables, project.cut.air_bags, project.cut.lining),
    )
    said = (
        "The roof's skin is taken as flat and elastic between edges that bracket a real body; wrinkling comes earlier.",
        f"The twist of the body is a range: side walls are taken to keep {SIDES_LEFT[0]:.0%} to {SIDES_LEFT[1]:.0%} of "
        f"their stiffness past doors and windows, the floor {FLOOR_LEFT[0]:.0%} to {FLOOR_LEFT[1]:.0%}.",
        "The hole is taken to lie in the middle of the roof's width.",
    )
    return CutFound(
        judged,
        said,
        cut_plan(base, bows),
        along,
        across,
        found,
        skin.rigid_frame_kept,
        torsion,
        tape_cut,
        tape_ring,
        _sawn_out(base, bows),
        skin,
    )


def _racking(base: Basis, ring: Parts) -> tuple[tuple[Racking, Racking], CutSkin]:
    """Return the roof's racking for every row.

    Skin and ring count row by row. What lays out the hole (`GEOMETRY`) is solved for the nominal roof and, coarser,
    with each size that is not known alone at both ends; in between the logarithms of what is kept run straight, and
    those of several sizes add (1). Exact for the nominal row, and at the ends of one size but for the coarser mesh.
    """
    metal = skin_metal(base.project)
    thickness, young = base.full(base.at("body.skin")), ring_metal(base.project).young
    columns = [base.full(base.at(path)) for path in GEOMETRY]
    nominal = [float(column[0]) for column in columns]
    skin = solved(cut_sheet(*nominal), metal.poisson, FINE)
    exact = racking(
        skin,
        thickness=thickness,
        modulus=metal.young,
        ring_modulus=young,
        ring_area=base.full(ring.area),
        ring_inertia=base.full(ring.sway),
    )

    def kept(sizes: list[float]) -> Array:
        pair = racking(
            solved(cut_sheet(*sizes), metal.poisson, COARSE),
            thickness=float(thickness[0]),
            modulus=metal.young,
            ring_modulus=young,
            ring_area=float(ring.area[0]),
            ring_inertia=float(ring.sway[0]),
        )
        return np.asarray(np.log([float(share) for one in pair for share in (one.kept_cut, one.kept_ring)]))

    shift = np.zeros((base.rows, 4))
    apart = [i for i, column in enumerate(columns) if column.max() - column.min() > SAME]
    rough = kept(nominal) if apart else np.zeros(4)
    for i in apart:
        places = {nominal[i]: np.zeros(4)}
        for end in (float(columns[i].min()), float(columns[i].max())):
            if abs(end - nominal[i]) > SAME:
                places[end] = kept([*nominal[:i], end, *nominal[i + 1 :]]) - rough
        shift += between(columns[i], places)
    found = []
    for k, one in enumerate(exact):
        cut = one.intact * one.kept_cut * np.exp(shift[:, 2 * k])
        with_ring = one.intact * one.kept_ring * np.exp(shift[:, 2 * k + 1])
        found.append(replace(one, cut=cut, ring=np.maximum(with_ring, cut)))
    return (found[0], found[1]), skin


def between(value: Array, places: dict[float, Array]) -> Array:
    """Return numbers [rows, n] for every `value` [rows], straight between those known at some `places` of it."""
    known = sorted(places)
    table = np.stack([places[x] for x in known])
    return np.stack([np.interp(value, known, column) for column in table.T], axis=-1)


def racking_of_stock(found: CutFound, base: Basis, stock: tuple[StockSection, ...] = STOCK_SECTIONS) -> Array:
    """Return the share of the whole skin's stiffness kept by rings of stock sections [1], [sections, 2]: low, high."""
    sections = [section_of(one) for one in stock]
    pair = racking(
        found.skin,
        thickness=float(base.at("body.skin")[0]),
        modulus=skin_metal(base.project).young,
        ring_modulus=[METALS[one.metal].young for one in stock],
        ring_area=[one.area for one in sections],
        ring_inertia=[one.iy for one in sections],
    )
    return np.sort(np.stack([one.kept_ring for one in pair], axis=-1), axis=-1)


def _torsion(base: Basis, found: tuple[Racking, Racking]) -> TorsionRange:
    at = base.at
    across, skin = at("body.roof_width"), at("body.skin")
    side = np.maximum(at("body.height") - FLOOR_HEIGHT, LEAST_WALL)
    walls = (
        BodyWall("left side", side, skin, *SIDES_LEFT),
        BodyWall("right side", side, skin, *SIDES_LEFT),
        BodyWall("floor", across, skin, *FLOOR_LEFT),
    )
    return torsion_range(
        walls,
        roof_length=across,
        roof_thickness=skin,
        poisson=skin_metal(base.project).poisson,
        kept_cut=(found[0].kept_cut, found[1].kept_cut),
        kept_ring=(found[0].kept_ring, found[1].kept_ring),
    )


def _sawn_out(base: Basis, bows: Bows) -> Array:
    """Return the mass of the skin and of the bows' pieces that are sawn out [kg], [rows]."""
    length, width = base.full(base.at("opening.length")), base.full(base.at("opening.width"))
    metal = skin_metal(base.project)
    kept = np.array([bow.kept for bow in base.project.bow], dtype=np.bool_)
    sawn = (bows.place > 0.0) & (bows.place < length[:, None]) & ~kept
    area = np.where(sawn, bows.area, 0.0).sum(axis=-1)
    return np.asarray(metal.density * width * (length * base.at("body.skin") + area))
