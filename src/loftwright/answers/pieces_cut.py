"""One piece of cloth with all that is written on it, and the pieces that belong to a window."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from loftwright.answers.pieces_written import TRIM, around, written
from loftwright.answers.views import wording
from loftwright.answers.walled_panels import WallPanel
from loftwright.answers.walled_windows import WindowFound
from loftwright.cloth.allowances import Finish, binding
from loftwright.cloth.cut_lines import EDGES, Net, net_of
from loftwright.cloth.cut_round import all_round as round_about
from loftwright.cloth.cut_round import crosses
from loftwright.cloth.pieces import RimArc, before_shrinking, before_shrinking_piece, ordinates, panel_piece
from loftwright.cloth.windows import Box, Sight, clearances, placed, relief_notches
from loftwright.core.motion import Array
from loftwright.core.pattern import XY, Contour, ContourKind, PatternPiece, Words
from loftwright.project.assemble_sewing import LayerPlan, SewingPlan
from loftwright.project.model import Project

EDGE_WORDS: Final = {"bottom": "lower edge", "right seam": "right edge", "top": "upper edge", "left seam": "left edge"}
"""The edges of a panel as people call them, seen from outside."""
SIDES_UP: Final = {
    "outer": "right side up: it is seen from outside",
    "lining": "wrong side up: its right side faces into the van",
    "insulation": "outer side up",
}
SEW_IN: Final = 0.005
"""How far inside its edge a sheet, a screen or a curtain is sewn [m]: judgement."""
NEAR: Final = 1e-5
"""Points closer than this are one [m]."""
CLEAR: Final = 0.05
"""Words keep this far from a window's hole [m], clear of its other layers."""
BLUNT: Final = math.radians(35.0)
"""A corner further off a right angle than this is not trued to be turned [rad]: judgement."""
WET_FIRST: Final = "wet and dry it before windows are sewn in"
"""Written on a piece with windows whose cloth still shrinks: their sheet does not."""
WINDOW_PARTS: Final = (("clear sheet", "F"), ("insect screen", "N"), ("curtain", "C"))
"""Pieces of a window, which are their own materials, and the letters of their numbers."""


@dataclass(frozen=True, slots=True)
class Cut:
    """What one piece is drawn from.

    `plan`: how its edges are finished, None where it has no allowance. `lower`, `upper`: its flat lines from left to
    right, ease in it, [m, 2], [k, 2] [m], with their rim arcs [m], [k] [m], which are None for a part of a panel.
    `twin`: number and name of its mirror image, "" where it has none.
    """

    number: str
    layer: LayerPlan
    plan: SewingPlan | None
    panel: WallPanel
    name: str
    lower: Array
    upper: Array
    arcs: tuple[Array, Array] | None
    windows: tuple[WindowFound, ...]
    twin: str = ""


@dataclass(frozen=True, slots=True)
class Drawn:
    """A piece and a few words on its shape that go on in a sentence, "" where there is nothing to say."""

    piece: PatternPiece
    note: str


def _apart(line: Array, arc: Array) -> tuple[Array, Array]:
    """Return a line [n, 2] and its arcs [n] without points that `cut_lines.cleaned` would take out [m]."""
    kept = [0]
    for k in range(1, len(line) - 1):
        if min(np.hypot(*(line[k] - line[kept[-1]])), np.hypot(*(line[k] - line[-1]))) > NEAR:
            kept.append(k)
    kept.append(len(line) - 1)
    return line[kept], arc[kept]


