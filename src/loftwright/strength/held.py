"""At which gust each part of the open roof reaches its limit, how far it sways, and what goes first.

Wind loads grow with the velocity pressure q = rho v^2 / 2 (1); what acts on a still day stays. On one set of active
supports every force is a straight line in q, and the sets change a few times over the gusts: so the answer is worked
out on a row of gusts and drawn straight between them in q. None of this is a crash or roll-over assessment.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from loftwright.core.checks import Rule
from loftwright.core.judged import Judged
from loftwright.core.motion import Array, Flags
from loftwright.reference.wind import AIR_DENSITY
from loftwright.strength.held_rules import ARMS, BRACE, HINGES, LOOSE, STEADIED, SWAY, TOP_STOP
from loftwright.strength.supports import Held, Support, hold, motion_at
from loftwright.strength.wind import speed_for, velocity_pressure

Job = Literal["hinge", "arm", "brace", "stop"]
RULE_OF: Final[dict[str, Rule]] = {"hinge": HINGES, "arm": ARMS, "brace": BRACE, "stop": TOP_STOP}

GUSTS: Final[tuple[float, ...]] = tuple(float(v) for v in np.linspace(0.0, 45.0, 24))
"""Gusts at which the shell's supports are solved [m/s]; the first is a still day."""
SWAY_RATIO: Final = 0.5
"""Greatest share of the sway that a brace worth its name leaves [1]: judgement."""
FREE_END: Final = "the free end"
WHOLE_ROOF: Final = "the whole roof"


@dataclass(frozen=True, slots=True)
class Limit:
    """What one part can bear: `force` [N] and `moment` [N m], each [...] over rows.

    None for a moment that does not matter. A force of None is not known yet: `measure` says what to find out, `missing`
    is the name of the input that is wanting.
    """

    part: str
    job: Job
    force: Array | None
    moment: Array | None = None
    measure: str = ""
    missing: str = ""


@dataclass(frozen=True, slots=True)
class SwayLimit:
    """How far `point` [m], [..., 3], of the free end may sway: `sideways` [m], [...]."""

    point: Array
    sideways: Array


@dataclass(frozen=True, slots=True)
class Sway:
    """How a point moves from where it stands on a still day, each [...].

    `sideways` [m] to the left, `shift` [m] in all, and `twist` [rad], the shell's turning about its long way, x.
    """

    sideways: Array
    shift: Array
    twist: Array


def _behind(value: ArrayLike, axes: int) -> Array:
    """Return `value` [...] with axes of one behind it until there are `axes`."""
    found = np.asarray(value, dtype=np.float64)
    return found.reshape(found.shape + (1,) * (axes - found.ndim))


def sway(held: Held, rest: Held, point: ArrayLike) -> Sway:
    """Return how a `point` [m], [..., 3], sways between a still day, `rest`, and a load, `held`.

    The rest's leading axes are the first ones of the load's.
    """
    axes = held.motion.ndim - 1
    still = rest.motion.reshape(rest.motion.shape[:-1] + (1,) * (axes + 1 - rest.motion.ndim) + (6,))
    change = held.motion - still
    moved = motion_at(change, point)
    return Sway(moved[..., 1], np.asarray(np.linalg.norm(moved, axis=-1)), change[..., 3])


def share_of_limit(held: Held, limit: Limit) -> Array:
    """Return how much of a part's limit is used [1], [...]: F / F_limit + M / M_limit (2).

    F is the size of the force at the pin, all ways together, M that of the moment on the plate. The straight sum is on
    the safe side of any rounder rule. ValueError for a limit that is not known or a part that is not there.
    """
    if limit.force is None:
        raise ValueError(f"{limit.part}: the limit is not known")
    if limit.part not in held.parts:
        raise ValueError(f"{limit.part}: nothing of that name holds the roof")
    axes = held.held.ndim
    used = held.force(limit.part) / _behind(limit.force, axes)
    if limit.moment is not None:
        used = used + held.moment(limit.part) / _behind(limit.moment, axes)
    return np.asarray(used)


