"""Windows in the walls: on which panel each lies, its layers' outlines, and what they must keep clear of in every row.

Outlines are nominal, in the frame of their flat panel with its ease; distances are worked out for every row.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.answers.walled_lines import LinesFound
from loftwright.answers.walled_panels import PanelsFound, WallPanel
from loftwright.cloth.cut_lines import EDGES, Net, net_of
from loftwright.cloth.film import lies_bent
from loftwright.cloth.pieces import eased
from loftwright.cloth.rims import SIDES, Loop
from loftwright.cloth.sew_rules import NEAR_EDGE, judge_corners, judge_frost, judge_place, judge_sheet
from loftwright.cloth.window_rows import WindowRows, at_x, eased_rows, thinned
from loftwright.cloth.windows import Box, Layering, clearances, layers, placed, tape_length
from loftwright.core.choices import Edge
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.project.assemble_sewing import WindowSizes, layering, window_sizes
from loftwright.reference.sewing import CLEAR_SHEETS

ONE_FOLD: Final = (0.5,)
"""Where the cloth is creased as it folds once, as shares of its height."""
TWO_FOLDS: Final = (0.25, 0.5, 0.75)
"""The same where its middle is held near the ring."""
LAYER_WORDS: Final = ("clear sheet", "insect screen", "curtain")


@dataclass(frozen=True, slots=True)
class WindowFound:
    """One window, nominal.

    `entry`: its number in the file from nought; `panel` that in `PanelsFound.panels`; `along` its middle from that of
    the panel's lower chord, `bottom` its height over the lower line and `arc` along that line [m]. `sight` and `layers`
    by their names are outlines in the panel's frame; `largest` is the largest of them. `clear`: how far the largest
    keeps inside each of the panel's edges, and `crease` how far from the nearest crease, negative across it [m].
    `tape`, and `stitched` seams round it [m]. `holed`: whether its hole lies wholly in the panel, so that it is cut.
    `fits`: whether it keeps clear of all.
    """

    entry: int
    name: str
    wall: Edge
    panel: int
    along: float
    bottom: float
    arc: float
    sight: Box
    layering: Layering
    layers: tuple[tuple[str, Box], ...]
    largest: Box
    clear: tuple[tuple[str, float], ...]
    crease: float
    tape: float
    stitched: float
    holed: bool
    fits: bool


@dataclass(frozen=True, slots=True)
class WindowsFound:
    """Every window that hangs in a panel, in the order of the file; `judged` carries all rows."""

    windows: tuple[WindowFound, ...]
    judged: tuple[Judged, ...]
    said: tuple[str, ...]


# --- where it lies ---------------------------------------------------------------------------------


def wall_middle(loop: Loop, wall: Edge) -> float:
    """Return the arc of the middle of a wall's straight on one row of the lower line [m]."""
    begin, end = (np.ravel(v) for v in loop.corner_arcs())
    k = SIDES.index(wall)
    if k == 0:
        return float(end[3] - loop.perimeter + begin[0]) / 2.0
    return float(end[k - 1] + begin[k]) / 2.0


def _panel_at(panels: tuple[WallPanel, ...], arc: float, around: float) -> tuple[int, float] | None:
    """Return which panel holds an `arc` of the lower line and that arc as the panel counts it [m]."""
    for lap in (0.0, around, -around):
        for k, panel in enumerate(panels):
            if panel.lower_arc[0] - 1e-9 <= arc + lap < panel.lower_arc[-1] + 1e-9:
                return k, arc + lap
    return None


def _rows_of(base: Basis, panel: WallPanel, ease: Array, sizes: WindowSizes, arc: float) -> WindowRows:
    """Return a window on its panel in every row; it is placed by its share of the lower edge."""
    rows = base.rows
    flats = [np.broadcast_to(one, (rows, *one.shape[-2:])) for one in (panel.flat.lower, panel.flat.upper)]
    lower, upper = flats[0], eased_rows(flats[0], flats[1], np.broadcast_to(ease, (rows,)))
    # Where the wall's middle lies is nominal; how far the window is off it is not.
    k = int(np.clip(np.searchsorted(panel.lower_arc, arc, side="right") - 1, 0, len(panel.lower_arc) - 2))
    share = (arc - panel.lower_arc[k]) / (panel.lower_arc[k + 1] - panel.lower_arc[k])
    middle = lower[:, k, 0] + share * (lower[:, k + 1, 0] - lower[:, k, 0])
    middle = middle + base.full(sizes.along) - float(sizes.along[0])
    lower, upper = thinned(lower), thinned(upper)
    width, height, bottom, radius = (base.full(v) for v in (sizes.width, sizes.height, sizes.bottom, sizes.radius))
    left, right = middle - width / 2.0, middle + width / 2.0
    across = left[:, None] + (right - left)[:, None] * np.linspace(0.0, 1.0, 21)
    lowest = np.max(at_x(lower, across), axis=1) + bottom
    return WindowRows(lower, upper, left, lowest, right, lowest + height, radius)


# --- the windows -----------------------------------------------------------------------------------


def flat_row(panel: WallPanel) -> tuple[Array, Array]:
    """Return the nominal flat edges of a panel, [m, 2] and [k, 2] [m]."""
    lower, upper = (np.reshape(one, (-1, *one.shape[-2:]))[0] for one in (panel.flat.lower, panel.flat.upper))
    return np.asarray(lower), np.asarray(upper)


def panel_net(panel: WallPanel, ease: float) -> Net:
    """Return the nominal stitch lines of a panel with its ease. ValueError where it has no height."""
    lower, upper = flat_row(panel)
    return net_of(lower, eased(lower, upper, ease))


