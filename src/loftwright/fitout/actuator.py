"""Linear actuators that drive the roof, alone or beside gas springs: force, stroke, step, rod and pinch.

The curve over the travel that crosses to here is the push still needed about the driving angle, Q(q) [N m/rad]: of
weight, cloth, seal, snow and friction, less what springs give where there are any. It is above nought where the roof
must be pushed open. Stations of the travel are the last axis of every array.

The roof is a powered closing thing: keep hands and heads out of it, hold the switch by hand with the roof in sight, and
fit a prop. None of this is an assessment of the safety of a machine; local rules come first.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.motion import Array, array_of

STEEL_MODULUS: Final = 206.0e9
"""Young's modulus of rod and screw [Pa]."""
LEAST_LEVER: Final = 1e-3
"""Leverage under which the actuator counts as standing dead in line with its hinge [m/rad]: keeps numbers finite."""
BUCKLING_MARGIN: Final = 3.0
"""Least bending load over greatest push [1]. Judgement: it covers play of the nut, a bow and mounts off the line."""

PINCH_LIMIT: Final = 100.0
"""Force on what is caught by a roof panel that closes by power and out of sight, before it must turn back [N]."""
PINCH: Final = Source(
    "cfr-49-571-118",
    "S5: turn back before 100 N on a rod of 4 to 200 mm; read in a public letter of interpretation. A figure to "
    "compare with: the standard is for makers of new vehicles",
    "standard",
)
DOOR_FORCES: Final = (400.0, 150.0, 0.75)
"""Forces allowed on powered doors of buildings: first [N], lasting [N], and after how long [s].

EN 12453, Annex A, gaps below half a metre; from memory. That standard leaves vehicles out: a caution, no limit here.
"""
EULER: Final = Source("timoshenko-gere", "P = pi^2 E I / (K L)^2, pinned ends (from memory)", "handbook")


def needed_force(needed: ArrayLike, lever: ArrayLike, actuators: int) -> Array:
    """Return what each of so many `actuators` must push with [N], [..., n]; below nought where it must pull.

    F = Q / (n dL/dq)                                                                            (1)

    `needed` Q is the push still wanting [N m/rad], [..., n]; `lever` dL/dq is how fast the pins draw apart [m/rad],
    [..., n]. Where the lever is under `LEAST_LEVER`, that is taken with its sign: the force then says "dead point".
    ValueError for no actuator. Source: virtual work.

    >>> needed_force([300.0], [0.25], 2).tolist()
    [600.0]
    """
    if actuators < 1:
        raise ValueError("there must be an actuator")
    dl = array_of(lever)
    safe = np.where(np.abs(dl) < LEAST_LEVER, np.copysign(LEAST_LEVER, dl), dl)
    return np.asarray(array_of(needed) / (actuators * safe))


@dataclass(frozen=True, slots=True)
class Hardest:
    """The greatest `push` and `pull` over the travel [N], 0 or more, and the `station` of the greater, each [...]."""

    push: Array
    pull: Array
    station: Array

    @property
    def most(self) -> Array:
        """The greater of push and pull [N]."""
        return np.asarray(np.maximum(self.push, self.pull))


def hardest(force: ArrayLike) -> Hardest:
    """Return the greatest push and pull of a `force` over the travel [N], [..., n]."""
    f = array_of(force)
    return Hardest(
        np.asarray(np.maximum(f.max(axis=-1), 0.0)),
        np.asarray(np.maximum(-f.min(axis=-1), 0.0)),
        np.asarray(np.abs(f).argmax(axis=-1), dtype=np.float64),
    )


@dataclass(frozen=True, slots=True)
class Spare:
    """How far the actuator could still draw in (`inward`) and reach out (`outward`) at the travel's ends [m], [...].

    `used` is the stroke that the travel takes [m]. Below nought the actuator comes to its end before the roof does.
    """

    used: Array
    inward: Array
    outward: Array


