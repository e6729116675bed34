"""The gas spring: its force over compression, temperature, age and speed.

Compression c is the extended length less the length at hand: 0 when the rod is fully out, the
stroke when it is fully in. Forces are of one spring and push its ends apart. Listed forces hold
at 20 C. Arrays: a field of `GasSpring` is [...] (draws), a compression is [..., n] (travel last).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.choices import ForceIs, FrictionIs
from loftwright.core.errors import Bug
from loftwright.core.motion import Array, column
from loftwright.reference.nitrogen import (
    AIR_PRESSURE,
    COLDEST,
    FILLED_AT,
    FIT_PRESSURE,
    HEATING,
    HIGHEST_PRESSURE,
    HOTTEST,
    SPREADING,
    SQUEEZING,
)

AGED_FACTOR = 0.92
"""Force left after a durability test, over the force when new. Source: `AGED_SOURCE`."""

AGED_SOURCE = Source(
    "Chinese automotive gas spring standard (QC/T 207, number from memory)",
    "force change after the durability test not above 8 %",
    "standard",
)

SLOW_SOURCE = Source("Boyle's law", "constant temperature, volume falling evenly with compression", "derivation")

SHORTEST_TUBE = 0.02
"""No tube is drawn or looked at shorter than this [m], whatever stroke is written."""

_LEAST_VOLUME = 0.1
# The slow law divides by the gas left over; a pose far beyond the stroke must not blow up.
_LEAST_SHARE = 0.01
# A spring with so much friction that it does not push in the cold still counts as one that pushes a little.


@dataclass(frozen=True, slots=True)
class GasSpring:
    """One gas spring, every field shaped [...].

    `force_1` F1 [N]: moving out, near full extension, 20 C, new; `ratio` r = F2/F1;
    `loop` full friction loop F3 - F1 [N]; `stroke` [m]; `extended` length between end centres
    with the rod fully out [m]; `rod_diameter` [m].
    """

    force_1: Array
    ratio: Array
    loop: Array
    stroke: Array
    extended: Array
    rod_diameter: Array

    def __post_init__(self) -> None:
        for name in ("force_1", "ratio", "stroke", "extended", "rod_diameter"):
            if not np.all(np.asarray(getattr(self, name)) > 0):
                raise Bug(f"a gas spring's {name} must be above zero")
        if not np.all(np.asarray(self.loop) >= 0):
            raise Bug("a gas spring's friction loop cannot be negative")


def full_loop(friction: ArrayLike, quoted_as: FrictionIs) -> Array:
    """Return the full friction loop F3 - F1 [N] from a listed friction [N].

    >>> float(full_loop(30.0, "half loop"))
    60.0
    """
    value = np.asarray(friction, dtype=np.float64)
    if quoted_as == "full loop":
        return value
    if quoted_as == "half loop":
        return 2.0 * value
    raise Bug(f"friction quoted as {quoted_as!r}")


def first_force(listed: ArrayLike, loop_full: ArrayLike, listed_as: ForceIs) -> Array:
    """Return F1 [N] from a list's single number [N] and the full friction loop [N].

    F3 = F1 + loop (1); middle = F1 + loop/2 (2).
    Source: terms F1 to F4 of the Chinese standard for compression gas springs (taken to be GB/T 25751-2010).

    >>> float(first_force(560.0, 60.0, "F3")), float(first_force(530.0, 60.0, "middle"))
    (500.0, 500.0)
    """
    value = np.asarray(listed, dtype=np.float64)
    loop = np.asarray(loop_full, dtype=np.float64)
    shares = {"F1": 0.0, "F3": 1.0, "middle": 0.5}
    if listed_as not in shares:
        raise Bug(f"force listed as {listed_as!r}")
    return value - shares[listed_as] * loop


def tube_length(extended: ArrayLike, stroke: ArrayLike) -> Array:
    """Return the length of the tube with its end fitting [m], [...]: what is left of `extended` without `stroke` [m].

    The tube sits at the head, the rod at the foot.
    """
    left = np.asarray(extended, dtype=np.float64) - np.asarray(stroke, dtype=np.float64)
    return np.asarray(np.maximum(left, SHORTEST_TUBE))


def rod_area(rod_diameter: ArrayLike) -> Array:
    """Return the section of the rod [m2] from its diameter [m]."""
    return np.pi / 4.0 * np.square(np.asarray(rod_diameter, dtype=np.float64))


def charge_pressure(force_1: ArrayLike, rod_diameter: ArrayLike) -> Array:
    """Return the gauge pressure [Pa] that pushes the rod out with F1 [N].

    p = F1 / (pi d^2 / 4) (1): the gas acts on both sides of the piston, so the bore cancels. What
    friction takes from F1 is half the loop: add it to `force_1` for the pressure of the gas itself.
    `force_1` [N] and `rod_diameter` d [m], each [...]. Source: equilibrium of rod and piston.

    >>> round(float(charge_pressure(785.398, 0.010)))
    9999998
    """
    return np.asarray(force_1, dtype=np.float64) / rod_area(rod_diameter)


def _powers(x: Array, first: int, count: int) -> Array:
    # Products one after the other: much quicker than powers by logarithm.
    found = np.empty((*x.shape, count))
    found[..., 0] = x if first else 1.0
    for i in range(1, count):
        found[..., i] = found[..., i - 1] * x
    return found


def pressure_ratio(absolute: ArrayLike, kelvin: ArrayLike) -> Array:
    """Return p(T)/p(20 C) of nitrogen shut in a fixed volume.

    p(T)/p = 1 + t + sum h_ij t^i v^j (1), t = T/293.15 K - 1, v = p/10 MPa.

    `absolute` pressure at 20 C [Pa], `kelvin` T [K]; both [...], broadcast.
    Validity: 243 to 363 K, 0 to 20 MPa, largest error 1e-4 (`nitrogen.HEATING_ERROR`); pressures
    above that are read at 20 MPa. At low pressure this is the ideal gas.
    Source: `nitrogen.SOURCE`.
    """
    v = np.clip(np.asarray(absolute, dtype=np.float64), 0.0, HIGHEST_PRESSURE) / FIT_PRESSURE
    t = np.asarray(kelvin, dtype=np.float64) / FILLED_AT - 1.0
    v, t = np.broadcast_arrays(v, t)
    terms = np.einsum("...i,ij,...j->...", _powers(t, 1, HEATING.shape[0]), HEATING, _powers(v, 1, HEATING.shape[1]))
    return np.asarray(1.0 + t + terms, dtype=np.float64)


def temperature_factor(pressure: ArrayLike, kelvin: ArrayLike) -> Array:
    """Return a spring's force at T over its force at 20 C, at one and the same compression.

    factor = ((p + pa) P - pa) / p (1), P = `pressure_ratio(p + pa, T)`, pa = 101 325 Pa.

    `pressure` gauge pressure at 20 C at that compression [Pa] (`charge_pressure`); `kelvin` [K]; both [...].
    Validity and error as `pressure_ratio`. A compressed spring holds denser gas and gains more per
    kelvin: the factor at full extension understates F2 by up to 1 % of force at 80 C (r = 1.3, 10 MPa);
    `at_temperature` treats both ends.

    >>> round(float(temperature_factor(10.0e6, 313.15)), 3)
    1.085
    """
    gauge = np.asarray(pressure, dtype=np.float64)
    absolute = gauge + AIR_PRESSURE
    return np.asarray((absolute * pressure_ratio(absolute, kelvin) - AIR_PRESSURE) / gauge, dtype=np.float64)


def at_temperature(spring: GasSpring, kelvin: ArrayLike) -> GasSpring:
    """Return the same spring as it behaves at T = `kelvin` [K], [...]: gas forces scale, friction does not.

    The gas pushes with the middle between moving out and in: F' = (F + loop/2) factor(p) - loop/2 (1) with
    p = (F + loop/2) / A and `temperature_factor`, for F1 and F2 = r F1, each by its own factor. Exact at both ends of
    the stroke within the fit's error; between them the slow law still holds. Friction stays as at 20 C. Use the
    result with factors that hold ageing and tolerance only. Source: equilibrium of rod and piston.

    >>> import numpy as np
    >>> s = GasSpring(*(np.array(v) for v in (500.0, 1.3, 60.0, 0.2, 0.5, 0.01)))
    >>> round(float(at_temperature(s, 338.15).force_1), 1)
    595.8
    """
    half = spring.loop / 2
    area = rod_area(spring.rod_diameter)

    def warmed(force: Array) -> Array:
        gas = force + half
        return np.asarray(gas * temperature_factor(gas / area, kelvin) - half)

    least = _LEAST_SHARE * (spring.force_1 + half)
    first = np.maximum(warmed(spring.force_1), least)
    second = np.maximum(warmed(spring.force_1 * spring.ratio), least)
    return replace(spring, force_1=first, ratio=second / first)


def compression(spring: GasSpring, between_ends: Array) -> Array:
    """Return c = extended - L [m], [..., n], from the distance between the ends L [m]."""
    return column(spring.extended) - between_ends


def gas_left(ratio: ArrayLike, stroke: ArrayLike, c: ArrayLike) -> Array:
    """Return what is left of the gas volume [1] once the rod is pressed in by `c` [m].

    1 - (1 - 1/r) c/s (1), never below a tenth. `ratio` r [1] and `stroke` s [m] broadcast against `c`.
    """
    taken = (1.0 - 1.0 / np.asarray(ratio, dtype=np.float64)) / np.asarray(stroke, dtype=np.float64)
    return np.asarray(np.maximum(1.0 - taken * np.asarray(c, dtype=np.float64), _LEAST_VOLUME))


def slow_force(spring: GasSpring, c: Array, factor: ArrayLike = 1.0) -> Array:
    """Return the force [N] while moving out slowly, gas at the temperature of the factor.

    F(c) = F1 / (1 - (1 - 1/r) c/s) factor (1).

    `c` [m], [..., n]; `factor` [...]: temperature, age, delivered tolerance multiplied together.
    Validity: 0 <= c <= s. A little beyond, the law is carried on smoothly;
    from 90 % of the gas volume on, the force stays level, so it is finite everywhere.
    Source: `SLOW_SOURCE`; r is the measured force ratio, so real gas is met exactly at c = 0 and c = s
    and within 0.15 % between (5 and 10 MPa, r = 1.3, a loop of 50 N).

    >>> import numpy as np
    >>> s = GasSpring(*(np.array(v) for v in (500.0, 1.3, 60.0, 0.2, 0.5, 0.01)))
    >>> slow_force(s, np.array([0.0, 0.2])).round(6).tolist()
    [500.0, 650.0]
    """
    left = gas_left(column(spring.ratio), column(spring.stroke), c)
    return np.asarray(column(spring.force_1) * column(factor) / left, dtype=np.float64)


def moving_out(spring: GasSpring, c: Array, factor: ArrayLike = 1.0) -> Array:
    """Return the force [N], [..., n], while the spring lengthens slowly (lifting): F1 to F2.

    Arguments as `slow_force`: compression `c` [m] and `factor` [1].
    """
    return slow_force(spring, c, factor)


def moving_in(spring: GasSpring, c: Array, factor: ArrayLike = 1.0) -> Array:
    """Return the force [N], [..., n], while the spring is pushed in slowly (lowering): F3 to F4.

    F_in(c) = F(c) + loop (1). The loop does not scale with temperature or age. Arguments as `slow_force`:
    compression `c` [m] and `factor` [1].
    """
    return np.asarray(slow_force(spring, c, factor) + column(spring.loop), dtype=np.float64)


def quick_exponent(absolute: ArrayLike, kelvin: ArrayLike, way: Literal["out", "in"]) -> Array:
    """Return m, with p_quick/p_start = (p_slow/p_start)^m, for nitrogen that exchanges no heat.

    m = 1.4 + sum c_ij t^i v^j (1): the isentropic over the isothermal exponent for a change of volume
    by 1.3, which is the mean of cp/cv on the way. 1.4 for thin gas, about 1.6 at 10 MPa.

    `absolute` pressure at the start [Pa], `kelvin` temperature at the start [K]; both [...].
    `way` "in": squeezed to V/1.3; "out": let out to 1.3 V.
    Validity: 243 to 363 K, up to 20 MPa, largest error 0.007 (0.2 % of force); read at the nearest end outside.
    Source: `nitrogen.SOURCE`.
    """
    if way not in ("out", "in"):
        raise Bug(f"a spring moves out or in, not {way!r}")
    table = SPREADING if way == "out" else SQUEEZING
    v = np.clip(np.asarray(absolute, dtype=np.float64), 0.0, HIGHEST_PRESSURE) / FIT_PRESSURE
    t = np.clip(np.asarray(kelvin, dtype=np.float64), COLDEST, HOTTEST) / FILLED_AT - 1.0
    v, t = np.broadcast_arrays(v, t)
    terms = np.einsum("...i,ij,...j->...", _powers(t, 0, table.shape[0]), table, _powers(v, 1, table.shape[1]))
    return np.asarray(1.4 + terms, dtype=np.float64)


def _quick(
    spring: GasSpring,
    c: Array,
    start: ArrayLike,
    factor: ArrayLike,
    kelvin: ArrayLike,
    way: Literal["out", "in"],
) -> Array:
    """Return the middle of the two forces [N], which is that of the gas."""
    area, half = column(rod_area(spring.rod_diameter)), column(spring.loop) / 2
    p_start = (slow_force(spring, column(start), factor) + half) / area + AIR_PRESSURE
    p_slow = (slow_force(spring, c, factor) + half) / area + AIR_PRESSURE
    m = quick_exponent(p_start, column(kelvin), way)
    return np.asarray((p_start * (p_slow / p_start) ** m - AIR_PRESSURE) * area, dtype=np.float64)


def quick_out(
    spring: GasSpring, c: Array, start: ArrayLike, factor: ArrayLike = 1.0, kelvin: ArrayLike = FILLED_AT
) -> Array:
    """Return the least force [N], [..., n], of a spring let out too fast to take up heat.

    p(c) = p_slow(c0) (p_slow(c)/p_slow(c0))^m (1), p = (F + loop/2) / A + pa, and F from p the other way.

    `c` [m], [..., n], at or below the compression `start` c0 [m], [...], where the spring
    rested; `factor` [...] as `slow_force`; `kelvin` temperature at rest [K], [...]. A real movement lies
    between this and `moving_out`. Damping in the spring is left out. Source: `quick_exponent`.
    """
    return np.asarray(_quick(spring, c, start, factor, kelvin, "out") - column(spring.loop) / 2, dtype=np.float64)


def quick_in(
    spring: GasSpring, c: Array, start: ArrayLike, factor: ArrayLike = 1.0, kelvin: ArrayLike = FILLED_AT
) -> Array:
    """Return the greatest force [N], [..., n], of a spring pushed in too fast to give off heat, loop included.

    Arguments and formula as `quick_out` (`factor` [1], `kelvin` [K]), with `c` at or above `start`. A real
    movement lies between `moving_in` and this.
    """
    return np.asarray(_quick(spring, c, start, factor, kelvin, "in") + column(spring.loop) / 2, dtype=np.float64)
