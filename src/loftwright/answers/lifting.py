"""From a roof in many draws to what it asks of its springs.

Every rule on hand forces becomes a bound on the springs' own drive S, with weight, friction and all other loads in
it: from `sign` (R + S) / path against a limit (see `HandRule`), with R the drive without the tried springs,

    S >= sign limit path - R   or   S <= sign limit path - R.                                   (1)

What no spring can change stands beside it as `holding`; what is not linear in the springs (how fast the roof meets
its stop, how the shell twists, what springs come near) is left to be judged exactly.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import fields, replace
from functools import cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loftwright.answers.draws import Rows, joint
from loftwright.core.checks import Sense
from loftwright.core.judged import Judged
from loftwright.core.lifting import Chances, Demand, Lift, Spread, SpringState
from loftwright.core.motion import Array, Flags, Motion, Travel, column, thinned
from loftwright.core.uncertain import Provenance, Uncertain, even, normal
from loftwright.mechanics.feel import STATES, Age, Feel, Roof, Temperature, state
from loftwright.mechanics.gas_spring import AGED_FACTOR
from loftwright.mechanics.hand_rules import HandRule, drive_of, hand_rules, one_lost, total_of
from loftwright.mechanics.rules import ONE_LOST, TAKES_OVER
from loftwright.mechanics.strut import CAUTION_FACTOR
from loftwright.mechanics.tried import FORMULAS
from loftwright.project.model import Project
from loftwright.reference.rods import TOP_PRESSURE

COARSE: Final = 4
"""Every fourth of 121 stations is enough for a search; the exact judgement sees them all."""

Index = NDArray[np.intp]


def lift_of(
    project: Project,
    rows: Rows,
    roof: Roof,
    felt: Feel,
    holding: Flags,
    *,
    seed: int,
    which: Index | None = None,
    tried: Sequence[int] | None = None,
    step: int = 1,
) -> Lift:
    """Return what a roof asks of springs, in the rows `which` (left out: all joint draws), at every `step`-th station.

    `roof` and `felt` carry all `rows`, drawn with `seed`; `holding` [rows] says where everything holds that no spring
    changes. `tried` are the mounts of the roof in whose place springs are tried (left out: all of them); the others
    stay and are part of the bounds.
    """
    drawn = np.arange(rows.draws.start, rows.draws.stop)
    chosen = drawn if which is None else which
    gone = tuple(range(len(roof.fitted))) if tried is None else tuple(tried)
    first = roof.fitted[gone[0]] if gone else None
    count = roof.possible.size
    states = _states(roof, first.aged if first is not None else np.full(1, AGED_FACTOR))
    margin = first.end_margin if first is not None else np.full(1, project.requirements.spring_margin.nominal)
    lift = Lift(
        travel=thinned(roof.travel, step),
        demands=demands_of(roof, felt, gone, step=step),
        states=states,
        hottest=LOOKED_AT.index(("sun", "new")),
        chances=_chances(project, rows, seed, gone),
        holding=holding,
        closed_margin=margin,
        open_margin=np.zeros_like(margin) if roof.limits.spring_is_stop else margin,
        bracket_limit=None if first is None else first.bracket_limit,
        bending_factor=CAUTION_FACTOR,
        top_pressure=TOP_PRESSURE,
        formulas=FORMULAS,
    )
    # What is the same in every row is written out, so that rows can be picked.
    return shared(_whole(lift, count).only(chosen))


LOOKED_AT: Final[tuple[tuple[Temperature, Age], ...]] = (("cold", "aged"), ("hot", "new"), ("sun", "new"))
"""The states of the springs that rules look at, in the order of `Lift.states`."""


def at_state(place: int) -> int:
    """Return the place among all `STATES` of one of those that rules look at."""
    return state(*LOOKED_AT[place])


def _states(roof: Roof, aged: Array) -> tuple[SpringState, ...]:
    """Return the states that the rules look at, springs of the list warm and aged."""
    found = []
    for heat, age in LOOKED_AT:
        kelvin = np.broadcast_to(getattr(roof.climate, heat), roof.possible.shape)
        left = np.broadcast_to(aged if age == "aged" else 1.0, roof.possible.shape)
        found.append(SpringState(f"{heat}, {age}", np.asarray(kelvin), np.asarray(left)))
    return tuple(found)


def demands_of(roof: Roof, felt: Feel, tried: Sequence[int], *, step: int) -> tuple[Demand, ...]:
    """Return every rule on hand forces as a bound on the drive [N m/rad] of the springs in place of mounts `tried`."""
    without = _without(felt, tried)
    place = {STATES[at_state(i)]: i for i in range(len(LOOKED_AT))}
    asked = [one for one in hand_rules(roof, felt) if one.lost is None or one.lost not in tried]
    if not roof.limits.prop_fitted:
        asked.append(replace(one_lost(roof, 0), lost=None))
    found = []
    for one in asked:
        sense, bound = _bound(one, roof, without)
        shape = _shape_of(one, felt, tried)
        if one.rule is TAKES_OVER:
            bound = _from_there_on(bound, one, roof, without, shape)
        bound = thinned_bound(bound, shape, step, at_least=sense == "at least")
        lost = 1 if one.rule is ONE_LOST and one.lost is None else 0
        found.append(Demand(one.rule, sense, one.moving, place[STATES[one.state]], lost, bound))
    return tuple(found)


def _shape_of(one: HandRule, felt: Feel, tried: Sequence[int]) -> Array | None:
    """Return the drive of the springs that are fitted now [N m/rad], [rows, travel], None where there are none."""
    if not tried:
        return None
    drive = felt.drive.at(one.state)
    out, back = (sum(shares[i] for i in tried) for shares in (drive.springs_raising, drive.springs_lowering))
    shape = {"raising": out, "lowering": back, "at rest": (out + back) / 2}[one.moving]
    return np.asarray(shape)


def _ratio(shape: Array | None, here: Index, there: Index, rows: int) -> Array:
    """Return by how much the springs' drive differs between stations, `here` over `there` [1], [rows, k].

    Springs in other holes differ in size, and little in how their drive runs from one station to the next. 1 where
    none are fitted, or where their lever passes its dead point.
    """
    if shape is None:
        return np.ones((rows, here.size))
    with np.errstate(divide="ignore", invalid="ignore"):
        found = shape[..., here] / shape[..., there]
    return np.asarray(np.where((found > MOST_UNLIKE[0]) & (found < MOST_UNLIKE[1]), found, 1.0))


MOST_UNLIKE: Final = (0.5, 2.0)
"""Neighbouring stations at which the drive differs more are near a dead point of the springs' lever."""


