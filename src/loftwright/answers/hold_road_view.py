"""The closed roof on the road and the weights on the van, ready to show."""

from __future__ import annotations

from typing import Final

from loftwright.answers.held_road import FASTEST, RoadFound, RoadPart
from loftwright.answers.held_roof import HeldNumbers
from loftwright.answers.hold_said import answer, capital, nine_of_ten, nominal, of_part
from loftwright.answers.views import check_row
from loftwright.core.checks import Check
from loftwright.core.hold_views import HoldSection
from loftwright.core.motion import first_row
from loftwright.core.units import size_of
from loftwright.core.views import Fact, Grid
from loftwright.core.wording import MISSING, Wording
from loftwright.strength.on_van import sign_height

WALKING: Final = 1.5
"""Walking pace [m/s]."""


def enough_up_to(held: HeldNumbers) -> float:
    """Return the speed up to which latches, hinges and stops of nine of ten roofs like this one have enough [m/s]."""
    road = held.found.road
    stops = road.part("stops")
    speeds = [road.fastest] if stops is None or stops.speed is None else [road.fastest, stops.speed]
    return min(min(nine_of_ten(held, speed), nominal(speed)) for speed in speeds)


def _speed(speed: float, say: Wording) -> str:
    return f"above {say.driving(FASTEST)}" if speed >= FASTEST - 1e-6 else say.driving(speed)


def road_section(held: HeldNumbers, checks: tuple[Check, ...], say: Wording) -> HoldSection:
    """Return what is said about the closed roof on the road."""
    road, mine = held.found.road, of_part(checks, "road")
    wanted = say.driving(nominal(road.wanted))
    first = min((nominal(part.speed) for part in _bearing(road) if part.speed is not None), default=FASTEST)
    planned, most = _enough(first, say), _enough(enough_up_to(held), say)
    known = f"{_first(road)} {planned}"
    if most != planned:
        known += f", those of nine in ten roofs like yours {most}"
    return HoldSection(
        "road",
        "On the road, closed",
        answer(mine, f"It holds at {wanted}", f"Do not drive {wanted} with it yet", known),
        _facts(held, say),
        tuple(_grids(held, say)),
        tuple(check_row(check, say) for check in mine),
        (*road.said, *road.shell.said),
    )


def _bearing(road: RoadFound) -> list[RoadPart]:
    """Return the parts that bear all the time; a catch waits until a latch has failed."""
    return [part for part in road.parts if part.speed is not None and part.name != "safety catch"]


def _first(road: RoadFound) -> str:
    """Return the part that is first at its limit, as the beginning of a clause."""
    first = min(_bearing(road), key=lambda part: nominal(part.speed if part.speed is not None else 0.0), default=None)
    return "all parts hold" if first is None else f"the {first.name} come first and hold"


def _enough(speed: float, say: Wording) -> str:
    return f"up to {_speed(speed, say)}" if speed >= WALKING else "not even at walking pace"


def sign_words(held: HeldNumbers, say: Wording) -> str:
    """Return the height to write on the dash, rounded up."""
    van = held.found.van
    if say.units == "metric":
        return say.length(nominal(van.sign))
    return say.length(nominal(sign_height(van.height, step=size_of("in"))))


def _facts(held: HeldNumbers, say: Wording) -> tuple[Fact, ...]:
    road = held.found.road
    shell, most = road.shell, _enough(enough_up_to(held), say)
    found = [
        Fact(
            "Enough up to",
            _speed(nominal(road.fastest), say),
            f"wanted {say.driving(nominal(road.wanted))}; nine in ten roofs like yours {most}",
        ),
        Fact(
            "Air lifts the shell",
            say.force(nominal(road.lift)),
            f"at the wanted speed; drags {say.force(nominal(road.drag))}",
        ),
        Fact("A latch pulls", say.force(float(road.latch[0].max())), "the hardest worked one"),
        Fact("With one latch lost", say.force(nominal(road.latch_lost)), "on the next"),
        Fact("The lip gapes", say.short_length(nominal(road.gape)), "between latches, at the wanted speed"),
        Fact("Latches off their keepers", say.short_length(nominal(road.offset.worst)), "at most, coming down"),
        Fact(
            "The sides rise",
            say.short_length(nominal(shell.rise)),
            f"the seal follows {say.short_length(nominal(shell.room))}",
        ),
    ]
    if shell.droop is not None:
        found.append(Fact("The raised lip droops", say.short_length(nominal(shell.droop))))
    if shell.twist is not None:
        found.append(Fact("The shell twists", say.angle(nominal(shell.twist)), "with the springs of one side lost"))
    return tuple(found)


