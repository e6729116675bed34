"""One project through the domains, in the fixed order.

Fit, geometry and mass, travel, walls and seal and fold, other forces, balance, choice, strength, plan.
What is not answered yet is stood in for by its wide default, and said.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np

from loftwright.answers.draws import Input, Nominal, Rows, rows
from loftwright.answers.judging import decide
from loftwright.core.checks import Check, Outcome, worst_first
from loftwright.core.motion import Array, Travel
from loftwright.core.uncertain import normal
from loftwright.mechanics import weigh
from loftwright.mechanics.balance import G0
from loftwright.mechanics.feel import (
    STATES,
    Failure,
    Feel,
    Quick,
    Roof,
    failures,
    feel,
    judge_feel,
    let_go,
    panel_flight,
    quick,
    state,
    unequal_load,
)
from loftwright.mechanics.reactions import Reactions, reactions
from loftwright.mechanics.room import Room, Surroundings, judge_room, room
from loftwright.mechanics.verdicts import Judged
from loftwright.plan.scout import STAND, Headroom, Outline, Pose, headroom
from loftwright.project import assemble
from loftwright.project.model import Project

STATIONS = 121
"""Stations over the travel."""

NOT_ANSWERED = (
    "The shell is taken to sit level on its packers: the fit of rim and roof is not reckoned yet.",
    "Seal, cloth, fold and trapped air are wide guesses until they are measured.",
    "Weight of lifting arms, flexing of the shell and the damping inside the springs are left out.",
    "The gust presses on the shell as on the roof of a small closed building; walls and brace are not reckoned yet.",
)


@dataclass(frozen=True, slots=True)
class OneMore:
    """The one further weighing that would narrow the weight's moment most: doubt `now` and `then` [N m], two sd."""

    what: str
    now: float
    then: float


def one_more(project: Project, weighed: weigh.Weighed | weigh.NotEnough | None) -> OneMore | None:
    """Return which further reading is worth most for the shell's moment about the pivot; None without a weighing."""
    if not isinstance(weighed, weigh.Weighed):
        return None
    length, behind = project.shell.length.nominal, project.shell.overhang_rear.nominal
    pivot = project.linkage.hinge or project.linkage.arm_a_van
    about = behind + (pivot.x.nominal if pivot is not None else 0.0)
    scales, tape = normal(1.0, 0.5), 0.003
    near, far = normal(0.05 * length, tape), normal(0.95 * length, tape)
    choices: dict[str, weigh.Reading] = {
        "the whole shell on the scales": weigh.Whole(scales),
        "balance it over a pipe": weigh.Balance(normal(weighed.centre, 0.01)),
        "its rear end on the scales": weigh.Line(near, far, scales),
        "its front end on the scales": weigh.Line(far, near, scales),
    }
    then = {what: assemble.one_more_reading(project, extra).moment_doubt(about) for what, extra in choices.items()}
    best = min(then, key=lambda what: then[what])
    return OneMore(best, G0 * weighed.moment_doubt(about), G0 * then[best])


def steepness(project: Project, weighed: weigh.Weighed) -> tuple[Check, ...]:
    """Return the judgement of a tilted weighing, if there is one."""
    check = assemble.centre_height(project, weighed).check
    return () if check is None else (check,)


@dataclass(frozen=True, slots=True)
class RoofNumbers:
    """Everything computed for one project.

    `roof`, `felt`, `space`, `around` and `stand` carry all rows; row 0 is nominal. The rest is of the nominal
    roof alone. `weighed` is what the scales say, if anything, `one_more` which further reading is worth most.
    `up` and `down` are hand and pin forces by equilibrium for the nominal roof, mild and new, raised and
    lowered slowly. `goes` [states, travel] is what the nominal roof does when let go: +1 rises, 0 stays,
    -1 falls. `unequal` [N] is the most that left and right springs, unequal as delivered, add to each hinge.
    """

    project: Project
    rows: Rows
    roof: Roof
    felt: Feel
    space: Room
    around: Surroundings
    stand: Headroom
    weighed: weigh.Weighed | weigh.NotEnough | None
    one_more: OneMore | None
    failures: tuple[Failure, ...]
    flight: Failure | None
    unequal: float
    quick: Quick
    up: Reactions
    down: Reactions
    goes: Array


