"""The cloth itself: tension of a panel under pressure by its sag, and the gust at which each part of it gives.

A panel is a strip between two edges, blown into a parabola. Its sag follows from slack and stretch together, so that
the tension grows slower than the pressure: doubling the pressure never doubles it. Rows come first, [...]. Tension is
force per width [N/m]. A panel held on all four sides is pulled less than such a strip across its shorter span.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array
from loftwright.reference.cloths import AGED, SAFETY, UNEVEN
from loftwright.reference.wind import AIR_DENSITY
from loftwright.strength.raised_shape import WALLS, RaisedShape, upper_edge_centre
from loftwright.strength.wind import speed_for

_STEPS: Final = 40
PARTS: Final = ("cloth", "seam", "staples", "strip screws", "window film")
"""What may give first, in the order of `Holding`."""


@dataclass(frozen=True, slots=True)
class Panel:
    """A strip of cloth: its `span` [m] between the edges that hold it, `slack` [1] and `stiffness` [N/m], each [...].

    `slack` is the length it has over the span, as a share; negative when it is stretched in still air. `stiffness` is
    force per width over strain.
    """

    span: Array
    slack: Array
    stiffness: Array


@dataclass(frozen=True, slots=True)
class Holding:
    """What holds the cloth; every number [...] and None where the part is not there.

    `cloth` strength of a new strip [N/m]; `seam` strength over that of the cloth [1]; `staple` [N] at `staple_pitch`
    [m]; `screw` [N] at `screw_pitch` [m]; `film` strength [N/m] of the window; `aged` [1] what age leaves of cloth,
    seam and film; `uneven` [1] pull at the worst place over the mean; `safety` [1] strength over what is allowed.
    """

    cloth: Array
    seam: Array | None = None
    staple: Array | None = None
    staple_pitch: Array | None = None
    screw: Array | None = None
    screw_pitch: Array | None = None
    film: Array | None = None
    aged: Array | float = AGED
    uneven: Array | float = UNEVEN
    safety: Array | float = SAFETY


def sag(panel: Panel, pressure: ArrayLike) -> Array:
    """Return the sag at mid-span of a strip that stretches.

        8/3 u^3 - e u - (1 + e) p L / (8 k) = 0,   u = s / L                                       (2)

    e is the slack, k the stiffness: the parabola's length L (1 + 8/3 u^2) is that of the stretched cloth,
    L (1 + e) (1 + T / k), with T = p L^2 / (8 s) (1). One root is positive; Newton's method comes down to it from
    above. `pressure` [Pa], [...], either way; [m], [...]. Source: derivation.
    """
    p = np.abs(np.asarray(pressure, dtype=np.float64))
    a = 3.0 * panel.slack / 8.0
    c = 3.0 * (1.0 + panel.slack) * p * panel.span / (64.0 * panel.stiffness)
    u = np.asarray(np.sqrt(np.maximum(a, 0.0)) + np.cbrt(c))
    for _ in range(_STEPS):
        slope = 3.0 * u**2 - a
        u = np.where(slope > 0, u - (u**3 - a * u - c) / np.where(slope > 0, slope, 1.0), u)
    return np.asarray(u * panel.span)


def tension(panel: Panel, pressure: ArrayLike) -> Array:
    """Return the tension of a strip that stretches under pressure: T = k ((1 + 8/3 u^2) / (1 + e) - 1) (3), u by (2).

    `pressure` [Pa], [...], either way; [N/m], [...], never negative. Source: derivation.
    """
    u = sag(panel, pressure) / panel.span
    strain = (8.0 * u**2 / 3.0 - panel.slack) / (1.0 + panel.slack)
    return np.asarray(np.maximum(panel.stiffness * strain, 0.0))


def edge_tension(panel: Panel, pressure: ArrayLike) -> Array:
    """Return the pull of a strip along itself, the same all the way to its edges: T (1 + 4 u^2) (4), u by (2).

    Pressure stays square to the cloth and bends it to a circle, whose pull is p R with R = L^2 / (8 s) + s / 2.

    `pressure` [Pa], [...]; [N/m], [...]. Source: derivation, circular arc of the same sag.
    """
    u = sag(panel, pressure) / panel.span
    return np.asarray(tension(panel, pressure) * (1.0 + 4.0 * u**2))


def pressure_at(panel: Panel, limit: ArrayLike) -> Array:
    """Return the pressure at which the pull on the edges reaches a limit, the inverse of (4).

        R = T (1 + 4 u^2),   u^2 = 3/8 (e + (1 + e) T / k),   p = 8 T u / L                   (5)

    R grows with T, so that T is found by halving between nought and R, to the last digit. `limit` R [N/m], [...]; the
    pressure [Pa] is [...]; nought where the cloth is stretched beyond the limit in still air. Source: derivation.
    """
    high, e, span, k = (
        np.array(v, dtype=np.float64)
        for v in np.broadcast_arrays(np.asarray(limit), panel.slack, panel.span, panel.stiffness)
    )
    low = np.zeros_like(high)

    def squared(pull: Array) -> Array:
        return np.asarray(np.maximum(0.375 * (e + (1.0 + e) * pull / k), 0.0))

    top = high.copy()
    for _ in range(60):
        middle = (low + high) / 2.0
        beyond = middle * (1.0 + 4.0 * squared(middle)) > top
        low, high = np.where(beyond, low, middle), np.where(beyond, middle, high)
    return np.asarray(8.0 * low * np.sqrt(squared(low)) / span)


def strengths(holding: Holding) -> dict[str, Array]:
    """Return the pull [N/m] at the edge at which each part that is there gives, [...], by name.

    Cloth f a / c (6), seam times its share (7), staples F / (pitch c) (8), screws likewise, film f a / c (9); a is what
    age leaves, c the unevenness. Without the factor of safety. Source: derivation.
    """
    uneven = np.asarray(holding.uneven, dtype=np.float64)
    cloth = np.asarray(holding.cloth * holding.aged / uneven)
    found = {"cloth": cloth}
    if holding.seam is not None:
        found["seam"] = np.asarray(cloth * holding.seam)
    if holding.staple is not None and holding.staple_pitch is not None:
        found["staples"] = np.asarray(holding.staple / (holding.staple_pitch * uneven))
    if holding.screw is not None and holding.screw_pitch is not None:
        found["strip screws"] = np.asarray(holding.screw / (holding.screw_pitch * uneven))
    if holding.film is not None:
        found["window film"] = np.asarray(holding.film * holding.aged / uneven)
    return found


def gusts_at_limit(
    panel: Panel, holding: Holding, coefficient: ArrayLike, density: ArrayLike = AIR_DENSITY
) -> dict[str, Array]:
    """Return the gust [m/s] at which each part reaches what is allowed, [...], by name.

    The pressure by (5) for strength over safety, q = p / |c| and v = sqrt(2 q / rho) (10). `coefficient` [1] net of the
    panel, `density` [kg/m3], each [...]. Source: derivation.
    """
    c = np.abs(np.asarray(coefficient, dtype=np.float64))
    return {
        name: speed_for(pressure_at(panel, strength / holding.safety) / c, density)
        for name, strength in strengths(holding).items()
    }


def weakest(gusts: dict[str, Array]) -> tuple[tuple[str, ...], Array, Array]:
    """Return the names, the index of the part that gives first and its gust [m/s], each [...].

    `gusts` [m/s] as from `gusts_at_limit`. Source: derivation.
    """
    every = np.stack(np.broadcast_arrays(*gusts.values()), axis=-1)
    return tuple(gusts), np.asarray(every.argmin(axis=-1)), np.asarray(every.min(axis=-1))


def cloth_pull(shape: RaisedShape, pull: ArrayLike) -> Array:
    """Return the wrench of the taut walls on the shell about the middle of the hinge line.

    Along each wall from its upper to its lower edge: F = T l (11), l the length of the upper edge, at the point where
    the push of a wall on that edge acts. `pull` T [N/m] of each wall, [..., walls] in the order of `WALLS`; [N, N m],
    [..., 6]. It holds the shell down and loads springs, hinges and ring alike.
    Source: derivation; an even pull is a judgement.
    """
    each = np.asarray(pull, dtype=np.float64)
    force: Array = np.zeros(3)
    moment: Array = np.zeros(3)
    for i, wall in enumerate(WALLS):
        a, b, c, d = shape.corners(wall)
        down = (a + d - b - c) / 2.0
        size = np.linalg.norm(down, axis=-1)[..., None]
        # A wall that is not there has no direction and does not pull.
        along = down / np.where(size > 0, size, 1.0)
        length = np.linalg.norm(c - b, axis=-1)
        push = (each[..., i] * length)[..., None] * along
        force = force + push
        moment = moment + np.cross(upper_edge_centre((a, b, c, d)) - shape.hinge, push)
    return np.concatenate(np.broadcast_arrays(force, moment), axis=-1)