def _grids(held: HeldNumbers, say: Wording) -> list[Grid]:
    road = held.found.road
    return [
        Grid(
            f"Parts at {say.driving(nominal(road.wanted))}",
            ("Part", "Carries", "Bears", "Up to"),
            tuple(
                (
                    capital(part.name),
                    say.force(nominal(part.force)),
                    say.force(nominal(part.limit)),
                    MISSING if part.speed is None else _speed(nominal(part.speed), say),
                )
                for part in road.parts
            ),
            "The hardest worked one of each; of stops the least push that is left, and the least that counts.",
        ),
        Grid(
            "Each latch",
            ("Latch", "Pulls"),
            tuple((str(i + 1), say.force(float(force))) for i, force in enumerate(road.latch[0])),
        ),
    ]


def van_section(held: HeldNumbers, checks: tuple[Check, ...], say: Wording) -> HoldSection:
    """Return what is said about the weights on the van."""
    van, mine = held.found.van, of_part(checks, "van")
    known = (
        f"the roof adds {say.mass(nominal(van.added))}, the closed van is {say.length(nominal(van.height))} high, and "
        f"its footing is {_change(held, say)}"
    )
    return HoldSection(
        "van",
        "On the van",
        answer(mine, "The van carries it", "Not right on the van yet", known),
        (
            Fact("Added", say.mass(nominal(van.added)), f"at {say.length(nominal(van.added_height))} above the ground"),
            Fact("Overall height, closed", say.length(nominal(van.height))),
            Fact("On the dash", sign_words(held, say), "rounded up"),
            Fact("Centre of the van", say.length(nominal(van.after)), f"before {say.length(nominal(van.before))}"),
            Fact(
                "Footing",
                say.ratio(nominal(van.footing_after)),
                f"half the track over that height; before {say.ratio(nominal(van.footing_before))}",
            ),
            Fact(
                "Parked in the gust, roof open",
                f"{say.ratio(nominal(held.found.wind.footing))} times",
                "what holds the van down over what tips it",
            ),
        ),
        tuple(_van_grids(held, say)),
        tuple(check_row(check, say) for check in mine),
        van.said,
    )


def _change(held: HeldNumbers, say: Wording) -> str:
    van = held.found.van
    change = nominal(van.footing_after) / nominal(van.footing_before) - 1.0
    if abs(change) < 5e-4:
        return "as before"
    return f"{say.percent(round(abs(change), 3))} {'less' if change < 0 else 'more'} than before"


def _van_grids(held: HeldNumbers, say: Wording) -> list[Grid]:
    van, opening = held.found.van, held.found.opening
    grids = [
        Grid(
            "Masses and heights",
            ("What", "Mass", "Centre at"),
            (
                ("Van before", say.mass(nominal(van.bare)), say.length(nominal(van.before))),
                ("All that is added", say.mass(nominal(van.added)), say.length(nominal(van.added_height))),
                ("of it the ring", say.mass(nominal(opening.ring_mass)), MISSING),
                ("Sawn out", say.mass(nominal(opening.cut_mass)), MISSING),
                ("Van after", say.mass(nominal(van.whole)), say.length(nominal(van.after))),
            ),
        )
    ]
    top = van.top_loads
    if top is not None:
        walked = held.project.body.walked_on
        # To the centimetre: a place, not a size to make.
        places = [
            f"{say.length(round(x, 2) + 0.0)} along, {say.length(abs(y))} {'left' if y > 0 else 'right'}"
            for x, y in zip(van.stops.x, van.stops.y, strict=True)
        ]
        grids.append(
            Grid(
                "What the closed shell rests on",
                ("Place", "A person", "Snow") if walked else ("Place", "Snow"),
                tuple(
                    (place, *((say.force(float(foot)),) if walked else ()), say.force(float(snow)))
                    for place, foot, snow in zip(
                        places, first_row(top.stops_foot), first_row(top.stops_snow), strict=True
                    )
                ),
                "Negative: latches hold it down.",
            )
        )
    return grids
