"""The section of the cloth's lower edge: where water stands and runs, and where staples, lap and hem lie over it.

Heights over the roof skin at the foot of the upstand, in metres. The skin is a surface curved both ways: it falls by
the crown from the middle line to the sides of the hole, by the camber from its middle to its ends. Both may be
negative: a roof that has sunk in its middle. The van is parked on a slope, whichever way round is worse. Numbers are
[rows] and broadcast.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.cloth.water_rules import END_LAP, HEM, LAP, STAPLES, UPSTAND
from loftwright.core.judged import Judged, against
from loftwright.core.motion import Array, array_of

DRIP: Final = 0.008
"""How far a hem hangs clear of water so that it drips and does not soak [m]: common practice, no source."""
ENDS: Final = 0.050
"""Least overlap of two ends [m]: common practice, no source."""
RAIN: Final = 100.0 / 1000.0 / 3600.0
"""A cloudburst, 100 mm in an hour [m/s]: judgement."""
SMOOTH: Final = 0.011
"""Manning's roughness of paint and gel coat [s/m^(1/3)]: that of smooth plastic, from memory."""
LEAST_FALL: Final = 0.005
"""Fall along the upstand below which the running water is not trusted to run [1]: judgement."""
GUTTER: Final = 0.376
"""Ku of the gutter formula in SI units [m^(1/3)/s]: HEC-22, equation 4-2, read in public reproductions."""
WATER_WEIGHT: Final = 9810.0
"""Weight of a cubic metre of water [N/m3]."""


def standing_water(fall: ArrayLike, length: ArrayLike, tilt: ArrayLike, dam: ArrayLike = 0.0) -> Array:
    """Return the greatest depth of water that stands along one edge of the upstand [m], [...].

    Along the edge the skin lies at z = -S (2 s / L)^2 + s tan(a), s from -L/2 to L/2 (1); water rises to the lower
    end and the dam, min(z(-L/2), z(L/2)) + dam (2). Where the middle is higher (S >= 0) only the dam is left; where
    it is D = -S lower, D (1 - L |tan a| / (4 D))^2 + dam while the bracket is positive (3).
    fall: S from the middle of the edge to its ends [m]; length: L [m]; tilt: a along the edge [rad]; dam: what stops
    water beyond the corners, as a rib or rail [m].
    Validity: the skin rises outward from the edge; else the water runs away. Source: derivation, geometry.

    >>> round(float(standing_water(-0.010, 1.2, 0.0)), 4), float(standing_water(0.010, 1.2, 0.03))
    (0.01, 0.0)
    """
    hollow = np.maximum(-array_of(fall), 0.0)
    slope = array_of(length) * np.abs(np.tan(array_of(tilt)))
    left = 1.0 - slope / np.maximum(4.0 * hollow, 1e-12)
    return np.asarray(hollow * np.square(np.maximum(left, 0.0)) + array_of(dam))


def running_water(catch: ArrayLike, toward: ArrayLike, along: ArrayLike, rain: ArrayLike = RAIN) -> Array:
    """Return the depth of rain water that runs along the foot of the upstand [m], [...].

    (1) Q = i A; (2) T = (Q n / (Ku Sx^(5/3) Sl^(1/2)))^(3/8), depth Sx T: Manning's formula summed over a triangular
    channel. catch: A of skin that sheds water onto the edge [m2]; toward: Sx, slope of the skin toward the upstand
    [1], no channel where it is not positive; along: Sl, fall along it [1], at least `LEAST_FALL`; rain: i [m/s].
    Source: US FHWA, HEC-22, Urban Drainage Design Manual, equation 4-2.
    """
    cross = np.maximum(array_of(toward), 1e-9)
    down = np.maximum(array_of(along), LEAST_FALL)
    flow = array_of(rain) * array_of(catch)
    spread = (flow * SMOOTH / (GUTTER * cross ** (5.0 / 3.0) * np.sqrt(down))) ** 0.375
    return np.asarray(np.where(array_of(toward) > 0.0, cross * spread, 0.0))


def driven_head(pressure: ArrayLike) -> Array:
    """Return the height of water that a wind `pressure` [Pa] holds up in an open lap [m], [...].

    (1) h = q / (rho g). Source: derivation, hydrostatics.
    """
    return np.asarray(array_of(pressure) / WATER_WEIGHT)


@dataclass(frozen=True, slots=True)
class RoofSkin:
    """The skin round the hole and how the van is parked, each [rows].

    length and width of the hole [m]; crown and camber: fall of the skin from the middle of the hole to its sides and
    to its ends [m]; beyond_front, beyond_rear, beyond_side: skin outside the upstand that can shed water onto it [m];
    lid_front, lid_rear, lid_side: how much of the raised lid, seen from above, sheds its rain there [m2]; pitch and
    roll of the parked van, whichever way round [rad]; dam: rib or rail that stops water at the corners [m].
    """

    length: Array
    width: Array
    crown: Array
    camber: Array
    beyond_front: Array
    beyond_rear: Array
    beyond_side: Array
    lid_front: Array
    lid_rear: Array
    lid_side: Array
    pitch: Array
    roll: Array
    dam: Array


