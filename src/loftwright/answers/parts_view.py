"""The parts of one roof as one page that is ready to show."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from loftwright.answers.part_design import SectionCut
from loftwright.answers.part_list import PartsFound
from loftwright.answers.part_prices import PriceOf
from loftwright.answers.views import check_row, wording
from loftwright.core.checks import Outcome
from loftwright.core.fitting_views import GROUPS, MoneyBand, Part, PartLine, PartRow, PartUnit
from loftwright.core.parts_pages import BarsText, BarText, PartsGroup, PartsPage, PartText
from loftwright.core.uncertain import Provenance
from loftwright.core.version import MADE_WITH
from loftwright.core.views import Caution, Fact
from loftwright.core.wording import Wording
from loftwright.core.work import PartStatus
from loftwright.plan.quantities_of import LITRES
from loftwright.reference.cautions import STRENGTH

OWN: Final = "your own"
BY_LENGTH: Final = "by the metre"
NO_PRICE: Final = "no price yet"
IN_SET: Final = "in a set"
CENTS: Final = 100.0
"""Prices of one unit below this are written with two decimals."""
PER: Final[dict[PartUnit, str]] = {"pieces": "each", "m": "a metre", "m2": "a m²", "kg": "a kg", "l": "a litre"}
"""What a price is of; in the list's unit, whatever units are read."""
CAUTIONS: Final = (
    "Whatever is bought: sums and prices are estimates. A shop's offer, and the part in your hand, go first.",
    STRENGTH[0],
    "Nothing is cut open that cannot be closed the same day: have these parts in the garage first.",
    "Resin, primer and their solvents harm lungs and skin and burn: gloves, mask, goggles and air.",
)


def parts_page(outcome: Outcome[PartsFound]) -> PartsPage:
    """Return everything said about the parts of one roof on one page."""
    found, project = outcome.numbers, outcome.numbers.project
    say = wording(project)
    return PartsPage(
        name=project.name,
        subtitle=_subtitle(found),
        says=_says(found, say),
        money=_money(found, say),
        groups=_groups(found, say),
        bars=tuple(_bars(cut, say) for cut in found.cuts if cut.plan.bars),
        rows=tuple(check_row(check, say) for check in outcome.checks),
        cautions=tuple(Caution(text) for text in CAUTIONS),
        assumptions=outcome.assumptions,
        provenance=parts_provenance(found),
        units=project.settings.units,
        made_with=MADE_WITH,
        words=project.settings.words,
    )


def parts_provenance(found: PartsFound) -> str:
    """Return whose the prices are."""
    whose = [price.of for price in found.prices.values()]
    yours = sum(of != "table" for of in whose)
    known = {row.id for row in found.rows}
    priced = known & set(found.prices)
    drawn = found.drawn.draws.stop - found.drawn.draws.start
    assumed = sum(
        price.of != "table" and price.value.provenance in (Provenance.ASSUMED, Provenance.UNKNOWN)
        for price in found.prices.values()
    )
    doubt = f", {assumed} of them assumed or unknown" if assumed else ""
    return (
        f"Parts: {len(found.rows)}; with a price of their own: {len(priced)}, of which {yours} yours{doubt} and "
        f"{len(whose) - yours} of a table. Sums are judged on {drawn} draws of the prices."
    )


def _subtitle(found: PartsFound) -> str:
    frame = "with" if found.project.plan.trial_frame else "without"
    own = f"; {len(found.own)} of your own" if found.own else ""
    return f"{len(found.lines)} parts that the design asks for{own}; {frame} the timber trial frame"


def status_of(line: PartLine, row: PartRow) -> PartStatus:
    """Return where a part is: in the garage once what is needed of it lies there, spares not counted."""
    return _status(line.part.quantity, row)


def _status(needed: float, row: PartRow) -> PartStatus:
    least = needed * (1 - 1e-9)
    if row.have >= least:
        return "in the garage"
    return "only ordered" if max(row.bought, row.have) >= least else "not ordered"


def _says(found: PartsFound, say: Wording) -> str:
    before = [(line, row) for line, row in zip(found.lines, found.rows, strict=False) if line.part.before_cut]
    here = sum(status_of(line, row) == "in the garage" for line, row in before)
    money = found.money
    cost = f"{band_text(money.planned, money.currency, say)} in all, of which {_middle(money.spent, say)} are spent"
    without = "" if not money.unpriced else f", without {len(money.unpriced)} parts that have no price yet"
    return (
        f"{len(before)} parts must be there before the roof is cut; {here} of them lie in the garage. They cost {cost}"
        f"{without}."
    )


