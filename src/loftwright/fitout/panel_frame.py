"""A panel on the shell: its mass, its feet with few holes, and what the wind pulls at them.

Air coefficients here are judgement between bounds from a building standard; nobody has measured your roof. None of this
is an assessment of a crash: what is bonded or screwed to a roof can fly. Vehicle rules on loads outside apply.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.motion import Array, array_of
from loftwright.reference.wind import CANOPY_PITCH_DEG, CANOPY_UP_BLOCKED, CANOPY_UP_FREE

G0: Final = 9.80665
"""Standard gravity [m/s2]."""

MASSES: Final[dict[str, tuple[float, float]]] = {
    "glass in a frame": (8.9, 12.0),
    "glass on both sides": (12.0, 15.0),
    "thin, bonded": (2.0, 4.0),
}
"""Mass of a panel over its area [kg/m2]; from memory, but the first low end: 23.6 W/kg (a public report on today's
crystalline panels) at 210 W/m2. Glass of 3.2 mm alone is 8.1 kg/m2: weigh yours."""
MASS_SOURCE: Final = Source("judgement", "kinds of panel, from memory; weigh yours", "judgement")

LIFT_GAP: Final = (0.3, 1.4)
"""Net suction on a panel with a gap over the shell, at speed [1]: judgement. Upper end: canopy with its far side
blocked, EN 1991-1-4, Table 7.6; lower end: the air in the gap evens out most of it."""
LIFT_BONDED: Final = (0.2, 1.2)
"""Suction on a panel bonded flat all over [1]: judgement; it pulls at the shell as if no panel were there."""
DRAG_EDGE: Final = (0.8, 1.3)
"""Drag on the panel's upright front edge [1]: judgement."""
UNEVEN: Final = (1.5, 3.0)
"""Pull of the worst foot over the mean one [1]: judgement; zone B of the canopy table pulls about twice the overall."""


def mass_range(kind: str, area: ArrayLike) -> tuple[Array, Array]:
    """Return the least and greatest usual mass of a panel.

    `kind` is one of `MASSES`, `area` [m2] is [...]; both masses [kg] are [...]. KeyError for another kind. Source:
    `MASS_SOURCE`.
    """
    low, high = MASSES[kind]
    return np.asarray(low * array_of(area)), np.asarray(high * array_of(area))


@dataclass(frozen=True, slots=True)
class Feet:
    """Feet along both long sides: how many, their `spacing` [m] and `holes` through the shell, each to be sealed."""

    count: Array
    spacing: Array
    holes: Array


def feet(length: ArrayLike, most: ArrayLike, edge: ArrayLike = 0.1, holes_each: ArrayLike = 1.0) -> Feet:
    """Return the fewest feet under both long sides of a panel.

        per side = max(2, ceil((length - 2 edge) / most) + 1)                                    (1)

    Parameters
    ----------
    length: of the panel's longer side [m], [...].
    most: greatest distance of two feet [m], [...].
    edge: from each end to the first foot [m], [...].
    holes_each: holes that one foot needs [1], [...]; nought for bonded ones.

    Returns
    -------
    Feet of both sides together and holes [1] and their distance [m], each [...].

    Every hole is a leak to be: primed edge, sealant under the foot, a washer with rubber, none where water stands.
    Source: derivation.
    """
    between = array_of(length) - 2.0 * array_of(edge)
    side = np.maximum(2.0, np.ceil(between / array_of(most) - 1e-9) + 1.0)
    count = 2.0 * side
    return Feet(np.asarray(count), np.asarray(between / (side - 1.0)), np.asarray(count * array_of(holes_each)))


