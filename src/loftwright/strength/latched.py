"""The closed shell held by hinges, latches and solid stops: who carries what, and at which speed each has enough.

Latches and stops stand on one line across the free edge, the stops beside the latches. A latch drawn down on solid
stops works like a tightened bolt: it feels little of the road until the stops come free.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array
from loftwright.strength.road import Push


@dataclass(frozen=True, slots=True)
class Lines:
    """Where a hinged shell is held: `hinge_x`, `hinge_z` and the latches' line `latch_x` [m], each [...]."""

    hinge_x: Array
    hinge_z: Array
    latch_x: Array

    @property
    def side(self) -> Array:
        """1 where the latches lie ahead of the hinge, -1 where behind it [1]."""
        return np.sign(self.latch_x - self.hinge_x)

    def opening(self, load: Push) -> Array:
        """Return the moment with which `load` opens the shell about its hinge [N m], [...]."""
        return np.asarray(self.side * load.about(self.hinge_x, self.hinge_z))


@dataclass(frozen=True, slots=True)
class Held:
    """What holds a hinged shell down, each [...].

    `latch_line` [N] is the pull less the push of latches and stops together, positive where they pull; `hinge_forward`
    and `hinge_up` [N] are the force of the hinges on the shell.
    """

    latch_line: Array
    hinge_forward: Array
    hinge_up: Array


def hold(lines: Lines, load: Push) -> Held:
    """Return the forces that keep a rigid hinged shell shut under `load`, [...].

    S = M_h / |x_l - x_h| (1), H_z = S - sum F_z (2), H_x = -sum F_x (3), M_h the opening moment about the hinge: the
    hinges take all of the drag. Source: derivation, balance of a rigid body.
    """
    line = lines.opening(load) / np.abs(lines.latch_x - lines.hinge_x)
    return Held(line, -load.forward, np.asarray(line - load.up))


def latch_share(latch: ArrayLike, stop: ArrayLike) -> Array:
    """Return the share phi = k_l / (k_l + k_s) (4) of a change that a latch feels while its stop is pressed [1], [...].

    `latch` k_l and `stop` k_s are stiffnesses [N/m].
    Source: shigley-mechanical-engineering-design, stiffness constant of a bolted joint (from memory).
    """
    pull = np.asarray(latch, dtype=np.float64)
    return np.asarray(pull / (pull + np.asarray(stop)))


@dataclass(frozen=True, slots=True)
class Preloaded:
    """Pull of `latch` and push of `stop` at one point [N], each [...], never negative."""

    latch: Array
    stop: Array


def preloaded(now: ArrayLike, at_rest: ArrayLike, preload: ArrayLike, phi: ArrayLike) -> Preloaded:
    """Return what latch and stop carry when the net force between them goes from `at_rest` to `now` [N], [...].

    T_0 = P (5), T = max(T_0 + phi (S - S_0), S, 0) (6), R = T - S (7). `preload` P [N] is what the closed latch pulls
    at rest, as a scale in its place reads it: part of it holds what pushes the shell up, and only the rest, P - S_0,
    presses on the stop. `phi` [1] from (4). The stop is free once R is nought.
    Source: shigley-mechanical-engineering-design, preloaded joint with an external load (from memory).

    >>> preloaded(600.0, 0.0, 500.0, 0.2).latch.tolist(), preloaded(1000.0, 0.0, 500.0, 0.2).stop.tolist()
    (620.0, 0.0)
    >>> preloaded(150.0, 150.0, 500.0, 0.2).stop.tolist()
    350.0
    """
    net, rest = np.asarray(now, dtype=np.float64), np.asarray(at_rest, dtype=np.float64)
    pull = np.maximum(np.maximum(np.asarray(preload) + np.asarray(phi) * (net - rest), net), 0.0)
    return Preloaded(pull, np.asarray(pull - net))


