"""The open shell as a rigid body on elastic supports, some of which act one way only.

Frame: +x to the cab, +y left, +z up. The shell makes six small motions u = (tx, ty, tz, rx, ry, rz) about the origin of
the frame, [m] and [rad]; loads are wrenches (fx, fy, fz, mx, my, mz) [N] and [N m] about the same point. A moment `my`
turns z towards x: it is the opposite of the moment in the side view, which turns x towards z.

A support at point p with unit direction d stretches by e = b . u (1), with b = (d, p x d); a turning support by
b = (0, d). It is drawn by the tension s(e), and presses on the shell with -s along d:

    both   s = k max(0, e - gap) - k max(0, -e - gap)     a bar, with play to either side
    pull   s = k max(0, e - gap)                          a strap: resists motion along d only
    push   s = -k max(0, -e - gap)                        a stop: resists motion against d only           (2)

so d of a bar or strap points from the van to the shell, and d of a stop the way it pushes the shell. A part that is
fitted while others are already strained counts from there: e = b . u - e_fitted.

Equilibrium, sum s b = w (3), is the least of the convex energy sum of the integrals of s less w . u (4). Its slope is
piecewise linear, so that Newton steps with an exact search along each step reach it after finitely many; every step
solves for one set of active supports, and the last one is the true set. Where the two-way supports alone hold the
shell, the energy is strictly convex and the answer the only one.

Small motions, straight force laws, a rigid shell. None of this is a crash or roll-over assessment.
Source: derivation, docs/theory-strength.md. The search for the true set is in `active_supports`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, Flags
from loftwright.strength.active_supports import System

Kind = Literal["both", "push", "pull"]

SMALL_TURN: Final = 0.15
"""A shell that turns further than this [rad] is not held: judgement; small motions no longer describe it."""
SMALL_SHIFT: Final = 0.25
"""A shell that shifts further than this [m] at the middle of its supports is not held: judgement."""


@dataclass(frozen=True, slots=True)
class Support:
    """One scalar spring between van and shell.

    `part` is the name of the part it belongs to, `what` says which of its ways. `point` [m] and unit `direction`
    [..., 3]; `stiffness` [N/m], if `turning` [N m/rad]; `gap` [m] or [rad], free motion before it acts; `fitted` [m]
    or [rad], the stretch at which it was fitted and from which it counts; [...].
    """

    part: str
    what: str
    point: Array
    direction: Array
    stiffness: Array
    kind: Kind = "both"
    gap: Array = field(default_factory=lambda: np.zeros(()))
    turning: bool = False
    fitted: Array = field(default_factory=lambda: np.zeros(()))


def support(
    part: str,
    what: str,
    point: ArrayLike,
    direction: ArrayLike,
    stiffness: ArrayLike,
    *,
    kind: Kind = "both",
    gap: ArrayLike = 0.0,
    turning: bool = False,
) -> Support:
    """Return a support with its direction made a unit vector.

    `point` [m] and `direction` [1] are [..., 3]; `stiffness` [N/m] or [N m/rad] and `gap` [m] or [rad] are [...].
    ValueError for a direction of no length, or a stiffness or gap below nought.
    """
    way, k, free = (np.asarray(v, dtype=np.float64) for v in (direction, stiffness, gap))
    size = np.linalg.norm(way, axis=-1, keepdims=True)
    if not bool(np.all(size > 0)):
        raise ValueError(f"{part}: a support needs a direction")
    if bool(np.any(k < 0)) or bool(np.any(free < 0)):
        raise ValueError(f"{part}: stiffness and gap of a support cannot be below nought")
    return Support(part, what, np.asarray(point, dtype=np.float64), way / size, k, kind, free, turning)


def wrench_at(force: ArrayLike, point: ArrayLike) -> Array:
    """Return the wrench [N] and [N m], [..., 6], of a `force` [N] acting at `point` [m], both [..., 3].

    w = (F, p x F) (5).

    >>> wrench_at([0.0, 100.0, 0.0], [2.0, 0.0, 0.5]).tolist()
    [0.0, 100.0, 0.0, -50.0, 0.0, 200.0]
    """
    push, at = np.broadcast_arrays(np.asarray(force, dtype=np.float64), np.asarray(point, dtype=np.float64))
    return np.concatenate([push, np.cross(at, push)], axis=-1)


def fitted_at(one: Support, motion: Array) -> Support:
    """Return a support as it is when fitted, unstrained, to a shell that has already moved.

    e_fitted = b . u by (1). `motion` u [m] and [rad] of the shell then, [..., 6]; the support's leading axes are the
    first ones of the motion's. A bar that is pinned in its track once the roof stands open takes no part of what holds
    the roof open on that day. Source: derivation.
    """
    axes = motion.ndim - 1
    direction = _lead(one.direction, axes, 1)
    moved = motion[..., 3:] if one.turning else motion_at(motion, one.point)
    return replace(one, fitted=np.asarray(np.sum(direction * moved, axis=-1)))


def about_origin(wrench: ArrayLike, point: ArrayLike) -> Array:
    """Return a wrench [N] and [N m], [..., 6], given about a `point` [m], [..., 3], as it is about the origin.

    (F, M + p x F) (6). The point's leading axes are the first ones of the wrench's.
    """
    given = np.asarray(wrench, dtype=np.float64)
    at = _lead(np.asarray(point, dtype=np.float64), given.ndim - 1, 1)
    moment = given[..., 3:] + np.cross(at, given[..., :3])
    return np.concatenate(np.broadcast_arrays(given[..., :3], moment), axis=-1)


def from_side_view(along: ArrayLike, up: ArrayLike, moment: ArrayLike) -> Array:
    """Return the wrench, [..., 6], of a load known in the side view: forces `along` x and `up` [N], and `moment` [N m].

    The moment is about the origin and turns x towards z, so that m_y = -moment (7). Each argument is [...].
    """
    x, z, turn = np.broadcast_arrays(*(np.asarray(v, dtype=np.float64) for v in (along, up, moment)))
    none = np.zeros_like(x)
    return np.stack([x, none, z, none, -turn, none], axis=-1)


def motion_at(motion: Array, point: ArrayLike) -> Array:
    """Return how far a point of the shell moves [m], [..., 3]: t + r x p (8).

    `motion` [m] and [rad] is [..., 6]; `point` [m] is [..., 3], its leading axes the first ones of the motion's.
    """
    at = _lead(np.asarray(point, dtype=np.float64), motion.ndim - 1, 1)
    return np.asarray(motion[..., :3] + np.cross(motion[..., 3:], at))


def _lead(value: Array, axes: int, core: int) -> Array:
    """Return `value` with axes of one put behind its leading ones until there are `axes`; `core` last ones are kept."""
    lead = value.ndim - core
    return value.reshape(value.shape[:lead] + (1,) * (axes - lead) + value.shape[lead:])


@dataclass(frozen=True, slots=True)
class Held:
    """How the shell is held under a load.

    `motion` [m] and [rad], [..., 6]; `tension` [N] or [N m] of every support, [..., n], pressing where below nought;
    `active` [..., n], which supports act; `held` [...], whether the supports hold the shell with small motions.
    Where it is not held, the motions and tensions mean nothing.
    """

    supports: tuple[Support, ...]
    motion: Array
    tension: Array
    active: Flags
    held: Flags

    @property
    def parts(self) -> tuple[str, ...]:
        """Names of the parts, each once, in the order in which they were given."""
        return tuple(dict.fromkeys(s.part for s in self.supports))

    def _sum(self, part: str, turning: bool) -> Array:
        total = np.zeros((*self.motion.shape[:-1], 3))
        for i, s in enumerate(self.supports):
            if s.part == part and s.turning is turning:
                total -= self.tension[..., i, None] * _lead(s.direction, total.ndim - 1, 1)
        return total

    def vector(self, part: str) -> Array:
        """Return the force [N] with which a part presses on the shell, [..., 3]."""
        return self._sum(part, turning=False)

    def couple(self, part: str) -> Array:
        """Return the moment [N m] that a part's turning supports exert on the shell, [..., 3]."""
        return self._sum(part, turning=True)

    def force(self, part: str) -> Array:
        """Return the size of the force in a part [N], [...], all its ways together."""
        return np.asarray(np.linalg.norm(self.vector(part), axis=-1))

    def moment(self, part: str) -> Array:
        """Return the size of the moment in a part [N m], [...], all its ways together."""
        return np.asarray(np.linalg.norm(self.couple(part), axis=-1))


