"""The seal under the rim: its length, how hard it pushes, what that adds up to, and where water stands along it.

What crosses to the balance: the force per metre of rim at the squeeze at which the shell rests on its stops
(`SealCurve.force` there, [N/m]) and that squeeze [m]. The balance puts its own straight line through the two and
turns it into a load over the travel. `push` here keeps the bent curve and the measured gaps, to be compared with it.

Places along the seal are stations of a closed loop, the last axis of every array.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, Flags, array_of

G0: Final = 9.80665
"""Standard gravity [m/s2]."""
FILM: Final = 0.002
"""Depth of water that stands in a hollow before it creeps on along the seal [m]: judgement."""
REAR_BAND: Final = 0.05
"""How far from the rearmost station the seal's joint may lie and still be at the rear [m]: judgement."""

HOW_TO_WEIGH: Final = (
    "Cut {length} of the seal and lay it on kitchen scales.",
    "Lay a stiff board on it that is longer than the seal, and set the scales to nought.",
    "Press the board down level to half of the squeeze that you expect, between two blocks of the right height, "
    "and read the scales.",
    "Do it again at the whole squeeze, with lower blocks.",
    "Wait a minute before each reading: rubber gives way slowly, and the later figure is the one that counts.",
)
"""How the two points of the curve are got at home, step by step; `length`: of the sample, about `SAMPLE`, in words."""
SAMPLE: Final = 0.2
"""Length of seal that is weighed [m]: kitchen scales carry it."""


def seal_length(length: ArrayLike, width: ArrayLike, corner_radius: ArrayLike) -> Array:
    """Return the length of the seal [m], [...], round a rectangle with rounded corners.

    s = 2 (a + b) - (8 - 2 pi) r                                                                 (1)

    `length` a and `width` b over the seal's middle line, `corner_radius` r of that line [m], each [...].
    ValueError where two corners do not fit on a side.

    >>> round(float(seal_length(2.4, 1.4, 0.0)), 3)
    7.6
    """
    a, b, r = array_of(length), array_of(width), array_of(corner_radius)
    if np.any(2 * r > np.minimum(a, b) + 1e-12):
        raise ValueError("the corners are larger than the sides")
    return np.asarray(2 * (a + b) - (8 - 2 * np.pi) * r)


@dataclass(frozen=True, slots=True)
class Gaps:
    """What the seal must fill: `least` and `most` gap and how much they differ (`spread`), all [m], [...]."""

    least: Array
    most: Array
    spread: Array


def gaps_to_fill(low: ArrayLike, high: ArrayLike) -> Gaps:
    """Return the range that the seal must fill, from a gap chart `low` to `high` [m], each [..., k] over stations."""
    least, most = array_of(low).min(axis=-1), array_of(high).max(axis=-1)
    return Gaps(least, most, np.asarray(most - least))


def squeezed(free_height: ArrayLike, gap: ArrayLike) -> Array:
    """Return the squeeze [m], [..., k], of a seal of `free_height` [m], [...], in a `gap` [m], [..., k]; 0 or more."""
    return np.asarray(np.maximum(array_of(free_height)[..., None] - array_of(gap), 0.0))


def weighed(reading: ArrayLike, sample_length: ArrayLike) -> Array:
    """Return the force per length [N/m], [...], from a `reading` of scales [kg] under a sample of `sample_length` [m].

    f = m g / l (2); the reading is without the board. ValueError for a sample without length.

    >>> round(float(weighed(1.0, 0.2)), 2)
    49.03
    """
    length = array_of(sample_length)
    if np.any(length <= 0):
        raise ValueError("the sample must have a length")
    return np.asarray(array_of(reading) * G0 / length)


def per_metre(per_100_mm: ArrayLike) -> Array:
    """Return the force per length [N/m] from a list's `per_100_mm` [N for 100 mm of seal], [...]: ten times it (3)."""
    return np.asarray(10.0 * array_of(per_100_mm))