def _without(felt: Feel, tried: Iterable[int]) -> Feel:
    """Return the forces as they are without the springs of mounts `tried`."""
    drive, gone = felt.drive, set(tried)

    def rest(shares: tuple[Array, ...]) -> tuple[Array, ...]:
        return tuple(np.zeros_like(s) if i in gone else s for i, s in enumerate(shares))

    return replace(
        felt,
        drive=replace(
            drive, springs_raising=rest(drive.springs_raising), springs_lowering=rest(drive.springs_lowering)
        ),
    )


def _bound(one: HandRule, roof: Roof, without: Feel) -> tuple[Sense, Array]:
    """Return whether S must be at least or at most the bound of eq. (1), and the bound, [rows, travel]."""
    drive = drive_of(one, roof, without)
    limit = one.limit if one.limit.ndim > 1 else column(one.limit)
    bound = one.sign * limit * one.path_of(drive) - total_of(one, drive)
    nothing = -np.inf if one.sense_of_drive == "at least" else np.inf
    return one.sense_of_drive, np.asarray(np.where(one.where, bound, nothing))


def _from_there_on(bound: Array, one: HandRule, roof: Roof, without: Feel, shape: Array | None) -> Array:
    """Return the bound on S for a roof that rises by itself from a share of the travel on, [rows, travel].

    The place where it takes over lies straight between two stations. Where the share itself lies between two, the
    straight line of the push (1 - w) p0 + w p1, p = -(R + S) / path, must be nought or less there, with S running
    between the two as that of the springs fitted now.
    """
    fraction, share = roof.travel.fraction, roof.limits.rises_from
    after = np.clip(np.searchsorted(fraction, share), 1, fraction.size - 1)
    before = after - 1
    weight = np.clip((share - fraction[before]) / (fraction[after] - fraction[before]), 0.0, 1.0)
    drive = drive_of(one, roof, without)
    need = np.broadcast_to(-total_of(one, drive), bound.shape)
    path = np.broadcast_to(one.path_of(drive), bound.shape)
    row = np.arange(bound.shape[0])
    left, right = (1 - weight) / path[row, before], weight / path[row, after]
    runs = np.ones(row.size)
    if shape is not None:
        there = np.broadcast_to(shape, bound.shape)
        found = there[row, before] / there[row, after]
        runs = np.where((found > MOST_UNLIKE[0]) & (found < MOST_UNLIKE[1]), found, 1.0)
    between = (left * need[row, before] + right * need[row, after]) / (left * runs + right)
    # On the station itself nothing lies between.
    exact = weight >= 1.0
    found = bound.copy()
    found[row, after] = np.where(exact, bound[row, after], np.maximum(bound[row, after], between))
    return found