@dataclass(frozen=True, slots=True)
class LowerEdge:
    """How the lower edge is built, each [rows].

    upstand: top of the edge over the skin at its foot [m], or with `level` over the skin's highest point, the top then
    being level all round; below_top: staple line below the top [m]; lap: cloth below the staple line [m]; end_lap:
    overlap of two ends of cloth [m], None where it has none; gust: pressure of the wind that drives the rain [Pa];
    splash: how high drops jump above the water [m].
    """

    upstand: Array
    below_top: Array
    lap: Array
    end_lap: Array | None
    gust: Array
    splash: Array
    level: bool = False


@dataclass(frozen=True, slots=True)
class EdgeSection:
    """All that is drawn at one place, heights over the skin there [m], each [rows]."""

    place: str
    upstand: Array
    """Top of the upstand."""
    staples: Array
    """Staple line."""
    hem: Array
    """Lower end of the cloth."""
    lap: Array
    """From the staple line down to the hem."""
    standing: Array
    """Depth of water that stays."""
    running: Array
    """Depth of water that runs past on top of it."""
    splash: Array
    """Height that drops reach."""
    driven: Array
    """How far above the hem the wind pushes rain."""
    end_lap: Array | None
    """Overlap of two ends of cloth; None where the cloth has no ends."""
    toward: Array
    """Slope of the skin toward the upstand [1], negative where water runs away."""

    @property
    def water(self) -> Array:
        """Height of standing and running water [m]."""
        return np.asarray(self.standing + self.running)


def _side(
    place: str,
    skin: RoofSkin,
    edge: LowerEdge,
    *,
    across: Array,
    span: Array,
    lean: Array,
    beyond: Array,
    lid: Array,
    fall: Array,
    along: Array,
    tilt: Array,
) -> EdgeSection:
    """Return the section at the middle of one edge: `across`, `span`, `lean` square to it, the others along it."""
    # A parabola that falls by c over half the hole has the slope 4 c / span at its edge.
    toward = np.tan(np.abs(lean)) - 4.0 * across / span
    stops = toward > 0.0
    standing = np.where(stops, standing_water(fall, along, 0.0, skin.dam), 0.0)
    slope = np.maximum(np.tan(np.abs(tilt)), 2.0 * np.abs(fall) / along)
    running = running_water(along * beyond + lid, toward, slope)
    top = edge.upstand + (across if edge.level else 0.0)
    return _section(place, edge, np.asarray(top), np.asarray(standing), running, np.asarray(toward))


def _section(place: str, edge: LowerEdge, top: Array, standing: Array, running: Array, toward: Array) -> EdgeSection:
    staples = top - edge.below_top
    shape = np.broadcast_shapes(top.shape, standing.shape, running.shape, edge.lap.shape, edge.gust.shape)

    def every(one: Array) -> Array:
        return np.array(np.broadcast_to(one, shape), dtype=np.float64)

    return EdgeSection(
        place,
        upstand=every(top),
        staples=every(staples),
        hem=every(staples - edge.lap),
        lap=every(edge.lap),
        standing=every(standing),
        running=every(running),
        splash=every(standing + running + edge.splash),
        driven=every(driven_head(edge.gust)),
        end_lap=None if edge.end_lap is None else every(edge.end_lap),
        toward=every(toward),
    )


def sections(skin: RoofSkin, edge: LowerEdge) -> tuple[EdgeSection, ...]:
    """Return the sections at front, rear, side and corner.

    The sides are alike: the van may be parked with either one up. At the corner the water of both edges passes.
    """
    front, rear = (
        _side(
            place,
            skin,
            edge,
            across=skin.camber,
            span=skin.length,
            lean=skin.pitch,
            beyond=beyond,
            lid=lid,
            fall=skin.crown,
            along=skin.width,
            tilt=skin.roll,
        )
        for place, beyond, lid in (
            ("front", skin.beyond_front, skin.lid_front),
            ("rear", skin.beyond_rear, skin.lid_rear),
        )
    )
    side = _side(
        "side",
        skin,
        edge,
        across=skin.crown,
        span=skin.width,
        lean=skin.roll,
        beyond=skin.beyond_side,
        lid=skin.lid_side,
        fall=skin.camber,
        along=skin.length,
        tilt=skin.pitch,
    )
    three = (front, rear, side)
    worst = np.maximum(np.maximum(front.toward, rear.toward), side.toward)
    standing = np.where(worst > 0.0, array_of(skin.dam), 0.0)
    running = np.maximum(np.maximum(front.running, rear.running), side.running)
    top = edge.upstand + (skin.camber + skin.crown if edge.level else 0.0)
    corner = _section("corner", edge, np.asarray(top), np.asarray(standing), running, worst)
    return (*three, corner)


def judge_edge(section: EdgeSection) -> list[Judged]:
    """Return the judgements of one place; ends of the cloth are judged at a corner, where it has any."""
    at = section.place
    ends = section.end_lap if at == "corner" else None
    return [
        against(STAPLES, section.staples, section.splash, at),
        against(LAP, section.lap, section.driven, at),
        against(HEM, section.hem, section.water + DRIP, at),
        against(UPSTAND, section.upstand, section.splash, at),
        *([] if ends is None else [against(END_LAP, ends, np.maximum(section.driven, ENDS), at)]),
    ]


def fitting_lap(section: EdgeSection) -> Array:
    """Return the longest lap that keeps the hem clear of the water at one place [m], nought where there is none."""
    return np.asarray(np.maximum(section.staples - section.water - DRIP, 0.0))
