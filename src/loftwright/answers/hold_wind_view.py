"""The raised roof in wind, ready to show: what gives first, each part by direction and gust, sway, the brace."""

from __future__ import annotations

from typing import Final

from loftwright.answers.held_gusts import HIGHEST
from loftwright.answers.held_roof import HeldNumbers
from loftwright.answers.held_travel import HALF_WAY
from loftwright.answers.held_wind import WindFound
from loftwright.answers.hold_road_view import sign_words
from loftwright.answers.hold_said import (
    answer,
    beaufort,
    capital,
    first_to_give,
    gust_text,
    nominal,
    of_part,
    sway_text,
    when_forecast,
)
from loftwright.answers.views import check_row
from loftwright.core.checks import Check, Verdict
from loftwright.core.hold_views import HoldSection
from loftwright.core.views import Fact, Grid
from loftwright.core.wording import Wording
from loftwright.strength.held import WHOLE_ROOF
from loftwright.strength.raised_shape import DIRECTIONS

LEAST_GUST: Final = 1.5
"""Below this [m/s], light air, a roof that is to be lowered is not to be raised at all."""
MORE_SWAY: Final = 1.05
"""Sway with the brace over that without from which on it makes things worse [1]."""
DRIVING_OFF: Final = "Close and latch it before driving; nobody under the open shell while driving."
GUSTS_NOT_MEAN: Final = "Go by the gusts of the forecast, not by its mean wind."
FASTEN_BRACE: Final = "Brace in and pinned before the night."


def lower_above(held: HeldNumbers) -> float:
    """Return the gust above which the roof is to be lowered [m/s]: nine of ten roofs like this one outlast it."""
    wind = held.found.wind
    return min(wind.lower_nine_of_ten, nominal(wind.lower_above))


def _height(held: HeldNumbers) -> float:
    return nominal(held.found.basis.at("body.height"))


def lower_words(held: HeldNumbers, say: Wording) -> tuple[str, str]:
    """Return the gust above which it is to be lowered, and in which forecast."""
    gust = lower_above(held)
    if gust < LEAST_GUST:
        return "any wind", "do not raise it in any wind"
    return say.gust(gust), when_forecast(gust, _height(held))


def weakest_words(wind: WindFound, say: Wording) -> str:
    """Return what is first at its limit, as a clause."""
    if not wind.weakest or wind.weakest_direction is None:
        return f"nothing is at its limit up to a gust of {say.gust(HIGHEST)}"
    gust = nominal(wind.lower_above)
    said = first_to_give(wind.weakest)
    if gust < LEAST_GUST:
        return f"{said} even in the lightest wind"
    where = f"in a gust of {say.gust(gust)} from the {wind.weakest_direction}"
    return f"{said} {where}" if said.startswith("nothing") else f"{said}, {where}"


def wind_section(held: HeldNumbers, checks: tuple[Check, ...], say: Wording) -> HoldSection:
    """Return what is said about the raised roof in wind."""
    wind, mine = held.found.wind, of_part(checks, "wind")
    gust, force = lower_words(held, say)
    advice = f"lower it above {gust} ({force})"
    if lower_above(held) < LEAST_GUST:
        # Where the planned roof stands some wind, what is not known yet takes it away.
        some = nominal(wind.lower_above) >= LEAST_GUST
        advice = "do not raise it in any wind" + (" before more is measured" if some else "")
    known = f"{weakest_words(wind, say)}; {advice}"
    wanted = f"the gust of {say.gust(nominal(wind.wanted))}"
    # A brace that does not fit says nothing of the wind.
    deciding = tuple(sorted(mine, key=lambda check: check.rule.id.startswith("BRACE")))
    falls = any(check.verdict is Verdict.FAILS for check in deciding if not check.rule.id.startswith("BRACE"))
    bad = f"It does not stand {wanted} as it should" if falls else "The brace is not right yet"
    if falls and not any(
        check.verdict is Verdict.FAILS and check.part != HALF_WAY and not check.rule.id.startswith("BRACE")
        for check in deciding
    ):
        moved = say.gust(nominal(held.found.basis.at("forces.gust")))
        bad = f"It stands {wanted}, but you cannot move it in one of {moved}"
    return HoldSection(
        "wind",
        "In the wind, raised",
        answer(deciding, f"It stands {wanted}", bad, known),
        _facts(held, say),
        tuple(_grids(held, say)),
        tuple(check_row(check, say) for check in mine),
        wind.said,
    )


def _left_by_brace(wind: WindFound, say: Wording) -> Fact:
    """Return how much of the sway a brace leaves; where the hinges alone are stiff its play is all that counts."""
    assert wind.brace is not None
    name, ratio = "Sway left by the brace", nominal(wind.sway_ratio)
    if ratio > MORE_SWAY and wind.brace.kind != "straps":
        return Fact(name, "more than without it", "a single slanted bar pulls it over as the wind lifts it")
    if ratio >= 1.0:
        return Fact(name, "all of it", "the hinges alone hold as still as the brace's play allows")
    return Fact(name, say.percent(round(ratio, 2)), "worst side")


