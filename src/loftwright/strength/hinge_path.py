"""How what a hinge plate pushes with gets to the roof's bows, and what thin skin would do alone."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, Flags

REACH = 0.03
"""A channel counts as fastened to a bow that its end passes or misses by no more than this [m]; judgement."""


@dataclass(frozen=True, slots=True)
class PathToBows:
    """Where the load of one hinge plate goes.

    `bow_force` [rows, bows] push of each bow on the channel [N], up; `left_over` [rows] moment that no pair of bows
    takes [N m], the whole of it where fewer than two are reached; `moment` [rows] greatest in the channel [N m];
    `reached` [rows, bows].
    """

    bow_force: Array
    left_over: Array
    moment: Array
    reached: Flags

    @property
    def counts(self) -> Array:
        """How many bows are reached [1], [rows]."""
        return np.asarray(self.reached.sum(axis=-1), dtype=np.float64)

    @property
    def count(self) -> int:
        """How many bows are reached in the first row."""
        return int(self.counts.flat[0])


def path_to_bows(
    start: ArrayLike, end: ArrayLike, bows: ArrayLike, hinge: ArrayLike, lift: ArrayLike, turning: ArrayLike
) -> PathToBows:
    """Return how a stiff inner channel spreads a hinge plate's load over the bows it is fastened to.

    R_i = -F/n - (M - F (c - x_h)) (x_i - c) / sum (x_j - c)^2 with c the middle of the bows reached (1), as on equal
    springs: the channel much stiffer than the bows. With one bow R = -F and the moment M + F (x_h - c) is left over to
    skin and ring (2).

    `start` and `end` of the channel along x and `hinge` x_h [m], each [rows]; `bows` [bows] or [rows, bows] [m];
    `lift` F [N] up and `turning` M [N m] (lifting what lies ahead) on the channel, each [rows].
    """
    first, last, at, lifted, turned = np.broadcast_arrays(
        *(np.asarray(v, dtype=np.float64) for v in (start, end, hinge, lift, turning))
    )
    rows = lifted.shape
    x = np.broadcast_to(np.asarray(bows, dtype=np.float64), (*rows, np.shape(bows)[-1]))
    inside = (x >= np.minimum(first, last)[..., None] - REACH) & (x <= np.maximum(first, last)[..., None] + REACH)
    count = inside.sum(axis=-1)
    many = np.maximum(count, 1)
    middle = np.where(count > 0, np.where(inside, x, 0.0).sum(axis=-1) / many, at)
    away = np.where(inside, x - middle[..., None], 0.0)
    about = turned + lifted * (at - middle)
    spread = (away**2).sum(axis=-1)
    pair = spread > 1e-9
    tilted = away * (np.where(pair, about, 0.0) / np.where(pair, spread, 1.0))[..., None]
    force = np.where(inside, -(lifted / many)[..., None] - tilted, 0.0)
    # Bending just behind and just ahead of each place, from what acts behind it.
    at_hinge = (force * np.maximum(at[..., None] - x, 0.0)).sum(axis=-1)
    greatest = np.maximum(np.abs(at_hinge), np.abs(at_hinge - turned))
    for k in range(x.shape[-1]):
        here = x[..., k]
        from_bows = (force * np.maximum(here[..., None] - x, 0.0)).sum(axis=-1)
        from_hinge = np.where(at < here, lifted * (here - at) - turned, 0.0)
        greatest = np.maximum(greatest, np.where(inside[..., k], np.abs(from_bows + from_hinge), 0.0))
    alone = np.where(count > 0, np.abs(about), np.abs(turned))
    return PathToBows(
        force, np.asarray(np.where(pair, 0.0, alone)), np.asarray(np.where(pair, greatest, alone)), inside
    )


def skin_alone(force: Array, patch: Array, spacing: Array, thickness: Array, young: Array) -> tuple[Array, Array]:
    """Return how deep thin skin dents [m] and how hard it is stressed [Pa] when it carries a push by itself.

    A square panel between bows, simply supported, pushed in its middle over a small circle:
    w = 0.1267 F s^2 / (E t^3) (3), stress = 3 F / (2 pi t^2) (1.3 ln(2 s / (pi r)) + 0.435) (4), Poisson 0.3.

    `force` [N], radius `patch` r of the plate, `spacing` s of the bows and `thickness` t of the skin [m], `young` [Pa],
    each [...]. Validity: dents under half the thickness; beyond that the skin pulls like a membrane and dents
    less than said, which is why the answer is only good for saying that skin alone will not do.
    Source: Young and Budynas, Roark's Formulas for Stress and Strain, 7th ed., Table 11.4, case 1b, a/b = 1;
    constants read in a public reproduction.
    """
    push = np.abs(force)
    radius = np.where(patch < 0.5 * thickness, np.sqrt(1.6 * patch**2 + thickness**2) - 0.675 * thickness, patch)
    dent = 0.1267 * push * spacing**2 / (young * thickness**3)
    stress = 3 * push / (2 * np.pi * thickness**2) * (1.3 * np.log(2 * spacing / (np.pi * radius)) + 0.435)
    return np.asarray(dent), np.asarray(stress)


def push_of_plate(lift: Array, turning: Array, plate: Array) -> Array:
    """Return the push at the worse end of a hinge plate [N]: |F| / 2 + |M| / b (5).

    `lift` F [N] and `turning` M [N m] on it, `plate` b its length [m]; each [...].
    """
    return np.asarray(np.abs(lift) / 2 + np.abs(turning) / plate)
