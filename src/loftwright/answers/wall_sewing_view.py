"""How the walls are sewn, ready to show: edges, seams, match marks, order of sewing, haberdashery, a trial in paper."""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING, Final

import numpy as np

from loftwright.answers.hold_said import KEY, answer, capital, nominal
from loftwright.answers.views import check_row
from loftwright.answers.walled_pieces import PiecesFound
from loftwright.answers.walled_windows import flat_row
from loftwright.cloth.sewing_order import Amounts, Edge, Window, Work, amounts, order, staples, thread_length
from loftwright.core.checks import Check
from loftwright.core.pattern import PatternPiece
from loftwright.core.views import Fact, Grid
from loftwright.core.wall_views import WallSection
from loftwright.core.wording import Wording
from loftwright.reference.sewing import STAPLE_PITCH, STITCH_PITCH, threads_for

if TYPE_CHECKING:
    from loftwright.answers.walled_panels import WallPanel
    from loftwright.answers.walled_roof import WallNumbers

UNDER_FOOT: Final = 4
"""Layers of cloth under the machine's foot at a seam."""
ON_LINING: Final = "Tack the insulation to the lining's wrong side"
NO_LINING: Final = "Bind the insulation all round and give it hooks or tape to hang inside the outer cloth"
"""Insulation where there is no lining that carries it."""
SQUARE: Final = 0.003
"""How far a trial in paper may be off before the measures are taken again [m]: judgement, what a tape shows."""
APART: Final = 0.5
"""Cords that draw the cloth inward stand this far apart at most [m]: judgement."""
SIZE: Final = re.compile(r"(\d+(?:\.\d+)?)(?: to (\d+(?:\.\d+)?))? mm\b")
"""Millimetres in a step of sewing."""


def sewing_section(walls: WallNumbers, checks: tuple[Check, ...], say: Wording) -> WallSection:
    """Return what is said about seams, edges and match marks."""
    found = walls.found.pieces
    mine = tuple(check for check in checks if check.rule.id.startswith("SEW-"))
    whole = _amounts(walls)
    seams = sum(seam.length for seam in found.seams)
    count = len(found.pieces)
    known = f"pieces to cut: {count}; seams {say.length(seams)}, stitches {say.length(whole.stitched)} in all"
    return WallSection(
        "sewing",
        "Cutting and sewing",
        answer(mine, "Every edge has cloth enough", "An edge is too narrow", known),
        _facts(walls, whole, say),
        (_edges(found, say), _seams(found, say), *_marks(walls, say)),
        tuple(check_row(check, say) for check in mine),
        tuple(one for one in found.said if one not in found.windows.said),
    )


def _facts(walls: WallNumbers, whole: Amounts, say: Wording) -> tuple[Fact, ...]:
    found = walls.found.pieces
    by_layer = [
        f"{sum(piece.number.startswith(letter) for piece in found.pieces)} {name}"
        for letter, name in (("W", "outer"), ("L", "lining"), ("I", "insulation"))
        if any(piece.number.startswith(letter) for piece in found.pieces)
    ]
    return (
        Fact("Pieces to cut", str(len(found.pieces)), ", ".join(by_layer)),
        Fact("Seams", say.length(sum(seam.length for seam in found.seams)), walls.project.sewing.seam),
        Fact("Lower line", say.length(found.lower_edge), found.plan.lower.words),
        Fact("Upper line", say.length(found.upper_edge), found.plan.upper.words),
        Fact("Ease", say.short_length(nominal(walls.found.panels.ease)), "extra height, in the patterns"),
        Fact("Stitches", say.length(whole.stitched), f"{say.short_length(found.plan.stitch)} long"),
    )


def _edges(found: PiecesFound, say: Wording) -> Grid:
    """Return how every edge is finished; panels of one layer are alike and share their lines."""
    rows: dict[tuple[str, str, str], list[str]] = {}
    for piece in found.pieces:
        for edge, finish, allowance in piece.edges:
            rows.setdefault((edge, finish, allowance), []).append(piece.number)
    return Grid(
        "Edges and their allowances",
        ("Pieces", "Edge", "Finish", "Allowance"),
        tuple((_run(numbers), edge, finish, allowance) for (edge, finish, allowance), numbers in rows.items()),
        "Beyond the stitch line, and in the cut line already; left and right as seen from outside.",
    )


def _run(numbers: list[str]) -> str:
    """Return numbers in few words: W1 to W4."""
    if len(numbers) > 2 and len({number[0] for number in numbers}) == 1:
        counts = [int(number[1:]) for number in numbers]
        if counts == list(range(counts[0], counts[0] + len(counts))):
            return f"{numbers[0]} to {numbers[-1]}"
    return ", ".join(numbers)