@dataclass(frozen=True, slots=True)
class SealCurve:
    """Force per length over squeeze: f = `force_at` (s / `at`)^`power` (4).

    `at` [m], `force_at` [N/m], `power` [1]; 1 is a straight line, more a seal that stiffens. Each [...].
    """

    at: Array
    force_at: Array
    power: Array

    def force(self, squeeze: ArrayLike) -> Array:
        """Return the force per length [N/m] at a `squeeze` [m], [...]; nothing where the seal does not touch."""
        share = np.maximum(array_of(squeeze), 0.0) / self.at
        return np.asarray(self.force_at * share**self.power)


def curve_through(
    squeeze: ArrayLike, force: ArrayLike, half_squeeze: ArrayLike | None = None, half_force: ArrayLike | None = None
) -> SealCurve:
    """Return the curve of a seal through one or two measured points.

    n = ln(f2 / f1) / ln(s2 / s1)                                                                (5)

    Parameters
    ----------
    squeeze: the whole squeeze s2 [m], [...]. force: f2 there [N/m], [...].
    half_squeeze: a lesser squeeze s1 [m], [...]; None for a straight line. half_force: f1 there [N/m], [...].

    Validity: between the points; a seal pressed flat is far stiffer. ValueError for points that are not above nought or
    do not rise.
    """
    s2, f2 = array_of(squeeze), array_of(force)
    if np.any(s2 <= 0) or np.any(f2 <= 0):
        raise ValueError("squeeze and force must be above nought")
    if half_squeeze is None or half_force is None:
        return SealCurve(s2, f2, np.ones(np.broadcast_shapes(s2.shape, f2.shape)))
    s1, f1 = array_of(half_squeeze), array_of(half_force)
    if np.any(s1 <= 0) or np.any(f1 <= 0) or np.any(s1 >= s2) or np.any(f1 >= f2):
        raise ValueError("the second point must be squeezed further and push harder than the first")
    return SealCurve(s2, f2, np.asarray(np.log(f2 / f1) / np.log(s2 / s1)))


@dataclass(frozen=True, slots=True)
class SealPush:
    """What the seal pushes up with: `force` [N] and the place `x` where it acts [m], each [...]."""

    force: Array
    x: Array


def push(curve: SealCurve, squeeze: ArrayLike, step: ArrayLike, x: ArrayLike) -> SealPush:
    """Return the push of the whole seal and where it acts.

    F = sum f(s_i) l_i (6),  x = sum f(s_i) l_i x_i / F (7); where nothing touches, x is the mean place.

    Parameters
    ----------
    curve: of the seal, its numbers [m], [N/m] and [1] shaped to broadcast against `squeeze` (over a travel: [..., 1,
    1]).
    squeeze: at each station [m], [..., k]; over a travel [..., n, k].
    step: length of seal that each station stands for [m], [..., k]. x: its place along the van [m], [..., k].
    """
    line = curve.force(squeeze) * array_of(step)
    force = line.sum(axis=-1)
    places = np.broadcast_to(array_of(x), line.shape)
    none = force <= 0
    at = np.where(none, places.mean(axis=-1), (line * places).sum(axis=-1) / np.where(none, 1.0, force))
    return SealPush(force, at)


def latch_pull(pushed: SealPush, hinge_x: ArrayLike, latch_x: ArrayLike, latches: int) -> Array:
    """Return what each of so many `latches` pulls down with against the seal alone [N], [...].

    Moments about the hinge: P = F (x - x_h) / ((x_l - x_h) n)                                   (8)

    `pushed` [N] at [m]; `hinge_x` and `latch_x` [m], [...]. Wind, springs and bumps come on top. ValueError for no
    latch.
    """
    if latches < 1:
        raise ValueError("there must be a latch")
    hinge = array_of(hinge_x)
    return np.asarray(pushed.force * (pushed.x - hinge) / ((array_of(latch_x) - hinge) * latches))