@dataclass(frozen=True, slots=True)
class GustsAtLimit:
    """The gust at which each thing reaches its limit.

    `names` of the things, [things]; `gust` [m/s], [..., directions, things], never above the last of the row of gusts;
    `above` [..., directions, things], where the limit lies above that.
    """

    names: tuple[str, ...]
    gust: Array
    above: Flags

    def of(self, name: str) -> Array:
        """Return the gust [m/s] of one thing, [..., directions]."""
        return np.asarray(self.gust[..., self.names.index(name)])

    def least(self, name: str) -> Array:
        """Return the gust [m/s] of one thing in its worst direction, [...]."""
        return np.asarray(self.of(name).min(axis=-1))

    def weakest(self) -> tuple[NDArray[np.intp], Array]:
        """Return which thing goes first, as a number into `names`, and at which gust [m/s], each [...].

        The number is -1 where nothing reaches its limit.
        """
        worst = self.gust.min(axis=-2)
        first = np.argmin(worst, axis=-1)
        gust = np.asarray(np.take_along_axis(worst, first[..., None], -1)[..., 0])
        return np.where(self.above.all(axis=(-2, -1)), -1, first), gust

    def weakest_name(self, row: int = 0) -> str:
        """Return the name of what goes first in a `row` [1]; nothing where nothing reaches its limit."""
        first = int(self.weakest()[0].reshape(-1)[row])
        return self.names[first] if first >= 0 else ""


def first_crossing(used: Array, pressure: Array, held: Flags) -> tuple[Array, Flags]:
    """Return the pressure [Pa] at which `used` [1] first reaches one, [...], and where it never does.

    Straight between neighbouring pressures (3): used is straight or bent upward in q on one set of supports, so that
    this errs to the safe side there. `used` [..., gusts]; `pressure` [Pa], [gusts], rising; `held` [..., gusts]: from
    the first pressure at which the shell is not held nothing more is asked.
    """
    sound = np.logical_and.accumulate(held, axis=-1)
    over = (used >= 1.0) & sound
    never = ~np.any(over, axis=-1)
    at = np.argmax(over, axis=-1)[..., None]
    before = np.maximum(at - 1, 0)
    high, low = (np.take_along_axis(used, i, -1)[..., 0] for i in (at, before))
    q_high, q_low = pressure[at[..., 0]], pressure[before[..., 0]]
    rise = np.where(high > low, high - low, 1.0)
    found = np.where(at[..., 0] == 0, pressure[0], q_low + np.clip((1.0 - low) / rise, 0.0, 1.0) * (q_high - q_low))
    return np.where(never, pressure[-1], found), never


def gust_at_limit(
    supports: Sequence[Support],
    per_pascal: ArrayLike,
    preload: ArrayLike,
    limits: Sequence[Limit],
    *,
    sway_limit: SwayLimit | None = None,
    gusts: Sequence[float] = GUSTS,
    density: float = AIR_DENSITY,
) -> GustsAtLimit:
    """Return the gust at which each part, the sway and the hold on the whole roof reach their limits.

    `per_pascal` [N/Pa] and [N m/Pa] is the wind's wrench for one pascal of velocity pressure, [..., directions, 6];
    `preload` [N] and [N m] that of a still day, [..., 6]; `gusts` [m/s] rise from 0; `density` [kg/m3]. Limits that are
    not known are left out. The last name is always `WHOLE_ROOF`: the last gust at which every set up to it still holds.
    Validity: as `hold`; wind that comes slowly, no swinging.
    Source: derivation.
    """
    speed = np.asarray(gusts, dtype=np.float64)
    if speed.size < 2 or speed[0] != 0 or bool(np.any(np.diff(speed) <= 0)):
        raise ValueError("gusts must rise from nought")
    pressure = velocity_pressure(speed, density)
    unit = np.asarray(per_pascal, dtype=np.float64)
    found = hold(supports, unit[..., None, :] * pressure[:, None], preload)
    known = [limit for limit in limits if limit.force is not None]
    names, used = [limit.part for limit in known], [share_of_limit(found, limit) for limit in known]
    if sway_limit is not None:
        still = hold(supports, np.zeros((*unit.shape[:-2], 1, 1, 6)), preload)
        moved = sway(found, still, sway_limit.point)
        names.append(FREE_END)
        used.append(np.abs(moved.sideways) / _behind(sway_limit.sideways, found.held.ndim))
    crossings = [first_crossing(share, pressure, found.held) for share in used]
    sound = np.logical_and.accumulate(found.held, axis=-1)
    last = np.maximum(np.sum(sound, axis=-1) - 1, 0)
    crossings.append((pressure[last], np.all(sound, axis=-1)))
    names.append(WHOLE_ROOF)
    reached = np.stack([q for q, _ in crossings], axis=-1)
    return GustsAtLimit(tuple(names), speed_for(reached, density), np.stack([a for _, a in crossings], axis=-1))


