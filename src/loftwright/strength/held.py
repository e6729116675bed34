"""How much of its limit each part of the open roof uses, and at which gust it reaches it.

Wind loads grow with the velocity pressure q = rho v^2 / 2 (1); what acts on a still day stays. On one set of active
supports every force is a straight line in q, and the sets change a few times over the gusts: so a roof is solved at a
row of gusts and drawn straight between them in q. None of this is a crash or roll-over assessment.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Rule
from loftwright.core.judged import Judged
from loftwright.core.motion import Array, Flags
from loftwright.strength.held_rules import ARMS, BRACE, HINGES, LOOSE, STEADIED, SWAY, TOP_STOP
from loftwright.strength.supports import Held

Job = Literal["hinge", "arm", "brace", "stop"]
RULE_OF: Final[dict[str, Rule]] = {"hinge": HINGES, "arm": ARMS, "brace": BRACE, "stop": TOP_STOP}

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


def _behind(value: ArrayLike, axes: int) -> Array:
    """Return `value` [...] with axes of one behind it until there are `axes`."""
    found = np.asarray(value, dtype=np.float64)
    return found.reshape(found.shape + (1,) * (axes - found.ndim))


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

    `names` of the things, [things]; `gust` [m/s], [..., directions, things], never above the last of the row of gusts.
    """

    names: tuple[str, ...]
    gust: Array

    def least(self, name: str) -> Array:
        """Return the gust [m/s] of one thing in its worst direction, [...]."""
        return np.asarray(self.gust[..., self.names.index(name)].min(axis=-1))


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


def judge_brace(left: ArrayLike, part: str = "", limit: ArrayLike = SWAY_RATIO) -> Judged:
    """Return the judgement of a brace: the share of the sway `left` with it, [...], against `limit`, each [1]."""
    share = np.asarray(left, dtype=np.float64)
    return Judged(STEADIED, share, np.broadcast_to(np.asarray(limit, dtype=np.float64), share.shape), part)
