"""Loads on the shell that are neither its weight nor its springs, as named curves over the travel.

Each starts as a wide guess; a later, better answer replaces the curve and keeps the name. All are
wrenches on the shell (see `core.motion`). Shapes over the travel are judgement unless said
otherwise; they are simple on purpose, because their size is not known to better than twofold.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loftwright.core.motion import Array, PointPath, Travel, Wrench, column, push_at
from loftwright.mechanics.balance import G0, Load

AIR_DENSITY = 1.25
"""Air density [kg/m3]. EN 1991-1-4:2005, 4.5, note 2: recommended value; read in a public reproduction."""

CLOTH_TIGHT_OVER = 0.04
"""The cloth goes tight over the last 40 mm that the lip rises [m]: judgement."""
FOLD_HEIGHT = 0.06
"""A folded bundle pushes back once the gap at mid-length is under 60 mm [m]: judgement."""
AIR_HEIGHT = 0.15
"""Air is trapped once the gap at mid-length is under 150 mm [m]: judgement."""

_PITCH_DEG = np.array([0.0, 15.0, 30.0, 45.0, 60.0, 75.0])
_EDGE = np.array([0.2, 0.2, 0.7, 0.7, 0.7, 0.8])
_FIELD = np.array([0.2, 0.2, 0.4, 0.6, 0.7, 0.8])
INSIDE = -0.3
"""Pressure coefficient inside where openings are not known, the one that adds to the load.

EN 1991-1-4:2005, 7.2.9(6), note 2; from memory.
"""


@dataclass(frozen=True, slots=True)
class Rim:
    """The shell's lower edge when closed: rear end x [m], length, width [m] and height z [m], each [...]."""

    rear: Array
    length: Array
    width: Array
    z: Array

    @property
    def perimeter(self) -> Array:
        """Length of the edge all round [m]."""
        return 2 * (self.length + self.width)

    def middle(self, travel: Travel) -> PointPath:
        """Return the path of the rim's mid-length point."""
        return travel.shell.point(self.rear + self.length / 2, self.z)


@dataclass(frozen=True, slots=True)
class Sizes:
    """How strong each other load is; every field is [...].

    `seal_line` [N/m] at `seal_squeeze` [m]; `cloth_mass`, `wet_extra`, `load_on_top` [kg];
    `cloth_tension`, `fold_push` [N/m of rim]; `trapped_air` [N]; `gust` [m/s] at roof height.
    """

    seal_line: Array
    seal_squeeze: Array
    cloth_mass: Array
    wet_extra: Array
    load_on_top: Array
    cloth_tension: Array
    fold_push: Array
    trapped_air: Array
    gust: Array


def _ramp_integrals(start: Array, slope: Array) -> tuple[Array, Array]:
    """Return the integrals over t = 0 .. 1 of R and of t R, with R = max(0, start + slope t).

    With v from `start` to `start + slope`: [R(v)^2] / (2 slope) (1) and [R(v)^3 / 3 - start R(v)^2 / 2] / slope^2 (2);
    where the slope is nought, R itself and half of it.
    """
    level = np.abs(slope) < 1e-5
    safe = np.where(level, 1.0, slope)
    v0, v1 = np.maximum(start, 0.0), np.maximum(start + slope, 0.0)
    even = np.maximum(start + slope / 2, 0.0)
    whole = np.where(level, even, (v1**2 - v0**2) / (2 * safe))
    moment = np.where(level, even / 2, ((v1**3 - v0**3) / 3 - start * (v1**2 - v0**2) / 2) / safe**2)
    return whole, moment


def seal(travel: Travel, rim: Rim, line: Array, squeeze: Array) -> Wrench:
    """Return the push of a seal squeezed under the rim, both ways of moving.

    The line force [N/m] grows linearly from nothing at first touch to `line` [N/m] at `squeeze` [m], where the
    shell rests on its stops, and is held at twice `line` beyond (3). The rim is straight in the side view, so
    that the share u pressed runs linearly along it and its clipped integrals are closed forms,
    clip(u, 0, 2) = R(u) - R(u - 2) (4), over both sides and the two ends. Each argument is [...]; the wrench is
    [..., n].
    """
    path = travel.shell.point(rim.rear, rim.z)
    far = travel.shell.point(rim.rear + rim.length, rim.z)
    full, deep = column(line), column(squeeze)
    at_rear = 1 - (path.z - column(rim.z)) / deep
    at_front = 1 - (far.z - column(rim.z)) / deep
    slope = at_front - at_rear
    whole, moment = _ramp_integrals(at_rear, slope)
    over, over_moment = _ramp_integrals(at_rear - 2, slope)
    sides = 2 * column(rim.length) * full
    up = sides * (whole - over)
    turning = path.x * up + (far.x - path.x) * sides * (moment - over_moment)
    for end, share in ((path, at_rear), (far, at_front)):
        force = column(rim.width) * full * np.clip(share, 0.0, 2.0)
        up, turning = up + force, turning + end.x * force
    return Wrench(np.zeros_like(up), up, turning)