def _middle(band: MoneyBand, say: Wording) -> str:
    return say.money(band.middle, "").strip()


def band_text(band: MoneyBand, currency: str, say: Wording) -> str:
    """Return a sum of money: its likely ends, or one figure where these read alike."""
    low, high = (say.money(end, currency) for end in band.likely)
    return low if low == high else f"{low.removesuffix(f' {currency}')} to {high}"


def price_text(ends: tuple[float, float], currency: str) -> str:
    """Return the price of one unit: one figure, or from the lowest to the highest."""
    texts = list(dict.fromkeys(_figure(end) for end in ends))
    return f"{' to '.join(texts)} {currency}"


def _figure(price: float) -> str:
    return f"{price:.0f}" if price >= CENTS or price == round(price) else f"{price:.2f}"


def amount_text(amount: float, unit: PartUnit, say: Wording) -> str:
    """Return an amount in the reader's units; what is counted stands alone."""
    if unit == "m":
        return say.length(amount)
    if unit == "m2":
        return say.area(amount)
    if unit == "kg":
        return say.mass(amount)
    if unit == "l":
        return say.volume(amount / LITRES)
    return f"{amount:.0f}" if amount == round(amount) else f"{amount:.1f}"


def sold_as(part: Part, say: Wording) -> str:
    """Return a pack in words; empty where a part is sold singly."""
    if not part.packed_in:
        return part.sold_as
    return f"{part.packed_in} of {amount_text(part.pack, part.unit, say)}"


def _money(found: PartsFound, say: Wording) -> tuple[Fact, ...]:
    money, budget = found.money, found.project.plan.budget
    ends = f"{say.money(money.planned.low, money.currency)} if all are cheap, {_high(found, say)} if all are dear"
    facts = [
        Fact("Planned", band_text(money.planned, money.currency, say), ends),
        Fact("Spent", band_text(money.spent, money.currency, say), "bought or ordered, at its price"),
        Fact("Left to pay", band_text(money.left, money.currency, say)),
        Fact(
            "Set aside",
            "not said yet" if budget is None else price_text((budget.low, budget.high), money.currency),
            "[plan] budget" if budget is None else "",
        ),
    ]
    if money.unpriced:
        facts.append(Fact("No price yet", f"{len(money.unpriced)} parts", "; ".join(_short(money.unpriced))))
    if found.sets:
        there = {account.id for account in found.accounts}
        names = [one.name for one in found.sets if one.price.path in there]
        if names:
            facts.append(Fact("Priced together", f"{len(names)} sets", "; ".join(names)))
    return tuple(facts)


def _short(names: Sequence[str]) -> list[str]:
    """Return names without their sizes, each once."""
    return list(dict.fromkeys(name.partition(",")[0].partition(":")[0] for name in names))


def _high(found: PartsFound, say: Wording) -> str:
    return say.money(found.money.planned.high, found.money.currency)


def _groups(found: PartsFound, say: Wording) -> tuple[PartsGroup, ...]:
    in_sets = {id_ for one in found.sets for id_ in one.ids}
    planned = {one.group: band_text(one.planned, found.money.currency, say) for one in found.money.groups}
    pairs = list(zip(found.lines, found.rows, strict=False))
    groups = []
    for group in GROUPS:
        mine = tuple(
            _line(line, row, found, say, in_set=row.id in in_sets) for line, row in pairs if line.part.group == group
        )
        if mine:
            groups.append(PartsGroup(group, mine, planned.get(group, "")))
    own = tuple(_own(row, found, say) for row in found.own)
    return (*groups, PartsGroup(OWN, own, "")) if own else tuple(groups)


def _line(line: PartLine, row: PartRow, found: PartsFound, say: Wording, *, in_set: bool) -> PartText:
    part = line.part
    return PartText(
        id=part.id,
        name=part.name,
        needed=amount_text(line.needed, part.unit, say),
        buy=_buy(line, say),
        price=_price(found.prices.get(part.id), part.unit, found.money.currency, in_set=in_set),
        cost=_cost(row, found, say),
        status=status_of(line, row),
        ordered=amount_text(row.bought, row.unit, say) if row.bought else "",
        have=amount_text(row.have, row.unit, say) if row.have else "",
        note=part.note,
        remark=row.note,
        source=part.source,
        before_cut=part.before_cut,
        own=False,
        entry=found.entries.get(part.id),
        per=PER[part.unit],
    )