@dataclass(frozen=True, slots=True)
class Steadied:
    """What a brace does to the sway [m] of a point: `braced`, `unbraced` and their `ratio` [1], each [...].

    Where nothing but the brace holds the shell, `held_unbraced` is false and the ratio nought. Where nothing sways
    the ratio is one.
    """

    braced: Array
    unbraced: Array
    ratio: Array
    held_unbraced: Flags


def steadied(
    supports: Sequence[Support], brace: Sequence[str], wrench: ArrayLike, preload: ArrayLike, point: ArrayLike
) -> Steadied:
    """Return the sideways sway of a `point` [m], [..., 3], with and without the parts named in `brace`.

    `wrench` and `preload` [N] and [N m] are [..., 6], as for `hold`.
    """
    zero = np.zeros_like(np.asarray(wrench, dtype=np.float64))

    def moved(kept: Sequence[Support]) -> tuple[Array, Flags]:
        found, rest = hold(kept, wrench, preload), hold(kept, zero, preload)
        return np.abs(sway(found, rest, point).sideways), found.held & rest.held

    (braced, _), (unbraced, sound) = moved(supports), moved([s for s in supports if s.part not in brace])
    nothing = unbraced < 1e-9
    ratio = np.where(nothing, 1.0, braced / np.where(nothing, 1.0, unbraced))
    return Steadied(braced, unbraced, np.where(sound, ratio, 0.0), sound)


def judge_gusts(found: GustsAtLimit, limits: Sequence[Limit], wanted: ArrayLike) -> tuple[Judged, ...]:
    """Return the judgements of every part, the free end and the whole roof: gust at the limit against `wanted` [m/s].

    The worst direction counts. `wanted` is [...] over rows and should lie below the last of the row of gusts.
    """
    rows = found.gust.shape[:-2]
    want = np.broadcast_to(np.asarray(wanted, dtype=np.float64), rows)
    made = []
    for i, limit in enumerate(limits):
        value = None if limit.force is None else found.least(limit.part)
        measure = "" if value is not None else limit.measure or f"find out what this part bears: {limit.part}"
        made.append(Judged(RULE_OF[limit.job], value, want, limit.part, measure, limit.missing, i))
    if FREE_END in found.names:
        made.append(Judged(SWAY, found.least(FREE_END), want))
    made.append(Judged(LOOSE, found.least(WHOLE_ROOF), want))
    return tuple(made)


def judge_brace(found: Steadied, part: str = "", limit: ArrayLike = SWAY_RATIO) -> Judged:
    """Return the judgement of a brace: the share of the sway that it leaves against `limit` [1].

    Rows are the first axis of `found`; of the others, directions and the like, the one that sways most counts.
    """
    ratio, sway_most = found.ratio, found.unbraced
    if ratio.ndim > 1:
        flat, size = ratio.reshape(ratio.shape[0], -1), sway_most.reshape(ratio.shape[0], -1)
        ratio = np.take_along_axis(flat, np.argmax(size, axis=-1)[:, None], -1)[:, 0]
    return Judged(STEADIED, ratio, np.broadcast_to(np.asarray(limit, dtype=np.float64), ratio.shape), part)