def thinned_bound(bound: Array, shape: Array | None, step: int, *, at_least: bool) -> Array:
    """Return the bound [N m/rad] at every `step`-th station, [rows, kept].

    Each station kept is asked for the most that is asked around it, in proportion to how the drive of the springs
    fitted now runs there (`shape` [N m/rad]): seal and cloth come and go within a few stations.
    """
    if step == 1:
        return bound
    stations = np.arange(bound.shape[-1])
    kept = stations[::step]
    starts = np.maximum(kept - step // 2, 0)
    nearest = kept[np.searchsorted(starts, stations, side="right") - 1]
    carried = bound * _ratio(shape, nearest, stations, bound.shape[0])
    tightest = np.maximum if at_least else np.minimum
    return np.asarray(tightest.reduceat(carried, starts, axis=-1))


def _whole(lift: Lift, count: int) -> Lift:
    """Return the lift with every array written out for all `count` rows."""

    def full(values: Array) -> Array:
        return np.broadcast_to(values, (count, *values.shape[1:])) if values.shape[0] == 1 else values

    def body(motion: Motion) -> Motion:
        return Motion(*(full(np.atleast_2d(getattr(motion, f.name))) for f in fields(motion)))

    travel = lift.travel
    return replace(
        lift,
        travel=Travel(travel.fraction, full(travel.q), body(travel.shell), tuple(body(arm) for arm in travel.arms)),
        demands=tuple(replace(d, bound=full(d.bound)) for d in lift.demands),
        closed_margin=full(lift.closed_margin),
        open_margin=full(lift.open_margin),
    )


def shared(lift: Lift) -> Lift:
    """Return the lift with one row for a motion that is the same in every draw: much less to work out."""

    def one(values: Array) -> Array:
        return values[:1] if values.shape[0] > 1 and bool((values == values[:1]).all()) else values

    def body(motion: Motion) -> Motion:
        return Motion(*(one(getattr(motion, f.name)) for f in fields(motion)))

    travel = lift.travel
    return replace(
        lift,
        travel=Travel(travel.fraction, one(travel.q), body(travel.shell), tuple(body(arm) for arm in travel.arms)),
    )


# --- what is not known of any spring -------------------------------------------------------------------


def _chances(project: Project, rows: Rows, seed: int, tried: Sequence[int]) -> Chances:
    """Return the chances of springs in place of mounts `tried`, drawn as those of the first mount of the file are.

    Nought in every row that is no joint draw.
    """
    index = tried[0] if tried else 0
    spring = project.spring[index] if tried else None
    path, count = f"spring.{index}", rows.draws.stop - rows.draws.start
    tolerance = project.settings.mounting_tolerance.nominal

    def drawn(value: Uncertain, key: str) -> Array:
        found = np.zeros(rows.count)
        found[rows.draws] = joint(value, f"{path}.{key}", count, seed)
        return found

    def chance(key: str) -> Array:
        known = None if spring is None else getattr(spring, key)
        return drawn(even(-1.0, 1.0) if known is not None and known.shape == "even" else normal(0.0, 1.0), key)

    def off(end: str, axis: str) -> Array:
        known: Uncertain | None = None if spring is None else getattr(getattr(spring, end), axis)
        key = f"{end}.{axis}"
        if known is None or (known.shape == "exact" and known.provenance in DECIDED):
            return drawn(normal(0.0, tolerance), key)
        return drawn(replace(known, nominal=0.0, low=known.low - known.nominal, high=known.high - known.nominal), key)

    return Chances(
        delivered=drawn(normal(0.0, 1.0), "delivered"),
        ratio=chance("ratio"),
        loop=chance("friction"),
        length=chance("extended_length"),
        foot_x=off("foot", "x"),
        foot_z=off("foot", "z"),
        head_x=off("head", "x"),
        head_z=off("head", "z"),
        spread=normal_spread(),
    )


DECIDED: Final = (Provenance.GIVEN, Provenance.SUGGESTED)
"""Ends of springs that are decided, not measured, carry the mounting tolerance."""


@cache
def normal_spread() -> Spread:
    """Return the distribution of a normal chance in units of two standard deviations.

    P(x) = (1 + erf(x sqrt 2)) / 2 (1), from -3 to 3, which is six standard deviations either way.
    """
    x = np.linspace(-3.0, 3.0, 481)
    return Spread(x, np.array([0.5 * (1.0 + math.erf(v * math.sqrt(2.0))) for v in x.tolist()]))


# --- what no spring can change -------------------------------------------------------------------------


def margin_of(judged: Judged, count: int) -> Array | None:
    """Return the margin of a judgement in every row, [rows]; None where it cannot be computed yet."""
    if judged.value is None or judged.limit is None:
        return None
    value, limit = (np.broadcast_to(v, count) for v in (judged.value, judged.limit))
    return np.asarray(limit - value if judged.rule.sense == "at most" else value - limit)


def all_hold(judged: Iterable[Judged], possible: Flags) -> Flags:
    """Return where every judgement that can be computed holds and the roof can be put together, [rows]."""
    found = possible.copy()
    for one in judged:
        margin = margin_of(one, possible.size)
        if margin is not None:
            found &= margin >= 0
    return np.asarray(found)