def layer_piece(project: Project, cut: Cut) -> Drawn:
    """Return one piece of a layer, and what to say of its shape.

    ValueError in plain words where its edges do not fit together: no height, or allowances wider than a bend bears.
    """
    say = wording(project)
    lower, upper, arcs = cut.lower, cut.upper, None
    if cut.arcs is not None:
        lower, low_arc = _apart(lower, cut.arcs[0])
        upper, high_arc = _apart(upper, cut.arcs[1])
        arcs = RimArc(low_arc, high_arc)
    net = net_of(lower, upper)
    if crosses(net.outline):
        raise ValueError("its stitch lines cross one another")
    edges: dict[str, tuple[str, Finish]] = {edge: ("cut on the line", binding()) for edge in EDGES}
    if cut.plan is not None:
        edges = {edge: (plan.words, plan.finish) for edge, plan in cut.plan.plans.items()}
    holes, marks = _holes(cut, net)
    windows = (*(hole.contour("cut", name) for name, hole in holes), *marks)
    piece, note, all_round = _drawn(cut, net, {edge: finish for edge, (_, finish) in edges.items()}, arcs, windows)
    side = SIDES_UP[cut.layer.role]
    words = [f"{cut.number} {cut.name}", piece.material, side, "this way up, to the shell"]
    if cut.twin:
        words.append(f"not {cut.twin}: they are mirror images")
    cloth = cut.layer.cloth
    if cloth.shrinks and cut.windows and cut.layer.role == "outer":
        words.append(WET_FIRST)
    shrinks = (cloth.warp_shrinks, cloth.weft_shrinks) if cloth.warp_along else (cloth.weft_shrinks, cloth.warp_shrinks)
    larger = before_shrinking(1.0, shrinks[0]), before_shrinking(1.0, shrinks[1])
    texts, grain = written(words, net, tuple(hole.grown(CLEAR) for _, hole in holes), along=cloth.warp_along)
    whole = replace(
        piece,
        side=side,
        words=tuple(replace(one, at=_stretched(one.at, larger)) for one in texts),
        grain=(_stretched(grain[0], larger), _stretched(grain[1], larger)),
        edges=tuple(
            (EDGE_WORDS[edge], kind, say.short_length(wide) if wide else "none")
            for edge, (kind, finish) in edges.items()
            for wide in (finish.allowance if all_round is None else all_round,)
        ),
    )
    return Drawn(whole, note)


def _drawn(
    cut: Cut, net: Net, finishes: Mapping[str, Finish], arcs: RimArc | None, windows: tuple[Contour, ...]
) -> tuple[PatternPiece, str, float | None]:
    """Return a piece with its cut line, what to say of its corners, and an allowance that is the same all round [m].

    Corners are trued to be turned; where one is too sharp for that they are cut straight on; where edges still do not
    fit together the same allowance runs all round.
    """
    if cut.plan is None:
        return _bare(cut, net, 0.0, windows), "", None
    straight = {edge: replace(finish, turns=()) for edge, finish in finishes.items()}
    tries = [(finishes, "")] if off_square(net) <= BLUNT else []
    tries.append((straight, "corners too sharp to be turned are cut straight on; trim them after turning"))
    for edges, note in tries:
        try:
            return (
                panel_piece(
                    cut.number,
                    cut.name,
                    net,
                    edges,
                    cut.layer.cloth,
                    arcs=arcs,
                    seams=None if arcs is None else (cut.panel.right + 1, cut.panel.left + 1),
                    marks=cut.plan.marks,
                    windows=windows,
                ),
                note,
                None,
            )
        except ValueError:
            continue
    widest = max(finish.allowance for finish in finishes.values())
    return (
        _bare(cut, net, widest, windows),
        "allowances that do not fit together: the widest one runs all round, and there are no match marks",
        widest,
    )


def off_square(net: Net) -> float:
    """Return how far the corner of a panel that is least square is off a right angle [rad]."""
    found = 0.0
    for edge, before in zip(EDGES, (EDGES[-1], *EDGES[:-1]), strict=True):
        here, last = net.edge(edge), net.edge(before)
        on, back = here[1] - here[0], last[-2] - last[-1]
        cosine = float(on @ back) / float(np.hypot(*on) * np.hypot(*back))
        found = max(found, abs(float(np.arccos(np.clip(cosine, -1.0, 1.0))) - np.pi / 2.0))
    return found


