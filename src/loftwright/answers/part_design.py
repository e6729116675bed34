"""What the design of one roof asks for, whatever is bought of it: parts from every answer, and how bars are cut."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from loftwright.answers.draws import Nominal
from loftwright.answers.held_roof import held_roof
from loftwright.answers.judged_roof import inputs_of
from loftwright.answers.kept_walls import KeptWalls
from loftwright.answers.part_lines import Asked, BarSection, Listed, Maker, bars_bought, together
from loftwright.answers.part_lines_cloth import cloth_parts
from loftwright.answers.part_lines_frame import fastener_parts, frame_parts, sealing_parts
from loftwright.answers.part_lines_lift import lift_parts
from loftwright.answers.part_lines_riding import riding_parts
from loftwright.answers.part_lines_wood import trial_frame_bars, wood_parts
from loftwright.answers.views import wording
from loftwright.answers.walled_roof import walled_roof
from loftwright.answers.without_work import without_work
from loftwright.core.fitting_views import CutPlan, Part, StockBar
from loftwright.plan.cutting import KERF
from loftwright.plan.stock_cutting import cut_from_stock
from loftwright.project.model import Project
from loftwright.reference.timber import HANDY

TIME_LIMIT: Final = 1.0
"""After so long [s] the best way of cutting a section that was found is taken."""
LATER: Final = ("timber",)
"""Bars of these groups need not be there before the cut."""


@dataclass(frozen=True, slots=True)
class SectionCut:
    """A section and how its bars are cut from those of `stock`."""

    section: BarSection
    stock: tuple[StockBar, ...]
    plan: CutPlan
    metal: bool


@dataclass(frozen=True, slots=True)
class Design:
    """What follows from the design alone: the answers it was `asked` from, its `parts`, bars and what was `said`."""

    asked: Asked
    parts: tuple[Part, ...]
    cuts: tuple[SectionCut, ...]
    said: tuple[str, ...]


MAKERS: Final[tuple[Maker, ...]] = (
    frame_parts,
    fastener_parts,
    sealing_parts,
    lift_parts,
    cloth_parts,
    riding_parts,
    wood_parts,
)
"""What makes parts, in the order in which they are asked."""


@lru_cache(maxsize=2)
def designed(project: Project, kept: KeptWalls) -> Design:
    """Return what a design asks for, and how its bars are cut."""
    roof = without_work(project)
    held, walls = held_roof(roof).numbers, walled_roof(roof, kept).numbers
    asked = Asked(project, held, walls, Nominal(inputs_of(project)), wording(project))
    given = [make(asked) for make in MAKERS]
    frame, timber = trial_frame_bars(asked)
    given.append(frame)
    cuts = _cuts(asked, given, timber)
    bars = (
        part
        for cut in cuts
        for part in bars_bought(
            cut.section, cut.plan, asked.say, one_length=cut.metal, before_cut=cut.section.group not in LATER
        )
    )
    return Design(
        asked,
        (*(part for one in given for part in one.parts), *bars),
        cuts,
        tuple(sentence for one in given for sentence in one.said),
    )


def _cuts(asked: Asked, given: Sequence[Listed], timber: tuple[float, ...]) -> tuple[SectionCut, ...]:
    """Return how every section is cut, metal first: from one length of bar; timber from all lengths that are sold."""
    bar, kerf = asked.number("plan.bar"), asked.number("plan.kerf")
    found = []
    for section in together(one for part in given for one in part.bars):
        metal = section.group != "timber"
        stock = (StockBar(bar),) if metal else _timber(section, timber)
        plan = cut_from_stock(section.pieces, stock, kerf if metal else KERF, time_limit=TIME_LIMIT)
        found.append(SectionCut(section, stock, plan, metal))
    return tuple(found)


def _timber(section: BarSection, lengths: tuple[float, ...]) -> tuple[StockBar, ...]:
    """Return the timber from which a section is cut: none that is hard to carry unless a piece needs it."""
    longest = max(piece.length for piece in section.pieces)
    handy = [length for length in lengths if length <= max(HANDY, longest + 1e-9)]
    beyond = [length for length in lengths if length >= longest]
    usable = handy if any(length >= longest for length in handy) else [*handy, *beyond[:1]]
    return tuple(StockBar(length) for length in usable)
