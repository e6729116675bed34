"""Metres of every cloth: how its pieces lie on the roll, what is bought, what it costs and weighs, other ways to cut.

The quick layout is there at once; the long search on demand is kept and stands in its place while it is of the project
as it is. Layouts are of the planned roof; widths, spare, prices and weights run through every row.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Final

import numpy as np

from loftwright.answers.cloth_weight import Ends, Weight, compared, weight_of
from loftwright.answers.held_basis import Basis
from loftwright.answers.kept_walls import KeptWalls
from loftwright.answers.laying_job import CLEARANCE, ROLL, SHEETS, RollAsked, roll_pieces, rolls_of
from loftwright.answers.roll_rows import box_round, cut_area, in_rows, stitched_area
from loftwright.answers.views import wording
from loftwright.cloth.laying import faults, quick_layout
from loftwright.cloth.laying_shapes import RollPiece, narrowest
from loftwright.cloth.metres import (
    ENDS,
    STEP,
    Alternative,
    Metres,
    alternatives,
    judge_metres,
    judge_roll,
    length_to_buy,
    metres_of,
    split,
    up_the_wall,
)
from loftwright.cloth.roll_rules import WIDE
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.core.pattern import Layout, PatternPiece
from loftwright.core.wall_views import Freshness
from loftwright.core.wording import Wording
from loftwright.reference.sewing import ROLL_WIDTHS

if TYPE_CHECKING:
    from loftwright.answers.walled_pieces import PiecesFound

SHEET_WIDTH: Final = 1.37
"""Width of a roll of clear sheet, screen or curtain cloth [m]: common, 54 in, from memory."""
SIDES: Final = ("left wall", "right wall")
"""What the names of a side wall's pieces hold."""
IN_HALVES: Final = "each side wall in two halves"
WRITE_LAYER: Final = "write a [[layer]] for the outer cloth: its roll's width, weight and price"

SAID: Final = (
    "Clear sheet, insect screen and curtains are laid as rectangles in rows on a common roll.",
    "The weight of the cloth leaves out thread, tape, zips and the strip over the staples.",
)
NO_LAYER: Final = "No [[layer]] is written: all cloth is laid on one common roll, and nothing is known of its weight."


@dataclass(frozen=True, slots=True)
class RollFound:
    """One cloth: what is laid, how, and what it comes to.

    `asked`: its pieces; `quick`: the layout found at once; `kept`: one kept of an earlier search, None where none;
    `freshness` of that; `metres`: of the layout that counts; `buy` [m] and `price` (None where none is written), each
    [rows]; `net` and `cut`: area inside the stitch and the cut lines [m2], windows' holes off the latter; `others`:
    other ways of cutting.
    """

    asked: RollAsked
    quick: Layout
    kept: Layout | None
    freshness: Freshness
    metres: Metres
    buy: Array
    price: Array | None
    net: float
    cut: float
    others: tuple[Alternative, ...]

    @property
    def layout(self) -> Layout:
        """The layout that counts: the kept one while it is fresh, else the quick one."""
        return self.kept if self.kept is not None and self.freshness == "fresh" else self.quick


@dataclass(frozen=True, slots=True)
class MetresFound:
    """What is bought of every cloth, and of `sheets`, which are no [[layer]].

    `weight` of the cloth, None where no layer is written; `file_mass`: that of [forces] cloth_mass, which is what moves
    with the roof [kg], [rows]; `price` of all cloth with a price, [rows], None where none has one.
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    rolls: tuple[RollFound, ...]
    sheets: tuple[RollFound, ...]
    weight: Weight | None
    file_mass: Array
    price: Array | None

    @property
    def mass(self) -> Array | None:
        """Weight of all cloth with clear sheet as cut [kg], [rows]; None where no layer is written."""
        return None if self.weight is None else self.weight.mass

    @property
    def moving(self) -> Ends | None:
        """What of it moves with the roof, least and most [kg], [rows] each; None where no layer is written."""
        return None if self.weight is None else self.weight.moving


def the_metres(base: Basis, pieces: PiecesFound, kept: KeptWalls) -> MetresFound:
    """Return the metres of every cloth, with their judgements."""
    project, at = base.project, base.at
    rolls = tuple(_roll(base, asked, pieces.pieces, kept) for asked in rolls_of(project, pieces.pieces))
    sheets = tuple(
        _sheet(base, material, mine)
        for material in SHEETS
        if (mine := tuple(piece for piece in pieces.pieces if piece.material == material))
    )
    file_mass = base.full(at("forces.cloth_mass"))
    weight = weight_of(
        base,
        [(roll.asked.layer, roll.cut) for roll in rolls],
        [(sheet.asked.material, sheet.cut) for sheet in sheets],
    )
    priced = [roll.price for roll in rolls if roll.price is not None]
    return MetresFound(
        judged=_judged(base, rolls),
        said=(_bought(wording(project)), *SAID, *_said(base, rolls), *compared(base, weight, file_mass)),
        rolls=rolls,
        sheets=sheets,
        weight=weight,
        file_mass=file_mass,
        price=np.sum(priced, axis=0) if priced else None,
    )


def _judged(base: Basis, rolls: tuple[RollFound, ...]) -> tuple[Judged, ...]:
    if not base.project.layer:
        width = np.full(base.rows, ROLL[0] - 2.0 * ROLL[1])
        return (Judged(WIDE, None, width, unknown=WRITE_LAYER, missing="layer"),)
    found: list[Judged] = []
    for roll in rolls:
        usable = base.full(_usable(base, roll.asked.layer))
        upward = base.project.layer[roll.asked.layer or 0].grain == "up the wall"
        whole = [up_the_wall(piece) if upward else piece for piece in roll.asked.as_cut]
        # The widest piece tells of all that fit; each that does not is named.
        widest = max(whole, key=narrowest)
        told = [one for one in whole if one is widest or one.number in roll.asked.joined]
        named = (replace(one, number=f"{roll.asked.material}, {one.number}") for one in told)
        found += judge_roll(tuple(named), usable)
        found.append(judge_metres(roll.metres))
    return tuple(found)


def _usable(base: Basis, layer: int | None) -> Array:
    """Return the usable width of a layer's roll [m], [rows]."""
    if layer is None:
        return np.full(base.rows, ROLL[0] - 2.0 * ROLL[1])
    return np.asarray(base.at(f"layer.{layer}.roll_width") - 2.0 * base.at(f"layer.{layer}.selvedge"))


