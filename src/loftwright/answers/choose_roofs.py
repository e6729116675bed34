"""A roof in fresh draws, and candidate springs put into it and judged by every rule."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, cast

import numpy as np

from loftwright.answers.draws import Input, Nominal, Rows, rows
from loftwright.answers.judged_roof import Assembled, assembled, at_headroom, inputs_of, standing
from loftwright.answers.lifting import COARSE, all_hold, lift_of
from loftwright.answers.roof_odds import Fails, failing, unjudged
from loftwright.choice.window import Ends
from loftwright.core.checks import Rule
from loftwright.core.judged import Judged
from loftwright.core.lifting import Entries, Fit, Lift, Pair
from loftwright.core.motion import Array, Flags
from loftwright.core.uncertain import Provenance, Uncertain, even, exact, normal
from loftwright.mechanics.feel import Feel, Roof, feel
from loftwright.mechanics.guide_rules import judge_guides
from loftwright.mechanics.hand_rules import hand_rules, judge_feel
from loftwright.mechanics.room import judge_room, room
from loftwright.mechanics.rules import (
    BRACKET,
    CLOSED_LENGTH,
    END_FITTING,
    FRICTION,
    GUIDE_JAMS,
    GUIDE_PULL,
    GUIDE_PUSH,
    OPEN_LENGTH,
    PRESSURE,
    ROD_BENDS,
    TOP_SPEED,
    TWIST,
)
from loftwright.plan.scout import STAND
from loftwright.project.choice_sections import AtHand
from loftwright.project.model import Project, key_of
from loftwright.project.motion_sections import HeadBody, Spring, SpringBody
from loftwright.project.points import Point
from loftwright.project.stock import entries_of

STATIONS: Final = 121
IN_THE_WINDOW: Final = frozenset(rule.id for rule in (CLOSED_LENGTH, OPEN_LENGTH, END_FITTING, BRACKET, ROD_BENDS))
"""Rules beside those on hand forces that the window of a spring holds already."""
OF_SPRINGS: Final = IN_THE_WINDOW | {
    rule.id for rule in (TOP_SPEED, TWIST, PRESSURE, FRICTION, GUIDE_JAMS, GUIDE_PUSH, GUIDE_PULL)
}
"""All rules on springs beside those on hand forces and on what springs come near."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """A project in fresh draws: its rows (the nominal one first), what every domain takes, forces and judgements."""

    project: Project
    rows: Rows
    seed: int
    parts: Assembled
    felt: Feel
    judged: tuple[Judged, ...]

    @property
    def roof(self) -> Roof:
        """The mechanics' own input."""
        return self.parts.roof

    @property
    def meets(self) -> Flags:
        """Where everything holds that can be judged, [draws]."""
        return all_hold(self.judged, self.roof.possible)[self.rows.draws]

    @property
    def rest(self) -> tuple[Fails, ...]:
        """What fails in how many of the draws, most often first."""
        return failing(self.judged, self.roof.possible, self.rows.draws)

    @property
    def unjudged(self) -> tuple[tuple[Rule, str], ...]:
        """What cannot be judged yet."""
        return unjudged(self.judged)

    def lift(self, holding: Flags | None = None, *, step: int = COARSE) -> Lift:
        """Return what the roof asks of springs in place of its own, in all draws; `holding` [rows] as in `lift_of`."""
        flags = self.other_rules() if holding is None else holding
        return lift_of(self.project, self.rows, self.roof, self.felt, flags, seed=self.seed, step=step)

    def other_rules(self) -> Flags:
        """Return where everything holds that is in no window of a spring, for the springs as fitted, [rows]."""
        linear = IN_THE_WINDOW | {one.rule.id for one in hand_rules(self.roof, self.felt)}
        return all_hold([one for one in self.judged if one.rule.id not in linear], self.roof.possible)

    def without_springs(self) -> Flags:
        """Return where everything holds that no spring can change, [rows]."""
        names = {fitted.name for fitted in self.roof.fitted}
        springs = OF_SPRINGS | {one.rule.id for one in hand_rules(self.roof, self.felt)}
        kept = [one for one in self.judged if one.rule.id not in springs and one.which not in names]
        return all_hold(kept, self.roof.possible)


def drawn(project: Project, draws: int, seed: int) -> Drawn:
    """Return a project in `draws` fresh draws, judged by every rule. Errors: as `judged_roof`."""
    inputs = inputs_of(project)
    nominal = Nominal(inputs)
    planned = assembled(project, nominal, stations=STATIONS)
    at_headroom(project, nominal)
    at = rows(inputs, nominal.asked, draws, seed, each_alone=False)
    return judged_rows(project, at, seed, planned.sense)


def judged_rows(project: Project, at: Rows, seed: int, sense: Array) -> Drawn:
    """Return a project judged by every rule in rows that are there already, drawn with `seed`."""
    parts = assembled(project, at, stations=STATIONS, sense=sense)
    felt = feel(parts.roof)
    stand = standing(project, parts, at)
    judged = (
        Judged(STAND, stand.best, at_headroom(project, at)[2]),
        *judge_room(room(parts.around, parts.roof), parts.roof, parts.around),
        *judge_feel(parts.roof, felt),
        *judge_guides(parts.roof, felt),
    )
    return Drawn(project, at, seed, parts, felt, judged)


# --- springs of a list in a project ----------------------------------------------------------------------


def fitted_with(project: Project, entries: Entries, pairs: Sequence[Pair], fit: Fit) -> Project:
    """Return the project with the springs of a fit in place of its own; brackets and damping as the file has them."""
    return project.model_copy(update={"spring": (spring_of(project, entries, pairs[fit.pair], fit),)})


