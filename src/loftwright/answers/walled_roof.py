"""The cloth walls of one roof: lines, panels, water, pieces, metres, warmth and fold, in this order.

Like fit and strength this is an answer beside that on movement and feel. What takes minutes, the fold and the laying
on the roll, is worked out on demand and kept; `kept` carries it, and a quick estimate stands in for it meanwhile.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from loftwright.answers.draws import Nominal, Rows, rows
from loftwright.answers.held_basis import Basis, basis
from loftwright.answers.judged_roof import inputs_of
from loftwright.answers.judging import decide
from loftwright.answers.kept_walls import NOTHING_KEPT, KeptWalls
from loftwright.answers.walled_fold import FoldFound, the_fold
from loftwright.answers.walled_lines import LinesFound, the_lines
from loftwright.answers.walled_metres import MetresFound, the_metres
from loftwright.answers.walled_panels import PanelsFound, the_panels
from loftwright.answers.walled_pieces import PiecesFound, the_pieces
from loftwright.answers.walled_warmth import WarmthFound, the_warmth
from loftwright.answers.walled_water import WaterFound, the_water
from loftwright.answers.without_work import without_work
from loftwright.core.checks import Outcome, worst_first
from loftwright.project.carrying import Values
from loftwright.project.model import Project


@dataclass(frozen=True, slots=True)
class WallsFound:
    """All parts of the answer for the rows of one basis; row 0 is nominal where there are several."""

    basis: Basis
    lines: LinesFound
    panels: PanelsFound
    water: WaterFound
    pieces: PiecesFound
    metres: MetresFound
    warmth: WarmthFound
    fold: FoldFound

    @property
    def parts(
        self,
    ) -> tuple[LinesFound, PanelsFound, WaterFound, PiecesFound, MetresFound, WarmthFound, FoldFound]:
        """The parts in the order in which they are worked out."""
        return self.lines, self.panels, self.water, self.pieces, self.metres, self.warmth, self.fold


@dataclass(frozen=True, slots=True)
class WallNumbers:
    """Everything computed on the walls of one project: `found` carries all rows, row 0 is nominal."""

    project: Project
    rows: Rows
    found: WallsFound
    kept: KeptWalls


def find(base: Basis, kept: KeptWalls = NOTHING_KEPT) -> WallsFound:
    """Return all parts, each from those before it: the order of computing stands here."""
    lines = the_lines(base)
    panels = the_panels(base, lines)
    water = the_water(base, lines)
    pieces = the_pieces(base, lines, panels)
    metres = the_metres(base, pieces, kept)
    warmth = the_warmth(base, pieces)
    return WallsFound(base, lines, panels, water, pieces, metres, warmth, the_fold(base, lines, panels, kept))


def walled_rows(project: Project) -> tuple[Rows, Values]:
    """Return the rows on which the walls are judged, and the nominal values by themselves.

    Raises ProjectFault or CannotAssemble when the planned roof cannot be put together.
    """
    nominal = Nominal(inputs_of(project))
    find(basis(project, nominal)[0])
    return rows(nominal.inputs, nominal.asked, project.settings.draws, project.settings.seed), nominal


def walled_roof(project: Project, kept: KeptWalls = NOTHING_KEPT) -> Outcome[WallNumbers]:
    """Return how the walls are cut and where they go, worst judgement first.

    Raises ProjectFault or CannotAssemble when the planned roof cannot be put together.
    """
    return _walled(without_work(project), kept)


@lru_cache(maxsize=2)
def _walled(project: Project, kept: KeptWalls) -> Outcome[WallNumbers]:
    drawn, nominal = walled_rows(project)
    sense = basis(project, nominal)[1]
    found = find(basis(project, drawn, sense)[0], kept)
    possible = found.basis.roof.possible
    checks = tuple(decide(one, drawn, possible) for part in found.parts for one in part.judged)
    said = dict.fromkeys(sentence for part in found.parts for sentence in part.said)
    return Outcome(WallNumbers(project, drawn, found, kept), worst_first(checks), tuple(said))
