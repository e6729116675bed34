"""What the roof does when it is let go: rises, falls or stays, how long it takes, how fast it arrives.

One coordinate q with kinetic energy T = M(q) q'^2 / 2, M = m |dp_c/dq|^2 + I (dphi/dq)^2. From rest,

    M q'^2 / 2 = integral of Q dq          (1)

with Q the generalised force at hand (weight, springs, loads, friction). The damping built into a
gas spring is left out, so speeds are the highest to be expected and times the shortest.
Derived here from the work-energy theorem.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loftwright.core.motion import Array, Flags, PointPath, Travel, column
from loftwright.mechanics.balance import Drive
from loftwright.mechanics.masses import Body


@dataclass(frozen=True, slots=True)
class Release:
    """How a released roof runs.

    `speed` [m/s], `time` [s] and `reached` (fraction open), each [...]: the fastest the watched point is at the
    end of the run, how long the run takes, and where it ends: at a stop, or where it comes to rest.
    `moves` [...] says whether it moves at all; a roof that stays put has speed and time zero.
    """

    moves: Flags
    speed: Array
    time: Array
    reached: Array


def effective_inertia(body: Body, travel: Travel) -> Array:
    """Return M(q) of eq. (1) [kg m2], shape [..., n]."""
    centre = travel.shell.point(body.x, body.z)
    return np.asarray(column(body.mass) * (centre.dx**2 + centre.dz**2) + column(body.inertia) * travel.shell.dphi**2)


def behaviour(drive: Drive) -> Array:
    """Return +1 where a roof let go rises, -1 where it falls, 0 where friction holds it; shape [..., n]."""
    return np.asarray(np.where(drive.rising > 0, 1, np.where(drive.falling < 0, -1, 0)))


_NODES, _WEIGHTS = (0.5 + 0.5 * np.array([-np.sqrt(0.6), 0.0, np.sqrt(0.6)]), np.array([5.0, 8.0, 5.0]) / 18)


def _times(step: Array, energy: Array, force: Array, inertia: Array) -> Array:
    """Return how long each step takes [s], with drive and inertia straight over the step.

        t = integral of sqrt(M / 2E) dq                                                                    (2)

    by three Gauss points; a step from rest goes by q = q0 + h u^2, in which it is smooth. `energy` is that at the
    end of each step. A start close to balance, where a constant drive would be far off, is met too.
    """
    before = np.concatenate([np.zeros_like(energy[..., :1]), energy[..., :-1]], axis=-1)
    first, last = force[..., :-1], force[..., 1:]
    rest = before <= 0
    total = np.zeros_like(energy)
    for u, weight in zip(_NODES, _WEIGHTS, strict=True):
        share, stretch = np.where(rest, u**2, u), np.where(rest, 2 * u, 1.0)
        held = before + step * (first * share + (last - first) * share**2 / 2)
        mass = inertia[..., :-1] + (inertia[..., 1:] - inertia[..., :-1]) * share
        floor = np.maximum(1e-6 * energy, 1e-18)
        total = total + weight * stretch * step * np.sqrt(mass / (2 * np.maximum(held, floor)))
    return np.asarray(total)


def _run(q: Array, force: Array, inertia: Array, path_rate: Array, fraction: Array) -> Release:
    """Run along the last axis from its first station; `force` drives along increasing axis order."""
    step = np.abs(np.diff(q, axis=-1))
    gained = np.cumsum(0.5 * (force[..., 1:] + force[..., :-1]) * step, axis=-1)
    started = force[..., :1] > 0
    # Once the energy is used up the roof has come to rest; later stations do not count.
    running = np.cumprod(gained > 0, axis=-1).astype(bool) & started
    energy = np.where(running, gained, 0.0)
    rate = np.sqrt(2 * energy / inertia[..., 1:])
    took = np.where(running, _times(step, energy, force, inertia), 0.0)
    speed = rate * path_rate[..., 1:]
    whole = running[..., -1]
    count = running.sum(axis=-1)
    end = np.broadcast_to(fraction, (*count.shape, fraction.size))
    reached = np.take_along_axis(end, count[..., None], axis=-1)[..., 0]
    return Release(started[..., 0], np.where(whole, speed[..., -1], 0.0), took.sum(axis=-1), reached)


def fall(drive: Drive, body: Body, travel: Travel, point: PointPath) -> Release:
    """Let go at fully open: what a falling roof does until it is shut. `point` is watched for its speed."""
    back = slice(None, None, -1)
    shape = np.broadcast_shapes(drive.falling.shape, travel.q.shape)
    return _run(
        np.broadcast_to(travel.q, shape)[..., back],
        -np.broadcast_to(drive.falling, shape)[..., back],
        effective_inertia(body, travel)[..., back],
        np.hypot(point.dx, point.dz)[..., back],
        travel.fraction[back],
    )


def rise(drive: Drive, body: Body, travel: Travel, point: PointPath, *, start: int = 0) -> Release:
    """Let go at station `start`: what a rising roof does until it meets the top stop."""
    ahead = slice(start, None)
    shape = np.broadcast_shapes(drive.rising.shape, travel.q.shape)
    return _run(
        np.broadcast_to(travel.q, shape)[..., ahead],
        np.broadcast_to(drive.rising, shape)[..., ahead],
        effective_inertia(body, travel)[..., ahead],
        np.hypot(point.dx, point.dz)[..., ahead],
        travel.fraction[ahead],
    )


def fastest_arrival(drive: Drive, body: Body, travel: Travel, point: PointPath) -> Array:
    """Return the highest speed [m/s] at the top stop over all places where the roof can be let go, shape [...].

    Raised by hand to the least favourable place and let go at rest, the roof arrives with the
    energy E = max over q0 of the integral of the rising drive from q0 to the stop.
    """
    step = np.diff(np.broadcast_to(travel.q, drive.rising.shape), axis=-1)
    piece = 0.5 * (drive.rising[..., 1:] + drive.rising[..., :-1]) * step
    from_here = np.cumsum(piece[..., ::-1], axis=-1)
    # From the best start every stretch up to the stop adds, so the roof never comes to rest on the way.
    most = np.maximum(from_here.max(axis=-1), 0.0)
    rate = np.sqrt(2 * most / effective_inertia(body, travel)[..., -1])
    return np.asarray(rate * np.hypot(point.dx, point.dz)[..., -1])