def _bare(cut: Cut, net: Net, by: float, windows: tuple[Contour, ...]) -> PatternPiece:
    """Return a piece with `by` [m] all round its stitch line and no match marks. ValueError where it crosses itself."""
    outline = round_about(net.outline, by)
    cloth = cut.layer.cloth
    shrinks = (cloth.warp_shrinks, cloth.weft_shrinks) if cloth.warp_along else (cloth.weft_shrinks, cloth.warp_shrinks)
    lines: tuple[tuple[ContourKind, str, Array], ...] = (
        ("cut", "cut line", outline),
        ("stitch", "stitch line", net.outline),
    )
    contours = tuple(
        Contour(kind, tuple((float(x), float(y), 0.0) for x, y in line), True, name) for kind, name, line in lines
    )
    piece = PatternPiece(
        cut.number,
        cut.name,
        cloth.material,
        1,
        "",
        (*contours, *windows),
        nap=cloth.nap,
        ordinates=ordinates(net),
    )
    return before_shrinking_piece(piece, *shrinks)


def _stretched(at: XY, larger: tuple[float, float]) -> XY:
    return at[0] * larger[0], at[1] * larger[1]


def box_on(cut: Cut, net: Net, window: WindowFound) -> Box:
    """Return the sight line of a window in the frame of a piece of any layer."""
    if cut.layer.role != "lining" or cut.arcs is None:
        return window.sight
    x = float(np.interp(window.arc, cut.arcs[0], cut.lower[:, 0]))
    middle = float(net.bottom[0, 0] + net.bottom[-1, 0]) / 2.0
    own = window.sight
    sight = Sight(
        x - middle, window.bottom, own.right - own.left, own.top - own.bottom, max(own.radius, 0.0), window.name
    )
    return placed(sight, net)


def _holes(cut: Cut, net: Net) -> tuple[list[tuple[str, Box]], tuple[Contour, ...]]:
    """Return the holes that a piece gets, and what else is drawn of its windows."""
    holes: list[tuple[str, Box]] = []
    marks: list[Contour] = []
    for window in cut.windows:
        sight = box_on(cut, net, window)
        own = window.layering
        hole = sight.grown(-own.turn) if cut.layer.role != "insulation" else sight.grown(max(own.largest, 0.0))
        name = f"{window.name}, cut out"
        inside = hole.right > hole.left and hole.top > hole.bottom and min(clearances(hole, net).values()) > 0.0
        if inside and not any(_overlap(hole, other) for _, other in holes):
            holes.append((name, hole))
        elif cut.layer.role == "insulation":
            if _overlap(hole, around(net)):
                marks.append(hole.contour("mark", f"{window.name}: {TRIM}"))
            continue
        if cut.layer.role == "insulation":
            continue
        marks.append(sight.contour("mark", f"{window.name}, sight line"))
        if cut.layer.role == "outer":
            marks += [
                box.contour("mark", f"{window.name}, {layer}")
                for layer, box in window.layers
                if layer not in ("outer cloth, cut", "sight line")
            ]
            if inside:
                marks += relief_notches(sight, own)
    return holes, tuple(marks)


def _overlap(one: Box, other: Box) -> bool:
    across = min(one.right, other.right) > max(one.left, other.left)
    return across and min(one.top, other.top) > max(one.bottom, other.bottom)


def sheet_pieces(number: int, window: WindowFound) -> tuple[PatternPiece, ...]:
    """Return clear sheet, insect screen and curtain of a window, each with its own outline; `number` counts windows."""
    outlines = dict(window.layers)
    found = []
    for material, letter in WINDOW_PARTS:
        if material not in outlines:
            continue
        box = outlines[material]
        size = min(0.015, (box.top - box.bottom) / 8.0, (box.right - box.left) / 16.0)
        x, y = (box.left + box.right) / 2.0, (box.bottom + box.top) / 2.0
        tall = 0.3 * (box.top - box.bottom)
        found.append(
            PatternPiece(
                number=f"{letter}{number}",
                name=f"{window.name}, {material}",
                material=material,
                count=1,
                side="either side up",
                contours=(
                    box.contour("cut", "cut line"),
                    box.grown(-SEW_IN).contour("stitch", "stitch line"),
                    window.sight.contour("mark", "sight line"),
                ),
                words=(
                    Words((x, y + 0.9 * size), f"{letter}{number} {window.name}", size),
                    Words((x, y - 0.9 * size), material, size),
                ),
                grain=((x, y - tall), (x, y + tall)) if material == "curtain" else None,
                edges=(("all round", "sewn beyond the sight line", "none"),),
            )
        )
    return tuple(found)
