"""How a hinge at one end carries the shell from closed to open.

One driving angle q [rad], zero when closed and never falling, moves everything.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.choices import End
from loftwright.core.motion import Travel, column, fractions, turning


def hinge_travel(hinge_x: ArrayLike, hinge_z: ArrayLike, opens: ArrayLike, *, end: End, stations: int = 121) -> Travel:
    """Return the travel of a shell that turns on a hinge at one end.

    (1) q = fraction x opens; phi = -q (hinge at the front) or +q (hinge at the rear).

    hinge_x, hinge_z [m], opens [rad, > 0]: shaped [...]. Valid for any opening.
    Source: derivation, rotation about a fixed axis.

    >>> travel = hinge_travel(2.0, 0.0, 0.5, end="front", stations=3)
    >>> lip = travel.shell.point(0.0, 0.0)
    >>> [round(float(z), 6) for z in lip.z]
    [0.0, 0.494808, 0.958851]
    """
    hx, hz, total = np.broadcast_arrays(*(np.asarray(v, dtype=np.float64) for v in (hinge_x, hinge_z, opens)))
    fraction = fractions(stations)
    q = column(total) * fraction
    sign = -1.0 if end == "front" else 1.0
    return Travel(fraction, q, turning(hx, hz, sign * q, np.full_like(q, sign), np.zeros_like(q)), ())
