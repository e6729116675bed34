"""Fit the closed forms of loftwright/reference/nitrogen.py to the reference equation of state, and print them.

The greatest error on an even grid of pressure and temperature is made as small as it can be, by linear programming;
the coefficients are then rounded to the decimals that the module holds. The property library CoolProp evaluates the
equation of state of Span and others (2000). Run:

    python docs/derivations/nitrogen_fit.py
"""

from __future__ import annotations

import CoolProp
import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog

from loftwright.reference.nitrogen import COLDEST, FILLED_AT, FIT_PRESSURE, HIGHEST_PRESSURE, HOTTEST

Array = NDArray[np.float64]

LOWEST_PRESSURE = 2.0e6
"""Absolute pressure at 20 C from which the fits were made [Pa]; below, the forms go over into the ideal gas."""
PRESSURES = np.linspace(LOWEST_PRESSURE, HIGHEST_PRESSURE, 19)
KELVINS = np.linspace(COLDEST, HOTTEST, 13)
SWELL = 1.3
"""Change of volume over which the quick exponents are means."""

GAS = CoolProp.AbstractState("HEOS", "Nitrogen")


def density(pressure: float, kelvin: float) -> float:
    GAS.update(CoolProp.PT_INPUTS, pressure, kelvin)
    return float(GAS.rhomass())


def shut_in(density_: float, kelvin: float) -> tuple[float, float]:
    """Return pressure [Pa] and entropy [J/(kg K)] of nitrogen of a given density."""
    GAS.update(CoolProp.DmassT_INPUTS, density_, kelvin)
    return float(GAS.p()), float(GAS.smass())


def without_heat(density_: float, entropy: float) -> float:
    GAS.update(CoolProp.DmassSmass_INPUTS, density_, entropy)
    return float(GAS.p())


def fitted(
    values: Array, t_powers: tuple[int, ...], v_powers: tuple[int, ...], decimals: int, scale: float | Array = 1.0
) -> Array:
    """Return c[i, j] of values = sum c[i, j] t^i v^j over the grid [pressures, kelvins].

    The greatest error e over `scale` is least: minimise e with -e <= (sum - value) / scale <= e at every place.
    """
    v = PRESSURES[:, None] / FIT_PRESSURE
    t = KELVINS / FILLED_AT - 1.0
    weight = (np.ones_like(values) / scale).ravel()
    terms = np.stack([(t**i * v**j).ravel() * weight for i in t_powers for j in v_powers], axis=-1)
    wanted, error = values.ravel() * weight, np.ones((values.size, 1))
    found = linprog(
        np.append(np.zeros(terms.shape[1]), 1.0),
        A_ub=np.block([[terms, -error], [-terms, -error]]),
        b_ub=np.concatenate([wanted, -wanted]),
        bounds=[(None, None)] * terms.shape[1] + [(0.0, None)],
    )
    return np.round(found.x[:-1].reshape(len(t_powers), len(v_powers)), decimals)


def heating() -> Array:
    """Return h[i, j] of p(T)/p(T0) = 1 + t + sum h[i, j] t^(i+1) v^(j+1), gas shut in at 20 C."""
    ratio = np.array([[shut_in(density(p, FILLED_AT), kelvin)[0] / p for kelvin in KELVINS] for p in PRESSURES])
    return fitted(ratio - KELVINS / FILLED_AT, (1, 2), (1, 2, 3, 4), 5, scale=ratio)


def exponents(swell: float) -> Array:
    """Return s[i, j] of m = 1.4 + sum s[i, j] t^i v^(j+1), gas brought to `swell` times its volume."""

    def exponent(pressure: float, kelvin: float) -> float:
        start = density(pressure, kelvin)
        quick = without_heat(start / swell, shut_in(start, kelvin)[1])
        slow = shut_in(start / swell, kelvin)[0]
        return float(np.log(quick / pressure) / np.log(slow / pressure))

    mean = np.array([[exponent(p, kelvin) for kelvin in KELVINS] for p in PRESSURES])
    return fitted(mean - 1.4, (0, 1, 2), (1, 2, 3), 4)


if __name__ == "__main__":
    for name, table in (("HEATING", heating()), ("SQUEEZING", exponents(1 / SWELL)), ("SPREADING", exponents(SWELL))):
        print(name, table.tolist())
