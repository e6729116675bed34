"""What an actuator draws and how it holds: speed, current, energy, rest; screw, self-locking, crank.

A motor is known by four figures of its list: speed and current with no load and at its rated force. Between them, and a
little beyond, both go straight. A cold or low battery is slower: put its figures in as a wide range.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.motion import Array, array_of

SLOWEST: Final = 0.05
"""Share of the free speed under which a motor is taken to creep, so that times stay finite [1]: judgement."""
LOCKS_BELOW: Final = 0.5
"""Efficiency above which a screw runs back under its load [1]; `SCREW`."""
LOCKS_SURELY: Final = 0.4
"""The same with something in hand for oil, wear and a van that rocks [1]: judgement."""
SCREW: Final = Source(
    "shigley-mechanical-engineering-design",
    "section 8-2, power screws; self-locking where pi f d > l (formulas and Example 8-1 from memory)",
    "handbook",
)
FLANK: Final = Source(
    "mott-machine-elements",
    "equations (17-10) and (17-11), Example Problem 17-1; read in a public reproduction",
    "handbook",
)
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


def force_at_cutoff(motor: Motor, cutoff: ArrayLike) -> Array:
    """Return the force that one actuator comes to before a `cutoff` current [A] stops it [N], [...].

    F = (I - I0) / k (3), 0 or more. The current rises late: a cut-off needs a moment, and the rod runs on meanwhile.
    """
    return np.asarray(np.maximum(array_of(cutoff) - motor.free_current, 0.0) / motor.amps_per_newton)


@dataclass(frozen=True, slots=True)
class Run:
    """One run over the whole travel, each [...]: `time` [s], greatest `current` of all together [A], `energy` [W h]."""

    time: Array
    current: Array
    energy: Array


def run(motor: Motor, length: ArrayLike, force: ArrayLike, actuators: int) -> Run:
    """Return the time, current and energy of one run over the travel.

    t = sum |dL_i| / v(F_i) (4), E = n U sum I(F_i) |dL_i| / v(F_i) / 3600 (5), with F_i half-way between two stations.

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


def energy_a_week(opening: Run, closing: Run, times: ArrayLike) -> Array:
    """Return the energy of a week in watt hours, [...]: opened and closed so many `times` [1]."""
    return np.asarray((opening.energy + closing.energy) * array_of(times))


def rest_after(time: ArrayLike, duty: ArrayLike) -> Array:
    """Return how long the motor must rest after a run of `time` [s] at a `duty` [1]: t (1 / D - 1) (6), [...].

    >>> round(float(rest_after(30.0, 0.10)), 6)
    270.0
    """
    return np.asarray(array_of(time) * (1.0 / array_of(duty) - 1.0))


@dataclass(frozen=True, slots=True)
class Screw:
    """A lead screw, each [...]: middle `diameter` d and `lead` l a turn [m], `friction` f in the thread [1].

    `flank` is half the thread's angle [rad], 0 for a square thread. `collar_friction` fc [1] and `collar_diameter` dc
    [m] of the bearing that takes the push, 0 for a ball bearing.
    """

    diameter: Array
    lead: Array
    friction: Array
    flank: Array
    collar_friction: Array
    collar_diameter: Array

    @property
    def grip(self) -> Array:
        """Friction as the flank wedges it: f / cos(flank) [1]."""
        return np.asarray(self.friction / np.cos(self.flank))


def square_screw(diameter: ArrayLike, lead: ArrayLike, friction: ArrayLike, flank: ArrayLike = 0.0) -> Screw:
    """Return a screw on ball bearings: `diameter` and `lead` [m], `friction` [1], `flank` [rad], each [...]."""
    nought = np.zeros(())
    return Screw(array_of(diameter), array_of(lead), array_of(friction), array_of(flank), nought, nought)


def raising_torque(screw: Screw, force: ArrayLike) -> Array:
    """Return the torque that moves a `force` [N] against itself [N m], [...].

    T = F d/2 (l + pi g d) / (pi d - g l) + F fc dc / 2, g = f / cos(flank) (7). Source: `SCREW`, `FLANK`.

    >>> example = Screw(*map(np.asarray, (0.030, 0.008, 0.08, 0.0, 0.08, 0.040)))
    >>> round(float(raising_torque(example, 6400.0)), 2), round(float(lowering_torque(example, 6400.0)), 2)
    (26.18, 9.77)
    """
    f, d, lead, g = array_of(force), screw.diameter, screw.lead, screw.grip
    thread = f * d / 2 * (lead + np.pi * g * d) / (np.pi * d - g * lead)
    return np.asarray(thread + f * screw.collar_friction * screw.collar_diameter / 2)


def lowering_torque(screw: Screw, force: ArrayLike) -> Array:
    """Return the torque that lets a `force` [N] move with itself [N m], [...]; below nought it runs back alone.

    T = F d/2 (pi g d - l) / (pi d + g l) + F fc dc / 2 (8). Source: `SCREW`, `FLANK`.
    """
    f, d, lead, g = array_of(force), screw.diameter, screw.lead, screw.grip
    thread = f * d / 2 * (np.pi * g * d - lead) / (np.pi * d + g * lead)
    return np.asarray(thread + f * screw.collar_friction * screw.collar_diameter / 2)


def efficiency(screw: Screw) -> Array:
    """Return the share of the motor's work that lifts [1], [...]: e = F l / (2 pi T) (9), T by `raising_torque` [N m].

    Below one half a screw locks itself, near enough: exactly, a square thread without collar locks below
    (1 - tan^2(lead angle)) / 2. Source: `SCREW`.
    """
    return np.asarray(screw.lead / (2 * np.pi * raising_torque(screw, 1.0)))


@dataclass(frozen=True, slots=True)
class Crank:
    """Opening by hand when the current fails: `hand` force at the crank [N] and how many `turns` [1], each [...]."""

    hand: Array
    turns: Array


def crank(
    force: ArrayLike, stroke: ArrayLike, lead: ArrayLike, share: ArrayLike, radius: ArrayLike, gear: ArrayLike = 1.0
) -> Crank:
    """Return what a hand does at the emergency crank of one actuator.

    H = F l / (2 pi e i r) (10), turns = s i / l (11)

    `force` F of the rod [N]; `stroke` s and `lead` l [m]; `share` e, efficiency of screw and gear together [1];
    `radius` r of the crank [m]; `gear` i, crank turns for one of the screw [1]; each [...]. Two actuators are cranked
    by turns, a little each, or the shell is twisted. With a pin that lets the rod go, the hand takes the whole roof
    instead: prop it first, and never pull the pin under load.
    """
    f, lead_in, ratio = array_of(force), array_of(lead), array_of(gear)
    hand = f * lead_in / (2 * np.pi * array_of(share) * ratio * array_of(radius))
    return Crank(np.asarray(hand), np.asarray(array_of(stroke) * ratio / lead_in))


def hand_without(needed: ArrayLike, hand_rate: ArrayLike) -> Array:
    """Return what a hand pushes with once the actuators are let go [N], [..., n]; below nought the roof rises alone.

    H = Q / (ds/dq) (12): `needed` Q [N m/rad] and `hand_rate` ds/dq, how fast the hand moves [m/rad], each [..., n].
    """
    rate = array_of(hand_rate)
    return np.asarray(array_of(needed) / np.where(np.abs(rate) < 1e-6, 1e-6, rate))
