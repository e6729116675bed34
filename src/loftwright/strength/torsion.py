"""How much stiffer against twist a van body is with its roof whole, cut, and ringed: a range, with the reasons.

A body is no closed tube: doors cut its walls and thin skin wrinkles in shear. Arithmetic brackets the loss;
only the tape across the door openings settles it. None of it is a crash or roll-over assessment.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.strength.cutout_rules import BODY_TWIST, TWIST_GROWTH

REASONS: Final = (
    "Doors and windows cut the side walls and the rear: the body is not the closed tube of the formula.",
    "Thin skin wrinkles in shear early and then carries it in slanting folds, softer than flat skin.",
    "How the edges of the roof are held by the gutters and pillars lies between two extremes.",
    "Pillars, sills and the floor frame carry part of the twist by bending, which is left out.",
)

MEASURE: Final = "the door diagonals with one wheel on a kerb, before and after"
MEASURE_AGAIN: Final = "the door diagonals again on a higher kerb: the tape cannot tell this change"


def wall_flow(torque: ArrayLike, area: ArrayLike) -> Array:
    """Return the shear flow [N/m] in the wall of a closed thin tube: q = T / (2 A) (1).

    `torque` T [N m] and `area` A inside the middle line [m2], each [...].
    Source: Bredt's first formula; Johnson, Advanced Structural Mechanics, eq. 2.38.
    """
    return np.asarray(np.asarray(torque, dtype=np.float64) / (2.0 * np.asarray(area, dtype=np.float64)))


def closed_constant(area: ArrayLike, lengths: ArrayLike, thicknesses: ArrayLike) -> Array:
    """Return the torsion constant [m4] of a closed thin tube: J = 4 A^2 / sum(s / t) (1).

    `area` A inside the middle line [m2], [...]; wall `lengths` s and `thicknesses` t [m], each [..., walls]. A wall
    that is kept only in part counts with its thickness times its share.
    Source: Bredt's second formula; Johnson, Advanced Structural Mechanics, eq. 2.40.

    >>> round(float(closed_constant(0.06, [1.0, 0.06, 1.0, 0.06], [0.0025] * 4)) * 1e12)
    16981132
    """
    s, t = np.asarray(lengths, dtype=np.float64), np.asarray(thicknesses, dtype=np.float64)
    return np.asarray(4.0 * np.square(np.asarray(area, dtype=np.float64)) / np.sum(s / t, axis=-1))


def open_constant(lengths: ArrayLike, thicknesses: ArrayLike) -> Array:
    """Return the torsion constant [m4] of the same walls slit open: J = sum(s t^3) / 3 (1).

    Wall `lengths` s and `thicknesses` t [m], each [..., walls].
    Source: any text on torsion, e.g. Hartsuijker and Welleman, Engineering Mechanics vol. 2, section 6.3.

    >>> round(float(open_constant([1.0, 0.06, 1.0, 0.06], [0.0025] * 4)) * 1e12, 2)
    11041.67
    """
    s, t = np.asarray(lengths, dtype=np.float64), np.asarray(thicknesses, dtype=np.float64)
    return np.asarray(np.sum(s * t**3, axis=-1) / 3.0)


def wrinkling_stress(
    modulus: ArrayLike, poisson: ArrayLike, thickness: ArrayLike, one_side: ArrayLike, other_side: ArrayLike
) -> Array:
    """Return the shear stress [Pa] at which a flat rectangle of skin, hinged at its edges, wrinkles.

    tau = k pi^2 E / (12 (1 - nu^2)) (t / b)^2 (1), k = 5.34 + 4 (b / a)^2, a the longer side, b the shorter (2).

    `modulus` E [Pa], `poisson` nu [1], `thickness` t [m], `one_side` and `other_side` of the field between bows [m],
    each [...]. Validity: flat; a curved skin wrinkles later, one that is already dented earlier.
    Source: EN 1993-1-5:2006, Annex A, A.1 and A.3; Timoshenko and Gere, section 9.7.
    """
    e, nu, t, p, q = (np.asarray(v, dtype=np.float64) for v in (modulus, poisson, thickness, one_side, other_side))
    short, long = np.minimum(p, q), np.maximum(p, q)
    k = 5.34 + 4.0 * np.square(short / long)
    return np.asarray(k * np.pi**2 * e / (12.0 * (1.0 - nu**2)) * np.square(t / short))


def wrinkled_share(poisson: ArrayLike) -> Array:
    """Return the share of its shear stiffness [1] that skin keeps when wholly wrinkled between stiff edges.

    Slanting folds at 45 degrees carry G = E / 4 in place of E / (2 (1 + nu)), so (1 + nu) / 2 (1).

    `poisson` nu [1], [...]. Validity: far beyond the first wrinkle, surrounding bars that do not give; with bars
    that give it is less.
    Source: Wagner's pure diagonal tension, worked out in docs/theory-strength.md.

    >>> float(wrinkled_share(0.3))
    0.65
    """
    return np.asarray(0.5 * (1.0 + np.asarray(poisson, dtype=np.float64)))


@dataclass(frozen=True, slots=True)
class BodyWall:
    """One wall of the body beside the roof: `length` round the section and skin `thickness` [m], each [...].

    `share_low` and `share_high` [1], [...]: the least and most of its shear stiffness that doors, windows and
    wrinkling may leave it, above zero.
    """

    name: str
    length: ArrayLike
    thickness: ArrayLike
    share_low: ArrayLike
    share_high: ArrayLike


@dataclass(frozen=True, slots=True)
class TorsionRange:
    """Share of the body's stiffness against twist [1], each [...], as low and high ends, with the reasons why.

    `kept_cut` with the roof cut, `kept_ring` with the ring in, `given_back` what the ring adds.
    """

    kept_cut_low: Array
    kept_cut_high: Array
    kept_ring_low: Array
    kept_ring_high: Array
    given_back_low: Array
    given_back_high: Array
    reasons: tuple[str, ...]

    @property
    def lost_low(self) -> Array:
        """Least share that the cut takes [1], [...]."""
        return np.asarray(1.0 - self.kept_cut_high)

    @property
    def lost_high(self) -> Array:
        """Greatest share that the cut takes [1], [...]."""
        return np.asarray(1.0 - self.kept_cut_low)


def torsion_range(
    walls: tuple[BodyWall, ...],
    *,
    roof_length: ArrayLike,
    roof_thickness: ArrayLike,
    poisson: ArrayLike,
    kept_cut: tuple[ArrayLike, ArrayLike],
    kept_ring: tuple[ArrayLike, ArrayLike],
) -> TorsionRange:
    """Return how much stiffness against twist the body keeps, between the ends of what is not known.

    By `closed_constant` the enclosed area cancels: kept = (o + r) / (o + r / kappa) (1), o the sum of s / (t share)
    over the other walls, r = s / t of the roof and kappa the share its skin keeps. Least and greatest over the ends
    of o, of r (flat skin or wholly wrinkled, `wrinkled_share`) and of kappa (2).

    `roof_length` round the section and `roof_thickness` [m], `poisson` [1], each [...]; `kept_cut` and `kept_ring`
    [1] each for edges free to stretch and for edges that keep their length, [...].
    ValueError without another wall. One steel all round. Source: worked out in docs/theory-strength.md.
    """
    if not walls:
        raise ValueError("a body needs walls beside its roof")

    def path(share: str) -> Array:
        parts = [
            np.asarray(w.length, dtype=np.float64) / (np.asarray(w.thickness) * np.asarray(getattr(w, share)))
            for w in walls
        ]
        return np.asarray(sum(parts[1:], parts[0]))

    roof = np.asarray(roof_length, dtype=np.float64) / np.asarray(roof_thickness, dtype=np.float64)
    cut: list[Array] = []
    ring: list[Array] = []
    for others, skin, end in itertools.product(
        (path("share_high"), path("share_low")), (roof, roof / wrinkled_share(poisson)), (0, 1)
    ):
        whole = others + skin
        cut.append(np.asarray(whole / (others + skin / np.asarray(kept_cut[end], dtype=np.float64))))
        ring.append(np.asarray(whole / (others + skin / np.asarray(kept_ring[end], dtype=np.float64))))
    every = np.stack(np.broadcast_arrays(*cut, *ring))
    both = every.reshape(2, len(cut), *every.shape[1:])
    least, most = both.min(axis=1), both.max(axis=1)
    back = both[1] - both[0]
    return TorsionRange(least[0], most[0], least[1], most[1], back.min(axis=0), back.max(axis=0), REASONS)


@dataclass(frozen=True, slots=True)
class TapeTest:
    """What the tape says: twist after over twist before [1], stiffness kept [1] and its +- [1], each [...].

    `told` is whether the tape can tell the twist before from its own error.
    """

    growth: Array
    kept: Array
    plus_minus: Array
    told: bool


def diagonal_change(level_one: ArrayLike, level_two: ArrayLike, kerb_one: ArrayLike, kerb_two: ArrayLike) -> Array:
    """Return how far a door opening goes out of square [m] when one wheel climbs a kerb.

    (K1 - K2) - (L1 - L2) (1): the difference of its two diagonals on the kerb less that on level ground.

    Diagonals on the `level` (one and two) and on the `kerb` (one and two) [m], each [...]; the same diagonal first.
    """
    l1, l2, k1, k2 = (np.asarray(v, dtype=np.float64) for v in (level_one, level_two, kerb_one, kerb_two))
    return np.asarray((k1 - k2) - (l1 - l2))


def tape_test(
    before: ArrayLike,
    after: ArrayLike,
    *,
    plus_minus: ArrayLike,
    kerb_before: ArrayLike = 1.0,
    kerb_after: ArrayLike = 1.0,
) -> TapeTest:
    """Return the share of stiffness against twist kept after a step, from two changes of the door diagonals.

    kept = (d_b / h_b) / (d_a / h_a) (1), d the change and h the height of the kerb; with the same +- p on both
    changes its own is kept sqrt((p / d_b)^2 + (p / d_a)^2) (2), two standard deviations like p.

    Changes `before` and `after` by `diagonal_change` [m], their `plus_minus` [m] (of four readings, twice that of
    one), heights `kerb_before` and `kerb_after` [m], each [...].
    Validity: the same wheel, the same place of the load, small twist; the door opening must follow the body.
    Source: worked out in docs/theory-strength.md.

    >>> told = tape_test(0.004, 0.005, plus_minus=0.0005)
    >>> round(float(told.kept), 2), round(float(told.plus_minus), 2)
    (0.8, 0.13)
    """
    b, a, p = (np.asarray(v, dtype=np.float64) for v in (before, after, plus_minus))
    told = bool(np.all(np.abs(b) > p) and np.all(b * a > 0))
    if not told:
        nothing = np.full(np.broadcast_shapes(b.shape, a.shape), np.nan)
        return TapeTest(nothing, nothing, nothing, False)
    growth = (a / np.asarray(kerb_after, dtype=np.float64)) / (b / np.asarray(kerb_before, dtype=np.float64))
    kept = 1.0 / growth
    return TapeTest(np.asarray(growth), np.asarray(kept), np.asarray(kept * np.hypot(p / b, p / a)), True)


def judge_twist(found: TapeTest | None, *, most: ArrayLike = TWIST_GROWTH, which: str = "") -> Judged:
    """Return the rule on how much more the body twists than before the cut, against `most` [1], [...].

    Without a tape test it is not known: no sum made here can say that it holds. `which` names the step, "after the
    cut" or "after the ring".
    """
    if found is None:
        return Judged(BODY_TWIST, None, None, which=which, unknown=MEASURE, missing="door_diagonals")
    if not found.told:
        return Judged(BODY_TWIST, None, None, which=which, unknown=MEASURE_AGAIN, missing="door_diagonals")
    value, limit = np.broadcast_arrays(found.growth, np.asarray(most, dtype=np.float64))
    return Judged(BODY_TWIST, value, limit, which=which)
