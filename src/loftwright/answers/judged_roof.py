"""One project through the domains, in the fixed order.

Fit, geometry and mass, travel, walls and seal and fold, other forces, balance, choice, strength, plan.
What is not answered yet is stood in for by its wide default, and said.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, is_dataclass
from functools import lru_cache
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from loftwright.answers.draws import Input, Nominal, Rows, rows
from loftwright.answers.judging import decide
from loftwright.answers.roof_odds import RoofOdds, roof_odds
from loftwright.answers.without_work import without_work
from loftwright.core.checks import Check, Outcome, Rule, worst_first
from loftwright.core.judged import Judged
from loftwright.core.motion import Array, Flags, Travel
from loftwright.core.uncertain import normal
from loftwright.mechanics import weigh
from loftwright.mechanics.balance import G0
from loftwright.mechanics.failing import Failure, Flight, failures, panel_flight
from loftwright.mechanics.feel import (
    STATES,
    Age,
    Feel,
    Quick,
    Roof,
    Temperature,
    feel,
    is_wet,
    let_go,
    quick,
    state,
    unequal_load,
)
from loftwright.mechanics.guide_rules import judge_guides
from loftwright.mechanics.hand_rules import hand_forces, judge_feel
from loftwright.mechanics.reactions import Reactions, reactions
from loftwright.mechanics.room import Room, Surroundings, judge_room, room
from loftwright.plan.scout import STAND, Headroom, Outline, Pose, headroom
from loftwright.project import assemble
from loftwright.project.lifting_gear import ALIKE
from loftwright.project.model import Project
from loftwright.project.plane import CROSSWISE, SIDE_NOTES, plane_of, size

STATIONS = 121
"""Stations over the travel."""

GUIDES_NOTE = "The rub of guides is in the judgements on guides alone; all other hand forces leave it out."
NOT_ANSWERED = (
    "The shell is taken to sit level on the blocks under its hinges: the fit of rim and roof is not reckoned yet.",
    "Seal, cloth, fold and trapped air are wide guesses until they are measured.",
    "Weight of lifting arms, flexing of the shell and the damping inside the springs are left out.",
    "Wet cloth and a load on top weigh on cold days only; hot days are dry ones.",
    "The handle is pulled and pushed straight down and up, as a strap hangs and scales read.",
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
    plane = plane_of(project)
    length, behind = size(project, plane.shell), size(project, plane.overhang)
    edge = "side" if plane is CROSSWISE else "end"
    pivot = project.linkage.hinge or project.linkage.arm_a_van
    about = behind + (pivot.x.nominal if pivot is not None else 0.0)
    scales, tape = normal(1.0, 0.5), 0.003
    near, far = normal(0.05 * length, tape), normal(0.95 * length, tape)
    choices: dict[str, weigh.Reading] = {
        "the whole shell on the scales": weigh.Whole(scales),
        "balance it over a pipe": weigh.Balance(normal(weighed.centre, 0.01)),
        f"its {plane.near} {edge} on the scales": weigh.Line(near, far, scales),
        f"its {plane.far} {edge} on the scales": weigh.Line(far, near, scales),
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

    `roof`, `felt`, `space`, `around` and `stand` carry all rows; row 0 is nominal; `likely` are the rows
    of joint draws that can be put together. The rest is of the nominal roof alone. `weighed` is what the
    scales say, if anything, `one_more` which further reading is worth most. `failures` are one spring of each
    mount lost, `flight` the roof without what can be taken off, `quick` the bounds of quick movement.
    `unequal` [N] is the most that left and right springs, unequal as delivered, add to each hinge (None for
    arms: not reckoned). `up` and `down` are hand and pin forces by equilibrium, mild and new, raised and lowered
    slowly; `most_on_pin` [N] is the greatest on one hinge or arm pin over all states and both ways.
    `goes` [states, travel] is what it does when let go: +1 rises, 0 stays, -1 falls. `odds`: how many of
    the drawn roofs meet everything, and what knowing more would add.
    """

    project: Project
    rows: Rows
    likely: NDArray[np.intp]
    roof: Roof
    felt: Feel
    space: Room
    around: Surroundings
    stand: Headroom
    weighed: weigh.Weighed | weigh.NotEnough | None
    one_more: OneMore | None
    failures: tuple[Failure, ...]
    flight: Flight | None
    unequal: float | None
    quick: Quick
    up: Reactions
    down: Reactions
    most_on_pin: float
    goes: Array
    odds: RoofOdds


def inputs_of(project: Project) -> dict[str, Input]:
    """Return every quantity of a project as an input that can be drawn."""
    return {
        path: Input(q.value, q.low, q.high, q.measure, q.same_as, q.by_nature)
        for path, q in assemble.quantities(project).items()
    }


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


def standing(project: Project, parts: Assembled, at: Callable[[str], Array], pose: Pose | None = None) -> Headroom:
    """Return where one can stand under the open roof, for every row, or under the shell in another `pose`."""
    taken = [] if parts.around.bed is None else [(parts.around.bed.start, parts.around.bed.end)]
    return headroom(parts.outline, pose or open_pose(parts.roof.travel), *at_headroom(project, at), taken)


