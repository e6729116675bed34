"""Worth starting? Headroom, floor, rough weight, a band of costs and the likeliest troubles of one project."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.judged_roof import RoofNumbers, judged_roof, open_pose
from loftwright.answers.judging import decide
from loftwright.answers.key_figures import Band, band
from loftwright.core.checks import Check, Outcome, worst_first
from loftwright.core.judged import Judged
from loftwright.mechanics import rules
from loftwright.mechanics.feel import state
from loftwright.mechanics.figures import lip_rise
from loftwright.plan.cost import CostBand, Price, cost_band
from loftwright.plan.scout import LEAST_FLOOR, ROOM, STAND, AtHand, parts_needed, wall_area
from loftwright.plan.worth import BY_HAND, FOUR_PEOPLE, LIFT_ON, Worth, likeliest, reasons, worth_starting
from loftwright.project import assemble
from loftwright.project.model import Project
from loftwright.project.plane import plane_of
from loftwright.reference.layups import LAYUPS

VITAL: Final = (STAND, ROOM)
"""Without these there is no point in starting."""
ESSENTIAL: Final = (
    LIFT_ON,
    rules.POSSIBLE,
    rules.TRANSMISSION,
    rules.FLAT,
    rules.GUIDE_JAMS,
    rules.RIM,
    rules.SHELL_EDGE,
    rules.SHELL_BED,
    rules.BINDING,
)
"""What no spring, latch or prop can mend: the shell must get onto the roof, move freely and close."""
FEEL: Final = "LIFT-"
"""Ids of the rules on springs and hand forces begin with this; without springs they say nothing."""
SPRINGS_IF_NONE: Final = 2
"""Springs to be paid for when the file names none yet."""


@dataclass(frozen=True, slots=True)
class ScoutNumbers:
    """What is worth knowing before starting.

    `against`: checks that stand against a plain yes, none for a yes; `troubles`: the three likeliest.
    `headroom_won`, `standing_height`, `rise`, `floor_length` [m], `floor_area` [m2]. `weight` [kg] of the shell
    with everything on it, `is_weighed` when it does not rest on a guess; `bare_by_area` [kg] of the bare shell from
    its skin alone, whatever is known. `skin_area`, `cloth_area` [m2]. `cost` is for the nominal sizes;
    `cost_low`, `cost_high` [price] are for the least sizes at the low prices and the greatest at the high ones.
    """

    found: RoofNumbers
    at_hand: frozenset[AtHand]
    worth: Worth
    against: tuple[Check, ...]
    troubles: tuple[Check, ...]
    headroom_won: Band
    standing_height: Band
    rise: Band
    floor_length: Band
    floor_area: Band
    weight: Band
    is_weighed: bool
    bare_by_area: Band
    skin_area: Band
    cloth_area: Band
    cost: CostBand
    cost_low: float
    cost_high: float


def scout(
    project: Project, prices: Mapping[str, Price], at_hand: frozenset[AtHand] = frozenset()
) -> Outcome[ScoutNumbers]:
    """Return whether a project is worth starting, with its reasons, worst judgement first.

    `prices` by part, from `project.catalogues.read_prices`; `at_hand`: what need not be bought.

    Raises ProjectFault or CannotAssemble when the nominal roof cannot be built at all, ProjectFault when the
    prices used are in more than one currency.
    """
    outcome = judged_roof(project)
    found = outcome.numbers
    checks = worst_first(
        (*_moves(outcome.checks, project), *(decide(j, found.rows, found.roof.possible) for j in _own(found)))
    )
    skin = assemble.skin(project, found.rows).area
    outline = assemble.outline(project, found.rows)
    sizes = {
        "opening_length": band(outline.opening_length, found),
        "opening_width": band(outline.opening_width, found),
        "shell_length": band(outline.shell_length, found),
        "shell_width": band(found.rows(plane_of(project).shell_across), found),
        "skin_area": band(skin, found),
        "cloth_area": band(wall_area(outline, open_pose(found.roof.travel)), found),
    }
    small, middle, large = (_cost(project, prices, at_hand, sizes, end) for end in ("low", "nominal", "high"))
    layup = LAYUPS[project.shell.made_of]
    area = sizes["skin_area"]
    per_area = layup.weight_per_area
    assumed = list(outcome.assumptions)
    if middle.currency and middle.currency != project.settings.currency:
        assumed.append(
            f"Prices are in {middle.currency}, not in {project.settings.currency}: give a price table of your own."
        )
    if middle.unpriced:
        assumed.append(f"No price is known for: {', '.join(middle.unpriced)}.")
    return Outcome(
        ScoutNumbers(
            found=found,
            at_hand=at_hand,
            worth=worth_starting(checks, VITAL, ESSENTIAL),
            against=reasons(checks, VITAL, ESSENTIAL),
            troubles=likeliest(checks, (*VITAL, *ESSENTIAL)),
            headroom_won=band(found.stand.won, found),
            standing_height=band(found.stand.best, found),
            rise=band(lip_rise(found.felt), found),
            floor_length=band(found.stand.floor_length, found),
            floor_area=band(found.stand.floor_area, found),
            weight=band(found.roof.body.mass, found),
            is_weighed=assemble.is_weighed(project),
            bare_by_area=Band(area.nominal * per_area.nominal, area.low * layup.low, area.high * layup.high),
            skin_area=area,
            cloth_area=sizes["cloth_area"],
            cost=middle,
            cost_low=small.low,
            cost_high=large.high,
        ),
        checks,
        tuple(assumed),
    )


def _moves(checks: tuple[Check, ...], project: Project) -> tuple[Check, ...]:
    """Return the checks that say something: without springs those on hand forces do not."""
    return checks if project.spring else tuple(c for c in checks if not c.rule.id.startswith(FEEL))


def _own(found: RoofNumbers) -> tuple[Judged, ...]:
    """Return what scouting asks beside the checks of the moving roof, for every row."""
    roof, stand = found.roof, found.stand
    carried = roof.body if roof.body_without is None else roof.body_without
    own = [
        Judged(ROOM, stand.floor_length, np.asarray(LEAST_FLOOR)),
        Judged(LIFT_ON, carried.mass, np.asarray(FOUR_PEOPLE)),
    ]
    if not found.project.spring:
        push = found.felt.push_up[state("mild", "new")].max(axis=-1)
        own.append(Judged(BY_HAND, push, roof.limits.push_to_start))
    return tuple(own)


def _cost(
    project: Project,
    prices: Mapping[str, Price],
    at_hand: frozenset[AtHand],
    sizes: Mapping[str, Band],
    end: str,
) -> CostBand:
    """Return what is still to be bought, for the sizes at one end of their bands."""
    counts = parts_needed(
        kind=project.linkage.kind,
        end=project.linkage.end,
        made_of=project.shell.made_of,
        springs=sum(2 * spring.per_side for spring in project.spring) or SPRINGS_IF_NONE,
        at_hand=at_hand,
        **{name: float(getattr(size, end)) for name, size in sizes.items()},
    )
    return cost_band(counts, prices)