def _near_closed(path: PointPath, over: float) -> Array:
    return np.clip(1 - (path.z - path.z[..., :1]) / over, 0.0, 1.0)


def loads(travel: Travel, rim: Rim, sizes: Sizes, *, lip: PointPath) -> tuple[Load, ...]:
    """Return every load of a still day: seal, fold, cloth, wet cloth, load on top, trapped air, cloth tension.

    `lip` is the path of the free edge. The last one, "cloth pulled tight", acts only over the last
    `CLOTH_TIGHT_OVER` of the lip's rise.
    """
    middle = rim.middle(travel)
    none = Wrench(np.zeros_like(middle.x), np.zeros_like(middle.x), np.zeros_like(middle.x))
    carried = 0.5 + 0.5 * travel.fraction

    def both(name: str, wrench: Wrench) -> Load:
        return Load(name, wrench, wrench)

    def weigh(name: str, mass: Array, share: Array) -> Load:
        return both(name, push_at(middle, 0.0, -G0 * column(mass) * share + 0 * middle.z))

    fold = column(sizes.fold_push * rim.perimeter) * _near_closed(middle, FOLD_HEIGHT)
    air = column(sizes.trapped_air) * _near_closed(middle, AIR_HEIGHT)
    tight = np.clip(1 - (lip.z[..., -1:] - lip.z) / CLOTH_TIGHT_OVER, 0.0, 1.0)
    pull = -column(sizes.cloth_tension * rim.perimeter) * tight
    return (
        both("seal", seal(travel, rim, sizes.seal_line, sizes.seal_squeeze)),
        both("folded cloth", push_at(middle, 0.0, fold)),
        weigh("cloth", sizes.cloth_mass, carried),
        weigh("wet cloth", sizes.wet_extra, carried),
        weigh("load on top", sizes.load_on_top, np.ones_like(carried)),
        Load("trapped air", none, push_at(middle, 0.0, air)),
        both(TIGHT_CLOTH, push_at(middle, 0.0, pull)),
    )


TIGHT_CLOTH = "cloth pulled tight"
WET = ("wet cloth", "load on top")
"""Loads that are there on a wet or snowy day only; on a hot one they would flatter the springs."""


def pressing_coefficient(angle: Array, length: Array, width: Array) -> Array:
    """Return the net coefficient with which wind from the low end presses on a closed mono-pitch roof.

    c = f c_edge + (1 - f) c_field - c_inside, with f = e / (10 length) and e = width, the strip along the low edge (1).
    `angle` [rad] [..., n]; `length` along and `width` across the wind [m], [...]. Between the tabulated pitches
    straight; below 15 degrees the value there is kept, which is on the safe side; steeper than 75 degrees held.
    Source: EN 1991-1-4:2005, Table 7.3a, wind on the low eave, greatest positive values of zones F and G and of
    zone H (from memory; the same values for the windward face of Table 7.4a read in a public reproduction).

    >>> round(float(pressing_coefficient(np.radians(np.array([30.0])), np.array(2.0), np.array(1.0))[0]), 3)
    0.715
    """
    pitch = np.degrees(angle)
    strip = column(np.minimum(width / (10 * length), 1.0))
    edge, field = (np.interp(pitch, _PITCH_DEG, table) for table in (_EDGE, _FIELD))
    return np.asarray(strip * edge + (1 - strip) * field - INSIDE)


def gust_on_top(travel: Travel, rim: Rim, speed: Array) -> Wrench:
    """Return a gust pressing on the open shell with its cloth walls, as on a small closed building.

    F = q c A with q = rho v^2 / 2 (2) and c by `pressing_coefficient`, square to the rim at its middle.
    `speed` [m/s] is the gust at roof height, [...].
    Source: EN 1991-1-4:2005, 4.5 and 5.3.
    """
    down = pressing_coefficient(np.abs(travel.shell.phi), rim.length, rim.width)
    area = column(rim.length * rim.width)
    push = 0.5 * AIR_DENSITY * column(speed) ** 2 * area * down
    phi = travel.shell.phi
    return push_at(rim.middle(travel), push * np.sin(phi), -push * np.cos(phi))
