"""Voltage lost in a cable, and the cable that loses little enough.

Electrical units stand in plain words (ampere, volt, ohm). Extra-low voltage only, up to 60 V direct current: a panel or
several in series can exceed it, and then a builder without the training leaves it alone. Local rules come first.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, array_of
from loftwright.reference.wire import ALPHA, BEARS_AT, CONDUCTORS, INSULATION

NONE_FITS: Final = -1.0
"""Index given where not even the thickest conductor of the table is enough."""


def sizes(*, tinned: bool = False) -> tuple[Array, Array]:
    """Return area [m2] and resistance at 20 C per metre [ohm/m; ohm for 1 m] of the table's conductors, each [sizes].

    Source: IEC 60228, Table 3, class 5.
    """
    area = np.array([conductor.area for conductor in CONDUCTORS])
    return area, np.array([conductor.tinned if tinned else conductor.plain for conductor in CONDUCTORS])


def resistance(at_20: ArrayLike, temperature: ArrayLike) -> Array:
    """Return a conductor's resistance when warm.

        R' = R'_20 (1 + 0.004 (T - 20 C))                                                        (1)

    Parameters
    ----------
    at_20: resistance per metre at 20 C [ohm/m; 1 ohm for 1 m], [...].
    temperature: T of the copper [K], [...]; a closed roof in the sun is 60 C and the current adds to it.

    Returns
    -------
    Resistance per metre, [...].

    Source: IEC 60228, Annex, factors 250 / (230 + t); read in a public reproduction: 0.847 at 65 C.

    >>> round(1.0 / float(resistance(1.0, 273.15 + 65.0)), 3)
    0.847
    """
    return np.asarray(array_of(at_20) * (1.0 + ALPHA * (array_of(temperature) - 293.15)))


def drop(length: ArrayLike, current: ArrayLike, per_metre: ArrayLike) -> Array:
    """Return the voltage lost on the way there and back.

        dV = 2 l I R'                                                                            (2)

    Parameters
    ----------
    length: l, one way along the cable, loop and detours counted [m], [...].
    current: I [A; 1 ampere], [...].
    per_metre: R' of one conductor [ohm/m], [...].

    Returns
    -------
    Voltage, [...]. Joints, fuse and plugs lose some more.

    Source: derivation (Ohm's law). 5 m, 10 A, 4 mm2 plain: 0.495 V.

    >>> round(float(drop(5.0, 10.0, 4.95e-3)), 3)
    0.495
    """
    return np.asarray(2.0 * array_of(length) * array_of(current) * array_of(per_metre))


def thinnest(
    length: ArrayLike,
    current: ArrayLike,
    voltage: ArrayLike,
    share: ArrayLike = 0.03,
    temperature: ArrayLike = 293.15,
    *,
    tinned: bool = False,
) -> Array:
    """Return the thinnest conductor of the table whose drop stays within a share of the voltage.

    Parameters
    ----------
    length: one way [m], [...].
    current: through the cable, the panel's at its best working point [A; 1 ampere], [...].
    voltage: of that stretch, the panel's or the battery's [V; 1 volt], [...].
    share: drop over voltage that is allowed [1], [...].
    temperature: of the copper [K], [...].
    tinned: whether the strands are tinned.

    Returns
    -------
    Index into `CONDUCTORS` [1], [...]; `NONE_FITS` where none is thick enough. It may still be too thin for the fuse.

    Source: derivation from (1) and (2).
    """
    _, at_20 = sizes(tinned=tinned)
    warm = resistance(at_20, array_of(temperature)[..., None])
    lost = drop(array_of(length)[..., None], array_of(current)[..., None], warm)
    fits = lost <= (array_of(share) * array_of(voltage))[..., None] * (1.0 + 1e-9)
    first = np.argmax(fits, axis=-1).astype(np.float64)
    return np.asarray(np.where(fits.any(axis=-1), first, NONE_FITS))


def bears(at_30: ArrayLike, air: ArrayLike, bundled: ArrayLike = 1.0, insulation: ArrayLike = INSULATION) -> Array:
    """Return the current that a single cable bears in warm air.

        I = I_30 b sqrt((T_i - T) / (70 C - 30 C)), nought where the air is hotter than T_i      (3)

    Parameters
    ----------
    at_30: I_30, what the table says at 30 C with a 70 C conductor [A; 1 ampere], [...].
    air: T round the cable [K], [...].
    bundled: b, share left when it lies against others or under insulation, 0.5 to 1 [1], [...].
    insulation: T_i that the insulation bears for years [K], [...]; printed on the cable or in its sheet.

    Returns
    -------
    Current, [...].

    Source: heat goes with the rise of temperature and comes with the square of the current: the square root that the
    correction factors of VDE 0298-4 and IEC 60364-5-52 follow (from memory: 0.71 at 50 C for PVC).

    >>> round(float(bears(1.0, 273.15 + 50.0)), 2)
    0.71
    """
    room = np.maximum(array_of(insulation) - array_of(air), 0.0) / (INSULATION - BEARS_AT)
    return np.asarray(array_of(at_30) * array_of(bundled) * np.sqrt(room))
