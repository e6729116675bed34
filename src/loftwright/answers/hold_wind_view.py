"""The raised roof in wind, ready to show: what gives first, each part by direction and gust, sway, the brace."""

from __future__ import annotations

from typing import Final

import numpy as np

from loftwright.answers.held_gusts import HIGHEST
from loftwright.answers.held_picture import WindPart as Push
from loftwright.answers.held_roof import HeldNumbers
from loftwright.answers.held_wind import WindFound
from loftwright.answers.hold_said import (
    answer,
    beaufort,
    capital,
    first_to_give,
    gust_text,
    nominal,
    of_part,
)
from loftwright.answers.hold_road_view import sign_words
from loftwright.answers.views import check_row
from loftwright.core.checks import Check
from loftwright.core.hold_views import HoldSection, WindArrow, WindPart, WindPlay
from loftwright.core.views import Fact, Grid
from loftwright.core.wording import Wording
from loftwright.project.assemble_wind import raised, to_van
from loftwright.project.plane import LENGTHWISE
from loftwright.strength.held import FREE_END
from loftwright.strength.raised_shape import DIRECTIONS
from loftwright.strength.wind import velocity_pressure

LIMITS: Final = (
    ("hinge", "what a hinge bears"),
    ("shoe", "what a shoe bears"),
    ("arms", "what the arms' pins bear"),
    ("arm a", "what an arm's pin bears"),
    ("arm b", "what an arm's pin bears"),
    ("brace", "what the brace bears"),
    ("strap", "what a strap bears"),
    ("seams", "what the seams bear"),
    ("staples", "what a staple bears"),
    ("screws", "what a screw bears"),
    ("film", "what the window film bears"),
    ("cloth", "what the cloth bears"),
)
"""What the limit of a part is, by a word of its name."""
LEAST_GUST: Final = 1.5
"""Below this [m/s], light air, a roof that is to be lowered is not to be raised at all."""
DRIVING_OFF: Final = "Close and latch it before driving; nobody under the open shell while driving."
GUSTS_NOT_MEAN: Final = "Go by the gusts of the forecast, not by its mean wind."
FASTEN_BRACE: Final = "Brace in and pinned before the night."


def lower_above(held: HeldNumbers) -> float:
    """Return the gust above which the roof is to be lowered [m/s]: nine of ten roofs like this one outlast it."""
    wind = held.found.wind
    return min(wind.lower_nine_of_ten, nominal(wind.lower_above))


def _height(held: HeldNumbers) -> float:
    return nominal(held.found.basis.at("body.height"))


def _lower_words(held: HeldNumbers, say: Wording) -> tuple[str, str]:
    """Return the gust above which it is to be lowered, and what wind that is."""
    gust = lower_above(held)
    if gust < LEAST_GUST:
        return "any wind", "do not raise it in any wind"
    return say.gust(gust), beaufort(gust, _height(held))


def weakest_words(wind: WindFound, say: Wording) -> str:
    """Return what is first at its limit, as a clause."""
    if not wind.weakest or wind.weakest_direction is None:
        return f"nothing is at its limit up to a gust of {say.gust(HIGHEST)}"
    gust = nominal(wind.lower_above)
    said = first_to_give(wind.weakest)
    if gust < LEAST_GUST:
        return f"{said} even in the lightest wind"
    return f"{said}, in a gust of {say.gust(gust)} from the {wind.weakest_direction}"


def wind_section(held: HeldNumbers, checks: tuple[Check, ...], say: Wording) -> HoldSection:
    """Return what is said about the raised roof in wind."""
    wind, mine = held.found.wind, of_part(checks, "wind")
    gust, force = _lower_words(held, say)
    advice = "do not raise it in any wind" if lower_above(held) < LEAST_GUST else f"lower it above {gust} ({force})"
    known = f"{weakest_words(wind, say)}; {advice}"
    wanted = f"the gust of {say.gust(nominal(wind.wanted))}"
    return HoldSection(
        "wind",
        "In the wind, raised",
        answer(mine, f"It stands {wanted}", f"It does not stand {wanted} as it should", known),
        _facts(held, say),
        tuple(_grids(held, say)),
        tuple(check_row(check, say) for check in mine),
        wind.said,
    )


