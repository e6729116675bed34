"""The walls' shape, ready to show: lines, flat panels side by side, how sure they are, what to measure again."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

import numpy as np

from loftwright.answers.draws import Rows
from loftwright.answers.hold_said import KEY, answer, barely, capital
from loftwright.answers.views import check_row
from loftwright.answers.walled_lines import LinesFound, side_middles
from loftwright.answers.walled_panels import POINTS_KEY, PanelsFound, WallPanel, is_strip
from loftwright.cloth.cut_lines import Net, net_of
from loftwright.cloth.develop_rules import TWO_WAYS_LIMIT
from loftwright.cloth.naive import STRAIGHT_WILL_DO
from loftwright.cloth.pieces import eased
from loftwright.cloth.rim_fit import RimFit
from loftwright.cloth.rim_noise import lengthening
from loftwright.cloth.rims import SIDES
from loftwright.cloth.unfold import bridges_of
from loftwright.cloth.windows import Box, Layering, Sight, clearances, placed
from loftwright.core.checks import Check
from loftwright.core.motion import Array
from loftwright.core.pattern import XY
from loftwright.core.views import Fact, Grid
from loftwright.core.wall_views import Point, Strip, StripPanel, StripSeam, StripWindow, WallSection
from loftwright.core.wording import Wording
from loftwright.reference.field_words import label_of

if TYPE_CHECKING:
    from loftwright.answers.walled_roof import WallNumbers

GAP: Final = 0.05
"""Between two panels on the strip [m]."""
RULING_EVERY: Final = 0.08
"""Between two straight lines of the rolled-out cloth that are drawn [m]."""
AGAIN: Final = 5
"""How many inputs are named to be measured again."""
RULER: Final = "a ruler is enough here"


def shape_section(walls: WallNumbers, checks: tuple[Check, ...], say: Wording) -> WallSection:
    """Return what is said about the lines and the flat panels."""
    lines, panels = walls.found.lines, walls.found.panels
    mine = tuple(check for check in checks if check.rule.id.startswith("WALL-"))
    grids = [_panels(lines, panels, say), *_again(walls, say)]
    grids += [
        _residuals(fit, name, say)
        for fit, name in ((lines.lower_fit, "lower"), (lines.upper_fit, "upper"))
        if fit is not None
    ]
    return WallSection(
        "shape",
        "Lines and panels",
        answer(
            mine,
            barely(mine, "The walls can be cut by these lines"),
            "The walls should not be cut by these lines yet",
            _known(lines, panels, say),
        ),
        _facts(walls, say),
        tuple(grids),
        tuple(check_row(check, say) for check in mine),
        (*lines.said, *panels.said),
    )


def _known(lines: LinesFound, panels: PanelsFound, say: Wording) -> str:
    sure = [panel for panel in panels.panels if panel.error is not None and not is_strip(lines, panel)]
    count = f"{len(panels.panels)} panels"
    if not sure:
        return f"there are {count}" if len(panels.panels) > 1 else "there is one panel"
    worst = max(sure, key=lambda panel: panel.error or 0.0)
    if len(panels.panels) == 1:
        return f"the outline of the one panel is sure within {say.short_length(worst.error)}"
    return f"of {count} the {worst.name} is least sure, its outline within {say.short_length(worst.error)}"


def _facts(walls: WallNumbers, say: Wording) -> tuple[Fact, ...]:
    lines, panels = walls.found.lines, walls.found.panels
    around = float(lines.lower.row().perimeter)
    found = [
        Fact("Lower line", say.length(around), "all round; check it with a tape"),
        Fact("Upper line", say.length(float(lines.upper.row().perimeter)), "all round; check it with a tape"),
    ]
    for k in (0, 2, 1, 3):
        found.append(
            Fact(
                f"{capital(SIDES[k])} wall",
                say.length(float(lines.square[0, k])),
                "high in its middle, square to the rim, roof open",
            )
        )
    area = sum(float(panel.flat.area[0]) for panel in panels.panels)
    found.append(Fact("Cloth in the walls", say.area(area), "between the two lines, one layer, nothing allowed"))
    found.append(Fact("Ease", say.short_length(float(panels.ease[0])), "higher than the gap"))
    more = max(panels.opening)
    found.append(
        Fact(
            "Outline by the opening",
            say.short_length(float(more)),
            f"where the roof opens by {panels.opening_step} more",
        )
    )
    size = float(lines.rims_only.size[0])
    if size > 0.0 and lines.lower_fit is None:
        found.append(
            Fact(
                "Errors lengthen a line by",
                say.short_length(lengthening(size, around)),
                "on average, where each point is followed; fit first, then cut",
            )
        )
    pull = panels.tension.pull
    dry, wet = (say.rule_value(float(np.ravel(one)[0]), "N/m") for one in (pull.dry, pull.wet))
    known = any(layer.role == "outer" for layer in walls.project.layer)
    wet = wet if known else "not known before the outer cloth is written"
    found.append(Fact("Pull of the open cloth", dry, f"dry, up the {panels.tension.wall}; wet: {wet}"))
    return tuple(found)


def _panels(lines: LinesFound, panels: PanelsFound, say: Wording) -> Grid:
    rows = []
    for panel in panels.panels:
        low = is_strip(lines, panel)
        miss, ways = float(np.ravel(panel.flat.straight.miss)[0]), panel.flat.two_ways
        error = "" if panel.error is None else f"± {say.short_length(panel.error)}"
        rows.append(
            (
                panel.number,
                panel.name,
                f"{say.length(_length(panel))} x {say.length(float(panel.height[0]))}",
                "in folds" if low else error,
                "" if ways <= TWO_WAYS_LIMIT else say.short_length(ways),
                RULER if miss <= STRAIGHT_WILL_DO else f"would miss by {say.short_length(miss)}",
            )
        )
    return Grid(
        "Panels",
        ("No", "Panel", "Length x height", "Outline sure to", "Two ways differ by", "Straight edges"),
        tuple(rows),
        "Stitch lines without ease. 95 of 100 roofs like yours have an outline within the fourth column.",
    )


def _length(panel: WallPanel) -> float:
    return float(np.linalg.norm(panel.flat.lower[0, -1] - panel.flat.lower[0, 0]))


def _again(walls: WallNumbers, say: Wording) -> list[Grid]:
    """Return what to measure again: the inputs that move a panel's outline most, the strongest first."""
    lines, panels = walls.found.lines, walls.found.panels
    strongest: dict[str, tuple[float, str]] = {}
    for panel in panels.panels:
        if is_strip(lines, panel) and len(panels.panels) > 1:
            continue
        for path, move in panel.moves:
            if move > strongest.get(path, (0.0, ""))[0]:
                strongest[path] = (move, panel.name)
    order = sorted(strongest, key=lambda path: (-strongest[path][0], path))[:AGAIN]
    if not order:
        return []
    rows = tuple((_measure(walls, path), say.short_length(strongest[path][0]), strongest[path][1]) for path in order)
    return [
        Grid(
            "What to measure again",
            ("What", "Moves an outline by", "Panel"),
            rows,
            "Then one panel in paper on the open roof, before any cloth is cut.",
        )
    ]


