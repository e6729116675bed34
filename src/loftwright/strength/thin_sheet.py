"""What a thin sheet bears round a bolt or rivet: pulled over the head, torn out, bent.

Strengths are bare; divide by a factor of safety. Arrays are [...] throughout and broadcast.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.motion import Array

SCREWS: Final = Source("aisi-s100", "section J4 (E4 in older editions), read in a public reproduction", "standard")
TEAR: Final = Source("aisi-s100", "section J6.1, shear along both sides of the piece torn out; from memory", "standard")
PLATES: Final = Source(
    "timoshenko-plates-and-shells",
    "art. 16-19, round plate with a load on a round patch; from memory, solved a second way",
    "handbook",
)
SPREADING: Final = Source(
    "derivation", "rim of the backing plate as a strip bent by the line load it hands on", "derivation"
)

SAFETY: Final = 3.0
"""Factor of safety on pull-over and pull-out [1]; AISI S100 J4."""
SAFETY_BOTH: Final = 2.35
"""Factor of safety on shear and pull-over at once [1]; AISI S100 J4.5."""
LAMINATE_SAFETY: Final = 4.0
"""Factor of safety on a hand-laid laminate at a joint [1]; judgement: scatter, water, heat and long load together."""
WOOD_SAFETY: Final = 3.0
"""Factor of safety on plywood at a joint [1]; judgement."""
WASHER_CAP: Final = 0.01905
"""Most of a washer's width that counts in pull-over, 3/4 in [m]; AISI S100, from memory."""
POISSON: Final = 0.3


def pull_over(washer: ArrayLike, thickness: ArrayLike, tensile: ArrayLike, cap: ArrayLike = WASHER_CAP) -> Array:
    """Return the pull at which a thin metal sheet is drawn over a head or washer.

        P = 1.5 t1 d_w F_u1,   d_w at most the cap                                                (1)

    Parameters
    ----------
    washer: d_w, diameter of head or washer on the sheet's side [m], [...].
    thickness: t1 of the sheet under it [m], [...].
    tensile: F_u1 [Pa], [...].
    cap: most of the washer that counts [m], [...].

    Returns
    -------
    Strength [N], [...]. Source: `SCREWS`.

    >>> round(float(pull_over(0.016, 0.0008, 270e6)), 6)
    5184.0
    """
    d, t, f, most = (np.asarray(v, dtype=np.float64) for v in (washer, thickness, tensile, cap))
    return np.asarray(1.5 * t * np.minimum(d, most) * f)


def pull_out(diameter: ArrayLike, thickness: ArrayLike, tensile: ArrayLike) -> Array:
    """Return the pull at which a screw is drawn out of the sheet that holds its thread.

        P = 0.85 t2 d F_u2                                                                        (2)

    `diameter` d of the screw [m], `thickness` t2 [m], `tensile` F_u2 [Pa], [...]; [N], [...].
    Not for rivet nuts, which are tested one by one. Source: `SCREWS`.

    >>> round(float(pull_out(0.190, 0.048, 45000.0)), 2)  # in inches and pounds per square inch
    348.84
    """
    d, t, f = (np.asarray(v, dtype=np.float64) for v in (diameter, thickness, tensile))
    return np.asarray(0.85 * t * d * f)


def shear_and_pull_over(
    shear: ArrayLike,
    pull: ArrayLike,
    diameter: ArrayLike,
    washer: ArrayLike,
    thickness: ArrayLike,
    tensile: ArrayLike,
    safety: ArrayLike = SAFETY_BOTH,
) -> Array:
    """Return how much of a thin metal sheet is used by shear and pull-over at once.

        (Q / (2.7 t1 d F_u1) + 0.71 T / (1.5 t1 d_w F_u1)) Omega / 1.1 <= 1                         (3)

    Parameters
    ----------
    shear, pull: Q and T on one fastener [N], [...].
    diameter, washer: d and d_w [m], [...].
    thickness: t1 [m], [...].
    tensile: F_u1 [Pa], [...].
    safety: Omega [1], [...].

    Returns
    -------
    Share used [1], [...]. Source: `SCREWS`.
    """
    q, p, d, t, f, omega = (
        np.asarray(v, dtype=np.float64) for v in (shear, pull, diameter, thickness, tensile, safety)
    )
    return np.asarray((q / (2.7 * t * d * f) + 0.71 * p / pull_over(washer, t, f)) * omega / 1.1)