def _seams(found: PiecesFound, say: Wording) -> Grid:
    return Grid(
        "Seams",
        ("Sign", "Where", "Panel at its left", "Panel at its right", "Length"),
        tuple((f"S{one.number}", one.place, one.left, one.right, say.length(one.length)) for one in found.seams),
        "Seen from outside, ease in it. Both edges of a seam are equally long.",
    )


def _marks(walls: WallNumbers, say: Wording) -> tuple[Grid, ...]:
    """Return where match marks stand on ring and shell, counted from the middle of the rear end."""
    lines = walls.found.lines
    rounds = [float(loop.row(0).perimeter) for loop in (lines.lower, lines.upper)]
    rows = []
    for panel, piece in _outer(walls):
        lower, upper = _signs(panel, piece)
        for sign in dict.fromkeys((*lower, *upper)):
            texts = [
                say.length(at % around) if (at := side.get(sign)) is not None else "none"
                for side, around in zip((lower, upper), rounds, strict=True)
            ]
            rows.append((piece.number, sign, *texts))
    if not rows:
        return ()
    return (
        Grid(
            "Match marks",
            ("Piece", "Sign", "On the ring", "In the shell"),
            tuple(rows),
            "Along each line from the middle of its rear end, over the right side. * stands once on each panel, off "
            "its middle, so that no panel fits turned over.",
        ),
    )


def _signs(panel: WallPanel, piece: PatternPiece) -> tuple[dict[str, float], dict[str, float]]:
    """Return signs of a piece with their arc on the lower and the upper line [m]."""
    middle = float(np.mean([flat[:, 1].mean() for flat in flat_row(panel)]))
    lower: dict[str, float] = {}
    upper: dict[str, float] = {}
    for notch in piece.notches:
        if not notch.sign.startswith("S"):
            (lower if notch.at[1] < middle and notch.out[1] < 0.0 else upper)[notch.sign] = notch.arc
    return lower, upper


def _outer(walls: WallNumbers) -> list[tuple[WallPanel, PatternPiece]]:
    """Return the panels of which there is an outer piece."""
    pieces = {piece.number: piece for piece in walls.found.pieces.pieces}
    return [(panel, pieces[panel.number]) for panel in walls.found.panels.panels if panel.number in pieces]


# --- order and amounts -----------------------------------------------------------------------------


def work_of(walls: WallNumbers) -> Work:
    """Return all that is sewn, planned row."""
    found, panels = walls.found.pieces, walls.found.panels.panels
    outer = next(layer for layer in found.layers if layer.role == "outer")
    there = {piece.number[0] for piece in found.pieces}
    say = Wording(walls.project.settings.units)
    plan = found.plan
    low = "the lower edge"
    if plan.lower.words == "drip hem":
        low = f"the drip hem, its fold {say.short_length(nominal(walls.rows('water.lap')))} below the staple line"
    return Work(
        tuple(panel.name for panel in panels),
        tuple(Edge(f"S{one.number}, {one.left} to {one.right}", plan.left.finish, one.length) for one in found.seams),
        (
            Edge(low, plan.lower.finish, found.lower_edge),
            Edge("the upper edge", plan.upper.finish, found.upper_edge),
        ),
        tuple(
            Window(
                f"the {one.name}",
                panels[one.panel].name,
                tuple(name for name, _ in one.layers if name in ("clear sheet", "insect screen", "curtain")),
                one.tape,
                one.stitched,
            )
            for one in found.windows.windows
        ),
        "L" in there,
        "I" in there,
        outer.weight,
        outer.cloth.shrinks,
    )


def _thickness(walls: WallNumbers) -> float:
    outer = next(layer for layer in walls.found.pieces.layers if layer.role == "outer")
    return UNDER_FOOT * outer.thickness


def _amounts(walls: WallNumbers) -> Amounts:
    return amounts(work_of(walls), _thickness(walls))


def sewing_steps(walls: WallNumbers, say: Wording) -> tuple[str, ...]:
    """Return the order of sewing, one sentence or a few for each step."""

    def sized(text: str) -> str:
        def one(match: re.Match[str]) -> str:
            ends = [say.short_length(float(end) / 1000.0) for end in match.groups() if end]
            return " to ".join(ends)

        return text if say.units == "metric" else SIZE.sub(one, text)

    work = work_of(walls)
    steps = (f"{step.do} {step.look}".strip() for step in order(work))
    return tuple(sized(text if work.lining else text.replace(ON_LINING, NO_LINING)) for text in steps)


