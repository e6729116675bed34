"""What parts cost: by the builder's own prices, else by the table that comes along, else not known yet.

The table prices some parts together: fastenings, sealant and primer, blades and protection as one set each, the trim of
the cloth by the metre. Such a set stands in the sums for those of its parts that have no price of the builder's.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from loftwright.answers.draws import Input
from loftwright.answers.part_lines import Asked, BarSection
from loftwright.core.fitting_views import PartGroup, PartLine
from loftwright.core.uncertain import Provenance, Uncertain, even
from loftwright.plan.cost import Price
from loftwright.plan.money import Account
from loftwright.plan.scout import ANY_SKIN

MOST: Final = 1e7
"""No price is higher [price]."""
ONE_OF: Final[dict[str, tuple[str, float]]] = {
    "rim-seal": ("rim seal", 1.0),
    "latch": ("latch", 1.0),
    "safety-catch": ("safety catch", 1.0),
    "prop": ("prop", 1.0),
    "lip-strap": ("lip strap", 1.0),
    "stop-strap": ("lip strap", 1.0),
    "spring-bracket": ("spring bracket", 1.0),
    "ball-stud": ("ball stud", 1.0),
    "hinge": ("hinge pair", 0.5),
    "arm-set": ("lifting arm set", 1.0),
}
"""Parts of the table by our ids, and how many of them one of ours is."""
SETS: Final[tuple[tuple[str, PartGroup], ...]] = (
    ("fastenings", "fasteners"),
    ("sealant and primer", "sealant"),
    ("blades and protection", "tools & protection"),
)
"""Sets of the table, each standing for one group."""
PLATES: Final = "backing-plate"
"""So begin the ids of backing plates: the table's fastenings hold them."""
TRIM: Final = "cloth trim"
TRIMMED: Final = ("batten", "staples", "cover-strip")
"""Parts that the table prices together by the metre of edge."""


@dataclass(frozen=True, slots=True)
class PriceOf:
    """Price of one unit of a part: the `path` of what is drawn, the value, and whose it is.

    `of` is "yours", "your layer's" or "table", with the table's `basis` in words.
    """

    path: str
    value: Uncertain
    of: str
    basis: str = ""

    @property
    def ends(self) -> tuple[float, float]:
        """The lowest and the highest price."""
        return self.value.low, self.value.high


@dataclass(frozen=True, slots=True)
class SetPrice:
    """A set for the parts with these `ids`, so far as they have no price of their own; it is listed in `group`."""

    name: str
    group: PartGroup
    ids: frozenset[str]
    price: PriceOf


def table_prices(
    asked: Asked, lines: Sequence[PartLine], bars: Sequence[BarSection], table: Mapping[str, Price]
) -> dict[str, PriceOf]:
    """Return the table's prices of single parts by their ids; none in another currency than the project's."""
    ring = next((one.id for one in bars if one.group == "frame"), "")
    bar = asked.number("plan.bar")
    found = {}
    for line in lines:
        part = line.part
        known = ONE_OF.get(part.id)
        if part.id == ring:
            known = ("ring section", bar)
        elif part.id.startswith("gas-spring"):
            known = ("gas spring pair", 0.5)
        elif part.id == "shell-skin":
            made = asked.project.shell.made_of
            known = (ANY_SKIN if made == "unknown" else f"shell skin of {made}", 1.0)
        elif part.id.startswith("cloth-"):
            known = ("wall cloth", _roll_width(asked, part.name))
        priced = None if known is None else _price(asked, table, known[0], part.id, part.name, known[1])
        if priced is not None:
            found[part.id] = priced
    return found


def _roll_width(asked: Asked, name: str) -> float:
    """Return the width of the roll that a cloth comes from [m]."""
    rolls = asked.walls.found.metres.rolls
    return next((roll.metres.width for roll in rolls if name.startswith(f"{roll.asked.material or 'cloth'},")), 1.5)


def set_prices(asked: Asked, lines: Sequence[PartLine], table: Mapping[str, Price]) -> tuple[SetPrice, ...]:
    """Return the table's prices of parts that it knows only together."""
    found = []
    for name, group in SETS:
        ids = frozenset(
            line.part.id
            for line in lines
            if line.part.group == group or (group == "fasteners" and line.part.id.startswith(PLATES))
        )
        price = _price(asked, table, name, f"set {name}", f"{name}, as one set", 1.0)
        if ids and price is not None:
            found.append(SetPrice(f"{name}, as one set", group, ids, price))
    ids = frozenset(line.part.id for line in lines if line.part.id in TRIMMED)
    metres = sum(line.needed for line in lines if line.part.id == "batten")
    price = _price(asked, table, TRIM, f"set {TRIM}", "trim of the cloth", metres)
    if ids and metres and price is not None:
        found.append(SetPrice("strip, staples and cover of the cloth's edges", "cloth", ids, price))
    return tuple(found)


def _price(asked: Asked, table: Mapping[str, Price], name: str, id_: str, words: str, factor: float) -> PriceOf | None:
    price = table.get(name)
    if price is None or price.currency != asked.project.settings.currency:
        return None
    value = even(price.low * factor, price.high * factor, Provenance.ASSUMED)
    return PriceOf(f"price of {id_}", value, "table", f"{price.dated}, {price.basis}")


def inputs_for(prices: Iterable[tuple[PriceOf, str]]) -> dict[str, Input]:
    """Return the table's prices, each with the name of its part, as inputs that can be drawn."""
    return {
        price.path: Input(price.value, 0.0, MOST, f"ask a shop for the price of {name}")
        for price, name in prices
        if price.of == "table"
    }


def set_account(one: SetPrice, lines: Sequence[PartLine], accounts: Mapping[str, Account]) -> Account:
    """Return a set in money: as much of it as parts in it are still lacking and have no price of their own.

    left = open parts / all parts in the set                                                 (1)
    """
    mine = [line for line in lines if line.part.id in one.ids]
    open_ = [line for line in mine if accounts[line.part.id].price is None and accounts[line.part.id].left > 0.0]
    share = len(open_) / len(mine)
    return Account(one.price.path, one.name, one.group, share, 0.0, share, 0.0, one.price.ends)
