"""Holes, places and the tuning card in words."""

from __future__ import annotations

from typing import Final

import numpy as np

from loftwright.answers.choose_holes import ZERO_C, Hand, HoleNumbers
from loftwright.answers.choose_roofs import Drawn
from loftwright.choice.card import Condition, Line
from loftwright.core.choice_views import Card, CardLine, Hole, HoleRow, Place
from loftwright.core.choices import Edge, Units
from loftwright.core.motion import Array, first_row
from loftwright.core.units import Dimension, size_of
from loftwright.core.wording import Wording, hundredths


def hand_of(units: Units) -> Hand:
    """Return what forces are read to and holes are marked out to, in the builder's units [N, m]."""
    if units == "imperial":
        return Hand(2 * size_of("lb", Dimension.FORCE), size_of("in") / 16)
    return Hand(size_of("kg", Dimension.FORCE), 0.001)


def place(x: float, z: float, say: Wording, edge: Edge = "rear") -> str:
    """Return where a hole sits in the closed roof, in words; x and z [m], x from `edge` of the opening."""
    beyond = "behind" if edge == "rear" else "outside"
    along = f"{say.short_length(abs(x))} {'from' if x >= 0 else beyond} the {edge} edge"
    if z == 0:
        return f"{along}, at roof height"
    return f"{along}, {say.short_length(abs(z))} {'above' if z > 0 else 'below'} the roof"


def body(name: str) -> str:
    """Return what a bracket is bolted to, in words."""
    return name if name.startswith("arm") else f"the {name}"


def hole_row(found: HoleNumbers, say: Wording, edge: Edge = "rear", *, take: str = "", note: str = "") -> HoleRow:
    """Return holes as pages show them: feet by numbers, heads by letters where both have several."""
    both = len(found.feet) > 1 and len(found.heads) > 1
    start = found.places[found.start]

    def row(table: Array, on: str, first: int, letters: bool) -> tuple[Hole, ...]:
        several = len(table) > 1
        made = []
        for i, (x, z) in enumerate(table.tolist()):
            name = "" if not several else chr(ord("A") + i) if letters else str(i + 1)
            words = place(x, z, say, edge)
            made.append(Hole(name, body(on), 1000.0 * x, 1000.0 * z, several and i == first, words))
        return tuple(made)

    feet = row(found.feet, found.pair.foot.on, start[0], False)
    heads = row(found.heads, found.pair.head.on, start[1], both)
    places = tuple(
        Place(
            k + 1,
            i,
            j,
            k == found.start,
            f"place {k + 1}: foot hole {feet[i].name}, head hole {heads[j].name}" if both else f"hole {k + 1}",
        )
        for k, (i, j) in enumerate(found.places)
    )
    odds, first = hundredths(found.odds), hundredths(found.first)
    with_card = first if found.card_odds is None else hundredths(found.card_odds)
    one, of_all = ("place", "of all of them") if both else ("hole", "of the row")
    said = f"one {one} alone works in {first} of 100 roofs, one {of_all} in {odds}, by the card alone {with_card}"
    return HoleRow(feet, heads, places, odds, first, with_card, note or said, take)


SHARES: Final = (0.25, 0.35, 0.45, 0.55, 0.75)
"""Shares of the travel for which the card says how high the lip stands."""


def lip_heights(drawn: Drawn, say: Wording) -> str:
    """Return how high the lip of the planned roof has risen at some shares of the travel, in words."""
    travel, lip = drawn.roof.travel, drawn.felt.lip
    z = first_row(np.broadcast_to(lip.z, (drawn.rows.count, travel.fraction.size)))
    rise = np.interp(SHARES, travel.fraction, z - z[0])
    return ", ".join(
        f"{say.percent(share)} {say.short_length(float(up))}" for share, up in zip(SHARES, rise, strict=True)
    )


def card_of(found: HoleNumbers, say: Wording, heights: str = "") -> Card | None:
    """Return the tuning card in words; None where no card is worth it. `heights` say how high the lip stands."""
    if found.card is None:
        return None
    row = hole_row(found, say)
    how = (
        "Springs new and at the day's temperature, no rain, nothing on the roof; latches open.",
        "Push: with a luggage scale or bathroom scales at the handle, slowly, just as the lip leaves the seal.",
        "Pull: with the luggage scale on the strap, slowly, from fully open.",
        "Rises by itself: how far open the roof is when it no longer needs a push."
        + (f" Read it by how far the lip has risen: {heights}." if heights else ""),
        f"Tick every {row.word} you have tried; go down the lines of the {row.word} you are at and take the first that "
        f"fits and whose {row.word} is not ticked. At most {found.card.most_moves} moves.",
    )
    lines = tuple(_line(line, row, say) for line in found.card.lines)
    return Card(how, lines, "where no line fits, the springs stay where they are")


def _line(line: Line, row: HoleRow, say: Wording) -> CardLine:
    at, go = line.at + 1, 0 if line.go == line.at else line.go + 1
    reading = " and ".join(_condition(one, say) for one in line.conditions)
    then = "stay" if go == 0 else f"go to {row.places[line.go].words}"
    return CardLine(at, reading, go, f"At {row.word} {at}: if {reading}, {then}.")


def _condition(one: Condition, say: Wording) -> str:
    word = "over" if one.over else "at most"
    if one.reading == 0:
        return f"the push to start is {word} {say.force_hand(one.limit)}"
    if one.reading == 1:
        return f"the pull to start down is {word} {say.force_hand(one.limit)}"
    if one.reading == 2:
        return f"the roof rises by itself from {'more than' if one.over else 'at most'} {say.percent(one.limit)} open"
    return f"the day is {'warmer than' if one.over else 'at most'} {say.temperature(one.limit + ZERO_C)}"
