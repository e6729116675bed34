"""The flat panels of the walls: rolled out, how far their outlines are unsure and by what, how tight they hang."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from loftwright.answers.draws import Rows
from loftwright.answers.held_basis import Basis
from loftwright.answers.walled_lines import LinesFound, RimsOnly
from loftwright.answers.walled_tension import TensionFound, outer_layer, the_tension
from loftwright.cloth.develop import Panel, develop, judged, spread
from loftwright.cloth.develop_rules import RIMS_UNSURE, SHARP, TOO_WIDE, TWO_WAYS
from loftwright.cloth.rim_places import Stretch, between, steady
from loftwright.cloth.rim_seams import PanelSpan, SeamPlaces
from loftwright.cloth.rims import SIDES, Loop
from loftwright.cloth.unfold import breadth, misfit, outline, unfold
from loftwright.core.choices import Edge, Grain
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.core.wording import Wording
from loftwright.project.assemble_cloth import LEAST_WALL
from loftwright.project.assemble_walls import open_pose, opened
from loftwright.project.carrying import Values

EVERY: Final = 0.02
"""A point of an edge for so much of its length [m], before corners take more."""
FEWEST, MOST = 40, 110
"""Points of one edge: below, seams start to move; above, only time is spent."""
TURN_STEP: Final = float(np.radians(1.0))
"""By how much more the roof opens to see what that does [rad]."""
LIFT_STEP: Final = 0.01
"""By how much more a roof in straight guides rises to see what that does [m]."""
LEAST_MOVE: Final = 0.0001
"""An outline that moves less [m] is not told to move."""
NO_ROLL: Final = "write a [[layer]] with the width of the outer cloth's roll"
_EDGES: Final[dict[str, Edge]] = {"rear": "rear", "right": "right", "front": "front", "left": "left"}
POINTS_KEY: Final = "walls.rim_error"
"""The key that stands for the points of both lines."""


@dataclass(frozen=True, slots=True)
class WallPanel:
    """One panel: `number` "W1", "W2", ... in sewing order, plain `name`, `wall` on which most of it hangs.

    `left`, `right`: numbers of its seams in `LinesFound.seams`, as seen from outside. `flat`: rolled out for every row,
    edges [rows, m, 2] and [rows, k, 2] from left to right [m], without ease. `lower_arc` [m], `upper_arc` [k]: rim arcs
    of these points in the planned roof [m], growing to the right over the lines' start (so maybe above the perimeter).
    `lower`, `upper`: the same points in space, roof open, planned row [m, 3], [k, 3] [m]. `height`: greatest height of
    the flat panel over its lower chord [rows] [m]. `error`: what 95 of 100 drawn outlines differ from the planned one
    at most [m], None without draws. `moves`: keys of the file with how far each alone moves the outline [m], the
    strongest first; the key "walls.rim_error" stands for the lines' own points.
    """

    number: str
    name: str
    wall: Edge
    left: int
    right: int
    flat: Panel
    lower_arc: Array
    upper_arc: Array
    lower: Array
    upper: Array
    height: Array
    error: float | None
    moves: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class PanelsFound:
    """All panels, in sewing order: the one in the middle of the rear end first, then to the right seen from outside.

    `ease` [m], [rows], is not in the flat panels yet: `pieces.eased` adds it to their upper lines. `opening`: how far
    the outline of each panel moves when the shell opens by a little more [m], [panels], and `opening_step` says by how
    much that is. `tension`: how tight the open cloth is pulled.
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    panels: tuple[WallPanel, ...]
    ease: Array
    opening: Array
    opening_step: str
    tension: TensionFound