def canopy_suction(tilt: ArrayLike, blocked: ArrayLike) -> Array:
    """Return the overall upward coefficient of a sloping plate in the open, for the raised shell's panel.

    Parameters
    ----------
    tilt: of the plate [rad], 0 to 30 degrees, held outside, [...].
    blocked: how much of the way under it is shut, 0 to 1 [1], [...]; a panel close over the shell is near 1.

    Returns
    -------
    Coefficient [1], positive upward, [...].

    Source: EN 1991-1-4:2005, Table 7.6; read in a public reproduction. A plate over a shell is no canopy: judgement.
    """
    pitch = np.rad2deg(np.abs(array_of(tilt)))
    free, shut = (-np.interp(pitch, CANOPY_PITCH_DEG, table) for table in (CANOPY_UP_FREE, CANOPY_UP_BLOCKED))
    share = array_of(blocked)
    return np.asarray(free + share * (shut - free))


@dataclass(frozen=True, slots=True)
class PanelAir:
    """Wind on the panel: `lift` up, square to it, and `drag` along the wind [N], each [...]."""

    lift: Array
    drag: Array


def panel_air(
    pressure: ArrayLike, area: ArrayLike, coefficient: ArrayLike, edge_area: ArrayLike = 0.0, edge_drag: ArrayLike = 1.0
) -> PanelAir:
    """Return what the wind does to the panel: lift = c q A, drag = c_d q A_edge (2).

    Parameters
    ----------
    pressure: q of the wind, air speed over the roof, headwind counted [Pa], [...].
    area: A of the panel [m2], [...].
    coefficient: c, net suction over and under it [1], [...].
    edge_area: of the upright edge that meets the wind [m2], [...].
    edge_drag: c_d [1], [...].

    Returns
    -------
    Lift and drag [N], each [...].

    Source: EN 1991-1-4:2005, 5.3, form of the expression; coefficients are judgement.
    """
    q = array_of(pressure)
    lift = q * array_of(area) * array_of(coefficient)
    drag = q * array_of(edge_area) * array_of(edge_drag)
    wide = np.broadcast_shapes(lift.shape, drag.shape)
    return PanelAir(np.broadcast_to(lift, wide), np.broadcast_to(drag, wide))


def pull_of_worst_foot(
    air: PanelAir,
    count: ArrayLike,
    mass: ArrayLike,
    *,
    uneven: ArrayLike = 2.0,
    height: ArrayLike = 0.0,
    length: ArrayLike = 1.0,
    tossed: ArrayLike = 0.0,
) -> Array:
    """Return the pull out of the shell at the foot that has most.

        F = uneven lift / n + 2 drag h / (n l) - m g (1 - tossed) / n, not under nought          (3)

    Parameters
    ----------
    air: lift and drag [N], [...].
    count: n, feet that hold [1], [...].
    mass: m of panel and frame [kg], [...].
    uneven: worst over mean [1], [...].
    height: h of the wind's push over the feet [m], [...].
    length: l between front and rear feet [m], [...]; half of the feet stand at each end.
    tossed: acceleration down in a bump's rebound, over gravity [1], [...]; over 1 the panel pulls up.

    Returns
    -------
    Pull [N], [...].

    Source: derivation; the panel is rigid.
    """
    n = array_of(count)
    pull = array_of(uneven) * air.lift / n + 2.0 * air.drag * array_of(height) / (n * array_of(length))
    weight = array_of(mass) * G0 * (1.0 - array_of(tossed)) / n
    return np.asarray(np.maximum(pull - weight, 0.0))


def latch_pull(lift: ArrayLike, centre: ArrayLike, hinge: ArrayLike, latch: ArrayLike) -> Array:
    """Return the part of the panel's lift that the latches carry, all together.

        F = lift (x_p - x_h) / (x_l - x_h)                                                       (4)

    It comes on top of the suction on the shell: a panel with a gap does not shelter the shell enough to count on it.

    Parameters
    ----------
    lift: on the panel [N], [...].
    centre: x_p of the panel's middle [m], [...].
    hinge: x_h [m], [...].
    latch: x_l [m], [...].

    Returns
    -------
    Pull [N], [...]; beyond the lift itself for a panel past the latches.

    Source: derivation, rigid shell on hinge and latches.
    """
    return np.asarray(array_of(lift) * (array_of(centre) - array_of(hinge)) / (array_of(latch) - array_of(hinge)))
