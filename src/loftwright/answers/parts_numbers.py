"""The parts as plain numbers ready for JSON: amounts in the list's units, prices in the project's currency.

The keys are explained in docs/reference/json-parts.md.
"""

from __future__ import annotations

from loftwright.answers import numbers
from loftwright.answers.part_design import SectionCut
from loftwright.answers.part_list import PartsFound
from loftwright.answers.part_prices import PriceOf
from loftwright.answers.parts_view import CAUTIONS, parts_provenance, sold_as, status_of
from loftwright.core.checks import Outcome, tally_of
from loftwright.core.fitting_views import MoneyBand, PartLine, PartRow
from loftwright.core.wording import Wording

Numbers = numbers.Numbers


def parts_numbers(outcome: Outcome[PartsFound]) -> Numbers:
    """Return what `parts` says: verdicts worst first, money, every part, the builder's own, bars."""
    found = outcome.numbers
    money, budget = found.money, found.project.plan.budget
    counted = tally_of(check.verdict for check in outcome.checks)
    return {
        **numbers.head(found.project),
        "tally": {"fails": counted.fails, "not_known": counted.not_known, "holds": counted.holds},
        "checks": [numbers.check_numbers(check) for check in outcome.checks],
        "money": {
            "currency": money.currency,
            "planned": _band(money.planned),
            "spent": _band(money.spent),
            "left": _band(money.left),
            "budget": None if budget is None else {"low": budget.low, "nominal": budget.nominal, "high": budget.high},
            "groups": [
                {"group": one.group, "planned": _band(one.planned), "spent": _band(one.spent), "left": _band(one.left)}
                for one in money.groups
            ],
            "sets": [_set(found, one.price, one.name) for one in found.sets],
            "unpriced": list(money.unpriced),
        },
        "parts": [_part(line, row, found) for line, row in zip(found.lines, found.rows, strict=False)],
        "own": [_row(row, found) for row in found.own],
        "bars": [_cut(cut) for cut in found.cuts],
        "assumptions": list(outcome.assumptions),
        "provenance": parts_provenance(found),
        "cautions": list(CAUTIONS),
    }


def _band(band: MoneyBand) -> Numbers:
    return {"low": band.low, "likely_low": band.likely[0], "likely_high": band.likely[1], "high": band.high}


def _set(found: PartsFound, price: PriceOf, name: str) -> Numbers:
    share = next((one.left for one in found.accounts if one.id == price.path), 0.0)
    return {"name": name, "counts": share, "price": _price(price)}


def _price(price: PriceOf | None) -> Numbers | None:
    if price is None:
        return None
    return {"low": price.value.low, "high": price.value.high, "of": price.of, "basis": price.basis}


def _row(row: PartRow, found: PartsFound) -> Numbers:
    account = found.account(row.id)
    return {
        "id": row.id,
        "name": row.name,
        "unit": row.unit,
        "needed": row.quantity,
        "ordered": row.bought,
        "have": row.have,
        "left": account.left,
        "price": _price(found.prices.get(row.id)),
        "remark": row.note,
    }


def _part(line: PartLine, row: PartRow, found: PartsFound) -> Numbers:
    part = line.part
    return {
        **_row(row, found),
        "group": part.group,
        "quantity": part.quantity,
        "waste": part.waste,
        "buy": line.amount,
        "packs": line.packs,
        "pack": part.pack,
        "sold_as": sold_as(part, Wording()),
        "status": status_of(line, row),
        "before_cut": part.before_cut,
        "source": part.source,
        "note": part.note,
    }


def _cut(cut: SectionCut) -> Numbers:
    plan = cut.plan
    return {
        "id": cut.section.id,
        "section": cut.section.name,
        "source": cut.section.source,
        "kerf_m": plan.kerf,
        "length_m": plan.length,
        "waste": plan.waste,
        "least_m": plan.least,
        "proved": plan.proved,
        "bars": [
            {
                "length_m": bar.stock.length,
                "offcut_m": bar.offcut,
                "pieces": [{"label": p.label, "length_m": p.length, "ends_rad": p.ends} for p in bar.pieces],
            }
            for bar in plan.bars
        ],
        "too_long": [{"label": piece.label, "length_m": piece.length} for piece in plan.too_long],
    }
