"""From the file's keys on roof, body, upstand and rain to the skin round the hole and the cloth's lower edge on it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.cloth.water import LowerEdge, RoofSkin
from loftwright.core.motion import Array
from loftwright.project.assemble_fit import shapes
from loftwright.project.carrying import Values
from loftwright.project.model import Project
from loftwright.project.plane import CROSSWISE, plane_of
from loftwright.strength.wind import velocity_pressure

LEVEL: Final = 0.0175
"""A raised lid that leans less than this [rad], one degree, sheds its rain to both sides alike: judgement."""


@dataclass(frozen=True, slots=True)
class SkinRound:
    """The skin as it falls at each place, every field of each [rows]; `corner` is the worst of the other three."""

    front: RoofSkin
    rear: RoofSkin
    side: RoofSkin
    corner: RoofSkin


def lid_sheds(project: Project, at: Values, lean: Array) -> tuple[Array, Array, Array]:
    """Return how much of the raised lid, seen from above, sheds its rain at front, rear and each side [m2], [rows].

    L W cos(lean) (1), all of it at the low end; a lid within `LEVEL` sheds half to each side. `lean`: turn of the
    raised lid in its plane of motion [rad], [rows]; above 0 its rear end lies low, or its left side.
    """
    area = at("shell.length") * at("shell.width") * np.cos(lean)
    none = np.zeros_like(area)
    level = np.abs(lean) < LEVEL
    if plane_of(project) is CROSSWISE:
        # Either side may be looked at: the low one takes all.
        return none, none, np.asarray(np.where(level, area / 2.0, area))
    front, rear = (np.where(~level & low, area, 0.0) for low in (lean < 0.0, lean > 0.0))
    return np.asarray(front), np.asarray(rear), np.asarray(np.where(level, area / 2.0, none))


def skin_round(project: Project, at: Values, lid: Array) -> SkinRound:
    """Return the skin round the hole, [rows], with the falls that the roof has at each place.

    The falls are those of the roof as it was measured, its profile and points included. The van leans by
    [water] parked along and across at once. Nothing is taken to stop water at the corners. `lid`: see `lid_sheds`.
    """
    lids = lid_sheds(project, at, lid)
    length, width = at("opening.length"), at("opening.width")
    roof = shapes(project, at).roof
    zero = np.zeros_like(length)
    half_long, half_wide = length / 2.0, width / 2.0
    across = (zero, -half_wide, half_wide)
    x = np.stack([place for place in (half_long, length, zero) for _ in across], axis=-1)
    y = np.stack([place for _ in range(3) for place in across], axis=-1)
    z = roof.height(x, y)
    # Rows of `z`: middle, its sides; front, its corners; rear, its corners.
    middle, sides, front, front_ends, rear, rear_ends = (
        z[..., 0],
        (z[..., 1] + z[..., 2]) / 2.0,
        z[..., 3],
        (z[..., 4] + z[..., 5]) / 2.0,
        z[..., 6],
        (z[..., 7] + z[..., 8]) / 2.0,
    )
    behind = at("body.rear_edge")
    ahead = at("body.roof_length") - behind - length
    beside = (at("body.roof_width") - width) / 2.0
    lean = at("water.parked")

    def skin(crown: Array, camber: Array) -> RoofSkin:
        return RoofSkin(
            length=length,
            width=width,
            crown=crown,
            camber=camber,
            beyond_front=np.maximum(ahead, 0.0),
            beyond_rear=np.maximum(behind, 0.0),
            beyond_side=np.maximum(beside, 0.0),
            lid_front=lids[0],
            lid_rear=lids[1],
            lid_side=lids[2],
            pitch=lean,
            roll=lean,
            dam=zero,
        )

    crowns = (front - front_ends, rear - rear_ends, middle - sides)
    cambers = (middle - front, middle - rear, sides - (front_ends + rear_ends) / 2.0)
    return SkinRound(
        skin(crowns[0], cambers[0]),
        skin(crowns[1], cambers[1]),
        skin(crowns[2], cambers[2]),
        skin(np.minimum.reduce(crowns), np.minimum(*cambers[:2])),
    )


def lower_edge(project: Project, at: Values, staples: Array) -> LowerEdge:
    """Return how the lower edge is built where the line of staples runs so high over the skin beside it [m], [rows].

    The gust is that in which the raised roof must stand.
    """
    upstand = at("roof.upstand")
    return LowerEdge(
        upstand=upstand,
        below_top=upstand - staples,
        lap=at("water.lap"),
        end_lap=None if project.water.end_lap is None else at("water.end_lap"),
        gust=velocity_pressure(at("wind.gust")),
        splash=at("water.splash"),
    )
