"""The pieces that are cut: each panel of each layer with its allowances, marks, words and windows, for row 0.

Shapes are drawn for the nominal values only; what is judged of them is judged for every row.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.draws import Nominal
from loftwright.answers.held_basis import Basis, basis
from loftwright.answers.hold_said import capital
from loftwright.answers.judged_roof import inputs_of
from loftwright.answers.pieces_cut import Cut, layer_piece, sheet_pieces
from loftwright.answers.pieces_inside import Part, inner_lines, insulation_parts
from loftwright.answers.views import wording
from loftwright.answers.walled_lines import LinesFound, the_lines
from loftwright.answers.walled_panels import PanelsFound, WallPanel, the_panels
from loftwright.answers.walled_windows import WindowFound, WindowsFound, flat_row, the_windows
from loftwright.cloth.pieces import arc_along, eased
from loftwright.cloth.sew_rules import ALLOWANCE, judge_allowances
from loftwright.core.judged import Judged
from loftwright.core.pattern import PatternPiece
from loftwright.project.assemble_sewing import LayerPlan, SewingPlan, layer_plans, lining_plan, sewing_plan
from loftwright.project.model import Project

NUMBERS: Final = ("outer", "lining", "insulation")
"""Layers in the order of their pieces."""
SWAP: Final = {"left": "right", "right": "left"}
LOW: Final = 0.08
"""A wall lower than this is told of [m]: its allowances meet in the middle, judgement."""


@dataclass(frozen=True, slots=True)
class SeamFound:
    """One seam of the outer cloth: number from 1, `place`, panels at its left and right from outside, `length` [m]."""

    number: int
    place: str
    left: str
    right: str
    length: float


@dataclass(frozen=True, slots=True)
class PiecesFound:
    """Every piece that is cut, nominal, in the order W1, W2... outer, L1... lining, I1... insulation, then windows'.

    `pieces`: cut lines in true size after ease and shrinkage; `material` is the name of the [[layer]] it is cut from,
    "outer cloth" where none is written, or "clear sheet", "insect screen" and "curtain" of windows. `windows`: where
    they lie. `plan`: how the outer cloth's edges are finished; `layers` from outside to inside. `seams`; `lower_edge`
    and `upper_edge`: length of the stitch line all round [m].
    """

    pieces: tuple[PatternPiece, ...]
    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    windows: WindowsFound
    plan: SewingPlan
    layers: tuple[LayerPlan, ...]
    seams: tuple[SeamFound, ...]
    lower_edge: float
    upper_edge: float


def nominal_pieces(project: Project) -> tuple[PatternPiece, ...]:
    """Return the pieces of one project, nominal alone: for what works on them at length.

    Raises ProjectFault or CannotAssemble when the planned roof cannot be put together.
    """
    base = basis(project, Nominal(inputs_of(project)))[0]
    lines = the_lines(base)
    return the_pieces(base, lines, the_panels(base, lines)).pieces


def the_pieces(base: Basis, lines: LinesFound, panels: PanelsFound) -> PiecesFound:
    """Return the pieces of all layers and windows."""
    project, at = base.project, base.at
    plan, layers = sewing_plan(project, at), layer_plans(project, at)
    windows = the_windows(base, lines, panels, plan.turn)
    made = _Made(project, lines, panels, windows)
    for layer in sorted(layers, key=lambda one: NUMBERS.index(one.role)):
        if layer.role == "outer":
            made.outer(layer, plan)
        elif layer.role == "lining":
            made.lining(layer, lining_plan(project, at, removable=layer.removable))
        else:
            made.insulation(layer, plan.beyond)
    sheets = [piece for k, one in enumerate(windows.windows, 1) for piece in sheet_pieces(k, one)]
    lower, upper = _around(panels)
    return PiecesFound(
        (*made.pieces, *sheets),
        (*_allowances(base, plan), *made.judged, *windows.judged),
        tuple(dict.fromkeys((*_said(base, layers, panels), *made.said, *windows.said))),
        windows,
        plan,
        layers,
        _seams(lines, panels),
        lower,
        upper,
    )


class _Made:
    """The pieces as they come, with what is said of those that cannot be drawn."""

    def __init__(self, project: Project, lines: LinesFound, panels: PanelsFound, windows: WindowsFound) -> None:
        self.project, self.lines, self.panels, self.windows = project, lines, panels, windows
        self.pieces: list[PatternPiece] = []
        self.judged: list[Judged] = []
        self.told: list[str] = []
        self.notes: dict[str, list[str]] = {}
        self.ease = float(np.ravel(panels.ease)[0])

    @property
    def said(self) -> tuple[str, ...]:
        return (*self.told, *(f"{capital(note)}: {'; '.join(of)}." for note, of in self.notes.items()))

    def number(self, letter: str) -> str:
        return f"{letter}{sum(piece.number.startswith(letter) for piece in self.pieces) + 1}"

    def add(self, what: str, make: Callable[[], Cut]) -> None:
        """Add the piece that `make` describes; one that cannot be drawn is told of, and the others are cut."""
        try:
            drawn = layer_piece(self.project, make())
            self.pieces.append(drawn.piece)
            if drawn.note:
                self.notes.setdefault(drawn.note, []).append(what)
        except ValueError as error:
            self.told.append(f"No pattern is drawn for {what}: {error}.")
            asked = f"give {what} more height, or its edges less cloth, so that a pattern can be drawn"
            self.judged.append(Judged(ALLOWANCE, None, None, what, asked))

    def on(self, panel: int) -> tuple[WindowFound, ...]:
        return tuple(one for one in self.windows.windows if one.panel == panel)

    def outer(self, layer: LayerPlan, plan: SewingPlan) -> None:
        for k, panel in enumerate(self.panels.panels):

            def make(k: int = k, panel: WallPanel = panel) -> Cut:
                low, high = flat_row(panel)
                arcs = panel.lower_arc, panel.upper_arc
                high = eased(low, high, self.ease)
                twin = self.twin(panel, "W")
                return Cut(panel.number, layer, plan, panel, panel.name, low, high, arcs, self.on(k), twin)

            self.add(f"the {panel.name}", make)

    def lining(self, layer: LayerPlan, plan: SewingPlan) -> None:
        first = len([piece for piece in self.pieces if piece.number.startswith("L")])
        for k, panel in enumerate(self.panels.panels):

            def make(k: int = k, panel: WallPanel = panel) -> Cut:
                low, high = inner_lines(self.lines, panel, layer.before)
                arcs = panel.lower_arc, panel.upper_arc
                high = eased(low, high, self.ease)
                twin = self.twin(panel, "L", first)
                return Cut(f"L{first + k + 1}", layer, plan, panel, panel.name, low, high, arcs, self.on(k), twin)

            self.add(f"the lining of the {panel.name}", make)

    def insulation(self, layer: LayerPlan, inset: float) -> None:
        parts = tuple(insulation_parts(self.lines, self.panels, layer.short, inset))
        if not parts and self.panels.panels:
            self.told.append(f"Nothing is left of the {layer.cloth.material} between its stops: it is left out.")
        for part in parts:

            def make(part: Part = part) -> Cut:
                panel = self.panels.panels[part.panel]
                number = self.number("I")
                return Cut(number, layer, None, panel, part.name, part.lower, part.upper, None, self.on(part.panel))

            self.add(f"the insulation of the {part.name}", make)

    def twin(self, panel: WallPanel, letter: str, first: int = 0) -> str:
        """Return number and name of the panel that is the mirror image of one, "" where it has none."""
        swapped = " ".join(SWAP.get(word.strip(","), word.strip(",")) for word in panel.name.split())
        for k, other in enumerate(self.panels.panels):
            if other is not panel and other.name.replace(",", "") == swapped:
                return f"{letter}{first + k + 1} {other.name}"
        return ""


def _allowances(base: Basis, plan: SewingPlan) -> tuple[Judged, ...]:
    """Return whether each kind of edge has cloth enough; the two sides of a seam are one where they are alike."""
    edges = {f"seams, {plan.left.words}": plan.left, f"seams, {plan.right.words}": plan.right}
    edges |= {f"lower edge, {plan.lower.words}": plan.lower, f"upper edge, {plan.upper.words}": plan.upper}
    wanting = {name: edge for name, edge in edges.items() if edge.finish.needs > 0.0}
    return judge_allowances({name: (base.full(edge.given), base.full(edge.needs)) for name, edge in wanting.items()})


def _around(panels: PanelsFound) -> tuple[float, float]:
    """Return the length of the lower and of the upper stitch line all round [m]."""
    edges = [flat_row(panel) for panel in panels.panels]
    return (
        sum(float(arc_along(low)[-1]) for low, _ in edges),
        sum(float(arc_along(high)[-1]) for _, high in edges),
    )


def _seams(lines: LinesFound, panels: PanelsFound) -> tuple[SeamFound, ...]:
    """Return every seam once, in the order of their numbers."""
    ease = float(np.ravel(panels.ease)[0])
    found = []
    for k, place in enumerate(lines.seams.names):
        left = next((one for one in panels.panels if one.right == k), None)
        right = next((one for one in panels.panels if one.left == k), None)
        if left is not None and right is not None:
            length = float(np.ravel(left.flat.right_seam)[0]) + ease
            found.append(SeamFound(k + 1, place, left.name, right.name, max(length, 0.0)))
    return tuple(found)


def _said(base: Basis, layers: tuple[LayerPlan, ...], panels: PanelsFound) -> list[str]:
    project, say = base.project, wording(base.project)
    found = []
    if not project.layer:
        found.append(
            "No [[layer]] is written: the outer cloth is drawn as if it did not shrink, and there is no lining."
        )
    found += [
        f"Two layers are called {name}: give each a name of its own, or they are taken for one cloth."
        for name in dict.fromkeys(one.name for one in project.layer)
        if sum(other.name == name for other in project.layer) > 1
    ]
    for layer in layers:
        cloth = layer.cloth
        if layer.either_way and cloth.warp_shrinks != cloth.weft_shrinks:
            found.append(
                f"Pieces of {cloth.material} are drawn as lying along the roll: it shrinks by "
                f"{say.percent(cloth.warp_shrinks)} along and {say.percent(cloth.weft_shrinks)} across, so one turned "
                "by a quarter comes out wrong."
            )
        if layer.role == "lining" and layer.before == 0.0:
            found.append("Nothing lies between lining and outer cloth: the lining has the outer cloth's size.")
    if project.sewing.lower_edge != "drip hem":
        found.append("Only a drip hem hangs on below the staples: the lower edge as written ends at its line.")
    low = [one.name for one in panels.panels if float(np.ravel(one.height)[0]) < LOW]
    if low:
        found.append(
            f"Lower than {say.short_length(LOW)}: {', '.join(low)}. It has a piece of its own all the same; a single "
            "strip does as well."
        )
    found.append("Patterns are drawn seen from outside; those of the lining too.")
    return found