def _measure(walls: WallNumbers, path: str) -> str:
    if path == POINTS_KEY:
        return "The points of both lines"
    head, _, tail = path.partition(".")
    if head in ("lower_point", "upper_point"):
        number, axis = tail.split(".")
        return f"Point {int(number) + 1} of the {head.removesuffix('_point')} line, {axis}"
    if head == "walls":
        return capital(label_of(path).removesuffix(" by"))
    at = walls.found.basis.at
    said = at.inputs[path].measure if isinstance(at, Rows) else path
    return capital(KEY.sub("", said.removeprefix("measure ")))


def _residuals(fit: RimFit, name: str, say: Wording) -> Grid:
    rows = tuple(
        (str(k + 1), fit.places[k], say.short_length(float(fit.out[k])), say.short_length(float(fit.up[k])))
        for k in range(fit.out.size)
    )
    lengths = ", ".join(
        f"{label} {say.length(fit.values[fit.names.index(key)])}"
        for key, label in (("radius", "corner radius"), ("crown", "crown"), ("camber", "camber"))
        if key in fit.names
    )
    return Grid(
        f"What the points miss the {name} line by",
        ("Point", "Where", "Outside", "Above"),
        rows,
        f"Scatter {say.short_length(fit.scatter)} on each axis; {lengths or 'flat'}.",
    )


# --- drawn -----------------------------------------------------------------------------------------


def _net(panel: WallPanel, ease: float) -> Net:
    lower, upper = panel.flat.lower[0], panel.flat.upper[0]
    return net_of(lower, eased(lower, upper, ease))


