"""What screens and pages show of the parts: text that is ready, and bars ready to be drawn.

Filled in one place from the answers; every text is plain text in the builder's units. Lengths to be drawn are in
metres.
"""

from __future__ import annotations

from dataclasses import dataclass

from loftwright.core.choices import Spelling, Units
from loftwright.core.fitting_views import CutPlan
from loftwright.core.views import Caution, CheckRow, Fact, Judged
from loftwright.core.work import PartStatus


@dataclass(frozen=True, slots=True)
class PartText:
    """One part of the list.

    `id` is the word that [[bought]] calls it by, `entry` which of these entries speaks of it, from nought, None where
    none does. `needed` is the amount with waste, `buy` what is bought of it, `price` of one unit and `cost` of what is
    bought or ordered; all empty where there is nothing to say. `status` says where it is; `source` names the key or the
    answer from which it comes. `own`: the builder added it.
    """

    id: str
    name: str
    needed: str
    buy: str
    price: str
    cost: str
    status: PartStatus
    ordered: str
    have: str
    note: str
    remark: str
    """What the builder noted."""
    source: str
    before_cut: bool
    own: bool
    entry: int | None
    per: str
    """Of how much its price is: "each", "a metre"."""


@dataclass(frozen=True, slots=True)
class PartsGroup:
    """The parts of one group under their title, with what they cost: "" where nothing in it has a price."""

    title: str
    lines: tuple[PartText, ...]
    planned: str


@dataclass(frozen=True, slots=True)
class BarText:
    """What is written at one bar: `title` over it, one length for each piece, and what is left over; all ready."""

    title: str
    lengths: tuple[str, ...]
    left_over: str = ""


@dataclass(frozen=True, slots=True)
class BarsText:
    """The bars of one section: how they are cut, ready to be drawn, with words for each bar.

    `says` puts it in a sentence; `said` are notes that stand under the drawing.
    """

    title: str
    says: str
    plan: CutPlan
    words: tuple[BarText, ...]
    said: tuple[str, ...]
    source: str


@dataclass(frozen=True, slots=True)
class PartsPage(Judged):
    """Everything said about the parts of one roof."""

    name: str
    subtitle: str
    says: str
    """How many parts, how many are there, and what they cost, in a sentence or two."""
    money: tuple[Fact, ...]
    """Planned, spent, left, set aside, and what has no price yet."""
    groups: tuple[PartsGroup, ...]
    bars: tuple[BarsText, ...]
    rows: tuple[CheckRow, ...]
    """All judgements, worst first."""
    cautions: tuple[Caution, ...]
    assumptions: tuple[str, ...]
    provenance: str
    units: Units
    made_with: str
    words: Spelling = "kerb"

    @property
    def lines(self) -> tuple[PartText, ...]:
        """Every part, in the order of the groups."""
        return tuple(line for group in self.groups for line in group.lines)