def the_windows(base: Basis, lines: LinesFound, panels: PanelsFound, turn: float) -> WindowsFound:
    """Return every [[window]] on its panel; `turn` is the nominal cloth turned in round it [m]."""
    project, loop = base.project, lines.lower.row(0)
    ease = np.ravel(panels.ease)
    around = float(loop.perimeter)
    shares = TWO_FOLDS if project.stow.hold_middle else ONE_FOLD
    found: list[WindowFound] = []
    judged: list[Judged] = []
    said: list[str] = []
    rows_of: list[WindowRows] = []
    names: set[str] = set()
    for entry, window in enumerate(project.window):
        name = window.name if window.name not in names else f"{window.name} {entry + 1}"
        names.add(name)
        sizes = window_sizes(base.at, entry)
        arc = wall_middle(loop, window.wall) + float(sizes.along[0])
        at = _panel_at(panels.panels, arc, around)
        made = None
        if at is not None:
            made = _one(base, panels, ease, (entry, name, turn), sizes, at, shares)
        if made is None:
            said.append(f"There is no wall in which the {name} could lie: it is left out.")
            judged.append(
                Judged(NEAR_EDGE, None, None, name, "get a wall with some height there before a window is drawn in it")
            )
            continue
        one, rows = made
        found.append(one)
        judged += _judged(base, one, rows, sizes, shares, list(zip(found[:-1], rows_of, strict=True)))
        rows_of.append(rows)
        said += _said(one, panels)
    if found:
        folds = "twice, at a quarter, half and three quarters" if project.stow.hold_middle else "once, at half"
        said.append(
            f"The closed wall is taken to fold {folds} of its height; windows are judged against these creases."
        )
    return WindowsFound(tuple(found), tuple(judged), tuple(said))


def _one(
    base: Basis,
    panels: PanelsFound,
    ease: Array,
    called: tuple[int, str, float],
    sizes: WindowSizes,
    at: tuple[int, float],
    shares: tuple[float, ...],
) -> tuple[WindowFound, WindowRows] | None:
    """Return one window, nominal and in rows; None where its panel has no height."""
    entry, name, turn = called
    panel = panels.panels[at[0]]
    try:
        net = panel_net(panel, float(ease[0]))
    except ValueError:
        return None
    window = base.project.window[entry]
    x = float(np.interp(at[1], panel.lower_arc, flat_row(panel)[0][:, 0]))
    along = x - float(net.bottom[0, 0] + net.bottom[-1, 0]) / 2.0
    sight = placed(sizes.sight(name, along), net)
    own = layering(base.project, entry, turn)
    every = layers(sight, own)
    has = (window.clear, window.screen, window.curtain)
    there = ("outer cloth, cut", "sight line", *(layer for layer, one in zip(LAYER_WORDS, has, strict=True) if one))
    if own.tape > -turn:
        there = (*there, "tape")
    largest = sight.grown(max(own.largest, 0.0))
    inside = clearances(every["outer cloth, cut"], net)
    clear = clearances(largest, net)
    rows = _rows_of(base, panel, ease, sizes, at[1])
    crease = float(rows.crease(max(own.largest, 0.0), shares)[0])
    tape = 0.0
    if "tape" in there:
        tape = tape_length(sight, own, "three sides" if window.opens == "zip" else "all round")
    keep = float(base.at("sewing.keep_out")[0])
    return (
        WindowFound(
            entry,
            name,
            window.wall,
            at[0],
            along,
            float(sizes.bottom[0]),
            at[1],
            sight,
            own,
            tuple((layer, every[layer]) for layer in there),
            largest,
            tuple((edge, clear[edge]) for edge in EDGES),
            crease,
            tape,
            sight.perimeter * (1 + ("clear sheet" in there)) + 2.0 * tape,
            min(inside.values()) > 0.0,
            min(*clear.values(), crease) >= keep,
        ),
        rows,
    )


def _judged(
    base: Basis,
    one: WindowFound,
    rows: WindowRows,
    sizes: WindowSizes,
    shares: tuple[float, ...],
    before: list[tuple[WindowFound, WindowRows]],
) -> tuple[Judged, ...]:
    window, at = base.project.window[one.entry], base.at
    by, keep = max(one.layering.largest, 0.0), base.full(at("sewing.keep_out"))
    beside = [
        rows.apart(by, others, max(other.layering.largest, 0.0)) for other, others in before if other.panel == one.panel
    ]
    clear = np.min([*rows.clear(by).values(), *beside], axis=0)
    turn, radius = base.full(at("sewing.window_turn")), base.full(sizes.radius)
    found: list[Judged] = [
        *judge_place(one.name, clear, rows.crease(by, shares), keep),
        *judge_corners(one.name, radius, turn, taped=one.tape > 0.0),
    ]
    if window.clear:
        gap, film = base.full(at("stow.cavity")), base.full(sizes.film)
        bent = lies_bent(rows.crease(one.layering.clear, shares), gap, film)
        cracks = min(sheet.cracks_from for sheet in CLEAR_SHEETS)
        found += [
            judge_sheet(one.name, film, gap, base.full(sizes.bends), bent),
            judge_frost(one.name, base.full(at("temperatures.cold")), cracks, bent),
        ]
    return tuple(found)


def _said(one: WindowFound, panels: PanelsFound) -> list[str]:
    found = []
    panel = panels.panels[one.panel]
    if not one.holed:
        found.append(f"The {one.name} reaches beyond the {panel.name}: no hole is drawn for it.")
    if panel.wall != one.wall:
        found.append(f"The {one.name} is written for the {one.wall} wall, and lies on the {panel.name} all the same.")
    return found