def _when(wind: WindFound) -> str:
    """Return when the sway that is told is met."""
    lost = float(wind.of(WHOLE_ROOF)[0].min()) < nominal(wind.wanted)
    return "in the wanted gust, worst side" + (", as long as anything holds it" if lost else "")


def _facts(held: HeldNumbers, say: Wording) -> tuple[Fact, ...]:
    wind = held.found.wind
    gust, force = lower_words(held, say)
    first = wind.weakest or "nothing looked at"
    found = [
        Fact(
            "Lower it above", gust, force if gust == "any wind" else f"{force}; nine of ten roofs like yours outlast it"
        ),
        Fact("First at its limit", first, f"in a gust of {gust_text(nominal(wind.lower_above), say)}"),
        Fact("Wanted", say.gust(nominal(wind.wanted)), beaufort(nominal(wind.wanted), _height(held))),
        Fact("Sway of the free end", sway_text(float(wind.sway[0].max()), say), _when(wind)),
        Fact("Twist of the shell", say.angle(float(wind.twist[0].max())), "in the wanted gust, worst side"),
    ]
    if wind.brace is not None:
        found += [
            Fact("Sway without the brace", sway_text(float(wind.unbraced_sway[0].max()), say), "in the wanted gust"),
            _left_by_brace(wind, say),
            Fact("Greatest push along the brace", say.force(nominal(wind.brace.push)), "in the wanted gust"),
            Fact("Play left at the free end", say.short_length(nominal(wind.brace.play))),
        ]
    return tuple(found)


def _grids(held: HeldNumbers, say: Wording) -> list[Grid]:
    wind = held.found.wind
    heads = tuple(capital(direction) for direction in DIRECTIONS)
    grids = [
        Grid(
            "Gust at which each part is at its limit, wind from",
            ("Part", *heads),
            tuple(
                (capital(name), *(gust_text(float(g), say) for g in wind.gust[0, :, i]))
                for i, name in enumerate(wind.names)
            ),
            "Gusts at roof height; factors of safety are in them.",
        ),
        Grid(
            f"Each part in the gust of {say.gust(nominal(wind.wanted))}",
            ("Part", "From", "Used", "Force", "Moment"),
            tuple(_worst(wind, i, say) for i in range(len(wind.parts))),
            "From the direction that is worst for it, the factor on the wind included.",
        ),
        Grid(
            f"Sway of the free end in the gust of {say.gust(nominal(wind.wanted))}",
            ("From", "Sway", "Twist") + (("No brace",) if wind.brace is not None else ()),
            tuple(
                (direction, sway_text(float(wind.sway[0, d]), say), say.angle(float(wind.twist[0, d])))
                + ((sway_text(float(wind.unbraced_sway[0, d]), say),) if wind.brace is not None else ())
                for d, direction in enumerate(DIRECTIONS)
            ),
            "No more than a quarter of a metre is reckoned where nothing holds it."
            if say.units == "metric"
            else "No more than ten inches are reckoned where nothing holds it.",
        ),
    ]
    cloth = wind.cloth
    if cloth is not None:
        grids.append(
            Grid(
                "Cloth walls",
                ("Wall", "Height", "Edge pull"),
                tuple(
                    (wall, say.length(float(cloth.span[0, i])), say.rule_value(float(cloth.pull[0, i]), "N/m"))
                    for i, wall in enumerate(cloth.walls)
                ),
                f"Pull in the gust of {say.gust(nominal(wind.wanted))}, from the worst direction, with its factor.",
            )
        )
    return grids


def _worst(wind: WindFound, i: int, say: Wording) -> tuple[str, ...]:
    direction = int(wind.share[0, :, i].argmax())
    return (
        capital(wind.parts[i]),
        DIRECTIONS[direction],
        say.percent(min(round(float(wind.share[0, direction, i]), 2), 9.99)),
        say.force(float(wind.force[0, direction, i])),
        say.moment(float(wind.moment[0, direction, i])),
    )


def first_words(wind: WindFound) -> str:
    """Return what gives first and in wind from where."""
    if not wind.weakest or wind.weakest_direction is None:
        return "nothing looked at"
    article = "" if wind.weakest.startswith("the ") else "the "
    return f"{article}{wind.weakest}, in wind from the {wind.weakest_direction}"


def _latched(speed: float, say: Wording) -> str:
    if speed < LEAST_GUST:
        return "Do not drive with it yet: as far as known, latches or hinges may give at any speed."
    return f"Do not drive faster than {say.driving(speed)}: latched, it has enough up to there."


def wind_card(held: HeldNumbers, road_speed: float, say: Wording) -> tuple[str, ...]:
    """Return short lines to hang in the van, the gust first; `road_speed` [m/s] at which latches have enough."""
    wind, van = held.found.wind, held.found.van
    gust, force = lower_words(held, say)
    never = lower_above(held) < LEAST_GUST
    return (
        "Do not raise the roof in any wind." if never else f"Lower the roof above a gust of {gust} ({force}).",
        f"First to give: {first_words(wind)}.",
        GUSTS_NOT_MEAN,
        *((FASTEN_BRACE,) if wind.brace is not None else ()),
        DRIVING_OFF,
        _latched(road_speed, say),
        f"Closed, the van is {say.length(nominal(van.height))} high; write {sign_words(held, say)} on the dash.",
    )
