"""What one bolt bears in a metal plate, how near holes may lie, and how hard it is tightened.

Resistances are divided by `gamma`, the partial factor on strength [1]; give 1 for the bare strength. The loads that
belong to them carry their own factor. Arrays are [...] throughout and broadcast.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.motion import Array

STEEL_JOINTS: Final = Source(
    "en-1993-1-8",
    "Tables 3.3 and 3.4 and 3.6.1(10); read in a public reproduction",
    "standard",
)
THIN_STEEL: Final = Source("en-1993-1-3", "Table 8.4, bearing; read in a public reproduction", "standard")
TIGHTENING: Final = Source(
    "shigley-mechanical-engineering-design",
    "ch. 8, T = K F d with K 0.2, preload 75 % of proof; read in public torque tables",
    "handbook",
)

GAMMA_M2: Final = 1.25
"""Partial factor on bolts and plates in bearing [1]; EN 1993-1-8 Table 2.1."""
GAMMA_ACTION: Final = 1.5
"""Partial factor on a changing load such as wind [1]; EN 1990 Table A1.2(B), from memory."""

EDGE: Final = 1.2
"""Least distance from a hole's centre to the edge over the hole's diameter [1]; EN 1993-1-8 Table 3.3."""
SPACING: Final = 2.2
"""Least distance between holes over the hole's diameter [1]; EN 1993-1-8 Table 3.3."""

NUT_FACTOR: Final = 0.20
"""K of plain dry threads [1], from public torque tables: greased ones take some 0.12, rough ones 0.25 (judgement)."""
PRELOAD_SHARE: Final = 0.75
"""Preload over proof load of a reusable joint between metals [1]; public torque tables."""
SOFT_SHARE: Final = 0.5
"""Most preload over proof load where a soft layer is clamped [1]; judgement."""


def shear_resistance(area: ArrayLike, tensile: ArrayLike, share: ArrayLike, gamma: ArrayLike = GAMMA_M2) -> Array:
    """Return the resistance of a bolt to shear in one plane.

        F_v = alpha_v f_ub A / gamma                                                              (1)

    Parameters
    ----------
    area: A, stress area where the thread is cut, else that of the shank [m2], [...].
    tensile: f_ub, least tensile strength of the bolt [Pa], [...].
    share: alpha_v [1], 0.6 or 0.5 by class, [...].
    gamma: partial factor [1], [...].

    Returns
    -------
    Resistance [N], [...]. Source: `STEEL_JOINTS`.

    >>> round(float(shear_resistance(36.6e-6, 800e6, 0.6)), 1)  # M8 8.8
    14054.4
    """
    a, f, v, g = (np.asarray(value, dtype=np.float64) for value in (area, tensile, share, gamma))
    return np.asarray(v * f * a / g)


def tension_resistance(area: ArrayLike, tensile: ArrayLike, gamma: ArrayLike = GAMMA_M2) -> Array:
    """Return the resistance of a bolt to pull.

        F_t = 0.9 f_ub A_s / gamma                                                                (2)

    `area` A_s [m2], `tensile` f_ub [Pa] and `gamma` [1] as in `shear_resistance`; [N], [...].
    Not for countersunk heads (0.63). Source: `STEEL_JOINTS`.

    >>> round(float(tension_resistance(36.6e-6, 800e6)), 1)  # M8 8.8
    21081.6
    """
    a, f, g = (np.asarray(value, dtype=np.float64) for value in (area, tensile, gamma))
    return np.asarray(0.9 * f * a / g)


