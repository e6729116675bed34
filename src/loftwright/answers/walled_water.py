"""The lower edge of the cloth against rain: its section at front, rear, side and corner, in every row."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.answers.views import wording
from loftwright.cloth.warmth import HOUR
from loftwright.cloth.water import RAIN, EdgeSection, fitting_lap, judge_edge, sections
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.core.wording import Wording
from loftwright.project.assemble_walls import open_pose
from loftwright.project.assemble_water import lower_edge, skin_round

if TYPE_CHECKING:
    from loftwright.answers.walled_lines import LinesFound
    from loftwright.cloth.rims import Loop

SAID: Final = (
    "The raised lid sheds its rain too: a lid that leans at its low end, a level one half to each side.",
    "Drops jump over water by [water] splash: that is judgement; paper, chalk and a hose tell it on your own roof.",
    "Nothing on the roof stops water at the corners of the upstand: where a rib or rail does, water stands as high as "
    "that.",
    "Staples are taken to be the only holes: their line is the lower line of the cloth, and a seal behind it is no "
    "reason to let water reach it.",
)
OVER_TOP: Final = (
    "The lower line lies above the upstand's top: the cloth is fastened to what stands on the upstand, and water that "
    "passes below it is not looked at."
)


@dataclass(frozen=True, slots=True)
class WaterFound:
    """The lower edge at front, rear, side and corner.

    `sections`: heights over the skin there [m], each [rows]; `fitting`: the longest lap that keeps the hem out of the
    water [m], by place, [rows]; `over_top`: whether the line runs above the upstand as planned.
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    sections: tuple[EdgeSection, ...]
    fitting: tuple[Array, ...]
    over_top: bool

    def at(self, place: str) -> EdgeSection:
        """Return the section at "front", "rear", "side" or "corner"."""
        return next(section for section in self.sections if section.place == place)


def the_water(base: Basis, lines: LinesFound) -> WaterFound:
    """Return where water stands, runs and splashes along the lower edge, with its judgements."""
    skin = skin_round(base.project, base.at, open_pose(base.roof)[2])
    heights = staple_heights(lines.lower, lines.skin)
    found = []
    for number, (place, around) in enumerate(
        (("front", skin.front), ("rear", skin.rear), ("side", skin.side), ("corner", skin.corner))
    ):
        edge = lower_edge(base.project, base.at, base.full(heights[place]))
        found.append(sections(around, edge)[number])
    over = bool(found[0].staples[0] > found[0].upstand[0])
    return WaterFound(
        judged=tuple(one for section in found for one in judge_edge(section)),
        said=(_rain(wording(base.project)), *SAID, *((OVER_TOP,) if over else ())),
        sections=tuple(found),
        fitting=tuple(fitting_lap(section) for section in found),
        over_top=over,
    )


def _rain(say: Wording) -> str:
    depth = say.short_length(RAIN * HOUR)
    return f"Rain is a cloudburst of {depth} in an hour on a roof that leans the worse way along and across at once."


def staple_heights(lower: Loop, skin: Array) -> dict[str, Array]:
    """Return how high the line runs over the skin beside it [m], [rows], in the middle of each place.

    `skin`: height of the skin below each point of the line [m], [rows, n]. Of both sides and of the four corners the
    lower one counts.
    """
    over = lower.points[..., 2] - skin
    first = lower.row()
    middles = {place: _middle(first, place) for place in ("rear", "right", "front", "left")}
    corners = [first.vertex(float(arc)) for arc in first.corner_middles()]
    return {
        "front": np.asarray(over[..., middles["front"]]),
        "rear": np.asarray(over[..., middles["rear"]]),
        "side": np.minimum(over[..., middles["right"]], over[..., middles["left"]]),
        "corner": np.asarray(np.min(over[..., corners], axis=-1)),
    }


def _middle(first: Loop, place: str) -> int:
    """Return the number of the point in the middle of a side; the rear's is the first point."""
    if place == "rear":
        return 0
    begin, end = first.corner_arcs()
    sides = ("right", "front", "left")
    k = sides.index(place)
    return first.vertex(float(end[k] + begin[k + 1]) / 2.0)
