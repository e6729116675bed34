"""Worth starting, ready to show: one page of text in the builder's units."""

from __future__ import annotations

from typing import Final, Literal

from loftwright.answers.key_figures import Band
from loftwright.answers.next_steps import open_steps
from loftwright.answers.scout import ScoutNumbers
from loftwright.answers.views import check_row, wording
from loftwright.core.checks import Check, Outcome, Verdict
from loftwright.core.uncertain import Provenance, even
from loftwright.core.units import Dimension
from loftwright.core.version import MADE_WITH
from loftwright.core.views import Caution, CostLine, Fact, ScoutPage
from loftwright.core.wording import Wording
from loftwright.plan.worth import Worth
from loftwright.project.model import Project
from loftwright.project.plane import CROSSWISE, plane_of
from loftwright.reference.cautions import ALWAYS
from loftwright.reference.layups import LAYUPS

MEANING: Final = {
    Worth.YES: "You can stand, the shell can be lifted on, moves freely and closes; the rest can be settled on paper.",
    Worth.PROBABLY: "Nothing speaks against it that measuring or a change of plan cannot settle: do that first.",
    Worth.NO: "You would not win a place to stand as planned, and at least 80 of 100 roofs like yours agree.",
}
NARROW: Final = 0.02
"""A band narrower than this share of its nominal value is printed as one number [1]."""
TASKS: Final = 4
"""Things to do next that one page names."""
SMALL_COUNT: Final = 0.05
"""A count this near to a whole number is printed as one [1]."""
_LIFTS = {"hinge": "hinge", "four-bar": "four-bar arms", "parallel arms": "parallel arms"} | {
    "scissor": "crossing arms",
    "guides": "straight guides",
}


def _ranged(say: Wording, band: Band, dimension: Dimension) -> str:
    """Return a band in words; one that is narrower than anyone would measure reads as its nominal value."""
    if band.high - band.low <= NARROW * abs(band.nominal):
        return say.quantity(band.nominal, dimension)
    return say.ranged(even(band.low, band.high, Provenance.GIVEN, band.nominal), dimension)


def _sentence(check: Check, say: Wording) -> str:
    """Return why one check stands against a plain yes."""
    value, limit = say.rule_pair(check.value, check.limit, check.rule.unit)
    numbers = f": {value} where {check.rule.sense} {limit} is wanted" if check.margin is not None else ""
    word = {Verdict.FAILS: "", Verdict.NOT_KNOWN: "Not known yet: ", Verdict.HOLDS: ""}[check.verdict]
    odds = f"; {check.basis}" if check.holding is not None else ""
    measure = f"; measure first: {check.unknown}" if check.unknown else ""
    said = check.words[0].lower() + check.words[1:] if word else check.words
    return f"{word}{said}{numbers}{odds}{measure}."


def scout_page(outcome: Outcome[ScoutNumbers]) -> ScoutPage:
    """Return everything said about whether to start, on one page."""
    numbers = outcome.numbers
    project = numbers.found.project
    say = wording(project)
    return ScoutPage(
        name=project.name,
        subtitle=_subtitle(project, numbers, say),
        worth=_word(numbers.worth),
        meaning=MEANING[numbers.worth],
        reasons=tuple(_sentence(check, say) for check in numbers.against),
        facts=facts(numbers, say),
        troubles=tuple(check_row(check, say) for check in numbers.troubles),
        cost=_cost_lines(numbers, say),
        cost_total=money_band(numbers.cost_low, numbers.cost_high, numbers.cost.currency, say),
        cost_note=_cost_note(numbers),
        do_next=open_steps(Outcome(numbers.found, outcome.checks))[:TASKS],
        cautions=tuple(Caution(text) for text in ALWAYS),
        assumptions=outcome.assumptions,
        units=project.settings.units,
        made_with=MADE_WITH,
    )


def _word(worth: Worth) -> Literal["yes", "probably", "no"]:
    return "yes" if worth is Worth.YES else "no" if worth is Worth.NO else "probably"


def _subtitle(project: Project, numbers: ScoutNumbers, say: Wording) -> str:
    size = f"{say.length(project.opening.length.nominal)} by {say.length(project.opening.width.nominal)}"
    hand = ", ".join(sorted(numbers.at_hand)) or "nothing"
    return f"opening {size}, {_LIFTS[project.linkage.kind]} at the {project.linkage.end}; at hand: {hand}"


def facts(numbers: ScoutNumbers, say: Wording) -> tuple[Fact, ...]:
    """Return the key figures; each range holds nine of ten roofs like this one."""
    project, length = numbers.found.project, Dimension.LENGTH
    wanted = say.length(project.requirements.headroom_wanted.nominal)
    by_area = _ranged(say, numbers.bare_by_area, Dimension.MASS)
    layup = LAYUPS[project.shell.made_of].words
    along = "across the van" if plane_of(project) is CROSSWISE else "length"
    return (
        Fact("Headroom won", _ranged(say, numbers.headroom_won, length), "at the highest place, over what there was"),
        Fact("Standing height, open", _ranged(say, numbers.standing_height, length), f"wanted: {wanted}"),
        Fact(f"Floor to stand on, {along}", _ranged(say, numbers.floor_length, length), "where you stand upright"),
        Fact("Floor to stand on, area", _ranged(say, numbers.floor_area, Dimension.AREA), "bed taken off"),
        Fact(
            "Weight, all on",
            _ranged(say, numbers.weight, Dimension.MASS),
            "as weighed or written" if numbers.is_weighed else "guessed from area and lay-up",
        ),
        Fact("Bare shell by its area", by_area, f"lay-up: {layup}"),
        Fact("Skin of the shell", _ranged(say, numbers.skin_area, Dimension.AREA)),
        Fact("Cloth in the walls", _ranged(say, numbers.cloth_area, Dimension.AREA), "drawn straight, without hems"),
    )


def _count(count: float, unit: str, say: Wording) -> str:
    """Return how many of a part, in the unit of its price; lengths and areas in the builder's units."""
    if unit == "m":
        return say.length(count)
    if unit == "m2":
        return say.quantity(count, Dimension.AREA)
    whole = round(count)
    number = str(whole) if abs(count - whole) < SMALL_COUNT else f"{count:.1f}"
    many = "" if number == "1" else "s"
    return number if unit == "piece" else f"{number} {unit}{many}"


def money_band(low: float, high: float, currency: str, say: Wording) -> str:
    """Return between what a price lies, in whole units of its currency."""
    if not currency:
        return "no price known"
    return f"{say.money(low, currency).removesuffix(currency).strip()} to {say.money(high, currency)}"


def _cost_lines(numbers: ScoutNumbers, say: Wording) -> tuple[CostLine, ...]:
    cost = numbers.cost
    return tuple(
        CostLine(row.part, _count(row.count, row.unit, say), money_band(row.low, row.high, cost.currency, say))
        for row in cost.rows
    )


def _cost_note(numbers: ScoutNumbers) -> str:
    cost = numbers.cost
    if not cost.rows:
        return "The price table names nothing of what is needed."
    basis = {row.basis.split(":")[0] for row in cost.rows}
    kind = "judgement, not quotations" if basis == {"judgement"} else "partly judgement, as your table says"
    missing = f"; without {', '.join(cost.unpriced)}" if cost.unpriced else ""
    return f"Prices of {cost.dated} or later: {kind}{missing}. Put your own in a table of prices."
