"""Metres of each cloth to buy, its waste and price, and what another way of cutting would save.

Shrinkage is in the pieces already. Lengths in metres.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.cloth.laying import quick_length
from loftwright.cloth.laying_shapes import RollPiece, narrowest, turned
from loftwright.cloth.roll_rules import LEFT_OVER, MOST_LEFT, WIDE
from loftwright.core.judged import Judged, against
from loftwright.core.pattern import Layout

STEP: Final = 0.1
"""Cloth is sold by this [m]: common practice."""
ENDS: Final = 0.05
"""What is lost where both ends of the piece bought are cut square [m]: judgement."""
SPARE: Final = 0.5
"""A square for the shrinkage test [m]: common practice."""


@dataclass(frozen=True, slots=True)
class Metres:
    """What to buy of one cloth: lengths [m], areas [m2], waste [1], price [price]."""

    material: str
    width: float
    laid: float
    """Length of the layout."""
    buy: float
    """Length to buy: laid, ends and spare, rounded up."""
    used: float
    """Area of the pieces."""
    waste: float
    """Share of what is bought that ends in no piece."""
    price: float | None


@dataclass(frozen=True, slots=True)
class Alternative:
    """Another way of cutting: length to buy and length saved [m], both from quick layouts; None where it cannot be."""

    name: str
    width: float
    buy: float | None
    saved: float | None


def length_to_buy(laid: float, *, ends: float = ENDS, spare: float = SPARE, step: float = STEP) -> float:
    """Return what to buy for a layout of length `laid` [m]: with `ends` and `spare` [m], rounded up to `step` [m].

    >>> length_to_buy(3.23), length_to_buy(3.25)
    (3.8, 3.8)
    """
    return round(math.ceil((laid + ends + spare) / step - 1e-9) * step, 6)


def metres_of(
    layout: Layout, *, price: float | None = None, ends: float = ENDS, spare: float = SPARE, roll: float | None = None
) -> Metres:
    """Return what to buy for a layout at `price` a metre [price/m], with `ends` and `spare` [m].

    roll: full width of the roll [m], selvedges included; waste counts against it. Left out: the usable width.
    """
    buy = length_to_buy(layout.length, ends=ends, spare=spare)
    width = layout.width if roll is None else roll
    waste = 1.0 - layout.area / (buy * width)
    return Metres(
        layout.material, width, layout.length, buy, layout.area, waste, None if price is None else price * buy
    )


def up_the_wall(piece: RollPiece) -> RollPiece:
    """Return the piece a quarter turned: its height along the roll."""
    points = turned(piece.points, math.pi / 2.0)
    return replace(piece, outline=tuple((float(x), float(y)) for x, y in points))


def split(piece: RollPiece, parts: int, allowance: float) -> tuple[RollPiece, ...]:
    """Return a piece cut into `parts` of equal width along x, each with `allowance` [m] at its new seams.

    What is added at a new seam is the neighbour's own cloth, so both lie true when sewn along the cut.
    """
    from shapely.geometry import Polygon, box

    if parts < 2:
        return (piece,)
    shape = Polygon(piece.points)
    left, bottom, right, top = shape.bounds
    found = []
    for k in range(parts):
        begin, end = (left + (right - left) * i / parts for i in (k, k + 1))
        part = shape.intersection(box(begin - allowance, bottom - 1.0, end + allowance, top + 1.0))
        pieces = list(part.geoms) if hasattr(part, "geoms") else [part]
        for n, one in enumerate(p for p in pieces if p.geom_type == "Polygon"):
            name = f"{piece.number}{chr(ord('a') + k)}" + (str(n + 1) if n else "")
            found.append(replace(piece, number=name, outline=tuple((x, y) for x, y in one.exterior.coords[:-1])))
    return tuple(found)


def split_to_fit(pieces: tuple[RollPiece, ...], width: float, allowance: float) -> tuple[RollPiece, ...]:
    """Return the pieces with their height along the roll, split so that each fits across `width` [m].

    allowance: cloth on each side of a new seam [m].
    """
    found: list[RollPiece] = []
    for piece in pieces:
        long = float(np.ptp(piece.points[:, 0]))
        parts = 1
        while long / parts + (2.0 * allowance if parts > 1 else 0.0) > width and parts < 50:
            parts += 1
        found += [up_the_wall(part) for part in split(piece, parts, allowance)]
    return tuple(found)


def alternatives(
    pieces: tuple[RollPiece, ...],
    width: float,
    *,
    widths: tuple[float, ...] = (),
    allowance: float = 0.02,
    clearance: float = 0.002,
    ends: float = ENDS,
    spare: float = SPARE,
) -> tuple[Alternative, ...]:
    """Return what to buy as asked, with the height along the roll, and from rolls of other usable `widths` [m].

    width: of the roll asked for [m]; allowance: at a new seam [m]; clearance: between pieces [m]; ends and spare
    [m]. All by the quick layout, so that like stands beside like; the true layout is a little shorter.
    """

    def bought(some: tuple[RollPiece, ...], across: float) -> float | None:
        if any(narrowest(piece) > across for piece in some):
            return None
        return length_to_buy(quick_length(some, across, clearance=clearance), ends=ends, spare=spare)

    first = bought(pieces, width)
    upward = split_to_fit(pieces, width, allowance)
    more = sum(p.count for p in upward) - sum(p.count for p in pieces)
    seams = f", {more} more {'seam' if more == 1 else 'seams'}" if more else ""
    ways = [
        ("wall length along the roll", width, first),
        (f"wall height along the roll{seams}", width, bought(upward, width)),
        *((f"a roll of {other:.2f} m usable", other, bought(pieces, other)) for other in widths),
    ]
    return tuple(
        Alternative(name, across, buy, None if buy is None or first is None else round(first - buy, 6))
        for name, across, buy in ways
    )


def judge_roll(pieces: tuple[RollPiece, ...], width: ArrayLike) -> list[Judged]:
    """Return for each piece its narrowest lie against the usable `width` of the roll [m], [rows]."""
    return [against(WIDE, narrowest(piece), width, piece.number) for piece in pieces]


def judge_metres(metres: Metres) -> Judged:
    """Return whether half of the roll or more is left over.

    Left over counts the length laid alone: ends and test strip are wanted.
    """
    left = 1.0 - metres.used / (metres.laid * metres.width) if metres.laid > 0.0 else 0.0
    return against(LEFT_OVER, left, MOST_LEFT, metres.material)
