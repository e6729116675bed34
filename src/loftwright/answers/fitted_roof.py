"""What rides on one roof and goes into it: seal, room to stand, panel, powered lift, lining, in this order.

Like fit and strength an answer of its own beside that on movement and feel. Sections that are left out are not judged.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from loftwright.answers.draws import Nominal, Rows, rows
from loftwright.answers.fitted_lift import PowerFound, powered
from loftwright.answers.fitted_lining import LiningFound, the_lining
from loftwright.answers.fitted_panel import PanelFound, the_panel
from loftwright.answers.fitted_seal import SealFound, the_seal
from loftwright.answers.fitted_standing import StandingFound, room_to_stand
from loftwright.answers.held_basis import Basis, basis
from loftwright.answers.judged_roof import inputs_of
from loftwright.answers.judging import decide
from loftwright.answers.without_work import without_work
from loftwright.core.checks import Outcome, worst_first
from loftwright.project.carrying import Values
from loftwright.project.model import Project

NO_PANEL: Final = "There is no [panel] in the file: neither sun nor cable is judged."
NO_LINING: Final = "There is no [lining] in the file: the shell is taken bare inside."

Part = SealFound | StandingFound | PanelFound | PowerFound | LiningFound


@dataclass(frozen=True, slots=True)
class FittedFound:
    """All parts of the answer for the rows of one basis; row 0 is nominal. Panel and lining are None where left out."""

    basis: Basis
    seal: SealFound
    standing: StandingFound
    panel: PanelFound | None
    lift: PowerFound
    lining: LiningFound | None

    @property
    def parts(self) -> tuple[Part, ...]:
        """The parts that there are, in the order in which they are worked out."""
        every = (self.seal, self.standing, self.panel, self.lift, self.lining)
        return tuple(part for part in every if part is not None)


@dataclass(frozen=True, slots=True)
class FittedNumbers:
    """Everything computed on the fit-out of one project: `found` carries all rows, row 0 is nominal."""

    project: Project
    rows: Rows
    found: FittedFound


def find(base: Basis) -> FittedFound:
    """Return all parts: the order of computing stands here."""
    seal = the_seal(base)
    standing = room_to_stand(base)
    panel = the_panel(base)
    lift = powered(base)
    return FittedFound(base, seal, standing, panel, lift, the_lining(base))


def fitted_rows(project: Project) -> tuple[Rows, Values]:
    """Return the rows on which the fit-out is judged, and the nominal values by themselves.

    Raises ProjectFault or CannotAssemble when the planned roof cannot be put together.
    """
    nominal = Nominal(inputs_of(project))
    find(basis(project, nominal)[0])
    return rows(nominal.inputs, nominal.asked, project.settings.draws, project.settings.seed), nominal


def fitted_roof(project: Project) -> Outcome[FittedNumbers]:
    """Return how seal, room, panel, lift and lining do, worst judgement first.

    Raises ProjectFault or CannotAssemble when the planned roof cannot be put together.
    """
    return _fitted(without_work(project))


@lru_cache(maxsize=2)
def _fitted(project: Project) -> Outcome[FittedNumbers]:
    drawn, nominal = fitted_rows(project)
    sense = basis(project, nominal)[1]
    found = find(basis(project, drawn, sense)[0])
    possible = found.basis.roof.possible
    checks = tuple(decide(one, drawn, possible) for part in found.parts for one in part.judged)
    left = (*(() if found.panel else (NO_PANEL,)), *(() if found.lining else (NO_LINING,)))
    said = dict.fromkeys((*(sentence for part in found.parts for sentence in part.said), *left))
    return Outcome(FittedNumbers(project, drawn, found), worst_first(checks), tuple(said))