# One answer holds some tens of megabytes; two are enough for before and after.
def judged_roof(project: Project) -> Outcome[RoofNumbers]:
    """Return everything that is known of how this roof moves and feels, worst judgement first.

    Raises ProjectFault or CannotAssemble when the nominal roof cannot be built at all.
    """
    return _judged(without_work(project))


@lru_cache(maxsize=2)
def _judged(project: Project) -> Outcome[RoofNumbers]:
    drawn, planned = draw_rows(project)
    parts = assembled(project, drawn, stations=STATIONS, sense=planned.sense)
    roof = parts.roof
    stand = standing(project, parts, drawn)
    space = room(parts.around, roof)
    felt = feel(roof)
    hand = hand_forces(roof, felt)
    judged = (
        Judged(STAND, stand.best, at_headroom(project, drawn)[2]),
        *judge_room(space, roof, parts.around),
        *judge_feel(roof, felt, hand),
        *judge_guides(roof, felt),
    )
    checks: tuple[Check, ...] = tuple(decide(j, drawn, roof.possible) for j in judged)
    weighed = assemble.weighing(project)
    if isinstance(weighed, weigh.Weighed):
        checks = (*checks, weigh.agreement(weighed), *steepness(project, weighed))
    alone = feel(planned.roof)
    up, down = (pin_forces(planned.roof, alone, "mild", "new", going) for going in BOTH_WAYS)
    extremes = [pin_forces(planned.roof, alone, heat, age, going) for heat, age in HARDEST for going in BOTH_WAYS]
    found = Outcome(
        RoofNumbers(
            project=project,
            rows=drawn,
            likely=likely_rows(drawn, roof.possible),
            roof=roof,
            felt=felt,
            space=space,
            around=parts.around,
            stand=stand,
            weighed=weighed,
            one_more=one_more(project, weighed),
            failures=failures(planned.roof, alone),
            flight=panel_flight(planned.roof, alone),
            unequal=None if not planned.roof.travel.hinged else float(unequal_load(planned.roof, alone).max()),
            quick=quick(planned.roof, alone),
            up=up,
            down=down,
            most_on_pin=max(most_on_pin(one) for one in (up, down, *extremes)),
            goes=np.stack([let_go(alone, *pair)[0] for pair in STATES]),
            odds=roof_odds(project, drawn, roof, felt, hand, judged),
        ),
        worst_first(checks),
        (*assumptions(project), *NOT_ANSWERED),
    )
    _freeze(found)
    return found


def likely_rows(drawn: Rows, possible: Flags) -> NDArray[np.intp]:
    """Return the joint draws that can be put together; the nominal row where none can."""
    rows = np.arange(drawn.draws.start, drawn.draws.stop)
    kept = rows[possible[rows]]
    return kept if kept.size else np.array([0])


BOTH_WAYS: tuple[Literal["up"], Literal["down"]] = ("up", "down")
HARDEST: tuple[tuple[Temperature, Age], ...] = (("cold", "aged"), ("sun", "new"))
"""Springs at their weakest and at their strongest."""


def pin_forces(roof: Roof, felt: Feel, heat: Temperature, age: Age, going: Literal["up", "down"]) -> Reactions:
    """Return hand and pin forces by equilibrium in one state, moved slowly."""
    loads = (*felt.loads, *felt.wet) if is_wet(heat) else felt.loads
    springs = [push.at(state(heat, age)) for push in felt.springs]
    held = (roof.pin_moment, roof.handle, roof.pins)
    return reactions(roof.travel, roof.body, springs, loads, *held, going=going, lifters=felt.lifters)


def most_on_pin(found: Reactions) -> float:
    """Return the greatest force of the van on one hinge or arm pin, one side [N], away from dead points."""
    sizes = [np.where(found.bounded, np.hypot(x, z), 0.0).max() for x, z in found.at_van]
    return float(max(sizes)) / 2


WITHOUT_ARRAYS: Final = (str, int, float, Project, Input, Check, Rule)
"""What holds no arrays need not be looked through."""


def _freeze(part: object) -> None:
    """Make every array of an answer read-only: answers are kept and handed out again."""
    if isinstance(part, np.ndarray):
        part.flags.writeable = False
    elif isinstance(part, WITHOUT_ARRAYS):
        return
    elif isinstance(part, (tuple, list)):
        for one in part:
            _freeze(one)
    elif isinstance(part, Mapping):
        for one in part.values():
            _freeze(one)
    elif is_dataclass(part) and not isinstance(part, type):
        for field in fields(part):
            _freeze(getattr(part, field.name))


def assumptions(project: Project) -> tuple[str, ...]:
    """Return what was taken for granted in this project, in sentences."""
    if project.linkage.kind == "guides":
        return (*project.taken, GUIDES_NOTE)
    sides = SIDE_NOTES if plane_of(project) is CROSSWISE else ()
    sprung = project.coil or project.torsion or project.cord
    return (*project.taken, *sides, ALIKE) if sprung else (*project.taken, *sides)
