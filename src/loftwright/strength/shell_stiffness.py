"""How stiff the shell is along and in twist: from a test at home with a known weight and a tape, or from its build.

The shell counts as one beam from its hinged end to its lip: EI [N m2] is its bending stiffness along, GJ [N m2] its
stiffness in twist. Arrays are [...] over rows and broadcast.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, array_of
from loftwright.reference.laminate import SKINS, Skins


def bending_from_test(force: ArrayLike, span: ArrayLike, sinks: ArrayLike) -> Array:
    """Return the bending stiffness EI of a shell laid over two lines of support, loaded across its middle [N m2].

        EI = F L^3 / (48 w)                                                                      (1)

    The supports and the weight reach over the whole width (battens); `sinks` is the middle's reading with the weight
    less that without it, each against a string between the supports.

    force: F, the weight laid on [N]; span: L between the supports [m]; sinks: w [m], > 0; each [...].
    It holds for the shell as it is, its ribs and the give of a soft core at that span included.
    Source: simply supported beam with a load at mid-span, AISC Manual Table 3-23 (from memory).

    >>> round(float(bending_from_test(100.0, 1.4, 0.00499633)), 2)
    1144.17
    """
    return array_of(force) * array_of(span) ** 3 / (48 * array_of(sinks))


def twist_from_test(force: ArrayLike, width: ArrayLike, length: ArrayLike, sinks: ArrayLike) -> Array:
    """Return the twist stiffness GJ of a shell on three corners with a weight on the fourth [N m2].

    A weight F on the free corner pushes that end down at one side with F; the support at its other corner pushes up
    with F. That is a torque T = F b, and the end turns by w / b against the other end, a away:

        GJ = T a / (w / b) = F a b^2 / w                                                         (2)

    The same from a plate: with w(x, y) = w x y / (a b) three corners stay and the corner force is
    2 D (1 - nu) d2w/dxdy, so D (1 - nu) = F a b / (2 w); a strip of width b has GJ = 2 b D (1 - nu), which is (2).
    The corner diagonally across from the weight is pulled up with F: hold it down with at least as much. Own weight
    does not do so, for it rests on the other two.

    force: F [N]; width: b, across, length: a, along, between the corners [m]; sinks: w, with the weight less without
    [m], > 0; each [...]. Valid while w is small against the depth of a flat panel's skin or sandwich: beyond about one
    thickness it stiffens by stretching. Source: derivation; Timoshenko and Woinowsky-Krieger, section 11 (from memory).

    >>> round(float(twist_from_test(50.0, 1.2, 2.0, 0.020)), 6)
    7200.0
    """
    return array_of(force) * array_of(length) * np.square(array_of(width)) / array_of(sinks)


def reading_doubt(
    force: ArrayLike,
    force_doubt: ArrayLike,
    sinks: ArrayLike,
    tape: ArrayLike,
    *,
    lengths: ArrayLike = 0.0,
) -> Array:
    """Return the doubt of a stiffness from a test, as a part of it, two standard deviations [1].

        d = sqrt((dF / F)^2 + 2 (tape / w)^2 + lengths^2)                                        (3)

    Two readings are taken for w, each within the tape's doubt.

    force, force_doubt: F and its doubt [N]; sinks: w [m]; tape: doubt of one reading [m]; lengths: doubt of L^3 or
    a b^2 as a part [1]; each [...], doubts of two standard deviations. Source: derivation, doubts in independent
    factors.

    >>> round(float(reading_doubt(200.0, 5.0, 0.020, 0.002)), 4)
    0.1436
    """
    w = array_of(sinks)
    return np.sqrt(
        (array_of(force_doubt) / array_of(force)) ** 2 + 2 * (array_of(tape) / w) ** 2 + np.square(array_of(lengths))
    )


def per_degree(twist: ArrayLike, length: ArrayLike) -> Array:
    """Return the moment that twists the shell by one degree from end to end [N m per deg].

    (4) M = GJ / a pi / 180. twist: GJ [N m2]; length: a, end to end [m]; each [...]. Source: definition.

    >>> round(float(per_degree(7200.0, 2.0)), 3)
    62.832
    """
    return array_of(twist) / array_of(length) * (np.pi / 180)


def twist_of_degree(moment: ArrayLike, length: ArrayLike) -> Array:
    """Return the twist stiffness GJ from the moment that twists the shell by one degree end to end [N m2].

    (5) GJ = M a 180 / pi. moment: M [N m per deg]; length: a [m]; each [...]. Source: (4) turned round.

    >>> round(float(twist_of_degree(62.832, 2.0)))
    7200
    """
    return array_of(moment) * array_of(length) * (180 / np.pi)


@dataclass(frozen=True, slots=True)
class Part:
    """A flat part of a cross-section: `modulus` [Pa], `width` across and `height` [m], its middle at `z` [m]."""

    modulus: float
    width: float
    height: float
    z: float


def bending_of(parts: Sequence[Part]) -> float:
    """Return the bending stiffness EI of a cross-section of flat parts that bend as one [N m2].

        EI = sum E (b h^3 / 12 + b h (z - z0)^2),   z0 = sum E b h z / sum E b h                 (6)

    parts: skins, ribs, walls [Pa, m]. Valid for thin parts well joined, none of which buckles.
    Source: Timoshenko, Strength of Materials, composite beams (from memory).

    >>> faces = [Part(70e9, 1.0, 0.001, 0.0), Part(70e9, 1.0, 0.001, 0.021)]
    >>> round(bending_of(faces), 1)
    15446.7
    """
    weights = [part.modulus * part.width * part.height for part in parts]
    middle = sum(w * part.z for w, part in zip(weights, parts, strict=True)) / sum(weights)
    return sum(w * (part.height**2 / 12 + (part.z - middle) ** 2) for w, part in zip(weights, parts, strict=True))


def shear_flow(torque: ArrayLike, enclosed: ArrayLike) -> Array:
    """Return the shear per length in the walls of a thin closed box under twist [N/m].

    (7) q = T / (2 A). torque: T [N m]; enclosed: A, area within the walls' middle line [m2]; each [...].
    The stress is q over the wall's thickness. Source: Bredt; Megson, Aircraft Structures, ch. 18; read in a public
    reproduction.

    >>> round(float(shear_flow(100.0, 0.06)), 3)
    833.333
    """
    return array_of(torque) / (2 * array_of(enclosed))


def closed_constant(enclosed: ArrayLike, walls: Sequence[tuple[ArrayLike, ArrayLike]]) -> Array:
    """Return the torsion constant J of a thin closed box [m4].

    (8) J = 4 A^2 / sum(s / t). enclosed: A [m2]; walls: each one's length s and thickness t [m]; each [...].
    Valid for thin walls, closed all round without slip. Source: Bredt; read in a public reproduction.

    >>> round(float(closed_constant(0.06, [(1.0, 0.0025), (1.0, 0.0025), (0.06, 0.0025), (0.06, 0.0025)])) * 1e12)
    16981132
    """
    slender = np.zeros(())
    for length, thickness in walls:
        slender = slender + array_of(length) / array_of(thickness)
    return np.asarray(4 * np.square(array_of(enclosed)) / slender)


def open_constant(walls: Sequence[tuple[ArrayLike, ArrayLike]]) -> Array:
    """Return the torsion constant J of a thin section that is slit or open below [m4].

    (9) J = sum(s t^3 / 3). walls: each one's length s and thickness t [m], each [...]. Walls kept from warping add to
    it, so a short tray is stiffer than this. Source: St. Venant; read in a public reproduction.

    >>> round(float(open_constant([(2.12, 0.0025)])) * 1e12, 2)
    11041.67
    """
    total = np.zeros(())
    for length, thickness in walls:
        total = total + array_of(length) * array_of(thickness) ** 3 / 3
    return np.asarray(total)


@dataclass(frozen=True, slots=True)
class StiffnessRange:
    """Bending stiffness EI and twist stiffness GJ of a shell [N m2], each as (low, high)."""

    bending: tuple[float, float]
    twist: tuple[float, float]


CARRIES: float = 0.5
"""Least part of the section that carries as one [1]: judgement, for thin skins that flatten, joints that slip, soft
cores, and the width's middle that hardly pulls along."""


