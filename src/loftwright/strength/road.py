"""Air on the closed shell of a driving van: pressure of the resultant wind, uplift, drag, push under the front lip.

Side view as everywhere: x to the cab, z up, moments turn from x towards z. Every number is [...] over rows. Forces of
the air are kept per pressure q, as areas, so that each is a straight line in q. No figure is published for a shell on
the roof of a van: all coefficients are judgement and meant as wide ranges.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array
from loftwright.core.units import STANDARD_GRAVITY
from loftwright.strength.wind import speed_for

STRIP_LENGTH: Final = 0.3
"""Length of that strip [m]: judgement."""
MOST_TOSSED: Final = 1.2
"""Most by which a road tosses the shell up, in units of its weight [1]. A pothole can press without bound, but a van
that loses the road only falls: the shell then weighs nothing (1), and a fifth of its weight more is what loads on a
lorry are tied down for. Source: cfr-49-393-102, (b), read in a public reproduction."""


@dataclass(frozen=True, slots=True)
class Push:
    """A load in the side view: force `forward` and `up` [N] and `moment` about the origin [N m], each [...].

    Per pressure of the air the three are areas [m2] and a volume [m3].
    """

    forward: Array
    up: Array
    moment: Array

    def __add__(self, other: Push) -> Push:
        """Return both loads together."""
        return Push(self.forward + other.forward, self.up + other.up, self.moment + other.moment)

    def times(self, factor: ArrayLike) -> Push:
        """Return the load times a `factor` [1], or a load per pressure times the pressure [Pa], [...]."""
        by = np.asarray(factor, dtype=np.float64)
        return Push(self.forward * by, self.up * by, self.moment * by)

    def about(self, x: ArrayLike, z: ArrayLike) -> Array:
        """Return the moment about the point `x`, `z` [m], [N m], [...]."""
        return np.asarray(self.moment - np.asarray(x) * self.up + np.asarray(z) * self.forward)


def push_at(x: ArrayLike, z: ArrayLike, *, forward: ArrayLike = 0.0, up: ArrayLike = 0.0) -> Push:
    """Return a force at the point `x`, `z` [m], parts `forward` and `up` [N]: M = x up - z forward (1); [...]."""
    at_x, at_z, along, lift = (np.asarray(value, dtype=np.float64) for value in (x, z, forward, up))
    return Push(along, lift, np.asarray(at_x * lift - at_z * along))


@dataclass(frozen=True, slots=True)
class Cap:
    """The closed shell as the air meets it, each [...].

    x of its `rear` end, `length`, `width`, height of its rim `rim_z` and of its front face above the roof `step` [m].
    """

    rear: Array
    length: Array
    width: Array
    rim_z: Array
    step: Array

    @property
    def front(self) -> Array:
        """Where the front end is, x [m]."""
        return self.rear + self.length

    @property
    def perimeter(self) -> Array:
        """Length of the rim all round [m]."""
        return 2 * (self.length + self.width)


@dataclass(frozen=True, slots=True)
class RoadAir:
    """Coefficients of the air over the closed shell, each [...].

    `mean` and `strip` [1] are pressures over the top, negative where the air sucks; `strip_length` [m]; `centre` [1];
    `drag` [1] on the front face; `under` [1] is the pressure under the front lip, over the share `under_share` [1] of
    the length, nought where a seal closes the front.
    """

    mean: Array
    strip: Array
    strip_length: Array
    centre: Array
    drag: Array
    under: Array
    under_share: Array


@dataclass(frozen=True, slots=True)
class Apparent:
    """The wind that a driving van meets: its `speed` [m/s] and `yaw` off straight ahead [rad], [...]."""

    speed: Array
    yaw: Array


def apparent_wind(speed: ArrayLike, head: ArrayLike, cross: ArrayLike) -> Apparent:
    """Return the wind met at a road `speed` v [m/s] in a `head` wind w and a `cross` wind c [m/s], [...].

    V = sqrt((v + w)^2 + c^2) (2), yaw = atan2(c, v + w) (3). Gusts and passing lorries come on top.
    Source: addition of velocities.
    """
    ahead = np.asarray(speed, dtype=np.float64) + np.asarray(head)
    across = np.asarray(cross, dtype=np.float64)
    return Apparent(np.hypot(ahead, across), np.arctan2(across, ahead))


def road_speed(pressure: ArrayLike, density: ArrayLike, head: ArrayLike, cross: ArrayLike) -> Array:
    """Return the road speed [m/s] at which the air's pressure is `pressure` q [Pa], [...].

    v = sqrt(2 q / rho - c^2) - w (4), with `density` rho [kg/m3], `head` wind w and `cross` wind c [m/s]. Nought where
    the wind alone is too much, infinite for an infinite pressure.
    """
    square = speed_for(pressure, density) ** 2 - np.asarray(cross) ** 2
    return np.asarray(np.maximum(np.sqrt(np.maximum(square, 0.0)) - np.asarray(head), 0.0))


def air_per_pressure(cap: Cap, air: RoadAir) -> Push:
    """Return the air's load on the closed shell per pressure [m2] and [m3], [...].

    Over the strip e, behind it and under the lip, with length L and width b:
    up = -c_strip e b - c_mean (L - e) b + c_under u L b (5), back = c_d b h (6), the drag at half the step's height h.
    Lines of action: the middle of the strip, the share `centre` of the rest from its front, the middle of the part
    that takes pressure from below. Source: derivation; coefficients by judgement.
    """
    strip = np.minimum(air.strip_length, cap.length)
    rest = cap.length - strip
    height = cap.rim_z + cap.step / 2
    inside = air.under_share * cap.length
    return (
        push_at(cap.front - strip / 2, cap.rim_z, up=-air.strip * strip * cap.width)
        + push_at(cap.front - strip - air.centre * rest, cap.rim_z, up=-air.mean * rest * cap.width)
        + push_at(cap.front - inside / 2, cap.rim_z, up=air.under * inside * cap.width)
        + push_at(cap.front, height, forward=-air.drag * cap.width * cap.step)
    )


def seal_push(cap: Cap, line: ArrayLike) -> Push:
    """Return the push of the squeezed seal: `line` [N/m] times the rim's perimeter (7), at the rim's middle, [...]."""
    total = np.asarray(line, dtype=np.float64) * cap.perimeter
    return push_at(cap.rear + cap.length / 2, cap.rim_z, up=total)


def tossed_up(bump: ArrayLike) -> Array:
    """Return how many times its weight a bad road tosses the shell up, min(bump, 1.2) (9) [1], [...].

    `bump` [1] is how many times its weight the same road presses it down on top of its weight. See `MOST_TOSSED`.
    Source: cfr-49-393-102, (b), read in a public reproduction.

    >>> tossed_up([0.5, 2.0]).tolist()
    [0.5, 1.2]
    """
    return np.minimum(np.asarray(bump, dtype=np.float64), MOST_TOSSED)


def weight(mass: ArrayLike, x: ArrayLike, z: ArrayLike, bump: ArrayLike) -> Push:
    """Return the shell's weight while the road tosses it: -m g (1 + bump) (8), [...].

    `mass` [kg] with its centre at `x`, `z` [m]; `bump` [1] is the upward acceleration of the van in units of gravity:
    -1 floats, below that the shell pulls upwards.
    """
    return push_at(x, z, up=-np.asarray(mass, dtype=np.float64) * STANDARD_GRAVITY * (1 + np.asarray(bump)))
