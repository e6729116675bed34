"""Whether one roof sits and holds: fit, wind, brace, shell, road, opening, joints and weights, in this order.

Everything here is judged for the nominal roof, with every uncertain input alone at both ends, and in seeded draws.
It is a second answer beside that on movement and feel, as it takes longer and none of that depends on it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from loftwright.answers.draws import Nominal, Rows, rows
from loftwright.answers.held_basis import Basis, basis
from loftwright.answers.held_fit import FitFound, sits
from loftwright.answers.held_joints import JointsFound, joined
from loftwright.answers.held_opening import OpeningFound, opened
from loftwright.answers.held_road import RoadFound, on_the_road
from loftwright.answers.held_van import VanFound, carried
from loftwright.answers.held_wind import WindFound, in_the_wind
from loftwright.answers.judged_roof import inputs_of
from loftwright.answers.judging import decide
from loftwright.answers.without_work import without_work
from loftwright.core.checks import Outcome, worst_first
from loftwright.project.carrying import Values
from loftwright.project.model import Project

NO_LICENCE = (
    "None of this is a crash or roll-over assessment: a local inspector or engineer decides what may be cut and fitted."
)


@dataclass(frozen=True, slots=True)
class Found:
    """All parts of the answer for the rows of one basis; row 0 is nominal where there are several."""

    basis: Basis
    fit: FitFound
    wind: WindFound
    road: RoadFound
    opening: OpeningFound
    joints: JointsFound
    van: VanFound

    @property
    def parts(self) -> tuple[FitFound, WindFound, RoadFound, OpeningFound, JointsFound, VanFound]:
        """The parts in the order in which they are worked out."""
        return self.fit, self.wind, self.road, self.opening, self.joints, self.van


@dataclass(frozen=True, slots=True)
class HeldNumbers:
    """Everything computed on fit and strength of one project: `found` carries all rows, row 0 is nominal."""

    project: Project
    rows: Rows
    found: Found


def find(base: Basis) -> Found:
    """Return all parts, each from those before it: the order of computing stands here."""
    fit = sits(base)
    wind = in_the_wind(base, fit)
    road = on_the_road(base)
    opening = opened(base, wind, road)
    joints = joined(base, wind, road, opening)
    return Found(base, fit, wind, road, opening, joints, carried(base, opening))


def held_rows(project: Project) -> tuple[Rows, Values]:
    """Return the rows on which fit and strength are judged, and the nominal values by themselves.

    Raises ProjectFault or CannotAssemble when the planned roof cannot be put together.
    """
    nominal = Nominal(inputs_of(project))
    find(basis(project, nominal)[0])
    return rows(nominal.inputs, nominal.asked, project.settings.draws, project.settings.seed), nominal


def held_roof(project: Project) -> Outcome[HeldNumbers]:
    """Return whether this roof sits and holds, worst judgement first.

    Raises ProjectFault or CannotAssemble when the planned roof cannot be put together.
    """
    return _held(without_work(project))


@lru_cache(maxsize=2)
def _held(project: Project) -> Outcome[HeldNumbers]:
    drawn, nominal = held_rows(project)
    sense = basis(project, nominal)[1]
    found = find(basis(project, drawn, sense)[0])
    possible = found.basis.roof.possible
    checks = tuple(decide(one, drawn, possible) for part in found.parts for one in part.judged)
    said = dict.fromkeys(sentence for part in found.parts for sentence in part.said)
    return Outcome(HeldNumbers(project, drawn, found), worst_first(checks), (*said, NO_LICENCE))