def tear_out(edge: ArrayLike, hole: ArrayLike, thickness: ArrayLike, shear_strength: ArrayLike) -> Array:
    """Return the force at which a bolt tears a piece out of the edge.

        P = 2 (e - d0 / 2) t tau                                                                  (4)

    Parameters
    ----------
    edge: e, from the hole's centre to the edge along the load [m], [...].
    hole: d0 [m], [...].
    thickness: t [m], [...].
    shear_strength: tau in the plane of the sheet [Pa]; 0.6 F_u for metals, [...].

    Returns
    -------
    Strength [N], never below zero, [...]. Source: `TEAR`.

    >>> round(float(tear_out(0.015, 0.006, 0.003, 62e6)))  # laminate
    4464
    """
    e, d, t, tau = (np.asarray(v, dtype=np.float64) for v in (edge, hole, thickness, shear_strength))
    return np.asarray(2.0 * np.maximum(e - 0.5 * d, 0.0) * t * tau)


def pull_through(washer: ArrayLike, thickness: ArrayLike, through: ArrayLike) -> Array:
    """Return the pull at which head and washer go through a laminate or board, by shear on the rim.

        P = pi d_w t tau                                                                          (5)

    `washer` d_w [m], `thickness` t [m], `through` tau [Pa], for a laminate no more than between its layers; [N], [...].
    Source: derivation; that the strength between layers bounds it is a judgement.
    """
    d, t, tau = (np.asarray(v, dtype=np.float64) for v in (washer, thickness, through))
    return np.asarray(np.pi * d * t * tau)


def spread_diameter(
    washer: ArrayLike, plate: ArrayLike, plate_thickness: ArrayLike, plate_yields: ArrayLike, line: ArrayLike
) -> Array:
    """Return how wide a backing plate spreads the pull of one bolt before it bends up round the washer.

        D = min(b, d_w + 2 c),   c = f_y t_p^2 / (6 n)                                            (6)

    Parameters
    ----------
    washer: d_w on the plate [m], [...].
    plate: b, the plate's least width, or what of it belongs to one bolt [m], [...].
    plate_thickness, plate_yields: t_p [m] and f_y [Pa], [...].
    line: n, what the skin bears along the rim, t tau [N/m], [...].

    Returns
    -------
    Diameter [m], never below d_w, [...]. Source: `SPREADING`.
    """
    d, b, t, f, n = (np.asarray(v, dtype=np.float64) for v in (washer, plate, plate_thickness, plate_yields, line))
    return np.maximum(d, np.minimum(b, d + 2.0 * f * t**2 / (6.0 * n)))


def skin_bending(
    pull: ArrayLike, patch: ArrayLike, reach: ArrayLike, thickness: ArrayLike, poisson: float = POISSON
) -> Array:
    """Return the bending stress in a skin that is pulled square to itself over a round patch.

        M = P / (4 pi) [(1 + nu) ln(a / c) + 1 - (1 - nu) c^2 / (4 a^2)],   sigma = 6 M / t^2       (7)

    Parameters
    ----------
    pull: P [N], [...].
    patch: radius c of washer or backing plate [m], [...].
    reach: radius a out to what holds the skin: rib, ring, corner [m], at least c, [...].
    thickness: t of the skin [m], [...].
    poisson: nu [1].

    Returns
    -------
    Stress in the middle [Pa], [...]. Held like on a knife edge at a, small deflection: on the safe side, for the skin
    that is held firmly or stretches bears more. Source: `PLATES`.
    """
    p, a, t = (np.asarray(v, dtype=np.float64) for v in (pull, reach, thickness))
    c = np.minimum(np.asarray(patch, dtype=np.float64), a)
    moment = p / (4.0 * np.pi) * ((1.0 + poisson) * np.log(a / c) + 1.0 - (1.0 - poisson) * c**2 / (4.0 * a**2))
    return np.asarray(6.0 * moment / t**2)