def the_panels(base: Basis, lines: LinesFound) -> PanelsFound:
    """Return the flat panels between the seams of both lines."""
    at, say = base.at, Wording(base.project.settings.units)
    ease, limit = base.full(at("walls.ease")), base.full(at("walls.error_limit"))
    further = LIFT_STEP if base.roof.travel.slides else TURN_STEP
    dx, dz, phi = (part[:1] for part in open_pose(base.roof, further))
    wider = opened(base.project, _planned(base), _first(lines.closed), (dx, dz, phi))
    grain, roll, taken = _roll(base)
    found: list[WallPanel] = []
    verdicts: list[Judged] = []
    more: list[float] = []
    for number, span in enumerate(_in_order(lines), 1):
        one, wide = _panel(base, lines, span, f"W{number}", wider)
        found.append(one)
        more.append(wide)
        low = is_strip(lines, one)
        turn = _best_grain(one.flat, grain)
        across, shrunk = taken[0 if turn == 0.0 else 1]
        size = breadth(one.flat.outline, turn)
        extra = (size + across) / shrunk - size
        verdicts += [
            # Cloth that hardly stands lies in folds and forgives much.
            replace(verdict, unknown=NO_ROLL, missing="layer") if verdict.rule is TOO_WIDE and roll is None else verdict
            for verdict in judged(
                # Other rows are rolled out the same way: how sharp that makes them is no matter.
                replace(one.flat, sharpest=np.full(base.rows, one.flat.sharpest[0])),
                one.name,
                roll=roll,
                grain=turn,
                allowances=extra,
                unsure=_unsure(base, lines.rims_only, one),
                unsure_limit=limit,
            )
            if not (low and verdict.rule in (TWO_WAYS, SHARP, RIMS_UNSURE))
        ]
    tension = the_tension(base, lines, ease)
    step = say.length(further) if base.roof.travel.slides else say.angle(further)
    return PanelsFound(
        judged=(*verdicts, *tension.judged),
        said=(*_said(lines, found), *tension.said),
        panels=tuple(found),
        ease=ease,
        opening=np.array(more),
        opening_step=step,
        tension=tension,
    )


def _planned(base: Basis) -> Values:
    return lambda path: np.asarray(base.at(path)[:1])


def _first(loop: Loop) -> Loop:
    """Return the planned row of a loop as its only one."""
    one = loop.row()
    return replace(one, points=one.points[None], arc=one.arc[None])


def _in_order(lines: LinesFound) -> tuple[PanelSpan, ...]:
    """Return the panels, the one over the middle of the rear end first, then to the right seen from outside."""
    arcs = lines.seams.lower[0]
    around = float(lines.lower.row().perimeter)
    spans = lines.seams.panels

    def begins(span: PanelSpan) -> float:
        # The last seam before the start, counted back over it, begins the first panel.
        start = float(arcs[span.left]) % around
        over = span.left == len(arcs) - 1 and start > 1e-6 * around
        return start - around if over else start

    return tuple(sorted(spans, key=begins))


def _stretches(
    lower: Loop, upper: Loop, ends: tuple[tuple[Array, Array], tuple[Array, Array]], counts: tuple[int, int]
) -> tuple[Stretch, Stretch]:
    """Return both edges of a panel; `ends` are its left and right arcs on the lower and the upper line [m], [rows]."""
    found = []
    for loop, (left, right), count in zip((lower, upper), ends, counts, strict=True):
        try:
            found.append(between(loop, left, right, count))
        except ValueError:
            # A seam that passes a corner's end in some rows keeps its place beside it.
            planned = np.array([float(np.ravel(left)[0]), float(np.ravel(right)[0])])
            kept = steady(loop, planned)
            found.append(between(loop, kept[..., 0], kept[..., 1], count))
    return found[0], found[1]


def _ends(seams: SeamPlaces, span: PanelSpan) -> tuple[tuple[Array, Array], tuple[Array, Array]]:
    low, high = seams.lower, seams.upper
    return (low[..., span.left], low[..., span.right]), (high[..., span.left], high[..., span.right])


def _panel(base: Basis, lines: LinesFound, span: PanelSpan, number: str, wider: Loop) -> tuple[WallPanel, float]:
    """Return a panel, and how far its outline moves with the open upper line `wider` [m]."""
    ends = _ends(lines.seams, span)
    counts = tuple(_count(loop, pair) for loop, pair in zip((lines.lower, lines.upper), ends, strict=True))
    low, high = _stretches(lines.lower, lines.upper, ends, (counts[0], counts[1]))
    flat = develop(low.points, high.points)
    own = flat.outline
    only = lines.rims_only
    parts = _stretches(only.lower, only.upper, _ends(only.seams, span), (counts[0], counts[1]))
    rims = unfold(parts[0].points, parts[1].points, flat.word)
    by_rims = spread(outline(*rims)).most
    lower, upper = (np.asarray(part.points[0]) for part in (low, high))
    moved = between(wider, ends[1][0][:1], ends[1][1][:1], counts[1]).points[0]
    by_opening = float(misfit(own[0], outline(*unfold(lower, moved, flat.word))))
    known = base.at if isinstance(base.at, Rows) else None
    each = misfit(own[:1], own)
    alone = known.alone if known else {}
    moves = {path: float(max(each[first], each[last])) for path, (first, last) in alone.items()}
    moves[POINTS_KEY] = by_rims
    strongest = sorted((path for path in moves if moves[path] > LEAST_MOVE), key=lambda path: (-moves[path], path))
    one = WallPanel(
        number=number,
        name=span.name,
        wall=_wall(lines.lower.row(), float(ends[0][0][0]), float(low.arc[0][-1] - low.arc[0][0])),
        left=span.left,
        right=span.right,
        flat=flat,
        lower_arc=np.asarray(low.arc[0]),
        upper_arc=np.asarray(high.arc[0]),
        lower=lower,
        upper=upper,
        height=np.asarray(flat.upper[..., 1].max(axis=-1)),
        error=float(np.quantile(each[known.draws], 0.95)) if known and each[known.draws].size else None,
        moves=tuple((path, moves[path]) for path in strongest),
    )
    return one, by_opening