def edge_factors(
    hole: ArrayLike, end: ArrayLike, side: ArrayLike, pitch: ArrayLike = np.inf, gauge: ArrayLike = np.inf
) -> tuple[Array, Array]:
    """Return alpha_d and k1, by how near edges and other holes lie.

        alpha_d = min(e1 / (3 d0), p1 / (3 d0) - 1/4),
        k1 = min(2.8 e2 / d0 - 1.7, 1.4 p2 / d0 - 1.7, 2.5)                                       (3)

    Parameters
    ----------
    hole: d0 [m], [...].
    end, side: e1 along and e2 across the load, from the hole's centre to the edge [m], [...]; infinite for none.
    pitch, gauge: p1 along and p2 across the load, to the next hole [m], [...]; infinite for none.

    Returns
    -------
    alpha_d and k1 [1], each [...], never below zero. Source: `STEEL_JOINTS`.
    """
    d0, e1, e2, p1, p2 = (np.asarray(v, dtype=np.float64) for v in (hole, end, side, pitch, gauge))
    alpha = np.minimum(e1 / (3.0 * d0), p1 / (3.0 * d0) - 0.25)
    k1 = np.minimum(np.minimum(2.8 * e2 / d0 - 1.7, 1.4 * p2 / d0 - 1.7), 2.5)
    return np.maximum(alpha, 0.0), np.maximum(k1, 0.0)


def bearing_resistance(
    diameter: ArrayLike,
    thickness: ArrayLike,
    plate_tensile: ArrayLike,
    bolt_tensile: ArrayLike,
    alpha_d: ArrayLike,
    k1: ArrayLike,
    gamma: ArrayLike = GAMMA_M2,
) -> Array:
    """Return the resistance of a plate to being torn by a bolt that bears on it.

        F_b = k1 alpha_b f_u d t / gamma,   alpha_b = min(alpha_d, f_ub / f_u, 1)                   (4)

    Parameters
    ----------
    diameter: d of the bolt [m], [...].
    thickness: t of the plate [m], [...].
    plate_tensile, bolt_tensile: f_u of the plate and f_ub of the bolt [Pa], [...].
    alpha_d, k1: from `edge_factors` [1], [...].
    gamma: partial factor [1], [...].

    Returns
    -------
    Resistance [N], [...]. It covers tear-out at the edge. Source: `STEEL_JOINTS`.

    >>> alpha, k1 = edge_factors(0.009, 0.018, 0.0135)
    >>> round(float(bearing_resistance(0.008, 0.002, 360e6, 800e6, alpha, k1)), 1)
    7680.0
    """
    d, t, fu, fub, alpha, k, g = (
        np.asarray(v, dtype=np.float64) for v in (diameter, thickness, plate_tensile, bolt_tensile, alpha_d, k1, gamma)
    )
    return np.asarray(k * np.minimum(np.minimum(alpha, fub / fu), 1.0) * fu * d * t / g)


def one_row_resistance(
    diameter: ArrayLike, thickness: ArrayLike, plate_tensile: ArrayLike, gamma: ArrayLike = GAMMA_M2
) -> Array:
    """Return the most that a plate of a single lap with one row of bolts may count on.

        F_b <= 1.5 f_u d t / gamma                                                                (5)

    `diameter` and `thickness` [m], `plate_tensile` [Pa], `gamma` [1], [...]; [N], [...]. The lap tilts the bolt.
    Source: `STEEL_JOINTS`.
    """
    d, t, fu, g = (np.asarray(v, dtype=np.float64) for v in (diameter, thickness, plate_tensile, gamma))
    return np.asarray(1.5 * fu * d * t / g)


def thin_bearing_resistance(
    diameter: ArrayLike,
    thickness: ArrayLike,
    plate_tensile: ArrayLike,
    end: ArrayLike,
    gamma: ArrayLike = GAMMA_M2,
) -> Array:
    """Return the resistance of a steel sheet thinner than 3 mm to a bolt that bears on it.

        F_b = 2.5 alpha_b k_t f_u d t / gamma,   alpha_b = min(1, e1 / (3 d)),
        k_t = (0.8 t + 1.5) / 2.5 with t in mm up to 1.25 mm, else 1                               (6)

    Parameters
    ----------
    diameter: d of the bolt [m], [...].
    thickness: t [m], from 0.75 mm; carried on to thinner sheet, where k_t falls further, [...].
    plate_tensile: f_u [Pa], [...].
    end: e1, from the hole's centre to the edge [m], [...].
    gamma: partial factor [1], [...].

    Returns
    -------
    Resistance [N], [...]. Source: `THIN_STEEL`.
    """
    d, t, fu, e1, g = (np.asarray(v, dtype=np.float64) for v in (diameter, thickness, plate_tensile, end, gamma))
    thin = np.minimum((0.8 * t * 1000.0 + 1.5) / 2.5, 1.0)
    return np.asarray(2.5 * np.minimum(e1 / (3.0 * d), 1.0) * thin * fu * d * t / g)


