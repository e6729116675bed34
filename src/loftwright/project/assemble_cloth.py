"""From the project file to the taut cloth walls that steady the open roof, where the builder counts on them."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np

from loftwright.project.assemble_wind import van_names
from loftwright.project.carrying import Values
from loftwright.project.model import Project
from loftwright.strength.raised_shape import RaisedShape
from loftwright.strength.support_parts import cloth_wall
from loftwright.strength.supports import Support

CLOTH_SHEAR: Final = 1.0 / 20.0
"""Stiffness of cloth in shear over that along its threads [1]: common practice for coated cloth, from memory."""
LEAST_WALL: Final = 0.08
"""A wall lower than this [m] is taken to be folds, not a panel: judgement."""


def cloth_walls(project: Project, at: Values, shape: RaisedShape) -> list[Support]:
    """Return the supports of every cloth wall that stands high enough; `shape` of the open roof, fields [rows].

    A wall acts once its slack is drawn out: 8/3 (sag / h)^2 of its height upright, and of its diagonal in shear. Shear
    counts square to the plane of motion only: walls along it hang slack as the shell comes down, and hold nothing up.
    Ends less than half as high as the roof is raised lie in folds. Where cloth ends the opening, its upright pull is
    counted as that stop.
    """
    stretch, found = at("wind.cloth_stretch"), []
    for edge, van in van_names(project).items():
        low, high, far_high, far_low = shape.corners(edge)
        sides = [np.linalg.norm(one - other, axis=-1) for one, other in ((high, low), (far_high, far_low))]
        height = np.mean(sides, axis=0)
        if height[0] <= LEAST_WALL:
            continue
        slack = 8.0 / 3.0 * (at("wind.cloth_sag") / np.maximum(height, LEAST_WALL)) ** 2
        width = np.linalg.norm(far_high - high, axis=-1)
        gaps = (*(slack * side for side in sides), slack * (width**2 + height**2) / width)
        ends = cloth_wall(
            f"{van} cloth wall", (low, far_low), (high, far_high), stretch=stretch, shear=CLOTH_SHEAR * stretch
        )
        found += [
            replace(one, gap=gap)
            for one, gap, side in zip(ends, gaps, (*sides, height), strict=True)
            if side[0] > shape.raised[0] / 2.0
            and (edge in ("front", "rear") if one is ends[-1] else project.stop.kind != "cloth")
        ]
    return found
