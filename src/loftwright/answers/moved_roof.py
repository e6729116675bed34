"""A built roof after its readings, ready to try its springs elsewhere and other springs on it.

Springs that are fitted keep what the readings taught of them; springs to order come from a batch of which nothing is
known, their delivered force averaged. Brackets keep their errors in both.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from loftwright.answers.choose_roofs import STATIONS, Drawn, ends_at, fitted_with, judged_rows
from loftwright.answers.draws import Nominal, Rows, joint, rows
from loftwright.answers.judged_roof import assembled, at_headroom, inputs_of
from loftwright.answers.lifting import COARSE
from loftwright.answers.proof import Proof, holding
from loftwright.answers.proof_readings import AS_IN_FILE, Position, Shifted, shifts
from loftwright.choice.odds import chance_of, holds, probability
from loftwright.choice.window import bounds, ends_from
from loftwright.core.lifting import Chances, Entries, Fit, Lift, Pair
from loftwright.core.motion import Array
from loftwright.core.uncertain import normal
from loftwright.mechanics.gas_spring import first_force, full_loop
from loftwright.project.model import Project

LOOKED_IN: Final = 300
"""Draws in which moves are looked for, apart from those in which they are judged; fewer where there are no more."""
SEARCH_STEP: Final = 2 * COARSE
"""Every so many-th station of the travel is looked at in the search."""
FRESH: Final = 606
"""Added to the project's seed for springs of another batch."""
SPRING: Final = "spring.0."
COORDINATES: Final = ("foot_x", "foot_z", "head_x", "head_z")


@dataclass(frozen=True, slots=True)
class BuiltRoof:
    """The built roof with its holes: `first` is the file's own fit, `entries` those to order and, last, the own."""

    proof: Proof
    pair: Pair
    first: Fit
    entries: Entries
    grain: float

    @property
    def project(self) -> Project:
        """The project with its readings."""
        return self.proof.project

    @property
    def own(self) -> int:
        """Place of the springs that are fitted."""
        return len(self.entries.names) - 1

    @property
    def here(self) -> Position:
        """Where the springs are: the place of the last reading."""
        last = len(self.project.reading) - 1
        return AS_IN_FILE if last < 0 else self.proof.place(last)

    def fit_at(self, place: Position) -> Fit:
        """Return the file's springs in one of the places."""
        by = shifts(self.project, place)
        moved = {end: by.get(path_of(end), 0.0) + getattr(self.first, end) for end in COORDINATES}
        return replace(self.first, entry=self.own, **moved)

    def rows(self, part: slice) -> Rows:
        """Return the planned roof and some of the draws after the readings."""
        draws = self.proof.after[part]
        count = 1 + draws.shape[0]
        return Rows(self.proof.inputs, {}, slice(1, count), count, self.proof.at(draws).columns)


def judged_in(proof: Proof) -> slice:
    """Return the draws in which moves are judged: those of the odds in holes."""
    return slice(0, min(proof.project.settings.draws, proof.after.shape[0]))


def looked_apart(proof: Proof) -> bool:
    """Whether there are draws to look for moves in beside those in which they are judged."""
    return bool(proof.after.shape[0] >= judged_in(proof).stop + LOOKED_IN)


def looked_in(proof: Proof) -> slice:
    """Return the draws in which moves are looked for."""
    start = judged_in(proof).stop if looked_apart(proof) else 0
    return slice(start, start + LOOKED_IN)


def path_of(end: str) -> str:
    """Return the path of a coordinate of the springs' ends."""
    return SPRING + end.replace("_", ".")


def lifts(at: BuiltRoof) -> tuple[Lift, Lift]:
    """Return what the roof asks of the springs that are fitted, and of springs of another batch, after the readings."""
    project = at.project
    known = at.rows(looked_in(at.proof))
    base = judged_rows(project, known, project.settings.seed, at.proof.sense)
    holding_rest = base.without_springs()
    # Where what no spring can change fails in most roofs, places are still looked for by the rest of the rules.
    if holding_rest[known.draws].mean() < 0.5:
        holding_rest = base.roof.possible
    lift = base.lift(holding_rest, step=SEARCH_STEP)
    mounted = _mounted(lift.chances, known)
    return replace(lift, chances=_fitted(mounted, at, known)), replace(lift, chances=_batch(mounted, project))


def _mounted(chances: Chances, at: Rows) -> Chances:
    """Return chances with the errors of brackets as the draws have them."""
    foot_x, foot_z, head_x, head_z = (at(path_of(end))[at.draws] - at(path_of(end))[0] for end in COORDINATES)
    return replace(chances, foot_x=foot_x, foot_z=foot_z, head_x=head_x, head_z=head_z)


