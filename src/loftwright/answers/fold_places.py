"""Where the walls fold: the four places in the middle of their sides, how high they stand and how the shell comes down.

Heights and gaps are of every row; how the shell moves there is of the planned roof only.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.answers.walled_lines import LinesFound, side_middles
from loftwright.cloth.fold_stations import LEAST_HEIGHT, PlaneOfMotion, Section, places_of, section_of
from loftwright.cloth.rim_places import points_at
from loftwright.cloth.rims import Loop
from loftwright.core.choices import Edge
from loftwright.core.motion import Array
from loftwright.project.plane import CROSSWISE

EDGES: Final[tuple[Edge, ...]] = ("rear", "right", "front", "left")
"""The sides in the order of the lines."""
TIGHT: Final = 0.001
"""Cloth is taken to be no less than so much longer than the way between its lines [m]: else it would not hang."""


@dataclass(frozen=True, slots=True)
class Standing:
    """One place of the lower line, `arc` [m] along it, and how the shell moves there in `section`.

    `height` of the open wall in its own plane, `cloth` from line to line, `gap` upright between the lines when closed,
    `over` by which the upper one then lies outside, each [rows] [m].
    """

    name: str
    wall: Edge
    arc: float
    section: Section
    height: Array
    cloth: Array
    gap: Array
    over: Array

    @property
    def folds(self) -> bool:
        """Whether the planned wall is high enough to fold."""
        return bool(self.height[0] >= LEAST_HEIGHT)


def moves_in(base: Basis) -> tuple[PlaneOfMotion, float]:
    """Return the plane in which the shell moves, as the domain calls it, and half the opening's width [m], planned."""
    half = float(base.at("opening.width")[0]) / 2.0
    return ("crosswise" if base.plane is CROSSWISE else "lengthwise"), half


def _middles(loop: Loop, rows: int) -> Array:
    """Return the points in the middle of the sides, [rows, 4, 3] [m]."""
    found = points_at(loop, side_middles(loop))
    return np.broadcast_to(found, (rows, *found.shape[-2:]))


def standings(base: Basis, lines: LinesFound, ease: Array) -> tuple[Standing, ...]:
    """Return all four places in the order of `EDGES`; none where the lines do not go round the opening's middle.

    `ease` [rows] [m] by which the cloth is cut higher than the gap between its lines.
    """
    plane, half = moves_in(base)
    travel, seconds = base.roof.travel, max(float(base.at("stow.seconds")[0]), 0.1)
    try:
        places = places_of(lines.lower.row().points, lines.closed.row().points)
    except ValueError:
        return ()
    low, closed, opened = (_middles(loop, base.rows) for loop in (lines.lower, lines.closed, lines.upper))
    arcs = side_middles(lines.lower.row())
    found = []
    for k, (edge, place) in enumerate(zip(EDGES, places, strict=True)):
        section = section_of(
            place,
            travel.shell,
            travel.fraction,
            seconds,
            plane=plane,
            half_width=half,
        )
        apart, shut = opened[:, k] - low[:, k], closed[:, k] - low[:, k]
        level = apart[:, :2] @ place.outward
        height = np.hypot(level, apart[:, 2])
        found.append(
            Standing(
                f"{edge} wall",
                edge,
                float(np.ravel(arcs)[k]),
                section,
                np.asarray(height),
                np.asarray(height + np.maximum(ease, TIGHT)),
                np.asarray(shut[:, 2]),
                np.asarray(shut[:, :2] @ place.outward),
            )
        )
    return tuple(found)