def _one(skins: Skins, end: int, width: float, sides: float, cavity: float | None) -> tuple[float, float]:
    modulus, shear = skins.modulus[end], skins.shear[end]
    outer, inner, apart = skins.outer[end], skins.inner[end], skins.apart[end]
    parts = [Part(modulus, width, outer, 0.0)]
    if inner > 0:
        parts.append(Part(modulus, width, inner, -apart))
    if sides > 0:
        walls = outer + (inner if skins.shears else 0.0)
        parts.append(Part(modulus, 2 * walls, sides, -sides / 2))
    around = width + 2 * sides
    constant = float(open_constant([(around, outer)]))
    if skins.shears and inner > 0:
        # A pair of skins on a core is a flat closed box, whose short ends count for nothing.
        constant = float(closed_constant(around * apart, [(around, outer), (around, inner)]))
    if cavity is not None and cavity > 0:
        parts.append(Part(modulus, width, outer, -cavity))
        shut = closed_constant(width * cavity, [(width, outer), (width, outer), (2 * cavity, outer)])
        constant = max(constant, float(shut))
    carries = CARRIES if end == 0 else 1.0
    return carries * bending_of(parts), carries * shear * constant


def stiffness_by_layup(
    made_of: str, width: float, sides: float, *, cavity: float = 0.0, lined: bool | None = None
) -> StiffnessRange:
    """Return the range of a shell's stiffness from its build: a tray of skins, open below or closed by a liner.

    EI by (6) of skin, ribs or inner skin, two side walls, and liner; GJ by (9) where it is open, by (8) where two skins
    or a liner close it. The low end is a light build of which `CARRIES` carries, the high end a sturdy one.

    Parameters
    ----------
    made_of: the word of the lay-up, `reference.layups.LAYUPS`; "unknown" spans all.
    width: of the shell across [m].
    sides: height of its side walls [m]; 0 for a flat panel.
    cavity: between skin and a liner bonded all round [m].
    lined: whether there is such a liner; None when not known, which spans open and closed.

    Returns
    -------
    `StiffnessRange`. A closed box can be a thousand times stiffer in twist than an open tray, so an unknown liner
    leaves twist unknown: test it.

    Errors: ValueError for an unknown word, or a liner without a cavity. Source: derivation.

    >>> found = stiffness_by_layup("glass-fibre", 1.2, 0.08)
    >>> [round(value) for value in (*found.bending, *found.twist)]
    [2677, 15256, 17, 208]
    """
    if made_of != "unknown" and made_of not in SKINS:
        raise ValueError(f"{made_of} is no known lay-up")
    if lined and cavity <= 0:
        raise ValueError("a liner needs a cavity")
    known = list(SKINS.values()) if made_of == "unknown" else [SKINS[made_of]]
    ways = [cavity] if lined else [None] if lined is False or cavity <= 0 else [None, cavity]
    found = [[_one(skins, end, width, sides, way) for end in (0, 1)] for skins in known for way in ways]
    lows, highs = [pair[0] for pair in found], [pair[1] for pair in found]
    return StiffnessRange(
        (min(v[0] for v in lows), max(v[0] for v in highs)), (min(v[1] for v in lows), max(v[1] for v in highs))
    )