def _fitted(chances: Chances, at: BuiltRoof, known: Rows) -> Chances:
    """Return chances with what the draws hold of the springs that are fitted, in units of their entry's doubts."""
    spring, entries = at.project.spring[0], comparable(at.entries)
    drawn = {key: known(SPRING + key) for key in ("friction", "force", "delivered", "ratio", "extended_length")}
    loop = full_loop(drawn["friction"], spring.friction_is)
    force = first_force(drawn["force"], loop, spring.force_is) * drawn["delivered"]

    def of(values: Array, field: str, doubt: Array) -> Array:
        size = float(doubt[at.own])
        off = values[known.draws] - float(getattr(entries, field)[at.own])
        return np.asarray(off / size) if size > 0 else np.zeros_like(off)

    return replace(
        chances,
        delivered=of(force, "force_1", entries.tolerance * entries.force_1),
        ratio=of(drawn["ratio"], "ratio", entries.ratio_doubt),
        loop=of(loop, "loop", entries.loop_doubt),
        length=of(drawn["extended_length"], "extended", entries.length_doubt),
    )


def _batch(chances: Chances, project: Project) -> Chances:
    """Return chances with springs of which nothing is known."""
    count = chances.delivered.size
    delivered, ratio, loop, length = (
        joint(normal(0.0, 1.0), f"another batch, {name}", count, project.settings.seed + FRESH)
        for name in ("delivered", "ratio", "loop", "length")
    )
    return replace(chances, delivered=delivered, ratio=ratio, loop=loop, length=length)


def comparable(entries: Entries) -> Entries:
    """Return springs as of one body, for the search alone: tolerance and end fittings as those of the own, the last."""
    many = len(entries.names)
    tolerance = np.full(many, max(float(np.median(entries.tolerance)), 1e-3))
    return replace(
        entries,
        tolerance=tolerance,
        end_limit=np.full(many, entries.end_limit[-1]),
        body=np.zeros(many, dtype=np.intp),
    )


def quick_odds(at: BuiltRoof, lift: Lift, entry: int, table: Array) -> Array:
    """Return the odds in the search [1] of many places of one spring, [places]."""
    spring = comparable(at.entries).pick(np.full(len(table), entry))
    window = bounds(lift, at.pair, ends_from(table), spring)
    if entry == at.own:
        return np.asarray(holds(lift, spring, window).mean(axis=1))
    chance = probability(lift.chances.spread, spring.tolerance[:, None], window.low, window.high)
    return np.asarray((chance * (window.fits & lift.holding)).mean(axis=1))


# --- judged by every rule --------------------------------------------------------------------------------


def exact_odds(at: BuiltRoof, fit: Fit) -> float:
    """Return the odds [1] of a fit by every rule, in the draws of the judgement."""
    return _exact_moved(at, fit) if fit.entry == at.own else _exact_ordered(at, fit)


def _exact_moved(at: BuiltRoof, fit: Fit) -> float:
    """Return the odds [1] of the springs that are fitted in another place, as those of holes are judged."""
    place = Position("", 0, (fit.foot_x, fit.foot_z), (fit.head_x, fit.head_z))
    known = at.proof.at(at.proof.after[judged_in(at.proof)])
    judged = holding(at.project, Shifted(known, shifts(at.project, place)), at.proof.sense)
    return float(judged[1:].mean())


def _exact_ordered(at: BuiltRoof, fit: Fit) -> float:
    """Return the odds [1] of springs to order: the roof after the readings, the springs of another batch."""
    base, chance = ordered(
        at.proof, fitted_with(at.project, at.entries, [at.pair], replace(fit, pair=0)), judged_in(at.proof)
    )
    lift = replace(base.lift(), chances=chance)
    own = at.entries.pick(np.array([fit.entry]))
    return float(chance_of(lift, own, bounds(lift, at.pair, ends_at(fit), own)).mean())


def ordered(proof: Proof, fitted: Project, part: slice) -> tuple[Drawn, Chances]:
    """Return a roof fitted with other springs in the draws after the readings, and the chances of those springs.

    `fitted` is the project with those springs; all that is not theirs, and the errors of brackets, are as learnt.
    """
    inputs = inputs_of(fitted)
    nominal = Nominal(inputs)
    sense = assembled(fitted, nominal, stations=STATIONS).sense
    at_headroom(fitted, nominal)
    known = proof.at(proof.after[part])
    seed = proof.project.settings.seed + FRESH
    count = proof.after[part].shape[0]
    at = rows(inputs, nominal.asked, count, seed, each_alone=False)
    ends = {path_of(end) for end in COORDINATES}
    columns = {}
    for path, values in at.columns.items():
        if path in ends:
            learnt = known(path)
            columns[path] = float(values[0]) + learnt - learnt[0]
        elif path.startswith(SPRING) or path not in known.columns:
            columns[path] = values
        else:
            columns[path] = known(path)
    mixed = replace(at, columns=columns)
    base = judged_rows(fitted, mixed, seed, sense)
    return base, _mounted(base.lift(step=STATIONS - 1).chances, mixed)