def punching_resistance(
    head: ArrayLike, thickness: ArrayLike, plate_tensile: ArrayLike, gamma: ArrayLike = GAMMA_M2
) -> Array:
    """Return the resistance of a plate to being punched by the head or nut.

        B_p = 0.6 pi d_m t f_u / gamma                                                            (7)

    Parameters
    ----------
    head: d_m, mean of the widths across flats and corners of head or nut, the smaller [m], [...].
    thickness: t of the plate under it [m], [...].
    plate_tensile: f_u [Pa], [...].
    gamma: partial factor [1], [...].

    Returns
    -------
    Resistance [N], [...]. For plates that do not dish; thin sheet by `thin_sheet.pull_over`. Source: `STEEL_JOINTS`.

    >>> round(float(punching_resistance(0.0139, 0.002, 360e6)), 1)
    15091.7
    """
    d, t, fu, g = (np.asarray(v, dtype=np.float64) for v in (head, thickness, plate_tensile, gamma))
    return np.asarray(0.6 * np.pi * d * t * fu / g)


def together(shear: ArrayLike, shear_limit: ArrayLike, pull: ArrayLike, pull_limit: ArrayLike) -> Array:
    """Return how much of a bolt is used by shear and pull at once.

        F_v / F_v,limit + F_t / (1.4 F_t,limit) <= 1                                              (8)

    `shear` and `pull` with their limits [N], [...]; [1], [...]. Pull alone is limited to F_t besides.
    Source: `STEEL_JOINTS`.

    >>> round(float(together(5.0, 10.0, 7.0, 10.0)), 12)
    1.0
    """
    v, vr, t, tr = (np.asarray(x, dtype=np.float64) for x in (shear, shear_limit, pull, pull_limit))
    return np.asarray(v / vr + t / (1.4 * tr))


def preload(proof: ArrayLike, share: ArrayLike = PRELOAD_SHARE, clamp_limit: ArrayLike = np.inf) -> Array:
    """Return the pull to which a bolt is tightened.

        F = min(share S_p A_s, clamp limit)                                                       (9)

    `proof` load S_p A_s [N], `share` [1] from 0.5 to 0.75, `clamp_limit` what the softest layer bears under the washer
    [N], [...]; [N], [...]. Source: `TIGHTENING`; for soft layers by judgement.
    """
    p, s, most = (np.asarray(v, dtype=np.float64) for v in (proof, share, clamp_limit))
    return np.minimum(s * p, most)


def torque(diameter: ArrayLike, pull: ArrayLike, nut_factor: ArrayLike = NUT_FACTOR) -> Array:
    """Return the torque that tightens a bolt to a pull.

        T = K d F                                                                                (10)

    `diameter` d [m], `pull` F [N], `nut_factor` K [1], 0.12 greased to 0.25 rough, [...]; [N m], [...].
    For the same torque the pull differs twofold between the ends of K. Source: `TIGHTENING`.

    >>> round(float(torque(0.25 * 0.0254, 2029 * 4.44822)) / 0.112985)  # 1/4 in, 2029 lbf: printed 101 lbf in
    101
    """
    d, f, k = (np.asarray(v, dtype=np.float64) for v in (diameter, pull, nut_factor))
    return np.asarray(k * d * f)
