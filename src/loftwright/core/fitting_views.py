"""Parts to buy, bars to cut and money, as plain records that every floor may hold."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, get_args

PartUnit = Literal["pieces", "m", "m2", "kg", "l"]
PartGroup = Literal[
    "frame",
    "sheet",
    "fasteners",
    "seal",
    "lifting",
    "hinges",
    "latches",
    "brace",
    "cloth",
    "windows",
    "timber",
    "laminate",
    "sealant",
    "electrics",
    "lining",
    "tools & protection",
]
UNITS: Final[tuple[PartUnit, ...]] = get_args(PartUnit)
GROUPS: Final[tuple[PartGroup, ...]] = get_args(PartGroup)
"""Groups in the order in which they are listed."""


@dataclass(frozen=True, slots=True)
class Part:
    """One thing that the design asks for.

    `quantity` is the net amount in `unit`, `waste` what is bought over it as a share of it [1]. It is sold in packs of
    `pack` units; `sold_as` says so in words ("bar of 6 m"), or `packed_in` names a pack whose size is to be said in the
    reader's units ("tin"). `source` is the key of the answer it comes from.
    `before_cut` says that it must be there before the roof is cut.
    """

    id: str
    name: str
    group: PartGroup
    quantity: float
    unit: PartUnit
    waste: float = 0.0
    pack: float = 1.0
    sold_as: str = ""
    source: str = ""
    note: str = ""
    before_cut: bool = True
    packed_in: str = ""


@dataclass(frozen=True, slots=True)
class PartLine:
    """A part as it is bought: `needed` with waste, in so many whole `packs` that hold `amount` together."""

    part: Part
    needed: float
    packs: int
    amount: float


@dataclass(frozen=True, slots=True)
class PartRow:
    """One line of the builder's own list, as a spreadsheet holds it.

    `price` is the lowest and the highest price of one unit (both the same once it is known), None where none is
    written; `bought` is what has been ordered or bought and `have` what lies in the garage, both in `unit`.
    """

    id: str
    name: str
    quantity: float
    unit: PartUnit
    price: tuple[float, float] | None = None
    bought: float = 0.0
    have: float = 0.0
    note: str = ""


@dataclass(frozen=True, slots=True)
class CutPiece:
    """A piece to cut: `label`, `length` over its longest edge [m], how far both `ends` are off square [rad]."""

    label: str
    length: float
    ends: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class StockBar:
    """A bar that is sold: `length` [m], `price` of one (None: not known), how many there are at most (None: any)."""

    length: float
    price: float | None = None
    at_most: int | None = None


@dataclass(frozen=True, slots=True)
class CutBar:
    """One bar and what is cut from it, in order from one end; `offcut` is what remains beyond the last cut [m]."""

    stock: StockBar
    pieces: tuple[CutPiece, ...]
    offcut: float


@dataclass(frozen=True, slots=True)
class CutPlan:
    """How all pieces are cut.

    `spent` is the measure that was made least: money where every bar has a price, else metres bought; no way of cutting
    takes less than `least` of it. `proved` says that no other way is better; `said` puts this in a sentence.
    `too_long` are pieces that no bar holds, `short_of` those for which the bars there are did not suffice.
    """

    bars: tuple[CutBar, ...]
    kerf: float
    measure: Literal["money", "metres"]
    spent: float
    least: float
    proved: bool
    said: str
    too_long: tuple[CutPiece, ...] = ()
    short_of: tuple[CutPiece, ...] = ()

    @property
    def length(self) -> float:
        """Length of all bars together [m]."""
        return sum(bar.stock.length for bar in self.bars)

    @property
    def waste(self) -> float:
        """Share of the bought length that ends in no piece: kerf and offcuts [1]."""
        used = sum(piece.length for bar in self.bars for piece in bar.pieces)
        return 1.0 - used / self.length if self.bars else 0.0


@dataclass(frozen=True, slots=True)
class MoneyBand:
    """A sum of money: `low` to `high` if every price is at its end; `likely` for 95 of 100 draws of the prices."""

    low: float
    high: float
    likely: tuple[float, float]

    @property
    def middle(self) -> float:
        """The sum with every price in the middle of its range."""
        return 0.5 * (self.low + self.high)


@dataclass(frozen=True, slots=True)
class GroupMoney:
    """What the parts of one group cost: planned in all, spent so far, left to pay."""

    group: PartGroup
    planned: MoneyBand
    spent: MoneyBand
    left: MoneyBand


@dataclass(frozen=True, slots=True)
class Money:
    """What everything costs, in `currency`; `unpriced` names the parts that are missing from the sums."""

    currency: str
    planned: MoneyBand
    spent: MoneyBand
    left: MoneyBand
    groups: tuple[GroupMoney, ...]
    unpriced: tuple[str, ...]
