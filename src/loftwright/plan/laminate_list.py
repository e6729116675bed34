"""Glass mat, resin and what goes with them, by area.

Thickness and weight of a laminate are those of `reference.layups`: t = (w / 3.072) (2.56 / psi - 1.36) [mm, kg/m2] is
its rule of mixtures with glass of 2560 and resin of 1200 kg/m3.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.errors import Bug
from loftwright.core.fitting_views import Part
from loftwright.core.motion import Array, array_of
from loftwright.plan.parts import best_pack
from loftwright.reference.consumables import (
    BOND_LAP,
    CATALYST,
    CATALYST_DENSITY,
    CLEANER,
    FILLER_DENSITY,
    FILLER_TIN,
    MAT_LAP,
    MAT_ROLL,
    MAT_WASTE,
    RESIN_PACKS,
    RESIN_WASTE,
)
from loftwright.reference.layups import mat_laminate, mat_thickness


@dataclass(frozen=True, slots=True, eq=False)
class Batch:
    """What a laminate takes: `glass`, `resin`, `laminate`, `catalyst` [kg], and how `thick` [m] it is, each [...]."""

    glass: Array
    resin: Array
    laminate: Array
    catalyst: Array
    thick: Array


@dataclass(frozen=True, slots=True)
class Patch:
    """A field that is laminated: `length` and `width` [m], in so many `layers` of mat of `weight` [kg/m2]."""

    name: str
    length: float
    width: float
    layers: int
    weight: float


def lapped_area(length: ArrayLike, width: ArrayLike, roll: float = MAT_ROLL, lap: float = MAT_LAP) -> Array:
    """Return the mat in one layer of a field, laid in strips along its length that lap over one another.

        n = ceil((b - u) / (r - u)),   A = l (b + (n - 1) u)                                     (1)

    Parameters
    ----------
    length: l [m], [...].
    width: b across the strips [m], [...].
    roll: r, width of the roll [m].
    lap: u, how far a strip lies on the next [m].

    Returns
    -------
    Area of mat [m2], [...]. Errors: Bug unless the roll is wider than the lap.
    Source: derivation; the lap of 50 mm is that of `MAT_LAP`.

    >>> round(float(lapped_area(2.0, 1.8)), 9)  # two strips of 0.95 m lap once: 2 x 1.85
    3.7
    """
    if not roll > lap >= 0:
        raise Bug(f"a roll of {roll} m cannot lap {lap} m")
    wide = array_of(width)
    strips = np.maximum(np.ceil((wide - lap) / (roll - lap) - 1e-9), 1.0)
    return np.asarray(array_of(length) * (wide + (strips - 1.0) * lap))


def bonding_area(length: ArrayLike, strip: ArrayLike, lap: ArrayLike = BOND_LAP) -> Array:
    """Return the mat in one layer that bonds a wood strip to a skin: A = l (b + 2 u)   (2).

    Parameters
    ----------
    length: l of the strip [m], [...].
    strip: b, its width round its faces [m], [...].
    lap: u, on the skin each side [m], [...].

    Returns
    -------
    Area [m2], [...]. Source: boat building, from memory (`BOND_LAP`).
    """
    return np.asarray(array_of(length) * (array_of(strip) + 2.0 * array_of(lap)))


def batch(area: ArrayLike, glass_weight: ArrayLike, glass_fraction: ArrayLike, catalyst: float = CATALYST) -> Batch:
    """Return what a laminate takes.

        m_glass = A w,   m = m_glass / psi,   m_resin = m - m_glass                              (3)

    Parameters
    ----------
    area: A of mat, laps counted [m2], [...].
    glass_weight: w of all layers together [kg/m2], [...].
    glass_fraction: psi, glass mass over laminate mass [1], 0 < psi < 1, [...].
    catalyst: over resin by mass [1].

    Returns
    -------
    `Batch`, net of waste; its thickness is where nothing laps.
    Source: a public laminating hand-out (read): 6 kg of glass at 30 % make 20 kg and take 14 kg of resin.

    >>> round(float(batch(6.0, 1.0, 0.30).resin), 9)
    14.0
    """
    glass = array_of(area) * array_of(glass_weight)
    laminate = mat_laminate(glass, glass_fraction)
    resin = np.asarray(laminate - glass)
    thick = mat_thickness(glass_weight, glass_fraction)
    return Batch(np.asarray(glass), resin, laminate, np.asarray(catalyst * resin), thick)


def laminate_parts(
    patches: Sequence[Patch], source: str, *, glass_fraction: float = 0.30, filler: float = 0.0
) -> tuple[Part, ...]:
    """Return mat, resin, catalyst, filler and cleaner for the `patches`; nothing where there are none.

    Parameters
    ----------
    patches: fields with their sizes and layers.
    source: key of the answer they come from.
    glass_fraction: psi [1].
    filler: volume of thickened resin in coves and dents [m3].

    Rollers, brushes and pots are in the note of the resin. Waste: `MAT_WASTE`, `RESIN_WASTE`.
    """
    parts = []
    resin = 0.0
    for weight in sorted({patch.weight for patch in patches}):
        laid = [patch for patch in patches if patch.weight == weight]
        area = sum(patch.layers * float(lapped_area(patch.length, patch.width)) for patch in laid)
        resin += float(batch(area, weight, glass_fraction).resin)
        grams = f"{weight * 1000:.0f} g/m2"
        names = "; ".join(dict.fromkeys(patch.name for patch in laid))
        sold = f"metre off a roll {MAT_ROLL * 1000:.0f} mm wide"
        parts.append(
            Part(
                f"mat-{weight * 1000:.0f}",
                f"chopped strand mat {grams}",
                "laminate",
                area,
                "m2",
                MAT_WASTE,
                MAT_ROLL,
                sold,
                source,
                names,
            )
        )
    if resin > 0:
        bought = resin * (1 + RESIN_WASTE)
        pack = best_pack(bought, RESIN_PACKS)
        note = "with rollers, brushes and pots; flammable, keep cool and aired"
        hard = "an oxidiser that blinds: goggles and gloves, never beside the accelerator"
        litres = CATALYST * resin / CATALYST_DENSITY
        parts += [
            Part(
                "resin",
                "polyester resin",
                "laminate",
                resin,
                "kg",
                RESIN_WASTE,
                pack,
                source=source,
                note=note,
                packed_in="tin",
            ),
            Part(
                "catalyst",
                "catalyst for the resin",
                "laminate",
                litres,
                "l",
                RESIN_WASTE,
                0.1,
                source=source,
                note=hard,
                packed_in="bottle",
            ),
            Part(
                "cleaner",
                "cleaner for tools",
                "laminate",
                CLEANER * resin,
                "l",
                0.0,
                1.0,
                source=source,
                packed_in="tin",
            ),
        ]
    if filler > 0:
        mass = 1000.0 * filler * FILLER_DENSITY
        parts.append(
            Part(
                "filler",
                "polyester filler",
                "laminate",
                mass,
                "kg",
                RESIN_WASTE,
                FILLER_TIN,
                source=source,
                packed_in="tin",
            )
        )
    return tuple(parts)