def _facts(held: HeldNumbers, say: Wording) -> tuple[Fact, ...]:
    wind = held.found.wind
    gust, force = _lower_words(held, say)
    first = wind.weakest or "nothing looked at"
    found = [
        Fact("Lower it above", gust, force if gust == "any wind" else f"{force}; nine of ten roofs like yours outlast it"),
        Fact("First at its limit", first, f"in a gust of {gust_text(nominal(wind.lower_above), say)}"),
        Fact("Wanted", say.gust(nominal(wind.wanted)), beaufort(nominal(wind.wanted), _height(held))),
        Fact("Sway of the free end", say.short_length(float(wind.sway[0].max())), "in the wanted gust, worst side"),
        Fact("Twist of the shell", say.angle(float(wind.twist[0].max())), "in the wanted gust, worst side"),
    ]
    if wind.brace is not None:
        found += [
            Fact("Sway without the brace", say.short_length(float(wind.unbraced_sway[0].max())), "in the wanted gust"),
            Fact("Sway left by the brace", say.percent(round(nominal(wind.sway_ratio), 2)), "in the side wind"),
            Fact("Greatest push along the brace", say.force(nominal(wind.brace.push)), "in the wanted gust"),
            Fact("Play left at the free end", say.short_length(nominal(wind.brace.play))),
        ]
    found.append(Fact("Footing of the parked van", say.ratio(nominal(wind.footing)), "times what tips it"))
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
                (direction, say.short_length(float(wind.sway[0, d])), say.angle(float(wind.twist[0, d])))
                + ((say.short_length(float(wind.unbraced_sway[0, d])),) if wind.brace is not None else ())
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


# --- the picture with its slider -------------------------------------------------------------------


def wind_play(held: HeldNumbers, say: Wording) -> WindPlay:
    """Return the raised roof over gusts from each side, to be looked up."""
    wind, table = held.found.wind, held.found.wind.table
    names = [name for name in table.names if name in wind.names]
    parts = tuple(
        WindPart(
            name,
            limit_words(name, held, say),
            tuple(tuple(float(v) for v in table.share[:, d, table.names.index(name)]) for d in range(len(DIRECTIONS))),
            tuple(gust_text(float(g), say) for g in wind.of(name)[0]),
        )
        for name in names
    )
    sway = tuple(tuple(float(v) for v in table.sway[:, d]) for d in range(len(DIRECTIONS)))
    without: tuple[tuple[str, ...], ...] = ()
    if wind.unbraced is not None:
        without = tuple(
            tuple(say.short_length(float(v)) for v in wind.unbraced.sway[:, d]) for d in range(len(DIRECTIONS))
        )
    gust, force = _lower_words(held, say)
    return WindPlay(
        directions=tuple(DIRECTIONS),
        gusts=table.gusts,
        gust_texts=tuple(say.gust(v) for v in table.gusts),
        wanted=nominal(wind.wanted),
        parts=parts,
        sway=sway,
        sway_texts=tuple(tuple(say.short_length(v) for v in one) for one in sway),
        sway_without=without,
        arrows=tuple(_arrows(held, d) for d in range(len(DIRECTIONS))),
        box=_box(held),
        weakest=_first_words(wind),
        lower_above=gust,
        beaufort=force,
    )


def _first_words(wind: WindFound) -> str:
    if not wind.weakest or wind.weakest_direction is None:
        return "nothing looked at"
    article = "" if wind.weakest.startswith("the ") else "the "
    return f"{article}{wind.weakest}, in wind from the {wind.weakest_direction}"