def _own(row: PartRow, found: PartsFound, say: Wording) -> PartText:
    return PartText(
        id=row.id,
        name=row.name,
        needed=amount_text(row.quantity, row.unit, say),
        buy=amount_text(row.quantity, row.unit, say),
        price=_price(found.prices.get(row.id), row.unit, found.money.currency, in_set=False),
        cost=_cost(row, found, say),
        status=_status(row.quantity, row),
        ordered=amount_text(row.bought, row.unit, say) if row.bought else "",
        have=amount_text(row.have, row.unit, say) if row.have else "",
        note="",
        remark=row.note,
        source="bought",
        before_cut=False,
        own=True,
        entry=found.entries.get(row.id),
        per=PER[row.unit],
    )


def _buy(line: PartLine, say: Wording) -> str:
    """Return what is bought: whole packs where it comes in packs, else the amount."""
    part = line.part
    amount = amount_text(line.amount, part.unit, say)
    sold = sold_as(part, say)
    return f"{line.packs} x {sold}" if sold and sold != BY_LENGTH else amount


def _price(price: PriceOf | None, unit: PartUnit, currency: str, *, in_set: bool) -> str:
    if price is None:
        return IN_SET if in_set else NO_PRICE
    whose = "" if price.of == "table" else f", {price.of}"
    return f"{price_text(price.ends, currency)} {PER[unit]}{whose}"


def _cost(row: PartRow, found: PartsFound, say: Wording) -> str:
    """Return what a part costs, spent and left together."""
    account = found.account(row.id)
    if row.price is None:
        return ""
    amount = account.spent + account.left
    low, high = (say.money(amount * end, found.money.currency) for end in row.price)
    return low if low == high else f"{low.removesuffix(f' {found.money.currency}')} to {high}"


# --- bars ------------------------------------------------------------------------------------------


def _bars(cut: SectionCut, say: Wording) -> BarsText:
    """Return how the bars of a section are cut, with words for each bar."""
    plan = cut.plan
    words = tuple(
        BarText(
            f"Bar {number} of {len(plan.bars)}, {say.length(bar.stock.length)}",
            tuple(say.length(piece.length) for piece in bar.pieces),
            f"{say.length(bar.offcut)} left over" if bar.offcut > 0.0 else "",
        )
        for number, bar in enumerate(plan.bars, 1)
    )
    return BarsText(
        cut.section.name,
        f"{_count(len(plan.bars), 'bar')}, {say.length(plan.length)} in all; {say.percent(plan.waste)} ends in no "
        f"piece. {plan.said}",
        plan,
        words,
        _said(cut, say),
        cut.section.source,
    )


def _said(cut: SectionCut, say: Wording) -> tuple[str, ...]:
    said = [f"Each saw cut takes {say.short_length(cut.plan.kerf)}. Lengths are over the longer edge."]
    if cut.section.legend:
        said.insert(0, f"Letters as on the drawing of the frame: {'; '.join(cut.section.legend)}.")
    slanted = {piece.ends for bar in cut.plan.bars for piece in bar.pieces if any(piece.ends)}
    said += [f"Slanted ends are {say.angle(ends[0])} off square." for ends in sorted(slanted)]
    said += [
        f"{piece.label}, {say.length(piece.length)}: longer than any bar; order it to length."
        for piece in dict.fromkeys(cut.plan.too_long)
    ]
    return tuple(said)


def _count(number: int, word: str) -> str:
    return f"{number} {word}" if number == 1 else f"{number} {word}s"


def piece_lines(bars: BarsText) -> Sequence[tuple[str, str, str]]:
    """Return bar by bar: its title, its pieces with their lengths, what is left over."""
    return [
        (
            word.title,
            ", ".join(f"{piece.label} {text}" for piece, text in zip(bar.pieces, word.lengths, strict=True)),
            word.left_over,
        )
        for bar, word in zip(bars.plan.bars, bars.words, strict=True)
    ]
