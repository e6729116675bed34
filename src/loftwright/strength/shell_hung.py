"""Sag, gap and twist of a shell that hangs on its hinges and springs, or lies latched at its lip on its seal.

The shell is one beam from hinge line to lip with bending stiffness EI and twist stiffness GJ [N m2], see
`shell_stiffness`. Arrays are [...] over rows and broadcast.
"""

from __future__ import annotations

from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, array_of

Ends = Literal["pinned", "one fixed", "fixed"]
"""Whether hinge line and latch bar let the shell's ends turn, hold one of them, or hold both."""

FLAT_EDGE: Final = 1.15
"""How much more the free edges of a flat panel rise than a beam when its seal alone pushes along them [1].

Computed with plate elements for 2.0 by 1.2 m, Poisson's ratio 0.3; under even pressure it is 1.04.
"""

_MIDDLE: Final[dict[Ends, tuple[float, float]]] = {
    "pinned": (5 / 384, np.pi),
    "one fixed": (1 / 185, 3.92660),
    "fixed": (1 / 384, 4.73004),
}


def lip_droop(
    load: ArrayLike, at_lip: ArrayLike, to_springs: ArrayLike, beyond: ArrayLike, bending: ArrayLike
) -> Array:
    """Return how far the lip of the raised shell hangs below the line from hinge to spring heads [m].

        d = [w c (4 c^2 a - a^3 + 3 c^3) / 24 + P c^2 (a + c) / 3] / (EI)                        (1)

    A beam on the hinge and on the spring heads with an overhang to the lip. Less than nought: the lip stands up.

    load: w, weight per length square to the shell [N/m]; at_lip: P, brace, cloth or handle there [N]; to_springs: a,
    from hinge to heads, beyond: c, from heads to lip [m]; bending: EI [N m2]; each [...].
    Source: AISC Manual Table 3-23, beam overhanging one support (from memory).

    >>> round(float(lip_droop(150.0, 0.0, 0.7, 1.4, 3000.0)), 4)
    0.039
    """
    a, c = array_of(to_springs), array_of(beyond)
    spread = array_of(load) * c * (4 * c**2 * a - a**3 + 3 * c**3) / 24
    return np.asarray((spread + array_of(at_lip) * c**2 * (a + c) / 3) / array_of(bending))


def upward_line(seal: ArrayLike, suction: ArrayLike, width: ArrayLike, weight: ArrayLike) -> Array:
    """Return what lifts each length of a closed shell between hinge line and latch bar [N/m].

    (3) q = 2 seal + suction width - weight; less than nought, it lies down.

    seal: line force of one side's seal at its squeeze on the stops [N/m]; suction: of the air going by, upwards [Pa];
    width: of the shell [m]; weight: of each length of it [N/m]; each [...]. Source: derivation.

    >>> float(upward_line(100.0, 50.0, 1.2, 100.0))
    160.0
    """
    return 2 * array_of(seal) + array_of(suction) * array_of(width) - array_of(weight)


def side_rise(
    lifting: ArrayLike,
    length: ArrayLike,
    bending: ArrayLike,
    *,
    seal_stiffness: ArrayLike = 0.0,
    edge: ArrayLike = 1.0,
    ends: Ends = "pinned",
) -> Array:
    """Return how far the closed shell rises at mid-side, held only at hinge line and lip [m].

        w = edge C q L^4 / (EI) / (1 + k L^4 / (beta^4 EI))                                      (4)

    with C = 5/384, 1/185 or 1/384 and beta = pi, 3.9266 or 4.7300 for ends pinned, one fixed, fixed. The lower part
    stands for the seal, which pushes the less the more the shell rises.

    lifting: q by `upward_line` [N/m]; length: L, hinge line to latch bar [m]; bending: EI [N m2]; seal_stiffness: k,
    both seals' line force over their squeeze [N/m2]; edge: how much more the edges rise than the shell as a whole [1],
    1 with side walls or cross ribs, `FLAT_EDGE` for a flat panel without; each [...].
    Valid within a few per cent of the beam on springs, while the seal still presses. Source: AISC Manual Table 3-23
    (from memory); lowest bending shape of the beam.

    >>> round(float(side_rise(160.0, 2.0, 3000.0)), 4)
    0.0111
    """
    even, shape = _MIDDLE[ends]
    stiff = array_of(bending) / array_of(length) ** 4
    return np.asarray(
        array_of(edge) * even * array_of(lifting) / stiff / (1 + array_of(seal_stiffness) / (shape**4 * stiff))
    )


def twist_angle(torque: ArrayLike, length: ArrayLike, twist: ArrayLike) -> Array:
    """Return the angle by which a torque turns one end of the shell against the other [rad].

    (6) angle = T a / (GJ). torque: T [N m]; length: a, over which it twists [m]; twist: GJ [N m2]; each [...].
    Source: St. Venant.

    >>> round(float(twist_angle(100.0, 1.0, 2750e6 * 16981132e-12)), 8)
    0.00214141
    """
    return array_of(torque) * array_of(length) / array_of(twist)


def plate_rigidity(modulus: ArrayLike, thickness: ArrayLike, poisson: ArrayLike = 0.3) -> Array:
    """Return the bending rigidity of a flat skin [N m].

    (9) D = E t^3 / (12 (1 - nu^2)). modulus: E [Pa]; thickness: t [m]; poisson: nu [1]; each [...].
    Source: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, section 2 (from memory).

    >>> round(float(plate_rigidity(6400e6, 0.00315)), 3)
    18.318
    """
    return np.asarray(array_of(modulus) * array_of(thickness) ** 3 / (12 * (1 - np.square(array_of(poisson)))))


def panel_bulge(pressure: ArrayLike, along: ArrayLike, across: ArrayLike, rigidity: ArrayLike) -> Array:
    """Return how far a flat field of skin between ribs bulges in its middle, its four edges free to turn [m].

        w = 4 p a^4 / (pi^5 D) sum over odd m of (-1)^((m - 1) / 2) / m^5 (1 - (u tanh u + 2) / (2 cosh u)),
        u = m pi b / (2 a), a the shorter side                                                   (10)

    pressure: p [Pa]; along, across: its sides, a the shorter, b the longer [m]; rigidity: D [N m]; each [...].
    Valid up to about half a thickness; beyond, the skin stretches and bulges less. Source: Timoshenko and
    Woinowsky-Krieger, Theory of Plates and Shells, article 30 (from memory).

    >>> round(float(panel_bulge(250.0, 0.4, 0.4, 18.31846)) * 1000, 4)
    1.4193
    """
    sides = np.broadcast_arrays(array_of(along), array_of(across))
    a, b = np.minimum(*sides), np.maximum(*sides)
    odd = np.arange(1, 20, 2)
    # Beyond 300 the last bracket is 1 to every digit.
    u = np.minimum(odd * np.pi * b[..., None] / (2 * a[..., None]), 300.0)
    terms = (1 - (u * np.tanh(u) + 2) / (2 * np.cosh(u))) * (-1.0) ** ((odd - 1) // 2) / odd**5
    return np.asarray(4 * array_of(pressure) * a**4 / (np.pi**5 * array_of(rigidity)) * terms.sum(axis=-1))