def group_bending(
    points: ArrayLike,
    pull: ArrayLike,
    patch: ArrayLike,
    reach: ArrayLike,
    thickness: ArrayLike,
    poisson: float = POISSON,
) -> Array:
    """Return the greatest bending stress in a skin that several bolts pull at, by adding up their shares.

        M_i = P_i m(c) + sum_j P_j / (4 pi) [(1 + nu) ln(a / d_ij) + 1],   sigma = 6 max M_i / t^2    (8)

    with m(c) the bracket of (7) over 4 pi and d_ij the distance between bolts, from c to a.

    Parameters
    ----------
    points: holes x and y [m], [..., bolts, 2].
    pull: P of each bolt [N], [..., bolts].
    patch: radius c of washer or spread of the backing plate at each bolt [m], [...].
    reach: radius a from the bolts out to what holds the skin [m], [...].
    thickness: t of the skin [m], [...].
    poisson: nu [1].

    Returns
    -------
    Stress [Pa], [...]. Each bolt counts as if it lay in the middle, and the moment along the ring, the greater one, as
    if it acted all round: on the safe side. Source: `PLATES`.
    """
    at, p = np.asarray(points, dtype=np.float64), np.asarray(pull, dtype=np.float64)
    a, c, t = (np.asarray(v, dtype=np.float64)[..., None, None] for v in (reach, patch, thickness))
    c = np.minimum(c, a)
    apart = np.linalg.norm(at[..., :, None, :] - at[..., None, :, :], axis=-1)
    own = np.eye(at.shape[-2], dtype=bool)
    away = np.where(own, c, np.clip(apart, c, a))
    share = (1.0 + poisson) * np.log(a / away) + 1.0 - np.where(own, (1.0 - poisson) * c**2 / (4.0 * a**2), 0.0)
    moments = np.sum(share * p[..., None, :], axis=-1) / (4.0 * np.pi)
    return np.asarray(6.0 * moments.max(axis=-1) / t[..., 0, 0] ** 2)


def backing_radius(
    pull: ArrayLike, reach: ArrayLike, thickness: ArrayLike, allowed: ArrayLike, poisson: float = POISSON
) -> Array:
    """Return the least radius of a stiff backing plate that keeps the skin's bending below a stress.

    The c of (7) at which sigma is `allowed`, found by halving between a / 1000 and a.

    `pull` [N], `reach` a [m], `thickness` t of the skin [m], `allowed` stress [Pa], `poisson` [1], [...]; [m], [...].
    Infinite where not even a plate out to a is enough. Source: `PLATES`.
    """
    p, a, t, most = np.broadcast_arrays(*(np.asarray(v, dtype=np.float64) for v in (pull, reach, thickness, allowed)))
    low, high = a / 1000.0, a.copy()
    for _ in range(60):
        middle = 0.5 * (low + high)
        enough = skin_bending(p, middle, a, t, poisson) <= most
        low, high = np.where(enough, low, middle), np.where(enough, middle, high)
    return np.where(skin_bending(p, a, a, t, poisson) <= most, high, np.inf)


def crush_limit(washer: ArrayLike, hole: ArrayLike, crush: ArrayLike, safety: ArrayLike = 1.0) -> Array:
    """Return the pull to which a bolt through a soft layer may be tightened.

        F = pi / 4 (d_w^2 - d0^2) f_c / safety                                                    (10)

    `washer` d_w and `hole` d0 [m], `crush` f_c of the layer [Pa], `safety` [1], [...]; [N], [...].
    A spacer tube through the core takes this limit away. Source: derivation.
    """
    d, d0, f, s = (np.asarray(v, dtype=np.float64) for v in (washer, hole, crush, safety))
    return np.asarray(np.pi / 4.0 * np.maximum(d**2 - d0**2, 0.0) * f / s)