def _roll(base: Basis, asked: RollAsked, pieces: tuple[PatternPiece, ...], kept: KeptWalls) -> RollFound:
    project, layer = base.project, None if asked.layer is None else base.project.layer[asked.layer]
    quick = _quick(asked.pieces, asked.width, asked.material)
    old = next((one for one in kept.laid if one.material == asked.material), None)
    fresh: Freshness = "none" if old is None else kept.laid_is
    if old is not None and fresh == "fresh":
        wrong = abs(old.width - asked.width) > 1e-9 or faults(old, asked.pieces, clearance=CLEARANCE)
        fresh = "stale" if wrong else fresh
    counts = old if old is not None and fresh == "fresh" else quick
    width, selvedge = ROLL if layer is None else (layer.roll_width.nominal, layer.selvedge.nominal)
    spare = base.full(base.at("sewing.spare"))
    buy = np.round(np.ceil((counts.length + ENDS + spare) / STEP - 1e-9) * STEP, 6)
    price = None
    if layer is not None and layer.price is not None:
        price = np.asarray(buy * base.at(f"layer.{asked.layer}.price"))
    mine = [piece for piece in pieces if piece.number in {one.number for one in asked.as_cut}]
    others = _others(
        asked.as_cut,
        asked.width,
        tuple(round(wide - 2.0 * selvedge, 6) for wide in ROLL_WIDTHS if wide > width + 0.02)[:2],
        project.sewing.seam_allowance.nominal,
        project.sewing.spare.nominal,
        ()
        if project.walls.split_sides
        else tuple(one.number for one in mine if any(side in one.name for side in SIDES)),
    )
    metres = metres_of(
        counts,
        price=None if layer is None or layer.price is None else layer.price.nominal,
        spare=project.sewing.spare.nominal,
        roll=width,
    )
    net, cut = (sum(one(piece) * piece.count for piece in mine) for one in (stitched_area, cut_area))
    return RollFound(asked, quick, old, fresh, metres, buy, price, net, cut, others)


@lru_cache(maxsize=64)
def _quick(pieces: tuple[RollPiece, ...], width: float, material: str) -> Layout:
    """Return the quick layout; the same pieces are asked for with every change that leaves them alone.

    Pieces that no layout can take, as where a cut line crosses itself, are laid as rectangles round them.
    """
    try:
        return quick_layout(pieces, width, clearance=CLEARANCE, material=material)
    except ValueError:
        return in_rows(tuple(box_round(piece) for piece in pieces), width, material)


@lru_cache(maxsize=64)
def _others(
    pieces: tuple[RollPiece, ...],
    width: float,
    widths: tuple[float, ...],
    allowance: float,
    spare: float,
    halved: tuple[str, ...],
) -> tuple[Alternative, ...]:
    """Return other ways of cutting: height along the roll, the pieces `halved` in halves, wider rolls."""
    try:
        given = alternatives(pieces, width, widths=widths, allowance=allowance, clearance=CLEARANCE, spare=spare)
    except ValueError:
        return ()
    if not halved:
        return given
    parts = tuple(p for piece in pieces for p in (split(piece, 2, allowance) if piece.number in halved else (piece,)))
    first = given[0].buy
    buy = length_to_buy(_quick(parts, width, "").length, spare=spare)
    saved = None if first is None else round(first - buy, 6)
    return (*given[:2], Alternative(IN_HALVES, width, buy, saved), *given[2:])


def _sheet(base: Basis, material: str, pieces: tuple[PatternPiece, ...]) -> RollFound:
    """Return what is bought of a material that is no layer: rectangles round its pieces, on a common roll."""
    boxes = tuple(replace(box_round(piece), turns="quarter") for piece in roll_pieces(pieces, None))
    layout = in_rows(boxes, SHEET_WIDTH, material)
    asked = RollAsked(material, None, SHEET_WIDTH, boxes, boxes)
    buy = length_to_buy(layout.length, spare=0.0)
    metres = metres_of(layout, spare=0.0)
    net, cut = (sum(one(piece) * piece.count for piece in pieces) for one in (stitched_area, cut_area))
    return RollFound(asked, layout, None, "none", metres, np.full(base.rows, buy), None, net, cut, ())


def _bought(say: Wording) -> str:
    return (
        f"Ease, allowances and shrinkage are in the pieces; {say.length(ENDS)} are lost where both ends are cut "
        f"square, and cloth is sold by {say.length(STEP)}."
    )


def _said(base: Basis, rolls: tuple[RollFound, ...]) -> list[str]:
    found = [] if base.project.layer else [NO_LAYER]
    for roll in rolls:
        if roll.asked.joined:
            found.append(
                f"Wider than the roll of {roll.asked.material}: {', '.join(roll.asked.joined)}. They are laid as parts "
                "to be joined, with their height along the roll."
            )
    return found