def strip(walls: WallNumbers, _say: Wording) -> Strip:
    """Return the panels side by side in sewing order, ease in them, with seams and windows."""
    lines, panels = walls.found.lines, walls.found.panels
    ease = float(panels.ease[0])
    at, shown, seams = 0.0, [], []
    places: dict[str, tuple[float, Net]] = {}
    tops = [0.0]
    for panel in panels.panels:
        net = _net(panel, ease)
        low, high = net.outline.min(axis=0), net.outline.max(axis=0)
        shift = at - float(low[0])
        places[panel.number] = (shift, net)
        lower = panel.flat.lower[0]
        shown.append(
            StripPanel(
                panel.number,
                panel.name,
                panel.wall,
                _xy(net.outline, shift),
                _xy(lower, shift),
                tuple(float(arc) for arc in panel.lower_arc),
            )
        )
        ends = _xy(np.stack([net.bottom[0], net.top[-1]]), shift)
        arc = float(panel.lower_arc[0]) % float(lines.lower.row().perimeter)
        seams.append(StripSeam(lines.seams.names[panel.left], ends[0], ends[1], arc))
        tops.append(float(high[1]))
        at += float(high[0] - low[0]) + GAP
    windows = _windows(walls, places)
    return Strip(tuple(shown), windows, tuple(seams), float(lines.lower.row().perimeter), at - GAP, max(tops))


def _xy(points: Array, shift: float) -> tuple[XY, ...]:
    return tuple((float(x) + shift, float(y)) for x, y in points)


def _windows(walls: WallNumbers, places: dict[str, tuple[float, Net]]) -> tuple[StripWindow, ...]:
    project = walls.project
    found = []
    for k, window in enumerate(project.window):
        along, bottom, width, height = (
            value.nominal for value in (window.along, window.bottom, window.width, window.height)
        )
        radius = window.corner_radius.nominal
        panel, middle = window_panel(walls.found.lines, walls.found.panels, window.wall, along)
        shift, net = places[panel.number]
        sight = Sight(middle, bottom, width, height, min(radius, width / 2.0, height / 2.0), window.name)
        box = placed(sight, net)
        largest = box.grown(Layering(turn=project.sewing.window_turn.nominal).largest)
        fits = min(clearances(largest, net).values()) >= project.sewing.keep_out.nominal - 1e-9
        both = _outline(box, shift), _outline(largest, shift)
        found.append(StripWindow(window.name, k, *both, along, bottom, fits))
    return tuple(found)


def window_panel(lines: LinesFound, panels: PanelsFound, wall: str, along: float) -> tuple[WallPanel, float]:
    """Return the panel on which a window's middle lies, and how far that is from the middle of its lower chord [m].

    `along` [m]: from the middle of the wall's lower line, to the right seen from outside.
    """
    around = float(lines.lower.row().perimeter)
    arc = float(side_middles(lines.lower.row())[SIDES.index(wall)]) + along
    for panel in panels.panels:
        first, last = float(panel.lower_arc[0]), float(panel.lower_arc[-1])
        here = first + (arc - first) % around
        if here <= last + 1e-9:
            x = panel.flat.lower[0, :, 0]
            return panel, float(np.interp(here, panel.lower_arc, x)) - float(x[0] + x[-1]) / 2.0
    return panels.panels[0], along


def _outline(box: Box, shift: float) -> tuple[XY, ...]:
    moved = replace(box, left=box.left + shift, right=box.right + shift)
    return moved.contour("mark", "").flattened(0.001)


def space_lines(walls: WallNumbers) -> tuple[tuple[Point, ...], tuple[Point, ...]]:
    """Return the lower line, and the upper one with the roof open, in space, each closed [m]."""
    lines = walls.found.lines
    return _space(lines.lower.row().points), _space(lines.upper.row().points)


def _space(points: Array) -> tuple[Point, ...]:
    return tuple((float(x), float(y), float(z)) for x, y, z in (*points, points[0]))


def rulings(walls: WallNumbers) -> tuple[tuple[Point, Point], ...]:
    """Return straight lines of the rolled-out cloth from the lower to the upper line [m], the seams among them."""
    found = []
    for panel in walls.found.panels.panels:
        low, high = bridges_of(panel.flat.word)
        span = (panel.lower_arc - panel.lower_arc[0])[low] + (panel.upper_arc - panel.upper_arc[0])[high]
        count = max(2, int(float(span[-1]) / 2.0 / RULING_EVERY))
        picked = np.unique(np.searchsorted(span, np.linspace(0.0, float(span[-1]), count)).clip(0, span.size - 1))
        for k in picked:
            one, other = panel.lower[low[k]], panel.upper[high[k]]
            found.append(
                ((float(one[0]), float(one[1]), float(one[2])), (float(other[0]), float(other[1]), float(other[2])))
            )
    return tuple(found)
