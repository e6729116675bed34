"""The wind on the raised roof by itself: what is taken for a gust, what pushes where, and the parked van's footing."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.core.motion import Array
from loftwright.project.assemble_wind import (
    to_van,
    van_names,
)
from loftwright.reference.wind import SIDE, THROUGH_WINDOW, WINDWARD
from loftwright.strength.raised_shape import DIRECTIONS, Direction, RaisedShape
from loftwright.strength.wind import (
    righting_moment,
    side_force,
    tipping_moment,
)
from loftwright.strength.wind_loads import DOWN, UP, PartLoad, WindCase, parts

BODY_MIDDLE: Final = 0.55
"""Height of the middle of the van's side over the height of its roof [1]: judgement, as there is air under it."""


@dataclass(frozen=True, slots=True)
class WindPart:
    """The wind on one part for the picture: `force` [N] in the wanted gust, without safety, at `centre` [m], the van's.

    Of the planned roof; axes x to the cab, y to the left, z up; of a shell hinged at a side from the middle of the left
    edge of the opening, else from that of its rear edge.
    """

    name: str
    force: tuple[float, float, float]
    centre: tuple[float, float, float]


def cases_of(base: Basis, upper: Array) -> tuple[WindCase, WindCase]:
    """Return the wind that lifts and the one that presses; `upper` [1] share of the walls that the shell takes."""
    up, down = replace(UP, upper_share=upper), replace(DOWN, upper_share=upper)
    if base.project.wind.window_open:
        up = replace(up, inside=THROUGH_WINDOW[1] * WINDWARD[-1])
        down = replace(down, inside=THROUGH_WINDOW[1] * SIDE[1])
    return up, down


def footing_of(
    base: Basis, shape: RaisedShape, local: dict[Direction, Direction], case: WindCase, factor: Array, wanted: Array
) -> Array:
    """Return what holds the parked van down over what tips it in the wanted gust [1], [rows], from the worse side."""
    at = base.at
    ratios = []
    for side in ("left", "right"):
        loads = parts(shape, wanted, local[side], case=case, factor=factor)
        along = [to_van(base.project, load.force) for load in loads]
        height = at("body.height")
        own = side_force(wanted, at("body.side_area")) * factor
        force = np.stack(
            [own, *(np.abs(f[..., 1]) * np.sign(f[..., 1] * (-1.0 if side == "left" else 1.0)) for f in along)], axis=-1
        )
        places = np.stack([height * BODY_MIDDLE, *(height + load.centre[..., 2] for load in loads)], axis=-1)
        mass = at("body.mass") + base.roof.body.mass
        lift = np.sum([f[..., 2] for f in along], axis=0)
        righting = np.maximum(righting_moment(mass, at("body.track"), lift=lift), 0.0)
        ratios.append(righting / np.maximum(tipping_moment(force, places), 1e-3 * (righting + 1.0)))
    return np.minimum(*ratios)


def picture_of(
    base: Basis,
    shape: RaisedShape,
    order: tuple[Direction, ...],
    cases: tuple[WindCase, WindCase],
    factor: Array,
    wanted: Array,
) -> dict[tuple[Direction, str], tuple[WindPart, ...]]:
    """Return the wind on each part of the planned roof by the van's direction and "lifts" or "presses".

    `shape` of the open roof with fields [rows]; `order` the van's directions in the plane of motion; `factor` [1] on
    the wind's force and `wanted` gust [m/s], [rows].
    """
    one = RaisedShape(*(getattr(shape, f)[:1] for f in RaisedShape.__slots__))
    names = van_names(base.project)
    found = {}
    for case, word in zip(cases, ("lifts", "presses"), strict=True):
        first = replace(case, upper_share=np.asarray(case.upper_share)[:1])
        for van, edge in zip(DIRECTIONS, order, strict=True):
            loads = parts(one, wanted[:1], edge, case=first, factor=factor[:1])
            found[van, word] = tuple(_drawn(base, load, names) for load in loads)
    return found


def _drawn(base: Basis, load: PartLoad, names: dict[Direction, Direction]) -> WindPart:
    edge, _, rest = load.name.partition(" ")
    name = f"{names[edge]} wall" if rest == "wall" and edge in names else load.name
    fx, fy, fz = (float(v) for v in to_van(base.project, load.force)[0])
    x, y, z = (float(v) for v in to_van(base.project, load.centre)[0])
    return WindPart(name, (fx, fy, fz), (x, y, z))
