"""The formulas of springs in the form in which many springs are tried at once: see `core.lifting.Formulas`."""

from __future__ import annotations

from typing import Final

import numpy as np

from loftwright.core.lifting import Formulas
from loftwright.core.motion import Array, Motion
from loftwright.mechanics.balance import span
from loftwright.mechanics.feel import END_FITTING_LENGTH, TUBE_WALL
from loftwright.mechanics.gas_spring import GasSpring, at_temperature, gas_left
from loftwright.mechanics.strut import spring_critical_load


def length_and_rate(
    foot_body: Motion, head_body: Motion, foot_x: Array, foot_z: Array, head_x: Array, head_z: Array, sideways: Array
) -> tuple[Array, Array]:
    """Return length [m] and rate [m/rad] of a spring between two moving bodies, [..., n], by `balance.span`.

    `foot_x`, `foot_z`, `head_x`, `head_z` are its ends when closed and `sideways` the distance across between them
    [m], [...].
    """
    return span(foot_body.point(foot_x, foot_z), head_body.point(head_x, head_z), sideways)


def warmed(force_1: Array, ratio: Array, loop: Array, rod_diameter: Array, kelvin: Array) -> tuple[Array, Array]:
    """Return F1 [N] and r [1] at a temperature, by `gas_spring.at_temperature`; all [...], broadcast.

    `force_1` F1 [N] and `ratio` r [1] at 20 C, `loop` full friction loop [N], `rod_diameter` [m], `kelvin` [K].
    """
    one = np.ones(1)
    spring = at_temperature(GasSpring(force_1, ratio, loop, one, one, rod_diameter), kelvin)
    return spring.force_1, spring.ratio


def growth(ratio: Array, stroke: Array, c: Array) -> Array:
    """Return F(c)/F1 [1], by `gas_spring.gas_left`.

    `ratio` r [1] and `stroke` s [m] broadcast against the compression `c` [m].
    """
    return np.asarray(1.0 / gas_left(ratio, stroke, c))


def bending_load(rod_diameter: Array, tube_diameter: Array, length: Array, bare_rod: Array) -> Array:
    """Return the load [N] at which a spring bends sideways, by `strut.spring_critical_load`; all [...], broadcast.

    `rod_diameter`, `tube_diameter` [m]; `length` between the ends and `bare_rod` that is out of the tube [m], to which
    the end fitting is added here.
    """
    return spring_critical_load(
        rod_diameter=rod_diameter,
        tube_diameter=tube_diameter,
        tube_wall=TUBE_WALL,
        length=length,
        rod_out=bare_rod + END_FITTING_LENGTH,
    )


FORMULAS: Final = Formulas(length_and_rate, warmed, growth, bending_load)
"""All of them together, as the choice of springs is handed them."""
