"""What is usual in gas springs that are made: pressure and friction.

The bands say what is usual, so that a slip in a builder's figure can be seen. They are no limits of strength.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.motion import Array

PRESSURE_SOURCE = Source("GB/T 39433-2020, Gas spring design calculation", "Annex C", "standard")
FRICTION_SOURCE = Source("GB/T 39433-2020, Gas spring design calculation", "Annex B, Tables B.1 and B.2", "standard")


TOP_PRESSURE = 13.0e6
"""Highest recommended pressure inside [Pa]. Source: `PRESSURE_SOURCE`."""

COMPRESSION_FRICTION: tuple[tuple[float, float], ...] = (
    (100.0, 25.0),
    (200.0, 30.0),
    (400.0, 40.0),
    (600.0, 60.0),
    (800.0, 80.0),
    (1000.0, 100.0),
    (1200.0, 130.0),
    (float("inf"), 150.0),
)
"""Force up to and including [N], greatest moving friction [N], plain springs. Source: `FRICTION_SOURCE`."""


def greatest_friction(force: ArrayLike) -> Array:
    """Return the greatest usual moving friction [N] of a plain spring for a specified force [N], [...].

    The standard does not say in the pages read whether this is F3 - F1 or half of it; trade text
    takes the friction as half, so twice this figure is the widest loop to expect.
    Source: `FRICTION_SOURCE`.

    >>> greatest_friction([100.0, 500.0, 2000.0]).tolist()
    [25.0, 60.0, 150.0]
    """
    tops = np.array([top for top, _ in COMPRESSION_FRICTION])
    most = np.array([friction for _, friction in COMPRESSION_FRICTION])
    return np.asarray(most[np.searchsorted(tops, np.asarray(force, dtype=np.float64), side="left")])
