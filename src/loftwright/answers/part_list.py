"""Everything that the design implies as one list, how its bars are cut, and what it costs.

From the answers on fit, strength and walls, and from keys of the file. Amounts are those of the roof as planned; prices
run through every row. The order of computing stands in `part_list`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

import numpy as np

from loftwright.answers.draws import Input, Rows, rows
from loftwright.answers.judged_roof import inputs_of
from loftwright.answers.judging import decide
from loftwright.answers.kept_walls import NOTHING_KEPT, KeptWalls
from loftwright.answers.part_design import SectionCut, designed
from loftwright.answers.part_lines import Asked, BarSection
from loftwright.answers.part_prices import (
    PriceOf,
    SetPrice,
    inputs_for,
    set_account,
    set_prices,
    table_prices,
)
from loftwright.core.checks import Check, Outcome, worst_first
from loftwright.core.fitting_views import UNITS, Money, PartLine, PartRow, PartUnit
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.plan.money import Account, accounts, money_of
from loftwright.plan.part_rules import TOO_DEAR, judge_cutting, judge_parts
from loftwright.plan.parts import line_of, listed
from loftwright.project.catalogues import read_prices
from loftwright.project.model import Project

NO_TABLE: Final = "Prices of the table are in {}, not in {}: they are left out of the sums."
UNIT_NOTE: Final = "in "
"""A part of the builder's own that is not counted in pieces has its unit at the beginning of its note: "in m; ..."."""


@dataclass(frozen=True, slots=True)
class PartsFound:
    """Everything on the parts of one project.

    `lines` are the design's, `rows` the builder's list: every line and then the builder's own parts, with the price
    that counts. `accounts` go with `rows`, then those of sets. `prices` by id; `entries`: number in [[bought]] by id.
    `cost`: planned, of all that has a price, for every drawn row [price], [rows].
    """

    project: Project
    drawn: Rows
    lines: tuple[PartLine, ...]
    rows: tuple[PartRow, ...]
    accounts: tuple[Account, ...]
    sets: tuple[SetPrice, ...]
    money: Money
    prices: Mapping[str, PriceOf]
    entries: Mapping[str, int]
    cuts: tuple[SectionCut, ...]
    cost: Array

    @property
    def own(self) -> tuple[PartRow, ...]:
        """The parts that the builder added."""
        return self.rows[len(self.lines) :]

    def account(self, id_: str) -> Account:
        """Return one part, or one set, in money."""
        return next(one for one in self.accounts if one.id == id_)


@lru_cache(maxsize=2)
def part_list(project: Project, kept: KeptWalls = NOTHING_KEPT) -> Outcome[PartsFound]:
    """Return everything that is bought, how bars are cut and what it costs, worst judgement first.

    Raises ProjectFault or CannotAssemble when the planned roof cannot be put together.
    """
    inputs = inputs_of(project)
    # What the design asks for: it does not hang on what is bought or done.
    design = designed(project.model_copy(update={"bought": (), "todo": ()}), kept)
    asked, cuts = replace(design.asked, project=project), design.cuts
    # What of it is bought.
    entries = {one.part: number for number, one in enumerate(project.bought)}
    lines = tuple(_counted(line, project, entries) for line in listed(design.parts))
    table = read_prices()
    prices = _prices(asked, lines, [cut.section for cut in cuts], entries)
    sets = set_prices(asked, lines, table)
    builder = (*(_row(line, project, entries, prices) for line in lines), *_own(project, lines, prices))
    found = accounts(lines, builder)
    by_id = {one.id: one for one in found}
    found = (*found, *(one for one in (set_account(s, lines, by_id) for s in sets) if one.left > 0.0))
    money = _money(found, sets, project)
    # What is judged.
    drawn = _drawn(project, inputs, prices, sets, builder)
    cost = _cost(found, prices, sets, drawn)
    judged = (*_judge_money(project, lines, found, cost, drawn, money), *_judge_bars(cuts, drawn))
    possible = np.ones(drawn.count, dtype=bool)
    checks = tuple(_of_file(decide(one, drawn, possible), inputs) for one in judged)
    said = list(design.said)
    currencies = {price.currency for price in table.values()} - {project.settings.currency}
    said += [NO_TABLE.format(currency, project.settings.currency) for currency in sorted(currencies)]
    said += _said(project, lines, entries)
    return Outcome(
        PartsFound(project, drawn, lines, builder, found, sets, money, prices, entries, cuts, cost),
        worst_first(checks),
        tuple(dict.fromkeys(said)),
    )