def sewing_bill(walls: WallNumbers, say: Wording) -> Grid:
    """Return what is bought beside cloth: thread, tape, clear sheet, staples, strip, what draws the cloth inward."""
    found, project = walls.found.pieces, walls.project
    whole, plan = _amounts(walls), found.plan
    outer = next(layer for layer in found.layers if layer.role == "outer")
    most = max(whole.thread, thread_length(whole.stitched, _thickness(walls), plan.stitch))
    least = thread_length(whole.stitched, _thickness(walls), max(STITCH_PITCH[1], plan.stitch))
    names = " or ".join(thread.text() for thread in threads_for(outer.weight))
    rows = [
        ("Thread", f"{say.length(least)} to {say.length(most)}", f"{names}; waste in it"),
    ]
    for opens, name in (("zip", "Zip"), ("hook tape", "Hook tape")):
        mine = sum(one.tape for one in found.windows.windows if project.window[one.entry].opens == opens)
        if mine:
            rows.append((f"{name} for windows", say.length(mine), "with laps"))
    if whole.zip:
        rows.append(("Zip for edges", say.length(whole.zip), ""))
    if whole.track:
        rows.append(("Welt track and cord", say.length(whole.track), ""))
    for name in ("clear sheet", "insect screen", "curtain"):
        boxes = [box for one in found.windows.windows for layer, box in one.layers if layer == name]
        if boxes:
            area = sum((box.right - box.left) * (box.top - box.bottom) for box in boxes)
            rows.append((capital(name), say.area(area), f"pieces: {len(boxes)}; as cut, no waste"))
    held = [
        edge
        for edge, length in ((plan.lower, found.lower_edge), (plan.upper, found.upper_edge))
        if edge.stapled and length > 0.0
    ]
    if held:
        lengths = [found.lower_edge if edge is plan.lower else found.upper_edge for edge in held]
        few, many = (sum(staples(length, pitch) for length in lengths) for pitch in (STAPLE_PITCH[1], STAPLE_PITCH[0]))
        rows += [
            ("Staples", f"{few} to {many}", "stainless; nearer in corners"),
            ("Strip over the staples", say.length(sum(lengths)), "holds the cloth and hides the staples; laps to add"),
        ]
    bound = [edge for edge in (plan.lower, plan.upper) if edge.words == "binding"]
    if bound:
        length = sum(found.lower_edge if edge is plan.lower else found.upper_edge for edge in bound)
        rows.append(("Binding", say.length(length), "laps to add"))
    pull = project.stow.pull
    if pull == "elastic":
        rows.append(("Elastic", say.length(found.lower_edge), "all round, unstretched less"))
    elif pull == "cords":
        count = max(4, math.ceil(found.lower_edge / APART))
        rows.append(("Cords", str(count), f"short ones to points inboard, {say.length(APART)} apart at most"))
    return Grid("What is bought", ("What", "How much", "Note"), tuple(rows), "")


# --- the smallest trial ----------------------------------------------------------------------------


def trial(walls: WallNumbers, say: Wording) -> tuple[str, ...]:
    """Return the smallest trial in paper that tells before cloth is cut, in short lines."""
    outer = _outer(walls)
    if not outer:
        return ("No panel can be drawn yet, so there is nothing to try in paper.",)

    def miss(panel: WallPanel) -> float:
        return nominal(panel.flat.straight.miss)

    panels = [panel for panel, _ in outer]
    unsure = [panel for panel in panels if panel.error is not None]
    if unsure:
        first = max(unsure, key=lambda panel: (panel.error or 0.0, miss(panel)))
        why = f"its outline is the least sure, by {say.short_length(first.error)}"
    else:
        first = max(panels, key=miss)
        why = f"straight edges would miss it by the most, {say.short_length(miss(first))}"
    flat, space = flat_row(first), (first.lower, first.upper)
    (paper_up, paper_down), (van_up, van_down) = (
        (say.length(float(np.linalg.norm(high[-1] - low[0]))), say.length(float(np.linalg.norm(high[0] - low[-1]))))
        for low, high in (flat, space)
    )
    seams = [say.length(nominal(seam)) for seam in (first.flat.left_seam, first.flat.right_seam)]
    lines = walls.found.lines
    around = [say.length(float(loop.row(0).perimeter)) for loop in (lines.lower, lines.upper)]
    found = [
        f"Make {first.number}, the {first.name}, in paper or builder's film first: {why}.",
        "Draw its stitch line alone, without ease, and cut on that line.",
        f"Check the square before cutting: flat on the table its diagonals are {paper_up} (lower left to upper right, "
        f"seen from outside) and {paper_down}.",
        f"On the van, roof open on its stop, a tape drawn straight between the same corners reads {van_up} and "
        f"{van_down}; its ends, from line to line, {seams[0]} at the left and {seams[1]} at the right.",
        f"Lay a tape round both lines: {around[0]} below, {around[1]} above.",
        f"Tape the paper to both lines by its match marks. More than {say.short_length(SQUARE)} of slack or want "
        "anywhere is no error of the tape: measure again before cloth is cut.",
    ]
    if all(panel.flat.straight.will_do for panel in panels):
        found.append("Panels with straight edges do as well here: a ruler is enough.")
    key = next((path for path, _ in first.moves if path in walls.rows.inputs), None)
    if key is not None:
        found.append(f"Where it does not fit, begin here: {KEY.sub('', walls.rows.inputs[key].measure)}.")
    return tuple(found)