def limit_words(name: str, held: HeldNumbers, say: Wording) -> str:
    """Return what the limit of a thing in wind is."""
    if name == FREE_END:
        return f"how far it may sway, {say.short_length(nominal(held.found.basis.at('wind.sway_limit')))}"
    return next((words for word, words in LIMITS if word in name), "what it bears")


def _moved(held: HeldNumbers, spot: np.ndarray) -> tuple[float, float, float]:
    """Return a place of the van's axes counted from the middle of the rear edge of the opening [m]."""
    x, y, z = (float(v) for v in np.ravel(spot))
    if held.found.basis.plane is LENGTHWISE:
        return x, y, z
    at = held.found.basis.at
    return x + nominal(at("opening.length")) / 2.0, y + nominal(at("opening.width")) / 2.0, z


def _arrows(held: HeldNumbers, d: int) -> tuple[WindArrow, ...]:
    """Return the wind's pushes from one direction: of the wind that lifts and the one that presses, the stronger."""
    wind = held.found.wind
    pressure = float(velocity_pressure(nominal(wind.wanted)))

    def strength(pushes: tuple[Push, ...]) -> float:
        return float(np.linalg.norm(np.sum([one.force for one in pushes], axis=0)))

    pushes = max((wind.picture[DIRECTIONS[d], word] for word in ("lifts", "presses")), key=strength)
    return tuple(
        WindArrow(
            one.name,
            _moved(held, np.asarray(one.centre)),
            (one.force[0] / pressure, one.force[1] / pressure, one.force[2] / pressure),
        )
        for one in pushes
    )


def _box(held: HeldNumbers) -> tuple[tuple[float, float, float], ...]:
    """Return the corners of the raised rim and of the opening [m]: rear left, rear right, front right, front left."""
    base = held.found.basis
    wide = raised(base.project, base.at, base.roof, (base.roof.travel.fraction.size - 1,))

    def one(name: str) -> float:
        return nominal(getattr(wide, name))

    tilt, half, low = one("tilt"), one("shell_width") / 2.0, one("width") / 2.0
    near = (one("shell_x"), one("shell_z"))
    far = (near[0] + one("shell_length") * np.cos(tilt), near[1] + one("shell_length") * np.sin(tilt))
    rim = [(near[0], half, near[1]), (near[0], -half, near[1]), (far[0], -half, far[1]), (far[0], half, far[1])]
    length = one("length")
    hole = [(0.0, low, 0.0), (0.0, -low, 0.0), (length, -low, 0.0), (length, low, 0.0)]
    found = [
        [_moved(held, to_van(base.project, np.array(spot, dtype=np.float64))) for spot in four] for four in (rim, hole)
    ]
    if base.plane is not LENGTHWISE:
        # The near end is the left side there, and the left of the plane of motion lies to the cab.
        found = [[four[1], four[2], four[3], four[0]] for four in found]
    return tuple(spot for four in found for spot in four)


def _latched(speed: float, say: Wording) -> str:
    if speed < LEAST_GUST:
        return "Do not drive with it: latches and hinges have not enough."
    return f"Latched, it has enough up to {say.driving(speed)}."


def wind_card(held: HeldNumbers, road_speed: float, say: Wording) -> tuple[str, ...]:
    """Return short lines to hang in the van, the gust first; `road_speed` [m/s] at which latches have enough."""
    wind, van = held.found.wind, held.found.van
    gust, force = _lower_words(held, say)
    never = lower_above(held) < LEAST_GUST
    return (
        "Do not raise the roof in any wind." if never else f"Lower the roof above a gust of {gust} ({force}).",
        f"First to give: {_first_words(wind)}.",
        GUSTS_NOT_MEAN,
        *((FASTEN_BRACE,) if wind.brace is not None else ()),
        DRIVING_OFF,
        _latched(road_speed, say),
        f"Closed, the van is {say.length(nominal(van.height))} high; write {sign_words(held, say)} on the dash.",
    )
