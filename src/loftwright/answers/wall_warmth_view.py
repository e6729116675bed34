"""Warmth of the walls, ready to show: heat lost, faces, dew point."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from loftwright.answers.hold_said import answer, capital, nominal
from loftwright.answers.views import check_row
from loftwright.answers.walled_warmth import HUMID_OUTSIDE
from loftwright.cloth.warmth import HOUR, water_breathed
from loftwright.core.checks import Check, Verdict
from loftwright.core.views import Fact, Grid
from loftwright.core.wall_views import WallSection
from loftwright.core.wording import Wording

if TYPE_CHECKING:
    from loftwright.answers.walled_roof import WallNumbers

NIGHT: Final = 8.0
"""A night's sleep [h]."""


def warmth_section(walls: WallNumbers, checks: tuple[Check, ...], say: Wording) -> WallSection:
    """Return what is said about a cold night."""
    warmth, mine = walls.found.warmth, tuple(check for check in checks if check.rule.id.startswith("WARM-"))
    dry = tuple(check for check in mine if check.rule.id == "WARM-1801")
    cold, warm = say.temperature(nominal(warmth.outside)), say.temperature(nominal(warmth.inside))
    known = (
        f"with {warm} inside and {cold} outside water settles from {say.percent(_whole(nominal(warmth.driest)))} "
        f"humidity on, and the walls lose {_watts(nominal(warmth.all_lost), say)} watts"
    )
    # What a heater makes up is not asked of the file: it decides nothing here.
    deciding = dry if any(check.verdict is not Verdict.NOT_KNOWN for check in dry) else mine
    return WallSection(
        "warmth",
        "A cold night",
        answer(deciding, "The walls stay dry inside", "The walls get wet inside", known),
        _facts(walls, say),
        (_grid(walls, say),),
        tuple(check_row(check, say) for check in mine),
        warmth.said,
    )


def _whole(share: float) -> float:
    """Return a humidity as it is said: in whole percents, at most all."""
    return round(min(share, 1.0), 2)


def _watts(lost: float, say: Wording) -> str:
    """Return heat lost [J/s] in whole watts, from a hundred on in tens."""
    return say.rule_value(float(round(lost, -1 if abs(lost) >= 100.0 else 0)), "count")


def _ends(walls: WallNumbers) -> tuple[float, float]:
    lost = walls.found.warmth.all_lost
    drawn = lost[walls.rows.draws]
    drawn = drawn if drawn.size else lost[:1]
    low, high = np.percentile(drawn, (5.0, 95.0))
    return float(low), float(high)


def _facts(walls: WallNumbers, say: Wording) -> tuple[Fact, ...]:
    warmth = walls.found.warmth
    low, high = (_watts(one, say) for one in _ends(walls))
    coldest = min(range(len(warmth.parts)), key=lambda i: nominal(warmth.faces[i]))
    least, most = water_breathed(1.0, NIGHT)
    air = nominal(warmth.air)
    drier = (
        Fact("Fresh air for each sleeper", "none helps", "outside air is no drier than what the coldest part bears")
        if not np.isfinite(air)
        else Fact(
            "Fresh air for each sleeper, cubic metres an hour",
            say.rule_value(air * HOUR, "count"),
            f"so that no water settles, at {say.percent(HUMID_OUTSIDE)} humidity outside",
        )
    )
    return (
        Fact(
            "Heat lost through the walls, watts",
            _watts(nominal(warmth.all_lost), say),
            "" if low == high else f"likely {low} to {high}",
        ),
        Fact(
            "Coldest inside",
            say.temperature(nominal(warmth.faces[coldest])),
            warmth.parts[coldest].name,
        ),
        Fact(
            "Dew point of the air inside",
            say.temperature(nominal(warmth.dew)),
            f"at {say.percent(_whole(nominal(warmth.humidity)))} humidity",
        ),
        Fact("Water settles from", say.percent(_whole(nominal(warmth.driest))), "humidity inside on"),
        Fact(
            "One sleeper breathes out in a night",
            f"{say.mass(float(least))} to {say.mass(float(most))}",
            f"water, in {say.time(NIGHT * HOUR)}",
        ),
        drier,
    )


def _grid(walls: WallNumbers, say: Wording) -> Grid:
    warmth = walls.found.warmth
    rows = [
        (
            capital(part.name),
            say.area(nominal(part.area)),
            say.ratio(1.0 / nominal(part.transmits)),
            say.ratio(nominal(part.transmits)),
            _watts(nominal(lost), say),
            say.temperature(nominal(face)),
        )
        for part, lost, face in zip(warmth.parts, warmth.lost, warmth.faces, strict=True)
        if nominal(part.area) > 0.0
    ]
    return Grid(
        "What each part lets through",
        ("Part", "Area", "Resistance, m² K/W", "Through it, W/m² K", "Lost, W", "Inner face"),
        tuple(rows),
        "With the air at both faces; draughts come on top.",
    )
