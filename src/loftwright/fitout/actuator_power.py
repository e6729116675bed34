"""What an actuator draws: speed, current, time and energy of a run; what a hand pushes without it.

A motor is known by four figures of its list: speed and current with no load and at its rated force. Between them, and a
little beyond, both go straight. A cold or low battery is slower: put its figures in as a wide range.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, array_of

SLOWEST: Final = 0.05
"""Share of the free speed under which a motor is taken to creep, so that times stay finite [1]: judgement."""
_HOUR: Final = 3600.0


@dataclass(frozen=True, slots=True)
class Motor:
    """One actuator as its list has it, each [...].

    `rated_force` [N]; `free_speed` and `rated_speed` [m/s]; `free_current` and `rated_current` [A]; `voltage` [V].
    """

    rated_force: Array
    free_speed: Array
    rated_speed: Array
    free_current: Array
    rated_current: Array
    voltage: Array

    @property
    def amps_per_newton(self) -> Array:
        """Slope k of the current over the force [A/N]."""
        return np.asarray((self.rated_current - self.free_current) / self.rated_force)


def speed(motor: Motor, force: ArrayLike) -> Array:
    """Return how fast the rod moves under a `force` against it [m/s], [..., n].

    v = v0 - (v0 - v1) F / Fr (1), not below `SLOWEST` v0; a force that helps does not make it faster.
    """
    free, rated, most = (v[..., None] for v in (motor.free_speed, motor.rated_speed, motor.rated_force))
    against = np.maximum(array_of(force), 0.0)
    return np.asarray(np.maximum(free - (free - rated) * against / most, SLOWEST * free))


def current(motor: Motor, force: ArrayLike) -> Array:
    """Return the current of one actuator under a `force` against it [N], [..., n], in amperes.

    I = I0 + k F, k = (Ir - I0) / Fr (2); a load that helps takes the free current.
    """
    against = np.maximum(array_of(force), 0.0)
    return np.asarray(motor.free_current[..., None] + motor.amps_per_newton[..., None] * against)


@dataclass(frozen=True, slots=True)
class Run:
    """One run over the whole travel, each [...]: `time` [s], greatest `current` of all together [A], `energy` [W h]."""

    time: Array
    current: Array
    energy: Array


def run(motor: Motor, length: ArrayLike, force: ArrayLike, actuators: int) -> Run:
    """Return the time, current and energy of one run over the travel.

    t = sum |dL_i| / v(F_i) (3), E = n U sum I(F_i) |dL_i| / v(F_i) / 3600 (4), with F_i half-way between two stations.

    Parameters
    ----------
    motor: of one actuator. length: between the pins over the travel [m], [..., n].
    force: of one actuator against its motion [N], [..., n]: when the roof closes, `needed_force` with its sign turned.
    actuators: how many run side by side.
    """
    f = array_of(force)
    mid = (f[..., 1:] + f[..., :-1]) / 2
    steps = np.abs(np.diff(array_of(length), axis=-1)) / speed(motor, mid)
    charge = (current(motor, mid) * steps).sum(axis=-1)
    return Run(
        np.asarray(steps.sum(axis=-1)),
        np.asarray(actuators * current(motor, f).max(axis=-1)),
        np.asarray(actuators * motor.voltage * charge / _HOUR),
    )


def hand_without(needed: ArrayLike, hand_rate: ArrayLike) -> Array:
    """Return what a hand pushes with once the actuators are let go [N], [..., n]; below nought the roof rises alone.

    H = Q / (ds/dq) (5): `needed` Q [N m/rad] and `hand_rate` ds/dq, how fast the hand moves [m/rad], each [..., n].
    """
    rate = array_of(hand_rate)
    return np.asarray(array_of(needed) / np.where(np.abs(rate) < 1e-6, 1e-6, rate))
