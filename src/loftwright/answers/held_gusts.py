"""The open roof solved over gusts: what holds it, the gust at which each part reaches its limit, the free end's sway.

Arrays are [rows, cases, directions, gusts]: the wind that lifts the shell and the one that presses it, and the van's
directions.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.core.judged import Judged
from loftwright.core.motion import Array, Flags
from loftwright.project.assemble_brace import Braced, bears_of, supports_of
from loftwright.project.assemble_cloth import cloth_walls
from loftwright.project.assemble_wind import (
    Bears,
    carriers,
    lip_point,
    still_day,
    stops,
)
from loftwright.strength.held import (
    FREE_END,
    WHOLE_ROOF,
    GustsAtLimit,
    Job,
    Limit,
    first_crossing,
    judge_gusts,
    share_of_limit,
)
from loftwright.strength.raised_shape import Direction, RaisedShape
from loftwright.strength.supports import SMALL_SHIFT, Held, Support, about_origin, fitted_at, hold, motion_at
from loftwright.strength.wind import (
    speed_for,
    velocity_pressure,
)
from loftwright.strength.wind_loads import WindCase, wrenches

HIGHEST: Final = 45.0
"""Gusts above this [m/s] are written as this."""
SHARES: Final = (0.0, 0.5, 0.75, 1.0001, 1.3, 1.75, 2.5)
"""Gusts at which the supports are solved, over the wanted one [1]; the first is a still day."""
AT_WANTED: Final = SHARES.index(1.0001)
LEAST_SHARE: Final = 0.1
"""Share of the sway limit that play of pins leaves at least [1]."""
HALVINGS: Final = 4
"""How often the step in which the roof is lost is halved."""
STEADY: Final = 0.2
"""Sway under this share of its limit [1] is not worth a brace: judgement."""


@dataclass(frozen=True, slots=True)
class OpenRoof:
    """What is solved: supports and what they bear, the wind's wrench for one pascal, the still day's, [rows, 2, 4, 6].

    The cases are lifting and pressing, the directions the van's. `load`, `wanted`, `sway_limit` [rows]; `lip` [m],
    [rows, 3]. `rattle` [m], [rows], is how far play lets the free end move to either side before anything is strained;
    it is in no motion that is solved, and taken off `sway_limit`.
    """

    supports: tuple[Support, ...]
    bears: tuple[Bears, ...]
    limits: tuple[Limit, ...]
    unit: Array
    still: Array
    load: Array
    wanted: Array
    sway_limit: Array
    lip: Array
    rattle: Array


def rattles(base: Basis, lip: Array, hinge_x: Array) -> Array:
    """Return how far play of the pins lets the free end move to either side [m], [rows], without a brace.

    The pins' play, and the turn about the upright axis that it allows: p (1 + 2 a / s), a from `hinge_x` to `lip` [m].
    """
    reach = np.abs(lip[:, 0] - hinge_x)
    return base.full(base.at("linkage.play") * (1.0 + 2.0 * reach / base.at("linkage.spacing")))


def limit_left(base: Basis, rattle: Array) -> Array:
    """Return how far the free end may sway beside what it `rattle`s [m], each [rows]."""
    limit = base.full(base.at("wind.sway_limit"))
    return np.maximum(limit - rattle, LEAST_SHARE * limit)


def with_brace(base: Basis, brace: Braced, carried: Sequence[Support], still: Array, rattle: Array) -> list[Support]:
    """Return the brace's supports, fitted on a still day.

    The roof stands open before its brace is pinned or pulled taut: `carried`, all other supports, hold `still`, [rows,
    cases, 6] [N] and [N m], without it. What the pins `rattle` [m], [rows], to either side comes off its own play.
    """
    day = hold(carried, still)
    rest = np.where(day.held[..., None], day.motion, 0.0)
    pins = rattle * brace.across
    return [fitted_at(replace(one, gap=np.maximum(base.full(one.gap) - pins, 0.0)), rest) for one in supports_of(brace)]


def steadying_cloth(base: Basis, shape: RaisedShape, carried: Sequence[Support], still: Array) -> list[Support]:
    """Return the supports of the taut cloth walls, cut to fit on a still day.

    `shape` of the open roof with fields [rows]; `carried`, all supports that hold `still`, [rows, cases, 6] [N] and
    [N m], without cloth and brace.
    """
    day = hold(carried, still)
    rest = np.where(day.held[..., None], day.motion, 0.0)
    return [fitted_at(one, rest) for one in cloth_walls(base.project, base.at, shape)]


def assembled(
    base: Basis,
    shape: RaisedShape,
    order: tuple[Direction, ...],
    cases: tuple[WindCase, WindCase],
    factor: Array,
    brace: Braced | None,
) -> OpenRoof:
    """Return what is to be solved.

    `shape` of the open roof with fields [rows]; `order` the van's directions in the plane of motion; `factor` [1],
    [rows], on the wind's force.
    """
    at, project, roof, felt = base.at, base.project, base.roof, base.felt
    supports, bears = carriers(project, at, roof)
    for found, bear in (stops(project, at, roof, felt),):
        supports, bears = supports + found, bears + bear
    parts_safety = base.full(at("safety.parts"))
    lip = lip_point(project, at, roof)[0]
    rattle = rattles(base, lip, shape.hinge_x)
    still = [still_day(roof, felt, *spring)[:, None] for spring in (("mild", "new"), ("cold", "aged"))]
    carried = supports
    if project.wind.cloth_steadies:
        supports = supports + steadying_cloth(base, shape, carried, np.concatenate(still, axis=1))
    if brace is not None:
        supports = supports + with_brace(base, brace, carried, np.concatenate(still, axis=1), rattle)
        bears += bears_of(brace, base.full(at("safety.metal")), parts_safety)
        rattle = np.minimum(rattle, (brace.play / 2.0 + brace.slack) / np.maximum(brace.across, 1e-3))
    limits = tuple(
        Limit(
            b.part,
            b.job,
            b.force / parts_safety,
            None if b.moment is None or not (b.lever is None and b.span is None) else b.moment / parts_safety,
        )
        for b in bears
    )
    one = speed_for(1.0)
    unit = [about_origin(wrenches(shape, one, order, factor, case=case), shape.hinge) for case in cases]
    load = base.full(at("safety.load"))
    return OpenRoof(
        tuple(supports),
        tuple(bears),
        limits,
        np.stack(unit, axis=1),
        np.stack([np.broadcast_to(s, u.shape) for s, u in zip(still, unit, strict=True)], axis=1),
        load,
        base.full(at("wind.gust")),
        limit_left(base, rattle),
        lip,
        rattle,
    )


def _shares_of_wanted(solved: OpenRoof) -> Array:
    """Return the gusts to be solved over the wanted one [1]: up to where every row is past `HIGHEST`."""
    most = HIGHEST / float(solved.wanted.min())
    return np.asarray([*SHARES, most * 1.01] if most > SHARES[-1] * 1.01 else SHARES)


def service_of(solved: OpenRoof) -> Array:
    """Return the wanted gust's pressure without factor [Pa], [rows, 1, 1, 1, 1]."""
    return velocity_pressure(solved.wanted)[:, None, None, None, None]


