"""Gas spring sizes that are made: rod, force, stroke, bore and friction bands.

The bands say what is usual, so that a slip in a builder's figure can be seen. They are no limits of strength.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.motion import Array

SIZES_SOURCE = Source("GB/T 39433-2020, Gas spring design calculation", "Annex C, Table C.1", "standard")
STROKE_SOURCE = Source("GB/T 39433-2020, Gas spring design calculation", "clause 7.3.2", "standard")
FRICTION_SOURCE = Source("GB/T 39433-2020, Gas spring design calculation", "Annex B, Tables B.1 and B.2", "standard")


@dataclass(frozen=True, slots=True)
class RodSize:
    """What is usual for one rod: forces [N], longest stroke [m], bores [m]."""

    rod_diameter: float
    least_force: float
    greatest_force: float
    longest_stroke: float
    least_bore: float
    greatest_bore: float


RODS: tuple[RodSize, ...] = (
    RodSize(0.006, 50.0, 300.0, 0.150, 0.012, 0.014),
    RodSize(0.008, 200.0, 550.0, 0.200, 0.016, 0.020),
    RodSize(0.010, 300.0, 850.0, 0.300, 0.020, 0.024),
    RodSize(0.012, 450.0, 1200.0, 0.400, 0.022, 0.026),
    RodSize(0.014, 600.0, 1600.0, 0.450, 0.024, 0.028),
    RodSize(0.016, 800.0, 2100.0, 0.500, 0.028, 0.032),
    RodSize(0.018, 1000.0, 2700.0, 0.600, 0.032, 0.036),
    RodSize(0.020, 1250.0, 3300.0, 0.800, 0.036, 0.040),
)

TOP_PRESSURE = 13.0e6
"""Highest recommended pressure inside [Pa]. Source: `SIZES_SOURCE`."""

SAFETY_STROKE = 0.005
"""Least stroke to keep in hand beyond the working stroke [m]. Source: `STROKE_SOURCE`."""

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

LOCKABLE_FRICTION: tuple[tuple[float, float], ...] = (
    (200.0, 50.0),
    (400.0, 75.0),
    (600.0, 90.0),
    (800.0, 110.0),
    (1000.0, 130.0),
    (float("inf"), 150.0),
)
"""The same for springs that lock."""


def greatest_friction(force: ArrayLike, *, lockable: bool = False) -> Array:
    """Return the greatest usual moving friction [N] for a specified force [N], [...].

    The standard does not say in the pages read whether this is F3 - F1 or half of it; trade text
    takes the friction as half, so twice this figure is the widest loop to expect.
    Source: `FRICTION_SOURCE`.

    >>> greatest_friction([100.0, 500.0, 2000.0]).tolist()
    [25.0, 60.0, 150.0]
    """
    bands = LOCKABLE_FRICTION if lockable else COMPRESSION_FRICTION
    tops = np.array([top for top, _ in bands])
    most = np.array([friction for _, friction in bands])
    return np.asarray(most[np.searchsorted(tops, np.asarray(force, dtype=np.float64), side="left")])
