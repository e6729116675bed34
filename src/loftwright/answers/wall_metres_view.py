"""Metres of every cloth, ready to show: what is bought, what it costs and weighs, other ways of cutting."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from loftwright.answers.cloth_weight import apart
from loftwright.answers.hold_said import answer, capital, nominal, percent
from loftwright.answers.roll_rows import RECTANGLES
from loftwright.answers.views import check_row
from loftwright.answers.walled_metres import RollFound
from loftwright.core.checks import Check
from loftwright.core.motion import Array
from loftwright.core.views import Fact, Grid
from loftwright.core.wall_views import Freshness, RollNeed, WallSection
from loftwright.core.wording import Wording

if TYPE_CHECKING:
    from loftwright.answers.walled_roof import WallNumbers

QUICK: Final = "A first quick layout: have the pieces laid, and it can only get shorter."
STALE: Final = "The layout shown is of an earlier state of the project; the figures are of a quick one of today's."
FRESH: Final = "Laid for the project as it is."
ROUGH: Final = "Laid as rectangles in rows on a common roll."
NO_PRICE: Final = "no price written"


def metres_section(walls: WallNumbers, checks: tuple[Check, ...], say: Wording) -> WallSection:
    """Return what is said about the cloth that is bought."""
    metres, mine = walls.found.metres, tuple(check for check in checks if check.rule.id.startswith("ROLL-"))
    lengths = ", ".join(f"{say.length(roll.metres.buy)} of {roll.asked.material or 'cloth'}" for roll in metres.rolls)
    known = f"buy {lengths}" if lengths else "there is nothing to lay"
    if metres.price is not None:
        whole = all(roll.price is not None for roll in metres.rolls)
        known += f"; {price_text(metres.price, walls, say)} {'in all' if whole else 'for what has a price'}"
    return WallSection(
        "metres",
        "Metres of cloth",
        answer(mine, "The pieces fit their rolls", "The pieces do not fit their rolls well", known),
        _facts(walls, say),
        tuple(_grids(walls, say)),
        tuple(check_row(check, say) for check in mine),
        metres.said,
    )


def roll_needs(walls: WallNumbers, say: Wording) -> tuple[RollNeed, ...]:
    """Return what is bought of every roll, with the layout to be drawn: the kept one where there is one."""
    metres = walls.found.metres
    return (
        *(_need(roll, walls, say) for roll in metres.rolls),
        *(_need(sheet, walls, say) for sheet in metres.sheets),
    )


def cloth_rows(walls: WallNumbers, say: Wording) -> tuple[tuple[str, str, str], ...]:
    """Return the cloth of every layer for the bill: what, how much, and a few words on it."""
    return tuple(
        (
            capital(roll.asked.material or "cloth"),
            say.length(roll.metres.buy),
            f"of a roll {say.length(roll.metres.width)} wide"
            + ("" if roll.price is None else f", {price_text(roll.price, walls, say)}"),
        )
        for roll in walls.found.metres.rolls
    )


def price_text(price: Array, walls: WallNumbers, say: Wording) -> str:
    """Return a price of every row in the project's currency: one figure, or from the least to the most.

    The ends are those of nine in ten drawn roofs.
    """
    currency = walls.project.settings.currency
    low, high = _ends(price, walls)
    ends = say.money(low, currency), say.money(high, currency)
    return ends[0] if ends[0] == ends[1] else f"{ends[0].removesuffix(f' {currency}')} to {ends[1]}"


def _ends(value: Array, walls: WallNumbers) -> tuple[float, float]:
    drawn = value[walls.rows.draws]
    drawn = drawn if drawn.size else value[:1]
    low, high = np.percentile(drawn, (5.0, 95.0))
    return float(low), float(high)


def _need(roll: RollFound, walls: WallNumbers, say: Wording) -> RollNeed:
    metres = roll.metres
    shown = roll.quick if roll.kept is None else roll.kept
    note = {"fresh": FRESH, "stale": STALE, "none": ROUGH if shown.how == RECTANGLES else QUICK}[roll.freshness]
    if roll.asked.joined:
        note += f" Too wide for the roll and joined out of parts: {', '.join(roll.asked.joined)}."
    return RollNeed(
        shown,
        roll.freshness,
        f"{say.length(metres.buy)} of a roll {say.length(metres.width)} wide",
        f"{percent(max(metres.waste, 0.0), say)} ends in no piece",
        NO_PRICE if roll.price is None else price_text(roll.price, walls, say),
        note,
    )


def _facts(walls: WallNumbers, say: Wording) -> tuple[Fact, ...]:
    metres = walls.found.metres
    found = []
    for roll in metres.rolls:
        low, high = _ends(roll.buy, walls)
        note = f"laid in {say.length(roll.metres.laid)}, {_laid_how(roll.freshness)}"
        if say.length(low) != say.length(high):
            note += f"; {say.length(low)} to {say.length(high)} as the spare may be"
        found.append(Fact(f"To buy of {roll.asked.material or 'cloth'}", say.length(roll.metres.buy), note))
    found += [
        Fact(f"To buy of {sheet.asked.material}", say.length(sheet.metres.buy), "rectangles on a common roll")
        for sheet in metres.sheets
    ]
    if metres.rolls:
        found.append(
            Fact(
                "Cloth in the pieces",
                say.area(sum(roll.cut for roll in metres.rolls)),
                f"{say.area(sum(roll.net for roll in metres.rolls))} inside the stitch lines",
            )
        )
    if metres.price is not None:
        found.append(Fact("Price of the cloth", price_text(metres.price, walls, say), "of the layers with a price"))
    found.append(_weight(walls, say))
    return tuple(found)


def _laid_how(freshness: Freshness) -> str:
    return {
        "fresh": "searched for this project",
        "stale": "a quick try, as the search is of an earlier state",
        "none": "a quick try",
    }[freshness]


def _weight(walls: WallNumbers, say: Wording) -> Fact:
    metres = walls.found.metres
    file = say.mass(nominal(metres.file_mass))
    if metres.weight is None:
        return Fact("Weight of the cloth", "not known yet", f"the file says {file}; no [[layer]] tells it")
    low, high = _ends(metres.weight.mass, walls)
    differs = "which differs" if apart(metres.weight.moving, metres.file_mass) else "which agrees within both ranges"
    ends = say.mass(low), say.mass(high)
    likely = "" if ends[0] == ends[1] else f"likely {ends[0]} to {ends[1]}; "
    moves = tuple(say.mass(nominal(one)) for one in metres.weight.moving)
    of_it = f"{moves[0] if moves[0] == moves[1] else ' to '.join(moves)} of it with the roof"
    if metres.weight.hung[1] > 0.0:
        of_it += ", curtains and screens too"
    note = f"{likely}{of_it}; the file says {file}, {differs}"
    return Fact("Weight of the cloth", say.mass(nominal(metres.weight.mass)), note)


def _grids(walls: WallNumbers, say: Wording) -> list[Grid]:
    metres = walls.found.metres
    grids = []
    rows = [_row(roll, walls, say) for roll in (*metres.rolls, *metres.sheets)]
    if rows:
        grids.append(
            Grid(
                "What is bought",
                ("Cloth", "Roll", "Laid in", "Buy", "In no piece", "Price"),
                tuple(rows),
                "Bought: laid, both ends cut square, and the spare, rounded up to what shops sell by.",
            )
        )
    others = [
        (
            roll.asked.material or "cloth",
            _way(roll, number, say),
            say.length(one.buy) if one.buy is not None else "does not fit",
            _saved(one.saved, say) if number else "",
        )
        for roll in metres.rolls
        for number, one in enumerate(roll.others)
    ]
    if others:
        grids.append(
            Grid(
                "Other ways of cutting",
                ("Cloth", "How", "Buy", "Against the first"),
                tuple(others),
                "All by quick layouts, so that like stands beside like.",
            )
        )
    return grids


def _row(roll: RollFound, walls: WallNumbers, say: Wording) -> tuple[str, ...]:
    metres = roll.metres
    return (
        roll.asked.material or "cloth",
        say.length(metres.width),
        say.length(metres.laid),
        say.length(metres.buy),
        percent(max(metres.waste, 0.0), say),
        NO_PRICE if roll.price is None else price_text(roll.price, walls, say),
    )


def _way(roll: RollFound, number: int, say: Wording) -> str:
    """Return one way of cutting in words; rolls of another width by their full width."""
    one = roll.others[number]
    if abs(one.width - roll.asked.width) < 1e-9:
        return one.name
    return f"a roll {say.length(one.width + roll.metres.width - roll.asked.width)} wide"


def _saved(saved: float | None, say: Wording) -> str:
    if saved is None:
        return "cannot be told"
    if abs(saved) < 1e-9:
        return "the same"
    return f"{say.length(abs(saved))} {'less' if saved > 0.0 else 'more'}"
