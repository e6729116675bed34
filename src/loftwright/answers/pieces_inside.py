"""What hangs inside the outer cloth: the lining on its own smaller loop, and insulation between its stops."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.walled_lines import LinesFound
from loftwright.answers.walled_panels import PanelsFound, WallPanel
from loftwright.answers.walled_windows import flat_row
from loftwright.cloth.layers import moved_inward, part_of_panel, stretches_between
from loftwright.cloth.pieces import eased
from loftwright.cloth.rims import Loop
from loftwright.cloth.triangulate import triangulate
from loftwright.cloth.unfold import unfold
from loftwright.core.motion import Array

FROM_EDGE: Final = 0.010
"""Insulation ends this far from the lower and upper line [m]: judgement, nothing of it under the staples."""
SHORTEST: Final = 0.05
"""Insulation shorter than this is left out [m]: judgement."""


def _shift(loop: Loop, by: float, arcs: Array) -> Array:
    """Return by how much the places at `arcs` of one row of a line move when it moves inward `by` [m], [k, 3] [m]."""
    whole = moved_inward(loop.points, by) - loop.points
    around = float(loop.perimeter)
    known = np.concatenate([whole, whole[:1]])
    return np.stack([np.interp(np.mod(arcs, around), loop.arc, known[:, k]) for k in range(3)], axis=-1)


def inner_lines(lines: LinesFound, panel: WallPanel, by: float) -> tuple[Array, Array]:
    """Return the flat edges of a panel of the lining, [m, 2] and [k, 2] [m], `by` [m] inside the outer cloth.

    Both lines are moved inward and rolled out anew. ValueError where nothing is left of them.
    """
    if by <= 0.0:
        return flat_row(panel)
    lower = panel.lower + _shift(lines.lower.row(0), by, panel.lower_arc)
    upper = panel.upper + _shift(lines.upper.row(0), by, panel.upper_arc)
    return unfold(lower, upper, triangulate(lower, upper))


@dataclass(frozen=True, slots=True)
class Part:
    """A piece of insulation: number of its panel from nought, which part of it, its flat lines [n, 2] each [m]."""

    panel: int
    name: str
    lower: Array
    upper: Array


def insulation_parts(lines: LinesFound, panels: PanelsFound, short: float, inset: float) -> Iterator[Part]:
    """Return the parts of every panel that get insulation: `short` [m] of corners, `inset` [m] from seams.

    Where it stops nowhere it goes round the corners from seam to seam.
    """
    loop = lines.lower.row(0)
    around = float(loop.perimeter)
    runs: tuple[tuple[float, float], ...] = ()
    if short > 0.0:
        begin, end = (np.ravel(v) for v in loop.corner_arcs())
        runs = stretches_between([(float(a), float(b)) for a, b in zip(begin, end, strict=True)], around, short)
    ease = float(np.ravel(panels.ease)[0])
    for k, panel in enumerate(panels.panels):
        first, last = float(panel.lower_arc[0]) + inset, float(panel.lower_arc[-1]) - inset
        own = [(first, last)]
        if short > 0.0:
            shifted = [(a + lap, b + lap) for a, b in runs for lap in (-around, 0.0, around)]
            own = [(max(a, first), min(b, last)) for a, b in shifted]
        own = sorted((a, b) for a, b in own if b - a > SHORTEST)
        try:
            low, flat = flat_row(panel)
            high = eased(low, flat, ease)
            edge = FROM_EDGE / max(float(np.ravel(panel.height)[0]), 4.0 * FROM_EDGE)
            for number, run in enumerate(own, 1):
                lower, upper = part_of_panel(low, high, panel.lower_arc, panel.upper_arc, run, (edge, 1.0 - edge))
                name = panel.name if len(own) == 1 else f"{panel.name}, part {number}"
                yield Part(k, name, lower, upper)
        except ValueError:
            continue