# --- bars ------------------------------------------------------------------------------------------


def _judge_bars(cuts: Sequence[SectionCut], drawn: Rows) -> tuple[Judged, ...]:
    """Return whether every piece comes out of a bar; metal bars are as long as every row has them."""
    found: list[Judged] = []
    for cut in cuts:
        for one in judge_cutting(cut.plan, cut.stock, cut.section.name, drawn.count):
            found.append(replace(one, limit=drawn("plan.bar")) if cut.metal else one)
    return tuple(found)


# --- what is bought --------------------------------------------------------------------------------


def _counted(line: PartLine, project: Project, entries: Mapping[str, int]) -> PartLine:
    """Return a line with the builder's own count and name, where there are any."""
    number = entries.get(line.part.id)
    if number is None:
        return line
    written = project.bought[number]
    part = line.part if written.name is None else replace(line.part, name=written.name)
    if written.count is None:
        return PartLine(part, line.needed, line.packs, line.amount)
    return line_of(replace(part, quantity=written.count.nominal, waste=0.0))


def _prices(
    asked: Asked, lines: Sequence[PartLine], bars: Sequence[BarSection], entries: Mapping[str, int]
) -> dict[str, PriceOf]:
    """Return what one unit of each part costs: by the table, over it by the layers, over these by [[bought]]."""
    project = asked.project
    found = table_prices(asked, lines, bars, read_prices())
    for id_, path in _layers(asked).items():
        number = int(path.split(".")[1])
        price = project.layer[number].price
        if price is not None:
            found[id_] = PriceOf(path, price, "your layer's")
    for id_, number in entries.items():
        price = project.bought[number].price
        if price is not None:
            found[id_] = PriceOf(f"bought.{number}.price", price, "yours")
    return found


def _layers(asked: Asked) -> dict[str, str]:
    """Return the keys of the layers' prices by the ids of their cloth."""
    found: dict[str, str] = {}
    for roll in asked.walls.found.metres.rolls:
        if roll.asked.layer is None:
            continue
        role = asked.project.layer[roll.asked.layer].role
        like = sum(id_ == f"cloth-{role}" or id_.startswith(f"cloth-{role}-") for id_ in found)
        id_ = f"cloth-{role}" if like == 0 else f"cloth-{role}-{like + 1}"
        found[id_] = f"layer.{roll.asked.layer}.price"
    return found


def _row(line: PartLine, project: Project, entries: Mapping[str, int], prices: Mapping[str, PriceOf]) -> PartRow:
    part, price = line.part, prices.get(line.part.id)
    ends = None if price is None else price.ends
    number = entries.get(part.id)
    if number is None:
        return PartRow(part.id, part.name, line.needed, part.unit, ends)
    written = project.bought[number]
    return PartRow(
        part.id,
        part.name,
        line.needed,
        part.unit,
        ends,
        written.ordered.nominal,
        written.have.nominal,
        written.note or "",
    )


def _own(project: Project, lines: Sequence[PartLine], prices: Mapping[str, PriceOf]) -> tuple[PartRow, ...]:
    """Return the builder's own parts: of those without a count, as many as are ordered or there, one at least."""
    known = {line.part.id for line in lines}
    found = []
    for one in project.bought:
        if one.part in known:
            continue
        unit, note = own_unit(one.note or "")
        ordered, have = one.ordered.nominal, one.have.nominal
        count = max(1.0, ordered, have) if one.count is None else one.count.nominal
        price = prices.get(one.part)
        ends = None if price is None else price.ends
        found.append(PartRow(one.part, one.name or one.part, count, unit, ends, ordered, have, note))
    return tuple(found)