def spring_of(project: Project, entries: Entries, pair: Pair, fit: Fit) -> Spring:
    """Return an entry of a list in its holes as the project file writes it."""
    own = project.spring[0] if project.spring else None

    def listed(value: float, doubt: float) -> Uncertain:
        return normal(value, doubt, Provenance.LABEL)

    def of(field: str) -> float:
        return float(getattr(entries, field)[fit.entry])

    unknown, most_usual = key_of("spring.own_speed").unknown, key_of("spring.end_limit").unknown[1]
    return Spring(
        name=entries.names[fit.entry],
        per_side=pair.per_side,
        foot_on=cast(SpringBody, pair.foot.on),
        foot=Point(x=exact(fit.foot_x), z=exact(fit.foot_z)),
        head_on=cast(HeadBody, pair.head.on),
        head=Point(x=exact(fit.head_x), z=exact(fit.head_z)),
        sideways=exact(pair.sideways),
        place=exact(pair.foot.place),
        force=exact(of("force_1"), Provenance.LABEL),
        force_is="F1",
        ratio=listed(of("ratio"), of("ratio_doubt")),
        friction=listed(of("loop"), min(of("loop_doubt"), of("loop"))),
        friction_is="full loop",
        stroke=exact(of("stroke"), Provenance.LABEL),
        extended_length=listed(of("extended"), of("length_doubt")),
        rod_diameter=exact(of("rod_diameter"), Provenance.LABEL),
        tube_diameter=exact(of("tube_diameter"), Provenance.LABEL),
        tolerance=exact(of("tolerance"), Provenance.LABEL),
        end_margin=project.requirements.spring_margin,
        end_limit=exact(of("end_limit"), Provenance.ASSUMED if of("end_limit") >= most_usual else Provenance.LABEL),
        bracket_limit=None if own is None else own.bracket_limit,
        own_speed=even(*unknown, Provenance.UNKNOWN) if own is None else own.own_speed,
    )


def own_entry(project: Project) -> Entries:
    """Return the springs of the file, the first kind of them, as a list of one entry."""
    spring = project.spring[0]
    same = {name: getattr(spring, name) for name in AtHand.model_fields if name in Spring.model_fields}
    return entries_of([AtHand(**same, pieces=12)]).entries


def joined(first: Entries, second: Entries) -> Entries:
    """Return two lists as one, the springs of the second after those of the first."""
    names = [name for name in Entries.__dataclass_fields__ if name not in ("names", "body")]
    arrays = {name: np.concatenate([getattr(first, name), getattr(second, name)]) for name in names}
    body = np.concatenate([first.body, second.body + (first.body.max() + 1 if first.body.size else 0)])
    return Entries(names=(*first.names, *second.names), body=body, **arrays)


# --- many places of one spring at once ---------------------------------------------------------------------


class Varied:
    """Values of every input for many variants of the nominal roof: one row each, the nominal one first."""

    def __init__(self, inputs: Mapping[str, Input], count: int, changes: Mapping[str, Array]) -> None:
        self._inputs, self._count, self._changes = inputs, count, changes

    def __call__(self, path: str) -> Array:
        """Return the value at `path` for every variant, [variants]."""
        if path in self._changes:
            return np.asarray(self._changes[path])
        known = self._inputs[path]
        if known.same_as:
            return self(known.same_as)
        return np.full(self._count, known.value.nominal)


def clear_places(project: Project, ends: Ends) -> Flags:
    """Return for many places of the ends [m] of the project's one spring which of them the nominal roof allows.

    Judged by every rule that is in no window: what springs come near, how fast the roof meets its stop, its twist.
    """
    inputs = inputs_of(project)
    nominal = Nominal(inputs)
    planned = assembled(project, nominal, stations=STATIONS)
    # The nominal row comes first, as the roof as planned must be one that can be moved.
    own = project.spring[0]
    places = {
        "spring.0.foot.x": (own.foot.x.nominal, ends.foot_x),
        "spring.0.foot.z": (own.foot.z.nominal, ends.foot_z),
        "spring.0.head.x": (own.head.x.nominal, ends.head_x),
        "spring.0.head.z": (own.head.z.nominal, ends.head_z),
    }
    changes = {path: np.concatenate([[first], some]) for path, (first, some) in places.items()}
    at = Varied(inputs, ends.count + 1, changes)
    parts = assembled(project, at, stations=STATIONS, sense=planned.sense)
    felt = feel(parts.roof)
    every = (
        *judge_room(room(parts.around, parts.roof), parts.roof, parts.around),
        *(one for one in judge_feel(parts.roof, felt) if one.rule.id not in IN_THE_WINDOW),
    )
    springs = [one for one in every if one.which == own.name or one.rule is TOP_SPEED]
    return all_hold(springs, parts.roof.possible)[1:]


# --- odds ------------------------------------------------------------------------------------------------


def ends_at(fit: Fit) -> Ends:
    """Return the ends of one fit [m]."""
    return Ends(*(np.array([v]) for v in (fit.foot_x, fit.foot_z, fit.head_x, fit.head_z)))


def moved_to(fit: Fit, ends: Ends, index: int) -> Fit:
    """Return a fit with its ends at one of many places."""
    return replace(
        fit,
        foot_x=float(ends.foot_x[index]),
        foot_z=float(ends.foot_z[index]),
        head_x=float(ends.head_x[index]),
        head_z=float(ends.head_z[index]),
    )