def _count(loop: Loop, ends: tuple[Array, Array]) -> int:
    first = loop.row()
    length = float(np.ravel(ends[1])[0] - np.ravel(ends[0])[0])
    return int(np.clip(round((length if length > 0.0 else length + float(first.perimeter)) / EVERY), FEWEST, MOST))


def _wall(loop: Loop, start: float, length: float) -> Edge:
    """Return the side along which most of a panel hangs."""
    around = float(loop.perimeter)
    begin, end = loop.corner_arcs()
    found: dict[Edge, float] = {}
    for k, side in enumerate(SIDES):
        low, high = (float(end[k - 1]), float(begin[k])) if k else (float(end[3]) - around, float(begin[0]))
        laps = (max(0.0, min(start + length, high + n * around) - max(start, low + n * around)) for n in (-1, 0, 1))
        found[_EDGES[side]] = sum(laps)
    return max(found, key=lambda side: found[side])


def _roll(base: Basis) -> tuple[Grain | None, Array | None, tuple[tuple[Array, Array], tuple[Array, Array]]]:
    """Return how the outer cloth's roll runs, its usable width [m], and what a piece takes beside its stitch lines.

    Of the roll's width, with the wall's length along the roll and with its height: allowances [m] and what shrinkage
    leaves [1], [rows]. No roll where the outer cloth is not written.
    """
    at, number = base.at, outer_layer(base)
    high = at("sewing.lower_allowance") + at("sewing.upper_allowance") + at("walls.ease")
    wide = 2.0 * at("sewing.seam_allowance")
    if number is None:
        return None, None, ((high, np.ones_like(high)), (wide, np.ones_like(wide)))
    layer = f"layer.{number}"
    kept = 1.0 - at(f"{layer}.shrink_across")
    roll = base.full(at(f"{layer}.roll_width") - 2.0 * at(f"{layer}.selvedge"))
    return base.project.layer[number].grain, roll, ((high, kept), (wide, kept))


def _best_grain(flat: Panel, grain: Grain | None) -> float:
    """Return the direction on a panel that lies along the roll [rad]: the better one where either will do."""
    ways = {"along the wall": 0.0, "up the wall": float(np.pi / 2.0)}
    if grain in ways:
        return ways[grain]
    if grain is None:
        return 0.0
    sizes = {way: float(breadth(flat.outline, way)[0]) for way in ways.values()}
    return min(sizes, key=lambda way: sizes[way])


def _unsure(base: Basis, rims: RimsOnly, panel: WallPanel) -> Array | None:
    """Return how far a panel's outline may be off [m], [rows]; None without draws.

    In the row in which an input alone is at its low end: what would be left if that input were known for certain,
    sqrt(e^2 - own^2) (1). Errors of the points count as they are in each row. Source: derivation.
    """
    if panel.error is None or not isinstance(base.at, Rows):
        return None
    own = dict(panel.moves)
    points = own.get(POINTS_KEY, 0.0)
    planned = float(rims.size[0])
    share = (rims.size / planned) ** 2 - 1.0 if planned > 0.0 else np.zeros(base.rows)
    left = np.full(base.rows, panel.error**2) + points**2 * share
    for path, (low, _) in base.at.alone.items():
        if path != POINTS_KEY and path in own:
            left[low] -= own[path] ** 2
    return np.sqrt(np.maximum(left, 0.0))


def is_strip(lines: LinesFound, panel: WallPanel) -> bool:
    """Whether a panel hangs where the open wall hardly stands: folds rather than a surface."""
    return float(lines.heights[0, SIDES.index(panel.wall)]) < LEAST_WALL


def _said(lines: LinesFound, panels: list[WallPanel]) -> tuple[str, ...]:
    low = [panel.name for panel in panels if is_strip(lines, panel)]
    if not low:
        return ()
    return (
        f"In folds rather than upright: the {' and the '.join(low)}. Whether such a strip rolls out smoothly and how "
        "sure its outline is are not judged; try it in paper.",
    )