def own_unit(note: str) -> tuple[PartUnit, str]:
    """Return the unit of a part of the builder's own, and the rest of its note.

    >>> own_unit("in m; from the boat shop"), own_unit("in the shed")
    (('m', 'from the boat shop'), ('pieces', 'in the shed'))
    """
    first, _, rest = note.partition(";")
    for unit in UNITS:
        if first.strip() == f"{UNIT_NOTE}{unit}":
            return unit, rest.strip()
    return "pieces", note


# --- money -----------------------------------------------------------------------------------------


def _money(found: Sequence[Account], sets: Sequence[SetPrice], project: Project) -> Money:
    """Return the sums; parts for which a set stands are not without a price."""
    money = money_of(found, project.settings.currency)
    covered = {id_ for one in sets for id_ in one.ids}
    # What was paid for a part of a set is known only by its own price.
    without = tuple(
        one.name for one in found if one.price is None and one.spent + (0.0 if one.id in covered else one.left) > 0.0
    )
    return replace(money, unpriced=without)


def _drawn(
    project: Project,
    inputs: Mapping[str, Input],
    prices: Mapping[str, PriceOf],
    sets: Sequence[SetPrice],
    builder: Sequence[PartRow],
) -> Rows:
    """Return the rows over what is asked: prices, the money set aside, bars and kerf, and what [[bought]] counts."""
    names = {row.id: row.name for row in builder}
    every = {
        **inputs,
        **inputs_for((price, names.get(id_, id_)) for id_, price in prices.items()),
        **inputs_for((one.price, one.name) for one in sets),
    }
    asked = dict.fromkeys(("plan.bar", "plan.kerf"))
    if project.plan.budget is not None:
        asked["plan.budget"] = None
    for price in (*prices.values(), *(one.price for one in sets)):
        asked[price.path] = None
    return rows(every, asked, project.settings.draws, project.settings.seed)


def _cost(found: Sequence[Account], prices: Mapping[str, PriceOf], sets: Sequence[SetPrice], drawn: Rows) -> Array:
    """Return what all priced parts cost, spent and left together [price], [rows]."""
    of_sets = {one.price.path: one.price for one in sets}
    total = np.zeros(drawn.count)
    for one in found:
        price = prices.get(one.id) or of_sets.get(one.id)
        if price is not None:
            total = total + (one.spent + one.left) * drawn(price.path)
    return np.asarray(total)


def _judge_money(
    project: Project,
    lines: Sequence[PartLine],
    found: Sequence[Account],
    cost: Array,
    drawn: Rows,
    money: Money,
) -> tuple[Judged, ...]:
    budget = None if project.plan.budget is None else drawn("plan.budget")
    judged = judge_parts(lines, found, cost, budget, money.unpriced)
    return tuple(
        replace(one, missing="bought") if one.rule is TOO_DEAR and one.value is None else one for one in judged
    )


def _of_file(check: Check, inputs: Mapping[str, Input]) -> Check:
    """Return a check with those of its inputs only that are in the file, and lists of it."""
    return replace(check, inputs=tuple(path for path in check.inputs if path in inputs or path == "bought"))


def _said(project: Project, lines: Sequence[PartLine], entries: Mapping[str, int]) -> list[str]:
    known = {line.part.id: line for line in lines}
    said = [
        "Amounts are those of the planned roof; where no price is yours, it is a table's, from cheap to dear.",
        "Where a part comes in whole bars or packs, whole ones are paid for.",
    ]
    said += [
        f"The count of {known[id_].part.name} is yours, not the design's."
        for id_, number in entries.items()
        if id_ in known and project.bought[number].count is not None
    ]
    return said
