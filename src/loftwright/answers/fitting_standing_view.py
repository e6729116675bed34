"""Room to stand, ready to show: the map, floor and walk, who stands upright, heights of the van."""

from __future__ import annotations

from typing import Final

import numpy as np

from loftwright.answers.fitted_roof import FittedNumbers
from loftwright.answers.fitting_said import first, of_part
from loftwright.answers.hold_said import answer, percent
from loftwright.answers.views import check_row
from loftwright.core.checks import Check
from loftwright.core.fitting_pages import FittingSection, RoomMap
from loftwright.core.motion import Array
from loftwright.core.views import Fact, Grid
from loftwright.core.wording import Wording
from loftwright.fitout.headroom import height_to_stand
from loftwright.reference.people import STATURE, height_of

SHARES: Final = (0.05, 0.50, 0.95)
"""Shares of people whose heights are told [1]."""
STEP: Final = 0.10
"""Height from one step of the map to the next [m]."""


def standing_section(fitted: FittedNumbers, checks: tuple[Check, ...], say: Wording) -> FittingSection:
    """Return what is said about room to stand."""
    found, mine = fitted.found.standing, of_part(checks, "standing")
    known = (
        f"{say.area(first(found.area))} of floor are higher than {say.length(first(found.need))}, the highest place "
        f"has {say.length(first(found.highest))}"
    )
    return FittingSection(
        "standing",
        "Room to stand",
        answer(mine, "There is room to stand", "There is too little room", known),
        _facts(fitted, say),
        (_people(fitted, say),),
        tuple(check_row(check, say) for check in mine),
        found.said,
    )


def _facts(fitted: FittedNumbers, say: Wording) -> tuple[Fact, ...]:
    found = fitted.found.standing
    who = ", ".join(
        f"{percent(first(share), say)} of {name}"
        for name, share in (("men", found.upright.men), ("women", found.upright.women))
    )
    facts = [
        Fact(
            f"Floor with {say.length(first(found.need))}",
            say.area(first(found.area)),
            f"closed {say.area(first(found.area_closed))}",
        ),
        Fact("Walk upright along the van", say.length(first(found.walk.along)), "straight, as wide as a person"),
        Fact("Walk upright across it", say.length(first(found.walk.across))),
        Fact("Highest place", say.length(first(found.highest)), "floor to ceiling, open, free of the bed"),
        Fact(f"Free on all of {say.area(first(found.wanted))}", say.length(first(found.on_area)), "open"),
        Fact("Who stands upright there", who, "in shoes"),
    ]
    if found.over_bed is not None:
        facts.append(Fact("Highest over the bed", say.length(first(found.over_bed)), "over the bare board, open"))
    return (
        *facts,
        Fact("Height of the van, closed", say.length(first(found.height_closed)), "with what stands on the shell"),
        Fact("Height of the van, open", say.length(first(found.height_open)), "highest place of the shell"),
    )


def _people(fitted: FittedNumbers, say: Wording) -> Grid:
    free = first(fitted.found.standing.on_area)
    rows = []
    for share in SHARES:
        for name, measure in STATURE.items():
            tall = height_of(measure, share)
            need = float(height_to_stand(tall, hat=0.0))
            rows.append(
                (
                    f"{say.percent(share)} of {name} are smaller",
                    say.length(tall),
                    say.length(need),
                    "yes" if need <= free else "no",
                )
            )
    return Grid(
        "How tall people are",
        ("People", "Height", "With shoes", "Stands"),
        tuple(rows),
        "Stands: on all of the floor that you asked for.",
    )


def room_map(fitted: FittedNumbers, say: Wording) -> RoomMap:
    """Return the map of the planned roof."""
    found = fitted.found.standing

    def grid(value: Array) -> tuple[tuple[float, ...], ...]:
        return tuple(tuple(float(v) for v in line) for line in value[0])

    both = np.concatenate([found.opened[0].ravel(), found.closed[0].ravel()])
    steps = np.arange(np.ceil(both.min() / STEP), np.floor(both.max() / STEP) + 1.0) * STEP
    need = first(found.need)
    return RoomMap(
        x=tuple(float(v) for v in found.x),
        y=tuple(float(v) for v in found.y),
        opened=grid(found.opened),
        closed=grid(found.closed),
        need=need,
        need_text=say.length(need),
        bed=_bed(found.bed, found.x, found.y),
        levels=tuple((float(v), say.length(float(v))) for v in steps),
    )


def _bed(bed: Array, x: Array, y: Array) -> tuple[float, float, float, float] | None:
    if not bed.any():
        return None
    on_y, on_x = np.nonzero(bed)
    half_x, half_y = (abs(float(v[1] - v[0])) / 2 if v.size > 1 else 0.0 for v in (x, y))
    places_x, places_y = x[on_x], y[on_y]
    return (
        float(places_x.min()) - half_x,
        float(places_y.min()) - half_y,
        float(places_x.max()) + half_x,
        float(places_y.max()) + half_y,
    )
