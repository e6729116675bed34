"""Nitrogen as a gas spring holds it: closed forms fitted to the reference equation of state.

Each fit is a plain polynomial, so that a spring needs no property library at run time. At zero
pressure both fall back to the ideal gas exactly. How they were fitted: docs/derivations/nitrogen_fit.py.
"""

from __future__ import annotations

import numpy as np

from loftwright.core.checks import Source
from loftwright.core.motion import Array

FILLED_AT = 293.15
"""Temperature at which listed forces hold, 20 C [K]."""

AIR_PRESSURE = 101_325.0
"""Pressure of the air outside the spring [Pa]: the standard atmosphere."""

FIT_PRESSURE = 1.0e7
"""Pressure that scales the fits [Pa]."""

COLDEST, HOTTEST = 243.0, 363.0
"""Temperatures between which the fits were made [K]."""

HIGHEST_PRESSURE = 2.0e7
"""Absolute pressure at 20 C up to which the fits were made [Pa]."""

HEATING: Array = np.array(
    [
        [0.24297, 0.00297, -0.01513, 0.00213],
        [-0.04447, 0.01185, -0.00085, -0.0003],
    ]
)
"""Coefficients h[i, j] of p(T)/p(T0) = 1 + t + sum h[i, j] t^(i+1) v^(j+1), t = T/T0 - 1, v = p/10 MPa."""

HEATING_ERROR = 1.0e-4
"""Largest relative error of the heating fit over its range (found: 0.6e-4)."""

SQUEEZING: Array = np.array(
    [
        [0.2173, -0.0064, -0.0155],
        [-0.6448, -0.0912, 0.1213],
        [1.3097, 0.0975, -0.2525],
    ]
)
"""Coefficients s[i, j] of m = 1.4 + sum s[i, j] t^i v^(j+1), gas squeezed to 1/1.3 of its volume."""

SPREADING: Array = np.array(
    [
        [0.1581, -0.0004, -0.0064],
        [-0.4705, -0.0662, 0.0509],
        [1.0162, 0.0443, -0.096],
    ]
)
"""The same for gas let out to 1.3 times its volume."""

EXPONENT_ERROR = 0.007
"""Largest error of either exponent over its range (found: 0.0056 and 0.0062)."""

SOURCE = Source(
    "Span, Lemmon, Jacobsen, Wagner and Yokozeki, J. Phys. Chem. Ref. Data 29 (2000) 1361",
    "reference equation of state for nitrogen, evaluated with CoolProp and fitted here",
    "paper",
)
