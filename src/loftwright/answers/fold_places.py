"""Where the walls fold: places on the four sides, how high they stand there and how the shell comes down.

Each side is looked at in its middle; where a side wall of a roof that tilts rises to one end, near that end too.
Heights and gaps are of every row; how the shell moves there is of the planned roof only.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.answers.walled_lines import LinesFound, side_middles
from loftwright.cloth.fold_stations import (
    LEAST_HEIGHT,
    SHEAR_SHARE,
    Place,
    PlaneOfMotion,
    Section,
    heights_over,
    place_at,
    places_of,
    section_of,
)
from loftwright.cloth.rim_places import points_at
from loftwright.cloth.rims import Loop
from loftwright.core.choices import Edge
from loftwright.core.motion import Array
from loftwright.project.plane import CROSSWISE

EDGES: Final[tuple[Edge, ...]] = ("rear", "right", "front", "left")
"""The sides in the order of the lines."""
TIGHT: Final = 0.001
"""Cloth is taken to be no less than so much longer than the way between its lines [m]: else it would not hang."""
HIGH_SHARE: Final = 0.15
"""How far from the end of its straight a wall is looked at near its high end, as a share of the straight [1]."""
TALLER: Final = 1.05
"""A wall is looked at near its high end where it is by so much higher there than in its middle [1]: judgement."""
LEANS: Final = (0.02, 0.04)
"""A wall whose open upper line lies this far [m] and this share of its height [1] outside the lower one leans outward.

Judgement, by trials of the elastic chain: at 0.045 five of six starts fell outside, at 0.028 it was a matter of chance.
"""


@dataclass(frozen=True, slots=True)
class Standing:
    """One place of the lower line, `arc` [m] along it, and how the shell moves there in `section`.

    `height` of the open wall in its own plane, `cloth` from line to line, `slant`: the cloth along its own line, which
    runs along the rim where the shell does, `gap` upright between the lines when closed, `over` by which the upper one
    then lies outside, each [rows] [m].
    """

    name: str
    wall: Edge
    arc: float
    section: Section
    height: Array
    cloth: Array
    slant: Array
    gap: Array
    over: Array

    @property
    def folds(self) -> bool:
        """Whether the planned wall is high enough to fold."""
        return bool(self.height[0] >= LEAST_HEIGHT)

    @property
    def drift(self) -> float:
        """How far the upper point runs along the rim on its way, planned [m]."""
        return float(np.max(np.abs(self.section.drift)))

    @property
    def sheared(self) -> bool:
        """Whether it runs so far along that woven cloth cannot fold along the rim as reckoned, planned."""
        return self.drift > SHEAR_SHARE * self.section.height

    @property
    def leans_out(self) -> bool:
        """Whether the open upper line lies well outside the lower one, planned."""
        return bool(-self.section.drive.u[0] > max(LEANS[0], LEANS[1] * self.section.height))


def moves_in(base: Basis) -> tuple[PlaneOfMotion, float]:
    """Return the plane in which the shell moves, as the domain calls it, and half the opening's width [m], planned."""
    half = float(base.at("opening.width")[0]) / 2.0
    return ("crosswise" if base.plane is CROSSWISE else "lengthwise"), half


def _straights(loop: Loop) -> Array:
    """Return begin and end of the straight of each side as arcs of a loop [m], [..., 4, 2]."""
    begin, end = loop.corner_arcs()
    before = np.concatenate([end[..., 3:] - loop.perimeter[..., None], end[..., :3]], axis=-1)
    return np.asarray(np.stack([before, begin], axis=-1))


@dataclass(frozen=True, slots=True)
class _Spot:
    """One place before it is looked at: its side, its share of the side's straight [1], and what is added to its name.

    Points of the lower, the closed and the open upper line there, each [rows, 3] [m].
    """

    side: int
    share: float
    more: str
    low: Array
    closed: Array
    opened: Array

    def height(self) -> Array:
        """Return the height of the open wall square to its rim [m], [rows]."""
        apart = self.opened - self.low
        return np.asarray(np.hypot(apart[:, self.side % 2], apart[:, 2]))


