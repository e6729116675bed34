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

from dataclasses import dataclass

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


def hinge_offset_misfit(opens: ArrayLike, offset: ArrayLike) -> Array:
    """Return by how much a second hinge is pulled off when its parallel axis lies `offset` off the first one's line.

    Turning by q about the first axis moves the second pin by |R(q) - I| times the offset:
    (3) 2 offset sin(q / 2).

    opens q [rad], [..., n]; offset [m], square to the axis, [...]. Exact, whatever the direction of
    the offset. Two hinges both toed by a on a spacing S have parallel axes S sin a apart.
    Source: derivation.
    """
    return 2.0 * np.abs(column(offset)) * np.sin(np.asarray(opens, dtype=np.float64) / 2.0)


def hinge_axis_misfit(opens: ArrayLike, angle: ArrayLike, knuckle: ArrayLike) -> Array:
    """Return by how much [m] the ends of a knuckle are pulled off when its axis leans or toes by `angle` to the first.

    Turned by q about the first axis, the second axis walks on a cone of half angle a; its end moves by
    the chord 2 sin a sin(q / 2) a unit of length:
    (4) 2 sin a sin(q / 2) knuckle / 2 at either end.

    opens q [rad], [..., n]; angle a [rad] between the axes and knuckle [m], the length of the pin in
    its bearing, [...]. Exact; the same for lean, toe or anything between.
    Source: derivation.
    """
    chord = 2.0 * np.abs(np.sin(column(angle))) * np.sin(np.asarray(opens, dtype=np.float64) / 2.0)
    return chord * column(knuckle) / 2.0


def side_force(misfit: ArrayLike, play: ArrayLike, stiffness: ArrayLike) -> Array:
    """Return the force [N] that bends the plates when the misfit is more than the play.

    (5) F = (k / 2) max(0, misfit - play): left and right bend in series under the same force.

    misfit [m], [..., n]; play [m], the sideways free play of left and right together, [...];
    stiffness k [N/m] of the plates of one side, [...]. Valid while the plates stay elastic.
    Source: derivation, two equal springs in series.
    """
    over = np.maximum(np.asarray(misfit, dtype=np.float64) - column(play), 0.0)
    return column(stiffness) / 2.0 * over


@dataclass(frozen=True, slots=True)
class ArmTolerance:
    """How far out of parallel two arms may be before the play is used up; each [...].

    `angle` [rad] between the planes, leaning or toed, whichever is worse. `reading` [m] says the same
    over the length of the arm. Toed: closed, the spacing between the arms at the shell pins may differ
    from that at the van pins by this much. Leaning: against a plumb line as long as the arm, left and
    right together may be out by this much. `worst_fraction`: where in the travel the misfit peaks.
    `lean_governs`: leaning is the worse of the two.
    """

    angle: Array
    reading: Array
    worst_fraction: Array
    lean_governs: Array

    def reading_over(self, base: ArrayLike) -> Array:
        """Return the reading [m] that the same angle makes over another `base` [m], [...]."""
        return np.asarray(base, dtype=np.float64) * np.sin(self.angle)


def arm_tolerance(length: ArrayLike, theta: ArrayLike, play: ArrayLike) -> ArmTolerance:
    """Return how far two arms may lean apart or toe before they bind.

    (6) sin a = play / (L max over the travel of the larger of |sin theta - sin closed| and
    |cos closed - cos theta|), the closed position being the first station.
    The reading over an arm's length is L sin a: the arm's length cancels, play over the larger factor.

    length L and play [m], [...]; theta [rad from level], [..., n]. The play is the whole sideways float
    of left and right together; it is all there when the closed shell sits at one side of it, and half
    when it sits in the middle. An arm that hardly moves is free: the angle stops at a right angle.
    Source: derivation.

    >>> tolerance = arm_tolerance(0.5, np.radians([0.0, 30.0, 60.0]), 0.0008)
    >>> round(float(tolerance.reading) * 1000, 2)
    0.92
    """
    angles = np.asarray(theta, dtype=np.float64)
    lean = np.abs(np.sin(angles) - np.sin(angles[..., :1]))
    toe = np.abs(np.cos(angles[..., :1]) - np.cos(angles))
    larger = np.maximum(lean, toe)
    peak = larger.max(axis=-1)
    at = larger.argmax(axis=-1)
    arm, free = np.asarray(length, dtype=np.float64), np.asarray(play, dtype=np.float64)
    sine = np.minimum(free / np.maximum(arm * peak, _TINY), 1.0)
    worst = at / max(angles.shape[-1] - 1, 1)
    return ArmTolerance(
        np.asarray(np.arcsin(sine)),
        np.asarray(arm * sine),
        np.asarray(worst, dtype=np.float64),
        np.asarray(lean.max(axis=-1) >= toe.max(axis=-1)),
    )


@dataclass(frozen=True, slots=True)
class HingeTolerance:
    """How true a pair of hinges must be before the play is used up; each [...].

    `offset` [m]: a string along one pin may miss the other pin by this much, up, down or along.
    `angle` [rad] between the two pins. `string_reading` [m]: a straight rod held along one pin and
    reaching to the other hinge may point past it by this much. `both_toed` [rad]: both hinges skewed
    alike to the line between them.
    """

    offset: Array
    angle: Array
    string_reading: Array
    both_toed: Array


def hinge_tolerance(opens: ArrayLike, play: ArrayLike, spacing: ArrayLike, knuckle: ArrayLike) -> HingeTolerance:
    """Return how far a pair of hinges may be out of line before it binds.

    (7) offset = play / (2 sin(q / 2)); sin a = play / (knuckle sin(q / 2)); string reading = spacing sin a;
    both skewed alike: sin a = offset / spacing.

    opens q [rad], how far the shell turns; play, spacing between the hinges, knuckle (length of a pin in
    its bearing) [m]; each [...]. The play is how far a pin end can be
    moved in its bearing, both hinges together. Beyond half a turn q counts as half a turn.
    Source: derivation.
    """
    q, free, apart, pin = (np.asarray(v, dtype=np.float64) for v in (opens, play, spacing, knuckle))
    half = np.maximum(np.sin(np.minimum(np.abs(q), np.pi) / 2.0), _TINY)
    offset = free / (2.0 * half)
    sine = np.minimum(free / np.maximum(pin * half, _TINY), 1.0)
    skew = np.arcsin(np.minimum(offset / np.maximum(apart, _TINY), 1.0))
    return HingeTolerance(np.asarray(offset), np.asarray(np.arcsin(sine)), np.asarray(apart * sine), np.asarray(skew))
