"""How a pair of crossing arms a side carries the shell straight up: the scissor lift.

Arm a turns on a fixed pivot on the van and slides with its upper end along the shell. Arm b, as long and pinned to
it in the middle, turns on a fixed pivot on the shell, straight above the other, and slides with its lower end on the
van at the height of arm a's pivot. So arm b is arm a's mirror image, and two points say it all. The shell keeps level,
and its fixed end stays on one upright line. One driving angle q [rad], zero when closed and never falling: how far
the arms have turned.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, Flags, Motion, Travel, column, fractions, turning

UPRIGHT = np.pi / 2


@dataclass(frozen=True, slots=True)
class ScissorTravel:
    """Travel of a shell on crossing arms, with what is said of each draw.

    `angle` [rad], [..., n]: how far the arms stand from level. `possible` [...]: they stand above level closed and
    below upright open, so that the shell rises all the way; elsewhere the poses are finite and mean nothing.
    """

    travel: Travel
    angle: Array
    possible: Flags


def crossing_ends(
    pivot_x: ArrayLike, pivot_z: ArrayLike, slide_x: ArrayLike, slide_z: ArrayLike
) -> tuple[tuple[Array, Array], tuple[Array, Array]]:
    """Return where arm b ends on the van (sliding) and on the shell (fixed) when closed, each (x, z) [m], [...].

    (1) Arm b mirrors arm a: its lower end lies under arm a's upper one, its upper end above arm a's pivot.
    pivot: arm a's on the van, slide: arm a's end on the shell, [m], closed, [...]. Source: derivation.
    """
    px, pz, sx, sz = np.broadcast_arrays(
        *(np.asarray(v, dtype=np.float64) for v in (pivot_x, pivot_z, slide_x, slide_z))
    )
    return (sx, pz), (px, sz)


def scissor_travel(
    pivot_x: ArrayLike,
    pivot_z: ArrayLike,
    slide_x: ArrayLike,
    slide_z: ArrayLike,
    opens: ArrayLike,
    *,
    stages: int = 1,
    stations: int = 121,
) -> ScissorTravel:
    """Return the travel of a shell that stands on a pair of crossing arms a side.

    With a the arms' length and theta = theta_closed + q their angle from level:
    (2) rise = stages a (sin theta - sin theta_closed), rise' = stages a cos theta, rise'' = -stages a sin theta.
    (3) The sliding ends lie a cos theta from the upright line of the fixed ones.

    pivot_x, pivot_z, slide_x, slide_z: arm a's pivot on the van and its end that slides along the shell [m], closed,
    each [...]; opens: how far the arms turn [rad, > 0], [...]. `stages` like pairs stand on top of each other; arms
    are then those of the lowest. Valid between level and upright: at level no push along the van can raise the shell,
    at upright nothing can turn the arms back. The arms weigh nothing here; an arm's weight acts on the shell by half.
    Source: derivation; compare Spackman, Mathematical Analysis of Scissor Lifts, NOSC TD 1550.

    >>> found = scissor_travel(0.0, 0.0, 0.6, 0.8, 0.1, stations=2)
    >>> [round(float(z), 6) for z in found.travel.shell.z]
    [0.0, 0.055903]
    """
    px, pz, sx, sz, total = np.broadcast_arrays(
        *(np.asarray(v, dtype=np.float64) for v in (pivot_x, pivot_z, slide_x, slide_z, opens))
    )
    across, up = sx - px, sz - pz
    length, closed = np.hypot(across, up), np.arctan2(up, np.abs(across))
    # Towards the cab or away from it; raising turns arm a from x towards z in the first case.
    way = np.where(across < 0.0, -1.0, 1.0)
    fraction = fractions(stations)
    q = column(total) * fraction
    theta = column(closed) + q
    a, sense = column(length), column(way)
    cos, sin = a * np.cos(theta), a * np.sin(theta)
    zero = np.zeros_like(q)
    rise = sin - column(length * np.sin(closed))
    shell = Motion(zero, stages * rise, zero, zero, stages * cos, zero, zero, -stages * sin, zero)
    turn = sense + zero
    arm_a = turning(px, pz, sense * q, turn, zero)
    # Arm b turns the other way about its sliding end, which starts at (sx, pz).
    about = turning(sx, pz, -sense * q, -turn, zero)
    arm_b = Motion(
        about.x + sense * cos - column(across),
        about.z,
        about.phi,
        about.dx - sense * sin,
        about.dz,
        about.dphi,
        about.ddx - sense * cos,
        about.ddz,
        about.ddphi,
    )
    possible = (closed > 0.0) & (closed + total < UPRIGHT) & (np.abs(across) > 0.0)
    return ScissorTravel(Travel(fraction, q, shell, (arm_a, arm_b)), theta, np.asarray(possible))