def _spot(base: Basis, lines: LinesFound, side: int, share: float, more: str = "") -> _Spot:
    """Return a place by its share of the lower line's straight; the upper line's lies over it, planned and closed."""
    lower, closed = lines.lower.row(), lines.closed.row()
    over = 0.5
    if more:
        begin, end = _straights(lower)[side]
        wanted = points_at(lower, np.array([begin + share * (end - begin)]))[0, 1 - side % 2]
        ends = points_at(closed, _straights(closed)[side])[:, 1 - side % 2]
        over = float(np.clip((wanted - ends[0]) / (ends[1] - ends[0]), 0.0, 1.0))
    found = []
    for loop, part in ((lines.lower, share), (lines.closed, over), (lines.upper, over)):
        begin, end = np.moveaxis(_straights(loop)[..., side, :], -1, 0)
        points = points_at(loop, (begin + part * (end - begin))[..., None])
        found.append(np.broadcast_to(points[..., 0, :], (base.rows, 3)))
    return _Spot(side, share, more, *found)


def _spots(base: Basis, lines: LinesFound) -> list[_Spot]:
    """Return the places in the order of the lines: every side's middle, and the high end of what tilts lengthwise."""
    along = (0, 2) if base.plane is CROSSWISE else (1, 3)
    found = []
    for side in range(len(EDGES)):
        middle = _spot(base, lines, side, 0.5)
        spots = [middle]
        if side in along:
            ends = [_spot(base, lines, side, share, ", high end") for share in (HIGH_SHARE, 1.0 - HIGH_SHARE)]
            high = max(ends, key=lambda one: float(one.height()[0]))
            if float(high.height()[0]) >= max(TALLER * float(middle.height()[0]), LEAST_HEIGHT):
                spots = sorted((middle, high), key=lambda one: one.share)
        found += spots
    return found


def _place(lower: Array, closed: Array, middles: tuple[Place, ...], one: _Spot) -> Place:
    """Return the planned place where the shell's way is followed."""
    if not one.more:
        return middles[one.side]
    return place_at(lower, closed, one.side, float(one.low[0, 1 - one.side % 2]))


def standings(base: Basis, lines: LinesFound, ease: Array) -> tuple[Standing, ...]:
    """Return all places in the order of the lower line; none where the lines do not go round the opening's middle.

    `ease` [rows] [m] by which the cloth is cut higher than the gap between its lines.
    """
    plane, half = moves_in(base)
    travel, seconds = base.roof.travel, max(float(base.at("stow.seconds")[0]), 0.1)
    lower, closed = lines.lower.row().points, lines.closed.row().points
    more = np.maximum(ease, TIGHT)
    found = []
    try:
        middles = places_of(lower, closed)
        for one in _spots(base, lines):
            place = _place(lower, closed, middles, one)
            section = section_of(place, travel.shell, travel.fraction, seconds, plane=plane, half_width=half)
            begin, end = _straights(lines.lower.row())[one.side]
            shut, height = one.closed - one.low, one.height()
            found.append(
                Standing(
                    f"{EDGES[one.side]} wall{one.more}",
                    EDGES[one.side],
                    float(begin + one.share * (end - begin)),
                    section,
                    height,
                    np.asarray(height + more),
                    np.asarray(np.linalg.norm(one.opened - one.low, axis=-1) + more),
                    np.asarray(shut[:, 2]),
                    np.asarray(shut[:, :2] @ place.outward),
                )
            )
    except ValueError:
        return ()
    return tuple(found)


def window_heights(base: Basis, lines: LinesFound, ease: Array) -> tuple[tuple[float, float], ...]:
    """Return least and greatest height of the cloth over the width of each [[window]], planned [m]; none: noughts.

    The wall's height differs along it, and with it where it creases. `ease` [rows] [m].
    """
    lower, upper = lines.lower.row(), lines.upper.row()
    middles = np.ravel(side_middles(lower))
    found = []
    for k, window in enumerate(base.project.window):
        side = EDGES.index(window.wall)
        along, wide = (float(base.at(f"window.{k}.{key}")[0]) for key in ("along", "width"))
        arcs = middles[side] + along + wide * np.linspace(-0.5, 0.5, 5)
        at = points_at(lower, arcs)[:, 1 - side % 2]
        try:
            high = heights_over(lower.points, upper.points, side, at) + max(float(ease[0]), TIGHT)
        except ValueError:
            found.append((0.0, 0.0))
            continue
        found.append((float(high.min()), float(high.max())))
    return tuple(found)