def solve(solved: OpenRoof) -> Held:
    """Return how the roof is held, [rows, cases, directions, gusts]; the last one is the wanted gust without factor."""
    steps = _shares_of_wanted(solved) ** 2
    q = (velocity_pressure(solved.wanted) * solved.load)[:, None, None, None, None] * steps[:, None]
    q = np.concatenate([q, service_of(solved)], axis=-2)
    return hold(solved.supports, solved.still[..., None, :] + solved.unit[..., None, :] * q)


def used_of(solved: OpenRoof, found: Held) -> list[Array]:
    """Return the share of every limit used [1], each of the shape of the loads."""
    used = []
    behind = (slice(None),) + (None,) * (found.held.ndim - 1)
    for limit, bears in zip(solved.limits, solved.bears, strict=True):
        share = share_of_limit(found, limit)
        if bears.moment is not None and limit.force is not None and limit.moment is None:
            # What is bent off the moment's limit has the same factor as the force.
            allowed = bears.moment * limit.force / bears.force
            if bears.lever is not None:
                i = next(i for i, s in enumerate(found.supports) if s.part == limit.part and s.what == "sideways")
                share = share + np.abs(found.tension[..., i]) * (bears.lever / allowed)[behind]
            if bears.span is not None:
                turned = found.couple(limit.part)
                share = share + np.hypot(turned[..., 0], turned[..., 2]) / allowed[behind]
                share = share + np.abs(turned[..., 1]) / (limit.force * bears.span)[behind]
        used.append(share)
    return used