def inputs_of(project: Project) -> dict[str, Input]:
    """Return every quantity of a project as an input that can be drawn."""
    return {path: Input(q.value, q.low, q.high, q.measure) for path, q in assemble.quantities(project).items()}


@dataclass(frozen=True, slots=True)
class Assembled:
    """Every domain's input for one project, for as many rows as are asked for."""

    roof: Roof
    around: Surroundings
    outline: Outline
    sense: Array


def assembled(project: Project, at: Callable[[str], Array], *, stations: int, sense: Array | None = None) -> Assembled:
    """Return every domain's input; `at` gives the value of each path for every row."""
    roof, turning = assemble.roof(project, at, stations=stations, sense=sense)
    return Assembled(roof, assemble.surroundings(project, at), assemble.outline(project, at), turning)


def draw_rows(project: Project) -> tuple[Rows, Assembled]:
    """Return the rows of a project, and the nominal roof by itself, which settles the turning sense of arm a.

    Raises CannotAssemble when the nominal arms do not reach.
    """
    inputs = inputs_of(project)
    nominal = Nominal(inputs)
    found = assembled(project, nominal, stations=STATIONS)
    at_headroom(project, nominal)
    return rows(inputs, nominal.asked, project.settings.draws, project.settings.seed), found


def at_headroom(project: Project, at: Callable[[str], Array]) -> tuple[Array, Array, Array]:
    """Return floor to roof, thickness of the roof, and the standing height wanted, for every row [m]."""
    return at("van.floor_to_roof"), at("van.roof_build"), at("requirements.headroom_wanted")


def open_pose(travel: Travel) -> Pose:
    """Return where the shell is when open, for every row."""
    shell = travel.shell
    return Pose(*(np.broadcast_to(v, travel.q.shape)[..., -1] for v in (shell.x, shell.z, shell.phi)))


def standing(project: Project, parts: Assembled, at: Callable[[str], Array]) -> Headroom:
    """Return where one can stand under the open roof, for every row."""
    taken = [] if parts.around.bed is None else [(parts.around.bed.start, parts.around.bed.end)]
    return headroom(parts.outline, open_pose(parts.roof.travel), project.linkage.end, *at_headroom(project, at), taken)


@lru_cache(maxsize=16)
def judged_roof(project: Project) -> Outcome[RoofNumbers]:
    """Return everything that is known of how this roof moves and feels, worst judgement first.

    Raises ProjectFault or CannotAssemble when the nominal roof cannot be built at all.
    """
    drawn, planned = draw_rows(project)
    parts = assembled(project, drawn, stations=STATIONS, sense=planned.sense)
    roof = parts.roof
    stand = standing(project, parts, drawn)
    space = room(parts.around, roof)
    felt = feel(roof)
    judged = (
        Judged(STAND, stand.best, at_headroom(project, drawn)[2]),
        *judge_room(space, roof, parts.around),
        *judge_feel(roof, felt),
    )
    checks: tuple[Check, ...] = tuple(decide(j, drawn) for j in judged)
    weighed = assemble.weighing(project)
    if isinstance(weighed, weigh.Weighed):
        checks = (*checks, weigh.agreement(weighed), *steepness(project, weighed))
    alone = feel(planned.roof)
    mild = [push.at(state("mild", "new")) for push in alone.springs]

    def by_equilibrium(going: Literal["up", "down"]) -> Reactions:
        return reactions(
            planned.roof.travel,
            planned.roof.body,
            mild,
            alone.loads,
            planned.roof.pin_moment,
            planned.roof.handle,
            planned.roof.pins,
            going=going,
        )

    return Outcome(
        RoofNumbers(
            project=project,
            rows=drawn,
            roof=roof,
            felt=felt,
            space=space,
            around=parts.around,
            stand=stand,
            weighed=weighed,
            one_more=one_more(project, weighed),
            failures=failures(planned.roof, alone),
            flight=panel_flight(planned.roof, alone),
            unequal=float(unequal_load(planned.roof, alone).max()),
            quick=quick(planned.roof, alone),
            up=by_equilibrium("up"),
            down=by_equilibrium("down"),
            goes=np.stack([let_go(alone, *pair)[0] for pair in STATES]),
        ),
        worst_first(checks),
        (*assumptions(project), *NOT_ANSWERED),
    )


def assumptions(project: Project) -> tuple[str, ...]:
    """Return what was taken for granted in this project, in sentences."""
    return project.taken