def parked(z: ArrayLike, x: ArrayLike, y: ArrayLike, pitch: ArrayLike, roll: ArrayLike) -> Array:
    """Return heights [m], [..., k], of points x, y, z on a van parked nose up by `pitch`, left up by `roll`.

    h = z + x sin(pitch) + y sin(roll) (9), points [m], [..., k], angles [rad], [...]. Source: derivation, small angles.
    """
    up, over = np.sin(array_of(pitch))[..., None], np.sin(array_of(roll))[..., None]
    return np.asarray(array_of(z) + array_of(x) * up + array_of(y) * over)


def standing_water(height: ArrayLike, drain: ArrayLike | None = None, depth: float = FILM) -> Flags:
    """Return the stations of the seal along which water stands, [..., k].

    From each lowest place water spreads both ways as long as the seal's foot stays within `depth` above it (10); a
    hollow that overflows into a deeper one within that depth, and one that holds a drain, stays dry.

    Parameters
    ----------
    height: of the roof along the seal, outside it [m], [..., k], in order round the closed loop.
    drain: 1 at stations with a drain or an open end [1], [..., k]; None for none.
    depth: of standing water [m].
    """
    h = array_of(height)
    out = np.zeros(h.shape, dtype=bool) if drain is None else np.broadcast_to(array_of(drain) > 0.5, h.shape)
    wet = np.zeros(h.shape, dtype=bool)
    for at in range(h.shape[-1]):
        foot = h[..., at : at + 1]
        low = np.roll(h, -at, axis=-1) <= foot + depth
        ahead = np.logical_and.accumulate(low, axis=-1)
        back = np.logical_and.accumulate(np.roll(low, -1, axis=-1)[..., ::-1], axis=-1)[..., ::-1]
        back = np.roll(back, 1, axis=-1)
        pool = np.roll(ahead | back, at, axis=-1)
        lowest = np.where(pool, h, np.inf).min(axis=-1, keepdims=True)
        drained = (pool & out).any(axis=-1, keepdims=True)
        wet |= pool & (lowest >= foot) & ~drained
    return wet


def wet_length(wet: Flags, step: ArrayLike) -> Array:
    """Return the length of seal in water [m], [...]; `wet` [..., k], `step` of each station [m], [..., k]."""
    return np.asarray((wet * array_of(step)).sum(axis=-1))


@dataclass(frozen=True, slots=True)
class Stretch:
    """One stretch of wet seal, from station `first` to `last` round the loop; `lowest` is where a drain would sit."""

    first: int
    last: int
    lowest: int


def stretches(wet: Flags, height: ArrayLike) -> tuple[Stretch, ...]:
    """Return the wet stretches of one row, `wet` [k] with `height` [m], [k]; one may run over the end of the loop."""
    k, h = wet.size, array_of(height)
    if wet.all():
        return (Stretch(0, k - 1, int(h.argmin())),)
    found = []
    for first in np.flatnonzero(wet & ~np.roll(wet, 1)):
        run = [int(first)]
        while wet[(run[-1] + 1) % k]:
            run.append((run[-1] + 1) % k)
        found.append(Stretch(run[0], run[-1], min(run, key=lambda i: float(h[i]))))
    return tuple(found)


def joint_station(x: ArrayLike, height: ArrayLike) -> int:
    """Return where the seal's ends should meet: the highest station at the rear, of one row `x`, `height` [m], [k].

    At the rear the wind of driving draws away from the joint; the highest place there is the driest. Common practice.
    """
    xs, h = array_of(x), array_of(height)
    return int(np.where(xs <= xs.min() + REAR_BAND, h, -np.inf).argmax())


def joint_to_water(wet: Flags, step: ArrayLike, joint: int) -> Array:
    """Return how far along the seal [m], [...], the joint lies from the nearest standing water.

    `wet` [..., k], `step` of each station [m], [..., k], `joint` its station. Half the loop where all is dry.
    """
    steps = np.broadcast_to(array_of(step), wet.shape)
    mid = np.cumsum(steps, axis=-1) - steps / 2
    loop = steps.sum(axis=-1, keepdims=True)
    one_way = np.abs(mid - mid[..., joint : joint + 1])
    apart = np.minimum(one_way, loop - one_way)
    return np.asarray(np.where(wet, apart, loop / 2).min(axis=-1))