def gusts_of(solved: OpenRoof, found: Held) -> tuple[tuple[str, ...], Array, Flags, list[Array]]:
    """Return names, gusts at the limit [m/s] and where above, [rows, directions, things], and the shares."""
    steps = _shares_of_wanted(solved) ** 2
    used = used_of(solved, found)
    held = found.held[..., :-1]
    wanted = solved.wanted[:, None, None]
    names = [limit.part for limit in solved.limits]
    change = found.motion[..., :-1, :] - found.motion[..., :1, :]
    moved = np.abs(motion_at(change, solved.lip)[..., 1]) / solved.sway_limit[:, None, None, None]
    gusts = []
    for share in used:
        crossing, never = first_crossing(share[..., :-1], steps, held)
        gusts.append(np.where(never, HIGHEST, wanted * np.sqrt(crossing)))
    crossing, never = first_crossing(moved, steps, held)
    # Sway has no factor: the same pressure comes with a stronger gust.
    gusts.append(np.where(never, HIGHEST, wanted * np.sqrt(crossing * solved.load[:, None, None])))
    gusts.append(_lost_at(solved, held))
    every = np.minimum(np.stack(gusts, axis=-1), HIGHEST).min(axis=1)
    return (*names, FREE_END, WHOLE_ROOF), every, every >= HIGHEST, used


def _lost_at(solved: OpenRoof, held: Flags) -> Array:
    """Return the greatest gust [m/s] known to be held, [rows, cases, directions], `held` at all solved ones."""
    speeds = _shares_of_wanted(solved)
    sound = np.logical_and.accumulate(held, axis=-1)
    last = np.asarray(sound.sum(axis=-1) - 1)
    low = np.where(last < 0, 0.0, speeds[np.maximum(last, 0)])
    high = speeds[np.minimum(last + 1, speeds.size - 1)]
    every = np.asarray(sound.all(axis=-1))
    pressing = [case for case in range(held.shape[1]) if not every[:, case].all()]
    base = (velocity_pressure(solved.wanted) * solved.load)[:, None, None]
    for _ in range(HALVINGS if pressing else 0):
        middle = (low[:, pressing] + high[:, pressing]) / 2.0
        q = (base * middle**2)[..., None]
        kept = [_in_cases(one, pressing) for one in solved.supports]
        found = hold(kept, solved.still[:, pressing] + solved.unit[:, pressing] * q)
        fine = np.asarray(found.held & (last[:, pressing] >= 0))
        low[:, pressing] = np.where(fine, middle, low[:, pressing])
        high[:, pressing] = np.where(fine, high[:, pressing], middle)
    return np.where(every, HIGHEST, solved.wanted[:, None, None] * low)


def _in_cases(one: Support, cases: list[int]) -> Support:
    """Return a support as it is in some of the cases."""
    return replace(one, fitted=one.fitted[:, cases]) if one.fitted.ndim > 1 else one


def judge_parts(solved: OpenRoof, names: tuple[str, ...], gust: Array) -> tuple[Judged, ...]:
    """Return one judgement for each job: its weakest part, named as it is in the planned roof."""
    least = gust.min(axis=1)
    kept: list[str] = []
    columns: list[Array] = []
    limits: list[Limit] = []
    jobs: dict[Job, list[int]] = {}
    for i, limit in enumerate(solved.limits):
        jobs.setdefault(limit.job, []).append(i)
    for which in jobs.values():
        first = which[int(least[0, which].argmin())]
        kept.append(names[first])
        limits.append(solved.limits[first])
        columns.append(gust[..., which].min(axis=-1))
    for name in (FREE_END, WHOLE_ROOF):
        kept.append(name)
        columns.append(gust[..., names.index(name)])
    every = np.stack(columns, axis=-1)
    return judge_gusts(GustsAtLimit(tuple(kept), every), limits, solved.wanted)


def sway_of(solved: OpenRoof, still: Array, moved: Array, held: Flags) -> tuple[Array, Array]:
    """Return sway [m] and twist [rad] of the free end, [rows, directions], the greater of the cases that are held.

    What the pins rattle is in the sway.
    """
    change = np.where(held[..., None], moved - still, 0.0)
    aside = np.abs(motion_at(change, solved.lip)[..., 1]).max(axis=1) + solved.rattle[:, None]
    aside = np.minimum(aside, SMALL_SHIFT)
    return np.where(held.any(axis=1), aside, SMALL_SHIFT), np.abs(change[..., 3]).max(axis=1)
