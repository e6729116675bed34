"""What the wall is made of as one strip, and the quick estimates of its fold from closed forms.

Numbers are [...] and broadcast, but for `strand_of`, which makes one strip for the slow answer.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import gamma, pi, sqrt
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.cloth.chain import Strand
from loftwright.core.motion import Array, array_of

G0: Final = 9.80665
"""Standard acceleration of fall [m/s2]."""
CONTACT_LEAST: Final = 0.002
"""Least thickness at which cloth is taken to lie on cloth [m]: it never lies flat. Judgement."""
QUILTED_BOND: Final = 0.3
"""How far a quilted wall stands from free layers towards glued ones, in logarithms [1]: fleece shears. Judgement."""
TIP_OVER: Final = (0.010, 0.015)
"""How far the tip of one fold reaches beyond half the surplus height [m]: from trials of an elastic chain."""
TIP_WIDE: Final = (-0.005, 0.025)
"""The same, wide enough for every build of the trials."""
LOOP: Final = (0.70, 0.95)
"""Height of a free bundle of one fold over the bending length [1]: from trials of an elastic chain."""
VALID: Final = "one strip 0.3 to 1.0 m high, gap 20 to 100 mm, bending length 25 to 70 mm, folding inward only"
"""Where the quick estimates were tried."""

PLATES: Final = (sqrt(pi) * gamma(0.75) / gamma(1.25)) ** 2 / 2
"""Push of a fold between two plates, in B / D2 [1]: half the square of the integral of sqrt(sin) over a half turn."""


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of a wall: `mass` [kg/m2], `thickness` [m], `bending_length` [m] as the overhang test gives it."""

    name: str
    mass: float
    thickness: float
    bending_length: float

    @property
    def stiffness(self) -> float:
        """Its own stiffness in bending [N m]."""
        return float(stiffness_of(self.mass, self.bending_length))


def stiffness_of(mass: ArrayLike, bending_length: ArrayLike) -> Array:
    """Return the stiffness in bending B = w c3 (1) [N m], w = m g.

    `mass` [kg/m2]; `bending_length` c [m], half the overhang at which a strip's chord falls to 41.5 degrees; [...].
    Source: Peirce, The handle of cloth as a measurable quantity, J. Text. Inst. 21 (1930), formula derived.

    >>> round(float(stiffness_of(0.5, 0.045)) * 1e6, 1)
    446.8
    """
    return np.asarray(array_of(mass) * G0 * array_of(bending_length) ** 3)


def bending_length_of(mass: ArrayLike, stiffness: ArrayLike) -> Array:
    """Return the bending length c = (B / (m g))^(1/3) (1) [m] from `mass` m [kg/m2] and `stiffness` B [N m], [...]."""
    return np.asarray(np.cbrt(array_of(stiffness) / (array_of(mass) * G0)))


def stiffness_ends(layers: tuple[Layer, ...]) -> tuple[float, float]:
    """Return the stiffness [N m] of `layers` free to slip, the sum of their own (1), and glued into one sheet.

    Glued: sum of B + E t d2 about the common middle (2), E = 12 B / t3 for each layer. The truth lies between.
    ValueError without layers.
    Source: bending of layered sheets, derivation.
    """
    if not layers:
        raise ValueError("a wall needs a layer")
    own = np.array([layer.stiffness for layer in layers])
    thick = np.array([layer.thickness for layer in layers])
    stretch = 12 * own / thick**2
    middle = np.cumsum(thick) - thick / 2
    neutral = np.sum(stretch * middle) / np.sum(stretch)
    return float(np.sum(own)), float(np.sum(own + stretch * (middle - neutral) ** 2))


def strand_of(
    layers: tuple[Layer, ...],
    length: float,
    *,
    bond: float = 0.0,
    measured: float | None = None,
    contact_least: float = CONTACT_LEAST,
) -> Strand:
    """Return the strip of `layers` moving as one, `length` [m] from clamp to clamp.

    Masses and thicknesses add up, the latter not below `contact_least` [m]. The stiffness lies at the share `bond`
    [1] between layers free to slip (0) and glued (1), in logarithms; `QUILTED_BOND` for quilted ones. A bending length
    `measured` [m] on the made-up wall overrides it.
    Source: sums; the share is judgement.
    """
    free, glued = stiffness_ends(layers)
    mass = sum(layer.mass for layer in layers)
    stiffness = free ** (1 - bond) * glued**bond if measured is None else float(stiffness_of(mass, measured))
    return Strand(length, mass, stiffness, max(sum(layer.thickness for layer in layers), contact_least))


