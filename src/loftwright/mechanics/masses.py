"""A rigid body in the side view, and several as one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.motion import Array


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """Mass [kg], centre (x, z) [m] and inertia about the centre in the side view [kg m2]; each [...]."""

    mass: Array
    x: Array
    z: Array
    inertia: Array

    def inertia_about(self, x: ArrayLike, z: ArrayLike) -> Array:
        """Return the inertia [kg m2], [...], about an axis across the van at (x, z) [m]."""
        px, pz = np.asarray(x, dtype=np.float64), np.asarray(z, dtype=np.float64)
        return self.inertia + self.mass * ((self.x - px) ** 2 + (self.z - pz) ** 2)


def body(mass: ArrayLike, x: ArrayLike, z: ArrayLike, inertia: ArrayLike = 0.0) -> Body:
    """Return a body of `mass` [kg] at (`x`, `z`) [m], each [...]; without `inertia` [kg m2] it is a point."""
    return Body(*(np.asarray(v, dtype=np.float64) for v in (mass, x, z, inertia)))


def combine(kept: Sequence[Body], removed: Sequence[Body] = ()) -> Body:
    """Return the one body made of the `kept` ones without the `removed` ones.

    A removed body counts with negative mass, so that its moment changes sign too:

        m = sum m_i,   x = sum m_i x_i / m,   z = sum m_i z_i / m                                (1)
        I = sum I_i + m_i ((x_i - x)^2 + (z_i - z)^2)                                            (2)

    Parameters
    ----------
    kept, removed: bodies with arrays [...] that broadcast; leading axes are draws.

    Errors: ProjectFault when more is taken away than there is, in any draw.
    Source: FAA-H-8083-1, four-column method for equipment changes; parallel axes.

    >>> van = [body(2450, 1.5, 0.78), body(38, 1.9, 2.45), body(22, 1.7, 2.52)]
    >>> total = combine(van, [body(14, 2.6, 2.3)])
    >>> float(total.mass), round(float(total.x), 6), round(float(total.z), 6)
    (2496.0, 1.501683, 0.812236)
    """
    parts = [(b, 1.0) for b in kept] + [(b, -1.0) for b in removed]
    mass = np.asarray(sum(sign * b.mass for b, sign in parts), dtype=np.float64)
    if not np.all(mass > 0):
        there = np.min(np.asarray(sum(b.mass for b in kept)))
        gone = np.max(np.asarray(sum(b.mass for b in removed)))
        raise ProjectFault(
            [
                Fault(
                    "[[item]] mass of what comes off",
                    f"up to {gone:.3g} kg",
                    f"it must be less than the {there:.3g} kg there is",
                    'check the items with state = "remove" and the mass of the shell',
                )
            ]
        )
    x = np.asarray(sum(sign * b.mass * b.x for b, sign in parts)) / mass
    z = np.asarray(sum(sign * b.mass * b.z for b, sign in parts)) / mass
    inertia = np.asarray(sum(sign * b.inertia_about(x, z) for b, sign in parts), dtype=np.float64)
    if np.any(inertia < 0):
        raise ProjectFault(
            [
                Fault(
                    "[[item]] place of what comes off",
                    "too far from the shell's centre for its mass",
                    "it must have been part of the shell as weighed",
                    'check x, z and mass of the items with state = "remove"',
                )
            ]
        )
    return Body(mass, x, z, inertia)