def _legs(supports: Sequence[Support]) -> list[tuple[int, float]]:
    """Return the one-way legs as (number of the support, sign): a two-way support with a gap has two."""
    legs: list[tuple[int, float]] = []
    for i, s in enumerate(supports):
        if s.kind == "pull" or (s.kind == "both" and bool(np.any(s.gap > 0))):
            legs.append((i, 1.0))
        if s.kind == "push" or (s.kind == "both" and bool(np.any(s.gap > 0))):
            legs.append((i, -1.0))
    return legs


def hold(supports: Sequence[Support], wrench: ArrayLike, preload: ArrayLike | None = None) -> Held:
    """Return how the supports hold the shell under `wrench` + `preload`, by the least of the energy (4).

    `wrench` and `preload` [N] and [N m] about the origin are [..., 6]; the leading axes of supports and preload are
    the first ones of the wrench's, usually rows, and further axes (direction, gust) follow. The preload is what acts
    on a still day: the weight and the forces of the gas springs, in balance with each other or pressing the shell on
    its top stop. Motions count from where no support is strained (`fitted` nought); take the difference of two answers
    for what a gust adds. ValueError where there is no support, or more than 40 one-way legs.
    Validity: see the head of this file. A motion that nothing resists and nothing drives goes unnoticed.
    Source: derivation.

    A shell on two straps, one to either side, each 1000 N/m: only the one away from the push acts.

    >>> rest = [support("frame", f"way {i}", [0, 0, 0], np.eye(3)[i], 1e6) for i in (0, 2)]
    >>> rest += [support("frame", f"turn {i}", [0, 0, 0], np.eye(3)[i], 1e6, turning=True) for i in range(3)]
    >>> straps = [support(f"strap {y:+d}", "along", [0, 0, 0], [0, y, 0], 1e3, kind="pull") for y in (1, -1)]
    >>> found = hold([*rest, *straps], [0.0, 50.0, 0.0, 0.0, 0.0, 0.0])
    >>> [round(float(found.force(name)), 6) for name in ("strap +1", "strap -1")], round(float(found.motion[1]), 6)
    ([50.0, 0.0], 0.05)
    """
    legs = _legs(supports)
    if not supports or len(legs) > 40:
        raise ValueError("a shell needs between one support and 40 one-way ones")
    load = np.asarray(wrench, dtype=np.float64)
    still = np.zeros(6) if preload is None else np.asarray(preload, dtype=np.float64)
    axes = max(load.ndim - 1, still.ndim - 1, *(max(s.stiffness.ndim, s.gap.ndim, s.fitted.ndim) for s in supports))
    axes = max(axes, *(max(s.point.ndim, s.direction.ndim) - 1 for s in supports))
    load = _lead(load, axes, 1) + _lead(still, axes, 1)

    points = [_lead(s.point, axes, 1) for s in supports]
    lead = np.broadcast_shapes(
        *(p.shape[:-1] for p in points),
        *(_lead(v, axes, 0).shape for s in supports for v in (s.stiffness, s.gap, s.fitted)),
        *(_lead(s.direction, axes, 1).shape[:-1] for s in supports),
    )
    n = len(supports)
    way = np.zeros((*lead, n, 6))
    k, gap, fitted = np.empty((*lead, n)), np.empty((*lead, n)), np.empty((*lead, n))
    for i, s in enumerate(supports):
        direction = _lead(s.direction, axes, 1)
        if s.turning:
            way[..., i, 3:] = direction
        else:
            way[..., i, :3], way[..., i, 3:] = direction, np.cross(points[i], direction)
        k[..., i], gap[..., i], fitted[..., i] = (_lead(v, axes, 0) for v in (s.stiffness, s.gap, s.fitted))

    number, sign = [i for i, _ in legs], np.array([sign for _, sign in legs])
    plain = [i for i in range(n) if i not in number]
    flat_way, flat_k = way.reshape(-1, n, 6), k.reshape(-1, n)
    always = np.einsum("sn,sni,snj->sij", flat_k[:, plain], flat_way[:, plain], flat_way[:, plain])
    mean = np.einsum("sn,sni,sni->s", flat_k, flat_way, flat_way) / 6
    pulling = flat_way[:, number] * sign[:, None]
    flat_fitted = fitted.reshape(-1, n)
    offset = gap.reshape(-1, n)[:, number] + sign * flat_fitted[:, number]
    system = System(always, mean, pulling, flat_k[:, number], offset)
    shape = np.broadcast_shapes(lead, load.shape[:-1])
    row = np.broadcast_to(np.arange(flat_k.shape[0], dtype=np.intp).reshape(lead), shape).reshape(-1)
    flat_load = np.broadcast_to(load, (*shape, 6)).reshape(-1, 6)
    # Two-way supports without a gap bring what they were fitted at as a load.
    set_in = np.einsum("sn,sn,sni->si", flat_k[:, plain], flat_fitted[:, plain], flat_way[:, plain])
    u = system.equilibrium(row, flat_load + set_in[row])

    stretch = np.einsum("nmi,ni->nm", flat_way[row], u) - flat_fitted[row]
    free = gap.reshape(-1, n)[row]
    pulls = np.array([s.kind != "push" for s in supports]) * np.maximum(stretch - free, 0.0)
    pushes = np.array([s.kind != "pull" for s in supports]) * np.maximum(-stretch - free, 0.0)
    tension = flat_k[row] * (pulls - pushes)
    over = np.einsum("nmi,nm->ni", flat_way[row], tension) - flat_load
    size = np.max(np.abs(flat_load), axis=-1) + np.max(np.abs(tension), axis=-1) + 1e-9
    middle = np.mean([np.broadcast_to(p, (*lead, 3)) for p in points], axis=0).reshape(-1, 3)[row]
    shift = np.linalg.norm(u[:, :3] + np.cross(u[:, 3:], middle), axis=-1)
    held = (np.max(np.abs(over), axis=-1) < 1e-4 * size) & (shift <= SMALL_SHIFT)
    held &= np.linalg.norm(u[:, 3:], axis=-1) <= SMALL_TURN
    active = np.asarray((pulls + pushes > 0) & (flat_k[row] > 0))
    return Held(
        tuple(supports),
        u.reshape(*shape, 6),
        tension.reshape(*shape, n),
        active.reshape(*shape, n),
        held.reshape(shape),
    )
