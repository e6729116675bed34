"""The lower edge of the cloth against rain, ready to show: heights at four places, and what to change."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from loftwright.answers.hold_said import answer, barely, nominal
from loftwright.answers.views import check_row
from loftwright.cloth.water import EdgeSection
from loftwright.core.checks import Check
from loftwright.core.views import Fact, Grid
from loftwright.core.wall_views import EdgeWater, WallSection
from loftwright.core.wording import Wording

if TYPE_CHECKING:
    from loftwright.answers.walled_roof import WallNumbers

PLACES: Final = {"front": "Front", "rear": "Rear", "side": "Sides", "corner": "Corners"}


def water_section(walls: WallNumbers, checks: tuple[Check, ...], say: Wording) -> WallSection:
    """Return what is said about rain at the lower edge."""
    water, mine = walls.found.water, tuple(check for check in checks if check.rule.id.startswith("WATER-"))
    worst = min(water.sections, key=_spare)
    where = PLACES[worst.place].lower()
    staples, splash = (say.short_length(nominal(one)) for one in (worst.staples, worst.splash))
    known = f"at the {where} the staples lie {staples} above the roof and water reaches {splash}"
    return WallSection(
        "water",
        "Rain at the lower edge",
        answer(mine, barely(mine, "Rain stays out"), "Rain gets in", known),
        _facts(walls, say),
        (_grid(walls, say),),
        tuple(check_row(check, say) for check in mine),
        water.said,
    )


def edges_of(walls: WallNumbers, say: Wording) -> tuple[EdgeWater, ...]:
    """Return the sections to be drawn, planned row, heights [m]; `lap` is the length of cloth below the line.

    A hem that would hang below the skin lies on it: it is drawn there.
    """
    return tuple(_edge(section, say) for section in walls.found.water.sections)


def _spare(section: EdgeSection) -> float:
    return nominal(section.staples) - nominal(section.splash)


def _edge(section: EdgeSection, say: Wording) -> EdgeWater:
    upstand, line, water, splash, lap, hem = (
        nominal(one)
        for one in (section.upstand, section.staples, section.water, section.splash, section.lap, section.hem)
    )
    hem = max(hem, 0.0)
    sizes = [
        ("upstand", 0.0, upstand),
        ("staples", 0.0, line),
        ("water", 0.0, water),
        ("splash", water, splash),
        ("lap", hem, line),
        ("hem", 0.0, hem),
    ]
    return EdgeWater(
        PLACES[section.place],
        upstand,
        line,
        water,
        splash,
        lap,
        hem,
        _says(section, say),
        tuple((what, low, high, say.short_length(lap if what == "lap" else high - low)) for what, low, high in sizes),
    )


def _says(section: EdgeSection, say: Wording) -> str:
    """Return what decides at one place, in a sentence."""
    spare = _spare(section)
    staples = (
        f"The staples lie {say.short_length(spare)} above what water can reach"
        if spare >= 0.0
        else f"Water reaches the staples: raise their line by {say.short_length(-spare)}"
    )
    over = nominal(section.hem) - nominal(section.water)
    if nominal(section.lap) <= 0.0:
        return f"{staples}; no cloth hangs below them."
    if over >= 0.0:
        return f"{staples}; the hem hangs {say.short_length(over)} above the water."
    return f"{staples}; the hem hangs {say.short_length(-over)} into the water."


def _facts(walls: WallNumbers, say: Wording) -> tuple[Fact, ...]:
    water = walls.found.water
    front, corner = water.at("front"), water.at("corner")
    worst = min(water.sections, key=_spare)
    most = min(nominal(one) for one in water.fitting)
    short = max(
        nominal(section.driven) - nominal(room) for section, room in zip(water.sections, water.fitting, strict=True)
    )
    both = (
        f"less than the wind asks for: a staple line {say.short_length(short)} higher has room for both"
        if short > 0.0
        else "at the place with the least room; the wind asks for less"
    )
    deepest = max(water.sections, key=lambda one: nominal(one.water))
    return (
        Fact(
            "Staples above the reach of water" if _spare(worst) >= 0.0 else "Staples below the reach of water",
            say.short_length(abs(_spare(worst))),
            f"least, at the {PLACES[worst.place].lower()}",
        ),
        Fact("Upstand", say.short_length(nominal(front.upstand)), "over the skin at its foot"),
        Fact(
            "Water along the upstand",
            say.short_length(nominal(deepest.water)),
            f"deepest, at the {PLACES[deepest.place].lower()}",
        ),
        Fact("Wind holds rain up by", say.short_length(nominal(front.driven)), "behind the lap, in the gust"),
        Fact("Cloth below the staples", say.short_length(nominal(front.lap))),
        Fact("Longest lap whose hem stays dry", say.short_length(most), both),
        *(
            ()
            if corner.end_lap is None
            else (Fact("Ends of the cloth overlap", say.short_length(nominal(corner.end_lap))),)
        ),
    )


def _grid(walls: WallNumbers, say: Wording) -> Grid:
    rows = []
    for section in walls.found.water.sections:
        toward = nominal(section.toward)
        rows.append(
            (
                PLACES[section.place],
                *(
                    say.short_length(nominal(one))
                    for one in (section.standing, section.running, section.splash, section.staples, section.hem)
                ),
                f"{say.percent(round(abs(toward), 3))} {'to it' if toward > 0.0 else 'away'}",
            )
        )
    return Grid(
        "The lower edge in section, heights over the roof's skin there",
        ("Place", "Standing water", "Running water", "Splash reaches", "Staples", "Hem", "Skin falls"),
        tuple(rows),
        "A staple line that water can reach is refused. A hem below nought lies on the roof.",
    )