def spare_stroke(length: ArrayLike, retracted: ArrayLike, stroke: ArrayLike) -> Spare:
    """Return what is left of the stroke at both ends.

    used = max L - min L (2), inward = min L - L0 (3), outward = L0 + s - max L (4)

    `length` L between the pins over the travel [m], [..., n]; `retracted` L0 and `stroke` s of the actuator [m], [...].
    """
    path, short = array_of(length), array_of(retracted)
    least, most = path.min(axis=-1), path.max(axis=-1)
    return Spare(np.asarray(most - least), np.asarray(least - short), np.asarray(short + array_of(stroke) - most))


def apart(stroke: ArrayLike, spread: ArrayLike) -> Array:
    """Return how far two actuators that are not coupled come to stand apart [m], [...].

    d = s 2 e / (1 + e)                                                                          (5)

    `stroke` s used [m]; `spread` e by which each may be faster or slower than the middle [1]. It is worst when the
    faster one has arrived. Two that count turns and wait for each other keep to their counter's step instead.

    >>> round(float(apart(0.2, 0.05)), 4)
    0.019
    """
    e = array_of(spread)
    return np.asarray(array_of(stroke) * 2 * e / (1 + e))


def twist(difference: ArrayLike, lip_rate: ArrayLike, width: ArrayLike) -> Array:
    """Return by how much the shell is twisted from one side to the other [rad], [...].

    psi = d |dz/dL| / w (6): `difference` d of the actuators [m], `lip_rate` dz/dL, how fast the lip rises as the
    actuator grows [1], `width` w between the sides [m], each [...]. Small angles; a stiff shell loads its hinges
    instead.
    """
    return np.asarray(array_of(difference) * np.abs(array_of(lip_rate)) / array_of(width))


def rod_bends_at(core: ArrayLike, length: ArrayLike, fixity: ArrayLike = 1.0) -> Array:
    """Return the push at which the extended rod or screw bends sideways [N], [...].

    P = pi^2 E I / (K L)^2 (7), I = pi d^4 / 64 (8)

    `core` d of the screw or rod, at the thread's root [m]; `length` L pin to pin when extended [m]: the whole of it, as
    the housing is stiffer; `fixity` K [1], 1 for pins. Validity: elastic, straight, load in line; divide by
    `BUCKLING_MARGIN`. A hollow tube round the screw helps and is left out. Source: `EULER`.

    >>> round(float(rod_bends_at(0.008, 0.300)), 1)
    4542.1
    """
    inertia = np.pi / 64.0 * array_of(core) ** 4
    return np.asarray(np.pi**2 * STEEL_MODULUS * inertia / (array_of(fixity) * array_of(length)) ** 2)


def edge_force(
    force: ArrayLike, lever: ArrayLike, load: ArrayLike, edge_rate: ArrayLike, actuators: int, *, closing: bool = True
) -> Array:
    """Return the force on what is caught at an edge before the motor stalls or is cut off [N], [..., n].

    closing: P = (n F |dL/dq| + Q) / |ds/dq| (9); opening: P = (n F |dL/dq| - Q) / |ds/dq| (10); never below 0

    Parameters
    ----------
    force: F that each actuator comes to at stall or cut-off [N], [...].
    lever: dL/dq [m/rad], [..., n].
    load: Q that weight and cloth, less springs, pull the roof shut with [N m/rad], [..., n].
    edge_rate: ds/dq, how fast the edge moves [m/rad], [..., n]. actuators: how many.
    closing: whether the roof comes down. What is caught then carries the roof's own weight before the motor pulls.

    Source: virtual work. Near the hinge ds/dq goes to nought and nothing limits the force: guard that place.
    """
    drive = actuators * array_of(force)[..., None] * np.abs(array_of(lever))
    own = array_of(load) if closing else -array_of(load)
    rate = np.maximum(np.abs(array_of(edge_rate)), LEAST_LEVER)
    return np.asarray(np.maximum(drive + own, 0.0) / rate)