def loop_length(layers: tuple[Layer, ...], bond: float = 0.0) -> float:
    """Return the bending length [m] that sets how high the loops of `layers` stand.

    The greatest of every run of neighbouring layers taken by itself (1), bound at the share `bond` [1] as in
    `strand_of`: a heavy limp layer beside a stiff one weighs it down, which is left out, so that a layer more never
    makes the loops lower. ValueError without layers.
    Source: bound from above, derivation.
    """
    if not layers:
        raise ValueError("a wall needs a layer")
    count = len(layers)
    runs = [layers[i:j] for i in range(count) for j in range(i + 1, count + 1)]
    strands = [strand_of(run, 1.0, bond=bond) for run in runs]
    return max(float(bending_length_of(strand.mass, strand.stiffness)) for strand in strands)


def quick_depth(
    height: ArrayLike, cavity: ArrayLike, folds: int = 1, over: tuple[float, float] = TIP_OVER
) -> tuple[Array, Array]:
    """Return least and greatest depth [m] to which the tip of a fold reaches inward, by rule of thumb.

    ((H - cavity) / 2 + over) / folds (1), never below nought; `height` H of the wall's cloth and `cavity`, the gap
    that is left when closed [m], [...]; `over` [m] the ends of what the tip takes beyond, `TIP_WIDE` for a first,
    wide answer.
    Validity: `VALID`. Source: trials of an elastic chain, derivation.

    >>> [round(float(v), 3) for v in quick_depth(0.5, 0.06)]
    [0.23, 0.235]
    """
    surplus = np.maximum(array_of(height) - array_of(cavity), 0.0) / 2
    low, high = ((np.maximum(surplus + end, 0.0)) / folds for end in over)
    return np.asarray(low), np.asarray(high)


def hang_bound(length: ArrayLike, gap: ArrayLike, ledge: ArrayLike, folds: int = 1) -> Array:
    """Return how far below the ring a fold can hang at most [m], drawn taut over the inner edge of the ring's top.

    From the lower line over the `ledge` b, down by h, up again and over that edge to the upper line is
    b + 2 h + sqrt(b2 + g2), so that h = (L / n - b - sqrt(b2 + (g / n)2)) / 2 (1), never below nought. `length` L of
    the wall's cloth, `gap` g that is left when closed, width `ledge` b of the ring's top [m], [...]; `folds` n.
    Exact for a string; cloth that bends hangs less. Source: taut string round an edge, derivation.

    >>> round(float(hang_bound(0.5, 0.04, 0.03)), 4)
    0.21
    """
    across, apart = array_of(ledge), array_of(gap) / folds
    return np.asarray(np.maximum(array_of(length) / folds - across - np.hypot(across, apart), 0.0) / 2)


def quick_bundle(bending_length: ArrayLike, thickness: ArrayLike, folds: int = 1) -> tuple[Array, Array]:
    """Return least and greatest height [m] of a free bundle, by rule of thumb.

    The loops stand `LOOP` times the bending length (1), half as much again for a second fold (2), and never less than
    2 + 2 folds layers lying flat (3). `bending_length` and `thickness` of the wall [m], [...].
    Validity: `VALID`. Source: trials of an elastic chain, derivation.
    """
    flat = straight_layers(folds) * array_of(thickness)
    loops = array_of(bending_length) * (1 + 0.5 * (folds - 1))
    return np.asarray(np.maximum(LOOP[0] * loops, flat)), np.asarray(np.maximum(LOOP[1] * loops, flat))


def straight_layers(folds: int) -> int:
    """Return how many layers lie on one another in a straight wall, its loops counted as one more each."""
    return 2 + 2 * folds


def plate_push(stiffness: ArrayLike, gap: ArrayLike) -> Array:
    """Return the push [N/m] of one weightless fold pressed between two plates, P = 2.871 B / D2 (1).

    `stiffness` B [N m] and `gap` D [m] between the middles of the outer layers, [...]. From B k2 / 2 = P sin(theta) (2)
    along the fold, D = sqrt(B / (2 P)) times the integral of sqrt(sin(theta)) over a half turn (3).
    Validity: the ends leave the plates flat and free of moment. Source: plane elastica, derivation.

    >>> round(float(plate_push(0.35 * 9.80665 * 0.04**3, 0.03)), 3)
    0.701
    """
    return np.asarray(PLATES * array_of(stiffness) / array_of(gap) ** 2)


def crease_radius(gap: ArrayLike) -> Array:
    """Return the least radius [m] in a fold whose outer layers lie `gap` [m] apart, R = D / 2.396 (1), [...].

    At the tip k = sqrt(2 P / B) with P of `plate_push`. Source: plane elastica, derivation.
    """
    return np.asarray(array_of(gap) / sqrt(2 * PLATES))
