"""How true left and right must be before the roof binds.

A lifting roof stands on a left and a right arm, or on a left and a right hinge. If their planes or
axes are not parallel, the shell is pulled sideways as it rises. Play at the pins takes some of this;
the rest bends the plates.

Axes: x along the van, y across, z up. The pin axis should lie along y. An arm of length L at theta
from level has its tip at (L cos theta, 0, L sin theta). *Lean* turns the axis about x, so that the
plane of the arm leans out of plumb; *toe* turns it about z, so that the plane points in or out. With
the exact rotations Rx(a), Rz(a) the tip of an arm that is out by a lies at

    lean: (L cos theta, -L sin theta sin a, L sin theta cos a)
    toe:  (L cos theta cos a, L cos theta sin a, L sin theta)

The shell is bolted on where it lies closed, so only the change of y from there is a misfit. Along x
and z the error is L (1 - cos a), second order in a: 0.2 mm for half a metre at 1.5 degrees. With both
arms out, a is the angle between their planes; halved between them the sum differs from the formula by
a share of a2/8.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, column

_TINY = 1e-12


def lean_misfit(length: ArrayLike, theta: ArrayLike, lean: ArrayLike, *, closed: ArrayLike = 0.0) -> Array:
    """Return the sideways misfit [m] of two arms whose planes lean apart.

    (1) L |sin theta - sin closed| sin a; from closed and level, L sin theta sin a.

    length [m] and lean a [rad, between the planes], shaped [...]; theta [rad from level], [..., n];
    closed [rad from level], [...]. Exact when one arm is true.
    Source: derivation (exact rotation, see the head of this file).

    >>> round(float(lean_misfit(0.5, [np.pi / 6], np.radians(1))[0]) * 1000, 3)
    4.363
    """
    rise: Array = np.abs(np.sin(np.asarray(theta, dtype=np.float64)) - np.sin(column(closed)))
    return column(length) * rise * np.abs(np.sin(column(lean)))


def toe_misfit(length: ArrayLike, theta: ArrayLike, toe: ArrayLike, *, closed: ArrayLike = 0.0) -> Array:
    """Return the sideways misfit [m] of two arms that toe in or out.

    (2) L |cos closed - cos theta| sin a; from closed and level, L (1 - cos theta) sin a.

    Arguments, shapes and validity as for `lean_misfit`.
    Source: derivation (exact rotation, see the head of this file).

    >>> round(float(toe_misfit(0.5, [np.pi / 6], np.radians(1))[0]) * 1000, 3)
    1.169
    """
    shift: Array = np.abs(np.cos(column(closed)) - np.cos(np.asarray(theta, dtype=np.float64)))
    return column(length) * shift * np.abs(np.sin(column(toe)))


def hinge_axis_misfit(opens: ArrayLike, angle: ArrayLike, knuckle: ArrayLike) -> Array:
    """Return by how much [m] the ends of a knuckle are pulled off when its axis leans or toes by `angle` to the first.

    Turned by q about the first axis, the second axis walks on a cone of half angle a; its end moves by
    the chord 2 sin a sin(q / 2) a unit of length:
    (3) 2 sin a sin(q / 2) knuckle / 2 at either end.

    opens q [rad], [..., n]; angle a [rad] between the axes and knuckle [m], the length of the pin in
    its bearing, [...]. Exact; the same for lean, toe or anything between.
    Source: derivation.
    """
    chord = 2.0 * np.abs(np.sin(column(angle))) * np.sin(np.asarray(opens, dtype=np.float64) / 2.0)
    return chord * column(knuckle) / 2.0


def side_force(misfit: ArrayLike, play: ArrayLike, stiffness: ArrayLike) -> Array:
    """Return the force [N] that bends the plates when the misfit is more than the play.

    (4) F = (k / 2) max(0, misfit - play): left and right bend in series under the same force.

    misfit [m], [..., n]; play [m], the sideways free play of left and right together, [...];
    stiffness k [N/m] of the plates of one side, [...]. Valid while the plates stay elastic.
    Source: derivation, two equal springs in series.
    """
    over = np.maximum(np.asarray(misfit, dtype=np.float64) - column(play), 0.0)
    return column(stiffness) / 2.0 * over


def arm_reading(length: ArrayLike, theta: ArrayLike, play: ArrayLike) -> Array:
    """Return how far two arms may be out of parallel before the play is used up, read over the arm's length [m], [...].

    (5) L sin a = play / (largest misfit over the travel, leaning (1) or toed (2), of an arm of unit length out by a
    right angle), the closed position being the first station: the arm's length cancels.

    Toed: closed, the spacing between the arms at the shell pins may differ from that at the van pins by this much.
    Leaning: against a plumb line as long as the arm, left and right together may be out by this much.

    length L and play [m], [...]; theta [rad from level], [..., n]. The play is the whole sideways float
    of left and right together; it is all there when the closed shell sits at one side of it, and half
    when it sits in the middle. An arm that hardly moves is free: the reading stops at its length.
    Source: derivation.

    >>> round(float(arm_reading(0.5, np.radians([0.0, 30.0, 60.0]), 0.0008)) * 1000, 2)
    0.92
    """
    angles = np.asarray(theta, dtype=np.float64)
    closed, square = angles[..., 0], np.pi / 2
    worst = np.maximum(
        lean_misfit(1.0, angles, square, closed=closed), toe_misfit(1.0, angles, square, closed=closed)
    ).max(axis=-1)
    arm, free = np.asarray(length, dtype=np.float64), np.asarray(play, dtype=np.float64)
    return np.asarray(np.minimum(free / np.maximum(worst, _TINY), arm))


def hinge_reading(opens: ArrayLike, play: ArrayLike, spacing: ArrayLike, knuckle: ArrayLike) -> Array:
    """Return how far a straight rod held along one hinge pin may point past the other hinge [m], [...].

    (6) spacing sin a, with sin a = play / (misfit (3) of a pin out by a right angle).

    opens [rad], how far the shell turns; play, spacing between the hinges, knuckle (length of a pin in
    its bearing) [m]; each [...]. The play is how far a pin end can be moved in its bearing, both hinges
    together. Beyond half a turn the misfit shrinks again, so opens counts as half a turn there.
    Source: derivation.
    """
    q = np.minimum(np.abs(np.asarray(opens, dtype=np.float64)), np.pi)
    worst = np.maximum(hinge_axis_misfit(q[..., None], np.pi / 2, knuckle)[..., 0], _TINY)
    sine = np.minimum(np.asarray(play, dtype=np.float64) / worst, 1.0)
    return np.asarray(np.asarray(spacing, dtype=np.float64) * sine)