def pressure_reaching(constant: ArrayLike, slope: ArrayLike, limit: ArrayLike) -> Array:
    """Return the pressure q [Pa] at which constant + slope q reaches `limit` (8), [...].

    `constant` and `limit` [N], `slope` [m2]. Nought where it is beyond at rest, infinite where it never gets there.
    """
    start, rise, top = np.broadcast_arrays(*(np.asarray(value, dtype=np.float64) for value in (constant, slope, limit)))
    climbs = rise > 0
    reached = (top - start) / np.where(climbs, rise, 1.0)
    return np.asarray(np.where(start >= top, 0.0, np.where(climbs, reached, np.inf)))


def pressure_reaching_size(constants: ArrayLike, slopes: ArrayLike, limit: ArrayLike) -> Array:
    """Return the least pressure q [Pa] at which a force with several parts reaches the size `limit` [N], [...].

    |c + s q| = L, a quadratic in q (9). `constants` [N] and `slopes` [m2] carry the parts on their last axis, [..., p].
    Nought where it is beyond at rest, infinite where it never gets there.
    """
    start, rise = np.asarray(constants, dtype=np.float64), np.asarray(slopes, dtype=np.float64)
    square = (rise**2).sum(axis=-1)
    half = (start * rise).sum(axis=-1)
    short = np.asarray(limit) ** 2 - (start**2).sum(axis=-1)
    moves = square > 0
    safe = np.where(moves, square, 1.0)
    root = (-half + np.sqrt(np.maximum(half**2 + safe * short, 0.0))) / safe
    return np.asarray(np.where(short <= 0, 0.0, np.where(moves, root, np.inf)))


def pressure_freeing(at_rest: ArrayLike, now: ArrayLike, slope: ArrayLike, preload: ArrayLike, phi: ArrayLike) -> Array:
    """Return the pressure [Pa] at which a stop comes free: R of (7) is nought, [...].

    The net force is `now` [N] without air and grows by `slope` [m2] times the pressure; `at_rest`, `preload` [N] and
    `phi` [1] as for `preloaded`.
    """
    rest, still = np.asarray(at_rest, dtype=np.float64), np.asarray(now, dtype=np.float64)
    start, share = np.asarray(preload, dtype=np.float64), np.asarray(phi)
    return pressure_reaching((1 - share) * still, (1 - share) * np.asarray(slope), start - share * rest)


def pressure_breaking(
    at_rest: ArrayLike, now: ArrayLike, slope: ArrayLike, preload: ArrayLike, phi: ArrayLike, limit: ArrayLike
) -> Array:
    """Return the pressure [Pa] at which a latch reaches its `limit` [N]: the lesser of both branches of (6), [...].

    Other arguments as for `pressure_freeing`: `at_rest`, `now`, `preload` [N], `slope` [m2], `phi` [1].
    """
    rest, still = np.asarray(at_rest, dtype=np.float64), np.asarray(now, dtype=np.float64)
    start, share = np.asarray(preload, dtype=np.float64), np.asarray(phi)
    pressed = pressure_reaching(start + share * (still - rest), share * np.asarray(slope), limit)
    return np.minimum(pressed, pressure_reaching(still, slope, limit))


def sudden(force: ArrayLike, slack: ArrayLike, stiffness: ArrayLike) -> Array:
    """Return the greatest force [N] in an elastic part that must stop a steady force applied suddenly, [...].

    F_max = F (1 + sqrt(1 + 2 k s / F)) (10): twice the steady force without slack. `force` F [N], `slack` s [m] gone
    through before the part bites, `stiffness` k [N/m]. Nought where the force is not positive.
    Source: timoshenko-strength-1, suddenly applied and falling loads (from memory).

    >>> float(sudden(500.0, 0.0, 1e5))
    1000.0
    """
    steady = np.maximum(np.asarray(force, dtype=np.float64), 0.0)
    return np.asarray(steady + np.sqrt(steady**2 + 2 * np.asarray(stiffness) * np.asarray(slack) * steady))
