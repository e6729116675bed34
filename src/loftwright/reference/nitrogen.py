"""Nitrogen as a gas spring holds it: closed forms fitted to the reference equation of state.

Each fit is a plain polynomial, so that a spring needs no property library at run time. At zero
pressure both fall back to the ideal gas exactly.
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
        [0.24386, 0.00134, -0.01411, 0.00192],
        [-0.04387, 0.01117, -0.00056, -0.00033],
    ]
)
"""Coefficients h[i, j] of p(T)/p(T0) = 1 + t + sum h[i, j] t^(i+1) v^(j+1), t = T/T0 - 1, v = p/10 MPa."""

HEATING_ERROR = 1.0e-4
"""Largest relative error of the heating fit over its range (found: 0.6e-4)."""

SQUEEZING: Array = np.array(
    [
        [0.2201, -0.0113, -0.0129],
        [-0.6455, -0.0715, 0.1098],
        [1.0048, 0.3810, -0.3339],
    ]
)
"""Coefficients s[i, j] of m = 1.4 + sum s[i, j] t^i v^(j+1), gas squeezed to 1/1.3 of its volume."""

SPREADING: Array = np.array(
    [
        [0.1565, 0.0029, -0.0075],
        [-0.4152, -0.1379, 0.0719],
        [0.5784, 0.5208, -0.2285],
    ]
)
"""The same for gas let out to 1.3 times its volume."""

EXPONENT_ERROR = 0.010
"""Largest error of either exponent over its range (found: 0.0092 and 0.0083)."""

SOURCE = Source(
    "Span, Lemmon, Jacobsen, Wagner and Yokozeki, J. Phys. Chem. Ref. Data 29 (2000) 1361",
    "reference equation of state for nitrogen, evaluated with CoolProp and fitted here",
    "paper",
)
